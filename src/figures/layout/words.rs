//! The order of cuts in words, sheet by sheet.

use super::draw::Drawn;
use super::parts::{Part, What};
use super::stock::{Sheets, Source};
use super::{Block, Pattern};
use crate::figures::{CutLine, Purpose, Shape, Size};
use crate::measure::{Length, Unit};

/// `12 in` without its unit, for `12 × 20 in`.
pub(super) fn bare(text: String) -> String {
    text.rsplit_once(' ')
        .map_or(text.clone(), |(number, _)| number.to_string())
}

/// What a number of rectangles of a line are called: "27 squares 4 1/2 in".
fn named(line: &CutLine, size: Size, count: i64, unit: Unit) -> String {
    let plural = |one: &str, many: &str| if count == 1 { one.to_string() } else { many.to_string() };
    let what = match &line.purpose {
        Purpose::Patch { shape, .. } if matches!(shape, Shape::Triangle60 | Shape::Diamond60) => {
            return format!("{count} {}", sixty(*shape, line.cut, count, unit));
        }
        Purpose::Patch {
            shape: Shape::Hexagon, ..
        } => plural("rectangle for a hexagon", "rectangles for hexagons"),
        Purpose::Patch { .. } | Purpose::ContinuousSquare if size.width == size.height => plural("square", "squares"),
        Purpose::Patch { .. } => plural("rectangle", "rectangles"),
        Purpose::Sashing => plural("sashing strip", "sashing strips"),
        Purpose::Border => plural("border strip", "border strips"),
        Purpose::PlainPanel => plural("panel", "panels"),
        Purpose::Backing => plural("backing length", "backing lengths"),
        Purpose::Batting => plural("batting length", "batting lengths"),
        Purpose::StraightBinding => plural("binding strip", "binding strips"),
        Purpose::BiasRectangle => plural("rectangle for bias strips", "rectangles for bias strips"),
        Purpose::ContinuousSquare => plural("rectangle for continuous binding", "rectangles for continuous binding"),
    };
    let measure = if size.width == size.height {
        size.width.cut_one(unit)
    } else {
        format!("{} × {}", bare(size.width.cut_one(unit)), size.height.cut_one(unit))
    };
    format!("{count} {what} {measure}")
}

/// Pieces cut from a strip at 60 degrees: their own measures, however they lie.
fn sixty(shape: Shape, cut: Size, count: i64, unit: Unit) -> String {
    let s = if count == 1 { "" } else { "s" };
    match shape {
        Shape::Triangle60 => format!("triangle{s} of {} a side", cut.width.cut_one(unit)),
        // From edge to edge, as the strip is high: so they are measured with a ruler.
        _ => format!("diamond{s} of {} from side to side", cut.height.cut_one(unit)),
    }
}

fn lying(block: &Block) -> Size {
    Size {
        width: Length::from_units(block.width),
        height: Length::from_units(block.height),
    }
}

/// Tells one sheet. For each run of its strips the step they are cut in, from 1.
pub(super) fn sheet(order: &mut Vec<String>, sheets: &Sheets, names: &[String], with: &Drawn) -> Vec<usize> {
    let unit = with.unit;
    let name = match names {
        [] => return Vec::new(),
        [one] => one.clone(),
        // "Remnant 20 x 15 in, 1 of 3" and the next: "..., 1 to 2 of 3".
        [first, .., last] => {
            let number = |name: &str| {
                let (_, copy) = name.rsplit_once(", ")?;
                Some(copy.split_once(" of ")?.0.to_string())
            };
            match (first.rsplit_once(" of "), number(last)) {
                (Some((first, of)), Some(last)) => format!("{first} to {last} of {of}, each"),
                _ => first.clone(),
            }
        }
    };
    let full = !matches!(sheets.source, Source::Remnant(_));
    if let Source::Remnant(at) = sheets.source
        && let Some(part) = with.remnants.part(at)
    {
        let both = |l: crate::measure::Length| l.both(unit, crate::measure::Round::Nearest);
        order.push(format!(
            "{name}: mark it, its nearest corner {} across and {} along from the corner of the rectangle round the outline, and cut it out.",
            both(part.rect.x),
            both(part.rect.y)
        ));
    }
    order.push(if with.straightening.is_positive() {
        format!(
            "{name}: straighten the cut edge; {} is allowed for it.",
            with.straightening.both(unit, crate::measure::Round::Nearest)
        )
    } else {
        format!("{name}:")
    });
    // Strips that differ only in how full they are are one line: 25 squares, 9 a strip.
    let mut groups: Vec<(&Pattern, i64, i64)> = Vec::new();
    let mut group_of: Vec<usize> = Vec::new();
    for (pattern, times) in &sheets.bolt.runs {
        let count = only(pattern).map_or(0, |block| block.across * times);
        match groups.last_mut() {
            Some((first, strips, sum)) if alike(first, pattern) => {
                *strips += times;
                *sum += count;
            }
            _ => groups.push((pattern, *times, count)),
        }
        group_of.push(groups.len() - 1);
    }
    if sheets.bolt.runs.iter().any(|(pattern, _)| pattern.parts.is_some()) {
        order.push(
            "Some strips are divided further than by subcuts, because less cloth is needed then. \
             Every cut runs from edge to edge of its part; mark the numbers of the parts on the cloth."
                .into(),
        );
    }
    let mut steps = Vec::new();
    for (pattern, times, count) in groups {
        steps.push(order.len() + 1);
        match &pattern.parts {
            Some(strip) => deep(order, strip, times, full, with),
            None => order.push(run(pattern, times, count, full, sheets.width, with)),
        }
    }
    group_of.into_iter().map(|group| steps[group]).collect()
}

/// What a part is told as, how many of it stand together, and the piece it is.
type Told<'a> = (String, i64, Option<(&'a CutLine, Size)>);

/// A strip with its cuts, part by part, each part before what it is cut into.
fn deep(order: &mut Vec<String>, strip: &Part, times: i64, full: bool, with: &Drawn) {
    let height = Length::from_units(strip.height);
    let across = if full { "the full width" } else { "the remnant" };
    let strips = if times == 1 { "strip" } else { "strips" };
    let begin = format!("Cut {times} {strips} {} across {across}; divide", height.cut(with.unit));
    let mut waiting = vec![(begin, strip)];
    while let Some((begin, part)) = waiting.pop() {
        let What::Cut { lengthwise, into } = &part.what else {
            continue;
        };
        // Equal neighbours are told together.
        let mut told: Vec<Told> = Vec::new();
        let mut next = Vec::new();
        for inner in into {
            let size = |width: i64, height: i64| Size {
                width: Length::from_units(width),
                height: Length::from_units(height),
            };
            let (side, word) = if *lengthwise {
                (inner.width, "wide")
            } else {
                (inner.height, "high")
            };
            let side = Length::from_units(side).cut_one(with.unit);
            let piece = inner.only_piece().and_then(|(line, width, height)| {
                let exact = (width, height) == (inner.width, inner.height);
                Some((with.lines.get(line)?, size(width, height), exact))
            });
            let text = match (&inner.what, piece) {
                (What::LeftOver, _) => format!("{side} left over"),
                (_, Some((line, size, true))) => named(line, size, 1, with.unit),
                (_, Some((line, size, false))) => {
                    format!("{side} to trim to {}", named(line, size, 1, with.unit))
                }
                _ => {
                    let number = inner.number.unwrap_or_default();
                    next.push((format!("Divide part {number}"), inner));
                    format!("part {number}, {side} {word}")
                }
            };
            let whole = piece.filter(|(.., exact)| *exact).map(|(line, size, _)| (line, size));
            match told.last_mut() {
                Some((last, times, _)) if *last == text => *times += 1,
                _ => told.push((text, 1, whole)),
            }
        }
        let into: Vec<String> = told
            .into_iter()
            .map(|(text, times, whole)| match whole {
                Some((line, size)) => named(line, size, times, with.unit),
                None if times > 1 => format!("{times} times {text}"),
                None => text,
            })
            .collect();
        order.push(format!(
            "{begin} {}: {}.",
            if *lengthwise {
                "lengthwise, from the left"
            } else {
                "across, from the near edge"
            },
            into.join("; ")
        ));
        next.reverse();
        waiting.extend(next);
    }
}

/// The one block of a strip that holds nothing else, from edge to edge along.
fn only(pattern: &Pattern) -> Option<&Block> {
    match &pattern.blocks[..] {
        [block] if block.height == pattern.height => Some(block),
        _ => None,
    }
}

/// Strips of the same pieces lying the same way, the first at least as full.
fn alike(first: &Pattern, next: &Pattern) -> bool {
    match (only(first), only(next)) {
        (Some(a), Some(b)) => a.line == b.line && a.turned == b.turned && a.across >= b.across,
        _ => false,
    }
}

/// One line of the order. `alone` is the number of pieces where the strips hold
/// one kind only, else 0.
fn run(pattern: &Pattern, times: i64, alone: i64, full: bool, width: i64, with: &Drawn) -> String {
    let unit = with.unit;
    let height = Length::from_units(pattern.height);
    let strips = if times == 1 { "strip" } else { "strips" };
    let across = if full { "the full width" } else { "the remnant" };
    let mut text = format!("Cut {times} {strips} {} across {across}", height.cut(unit));
    // Blocks of one line and one way of lying are one subcut, whatever stands on top.
    let mut whole: Vec<(Block, i64)> = Vec::new();
    let mut rest: Vec<(Block, i64)> = Vec::new();
    for block in &pattern.blocks {
        let list = if block.height == pattern.height {
            &mut whole
        } else {
            &mut rest
        };
        let count = block.across * block.along;
        match list
            .iter_mut()
            .find(|(b, _)| b.line == block.line && b.turned == block.turned)
        {
            Some((_, n)) => *n += count,
            None => list.push((*block, count)),
        }
    }
    let line = |block: &Block| with.lines.get(block.line);
    let as_wide = |block: &Block| block.width == width;
    let mut begun = false;
    for (block, count) in &whole {
        let Some(line) = line(block) else { continue };
        let each = if times > 1 && !as_wide(block) {
            format!(", {count} a strip")
        } else {
            String::new()
        };
        let verb = match begun {
            false if as_wide(block) => ":",
            false => "; subcut",
            _ => " and",
        };
        begun = true;
        let all = if alone > 0 { alone } else { count * times };
        text.push_str(&format!(
            "{verb} {}{}{each}",
            named(line, lying(block), all, unit),
            tip_to_tail(block)
        ));
    }
    // Rows that run along the cloth are strips themselves.
    let (lengthwise, stacked): (Vec<_>, Vec<_>) = rest.into_iter().partition(|(b, _)| b.turned && b.nests());
    for (block, count) in &lengthwise {
        let Some(line) = line(block) else { continue };
        text.push_str(&format!(
            "{} strips {} wide lengthwise{}, as drawn, and from these {} tip to tail",
            if begun { "; then cut" } else { "; divide it into" },
            Length::from_units(block.width).cut_one(unit),
            if begun { " from what is left" } else { "" },
            named(line, lying(block), count * times, unit)
        ));
        begun = true;
    }
    if !stacked.is_empty() {
        let parts: Vec<String> = stacked
            .iter()
            .filter_map(|(block, count)| {
                let line = line(block)?;
                Some(format!(
                    "{}{}",
                    named(line, lying(block), count * times, unit),
                    tip_to_tail(block)
                ))
            })
            .collect();
        let what = if times == 1 {
            "what is left of it"
        } else {
            "what is left of them"
        };
        text.push_str(&format!("; from {what}, as drawn, {}", parts.join(", ")));
    }
    text.push('.');
    text
}

fn tip_to_tail(block: &Block) -> &'static str {
    if block.nests() { " tip to tail" } else { "" }
}

/// What is done with the rectangles once they are cut.
pub(super) fn afterwards(order: &mut Vec<String>, with: &Drawn) {
    for line in with.lines {
        let Purpose::Patch { shape, .. } = &line.purpose else {
            continue;
        };
        if let Some(how) = at_sixty(*shape, line, with.unit) {
            order.push(how);
            continue;
        }
        let (how, what) = match shape {
            Shape::HalfSquareTriangle => ("once corner to corner", "half-square triangles"),
            Shape::QuarterSquareTriangle => ("corner to corner both ways", "quarter-square triangles"),
            // Sewn in pairs before they are cut: said with the piecing.
            Shape::FourHalfSquares | Shape::EightHalfSquares | Shape::GeeseLarge | Shape::GeeseSmall => continue,
            Shape::Square | Shape::Rectangle | Shape::Triangle60 | Shape::Diamond60 | Shape::Hexagon => continue,
        };
        let spare = line.count * shape.yields() - line.patches;
        let spare = if spare > 0 {
            format!(" ({spare} to spare)")
        } else {
            String::new()
        };
        let squares = if line.count == 1 {
            "the square".to_string()
        } else {
            format!("the {} squares", line.count)
        };
        order.push(format!(
            "Cut {squares} {} {how}: {} {what}{spare}.",
            line.cut.width.cut_one(with.unit),
            line.count * shape.yields()
        ));
    }
}

/// How pieces with corners of 60 degrees are cut from their strip.
fn at_sixty(shape: Shape, line: &CutLine, unit: Unit) -> Option<String> {
    match shape {
        Shape::Triangle60 => Some(format!(
            "Cut the triangles with the ruler's 60-degree line on the edge of the strip, {}: {}.",
            if line.may_turn {
                "slanting to the left and to the right in turn, so that they lie tip to tail"
            } else {
                "each with its tip the same way, since the cloth runs one way"
            },
            sixty(shape, line.cut, 2, unit)
        )),
        Shape::Diamond60 => Some(format!(
            "Cut the diamonds with the ruler's 60-degree line on the edge of the strip, every cut slanting the same way and {} from the last, measured square to it: as far as the strip is high.",
            line.cut.height.cut_one(unit)
        )),
        Shape::Hexagon => Some(format!(
            "Cut each rectangle {} to a hexagon: from the middle of each short side, cut off both corners with the \
             ruler's 60-degree line on the long side.",
            line.cut.cut_one(unit)
        )),
        _ => None,
    }
}
