//! Rows of triangles, diamonds and hexagons cover what the figures say: every
//! patch is drawn where it stands, and points all over the rectangle are looked
//! for in them.

use crate::cases;
use notchbook::figures::work_out;
use notchbook::measure::EIGHTH;
use notchbook::plan::{Face, Patchwork, Plan, Unit, UnitKind};
use proptest::prelude::*;

const ROOT_3: f64 = 1.732_050_807_568_877_2;

type Point = (f64, f64);

/// The corners of one patch, its side 1, counted from the top left.
fn patch(kind: UnitKind, column: i64, row: i64) -> Vec<Point> {
    let (c, r) = (column as f64, row as f64);
    let h = ROOT_3 / 2.0;
    match kind {
        UnitKind::Triangle60 => {
            let (x, top, bottom) = (c / 2.0, r * h, (r + 1.0) * h);
            if (column + row) % 2 == 0 {
                vec![(x, bottom), (x + 0.5, top), (x + 1.0, bottom)]
            } else {
                vec![(x, top), (x + 1.0, top), (x + 0.5, bottom)]
            }
        }
        UnitKind::Diamond60 => {
            // It leans to the right: the upper side is half a side further. The
            // next row is moved by half a side to meet it point to point.
            let x = c - if row % 2 == 1 { 0.5 } else { 0.0 };
            let (top, bottom) = (r * h, (r + 1.0) * h);
            vec![(x, bottom), (x + 0.5, top), (x + 1.5, top), (x + 1.0, bottom)]
        }
        _ => {
            let x = ROOT_3 * (c + if row % 2 == 1 { 0.5 } else { 0.0 });
            let y = 1.5 * r;
            vec![
                (x + h, y),
                (x + ROOT_3, y + 0.5),
                (x + ROOT_3, y + 1.5),
                (x + h, y + 2.0),
                (x, y + 1.5),
                (x, y + 0.5),
            ]
        }
    }
}

/// Whether a point lies in a convex patch, its edge included.
fn holds(corners: &[Point], point: Point) -> bool {
    let sides = (0..corners.len()).map(|n| {
        let (a, b) = (corners[n], corners[(n + 1) % corners.len()]);
        (b.0 - a.0) * (point.1 - a.1) - (b.1 - a.1) * (point.0 - a.0)
    });
    let turns: Vec<f64> = sides.collect();
    turns.iter().all(|t| *t >= -1e-6) || turns.iter().all(|t| *t <= 1e-6)
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn every_point_of_the_panel_is_on_a_patch(
        kind in 0..3usize, side in 8..40i64, width in 48..200i64, height in 48..200i64, seam in 1..4i64,
        cloths in 1..=8usize, points in prop::collection::vec((0.0..=1.0f64, 0.0..=1.0f64), 60),
    ) {
        let kind = [UnitKind::Triangle60, UnitKind::Diamond60, UnitKind::Hexagon][kind];
        let cloths = if kind == UnitKind::Triangle60 { 2 } else { cloths };
        let names: Vec<String> = (0..cloths).map(|n| format!("c{n}")).collect();
        let mut plan = Plan::default();
        plan.allowances.seam = EIGHTH * seam;
        plan.cloths = names
            .iter()
            .map(|id| notchbook::plan::Cloth { id: id.clone(), name: id.clone(), usable_width: EIGHTH * 400, ..Default::default() })
            .collect();
        plan.pieces = vec![notchbook::plan::Piece {
            id: "p1".into(), name: "Panel".into(), cut_count: 1, width: EIGHTH * width, height: EIGHTH * height,
            face: Some(Face::Patchwork(Patchwork {
                finished: EIGHTH * side,
                units: vec![Unit::new(kind, names.clone())],
                ..Default::default()
            })),
            ..Default::default()
        }];
        let figures = work_out(&plan);
        let Some(panel) = &figures.pieces[0].panel else {
            // Only a side too small for its seams is refused here, or one larger than the piece.
            let tight = (side as f64) < 3.47 * seam as f64;
            prop_assert!(tight || side > width.min(height), "{:?}", figures.problems);
            return Ok(());
        };
        let f = (EIGHTH * side).units() as f64;
        let s = plan.allowances.seam.units() as f64;
        // All patches, and where the straight edges are cut, in sides.
        let patches: Vec<Vec<Point>> = (0..panel.rows)
            .flat_map(|r| (0..panel.columns).map(move |c| patch(kind, c, r)))
            .collect();
        let odd_rows = kind != UnitKind::Triangle60;
        let (left, top) = match kind {
            UnitKind::Diamond60 => (0.5, 0.0),
            UnitKind::Triangle60 => (0.5, 0.0),
            _ => (ROOT_3 / 2.0, 0.5),
        };
        // As it is cut: a seam on every side that is cut through patches.
        let wide = (panel.inside.width.units() as f64 + 2.0 * s) / f;
        let cut_above = if kind == UnitKind::Hexagon { 2.0 * s } else { 0.0 };
        let high = (panel.inside.height.units() as f64 + cut_above) / f;
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (0.0, 0.5), (1.0, 0.5)];
        for (x, y) in points.into_iter().chain(corners) {
            let point = (left + x * wide, top + y * high);
            prop_assert!(
                patches.iter().any(|p| holds(p, point)),
                "{kind:?}: {point:?} of {wide} by {high} on none of {} x {}", panel.columns, panel.rows
            );
        }
        // It is enough, and one row or column less would not be.
        let needed = figures.pieces[0].needed_before;
        prop_assert!(panel.inside.width >= needed.width && panel.inside.height >= needed.height);
        let step = match kind { UnitKind::Triangle60 => 0.5, UnitKind::Diamond60 => 1.0, _ => ROOT_3 };
        prop_assert!(panel.columns <= 2 || panel.inside.width.units() as f64 - step * f < needed.width.units() as f64 + 4.0);
        prop_assert!(odd_rows || panel.rows >= 1);
        // No two patches lie on each other: their areas add up to the whole of them.
        let middle = |p: &Vec<Point>| {
            let n = p.len() as f64;
            (p.iter().map(|q| q.0).sum::<f64>() / n, p.iter().map(|q| q.1).sum::<f64>() / n)
        };
        for (n, one) in patches.iter().enumerate().take(40) {
            let at = middle(one);
            prop_assert!(patches.iter().enumerate().all(|(m, p)| m == n || !holds(p, at)));
        }
        // Each cloth as often as it stands there.
        let mut by_hand = vec![0i64; cloths];
        for r in 0..panel.rows {
            for c in 0..panel.columns {
                by_hand[((c + r) % cloths as i64) as usize] += 1;
            }
        }
        for (name, count) in names.iter().zip(by_hand) {
            let patches: i64 = panel.patches.iter().filter(|p| p.cloth == *name).map(|p| p.patches).sum();
            prop_assert_eq!(patches, count);
        }
    }
}
