//! The few kinds of answers pages give.

use super::error::Answer;
use super::known::Tagged;
use actix_web::body::BoxBody;
use actix_web::cookie::{Cookie, SameSite, time};
use actix_web::http::header::{ETag, EntityTag, IfNoneMatch};
use actix_web::http::{StatusCode, header};
use actix_web::web::Bytes;
use actix_web::{HttpMessage, HttpRequest, HttpResponse};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use maud::Markup;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

pub fn page(markup: Markup) -> Answer {
    Ok(page_with(StatusCode::OK, markup))
}

/// A form that was overtaken by a save elsewhere, to be looked at once more.
pub fn clash(markup: Markup) -> Answer {
    Ok(page_with(StatusCode::CONFLICT, markup))
}

pub fn page_with(status: StatusCode, markup: Markup) -> HttpResponse {
    whole_page(status, markup.into_string().into())
}

pub const HTML: &str = "text/html; charset=utf-8";
pub const NOT_STORED: &str = "no-store";

/// A page as it goes out.
pub fn whole_page(status: StatusCode, page: Bytes) -> HttpResponse {
    let mut answer = HttpResponse::with_body(status, BoxBody::new(page));
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, header::HeaderValue::from_static(HTML));
    headers.insert(header::CACHE_CONTROL, header::HeaderValue::from_static(NOT_STORED));
    answer
}

/// With its tag, a hash of the page.
pub fn with_tag(markup: Markup) -> Tagged {
    // It may be kept: no more room than it is long.
    let body = Bytes::from(markup.into_string().into_bytes().into_boxed_slice());
    let hash = Sha256::digest(&body);
    Tagged {
        tag: EntityTag::new_strong(URL_SAFE_NO_PAD.encode(&hash[..16])),
        body,
    }
}

/// A page that may be kept by a browser as long as it asks whether it still
/// holds: a share that is closed is gone at once.
pub fn tagged(request: &HttpRequest, page: Tagged) -> Answer {
    let known = match request.get_header::<IfNoneMatch>() {
        Some(IfNoneMatch::Any) => true,
        Some(IfNoneMatch::Items(list)) => list.iter().any(|known| known.weak_eq(&page.tag)),
        None => false,
    };
    let status = if known {
        StatusCode::NOT_MODIFIED
    } else {
        StatusCode::OK
    };
    let mut answer = HttpResponse::build(status);
    answer
        .insert_header((header::CACHE_CONTROL, "private, no-cache"))
        .insert_header(ETag(page.tag));
    if known {
        return Ok(answer.finish());
    }
    Ok(answer.content_type(HTML).body(page.body))
}

/// As [`see`]; to the outbox's script, which sent what waited on a device, that
/// it is on the disk and where it stands. Nothing else makes it let go of it.
pub fn see_or_say(request: &HttpRequest, address: &str) -> Answer {
    if request.headers().contains_key("x-notchbook-outbox") {
        return said(StatusCode::OK, &json!({ "kept": true, "address": address }));
    }
    see(address)
}

/// As [`see_or_say`] where what was said on the device no longer holds: the
/// sentence stays there until it was read.
pub fn overtaken(request: &HttpRequest, address: &str, sentence: &str) -> Answer {
    if request.headers().contains_key("x-notchbook-outbox") {
        return said(
            StatusCode::OK,
            &json!({ "kept": true, "address": address, "overtaken": sentence }),
        );
    }
    see(address)
}

pub fn said(status: StatusCode, what: &Value) -> Answer {
    Ok(HttpResponse::build(status)
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .json(what))
}

/// After a save: show the page it leads to, so that a reload repeats nothing.
/// The cookie tells the page's script that the save is on disk, and that the
/// browser's own copy of what was typed may go.
pub fn see(address: &str) -> Answer {
    let saved = Cookie::build("notchbook-saved", "1")
        .path("/")
        .max_age(time::Duration::minutes(5))
        .same_site(SameSite::Strict)
        .finish();
    Ok(HttpResponse::SeeOther()
        .cookie(saved)
        .insert_header((header::LOCATION, address))
        .finish())
}
