//! The few kinds of answers pages give.

use super::error::Answer;
use actix_web::HttpResponse;
use actix_web::cookie::{Cookie, SameSite, time};
use actix_web::http::{StatusCode, header};
use maud::Markup;

pub fn page(markup: Markup) -> Answer {
    Ok(page_with(StatusCode::OK, markup))
}

pub fn page_with(status: StatusCode, markup: Markup) -> HttpResponse {
    HttpResponse::build(status)
        .content_type("text/html; charset=utf-8")
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(markup.into_string())
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
