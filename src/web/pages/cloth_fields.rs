//! The fields a cloth has in a plan and on the shelf alike: shown, filled, read.

use super::{care_fields, outline_fields, ready_cut_fields};
use crate::measure::{Length, Unit};
use crate::plan::{Care, Cloth, ClothKind, Per, Price, Remnant, limits};
use crate::web::components::{card, choice, length_input, money, number, text};
use crate::web::form::{LINE, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::meanwhile::List;
use maud::{Markup, html};

/// The lists of a cloth, whose rows two devices may change.
pub const LISTS: [List; 3] = [
    List {
        prefix: "rem_",
        name: "Remnant",
        most: limits::REMNANTS,
        aside: &["count"],
    },
    outline_fields::LIST,
    ready_cut_fields::LIST,
];

pub fn fresh() -> Typed {
    let mut typed = Typed::default();
    typed.set("kind", word(&ClothKind::Cloth));
    typed.set("colour", "#8fa3b8");
    care_fields::fill(&mut typed, None);
    typed
}

pub fn filled(c: &Cloth, unit: Unit) -> Typed {
    let length = |x: Length| length_text(x, unit);
    let mut typed = fresh();
    typed.set("name", &c.name);
    typed.set("kind", word(&c.kind));
    typed.set("fibre", &c.fibre);
    typed.set("usable_width", length(c.usable_width));
    let owned = if c.owned == Length::ZERO {
        String::new()
    } else {
        length(c.owned)
    };
    typed.set("owned", owned);
    typed.set("colour", &c.colour);
    typed.set("link", &c.link);
    care_fields::fill(&mut typed, c.care.as_ref());
    typed.set("shrinkage", c.shrinkage.to_string().trim_end_matches(" %"));
    if c.one_way {
        typed.set("one_way", "yes");
    }
    if let Some(price) = &c.price {
        typed.set("price", price.amount.to_string());
        typed.set("price_per", word(&price.per));
    }
    for (i, r) in c.remnants.iter().enumerate() {
        typed.set(&format!("rem_width_{i}"), length(r.width));
        typed.set(&format!("rem_length_{i}"), length(r.length));
        typed.set(&format!("rem_count_{i}"), r.count.to_string());
    }
    let outlined = c.outlined.iter().map(|o| (&o.outline, o.count, ""));
    outline_fields::fill(&mut typed, outlined, unit);
    ready_cut_fields::fill(&mut typed, &c.ready_cut, unit);
    typed
}

/// The note of each remnant, empty where the form has none.
pub struct Notes {
    pub remnants: Vec<String>,
    pub outlined: Vec<String>,
}

/// The cloth under this id, and the notes of its remnants. `care` is what was
/// said before.
pub fn read(r: &mut Reader, id: String, stock: Option<String>, care: Option<&Care>) -> (Cloth, Notes) {
    let amount = r.money("price");
    let per: Per = r.choice("price_per");
    let mut cloth = Cloth {
        id,
        name: r.required("name", NAME, "Give the cloth a name."),
        kind: r.choice("kind"),
        fibre: r.line("fibre", LINE),
        usable_width: r.length_positive("usable_width"),
        owned: r.length_or_zero("owned"),
        remnants: Vec::new(),
        price: amount.map(|amount| Price { amount, per }),
        colour: r.line("colour", 7),
        link: r.link("link"),
        one_way: r.typed.ticked("one_way"),
        shrinkage: r.percent_or_zero("shrinkage"),
        stock,
        care: care_fields::read(r, care),
        ..Cloth::default()
    };
    let (remnants_noted, outlined_noted);
    (cloth.remnants, remnants_noted) = remnants(r).into_iter().unzip();
    (cloth.outlined, outlined_noted) = outline_fields::read(r).into_iter().unzip();
    cloth.ready_cut = ready_cut_fields::read(r);
    let notes = Notes {
        remnants: remnants_noted,
        outlined: outlined_noted,
    };
    (cloth, notes)
}

/// Remnants with their notes. A row with nothing but a count is an empty one.
pub fn remnants(r: &mut Reader) -> Vec<(Remnant, String)> {
    let mut list = Vec::new();
    for i in 0..limits::REMNANTS {
        if !holds(r.typed, i) {
            continue;
        }
        let [width, length, count, note] = ["width", "length", "count", "note"].map(|f| format!("rem_{f}_{i}"));
        let number = if r.typed.get(&count).trim().is_empty() {
            1
        } else {
            r.count(&count, 1..=limits::REMNANT_COUNT)
        };
        let remnant = Remnant {
            width: r.length_positive(&width),
            length: r.length_positive(&length),
            count: number,
        };
        list.push((remnant, r.line(&note, LINE)));
    }
    list
}

fn holds(typed: &Typed, row: usize) -> bool {
    ["width", "length", "note"]
        .iter()
        .any(|f| !typed.get(&format!("rem_{f}_{row}")).trim().is_empty())
}

/// Name, kind, fibre, width and length owned.
pub fn what(form: &Shown) -> Markup {
    let kinds = [
        (word(&ClothKind::Cloth), "cloth".to_string()),
        (word(&ClothKind::Batting), "batting".to_string()),
    ];
    html! {
        (text(form, "name", "Name", "So that you know it again: “oat linen”, “rust gingham”.", "text"))
        div.pair {
            (choice(form, "kind", "Kind", "", &kinds))
            (text(form, "fibre", "Fibre", "", "text"))
        }
        div.pair {
            (length_input(form, "usable_width", "Usable width", "Between the selvages, washed."))
            (length_input(form, "owned", "Length owned", "In one piece, full width; empty for none."))
        }
        (care_fields::fields(form))
    }
}

/// The rows that hold something and `empty` ones after them, with notes or without.
pub fn remnants_card(form: &Shown, empty: usize, noted: bool) -> Markup {
    card(
        "remnants",
        "Remnants of it",
        html! {
            p.hint { "Leftover rectangles with straight edges, washed, used before the length: across is from selvage to selvage. Clear a row to take it out." }
            (remnant_rows(form, empty, noted))
        },
    )
}

/// The rows alone, for wherever rectangles of cloth are typed.
pub fn remnant_rows(form: &Shown, empty: usize, noted: bool) -> Markup {
    let last = (0..limits::REMNANTS).rev().find(|i| holds(&form.typed, *i));
    let rows = (last.map_or(0, |i| i + 1) + empty).min(limits::REMNANTS);
    html! {
        @for i in 0..rows {
            fieldset.remnant data-row {
                legend.quiet { "Remnant " (i + 1) }
                div.trio.with-note[noted] {
                    (length_input(form, &format!("rem_width_{i}"), "Across", ""))
                    (length_input(form, &format!("rem_length_{i}"), "Along grain", ""))
                    (number(form, &format!("rem_count_{i}"), "Count", ""))
                    @if noted { (text(form, &format!("rem_note_{i}"), "Note", "", "text")) }
                }
            }
        }
        button.button.quiet type="button" hidden data-add-row { "Another remnant" }
    }
}

pub fn buying_card(form: &Shown, heading: &str, price: &str) -> Markup {
    let per = [
        (word(&Per::Yard), "a yard".to_string()),
        (word(&Per::Metre), "a metre".to_string()),
    ];
    card(
        "buying",
        heading,
        html! {
            div.pair {
                (money(form, "price", price, ""))
                (choice(form, "price_per", "For", "", &per))
            }
            (text(form, "shrinkage", "Shrinks in the first wash, %", "Of what is still to be bought. Unwashed cotton: 3 to 5 %. Wash and measure a square to be sure.", "text"))
            (text(form, "link", "Link", "", "url"))
        },
    )
}
