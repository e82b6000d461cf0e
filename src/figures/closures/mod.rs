//! Closures along a line: where each sits, how far the fronts overlap, how long
//! the holes are.
//!
//! - [`positions`]: centres between a fixed first and last, one at bust level
//! - [`rules`]: extension, buttonhole, trade size

pub mod positions;
pub mod rules;

use super::check::{Checked, called, price_is_sound};
use super::{AllowanceUsed, Shown};
use crate::measure::{Length, Money, Round, Unit};
use crate::plan::{Closure, ClosureKind, MadeFor, Plan};
use positions::Positions;
use serde::Serialize;

/// A row of closures, worked out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClosureFigures {
    pub closure: String,
    pub name: String,
    pub kind: ClosureKind,
    /// How many; a zip is one.
    pub count: i64,
    pub line: Length,
    /// Centres from the upper end of the line, rounded once to 1/640 mm. None for a zip.
    pub positions: Vec<Length>,
    /// From each centre to the next.
    pub gaps: Vec<Length>,
    pub bust_level: Option<Length>,
    /// Of a button or snap whose size is known: how far each front reaches
    /// beyond the centre line, and by how much the two lie over each other.
    pub extension: Option<Length>,
    pub overlap: Option<Length>,
    /// Length of one buttonhole.
    pub buttonhole: Option<Length>,
    /// Where a hole that lies across begins, beyond the centre line toward the edge.
    pub hole_starts: Option<Length>,
    /// Nearest trade size of a button.
    pub ligne: Option<i64>,
    /// Length of a zip.
    pub zip: Option<Length>,
    /// What to mind where a child or an animal wears it; among the cautions too.
    #[serde(skip)]
    pub small_parts: Option<String>,
    /// Of all of them, where the price of one is known.
    pub cost: Option<Money>,
    pub shown: Shown,
}

/// Rows that are sound, in the plan's order.
pub(super) fn closures(plan: &Plan, checked: &Checked) -> Vec<ClosureFigures> {
    plan.closures
        .iter()
        .zip(&checked.closures)
        .filter(|(_, sound)| **sound)
        .map(|(closure, _)| figures(plan, closure))
        .collect()
}

fn figures(plan: &Plan, c: &Closure) -> ClosureFigures {
    let unit = plan.unit;
    let last = c.line - c.last;
    let mut shown = Shown::default();
    let zip = (c.kind == ClosureKind::Zip).then(|| last - c.first);
    let placed = match zip {
        Some(zip) => {
            shown.working.push(format!(
                "Line {} − {} above − {} below = a zip of {}.",
                show(c.line, unit),
                show(c.first, unit),
                show(c.last, unit),
                show(zip, unit)
            ));
            None
        }
        None => Some(place(c, last, unit, &mut shown)),
    };
    let count = placed.as_ref().map_or(1, |p| p.centres.len() as i64);
    let sized = Some(c.size).filter(|size| size.is_positive());
    let fronts = sized.filter(|_| matches!(c.kind, ClosureKind::Button | ClosureKind::Snap));
    let extension = fronts.map(|size| extension(size, unit, &mut shown));
    let button = sized.filter(|_| c.kind == ClosureKind::Button);
    let buttonhole = button.map(|size| {
        let hole = rules::buttonhole(size, c.thickness);
        shown.working.push(format!(
            "Buttonhole: {} across + {} = {}.",
            cut(size, unit),
            cut(hole - size, unit),
            cut(hole, unit)
        ));
        shown.allowances.push(AllowanceUsed {
            name: "Buttonhole beyond the diameter".into(),
            value: cut(hole - size, unit),
            source: rules::BUTTONHOLE_SOURCE.into(),
        });
        shown.allowances.push(AllowanceUsed {
            name: "A hole that lies across begins past the centre line by".into(),
            value: show(rules::HOLE_STARTS, unit),
            source: "dresspatternmaking.com; trantor.is; ICAR e-course; ASDP standards".into(),
        });
        hole
    });
    let ligne = button.map(rules::nearest_ligne);
    if let (Some(ligne), Some(size)) = (ligne, button) {
        let trade = rules::ligne_diameter(ligne);
        let exact = (trade - size).abs() <= Length::from_units(1);
        shown.working.push(format!(
            "Trade size: {} {ligne} ligne (40 ligne are 1 in, 25.4 mm{}).",
            if exact { "exactly" } else { "nearest to it is" },
            if exact {
                String::new()
            } else {
                format!("; {ligne} are {}", millimetres(trade))
            }
        ));
    }
    if matches!(c.kind, ClosureKind::Button | ClosureKind::Snap) && sized.is_none() {
        shown.cautions.push(format!(
            "Type how large {} is: the overlap{} cannot be told without it.",
            match c.kind {
                ClosureKind::Button => "the button",
                _ => "the snap",
            },
            if c.kind == ClosureKind::Button {
                " and the buttonhole"
            } else {
                ""
            }
        ));
    }
    let small_parts = small_parts(plan.made_for, c.kind);
    shown.cautions.extend(small_parts.clone());
    let cost = c
        .price
        .filter(|p| price_is_sound(*p))
        .map(|p| Money::hundredths(p.as_hundredths().saturating_mul(count)));
    let (positions, gaps) = placed.map_or((Vec::new(), Vec::new()), |p| (p.centres, p.gaps));
    ClosureFigures {
        closure: c.id.clone(),
        name: called(&c.name, &c.id),
        kind: c.kind,
        count,
        line: c.line,
        positions,
        gaps,
        bust_level: c.bust_level.filter(|_| zip.is_none()),
        extension,
        overlap: extension.map(|e| e * 2),
        buttonhole,
        hole_starts: buttonhole.map(|_| rules::HOLE_STARTS),
        ligne,
        zip,
        small_parts,
        cost,
        shown,
    }
}

fn place(c: &Closure, last: Length, unit: Unit, shown: &mut Shown) -> Positions {
    let span = last - c.first;
    shown.working.push(format!(
        "Line {} − first {} from the upper end − last {} from the lower end = {} between them.",
        show(c.line, unit),
        show(c.first, unit),
        show(c.last, unit),
        show(span, unit)
    ));
    let mark = c.bust_level;
    let placed = match (c.count, c.spacing) {
        (Some(count), _) => positions::by_count(c.first, last, i64::from(count), mark),
        (None, Some(spacing)) => positions::by_spacing(c.first, last, spacing, mark),
        // The check lets neither through.
        (None, None) => positions::by_count(c.first, last, 1, mark),
    };
    let n = placed.centres.len();
    if n > 1 {
        let gaps = n - 1;
        shown.working.push(if placed.unevenness() == Length::ZERO {
            format!(
                "{n} of them, {gaps} {}: {} ÷ {gaps} = {} centre to centre.",
                if gaps == 1 { "gap" } else { "gaps" },
                show(span, unit),
                show(placed.widest(), unit)
            )
        } else {
            uneven(c, last, &placed, unit)
        });
    }
    if let Some(mark) = mark {
        let carried = placed.centres.contains(&mark);
        if carried {
            shown
                .working
                .push(format!("One sits exactly at bust level, {}.", show(mark, unit)));
        } else {
            shown.cautions.push(format!(
                "None sits at bust level, {}: the front gapes there. Type at least 3.",
                show(mark, unit)
            ));
        }
    }
    if let Some(spacing) = c.spacing {
        shown.allowances.push(AllowanceUsed {
            name: "Centre to centre at most".into(),
            value: show(spacing, unit),
            source: "set for this row; shirts 3 to 3 1/2 in (ICAR e-course, ecoursesonline.iasri.res.in, id 27312), fitted ones \
                     2 1/2 to 3 in (sewingmadeclear.com button guide)"
                .into(),
        });
        let widest = placed.widest();
        if widest > spacing {
            shown.cautions.push(format!(
                "With {n} the widest gap is {}, more than the {} you allow; {} would keep to it.",
                widest.both(unit, Round::Up),
                show(spacing, unit),
                positions::least_count(c.first, last, spacing, mark)
            ));
        } else if c.count.is_none()
            && let Some(even) = positions::more_even(c.first, last, spacing, mark, 2)
        {
            shown.working.push(format!(
                "More even: {} of them, {} to {} apart.",
                even.centres.len(),
                show(even.gaps.iter().copied().min().unwrap_or_default(), unit),
                show(even.widest(), unit)
            ));
        }
    }
    placed
}

/// The gaps above and below the one at bust level, which differ.
fn uneven(c: &Closure, last: Length, placed: &Positions, unit: Unit) -> String {
    let mark = c.bust_level.unwrap_or(c.first);
    let above = placed.centres.iter().filter(|x| **x < mark).count().max(1) as i64;
    let below = placed.centres.iter().filter(|x| **x > mark).count().max(1) as i64;
    format!(
        "{} of them. Above bust level {} ÷ {above} = {}; below it {} ÷ {below} = {}.",
        placed.centres.len(),
        show(mark - c.first, unit),
        show((mark - c.first).scale_up(1, above), unit),
        show(last - mark, unit),
        show((last - mark).scale_up(1, below), unit)
    )
}

fn extension(size: Length, unit: Unit, shown: &mut Shown) -> Length {
    let [used, others @ ..] = rules::extension_rules(size);
    shown.working.push(format!(
        "Beyond the centre line: {} of {} = {}; both fronts together overlap {}.",
        used.words,
        cut(size, unit),
        cut(used.length, unit),
        cut(used.length * 2, unit)
    ));
    let printed: Vec<String> = others
        .iter()
        .map(|r| format!("{}: {} ({})", r.words, cut(r.length, unit), r.source))
        .collect();
    shown
        .working
        .push(format!("Other rules in print: {}.", printed.join("; ")));
    shown.allowances.push(AllowanceUsed {
        name: "Front beyond the centre line".into(),
        value: format!("{}, {}", cut(used.length, unit), used.words),
        source: used.source.into(),
    });
    used.length
}

/// What comes off is swallowed.
fn small_parts(made_for: MadeFor, kind: ClosureKind) -> Option<String> {
    if kind == ClosureKind::Zip {
        return match made_for {
            MadeFor::Child | MadeFor::Animal => {
                Some("A zip's pull can come off, and its teeth catch skin and fur: put a guard under it.".into())
            }
            _ => None,
        };
    }
    match made_for {
        MadeFor::Child => Some(
            "Small parts that come off are swallowed: for children under 3 leave them out or sew each on with a shank and \
             pull hard at it before every use. Local rules for children's wear go before this advice."
                .into(),
        ),
        MadeFor::Animal => Some(
            "An animal chews off small parts and swallows them: use tape or ties where it reaches, and pull hard at each \
             one before every use. Local rules go before this advice."
                .into(),
        ),
        MadeFor::Adult | MadeFor::Household => None,
    }
}

/// To a sixteenth of an inch and a tenth of a centimetre.
fn show(x: Length, unit: Unit) -> String {
    x.both_sixteenths(unit, Round::Nearest)
}

fn cut(x: Length, unit: Unit) -> String {
    x.both_sixteenths(unit, Round::Up)
}

/// To a hundredth of a millimetre, as trade sizes are printed.
fn millimetres(x: Length) -> String {
    let hundredths = (x.units() * 100 + 320).div_euclid(640);
    format!("{}.{:02} mm", hundredths / 100, hundredths % 100)
}
