//! The seams a plan's figures know of, and those that were typed.

use super::{SeamThread, Sewn};
use crate::figures::check::{Checked, called};
use crate::figures::joined::joined;
use crate::figures::{BindingFigures, PanelFigures, PatchCut, PieceFigures, QuiltingFigures, Shape, Size, StripCut};
use crate::measure::Length;
use crate::plan::{BindingCut, Plan, Stitch, Thread};
use std::f64::consts::SQRT_2;

/// 2 / root of 3: side of a diamond, and of two triangles, by its height.
const SIDE_BY_HEIGHT: f64 = 1.154_700_538_379_251_5;

/// Round one patch as it is cut, rounded up once.
fn round_the_patch(shape: Shape, cut: Size) -> Length {
    let (w, h) = (cut.width, cut.height);
    let square = w.max(h);
    match shape {
        Shape::Square | Shape::Rectangle => (w + h) * 2,
        // Two sides and the diagonal.
        Shape::HalfSquareTriangle | Shape::GeeseSmall => square * 2 + square.times_irrational_up(SQRT_2),
        // The side of the square and two half diagonals.
        Shape::QuarterSquareTriangle | Shape::FourHalfSquares => square + square.times_irrational_up(SQRT_2),
        // The same; the lines sewn along the small squares are a little longer
        // than its sides.
        Shape::GeeseLarge => square + square.times_irrational_up(SQRT_2) + square.scale_up(1, 4),
        // An eighth of the square's: two half sides and half the diagonal.
        Shape::EightHalfSquares => square + square.times_irrational_up(SQRT_2 / 2.0),
        Shape::Triangle60 => square * 3,
        Shape::Diamond60 => h.times_irrational_up(SIDE_BY_HEIGHT) * 4,
        Shape::Hexagon => h.times_irrational_up(SIDE_BY_HEIGHT / 2.0) * 6,
    }
}

/// Seams between the patches of all panels of a piece. A seam joins two edges
/// of patches, so all seams together are at most half of all edges of patches and strips: the outer
/// edges of the panel are counted too, and never a seam too little. To join so
/// many patches into so many panels takes a seam for each patch but the first.
fn piecing(plan: &Plan, panel: &PanelFigures, panels: i64) -> (Length, i64) {
    // All of it named: a part that is sewn in and not counted here would let the
    // thread run short.
    let PanelFigures {
        columns: _,
        rows: _,
        units: _,
        unit_finished: _,
        unit_trim: _,
        unit_finished_height: _,
        unit_trim_height: _,
        setting: _,
        sashing: _,
        borders: _,
        inside: _,
        before: _,
        at_most: _,
        after: _,
        patches,
        strips,
    } = panel;
    let of_patches: Length = patches.iter().map(|p| round_the_patch(p.shape, p.cut) * sewn(p)).sum();
    let of_strips: Length = strips
        .iter()
        .map(|s| (s.cut.width + s.cut.height + short(s) * joins(plan, s)) * (s.count * 2))
        .sum();
    let parts = patches
        .iter()
        .map(sewn)
        .chain(strips.iter().map(|s| s.count.saturating_mul(1 + joins(plan, s))));
    let count = parts.fold(0, i64::saturating_add);
    ((of_patches + of_strips).scale_up(1, 2), (count - panels).max(0))
}

fn short(strip: &StripCut) -> Length {
    strip.cut.width.min(strip.cut.height)
}

/// A strip longer than its cloth is wide is joined from several.
fn joins(plan: &Plan, strip: &StripCut) -> i64 {
    let each = plan
        .cloth(&strip.cloth)
        .map_or(Length::ZERO, |c| c.usable_width - plan.allowances.seam * 2);
    if each.is_positive() {
        strip.cut.width.max(strip.cut.height).times_needed(each) - 1
    } else {
        0
    }
}

/// Patches that are sewn: of squares sewn before they are cut apart all, used or not.
fn sewn(patch: &PatchCut) -> i64 {
    if patch.shape.sewn_first() {
        patch.patches.max(patch.cuts.saturating_mul(patch.shape.yields()))
    } else {
        patch.patches
    }
}

pub(super) struct Found {
    pub seams: Vec<SeamThread>,
    pub not_counted: Vec<String>,
}

pub(super) fn seams(
    plan: &Plan,
    checked: &Checked,
    thread: &Thread,
    pieces: &[PieceFigures],
    quilting: &QuiltingFigures,
    binding: Option<&BindingFigures>,
) -> Found {
    let mut found = Found {
        seams: Vec::new(),
        not_counted: Vec::new(),
    };
    for piece in &plan.pieces {
        let name = called(&piece.name, &piece.id);
        let figures = pieces.iter().find(|f| f.piece == piece.id);
        let panel = figures.and_then(|f| f.panel.as_ref().map(|p| (f, p)));
        match (panel, &piece.face) {
            (Some((f, panel)), Some(_)) if panel.units > 0 => {
                let (length, count) = piecing(plan, panel, f.count);
                found.add(
                    thread,
                    format!("{name}: patches"),
                    Sewn::Piecing,
                    length,
                    count,
                    thread.piecing,
                );
            }
            (Some(_), Some(_)) => {}
            _ => found.not_counted.push(format!("the face of {name}")),
        }
        let Some(layers) = &piece.layers else { continue };
        for (what, cloth, size) in [
            ("batting", &layers.batting, figures.and_then(|f| f.batting)),
            ("backing", &layers.backing, figures.and_then(|f| f.backing)),
        ] {
            let Some((cloth, size)) = cloth.as_deref().and_then(|id| plan.cloth(id)).zip(size) else {
                continue;
            };
            let panels = figures.map_or(1, |f| f.count);
            let seam = plan.allowances.backing_seam;
            let made = joined(size, panels, cloth.usable_width, seam, cloth.one_way);
            if let Some((made, f)) = made.zip(figures).filter(|(made, _)| made.joins > 0) {
                let long = if made.up { size.height } else { size.width };
                let joins = made.joins.saturating_mul(f.count);
                found.add(
                    thread,
                    format!("{name}: joins of the {what}"),
                    Sewn::Joins,
                    long * joins,
                    joins,
                    thread.piecing,
                );
            }
        }
        match quilting.pieces.iter().find(|q| q.piece == piece.id) {
            Some(q) => {
                let lines = q.lines.saturating_mul(q.count);
                let length = q.total + q.into_overage;
                found.add(
                    thread,
                    format!("{name}: quilting"),
                    Sewn::Quilting,
                    length,
                    lines,
                    thread.quilting,
                );
            }
            None => found.not_counted.push(format!("the quilting of {name}")),
        }
    }
    bound(&mut found, plan, checked, thread, binding);
    for (seam, sound) in plan.seams.iter().zip(&checked.seams) {
        let name = called(&seam.name, &seam.id);
        if *sound {
            let count = i64::from(seam.count);
            found.add(thread, name, Sewn::Typed, seam.length * count, count, seam.stitch);
        } else {
            found.not_counted.push(format!("the seam {name}"));
        }
    }
    found
}

/// Binding is sewn on twice round: by machine, then down on the other side.
fn bound(found: &mut Found, plan: &Plan, checked: &Checked, thread: &Thread, binding: Option<&BindingFigures>) {
    let Some(b) = binding else {
        if !plan.edges.is_empty() {
            found.not_counted.push("the binding".into());
        }
        return;
    };
    let runs: i64 = if checked.edges {
        plan.edges.iter().map(|e| i64::from(e.count)).sum()
    } else {
        1
    };
    let second = thread.binding;
    found.add(
        thread,
        "Binding, sewn on".into(),
        Sewn::Binding,
        b.total,
        runs,
        Stitch::S301,
    );
    found.add(
        thread,
        "Binding, sewn down".into(),
        Sewn::Binding,
        b.total,
        runs,
        second,
    );
    // Bias strips are joined on the slant; the tube of a continuous one along its square.
    let join = match b.cut {
        BindingCut::Straight | BindingCut::BiasStrips => b.strip_width.times_irrational_up(SQRT_2),
        BindingCut::Continuous => b.rectangle.width.max(b.rectangle.height).times_irrational_up(SQRT_2),
    };
    let joins = if b.cut == BindingCut::Continuous { 2 } else { b.joins };
    if joins > 0 {
        let length = join * joins;
        found.add(
            thread,
            "Joins of the binding".into(),
            Sewn::Joins,
            length,
            joins,
            thread.piecing,
        );
    }
}

impl Found {
    fn add(&mut self, thread: &Thread, what: String, sewn: Sewn, length: Length, seams: i64, stitch: Stitch) {
        if length.is_positive() {
            self.seams
                .push(SeamThread::new(thread, what, sewn, length, seams, stitch));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::{Setting, StripKind};
    use crate::measure::INCH;

    fn panel(shape: Shape, side: i64, patches: i64) -> PanelFigures {
        let size = Size {
            width: INCH,
            height: INCH,
        };
        PanelFigures {
            columns: 1,
            rows: 1,
            units: 1,
            unit_finished: None,
            unit_trim: None,
            unit_finished_height: None,
            unit_trim_height: None,
            setting: Setting::Straight,
            sashing: None,
            borders: Vec::new(),
            inside: size,
            before: size,
            at_most: size,
            after: size,
            patches: vec![cut(shape, side, patches)],
            strips: Vec::new(),
        }
    }

    fn cut(shape: Shape, side: i64, patches: i64) -> PatchCut {
        PatchCut {
            cloth: "c1".into(),
            shape,
            cut: Size {
                width: INCH * side,
                height: INCH * side,
            },
            patches,
            cuts: (patches + shape.yields() - 1) / shape.yields(),
            unit: String::new(),
            pieces: Vec::new(),
        }
    }

    #[test]
    fn never_less_than_the_seams_there_are() {
        // Four by five squares of 5 in, sewn with seams of 1/4 in: 5 rows of 3
        // seams of 5 in, then 4 seams of 4 × 4 1/2 + 1/2 in.
        let (length, seams) = piecing(&Plan::default(), &panel(Shape::Square, 5, 20), 1);
        let truly = INCH * (5 * 3 * 5) + INCH.scale_up(37, 2) * 4;
        assert!(length >= truly, "{length:?} against {truly:?}");
        assert_eq!(length, INCH * 200);
        assert_eq!(seams, 19);
        // One half-square triangle unit from 5 in: a seam along the diagonal.
        let (length, seams) = piecing(&Plan::default(), &panel(Shape::HalfSquareTriangle, 5, 2), 1);
        assert!(length >= INCH.times_irrational_up(5.0 * SQRT_2));
        assert_eq!(seams, 1);
        // Eight at a time: four seams of the length of the diagonal give eight units.
        let (length, _) = piecing(&Plan::default(), &panel(Shape::EightHalfSquares, 5, 16), 8);
        assert!(length >= INCH.times_irrational_up(20.0 * SQRT_2));
        let (length, _) = piecing(&Plan::default(), &panel(Shape::FourHalfSquares, 5, 8), 4);
        assert!(length >= INCH * 20);
    }

    #[test]
    fn borders_are_sewn_on_too() {
        // One square of 5 in with a border of 2 in: two strips of 5 in, then two of 8 in and more.
        let mut panel = panel(Shape::Square, 5, 1);
        let strip = |width: i64, height: i64| StripCut {
            kind: StripKind::Border,
            cloth: "c1".into(),
            what: String::new(),
            cut: Size {
                width: INCH * width,
                height: INCH * height,
            },
            count: 2,
        };
        panel.strips = vec![strip(2, 5), strip(8, 2)];
        let (length, seams) = piecing(&Plan::default(), &panel, 1);
        assert!(length >= INCH * (2 * 5 + 2 * 8), "{length:?}");
        assert_eq!(seams, 4);
    }

    #[test]
    fn geese_sewn_four_at_a_time() {
        // Finished 3 by 6 in: a square of 7 1/4 in and four of 3 7/8 in, with two
        // lines along the diagonal of each of the four.
        let mut panel = panel(Shape::GeeseLarge, 1, 4);
        let square = |eighths: i64| Size {
            width: crate::measure::EIGHTH * eighths,
            height: crate::measure::EIGHTH * eighths,
        };
        panel.patches[0].cut = square(58);
        let mut small = cut(Shape::GeeseSmall, 1, 8);
        small.cut = square(31);
        panel.patches.push(small);
        let lines = square(31).width.times_irrational_up(SQRT_2) * 8;
        // And four geese in a row: three seams of 6 1/2 in.
        let (length, seams) = piecing(&Plan::default(), &panel, 1);
        assert!(length >= lines + INCH.scale_up(39, 2), "{length:?} against {lines:?}");
        assert_eq!(seams, 11);
    }

    #[test]
    fn round_shapes_of_known_sides() {
        // A hexagon 2 in from flat to flat has sides of 1.1547 in.
        let around = |shape, w: Length, h: Length| round_the_patch(shape, Size { width: w, height: h });
        let hexagon = around(Shape::Hexagon, INCH * 3, INCH * 2).as_inches_f64();
        assert!((hexagon - 6.0 * 1.154_700_5).abs() < 1e-3, "{hexagon}");
        let diamond = around(Shape::Diamond60, INCH * 3, INCH * 2).as_inches_f64();
        assert!((diamond - 4.0 * 2.309_401).abs() < 1e-3, "{diamond}");
        assert_eq!(around(Shape::Triangle60, INCH * 3, INCH * 2), INCH * 9);
    }
}
