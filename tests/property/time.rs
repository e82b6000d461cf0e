//! Time: total, monotone, the same in both unit systems, and the same whether
//! the cloth is laid out or not.

use crate::{cases, plans};
use chrono::NaiveDate;
use notchbook::figures::time::{Amount, Days, PastWork, TimeFigures, WorkAmount, expected, work_amounts};
use notchbook::figures::{beside, effect, work_out};
use notchbook::measure::{Length, Unit};
use notchbook::plan::{Closure, ClosureKind, MadeFor, Plan, Seam, Stitch, TimePlan, Work, bring_over, differences};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

fn work() -> impl Strategy<Value = Work> {
    (0..Work::ALL.len()).prop_map(|n| Work::ALL[n])
}

fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        3 => (0..Length::MAX.units()).prop_map(Length::from_units),
        1 => any::<i64>().prop_map(Length::from_units),
    ]
}

/// Time, closures and seams as nobody would type them.
fn wild_time() -> impl Strategy<Value = (Option<TimePlan>, Vec<Closure>, Vec<Seam>)> {
    let time = option::of(
        (any::<u32>(), any::<u32>()).prop_map(|(minutes_a_week, other_minutes)| TimePlan {
            minutes_a_week,
            other_minutes,
        }),
    );
    let closure = (
        any_length(),
        any_length(),
        option::of(any_length()),
        option::of(any::<u32>()),
        0..4usize,
    )
        .prop_map(|(line, first, spacing, count, kind)| Closure {
            id: "k1".into(),
            name: "Front".into(),
            kind: ClosureKind::ALL[kind],
            line,
            first,
            last: first,
            spacing,
            count,
            ..Closure::default()
        });
    let seam = (any_length(), any::<u32>(), any::<bool>()).prop_map(|(length, count, hand)| Seam {
        id: "s1".into(),
        name: "Side".into(),
        length,
        count,
        stitch: if hand { Stitch::Hand } else { Stitch::S301 },
    });
    (time, vec(closure, 0..3), vec(seam, 0..3))
}

fn wild_past() -> impl Strategy<Value = Vec<PastWork>> {
    let amount = prop_oneof![
        any::<i64>().prop_map(Amount::Count),
        any_length().prop_map(Amount::Along)
    ];
    let one = (work(), amount, any::<i64>()).prop_map(|(work, amount, minutes)| PastWork {
        project: "Earlier".into(),
        work,
        amount,
        minutes,
    });
    vec(one, 0..6)
}

fn paces() -> impl Strategy<Value = Vec<PastWork>> {
    let one = (work(), 1..500i64, 1..5_000i64).prop_map(|(work, amount, minutes)| PastWork {
        project: "Earlier".into(),
        work,
        amount: match work {
            Work::Quilt | Work::Bind | Work::HandSew => Amount::Along(Length::whole_inches(amount)),
            _ => Amount::Count(amount),
        },
        minutes,
    });
    vec(one, 0..12)
}

fn day() -> impl Strategy<Value = NaiveDate> {
    prop_oneof![
        4 => (0..2_000u64).prop_map(|n| NaiveDate::default() + chrono::Days::new(20_000 + n)),
        1 => Just(NaiveDate::MAX),
        1 => Just(NaiveDate::MIN),
    ]
}

fn sums_hold(time: &TimeFigures) {
    for line in &time.work {
        if let (Some(all), Some(left)) = (line.expected, line.left) {
            assert!(all.low <= all.likely && all.likely <= all.high, "{line:?}");
            assert!(
                left.low <= all.low && left.likely <= all.likely && left.high <= all.high,
                "{line:?}"
            );
        } else {
            assert!(line.amount.is_none() || time.not_known.contains(&line.work), "{line:?}");
        }
    }
    let likely = time
        .work
        .iter()
        .filter_map(|w| w.expected)
        .map(|m| m.likely)
        .fold(0, i64::saturating_add);
    assert_eq!(time.expected.likely, likely);
}

proptest! {
    #![proptest_config(cases(25))]

    #[test]
    fn any_plan_and_any_past_give_an_answer(
        plan in plans::wild_plan(), (time, closures, seams) in wild_time(), past in wild_past(),
        logged in vec((work(), any::<i64>()), 0..4), today in day(), due in option::of(day()),
    ) {
        let plan = Plan { time, closures, seams, ..plan };
        let figures = work_out(&plan);
        let time = expected(&figures, &plan, &past, &logged, Some(Days { today, due }));
        sums_hold(&time);
        sums_hold(&figures.time);
        for sentence in time.outlook.iter().flat_map(|o| &o.words) {
            prop_assert!(sentence.ends_with('.'), "{sentence}");
        }
        // A sum without a part of the work says so.
        let silent = time.not_known.is_empty() || time.shown.cautions.iter().any(|c| c.contains("without"));
        prop_assert!(silent, "{time:?}");
        prop_assert!(serde_json::to_string(&time).is_ok());
    }

    /// Asked of past projects without laying out, the amounts are the figures' own.
    #[test]
    fn amounts_need_no_layout(plan in plans::wild_plan(), (time, closures, seams) in wild_time()) {
        let plan = Plan { time, closures, seams, ..plan };
        let told: Vec<WorkAmount> = work_out(&plan)
            .time
            .work
            .into_iter()
            .filter_map(|w| Some(WorkAmount { work: w.work, amount: w.amount?, of: w.of }))
            .collect();
        prop_assert_eq!(told, work_amounts(&plan));
    }

    #[test]
    fn more_pieces_never_take_less(plan in plans::sound(), which in 0..8usize, by in 1..40i64, past in paces()) {
        let mut more = plan.clone();
        let at = which % more.pieces.len();
        more.pieces[at].cut_count += if more.pieces[at].mirrored { 2 } else { 1 };
        more.pieces[at].height += notchbook::measure::EIGHTH * by;
        let (small, big) = (work_out(&plan), work_out(&more));
        // A piece that no longer fits its cloth is left out, and that is told.
        prop_assume!(big.problems.len() <= small.problems.len());
        for past in [&past[..], &[]] {
            let of = |figures, plan| expected(figures, plan, past, &[], None);
            let (was, is) = (of(&small, &plan), of(&big, &more));
            for old in &was.work {
                let new = is.work.iter().find(|w| w.work == old.work).expect("still there");
                prop_assert!(new.expected.map(|m| (m.low, m.likely, m.high)) >= old.expected.map(|m| (m.low, m.likely, m.high)));
            }
            prop_assert!(is.expected.likely >= was.expected.likely);
        }
    }

    #[test]
    fn both_unit_systems_take_as_long(plan in plans::sound()) {
        let of = |unit| work_amounts(&Plan { unit, ..plan.clone() });
        prop_assert_eq!(of(Unit::Inch), of(Unit::Cm));
    }

    /// What was done to a plan, done again, gives the same plan.
    #[test]
    fn differences_lead_there(from in plans::sound().boxed(), to in plans::sound().boxed(), time in option::of(0..900u32)) {
        let to = Plan {
            time: time.map(|minutes_a_week| TimePlan { minutes_a_week, other_minutes: 0 }),
            made_for: MadeFor::Child,
            ..to
        };
        let mut plan = from.clone();
        for edit in differences(&from, &to) {
            plan = edit.apply(&from, &plan).expect("nothing else was changed");
        }
        prop_assert!(differences(&plan, &to).is_empty());
        prop_assert_eq!(bring_over(&from, &to, &from), Ok(to.clone()));
        // And a second time it changes nothing more.
        prop_assert_eq!(bring_over(&from, &plan, &plan), Ok(plan.clone()));
    }

    #[test]
    fn rows_beside_each_other_are_what_effect_tells(a in plans::sound().boxed(), b in plans::sound().boxed(), c in plans::sound().boxed()) {
        // In one unit: of others the figures beside each other are all in the first's.
        let [a, b, c] = [a, b, c].map(|plan| work_out(&Plan { unit: Unit::Inch, ..plan }));
        let rows = beside(&[&a, &b, &c]);
        for (n, other) in [&b, &c].into_iter().enumerate() {
            for change in effect(&a, other).iter().filter(|c| c.what != "To put right") {
                let row = rows.iter().find(|r| r.what == change.what).expect("a row");
                prop_assert_eq!(&row.cells[n + 1].difference, &Some(change.difference.clone()));
                prop_assert_eq!((&row.cells[0].value, &row.cells[n + 1].value), (&change.before, &change.after));
            }
        }
        for row in &rows {
            // A part one of the plans does not have is not said to be the same.
            if row.cells.iter().any(|c| c.value == "–") {
                prop_assert!(row.between.is_some());
                continue;
            }
            // The same sum may be known in full in one plan and not in the other.
            let sum = |n: usize| row.cells[n].value.trim_end_matches(", as far as known");
            for n in 1..=2 {
                prop_assert_eq!(row.cells[n].difference.is_none(), sum(n) == sum(0), "{:?}", row);
            }
            prop_assert_eq!(row.between.is_none(), sum(1) == sum(2), "{:?}", row);
        }
    }
}
