//! From taps on a photo to the outline of a piece.

use super::{
    Checked, Grey, Homography, Marks, TAP, Tap, TraceError, checked, path_through, places, reaches_outside, snapped,
};
use crate::drafting::shape::{edge_path, round};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, OutlineEdge, PatternOutline};
use kurbo::{Affine, BezPath, Point, Rect, Shape};

/// What was tapped, in pixels of the upright photo, and what was measured by hand.
#[derive(Clone, Debug)]
pub struct Tracing {
    pub marks: Marks,
    /// In order round, the first at the upper left.
    pub marks_tapped: [Point; 4],
    /// In order round the piece.
    pub outline: Vec<Tap>,
    /// Two points and how far apart they really are.
    pub check: Option<(Point, Point, Length)>,
    /// The grain runs from the first mark to the second, not to the fourth.
    pub grain_across: bool,
    /// From the tapped line out to where it is cut.
    pub allowance: Length,
}

/// A traced piece.
#[derive(Clone, Debug)]
pub struct Traced {
    pub outline: PatternOutline,
    /// How far each mark was brought from its tap to its crossing, in pixels;
    /// none where there is no crossing near it.
    pub brought: [Option<f64>; 4],
    pub checked: Option<Checked>,
    /// How far the longer side of the piece may be off by taps alone, 19 times of 20.
    pub may_be_off: Length,
    /// How far the piece reaches beyond the marks, as a share of their size.
    pub outside: f64,
}

/// How far from its tap a crossing is looked for, as a share of the photo's
/// longer side: a finger on a phone's picture.
const REACH: f64 = 0.008;

/// `grey` is the photo the taps are on: with it, taps beside printed marks are
/// brought to their crossings.
pub fn traced(tracing: &Tracing, grey: Option<&Grey>) -> Result<Traced, TraceError> {
    let real = places(&tracing.marks)?;
    let mut brought = [None; 4];
    let mut seen = tracing.marks_tapped;
    if let Some(grey) = grey {
        let reach = (grey.width.max(grey.height) as f64 * REACH).max(8.0);
        for (at, place) in seen.iter_mut().enumerate() {
            if let Some(crossing) = snapped(grey, *place, reach) {
                brought[at] = Some(crossing.distance(*place));
                *place = crossing;
            }
        }
    }
    let pairs: Vec<(Point, Point)> = seen.iter().copied().zip(real).collect();
    let h = Homography::from_marks(&pairs)?;
    let mut taps = Vec::new();
    for tap in &tracing.outline {
        let at = h.on_table(tap.at).ok_or(TraceError::NotOnTable)?;
        if at.to_vec2().hypot() > FARTHEST {
            return Err(TraceError::NotOnTable);
        }
        taps.push(Tap { at, ..*tap });
    }
    let edges = path_through(&taps);
    if edges.is_empty() {
        return Err(TraceError::NoOutline);
    }
    let box_of = edges
        .iter()
        .map(BezPath::bounding_box)
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    // Which two taps are farthest apart along the longer side.
    let tapped: Vec<Point> = taps.iter().map(|t| t.at).collect();
    let along = |p: &Point| if box_of.width() > box_of.height() { p.x } else { p.y };
    let ends = |i: usize, j: usize| (tracing.outline[i].at, tracing.outline[j].at);
    let least = (0..tapped.len()).min_by(|a, b| along(&tapped[*a]).total_cmp(&along(&tapped[*b])));
    let most = (0..tapped.len()).max_by(|a, b| along(&tapped[*a]).total_cmp(&along(&tapped[*b])));
    let band = least.zip(most).and_then(|(i, j)| {
        let (a, b) = ends(i, j);
        h.length(a, b, TAP)
    });
    let turn = match tracing.grain_across {
        // Right becomes down: the piece as it lies with its grain upright.
        true => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        false => Affine::IDENTITY,
    };
    Ok(Traced {
        outline: outline_of(edges, turn, tracing.allowance),
        brought,
        checked: tracing
            .check
            .and_then(|(from, to, by_hand)| checked(&h, from, to, by_hand, TAP)),
        may_be_off: round::up(band.map_or(0.0, |b| b.1.min(FARTHEST))),
        outside: reaches_outside(&real, &tapped),
    })
}

/// Millimetres: nothing on a table is farther from the first mark.
const FARTHEST: f64 = 20_000.0;

/// Turned, moved to the origin, its edges named in order round.
fn outline_of(mut edges: Vec<BezPath>, turn: Affine, allowance: Length) -> PatternOutline {
    edges.iter_mut().for_each(|e| e.apply_affine(turn));
    let round = edges
        .iter()
        .map(BezPath::bounding_box)
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    let home = Affine::translate(-round.origin().to_vec2());
    edges.iter_mut().for_each(|e| e.apply_affine(home));
    PatternOutline {
        edges: edges
            .iter()
            .enumerate()
            .map(|(i, e)| OutlineEdge {
                name: format!("edge {}", i + 1),
                path: edge_path(e),
                allowance,
                corner: CornerCut::default(),
                kind: EdgeKind::Seam,
            })
            .collect(),
        ..PatternOutline::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    /// A photo straight from above, two pixels a millimetre.
    fn tracing() -> Tracing {
        let tap = |x: f64, y: f64, corner: bool| Tap {
            at: Point::new(x * 2.0, y * 2.0),
            corner,
        };
        Tracing {
            marks: Marks::Rectangle {
                width: Length::whole_mm(600),
                height: Length::whole_mm(450),
            },
            marks_tapped: [(0.0, 0.0), (1200.0, 0.0), (1200.0, 900.0), (0.0, 900.0)].map(Point::from),
            outline: vec![
                tap(100.0, 50.0, true),
                tap(500.0, 50.0, true),
                tap(500.0, 350.0, true),
                tap(300.0, 400.0, false),
                tap(100.0, 350.0, true),
            ],
            check: Some((Point::new(200.0, 0.0), Point::new(1000.0, 0.0), Length::whole_mm(398))),
            grain_across: false,
            allowance: Length::whole_mm(10),
        }
    }

    fn told() -> crate::drafting::Told<'static> {
        crate::drafting::Told {
            field: "pieces/p1/pattern".into(),
            name: "Front",
            unit: Unit::Cm,
        }
    }

    #[test]
    fn a_piece_seen_from_above_has_its_measures() {
        let traced = traced(&tracing(), None).unwrap();
        let names: Vec<&str> = traced.outline.edges.iter().map(|e| e.name.as_str()).collect();
        assert_eq!(names, ["edge 1", "edge 2", "edge 3", "edge 4"]);
        let shape = crate::drafting::Shape::of(&traced.outline, &told()).expect("an outline");
        assert!((shape.edges[0].length() - 400.0).abs() < 0.01);
        assert!((shape.edges[1].length() - 300.0).abs() < 0.01);
        assert!((shape.bounds().height() - 350.0).abs() < 0.5, "{:?}", shape.bounds());
        // The fifth length is 400 mm on the photo and 398 by hand: 0.5 % and more.
        let checked = traced.checked.expect("checked");
        assert_eq!(checked.off, Length::whole_mm(2));
        assert_eq!(checked.off_hundredths, 51);
        assert!(checked.is_off());
        assert_eq!(traced.outside, 0.0);
        assert!(traced.may_be_off.as_mm_f64() > 1.0 && traced.may_be_off.as_mm_f64() < 4.0);
    }

    #[test]
    fn with_the_grain_across_it_is_turned_upright() {
        let mut turned = tracing();
        turned.grain_across = true;
        let traced = traced(&turned, None).unwrap();
        let shape = crate::drafting::Shape::of(&traced.outline, &told()).expect("an outline");
        assert!((shape.bounds().height() - 400.0).abs() < 0.01, "{:?}", shape.bounds());
        assert!((shape.edges[0].end().y - shape.edges[0].start().y - 400.0).abs() < 0.01);
    }

    #[test]
    fn what_cannot_be_measured_says_what_to_do() {
        let mut few = tracing();
        few.outline.truncate(2);
        assert_eq!(traced(&few, None).unwrap_err(), TraceError::NoOutline);
        let mut crossed = tracing();
        crossed.marks_tapped.swap(1, 2);
        assert_eq!(traced(&crossed, None).unwrap_err(), TraceError::Crossed);
        let mut line = tracing();
        line.marks_tapped[2] = Point::new(600.0, 0.0);
        assert_eq!(traced(&line, None).unwrap_err(), TraceError::OnOneLine);
        let mut far = tracing();
        far.outline[1].at = Point::new(90_000.0, 0.0);
        assert_eq!(traced(&far, None).unwrap_err(), TraceError::NotOnTable);
    }
}
