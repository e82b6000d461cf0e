//! The sheets of a project: each as a page, and as PDF.

use crate::figures::Figures;
use crate::notebook::{Entry, Notebook, PhotoHash, PhotoSize, Project};
use crate::sheets::{
    Document, Paper, Photo, ProjectSheet, SheetOf, cut_sheet, pdf, piecing_sheet, project_sheet, swatch_card,
};
use crate::web::app::{App, id};
use crate::web::components::document;
use crate::web::error::{Answer, WebError};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpResponse;
use actix_web::http::header::{self, ContentDisposition, DispositionParam, DispositionType};
use actix_web::web::{self, Data, Path, Query, ServiceConfig, get, resource};
use chrono::Local;
use maud::{Markup, html};
use std::collections::HashSet;
use std::sync::Arc;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/sheets").route(get().to(list)))
        .service(resource("/projects/{id}/sheets/{sheet}.pdf").route(get().to(file)))
        .service(resource("/projects/{id}/sheets/{sheet}").route(get().to(show)));
}

/// Every sheet there is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sheet {
    Cut,
    Piecing,
    Project,
    Swatches,
}

impl Sheet {
    const ALL: [Sheet; 4] = [Sheet::Cut, Sheet::Piecing, Sheet::Project, Sheet::Swatches];

    const fn word(self) -> &'static str {
        match self {
            Sheet::Cut => "cut",
            Sheet::Piecing => "piecing",
            Sheet::Project => "project",
            Sheet::Swatches => "swatches",
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Sheet::Cut => "Cut sheet",
            Sheet::Piecing => "Piecing sheet",
            Sheet::Project => "Project sheet",
            Sheet::Swatches => "Swatch card",
        }
    }

    const fn what(self) -> &'static str {
        match self {
            Sheet::Cut => {
                "Cloth by cloth: the cut list, the order of cuts with boxes to tick, the layout drawn to scale."
            }
            Sheet::Piecing => {
                "Each patchwork panel drawn with its units and the letters of its cloths, row by row, and which way seams are pressed."
            }
            Sheet::Project => {
                "For the binder: photos, pattern, pieces with their alterations, cloth, closures, thread, measurements, decisions, time and cost."
            }
            Sheet::Swatches => "Room to staple a piece of each cloth, with its fibre, width, shrinkage and care.",
        }
    }

    fn read(word: &str) -> Result<Sheet, WebError> {
        Sheet::ALL
            .into_iter()
            .find(|s| s.word() == word)
            .ok_or(WebError::NoPage)
    }
}

async fn project_of(app: &App, id: &str) -> Result<Project, WebError> {
    super::part::load(app, self::id(id)?).await
}

/// Those that are made of what is asked for: a variant has no log of its own.
fn sheets_of(project: &Project) -> impl Iterator<Item = Sheet> {
    let variant = project.variant.is_some();
    Sheet::ALL
        .into_iter()
        .filter(move |sheet| !(variant && *sheet == Sheet::Project))
}

/// Which plan is on paper.
pub fn state(project: &Project) -> String {
    match project.variant {
        None => format!("Revision {} of the plan", project.revision),
        Some(letter) => format!("Variant {}, version {}: not the plan", letter.name(), project.revision),
    }
}

async fn list(app: Data<App>, path: Path<String>) -> Answer {
    let project = project_of(&app, &path).await?;
    let base = format!("{}/sheets", super::part::base(&project));
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "Sheets",
        html! {
            (super::part::variant_note(&project))
            h1 { "Sheets" @if let Some(letter) = project.variant { " of variant " (letter.name()) } }
            ul.sheet-list { @for sheet in sheets_of(&project) {
                li.card {
                    h2 { a href=(format!("{base}/{}", sheet.word())) { (sheet.name()) } }
                    p.hint { (sheet.what()) }
                    (as_pdf(&base, sheet))
                }
            }
                @if project.variant.is_none() { li.card {
                    h2 { a href=(format!("/projects/{}/pattern", project.id)) { "Pattern at full size" } }
                    p.hint { "Pieces chosen by you on A4, Letter, A0 or a 36 in roll, with test squares, notches and grainlines; SVG and DXF too." }
                    p.actions.sheet-actions { a.button href=(format!("/projects/{}/pattern", project.id)) { "Choose pieces and paper" } }
                } }
            }
            @for cloth in project.plan.cloths.iter().filter(|c| project.plan.lay(&c.id).is_some()) {
                p.actions { a.button.quiet href=(format!("{}/lay/{}", super::part::base(&project), cloth.id)) { "Kept lay on " (cloth.name) } }
            }
            p.hint { "They say what the " @if project.variant.is_some() { "variant" } @else { "plan" } " says now. Print the PDF at full size, not fitted to the page: then its drawings are to scale." }
        },
    ))
}

fn as_pdf(base: &str, sheet: Sheet) -> Markup {
    html! {
        p.actions.sheet-actions {
            a.button href=(format!("{base}/{}", sheet.word())) { "Open" }
            @for paper in Paper::ALL {
                a.button.quiet href=(format!("{base}/{}.pdf?paper={}", sheet.word(), paper.word())) aria-label=(format!("{} as PDF, {}", sheet.name(), paper.name())) {
                    "PDF " (paper.name())
                }
            }
        }
    }
}

async fn made(app: &App, project: &Project, sheet: Sheet) -> Result<Document, WebError> {
    if !sheets_of(project).any(|s| s == sheet) {
        return Err(WebError::NoPage);
    }
    let figures = app.figures(&project.plan).await?;
    let of = SheetOf {
        title: project.details.title.clone(),
        state: state(project),
        date: Local::now().date_naive(),
    };
    Ok(match sheet {
        Sheet::Cut => cut_sheet(&of, &project.plan, &figures),
        Sheet::Piecing => piecing_sheet(&of, &project.plan, &figures),
        Sheet::Project => of_project(app, project, &figures).await?,
        Sheet::Swatches => swatch_card(&of, &project.plan, &figures),
    })
}

async fn of_project(app: &App, project: &Project, figures: &Figures) -> Result<Document, WebError> {
    let id = project.id;
    let time = super::time::reckoned(app, project, figures).await?;
    let photo = project.photo.clone();
    let (log, settings, picture, photos) = app
        .ask(move |n: &Notebook| {
            // The sheet is made without a picture that is damaged.
            let file = photo
                .as_ref()
                .and_then(|hash| n.photo_file(hash, PhotoSize::Print).ok());
            let picture = file.and_then(|file| std::fs::read(file).ok()).map(Arc::new);
            let log = n.log(id)?;
            let photos = photos_of(n, &log, photo.as_ref());
            Ok((log, n.settings()?, picture, photos))
        })
        .await?;
    Ok(project_sheet(&ProjectSheet {
        project,
        figures,
        time: &time,
        log: &log,
        picture,
        photos: &photos,
        currency: &settings.currency,
        date: Local::now().date_naive(),
        day_of: |at| at.with_timezone(&Local).date_naive(),
    }))
}

/// Photos of the log besides the one on top, the oldest first: of many those
/// taken last.
fn photos_of(n: &Notebook, log: &[Entry], top: Option<&PhotoHash>) -> Vec<Photo> {
    const MOST: usize = 12;
    let mut met = HashSet::new();
    let all = log.iter().flat_map(|e| e.photos.iter().map(move |hash| (e, hash)));
    let mut photos: Vec<Photo> = all
        .filter(|(_, hash)| Some(*hash) != top && met.insert(*hash))
        .filter_map(|(e, hash)| {
            let file = n.photo_file(hash, PhotoSize::Page).ok()?;
            Some(Photo {
                hash: hash.0.clone(),
                taken: e.happened_at,
                text: e.text.clone(),
                jpeg: Arc::new(std::fs::read(file).ok()?),
            })
        })
        .take(MOST)
        .collect();
    photos.reverse();
    photos
}

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let sheet = Sheet::read(&path.1)?;
    let project = project_of(&app, &path.0).await?;
    let made = made(&app, &project, sheet).await?;
    let base = format!("{}/sheets", super::part::base(&project));
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        sheet.name(),
        html! {
            (super::part::variant_note(&project))
            p.actions.sheet-actions {
                a.button.quiet href=(base) { "All sheets" }
                (files_of(&format!("{base}/{}", sheet.word())))
            }
            (document(&made))
        },
    ))
}

#[derive(serde::Deserialize)]
pub struct Asked {
    #[serde(default)]
    paper: String,
}

impl Asked {
    pub fn paper(&self) -> Result<Paper, WebError> {
        match self.paper.as_str() {
            "" => Ok(Paper::default()),
            word => Paper::read(word).ok_or_else(|| WebError::Refused("The paper is a4 or letter.".into())),
        }
    }
}

async fn file(app: Data<App>, path: Path<(String, String)>, asked: Query<Asked>) -> Answer {
    let sheet = Sheet::read(&path.1)?;
    let paper = asked.paper()?;
    let project = project_of(&app, &path.0).await?;
    let made = made(&app, &project, sheet).await?;
    as_file(made, paper, &format!("{}-sheet", sheet.word())).await
}

/// The sheet as a file, opened by the browser; `name` is what it is saved as.
pub async fn as_file(made: Document, paper: Paper, name: &str) -> Answer {
    let bytes = web::block(move || pdf(&made, paper))
        .await?
        .map_err(WebError::NotWritten)?;
    let shown = ContentDisposition {
        disposition: DispositionType::Inline,
        parameters: vec![DispositionParam::Filename(format!("{name}-{}.pdf", paper.word()))],
    };
    Ok(HttpResponse::Ok()
        .content_type("application/pdf")
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .insert_header(shown)
        .body(bytes))
}

/// Links to the file of a sheet on every paper.
pub fn files_of(address: &str) -> Markup {
    html! {
        @for paper in Paper::ALL {
            a.button href=(format!("{address}.pdf?paper={}", paper.word())) { "PDF " (paper.name()) }
        }
    }
}
