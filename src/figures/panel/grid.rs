//! Units side by side, straight up and down, with sashing between them.

use super::patchwork::{Inside, PatchworkOf};
use super::sashing;
use super::write::{Writer, quotient};
use crate::figures::{Setting, Size};
use crate::measure::{Length, Round};

/// Sashing as it enters one direction: its width, and whether it also goes round.
#[derive(Clone, Copy)]
pub(super) struct Between {
    pub width: Length,
    pub around: bool,
}

impl Between {
    /// Strips beside `count` units in a line.
    pub fn strips(self, count: i64) -> i64 {
        if self.around { count + 1 } else { count - 1 }
    }

    /// How many units of `side` reach `needed` with it.
    fn count(self, needed: Length, side: Length) -> i64 {
        // count * (side + width), and one strip more or less.
        let one = if self.around { self.width } else { -self.width };
        (needed - one).times_needed(side + self.width).max(1)
    }

    /// How long `count` units are with it.
    pub fn sewn(self, count: i64, side: Length) -> Length {
        side * count + self.width * self.strips(count)
    }
}

/// As many units as it takes to reach `needed`.
pub(super) fn inside(of: &PatchworkOf, needed: Size, write: &mut Writer) -> Inside {
    let finished = of.finished();
    let sash = of.face.sashing.as_ref();
    let between = Between {
        width: sash.map_or(Length::ZERO, |s| s.width),
        around: sash.is_some_and(|s| s.around),
    };
    let as_cut = Between {
        width: sash.map_or(Length::ZERO, |s| of.cutting.as_cut(s.width)),
        ..between
    };
    let columns = between.count(needed.width, finished.width);
    let rows = between.count(needed.height, finished.height);
    for (length, side, count, along) in [
        (needed.width, finished.width, columns, "across"),
        (needed.height, finished.height, rows, "down"),
    ] {
        count_line(write, length, side, between, count, along);
    }
    let units = columns.saturating_mul(rows);
    units_line(write, columns, rows, units, of.panels);
    let size = |between: Between, side: &dyn Fn(Length) -> Length| Size {
        width: between.sewn(columns, side(finished.width)),
        height: between.sewn(rows, side(finished.height)),
    };
    let sashed = sash.map(|s| sashing::strips(of, s, as_cut, columns, rows, write));
    let (strips, patches, figures) = match sashed {
        Some(made) => (made.strips, made.posts, Some(made.figures)),
        None => Default::default(),
    };
    Inside {
        columns,
        rows,
        units,
        setting: Setting::Straight,
        sashing: figures,
        least: size(between, &|side| side),
        most: size(as_cut, &|side| of.cutting.as_cut(side)),
        patches,
        strips,
    }
}

fn count_line(write: &mut Writer, length: Length, side: Length, between: Between, count: i64, along: &str) {
    let side_text = write.one(side, Round::Nearest);
    if !between.width.is_positive() {
        write.line(format!(
            "{} / {side_text} finished = {}, so {count} {along}.",
            write.one(length.max(Length::ZERO), Round::Up),
            quotient(length.max(Length::ZERO), side)
        ));
        return;
    }
    let sash = write.one(between.width, Round::Nearest);
    let (sign, one) = if between.around {
        ("−", between.width)
    } else {
        ("+", -between.width)
    };
    let length = (length - one).max(Length::ZERO);
    write.line(format!(
        "({} {sign} {sash}) / ({side_text} finished + {sash} sashing) = {}, so {count} {along}.",
        write.one(length + one, Round::Up),
        quotient(length, side + between.width)
    ));
}

pub(super) fn units_line(write: &mut Writer, columns: i64, rows: i64, units: i64, panels: i64) {
    let all = units.saturating_mul(panels);
    write.line(format!(
        "{columns} × {rows} = {units} units a panel{}.",
        if panels > 1 {
            format!(", {panels} panels: {all} units")
        } else {
            String::new()
        }
    ));
}
