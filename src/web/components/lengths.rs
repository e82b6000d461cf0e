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

/// How much a measure is more or less than another, always with its sign.
pub fn length_change(by: Length, lead: Unit) -> Markup {
    let sign = match by {
        by if by.is_positive() => "+",
        by if by.is_negative() => "−",
        _ => "",
    };
    let signed = |text: String| format!("{sign}{text}");
    let by = by.abs();
    pair(lead, &signed(by.inches(Round::Nearest)), &signed(by.cm(Round::Nearest)))
}

/// What is cut or must be there: never printed short.
pub fn length_up(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.inches(Round::Up), &x.cm(Round::Up))
}

/// What a step yields: never printed long.
pub fn length_down(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.inches(Round::Down), &x.cm(Round::Down))
}

/// A place that is measured off, on the marks of a tape: to 1/16 in and 0.1 cm.
pub fn length_sixteenths(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.sixteenths(Round::Nearest), &x.cm(Round::Nearest))
}

/// Cloth by the yard and metre, printed up.
pub fn cloth_length(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.yards(Round::Up), &x.metres(Round::Up))
}

/// Cloth at hand by the yard and metre: never printed long.
pub fn cloth_length_down(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.yards(Round::Down), &x.metres(Round::Down))
}

/// Width × height, rounded as said.
pub fn size(s: Size, lead: Unit, round: Round) -> Markup {
    pair(lead, &s.one(Unit::Inch, round), &s.one(Unit::Cm, round))
}

pub fn size_up(s: Size, lead: Unit) -> Markup {
    size(s, lead, Round::Up)
}

/// A length that is cut: on the marks of a ruler, never printed short.
pub fn length_cut(x: Length, lead: Unit) -> Markup {
    pair(lead, &x.cut_one(Unit::Inch), &x.cut_one(Unit::Cm))
}

/// Width × height that is cut.
pub fn size_cut(s: Size, lead: Unit) -> Markup {
    pair(lead, &s.cut_one(Unit::Inch), &s.cut_one(Unit::Cm))
}
