//! Style, script and fonts, embedded in the program. Their addresses carry a
//! hash of their content, so a browser keeps them for good and an update shows
//! at once.

use super::error::{Answer, WebError};
use actix_web::{HttpResponse, http::header, web};
use rust_embed::{Embed, EmbeddedFile};
use std::collections::HashMap;
use std::sync::LazyLock;

#[derive(Embed)]
#[folder = "static/"]
#[exclude = "*.txt"]
struct Static;

/// Everything under one hash of all files, so that style sheets can name
/// fonts by a relative address.
static EDITION: LazyLock<String> = LazyLock::new(|| {
    let mut names: Vec<_> = Static::iter().collect();
    names.sort();
    let mut edition: u64 = 0xcbf2_9ce4_8422_2325;
    for name in names {
        for byte in Static::get(&name).map(|f| f.metadata.sha256_hash()).unwrap_or_default() {
            edition = (edition ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
    format!("{edition:016x}")
});

static FILES: LazyLock<HashMap<String, EmbeddedFile>> = LazyLock::new(|| {
    Static::iter()
        .filter_map(|name| Some((name.to_string(), Static::get(&name)?)))
        .collect()
});

/// The address of an embedded file.
pub fn address(name: &str) -> String {
    format!("/static/{}/{name}", *EDITION)
}

/// What keeps the pages seen last. It stands at the top so that it sees all
/// pages, and begins with the edition and its files: after an update it is
/// another one, which the browser notices and takes.
pub async fn worker() -> Answer {
    let file = FILES.get(WORKER).ok_or(WebError::NoPage)?;
    let mut names: Vec<&str> = FILES.keys().map(String::as_str).filter(|n| *n != WORKER).collect();
    names.sort_unstable();
    let mut script = format!(
        "const EDITION = {};\nconst FILES = {};\n",
        serde_json::json!(*EDITION),
        serde_json::json!(names)
    )
    .into_bytes();
    script.extend_from_slice(&file.data);
    Ok(HttpResponse::Ok()
        .content_type("text/javascript; charset=utf-8")
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(script))
}

const WORKER: &str = "worker.js";

pub async fn serve(path: web::Path<(String, String)>) -> Answer {
    let (_, name) = path.into_inner();
    let file = FILES.get(&name).ok_or(WebError::NoPage)?;
    let mut answer = HttpResponse::Ok();
    answer
        .content_type(file.metadata.mimetype())
        .insert_header((header::CACHE_CONTROL, "public, max-age=31536000, immutable"));
    Ok(answer.body(file.data.to_vec()))
}
