//! The first bytes: what begins as TLS does is encrypted, what does not is
//! plain http. Which pages plain http gets, the guard decides.

use super::{Connection, Stream};
use rustls::ServerConfig;
use std::io;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::time::timeout;
use tokio_rustls::TlsAcceptor;

/// For the first byte and the handshake together.
const HANDSHAKE: Duration = Duration::from_secs(15);
/// What every TLS connection begins with (a handshake record, RFC 8446 5.1).
const TLS: u8 = 22;

#[derive(Clone)]
pub struct Door {
    tls: Option<TlsAcceptor>,
}

impl Door {
    pub fn new(config: Option<Arc<ServerConfig>>) -> Door {
        Door {
            tls: config.map(TlsAcceptor::from),
        }
    }

    /// An error is a connection that is dropped without a word: whom it came
    /// from said nothing a word could answer.
    pub async fn open(&self, tcp: TcpStream) -> io::Result<Connection> {
        // Small answers are not held back.
        let _ = tcp.set_nodelay(true);
        let Some(tls) = &self.tls else {
            return Ok(Connection::new(Stream::Plain(tcp)));
        };
        let handshake = async {
            let mut first = [0u8];
            if tcp.peek(&mut first).await? == 0 {
                return Err(io::ErrorKind::UnexpectedEof.into());
            }
            if first[0] != TLS {
                return Ok(Connection::new(Stream::Plain(tcp)));
            }
            let encrypted = tls.accept(tcp).await?;
            Ok(Connection::new(Stream::Encrypted(Box::new(encrypted))))
        };
        match timeout(HANDSHAKE, handshake).await {
            Ok(done) => done,
            Err(_) => Err(io::ErrorKind::TimedOut.into()),
        }
    }
}
