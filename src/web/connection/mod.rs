//! One connection, from its first byte on: encrypted or not, and dropped when
//! the other side takes nothing any more.

mod accept;
mod busy;
mod stalled;

pub use accept::Door;
pub use busy::{Busy, answering};

use busy::Waiting;
use rustls::ServerConfig;
use stalled::Stalled;
use std::io;
use std::net::IpAddr;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio_rustls::server::TlsStream;

/// What is known of a connection, left in each of its requests.
#[derive(Clone, Copy, Debug)]
pub struct CameIn {
    /// The address of this computer it came in by.
    pub by: Option<IpAddr>,
    pub encrypted: bool,
}

pub struct Connection {
    stream: Stream,
    reading: Waiting,
    writing: Stalled,
}

enum Stream {
    Plain(TcpStream),
    Encrypted(Box<TlsStream<TcpStream>>),
}

impl Connection {
    fn new(stream: Stream) -> Connection {
        Connection {
            stream,
            reading: Waiting::default(),
            writing: Stalled::default(),
        }
    }

    pub fn busy(&self) -> Busy {
        self.reading.busy.clone()
    }

    pub fn came_in(&self) -> CameIn {
        let (tcp, encrypted) = match &self.stream {
            Stream::Plain(tcp) => (tcp, false),
            Stream::Encrypted(tls) => (tls.get_ref().0, true),
        };
        CameIn {
            by: tcp.local_addr().ok().map(|a| a.ip()),
            encrypted,
        }
    }
}

impl AsyncRead for Connection {
    fn poll_read(self: Pin<&mut Self>, cx: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        let this = self.get_mut();
        let done = match &mut this.stream {
            Stream::Plain(tcp) => Pin::new(tcp).poll_read(cx, into),
            Stream::Encrypted(tls) => Pin::new(tls).poll_read(cx, into),
        };
        this.reading.watch(cx, done)
    }
}

impl AsyncWrite for Connection {
    fn poll_write(self: Pin<&mut Self>, cx: &mut Context<'_>, from: &[u8]) -> Poll<io::Result<usize>> {
        let this = self.get_mut();
        let done = match &mut this.stream {
            Stream::Plain(tcp) => Pin::new(tcp).poll_write(cx, from),
            Stream::Encrypted(tls) => Pin::new(tls).poll_write(cx, from),
        };
        this.writing.watch(cx, done)
    }

    fn poll_flush(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let this = self.get_mut();
        let done = match &mut this.stream {
            Stream::Plain(tcp) => Pin::new(tcp).poll_flush(cx),
            Stream::Encrypted(tls) => Pin::new(tls).poll_flush(cx),
        };
        this.writing.watch(cx, done)
    }

    fn poll_shutdown(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let this = self.get_mut();
        let done = match &mut this.stream {
            Stream::Plain(tcp) => Pin::new(tcp).poll_shutdown(cx),
            Stream::Encrypted(tls) => Pin::new(tls).poll_shutdown(cx),
        };
        this.writing.watch(cx, done)
    }
}

/// A door for each worker; `None` where nothing is encrypted.
pub fn door(config: Option<Arc<ServerConfig>>) -> Door {
    Door::new(config)
}
