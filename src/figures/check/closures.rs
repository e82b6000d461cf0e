//! Rows of closures: what keeps one from being placed.

use super::{Finder, called, price_is_sound};
use crate::figures::closures::positions::least_count;
use crate::measure::INCH;
use crate::plan::{Closure, ClosureKind, limits};

/// Whether each row can be worked out.
pub(super) fn check(find: &mut Finder) -> Vec<bool> {
    let plan = find.plan;
    if !find.list("closures", "rows of closures", plan.closures.len(), limits::CLOSURES) {
        return vec![false; plan.closures.len()];
    }
    let ids = find.ids("closures", "closure", plan.closures.iter().map(|c| c.id.as_str()));
    plan.closures
        .iter()
        .zip(ids)
        .map(|(closure, id)| {
            let at = format!("closures/{}", closure.id);
            find.name(format!("{at}/name"), "row of closures", &closure.name);
            find.text(format!("{at}/link"), "The link", &closure.link);
            if closure.price.is_some_and(|p| !price_is_sound(p)) {
                find.add(
                    format!("{at}/price"),
                    "The price of one must be between 0 and 999,999. Type it again.",
                );
            }
            id & row(find, closure, &at)
        })
        .collect()
}

fn row(find: &mut Finder, c: &Closure, at: &str) -> bool {
    let name = called(&c.name, &c.id);
    let mut sound = find.positive(&format!("{at}/line"), &format!("The line of {name}"), c.line);
    for (field, what, length) in [
        ("first", "The first one's distance from the upper end", c.first),
        ("last", "The last one's distance from the lower end", c.last),
    ] {
        sound &= find.at_least_nothing(&format!("{at}/{field}"), what, length);
    }
    for (field, what, length) in [
        ("size", "The diameter", c.size),
        ("thickness", "The thickness", c.thickness),
    ] {
        let place = format!("{at}/{field}");
        sound &= find.at_least_nothing(&place, what, length) && find.at_most(&place, what, length, INCH * 10);
    }
    if c.kind != ClosureKind::Zip {
        if let Some(count) = c.count {
            sound &= find.count(
                format!("{at}/count"),
                "The number of closures",
                count,
                limits::CLOSURE_COUNT,
            );
        }
        if let Some(spacing) = c.spacing {
            sound &= find.positive(&format!("{at}/spacing"), "The spacing", spacing);
        }
        if c.count.is_none() && c.spacing.is_none() {
            sound = find.add(
                format!("{at}/spacing"),
                format!("{name} has neither a number nor a spacing. Type how far apart they sit at most, or how many."),
            );
        }
    }
    sound && fits(find, c, at, &name)
}

/// First and last, and the one at bust level, lie on the line.
fn fits(find: &mut Finder, c: &Closure, at: &str, name: &str) -> bool {
    let last = c.line - c.last;
    let several = c.kind == ClosureKind::Zip || c.count != Some(1);
    if c.first > last || (several && c.first == last) {
        let message = format!(
            "On a line of {} the first of {name} at {} and the last at {} from the other end leave nothing between them. \
             Type shorter distances, or a longer line.",
            find.show(c.line),
            find.show(c.first),
            find.show(c.last)
        );
        return find.add(format!("{at}/first"), message);
    }
    if c.kind == ClosureKind::Zip {
        return true;
    }
    if let Some(mark) = c.bust_level
        && (mark < c.first || mark > last)
    {
        let message = format!(
            "Bust level is {}, outside the closures from {} to {}. Measure it from the upper end of the line.",
            find.show(mark),
            find.show(c.first),
            find.show(last)
        );
        return find.add(format!("{at}/bust_level"), message);
    }
    // A spacing that is slipped by a unit would ask for thousands.
    if let (None, Some(spacing)) = (c.count, c.spacing) {
        let count = least_count(c.first, last, spacing, c.bust_level);
        if count > i64::from(limits::CLOSURE_COUNT) {
            let message = format!(
                "{name} takes {count} closures at {} apart; {} are the most. Check the unit of the spacing.",
                find.show(spacing),
                limits::CLOSURE_COUNT
            );
            return find.add(format!("{at}/spacing"), message);
        }
    }
    let crowded = |count: u32| count > 1 && c.size * i64::from(count - 1) > last - c.first;
    if let Some(count) = c.count.filter(|n| crowded(*n)) {
        let message = format!(
            "{count} closures of {} each do not fit between the first and the last, {} apart. Type fewer.",
            find.show(c.size),
            find.show(last - c.first)
        );
        return find.add(format!("{at}/count"), message);
    }
    true
}
