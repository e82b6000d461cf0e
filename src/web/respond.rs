//! The few kinds of answers pages give.

use super::error::Answer;
use actix_web::HttpResponse;
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
pub fn see(address: &str) -> Answer {
    Ok(HttpResponse::SeeOther()
        .insert_header((header::LOCATION, address))
        .finish())
}
