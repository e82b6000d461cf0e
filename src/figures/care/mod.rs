//! Care of the whole: the mildest treatment that all its materials bear.
//!
//! - [`words`]: each treatment in words, in the order of ISO 3758
//! - [`fibre`]: what a typed composition leaves open

pub mod fibre;
pub mod words;

use super::check::called;
use super::{AllowanceUsed, Shown};
use crate::plan::{Care, MadeFor, NotionKind, Plan, Washing};
use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CareFigures {
    /// The mildest of all materials whose care is known; `None` while none is.
    pub care: Option<Care>,
    /// It in words, in the order of ISO 3758, with what limits each.
    pub lines: Vec<CareLine>,
    /// Materials whose care is known, and those whose care is not.
    pub known: Vec<String>,
    pub unknown: Vec<String>,
    /// What typed fibres leave open.
    pub fibre_hints: Vec<String>,
    pub shown: Shown,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CareLine {
    pub treatment: &'static str,
    pub words: String,
    /// Materials that bear no more; empty where all are alike.
    pub limited_by: Vec<String>,
}

/// `None` where the plan has no material yet.
pub(super) fn care(plan: &Plan) -> Option<CareFigures> {
    let used = |id: &str| !plan.uses_of(id).is_empty();
    let any_used = plan.cloths.iter().any(|c| used(&c.id));
    let cloths = plan.cloths.iter().filter(|c| !any_used || used(&c.id));
    let mut known: Vec<(String, &Care)> = Vec::new();
    let mut unknown = Vec::new();
    let mut fibre_hints = Vec::new();
    for cloth in cloths {
        let name = called(&cloth.name, &cloth.id);
        fibre_hints.extend(fibre::hints(&name, &called(&cloth.fibre, "")));
        match &cloth.care {
            Some(care) => known.push((name, care)),
            None => unknown.push(name),
        }
    }
    // Of thread and buttons nothing is asked: a ribbon or a lace is said.
    for notion in plan.notions.iter().filter(|n| n.kind == NotionKind::Notion) {
        known.extend(
            notion
                .care
                .as_ref()
                .map(|care| (called(&notion.name, &notion.id), care)),
        );
    }
    if known.is_empty() && unknown.is_empty() {
        return None;
    }
    let care = mildest(known.iter().map(|(_, care)| *care));
    let lines = care.as_ref().map_or(Vec::new(), |care| lines(care, &known));
    let mut figures = CareFigures {
        care,
        lines,
        known: known.into_iter().map(|(name, _)| name).collect(),
        unknown,
        fibre_hints,
        shown: Shown::default(),
    };
    figures.shown = shown(plan, &figures);
    Some(figures)
}

/// The mildest of several, treatment by treatment; `None` of none.
pub fn mildest<'a>(all: impl Iterator<Item = &'a Care>) -> Option<Care> {
    all.cloned().reduce(|a, b| Care {
        washing: gentler(a.washing, b.washing),
        bleaching: a.bleaching.max(b.bleaching),
        tumble_drying: a.tumble_drying.max(b.tumble_drying),
        natural_drying: a.natural_drying.max(b.natural_drying),
        in_the_shade: a.in_the_shade || b.in_the_shade,
        ironing: a.ironing.max(b.ironing),
        dry_cleaning: a.dry_cleaning.max(b.dry_cleaning),
    })
}

/// Highest temperature in degrees C, and how gently the drum moves: 0 as
/// usual, 1 mild, 2 very mild. Nothing for what goes into no machine.
fn machine(washing: Washing) -> Option<(i64, u8)> {
    Some(match washing {
        Washing::C95 => (95, 0),
        Washing::C70 => (70, 0),
        Washing::C60 => (60, 0),
        Washing::C60Mild => (60, 1),
        Washing::C50Mild => (50, 1),
        Washing::C40 => (40, 0),
        Washing::C40Mild => (40, 1),
        Washing::C40VeryMild => (40, 2),
        Washing::C30 => (30, 0),
        Washing::C30Mild => (30, 1),
        Washing::C30VeryMild => (30, 2),
        Washing::HandWash | Washing::DoNotWash => return None,
    })
}

/// A material washed very mildly at 40 and one washed as usual at 30 together
/// take 30, very mild: neither label alone would do. There is not every pair of
/// temperature and drum; the strongest that is no stronger than either is taken.
pub fn gentler(a: Washing, b: Washing) -> Washing {
    let (Some((hot_a, mild_a)), Some((hot_b, mild_b))) = (machine(a), machine(b)) else {
        // Hand washing is milder than any machine, and not washing milder still.
        return a.max(b);
    };
    let (hot, mild) = (hot_a.min(hot_b), mild_a.max(mild_b));
    words::WASHING
        .iter()
        .filter_map(|(washing, _)| Some((*washing, machine(*washing)?)))
        .filter(|(_, (h, m))| *h <= hot && *m >= mild)
        .max_by_key(|(_, (h, m))| (*h, std::cmp::Reverse(*m)))
        .map_or(Washing::HandWash, |(washing, _)| washing)
}

/// How gentle a material wants one side of a treatment: more is gentler.
type Side<'a> = &'a dyn Fn(&Care) -> i64;

fn lines(care: &Care, known: &[(String, &Care)]) -> Vec<CareLine> {
    let line = |treatment, words: String, sides: &[Side]| CareLine {
        treatment,
        words,
        limited_by: limited(known, sides),
    };
    let rank = |c: &Care| words::WASHING.iter().position(|(w, _)| *w == c.washing).unwrap_or(0) as i64;
    // What goes into a machine is limited by its heat and by its drum apart.
    let cooler = |c: &Care| machine(c.washing).map_or(0, |(hot, _)| -hot);
    let milder = |c: &Care| machine(c.washing).map_or(0, |(_, mild)| i64::from(mild));
    let washing: &[Side] = match machine(care.washing) {
        Some(_) => &[&cooler, &milder],
        None => &[&rank],
    };
    let shade = if care.in_the_shade { ", in the shade" } else { "" };
    vec![
        line("Washing", words::of(&words::WASHING, care.washing).into(), washing),
        line(
            "Bleaching",
            words::of(&words::BLEACHING, care.bleaching).into(),
            &[&|c| c.bleaching as i64],
        ),
        line(
            "Tumble drying",
            words::of(&words::TUMBLE, care.tumble_drying).into(),
            &[&|c| c.tumble_drying as i64],
        ),
        line(
            "Natural drying",
            format!("{}{shade}", words::of(&words::NATURAL, care.natural_drying)),
            &[&|c| c.natural_drying as i64, &|c| i64::from(c.in_the_shade)],
        ),
        line(
            "Ironing",
            words::of(&words::IRONING, care.ironing).into(),
            &[&|c| c.ironing as i64],
        ),
        line(
            "Professional care",
            words::of(&words::DRY_CLEANING, care.dry_cleaning).into(),
            &[&|c| c.dry_cleaning as i64],
        ),
    ]
}

/// Materials that want it gentlest on a side on which not all are alike.
fn limited(known: &[(String, &Care)], sides: &[Side]) -> Vec<String> {
    let gentlest: Vec<Option<i64>> = sides
        .iter()
        .map(|side| {
            let all = || known.iter().map(|(_, care)| side(care));
            all().max().filter(|most| all().any(|one| one != *most))
        })
        .collect();
    known
        .iter()
        .filter(|(_, care)| {
            sides
                .iter()
                .zip(&gentlest)
                .any(|(side, most)| *most == Some(side(care)))
        })
        .map(|(name, _)| name.clone())
        .collect()
}

fn shown(plan: &Plan, f: &CareFigures) -> Shown {
    let mut shown = Shown::default();
    for line in &f.lines {
        shown.working.push(if line.limited_by.is_empty() {
            format!("{}: {}.", line.treatment, line.words)
        } else {
            format!(
                "{}: {}, because of {}.",
                line.treatment,
                line.words,
                line.limited_by.join(" and ")
            )
        });
    }
    if !f.lines.is_empty() {
        shown.allowances.push(AllowanceUsed {
            name: "Care of the whole".into(),
            value: "the mildest of each treatment".into(),
            source: "treatments and their order: ISO 3758:2012; taking the mildest: common practice".into(),
        });
    }
    if !f.unknown.is_empty() {
        shown.cautions.push(format!(
            "How {} {} washed is not known: ask the seller, or wash a measured sample. {}",
            f.unknown.join(" and "),
            if f.unknown.len() == 1 { "is" } else { "are" },
            if f.lines.is_empty() {
                "Until then the care of the whole is not known."
            } else {
                "What stands here is without it."
            }
        ));
    }
    let washed_gently = f
        .care
        .as_ref()
        .is_some_and(|care| matches!(care.washing, Washing::HandWash | Washing::DoNotWash));
    match plan.made_for {
        MadeFor::Child => {
            if washed_gently {
                shown
                    .cautions
                    .push("What a child wears is washed often: this bears no machine.".into());
            }
            shown.cautions.push(
                "For a child: wash it before it is worn. Cords at the neck and hem, nightwear near fire and small parts have \
                 rules of their own; local rules go before this advice."
                    .into(),
            );
        }
        MadeFor::Animal => {
            if washed_gently {
                shown
                    .cautions
                    .push("What an animal wears is washed often: this bears no machine.".into());
            }
            shown.cautions.push(
                "For an animal: it licks and chews what it wears. Wash out softener and dressing, leave off loose threads and \
                 fringes, and take it off when nobody watches."
                    .into(),
            );
        }
        MadeFor::Adult | MadeFor::Household => {}
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gentler_is_no_stronger_than_either() {
        for (a, _) in words::WASHING {
            for (b, _) in words::WASHING {
                let both = gentler(a, b);
                assert_eq!(both, gentler(b, a));
                for one in [a, b] {
                    match (machine(both), machine(one)) {
                        (Some((h, m)), Some((hot, mild))) => assert!(h <= hot && m >= mild, "{a:?} {b:?} {both:?}"),
                        (None, _) => assert!(both >= one, "{a:?} {b:?} {both:?}"),
                        (Some(_), None) => panic!("{a:?} {b:?} {both:?}"),
                    }
                }
                assert_eq!(gentler(a, a), a);
            }
        }
        assert_eq!(gentler(Washing::C40VeryMild, Washing::C30), Washing::C30VeryMild);
        assert_eq!(gentler(Washing::C95, Washing::C50Mild), Washing::C50Mild);
        assert_eq!(gentler(Washing::C50Mild, Washing::C40VeryMild), Washing::C40VeryMild);
        assert_eq!(gentler(Washing::HandWash, Washing::C30VeryMild), Washing::HandWash);
    }
}
