//! Any lay a plan can hold, in any plan.

use crate::{cases, plans};
use notchbook::figures::lay::{LayGround, LayTurns};
use notchbook::figures::{LayState, work_out};
use notchbook::measure::Length;
use notchbook::plan::{KeptLay, LaidCopy, LayPoint, Plan};
use proptest::collection::vec;
use proptest::prelude::*;

fn wild_lay() -> impl Strategy<Value = KeptLay> {
    let id =
        |letter: char| prop_oneof![4 => (0..4usize).prop_map(move |n| format!("{letter}{n}")), 1 => plans::wild_text()];
    let place = prop_oneof![3 => (0..20_000_000_000i64, 0..20_000_000_000i64), 1 => (any::<i64>(), any::<i64>())];
    let small = || prop_oneof![4 => 0..3u32, 1 => plans::wild_count()];
    let copy = (id('p'), small(), small(), any::<bool>(), (small(), small()), place).prop_map(
        |(piece, copy, quarters, mirrored, (remnant, nth), (across, along))| LaidCopy {
            piece,
            copy,
            quarters,
            mirrored,
            remnant,
            nth,
            at: LayPoint { across, along },
        },
    );
    let ground = prop_oneof![
        Just(LayGround::Single),
        Just(LayGround::Folded),
        Just(LayGround::Remnants),
        any::<usize>().prop_map(LayGround::Remnant),
        (0..3usize).prop_map(LayGround::Remnant)
    ];
    let turns = prop_oneof![Just(LayTurns::BothWays), Just(LayTurns::OneWay), Just(LayTurns::Across)];
    let gap = prop_oneof![3 => Just(Length::ZERO), 1 => plans::wild()];
    (id('c'), vec(id('p'), 0..4), ground, turns, gap, vec(copy, 0..5)).prop_map(
        |(cloth, pieces, ground, turns, gap, copies)| KeptLay {
            cloth,
            pieces,
            ground,
            turns,
            gap,
            copies,
        },
    )
}

proptest! {
    #![proptest_config(cases(150))]

    /// Any lay in any plan gives an answer, and all that is wrong a sentence.
    #[test]
    fn any_lay_gives_an_answer(plan in prop_oneof![plans::sound().boxed(), plans::wild_plan().boxed()], lays in vec(wild_lay(), 0..4)) {
        let before = work_out(&plan);
        let with = Plan { lays, ..plan };
        let figures = work_out(&with);
        for problem in &figures.problems {
            prop_assert!(problem.message.ends_with('.'), "{}", problem.message);
        }
        let text = notchbook::figures::as_text(&with, &figures);
        prop_assert!(!text.is_empty());
        for (f, was) in figures.cloths.iter().zip(&before.cloths) {
            prop_assert!(f.to_buy <= was.to_buy);
            if let Some(lay) = &f.lay {
                prop_assert!(lay.told.ends_with('.'), "{}", lay.told);
                prop_assert!(lay.state != LayState::NoLongerHolds || f.length == was.length);
            }
        }
        for at in with.lays.iter().flat_map(|l| &l.copies).map(|c| c.at) {
            prop_assert!(!at.to_string().is_empty());
        }
    }
}
