//! The notebook's photos, in the sizes its pages use. The originals never
//! leave: they may say where they were taken. The outbox sends them one by one,
//! before the entry that names them.

use crate::notebook::{Notebook, PhotoHash, PhotoSize, Region};
use crate::web::app::{App, Body, id, typed};
use crate::web::error::{Answer, WebError};
use crate::web::{respond, upload};
use actix_files::NamedFile;
use actix_multipart::Multipart;
use actix_web::http::{StatusCode, header};
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use actix_web::{HttpRequest, HttpResponse};
use serde_json::json;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/photos").route(post().to(take)))
        .service(resource("/photos/{hash}/{size}").route(get().to(show)))
        .service(resource("/swatches/{hash}/{part}").route(get().to(swatch)))
        .service(resource("/projects/{id}/cover").route(post().to(cover)));
}

/// A photo's hash, and nothing else that could name a file.
pub fn hash(text: &str) -> Option<PhotoHash> {
    let hash = text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
    hash.then(|| PhotoHash(text.to_string()))
}

async fn show(app: Data<App>, path: Path<(String, String)>, request: HttpRequest) -> Answer {
    let (name, size) = path.into_inner();
    let photo = hash(&name).ok_or(WebError::NoPage)?;
    let size = match size.as_str() {
        "small" => PhotoSize::Small,
        "page" => PhotoSize::Page,
        "print" => PhotoSize::Print,
        _ => return Err(WebError::NoPage),
    };
    let file = app
        .ask(move |n: &Notebook| Ok(NamedFile::open(n.photo_file(&photo, size)?)?))
        .await?;
    Ok(kept_for_good(file, &request))
}

/// A marked part of a photo: `left-top-width-height` in hundredths of a per cent.
async fn swatch(app: Data<App>, path: Path<(String, String)>, request: HttpRequest) -> Answer {
    let (name, part) = path.into_inner();
    let photo = hash(&name).ok_or(WebError::NoPage)?;
    let part = region(&part).ok_or(WebError::NoPage)?;
    let file = app
        .ask(move |n: &Notebook| Ok(NamedFile::open(n.swatch_file(&photo, part)?)?))
        .await?;
    Ok(kept_for_good(file, &request))
}

fn region(text: &str) -> Option<Region> {
    let numbers: Option<Vec<u32>> = text.split('-').map(|n| n.parse().ok()).collect();
    let [left, top, width, height] = *numbers?.as_slice() else {
        return None;
    };
    let region = Region {
        left,
        top,
        width,
        height,
    };
    region.is_sound().then_some(region)
}

fn kept_for_good(file: NamedFile, request: &HttpRequest) -> HttpResponse {
    let jpeg = actix_files::file_extension_to_mime("jpg");
    let mut answer = file.set_content_type(jpeg).into_response(request);
    // The address names the content: a browser may keep it for good.
    answer.headers_mut().insert(
        header::CACHE_CONTROL,
        header::HeaderValue::from_static("private, max-age=31536000, immutable"),
    );
    answer
}

/// Takes photos in and says their names. The same photo again is the same one.
async fn take(app: Data<App>, request: HttpRequest, body: Multipart) -> Answer {
    let mut upload = upload::read(&request, body).await?;
    let (kept, mut refused) = upload.keep_photos(&app, "photos").await?;
    if kept.is_empty() && refused.is_empty() {
        refused.push("No photo came with this.".into());
    }
    let status = match kept.is_empty() {
        true => StatusCode::UNPROCESSABLE_ENTITY,
        false => StatusCode::OK,
    };
    respond::said(
        status,
        &json!({ "kept": !kept.is_empty(), "photos": kept, "refused": refused }),
    )
}

async fn cover(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = id(&path)?;
    let photo = hash(typed(body).get("photo")).ok_or(WebError::NoPage)?;
    app.ask(move |n: &Notebook| {
        n.photo(&photo)?;
        n.set_cover(project, &photo)
    })
    .await?;
    respond::see(&format!("/projects/{project}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_hashes_name_photos() {
        let good = "0123456789abcdef".repeat(4);
        assert!(hash(&good).is_some());
        for bad in [
            "",
            "../notebook.sqlite",
            &good[1..],
            &good.to_uppercase(),
            &format!("{good}0"),
        ] {
            assert!(hash(bad).is_none(), "{bad}");
        }
    }
}
