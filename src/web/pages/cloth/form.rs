//! The fields of a cloth of the shelf: shown, filled, read.

use super::swatch as swatch_page;
use crate::measure::Unit;
use crate::notebook::{Id, PhotoHash, Settings, StockCloth};
use crate::web::components::{card, colour_input, hidden, photo, photo_input, swatch, switch, text_area};
use crate::web::form::{Errors, Reader, Shown, Typed};
use crate::web::pages::photos::hash;
use crate::web::pages::ready_cut_fields::ready_cut_card;
use crate::web::pages::{cloth_fields, outline_fields};
use maud::{Markup, html};

pub fn filled(c: &StockCloth, unit: Unit) -> Typed {
    let mut typed = cloth_fields::filled(&c.for_plan(String::new()), unit);
    typed.set("seen", c.version.to_string());
    typed.set("note", &c.note);
    if let Some(photo) = &c.photo {
        typed.set("kept_photo", &photo.0);
    }
    for (i, r) in c.remnants.iter().enumerate() {
        typed.set(&format!("rem_note_{i}"), &r.note);
    }
    let outlined = c.outlined.iter().map(|o| (&o.outline, o.count, o.note.as_str()));
    outline_fields::fill(&mut typed, outlined, unit);
    typed
}

/// `before` is the cloth as it stands: a swatch stays with the photo it was marked on.
pub fn read(typed: &Typed, unit: Unit, id: Id, before: Option<&StockCloth>) -> (StockCloth, Errors) {
    let mut r = Reader::new(typed, unit);
    let (cloth, notes) = cloth_fields::read(&mut r, String::new(), None, None);
    let mut cloth = StockCloth::of_plan(id, &cloth);
    for (remnant, note) in cloth.remnants.iter_mut().zip(notes.remnants) {
        remnant.note = note;
    }
    for (remnant, note) in cloth.outlined.iter_mut().zip(notes.outlined) {
        remnant.note = note;
    }
    cloth.note = r.text("note");
    cloth.photo = kept_photo(typed);
    cloth.swatch = before
        .filter(|b| cloth.photo.is_some() && b.photo == cloth.photo)
        .and_then(|b| b.swatch.clone());
    if cloth.shrinkage.as_hundredths() >= 5_000 {
        r.errors.add(
            "shrinkage",
            "A cloth that loses half its length or more cannot be planned with. Type a number below 50.",
        );
    }
    (cloth, r.errors)
}

fn kept_photo(typed: &Typed) -> Option<PhotoHash> {
    // The one that was seen: another put there meanwhile stays.
    hash(typed.get("kept_photo")).filter(|kept| typed.get("drop_photo") != kept.0)
}

pub fn fields(form: &Shown, settings: &Settings, known: Option<&StockCloth>) -> Markup {
    let bare = match settings.unit {
        Unit::Inch => "A bare number is inches; yards are written 1 1/4 yd.",
        Unit::Cm => "A bare number is centimetres; metres are written 1.2 m.",
    };
    html! {
        (card("cloth", "The cloth", html! {
            (cloth_fields::what(form))
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
                            @if let Some(known) = known.filter(|k| k.photo.as_ref() == Some(&hash)) { (marked(known)) }
                            label.pick { input type="checkbox" name="drop_photo" value=(hash.0) checked[form.typed.get("drop_photo") == hash.0]; span { "Take this photo out" } }
                        }
                    }
                    (photo_input(form, "photo", "Photo", "Straight from above, in daylight: it becomes the swatch.", false))
                }
            }
        }))
        (cloth_fields::remnants_card(form, 1, true))
        (outline_fields::outlined_card(form, true))
        (ready_cut_card(form, 1))
        (cloth_fields::buying_card(form, "Buying more", &format!("Price, {}", settings.currency)))
        (card("notes", "Note", html! { (text_area(form, "note", "Anything to remember", "Where it came from, how it was washed.", 3)) }))
    }
}

/// The marked part of the photo with its colours, and the way to mark it.
fn marked(known: &StockCloth) -> Markup {
    html! {
        div.swatch-marked {
            @if let Some(of) = &known.swatch {
                div.marked-swatch { (swatch(&known.colour, None, known.picture().as_ref())) (swatch_page::seen(of)) }
            }
            a.button href=(format!("/cloth/{}/swatch", known.id)) {
                @if known.swatch.is_some() { "Mark another part" } @else { "Mark the swatch" }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    fn typed() -> Typed {
        let mut typed = cloth_fields::fresh();
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
        sent.set("ready_shape_0", "rectangle");
        sent.set("ready_width_0", "4 1/2");
        sent.set("ready_height_0", "12 cm");
        sent.set("ready_count_0", "30");
        sent.set("ready_shape_2", "hexagon");
        sent.set("ready_width_2", "2 1/4 in");
        sent.set("ready_count_2", "7");
        let id = Id::now_v7();
        let (cloth, errors) = read(&sent, Unit::Inch, id, None);
        assert_eq!(errors, Errors::default());
        assert_eq!(cloth.owned, INCH * 45);
        assert_eq!(cloth.remnants.len(), 2);
        assert_eq!(cloth.remnants[1].count, 6);
        assert_eq!(cloth.ready_cut.len(), 2);
        assert_eq!(cloth.ready_cut[1].count, 7);
        for unit in [Unit::Inch, Unit::Cm] {
            let mut again = filled(&cloth, unit);
            again.add("price_per", "yd");
            let (read_back, errors) = read(&again, unit, id, None);
            assert_eq!((read_back, errors), (cloth.clone(), Errors::default()));
        }
    }

    #[test]
    fn a_row_half_filled_is_refused_beside_its_field() {
        let mut sent = typed();
        sent.set("rem_width_1", "10");
        sent.set("rem_note_2", "from the hem");
        let (_, errors) = read(&sent, Unit::Inch, Id::now_v7(), None);
        let fields: Vec<&str> = errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["rem_length_1", "rem_width_2", "rem_length_2"]);
        let mut sent = typed();
        sent.set("ready_shape_0", "rectangle");
        sent.set("ready_width_0", "10");
        sent.set("ready_shape_1", "hexagon");
        sent.set("ready_width_1", "10");
        sent.set("ready_height_1", "10");
        sent.set("ready_count_1", "10");
        let (_, errors) = read(&sent, Unit::Inch, Id::now_v7(), None);
        let fields: Vec<&str> = errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["ready_count_0", "ready_height_0", "ready_height_1"]);
    }
}
