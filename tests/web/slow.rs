//! Slow clients: who says nothing, or says it drop by drop, is dropped, and
//! others are answered meanwhile.

use crate::support::Server;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// Says `first`, then a byte each half second; what it got until the
/// connection ended, or None when it never did.
fn dripping(address: &str, first: &str) -> Option<String> {
    let mut tcp = TcpStream::connect(address).expect("connected");
    tcp.set_read_timeout(Some(Duration::from_millis(500)))
        .expect("a time limit");
    tcp.write_all(first.as_bytes()).expect("sent");
    let (begun, mut got) = (Instant::now(), Vec::new());
    // Far beyond every limit: only a server that keeps such a connection gets here.
    while begun.elapsed() < Duration::from_secs(120) {
        let mut bytes = [0; 1024];
        match tcp.read(&mut bytes) {
            Ok(0) => return Some(String::from_utf8_lossy(&got).into_owned()),
            Ok(n) => got.extend_from_slice(&bytes[..n]),
            Err(e) if matches!(e.kind(), std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut) => {
                if tcp.write_all(b"x").is_err() {
                    return Some(String::from_utf8_lossy(&got).into_owned());
                }
            }
            Err(_) => return Some(String::from_utf8_lossy(&got).into_owned()),
        }
    }
    None
}

#[test]
fn slow_clients_are_dropped_and_others_answered() {
    let (plain, encrypted) = (Server::empty(), Server::start(&["--tls"]));
    let form = |address: &str| {
        format!(
            "POST /projects/new HTTP/1.1\r\nhost: {address}\r\norigin: http://{address}\r\n\
             content-type: application/x-www-form-urlencoded\r\ncontent-length: 100000\r\n\r\ntitle="
        )
    };
    let head = |address: &str| format!("GET / HTTP/1.1\r\nhost: {address}\r\nx-slow: ");
    let second = |address: &str| format!("GET /pair HTTP/1.1\r\nhost: {address}\r\n\r\nGET / HTTP/1.1\r\nx-slow: ");
    std::thread::scope(|scope| {
        let mut slow = Vec::new();
        for server in [&plain, &encrypted] {
            for (what, first) in [
                ("a head", head(&server.address)),
                ("a second head", second(&server.address)),
                ("a body", form(&server.address)),
            ] {
                slow.push((what, scope.spawn(move || dripping(&server.address, &first))));
            }
        }
        // A handshake that never comes to its end: 16 KB were announced.
        slow.push((
            "a handshake",
            scope.spawn(|| dripping(&encrypted.address, "\x16\x03\x01\x3f\x00")),
        ));
        slow.push(("nothing", scope.spawn(|| silent(&encrypted.address))));
        slow.push(("nothing in plain", scope.spawn(|| silent(&plain.address))));
        for server in [&plain, &encrypted] {
            assert_eq!(server.get("/").status, 200);
        }
        for (what, slow) in slow {
            let got = slow
                .join()
                .expect("no panic")
                .unwrap_or_else(|| panic!("{what} is waited for"));
            assert!(!got.contains("303"), "{what}: {got}");
        }
    });
    for server in [&plain, &encrypted] {
        assert!(
            server.get("/").text().contains("Start the first project"),
            "nothing was saved"
        );
    }
}

fn silent(address: &str) -> Option<String> {
    let mut tcp = TcpStream::connect(address).expect("connected");
    tcp.set_read_timeout(Some(Duration::from_secs(120)))
        .expect("a time limit");
    let mut got = String::new();
    match tcp.read_to_string(&mut got) {
        Err(e) if matches!(e.kind(), std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut) => None,
        _ => Some(got),
    }
}
