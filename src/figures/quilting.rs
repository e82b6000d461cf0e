//! Straight lines of quilting on a panel: where they lie, how many there are,
//! how much is stitched.
//!
//! Every set of lines begins with one through the middle of the panel, the
//! others follow from it to both sides, as they are marked by hand.

use super::check::Checked;
use super::{PieceFigures, Problem, Shown, Size};
use crate::measure::{Length, Round, Unit};
use crate::plan::{Piece, Plan, Quilting};
use serde::Serialize;
use std::f64::consts::SQRT_2;

/// Lines on one panel, and in a whole plan: each is listed and drawn.
const MOST_ON_A_PANEL: i64 = 2_000;
const MOST_IN_ALL: i64 = 20_000;

/// The quilting of a whole plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct QuiltingFigures {
    /// Pieces that have lines, in the plan's order.
    pub pieces: Vec<PieceQuilting>,
    /// Stitched on all panels of all pieces, from edge to edge of the panels.
    pub total: Length,
    /// More, where lines are sewn on to the edge of the layers.
    pub into_overage: Length,
    pub cautions: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceQuilting {
    pub piece: String,
    pub name: String,
    /// Panels of this piece.
    pub count: i64,
    /// The panel the lines are marked on, before quilting.
    pub panel: Size,
    pub sets: Vec<LineSet>,
    /// Lines on one panel.
    pub lines: i64,
    /// Stitched on one panel, and on all of this piece.
    pub length: Length,
    pub total: Length,
    /// More, on all panels, where lines are sewn on to the edge of the layers.
    pub into_overage: Length,
    pub shown: Shown,
}

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

    pub(super) fn spacing(self, quilting: &Quilting) -> Option<Length> {
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
fn count(panel: Size, quilting: &Quilting) -> i64 {
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
    let offsets: Vec<Length> = to_one_side.take(MOST_ON_A_PANEL as usize).collect();
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

/// The quilting of every piece whose size and lines are known; what is too
/// much is added to the problems.
pub(super) fn quilting(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    problems: &mut Vec<Problem>,
) -> QuiltingFigures {
    let mut out = QuiltingFigures::default();
    let mut in_all = 0i64;
    for (n, figures) in pieces {
        let Some(piece) = plan.pieces.get(*n) else { continue };
        let lines = piece.layers.as_ref().and_then(|l| l.quilting.as_ref());
        let Some(lines) = lines.filter(|_| checked.quilting.get(*n).is_some_and(|sound| *sound)) else {
            continue;
        };
        let panel = figures.panel.as_ref().map_or(figures.needed_before, |p| p.before);
        let count = count(panel, lines);
        if count > MOST_ON_A_PANEL || in_all + count > MOST_IN_ALL {
            let most = MOST_ON_A_PANEL.min((MOST_IN_ALL - in_all).max(0));
            problems.push(Problem {
                field: format!("pieces/{}/layers/quilting", piece.id),
                message: format!(
                    "The quilting of {} would be {count} lines on one panel; {most} are the most that can be listed. Set the lines farther apart.",
                    figures.name
                ),
            });
            continue;
        }
        in_all += count;
        let quilted = of_piece(plan, piece, figures, panel, lines);
        if !quilted.sets.is_empty() {
            out.total += quilted.total;
            out.into_overage += quilted.into_overage;
            out.pieces.push(quilted);
        }
    }
    if out.into_overage.is_positive() {
        out.cautions.push(format!(
            "Lines are counted from edge to edge of each panel. Sewn on to the edge of the layers they take up to {} more in all.",
            out.into_overage.both_cloth(plan.unit, Round::Up)
        ));
    }
    out
}

fn of_piece(plan: &Plan, piece: &Piece, figures: &PieceFigures, panel: Size, quilting: &Quilting) -> PieceQuilting {
    let unit = plan.unit;
    let sets = sets(panel, quilting);
    let lines: i64 = sets.iter().map(|s| s.lines.len() as i64).sum();
    let length: Length = sets.iter().map(|s| s.length).sum();
    let total = length * figures.count;
    let mut shown = Shown::default();
    let one = |l: Length| one(l, unit);
    shown.working.push(format!(
        "The panel before quilting: {} wide, {} high.",
        panel.width.both(unit, Round::Nearest),
        panel.height.both(unit, Round::Nearest)
    ));
    for set in &sets {
        shown.working.push(set_words(set, panel, unit));
    }
    if figures.count > 1 {
        shown.working.push(format!(
            "{} panels × {} = {}.",
            figures.count,
            one(length),
            total.both_cloth(unit, Round::Up)
        ));
    }
    let overage = overage(plan, piece, figures);
    let into_overage = sets.iter().map(|s| beyond(s, overage)).sum::<Length>() * figures.count;
    if into_overage.is_positive() {
        shown.working.push(format!(
            "Not counted: sewn on to the edge of the layers, up to {} beyond each edge of the panel, the lines take {} more{}.",
            overage.both(unit, Round::Nearest),
            into_overage.both_cloth(unit, Round::Up),
            if figures.count > 1 { " on all panels" } else { "" }
        ));
    }
    if figures.mirrored && quilting.rising != quilting.falling {
        shown
            .cautions
            .push("A mirrored pair: on the mirrored panels the diagonal lines run the other way.".into());
    }
    PieceQuilting {
        piece: figures.piece.clone(),
        name: figures.name.clone(),
        count: figures.count,
        panel,
        sets,
        lines,
        length,
        total,
        into_overage,
        shown,
    }
}

fn one(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => length.inches(Round::Nearest),
        Unit::Cm => length.cm(Round::Nearest),
    }
}

fn set_words(set: &LineSet, panel: Size, unit: Unit) -> String {
    let count = set.lines.len();
    let lines = if count == 1 { "line" } else { "lines" };
    let sum = set.length.both(unit, Round::Up);
    let Some(middle) = set.lines.get(set.middle) else {
        return String::new();
    };
    let at = match set.way {
        LineWay::Upright => format!("{} from the left edge", one(middle.from.at, unit)),
        LineWay::Level => format!("{} from the top edge", one(middle.from.at, unit)),
        LineWay::Rising | LineWay::Falling => format!(
            "from {} {} to {} {}",
            one(middle.from.at, unit),
            from_words(middle.from.edge),
            one(middle.to.at, unit),
            from_words(middle.to.edge)
        ),
    };
    match set.way {
        LineWay::Upright | LineWay::Level => format!(
            "{} lines {} apart: the first through the middle, {at}, the others from it to both sides; {count} {lines} × {} = {sum}.",
            capital(set.way.name()),
            one(set.spacing, unit),
            one(
                if set.way == LineWay::Upright {
                    panel.height
                } else {
                    panel.width
                },
                unit
            )
        ),
        LineWay::Rising | LineWay::Falling => format!(
            "{} lines at 45 degrees, {} apart square to them, so × 1.414 = {} along an edge: the first through the middle, {at}, the others from it to both sides; {count} {lines}, {sum} together.",
            capital(set.way.name()),
            one(set.spacing, unit),
            one(set.along_edge, unit)
        ),
    }
}

/// "down the left edge", "along the top edge".
pub fn from_words(edge: PanelEdge) -> &'static str {
    match edge {
        PanelEdge::Left => "down the left edge",
        PanelEdge::Right => "down the right edge",
        PanelEdge::Top => "along the top edge",
        PanelEdge::Bottom => "along the bottom edge",
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// How far the layers reach beyond the panel: quilting goes through all of them.
fn overage(plan: &Plan, piece: &Piece, figures: &PieceFigures) -> Length {
    let a = &plan.allowances;
    let layers = piece.layers.as_ref();
    let batting = layers.and_then(|l| l.batting.as_ref()).and(figures.batting);
    let backing = layers.and_then(|l| l.backing.as_ref()).and(figures.backing);
    match (batting, backing) {
        (Some(_), Some(_)) => a.batting_overage.min(a.backing_overage),
        (Some(_), None) => a.batting_overage,
        (None, Some(_)) => a.backing_overage,
        (None, None) => Length::ZERO,
    }
}

/// What both ends of all lines take across that border.
fn beyond(set: &LineSet, overage: Length) -> Length {
    let end = match set.way {
        LineWay::Upright | LineWay::Level => overage,
        LineWay::Rising | LineWay::Falling => overage.times_irrational_up(SQRT_2),
    };
    end * 2 * set.lines.len() as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
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

    #[test]
    fn the_layers_reach_beyond_the_panel() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[{"id":"c1","name":"Cream","usable_width":"108 in"},{"id":"b","name":"Wool","kind":"batting","usable_width":"90 in"}],
            "pieces":[{"id":"p1","name":"Front","cut_count":2,"mirrored":true,"width":"20 in","height":"24 in","face":{"kind":"plain","cloth":"c1"},
              "layers":{"batting":"b","backing":"c1","quilting":{"upright":"2 in","falling":"3 in"}}},
              {"id":"p2","name":"Back","cut_count":1,"width":"20 in","height":"24 in","layers":{"quilting":{"level":"2 in"}}},
              {"id":"p3","name":"Band","cut_count":1,"width":"20 in","height":"2 in","layers":{"quilting":{"level":"0 in"}}},
              {"id":"p4","name":"Hood","cut_count":1,"width":"20 in","height":"200 in","layers":{"quilting":{"level":"1/640 mm"}}}]}"#,
        )
        .unwrap();
        let figures = work_out(&plan);
        let [front, back] = &figures.quilting.pieces[..] else {
            panic!("{:?}", figures.quilting.pieces)
        };
        assert_eq!(front.total, front.length * 2);
        assert_eq!(figures.quilting.total, front.total + back.total);
        let working = front.shown.working.join(" ");
        assert!(working.contains("up to 3 in (7.6 cm) beyond each edge"), "{working}");
        assert!(front.shown.cautions[0].contains("mirrored"));
        assert_eq!(figures.quilting.into_overage, front.into_overage);
        assert!(figures.quilting.cautions[0].contains("edge of the layers"));
        assert!(back.shown.cautions.is_empty(), "there is nothing to sew on into");
        let told = |field: &str| figures.problems.iter().any(|p| p.field == field);
        assert!(told("pieces/p3/layers/quilting/level"));
        assert!(told("pieces/p4/layers/quilting"), "{:?}", figures.problems);
    }
}
