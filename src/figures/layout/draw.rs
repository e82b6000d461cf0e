//! From groups to single rectangles: where every piece lies.

use super::parts::{Part, What};
use super::stock::{Sheets, Source, Stocked};
use super::{Pattern, words};
use crate::figures::outline::AtHand;
use crate::figures::{Cut, CutLine, Layout, Placed, Rect, Sheet, SheetPart, Strip, StripsFor};
use crate::measure::{Length, Unit};

/// What a drawing needs to know besides the layout.
pub(in crate::figures) struct Drawn<'a> {
    pub lines: &'a [CutLine],
    pub remnants: &'a AtHand,
    pub straightening: Length,
    pub unit: Unit,
    /// The kept lay is cut from the same cloth, behind the strips.
    pub before_lay: bool,
}

pub(in crate::figures) fn draw(stocked: &Stocked, with: &Drawn) -> Layout {
    let mut layout = Layout::default();
    let split = stocked.sheets.iter().any(|s| s.source == Source::Owned)
        && stocked.sheets.iter().any(|s| s.source == Source::ToBuy);
    let mut copies: std::collections::HashMap<usize, i64> = std::collections::HashMap::new();
    for sheets in &stocked.sheets {
        let names = match sheets.source {
            Source::Remnant(at) => {
                let first = copies.entry(at).or_insert(0);
                let from = *first + 1;
                *first += sheets.times;
                remnant_names(with, at, from, sheets.times)
            }
            Source::Owned | Source::ToBuy if with.before_lay && !split => {
                vec!["Cloth before the lay, full width".to_string()]
            }
            Source::Owned if split => vec!["Cloth at hand, full width".to_string()],
            Source::ToBuy if split => vec!["Cloth to buy, full width".to_string()],
            Source::Owned | Source::ToBuy => vec!["Cloth, full width".to_string()],
        };
        let sheets = &numbered(sheets);
        let steps = words::sheet(&mut layout.order, sheets, &names, with);
        let strips = strips(sheets, &steps, with.straightening);
        let left_over = left_over(sheets, with.straightening);
        let sheet = |name: String| Sheet {
            name,
            remnant: match sheets.source {
                Source::Remnant(at) => Some(at),
                _ => None,
            },
            part: match sheets.source {
                Source::Remnant(at) => with.remnants.part(at).map(|part| SheetPart {
                    outlined: part.outlined,
                    number: part.number + 1,
                    x: part.rect.x,
                    y: part.rect.y,
                }),
                _ => None,
            },
            width: Length::from_units(sheets.width),
            length: Length::from_units(sheets.length),
            straightening: with.straightening,
            strips: strips.clone(),
            left_over: left_over.clone(),
        };
        layout.sheets.extend(names.into_iter().map(sheet));
    }
    words::afterwards(&mut layout.order, with);
    layout
}

fn remnant_names(with: &Drawn, at: usize, from: i64, times: i64) -> Vec<String> {
    let Some(remnant) = with.remnants.all().get(at) else {
        return Vec::new();
    };
    let (width, length) = match with.unit {
        Unit::Inch => (
            words::bare(remnant.width.inches(crate::measure::Round::Nearest)),
            remnant.length.inches(crate::measure::Round::Nearest),
        ),
        Unit::Cm => (
            words::bare(remnant.width.cm(crate::measure::Round::Nearest)),
            remnant.length.cm(crate::measure::Round::Nearest),
        ),
    };
    let name = match with.remnants.part(at) {
        Some(part) => format!(
            "Outlined remnant {}, rectangle {} of it, {width} × {length}",
            part.outlined + 1,
            part.number + 1
        ),
        None => format!("Remnant {width} × {length}"),
    };
    (from..from + times)
        .map(|n| {
            if remnant.count > 1 {
                format!("{name}, {n} of {}", remnant.count)
            } else {
                name.clone()
            }
        })
        .collect()
}

/// With the parts of deeper strips numbered, from 1 on each sheet.
fn numbered(sheets: &Sheets) -> Sheets {
    let mut sheets = sheets.clone();
    let mut last = 0;
    for (pattern, _) in &mut sheets.bolt.runs {
        if let Some(parts) = &mut pattern.parts {
            parts.count(&mut last);
        }
    }
    sheets
}

fn strips(sheets: &Sheets, steps: &[usize], straightening: Length) -> Vec<Strip> {
    let mut at = straightening.units();
    let mut out = Vec::new();
    for ((pattern, times), step) in sheets.bolt.runs.iter().zip(steps) {
        for _ in 0..*times {
            out.push(Strip {
                step: *step,
                at: Length::from_units(at),
                height: Length::from_units(pattern.height),
                placed: placed(pattern, at),
                cuts: pattern.parts.as_ref().map(|parts| cuts(parts, at)).unwrap_or_default(),
            });
            at += pattern.height;
        }
    }
    out
}

fn placed(pattern: &Pattern, at: i64) -> Vec<Placed> {
    let mut out = Vec::new();
    for block in &pattern.blocks {
        for along in 0..block.along {
            for across in 0..block.across {
                out.push(Placed {
                    line: block.line,
                    rect: Rect {
                        x: Length::from_units(block.x + across * block.step_x),
                        y: Length::from_units(at + block.y + along * block.step_y),
                        width: Length::from_units(block.width),
                        height: Length::from_units(block.height),
                    },
                    turned: block.turned,
                    flipped: block.flips && (if block.turned { along } else { across }) % 2 == 1,
                });
            }
        }
    }
    out
}

/// Every cut in a strip, each part before what it is cut into.
fn cuts(strip: &Part, at: i64) -> Vec<Cut> {
    let mut out = Vec::new();
    let mut waiting = vec![strip];
    while let Some(part) = waiting.pop() {
        let What::Cut { lengthwise, into } = &part.what else {
            continue;
        };
        let begin = |part: &Part| Length::from_units(if *lengthwise { part.x } else { at + part.y });
        out.push(Cut {
            number: part.number,
            part: Rect {
                x: Length::from_units(part.x),
                y: Length::from_units(at + part.y),
                width: Length::from_units(part.width),
                height: Length::from_units(part.height),
            },
            lengthwise: *lengthwise,
            at: into.iter().skip(1).map(begin).collect(),
        });
        waiting.extend(into.iter().rev());
    }
    out
}

fn left_over(sheets: &Sheets, straightening: Length) -> Vec<Rect> {
    let mut at = straightening.units();
    let mut out = Vec::new();
    let keep = super::WORTH_KEEPING.units();
    for (pattern, times) in &sheets.bolt.runs {
        for _ in 0..*times {
            for free in &pattern.free {
                out.push(Rect {
                    x: Length::from_units(free.x),
                    y: Length::from_units(at + free.y),
                    width: Length::from_units(free.width),
                    height: Length::from_units(free.height),
                });
            }
            at += pattern.height;
        }
    }
    if sheets.length - at >= keep && sheets.width >= keep {
        out.push(Rect {
            x: Length::ZERO,
            y: Length::from_units(at),
            width: Length::from_units(sheets.width),
            height: Length::from_units(sheets.length - at),
        });
    }
    out
}

/// How each line is cut by hand, where every piece of it comes from full-width
/// strips of its own height.
pub(in crate::figures) fn strips_of(lines: usize, stocked: &Stocked) -> Vec<Option<StripsFor>> {
    let mut found: Vec<Option<StripsFor>> = vec![None; lines];
    let mut spoilt = vec![false; lines];
    for sheets in &stocked.sheets {
        let full = !matches!(sheets.source, Source::Remnant(_));
        for (pattern, times) in &sheets.bolt.runs {
            for (line, _) in pattern.used() {
                let of_line = || pattern.blocks.iter().filter(|b| b.line == line);
                let per_strip: i64 = of_line().map(|b| b.across).sum();
                let subcut = of_line().map(|b| b.width).max().unwrap_or(0);
                let whole = full && of_line().all(|b| b.height == pattern.height && b.width == subcut);
                match &mut found[line] {
                    _ if !whole => spoilt[line] = true,
                    Some(strips) => {
                        spoilt[line] |= strips.height.units() != pattern.height || strips.subcut.units() != subcut;
                        strips.strips += times;
                        strips.per_strip = strips.per_strip.max(per_strip);
                    }
                    empty => {
                        *empty = Some(StripsFor {
                            strips: *times,
                            height: Length::from_units(pattern.height),
                            subcut: Length::from_units(subcut),
                            per_strip,
                        });
                    }
                }
            }
        }
    }
    found
        .into_iter()
        .zip(spoilt)
        .map(|(strips, spoilt)| strips.filter(|_| !spoilt))
        .collect()
}
