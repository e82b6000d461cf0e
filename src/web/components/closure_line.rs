//! A row of closures drawn on its line, upper end above: each where it sits,
//! with its measure from the upper end, and bust level.

use crate::figures::ClosureFigures;
use crate::measure::{Length, Round, Unit};
use maud::{Markup, html};

const WIDTH: i64 = 320;
/// Where the line runs, and the room above and below it.
const LINE_X: i64 = 96;
const EDGE: i64 = 22;
/// Two labels closer than this would run into each other.
const LEAST: i64 = 24;
const HIGHEST: i64 = 900;

pub fn closure_line(c: &ClosureFigures, size: Length, unit: Unit) -> Markup {
    if c.positions.is_empty() || !c.line.is_positive() {
        return html! {};
    }
    let narrowest = c.gaps.iter().copied().filter(|g| g.is_positive()).min();
    // Long enough for the labels of the narrowest gap.
    let wished = narrowest.map_or(0, |gap| (LEAST + 2) * c.line.units() / gap.units().max(1));
    let height = wished.clamp(180, HIGHEST);
    let at = |x: Length| EDGE + (i128::from(height) * i128::from(x.units()) / i128::from(c.line.units())) as i64;
    let gap = narrowest.map_or(height, |gap| at(gap) - EDGE);
    let every = (LEAST + gap.max(1) - 1) / gap.max(1);
    let r = (height * (size.units() / 2) / c.line.units()).clamp(5, (gap / 2).clamp(5, 12));
    let last = c.positions.len() as i64 - 1;
    let mark = c
        .bust_level
        .and_then(|b| c.positions.iter().position(|x| *x == b))
        .map(|n| n as i64);
    // Those at the ends and at bust level, and of the others as many as leave each other room.
    let near = |n: i64, other: i64| n != other && (n - other).abs() < every;
    let labelled = |n: i64| {
        let chief = n == 0 || n == last || mark == Some(n);
        chief || (n % every == 0 && !near(n, last) && !mark.is_some_and(|m| near(n, m)))
    };
    html! {
        svg.closure-line viewBox=(format!("0 0 {WIDTH} {}", height + 2 * EDGE)) role="img"
            aria-label=(format!("{}: {} on a line of {}", c.name, c.count, c.line.both(unit, Round::Nearest))) {
            path.garment d=(format!("M{LINE_X} {EDGE}v{height}")) {}
            @for end in [EDGE, EDGE + height] { path.end d=(format!("M{} {end}h24", LINE_X - 12)) {} }
            text.small x=(LINE_X - 20) y=(EDGE) text-anchor="end" dominant-baseline="central" { "upper end" }
            text.small x=(LINE_X - 20) y=(EDGE + height) text-anchor="end" dominant-baseline="central" { "lower end" }
            @if let Some(mark) = c.bust_level {
                path.bust d=(format!("M{} {}H{}", LINE_X - 84, at(mark), LINE_X + 16)) {}
                text.small x=(LINE_X - 86) y=(at(mark) - 8) { "bust level" }
            }
            @for (n, x) in c.positions.iter().enumerate() {
                circle.closure cx=(LINE_X) cy=(at(*x)) r=(r) {}
                @if labelled(n as i64) {
                    text x=(LINE_X + 24) y=(at(*x)) dominant-baseline="central" {
                        (x.both_sixteenths(unit, Round::Nearest))
                    }
                }
            }
        }
    }
}
