//! Both unit systems agree: the same lengths give the same figures, apart from
//! the marks of the ruler that cuts are rounded up to.

use crate::{cases, plans};
use notchbook::figures::work_out;
use notchbook::measure::{EIGHTH, Unit};
use notchbook::plan::Plan;
use proptest::prelude::*;

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn inches_and_centimetres_agree(plan in plans::sound()) {
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
            prop_assert_eq!((a.unit_finished, a.unit_trim), (b.unit_finished, b.unit_trim));
            if a.units > 0 {
                prop_assert_eq!((a.before, a.after), (b.before, b.after));
            }
            for (p, q) in a.patches.iter().zip(&b.patches) {
                prop_assert_eq!((&p.cloth, p.shape, p.patches, p.cuts), (&q.cloth, q.shape, q.patches, q.cuts));
                for (x, y) in [(p.cut.width, q.cut.width), (p.cut.height, q.cut.height)] {
                    prop_assert!((x - y).abs() < EIGHTH, "{x:?} against {y:?}");
                }
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
}
