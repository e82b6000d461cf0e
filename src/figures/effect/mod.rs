//! What a change of the plan changed in the figures. [`effect`] compares two
//! plans, [`beside`] sets several beside each other; both by one comparison.

mod batting;
mod beside;
mod care;
mod closures;
mod cost;
mod lay;
mod quilting;
mod ready_cut;
mod sizing;
mod thread;
mod time;

pub use beside::{Cell, Row, beside};

use super::{BindingFigures, Change, ClothFigures, Figures, PanelFigures, PieceFigures, Size};
use crate::measure::{Length, Money, Round, Unit, YARD};

const YARD_EIGHTH: Length = Length::from_units(YARD.units() / 8);

/// Every figure that prints differently, most important first: cloth to buy,
/// cost, time, patches, lengths used, panels, batting and backing, binding, problems.
pub fn effect(before: &Figures, after: &Figures) -> Vec<Change> {
    without_repeats(every(before, after, after.unit))
}

/// Without what another figure of the list says already.
fn without_repeats(changes: Vec<Change>) -> Vec<Change> {
    let names: std::collections::HashSet<String> = changes.iter().map(|c| c.what.clone()).collect();
    let told_by = |what: &str, end: &str, other: &str| {
        what.strip_suffix(end)
            .is_some_and(|name| names.contains(&format!("{name}{other}")))
    };
    // A binding that came or went is told by its length, a face by its panel.
    let alone = |c: &Change| [&c.before, &c.after].iter().any(|side| *side == NONE);
    let again = |c: &Change| {
        told_by(&c.what, USED, TO_BUY)
            || told_by(&c.what, AFTER_QUILTING, BEFORE_QUILTING)
            || told_by(&c.what, LEAST, BEFORE_QUILTING)
            || ([STRIP, FOR_BINDING].contains(&c.what.as_str()) && alone(c))
    };
    changes.into_iter().filter(|c| !again(c)).collect()
}

/// Every figure that prints differently, also where another tells it already.
fn every(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let mut to_buy: Vec<(Length, Change)> = Vec::new();
    let mut lengths = Vec::new();
    let mut patches = Vec::new();
    for (old, new) in pairs(&before.cloths, &after.cloths, |c| &c.cloth) {
        let name = new.or(old).map_or("", |c| c.name.as_str());
        let get = |f: fn(&ClothFigures) -> Length| (old.map_or(Length::ZERO, f), new.map_or(Length::ZERO, f));
        let (was, is) = get(|c| c.to_buy);
        if was != is {
            let change = cloth_length(format!("{name}{TO_BUY}"), was, is, unit);
            to_buy.extend(change.map(|change| ((is - was).abs(), change)));
        }
        // Less than a shop's step: inches and centimetres tell it, eighths of a yard do not.
        let (was, is) = get(|c| c.length);
        lengths.extend(length(format!("{name}{USED}"), was, is, unit, Round::Up));
        let count = |c: Option<&ClothFigures>| c.map_or(0, patch_count);
        if count(old) != count(new) {
            patches.push(counted(
                format!("{name}{PATCHES}"),
                count(old),
                count(new),
                "patch",
                "patches",
            ));
        }
    }
    // The largest difference first.
    to_buy.sort_by_key(|(size, _)| std::cmp::Reverse(*size));
    let mut changes: Vec<Change> = to_buy.into_iter().map(|(_, change)| change).collect();
    changes.extend(of_cost(before, after));
    changes.extend(time::changes(before, after));
    changes.extend(patches);
    changes.extend(ready_cut::changes(before, after));
    changes.extend(lay::changes(before, after));
    changes.extend(lengths);
    changes.extend(of_pieces(before, after, unit));
    changes.extend(of_binding(before, after, unit));
    changes.extend(batting::changes(before, after));
    changes.extend(closures::changes(before, after, unit));
    changes.extend(quilting::changes(before, after, unit));
    changes.extend(thread::changes(before, after, unit));
    changes.extend(sizing::changes(before, after));
    changes.extend(care::changes(before, after));
    changes.extend(cost::changes(before, after));
    changes.extend(of_problems(before, after));
    changes
}

const TO_BUY: &str = " to buy";
const USED: &str = " used";
const BEFORE_QUILTING: &str = " panel, before quilting";
const AFTER_QUILTING: &str = " panel, after quilting";
const PATCHES: &str = " patches";
const LEAST: &str = ", least before quilting";
const STRIP: &str = "Binding strip";
const FOR_BINDING: &str = "Cloth for binding";
const NONE: &str = "none";
const PROBLEM: &str = "To put right";
const COST: &str = "Cloth to buy, cost";

/// The changes in one sentence: at most `most` of them, and how many more
/// there are. It leads with cloth to buy, patches, time and cost; what is said of one
/// cloth stands together: "Cream linen +3/8 yd (0.34 m), 48 more patches".
pub fn summary(changes: &[Change], most: usize) -> String {
    let subject = |change: &Change| -> String {
        if change.what == COST {
            return "cost".into();
        }
        if change.what == time::WHAT {
            // "about 1 h 20 min more work" says of what by itself.
            return String::new();
        }
        [TO_BUY, PATCHES, USED]
            .iter()
            .find_map(|end| change.what.strip_suffix(end))
            .unwrap_or(&change.what)
            .to_string()
    };
    let weight = |change: &Change| match &change.what {
        what if what.ends_with(TO_BUY) => 0,
        what if what.ends_with(PATCHES) => 1,
        what if what == time::WHAT => 2,
        what if what == COST => 3,
        _ => 4,
    };
    let mut in_order: Vec<&Change> = changes.iter().collect();
    in_order.sort_by_key(|change| weight(change));
    let mut groups: Vec<(String, Vec<&Change>)> = Vec::new();
    for change in in_order {
        let subject = subject(change);
        match groups.iter_mut().find(|(s, _)| *s == subject) {
            Some((_, list)) => list.push(change),
            None => groups.push((subject, vec![change])),
        }
    }
    let mut parts: Vec<String> = Vec::new();
    for (subject, list) in groups {
        for (n, change) in list.iter().enumerate() {
            if parts.len() == most {
                break;
            }
            let difference = change.difference.trim_end_matches('.');
            parts.push(if n == 0 {
                format!("{subject} {difference}").trim().to_string()
            } else {
                difference.to_string()
            });
        }
    }
    let more = changes.len().saturating_sub(most);
    if more > 0 && !parts.is_empty() {
        parts.push(format!("{more} more {}", if more == 1 { "figure" } else { "figures" }));
    }
    parts.join(", ")
}

fn patch_count(cloth: &ClothFigures) -> i64 {
    let patch = |line: &&super::CutLine| matches!(line.purpose, super::Purpose::Patch { .. });
    let cut: i64 = cloth.cuts.iter().filter(patch).map(|line| line.patches).sum();
    let ready = cloth.ready_cut.iter().flat_map(|r| &r.uses).map(|u| u.patches);
    cut + ready.sum::<i64>()
}

/// Old and new of the same key, in the new order, then what is gone.
fn pairs<'a, T>(old: &'a [T], new: &'a [T], key: impl Fn(&T) -> &str) -> Vec<(Option<&'a T>, Option<&'a T>)> {
    let mut out: Vec<(Option<&T>, Option<&T>)> = new
        .iter()
        .map(|n| (old.iter().find(|o| key(o) == key(n)), Some(n)))
        .collect();
    let gone = old.iter().filter(|o| !new.iter().any(|n| key(n) == key(o)));
    out.extend(gone.map(|o| (Some(o), None)));
    out
}

/// How far two lengths are apart, by a step that shows it.
fn apart(by: Length, unit: Unit) -> String {
    if by.inches(Round::Nearest) == Length::ZERO.inches(Round::Nearest) {
        by.cm(Round::Up)
    } else {
        by.both(unit, Round::Nearest)
    }
}

fn signed(was: Length, is: Length, show: impl Fn(Length) -> String) -> String {
    let sign = if is < was { "−" } else { "+" };
    format!("{sign}{}", show((is - was).abs()))
}

fn differs(what: String, before: String, after: String, difference: String) -> Option<Change> {
    (before != after).then_some(Change {
        what,
        before,
        after,
        difference,
    })
}

fn length(what: String, was: Length, is: Length, unit: Unit, round: Round) -> Option<Change> {
    let difference = signed(was, is, |l| apart(l, unit));
    differs(what, was.both(unit, round), is.both(unit, round), difference)
}

fn cloth_length(what: String, was: Length, is: Length, unit: Unit) -> Option<Change> {
    let show = |l: Length| {
        // Printed by the yard it must be an eighth at least.
        if l < YARD_EIGHTH {
            apart(l, unit)
        } else {
            l.both_cloth(unit, Round::Nearest)
        }
    };
    let difference = signed(was, is, show);
    differs(
        what,
        was.both_cloth(unit, Round::Up),
        is.both_cloth(unit, Round::Up),
        difference,
    )
}

fn counted(what: String, was: i64, is: i64, one: &str, many: &str) -> Change {
    let by = (is - was).abs();
    Change {
        what,
        before: was.to_string(),
        after: is.to_string(),
        difference: format!(
            "{by} {} {}",
            if is > was { "more" } else { "fewer" },
            if by == 1 { one } else { many }
        ),
    }
}

/// Each side is rounded in its own way: a panel on point down, whatever it is compared with.
fn sizes(what: String, was: Option<Size>, is: Option<Size>, unit: Unit, rounds: (Round, Round)) -> Option<Change> {
    let show = |size: Option<Size>, round: Round| size.map_or(NONE.to_string(), |s| s.both(unit, round));
    let difference = match (was, is) {
        (Some(was), Some(is)) => {
            let sides = [
                (was.width, is.width, "wider", "narrower"),
                (was.height, is.height, "higher", "shorter"),
            ];
            let parts: Vec<String> = sides
                .into_iter()
                .filter(|(a, b, ..)| a != b)
                .map(|(a, b, more, less)| format!("{} {}", apart((b - a).abs(), unit), if b > a { more } else { less }))
                .collect();
            parts.join(", ")
        }
        (None, _) => "new".into(),
        (_, None) => "gone".into(),
    };
    differs(what, show(was, rounds.0), show(is, rounds.1), difference)
}

fn of_pieces(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let mut panels = Vec::new();
    let mut units = Vec::new();
    let mut layers = Vec::new();
    for (old, new) in pairs(&before.pieces, &after.pieces, |p| &p.piece) {
        let name = new.or(old).map_or("", |p| p.name.as_str());
        let panel = |p: Option<&PieceFigures>| p.and_then(|p| p.panel.clone());
        let (was, is) = (panel(old), panel(new));
        let size = |p: &Option<PanelFigures>| p.as_ref().map(|p| p.before);
        let round = |p: &Option<PanelFigures>| p.as_ref().map_or(Round::Nearest, |p| p.setting.round());
        panels.extend(sizes(
            format!("{name}{BEFORE_QUILTING}"),
            size(&was),
            size(&is),
            unit,
            (round(&was), round(&is)),
        ));
        let after_quilting = |p: &Option<PanelFigures>| p.as_ref().map(|p| p.after);
        panels.extend(sizes(
            format!("{name}{AFTER_QUILTING}"),
            after_quilting(&was),
            after_quilting(&is),
            unit,
            (Round::Down, Round::Down),
        ));
        let grid = |p: &Option<PanelFigures>| p.as_ref().filter(|p| p.units > 0).map(|p| (p.columns, p.rows, p.units));
        if grid(&was) != grid(&is) {
            // On point there are more units than columns and rows say.
            let told = |(c, r, units): (i64, i64, i64)| match units == c * r {
                true => format!("{c} × {r}"),
                false => format!("{c} × {r}, {units} units"),
            };
            let show = |g: Option<(i64, i64, i64)>| g.map_or("none".to_string(), told);
            let count = |g: Option<(i64, i64, i64)>| g.map_or(0, |(_, _, units)| units);
            let (a, b) = (count(grid(&was)), count(grid(&is)));
            let difference = if a == b {
                "arranged anew".to_string()
            } else {
                counted(String::new(), a, b, "unit", "units").difference
            };
            units.push(Change {
                what: format!("{name} units across and down"),
                before: show(grid(&was)),
                after: show(grid(&is)),
                difference,
            });
        }
        let (was, is) = (old.map_or(0, |p| p.count), new.map_or(0, |p| p.count));
        if was != is {
            units.push(counted(format!("{name} panels"), was, is, "panel", "panels"));
        }
        for (what, get) in [
            (
                "batting",
                (|p: &PieceFigures| p.batting) as fn(&PieceFigures) -> Option<Size>,
            ),
            ("backing", |p: &PieceFigures| p.backing),
        ] {
            layers.extend(sizes(
                format!("{name} {what}"),
                old.and_then(get),
                new.and_then(get),
                unit,
                (Round::Up, Round::Up),
            ));
        }
        // Where there is no panel yet.
        let least = |p: Option<&PieceFigures>| p.filter(|p| p.panel.is_none()).map(|p| p.needed_before);
        panels.extend(sizes(
            format!("{name}{LEAST}"),
            least(old),
            least(new),
            unit,
            (Round::Up, Round::Up),
        ));
    }
    panels.into_iter().chain(units).chain(layers).collect()
}

fn of_binding(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let mut changes = Vec::new();
    let (old, new) = (before.binding.as_ref(), after.binding.as_ref());
    let was = old.map_or(Length::ZERO, |b| b.total);
    let is = new.map_or(Length::ZERO, |b| b.total);
    changes.extend(length("Binding".into(), was, is, unit, Round::Up));
    let strip = |b: Option<&BindingFigures>| b.map(|b| b.strip_width);
    let show = |strip: Option<Length>| strip.map_or(NONE.to_string(), |s| s.cut(unit));
    let difference = match (strip(old), strip(new)) {
        (Some(was), Some(is)) => signed(was, is, |l| apart(l, unit)),
        (None, _) => "new".into(),
        (_, None) => "gone".into(),
    };
    changes.extend(differs(STRIP.into(), show(strip(old)), show(strip(new)), difference));
    let rectangle = |b: Option<&BindingFigures>| b.map(|b| b.rectangle);
    changes.extend(sizes(
        FOR_BINDING.into(),
        rectangle(old),
        rectangle(new),
        unit,
        (Round::Up, Round::Up),
    ));
    changes
}

fn of_cost(before: &Figures, after: &Figures) -> Vec<Change> {
    // Cost of cloth whose price is known; where a price is missing the sum says so.
    let known = |f: &Figures| (f.totals.to_buy_known, f.totals.to_buy.is_none());
    let (was, is) = (known(before), known(after));
    if was.0 == is.0 {
        return Vec::new();
    }
    let show = |(money, open): (Money, bool)| {
        let open = if open { ", as far as known" } else { "" };
        format!("{money}{open}")
    };
    let by = (is.0.as_hundredths() - was.0.as_hundredths()).saturating_abs();
    let sign = if is.0 < was.0 { "−" } else { "+" };
    vec![Change {
        what: COST.into(),
        before: show(was),
        after: show(is),
        difference: format!("{sign}{}", Money::hundredths(by)),
    }]
}

fn of_problems(before: &Figures, after: &Figures) -> Vec<Change> {
    let kind_of = |what: &str, from: &Figures, other: &Figures| -> Vec<Change> {
        from.problems
            .iter()
            .filter(|p| !other.problems.contains(p))
            .map(|p| Change {
                what: PROBLEM.into(),
                before: if what == "gone" {
                    p.message.clone()
                } else {
                    "none".into()
                },
                after: if what == "new" {
                    p.message.clone()
                } else {
                    "none".into()
                },
                difference: if what == "new" {
                    p.message.clone()
                } else {
                    format!("solved: {}", p.message)
                },
            })
            .collect()
    };
    let mut changes = kind_of("new", after, before);
    changes.extend(kind_of("gone", before, after));
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::measure::INCH;
    use crate::plan::{Face, Plan};

    fn plan() -> Plan {
        Plan::from_json(
            r#"{"format":1,
            "cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in","price":{"amount":"12.00","per":"yd"}}],
            "pieces":[{"id":"p1","name":"Sleeve","cut_count":2,"width":"18 in","height":"24 in",
              "face":{"kind":"patchwork","finished":"6 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}]}"#,
        )
        .unwrap()
    }

    #[test]
    fn smaller_patches_say_what_they_cost() {
        let before = plan();
        let mut after = plan();
        if let Some(Face::Patchwork(p)) = &mut after.pieces[0].face {
            let finished = &mut p.finished;
            *finished = INCH * 4;
        }
        let changes = effect(&work_out(&before), &work_out(&after));
        // 3 x 4 units become 5 x 6; two panels. 24 of 6 1/2 in, 6 a strip, are 4
        // strips: 26 in and 1 lost = 27 in = 3/4 yd. 60 of 4 1/2 in, 9 a strip, are
        // 7 strips: 31 1/2 in and 1 = 32 1/2 in, so 1 yd.
        let first = &changes[0];
        assert_eq!(first.what, "Cream linen to buy");
        assert_eq!(
            (first.before.as_str(), first.after.as_str()),
            ("3/4 yd (0.69 m)", "1 yd (0.92 m)")
        );
        assert_eq!(first.difference, "+1/4 yd (0.23 m)");
        assert_eq!(
            summary(&changes, 2),
            "Cream linen +1/4 yd (0.23 m), 36 more patches, 3 more figures"
        );
        let back = effect(&work_out(&after), &work_out(&before));
        assert_eq!(back[0].difference, "−1/4 yd (0.23 m)");
        assert!(back.iter().any(|c| c.difference == "36 fewer patches"));
        assert!(
            changes
                .iter()
                .any(|c| c.what == "Cloth to buy, cost" && c.difference == "+3.00")
        );
    }

    #[test]
    fn differences_print_by_a_step_that_shows_them() {
        let change = |was: Length, is: Length| cloth_length("Cream to buy".into(), was, is, Unit::Inch);
        let difference = |was, is| change(was, is).map(|c| c.difference);
        let yard = crate::measure::YARD;
        assert_eq!(
            difference(yard, yard * 2 - INCH * 27).as_deref(),
            Some("+1/4 yd (0.23 m)")
        );
        // By the yard these would be 0 yd.
        assert_eq!(difference(yard, yard + INCH).as_deref(), Some("+1 in (2.5 cm)"));
        let little = Length::from_units(640);
        assert_eq!(difference(yard, yard + little).as_deref(), Some("+0.1 cm"));
        assert_eq!(difference(yard + little, yard).as_deref(), Some("−0.1 cm"));
        // Both sides print the same: no change to tell.
        assert_eq!(change(yard - little * 3, yard - little * 2), None);
        assert_eq!(length("used".into(), INCH, INCH, Unit::Cm, Round::Up), None);
    }

    #[test]
    fn sizes_say_which_way_they_changed() {
        let size = |w: i64, h: i64| {
            Some(Size {
                width: crate::measure::EIGHTH * w,
                height: crate::measure::EIGHTH * h,
            })
        };
        let told = |was, is| {
            sizes(
                "Sleeve panel".into(),
                was,
                is,
                Unit::Inch,
                (Round::Nearest, Round::Nearest),
            )
        };
        let change = told(size(132, 196), size(124, 196)).expect("it differs");
        assert_eq!(change.before, "16 1/2 × 24 1/2 in (41.9 × 62.2 cm)");
        assert_eq!(change.after, "15 1/2 × 24 1/2 in (39.4 × 62.2 cm)");
        assert_eq!(change.difference, "1 in (2.5 cm) narrower");
        assert_eq!(
            told(size(8, 8), size(16, 24)).map(|c| c.difference).as_deref(),
            Some("1 in (2.5 cm) wider, 2 in (5.1 cm) higher")
        );
        assert_eq!(
            told(size(8, 8), None).map(|c| c.after).as_deref(),
            Some("none"),
            "and gone"
        );
        assert_eq!(told(size(8, 8), size(8, 8)), None);
    }

    #[test]
    fn what_matters_stands_first() {
        let before = plan();
        let mut after = plan();
        if let Some(Face::Patchwork(p)) = &mut after.pieces[0].face {
            let finished = &mut p.finished;
            *finished = INCH * 4;
        }
        after.pieces[0].width = INCH * 20;
        let changes = effect(&work_out(&before), &work_out(&after));
        let what: Vec<&str> = changes.iter().map(|c| c.what.as_str()).collect();
        assert_eq!(
            what,
            [
                "Cream linen to buy",
                COST,
                "Cream linen patches",
                "Sleeve panel, before quilting",
                "Sleeve units across and down",
            ]
        );
        assert_eq!(
            summary(&changes, 3),
            "Cream linen +1/4 yd (0.23 m), 36 more patches, cost +3.00, 2 more figures"
        );
    }

    #[test]
    fn a_problem_that_comes_and_goes_is_told() {
        let sound = work_out(&plan());
        let mut wrong = plan();
        wrong.pieces[0].width = -INCH;
        let wrong = work_out(&wrong);
        let came = effect(&sound, &wrong);
        assert!(
            came.iter().any(|c| c.what == "To put right" && c.before == "none"),
            "{came:?}"
        );
        let went = effect(&wrong, &sound);
        assert!(went.iter().any(|c| c.difference.starts_with("solved: ")));
        assert!(effect(&sound, &sound).is_empty());
        assert_eq!(summary(&[], 3), "");
    }
}
