//! The program everything is compared with: actix-web, rusqlite, one prepared
//! SELECT, so many bytes. Asked to save, it inserts one row and answers when
//! that is on the disk, as every save of the notebook is.

use actix_web::{App, HttpResponse, HttpServer, web};
use rusqlite::Connection;
use std::cell::RefCell;
use std::sync::{Arc, Mutex};

/// Serves on a free port, which it prints as the notebook does.
pub fn serve(bytes: usize) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("bare.sqlite");
    let writer = Connection::open(&file).expect("a database");
    writer
        .execute_batch(
            "PRAGMA journal_mode = WAL; CREATE TABLE page (id INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT;
             CREATE TABLE saved (id INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT;",
        )
        .expect("a table");
    writer
        .execute("INSERT INTO page VALUES (1, ?1)", ["x".repeat(bytes)])
        .expect("a row");
    writer.execute_batch("PRAGMA synchronous = FULL;").expect("a setting");
    let writer = Arc::new(Mutex::new(writer));
    thread_local! {
        static READER: RefCell<Option<Connection>> = const { RefCell::new(None) };
    }
    let server = HttpServer::new(move || {
        let file = file.clone();
        let writer = writer.clone();
        let save = web::post().to(move |sent: String| {
            let writer = writer.lock().expect("the writer");
            let mut row = writer
                .prepare_cached("INSERT INTO saved (body) VALUES (?1)")
                .expect("a statement");
            row.execute([sent]).expect("saved");
            async { HttpResponse::SeeOther().insert_header(("location", "/")).finish() }
        });
        App::new().route("/save", save).default_service(web::to(move || {
            let body: String = READER.with_borrow_mut(|reader| {
                let reader = reader.get_or_insert_with(|| Connection::open(&file).expect("a reader"));
                let mut ask = reader
                    .prepare_cached("SELECT body FROM page WHERE id = ?1")
                    .expect("a statement");
                ask.query_row([1], |r| r.get(0)).expect("the row")
            });
            async { HttpResponse::Ok().content_type("text/html; charset=utf-8").body(body) }
        }))
    })
    .workers(2)
    .bind(("127.0.0.1", 0))
    .expect("a free port");
    println!("http://{}/", server.addrs()[0]);
    actix_web::rt::System::new()
        .block_on(server.run())
        .expect("it is served");
}
