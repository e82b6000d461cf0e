//! Drawings of random outlines: written, read back, as large as before; what is
//! cut by a file is never less than what the outline says; a random file is
//! read or refused, never worse.

use crate::cases;
use geo::{Area, BooleanOps, LineString, Polygon};
use kurbo::{BezPath, Point, Shape as _};
use notchbook::drafting::formats::{DrawnPiece, FileUnit, FoundOutline, dxf, outline_of, svg};
use notchbook::measure::Length;
use notchbook::plan::{Pattern, Piece, Plan, Source};
use proptest::prelude::*;

/// Round a middle, near and far, every second part a curve: never crossing itself.
pub fn star() -> impl Strategy<Value = BezPath> {
    (prop::collection::vec(40.0..260.0_f64, 4..14), any::<bool>()).prop_map(|(radii, curved)| {
        let n = radii.len() as f64;
        let at = |i: usize, r: f64| {
            let a = std::f64::consts::TAU * i as f64 / n;
            Point::new(300.0 + r * a.cos(), 300.0 + r * a.sin())
        };
        let points: Vec<Point> = radii.iter().enumerate().map(|(i, r)| at(i, *r)).collect();
        let mut path = BezPath::new();
        path.move_to(points[0]);
        for i in 1..=points.len() {
            let (a, b) = (points[i - 1], points[i % points.len()]);
            if curved && i % 2 == 0 {
                path.curve_to(a.lerp(b, 0.3), a.lerp(b, 0.6) + (b - a) * 0.05, b);
            } else {
                path.line_to(b);
            }
        }
        path.close_path();
        path
    })
}

pub fn piece(path: BezPath, allowance: i64) -> (Plan, Piece) {
    let line = FoundOutline {
        path,
        ..FoundOutline::default()
    };
    let made = outline_of(&line, Length::from_units(allowance), 0).expect("an outline");
    let piece = Piece {
        id: "p1".into(),
        name: "Piece".into(),
        cut_count: 1,
        pattern: Some(Pattern {
            from: Source::Drawn(made.outline),
            finish: Vec::new(),
            changes: Vec::new(),
        }),
        ..Piece::default()
    };
    let plan = Plan {
        pieces: vec![piece.clone()],
        ..Plan::default()
    };
    (plan, piece)
}

fn polygon(path: &BezPath) -> Polygon<f64> {
    let mut points = Vec::new();
    kurbo::flatten(path, 0.001, |e| points.extend(e.end_point().map(|p| (p.x, p.y))));
    Polygon::new(LineString::from(points), Vec::new())
}

/// How much of `what` is not covered by `by`, both moved to their own corner.
fn missing(what: &BezPath, by: &BezPath) -> f64 {
    let own = |p: &BezPath| polygon(&(kurbo::Affine::translate(-p.bounding_box().origin().to_vec2()) * p.clone()));
    own(what).difference(&own(by)).unsigned_area()
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn an_outline_is_written_and_read_back_and_never_cut_short(path in star(), allowance in 0i64..12_800) {
        let area = path.area().abs();
        let (plan, piece) = piece(path, allowance);
        let drawn = DrawnPiece::whole(&plan, &piece).expect("drawn");
        let cut = notchbook::drafting::path_of(&drawn.cut);
        let around = cut.perimeter(1e-3);
        let stitching = drawn.stitching.clone().expect("a line");
        prop_assert!((stitching.area().abs() - area).abs() < around * 0.003, "1/640 mm of rounding");

        let svg = svg::read(svg::write("x", std::slice::from_ref(&drawn)).as_bytes(), None).expect("read");
        let dxf = dxf::read(&dxf::write("x", std::slice::from_ref(&drawn)).expect("written"), None).expect("read");
        for found in [&svg, &dxf] {
            let back = |word: &str| found.outlines.iter().find(|o| o.name.contains(word)).expect("there").path.clone();
            let (cut_back, sewn_back) = match found.outlines.iter().any(|o| o.name.contains("cut-line")) {
                true => (back("cut-line"), back("stitching-line")),
                false => (back("cut line"), back("stitching line")),
            };
            // SVG has four decimals of a millimetre, DXF six.
            prop_assert!(missing(&cut, &cut_back) < around * 0.000_2, "{}", missing(&cut, &cut_back));
            prop_assert!((sewn_back.area().abs() - stitching.area().abs()).abs() < around * 0.03);
        }
    }

    /// Single and double notches come back from DXF as they were.
    #[test]
    fn notches_come_back_single_or_double(doubles in prop::collection::vec(any::<bool>(), 1..6), allowance in 0i64..15) {
        let path = kurbo::Rect::new(0.0, 0.0, 400.0, 300.0).to_path(0.1);
        let (mut plan, mut piece) = piece(path, allowance * 640);
        let Some(Pattern { from: Source::Drawn(outline), .. }) = &mut piece.pattern else { unreachable!() };
        let edge = outline.edges[0].name.clone();
        for (n, double) in doubles.iter().enumerate() {
            outline.notches.push(notchbook::plan::Notch {
                edge: edge.clone(),
                at: Length::from_units(640 * (30 + 50 * n as i64)),
                double: *double,
            });
        }
        plan.pieces = vec![piece.clone()];
        let drawn = DrawnPiece::whole(&plan, &piece).expect("drawn");
        let found = dxf::read(&dxf::write("x", &[drawn]).expect("written"), None).expect("read");
        let sewn = found.outlines.iter().find(|o| o.name.ends_with("stitching line")).expect("a line");
        let made = outline_of(sewn, Length::ZERO, 0).expect("an outline");
        let back: Vec<(i64, bool)> = made.outline.notches.iter().map(|n| ((n.at.as_mm_f64() * 10.0).round() as i64, n.double)).collect();
        let expected: Vec<(i64, bool)> = doubles.iter().enumerate().map(|(n, d)| (300 + 500 * n as i64, *d)).collect();
        prop_assert_eq!(back, expected);
    }

    #[test]
    fn units_differ_by_their_size_alone(path in star()) {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><path d='{}'/></svg>", path.to_svg());
        let area = |unit| svg::read(text.as_bytes(), Some(unit)).map(|f| f.outlines[0].area()).unwrap_or_default();
        let one = area(FileUnit::Millimetre);
        prop_assert!((one - path.area().abs()).abs() < 1e-3);
        prop_assert!((area(FileUnit::Inch) / one - 25.4 * 25.4).abs() < 1e-3);
    }

    /// Any text at all, and real files with a part changed: an answer, and no panic.
    #[test]
    fn any_file_is_read_or_refused(text in "\\PC{0,200}", at in 0usize..3_000, with in "[ -~\n]{0,12}") {
        let (plan, piece) = piece(kurbo::Rect::new(0.0, 0.0, 50.0, 80.0).to_path(0.1), 6_400);
        let drawn = [DrawnPiece::whole(&plan, &piece).expect("drawn")];
        let _ = (svg::read(text.as_bytes(), None), dxf::read(text.as_bytes(), None));
        let mut files = [svg::write("x", &drawn).into_bytes(), dxf::write("x", &drawn).expect("written")];
        for file in &mut files {
            // In a DXF the drawing begins late: change it from its end.
            let from = file.len().saturating_sub(at + 1);
            let to = (from + with.len()).min(file.len());
            file.splice(from..to, with.bytes());
        }
        for unit in [None, Some(FileUnit::Millimetre)] {
            for found in [svg::read(&files[0], unit), dxf::read(&files[1], unit)].into_iter().flatten() {
                for outline in &found.outlines {
                    let _ = outline_of(outline, Length::from_units(640), 1);
                }
            }
        }
    }
}
