//! The form: what viewers may see, and what is said of it.

use super::{Known, known, page};
use crate::notebook::{LineChoice, Notebook, NotebookError, Picture};
use crate::sheets::{Group, Line, Materials, PICTURE, TITLE, TextLength};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, hidden, swatch};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, NAME, Reader, Typed};
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::http::StatusCode;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

/// Characters of a remark.
const REMARK: usize = 2_000;
/// More lines than a plan can have.
const MOST: usize = 3_000;

pub(super) fn form(known: &Known, list: &Materials, seen: &str, errors: &Errors) -> Markup {
    let id = known.project.id;
    html! {
        form method="post" data-keep=(format!("{id}/materials")) {
            (hidden("seen", seen))
            (card("what", "What viewers may see", html! {
                p.hint { "Amounts to buy are for making the same piece anew, at the cloth's own width. Prices, wearers and private notes are never in this list." }
                @if !errors.is_empty() { div.error role="alert" { @for (_, message) in &errors.0 { p { (message) } } } }
                div.field {
                    label for="viewers-title" { "Title for viewers" }
                    input type="text" id="viewers-title" name="title" value=(list.title_for_viewers) placeholder=(known.project.details.title) autocomplete="off";
                    p.hint { "Leave empty for the project's own title." }
                }
                (pictures(known, list))
                @for section in &list.sections {
                    h3 { (section.heading()) }
                    ul.rows { @for (n, l) in section.lines.iter().enumerate() { li { (choice(section.group, n, l)) } } }
                }
            }))
            div.save-bar {
                @if known.share.is_none() { button.button type="submit" name="then" value="share" { "Save and make a link" } }
                button.button.primary type="submit" name="then" value="save" { "Save ticks" }
            }
        }
    }
}

/// The pictures ticked before, and the project's picture of now.
fn pictures(known: &Known, list: &Materials) -> Markup {
    let mut all = list.pictures.clone();
    all.extend(
        known
            .project
            .photo
            .iter()
            .filter(|p| !list.pictures.contains(p))
            .cloned(),
    );
    html! {
        @for (i, hash) in all.iter().enumerate() {
            div.material {
                label.pick {
                    input type="checkbox" name="picture" value=(hash.0) checked[list.pictures.contains(hash)];
                    span { (swatch("", None, Some(&Picture { photo: hash.clone(), part: None }))) }
                    span { @if all.len() == 1 { "Show this picture" } @else { "Show picture " (i + 1) } }
                }
            }
        }
    }
}

fn choice(group: Group, n: usize, l: &Line) -> Markup {
    let material = group.is_material();
    let answer = format!("answer-{}-{n}", group.heading().to_lowercase().replace(' ', "-"));
    html! {
        div.material {
            label.pick {
                input type="checkbox" name="show" value=(l.key) checked[l.shown];
                span.material-words {
                    span.material-name { b { (l.name) } @if !l.quantity.is_empty() { " " span.material-quantity { (l.quantity) } } }
                    @if !l.used.is_empty() { span.meta { "used " (l.used) } }
                    @if !l.detail.is_empty() { span.meta { (l.detail) } }
                    @if let Some(seconds) = l.video { span.meta { (crate::measure::video_time(seconds)) " in the video" } }
                    @if !l.link.is_empty() { span.meta { (l.link) } }
                }
            }
            (hidden("line", &l.key))
            @if material || matches!(group, Group::Finished | Group::Altered) {
                textarea.remark name=(format!("remark {}", l.key)) rows=(l.remark.lines().count().clamp(1, 6)) aria-label=(format!("Remark on {}", l.name)) placeholder="Add a remark for viewers" autocomplete="off" { (l.remark) }
            }
            @if material {
                input type="text" name=(format!("instead {}", l.key)) value=(l.substitute) aria-label=(format!("What would do instead of {}", l.name)) placeholder="What would do instead" autocomplete="off";
                div.material-more {
                    @if l.has_web_link() {
                        label.pick { input type="checkbox" name="paid" value=(l.key) checked[l.paid]; span { "Paid link" } }
                    }
                    // On the page as it is copied: over plain http only what is there can be.
                    span.quiet-heading id=(answer) aria-hidden="true" { (l.name) (l.after_name()) @for line in l.further() { "\n" (line) } @if !l.link.is_empty() { "\n" (l.link) @if l.paid { " (paid link)" } } }
                    button.button type="button" hidden data-copy=(format!("#{answer}")) aria-label=(format!("Copy as an answer: {}", l.name)) { "Copy as an answer" }
                    span role="status" data-copied {}
                }
            }
        }
    }
}

pub(super) async fn save(app: Data<App>, path: Path<String>, body: Body, request: HttpRequest) -> Answer {
    let id = id(&path)?;
    let typed = typed(body);
    let (choices, errors) = read(&typed);
    let seen = typed.get("seen").parse().unwrap_or(0);
    if !errors.is_empty() {
        let (known, list) = as_typed(&app, id, &choices, &request).await?;
        return Err(WebError::Form(page(&known, &list, typed.get("seen"), None, &errors)));
    }
    let make = typed.get("then") == "share";
    let sent = choices.clone();
    let saved = app
        .ask(move |n: &Notebook| {
            n.save_choices(id, seen, &sent)?;
            if make {
                n.make_share(id)?;
            }
            Ok(())
        })
        .await;
    if let Err(WebError::Notebook(NotebookError::Stale(_))) = saved {
        let (known, list) = as_typed(&app, id, &choices, &request).await?;
        let notice = meanwhile(&known.list, &list);
        let page = page(&known, &list, &known.version.to_string(), Some(notice), &errors);
        return Ok(respond::page_with(StatusCode::CONFLICT, page));
    }
    saved?;
    respond::see(&format!(
        "/projects/{id}/materials{}",
        if make { "#share" } else { "#text" }
    ))
}

/// The page's list with the ticks that were sent.
async fn as_typed(
    app: &App,
    id: crate::notebook::Id,
    choices: &[LineChoice],
    request: &HttpRequest,
) -> Result<(Known, Materials), WebError> {
    let known = known(app, id, request).await?;
    let mut mine = known.now.clone();
    mine.shown.choices = choices.to_vec();
    let list = super::list(app, &mine, None, None).await?;
    Ok((known, list))
}

/// Both versions: what was saved elsewhere, and below it the form as it was sent.
fn meanwhile(saved: &Materials, mine: &Materials) -> Markup {
    html! {
        div.errors role="alert" tabindex="-1" {
            p { b { "What viewers may see was changed on another device or in another tab since you opened it. Nothing is lost." } }
            p { "Below are your ticks. To keep them, save again; what was saved meanwhile, with its remarks:" }
            textarea readonly rows="8" aria-label="What was saved meanwhile" { (saved.as_text(TextLength::Whole)) }
            @let differing = crate::sheets::differences(saved, mine);
            @if !differing.is_empty() { p { "By yours:" } ul { @for said in &differing { li { (said) } } } }
        }
    }
}

fn read(typed: &Typed) -> (Vec<LineChoice>, Errors) {
    let mut r = Reader::new(typed, crate::measure::Unit::Inch);
    let shown: std::collections::HashSet<&str> = typed.all("show").collect();
    let paid: std::collections::HashSet<&str> = typed.all("paid").collect();
    let mut met = std::collections::HashSet::new();
    let keys: Vec<&str> = typed.all("line").filter(|key| met.insert(*key)).take(MOST).collect();
    let mut choices: Vec<LineChoice> = keys
        .into_iter()
        .map(|key| LineChoice {
            shown: shown.contains(key),
            remark: r.paragraphs(&format!("remark {key}"), REMARK),
            substitute: r.line(&format!("instead {key}"), LINE),
            paid: paid.contains(key),
            key: key.to_string(),
        })
        .collect();
    for hash in typed
        .all("picture")
        .take(20)
        .filter_map(crate::web::pages::photos::hash)
    {
        choices.push(LineChoice {
            key: format!("{PICTURE}{}", hash.0),
            shown: true,
            ..LineChoice::default()
        });
    }
    choices.push(LineChoice {
        key: TITLE.into(),
        shown: true,
        remark: r.line("title", NAME),
        ..LineChoice::default()
    });
    (choices, r.errors)
}
