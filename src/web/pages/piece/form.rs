//! The cards of the form in their order; the form filled from a piece, and read into one.

use super::{NEW, alterations, face, layers};
use crate::measure::{INCH, Percent};
use crate::plan::{ClothKind, Piece, Plan, limits};
use crate::web::components::{card, cut_words, length_input, letter, number, switch, text};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text};
use crate::web::pages::part;
use maud::{Markup, html};

pub fn fields(form: &Shown, plan: &Plan, known: Option<&Piece>) -> Markup {
    // Its size follows from its outline and is not typed.
    let outlined = known.filter(|p| p.pattern.is_some());
    html! {
        script src=(crate::web::assets::address("painter.js")) defer {}
        script src=(crate::web::assets::address("piece.js")) defer {}
        (card("piece", "The piece", html! {
            (text(form, "name", "Name", "As it is called on the pattern: front, sleeve, hood.", "text"))
            (number(form, "cut_count", "Cut count", "How many in all; of a mirrored pair, both."))
            @if let Some(piece) = outlined {
                p.outlined-size { b { (cut_words(piece.width, piece.height, plan.unit)) } @if piece.on_fold { ", to the fold" } ", as its outline says. " a href=(format!("{}/outline", piece.id)) { "Edges and changes of the outline" } @if let Some(draft) = piece.draft() { ", " a href=(format!("../drafts/{draft}")) { "the measures it is drafted from" } } "." }
                (switch(form, "mirrored", "Mirrored pair", "Half of them are cut with the pattern turned over."))
            } @else {
                div.pair {
                    (length_input(form, "width", "Width", ""))
                    (length_input(form, "height", "Height", ""))
                }
                p.hint { "The rectangle round the printed pattern piece, seam allowances included. Of a mirrored pair, count both." }
                div.two {
                    (switch(form, "mirrored", "Mirrored pair", "Half of them are cut with the pattern turned over."))
                    (switch(form, "on_fold", "On the fold", "The width is measured to the fold; the piece is twice as wide, and an alteration in width counts on both halves."))
                }
            }
        }))
        @if outlined.is_none() { (card("alterations", "Alterations", alterations::fields(form))) }
        (card("face", "The face", face::fields(form, plan, known)))
        (card("layers", "Layers and quilting", layers::fields(form, plan)))
    }
}

/// The cloths of the plan to choose from, by letter and name.
pub fn cloth_options(plan: &Plan, kind: ClothKind, none: &str) -> Vec<(String, String)> {
    let mut options = vec![(String::new(), none.to_string())];
    options.extend(
        plan.cloths
            .iter()
            .enumerate()
            .filter(|(_, c)| c.kind == kind)
            .map(|(i, c)| (c.id.clone(), format!("{} · {}", letter(i), c.name))),
    );
    options
}

/// A new piece: most likely layered like the last one.
pub fn fresh(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    typed.set("cut_count", "1");
    typed.set("margin", length_text(INCH, plan.unit));
    face::fresh(&mut typed);
    layers::fresh(&mut typed, plan);
    typed
}

pub fn bare(percent: Percent) -> String {
    percent.to_string().trim_end_matches(" %").to_string()
}

pub fn filled(piece: &Piece, plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &piece.name);
    typed.set("cut_count", piece.cut_count.to_string());
    typed.set("width", length_text(piece.width, plan.unit));
    typed.set("height", length_text(piece.height, plan.unit));
    for (field, on) in [("mirrored", piece.mirrored), ("on_fold", piece.on_fold)] {
        if on {
            typed.set(field, "yes");
        }
    }
    alterations::fill(&mut typed, piece, plan.unit);
    face::fill(&mut typed, piece, plan.unit);
    layers::fill(&mut typed, piece, plan.unit);
    typed
}

pub fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Piece, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let id = if name == NEW {
        part::new_id(typed, plan, 'p')
    } else {
        name.to_string()
    };
    let before = plan.piece(&id);
    let outlined = before.filter(|p| p.pattern.is_some());
    let mut piece = Piece {
        name: r.required("name", NAME, "Give the piece a name."),
        cut_count: r.count("cut_count", 1..=limits::CUT_COUNT),
        mirrored: typed.ticked("mirrored"),
        on_fold: outlined.map_or_else(|| typed.ticked("on_fold"), |p| p.on_fold),
        width: outlined.map_or_else(|| r.length_positive("width"), |p| p.width),
        height: outlined.map_or_else(|| r.length_positive("height"), |p| p.height),
        alterations: match outlined {
            Some(_) => Vec::new(),
            None => alterations::read(&mut r),
        },
        pattern: outlined.and_then(|p| p.pattern.clone()),
        face: face::read(&mut r),
        id,
        ..Piece::default()
    };
    layers::read(&mut r, plan, before, &mut piece);
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(piece) } else { Err(r.errors) }
}
