//! Closures, thread, size, care and cost: never short, monotone, the same in
//! both unit systems.

use crate::{cases, plans, sewn};
use notchbook::figures::care::mildest;
use notchbook::figures::{Sewn, work_out};
use notchbook::measure::{EIGHTH, Length, Money, Percent, Unit};
use notchbook::plan::{Along, Alteration, Care, ClosureKind, Plan, Sizing};
use proptest::prelude::*;

fn with_closure(closure: notchbook::plan::Closure, unit: Unit) -> Plan {
    Plan {
        unit,
        closures: vec![closure],
        ..Plan::default()
    }
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn closures_keep_to_their_line(row in sewn::closure(0)) {
        let figures = work_out(&with_closure(row.clone(), Unit::Inch));
        let Some(f) = figures.closures.first() else {
            // Only what does not fit on the line is refused.
            prop_assert!(!figures.problems.is_empty());
            return Ok(());
        };
        let last = row.line - row.last;
        if row.kind == ClosureKind::Zip {
            prop_assert_eq!((f.zip, f.count), (Some(last - row.first), 1));
            return Ok(());
        }
        prop_assert_eq!(f.positions.len() as i64, f.count);
        prop_assert!(f.positions.windows(2).all(|two| two[0] < two[1]), "{:?}", f.positions);
        let gaps: Vec<Length> = f.positions.windows(2).map(|two| two[1] - two[0]).collect();
        prop_assert_eq!(&f.gaps, &gaps);
        if f.count > 1 {
            prop_assert_eq!((f.positions[0], f.positions[f.positions.len() - 1]), (row.first, last));
        }
        match (row.count, row.spacing) {
            (Some(count), _) => prop_assert_eq!(f.count, i64::from(count)),
            (None, Some(spacing)) => {
                prop_assert!(gaps.iter().all(|gap| *gap <= spacing), "{gaps:?}");
                // One fewer would not do: with a mark on the side of either.
                let mark = row.bust_level.filter(|m| row.first < *m && *m < last);
                let spans = match mark {
                    Some(mark) => vec![mark - row.first, last - mark],
                    None => vec![last - row.first],
                };
                let fewest: i64 = spans.iter().map(|span| span.times_needed(spacing)).sum();
                prop_assert_eq!(f.count, fewest + 1);
            }
            (None, None) => {}
        }
        if let Some(mark) = row.bust_level {
            let carried = f.positions.contains(&mark);
            let told = f.shown.cautions.iter().any(|c| c.contains("bust level"));
            prop_assert!(carried != told, "{:?} {:?}", f.positions, f.shown.cautions);
        }
        if let Some(hole) = f.buttonhole {
            prop_assert!(hole >= row.size + EIGHTH && hole >= row.size + row.thickness);
        }
        let cm = work_out(&with_closure(row, Unit::Cm));
        prop_assert_eq!(&cm.closures[0].positions, &f.positions);
        prop_assert_eq!(cm.closures[0].extension, f.extension);
    }

    #[test]
    fn a_longer_line_never_takes_fewer(row in sewn::closure(0), more in 1..80i64) {
        let mut longer = row.clone();
        longer.line += EIGHTH * more;
        let count = |row| work_out(&with_closure(row, Unit::Inch)).closures.first().map(|f| f.count);
        if let (Some(short), Some(long)) = (count(row), count(longer)) {
            prop_assert!(long >= short);
        }
    }

    #[test]
    fn the_size_is_large_enough_and_no_larger(table in sewn::sizing()) {
        let of = |table: &Sizing, unit| {
            let plan = Plan { unit, sizing: Some(table.clone()), ..Plan::default() };
            work_out(&plan).sizing
        };
        let s = of(&table, Unit::Inch).expect("a sound table");
        for (fit, row) in s.rows.iter().zip(&table.rows) {
            let Some(wearer) = row.wearer else { continue };
            let (list, wanted) = match (row.garment.is_empty(), fit.wanted) {
                (false, Some(wanted)) => (&row.garment, wanted),
                _ => (&row.body, wearer),
            };
            match fit.needed {
                Some(n) => {
                    prop_assert!(list[n] >= wanted);
                    prop_assert!(n == 0 || list[n - 1] < wanted);
                }
                None => prop_assert!(list.iter().all(|x| *x < wanted)),
            }
            let nearest = fit.nearest.expect("there is one");
            prop_assert!(row.body.iter().all(|b| (*b - wearer).abs() >= (row.body[nearest] - wearer).abs()));
            // A larger wearer never takes a smaller size.
            let mut larger = table.clone();
            for row in &mut larger.rows {
                row.wearer = row.wearer.map(|w| w + EIGHTH * 3);
            }
            let bigger = of(&larger, Unit::Inch).expect("a sound table");
            prop_assert!(bigger.recommended >= s.recommended);
        }
        let cm = of(&table, Unit::Cm).expect("a sound table");
        prop_assert_eq!(s.rows, cm.rows);
        prop_assert_eq!(s.recommended, cm.recommended);
    }

    #[test]
    fn care_is_the_mildest(all in prop::collection::vec(sewn::care(), 1..6)) {
        let both = |list: &[Care]| mildest(list.iter()).expect("there is one");
        let whole = both(&all);
        for one in &all {
            prop_assert!(whole.bleaching >= one.bleaching && whole.tumble_drying >= one.tumble_drying);
            prop_assert!(whole.natural_drying >= one.natural_drying && whole.ironing >= one.ironing);
            prop_assert!(whole.dry_cleaning >= one.dry_cleaning && whole.in_the_shade >= one.in_the_shade);
            // Once more changes nothing: no treatment of it is milder than the whole.
            prop_assert_eq!(&both(&[whole.clone(), one.clone()]), &whole);
        }
        let mut turned = all.clone();
        turned.reverse();
        prop_assert_eq!(both(&turned), whole);
    }
}

proptest! {
    #![proptest_config(cases(120))]

    #[test]
    fn thread_is_never_short(plan in plans::sound(), more in 1..5u32) {
        let figures = work_out(&plan);
        let Some(t) = &figures.thread else {
            prop_assert!(plan.thread.is_none() && plan.seams.is_empty());
            return Ok(());
        };
        for seam in &t.seams {
            prop_assert!(seam.with_ends >= seam.length && seam.thread >= seam.with_ends, "{seam:?}");
            prop_assert!(seam.thread.units() * 1000 >= seam.with_ends.units() * seam.ratio.as_thousandths());
        }
        prop_assert_eq!(t.before_waste, t.seams.iter().map(|s| s.thread).sum::<Length>());
        prop_assert!(t.total >= t.before_waste);
        prop_assert!(t.spool * t.spools >= t.total);
        prop_assert!(t.spools == 0 || t.spool * (t.spools - 1) < t.total);
        // Rounded up by stitch, the parts are not less than the whole.
        prop_assert!(t.by_stitch.iter().map(|s| s.thread).sum::<Length>() >= t.total);
        // Every pieced panel, quilted piece and typed seam is in it or named.
        for piece in &figures.pieces {
            let pieced = piece.panel.as_ref().is_some_and(|p| p.units > 0);
            prop_assert!(!pieced || t.seams.iter().any(|s| s.sewn == Sewn::Piecing));
        }
        for edited in [
            { let mut p = plan.clone(); p.seams.iter_mut().for_each(|s| s.count += more); p },
            { let mut p = plan.clone(); p.thread = p.thread.map(|mut t| { t.waste = Percent::whole(60); t }); p },
        ] {
            let again = work_out(&edited).thread.expect("still counted");
            prop_assert!(again.total >= t.total);
        }
    }

    /// What seams between patches take grows with the piece.
    #[test]
    fn a_bigger_piece_never_takes_less_thread(plan in plans::sound(), which in 0..8usize, wide in any::<bool>()) {
        let mut bigger = plan.clone();
        let at = which % bigger.pieces.len();
        bigger.pieces[at].alterations.push(Alteration {
            along: if wide { Along::Width } else { Along::Height },
            by: EIGHTH * 24,
            reason: String::new(),
        });
        let piecing = |plan: &Plan| -> Option<Vec<(String, Length)>> {
            let t = work_out(plan).thread?;
            Some(t.seams.into_iter().filter(|s| s.sewn == Sewn::Piecing).map(|s| (s.what, s.thread)).collect())
        };
        let (Some(small), Some(big)) = (piecing(&plan), piecing(&bigger)) else { return Ok(()) };
        for (what, thread) in small {
            if let Some((_, now)) = big.iter().find(|(w, _)| *w == what) {
                prop_assert!(*now >= thread, "{what}: {now:?} after {thread:?}");
            }
        }
    }

    #[test]
    fn cost_adds_up(plan in plans::sound()) {
        let figures = work_out(&plan);
        let cost = &figures.cost;
        let sum = |of: fn(&notchbook::figures::CostLine) -> Option<Money>| {
            cost.lines.iter().filter_map(of).fold(Money::ZERO, |a, b| a + b)
        };
        prop_assert_eq!(cost.to_spend, sum(|l| l.to_spend));
        prop_assert_eq!(cost.worth, sum(|l| l.worth));
        for line in &cost.lines {
            let named = cost.unpriced.contains(&line.what);
            prop_assert_eq!(named, line.worth.is_none());
        }
        prop_assert!(cost.to_spend >= figures.totals.to_buy_known);
    }
}
