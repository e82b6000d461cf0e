//! Which way seams are pressed: towards the darker cloth, so that no dark edge
//! shows through a light one (common practice).

use crate::measure::Rgb;
use crate::plan::{Patchwork, Plan};

/// The places of a patchwork's cloths in the plan, the darkest first. A cloth
/// without a readable colour is left out: nothing is known of it.
pub fn dark_to_light(plan: &Plan, face: &Patchwork) -> Vec<usize> {
    let named = |id: &str| face.units.iter().any(|u| u.all_cloths().any(|c| c == id));
    let light = |n: usize| Some(Rgb::parse(&plan.cloths[n].colour)?.lab().l);
    let mut found: Vec<(f64, usize)> = (0..plan.cloths.len())
        .filter(|n| named(&plan.cloths[*n].id))
        .filter_map(|n| Some((light(n)?, n)))
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    found.into_iter().map(|(_, n)| n).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Cloth, Unit, UnitKind};

    #[test]
    fn the_darkest_stands_first_and_what_is_not_known_nowhere() {
        let cloth = |id: &str, colour: &str| Cloth {
            id: id.into(),
            colour: colour.into(),
            ..Cloth::default()
        };
        let plan = Plan {
            cloths: vec![
                cloth("a", "#f0ead8"),
                cloth("b", "#1d2450"),
                cloth("c", "red"),
                cloth("d", "#808080"),
            ],
            ..Plan::default()
        };
        let face = Patchwork {
            units: vec![Unit::new(
                UnitKind::HalfSquareTriangle,
                vec!["a".into(), "b".into(), "c".into()],
            )],
            ..Patchwork::default()
        };
        assert_eq!(dark_to_light(&plan, &face), [1, 0]);
    }
}
