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

pub async fn serve(path: web::Path<(String, String)>) -> Answer {
    let (_, name) = path.into_inner();
    let file = FILES.get(&name).ok_or(WebError::NoPage)?;
    let mut answer = HttpResponse::Ok();
    answer
        .content_type(file.metadata.mimetype())
        .insert_header((header::CACHE_CONTROL, "public, max-age=31536000, immutable"));
    Ok(answer.body(file.data.to_vec()))
}
