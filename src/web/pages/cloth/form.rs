//! The fields of a cloth of the shelf: shown, filled, read.

use crate::measure::{Length, Unit};
use crate::notebook::{Id, PhotoHash, Settings, StockCloth, StockRemnant};
use crate::plan::{ClothKind, Per, Price, limits};
use crate::web::components::{
    card, choice, colour_input, hidden, length_input, money, number, photo, photo_input, switch, text, text_area,
};
use crate::web::form::{Errors, LINE, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::pages::photos::hash;
use maud::{Markup, html};

pub fn fresh() -> Typed {
    let mut typed = Typed::default();
    typed.set("kind", word(&ClothKind::Cloth));
    typed.set("colour", "#8fa3b8");
    typed
}

pub fn filled(c: &StockCloth, unit: Unit) -> Typed {
    let length = |x: Length| length_text(x, unit);
    let mut typed = fresh();
    typed.set("seen", c.version.to_string());
    typed.set("name", &c.name);
    typed.set("kind", word(&c.kind));
    typed.set("fibre", &c.fibre);
    typed.set("usable_width", length(c.usable_width));
    typed.set(
        "owned",
        if c.owned == Length::ZERO {
            String::new()
        } else {
            length(c.owned)
        },
    );
    typed.set("colour", &c.colour);
    typed.set("link", &c.link);
    typed.set("note", &c.note);
    typed.set("shrinkage", c.shrinkage.to_string().trim_end_matches(" %"));
    if c.one_way {
        typed.set("one_way", "yes");
    }
    if let Some(price) = &c.price {
        typed.set("price", price.amount.to_string());
        typed.set("price_per", word(&price.per));
    }
    if let Some(photo) = &c.photo {
        typed.set("kept_photo", &photo.0);
    }
    for (i, r) in c.remnants.iter().enumerate() {
        typed.set(&format!("rem_width_{i}"), length(r.width));
        typed.set(&format!("rem_length_{i}"), length(r.length));
        typed.set(&format!("rem_count_{i}"), r.count.to_string());
        typed.set(&format!("rem_note_{i}"), &r.note);
    }
    typed
}

pub fn read(typed: &Typed, unit: Unit, id: Id) -> (StockCloth, Errors) {
    let mut r = Reader::new(typed, unit);
    let amount = r.money("price");
    let per: Per = r.choice("price_per");
    let cloth = StockCloth {
        id,
        name: r.required("name", NAME, "Give the cloth a name."),
        kind: r.choice("kind"),
        fibre: r.line("fibre", LINE),
        usable_width: r.length_positive("usable_width"),
        owned: r.length_or_zero("owned"),
        price: amount.map(|amount| Price { amount, per }),
        colour: r.line("colour", 7),
        link: r.link("link"),
        one_way: typed.ticked("one_way"),
        shrinkage: r.percent_or_zero("shrinkage"),
        note: r.text("note"),
        photo: kept_photo(typed),
        remnants: remnants(&mut r),
        version: 1,
    };
    if cloth.shrinkage.as_hundredths() >= 5_000 {
        r.errors.add(
            "shrinkage",
            "A cloth that loses half its length or more cannot be planned with. Type a number below 50.",
        );
    }
    (cloth, r.errors)
}

fn kept_photo(typed: &Typed) -> Option<PhotoHash> {
    if typed.ticked("drop_photo") {
        return None;
    }
    hash(typed.get("kept_photo"))
}

const REMNANT: [&str; 4] = ["width", "length", "count", "note"];

fn remnants(r: &mut Reader) -> Vec<StockRemnant> {
    let mut list = Vec::new();
    for i in 0..limits::REMNANTS {
        let [width, length, count, note] = REMNANT.map(|f| format!("rem_{f}_{i}"));
        let empty = |field: &str| r.typed.get(field).trim().is_empty();
        if empty(&width) && empty(&length) && empty(&note) {
            continue;
        }
        let number = if empty(&count) {
            1
        } else {
            r.count(&count, 1..=limits::REMNANT_COUNT)
        };
        list.push(StockRemnant {
            width: r.length_positive(&width),
            length: r.length_positive(&length),
            count: number,
            note: r.line(&note, LINE),
        });
    }
    list
}

/// The rows that hold something, and two empty ones after them.
fn remnant_rows(typed: &Typed) -> usize {
    let holds = |i: &usize| {
        REMNANT
            .iter()
            .any(|f| *f != "count" && !typed.get(&format!("rem_{f}_{i}")).trim().is_empty())
    };
    let last = (0..limits::REMNANTS).rev().find(holds);
    (last.map_or(0, |i| i + 1) + 2).min(limits::REMNANTS)
}

pub fn fields(form: &Shown, settings: &Settings) -> Markup {
    let kinds = [
        (word(&ClothKind::Cloth), "cloth".to_string()),
        (word(&ClothKind::Batting), "batting".to_string()),
    ];
    let per = [
        (word(&Per::Yard), "a yard".to_string()),
        (word(&Per::Metre), "a metre".to_string()),
    ];
    let bare = match settings.unit {
        Unit::Inch => "A bare number is inches; yards are written 1 1/4 yd.",
        Unit::Cm => "A bare number is centimetres; metres are written 1.2 m.",
    };
    html! {
        (card("cloth", "The cloth", html! {
            (text(form, "name", "Name", "So that you know it again: “oat linen”, “rust gingham”.", "text"))
            div.pair {
                (choice(form, "kind", "Kind", "", &kinds))
                (text(form, "fibre", "Fibre", "", "text"))
            }
            div.pair {
                (length_input(form, "usable_width", "Usable width", "Between the selvages, washed."))
                (length_input(form, "owned", "Length owned", "In one piece, full width; empty for none."))
            }
            p.hint { (bare) }
            (switch(form, "one_way", "One-way print or nap", "Nothing is turned on it when it is laid out."))
        }))
        (card("look", "How it looks", html! {
            div.two {
                (colour_input(form, "colour", "Colour", "For drawings, and where there is no photo."))
                div {
                    @if let Some(hash) = hash(form.typed.get("kept_photo")) {
                        div.kept-photo {
                            (photo(&hash, &format!("Photo of {}", form.typed.get("name"))))
                            (hidden("kept_photo", &hash.0))
                            label.pick { input type="checkbox" name="drop_photo" value="yes" checked[form.typed.ticked("drop_photo")]; span { "Take this photo out" } }
                        }
                    }
                    (photo_input(form, "photo", "Photo", "Straight from above, in daylight: it becomes the swatch.", false))
                }
            }
        }))
        (card("remnants", "Remnants of it", html! {
            p.hint { "Leftover rectangles with straight edges, washed, used before the length: across is from selvage to selvage. Clear a row to take it out." }
            @for i in 0..remnant_rows(&form.typed) { (remnant_row(form, i)) }
            button.button.quiet type="button" hidden data-add-row { "Another remnant" }
        }))
        (card("buying", "Buying more", html! {
            div.pair {
                (money(form, "price", &format!("Price, {}", settings.currency), ""))
                (choice(form, "price_per", "For", "", &per))
            }
            (text(form, "shrinkage", "Shrinks in the first wash, %", "Of what is still to be bought. Unwashed cotton: 3 to 5 %. Wash and measure a square to be sure.", "text"))
            (text(form, "link", "Link", "", "url"))
        }))
        (card("notes", "Note", html! { (text_area(form, "note", "Anything to remember", "Where it came from, how it was washed.", 3)) }))
    }
}

fn remnant_row(form: &Shown, i: usize) -> Markup {
    html! {
        fieldset.remnant data-row {
            legend.quiet { "Remnant " (i + 1) }
            div.trio.with-note {
                (length_input(form, &format!("rem_width_{i}"), "Across", ""))
                (length_input(form, &format!("rem_length_{i}"), "Along grain", ""))
                (number(form, &format!("rem_count_{i}"), "Count", ""))
                (text(form, &format!("rem_note_{i}"), "Note", "", "text"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    fn typed() -> Typed {
        let mut typed = fresh();
        typed.set("price_per", "yd");
        typed.set("name", "Moss corduroy");
        typed.set("usable_width", "54 in");
        typed
    }

    #[test]
    fn a_filled_form_reads_back() {
        let mut sent = typed();
        sent.set("owned", "1 1/4 yd");
        sent.set("price", "12.5");
        sent.set("kept_photo", "ab".repeat(32));
        sent.set("rem_width_0", "10");
        sent.set("rem_length_0", "27 cm");
        sent.set("rem_note_3", "oddly cut");
        sent.set("rem_width_3", "4");
        sent.set("rem_length_3", "5");
        sent.set("rem_count_3", "6");
        let id = Id::now_v7();
        let (cloth, errors) = read(&sent, Unit::Inch, id);
        assert_eq!(errors, Errors::default());
        assert_eq!(cloth.owned, INCH * 45);
        assert_eq!(cloth.remnants.len(), 2);
        assert_eq!(cloth.remnants[1].count, 6);
        for unit in [Unit::Inch, Unit::Cm] {
            let mut again = filled(&cloth, unit);
            again.add("price_per", "yd");
            let (read_back, errors) = read(&again, unit, id);
            assert_eq!((read_back, errors), (cloth.clone(), Errors::default()));
        }
    }

    #[test]
    fn a_row_half_filled_is_refused_beside_its_field() {
        let mut sent = typed();
        sent.set("rem_width_1", "10");
        sent.set("rem_note_2", "from the hem");
        let (_, errors) = read(&sent, Unit::Inch, Id::now_v7());
        let fields: Vec<&str> = errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["rem_length_1", "rem_width_2", "rem_length_2"]);
    }
}
