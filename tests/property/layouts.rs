//! Every cutting layout, checked from the drawing alone.

use crate::polygons::{cut_by_itself, twice_the_area};
use crate::{cases, checker, plans};
use notchbook::figures::{ClothFigures, CutLine, Purpose, Shape, Size, lay_out, lay_out_on, work_out};
use notchbook::measure::{EIGHTH, INCH, Length, MM, Round, Unit};
use notchbook::plan::Cloth;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn every_layout_can_be_cut(plan in plans::sound()) {
        let figures = work_out(&plan);
        for figures in &figures.cloths {
            let cloth = plan.cloth(&figures.cloth).unwrap();
            let fault = checker::fault(cloth, figures, plan.allowances.straightening);
            prop_assert!(fault.is_none(), "{}: {}", figures.name, fault.unwrap_or_default());
            // The same cuts on other widths are at least as long as their area.
            for other in &figures.other_widths {
                prop_assert!(other.to_buy.is_positive());
                prop_assert_eq!(other.to_buy.units() % plan.allowances.shop_step.units(), 0);
            }
        }
    }

    /// Every patch, panel and layer of the pieces stands in the cut list of its
    /// cloth: counted again from the pieces alone.
    #[test]
    fn nothing_is_left_out_of_the_cut_lists(plan in plans::sound()) {
        let figures = work_out(&plan);
        for cloth in &figures.cloths {
            let from_pieces: i64 = figures
                .pieces
                .iter()
                .filter_map(|p| p.panel.as_ref())
                .flat_map(|p| &p.patches)
                .filter(|p| p.cloth == cloth.cloth)
                .map(|p| p.patches)
                .sum();
            let on_cloth: i64 = cloth
                .cuts
                .iter()
                .filter(|l| matches!(l.purpose, Purpose::Patch { .. }))
                .map(|l| l.patches)
                .sum();
            prop_assert_eq!(from_pieces, on_cloth);
            for (n, piece) in plan.pieces.iter().enumerate() {
                let Some(worked) = figures.pieces.iter().find(|p| p.piece == piece.id) else { continue };
                let layers = piece.layers.clone().unwrap_or_default();
                for (layer, size) in [(layers.batting, worked.batting), (layers.backing, worked.backing)] {
                    if layer.as_deref() == Some(cloth.cloth.as_str()) && let Some(size) = size {
                        // Area of what is cut is at least the layer's, seams not even counted.
                        let area: i128 = cloth
                            .cuts
                            .iter()
                            .filter(|l| matches!(l.purpose, Purpose::Backing | Purpose::Batting))
                            .filter(|l| l.pieces.contains(&worked.name))
                            .map(|l| i128::from(l.cut.width.units()) * i128::from(l.cut.height.units()) * i128::from(l.count))
                            .sum();
                        let least = i128::from(size.width.units()) * i128::from(size.height.units()) * i128::from(worked.count);
                        prop_assert!(area >= least, "piece {n}: {area} < {least}");
                    }
                }
            }
        }
    }
}

/// Cut lists of every shape, as the units of a panel give them and as they do not.
fn lines() -> impl Strategy<Value = Vec<CutLine>> {
    let side = 8..=90i64;
    let line = (0..6usize, side.clone(), side, 1..60i64, any::<bool>());
    (proptest::collection::vec(line, 1..6), any::<bool>()).prop_map(|(lines, one_way)| {
        let line = |(kind, a, b, count, mm): (usize, i64, i64, i64, bool)| {
            let mark = if mm { MM * 3 } else { EIGHTH };
            let (a, b) = (mark * a, mark * b);
            let root = 3.0f64.sqrt();
            let (shape, width, height) = match kind {
                0 => (Shape::Square, a, a),
                1 => (Shape::HalfSquareTriangle, a, a),
                2 => (Shape::Triangle60, a, a.times_irrational_up(root / 2.0).ceil_to(mark)),
                3 => (Shape::Diamond60, a.times_irrational_up(root).ceil_to(EIGHTH), a),
                4 => (Shape::Hexagon, a.times_irrational_up(2.0 / root).ceil_to(EIGHTH), a),
                _ => (Shape::Rectangle, a, b),
            };
            CutLine {
                purpose: Purpose::Patch {
                    shape,
                    unit: "some unit".into(),
                },
                pieces: vec!["Front".into()],
                cut: Size { width, height },
                count,
                may_turn: !one_way,
                patches: count * shape.yields(),
                strips: None,
            }
        };
        lines.into_iter().map(line).collect()
    })
}

proptest! {
    #![proptest_config(cases(200))]

    /// Triangles tip to tail, diamonds and hexagons among squares and
    /// rectangles, on remnants, the length at hand and cloth to buy.
    #[test]
    fn every_shape_can_be_cut(lines in lines(), cloth in plans::cloth(0)) {
        let cloth = Cloth { one_way: !lines[0].may_turn, ..cloth };
        for straightening in [Length::ZERO, INCH] {
            let layout = lay_out_on(&lines, &cloth, straightening, Unit::Inch);
            let fault = checker::layout_fault(&cloth, &lines, &layout, straightening);
            prop_assert!(fault.is_none(), "{}", fault.unwrap_or_default());
        }
        let bare = Cloth { remnants: Vec::new(), outlined: Vec::new(), owned: Length::ZERO, ..cloth.clone() };
        let layout = lay_out(&lines, cloth.usable_width, Length::ZERO, Unit::Cm);
        let fault = checker::layout_fault(&bare, &lines, &layout, Length::ZERO);
        prop_assert!(fault.is_none(), "{}", fault.unwrap_or_default());
        // Never below the area, never above the lines one after the other, each the better way round.
        let length: Length = layout.sheets.iter().map(|s| s.length).sum();
        let area: i128 = lines.iter().map(twice_the_area).sum();
        prop_assert!(i128::from(length.units()) * i128::from(cloth.usable_width.units()) * 2 >= area);
        let alone: Length = lines.iter().map(|line| cut_by_itself(line, cloth.usable_width)).sum();
        prop_assert!(length <= alone, "{length:?} of {alone:?}");
    }
}

/// How far layouts are above a length that no layout can go below, in strips as
/// high as the tallest of the layout. Mostly within one; where it is more, the
/// reason is printed with it.
#[test]
fn layouts_are_near_their_bound() {
    let cases = cases(80).cases;
    // The same plans every time: this is a measurement of many, not a law for each.
    let mut runner = TestRunner::deterministic();
    let (mut cloths, mut above, mut most) = (0, 0, 0.0f64);
    for _ in 0..cases {
        let plan = plans::sound().new_tree(&mut runner).unwrap().current();
        for cloth in &work_out(&plan).cloths {
            let owned = plan.cloth(&cloth.cloth).unwrap();
            if cloth.cuts.is_empty()
                || !owned.remnants.is_empty()
                || !owned.outlined.is_empty()
                || owned.owned.is_positive()
            {
                continue;
            }
            let strips = cloth.layout.sheets.iter().flat_map(|s| &s.strips);
            let tallest = strips.map(|s| s.height).max().unwrap();
            let over = cloth.length - plan.allowances.straightening - bound(cloth);
            assert!(!over.is_negative(), "below the bound: {:?}", cloth.cuts);
            let strips_over = over.units() as f64 / tallest.units() as f64;
            cloths += 1;
            most = most.max(strips_over);
            if strips_over > 1.0 {
                above += 1;
                println!("{strips_over:.2} strips above: {}", reason(cloth, tallest));
            }
        }
    }
    println!("{cloths} cloths, {above} more than a strip above their bound, at most {most:.2} strips");
    assert!(
        cloths > 0 && above * 20 <= cloths,
        "{above} of {cloths} more than a strip above"
    );
    assert!(most < 4.0, "{most:.2} strips above");
}

/// Why a layout lies more than a strip above its bound: what the bound cannot know.
fn reason(cloth: &ClothFigures, tallest: Length) -> String {
    let largest = cloth
        .cuts
        .iter()
        .max_by_key(|l| l.cut.width.units().min(l.cut.height.units()));
    let Some(line) = largest else { return String::new() };
    let side = line.cut.width.min(line.cut.height);
    let beside = cloth.usable_width - side * cloth.usable_width.times_fits(side);
    let lines = cloth.cuts.len();
    format!(
        "{lines} lines on {}; {} of the largest stand side by side, and {} beside them is of use only where other pieces \
         are that narrow; the tallest strip is {} high, the cloth {} long",
        cloth.usable_width.inches(Round::Nearest),
        cloth.usable_width.times_fits(side),
        beside.inches(Round::Nearest),
        tallest.inches(Round::Nearest),
        cloth.length.inches(Round::Nearest)
    )
}

/// No layout of these cuts is shorter: by area, where a piece of which at most
/// `n` lie side by side counts for that part of the width.
fn bound(cloth: &ClothFigures) -> Length {
    let width = cloth.usable_width.units() as f64;
    let by_share = |share: &dyn Fn(f64) -> f64| -> f64 {
        let of_line = |line: &CutLine| {
            // Of nested pieces what each adds to its row.
            let step = match checker::shape(line) {
                Shape::Triangle60 if line.may_turn => line.cut.width.scale_down(1, 2),
                Shape::Diamond60 => line
                    .cut
                    .width
                    .min(line.cut.height.times_irrational_down(2.0 / 3.0f64.sqrt())),
                _ => line.cut.width,
            };
            let (w, h) = (step.units() as f64, line.cut.height.units() as f64);
            let one = |w: f64, h: f64| {
                if w <= width {
                    share(w / width) * h
                } else {
                    f64::INFINITY
                }
            };
            let least = if line.may_turn {
                one(w, h).min(one(h, w))
            } else {
                one(w, h)
            };
            least * line.count as f64
        };
        cloth.cuts.iter().map(of_line).sum()
    };
    let mut most = by_share(&|w| w);
    for n in 1..=80 {
        let n = f64::from(n);
        most = most.max(by_share(&|w| {
            let parts = w * (n + 1.0);
            if (parts - parts.round()).abs() < 1e-9 {
                w
            } else {
                parts.floor() / n
            }
        }));
    }
    Length::from_units(most as i64)
}
