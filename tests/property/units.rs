//! Both unit systems agree: the same lengths give the same figures, apart from
//! the marks of the ruler that cuts are rounded up to.

use crate::{cases, plans};
use notchbook::figures::{Shape, work_out};
use notchbook::measure::{EIGHTH, Unit};
use notchbook::plan::Plan;
use proptest::prelude::*;

proptest! {
    #![proptest_config(cases(100))]

    #[test]
    fn inches_and_centimetres_agree(plan in plans::sound()) {
        let plan = plans::without_layouts(&plan);
        let inch = work_out(&Plan { unit: Unit::Inch, ..plan.clone() });
        let cm = work_out(&Plan { unit: Unit::Cm, ..plan.clone() });
        prop_assert_eq!(inch.pieces.len(), cm.pieces.len());
        for (a, b) in inch.pieces.iter().zip(&cm.pieces) {
            prop_assert_eq!((a.finished, a.needed, a.needed_before), (b.finished, b.needed, b.needed_before));
            let (Some(a), Some(b)) = (&a.panel, &b.panel) else {
                prop_assert_eq!(a.panel.is_some(), b.panel.is_some());
                continue;
            };
            prop_assert_eq!((a.columns, a.rows, a.units), (b.columns, b.rows, b.units));
            prop_assert_eq!(a.unit_finished, b.unit_finished);
            prop_assert_eq!(a.unit_trim.is_some(), b.unit_trim.is_some());
            if let (Some(a), Some(b)) = (a.unit_trim, b.unit_trim) {
                prop_assert!((a - b).abs() < EIGHTH, "{a:?} against {b:?}");
            }
            if a.units > 0 {
                prop_assert_eq!((a.before, a.after), (b.before, b.after));
            }
            for (p, q) in a.patches.iter().zip(&b.patches) {
                prop_assert_eq!((&p.cloth, p.patches, p.cuts), (&q.cloth, q.patches, q.cuts));
                // Whether a rail's strip is as long as it is wide, the marks decide.
                let name = |shape: Shape| if shape == Shape::Rectangle { Shape::Square } else { shape };
                prop_assert_eq!(name(p.shape), name(q.shape));
                // Sets are as large as several units cut up to a mark each.
                let marks = match p.shape {
                    Shape::EightHalfSquares => 3,
                    Shape::FourHalfSquares | Shape::Triangle60 | Shape::Diamond60 | Shape::Hexagon => 3,
                    _ if p.unit.ends_with("on point") => 3,
                    // The centre grows with the whole, which is as large as a plain square cut up to a mark.
                    _ if p.unit.starts_with("square in a square") => 2,
                    _ => 1,
                };
                for (x, y) in [(p.cut.width, q.cut.width), (p.cut.height, q.cut.height)] {
                    prop_assert!((x - y).abs() < EIGHTH * marks, "{x:?} against {y:?}");
                }
            }
            for (p, q) in a.strips.iter().zip(&b.strips) {
                prop_assert_eq!((p.kind, &p.cloth, &p.what, p.count), (q.kind, &q.cloth, &q.what, q.count));
            }
        }
        if let (Some(a), Some(b)) = (&inch.binding, &cm.binding) {
            prop_assert_eq!((a.edges, a.total), (b.edges, b.total));
            prop_assert!((a.strip_width - b.strip_width).abs() < EIGHTH);
        }
    }

    /// What is printed to cut is what is laid out: every cut stands on a mark
    /// of the ruler, but for widths that are the cloth's own.
    #[test]
    fn cuts_stand_on_the_ruler(plan in plans::sound()) {
        for cloth in work_out(&plan).cloths {
            for line in &cloth.cuts {
                for side in [line.cut.width, line.cut.height] {
                    let printed = notchbook::measure::Length::parse(&side.cut_one(plan.unit), plan.unit).unwrap();
                    prop_assert!(printed == side || side == cloth.usable_width, "{side:?} is printed {printed:?}");
                }
            }
        }
    }

    /// Sewn units are trimmed to what the plain squares beside them are cut,
    /// mark for mark: told apart by a rounding, they would not meet.
    #[test]
    fn units_are_trimmed_to_the_squares_beside_them(plan in plans::sound()) {
        for piece in work_out(&plans::without_layouts(&plan)).pieces {
            let Some(panel) = &piece.panel else { continue };
            let Some(trim) = panel.unit_trim else { continue };
            for patch in panel.patches.iter().filter(|p| p.unit.starts_with("plain square") && p.shape == Shape::Square) {
                prop_assert!(patch.unit.ends_with("on point") || patch.cut.width == trim, "{patch:?}, trimmed to {trim:?}");
            }
        }
    }
}
