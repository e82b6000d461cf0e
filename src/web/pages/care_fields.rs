//! The fields of a material's care, in the order of ISO 3758: said or not said.

use crate::figures::care::words;
use crate::plan::Care;
use crate::web::components::{choice, switch};
use crate::web::form::{Reader, Shown, Typed, word};
use maud::{Markup, html};

const SAID: &str = "care_said";

pub fn fill(typed: &mut Typed, care: Option<&Care>) {
    typed.set(SAID, if care.is_some() { "yes" } else { "no" });
    let care = care.cloned().unwrap_or_default();
    typed.set("care_washing", word(&care.washing));
    typed.set("care_bleaching", word(&care.bleaching));
    typed.set("care_tumble", word(&care.tumble_drying));
    typed.set("care_natural", word(&care.natural_drying));
    if care.in_the_shade {
        typed.set("care_shade", "yes");
    }
    typed.set("care_ironing", word(&care.ironing));
    typed.set("care_dry", word(&care.dry_cleaning));
}

/// What the form says; a form without these fields says nothing new of `before`.
pub fn read(r: &mut Reader, before: Option<&Care>) -> Option<Care> {
    match r.typed.get(SAID) {
        "yes" => Some(Care {
            washing: r.choice("care_washing"),
            bleaching: r.choice("care_bleaching"),
            tumble_drying: r.choice("care_tumble"),
            natural_drying: r.choice("care_natural"),
            in_the_shade: r.typed.ticked("care_shade"),
            ironing: r.choice("care_ironing"),
            dry_cleaning: r.choice("care_dry"),
        }),
        "no" => None,
        _ => before.cloned(),
    }
}

fn options<T: serde::Serialize>(list: &[(T, &str)]) -> Vec<(String, String)> {
    list.iter()
        .map(|(value, words)| (word(value), words.to_string()))
        .collect()
}

/// Folded until something is said.
pub fn fields(form: &Shown) -> Markup {
    let said = [
        ("no".to_string(), "not said".to_string()),
        ("yes".to_string(), "as chosen here".to_string()),
    ];
    let wrong = form.errors.0.iter().any(|(field, _)| field.starts_with("care_"));
    html! {
        details.care open[form.typed.get(SAID) == "yes" || wrong] {
            summary { "Care, as its label says" }
            p.hint { "For the care of the whole: the mildest of all its materials. Not on a label? Ask the seller, or wash a sample." }
            (choice(form, SAID, "Care", "", &said))
            (choice(form, "care_washing", "Washing", "", &options(&words::WASHING)))
            (choice(form, "care_bleaching", "Bleaching", "", &options(&words::BLEACHING)))
            (choice(form, "care_tumble", "Tumble drying", "", &options(&words::TUMBLE)))
            (choice(form, "care_natural", "Natural drying", "", &options(&words::NATURAL)))
            (switch(form, "care_shade", "In the shade", "Colours that the sun takes."))
            (choice(form, "care_ironing", "Ironing", "", &options(&words::IRONING)))
            (choice(form, "care_dry", "Professional care", "", &options(&words::DRY_CLEANING)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;
    use crate::plan::{Ironing, Washing};

    #[test]
    fn what_is_said_reads_back() {
        let care = Care {
            washing: Washing::C30VeryMild,
            ironing: Ironing::DoNotIron,
            in_the_shade: true,
            ..Care::default()
        };
        for one in [Some(&care), None] {
            let mut typed = Typed::default();
            fill(&mut typed, one);
            let mut r = Reader::new(&typed, Unit::Inch);
            assert_eq!(read(&mut r, None).as_ref(), one);
            assert!(r.errors.is_empty());
        }
        let none = Typed::default();
        let mut r = Reader::new(&none, Unit::Inch);
        assert_eq!(read(&mut r, Some(&care)), Some(care));
    }
}
