//! Remnants with an outline. Those that cannot be read are not cut from: never
//! short, so the cloth's figures stand.

use super::Finder;
use crate::figures::outline::fault;
use crate::plan::{Cloth, limits};

pub(super) fn check(find: &mut Finder, cloth: &Cloth, at: &str, name: &str) {
    if cloth.outlined.len() > limits::OUTLINED {
        find.add(
            format!("{at}/outlined"),
            format!(
                "{name} has {} remnants with an outline; it can hold {}. Leave out the smallest.",
                cloth.outlined.len(),
                limits::OUTLINED
            ),
        );
        return;
    }
    for (n, one) in cloth.outlined.iter().enumerate() {
        if let Some(wrong) = fault(&one.outline) {
            find.add(format!("{at}/outlined/{n}/outline"), wrong);
        }
        find.count(
            format!("{at}/outlined/{n}/count"),
            &format!("The number of outlined remnant {} of {name}", n + 1),
            one.count,
            limits::REMNANT_COUNT,
        );
    }
}
