//! Backing and batting wider than their cloth: joined from lengths of it.

use super::Size;
use crate::measure::Length;

/// Rectangles one panel is joined from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joined {
    /// Size as it lies on the cloth, how many, and whether it may be turned.
    pub parts: Vec<(Size, i64, bool)>,
    pub joins: i64,
    /// Whether the seams run up the panel; else across it.
    pub up: bool,
}

/// One of `panels` alike from cloth `width` wide: whole where it can lie, else
/// joined the way that takes less length of cloth for all of them. `None` if
/// the cloth is too narrow to be joined at all. Each join takes `seam` on both
/// sides.
pub fn joined(panel: Size, panels: i64, width: Length, seam: Length, one_way: bool) -> Option<Joined> {
    if panel.width <= width || (!one_way && panel.height <= width) {
        return Some(Joined {
            parts: vec![(panel, 1, !one_way)],
            joins: 0,
            up: true,
        });
    }
    let up = lengths(panel.width, width, seam)?;
    if one_way {
        return Some(divide(panel.width, panel.height, up, width, seam, true, false));
    }
    let across = lengths(panel.height, width, seam)?;
    // Full widths for every panel; the narrower rests of several lie side by side.
    let takes = |side: Length, long: Length, count: i64| {
        let rest = rest(side, count, width, seam);
        let beside = width.times_fits(rest).max(1);
        let rests = panels.saturating_add(beside - 1) / beside;
        long * panels.saturating_mul(count - 1).saturating_add(rests)
    };
    let long_up = takes(panel.width, panel.height, up);
    let long_across = takes(panel.height, panel.width, across);
    // Fewer joins where both take the same.
    let upright = (long_up, up) <= (long_across, across);
    Some(if upright {
        divide(panel.width, panel.height, up, width, seam, true, true)
    } else {
        divide(panel.height, panel.width, across, width, seam, false, true)
    })
}

/// How many widths of the cloth make up `side`.
pub fn lengths(side: Length, width: Length, seam: Length) -> Option<i64> {
    let gain = width - seam * 2;
    if !gain.is_positive() {
        return None;
    }
    if side <= width {
        return Some(1);
    }
    // count * width - (count - 1) * 2 seam >= side
    Some(1 + (side - width).times_needed(gain))
}

/// What the last of `count` widths adds to `side`.
fn rest(side: Length, count: i64, width: Length, seam: Length) -> Length {
    side - (width - seam * 2) * (count - 1)
}

fn divide(side: Length, long: Length, count: i64, width: Length, seam: Length, up: bool, turn: bool) -> Joined {
    let full = Size { width, height: long };
    let rest = Size {
        width: rest(side, count, width, seam),
        height: long,
    };
    let mut parts = Vec::new();
    if count > 1 {
        parts.push((full, count - 1, false));
    }
    parts.push((rest, 1, turn));
    Joined {
        parts,
        joins: count - 1,
        up,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    #[test]
    fn the_seams_are_paid_for() {
        for (w, h, cloth) in [(71, 86, 40), (120, 120, 42), (41, 90, 40), (200, 50, 44)] {
            let seam = Length::inches_frac(1, 2);
            let size = Size {
                width: INCH * w,
                height: INCH * h,
            };
            let made = joined(size, 1, INCH * cloth, seam, false).unwrap();
            let sum: Length = made.parts.iter().map(|(s, n, _)| s.width * *n).sum();
            let side = if made.up { size.width } else { size.height };
            assert_eq!(sum - seam * 2 * made.joins, side, "{w} x {h} on {cloth}");
        }
        assert_eq!(
            joined(
                Size {
                    width: INCH * 9,
                    height: INCH * 9
                },
                1,
                INCH,
                Length::inches_frac(1, 2),
                false
            ),
            None
        );
    }

    #[test]
    fn rests_of_several_panels_lie_side_by_side() {
        let seam = Length::inches_frac(1, 2);
        let size = Size {
            width: INCH * 75,
            height: INCH * 55,
        };
        // One: 2 lengths of 75 across are shorter than 3 of 55 up.
        let one = joined(size, 1, INCH * 36, seam, false).unwrap();
        assert!(!one.up && one.joins == 1, "{one:?}");
        // Four: 8 lengths of 55 up, and their rests of 5 all in one more: 495,
        // not 4 lengths of 75 and rests of 20, one beside another: 600.
        let four = joined(size, 4, INCH * 36, seam, false).unwrap();
        assert!(four.up && four.joins == 2, "{four:?}");
        assert_eq!(four.parts[1].0.width, INCH * 5);
    }
}
