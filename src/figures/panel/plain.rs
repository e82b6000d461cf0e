//! A face of plain cloth: one rectangle.

use super::after_loss;
use super::write::Writer;
use crate::figures::units::coarse_mark;
use crate::figures::{PanelFigures, Setting, Size};
use crate::measure::{Percent, Round};

pub(super) fn plain_panel(needed_before: Size, loss: Percent, write: &mut Writer) -> PanelFigures {
    let mark = coarse_mark(write.unit);
    let before = Size {
        width: needed_before.width.ceil_to(mark),
        height: needed_before.height.ceil_to(mark),
    };
    write.line(format!("Plain cloth: one rectangle {}.", write.size(before, Round::Up)));
    PanelFigures {
        columns: 1,
        rows: 1,
        units: 0,
        unit_finished: None,
        unit_trim: None,
        unit_finished_height: None,
        unit_trim_height: None,
        setting: Setting::Plain,
        sashing: None,
        borders: Vec::new(),
        inside: before,
        at_most: before,
        before,
        after: Size {
            width: after_loss(before.width, loss),
            height: after_loss(before.height, loss),
        },
        patches: Vec::new(),
        strips: Vec::new(),
    }
}
