//! The geometry of straight lines on a panel.
//!
//! Every set begins with a line through the middle of the panel; the others
//! follow from it to both sides, as they are marked by hand.

use crate::figures::Size;
use crate::measure::Length;
use crate::plan::Quilting;
use serde::Serialize;
use std::f64::consts::SQRT_2;

/// Lines of one way that are listed at most, on either side of the middle.
const MOST_TO_ONE_SIDE: usize = 2_000;

/// The way lines run, seen on the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LineWay {
    /// Up and down the panel.
    Upright,
    /// Across it.
    Level,
    /// At 45 degrees, up to the right.
    Rising,
    /// At 45 degrees, down to the right.
    Falling,
}

impl LineWay {
    pub const ALL: [LineWay; 4] = [LineWay::Upright, LineWay::Level, LineWay::Rising, LineWay::Falling];

    pub const fn name(self) -> &'static str {
        match self {
            LineWay::Upright => "upright",
            LineWay::Level => "level",
            LineWay::Rising => "rising",
            LineWay::Falling => "falling",
        }
    }

    pub const fn is_diagonal(self) -> bool {
        matches!(self, LineWay::Rising | LineWay::Falling)
    }

    pub fn spacing(self, quilting: &Quilting) -> Option<Length> {
        match self {
            LineWay::Upright => quilting.upright,
            LineWay::Level => quilting.level,
            LineWay::Rising => quilting.rising,
            LineWay::Falling => quilting.falling,
        }
    }
}

/// Parallel lines, from the left (level ones from the top).
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LineSet {
    pub way: LineWay,
    /// Between neighbouring lines, square to them.
    pub spacing: Length,
    /// Between them along an edge of the panel: of diagonal lines the root of 2 more.
    pub along_edge: Length,
    pub lines: Vec<GuideLine>,
    /// Which of them runs through the middle.
    pub middle: usize,
    pub length: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct GuideLine {
    pub from: EdgePoint,
    pub to: EdgePoint,
    /// Never less than it is.
    pub length: Length,
}

/// Where a line meets the edge of the panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct EdgePoint {
    pub edge: PanelEdge,
    /// From the left along the top or bottom edge, from the top along a side.
    pub at: Length,
    /// From the left and from the top.
    pub x: Length,
    pub y: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PanelEdge {
    Left,
    Top,
    Right,
    Bottom,
}

impl PanelEdge {
    pub const fn name(self) -> &'static str {
        match self {
            PanelEdge::Left => "left",
            PanelEdge::Top => "top",
            PanelEdge::Right => "right",
            PanelEdge::Bottom => "bottom",
        }
    }
}

/// What all straight lines of quilting take on one panel of this size, from edge to edge.
pub fn stitched_length(panel: Size, quilting: &Quilting) -> Length {
    sets(panel, quilting).iter().map(|set| set.length).sum()
}

/// The lines of every way that is set and more than nothing.
pub fn sets(panel: Size, quilting: &Quilting) -> Vec<LineSet> {
    let ways = LineWay::ALL.into_iter();
    ways.filter_map(|way| {
        let spacing = way.spacing(quilting).filter(|s| s.is_positive())?;
        line_set(panel, way, spacing)
    })
    .collect()
}

/// How many lines that would be, without listing them.
pub(super) fn count(panel: Size, quilting: &Quilting) -> i64 {
    let of = |way: LineWay| {
        let Some(spacing) = way.spacing(quilting).filter(|s| s.is_positive()) else {
            return 0;
        };
        let step = if way.is_diagonal() {
            spacing.times_irrational_down(SQRT_2)
        } else {
            spacing
        };
        run(panel, way).1.times_needed(step).saturating_add(1)
    };
    LineWay::ALL.into_iter().map(of).fold(0, i64::saturating_add)
}

/// Where the lines of a way begin to meet the panel and over how much of it
/// they step. Upright lines are x = t, level ones y = t, rising ones x + y = t
/// and falling ones x - y = t, with x from the left and y from the top.
fn run(panel: Size, way: LineWay) -> (Length, Length) {
    match way {
        LineWay::Upright => (Length::ZERO, panel.width),
        LineWay::Level => (Length::ZERO, panel.height),
        LineWay::Rising => (Length::ZERO, panel.width + panel.height),
        LineWay::Falling => (-panel.height, panel.width + panel.height),
    }
}

fn line_set(panel: Size, way: LineWay, spacing: Length) -> Option<LineSet> {
    let (first, span) = run(panel, way);
    let diagonal = way.is_diagonal();
    if !panel.width.is_positive() || !panel.height.is_positive() {
        return None;
    }
    // Rounded down once for each line: rather a line more than one too few.
    let step = |n: i64| {
        if diagonal {
            (spacing * n).times_irrational_down(SQRT_2)
        } else {
            spacing * n
        }
    };
    let middle = first + Length::from_units(span.units() / 2);
    let inside = |t: Length| t > first && t < first + span;
    let to_one_side = (1..)
        .map(step)
        .take_while(|by| inside(middle - *by) || inside(middle + *by));
    let offsets: Vec<Length> = to_one_side.take(MOST_TO_ONE_SIDE).collect();
    let before = offsets.iter().rev().map(|by| middle - *by);
    let after = offsets.iter().map(|by| middle + *by);
    let all = before.chain([middle]).chain(after);
    let lines: Vec<GuideLine> = all.filter(|t| inside(*t)).map(|t| line(panel, way, t)).collect();
    let middle = offsets.iter().filter(|by| inside(middle - **by)).count();
    Some(LineSet {
        way,
        spacing,
        along_edge: if diagonal {
            spacing.times_irrational_up(SQRT_2)
        } else {
            spacing
        },
        length: lines.iter().map(|l| l.length).sum(),
        middle,
        lines,
    })
}

fn line(panel: Size, way: LineWay, t: Length) -> GuideLine {
    let (w, h, zero) = (panel.width, panel.height, Length::ZERO);
    let (from, to) = match way {
        LineWay::Upright => ((t, zero), (t, h)),
        LineWay::Level => ((zero, t), (w, t)),
        LineWay::Rising => {
            let (left, right) = ((t - h).max(zero), t.min(w));
            ((left, t - left), (right, t - right))
        }
        LineWay::Falling => {
            let (left, right) = (t.max(zero), w.min(h + t));
            ((left, left - t), (right, right - t))
        }
    };
    let length = match way {
        LineWay::Upright => h,
        LineWay::Level => w,
        LineWay::Rising | LineWay::Falling => (to.0 - from.0).times_irrational_up(SQRT_2),
    };
    GuideLine {
        from: edge_point(panel, from, way),
        to: edge_point(panel, to, way),
        length,
    }
}

fn edge_point(panel: Size, (x, y): (Length, Length), way: LineWay) -> EdgePoint {
    let side = way != LineWay::Upright;
    let edge = if side && x <= Length::ZERO {
        PanelEdge::Left
    } else if side && x >= panel.width {
        PanelEdge::Right
    } else if y <= Length::ZERO {
        PanelEdge::Top
    } else {
        PanelEdge::Bottom
    };
    let at = match edge {
        PanelEdge::Left | PanelEdge::Right => y,
        PanelEdge::Top | PanelEdge::Bottom => x,
    };
    EdgePoint { edge, at, x, y }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    fn size(width: i64, height: i64) -> Size {
        Size {
            width: INCH * width,
            height: INCH * height,
        }
    }

    #[test]
    fn lines_go_out_from_the_middle() {
        let upright = Quilting {
            upright: Some(INCH * 4),
            ..Quilting::default()
        };
        let sets = sets(size(21, 30), &upright);
        let at: Vec<f64> = sets[0].lines.iter().map(|l| l.from.at.as_inches_f64()).collect();
        assert_eq!(at, [2.5, 6.5, 10.5, 14.5, 18.5]);
        assert_eq!(sets[0].middle, 2);
        assert_eq!(stitched_length(size(21, 30), &upright), INCH * 150);
        // On an edge there is no line: 20 / 2 = 10, 6, 2 and not at 0 of a panel 24 wide.
        let six = Quilting {
            upright: Some(INCH * 6),
            ..Quilting::default()
        };
        assert_eq!(super::sets(size(24, 5), &six)[0].lines.len(), 3);
        // Farther apart than the panel is wide: the one through the middle.
        let wide = Quilting {
            level: Some(INCH * 60),
            ..Quilting::default()
        };
        assert_eq!(stitched_length(size(21, 30), &wide), INCH * 21);
    }

    #[test]
    fn diagonals_have_their_true_length() {
        // A square: the middle line is its diagonal, and lines at both sides
        // get shorter by twice the spacing.
        for quilting in [
            Quilting {
                rising: Some(INCH * 2),
                ..Quilting::default()
            },
            Quilting {
                falling: Some(INCH * 2),
                ..Quilting::default()
            },
        ] {
            let set = &sets(size(20, 20), &quilting)[0];
            let lengths: Vec<f64> = set.lines.iter().map(|l| l.length.as_inches_f64()).collect();
            assert_eq!(lengths.len(), 15, "{lengths:?}");
            let diagonal = 20.0 * 2f64.sqrt();
            for (n, length) in lengths.iter().enumerate() {
                let far = (n as f64 - 7.0).abs() * 4.0;
                assert!((length - (diagonal - far)).abs() < 0.001, "{n}: {length}");
            }
            for line in &set.lines {
                let (dx, dy) = (line.to.x - line.from.x, line.to.y - line.from.y);
                assert_eq!(dx, dy.abs());
                assert_eq!(dy.is_negative(), set.way == LineWay::Rising);
            }
        }
    }
}
