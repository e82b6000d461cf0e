//! Size and ease: the wearer against the size table of a pattern, girth by girth.
//!
//! - [`ease`]: ease as it is printed, for comparison

pub mod ease;

use super::check::Checked;
use super::{AllowanceUsed, Shown};
use crate::measure::{Length, Round, Unit};
use crate::plan::{Plan, SizeRow, Sizing};
use ease::{EaseHint, hints};
use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SizingFigures {
    /// As the pattern calls them, smallest first.
    pub sizes: Vec<String>,
    pub rows: Vec<SizeFit>,
    /// Index of the size to take, and why it is this one.
    pub recommended: Option<usize>,
    pub why: String,
    /// Index of the size the rest is told for: the maker's, else the recommended one.
    pub taken: Option<usize>,
    pub shown: Shown,
}

/// One girth or length. All lists are by size.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SizeFit {
    pub name: String,
    pub wearer: Option<Length>,
    pub place: Option<SizePlace>,
    /// The size whose body measure is nearest to the wearer's.
    pub nearest: Option<usize>,
    /// The smallest that is large enough: by the finished garment and the ease
    /// wanted where both are known, else by the body.
    pub needed: Option<usize>,
    /// Wearer less the body of the nearest size, and of the size taken.
    pub off_nearest: Option<Length>,
    pub off_taken: Option<Length>,
    /// Ease the pattern is drawn with: garment less body.
    pub designed_ease: Vec<Length>,
    /// Ease on this wearer: garment less wearer.
    pub ease: Vec<Length>,
    /// Finished measure of the size taken, and the one wanted: wearer and ease.
    pub garment: Option<Length>,
    pub wanted: Option<Length>,
    /// To add to the size taken all round (less than nothing: to take in).
    pub alter: Option<Length>,
    /// The size to grade to from the size taken, where another is needed here.
    pub grade_to: Option<usize>,
    pub hints: Vec<EaseHint>,
}

/// Where the wearer stands among the sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SizePlace {
    Smaller,
    /// Exactly this size.
    Is(usize),
    Between(usize, usize),
    Larger,
}

/// What is hard to alter decides, in this order: a bust or chest before a hip,
/// and a hip before anything else.
const DECIDING: [(&str, &str); 3] = [
    ("bust", "a bust is hard to alter, waist and hip are not"),
    ("chest", "a chest is hard to alter, waist and hip are not"),
    ("hip", "a waist is taken in more easily than a hip is let out"),
];

pub(super) fn sizing(plan: &Plan, checked: &Checked) -> Option<SizingFigures> {
    let table = plan.sizing.as_ref().filter(|_| checked.sizing.table)?;
    let sound: Vec<&SizeRow> = table
        .rows
        .iter()
        .zip(&checked.sizing.rows)
        .filter(|(_, sound)| **sound)
        .map(|(row, _)| row)
        .collect();
    let mut rows: Vec<SizeFit> = sound.iter().map(|row| fit(row)).collect();
    let (recommended, why) = recommend(table, &rows);
    let chosen = table.sizes.iter().position(|s| *s == table.chosen);
    let taken = chosen.or(recommended);
    if let Some(taken) = taken {
        for (fit, row) in rows.iter_mut().zip(&sound) {
            at_size(fit, row, taken);
        }
    }
    let shown = shown(table, &rows, recommended, taken, plan.unit);
    Some(SizingFigures {
        sizes: table.sizes.clone(),
        rows,
        recommended,
        why,
        taken,
        shown,
    })
}

fn fit(row: &SizeRow) -> SizeFit {
    let wearer = row.wearer;
    let wanted = wearer.zip(row.ease).map(|(wearer, ease)| wearer + ease);
    let difference = |garment: &Length, from: Length| *garment - from;
    let nearest = wearer.and_then(|w| {
        let by_distance = |n: &usize| ((row.body[*n] - w).abs(), std::cmp::Reverse(*n));
        (0..row.body.len()).min_by_key(by_distance)
    });
    let needed = match wanted.filter(|_| !row.garment.is_empty()) {
        Some(wanted) => row.garment.iter().position(|g| *g >= wanted),
        None => wearer.and_then(|w| row.body.iter().position(|b| *b >= w)),
    };
    SizeFit {
        name: row.name.trim().to_string(),
        wearer,
        place: wearer.and_then(|w| place(&row.body, w)),
        nearest,
        needed,
        off_nearest: nearest.zip(wearer).map(|(n, w)| w - row.body[n]),
        off_taken: None,
        designed_ease: row.garment.iter().zip(&row.body).map(|(g, b)| *g - *b).collect(),
        ease: wearer.map_or(Vec::new(), |w| row.garment.iter().map(|g| difference(g, w)).collect()),
        garment: None,
        wanted,
        alter: None,
        grade_to: None,
        hints: hints(&row.name).to_vec(),
    }
}

fn place(body: &[Length], wearer: Length) -> Option<SizePlace> {
    let (first, last) = (*body.first()?, *body.last()?);
    if let Some(same) = body.iter().position(|b| *b == wearer) {
        return Some(SizePlace::Is(same));
    }
    if wearer < first {
        return Some(SizePlace::Smaller);
    }
    if wearer > last {
        return Some(SizePlace::Larger);
    }
    let above = body.iter().position(|b| *b > wearer)?;
    Some(SizePlace::Between(above.saturating_sub(1), above))
}

fn recommend(table: &Sizing, rows: &[SizeFit]) -> (Option<usize>, String) {
    let largest = table.sizes.len().saturating_sub(1);
    // Beyond the largest size the largest is graded up.
    let size = |fit: &SizeFit| fit.wearer.map(|_| fit.needed.unwrap_or(largest));
    let named = |n: usize| table.sizes.get(n).map_or("", String::as_str);
    for (word, why) in DECIDING {
        let deciding = rows
            .iter()
            .filter(|fit| hints(&fit.name).iter().any(|_| fit.name.to_lowercase().contains(word)))
            .filter_map(|fit| Some((size(fit)?, fit)))
            .max_by_key(|(n, _)| *n);
        if let Some((n, fit)) = deciding {
            return (
                Some(n),
                format!("Size {} by the {}: {why}.{}", named(n), fit.name, nearer(table, fit, n)),
            );
        }
    }
    let most = rows
        .iter()
        .filter_map(|fit| Some((size(fit)?, fit)))
        .max_by_key(|(n, _)| *n);
    match most {
        Some((n, fit)) => (
            Some(n),
            format!(
                "Size {} by the {}: the largest that is needed anywhere.",
                named(n),
                fit.name
            ),
        ),
        None => (None, "No measure of the wearer is typed yet.".into()),
    }
}

/// The next smaller size may be nearer: the maker may prefer to let it out.
fn nearer(table: &Sizing, fit: &SizeFit, needed: usize) -> String {
    let by_garment = fit.wanted.is_some() && !fit.ease.is_empty();
    let nearest = fit.nearest.filter(|n| *n < needed && !by_garment);
    nearest.and_then(|n| table.sizes.get(n)).map_or(String::new(), |size| {
        format!(" Size {size} is nearer, and smaller than the wearer.")
    })
}

fn at_size(fit: &mut SizeFit, row: &SizeRow, taken: usize) {
    let body = row.body.get(taken).copied();
    fit.garment = row.garment.get(taken).copied();
    fit.off_taken = fit.wearer.zip(body).map(|(w, b)| w - b);
    fit.alter = match (fit.wanted, fit.garment) {
        (Some(wanted), Some(garment)) => Some(wanted - garment),
        _ => fit.off_taken,
    };
    fit.grade_to = fit.needed.filter(|n| *n != taken);
}

fn shown(table: &Sizing, rows: &[SizeFit], recommended: Option<usize>, taken: Option<usize>, unit: Unit) -> Shown {
    let mut shown = Shown::default();
    let named = |n: usize| table.sizes.get(n).map_or("", String::as_str);
    let show = |x: Length| x.both(unit, Round::Nearest);
    for fit in rows {
        let Some(wearer) = fit.wearer else { continue };
        let mut line = format!("{}: {}", fit.name, show(wearer));
        match fit.place {
            Some(SizePlace::Is(n)) => line.push_str(&format!(", exactly size {}", named(n))),
            Some(SizePlace::Between(a, b)) => line.push_str(&format!(", between {} and {}", named(a), named(b))),
            Some(SizePlace::Smaller) => line.push_str(", smaller than the smallest size"),
            Some(SizePlace::Larger) => line.push_str(", larger than the largest size"),
            None => {}
        }
        if let Some((nearest, off)) = fit.nearest.zip(fit.off_nearest).filter(|(_, off)| *off != Length::ZERO) {
            line.push_str(&format!(
                "; nearest is {}, {} {}",
                named(nearest),
                show(off.abs()),
                if off.is_negative() { "larger" } else { "smaller" }
            ));
        }
        if let Some(wanted) = fit.wanted {
            line.push_str(&format!("; with the ease wanted {}", show(wanted)));
            if let Some(needed) = fit.needed.filter(|_| !fit.ease.is_empty()) {
                line.push_str(&format!(", which size {} gives", named(needed)));
            }
        }
        line.push('.');
        shown.working.push(line);
    }
    if let Some(taken) = taken {
        for fit in rows {
            shown.cautions.extend(too_small(fit, named(taken), unit));
        }
        if recommended.is_some_and(|r| r != taken) {
            shown.working.push(format!(
                "Told for size {}, which was decided on; by the measures it would be {}.",
                named(taken),
                named(recommended.unwrap_or_default())
            ));
        }
    }
    for fit in rows {
        for hint in &fit.hints {
            shown.allowances.push(AllowanceUsed {
                name: format!("Printed ease, {}: {}", fit.name, hint.what),
                value: if hint.least == hint.most {
                    show(hint.least)
                } else {
                    format!("{} to {}", show(hint.least), show(hint.most))
                },
                source: hint.source.into(),
            });
        }
    }
    shown
}

/// A garment that would not go round, or with less ease than any that is printed.
fn too_small(fit: &SizeFit, size: &str, unit: Unit) -> Option<String> {
    let ease = fit.garment.zip(fit.wearer).map(|(garment, wearer)| garment - wearer)?;
    let show = |x: Length| x.both(unit, Round::Nearest);
    if ease.is_negative() {
        return Some(format!(
            "{}: size {size} is {} smaller than the wearer. Only cloth that stretches goes round.",
            fit.name,
            show(ease.abs())
        ));
    }
    let least = fit.hints.iter().map(|hint| hint.least).min()?;
    (ease < least).then(|| {
        format!(
            "{}: size {size} has {} of ease on this wearer, less than the {} that is printed as the least for woven cloth.",
            fit.name,
            show(ease),
            show(least)
        )
    })
}
