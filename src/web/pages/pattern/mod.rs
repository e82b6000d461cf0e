//! Patterns on paper and in files.
//!
//! - [`print`]: which pieces on which paper, with the map of the sheets
//! - [`files`]: PDF, SVG and DXF of them
//! - [`from_file`]: the outline of a piece from a file; [`look`]: its page; [`kept`]: that file, until it is taken
//! - [`drawn`]: maps and outlines drawn; [`links`]: ways here from a piece

mod drawn;
mod files;
mod from_file;
mod kept;
mod links;
mod look;
mod print;

pub use links::links;

use super::part;
use crate::drafting::DraftProblem;
use crate::drafting::formats::DrawnPiece;
use crate::notebook::Project;
use crate::plan::{Piece, Plan};
use crate::web::form::Typed;
use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/pattern").route(get().to(print::show)))
        .service(resource("/projects/{id}/pattern.pdf").route(get().to(files::as_pdf)))
        .service(resource("/projects/{id}/pattern.svg").route(get().to(files::as_svg)))
        .service(resource("/projects/{id}/pattern.dxf").route(get().to(files::as_dxf)))
        .service(
            resource("/projects/{id}/pieces/{piece}/from-file")
                .route(get().to(from_file::show))
                .route(post().to(from_file::send)),
        );
}

/// The pieces an address asks for: those ticked, or all where none is named.
fn asked<'a>(plan: &'a Plan, typed: &Typed) -> Result<Vec<&'a Piece>, String> {
    let named: Vec<&str> = typed.all("piece").collect();
    if named.is_empty() {
        return if typed.has("chosen") {
            Err("No piece is ticked. Tick at least one.".into())
        } else {
            Ok(plan.pieces.iter().collect())
        };
    }
    let mut pieces: Vec<&Piece> = Vec::new();
    for id in named {
        match plan.piece(id) {
            Some(piece) if pieces.iter().any(|p| p.id == piece.id) => {}
            Some(piece) => pieces.push(piece),
            None => return Err("A piece that is asked for is no longer in the plan. Tick the pieces again.".into()),
        }
    }
    Ok(pieces)
}

/// The lines of each piece, or what stands in the way of one.
fn drawn_pieces(
    plan: &Plan,
    pieces: &[&Piece],
    how: impl Fn(&Plan, &Piece) -> Result<DrawnPiece, Vec<DraftProblem>>,
) -> Result<Vec<DrawnPiece>, String> {
    if pieces.is_empty() {
        return Err("The plan has no pieces yet. Add one first.".into());
    }
    let mut drawn = Vec::new();
    for piece in pieces {
        match how(plan, piece) {
            Ok(one) => drawn.push(one),
            Err(problems) => {
                let why = problems.first().map(|p| p.sentence.clone()).unwrap_or_default();
                return Err(format!("{} cannot be drawn: {why}", piece.name));
            }
        }
    }
    Ok(drawn)
}

fn address(project: &Project) -> String {
    format!("{}/pattern", part::base(project))
}
