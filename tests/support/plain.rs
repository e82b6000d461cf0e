//! A plain file server, as any host is: it knows nothing but the files.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};

/// Serves the files of a folder under `/deep/place/`, and nothing else.
pub fn serve(root: PathBuf) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = listener.local_addr().expect("its address");
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            answer(stream, &root);
        }
    });
    format!("http://{address}/deep/place/")
}

fn answer(mut stream: TcpStream, root: &Path) {
    let mut head = Vec::new();
    let mut byte = [0];
    while !head.ends_with(b"\r\n\r\n") && stream.read(&mut byte).unwrap_or(0) == 1 {
        head.push(byte[0]);
    }
    let head = String::from_utf8_lossy(&head).into_owned();
    let path = head.split(' ').nth(1).unwrap_or_default();
    let file = path.strip_prefix("/deep/place/").map(|name| match name {
        "" => root.join("index.html"),
        name => root.join(name),
    });
    let kind = match file.as_ref().and_then(|f| f.extension()).and_then(|e| e.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css",
        Some("svg") => "image/svg+xml",
        Some("jpg") => "image/jpeg",
        Some("woff2") => "font/woff2",
        _ => "text/plain; charset=utf-8",
    };
    let (status, body) = match file.and_then(|file| std::fs::read(file).ok()) {
        Some(body) => ("200 OK", body),
        None => ("404 Not Found", Vec::new()),
    };
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let _ = stream.write_all(&[head.as_bytes(), &body].concat());
}
