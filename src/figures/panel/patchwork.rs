//! A panel of patchwork: as many units as the piece needs, then its borders.

use super::after_loss;
use super::rows::is_in_rows;
use super::write::{Writer, seam_text};
use super::{borders, grid, on_point, patches, rows, rules};
use crate::figures::check::a_unit;
use crate::figures::units::Cutting;
use crate::figures::{PanelFigures, PatchCut, Problem, SashingFigures, Setting, Size, StripCut};
use crate::measure::{Length, Percent, Round};
use crate::plan::{Patchwork, limits};

/// The patchwork of one piece, and how it is cut.
#[derive(Clone, Copy)]
pub(super) struct PatchworkOf<'a> {
    pub face: &'a Patchwork,
    pub cutting: Cutting,
    /// The piece's id and its name in sentences.
    pub piece: &'a str,
    pub name: &'a str,
    /// Panels of this piece.
    pub panels: i64,
}

/// Units in their setting, with sashing, without borders.
pub(super) struct Inside {
    pub columns: i64,
    pub rows: i64,
    pub units: i64,
    pub setting: Setting,
    pub sashing: Option<SashingFigures>,
    /// When sewn in: the least, and as large as it may come out as cut.
    pub least: Size,
    pub most: Size,
    /// Setting triangles and posts, and sashing strips, of all panels.
    pub patches: Vec<PatchCut>,
    pub strips: Vec<StripCut>,
}

impl PatchworkOf<'_> {
    /// One unit when sewn in.
    pub fn finished(&self) -> Size {
        Size {
            width: self.face.finished,
            height: self.face.finished_height.unwrap_or(self.face.finished),
        }
    }

    fn problem(&self, key: &str, message: String) -> Problem {
        Problem {
            field: format!("pieces/{}/face/{key}", self.piece),
            message,
        }
    }

    pub fn panel(
        &self,
        piece: Size,
        needed_before: Size,
        loss: Percent,
        write: &mut Writer,
    ) -> Result<PanelFigures, Problem> {
        self.unit_fits(piece, write)?;
        self.seams_fit(write)?;
        let borders = &self.face.borders;
        let around: Length = borders.iter().map(|b| b.width * 2).sum();
        // Only finished sizes are counted on: the raw seam round the outside is a bonus.
        let needed = Size {
            width: needed_before.width - around,
            height: needed_before.height - around,
        };
        if !borders.is_empty() {
            write.line(format!(
                "The borders take {} of the width and of the height: {} inside them.",
                write.one(around, Round::Nearest),
                write.size(positive(needed), Round::Up)
            ));
        }
        let inside = if is_in_rows(self.face) {
            rows::inside(self, needed, write)
        } else if self.face.on_point.is_some() {
            on_point::inside(self, needed, write)
        } else {
            grid::inside(self, needed, write)
        };
        let all = inside.units.saturating_mul(self.panels);
        if all > limits::UNITS {
            return Err(self.problem(
                "finished",
                format!(
                    "{} would take {all} units; {} are the most a piece can have. Make the finished size larger.",
                    self.name,
                    limits::UNITS
                ),
            ));
        }
        let mut made = borders::add(self, &inside, write);
        let raw = |size: Size| Size {
            width: size.width + self.cutting.seam * 2,
            height: size.height + self.cutting.seam * 2,
        };
        let before = raw(made.least);
        let after = Size {
            width: after_loss(before.width, loss),
            height: after_loss(before.height, loss),
        };
        self.size_line(&inside, before, write);
        if loss > Percent::ZERO {
            write.line(format!("After quilting at least {}.", write.size(after, Round::Down)));
        }
        let mut all_patches = patches::patches(self, &inside, write);
        let mut strips = inside.strips;
        all_patches.extend(inside.patches);
        all_patches.append(&mut made.patches);
        strips.append(&mut made.strips);
        rules::cautions(self, inside.setting, write);
        let finished = self.finished();
        let square = finished.width == finished.height;
        let trimmed = !is_in_rows(self.face);
        Ok(PanelFigures {
            columns: inside.columns,
            rows: inside.rows,
            units: inside.units,
            unit_finished: Some(finished.width),
            unit_trim: trimmed.then(|| self.cutting.square(finished.width)),
            unit_finished_height: (!square).then_some(finished.height),
            unit_trim_height: (!square).then(|| self.cutting.square(finished.height)),
            setting: inside.setting,
            sashing: inside.sashing,
            borders: made.figures,
            inside: inside.least,
            before,
            at_most: raw(made.most),
            after,
            patches: all_patches,
            strips,
        })
    }

    fn size_line(&self, inside: &Inside, before: Size, write: &mut Writer) {
        let seam = seam_text(self.cutting.seam, self.cutting.unit);
        let unit = self.cutting.unit;
        let plain = inside.setting == Setting::Straight && inside.sashing.is_none() && self.face.borders.is_empty();
        let round = inside.setting.round();
        let how = if plain {
            format!(
                "{} × {} + 2 × {seam} seam",
                inside.columns,
                write.one(self.face.finished, Round::Nearest)
            )
        } else {
            let wide = before.width - self.cutting.seam * 2;
            format!("{} finished + 2 × {seam} seam", write.one(wide, round))
        };
        write.line(format!(
            "Sewn, raw edge to raw edge: {how} = {} wide; {} high.",
            before.width.both(unit, round),
            before.height.both(unit, round)
        ));
    }

    /// A unit that is larger than the piece is a slip.
    fn unit_fits(&self, piece: Size, write: &Writer) -> Result<(), Problem> {
        let unit = self.cutting.unit;
        let finished = self.finished();
        let smaller = piece.width.min(piece.height);
        let too_big = |key: &str, what: &str, is: Length, most: Length| {
            let message = format!(
                "{what} of {} is bigger than {} ({} by {}). Type at most {}, or choose plain cloth.",
                is.both(unit, Round::Nearest),
                self.name,
                write.one(piece.width, Round::Nearest),
                write.one(piece.height, Round::Nearest),
                most.both(unit, Round::Down)
            );
            Err(self.problem(key, message))
        };
        match self.face.finished_height {
            None if finished.width > smaller => too_big("finished", "A finished size", finished.width, smaller),
            Some(_) if finished.width > piece.width => {
                too_big("finished", "A finished width", finished.width, piece.width)
            }
            Some(height) if height > piece.height => {
                too_big("finished_height", "A finished height", height, piece.height)
            }
            _ => Ok(()),
        }
    }

    /// A unit that is smaller than its seams cannot be sewn.
    fn seams_fit(&self, write: &Writer) -> Result<(), Problem> {
        let finished = self.finished();
        for made in &self.face.units {
            let least = self.cutting.least_of(made);
            for (key, is, least) in [
                ("finished", finished.width, least.width),
                ("finished_height", finished.height, least.height),
            ] {
                if is < least && (key == "finished" || self.face.finished_height.is_some()) {
                    let unit = write.unit;
                    return Err(self.problem(
                        key,
                        format!(
                            "With a seam of {} {} must finish at {} or more, or its seam allowances cross. Make it larger, or the seam smaller.",
                            self.cutting.seam.both(unit, Round::Nearest),
                            a_unit(made.kind),
                            least.both(unit, Round::Up)
                        ),
                    ));
                }
            }
        }
        Ok(())
    }
}

/// Nothing where the borders alone are larger than the piece.
fn positive(size: Size) -> Size {
    Size {
        width: size.width.max(Length::ZERO),
        height: size.height.max(Length::ZERO),
    }
}
