//! Slow heads. Between two requests a connection may wait for the next one, but
//! its head must be whole within a time: actix-web sees to that for the first
//! request of a connection only.

use actix_web::Error;
use actix_web::body::{BodySize, BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::web::Bytes;
use std::future::Future;
use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::time::{Sleep, sleep};

/// From the connection's begin, or the last answer's end, to the end of the next head.
const PATIENCE: Duration = Duration::from_secs(25);

/// How many requests of a connection are being answered, to the last byte of
/// the answer, and how many there were.
#[derive(Clone, Debug, Default)]
pub struct Busy(Arc<Requests>);

#[derive(Debug, Default)]
struct Requests {
    now: AtomicUsize,
    ever: AtomicUsize,
}

/// One of them.
struct Answering(Busy);

impl Busy {
    fn begin(&self) -> Answering {
        self.0.now.fetch_add(1, Ordering::Relaxed);
        self.0.ever.fetch_add(1, Ordering::Relaxed);
        Answering(self.clone())
    }

    fn is(&self) -> bool {
        self.0.now.load(Ordering::Relaxed) > 0
    }
}

impl Drop for Answering {
    fn drop(&mut self) {
        self.0.0.now.fetch_sub(1, Ordering::Relaxed);
    }
}

/// Tells the connection that this request is being answered.
pub async fn answering(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let now = request.conn_data::<Busy>().map(Busy::begin);
    let answer = next.call(request).await?.map_into_boxed_body();
    Ok(answer.map_body(|_, body| Held { body, _now: now }))
}

struct Held {
    body: BoxBody,
    _now: Option<Answering>,
}

impl MessageBody for Held {
    type Error = <BoxBody as MessageBody>::Error;

    fn size(&self) -> BodySize {
        self.body.size()
    }

    fn poll_next(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<Option<Result<Bytes, Self::Error>>> {
        Pin::new(&mut self.body).poll_next(cx)
    }
}

/// The clock of one connection.
#[derive(Default)]
pub struct Waiting {
    pub busy: Busy,
    seen: usize,
    until: Option<Pin<Box<Sleep>>>,
}

impl Waiting {
    /// What came of trying to read; an error when a head has taken too long.
    pub fn watch(&mut self, cx: &mut Context<'_>, done: Poll<io::Result<()>>) -> Poll<io::Result<()>> {
        // A request may have come and gone since the last look.
        let ever = self.busy.0.ever.load(Ordering::Relaxed);
        if ever != self.seen || self.busy.is() {
            self.seen = ever;
            self.until = None;
        }
        if self.busy.is() {
            return done;
        }
        let until = self.until.get_or_insert_with(|| Box::pin(sleep(PATIENCE)));
        match until.as_mut().poll(cx) {
            Poll::Ready(()) => Poll::Ready(Err(io::ErrorKind::TimedOut.into())),
            Poll::Pending => done,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::future::poll_fn;
    use tokio::time::{advance, pause};

    #[tokio::test(flavor = "current_thread")]
    async fn a_head_in_drops_ends_and_a_long_answer_does_not() {
        pause();
        let mut waiting = Waiting::default();
        let busy = waiting.busy.clone();
        let mut look = async || poll_fn(|cx| Poll::Ready(waiting.watch(cx, Poll::Ready(Ok(()))))).await;
        let ended = |look: &Poll<io::Result<()>>| matches!(look, Poll::Ready(Err(_)));
        assert!(!ended(&look().await));
        let answer = busy.begin();
        assert!(!ended(&look().await));
        advance(PATIENCE * 10).await;
        assert!(!ended(&look().await), "an answer takes as long as it takes");
        drop(answer);
        // Quick ones, between two looks.
        for _ in 0..5 {
            assert!(!ended(&look().await));
            advance(Duration::from_secs(10)).await;
            drop(busy.begin());
        }
        for _ in 0..24 {
            assert!(!ended(&look().await));
            advance(Duration::from_secs(1)).await;
        }
        advance(Duration::from_secs(2)).await;
        assert!(ended(&look().await), "drops of a head do not make it longer");
    }
}
