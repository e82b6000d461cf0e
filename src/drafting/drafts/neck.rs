//! The neck edge of a hood: a curve of exactly the length of the neckline it is
//! sewn to, however much lower that lies in front.

use super::Measures;
use crate::measure::Length;
use kurbo::{CubicBez, ParamCurveArclen, Point};

/// The steepest neckline: a drop of this part of it.
const STEEPEST: f64 = 0.6;

/// The neck edge of a hood, or a sentence beside the drop where that is too steep.
pub(super) fn checked(m: &mut Measures, edge: f64, drop: f64, typed: Length) -> Option<CubicBez> {
    if m.sound() && drop > edge * STEEPEST {
        let most = m.show_most(edge * STEEPEST);
        let typed = m.show(typed);
        m.wrong(
            "drop",
            format!("A drop of {typed} is too steep for this neckline. Type at most {most}."),
        );
    }
    solved(edge, drop).filter(|_| m.sound())
}

/// A hood stands higher than its neck edge drops and bends: `tall` with `room`.
pub(super) fn high_enough(m: &mut Measures, curve: &CubicBez, (tall, room): (f64, f64), typed: Length) {
    let lowest = curve.p3.y + curve.p0.x * 0.6;
    if tall < lowest {
        let least = m.show_least(lowest - room);
        let typed = m.show(typed);
        m.wrong(
            "height",
            format!(
                "A hood {typed} high lies lower than its neckline allows. Type at least {least}, or a smaller drop."
            ),
        );
    }
}

/// How far its handles reach: it leaves the back and meets the face at right
/// angles, so that both halves and both sides run on smoothly.
const HANDLE: f64 = 0.4;

/// From the back at `(width, 0)` to the face at `(0, drop)`.
fn curve(width: f64, drop: f64) -> CubicBez {
    CubicBez::new(
        Point::new(width, 0.0),
        Point::new(width * (1.0 - HANDLE), 0.0),
        Point::new(width * HANDLE, drop),
        Point::new(0.0, drop),
    )
}

/// The curve of this length, by halving: it is the longer the wider it is.
/// Nothing where the drop alone is longer.
pub(super) fn solved(length: f64, drop: f64) -> Option<CubicBez> {
    if !(length > drop && drop >= 0.0) {
        return None;
    }
    let (mut narrow, mut wide) = (0.0, length);
    for _ in 0..60 {
        let middle = (narrow + wide) / 2.0;
        if curve(middle, drop).arclen(1e-7) < length {
            narrow = middle;
        } else {
            wide = middle;
        }
    }
    Some(curve(wide, drop))
}
