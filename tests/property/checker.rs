//! Checks a cutting layout from nothing but the layout: every piece is placed
//! again, and every way it could be wrong is looked for. All of it in whole
//! numbers.

use crate::outlines;
use crate::polygons::{Polygon, outline, overlap, rows};
use notchbook::figures::{ClothFigures, Cut, CutLine, Layout, Purpose, Rect, Shape, Sheet, Strip};
use notchbook::measure::Length;
use notchbook::plan::Cloth;

/// What a line is cut as.
pub fn shape(line: &CutLine) -> Shape {
    match line.purpose {
        Purpose::Patch { shape, .. } => shape,
        _ => Shape::Rectangle,
    }
}

/// What is wrong with a cloth's layout; `None` if nothing is.
pub fn fault(cloth: &Cloth, figures: &ClothFigures, straightening: Length) -> Option<String> {
    if let Some(fault) = layout_fault(cloth, &figures.cuts, &figures.layout, straightening) {
        return Some(fault);
    }
    let sheets = &figures.layout.sheets;
    let full: Length = sheets.iter().filter(|s| s.remnant.is_none()).map(|s| s.length).sum();
    if full != figures.length {
        return Some(format!("length {:?}, sheets {full:?}", figures.length));
    }
    // Full-width lengths: what is at hand is used within what is there; the rest is to buy.
    let sheets: Vec<&Sheet> = figures.layout.sheets.iter().filter(|s| s.remnant.is_none()).collect();
    let bought = match sheets[..] {
        [] => Length::ZERO,
        [one] if one.length <= cloth.owned => Length::ZERO,
        [one] => one.length,
        [owned, new] => {
            if owned.length > cloth.owned {
                return Some("more is cut from the length at hand than there is".into());
            }
            new.length
        }
        _ => return Some("more than two full-width lengths".into()),
    };
    // After the wash, what was bought must still be long enough.
    let left = figures
        .to_buy
        .scale_down(10_000 - cloth.shrinkage.as_hundredths(), 10_000);
    if left < bought {
        return Some(format!("{:?} bought, {bought:?} needed after the wash", figures.to_buy));
    }
    None
}

/// What is wrong with a layout of these lines on this cloth.
pub fn layout_fault(cloth: &Cloth, lines: &[CutLine], layout: &Layout, straightening: Length) -> Option<String> {
    let mut placed = vec![0i64; lines.len()];
    let mut copies = vec![0u32; cloth.remnants.len()];
    let mut marked: Vec<(usize, usize, u32)> = Vec::new();
    for sheet in &layout.sheets {
        match sheet.remnant {
            None => {
                if sheet.width != cloth.usable_width {
                    return Some(format!("{} is not as wide as the cloth", sheet.name));
                }
            }
            Some(at) if at >= cloth.remnants.len() => {
                if let Some(wrong) = part_fault(cloth, sheet, &mut marked) {
                    return Some(format!("{}: {wrong}", sheet.name));
                }
            }
            Some(at) => {
                let remnant = &cloth.remnants[at];
                copies[at] += 1;
                if (sheet.width, sheet.length) != (remnant.width, remnant.length) {
                    return Some(format!("{} is not the remnant", sheet.name));
                }
                if copies[at] > remnant.count {
                    return Some(format!("{}: there are only {}", sheet.name, remnant.count));
                }
            }
        }
        if sheet.straightening != straightening {
            return Some(format!("{} is not straightened", sheet.name));
        }
        let wrong = sheet_fault(cloth, lines, sheet, &mut placed).or_else(|| order_fault(layout, sheet));
        if let Some(wrong) = wrong {
            return Some(format!("{}: {wrong}", sheet.name));
        }
    }
    for (line, count) in lines.iter().zip(&placed) {
        if line.count != *count {
            return Some(format!("{count} of {} placed: {line:?}", line.count));
        }
        if line.patches > line.count * yields(line) {
            return Some(format!("too few cuts for the patches: {line:?}"));
        }
    }
    None
}

/// A rectangle marked on a remnant with an outline: one of those that lie inside, no more often than it is there.
fn part_fault(cloth: &Cloth, sheet: &Sheet, marked: &mut Vec<(usize, usize, u32)>) -> Option<String> {
    let Some(part) = sheet.part else {
        return Some("no part of any outline".into());
    };
    let Some(one) = cloth.outlined.get(part.outlined) else {
        return Some("there is no such outline".into());
    };
    let figures = match notchbook::figures::outline(&one.outline) {
        Ok(figures) => figures,
        Err(wrong) => return Some(wrong),
    };
    if let Some(wrong) = outlines::fault(&one.outline, &figures) {
        return Some(wrong);
    }
    let rect = Rect {
        x: part.x,
        y: part.y,
        width: sheet.width,
        height: sheet.length,
    };
    if part.number.checked_sub(1).and_then(|n| figures.rectangles.get(n)) != Some(&rect) {
        return Some("not the rectangle that was found".into());
    }
    let key = (part.outlined, part.number);
    let at = marked.iter().position(|m| (m.0, m.1) == key).unwrap_or_else(|| {
        marked.push((key.0, key.1, 0));
        marked.len() - 1
    });
    marked[at].2 += 1;
    (marked[at].2 > one.count).then(|| format!("there are only {}", one.count))
}

/// Whether the numbers in the drawing are those of the order of cuts.
fn order_fault(layout: &Layout, sheet: &Sheet) -> Option<String> {
    let mut last = 0;
    for strip in &sheet.strips {
        let said = strip.step.checked_sub(1).and_then(|at| layout.order.get(at));
        if !said.is_some_and(|said| said.starts_with("Cut ")) || strip.step < last {
            return Some(format!("step {} does not cut the strip at {:?}", strip.step, strip.at));
        }
        last = strip.step;
        for number in strip.cuts.iter().filter_map(|cut| cut.number) {
            let divided = format!("Divide part {number} ");
            let named = format!("part {number}, ");
            let order = &layout.order[strip.step - 1..];
            if !order.iter().any(|o| o.starts_with(&divided)) || !order.iter().any(|o| o.contains(&named)) {
                return Some(format!("the order of cuts knows no part {number}"));
            }
        }
    }
    None
}

fn yields(line: &CutLine) -> i64 {
    match shape(line) {
        Shape::HalfSquareTriangle => 2,
        Shape::QuarterSquareTriangle | Shape::FourHalfSquares => 4,
        Shape::EightHalfSquares => 8,
        Shape::GeeseLarge => 4,
        Shape::GeeseSmall => 2,
        Shape::Square | Shape::Rectangle | Shape::Triangle60 | Shape::Diamond60 | Shape::Hexagon => 1,
    }
}

fn sheet_fault(cloth: &Cloth, lines: &[CutLine], sheet: &Sheet, placed: &mut [i64]) -> Option<String> {
    let mut end = sheet.straightening;
    let mut outlines: Vec<Polygon> = Vec::new();
    for strip in &sheet.strips {
        if strip.at < end {
            return Some(format!("the strip at {:?} begins before {end:?}", strip.at));
        }
        if !strip.height.is_positive() {
            return Some("a strip of no height".into());
        }
        end = strip.at + strip.height;
        if end > sheet.length {
            return Some(format!("the strip at {:?} ends beyond the sheet", strip.at));
        }
        for piece in &strip.placed {
            let rect = piece.rect;
            let Some(line) = lines.get(piece.line) else {
                return Some("a piece of no line".into());
            };
            let (w, h) = if piece.turned {
                (line.cut.height, line.cut.width)
            } else {
                (line.cut.width, line.cut.height)
            };
            if (rect.width, rect.height) != (w, h) {
                return Some(format!("{rect:?} is not the size of {line:?}"));
            }
            if (piece.turned || piece.flipped) && (!line.may_turn || cloth.one_way) {
                return Some(format!("{rect:?} is turned and may not be"));
            }
            if piece.flipped && shape(line) != Shape::Triangle60 {
                return Some(format!("{rect:?} has no tip to lie upside down"));
            }
            let inside = rect.x >= Length::ZERO
                && rect.x + rect.width <= sheet.width
                && rect.y >= strip.at
                && rect.y + rect.height <= end;
            if !inside {
                return Some(format!("{rect:?} hangs over its strip at {:?}", strip.at));
            }
            placed[piece.line] += 1;
            outlines.push(outline(line, piece));
        }
    }
    let leftovers = sheet.left_over.iter().filter(|r| {
        let inside = r.x >= Length::ZERO
            && r.y >= sheet.straightening
            && r.x + r.width <= sheet.width
            && r.y + r.height <= sheet.length;
        !inside
    });
    if leftovers.count() > 0 {
        return Some("a left-over lies outside the sheet".into());
    }
    outlines.extend(sheet.left_over.iter().map(Polygon::rectangle));
    overlap(outlines).or_else(|| sheet.strips.iter().find_map(|strip| cutting_fault(lines, sheet, strip)))
}

/// Whether a strip can be cut with a ruler, and by the cuts that are noted.
fn cutting_fault(lines: &[CutLine], sheet: &Sheet, strip: &Strip) -> Option<String> {
    let whole = Rect {
        x: Length::ZERO,
        y: strip.at,
        width: sheet.width,
        height: strip.height,
    };
    let inside = rows(lines, &strip.placed);
    if !edge_to_edge(&inside) {
        return Some(format!("the strip at {:?} cannot be cut from edge to edge", strip.at));
    }
    if strip.cuts.is_empty() {
        return None;
    }
    cuts_fault(whole, &strip.cuts, &inside)
}

/// Whether cuts that each run from edge to edge of what they divide part all
/// the pieces.
fn edge_to_edge(inside: &[Rect]) -> bool {
    if inside.len() <= 1 {
        return true;
    }
    for lengthwise in [true, false] {
        let ends = |r: &Rect| {
            if lengthwise {
                (r.x, r.x + r.width)
            } else {
                (r.y, r.y + r.height)
            }
        };
        let mut sorted = inside.to_vec();
        sorted.sort_by_key(|r| ends(r));
        let mut bands: Vec<(Length, Vec<Rect>)> = Vec::new();
        for rect in sorted {
            let (from, to) = ends(&rect);
            match bands.last_mut() {
                Some((end, band)) if from < *end => {
                    *end = to.max(*end);
                    band.push(rect);
                }
                _ => bands.push((to, vec![rect])),
            }
        }
        if bands.len() > 1 {
            return bands.iter().all(|(_, band)| edge_to_edge(band));
        }
    }
    false
}

/// Makes the cuts that are noted, one after the other.
fn cuts_fault(strip: Rect, cuts: &[Cut], pieces: &[Rect]) -> Option<String> {
    let mut parts = vec![strip];
    for cut in cuts {
        let Some(at) = parts.iter().position(|p| *p == cut.part) else {
            return Some(format!("{cut:?} divides what is not there"));
        };
        let part = parts.swap_remove(at);
        let (mut from, end) = if cut.lengthwise {
            (part.x, part.x + part.width)
        } else {
            (part.y, part.y + part.height)
        };
        for to in cut.at.iter().copied().chain([end]) {
            if to <= from || to > end {
                return Some(format!("{cut:?} is not within its part"));
            }
            parts.push(if cut.lengthwise {
                Rect {
                    x: from,
                    width: to - from,
                    ..part
                }
            } else {
                Rect {
                    y: from,
                    height: to - from,
                    ..part
                }
            });
            from = to;
        }
    }
    let missing = pieces.iter().find(|piece| !parts.contains(piece));
    missing.map(|piece| format!("the cuts do not free {piece:?}"))
}

mod tests {
    use super::*;
    use notchbook::figures::work_out;
    use notchbook::measure::INCH;
    use notchbook::plan::Plan;

    fn plan() -> Plan {
        Plan::from_json(
            r##"{"format":1,"cloths":[{"id":"c1","name":"Cream","usable_width":"42 in","remnants":[{"width":"20 in","length":"12 in","count":1}]}],
            "pieces":[{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"24 in",
            "face":{"kind":"patchwork","finished":"4 in","arrangement":"all-alike","units":[{"kind":"rail","cloths":["c1","c1"]}]}}]}"##,
        )
        .unwrap()
    }

    /// A checker that finds nothing is worth nothing: each fault is planted.
    #[test]
    fn the_checker_finds_planted_faults() {
        let plan = plan();
        let sound = work_out(&plan).cloths.remove(0);
        let check = |figures: &ClothFigures, cloth: &Cloth| fault(cloth, figures, plan.allowances.straightening);
        let cloth = &plan.cloths[0];
        assert_eq!(check(&sound, cloth), None);
        let break_it = |with: &dyn Fn(&mut ClothFigures)| {
            let mut figures = sound.clone();
            with(&mut figures);
            check(&figures, cloth).expect("a planted fault was not found")
        };
        assert!(break_it(&|f| f.cuts[0].count += 1).contains("placed"));
        assert!(break_it(&|f| f.layout.sheets[0].strips[0].step = 1).contains("does not cut"));
        assert!(break_it(&|f| f.layout.sheets[1].strips[0].step = 0).contains("does not cut"));
        assert!(break_it(&|f| f.length += INCH).contains("length"));
        assert!(break_it(&|f| f.to_buy = INCH).contains("bought"));
        assert!(break_it(&|f| f.layout.sheets[0].straightening = Length::ZERO).contains("straightened"));
        assert!(break_it(&|f| f.layout.sheets[0].length += INCH).contains("remnant"));
        assert!(break_it(&|f| f.layout.sheets[1].length = INCH * 3).contains("beyond"));
        let first =
            |f: &mut ClothFigures, change: &dyn Fn(&mut Rect)| change(&mut f.layout.sheets[1].strips[0].placed[0].rect);
        assert!(break_it(&|f| first(f, &|r| r.x += INCH)).contains("overlap"));
        assert!(break_it(&|f| first(f, &|r| r.x = -INCH)).contains("hangs over"));
        assert!(break_it(&|f| first(f, &|r| r.y += INCH)).contains("hangs over"));
        assert!(break_it(&|f| first(f, &|r| r.width += INCH)).contains("size"));
        assert!(
            break_it(&|f| {
                f.layout.sheets[1].strips[0].placed.pop();
            })
            .contains("placed")
        );
        assert!(
            break_it(&|f| {
                let twice = f.layout.sheets[0].clone();
                f.layout.sheets.push(twice);
            })
            .contains("only 1")
        );
        let pinwheel = |f: &mut ClothFigures| {
            // Four of 2 x 3 round a hole: no cut goes from edge to edge.
            f.cuts.truncate(1);
            f.cuts[0].cut.width = INCH * 3;
            f.cuts[0].cut.height = INCH * 2;
            let strip = &mut f.layout.sheets[1].strips[0];
            strip.height = INCH * 5;
            let at = strip.at;
            strip.placed = [(0, 0, false), (3, 0, true), (2, 3, false), (0, 2, true)]
                .into_iter()
                .map(|(x, y, turned)| {
                    let (w, h) = if turned { (2, 3) } else { (3, 2) };
                    notchbook::figures::Placed {
                        line: 0,
                        turned,
                        flipped: false,
                        rect: Rect {
                            x: INCH * x,
                            y: at + INCH * y,
                            width: INCH * w,
                            height: INCH * h,
                        },
                    }
                })
                .collect();
            f.layout.sheets[1].strips.truncate(1);
            f.layout.sheets[1].left_over.clear();
            f.layout.sheets[1].length = INCH * 90;
            f.layout.sheets.remove(0);
        };
        assert!(break_it(&pinwheel).contains("edge to edge"));
        let false_cut = |f: &mut ClothFigures| {
            let width = f.layout.sheets[1].width;
            let strip = &mut f.layout.sheets[1].strips[0];
            let part = Rect {
                x: Length::ZERO,
                y: strip.at,
                width,
                height: strip.height,
            };
            strip.cuts = vec![Cut {
                number: None,
                part,
                lengthwise: true,
                at: vec![INCH],
            }];
        };
        assert!(break_it(&false_cut).contains("do not free"));
        let turned = sound
            .layout
            .sheets
            .iter()
            .flat_map(|s| &s.strips)
            .flat_map(|s| &s.placed)
            .any(|p| p.turned);
        assert!(turned, "the example must turn a patch, or the next fault is no fault");
        let one_way = Cloth {
            one_way: true,
            ..cloth.clone()
        };
        assert!(check(&sound, &one_way).expect("found").contains("turned"));
    }
}
