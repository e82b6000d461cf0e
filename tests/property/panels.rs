//! Panels recounted: position by position, strip by strip, and by their areas.

use crate::{cases, plans};
use notchbook::figures::{PanelFigures, PieceFigures, Purpose, Setting, StripKind, work_out};
use notchbook::measure::Length;
use notchbook::plan::{Face, Patchwork, Plan, Unit, UnitKind};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

type Counts = BTreeMap<String, i64>;

fn add(counts: &mut Counts, cloth: &str, n: i64) {
    if n > 0 {
        *counts.entry(cloth.into()).or_default() += n;
    }
}

/// Patches of one unit, as it is drawn.
fn of_unit(counts: &mut Counts, unit: &Unit) {
    let each: &[i64] = match unit.kind {
        UnitKind::FlyingGeese => &[2, 4],
        UnitKind::SquareInASquare => &[1, 4],
        UnitKind::FourPatch => &[2, 2],
        UnitKind::NinePatch => &[5, 4],
        UnitKind::Pinwheel => &[4, 4],
        _ => &[1; 8],
    };
    for (cloth, n) in unit.cloths.iter().zip(each) {
        add(counts, cloth, *n);
    }
    for cloth in unit.parts.iter().flat_map(|p| &p.cloths) {
        add(counts, cloth, 1);
    }
}

/// All patches of one panel, walked over from the top left.
fn walked(face: &Patchwork, panel: &PanelFigures) -> Counts {
    let mut counts = Counts::new();
    let on_point = matches!(panel.setting, Setting::OnPoint { .. });
    let in_rows = face.units[0].kind.in_rows();
    let rows = if on_point { panel.rows * 2 - 1 } else { panel.rows };
    for row in 0..rows {
        let columns = if on_point && row % 2 == 1 {
            panel.columns - 1
        } else {
            panel.columns
        };
        for column in 0..columns {
            let (c, r) = (column as usize, row as usize);
            if in_rows {
                let cloths = &face.units[0].cloths;
                add(&mut counts, &cloths[(c + r) % cloths.len()], 1);
            } else {
                let (unit, _) = face.unit_at(c, r).expect("what is painted can be read");
                of_unit(&mut counts, &face.units[unit]);
            }
        }
    }
    if let Some(on_point) = &face.on_point {
        // Between two outer corners along each side, and one in each corner.
        add(
            &mut counts,
            &on_point.side,
            2 * (panel.columns - 1) + 2 * (panel.rows - 1),
        );
        add(&mut counts, &on_point.corner, 4);
    }
    if let Some(sashing) = &face.sashing {
        let more = if sashing.around { 1 } else { -1 };
        if let Some(posts) = &sashing.posts {
            let there = if on_point {
                // At every corner of every block, shared by those that meet there:
                // in half diagonals from the top left corner.
                let mut corners = BTreeSet::new();
                for row in 0..panel.rows * 2 - 1 {
                    for column in 0..panel.columns - row % 2 {
                        let (x, y) = (2 * column + 1 + row % 2, row + 1);
                        corners.extend([(x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1)]);
                    }
                }
                corners.len() as i64
            } else {
                (panel.columns + more) * (panel.rows + more)
            };
            add(&mut counts, posts, there);
        }
    }
    for border in &face.borders {
        if let Some(corners) = &border.corners {
            add(&mut counts, corners, 4);
        }
    }
    counts
}

fn faces(
    plan: &Plan,
    mut with: impl FnMut(&Patchwork, &PieceFigures, &PanelFigures) -> Result<(), TestCaseError>,
) -> Result<(), TestCaseError> {
    for worked in &work_out(&plans::without_layouts(plan)).pieces {
        let face = plan.piece(&worked.piece).and_then(|p| p.face.as_ref());
        if let (Some(Face::Patchwork(face)), Some(panel)) = (face, &worked.panel) {
            with(face, worked, panel)?;
        }
    }
    Ok(())
}

fn area(width: Length, height: Length) -> f64 {
    width.units() as f64 * height.units() as f64
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn every_patch_is_counted(plan in plans::sound()) {
        faces(&plan, |face, worked, panel| {
            let by_hand: Counts = walked(face, panel).into_iter().map(|(c, n)| (c, n * worked.count)).collect();
            let mut counted = Counts::new();
            for patch in &panel.patches {
                add(&mut counted, &patch.cloth, patch.patches);
            }
            prop_assert_eq!(counted, by_hand);
            Ok(())
        })?;
    }

    /// The size of a panel, from the inside out.
    #[test]
    fn a_panel_reaches_its_size(plan in plans::sound()) {
        let seam = plan.allowances.seam;
        faces(&plan, |face, worked, panel| {
            let (c, r) = (panel.columns, panel.rows);
            let (f, h) = (face.finished, face.finished_height.unwrap_or(face.finished));
            match panel.setting {
                Setting::Straight => {
                    let sash = face.sashing.as_ref().map_or(Length::ZERO, |s| s.width);
                    let more = if face.sashing.as_ref().is_some_and(|s| s.around) { 1 } else { -1 };
                    prop_assert_eq!(panel.inside.width, f * c + sash * (c + more));
                    prop_assert_eq!(panel.inside.height, h * r + sash * (r + more));
                    prop_assert_eq!(panel.units, c * r);
                }
                Setting::OnPoint { side_triangles, corner_triangles } => {
                    let sash = face.sashing.as_ref().map_or(Length::ZERO, |s| s.width);
                    let wide = (f + sash).units() as f64 * 2f64.sqrt();
                    prop_assert!((panel.inside.width.units() as f64 - wide * c as f64).abs() <= c as f64);
                    prop_assert!((panel.inside.height.units() as f64 - wide * r as f64).abs() <= r as f64);
                    prop_assert!(panel.inside.width.units() as f64 <= wide * c as f64);
                    // In eighths of the square round a block: what stands there fills the panel.
                    prop_assert_eq!(panel.units * 4 + side_triangles * 2 + corner_triangles, 8 * c * r);
                }
                // Their geometry has a test of its own.
                Setting::Triangles | Setting::Diamonds | Setting::Hexagons => {}
                Setting::Plain => prop_assert!(false, "patchwork is not plain"),
            }
            let around: Length = face.borders.iter().map(|b| b.width * 2).sum();
            prop_assert_eq!(panel.before.width, panel.inside.width + around + seam * 2);
            prop_assert_eq!(panel.before.height, panel.inside.height + around + seam * 2);
            // Sewn in at the edges, it still is what was needed.
            prop_assert!(panel.inside.width + around >= worked.needed_before.width);
            prop_assert!(panel.inside.height + around >= worked.needed_before.height);
            Ok(())
        })?;
    }

    /// One row or column less would be too small.
    #[test]
    fn no_panel_has_a_row_too_many(plan in plans::sound()) {
        faces(&plan, |face, worked, panel| {
            let around: Length = face.borders.iter().map(|b| b.width * 2).sum();
            let sash = face.sashing.as_ref().map_or(Length::ZERO, |s| s.width);
            let root = |l: Length, by: f64| Length::from_units((l.units() as f64 * by) as i64);
            let (f, h) = (face.finished, face.finished_height.unwrap_or(face.finished));
            let (across, down) = match panel.setting {
                Setting::Straight => (f + sash, h + sash),
                Setting::OnPoint { .. } => (root(f + sash, 2f64.sqrt()), root(f + sash, 2f64.sqrt())),
                Setting::Triangles => (root(f, 0.5), root(f, 3f64.sqrt() / 2.0)),
                Setting::Diamonds => (f, root(f, 3f64.sqrt() / 2.0)),
                _ => (root(f, 3f64.sqrt()), root(f, 1.5)),
            };
            // Up to what floating numbers lose over a few hundred patches.
            let hair = Length::from_units(400);
            // Where the borders alone are enough, there is one unit inside them.
            let needed = |l: Length| l.max(around);
            let (wide, high) = (worked.needed_before.width, worked.needed_before.height);
            prop_assert!(panel.columns == 1 || panel.inside.width + around - across - hair < needed(wide));
            prop_assert!(panel.rows == 1 || panel.inside.height + around - down - hair < needed(high));
            Ok(())
        })?;
    }

    /// Strips are as long as what they are sewn to, and there are enough.
    #[test]
    fn strips_reach_round(plan in plans::sound()) {
        let seam = plan.allowances.seam;
        faces(&plan, |face, worked, panel| {
            let (c, r, n) = (panel.columns, panel.rows, worked.count);
            let (f, h) = (face.finished, face.finished_height.unwrap_or(face.finished));
            let of = |kind: StripKind| panel.strips.iter().filter(move |s| s.kind == kind);
            if let Some(sashing) = &face.sashing {
                let more = if sashing.around { 1 } else { -1 };
                // Walked over: one upright strip at each gap of each row.
                let upright = (c + more) * r * n;
                let level = if sashing.posts.is_some() { c * (r + more) * n } else { (r + more) * n };
                let counted: i64 = of(StripKind::Sashing).map(|s| s.count).sum();
                if face.on_point.is_some() {
                    // Every side of every block once: sides are named by their middles,
                    // in quarters of a diagonal from the top left corner.
                    let mut sides = BTreeSet::new();
                    for row in 0..r * 2 - 1 {
                        for column in 0..c - row % 2 {
                            let (x, y) = (4 * column + 2 + 2 * (row % 2), 2 * row + 2);
                            sides.extend([(x - 1, y - 1), (x + 1, y - 1), (x - 1, y + 1), (x + 1, y + 1)]);
                        }
                    }
                    prop_assert_eq!(counted, sides.len() as i64 * n);
                } else {
                    prop_assert_eq!(counted, upright + level);
                }
                for strip in of(StripKind::Sashing) {
                    let stands = !strip.what.starts_with("level");
                    let (long, thin) = if stands { (strip.cut.height, strip.cut.width) } else { (strip.cut.width, strip.cut.height) };
                    let least = match (stands, &sashing.posts) {
                        (true, _) => h,
                        (false, Some(_)) => f,
                        (false, None) => f * c + sashing.width * (c + more),
                    };
                    prop_assert!(thin >= sashing.width + seam * 2 && long >= least + seam * 2, "{strip:?}");
                    prop_assert_eq!(&strip.cloth, &sashing.cloth);
                }
            } else {
                prop_assert_eq!(of(StripKind::Sashing).count(), 0);
            }
            let mut size = panel.inside;
            let mut strips = of(StripKind::Border);
            for border in &face.borders {
                let (side, end) = (strips.next().expect("side strips"), strips.next().expect("end strips"));
                prop_assert_eq!((side.count, end.count), (2 * n, 2 * n));
                prop_assert!(side.cut.width >= border.width + seam * 2 && end.cut.height >= border.width + seam * 2);
                prop_assert!(side.cut.height >= size.height + seam * 2);
                let over = if border.corners.is_some() { Length::ZERO } else { border.width * 2 };
                prop_assert!(end.cut.width >= size.width + over + seam * 2);
                size.width += border.width * 2;
                size.height += border.width * 2;
            }
            prop_assert!(strips.next().is_none());
            Ok(())
        })?;
    }

    /// What is cut is more than what is there, seams and all.
    #[test]
    fn patches_and_strips_cover_the_panel(plan in plans::sound()) {
        faces(&plan, |_, worked, panel| {
            let patches: f64 = panel.patches.iter().map(|p| area(p.cut.width, p.cut.height) * p.cuts as f64).sum();
            let strips: f64 = panel.strips.iter().map(|s| area(s.cut.width, s.cut.height) * s.count as f64).sum();
            let whole = area(panel.before.width, panel.before.height) * worked.count as f64;
            prop_assert!(patches + strips >= whole, "{patches} and {strips} cut for {whole}");
            Ok(())
        })?;
    }
}

proptest! {
    #![proptest_config(cases(100))]

    /// Every strip stands in the cut list of its cloth, whole or joined from
    /// parts with a seam on both sides of each join.
    #[test]
    fn strips_are_in_the_cut_lists(plan in plans::sound()) {
        let figures = work_out(&plan);
        for cloth in &figures.cloths {
            for kind in [StripKind::Sashing, StripKind::Border] {
                let strips: Vec<_> = figures
                    .pieces
                    .iter()
                    .filter_map(|p| p.panel.as_ref())
                    .flat_map(|p| &p.strips)
                    .filter(|s| s.kind == kind && s.cloth == cloth.cloth)
                    .collect();
                let purpose = match kind {
                    StripKind::Sashing => Purpose::Sashing,
                    StripKind::Border => Purpose::Border,
                };
                let lines: Vec<_> = cloth.cuts.iter().filter(|l| l.purpose == purpose).collect();
                let count: i64 = strips.iter().map(|s| s.count).sum();
                let cut: i64 = lines.iter().map(|l| l.count).sum();
                prop_assert!(cut >= count);
                let thin = |s: &&&notchbook::figures::StripCut| s.cut.width.min(s.cut.height);
                let least = strips.iter().map(|s| thin(&s)).min().unwrap_or(Length::ZERO);
                let joins = (cut - count) as f64 * area(plan.allowances.seam * 2, least);
                let needed: f64 = strips.iter().map(|s| area(s.cut.width, s.cut.height) * s.count as f64).sum();
                let there: f64 = lines.iter().map(|l| area(l.cut.width, l.cut.height) * l.count as f64).sum();
                prop_assert!(there >= needed + joins, "{there} for {needed} and {joins} of seams");
                prop_assert!(lines.iter().all(|l| l.cut.width <= cloth.usable_width));
            }
        }
    }
}
