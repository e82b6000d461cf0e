//! One photo of a project, large: when it was taken, and the lines marked on
//! it with their lengths. A line is drawn by touch (static/marks.js) or typed.

use crate::measure::{Percent, Round, Unit};
use crate::notebook::{
    Entry, Id, MarkPoint, Notebook, NotebookError, Photo, PhotoHash, PhotoMark, Project, ProjectState,
};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::assets;
use crate::web::components::{
    ReturnTo, card, errors_summary, field_errors, hidden, length, length_input, marked_photo, save_bar, text,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text};
use crate::web::meanwhile::stale_note;
use crate::web::page::{self, Place};
use crate::web::pages::photos::hash;
use crate::web::respond;
use actix_web::http::StatusCode;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/photos/{hash}").route(get().to(show)))
        .service(
            resource("/projects/{id}/photos/{hash}/marks/{mark}")
                .route(get().to(edit))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/photos/{hash}/marks/{mark}/bin").route(post().to(bin)))
        .service(resource("/projects/{id}/photos/{hash}/marks/{mark}/restore").route(post().to(restore)));
}

/// The page of a photo.
pub fn address(project: Id, photo: &PhotoHash) -> String {
    format!("/projects/{project}/photos/{}", photo.0)
}

const NEW: &str = "new";

struct Known {
    project: Project,
    photo: Photo,
    /// The entry it was put into the log with, where it is in the log.
    entry: Option<Entry>,
    marks: Vec<PhotoMark>,
}

async fn load(app: &App, project: &str, photo: &str) -> Result<Known, WebError> {
    let project = id(project)?;
    let hash = hash(photo).ok_or(WebError::NoPage)?;
    app.ask(move |n: &Notebook| {
        let project = n.project(project)?;
        let entry = n.log(project.id)?.into_iter().find(|e| e.photos.contains(&hash));
        let mut marks = n.photo_marks(project.id)?;
        marks.retain(|m| m.photo == hash);
        // A photo of this project and no other.
        if entry.is_none() && project.photo.as_ref() != Some(&hash) && marks.is_empty() {
            return Err(NotebookError::NotFound("photo"));
        }
        Ok(Known {
            photo: n.photo(&hash)?,
            project,
            entry,
            marks,
        })
    })
    .await
}

/// A photo of this project and no other, for pages that do more with it.
pub async fn of_project(app: &App, project: &str, photo: &str) -> Result<(Project, Photo), WebError> {
    let known = load(app, project, photo).await?;
    Ok((known.project, known.photo))
}

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The mark just put in the bin.
    #[serde(default)]
    binned: String,
}

async fn show(app: Data<App>, path: Path<(String, String)>, asked: Query<Asked>) -> Answer {
    let known = load(&app, &path.0, &path.1).await?;
    let mut form = Shown::default();
    form.typed.set("id", Id::now_v7().to_string());
    let binned = Id::try_parse(&asked.binned).ok();
    respond::page(photo_page(&known, None, &form, binned.map(|mark| undo(&known, mark))))
}

fn undo(known: &Known, mark: Id) -> Markup {
    html! {
        div.undo role="status" {
            p { "The mark is in the bin." }
            form method="post" action=(format!("{}/marks/{mark}/restore", address(known.project.id, &known.photo.hash))) {
                button.button type="submit" { "Undo" }
            }
        }
    }
}

type MarkPath = Path<(String, String, String)>;

/// The mark an address names; nothing for a new one.
async fn load_mark(app: &App, path: MarkPath) -> Result<(Known, Option<PhotoMark>), WebError> {
    let (project, photo, mark) = path.into_inner();
    let known = load(app, &project, &photo).await?;
    if mark == NEW {
        return Ok((known, None));
    }
    let mark = id(&mark)?;
    let found = known.marks.iter().find(|m| m.id == mark).cloned();
    Ok((known, Some(found.ok_or(WebError::NoPage)?)))
}

async fn edit(app: Data<App>, path: MarkPath) -> Answer {
    let (known, mark) = load_mark(&app, path).await?;
    let Some(mark) = mark else {
        return respond::see(&address(known.project.id, &known.photo.hash));
    };
    let form = Shown::from(filled(&mark, known.project.plan.unit));
    respond::page(photo_page(&known, Some(&mark), &form, None))
}

async fn save(app: Data<App>, path: MarkPath, body: Body) -> Answer {
    let (known, before) = load_mark(&app, path).await?;
    let mut typed = typed(body);
    let (mark, errors) = read(&typed, &known, before.as_ref());
    if !errors.is_empty() {
        let form = Shown { typed, errors };
        return Err(WebError::Form(photo_page(&known, before.as_ref(), &form, None)));
    }
    let project = known.project.id;
    let seen = match &before {
        Some(_) => typed.get("seen").parse().unwrap_or(0),
        None => 0,
    };
    let address = address(project, &known.photo.hash);
    match app
        .ask(move |n: &Notebook| n.save_photo_mark(project, seen, &mark))
        .await
    {
        Ok(_) => respond::see(&address),
        Err(WebError::Notebook(NotebookError::Stale(what))) => {
            let known = load(&app, &project.to_string(), &known.photo.hash.0).await?;
            let id = before.map_or_else(|| form_id(&typed), |m| m.id);
            let now = known.marks.iter().find(|m| m.id == id).cloned();
            let saved = now
                .as_ref()
                .map(|m| filled(m, known.project.plan.unit))
                .unwrap_or_default();
            let note = stale_note(&what, &saved, &typed);
            typed.set("seen", saved.get("seen"));
            let page = photo_page(&known, now.as_ref(), &Shown::from(typed), Some(note));
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
        Err(other) => Err(other),
    }
}

async fn bin(app: Data<App>, path: MarkPath) -> Answer {
    let (known, mark) = load_mark(&app, path).await?;
    let (project, mark) = (known.project.id, mark.ok_or(WebError::NoPage)?.id);
    app.ask(move |n: &Notebook| n.bin_photo_mark(project, mark)).await?;
    respond::see(&format!("{}?binned={mark}", address(project, &known.photo.hash)))
}

async fn restore(app: Data<App>, path: MarkPath) -> Answer {
    let (project, photo, mark) = path.into_inner();
    let (project, mark) = (id(&project)?, id(&mark)?);
    let photo = hash(&photo).ok_or(WebError::NoPage)?;
    app.ask(move |n: &Notebook| n.restore_photo_mark(project, mark)).await?;
    respond::see(&address(project, &photo))
}

/// The ends of the line in the form, in percent of the photo.
const ENDS: [(&str, &str); 4] = [
    ("from_x", "Begins, from the left"),
    ("from_y", "Begins, from the top"),
    ("to_x", "Ends, from the left"),
    ("to_y", "Ends, from the top"),
];

fn filled(mark: &PhotoMark, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", mark.version.to_string());
    typed.set("length", length_text(mark.length, unit));
    typed.set("what", &mark.what);
    let ends = [mark.from.x, mark.from.y, mark.to.x, mark.to.y];
    for ((field, _), n) in ENDS.iter().zip(ends) {
        typed.set(field, Percent::hundredths(n).to_string().replace(" %", ""));
    }
    typed
}

fn read(typed: &Typed, known: &Known, before: Option<&PhotoMark>) -> (PhotoMark, Errors) {
    let mut r = Reader::new(typed, known.project.plan.unit);
    let length = r.length_positive("length");
    let what = r.line("what", NAME);
    let mut ends = [0i64; 4];
    for ((field, _), n) in ENDS.iter().zip(&mut ends) {
        if r.typed.get(field).trim().is_empty() {
            r.errors.add(
                *field,
                "Draw the line on the photo, or type its ends in percent of the photo.",
            );
            continue;
        }
        *n = r.percent_or_zero(field).as_hundredths();
        if *n > MarkPoint::FULL {
            r.errors.add(*field, "Type 0 to 100.");
        }
    }
    let [x1, y1, x2, y2] = ends;
    if r.errors.is_empty() && (x1, y1) == (x2, y2) {
        r.errors
            .add("to_x", "Both ends of the line are at the same place. Move one.");
    }
    // Four empty fields are one line that was not drawn.
    let undrawn = ENDS.iter().all(|(field, _)| r.typed.get(field).trim().is_empty());
    if undrawn {
        r.errors
            .0
            .retain(|(field, _)| field != "from_y" && field != "to_x" && field != "to_y");
    }
    let mark = PhotoMark {
        id: before.map_or_else(|| form_id(typed), |m| m.id),
        photo: known.photo.hash.clone(),
        from: MarkPoint { x: x1, y: y1 },
        to: MarkPoint { x: x2, y: y2 },
        length,
        what,
        version: before.map_or(1, |m| m.version),
    };
    (mark, r.errors)
}

/// What the photo shows, in the first words written to it.
pub fn shows(entry: Option<&Entry>) -> String {
    let line = entry.and_then(|e| e.text.lines().next()).unwrap_or("");
    let line: String = line.chars().filter(|c| !"*_`#[]".contains(*c)).take(120).collect();
    match line.trim() {
        "" => "Photo".into(),
        words => words.into(),
    }
}

/// When the picture was taken, else when it came into the log.
pub fn taken(photo: &Photo, entry: Option<&Entry>) -> DateTime<Local> {
    let at: DateTime<Utc> = photo
        .taken_at
        .or(entry.map(|e| e.happened_at))
        .unwrap_or(photo.added_at);
    at.with_timezone(&Local)
}

fn photo_page(known: &Known, chosen: Option<&PhotoMark>, form: &Shown, note: Option<Markup>) -> Markup {
    let Known {
        project,
        photo,
        entry,
        marks,
    } = known;
    let unit = project.plan.unit;
    let base = address(project.id, &photo.hash);
    let shows = shows(entry.as_ref());
    let list: Vec<&PhotoMark> = marks.iter().collect();
    let action = format!("{base}/marks/{}", chosen.map_or(NEW.to_string(), |m| m.id.to_string()));
    page::project(
        project.id,
        &project.details.title,
        Place::Log,
        &shows,
        html! {
            script src=(assets::address("marks.js")) defer {}
            h1 { (shows) }
            @if let Some(note) = note { (note) }
            div.photo-and-marks {
                div.photo-side {
                    div data-mark-photo { (marked_photo(photo, &list, &shows, unit, chosen)) }
                    p.meta {
                        @if photo.taken_at.is_some() { "Taken on " } @else { "Put into the log on " }
                        (taken(photo, entry.as_ref()).format("%-d %B %Y, %H:%M"))
                    }
                    @if !marks.is_empty() { (marks_list(marks, &base, unit)) }
                }
                div {
                    form method="post" action=(action) data-unit=(unit.name()) data-keep=(action) data-mark-form {
                        (hidden("id", form.typed.get("id")))
                        (hidden("seen", form.typed.get("seen")))
                        (errors_summary(form))
                        (card("mark", if chosen.is_some() { "Change this mark" } else { "Mark a measure" }, mark_fields(form)))
                        (save_bar(if chosen.is_some() { "Save" } else { "Save the mark" }, &ReturnTo { href: &if chosen.is_some() { base.clone() } else { back(known) }, label: if chosen.is_some() { "Cancel" } else { "Back to the log" } }))
                    }
                    @if chosen.is_some() {
                        form.danger method="post" action=(format!("{action}/bin")) {
                            p { "The bin keeps it; you can undo this at once." }
                            button.button.quiet type="submit" { "Put this mark in the bin" }
                        }
                    }
                }
            }
            @if chosen.is_none() { (other_uses(known)) }
        },
    )
}

fn back(known: &Known) -> String {
    match &known.entry {
        Some(entry) => super::log::address(known.project.id, entry.id),
        None => format!("/projects/{}/log", known.project.id),
    }
}

fn marks_list(marks: &[PhotoMark], base: &str, unit: Unit) -> Markup {
    html! {
        ul.rows.marks-list { @for (i, m) in marks.iter().enumerate() {
            li { a.row href=(format!("{base}/marks/{}", m.id)) {
                div.row-text { b { @if marks.len() > 1 { (i + 1) ": " } @if m.what.is_empty() { "Measure" } @else { (m.what) } } }
                div.row-figure { (length(m.length, unit)) }
            } }
        } }
    }
}

fn mark_fields(form: &Shown) -> Markup {
    html! {
        p.hint data-mark-hint hidden { "Tap the photo where the measure begins, then where it ends." }
        div.pair {
            (length_input(form, "length", "Length", "As measured on the piece."))
            (text(form, "what", "What it is", "Such as hem to notch.", "text"))
        }
        details.mark-ends open data-mark-ends {
            summary { "Where the line lies" }
            p.hint { "In percent of the photo: 0 is its left or upper edge, 100 its right or lower one." }
            div.mark-ends-fields { @for (field, label) in ENDS {
                div.field.has-error[form.errors.has(field)] {
                    label for=(field) { (label) }
                    input.number type="text" id=(field) name=(field) value=(form.typed.get(field)) inputmode="decimal" autocomplete="off"
                        aria-invalid=[form.errors.has(field).then_some("true")] aria-describedby=[form.errors.has(field).then(|| format!("{field}-error"))];
                    (field_errors(form, field))
                }
            } }
        }
    }
}

fn other_uses(known: &Known) -> Markup {
    let id = known.project.id;
    html! {
        div.actions {
            form method="post" action=(format!("/projects/{id}/cover")) {
                (hidden("photo", &known.photo.hash.0))
                button.button.quiet type="submit" { "Use as the project's picture" }
            }
            a.button.quiet href=(format!("/projects/{id}/before-after?after={}", known.photo.hash.0)) {
                @if known.project.details.state == ProjectState::Finished { "Set beside an earlier photo" } @else { "Set beside another photo" }
            }
            a.button.quiet href=(super::trace::address(&known.project, &known.photo.hash)) { "Trace a piece from it" }
            a.button.quiet href=(format!("/photos/{}/print", known.photo.hash.0)) { "Large, for print" }
        }
    }
}

/// What is marked on a photo, in words, where it is shown without its page.
pub fn marked_words(marks: &[&PhotoMark], unit: Unit) -> String {
    let words = marks.iter().map(|m| {
        let length = m.length.both(unit, Round::Nearest);
        if m.what.is_empty() {
            length
        } else {
            format!("{} {length}", m.what)
        }
    });
    words.collect::<Vec<_>>().join(", ")
}
