//! Thread: seams by ISO 4915 stitch times what the stitch takes, ends and waste
//! added, in whole spools.
//!
//! - [`ratios`]: printed ratios, formulas, samples, waste, spools
//! - [`seams`]: the seams a plan's figures know of

pub mod ratios;
mod seams;

use super::check::{Checked, price_is_sound};
use super::{AllowanceUsed, BindingFigures, PieceFigures, QuiltingFigures, Shown};
use crate::measure::{Length, METRE, Money, Round, Unit, YARD};
use crate::plan::{Plan, Stitch, Thread};
use ratios::{Ratio, by_formula, ratio, spools, with_waste};
use serde::Serialize;

/// Thread for the whole plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ThreadFigures {
    pub seams: Vec<SeamThread>,
    /// The same added up by stitch, waste included.
    pub by_stitch: Vec<StitchThread>,
    pub before_waste: Length,
    /// With waste: what must be there.
    pub total: Length,
    pub spool: Length,
    pub spools: i64,
    /// Of whole spools, where the price of one is known.
    pub cost: Option<Money>,
    /// Seams of the plan that are not in it, in words.
    pub not_counted: Vec<String>,
    pub shown: Shown,
}

/// What a line of seams is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sewn {
    Piecing,
    Joins,
    Quilting,
    Binding,
    /// As the maker typed it.
    Typed,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SeamThread {
    pub what: String,
    pub sewn: Sewn,
    /// All seams of the line together, and how many.
    pub length: Length,
    pub seams: i64,
    /// With what is sewn beyond their ends.
    pub with_ends: Length,
    pub stitch: Stitch,
    pub ratio: Ratio,
    /// Before waste.
    pub thread: Length,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StitchThread {
    pub stitch: Stitch,
    pub length: Length,
    pub thread: Length,
}

impl SeamThread {
    fn new(thread: &Thread, what: String, sewn: Sewn, length: Length, seams: i64, stitch: Stitch) -> SeamThread {
        let (printed, _) = ratio(stitch);
        let ratio = match sewn {
            Sewn::Quilting | Sewn::Binding => thick(thread, stitch).map_or(printed, |thick| thick.max(printed)),
            _ => printed,
        };
        let with_ends = length + thread.seam_end * 2 * seams;
        SeamThread {
            what,
            sewn,
            length,
            seams,
            with_ends,
            stitch,
            ratio,
            thread: ratio.of(with_ends),
        }
    }
}

/// Through all layers a lockstitch takes more than the printed ratio.
fn thick(thread: &Thread, stitch: Stitch) -> Option<Ratio> {
    by_formula(stitch, 1, thread.stitch_length, thread.layers, Length::ZERO)
}

/// `None` where the plan counts no thread, or cannot.
pub(super) fn thread(
    plan: &Plan,
    checked: &Checked,
    pieces: &[PieceFigures],
    quilting: &QuiltingFigures,
    binding: Option<&BindingFigures>,
) -> Option<ThreadFigures> {
    if (plan.thread.is_none() && plan.seams.is_empty()) || !checked.thread {
        return None;
    }
    let settings = plan.thread.clone().unwrap_or_default();
    let found = seams::seams(plan, checked, &settings, pieces, quilting, binding);
    let before_waste: Length = found.seams.iter().map(|s| s.thread).sum();
    let total = with_waste(before_waste, settings.waste);
    let spools = spools(total, settings.spool)?;
    let by_stitch = Stitch::ALL
        .into_iter()
        .filter_map(|stitch| {
            let of = || found.seams.iter().filter(move |s| s.stitch == stitch);
            of().next()?;
            Some(StitchThread {
                stitch,
                length: of().map(|s| s.length).sum(),
                thread: with_waste(of().map(|s| s.thread).sum(), settings.waste),
            })
        })
        .collect();
    let price = settings.price.filter(|p| price_is_sound(*p));
    let mut figures = ThreadFigures {
        seams: found.seams,
        by_stitch,
        before_waste,
        total,
        spool: settings.spool,
        spools,
        cost: price.map(|p| Money::hundredths(p.as_hundredths().saturating_mul(spools))),
        not_counted: found.not_counted,
        shown: Shown::default(),
    };
    figures.shown = shown(plan, &settings, &figures);
    Some(figures)
}

fn shown(plan: &Plan, settings: &Thread, f: &ThreadFigures) -> Shown {
    let unit = plan.unit;
    let mut shown = Shown::default();
    for s in &f.seams {
        let ends = s.with_ends - s.length;
        shown.working.push(format!(
            "{}: {} in {} {}{} × {} ({}) = {}.",
            s.what,
            long(s.length, unit),
            s.seams,
            if s.seams == 1 { "seam" } else { "seams" },
            if ends.is_positive() {
                format!(" + {} of ends", long(ends, unit))
            } else {
                String::new()
            },
            s.ratio,
            stitch_number(s.stitch),
            long(s.thread, unit)
        ));
    }
    if !f.seams.is_empty() {
        shown.working.push(format!(
            "Together {}; with {} of waste {}; on spools of {}: {}.",
            long(f.before_waste, unit),
            settings.waste,
            long(f.total, unit),
            spool_both(settings.spool, unit),
            f.spools
        ));
    }
    if f.seams.iter().any(|s| s.sewn == Sewn::Piecing) {
        shown.working.push(
            "Seams between patches: half of all edges of the patches as they are cut, which is never less than the seams; one \
             seam for each patch beyond the first of a panel."
                .into(),
        );
    }
    if f.seams.iter().any(|s| s.sewn == Sewn::Quilting) {
        let table: Vec<String> = ratios::MACHINE_QUILTING
            .iter()
            .map(|(size, [light, medium, heavy])| format!("{size} {light}, {medium}, {heavy}"))
            .collect();
        shown.working.push(format!(
            "For comparison only, yards of top thread for light, medium and heavy machine quilting of whole quilts, the \
             bobbin as much again: {} ({}).",
            table.join("; "),
            ratios::MACHINE_QUILTING_SOURCE
        ));
    }
    shown.allowances = allowances(settings, f, unit);
    if !f.not_counted.is_empty() {
        shown.cautions.push(format!(
            "Not counted: {}. More thread will be needed.",
            f.not_counted.join(", ")
        ));
    }
    if plan.seams.is_empty() && !plan.pieces.is_empty() {
        shown
            .cautions
            .push("The seams that join the pieces, hems and overedging are not counted: add them as seams.".into());
    }
    let most = f
        .by_stitch
        .iter()
        .map(|s| (ratios::threads(s.stitch), s.stitch))
        .max_by_key(|(n, _)| *n)
        .filter(|(n, _)| *n > 2);
    if let Some((threads, stitch)) = most {
        shown.cautions.push(format!(
            "For {} have {threads} spools or cones, however little is on each: it sews with so many threads at once.",
            stitch_name(stitch)
        ));
    }
    shown
}

fn allowances(settings: &Thread, f: &ThreadFigures, unit: Unit) -> Vec<AllowanceUsed> {
    let default = Thread::default();
    let from = |is_default: bool, source: &str| {
        if is_default {
            source.to_string()
        } else {
            "set for this project".into()
        }
    };
    let mut used: Vec<AllowanceUsed> = Vec::new();
    for s in &f.by_stitch {
        let (ratio, source) = ratio(s.stitch);
        let others: Vec<String> = ratios::printed(s.stitch)
            .iter()
            .filter(|(other, _)| *other != ratio)
            .map(|(other, source)| format!("; {other} in {source}"))
            .collect();
        used.push(AllowanceUsed {
            name: format!("Thread for a length of {}", stitch_name(s.stitch)),
            value: format!("{ratio} times its length"),
            source: format!("{source}{}", others.concat()),
        });
    }
    let thicker = f
        .seams
        .iter()
        .filter(|s| s.ratio > ratio(s.stitch).0)
        .max_by_key(|s| s.ratio);
    if let Some(s) = thicker {
        used.push(AllowanceUsed {
            name: "Thread through all layers".into(),
            value: format!(
                "{} times the length, at stitches of {} through {}",
                s.ratio,
                millimetres(settings.stitch_length),
                millimetres(settings.layers)
            ),
            source: format!("{}; the thickness: common practice", ratios::UNION_SPECIAL),
        });
    }
    used.push(AllowanceUsed {
        name: "Beyond each end of a seam".into(),
        value: settings.seam_end.both(unit, Round::Nearest),
        source: from(
            settings.seam_end == default.seam_end,
            "2 to 3 cm at each end, Coats India list, scribd.com/document/194966618",
        ),
    });
    used.push(AllowanceUsed {
        name: "Waste of thread".into(),
        value: settings.waste.to_string(),
        source: from(
            settings.waste == default.waste,
            "20 %: Noor Ahmed Raaz 2015, textilecalculation.blogspot.com/2015/09/thread-consumption-of-full-sleeve-woven.html; \
             15 to 20 % (A&E Technical Bulletin), 10 to 15 % (apparelscience.com)",
        ),
    });
    used
}

/// As it is printed on the spool, the other system beside it: `100 m (109 yd)`.
pub fn spool_both(spool: Length, unit: Unit) -> String {
    let whole = |unit: Length| spool.units() % unit.units() == 0;
    let (metres, yards) = (spool.times_fits(METRE), spool.times_fits(YARD));
    if whole(METRE) {
        format!("{metres} m ({yards} yd)")
    } else if whole(YARD) {
        format!("{yards} yd ({metres} m)")
    } else {
        spool.both_cloth(unit, Round::Down)
    }
}

/// "lockstitch (301)".
pub fn stitch_name(stitch: Stitch) -> &'static str {
    match stitch {
        Stitch::S101 => "single-thread chainstitch (101)",
        Stitch::S103 => "blindstitch (103)",
        Stitch::S301 => "lockstitch (301)",
        Stitch::S304 => "zigzag lockstitch (304)",
        Stitch::S401 => "two-thread chainstitch (401)",
        Stitch::S406 => "two-needle covering chainstitch (406)",
        Stitch::S503 => "two-thread overedge (503)",
        Stitch::S504 => "three-thread overedge (504)",
        Stitch::S512 => "four-thread mock safety (512)",
        Stitch::S516 => "five-thread safety (516)",
        Stitch::S602 => "two-needle covering chainstitch, both sides (602)",
        Stitch::S605 => "three-needle covering chainstitch, both sides (605)",
        Stitch::S606 => "four-needle flat seam (606)",
        Stitch::Hand => "hand sewing",
    }
}

fn stitch_number(stitch: Stitch) -> &'static str {
    let name = stitch_name(stitch);
    match name.rsplit_once('(') {
        Some((_, number)) => number.trim_end_matches(')'),
        None => "by hand",
    }
}

/// Yards and metres from a yard on, below it inches and centimetres.
fn long(x: Length, unit: Unit) -> String {
    if x < YARD {
        x.both(unit, Round::Up)
    } else {
        x.both_cloth(unit, Round::Up)
    }
}

/// Stitches are set in millimetres on every machine.
fn millimetres(x: Length) -> String {
    let tenths = x.round_to(Length::from_units(64)).units() / 64;
    match tenths % 10 {
        0 => format!("{} mm", tenths / 10),
        t => format!("{}.{t} mm", tenths / 10),
    }
}
