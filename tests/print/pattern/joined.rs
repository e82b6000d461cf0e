//! Sheets put together by their diamonds.

use super::{Printed, across, dark, drawn, printed, rectangle, sleeve};
use crate::poppler::Raster;
use notchbook::measure::MM;
use notchbook::sheets::{PatternMap, PatternPaper};

/// Half a diamond's middle lies a third of its depth of 4 mm from its edge.
const HALF: f64 = 4.0 / 3.0;
/// Of a diamond 8 mm by 6.
const WHOLE_AREA: f64 = 24.0;

/// Sheets on a table: each with where the plane's origin lies on its page, found by
/// going from sheet to sheet over the diamonds.
pub struct Table {
    pub map: PatternMap,
    pub pages: Vec<Raster>,
    /// Where each page's corner lies on the table.
    pub corners: Vec<(f64, f64)>,
}

pub fn joined(print: &Printed, paper: PatternPaper) -> Table {
    let map = print.sheet.map(&print.laid);
    let count: usize = print.pdf.info("Pages").parse().expect("a number");
    let covers = count - map.tiles.len();
    let pages: Vec<Raster> = (0..map.tiles.len())
        .map(|n| print.pdf.raster_of(covers + n + 1, super::DOTS))
        .collect();
    let (left, top) = paper.corner();
    let mut corners: Vec<Option<(f64, f64)>> = vec![None; pages.len()];
    let first = map.tiles[0].0;
    corners[0] = Some((first.x0 - left, first.y0 - top));
    let mut at = vec![0];
    while let Some(here) = at.pop() {
        let corner = corners[here].expect("it lies there");
        let shows = map.tiles[here].0;
        for (other, (rect, name)) in map.tiles.iter().enumerate() {
            if corners[other].is_some() {
                continue;
            }
            let right = (rect.x0 > shows.x0 && rect.x0 < shows.x1) && rect.y0 == shows.y0;
            let below = (rect.y0 > shows.y0 && rect.y0 < shows.y1) && rect.x0 == shows.x0;
            if !right && !below {
                continue;
            }
            // As a person sees them: whole on this sheet, half at the other's edge.
            let mut offsets = Vec::new();
            for part in [0.25, 0.75] {
                let (mine, theirs) = if right {
                    let y = top + shows.height() * part;
                    ((left + rect.x0 - shows.x0, y), (left + HALF, y))
                } else {
                    let x = left + shows.width() * part;
                    ((x, top + rect.y0 - shows.y0), (x, top + HALF))
                };
                let (whole, area) = dark(&pages[here], mine, 5.0);
                let (half, half_area) = dark(&pages[other], theirs, 5.0);
                // Something else is drawn there: this pair cannot be seen alone.
                if (area - WHOLE_AREA).abs() > 0.8 || (half_area - WHOLE_AREA / 2.0).abs() > 0.6 {
                    continue;
                }
                let edge = if right {
                    (half.0 - HALF, half.1)
                } else {
                    (half.0, half.1 - HALF)
                };
                offsets.push((whole.0 - edge.0, whole.1 - edge.1));
            }
            if let Some((x, y)) = offsets.first().copied() {
                for (a, b) in &offsets {
                    assert!((a - x).abs() < 0.15 && (b - y).abs() < 0.15, "{name}: {offsets:?}");
                }
                corners[other] = Some((corner.0 + x, corner.1 + y));
                at.push(other);
            }
        }
    }
    let missing: Vec<&String> = map
        .tiles
        .iter()
        .zip(&corners)
        .filter(|(_, c)| c.is_none())
        .map(|((_, name), _)| name)
        .collect();
    assert!(missing.is_empty(), "no diamonds lead to {missing:?}");
    Table {
        corners: corners.into_iter().flatten().collect(),
        map,
        pages,
    }
}

impl Table {
    /// How far the drawn line lies from the point of the table it should be at, on the
    /// sheet that shows it farthest from an edge.
    pub fn off(&self, (x, y): (f64, f64), way: (f64, f64)) -> Option<f64> {
        let inside = |n: usize| {
            let r = self.map.tiles[n].0;
            (x - r.x0).min(r.x1 - x).min(y - r.y0).min(r.y1 - y)
        };
        let best = (0..self.pages.len()).max_by(|a, b| inside(*a).total_cmp(&inside(*b)))?;
        assert!(inside(best) > 0.0, "no sheet shows {x} {y}");
        let corner = self.corners[best];
        across(&self.pages[best], (x - corner.0, y - corner.1), way)
    }
}

#[test]
fn an_edge_of_400_mm_across_sheets_is_400_mm_long() {
    for paper in [PatternPaper::A4, PatternPaper::Letter] {
        let print = printed(vec![rectangle("Band", 400, 330)], paper);
        let table = joined(&print, paper);
        assert!(table.pages.len() >= 4);
        let points = &table.map.pieces[0].points;
        let side = |of: fn(&kurbo::Point) -> f64| {
            let all = || points.iter().map(of);
            (all().fold(f64::MAX, f64::min), all().fold(f64::MIN, f64::max))
        };
        let ((x0, x1), (y0, y1)) = (side(|p| p.x), side(|p| p.y));
        // It may lie turned by a quarter.
        let (wide, high) = (x1 - x0, y1 - y0);
        assert!((wide.max(high) - 400.0).abs() < 1e-6 && (wide.min(high) - 330.0).abs() < 1e-6);
        for part in [0.15, 0.4, 0.9] {
            let y = y0 + high * part;
            let left = table.off((x0, y), (1.0, 0.0)).expect("a line");
            let right = table.off((x1, y), (1.0, 0.0)).expect("a line");
            assert!(
                (right - left).abs() < 0.2,
                "{} on {}",
                wide + right - left,
                paper.name()
            );
            let x = x0 + wide * part;
            let top = table.off((x, y0), (0.0, 1.0)).expect("a line");
            let low = table.off((x, y1), (0.0, 1.0)).expect("a line");
            assert!((low - top).abs() < 0.2, "{} on {}", high + low - top, paper.name());
        }
    }
}

#[test]
fn sheets_joined_by_their_marks_show_the_exact_outline() {
    // A sleeve, and a hood whose front is hollow: a sheet of its grid is left out.
    let hood = drawn("Hood", "M0 0 H390 V120 C150 130 140 400 390 430 V520 H0 Z", MM * 15);
    for (piece, paper) in [(sleeve(), PatternPaper::A4), (hood, PatternPaper::Letter)] {
        let print = printed(vec![piece], paper);
        let table = joined(&print, paper);
        assert!(table.pages.len() >= 6, "{}", table.pages.len());
        let points = &table.map.pieces[0].points;
        let notches = &print.sheet.pieces[0].notches;
        let by = points[0] - print.sheet.pieces[0].cut[0];
        let (mut looked, mut worst) = (0, 0.0_f64);
        for (n, a) in points.iter().enumerate() {
            let b = points[(n + 1) % points.len()];
            let long = (b - *a).hypot();
            let way = (b - *a) / long;
            for k in 1..(long / 3.0) as usize {
                let p = *a + way * (k as f64 * 3.0);
                // Not where a notch or another stretch of line is drawn.
                let near = |q: notchbook_point::Point, far: f64| (q - p).hypot() < far;
                if notches.iter().any(|m| near(m.cut + by, 8.0)) || k as f64 * 3.0 > long - 2.0 {
                    continue;
                }
                let Some(off) = table.off((p.x, p.y), (-way.y, way.x)) else {
                    panic!("nothing is drawn at {p:?} of {}", print.sheet.pieces[0].name);
                };
                worst = worst.max(off.abs());
                looked += 1;
            }
        }
        assert!(looked > 250, "{looked}");
        assert!(worst < 0.3, "{worst} mm");
    }
}

/// Points of the library outlines are made with.
mod notchbook_point {
    pub use kurbo::Point;
}

#[test]
fn the_stitching_line_is_dashed_and_the_cut_line_is_not() {
    let print = printed(vec![drawn("Cuff", "M0 0 H120 V150 H0 Z", MM * 20)], PatternPaper::A4);
    let table = joined(&print, PatternPaper::A4);
    let corner = table.map.pieces[0]
        .points
        .iter()
        .fold((f64::MAX, f64::MAX), |b, p| (b.0.min(p.x), b.1.min(p.y)));
    let share = |aside: f64| {
        let at = (0..300).map(|n| 25.0 + f64::from(n) * 0.3);
        let drawn = at.filter(|x| table.off((corner.0 + x, corner.1 + aside), (0.0, 1.0)).is_some());
        drawn.count() as f64 / 300.0
    };
    assert!(share(0.0) > 0.99, "{}", share(0.0));
    // 4 mm drawn, 2 mm not.
    assert!((share(20.0) - 2.0 / 3.0).abs() < 0.05, "{}", share(20.0));
}
