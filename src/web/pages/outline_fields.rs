//! Remnants that are no rectangles, in a plan and on the shelf alike: by their
//! sides or by their corners, drawn with what is counted on.

use crate::figures::outline;
use crate::measure::{Length, Unit};
use crate::plan::{Corner, Outline, Outlined, Sides, limits};
use crate::web::components::{card, choice, length_input, number, outline_drawing, text};
use crate::web::form::{LINE, Reader, Shown, Typed, length_text};
use crate::web::meanwhile::List;
use maud::{Markup, html};

/// As [`crate::web::pages::cloth_fields::LISTS`] has it.
pub const LIST: List = List {
    prefix: "out_",
    name: "Outline",
    most: limits::OUTLINED,
    aside: &["by", "count"],
};

const SIDES: &str = "sides";
const CORNERS: &str = "corners";
/// Corners a form offers at first.
const OFFERED: usize = 6;

fn name(field: &str, row: usize) -> String {
    format!("out_{field}_{row}")
}

fn side(n: usize, row: usize) -> String {
    name(&format!("side{}", n + 1), row)
}

/// Where a corner is: its distances across and along.
fn corner(n: usize, row: usize) -> [String; 2] {
    ["across", "along"].map(|way| name(&format!("{way}{}", n + 1), row))
}

pub fn fill<'a>(typed: &mut Typed, outlined: impl Iterator<Item = (&'a Outline, u32, &'a str)>, unit: Unit) {
    for (row, (outline, count, note)) in outlined.enumerate() {
        match outline {
            Outline::Sides(sides) => {
                typed.set(&name("by", row), SIDES);
                for (n, length) in sides.sides.iter().enumerate() {
                    typed.set(&side(n, row), length_text(*length, unit));
                }
                if let Some(diagonal) = sides.diagonal {
                    typed.set(&name("diagonal", row), length_text(diagonal, unit));
                }
            }
            Outline::Corners(corners) => {
                typed.set(&name("by", row), CORNERS);
                for (n, at) in corners.iter().enumerate() {
                    let [across, along] = corner(n, row);
                    typed.set(&across, length_text(at.across, unit));
                    typed.set(&along, length_text(at.along, unit));
                }
            }
        }
        typed.set(&name("count", row), count.to_string());
        typed.set(&name("note", row), note);
    }
}

fn is_blank(typed: &Typed, field: &str) -> bool {
    typed.get(field).trim().is_empty()
}

/// Fields of one row besides how it is told, its count and its note.
fn measured(row: usize) -> impl Iterator<Item = String> {
    (0..4)
        .map(move |n| side(n, row))
        .chain([name("diagonal", row)])
        .chain((0..limits::OUTLINE_CORNERS).flat_map(move |n| corner(n, row)))
}

fn holds(typed: &Typed, row: usize) -> bool {
    !is_blank(typed, &name("note", row)) || measured(row).any(|field| !is_blank(typed, &field))
}

/// With their notes. A row without any measure or note is an empty one.
pub fn read(r: &mut Reader) -> Vec<(Outlined, String)> {
    let mut list = Vec::new();
    for row in (0..limits::OUTLINED).filter(|row| holds(r.typed, *row)) {
        let before = r.errors.0.len();
        let shape = if r.typed.get(&name("by", row)) == CORNERS {
            by_corners(r, row)
        } else {
            by_sides(r, row)
        };
        let count = name("count", row);
        let count = if is_blank(r.typed, &count) {
            1
        } else {
            r.count(&count, 1..=limits::REMNANT_COUNT)
        };
        let note = r.line(&name("note", row), LINE);
        // What a field says is enough; together they are looked at when each is right.
        if r.errors.0.len() == before
            && let Err(wrong) = outline(&shape)
        {
            r.errors.add(name("by", row), wrong);
        }
        list.push((Outlined { outline: shape, count }, note));
    }
    list
}

fn by_sides(r: &mut Reader, row: usize) -> Outline {
    let mut sides: Vec<Length> = (0..3).map(|n| r.length_positive(&side(n, row))).collect();
    if !is_blank(r.typed, &side(3, row)) {
        sides.push(r.length_positive(&side(3, row)));
    }
    let diagonal = name("diagonal", row);
    let diagonal = (!is_blank(r.typed, &diagonal)).then(|| r.length_positive(&diagonal));
    not_both(
        r,
        row,
        (0..limits::OUTLINE_CORNERS).flat_map(|n| corner(n, row)).collect(),
    );
    Outline::Sides(Sides { sides, diagonal })
}

fn by_corners(r: &mut Reader, row: usize) -> Outline {
    let mut corners = Vec::new();
    for n in 0..limits::OUTLINE_CORNERS {
        let [across, along] = corner(n, row);
        if is_blank(r.typed, &across) && is_blank(r.typed, &along) {
            continue;
        }
        for field in [&across, &along] {
            if is_blank(r.typed, field) {
                r.errors
                    .add(field, "Type this distance too; 0 where the corner lies on the line.");
            }
        }
        corners.push(Corner {
            across: r.length_or_zero(&across),
            along: r.length_or_zero(&along),
        });
    }
    let sides = (0..4).map(|n| side(n, row)).chain([name("diagonal", row)]).collect();
    not_both(r, row, sides);
    Outline::Corners(corners)
}

/// What was typed for the other way would be lost.
fn not_both(r: &mut Reader, row: usize, other: Vec<String>) {
    if other.iter().any(|field| !is_blank(r.typed, field)) {
        r.errors.add(
            name("by", row),
            "Both sides and corners are typed. Choose the way you measured, and clear the fields of the other.",
        );
    }
}

/// The rows that hold something and one after them, with notes or without.
pub fn outlined_card(form: &Shown, noted: bool) -> Markup {
    card(
        "outlined",
        "Remnants that are no rectangles",
        html! {
            details.rare open[(0..limits::OUTLINED).any(|row| holds(&form.typed, row))] {
                summary { "Measure one by its sides or corners" }
                p.hint { "With straight edges, washed, used before the length. What is counted on are rectangles along the grain that lie wholly inside; they are drawn once it is saved. Clear a row to take it out." }
                (rows(form, noted))
            }
        },
    )
}

pub fn rows(form: &Shown, noted: bool) -> Markup {
    let last = (0..limits::OUTLINED).rev().find(|row| holds(&form.typed, *row));
    let shown = (last.map_or(0, |row| row + 1) + 1).min(limits::OUTLINED);
    html! {
        @for row in 0..shown { (one(form, row, noted)) }
        button.button.quiet type="button" hidden data-add-row { "Another outline" }
    }
}

fn one(form: &Shown, row: usize, noted: bool) -> Markup {
    let ways = [
        (SIDES.to_string(), "its three or four sides".to_string()),
        (CORNERS.to_string(), "the place of each corner".to_string()),
    ];
    let typed = &form.typed;
    let last = (0..limits::OUTLINE_CORNERS)
        .rev()
        .find(|n| corner(*n, row).iter().any(|field| !is_blank(typed, field)));
    let corners = last.map_or(0, |n| n + 2).clamp(OFFERED, limits::OUTLINE_CORNERS);
    html! {
        fieldset.remnant.outlined data-row {
            legend.quiet { "Outline " (row + 1) }
            (drawn(form, row))
            (choice(form, &name("by", row), "Measured by", "", &ways))
            div.by-sides {
                p.hint { "In order round. Side 1 runs along the grain. Of four sides, the diagonal too: from where side 1 begins to where side 2 ends." }
                div.outline-lengths {
                    @for n in 0..3 { (length_input(form, &side(n, row), &format!("Side {}", n + 1), "")) }
                    (length_input(form, &side(3, row), "Side 4, if any", ""))
                    (length_input(form, &name("diagonal", row), "Diagonal", ""))
                }
            }
            div.by-corners {
                p.hint { "Lay it against two lines at a right angle, the grain along one of them. Going round, measure how far each corner lies from the line along the grain (across) and from the other (along)." }
                div.outline-corners {
                    @for n in 0..corners {
                        @let [across, along] = corner(n, row);
                        (length_input(form, &across, &format!("Corner {}, across", n + 1), ""))
                        (length_input(form, &along, &format!("Corner {}, along", n + 1), ""))
                    }
                }
            }
            div.pair {
                (number(form, &name("count", row), "Count", ""))
                @if noted { (text(form, &name("note", row), "Note", "", "text")) }
            }
        }
    }
}

/// As it is typed, where it closes.
fn drawn(form: &Shown, row: usize) -> Markup {
    if !holds(&form.typed, row) || !form.errors.is_empty() {
        return html! {};
    }
    // A bare number would be drawn in a unit nobody said.
    let bare = |text: &str| !text.trim().is_empty() && !text.trim().ends_with(|c: char| c.is_alphabetic() || c == '"');
    if measured(row).any(|field| bare(form.typed.get(&field))) {
        return html! {};
    }
    let mut r = Reader::new(&form.typed, Unit::Inch);
    let shape = if form.typed.get(&name("by", row)) == CORNERS {
        by_corners(&mut r, row)
    } else {
        by_sides(&mut r, row)
    };
    match outline(&shape) {
        Ok(shape) if r.errors.is_empty() => outline_drawing(&shape),
        _ => html! {},
    }
}
