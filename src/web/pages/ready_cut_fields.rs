//! The rows of ready-cut patches of a cloth, in a plan and on the shelf alike.

use crate::measure::{Length, Unit};
use crate::plan::{ReadyCut, ReadyShape, limits};
use crate::web::components::{card, choice, length_input, number};
use crate::web::form::{Reader, Shown, Typed, length_text, word};
use crate::web::meanwhile::List;
use maud::{Markup, html};

/// As [`crate::web::pages::cloth_fields::LISTS`] has it.
pub const LIST: List = List {
    prefix: "ready_",
    name: "Patches",
    most: limits::READY_CUT,
    aside: &["shape"],
};

const SHAPES: [(ReadyShape, &str); 5] = [
    (ReadyShape::Rectangle, "squares and rectangles"),
    (ReadyShape::HalfSquareTriangle, "half-square triangles"),
    (ReadyShape::QuarterSquareTriangle, "quarter-square triangles"),
    (ReadyShape::Triangle60, "equilateral triangles"),
    (ReadyShape::Hexagon, "hexagons"),
];

pub fn fill(typed: &mut Typed, ready_cut: &[ReadyCut], unit: Unit) {
    for (i, ready) in ready_cut.iter().enumerate() {
        typed.set(&format!("ready_shape_{i}"), word(&ready.shape));
        typed.set(&format!("ready_width_{i}"), length_text(ready.width, unit));
        if ready.shape == ReadyShape::Rectangle {
            typed.set(&format!("ready_height_{i}"), length_text(ready.height, unit));
        }
        typed.set(&format!("ready_count_{i}"), ready.count.to_string());
    }
}

/// A row with nothing but a shape is an empty one.
pub fn read(r: &mut Reader) -> Vec<ReadyCut> {
    let mut list = Vec::new();
    for i in 0..limits::READY_CUT {
        if !holds(r.typed, i) {
            continue;
        }
        let [shape, width, height, count] = ["shape", "width", "height", "count"].map(|f| format!("ready_{f}_{i}"));
        let ready = ReadyCut {
            shape: r.choice(&shape),
            width: r.length_positive(&width),
            height: r.length_or_zero(&height),
            count: r.count(&count, 1..=limits::READY_CUT_COUNT),
        };
        let typed_height = !r.typed.get(&height).trim().is_empty();
        if ready.shape == ReadyShape::Rectangle && !typed_height {
            r.errors
                .add(&height, "Type the second side, for a square the same again.");
        } else if ready.shape == ReadyShape::Rectangle && ready.height == Length::ZERO {
            r.errors.add(&height, "Type a length of more than nothing.");
        } else if ready.shape != ReadyShape::Rectangle && typed_height {
            r.errors.add(
                &height,
                "Only squares and rectangles have a second side. Clear it, or choose their shape.",
            );
        }
        list.push(ready);
    }
    list
}

fn holds(typed: &Typed, row: usize) -> bool {
    ["width", "height", "count"]
        .iter()
        .any(|f| !typed.get(&format!("ready_{f}_{row}")).trim().is_empty())
}

/// The rows that hold something and `empty` ones after them.
pub fn ready_cut_card(form: &Shown, empty: usize) -> Markup {
    let last = (0..limits::READY_CUT).rev().find(|i| holds(&form.typed, *i));
    let rows = (last.map_or(0, |i| i + 1) + empty).min(limits::READY_CUT);
    let shapes: Vec<(String, String)> = SHAPES.iter().map(|(s, name)| (word(s), (*name).into())).collect();
    card(
        "ready-cut",
        "Ready-cut patches",
        html! {
            details.rare open[last.is_some()] {
            summary { "Patches in stock" }
            p.hint { "Patches cut for an earlier project: used before anything is cut, and trimmed where they are too large. Sizes as cut, seam allowances included. Clear a row to take it out." }
            p.hint { "Of half- and quarter-square triangles, the side of the square they were cut from; of equilateral triangles, a side; of hexagons, from flat to flat." }
            @for i in 0..rows {
                fieldset.remnant.ready-cut data-row {
                    legend.quiet { "Patches " (i + 1) }
                    (choice(form, &format!("ready_shape_{i}"), "Shape", "", &shapes))
                    div.trio {
                        (length_input(form, &format!("ready_width_{i}"), "Size", ""))
                        (length_input(form, &format!("ready_height_{i}"), "Second side", ""))
                        (number(form, &format!("ready_count_{i}"), "Count", ""))
                    }
                }
            }
            button.button.quiet type="button" hidden data-add-row { "More ready-cut patches" }
            }
        },
    )
}
