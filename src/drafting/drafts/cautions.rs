//! What can hurt whoever wears or uses it.

use crate::plan::{Draft, DraftKind, MadeFor, Plan};

/// Cautions to read before a draft is cut.
pub fn cautions(plan: &Plan, draft: &Draft) -> Vec<String> {
    let child = plan.made_for == MadeFor::Child;
    let animal = plan.made_for == MadeFor::Animal;
    let mut said: Vec<&str> = Vec::new();
    match &draft.kind {
        DraftKind::ThreePanelHood(_) | DraftKind::TwoPieceHood(_) => {
            if child {
                said.push(
                    "No cords or drawstrings at a child's hood or neck: they catch and strangle. Close it with short tabs or snaps, and follow your country's rules (EN 14682 in Europe, ASTM F1816 in the United States; named from memory).",
                );
            } else if animal {
                said.push("No cords at an animal's hood, and leave eyes and ears free: try it on and watch before it is worn alone.");
            } else {
                said.push("A hood for a child gets no cords or drawstrings: they catch and strangle.");
            }
        }
        DraftKind::Tie(_) => {
            if child {
                said.push(
                    "Ties can strangle a child: none at the neck or hood, short and sewn down elsewhere. Follow your country's rules (EN 14682 in Europe, ASTM F1816 in the United States; named from memory).",
                );
            } else {
                said.push("Keep ties away from small children and pets: they can catch and strangle.");
            }
        }
        DraftKind::CushionCover(_) | DraftKind::BoxCover(_) => {
            said.push("For a baby's bed no loose cushions. Sew a zip's puller out of a child's reach: small parts can be swallowed.");
        }
        DraftKind::BagBody(_) => {
            said.push("Long straps and closed bags are no toys: a child or a pet can be caught in them.");
        }
        DraftKind::PatchPocket(_) if child || animal => {
            said.push("Buttons on a pocket can be bitten off and swallowed: sew through both layers, or use none.");
        }
        _ => {}
    }
    said.into_iter().map(String::from).collect()
}
