//! Lines of quilting: inside the panel, as far apart as is said, all counted;
//! and what they take up is there.

use crate::{cases, plans};
use notchbook::figures::quilting::{sets, stitched_length};
use notchbook::figures::take_up::take_up;
use notchbook::figures::{Figures, LineWay, Size, as_text, effect, problems, work_out};
use notchbook::measure::{EIGHTH, INCH, Length, Unit};
use notchbook::plan::{Layers, Plan, Quilting, TakeUpFrom};
use proptest::option;
use proptest::prelude::*;

fn lines() -> impl Strategy<Value = Quilting> {
    let spacing = || option::of((2..80i64).prop_map(|n| EIGHTH * n));
    (spacing(), spacing(), spacing(), spacing()).prop_map(|(upright, level, rising, falling)| Quilting {
        upright,
        level,
        rising,
        falling,
    })
}

fn panel() -> impl Strategy<Value = Size> {
    (plans::inches(1, 90), plans::inches(1, 110)).prop_map(|(width, height)| Size { width, height })
}

/// A sound plan, some of its pieces quilted, with take-up from the lines or typed.
fn quilted() -> impl Strategy<Value = Plan> {
    (plans::sound(), proptest::collection::vec((lines(), any::<bool>()), 4)).prop_map(|(mut plan, quilting)| {
        for (piece, (lines, follows)) in plan.pieces.iter_mut().zip(quilting) {
            let layers = piece.layers.get_or_insert_with(Layers::default);
            let any = lines != Quilting::default();
            layers.quilting = Some(lines);
            piece.take_up_from = if follows && any {
                TakeUpFrom::Spacing
            } else {
                TakeUpFrom::Typed
            };
        }
        plan
    })
}

fn near(a: f64, b: f64, by: f64) -> bool {
    (a - b).abs() <= by
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn lines_lie_on_the_panel_as_far_apart_as_said(panel in panel(), quilting in lines()) {
        let mut sum = Length::ZERO;
        for set in sets(panel, &quilting) {
            let (w, h) = (panel.width.as_inches_f64(), panel.height.as_inches_f64());
            let mut last: Option<f64> = None;
            for line in &set.lines {
                for p in [line.from, line.to] {
                    let (x, y) = (p.x.as_inches_f64(), p.y.as_inches_f64());
                    prop_assert!((0.0..=w).contains(&x) && (0.0..=h).contains(&y), "{line:?}");
                    prop_assert!(x == 0.0 || y == 0.0 || x == w || y == h, "{line:?} ends inside");
                }
                let (x, y) = (line.from.x.as_inches_f64(), line.from.y.as_inches_f64());
                let (dx, dy) = (line.to.x.as_inches_f64() - x, line.to.y.as_inches_f64() - y);
                let long = (dx * dx + dy * dy).sqrt();
                prop_assert!(line.length.as_inches_f64() >= long - 1e-9 && near(line.length.as_inches_f64(), long, 0.001));
                // Distance from the corner, square to the lines.
                let at = match set.way {
                    LineWay::Upright => x,
                    LineWay::Level => y,
                    LineWay::Rising => (x + y) / 2f64.sqrt(),
                    LineWay::Falling => (x - y) / 2f64.sqrt(),
                };
                if let Some(last) = last {
                    prop_assert!(near(at - last, set.spacing.as_inches_f64(), 0.001), "{last} and {at}");
                }
                last = Some(at);
            }
            // The one in the middle goes through it, and no line lacks at either side.
            let middle = &set.lines[set.middle];
            let (cx, cy) = (w / 2.0, h / 2.0);
            let off = match set.way {
                LineWay::Upright => middle.from.x.as_inches_f64() - cx,
                LineWay::Level => middle.from.y.as_inches_f64() - cy,
                LineWay::Rising => middle.from.x.as_inches_f64() + middle.from.y.as_inches_f64() - cx - cy,
                LineWay::Falling => middle.from.x.as_inches_f64() - middle.from.y.as_inches_f64() - cx + cy,
            };
            prop_assert!(near(off, 0.0, 0.001), "{off} beside the middle");
            let longest = set.lines.iter().map(|l| l.length).max().unwrap().as_inches_f64();
            let covered = set.length.as_inches_f64() * set.spacing.as_inches_f64();
            prop_assert!(near(covered, w * h, longest * set.spacing.as_inches_f64() * 1.01), "{covered} of {}", w * h);
            sum += set.length;
        }
        prop_assert_eq!(stitched_length(panel, &quilting), sum);
    }

    /// Closer lines, or a larger panel, never take less.
    #[test]
    fn more_is_never_less(panel in panel(), quilting in lines(), by in 1..40i64, wide in any::<bool>()) {
        // Each end is rounded once.
        let slack = |q: &Quilting, p: Size| {
            let lines: usize = sets(p, q).iter().map(|s| s.lines.len()).sum();
            Length::from_units(lines as i64 * 4)
        };
        let before = stitched_length(panel, &quilting);
        let closer = |s: Option<Length>| s.map(|s| s.scale_up(40 - by.min(30), 40));
        let denser = Quilting {
            upright: closer(quilting.upright),
            level: closer(quilting.level),
            rising: closer(quilting.rising),
            falling: closer(quilting.falling),
        };
        prop_assert!(stitched_length(panel, &denser) + slack(&denser, panel) >= before);
        let mut larger = panel;
        if wide { larger.width += EIGHTH * by } else { larger.height += EIGHTH * by }
        prop_assert!(stitched_length(larger, &quilting) + slack(&quilting, larger) >= before);
    }

}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn a_quilted_panel_covers_its_piece(plan in quilted()) {
        let figures = work_out(&plan);
        let mut total = Length::ZERO;
        for worked in &figures.pieces {
            let piece = plan.piece(&worked.piece).unwrap();
            let loss = take_up(piece);
            let left = |l: Length| l.scale_down(10_000 - loss.as_hundredths(), 10_000);
            prop_assert!(left(worked.needed_before.width) >= worked.needed.width);
            prop_assert!(left(worked.needed_before.height) >= worked.needed.height);
            if let Some(panel) = &worked.panel {
                prop_assert!(panel.after.width >= worked.needed.width && panel.after.height >= worked.needed.height);
            }
            if let Some(q) = figures.quilting.pieces.iter().find(|q| q.piece == worked.piece) {
                let panel = worked.panel.as_ref().map_or(worked.needed_before, |p| p.before);
                prop_assert_eq!(q.panel, panel);
                let lines = piece.layers.as_ref().unwrap().quilting.as_ref().unwrap();
                prop_assert_eq!(q.total, stitched_length(panel, lines) * worked.count);
                total += q.total;
            }
        }
        prop_assert_eq!(figures.quilting.total, total);
        prop_assert_eq!(&figures.problems, &problems(&plan));
    }

    /// Inches or centimetres: the same lines on the same panel.
    #[test]
    fn both_systems_agree(plan in quilted()) {
        let of = |unit| -> Figures { work_out(&Plan { unit, ..plan.clone() }) };
        let (inch, cm) = (of(Unit::Inch), of(Unit::Cm));
        for (a, b) in inch.quilting.pieces.iter().zip(&cm.quilting.pieces) {
            // A plain panel is cut by the marks of the ruler, which differ.
            if a.panel == b.panel {
                prop_assert_eq!((&a.sets, a.total), (&b.sets, b.total));
            } else {
                prop_assert!((a.panel.width - b.panel.width).abs() < EIGHTH);
                prop_assert!((a.panel.height - b.panel.height).abs() < EIGHTH);
            }
        }
        for (a, b) in inch.pieces.iter().zip(&cm.pieces) {
            prop_assert_eq!(a.needed_before, b.needed_before);
        }
    }

    /// Any lengths at all give lines or a sentence.
    #[test]
    fn any_lines_give_an_answer(
        plan in plans::wild_plan(), units in proptest::collection::vec(option::of(any::<i64>()), 4),
        small in proptest::collection::vec(option::of(-2..2_000i64), 4), wild in any::<bool>(), follows in any::<bool>(),
    ) {
        let mut plan = plan;
        let of = |n: usize| if wild { units[n] } else { small[n] }.map(Length::from_units);
        for piece in &mut plan.pieces {
            let layers = piece.layers.get_or_insert_with(Layers::default);
            layers.quilting = Some(Quilting { upright: of(0), level: of(1), rising: of(2), falling: of(3) });
            piece.take_up_from = if follows { TakeUpFrom::Spacing } else { TakeUpFrom::Typed };
        }
        let figures = work_out(&plan);
        prop_assert_eq!(&figures.problems, &problems(&plan));
        for problem in &figures.problems {
            prop_assert!(problem.message.ends_with('.') && problem.message.chars().count() < 700, "{}", problem.message);
        }
        for worked in &figures.pieces {
            let piece = plan.piece(&worked.piece).unwrap();
            if follows {
                prop_assert!(of(0).or(of(1)).or(of(2)).or(of(3)).is_some(), "{} has a size without lines", piece.id);
            }
        }
        prop_assert!(figures.quilting.pieces.iter().all(|p| p.lines <= 2_000 && p.total > Length::ZERO));
        prop_assert!(!as_text(&plan, &figures).is_empty());
        prop_assert!(effect(&figures, &figures).is_empty());
    }
}

#[test]
fn a_bed_is_not_too_large() {
    let quilting = Quilting {
        upright: Some(INCH.scale_up(1, 4)),
        ..Quilting::default()
    };
    let panel = Size {
        width: INCH * 120,
        height: INCH * 120,
    };
    assert_eq!(stitched_length(panel, &quilting), INCH * 120 * 479);
}
