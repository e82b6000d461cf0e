//! Words that pages, texts and paper share.

use super::document::Block;
use crate::figures::{Figures, Purpose, Shape};
use crate::measure::{Length, Round, Unit};
use crate::plan::{Along, BindingCut, ChangeOf};
use maud::{Markup, html};

/// What stands before everything else on a sheet: what of the plan cannot be
/// worked out, and so is not on it.
pub fn missing(figures: &Figures) -> Vec<Block> {
    if figures.problems.is_empty() {
        return Vec::new();
    }
    let said = figures
        .problems
        .iter()
        .map(|p| format!("Not on this sheet yet: {}", p.message));
    vec![Block::Cautions(said.collect())]
}

/// The words of a text, with those that stay on one line together: `3 1/2 in`
/// broken after the 3 is read as half an inch.
pub fn kept_together(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').collect();
    let mut groups = Vec::new();
    let mut rest = words.as_slice();
    while !rest.is_empty() {
        let numbers = rest.iter().take(2).take_while(|w| is_number(w)).count();
        // Two numbers are one only where the second is a fraction.
        let numbers = match numbers {
            2 if !rest[1].contains('/') => 1,
            n => n,
        };
        let unit = numbers > 0 && rest.get(numbers).is_some_and(|w| is_unit(w));
        let (group, after) = rest.split_at((numbers + usize::from(unit)).max(1));
        groups.push(group.join(" "));
        rest = after;
    }
    groups
}

/// A sentence whose lengths stay on one line each.
pub fn sentence(text: &str) -> Markup {
    html! {
        @for (i, group) in kept_together(text).iter().enumerate() {
            @if i > 0 { " " }
            @if group.contains(' ') { span.whole { (group) } } @else { (group) }
        }
    }
}

fn is_number(word: &str) -> bool {
    let digits = word.trim_start_matches(['(', '+', '−', '-']);
    digits.starts_with(|c: char| c.is_ascii_digit())
        && digits
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '/'))
        && !digits.ends_with(['.', ','])
}

fn is_unit(word: &str) -> bool {
    let letters = word.trim_end_matches(|c: char| !c.is_alphanumeric());
    ["in", "cm", "mm", "m", "yd"].contains(&letters)
}

/// What was changed of an outline: "+1 in (2.5 cm) at a line 2 in (5.1 cm) below the top".
pub fn outline_change_words(change: &ChangeOf, unit: Unit) -> String {
    let show = |l: Length| l.abs().both(unit, Round::Nearest);
    let signed = |l: Length| format!("{}{}", if l.is_negative() { "−" } else { "+" }, show(l));
    match change {
        ChangeOf::Lengthen(l) => {
            let from = match l.along {
                Along::Height => "below the top",
                Along::Width => "from the left",
            };
            format!("{} at a line {} {from}", signed(l.by), show(l.at))
        }
        ChangeOf::AddToEdge(a) => format!("{} at the edge “{}”", signed(a.by), a.edge),
        ChangeOf::RoundCorner(r) => format!("corner at the end of “{}” rounded, radius {}", r.edge, show(r.radius)),
    }
}

/// Cut from its strip at 60 degrees, by its height alone.
pub fn at_sixty(purpose: &Purpose) -> bool {
    matches!(
        purpose,
        Purpose::Patch {
            shape: Shape::Triangle60 | Shape::Diamond60,
            ..
        }
    )
}

/// What a line of a cut list is for.
pub fn purpose_words(p: &Purpose) -> String {
    match p {
        Purpose::Patch { shape, unit } => match shape {
            Shape::HalfSquareTriangle => format!("squares, cut once corner to corner, for {unit}"),
            Shape::QuarterSquareTriangle => format!("squares, cut twice corner to corner, for {unit}"),
            Shape::Square => format!("squares for {unit}"),
            Shape::FourHalfSquares => format!("squares sewn all round in pairs, for four {unit} each"),
            Shape::EightHalfSquares => format!("squares sewn along both diagonals in pairs, for eight {unit} each"),
            Shape::GeeseLarge => format!("large squares, sewn to four small ones before they are cut, for {unit}"),
            Shape::GeeseSmall => format!("small squares, four to a large one, for {unit}"),
            Shape::Triangle60 => format!("equilateral triangles for {unit}"),
            Shape::Diamond60 => format!("diamonds for {unit}"),
            Shape::Hexagon => format!("hexagons for {unit}"),
            Shape::Rectangle => format!("rectangles for {unit}"),
        },
        Purpose::Sashing => "sashing strips".into(),
        Purpose::Border => "border strips".into(),
        Purpose::PlainPanel => "plain panel".into(),
        Purpose::Backing => "backing".into(),
        Purpose::Batting => "batting".into(),
        Purpose::StraightBinding => "binding strips".into(),
        Purpose::BiasRectangle => "rectangle for bias strips".into(),
        Purpose::ContinuousSquare => "square for continuous bias".into(),
    }
}

/// Patches of a shape, many of them.
pub fn shape_words(shape: Shape) -> &'static str {
    match shape {
        Shape::Square => "squares",
        Shape::Rectangle => "rectangles",
        Shape::HalfSquareTriangle => "half-square triangles",
        Shape::QuarterSquareTriangle => "quarter-square triangles",
        Shape::FourHalfSquares | Shape::EightHalfSquares => "half-square triangles",
        Shape::GeeseLarge => "geese",
        Shape::GeeseSmall => "triangles of sky",
        Shape::Triangle60 => "equilateral triangles",
        Shape::Diamond60 => "diamonds",
        Shape::Hexagon => "hexagons",
    }
}

/// A, B, ... Z, AA: the letter of a cloth in drawings and lists, by its place in the plan.
pub fn letter(index: usize) -> String {
    let one = |n: usize| char::from(b'A' + (n % 26) as u8);
    if index < 26 {
        one(index).to_string()
    } else {
        format!("{}{}", one(index / 26 - 1), one(index))
    }
}

/// How a binding is cut.
pub fn way_name(cut: BindingCut) -> &'static str {
    match cut {
        BindingCut::Straight => "Straight-grain strips",
        BindingCut::BiasStrips => "Bias strips",
        BindingCut::Continuous => "Continuous bias",
    }
}

/// A length of cloth, never told too short.
pub fn long(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => length.yards(Round::Up),
        Unit::Cm => length.metres(Round::Up),
    }
}

/// A width at hand, never told too wide.
pub fn wide(width: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => width.inches(Round::Down),
        Unit::Cm => width.cm(Round::Down),
    }
}

/// The plan's own unit, and the other in brackets.
pub fn in_both(lead: Unit, of: impl Fn(Unit) -> String) -> (String, String) {
    let other = match lead {
        Unit::Inch => Unit::Cm,
        Unit::Cm => Unit::Inch,
    };
    (of(lead), format!("({})", of(other)))
}

#[cfg(test)]
mod tests {
    use super::sentence;

    #[test]
    fn a_length_is_not_broken_and_no_word_is_lost() {
        for (text, shown) in [
            (
                "trim to 3 1/2 in (8.9 cm).",
                r#"trim to <span class="whole">3 1/2 in</span> <span class="whole">(8.9 cm).</span>"#,
            ),
            (
                "cut 2 12 1/2 in strips",
                r#"cut 2 <span class="whole">12 1/2 in</span> strips"#,
            ),
            ("4, 24 & <b>", "4, 24 &amp; &lt;b&gt;"),
            ("subcut 2", "subcut 2"),
            ("", ""),
        ] {
            assert_eq!(sentence(text).into_string(), shown);
        }
    }
}
