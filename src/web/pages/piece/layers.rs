//! The margin to cut away, what lies under the face, quilting lines, take-up.

use super::form::{bare, cloth_options};
use crate::measure::{Length, Percent, Unit as System};
use crate::plan::{ClothKind, Layers, Piece, Plan, Quilting, TakeUpFrom};
use crate::web::components::{choice, length_input, switch, text};
use crate::web::form::{Reader, Shown, Typed, length_text, word};
use maud::{Markup, html};

const LINES: [(&str, &str); 4] = [
    ("lines_upright", "Upright"),
    ("lines_level", "Level"),
    ("lines_rising", "Rising to the right"),
    ("lines_falling", "Falling to the right"),
];

pub fn fields(form: &Shown, plan: &Plan) -> Markup {
    let batting_hint = if plan.cloths.iter().any(|c| c.kind == ClothKind::Batting) {
        ""
    } else {
        "Add one under Cloths, as kind batting."
    };
    let lines = LINES
        .iter()
        .any(|(f, _)| !form.typed.get(f).is_empty() || form.errors.has(f));
    let from = [
        (TakeUpFrom::Typed, "typed below"),
        (TakeUpFrom::Spacing, "from the quilting lines, by measured samples"),
    ];
    html! {
        (length_input(form, "margin", "Margin to cut away", "Panel beyond the piece on every side, cut off when it is cut to shape. Common practice: 1 to 2 in (2.5 to 5 cm)."))
        (switch(form, "quilted", "Quilted before it is cut to shape", ""))
        div.when-quilted {
            div.positions {
                (choice(form, "batting", "Batting", batting_hint, &cloth_options(plan, ClothKind::Batting, "none")))
                (choice(form, "backing", "Backing", "", &cloth_options(plan, ClothKind::Cloth, "none")))
            }
            details.more-of-face open[lines] {
                summary { "Quilting lines" }
                p.hint { "How far apart the straight lines of each direction are; leave a direction empty that has none." }
                div.pair { @for (field, label) in &LINES[..2] { (length_input(form, field, label, "")) } }
                div.pair { @for (field, label) in &LINES[2..] { (length_input(form, field, label, "")) } }
            }
            (choice(form, "take_up_from", "Take-up by quilting", "", &from.map(|(f, words)| (word(&f), words.to_string()))))
            div.when-take-up-typed {
                (text(form, "take_up", "Take-up, %", "Measured on five quilts: 1.2 to 3.6 %. Lines closer than 2 in (5 cm) take up more. 4 is on the safe side.", "text"))
            }
        }
    }
}

/// A new piece is most likely layered like the last one.
pub fn fresh(typed: &mut Typed, plan: &Plan) {
    typed.set("take_up", "4");
    typed.set("take_up_from", word(&TakeUpFrom::Typed));
    if let Some(batting) = plan.cloths.iter().find(|c| c.kind == ClothKind::Batting) {
        typed.set("quilted", "yes");
        typed.set("batting", &batting.id);
    }
    if let Some(last) = plan.pieces.last() {
        typed.set("margin", length_text(last.margin, plan.unit));
        if last.layers.is_some() {
            fill(typed, last, plan.unit);
        }
    }
}

pub fn fill(typed: &mut Typed, piece: &Piece, system: System) {
    typed.set("margin", length_text(piece.margin, system));
    typed.set("take_up", bare(piece.take_up));
    typed.set("take_up_from", word(&piece.take_up_from));
    if let Some(layers) = &piece.layers {
        typed.set("quilted", "yes");
        typed.set("batting", layers.batting.clone().unwrap_or_default());
        typed.set("backing", layers.backing.clone().unwrap_or_default());
        if let Some(q) = &layers.quilting {
            for ((field, _), apart) in LINES.iter().zip([q.upright, q.level, q.rising, q.falling]) {
                if let Some(apart) = apart {
                    typed.set(field, length_text(apart, system));
                }
            }
        }
    }
}

/// Reads into a piece; `before` is the piece as it was, for what the form does not show.
pub fn read(r: &mut Reader, plan: &Plan, before: Option<&Piece>, piece: &mut Piece) {
    piece.margin = r.length_or_zero("margin");
    if !r.typed.ticked("quilted") {
        // Not shown without layers: what a plan says of it stays.
        if let Some(before) = before.filter(|p| p.layers.is_none()) {
            piece.take_up = before.take_up;
            piece.take_up_from = before.take_up_from;
        }
        return;
    }
    piece.take_up_from = match r.typed.get("take_up_from") {
        "" => TakeUpFrom::Typed,
        _ => r.choice("take_up_from"),
    };
    piece.take_up = match piece.take_up_from {
        TakeUpFrom::Typed => r.percent_or_zero("take_up"),
        // Not shown: whatever stands there must not be in the way.
        TakeUpFrom::Spacing => r.typed.get("take_up").trim().parse::<Percent>().unwrap_or_default(),
    };
    let mut apart = LINES.map(|(field, _)| line(r, field)).into_iter();
    let quilting = Quilting {
        upright: apart.next().flatten(),
        level: apart.next().flatten(),
        rising: apart.next().flatten(),
        falling: apart.next().flatten(),
    };
    if piece.take_up_from == TakeUpFrom::Spacing && quilting == Quilting::default() {
        r.errors.add(
            "take_up_from",
            "Type how far apart the quilting lines are, at least of one direction, or type the take-up yourself.",
        );
    }
    piece.layers = Some(Layers {
        batting: chosen(r, plan, "batting"),
        backing: chosen(r, plan, "backing"),
        quilting: Some(quilting).filter(|q| *q != Quilting::default()),
    });
}

fn line(r: &mut Reader, field: &str) -> Option<Length> {
    (!r.typed.get(field).trim().is_empty()).then(|| r.length_positive(field))
}

fn chosen(r: &mut Reader, plan: &Plan, field: &str) -> Option<String> {
    let value = r.typed.get(field);
    if value.is_empty() {
        return None;
    }
    if plan.cloth(value).is_none() {
        r.errors
            .add(field, "This cloth is no longer in the plan. Choose another.");
    }
    Some(value.to_string())
}
