//! Straight lines of quilting on a panel: where they lie, how many there are,
//! how much is stitched.
//!
//! - [`lines`]: the geometry
//! - [`words`]: where they lie, in words

mod lines;
mod words;

pub use lines::{EdgePoint, GuideLine, LineSet, LineWay, PanelEdge, sets, stitched_length};
pub use words::from_words;

use super::check::Checked;
use super::{PieceFigures, Problem, Shown, Size};
use crate::measure::{Length, Round};
use crate::plan::{Piece, Plan, Quilting};
use lines::count;
use serde::Serialize;
use std::f64::consts::SQRT_2;
use words::{one, set_words};

/// Lines on one panel, and in a whole plan: each is listed and drawn.
const MOST_ON_A_PANEL: i64 = 2_000;
const MOST_IN_ALL: i64 = 20_000;

/// Lines 2 to 4 in apart are safe for any batting: Fairfield (a maker), fairfieldworld.com/faq/.
const SAFE_DISTANCE: Length = Length::whole_inches(4);

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
    let closest = sets.iter().map(|s| s.spacing).min();
    if figures.batting.is_some() && closest.is_some_and(|s| s > SAFE_DISTANCE) {
        shown.cautions.push(format!(
            "No lines are closer than {}: see how far apart the batting's maker allows. Up to {} holds any batting (Fairfield, fairfieldworld.com/faq/).",
            closest.unwrap_or_default().both(unit, Round::Nearest),
            SAFE_DISTANCE.both(unit, Round::Nearest)
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
    use crate::figures::work_out;
    use crate::plan::Plan;

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
