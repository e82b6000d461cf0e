//! The sheets of a project: each as a page, and as PDF.

use crate::notebook::{Notebook, Project};
use crate::sheets::{Document, Paper, SheetOf, cut_sheet, pdf};
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
}

impl Sheet {
    const ALL: [Sheet; 1] = [Sheet::Cut];

    const fn word(self) -> &'static str {
        match self {
            Sheet::Cut => "cut",
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Sheet::Cut => "Cut sheet",
        }
    }

    const fn what(self) -> &'static str {
        match self {
            Sheet::Cut => "Cloth by cloth: the cut list, the order of cuts with boxes to tick, the layout drawn to scale.",
        }
    }

    fn read(word: &str) -> Result<Sheet, WebError> {
        Sheet::ALL.into_iter().find(|s| s.word() == word).ok_or(WebError::NoPage)
    }
}

async fn project_of(app: &App, id: &str) -> Result<Project, WebError> {
    let id = self::id(id)?;
    app.ask(move |n: &Notebook| n.project(id)).await
}

async fn list(app: Data<App>, path: Path<String>) -> Answer {
    let project = project_of(&app, &path).await?;
    let base = format!("/projects/{}/sheets", project.id);
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "Sheets",
        html! {
            h1 { "Sheets" }
            ul.sheet-list { @for sheet in Sheet::ALL {
                li.card {
                    h2 { a href=(format!("{base}/{}", sheet.word())) { (sheet.name()) } }
                    p.hint { (sheet.what()) }
                    (as_pdf(&base, sheet))
                }
            } }
            p.hint { "They say what the plan says now. Print the PDF at full size, not fitted to the page: then its drawings are to scale." }
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
    let figures = app.figures(&project.plan).await?;
    let of = SheetOf {
        title: project.details.title.clone(),
        state: format!("Revision {} of the plan", project.revision),
        date: Local::now().date_naive(),
    };
    Ok(match sheet {
        Sheet::Cut => cut_sheet(&of, &project.plan, &figures),
    })
}

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let sheet = Sheet::read(&path.1)?;
    let project = project_of(&app, &path.0).await?;
    let made = made(&app, &project, sheet).await?;
    let base = format!("/projects/{}/sheets", project.id);
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        sheet.name(),
        html! {
            p.actions.sheet-actions {
                a.button.quiet href=(base) { "All sheets" }
                @for paper in Paper::ALL {
                    a.button href=(format!("{base}/{}.pdf?paper={}", sheet.word(), paper.word())) { "PDF " (paper.name()) }
                }
            }
            (document(&made))
        },
    ))
}

#[derive(serde::Deserialize)]
struct Asked {
    #[serde(default)]
    paper: String,
}

async fn file(app: Data<App>, path: Path<(String, String)>, asked: Query<Asked>) -> Answer {
    let sheet = Sheet::read(&path.1)?;
    let paper = match asked.paper.as_str() {
        "" => Paper::default(),
        word => Paper::read(word)
            .ok_or_else(|| WebError::Refused("The paper is a4 or letter.".into()))?,
    };
    let project = project_of(&app, &path.0).await?;
    let made = made(&app, &project, sheet).await?;
    let bytes = web::block(move || pdf(&made, paper)).await?.map_err(WebError::NotWritten)?;
    let shown = ContentDisposition {
        disposition: DispositionType::Inline,
        parameters: vec![DispositionParam::Filename(format!("{}-sheet-{}.pdf", sheet.word(), paper.word()))],
    };
    Ok(HttpResponse::Ok()
        .content_type("application/pdf")
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .insert_header(shown)
        .body(bytes))
}
