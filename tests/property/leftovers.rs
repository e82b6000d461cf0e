//! What can be made of what is at hand: nothing is promised that the figures
//! would buy cloth for.

use crate::{cases, plans};
use notchbook::figures::{PanelWish, largest_panel, pieces_from_leftovers, work_out};
use notchbook::plan::{Face, Piece, Plan};
use proptest::prelude::*;

/// The plan with one piece alone, its face only.
fn alone(plan: &Plan, piece: Piece) -> Plan {
    Plan {
        pieces: vec![Piece {
            layers: None,
            mirrored: false,
            ..piece
        }],
        edges: Vec::new(),
        binding: None,
        ..plan.clone()
    }
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn what_is_promised_is_there(plan in plans::sound(), wide in 1..6u32, high in 1..6u32) {
        for from in pieces_from_leftovers(&plan) {
            prop_assert!((0..=from.wanted).contains(&from.covered));
            prop_assert_eq!(from.covered == from.wanted, from.runs_out.is_empty());
            if from.covered > 0 {
                let piece = plan.piece(&from.piece).unwrap().clone();
                let made = alone(&plan, Piece { cut_count: from.covered as u32, ..piece });
                for cloth in work_out(&made).cloths {
                    prop_assert!(!cloth.to_buy.is_positive(), "{} to buy for {from:?}", cloth.name);
                }
            }
        }
        for piece in &plan.pieces {
            let Some(Face::Patchwork(patchwork)) = &piece.face else { continue };
            let wish = PanelWish { patchwork: patchwork.clone(), wide, high };
            let Ok(largest) = largest_panel(&plan, &wish) else { continue };
            prop_assert_eq!(largest.near.is_none(), !largest.runs_out.is_empty());
            for panel in largest.near.iter().chain(&largest.full_width) {
                prop_assert!(panel.panel.units >= 1);
                for cloth in &panel.cloths {
                    prop_assert!(!cloth.to_buy.is_positive(), "{} to buy", cloth.name);
                    prop_assert!(cloth.not_counted.is_empty());
                }
            }
        }
    }

    #[test]
    fn any_plan_gives_an_answer(plan in plans::wild_plan(), wide in any::<u32>(), high in any::<u32>()) {
        for from in pieces_from_leftovers(&plan) {
            prop_assert!((0..=from.wanted).contains(&from.covered));
        }
        for piece in &plan.pieces {
            if let Some(Face::Patchwork(patchwork)) = &piece.face
                && let Err(problems) = largest_panel(&plan, &PanelWish { patchwork: patchwork.clone(), wide, high })
            {
                prop_assert!(!problems.is_empty());
            }
        }
    }
}
