//! The list in other forms: plain text in three lengths, and files.

use super::Known;
use crate::notebook::Notebook;
use crate::sheets::{Materials, TextLength, chapters};
use crate::web::app::{App, id};
use crate::web::components::card;
use crate::web::error::{Answer, WebError};
use actix_web::HttpResponse;
use actix_web::http::header;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

pub(super) fn text_card(known: &Known, list: &Materials) -> Markup {
    let id = known.project.id;
    let limit = known.settings.description_limit;
    let told = chapters(list);
    card(
        "text",
        "As text for a video description",
        html! {
            @if !told.problems.is_empty() {
                div.error role="status" {
                    p { b { "Chapters are left out:" } }
                    @for problem in &told.problems { p { (problem) } }
                    p { a href=(format!("/projects/{id}/steps")) { "Go to the steps" } }
                }
            }
            @for (n, length) in TextLength::ALL.into_iter().enumerate() {
                @let text = list.as_text(length);
                @let count = text.chars().count() as i64;
                @let field = if n == 0 { "as-text".to_string() } else { format!("as-text-{}", n + 1) };
                details.text-length open[n == 0] {
                    summary { b { (length.name()) } " " span.meta.late[count > limit] { (count) " of " (limit) " characters" @if count > limit { ": too long" } } }
                    label.quiet-heading for=(field) { (length.name()) ", the list as plain text" }
                    textarea.plain-text id=(field) readonly rows=(if n == 0 { "14" } else { "8" }) { (text) }
                    p.actions { button.button.primary type="button" hidden data-copy=(format!("#{field}")) { "Copy the text" } span role="status" data-copied {} }
                }
            }
            p.hint { "How many characters it may have is said in the " a href="/settings" { "settings" } ". As a file: "
                a href=(format!("/projects/{id}/materials/list.md")) { "Markdown" } ", "
                a href=(format!("/projects/{id}/materials/list.csv")) { "table (CSV)" } ", "
                a href=(format!("/projects/{id}/materials/list.json")) { "structured data (JSON-LD)" } "."
            }
        },
    )
}

/// What `list.md` and the others hold, and of which kind it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Text,
    Markdown,
    Csv,
    HowTo,
}

pub fn kind_of(ending: &str) -> Result<Kind, WebError> {
    match ending {
        "txt" => Ok(Kind::Text),
        "md" => Ok(Kind::Markdown),
        "csv" => Ok(Kind::Csv),
        "json" => Ok(Kind::HowTo),
        _ => Err(WebError::NoPage),
    }
}

/// Saved by the browser under the name of the address, which says nothing of the project.
pub fn file(list: &Materials, kind: Kind) -> HttpResponse {
    let (mime, body) = match kind {
        Kind::Text => ("text/plain; charset=utf-8", list.as_text(TextLength::Whole)),
        Kind::Markdown => ("text/markdown; charset=utf-8", list.as_markdown()),
        Kind::Csv => ("text/csv; charset=utf-8; header=present", list.as_csv()),
        Kind::HowTo => ("application/ld+json", list.as_howto(None).to_string()),
    };
    HttpResponse::Ok()
        .content_type(mime)
        .insert_header((header::CONTENT_DISPOSITION, "attachment"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(body)
}

pub(super) async fn download(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, ending) = path.into_inner();
    let (id, kind) = (id(&project)?, kind_of(&ending)?);
    let now = app.ask(move |n: &Notebook| n.seen_now(id)).await?;
    Ok(file(&super::list(&app, &now, None, None).await?, kind))
}
