//! Slow bodies: whoever sends a form or a photo drop by drop is cut off, and
//! whoever sends it over a poor network is waited for. The head of a request
//! and the handshake have time limits of their own.

use actix_web::body::MessageBody;
use actix_web::dev::{Payload, ServiceRequest, ServiceResponse};
use actix_web::error::PayloadError;
use actix_web::middleware::Next;
use actix_web::web::Bytes;
use actix_web::{Error, HttpMessage};
use futures_util::Stream;
use std::future::Future;
use std::io;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::time::{Instant, Sleep, sleep_until};

/// Nothing may come for so long.
const PAUSE: Duration = Duration::from_secs(20);
/// And over all, after the first pause, so many bytes must come each second. A
/// poor network at home brings ten times as many.
const BYTES_A_SECOND: u64 = 4000;

pub async fn patience(
    mut request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let payload = request.take_payload();
    // Most requests have no body and need no clock.
    let payload = match payload {
        Payload::None => Payload::None,
        body => {
            let body: Pin<Box<dyn Stream<Item = Result<Bytes, PayloadError>>>> = Box::pin(Patient::new(body));
            Payload::from(body)
        }
    };
    request.set_payload(payload);
    next.call(request).await
}

struct Patient<S> {
    body: S,
    begun: Instant,
    received: u64,
    until: Pin<Box<Sleep>>,
}

impl<S> Patient<S> {
    fn new(body: S) -> Patient<S> {
        let begun = Instant::now();
        Patient {
            body,
            begun,
            received: 0,
            until: Box::pin(sleep_until(begun + PAUSE)),
        }
    }

    fn came(&mut self, bytes: usize) {
        self.received += bytes as u64;
        let earned = Duration::from_secs(self.received / BYTES_A_SECOND);
        let until = (Instant::now() + PAUSE).min(self.begun + PAUSE + earned);
        self.until.as_mut().reset(until);
    }
}

impl<S: Stream<Item = Result<Bytes, PayloadError>> + Unpin> Stream for Patient<S> {
    type Item = Result<Bytes, PayloadError>;

    fn poll_next(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        let this = self.get_mut();
        if let Poll::Ready(item) = Pin::new(&mut this.body).poll_next(cx) {
            if let Some(Ok(bytes)) = &item {
                this.came(bytes.len());
            }
            return Poll::Ready(item);
        }
        match this.until.as_mut().poll(cx) {
            Poll::Ready(()) => {
                tracing::info!(received = this.received, "a body came too slowly");
                Poll::Ready(Some(Err(PayloadError::Io(io::ErrorKind::TimedOut.into()))))
            }
            Poll::Pending => Poll::Pending,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use futures_util::StreamExt;
    use futures_util::stream::unfold;
    use tokio::time::{pause, sleep};

    /// So many pieces of so many bytes, one each so many seconds.
    fn dripping(pieces: usize, bytes: usize, seconds: u64) -> impl Stream<Item = Result<Bytes, PayloadError>> + Unpin {
        Box::pin(unfold(0, move |n| async move {
            if n == pieces {
                return None;
            }
            sleep(Duration::from_secs(seconds)).await;
            Some((Ok(Bytes::from(vec![b'x'; bytes])), n + 1))
        }))
    }

    /// What arrived, whether all of it, and how many seconds it took.
    async fn taken(body: impl Stream<Item = Result<Bytes, PayloadError>> + Unpin) -> (usize, bool, u64) {
        let begun = Instant::now();
        let (mut body, mut sum) = (Patient::new(body), 0);
        while let Some(item) = body.next().await {
            match item {
                Ok(bytes) => sum += bytes.len(),
                Err(_) => return (sum, false, begun.elapsed().as_secs()),
            }
        }
        (sum, true, begun.elapsed().as_secs())
    }

    #[tokio::test(flavor = "current_thread")]
    async fn drops_are_cut_off_and_a_poor_network_is_not() {
        pause();
        // A byte each second, for ever.
        assert_eq!(taken(dripping(usize::MAX, 1, 1)).await, (19, false, 20));
        // A piece and then silence.
        let (sum, whole, seconds) = taken(dripping(1, 500_000, 0).chain(dripping(1, 1, 100))).await;
        assert_eq!((sum, whole, seconds), (500_000, false, 20));
        // 10 MB within twenty minutes, with pauses of ten seconds.
        assert!(taken(dripping(120, 83_334, 10)).await.1);
        // A small form, late.
        assert!(taken(dripping(1, 300, 15)).await.1);
    }
}
