//! The lines of materials: what each is, how much of it, what it is for.

use super::{Line, Source};
use crate::figures::thread::spool_both;
use crate::figures::{BindingFigures, ClothFigures, Figures, Purpose, cloth_use, to_buy_on};
use crate::measure::{Length, Round, Unit};
use crate::notebook::SourcePattern;
use crate::plan::{Alteration, ClothKind, NotionKind, Plan};

pub fn line(key: String, name: &str, quantity: String, detail: String, link: &str) -> Line {
    Line {
        key,
        name: name.into(),
        quantity,
        detail,
        link: link.into(),
        ..Line::default()
    }
}

pub fn pattern(p: &SourcePattern) -> Vec<Line> {
    if p.name.is_empty() && p.maker.is_empty() {
        return Vec::new();
    }
    let name = if p.name.is_empty() { "Pattern" } else { &p.name };
    let by = if p.maker.is_empty() {
        String::new()
    } else {
        format!("by {}", p.maker)
    };
    let size = if p.size.is_empty() {
        String::new()
    } else {
        format!("size {}", p.size)
    };
    vec![line(
        "pattern".into(),
        name,
        String::new(),
        joined(&[by, size]),
        &p.link,
    )]
}

/// Each with whether it is a backing and nothing else.
pub fn cloths(source: &Source<'_>, kind: ClothKind) -> Vec<(bool, Line)> {
    let Source { plan, figures, .. } = *source;
    figures
        .cloths
        .iter()
        .filter(|f| f.kind == kind && f.is_used())
        .filter_map(|f| Some((f, plan.cloth(&f.cloth)?)))
        .map(|(f, c)| {
            let (to_buy, width) = to_buy(source, f);
            let uses = uses(f, figures);
            let way = if c.one_way { "runs one way" } else { "" };
            let detail = joined(&[
                c.fibre.clone(),
                width,
                for_what(&uses),
                way.into(),
                packed(figures, f, plan.unit),
            ]);
            let line = Line {
                used: used(plan, figures, &c.id),
                widths: widths(f, plan.unit),
                ..line(format!("cloth/{}", c.id), &c.name, to_buy, detail, &c.link)
            };
            (uses == ["backing"], line)
        })
        .collect()
}

/// "or in packages: 1 of 45 × 60 in (114.3 × 152.4 cm), sold as crib": what serves
/// of the sizes batting is packed in.
fn packed(figures: &Figures, cloth: &ClothFigures, unit: Unit) -> String {
    let battings = figures.batting.iter().find(|b| b.cloth == cloth.cloth);
    // With a batting that is not counted yet it would be too small.
    let battings = battings.filter(|_| cloth.not_counted.is_empty());
    let Some(best) = battings.and_then(|b| b.packages.iter().find(|p| p.best)) else {
        return String::new();
    };
    let size = best.size.both(unit, Round::Nearest);
    format!("or in packages: {} of {size}, sold as {}", best.count, best.name)
}

/// What is to be bought, and of which width.
fn to_buy(source: &Source<'_>, f: &ClothFigures) -> (String, String) {
    let unit = source.plan.unit;
    // Up: on a narrower cloth the amount would not do.
    let wide = |width: Length| format!("{} wide", width.both(unit, Round::Up));
    let own = (f.to_buy_if_none_owned, wide(f.usable_width));
    // The viewer's width is that of cloth, not of batting.
    let (amount, width) = match source.width.filter(|_| f.kind == ClothKind::Cloth) {
        None => own,
        Some(width) => match to_buy_on(f, width) {
            Some(found) => (found.to_buy, format!("on yours, {}", wide(width))),
            None => (
                own.0,
                format!("{}: on one as narrow as yours it is not worked out", own.1),
            ),
        },
    };
    let amount = amount.both_cloth(unit, Round::Up);
    if f.not_counted.is_empty() {
        (amount, width)
    } else {
        (format!("more than {amount}"), width)
    }
}

fn widths(f: &ClothFigures, unit: Unit) -> Vec<(String, String)> {
    let more = if f.not_counted.is_empty() { "" } else { "more than " };
    let others = f.other_widths.iter().filter(|w| w.width != f.usable_width);
    others
        .map(|w| {
            let amount = w.to_buy.both_cloth(unit, Round::Up);
            (w.width.both(unit, Round::Nearest), format!("{more}{amount}"))
        })
        .collect()
}

/// "1 1/4 yd (1.12 m), 2 remnants and 24 ready-cut patches".
fn used(plan: &Plan, figures: &Figures, cloth: &str) -> String {
    let Some(used) = cloth_use(plan, figures, cloth) else {
        return String::new();
    };
    let mut parts = Vec::new();
    if used.length.is_positive() {
        parts.push(used.length.both_cloth(plan.unit, Round::Up));
    }
    let remnants = used.remnants.iter().map(|r| u64::from(r.count));
    let remnants: u64 = remnants.chain(used.outlined.iter().map(|o| u64::from(o.count))).sum();
    match remnants {
        0 => {}
        1 => parts.push("1 remnant".into()),
        n => parts.push(format!("{n} remnants")),
    }
    match used.ready_cut.iter().map(|r| u64::from(r.0.count)).sum::<u64>() {
        0 => {}
        1 => parts.push("1 ready-cut patch".into()),
        n => parts.push(format!("{n} ready-cut patches")),
    }
    if parts.is_empty() || used.not_counted.is_empty() {
        listed(&parts)
    } else {
        format!("more than {}", listed(&parts))
    }
}

/// "a, b and c".
fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// "patches", "backing", "binding".
fn uses(f: &ClothFigures, figures: &Figures) -> Vec<&'static str> {
    let mut words: Vec<&'static str> = Vec::new();
    // A binding cut from remnants stands in no cut list; others have none and need its cloth.
    let from_remnants = |b: &BindingFigures| b.cloth == f.cloth && !b.cut_from.is_empty();
    let kept = figures.binding.as_ref().is_some_and(from_remnants);
    for cut in &f.cuts {
        let word = match cut.purpose {
            Purpose::Patch { .. } => "patches",
            Purpose::Sashing => "sashing",
            Purpose::Border => "borders",
            Purpose::PlainPanel => "plain panels",
            Purpose::Backing => "backing",
            Purpose::Batting => "batting",
            Purpose::StraightBinding | Purpose::BiasRectangle | Purpose::ContinuousSquare => "binding",
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    if kept {
        words.push("binding");
    }
    words
}

/// "for patches, backing and binding".
fn for_what(uses: &[&str]) -> String {
    match uses {
        [] | ["batting"] => String::new(),
        uses => format!(
            "for {}",
            listed(&uses.iter().map(|u| u.to_string()).collect::<Vec<_>>())
        ),
    }
}

pub fn binding(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let Some(b) = &figures.binding else { return Vec::new() };
    let detail = format!(
        "cut {} wide for {} finished",
        b.strip_width.both(plan.unit, Round::Up),
        b.finished_width.both(plan.unit, Round::Nearest)
    );
    vec![line(
        "binding".into(),
        "Binding",
        b.total.both_cloth(plan.unit, Round::Up),
        detail,
        "",
    )]
}

pub fn closures(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let unit = plan.unit;
    figures
        .closures
        .iter()
        .filter_map(|f| Some((f, plan.closure(&f.closure)?)))
        .map(|(f, c)| {
            let quantity = match f.zip {
                Some(zip) => format!("1 zip of {}", zip.both_sixteenths(unit, Round::Up)),
                None => format!("{} {}", f.count, c.kind.counted(f.count)),
            };
            let across = c.size.is_positive() && f.zip.is_none();
            let size = if across {
                format!("{} across", c.size.both_sixteenths(unit, Round::Nearest))
            } else {
                String::new()
            };
            let ligne = f.ligne.map(|l| format!("{l} ligne")).unwrap_or_default();
            line(
                format!("closure/{}", c.id),
                &c.name,
                quantity,
                joined(&[size, ligne]),
                &c.link,
            )
        })
        .collect()
}

pub fn thread(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let Some(t) = figures.thread.as_ref().filter(|t| t.total.is_positive()) else {
        return Vec::new();
    };
    let amount = t.total.both_cloth(plan.unit, Round::Up);
    let more = if t.not_counted.is_empty() { "" } else { "more than " };
    let spools = if t.spools == 1 { "spool" } else { "spools" };
    vec![line(
        "thread".into(),
        "Thread",
        format!("{more}{amount}"),
        format!("{} {spools} of {}", t.spools, spool_both(t.spool, plan.unit)),
        "",
    )]
}

pub fn notions(plan: &Plan, kind: NotionKind) -> Vec<Line> {
    plan.notions
        .iter()
        .filter(|n| n.kind == kind)
        .map(|n| Line {
            remark: n.remark.clone(),
            ..line(
                format!("notion/{}", n.id),
                &n.name,
                n.quantity.clone(),
                String::new(),
                &n.link,
            )
        })
        .collect()
}

/// "+1 in (2.5 cm) in height".
pub fn altered_by(a: &Alteration, unit: Unit) -> String {
    let sign = if a.by.is_negative() { "−" } else { "+" };
    format!("{sign}{} in {}", a.by.abs().both(unit, Round::Nearest), a.along.name())
}

pub fn joined(parts: &[String]) -> String {
    parts
        .iter()
        .filter(|p| !p.is_empty())
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join(", ")
}
