//! The outline of a piece, traced from a photo of the project: four marks of
//! known distances are tapped, then the piece round. By touch with
//! static/trace.js; every point can be typed.
//!
//! - [`form`]: what is tapped and typed
//! - [`found`]: what was measured, to be looked at before it is kept

mod form;
mod found;

use super::part::{self, Saved};
use super::project_photo;
use crate::drafting::trace::{Grey, TraceError, Traced, Tracing, traced};
use crate::drafting::{Shape, Told, settled};
use crate::notebook::{Notebook, Photo, PhotoHash, Project};
use crate::plan::{Edit, Pattern, Piece, Source};
use crate::sheets;
use crate::web::app::{App, Body, typed};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed};
use crate::web::meanwhile::stale_note;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpResponse;
use actix_web::http::{StatusCode, header};
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::Local;
use form::{Read, filled_anew, read};
use maud::Markup;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/photos/{hash}/trace")
                .route(get().to(show))
                .route(post().to(send)),
        )
        .service(resource("/marks.pdf").route(get().to(marks)));
}

/// Where a photo is traced.
pub fn address(project: &Project, photo: &PhotoHash) -> String {
    format!("{}/trace", project_photo::address(project.id, photo))
}

struct Known {
    project: Project,
    photo: Photo,
}

/// A traced piece with its shape, ready to be drawn.
struct Measured {
    traced: Traced,
    shape: Shape,
}

async fn load(app: &App, (project, photo): &(String, String)) -> Result<Known, WebError> {
    let (project, photo) = project_photo::of_project(app, project, photo).await?;
    Ok(Known { project, photo })
}

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let known = load(&app, &path).await?;
    let mut form = Shown::from(filled_anew(known.project.plan.unit));
    part::begin(&mut form, &known.project);
    respond::page(trace_page(&known, &form, None, None))
}

async fn send(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let known = load(&app, &path).await?;
    let mut typed = typed(body);
    if !typed.has("cut_count") {
        typed.set("cut_count", "1");
    }
    let (read, mut errors) = read(&typed, &known.project.plan, &known.photo);
    // What is missing of the piece's own fields does not keep it from being measured.
    if errors
        .0
        .iter()
        .any(|(field, _)| !form::OF_PIECE.contains(&field.as_str()))
    {
        let form = Shown { typed, errors };
        return Err(WebError::Form(trace_page(&known, &form, None, None)));
    }
    let photo = known.photo.hash.clone();
    let tracing = read.tracing.clone();
    let (unit, name) = (known.project.plan.unit, read.name.clone());
    let snap = read.snap;
    let measured = app
        .ask(move |n: &Notebook| {
            let grey = if snap { Some(n.grey_photo(&photo)?) } else { None };
            let grey = grey.as_ref().map(|g| Grey {
                width: g.width,
                height: g.height,
                pixels: &g.pixels,
            });
            Ok(measure(&tracing, grey.as_ref(), &name, unit))
        })
        .await?;
    let measured = match measured {
        Ok(measured) => measured,
        Err(wrong) => {
            wrong
                .into_iter()
                .for_each(|(field, sentence)| errors.add(field, sentence));
            let form = Shown { typed, errors };
            return Err(WebError::Form(trace_page(&known, &form, None, None)));
        }
    };
    if !errors.is_empty() {
        let form = Shown { typed, errors };
        return Err(WebError::Form(trace_page(&known, &form, Some(&measured), None)));
    }
    if typed.get("do") != "keep" {
        return respond::page(trace_page(&known, &Shown::from(typed), Some(&measured), None));
    }
    keep(&app, known, typed, read, measured).await
}

/// The traced outline, or what is wrong with it, by field.
fn measure(
    tracing: &Tracing,
    grey: Option<&Grey>,
    name: &str,
    unit: crate::measure::Unit,
) -> Result<Measured, Vec<(String, String)>> {
    let traced = traced(tracing, grey).map_err(|wrong| {
        let field = match wrong {
            TraceError::NoShape => "mark_width",
            TraceError::NotOnTable | TraceError::NoOutline => "outline",
            _ => "marks",
        };
        vec![(field.to_string(), wrong.to_string())]
    })?;
    let told = Told {
        field: String::new(),
        name: if name.is_empty() { "the piece" } else { name },
        unit,
    };
    let shape = Shape::of(&traced.outline, &told).map_err(|problems| {
        let first = problems.into_iter().next();
        vec![("outline".to_string(), first.map(|p| p.sentence).unwrap_or_default())]
    })?;
    Ok(Measured { traced, shape })
}

/// The outline becomes a piece of the plan, or the outline of one that is there.
async fn keep(app: &App, known: Known, typed: Typed, read: Read, measured: Measured) -> Answer {
    let plan = &known.project.plan;
    let pattern = Pattern {
        from: Source::Drawn(measured.traced.outline.clone()),
        finish: Vec::new(),
        changes: Vec::new(),
    };
    let mut piece = match plan.piece(&read.piece) {
        Some(piece) => Piece {
            alterations: Vec::new(),
            ..piece.clone()
        },
        None => Piece {
            id: part::new_id(&typed, plan, 'p'),
            name: read.name.clone(),
            cut_count: read.cut_count,
            mirrored: read.mirrored,
            ..Piece::default()
        },
    };
    piece.pattern = Some(pattern);
    // Its width and height follow from the outline.
    let mut with = plan.clone();
    with.pieces.retain(|p| p.id != piece.id);
    with.pieces.push(piece.clone());
    if let Some(done) = settled(&with).plan.piece(&piece.id) {
        piece = done.clone();
    }
    let own = format!("pieces/{}", piece.id);
    let to = format!("/projects/{}/{own}", known.project.id);
    match part::save(app, &known.project, &typed, Edit::Piece(Box::new(piece)), &own).await? {
        Saved::Done => respond::see(&to),
        Saved::Problems(problems) => {
            let mut form = Shown::from(typed);
            problems.iter().for_each(|p| form.errors.add("outline", &p.message));
            Err(WebError::Form(trace_page(&known, &form, Some(&measured), None)))
        }
        Saved::Clash(now, what) => {
            let note = stale_note(&what, &Typed::default(), &typed);
            let mut form = Shown::from(typed);
            form.typed.set("seen", now.revision.to_string());
            let known = Known { project: *now, ..known };
            respond::clash(trace_page(&known, &form, Some(&measured), Some(note)))
        }
    }
}

fn trace_page(known: &Known, form: &Shown, measured: Option<&Measured>, note: Option<Markup>) -> Markup {
    let body = form::page(known, form, measured, note);
    page::project(
        known.project.id,
        &known.project.details.title,
        Place::Log,
        "Trace a piece",
        body,
    )
}

#[derive(serde::Deserialize)]
struct Asked {
    #[serde(default)]
    paper: String,
}

async fn marks(asked: Query<Asked>) -> Answer {
    let paper = sheets::Paper::read(&asked.paper).unwrap_or_default();
    let file = sheets::marks_sheet(paper, Local::now().date_naive()).map_err(WebError::NotWritten)?;
    Ok(HttpResponse::build(StatusCode::OK)
        .content_type("application/pdf")
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("inline; filename=\"marks-{}.pdf\"", paper.word()),
        ))
        .body(file))
}
