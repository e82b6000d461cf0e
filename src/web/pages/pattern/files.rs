//! The pattern as a file.

use super::{asked, drawn_pieces, print};
use crate::drafting::formats::{DrawnPiece, dxf, svg};
use crate::notebook::Project;
use crate::sheets::{PatternSheet, plot};
use crate::web::app::{App, id};
use crate::web::error::{Answer, WebError};
use crate::web::form::Typed;
use crate::web::pages::part;
use actix_web::HttpResponse;
use actix_web::http::header::{self, ContentDisposition, DispositionParam, DispositionType};
use actix_web::web::{self, Data, Path, Query};
use chrono::Local;

type Asked = Query<Vec<(String, String)>>;

async fn pieces(
    app: &App,
    path: &str,
    typed: &Typed,
    how: fn(&crate::plan::Plan, &crate::plan::Piece) -> Result<DrawnPiece, Vec<crate::drafting::DraftProblem>>,
) -> Result<(Project, Vec<DrawnPiece>), WebError> {
    let project = part::load(app, id(path)?).await?;
    let drawn = asked(&project.plan, typed).and_then(|pieces| drawn_pieces(&project.plan, &pieces, how));
    let drawn = drawn.map_err(WebError::Refused)?;
    Ok((project, drawn))
}

fn sent(bytes: Vec<u8>, kind: &str, disposition: DispositionType, name: String) -> Answer {
    let shown = ContentDisposition {
        disposition,
        parameters: vec![DispositionParam::Filename(name)],
    };
    Ok(HttpResponse::Ok()
        .content_type(kind)
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .insert_header(shown)
        .body(bytes))
}

pub async fn as_pdf(app: Data<App>, path: Path<String>, query: Asked) -> Answer {
    let typed = Typed(query.into_inner());
    let (project, pieces) = pieces(&app, &path, &typed, DrawnPiece::of).await?;
    let paper = print::paper(&typed, project.plan.unit).map_err(WebError::Refused)?;
    let sheet = PatternSheet {
        title: project.details.title.clone(),
        date: Local::now().date_naive(),
        pieces,
    };
    let bytes = web::block(move || {
        let laid = sheet.lay_out(paper).map_err(WebError::Refused)?;
        plot(&sheet.plot(&laid)).map_err(WebError::NotWritten)
    })
    .await??;
    sent(
        bytes,
        "application/pdf",
        DispositionType::Inline,
        format!("pattern-{}.pdf", paper.word()),
    )
}

pub async fn as_svg(app: Data<App>, path: Path<String>, query: Asked) -> Answer {
    let typed = Typed(query.into_inner());
    let (project, pieces) = pieces(&app, &path, &typed, DrawnPiece::whole).await?;
    let text = web::block(move || svg::write(&project.details.title, &pieces)).await?;
    sent(
        text.into_bytes(),
        "image/svg+xml",
        DispositionType::Attachment,
        "pattern.svg".into(),
    )
}

pub async fn as_dxf(app: Data<App>, path: Path<String>, query: Asked) -> Answer {
    let typed = Typed(query.into_inner());
    let (project, pieces) = pieces(&app, &path, &typed, DrawnPiece::whole).await?;
    let bytes = web::block(move || dxf::write(&project.details.title, &pieces))
        .await?
        .map_err(WebError::NotWritten)?;
    sent(
        bytes,
        "image/vnd.dxf",
        DispositionType::Attachment,
        "pattern.dxf".into(),
    )
}
