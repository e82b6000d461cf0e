//! A bad connection: it stands between the browser and the notebook, and loses
//! answers or slows down when told to.

use std::io::{Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

#[derive(Default)]
struct Told {
    lose: AtomicUsize,
    lost: AtomicUsize,
    slow: AtomicUsize,
}

pub struct Proxy {
    pub address: String,
    told: Arc<Told>,
}

impl Proxy {
    pub fn to(server: &str) -> Proxy {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let address = listener.local_addr().expect("an address").to_string();
        let told = Arc::new(Told::default());
        let (there, server) = (told.clone(), server.to_string());
        std::thread::spawn(move || {
            for browser in listener.incoming().flatten() {
                // A dead server's connections end at once.
                if let Ok(notebook) = TcpStream::connect(&server) {
                    join(&browser, &notebook, &there);
                }
            }
        });
        Proxy { address, told }
    }

    /// From now on the notebook's answers do not arrive; what is sent to it does.
    pub fn lose_answers(&self, lose: bool) {
        self.told.lose.store(usize::from(lose), Ordering::SeqCst);
    }

    pub fn lost(&self) -> usize {
        self.told.lost.load(Ordering::SeqCst)
    }

    /// Milliseconds for each 64 KiB on the way to the notebook.
    pub fn slow(&self, ms: usize) {
        self.told.slow.store(ms, Ordering::SeqCst);
    }
}

fn join(browser: &TcpStream, notebook: &TcpStream, told: &Arc<Told>) {
    let copy = |s: &TcpStream| s.try_clone().expect("another hand on the connection");
    let (from, to, there) = (copy(browser), copy(notebook), told.clone());
    std::thread::spawn(move || {
        carry(from, to, || {
            std::thread::sleep(Duration::from_millis(there.slow.load(Ordering::SeqCst) as u64));
            true
        });
    });
    let (from, to, there) = (copy(notebook), copy(browser), told.clone());
    std::thread::spawn(move || {
        carry(from, to, || {
            let lose = there.lose.load(Ordering::SeqCst) == 1;
            there.lost.fetch_add(usize::from(lose), Ordering::SeqCst);
            !lose
        });
    });
}

fn carry(mut from: TcpStream, mut to: TcpStream, go_on: impl Fn() -> bool) {
    let mut part = vec![0; 64 * 1024];
    while let Ok(count) = from.read(&mut part) {
        if count == 0 || !go_on() || to.write_all(&part[..count]).is_err() {
            break;
        }
    }
    let _ = from.shutdown(Shutdown::Both);
    let _ = to.shutdown(Shutdown::Both);
}
