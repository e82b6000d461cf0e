//! From a piece to its panel: alterations, fold, margin, quilting take-up,
//! whole units across and down, patches.

use super::allowances::used;
use super::check::{Checked, called};
use super::take_up;
use super::units::{Cutting, coarse_mark};
use super::{AllowanceUsed, PanelFigures, PatchCut, PieceFigures, Problem, Shape, Shown, Size};
use crate::measure::{Length, MM, Percent, Round, SIXTEENTH, Unit};
use crate::plan::{Along, Arrangement, CuttingRule, Face, Piece, Plan, UnitKind, limits};

/// A length after a loss, never more than what is there.
pub(super) fn after_loss(length: Length, loss: Percent) -> Length {
    length.scale_down(10_000 - loss.as_hundredths(), 10_000)
}

/// The length that leaves `length` after a loss, never less.
pub(super) fn before_loss(length: Length, loss: Percent) -> Length {
    length.scale_up(10_000, (10_000 - loss.as_hundredths()).max(1))
}

/// The figures of every piece that can be worked out, beside its place in the
/// plan; what cannot be is added to the problems.
pub(super) fn pieces(plan: &Plan, checked: &Checked, problems: &mut Vec<Problem>) -> Vec<(usize, PieceFigures)> {
    let mut out = Vec::new();
    for (n, piece) in plan.pieces.iter().enumerate() {
        if !checked.pieces.get(n).is_some_and(|sound| sound.size) {
            continue;
        }
        match piece_figures(plan, piece, n, checked, problems) {
            Ok(figures) => out.push((n, figures)),
            Err(problem) => problems.push(problem),
        }
    }
    out
}

struct Writer {
    unit: Unit,
    shown: Shown,
}

impl Writer {
    fn one(&self, length: Length, round: Round) -> String {
        match self.unit {
            Unit::Inch => length.inches(round),
            Unit::Cm => length.cm(round),
        }
    }
    fn size(&self, size: Size, round: Round) -> String {
        format!(
            "{} wide, {} high",
            size.width.both(self.unit, round),
            size.height.both(self.unit, round)
        )
    }
    fn line(&mut self, text: String) {
        self.shown.working.push(text);
    }
}

fn piece_figures(
    plan: &Plan,
    piece: &Piece,
    n: usize,
    checked: &Checked,
    problems: &mut Vec<Problem>,
) -> Result<PieceFigures, Problem> {
    let sound = checked.pieces[n];
    let unit = plan.unit;
    let at = format!("pieces/{}", piece.id);
    let name = called(&piece.name, &piece.id);
    let mut write = Writer {
        unit,
        shown: Shown::default(),
    };

    let finished = altered(piece, &at, &name, &mut write)?;
    let needed = Size {
        width: finished.width + piece.margin * 2,
        height: finished.height + piece.margin * 2,
    };
    if needed.width > Length::MAX || needed.height > Length::MAX {
        return Err(Problem {
            field: format!("{at}/width"),
            message: format!("{name} with its alterations and margin is longer than 200 m. Check the unit."),
        });
    }
    if piece.margin.is_positive() {
        write.line(format!(
            "With a margin of {} on every side to cut away: {}.",
            write.one(piece.margin, Round::Nearest),
            write.size(needed, Round::Up)
        ));
    }
    let quilted = piece.layers.is_some();
    let loss = if quilted {
        take_up::take_up(piece)
    } else {
        Percent::ZERO
    };
    if quilted {
        write.shown.working.extend(take_up::working(piece, unit));
        write.shown.cautions.extend(take_up::caution(piece));
    }
    let needed_before = Size {
        width: before_loss(needed.width, loss),
        height: before_loss(needed.height, loss),
    };
    if loss > Percent::ZERO {
        write.line(format!(
            "Quilting takes up {loss}: {} / (1 − {}) = {} wide, {} high before quilting.",
            write.one(needed.width, Round::Up),
            decimal(loss),
            needed_before.width.both(unit, Round::Up),
            needed_before.height.both(unit, Round::Up)
        ));
    } else if piece.take_up > Percent::ZERO {
        write.shown.cautions.push(format!(
            "The take-up of {} is not counted: this piece has no layers. If it is quilted, say so.",
            piece.take_up
        ));
    } else if quilted {
        write.shown.cautions.push(
            "No take-up is counted. Quilting draws a panel in, mostly by 1 to 4 %: quilted and then cut, it may be too small."
                .into(),
        );
    }

    let panel = match &piece.face {
        Some(face) if sound.face => {
            let made = match face {
                Face::Plain(_) => Ok(plain_panel(needed_before, loss, &mut write)),
                Face::Patchwork(_) if !checked.allowances.seam => Err(None),
                Face::Patchwork(face) => {
                    let patchwork = Patchwork {
                        side: face.finished,
                        arrangement: face.arrangement,
                        units: &face.units,
                    };
                    patchwork
                        .panel(plan, piece, &name, finished, needed_before, loss, &mut write)
                        .map_err(Some)
                }
            };
            match made {
                Ok(panel) => Some(panel),
                Err(problem) => {
                    problems.extend(problem);
                    None
                }
            }
        }
        _ => None,
    };

    // Layers are cut larger than the panel; where there is no face yet, than the least panel.
    let under = panel.as_ref().map_or(needed_before, |p| at_most(p, plan));
    let grown = panel.as_ref().is_some_and(|p| p.before != under);
    if grown {
        write.line(format!(
            "Cut by the marks of a ruler, units may come out a little larger: the panel up to {}.",
            write.size(under, Round::Up)
        ));
    }
    let has = |layer: &Option<String>| layer.is_some();
    let face_known = piece.face.is_none() || panel.is_some();
    let layer = |there: bool, what: &str, overage: Length, write: &mut Writer| {
        there.then(|| {
            let size = Size {
                width: (under.width + overage * 2).ceil_to(coarse_mark(unit)),
                height: (under.height + overage * 2).ceil_to(coarse_mark(unit)),
            };
            write.line(format!(
                "{what}: the panel{} and {} on every side, {}.",
                if grown { " at its largest" } else { "" },
                write.one(overage, Round::Nearest),
                write.size(size, Round::Up)
            ));
            size
        })
    };
    let layers = piece.layers.clone().unwrap_or_default();
    let batting = layer(
        has(&layers.batting) && sound.batting && face_known && checked.allowances.batting_overage,
        "Batting",
        plan.allowances.batting_overage,
        &mut write,
    );
    let backing = layer(
        has(&layers.backing) && sound.backing && face_known && checked.allowances.backing_overage,
        "Backing",
        plan.allowances.backing_overage,
        &mut write,
    );

    write.shown.allowances = allowances_of(plan, piece, panel.as_ref(), batting.is_some(), backing.is_some());
    Ok(PieceFigures {
        piece: piece.id.clone(),
        name,
        count: i64::from(piece.cut_count),
        mirrored: piece.mirrored,
        finished,
        needed,
        needed_before,
        panel,
        batting,
        backing,
        shown: write.shown,
    })
}

fn allowances_of(
    plan: &Plan,
    piece: &Piece,
    panel: Option<&PanelFigures>,
    batting: bool,
    backing: bool,
) -> Vec<AllowanceUsed> {
    let mut fields = Vec::new();
    if panel.is_some_and(|p| p.units > 0) {
        fields.push("seam");
    }
    if panel.is_some_and(|p| p.patches.iter().any(|c| c.shape.yields() > 1)) {
        fields.push("cutting_rule");
    }
    if batting {
        fields.push("batting_overage");
    }
    if backing {
        fields.push("backing_overage");
    }
    let mut list = Vec::new();
    if piece.margin.is_positive() {
        list.push(AllowanceUsed {
            name: "Margin to cut away, each side".into(),
            value: piece.margin.both(plan.unit, Round::Nearest),
            source: "set for this piece".into(),
        });
    }
    if piece.layers.is_some() && take_up::take_up(piece) > Percent::ZERO {
        list.push(AllowanceUsed {
            name: "Quilting take-up".into(),
            value: take_up::take_up(piece).to_string(),
            source: take_up::source(piece),
        });
    }
    list.extend(used(&plan.allowances, plan.unit, &fields));
    list
}

/// 2.5 % as 0.025.
fn decimal(percent: Percent) -> String {
    let text = format!("{:.4}", percent.as_hundredths() as f64 / 10_000.0);
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// The piece whole, with its alterations.
fn altered(piece: &Piece, at: &str, name: &str, write: &mut Writer) -> Result<Size, Problem> {
    let mut size = Size {
        width: piece.width,
        height: piece.height,
    };
    write.line(format!("The piece as printed: {}.", write.size(size, Round::Nearest)));
    for alteration in &piece.alterations {
        match alteration.along {
            Along::Width => size.width += alteration.by,
            Along::Height => size.height += alteration.by,
        }
        let sign = if alteration.by.is_negative() { "-" } else { "+" };
        let reason = alteration.reason.trim();
        let reason = if reason.is_empty() {
            String::new()
        } else {
            format!(" ({})", called(reason, ""))
        };
        write.line(format!(
            "{sign}{} in {}{reason}: {}.",
            write.one(alteration.by.abs(), Round::Nearest),
            alteration.along.name(),
            write.size(size, Round::Nearest)
        ));
    }
    for (length, what) in [(size.width, "width"), (size.height, "height")] {
        if !length.is_positive() {
            return Err(Problem {
                field: format!("{at}/alterations"),
                message: format!("The alterations leave nothing of the {what} of {name}. Take less off."),
            });
        }
    }
    if piece.on_fold {
        size.width = size.width * 2;
        write.line(format!(
            "On the fold, so twice as wide when opened: {}.",
            write.size(size, Round::Nearest)
        ));
    }
    Ok(size)
}

/// The panel as large as it comes out where no unit is trimmed below the marks it is cut by.
fn at_most(panel: &PanelFigures, plan: &Plan) -> Size {
    let growth = panel.unit_finished.map_or(Length::ZERO, |side| {
        let a = &plan.allowances;
        let cutting = Cutting {
            seam: a.seam,
            rule: a.cutting_rule,
            unit: plan.unit,
        };
        cutting.growth(side)
    });
    Size {
        width: panel.before.width + growth * panel.columns,
        height: panel.before.height + growth * panel.rows,
    }
}

fn plain_panel(needed_before: Size, loss: Percent, write: &mut Writer) -> PanelFigures {
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
        before,
        after: Size {
            width: after_loss(before.width, loss),
            height: after_loss(before.height, loss),
        },
        patches: Vec::new(),
    }
}

struct Patchwork<'a> {
    side: Length,
    arrangement: Arrangement,
    units: &'a [crate::plan::Unit],
}

impl Patchwork<'_> {
    #[allow(clippy::too_many_arguments)]
    fn panel(
        &self,
        plan: &Plan,
        piece: &Piece,
        name: &str,
        finished: Size,
        needed_before: Size,
        loss: Percent,
        write: &mut Writer,
    ) -> Result<PanelFigures, Problem> {
        let unit = plan.unit;
        let field = format!("pieces/{}/face/finished", piece.id);
        let cutting = Cutting {
            seam: plan.allowances.seam,
            rule: plan.allowances.cutting_rule,
            unit,
        };
        let smaller = finished.width.min(finished.height);
        if self.side > smaller {
            return Err(Problem {
                field,
                message: format!(
                    "A finished size of {} is bigger than {name} ({} by {}). Type at most {}, or choose plain cloth.",
                    self.side.both(unit, Round::Nearest),
                    write.one(finished.width, Round::Nearest),
                    write.one(finished.height, Round::Nearest),
                    smaller.both(unit, Round::Down)
                ),
            });
        }
        for made in self.units {
            let least = cutting.least_finished(made.kind, made.cloths.len());
            if self.side < least {
                return Err(Problem {
                    field,
                    message: format!(
                        "With a seam of {} a {} must finish at {} or more, or its seam allowances cross. Make it larger, or the seam smaller.",
                        plan.allowances.seam.both(unit, Round::Nearest),
                        made.kind.name(),
                        least.both(unit, Round::Up)
                    ),
                });
            }
        }
        // Only finished sizes are counted on: the raw seam round the outside is a bonus.
        let columns = needed_before.width.times_needed(self.side);
        let rows = needed_before.height.times_needed(self.side);
        let units = columns.saturating_mul(rows);
        let panels = i64::from(piece.cut_count);
        let all = units.saturating_mul(panels);
        if all > limits::UNITS {
            return Err(Problem {
                field,
                message: format!(
                    "{name} would take {all} units; {} are the most a piece can have. Make the finished size larger.",
                    limits::UNITS
                ),
            });
        }
        let before = Size {
            width: self.side * columns + plan.allowances.seam * 2,
            height: self.side * rows + plan.allowances.seam * 2,
        };
        let after = Size {
            width: after_loss(before.width, loss),
            height: after_loss(before.height, loss),
        };
        let side = write.one(self.side, Round::Nearest);
        for (length, count, along) in [
            (needed_before.width, columns, "across"),
            (needed_before.height, rows, "down"),
        ] {
            write.line(format!(
                "{} / {side} finished = {}, so {count} {along}.",
                write.one(length, Round::Up),
                quotient(length, self.side)
            ));
        }
        write.line(format!(
            "{columns} × {rows} = {units} units a panel{}.",
            if panels > 1 {
                format!(", {panels} panels: {all} units")
            } else {
                String::new()
            }
        ));
        write.line(format!(
            "Sewn, raw edge to raw edge: {columns} × {side} + 2 × {} seam = {} wide; {} high.",
            seam_text(plan.allowances.seam, unit),
            before.width.both(unit, Round::Nearest),
            before.height.both(unit, Round::Nearest)
        ));
        if loss > Percent::ZERO {
            write.line(format!("After quilting at least {}.", write.size(after, Round::Down)));
        }
        let patches = self.patches(cutting, name, units, panels, write);
        self.cautions(cutting, write);
        Ok(PanelFigures {
            columns,
            rows,
            units,
            unit_finished: Some(self.side),
            unit_trim: Some(cutting.trim_to(self.side)),
            before,
            after,
            patches,
        })
    }

    /// How many of each unit one panel holds: of two in turn the first stands
    /// in the top left corner, so an odd panel has one more of it.
    fn of_each(&self, units: i64) -> Vec<i64> {
        match self.arrangement {
            Arrangement::AllAlike | Arrangement::Rows | Arrangement::Painted => vec![units],
            Arrangement::Alternating => vec![units - units / 2, units / 2],
        }
    }

    fn patches(&self, cutting: Cutting, name: &str, units: i64, panels: i64, write: &mut Writer) -> Vec<PatchCut> {
        let mut patches: Vec<PatchCut> = Vec::new();
        for (made, count) in self.units.iter().zip(self.of_each(units)) {
            let count = count * panels;
            if count == 0 {
                continue;
            }
            let (shape, cut) = cutting.cut(made.kind, self.side, made.cloths.len());
            let label = unit_label(made.kind, made.cloths.len(), self.side, cutting.unit);
            if self.units.len() > 1 {
                write.line(format!("{count} of the {label}, counted from the top left corner."));
            }
            for cloth in &made.cloths {
                let same = patches
                    .iter_mut()
                    .find(|p| p.cloth == *cloth && p.shape == shape && p.cut == cut && p.unit == label);
                match same {
                    Some(patch) => patch.patches += count,
                    None => patches.push(PatchCut {
                        cloth: cloth.clone(),
                        shape,
                        cut,
                        patches: count,
                        cuts: 0,
                        unit: label.clone(),
                        pieces: vec![name.to_string()],
                    }),
                }
            }
            write.line(cut_rule(made.kind, made.cloths.len(), self.side, cutting, cut));
        }
        for patch in &mut patches {
            patch.cuts = cuts_for(patch.patches, patch.shape);
        }
        patches
    }

    fn cautions(&self, cutting: Cutting, write: &mut Writer) {
        let triangles = self
            .units
            .iter()
            .any(|u| matches!(u.kind, UnitKind::HalfSquareTriangle | UnitKind::QuarterSquareTriangle));
        if triangles {
            write.shown.cautions.push(match cutting.rule {
                CuttingRule::Trade => format!(
                    "Sew triangle units first, then trim them to {}.",
                    cutting.square(self.side).cut(cutting.unit)
                ),
                CuttingRule::Exact => {
                    "Triangles are cut to exact geometry: there is next to nothing to trim, so sew the seam exactly."
                        .into()
                }
            });
        }
        let wider = self
            .units
            .iter()
            .filter(|u| u.kind == UnitKind::Rail)
            .map(|u| cutting.rail_sewn(self.side, u.cloths.len()) - cutting.square(self.side))
            .max()
            .unwrap_or(Length::ZERO);
        if wider.is_positive() {
            write.shown.cautions.push(format!(
                "Rail strips are cut up to the next mark, so a sewn rail is up to {} too wide: trim it to {}, the same from both sides.",
                wider.cut(cutting.unit),
                cutting.square(self.side).cut(cutting.unit)
            ));
        }
    }
}

/// Rectangles to cut for a number of patches.
pub(super) fn cuts_for(patches: i64, shape: Shape) -> i64 {
    let yields = shape.yields();
    (patches + yields - 1).div_euclid(yields)
}

fn unit_label(kind: UnitKind, strips: usize, side: Length, unit: Unit) -> String {
    let side = match unit {
        Unit::Inch => side.inches(Round::Nearest),
        Unit::Cm => side.cm(Round::Nearest),
    };
    match kind {
        UnitKind::Rail => format!("rail of {strips} strips, {side} finished"),
        _ => format!("{} {side} finished", kind.name()),
    }
}

/// A quotient to two places, rounded up: 6.01 rather than 6.00 where the sixth
/// unit does not quite reach.
fn quotient(length: Length, by: Length) -> String {
    let by = i128::from(by.units().max(1));
    let hundredths = (i128::from(length.units()) * 100 + by - 1) / by;
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// A seam as it is sewn. Rounded to the marks of a ruler, 1/4 in would be 0.6 cm
/// and the sum beside it wrong: what is not on a mark is printed in millimetres.
fn seam_text(seam: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch if seam.units() % SIXTEENTH.units() == 0 => seam.sixteenths(Round::Nearest),
        Unit::Cm if seam.units() % MM.units() == 0 => seam.cm(Round::Nearest),
        _ => {
            let text = format!("{:.2}", seam.as_mm_f64());
            format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
        }
    }
}

fn cut_rule(kind: UnitKind, strips: usize, side: Length, cutting: Cutting, cut: Size) -> String {
    let one = |length: Length| match cutting.unit {
        Unit::Inch => length.inches(Round::Nearest),
        Unit::Cm => length.cm(Round::Nearest),
    };
    let (f, s, cut_text) = (
        one(side),
        seam_text(cutting.seam, cutting.unit),
        cut.width.cut(cutting.unit),
    );
    match kind {
        UnitKind::HalfSquareTriangle => format!(
            "Half-square triangles: {f} + {} for the seams ({s} × 3.414) = squares cut {cut_text}; each gives 2.",
            (cut.width - side).cut_one(cutting.unit)
        ),
        UnitKind::QuarterSquareTriangle => format!(
            "Quarter-square triangles: {f} + {} for the seams ({s} × 4.828) = squares cut {cut_text}; each gives 4.",
            (cut.width - side).cut_one(cutting.unit)
        ),
        UnitKind::Rail => format!(
            "Rail: {f} / {strips} + 2 × {s} seam = strips cut {cut_text} by {}.",
            cut.height.cut(cutting.unit)
        ),
        _ => format!("Squares: {f} + 2 × {s} seam = cut {cut_text}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    fn piece(inside: &str) -> PieceFigures {
        let json = format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}}],
            "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"24 in",{inside}}}]}}"#
        );
        work_out(&Plan::from_json(&json).unwrap()).pieces.remove(0)
    }

    fn minds(figures: &PieceFigures, words: &str) -> bool {
        figures.shown.cautions.iter().any(|c| c.contains(words))
    }

    #[test]
    fn a_quilted_piece_without_take_up_is_pointed_out() {
        let face = r#""face":{"kind":"plain","cloth":"c1"}"#;
        let layers = r#""layers":{"backing":"c1"}"#;
        assert!(minds(&piece(&format!("{face},{layers}")), "No take-up is counted"));
        let with = piece(&format!(r#"{face},{layers},"take_up":"3 %""#));
        assert!(with.shown.cautions.is_empty(), "{:?}", with.shown.cautions);
        // And a take-up that no quilting stands behind.
        assert!(minds(&piece(&format!(r#"{face},"take_up":"3 %""#)), "is not counted"));
        assert!(piece(face).shown.cautions.is_empty());
    }

    #[test]
    fn rails_that_come_out_too_wide_are_trimmed() {
        let rail = |finished: &str, cloths: &str| {
            piece(&format!(
                r#""face":{{"kind":"patchwork","finished":"{finished}","arrangement":"all-alike","units":[{{"kind":"rail","cloths":[{cloths}]}}]}}"#
            ))
        };
        // 4 / 3 + 1/2 = 1.83, cut 1 7/8: three sewn measure 4 5/8, 1/8 in too wide.
        let thirds = rail("4 in", r#""c1","c1","c1""#);
        assert!(
            minds(&thirds, "up to 1/8 in (0.4 cm) too wide: trim it to 4 1/2 in"),
            "{:?}",
            thirds.shown.cautions
        );
        assert!(rail("4 in", r#""c1","c1""#).shown.cautions.is_empty());
    }

    #[test]
    fn a_seam_is_printed_as_it_is_sewn() {
        for (seam, unit, text) in [
            ("1/4 in", Unit::Inch, "1/4 in"),
            ("3/16 in", Unit::Inch, "3/16 in"),
            ("7 mm", Unit::Inch, "7 mm"),
            ("1/4 in", Unit::Cm, "6.35 mm"),
            ("7 mm", Unit::Cm, "0.7 cm"),
        ] {
            assert_eq!(seam_text(Length::parse(seam, Unit::Inch).unwrap(), unit), text);
        }
    }

    #[test]
    fn a_count_that_is_just_missed_does_not_look_whole() {
        assert_eq!(
            quotient(
                Length::whole_inches(24) + Length::from_units(1),
                Length::whole_inches(4)
            ),
            "6.01"
        );
        assert_eq!(quotient(Length::whole_inches(24), Length::whole_inches(4)), "6.00");
        assert_eq!(quotient(Length::inches_frac(49, 2), Length::whole_inches(4)), "6.13");
    }
}
