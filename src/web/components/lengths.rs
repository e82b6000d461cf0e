//! Lengths on a page: both systems side by side, the plan's own first.

use crate::figures::Size;
use crate::measure::{Length, Round, Unit};
use maud::{Markup, html};

fn pair(lead: Unit, inches: &str, metric: &str) -> Markup {
    let (first, second) = match lead {
        Unit::Inch => (inches, metric),
        Unit::Cm => (metric, inches),
    };
    html! { span.len { span.lead { (first) } " " span.alt { (second) } } }
}

/// A measure, to the nearest printed step.
pub fn length(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.inches(Round::Nearest), &x.cm(Round::Nearest))
}

/// What is cut or must be there: never printed short.
pub fn length_up(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.inches(Round::Up), &x.cm(Round::Up))
}

/// What a step yields: never printed long.
pub fn length_down(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.inches(Round::Down), &x.cm(Round::Down))
}

/// Cloth by the yard and metre, printed up.
pub fn cloth_length(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.yards(Round::Up), &x.metres(Round::Up))
}

/// Cloth at hand by the yard and metre: never printed long.
pub fn cloth_length_down(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.yards(Round::Down), &x.metres(Round::Down))
}

fn sized(s: Size, lead: Unit, round: Round) -> Markup {
    let inches = format!(
        "{} × {}",
        s.width.inches(round).trim_end_matches(" in"),
        s.height.inches(round)
    );
    let metric = format!("{} × {}", s.width.cm(round).trim_end_matches(" cm"), s.height.cm(round));
    pair(lead, &inches, &metric)
}

/// Width × height, rounded as said.
pub fn size(s: Size, lead: Unit, round: Round) -> Markup {
    sized(s, lead, round)
}

pub fn size_up(s: Size, lead: Unit) -> Markup {
    sized(s, lead, Round::Up)
}

fn cut_pair(x: Length) -> (String, String) {
    (x.cut_one(Unit::Inch), x.cut_one(Unit::Cm))
}

/// A length that is cut: on the marks of a ruler, never printed short.
pub fn length_cut(x: Length, lead: Unit) -> Markup {
    let (inches, metric) = cut_pair(x);
    pair(lead, &inches, &metric)
}

/// Width × height that is cut.
pub fn size_cut(s: Size, lead: Unit) -> Markup {
    let ((wi, wm), (hi, hm)) = (cut_pair(s.width), cut_pair(s.height));
    let inches = format!("{} × {hi}", wi.trim_end_matches(" in"));
    let metric = format!("{} × {hm}", wm.trim_end_matches(" cm"));
    pair(lead, &inches, &metric)
}
