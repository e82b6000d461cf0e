//! An outline in a few words.

use super::outline;
use crate::measure::{Round, Unit};
use crate::plan::Outline;

/// "outline of 4 corners within 12 in (30.5 cm) × 9 in (22.9 cm)".
pub fn outline_words(of: &Outline, unit: Unit) -> String {
    match outline(of) {
        Ok(shape) => format!(
            "outline of {} corners within {} × {}",
            shape.corners.len(),
            shape.around.width.both(unit, Round::Down),
            shape.around.height.both(unit, Round::Down)
        ),
        Err(_) => "outline that does not close".into(),
    }
}
