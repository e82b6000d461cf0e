//! The question turned round: not how much cloth the plan takes, but what can
//! be made of the cloth that is there.
//!
//! Every answer is a layout that was found on the remnants, the ready-cut
//! patches and the length owned, with nothing to buy. "No" means that none was
//! found. Faces alone are asked about: batting and backing are other cloth.

use super::check::{Checked, check};
use super::cutlist::{cut_list, cuts_in_all};
use super::layout::{Job, with_stock};
use super::outline::AtHand;
use super::panel;
use super::{ClothFigures, PanelFigures, PieceFigures, Problem, ready_cut, work_out};
use crate::drafting::settled;
use crate::measure::Length;
use crate::plan::{Arrangement, Face, Patchwork, Piece, Plan, limits};
use serde::Serialize;

/// How many of one piece there is enough for, were nothing else made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceFromLeftovers {
    pub piece: String,
    pub name: String,
    /// Its cut count.
    pub wanted: i64,
    pub covered: i64,
    /// What one more would take beyond what is at hand; empty if none is wanted.
    pub runs_out: Vec<RunsOut>,
}

/// A cloth there is too little of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RunsOut {
    pub cloth: String,
    pub name: String,
    /// Length of the full width that would have to be bought, straightening included.
    pub short: Length,
}

/// The largest panel there is enough for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PanelFromLeftovers {
    pub panel: PanelFigures,
    /// What is cut for it, and from what.
    pub cloths: Vec<ClothFigures>,
    /// The next larger panel that was tried: columns and rows, and what it
    /// lacks. Nothing if it cannot be worked out.
    pub next: Option<(i64, i64)>,
    pub runs_out: Vec<RunsOut>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LargestPanel {
    /// About as wide to high as was wished; nothing if there is not enough for one unit.
    pub near: Option<PanelFromLeftovers>,
    /// As wide as the cloth between its selvages.
    pub full_width: Option<PanelFromLeftovers>,
    /// What one unit lacks, where there is not enough for it.
    pub runs_out: Vec<RunsOut>,
}

/// Unit and proportion of the panel that is asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelWish {
    /// Its units, arrangement and finished size; sashing, borders and the set
    /// on point are left aside.
    pub patchwork: Patchwork,
    /// Width to height.
    pub wide: u32,
    pub high: u32,
}

/// More units than this one way are not tried.
const MOST: i64 = 2_000;

/// How many of each piece with a face there is enough for.
pub fn pieces_from_leftovers(plan: &Plan) -> Vec<PieceFromLeftovers> {
    let settled = settled(plan);
    let plan = &*settled.plan;
    let known = |piece: &&Piece| !settled.unsettled_pieces.contains(&piece.id);
    let faces = plan.pieces.iter().filter(|piece| piece.face.is_some()).filter(known);
    faces.filter_map(|piece| of_piece(plan, piece)).collect()
}

fn of_piece(plan: &Plan, piece: &Piece) -> Option<PieceFromLeftovers> {
    let wanted = i64::from(piece.cut_count);
    let attempt = |count: i64| {
        let one = Piece {
            cut_count: u32::try_from(count).unwrap_or(u32::MAX),
            mirrored: false,
            layers: None,
            ..piece.clone()
        };
        attempt(plan, one)
    };
    // What cannot be worked out at all is told by the figures.
    let all = attempt(wanted).ok()?;
    let (covered, runs_out) = if all.covered() {
        (wanted, Vec::new())
    } else {
        let (most, beyond) = most(wanted - 1, |count| attempt(count).ok());
        (most, beyond.map_or(all.short, |a| a.short))
    };
    Some(PieceFromLeftovers {
        piece: piece.id.clone(),
        name: super::check::called(&piece.name, &piece.id),
        wanted,
        covered,
        runs_out,
    })
}

/// The largest panel of a unit. A problem where its figures cannot be worked out.
pub fn largest_panel(plan: &Plan, wish: &PanelWish) -> Result<LargestPanel, Vec<Problem>> {
    let patchwork = Patchwork {
        on_point: None,
        sashing: None,
        borders: Vec::new(),
        // What was painted belongs to another panel.
        arrangement: match wish.patchwork.arrangement {
            Arrangement::Painted => Arrangement::AllAlike,
            other => other,
        },
        painted: Vec::new(),
        ..wish.patchwork.clone()
    };
    let ask = |(columns, rows): (i64, i64)| attempt(plan, piece_of(&patchwork, columns, rows));
    let one = ask((1, 1))?;
    if !one.covered() {
        return Ok(LargestPanel {
            near: None,
            full_width: None,
            runs_out: one.short,
        });
    }
    // Columns to rows: a unit need not be as high as it is wide.
    let unit = piece_of(&patchwork, 1, 1);
    let part = |wished: u32, side: Length| i64::from(wished.clamp(1, 1_000)) * side.units();
    let (wide, high) = (part(wish.wide, unit.height), part(wish.high, unit.width));
    // Along its longer side unit by unit, the other side as the proportion has it.
    let at = |n: i64| {
        let other = |part: i64, whole: i64| ((n * part * 2 + whole) / (whole * 2)).max(1);
        if wide >= high {
            (n, other(high, wide))
        } else {
            (other(wide, high), n)
        }
    };
    let (n, beyond) = most(MOST, |n| ask(at(n)).ok());
    let (mut columns, mut rows) = at(n.max(1));
    let mut next = beyond;
    // One column or row more, where it stays within a unit of the proportion.
    let off = |(columns, rows): (i64, i64)| (columns * high - rows * wide).abs();
    for _ in 0..4 {
        let mut more = [(columns + 1, rows), (columns, rows + 1)];
        more.sort_by_key(|size| off(*size));
        // Within one column or row of it.
        let close = more.into_iter().filter(|size| off(*size) <= wide.max(high));
        let Some(found) = close.into_iter().find(|size| match ask(*size) {
            Ok(attempt) if attempt.covered() => true,
            Ok(attempt) => {
                next = Some(attempt);
                false
            }
            Err(_) => false,
        }) else {
            break;
        };
        (columns, rows) = found;
    }
    let near = found(plan, &patchwork, (columns, rows), next);
    Ok(LargestPanel {
        near,
        full_width: full_width(plan, &patchwork),
        runs_out: Vec::new(),
    })
}

fn full_width(plan: &Plan, patchwork: &Patchwork) -> Option<PanelFromLeftovers> {
    let face = Face::Patchwork(patchwork.clone());
    let widths = plan.cloths.iter().filter(|c| face.cloths().any(|id| id == c.id));
    let width = widths.map(|c| c.usable_width).min()?;
    let columns = (width - plan.allowances.seam * 2).times_fits(patchwork.finished);
    if columns < 1 {
        return None;
    }
    let ask = |rows: i64| attempt(plan, piece_of(patchwork, columns, rows)).ok();
    let (rows, beyond) = most(MOST, ask);
    if rows < 1 {
        return None;
    }
    found(plan, patchwork, (columns, rows), beyond)
}

/// The largest count that is covered, and what the next one comes to. Found by
/// doubling and halving: a larger count is taken to need more.
fn most(highest: i64, ask: impl Fn(i64) -> Option<Attempt>) -> (i64, Option<Attempt>) {
    let (mut low, mut high, mut beyond) = (0, highest + 1, None);
    let mut step = 1;
    while low + 1 < high {
        let middle = if beyond.is_none() && low + step < high {
            low + step
        } else {
            low + (high - low) / 2
        };
        match ask(middle) {
            Some(attempt) if attempt.covered() => {
                low = middle;
                step *= 2;
            }
            failed => {
                high = middle;
                beyond = failed.or(beyond);
                if beyond.is_none() {
                    step = MOST * 2;
                }
            }
        }
    }
    (low, beyond)
}

fn piece_of(patchwork: &Patchwork, columns: i64, rows: i64) -> Piece {
    Piece {
        id: "largest".into(),
        name: "The largest panel".into(),
        cut_count: 1,
        width: patchwork.finished * columns,
        height: patchwork.finished_height.unwrap_or(patchwork.finished) * rows,
        face: Some(Face::Patchwork(patchwork.clone())),
        ..Piece::default()
    }
}

fn found(
    plan: &Plan,
    patchwork: &Patchwork,
    (columns, rows): (i64, i64),
    next: Option<Attempt>,
) -> Option<PanelFromLeftovers> {
    let figures = work_out(&alone(plan, piece_of(patchwork, columns, rows)));
    Some(PanelFromLeftovers {
        panel: figures.pieces.into_iter().next()?.panel?,
        cloths: figures.cloths.into_iter().filter(ClothFigures::is_used).collect(),
        next: next.as_ref().map(|n| n.grid),
        runs_out: next.map(|n| n.short).unwrap_or_default(),
    })
}

/// The plan with this one piece to make.
fn alone(plan: &Plan, piece: Piece) -> Plan {
    Plan {
        format: plan.format,
        allowances: plan.allowances.clone(),
        cloths: plan.cloths.clone(),
        // As large as its outline says already.
        pieces: vec![Piece { pattern: None, ..piece }],
        ..Plan::new(plan.unit)
    }
}

struct Attempt {
    /// Columns and rows of the panel.
    grid: (i64, i64),
    /// What would have to be bought, the most first.
    short: Vec<RunsOut>,
}

impl Attempt {
    fn covered(&self) -> bool {
        self.short.is_empty()
    }
}

/// Lays one piece out on what is at hand.
fn attempt(plan: &Plan, piece: Piece) -> Result<Attempt, Vec<Problem>> {
    let plan = alone(plan, piece);
    let checked = check(&settled(&plan));
    let own = |problem: &Problem| problem.field.starts_with("pieces") || problem.field.starts_with("allowances");
    let mut problems: Vec<Problem> = checked.problems.iter().filter(|p| own(p)).cloned().collect();
    let pieces = panel::pieces(&plan, &checked, &mut problems);
    let cuts = cuts_in_all(&pieces);
    if cuts > limits::CUTS {
        problems.push(super::too_many_cuts(cuts));
    }
    let laid = checked.allowances.straightening && pieces.iter().any(|(_, p)| p.panel.is_some());
    if !laid || !problems.is_empty() {
        return Err(problems);
    }
    let uses = |id: &str| {
        plan.pieces
            .iter()
            .filter_map(|p| p.face.as_ref())
            .any(|f| f.cloths().any(|c| c == id))
    };
    let mut short = Vec::new();
    for (cloth, sound) in plan.cloths.iter().zip(&checked.cloths) {
        if !uses(&cloth.id) {
            continue;
        }
        if !sound {
            return Err(checked.problems.clone());
        }
        let beyond = beyond_what_is_at_hand(&plan, &checked, &pieces, cloth)?;
        if beyond.is_positive() {
            short.push(RunsOut {
                cloth: cloth.id.clone(),
                name: super::check::called(&cloth.name, &cloth.id),
                short: beyond,
            });
        }
    }
    short.sort_by_key(|s| std::cmp::Reverse(s.short));
    let panel = pieces.first().and_then(|(_, p)| p.panel.as_ref());
    let grid = panel.map_or((0, 0), |p| (p.columns, p.rows));
    Ok(Attempt { grid, short })
}

fn beyond_what_is_at_hand(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &crate::plan::Cloth,
) -> Result<Length, Vec<Problem>> {
    let mut list = cut_list(plan, checked, pieces, cloth, cloth.usable_width)?;
    ready_cut::take(cloth, &mut list.lines);
    let job = Job::new(&list.lines, cloth.usable_width, plan.allowances.straightening);
    let whole = job.least();
    let at_hand = AtHand::of(cloth);
    Ok(with_stock(&job, &whole, &at_hand.sound(), cloth.owned).taken_from_bought())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    /// Squares of 4 in finished (4 1/2 in cut), without straightening.
    fn plan(cloth: &str, count: i64) -> Plan {
        let json = format!(
            r#"{{"format":1,"allowances":{{"straightening":"0 in"}},
            "cloths":[{{"id":"c1","name":"Cream","usable_width":"42 in",{cloth}}}],
            "pieces":[{{"id":"p1","name":"Pocket","cut_count":{count},"width":"8 in","height":"8 in",
            "face":{{"kind":"patchwork","finished":"4 in","arrangement":"all-alike","units":[{{"kind":"square","cloths":["c1"]}}]}}}}]}}"#
        );
        Plan::from_json(&json).unwrap()
    }

    fn wish(plan: &Plan, wide: u32, high: u32) -> PanelWish {
        let Some(Face::Patchwork(patchwork)) = plan.pieces[0].face.clone() else {
            panic!("no patchwork")
        };
        PanelWish { patchwork, wide, high }
    }

    #[test]
    fn so_many_pieces_as_there_is_cloth_for() {
        // A fat quarter holds 4 x 4 squares: four pockets of 2 x 2.
        let quarter = r#""remnants":[{"width":"18 in","length":"22 in","count":1}]"#;
        let six = &pieces_from_leftovers(&plan(quarter, 6))[0];
        assert_eq!((six.wanted, six.covered), (6, 4));
        assert_eq!(
            (six.runs_out[0].name.as_str(), six.runs_out[0].short),
            ("Cream", Length::inches_frac(9, 2))
        );
        let two = &pieces_from_leftovers(&plan(quarter, 2))[0];
        assert_eq!((two.covered, two.runs_out.len()), (2, 0));
        // Eight ready-cut squares more are two pockets more.
        let ready = format!(r#"{quarter},"ready_cut":[{{"width":"5 in","height":"5 in","count":8}}]"#);
        assert_eq!(pieces_from_leftovers(&plan(&ready, 9))[0].covered, 6);
        assert_eq!(pieces_from_leftovers(&plan(r#""owned":"0 in""#, 9))[0].covered, 0);
    }

    #[test]
    fn so_large_a_panel_as_there_is_cloth_for() {
        // 17 squares: 4 x 4; of 1 to 4, 2 x 8; as wide as the cloth 10, one row.
        let there = r#""remnants":[{"width":"18 in","length":"22 in","count":1}],"ready_cut":[{"width":"4 1/2 in","height":"5 in","count":1}]"#;
        let plan = plan(there, 1);
        let panel = |wide, high| {
            let largest = largest_panel(&plan, &wish(&plan, wide, high)).unwrap();
            let near = largest.near.unwrap();
            assert!(near.cloths.iter().all(|c| !c.to_buy.is_positive()));
            assert!(near.runs_out[0].short.is_positive());
            let next = near.next.unwrap();
            assert!(next.0 * next.1 > 17);
            let full = largest.full_width.unwrap();
            assert_eq!((full.panel.columns, full.panel.rows), (10, 1));
            (near.panel.columns, near.panel.rows)
        };
        assert_eq!(panel(1, 1), (4, 4));
        assert_eq!(panel(1, 4), (2, 8));
        assert_eq!(panel(100, 1), (17, 1));
    }

    #[test]
    fn where_there_is_nothing_it_says_what_is_missing() {
        let plan = plan(r#""owned":"0 in""#, 1);
        let none = largest_panel(&plan, &wish(&plan, 1, 1)).unwrap();
        assert!(none.near.is_none() && none.full_width.is_none());
        assert_eq!(none.runs_out[0].short, Length::inches_frac(9, 2));
        let mut broken = wish(&plan, 1, 1);
        broken.patchwork.finished = -INCH;
        assert!(!largest_panel(&plan, &broken).unwrap_err().is_empty());
    }
}
