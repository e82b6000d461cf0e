//! What is laid, on what, and how.

use super::Laid;
use crate::figures::lay::{LayGround, LayTurns, LayWish, lay_grounds};
use crate::web::components::{card as card_of, choice, field_errors, length_input};
use crate::web::form::{Errors, Reader, Shown, Typed, length_text, word};
use maud::{Markup, html};

pub struct Wanted {
    pub wish: LayWish,
    /// As it stands in the address.
    pub query: String,
}

/// The form before anything was chosen: as the kept lay was, else all pieces on
/// one layer.
pub fn begun(laid: &Laid, mut typed: Typed) -> Typed {
    if typed.has("ground") {
        return typed;
    }
    if let Some(kept) = laid.plan.lay(&laid.cloth.id) {
        return of_wish(laid, &kept.wish());
    }
    for piece in laid.pieces() {
        typed.add("pieces", piece.piece);
    }
    let turns = if laid.cloth.one_way {
        LayTurns::OneWay
    } else {
        LayTurns::BothWays
    };
    typed.set("ground", LayGround::Single.word());
    typed.set("turns", word(&turns));
    typed.set("gap", length_text(crate::measure::Length::ZERO, laid.plan.unit));
    typed
}

/// The fields of a wish, without pieces that are no longer there.
pub fn of_wish(laid: &Laid, wish: &LayWish) -> Typed {
    let mut typed = Typed::default();
    for piece in laid.pieces().iter().filter(|p| wish.pieces.contains(&p.piece)) {
        typed.add("pieces", &piece.piece);
    }
    typed.set("ground", wish.ground.word());
    typed.set("turns", word(&wish.turns));
    typed.set("gap", length_text(wish.gap, laid.plan.unit));
    typed
}

pub fn read(laid: &Laid, typed: &Typed) -> (Wanted, Errors) {
    let mut r = Reader::new(typed, laid.plan.unit);
    let pieces: Vec<String> = typed.all("pieces").map(str::to_string).collect();
    if pieces.is_empty() {
        r.errors.add("pieces", "Choose at least one piece to lay.");
    }
    let grounds = lay_grounds(&laid.cloth);
    let ground = grounds.into_iter().find(|g| g.word() == typed.get("ground"));
    if ground.is_none() {
        r.errors
            .add("ground", "This is no longer there. Choose what to lay on.");
    }
    let turns: LayTurns = r.choice("turns");
    let gap = r.length_or_zero("gap");
    if gap.as_mm_f64() > 100.0 {
        r.errors
            .add("gap", "The gap between pieces can be from nothing to 4 in (10 cm).");
    }
    let wish = LayWish {
        pieces,
        ground: ground.unwrap_or(LayGround::Single),
        turns,
        gap,
    };
    let query = query(typed);
    (Wanted { wish, query }, r.errors)
}

const FIELDS: [&str; 4] = ["pieces", "ground", "turns", "gap"];

/// The form's fields as an address has them.
pub fn query(typed: &Typed) -> String {
    let own = typed.0.iter().filter(|(name, _)| FIELDS.contains(&name.as_str()));
    form_urlencoded::Serializer::new(String::new())
        .extend_pairs(own)
        .finish()
}

/// The same fields, hidden in another form.
pub fn carried(wanted: &Wanted) -> Markup {
    html! {
        @for (name, value) in form_urlencoded::parse(wanted.query.as_bytes()) {
            input type="hidden" name=(name) value=(value);
        }
    }
}

pub fn card(laid: &Laid, form: &Shown) -> Markup {
    let unit = laid.plan.unit;
    let grounds: Vec<(String, String)> = lay_grounds(&laid.cloth)
        .into_iter()
        .map(|g| (g.word(), g.told(&laid.cloth, unit)))
        .collect();
    let turns = [
        (LayTurns::BothWays, "Along the grain, either way up"),
        (LayTurns::OneWay, "One way: every top the same way"),
        (LayTurns::Across, "Along or across the grain"),
    ]
    .map(|(turns, words)| (word(&turns), words.to_string()));
    card_of(
        "wanted",
        "What is laid",
        html! {
            form method="get" action=(format!("{}#found", laid.base())) data-unit=(unit.name()) {
                fieldset #pieces {
                    legend { "Pieces" }
                    (field_errors(form, "pieces"))
                    ul.lay-pieces {
                        @for piece in laid.pieces() { li {
                            label {
                                input type="checkbox" name="pieces" value=(piece.piece) checked[form.typed.all("pieces").any(|id| id == piece.piece)];
                                b.lay-letter { (piece.letter) }
                                span {
                                    (piece.name)
                                    span.meta {
                                        " " (piece.count) @if piece.mirrored { ", half of them mirrored" }
                                        @if piece.quilted { ", a panel to be quilted or trimmed first" }
                                        @else if !piece.outlined { ", a rectangle" }
                                    }
                                }
                            }
                        } }
                    }
                }
                (choice(form, "ground", "On", "", &grounds))
                div.two {
                    (choice(form, "turns", "Turned", "", &turns))
                    (length_input(form, "gap", "Gap between pieces", "Room for the shears or the cutter."))
                }
                p.actions { button.button.primary type="submit" { "Lay them" } }
            }
        },
    )
}
