//! The form: what is tapped, what is typed, and what becomes of it.

use super::{Known, Measured, address, found};
use crate::drafting::trace::{Marks, Tap, Tracing};
use crate::measure::Unit;
use crate::notebook::Photo;
use crate::plan::Plan;
use crate::web::assets;
use crate::web::components::{card, choice, errors_summary, field_errors, hidden, length_input, number, switch, text};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed};
use crate::web::pages::project_photo;
use kurbo::Point;
use maud::{Markup, html};

/// What was read of the form.
#[derive(Clone)]
pub struct Read {
    pub tracing: Tracing,
    /// Marks are brought to the printed crossings near them.
    pub snap: bool,
    /// Id of a piece that gets the outline; of a new one nothing.
    pub piece: String,
    pub name: String,
    pub cut_count: u32,
    pub mirrored: bool,
}

/// The most points of an outline.
const MOST: usize = 200;

/// Fields of the card that puts it into the plan.
pub const OF_PIECE: [&str; 2] = ["name", "cut_count"];

const RECTANGLE: &str = "rectangle";
const SIDES: &str = "sides";

pub fn filled_anew(unit: Unit) -> Typed {
    let mut typed = Typed::default();
    typed.set("kind", RECTANGLE);
    typed.set("snap", "on");
    typed.set("grain", "down");
    typed.set("cut_count", "1");
    typed.set(
        "allowance",
        match unit {
            Unit::Inch => "0 in",
            Unit::Cm => "0 cm",
        },
    );
    typed
}

pub fn read(typed: &Typed, plan: &Plan, photo: &Photo) -> (Read, Errors) {
    let mut r = Reader::new(typed, plan.unit);
    let size = (photo.width as f64, photo.height as f64);
    let marks = match typed.get("kind") {
        SIDES => Marks::Sides {
            sides: [1, 2, 3, 4].map(|n| r.length_positive(&format!("side_{n}"))),
            diagonal: r.length_positive("diagonal"),
        },
        _ => Marks::Rectangle {
            width: r.length_positive("mark_width"),
            height: r.length_positive("mark_height"),
        },
    };
    let tapped = points(&mut r, "marks", size);
    let marks_tapped = match <[Tap; 4]>::try_from(tapped.clone()) {
        Ok(four) => four.map(|t| t.at),
        Err(_) => {
            if !r.errors.has("marks") {
                r.errors.add(
                    "marks",
                    format!("Tap the four marks: there are {} so far.", tapped.len()),
                );
            }
            [Point::ZERO; 4]
        }
    };
    let outline = points(&mut r, "outline", size);
    if outline.len() < 3 && !r.errors.has("outline") {
        r.errors.add(
            "outline",
            format!(
                "Tap round the piece, three points or more: there are {} so far.",
                outline.len()
            ),
        );
    }
    if outline.len() > MOST {
        r.errors.add(
            "outline",
            format!("An outline takes {MOST} points at most. Take some out."),
        );
    }
    let ends = points(&mut r, "check", size);
    let by_hand = r.length_or_zero("check_length");
    let check = match (ends.as_slice(), by_hand.is_positive()) {
        ([], false) => None,
        ([a, b], true) => Some((a.at, b.at, by_hand)),
        ([_, _], false) => {
            r.errors.add(
                "check_length",
                "Type how long the check length really is, measured by hand.",
            );
            None
        }
        _ => {
            if !r.errors.has("check") {
                r.errors.add(
                    "check",
                    "Tap both ends of the check length, or leave it out altogether.",
                );
            }
            None
        }
    };
    let allowance = r.length_or_zero("allowance");
    let piece = typed.get("piece").to_string();
    let keeping = typed.get("do") == "keep";
    let known = plan.piece(&piece).is_some();
    let name = match keeping && !known {
        true => r.required("name", NAME, "Give the piece a name, such as Collar."),
        false => r.line("name", NAME),
    };
    let cut_count = match keeping && !known {
        true => r.count("cut_count", 1..=200),
        false => 1,
    };
    let read = Read {
        tracing: Tracing {
            marks,
            marks_tapped,
            outline,
            check,
            grain_across: typed.get("grain") == "across",
            allowance,
        },
        snap: typed.ticked("snap"),
        piece,
        name,
        cut_count,
        mirrored: typed.ticked("mirrored"),
    };
    (read, r.errors)
}

/// A point a line: per cent from the left, per cent from the top, and of an
/// outline `curve` where it goes on smoothly.
fn points(r: &mut Reader, field: &str, (width, height): (f64, f64)) -> Vec<Tap> {
    let text = r.typed.get(field).to_string();
    let mut found = Vec::new();
    for (n, line) in text.lines().map(str::trim).filter(|l| !l.is_empty()).enumerate() {
        let part = |text: Option<&str>| -> Option<f64> {
            let number: f64 = text?.trim_end_matches('%').replace(',', ".").parse().ok()?;
            (0.0..=100.0).contains(&number).then_some(number)
        };
        let mut words = line.split_whitespace();
        let (x, y, rest) = (part(words.next()), part(words.next()), words.next());
        match (x, y, rest, words.next()) {
            (Some(x), Some(y), None | Some("curve"), None) => found.push(Tap {
                at: Point::new(x / 100.0 * width, y / 100.0 * height),
                corner: rest.is_none(),
            }),
            _ => {
                let line: String = line.chars().take(40).collect();
                r.errors.add(
                    field,
                    format!("Line {}, “{line}”, is no point. Write two numbers from 0 to 100 with a space between, such as 12.5 80.", n + 1),
                );
                return found;
            }
        }
    }
    found
}

pub fn page(known: &Known, form: &Shown, measured: Option<&Measured>, note: Option<Markup>) -> Markup {
    let action = address(&known.project, &known.photo.hash);
    let unit = known.project.plan.unit;
    let hash = &known.photo.hash.0;
    html! {
        script src=(assets::address("trace.js")) defer {}
        h1 { "Trace a piece" }
        @if let Some(note) = note { (note) }
        @if measured.is_none() {
            p.hint.lead-in { "Lay the piece flat, with four marks round it whose distances you know: the corners of a cutting mat, or of the printed sheet. Photograph it straight from above with the main lens, from 1 m or more, the piece in the middle." }
        }
        form.trace method="post" action=(action) data-unit=(unit.name()) data-keep=(action) data-carries[measured.is_some()] data-trace {
            (hidden("seen", form.typed.get("seen")))
            (hidden("decision_id", form.typed.get("decision_id")))
            (hidden("part_id", form.typed.get("part_id")))
            (errors_summary(form))
            @if let Some(measured) = measured { (found::card_of(measured, unit)) (keep_card(known, form)) }
            section.card.trace-photo aria-labelledby="trace-photo-h" {
                div.card-head { h2 #trace-photo-h { "On the photo" } }
                div.trace-bar data-trace-bar hidden {
                    fieldset.trace-what {
                        legend { "What you tap now" }
                        @for (value, label) in [("marks", "Four marks"), ("outline", "Outline"), ("check", "Check length")] {
                            label.pick { input type="radio" name="tap" value=(value) checked[value == "marks"]; span { (label) " " b data-trace-count=(value) {} } }
                        }
                    }
                    p.hint data-trace-hint role="status" {}
                }
                @for field in ["marks", "outline", "check"] { (field_errors(form, field)) }
                div.trace-place data-trace-place {
                    div.marked {
                        img src=(format!("/photos/{hash}/page")) data-large=(format!("/photos/{hash}/print")) width=(known.photo.width) height=(known.photo.height) alt="The photo to be traced";
                    }
                }
                div.actions data-trace-tools hidden {
                    button.button type="button" data-trace-curve aria-pressed="false" { "Next point is on a curve" }
                    button.button.quiet type="button" data-trace-back { "Take the last point out" }
                }
                details.mark-ends data-trace-typed open {
                    summary { "Points as numbers" }
                    p.hint { "A point a line: from the left and from the top, in per cent of the photo. Of the outline, add the word curve to a point where it goes on smoothly; others are corners." }
                    (points_field(form, "marks", "Four marks, in order round, the first at the upper left", 4))
                    (points_field(form, "outline", "The outline, in order round", 8))
                    (points_field(form, "check", "Both ends of the check length", 2))
                }
            }
            (card("distances", "How far apart the marks are", html! {
                (choice(form, "kind", "The marks are", "", &[
                    (RECTANGLE.into(), "corners of a rectangle (mat or printed sheet)".into()),
                    (SIDES.into(), "four points measured one by one".into()),
                ]))
                div.pair data-trace-kind=(RECTANGLE) {
                    (length_input(form, "mark_width", "Across", "From the first mark to the second."))
                    (length_input(form, "mark_height", "Down", "From the second mark to the third."))
                }
                div data-trace-kind=(SIDES) {
                    div.pair { (length_input(form, "side_1", "First to second", "")) (length_input(form, "side_2", "Second to third", "")) }
                    div.pair { (length_input(form, "side_3", "Third to fourth", "")) (length_input(form, "side_4", "Fourth to first", "")) }
                    (length_input(form, "diagonal", "First to third", "The diagonal, so that the corners are known."))
                }
                (switch(form, "snap", "Bring taps to printed marks", "Where two black squares meet near a tap, their meeting point is taken."))
                p.hint { a href="/marks.pdf?paper=a4" { "Sheet of marks, A4" } " or " a href="/marks.pdf?paper=letter" { "Letter" } ": printed at full size, or its four marks cut apart and laid round the piece." }
            }))
            (card("check-length", "Check length", html! {
                p.hint { "A print that is not to scale, a piece that is not flat and a bent lens show in nothing else. Measure one more length by hand, as long as you can." }
                (length_input(form, "check_length", "By hand", ""))
            }))
            (card("piece", "The piece", html! {
                (choice(form, "grain", "The grain runs", "", &[
                    ("down".into(), "from the first mark to the fourth".into()),
                    ("across".into(), "from the first mark to the second".into()),
                ]))
                (length_input(form, "allowance", "Seam allowance to add", "Outside the line you tapped. 0 where that is the edge of a piece cut with its allowances."))
            }))
            div.save-bar {
                a.button.quiet href=(project_photo::address(known.project.id, &known.photo.hash)) { "Cancel" }
                button.button.primary[measured.is_none()] type="submit" name="do" value="measure" { @if measured.is_some() { "Measure again" } @else { "Measure" } }
            }
        }
    }
}

fn points_field(form: &Shown, name: &str, label: &str, rows: u32) -> Markup {
    let wrong = form.errors.has(name);
    html! {
        div.field.has-error[wrong] {
            label for=(name) { (label) }
            textarea id=(name) name=(name) rows=(rows) spellcheck="false" autocomplete="off" data-trace-points
                aria-invalid=[wrong.then_some("true")] aria-describedby=[wrong.then(|| format!("{name}-error"))] { (form.typed.get(name)) }
        }
    }
}

fn keep_card(known: &Known, form: &Shown) -> Markup {
    let mut pieces = vec![(String::new(), "a new piece".to_string())];
    pieces.extend(
        known
            .project
            .plan
            .pieces
            .iter()
            .map(|p| (p.id.clone(), format!("the outline of {}", p.name))),
    );
    card(
        "keep",
        "Put it into the plan",
        html! {
            (choice(form, "piece", "As", "A piece that has an outline gets this one in its place; the earlier one stays among the revisions.", &pieces))
            (text(form, "name", "Name of a new piece", "Such as Collar.", "text"))
            div.pair {
                (number(form, "cut_count", "How many to cut", ""))
                (switch(form, "mirrored", "Half of them mirrored", ""))
            }
            (text(form, "decided", "What you decided", "For the log; leave empty if there is nothing to say.", "text"))
            div.actions { button.button.primary type="submit" name="do" value="keep" { "Put into the plan" } }
        },
    )
}
