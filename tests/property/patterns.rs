//! Pieces on sheets of paper: all of each lies on sheets that are printed, no
//! two on top of each other, and small ones on one sheet.

use crate::cases;
use crate::drawings::{piece, star};
use geo::{Area, BooleanOps, Coord, LineString, Polygon, Rect};
use notchbook::drafting::formats::DrawnPiece;
use notchbook::sheets::{PatternPaper, PatternSheet};
use proptest::prelude::*;

fn polygon(points: &[kurbo::Point]) -> Polygon<f64> {
    Polygon::new(
        points.iter().map(|p| (p.x, p.y)).collect::<LineString<f64>>(),
        Vec::new(),
    )
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn every_part_of_every_piece_is_printed_once(
        pieces in prop::collection::vec((star(), 0.15..4.0_f64), 1..7),
        paper in prop::sample::select(PatternPaper::ALL.to_vec()),
    ) {
        let drawn: Vec<DrawnPiece> = pieces
            .into_iter()
            .map(|(path, scale)| {
                let (plan, piece) = piece(kurbo::Affine::scale(scale) * path, 6_400);
                DrawnPiece::of(&plan, &piece).expect("drawn")
            })
            .collect();
        let sheet = PatternSheet {
            title: "x".into(),
            date: chrono::NaiveDate::from_ymd_opt(2026, 5, 3).expect("a day"),
            pieces: drawn,
        };
        let Ok(laid) = sheet.lay_out(paper) else { return Ok(()) };
        let map = sheet.map(&laid);
        prop_assert_eq!(map.pieces.len(), sheet.pieces.len());
        let rects: Vec<(Rect<f64>, &str)> = map
            .tiles
            .iter()
            .map(|(r, name)| (Rect::new(Coord { x: r.x0, y: r.y0 }, Coord { x: r.x1, y: r.y1 }), name.as_str()))
            .collect();
        let (frame, step) = (paper.frame(), paper.step());
        for (n, one) in map.pieces.iter().enumerate() {
            let shape = polygon(&one.points);
            // Taken away by every sheet it is said to be on, nothing of it is left.
            let mut left = geo::MultiPolygon::new(vec![shape.clone()]);
            for (rect, name) in &rects {
                if one.on.iter().any(|on| on == name) {
                    left = left.difference(&rect.to_polygon());
                }
            }
            prop_assert!(left.unsigned_area() < 0.05, "{} is on {:?}", left.unsigned_area(), one.on);
            for other in &map.pieces[n + 1..] {
                prop_assert!(shape.intersection(&polygon(&other.points)).unsigned_area() < 1e-6);
            }
            prop_assert!(one.points.len() > 2, "nothing is cut of it");
            let bounds = one.points.iter().fold(kurbo::Rect::from_points(one.points[0], one.points[0]), |r, p| r.union_pt(*p));
            let small = bounds.width() < step.width - 12.5 && bounds.height() < step.height - 12.5;
            prop_assert!(!small || one.on.len() == 1, "{bounds:?} on {:?} of {frame:?}", one.on);
        }
        prop_assert!(map.tiles.iter().all(|(_, name)| map.pieces.iter().any(|p| p.on.contains(name)) || name == "A1"));
    }
}
