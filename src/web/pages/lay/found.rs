//! What was found: the layout, what it takes, and what can be done about it.

use super::Laid;
use super::drawing::sheet_drawing;
use super::form::{Wanted, carried};
use crate::drafting::lay::State;
use crate::figures::Shown;
use crate::figures::lay::{LayFigures, LayGround, LayJob};
use crate::measure::{Round, Unit};
use crate::web::components::{card as card_of, cautions, cloth_length, figure, length_up, working};
use crate::web::laying::{Found, LOOKING};
use maud::{Markup, html};

pub fn card(laid: &Laid, wanted: &Wanted, found: &Found) -> Markup {
    let Ok(job) = laid.job(wanted) else { return html! {} };
    let unit = laid.plan.unit;
    let answer = found.layout.as_ref().map(|layout| job.answer(layout));
    card_of(
        "lay",
        "The lay",
        html! {
            div data-looking[found.looking] data-found=(format!("{}/found?{}", laid.base(), wanted.query)) {
                p.lay-verdict role=[(!found.looking).then_some("status")] { (verdict(laid, wanted, &job, found, answer.as_ref())) }
                (doing(laid, wanted, found))
                @if let Some(answer) = &answer {
                    (shown(answer, unit, "found"))
                    @if !found.looking { (super::kept::keep_form(laid, wanted, &job, found)) }
                    p.actions { (super::sheet::links(&laid.base(), Some(wanted))) }
                }
            }
        },
    )
}

/// Fits, does not fit and why, or no way found: never more than is known.
fn verdict(laid: &Laid, wanted: &Wanted, job: &LayJob, found: &Found, answer: Option<&LayFigures>) -> Markup {
    let unit = laid.plan.unit;
    let on_bolt = matches!(wanted.wish.ground, LayGround::Single | LayGround::Folded);
    let owned = laid.cloth.owned;
    let places = format!("{} places tried", thousands(found.steps));
    html! {
        @if let Some(proof) = &found.proof {
            b { "They do not fit. " } (job.why_not(proof))
        } @else if let (false, Some(_)) = (on_bolt, answer) {
            b { "They fit." } " This is one way to lay them."
        } @else if !on_bolt {
            b { "No way found yet" } ", and none ruled out: " (places) "."
        } @else if let Some(answer) = answer {
            @if answer.at_hand {
                b { "They fit the length at hand" } ", " (owned.both_cloth(unit, Round::Down)) "."
            } @else if owned.is_positive() && job.least_needed(found.least) > owned {
                b { "The length at hand does not do." } " These pieces take at least " (job.least_needed(found.least).both(unit, Round::Down)) " with straightening; there is " (owned.both(unit, Round::Down)) "."
            } @else if owned.is_positive() {
                b { "No way found yet" } " to lay them on the length at hand, " (owned.both_cloth(unit, Round::Down)) ", and none ruled out: " (places) "."
            } @else {
                b { "This is one way to lay them" } ", " (places) "."
            }
            @if found.state == State::Best { " No layout can be shorter." }
        }
    }
}

/// Looking, and what can be done about it.
fn doing(laid: &Laid, wanted: &Wanted, found: &Found) -> Markup {
    let looked = found.looked.as_secs();
    html! {
        @if found.looking {
            p.hint.lay-progress {
                @if found.layout.is_none() { "Looking for a way: " } @else { "Looking for a better one: " } (looked) " s, " (thousands(found.steps)) " places tried. It ends by itself after " (LOOKING.as_secs()) " s."
            }
            div.actions {
                form method="post" action=(format!("{}/stop", laid.base())) {
                    (carried(wanted))
                    button.button type="submit" { "Stop" }
                }
                a.button.quiet data-reload href=(format!("{}?{}#found", laid.base(), wanted.query)) { "Show what is found by now" }
            }
        } @else if found.state == State::Looking {
            form.actions method="post" action=(format!("{}/look", laid.base())) {
                (carried(wanted))
                button.button type="submit" {
                    @if found.layout.is_none() { "Look further for a way" } @else { "Look for a better one" }
                }
                @if looked > 0 { span.hint { "Looked for " (looked) " s so far." } }
            }
        }
    }
}

/// `card` tells the drawings of one card from those of another.
pub fn shown(answer: &LayFigures, unit: Unit, card: &str) -> Markup {
    let from_bolt = answer.length.is_positive();
    let notes = Shown {
        working: answer.working.clone(),
        ..Shown::default()
    };
    html! {
        @if from_bolt {
            div.figures {
                (figure("Length of the lay", length_up(answer.length, unit), html! {}))
                (figure("To buy, if none is at hand", cloth_length(answer.to_buy, unit), html! { "straightening and shrinkage counted" }))
            }
        }
        (drawings(answer, unit, card))
        (working(&notes))
        (cautions(&answer.cautions))
    }
}

/// Each length or remnant, and what the letters mean.
pub fn drawings(answer: &LayFigures, unit: Unit, card: &str) -> Markup {
    html! {
        div.lays {
            @for (n, sheet) in answer.sheets.iter().enumerate() { (sheet_drawing(sheet, &format!("{card}-{n}"), unit)) }
        }
        (legend(answer))
    }
}

/// Every letter once, with its name.
fn legend(answer: &LayFigures) -> Markup {
    let mut letters: Vec<(&str, &str)> = Vec::new();
    for piece in answer.sheets.iter().flat_map(|s| &s.pieces) {
        if !letters.iter().any(|(letter, _)| *letter == piece.letter) {
            letters.push((&piece.letter, &piece.name));
        }
    }
    letters.sort_by_key(|(letter, _)| (letter.len(), letter.to_string()));
    let mirrored = answer.sheets.iter().flat_map(|s| &s.pieces).any(|p| p.mirrored);
    html! {
        ul.legend {
            @for (letter, name) in letters { li { b.lay-letter { (letter) } (name) } }
            @if mirrored { li { svg.lay-key viewBox="0 0 20 20" aria-hidden="true" { rect.turned-over x="1" y="1" width="18" height="18" {} path.turned-lines d="M1 9L9 1M1 19L19 1M11 19L19 11" {} } "hatched: turned over" } }
        }
    }
}

/// 12,300.
fn thousands(n: u64) -> String {
    let text = n.to_string();
    let mut out = String::new();
    for (at, digit) in text.chars().enumerate() {
        if at > 0 && (text.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}
