//! The size table: as many values as sizes, none smaller than the one before.

use super::{Finder, called};
use crate::measure::{INCH, Length};
use crate::plan::{SizeRow, Sizing, limits};

#[derive(Clone, Default)]
pub(in crate::figures) struct SizingSound {
    pub table: bool,
    pub rows: Vec<bool>,
}

pub(super) fn check(find: &mut Finder) -> SizingSound {
    let Some(sizing) = &find.plan.sizing else {
        return SizingSound::default();
    };
    let table = sizes(find, sizing);
    let few = if sizing.rows.len() > limits::SIZE_ROWS {
        find.add(
            "sizing/rows",
            format!(
                "The size table has {} rows; it can hold {}. Leave out those you do not fit by.",
                sizing.rows.len(),
                limits::SIZE_ROWS
            ),
        )
    } else {
        true
    };
    find.text("sizing/measured_on".into(), "The day of measuring", &sizing.measured_on);
    if !table || !few {
        return SizingSound {
            table: false,
            rows: vec![false; sizing.rows.len()],
        };
    }
    let rows = sizing
        .rows
        .iter()
        .enumerate()
        .map(|(n, r)| row(find, sizing, r, &format!("sizing/rows/{n}")))
        .collect();
    SizingSound { table: true, rows }
}

fn sizes(find: &mut Finder, sizing: &Sizing) -> bool {
    let at = "sizing/sizes";
    let sizes = &sizing.sizes;
    if sizes.is_empty() {
        return find.add(
            at,
            "The size table has no sizes. Type them as the pattern calls them, smallest first: 8, 10, 12.",
        );
    }
    if sizes.len() > limits::SIZES {
        return find.add(
            at,
            format!(
                "The size table has {} sizes; it can hold {}.",
                sizes.len(),
                limits::SIZES
            ),
        );
    }
    let mut sound = true;
    for (n, size) in sizes.iter().enumerate() {
        if size.trim().is_empty() {
            sound = find.add(at, format!("Size {} of the table has no name. Type one.", n + 1));
        } else if size.chars().count() > 40 {
            sound = find.add(
                at,
                format!("The name of size {} is longer than 40 characters. Shorten it.", n + 1),
            );
        } else if sizes[..n].contains(size) {
            sound = find.add(
                at,
                format!("Size {} stands twice in the table. Take one out.", called(size, "")),
            );
        }
    }
    if sound && !sizing.chosen.is_empty() && !sizes.contains(&sizing.chosen) {
        find.add(
            "sizing/chosen",
            format!(
                "Size {} was decided on, but the table has none of that name. Choose one of its sizes.",
                called(&sizing.chosen, "")
            ),
        );
    }
    sound
}

fn row(find: &mut Finder, sizing: &Sizing, r: &SizeRow, at: &str) -> bool {
    let name = called(&r.name, "a row of the size table");
    find.name(format!("{at}/name"), "row of the size table", &r.name);
    let mut sound = values(find, sizing, &r.body, &format!("{at}/body"), &name, "body");
    if !r.garment.is_empty() {
        sound &= values(find, sizing, &r.garment, &format!("{at}/garment"), &name, "garment");
    }
    if let Some(wearer) = r.wearer {
        sound &= find.positive(&format!("{at}/wearer"), &format!("The wearer's {name}"), wearer);
    }
    if let Some(ease) = r.ease {
        let what = format!("The ease wanted at {name}");
        sound &= find.at_most(&format!("{at}/ease"), &what, ease.abs(), INCH * 40);
    }
    sound
}

fn values(find: &mut Finder, sizing: &Sizing, list: &[Length], at: &str, name: &str, what: &str) -> bool {
    let sizes = &sizing.sizes;
    if list.len() != sizes.len() {
        let message = format!(
            "{name} has {} {what} {} for {} {}. Type one for each size: {}.",
            list.len(),
            if list.len() == 1 { "measure" } else { "measures" },
            sizes.len(),
            if sizes.len() == 1 { "size" } else { "sizes" },
            called(&sizes.join(", "), "")
        );
        return find.add(at, message);
    }
    for (n, (value, size)) in list.iter().zip(sizes).enumerate() {
        let size = called(size, "");
        if !find.positive(at, &format!("The {what} measure of {name} at size {size}"), *value) {
            return false;
        }
        // A slip of the finger, or of the printer.
        if let Some(before) = n.checked_sub(1).and_then(|m| list.get(m))
            && before > value
        {
            let message = format!(
                "{name} at size {size} is {}, less than {} at the size before it. Check both values.",
                find.show(*value),
                find.show(*before)
            );
            return find.add(at, message);
        }
    }
    true
}
