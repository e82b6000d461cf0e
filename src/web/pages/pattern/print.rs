//! Which pieces on which paper; the map of the sheets that makes.

use super::{address, asked, drawn, drawn_pieces};
use crate::drafting::formats::DrawnPiece;
use crate::drafting::shape_of;
use crate::measure::Unit;
use crate::notebook::Project;
use crate::sheets::{PatternMap, PatternPaper, PatternSheet};
use crate::web::app::{App, id};
use crate::web::components::{cautions, field_errors, hidden, size_up};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed};
use crate::web::page::{self, Place};
use crate::web::pages::part;
use crate::web::respond;
use actix_web::web::{self, Data, Path, Query};
use chrono::Local;
use maud::{Markup, html};

/// The paper an address names; nothing named is the one usual with the plan's unit.
pub fn paper(typed: &Typed, unit: Unit) -> Result<PatternPaper, String> {
    match (typed.get("paper"), unit) {
        ("", Unit::Inch) => Ok(PatternPaper::Letter),
        ("", Unit::Cm) => Ok(PatternPaper::A4),
        (word, _) => PatternPaper::read(word).ok_or_else(|| "The paper is a4, letter, a0 or roll36.".into()),
    }
}

pub async fn show(app: Data<App>, path: Path<String>, query: Query<Vec<(String, String)>>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let mut form = Shown::from(Typed(query.into_inner()));
    let paper = match paper(&form.typed, project.plan.unit) {
        Ok(paper) => paper,
        Err(sentence) => {
            form.errors.add("paper", sentence);
            PatternPaper::default()
        }
    };
    let mut map = None;
    if !project.plan.pieces.is_empty() {
        match laid(&project, &form.typed, paper).await? {
            Ok(made) if form.errors.is_empty() => map = Some(made),
            Ok(_) => {}
            Err(sentence) => form.errors.add("pieces", sentence),
        }
    }
    respond::page(page_of(&project, &form, paper, map.as_ref()))
}

async fn laid(project: &Project, typed: &Typed, paper: PatternPaper) -> Result<Result<PatternMap, String>, WebError> {
    let drawn = asked(&project.plan, typed).and_then(|pieces| drawn_pieces(&project.plan, &pieces, DrawnPiece::of));
    let pieces = match drawn {
        Ok(pieces) => pieces,
        Err(sentence) => return Ok(Err(sentence)),
    };
    let sheet = PatternSheet {
        title: project.details.title.clone(),
        date: Local::now().date_naive(),
        pieces,
    };
    Ok(web::block(move || sheet.lay_out(paper).map(|laid| sheet.map(&laid))).await?)
}

fn page_of(project: &Project, form: &Shown, paper: PatternPaper, map: Option<&PatternMap>) -> Markup {
    let plan = &project.plan;
    let address = address(project);
    let ticked = |piece: &str| match form.typed.has("chosen") || form.typed.has("piece") {
        true => form.typed.all("piece").any(|p| p == piece),
        false => true,
    };
    let which: String = form
        .typed
        .all("piece")
        .filter(|id| plan.piece(id).is_some())
        .map(|id| format!("&piece={id}"))
        .collect();
    page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "Pattern at full size",
        html! {
            (part::variant_note(project))
            p.actions.sheet-actions { a.button.quiet href=(format!("{}/sheets", format_args!("/projects/{}", project.id))) { "All sheets" } }
            h1 { "Pattern at full size" }
            @if plan.pieces.is_empty() {
                p { "The plan has no pieces yet. " a href=(format!("{}/pieces/new", part::base(project))) { "Add a piece" } ", or " a href=(format!("{}/pieces/new/from-file", part::base(project))) { "take its outline from a file" } "." }
            } @else {
                form.pattern-form method="get" action=(address) {
                    (hidden("chosen", "yes"))
                    fieldset.field.has-error[form.errors.has("pieces")] id="pieces" {
                        legend { "Pieces" }
                        div.pattern-ticks { @for piece in &plan.pieces {
                            label.tick-row {
                                input type="checkbox" name="piece" value=(piece.id) checked[ticked(&piece.id)];
                                span { b { (piece.name) } " " span.meta { (cut(piece.cut_count)) @if piece.pattern.is_none() { ", a rectangle" } } br; (piece_size(plan, piece)) }
                            }
                        } }
                        (field_errors(form, "pieces"))
                    }
                    fieldset.field.has-error[form.errors.has("paper")] id="paper" {
                        legend { "Paper" }
                        div.pattern-ticks { @for one in PatternPaper::ALL {
                            label.tick-row {
                                input type="radio" name="paper" value=(one.word()) checked[one == paper];
                                span { b { (one.name()) } br; span.meta { (one.what()) } }
                            }
                        } }
                        (field_errors(form, "paper"))
                    }
                    button.button type="submit" { "Lay them out" }
                }
                @if let Some(map) = map {
                    section.card #sheets aria-labelledby="sheets-h" {
                        h2 id="sheets-h" { (pages(map.pages)) " of " (paper.name()) }
                        p.actions.sheet-actions {
                            a.button.primary href=(format!("{address}.pdf?paper={}{which}", paper.word())) { "PDF " (paper.name()) }
                            a.button.quiet href=(format!("{address}.svg?{}", which.trim_start_matches('&'))) download { "SVG" }
                            a.button.quiet href=(format!("{address}.dxf?{}", which.trim_start_matches('&'))) download { "DXF" }
                        }
                        p.hint { "Print at 100 %, actual size, not fitted to the page, and measure the test square before you cut. Sheets are joined by the halves of their diamonds." }
                        (drawn::map(map))
                        dl.pattern-list { @for piece in &map.pieces {
                            dt { (piece.name) }
                            dd { @if piece.on.len() == 1 { "sheet " } @else { "sheets " } (piece.on.join(", ")) }
                        } }
                    }
                }
                (cautions(&CAUTIONS.map(String::from)))
            }
        },
    )
}

const CAUTIONS: [&str; 2] = [
    "Cut paper with paper scissors: it blunts shears and rotary blades for cloth. Close a rotary cutter whenever you put it down.",
    "Count pattern weights, pins and blades before and after, and keep them and the paper's tape away from children and pets.",
];

fn cut(count: u32) -> String {
    format!("cut {count}")
}

fn pages(count: usize) -> String {
    if count == 1 {
        "1 page".into()
    } else {
        format!("{count} pages")
    }
}

fn piece_size(plan: &crate::plan::Plan, piece: &crate::plan::Piece) -> Markup {
    match DrawnPiece::of(plan, piece) {
        Ok(drawn) => {
            let size = drawn.cut_size();
            html! { (size_up(crate::figures::Size { width: size.width, height: size.height }, plan.unit)) @if drawn.fold.is_some() { " to the fold" }
                @if let Some(notice) = shape_of(plan, piece).ok().and_then(|s| s.fold_notice(&piece.name)) { br; span.meta { (notice) } }
            }
        }
        Err(problems) => html! { span.error { (problems.first().map(|p| p.sentence.clone()).unwrap_or_default()) } },
    }
}
