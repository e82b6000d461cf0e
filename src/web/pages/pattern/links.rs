//! Ways from a piece to its pattern.

use crate::notebook::Project;
use crate::plan::Piece;
use crate::web::components::card;
use crate::web::pages::part;
use maud::{Markup, html};

/// On the page of a piece; of a new one only the way in.
pub fn links(project: &Project, known: Option<&Piece>) -> Markup {
    let base = part::base(project);
    let name = known.map_or("new", |p| p.id.as_str());
    let from_file = format!("{base}/pieces/{name}/from-file");
    card(
        "pattern",
        "Pattern",
        html! {
            p.hint { "The outline can come from a drawing, SVG or DXF as it is used for apparel, or be traced on a photo: take one of the pattern, tap it in the log, then “Trace a piece from it”." }
            p.actions.sheet-actions {
                a.button.quiet href=(from_file) { "Outline from a file" }
                @if let Some(piece) = known {
                    a.button.quiet href=(format!("{base}/pattern?chosen=yes&piece={}", piece.id)) { "Print at full size" }
                    a.button.quiet href=(format!("{base}/pattern.svg?piece={}", piece.id)) download { "SVG" }
                    a.button.quiet href=(format!("{base}/pattern.dxf?piece={}", piece.id)) download { "DXF" }
                }
            }
        },
    )
}
