//! Drops a connection whose other side takes nothing any more: what is to be
//! sent would stay in memory for ever.

use std::future::Future;
use std::io;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::time::{Sleep, sleep};

/// Not one byte taken for so long.
const PATIENCE: Duration = Duration::from_secs(30);

#[derive(Default)]
pub struct Stalled(Option<Pin<Box<Sleep>>>);

impl Stalled {
    /// What came of trying to send; an error when that has waited too long.
    pub fn watch<T>(&mut self, cx: &mut Context<'_>, done: Poll<io::Result<T>>) -> Poll<io::Result<T>> {
        if done.is_ready() {
            self.0 = None;
            return done;
        }
        let waiting = self.0.get_or_insert_with(|| Box::pin(sleep(PATIENCE)));
        match waiting.as_mut().poll(cx) {
            Poll::Ready(()) => Poll::Ready(Err(io::ErrorKind::TimedOut.into())),
            Poll::Pending => Poll::Pending,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::future::poll_fn;
    use tokio::time::{Instant, advance, pause};

    #[tokio::test(flavor = "current_thread")]
    async fn who_takes_nothing_is_dropped_and_who_takes_something_is_not() {
        pause();
        let mut stalled = Stalled::default();
        let mut look =
            async |done: fn() -> Poll<io::Result<()>>| poll_fn(|cx| Poll::Ready(stalled.watch(cx, done()))).await;
        let (waits, takes) = (|| Poll::Pending, || Poll::Ready(Ok(())));
        assert!(look(waits).await.is_pending());
        advance(PATIENCE - Duration::from_secs(1)).await;
        assert!(look(waits).await.is_pending());
        assert!(look(takes).await.is_ready());
        assert!(look(waits).await.is_pending());
        advance(PATIENCE - Duration::from_secs(1)).await;
        assert!(look(waits).await.is_pending());
        // It wakes whoever waits, too.
        let begun = Instant::now();
        let end = poll_fn(|cx| stalled.watch(cx, Poll::<io::Result<()>>::Pending)).await;
        assert_eq!(end.unwrap_err().kind(), io::ErrorKind::TimedOut);
        assert!(begun.elapsed() <= Duration::from_secs(2));
    }
}
