//! A closed line as an outline: divided into edges at its corners, named, with
//! allowances.

use super::found::FoundOutline;
use super::line::{close, is_near};
use super::{FileProblem, Role, notches};
use crate::drafting::shape::{edge_path, round};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, InnerLine, Mark, OutlineEdge, PatternOutline, limits};
use geo::{LineString, Simplify};
use kurbo::{
    Affine, BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathEl, PathSeg, Point, Shape as _, Vec2,
};

/// A bend of more than this divides two edges: 15 degrees.
const CORNER: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// What is shorter than this is no part of a line, in millimetres.
const NOTHING: f64 = 1e-3;

/// The outline made of a line of a file, and what was changed on the way.
#[derive(Clone, Debug)]
pub struct Made {
    pub outline: PatternOutline,
    pub notices: Vec<String>,
}

/// A line of a file as an outline whose edges have the allowance, but where the file has
/// the cut line too: there each has the one drawn. It is moved so that it begins at
/// nothing across and down; `quarters` turns it clockwise before.
pub fn outline_of(found: &FoundOutline, allowance: Length, quarters: u32) -> Result<Made, FileProblem> {
    let turn = Affine::rotate(std::f64::consts::FRAC_PI_2 * f64::from(quarters % 4));
    let told = |sentence: &str| match found.line {
        Some(line) => FileProblem::at(line, sentence),
        None => FileProblem::new(sentence),
    };
    let path = close(turn * found.path.clone());
    if !is_near(&path) {
        return Err(told(
            "the outline lies more than 200 m away. Check the unit of the file.",
        ));
    }
    let bounds = path.bounding_box();
    let place = Affine::translate(-bounds.origin().to_vec2()) * turn;
    let path = close(place * found.path.clone());
    let path = if path.area() < 0.0 {
        close(path.reverse_subpaths())
    } else {
        path
    };
    let mut notices = Vec::new();
    let mut edges = divided(&path);
    if edges.is_empty() {
        return Err(told("the outline has no length. Choose another."));
    }
    let most = limits::SEGMENTS * 9 / 10;
    let count = |edges: &[Vec<PathSeg>]| edges.iter().map(Vec::len).sum::<usize>();
    let drawn = count(&edges);
    for within in [0.01, 0.02, 0.05] {
        if count(&edges) > most {
            edges = divided(&path).into_iter().map(|e| simpler(&e, within)).collect();
            if count(&edges) <= most {
                notices.push(format!(
                    "The outline is drawn with {drawn} short lines; {} of them are kept, everywhere within {within} mm.",
                    count(&edges)
                ));
            }
        }
    }
    if count(&edges) > most {
        return Err(told(&format!(
            "the outline has {drawn} lines and curves, and no fewer within 0.05 mm; {most} are the most. Draw its curves as curves, or leave detail out."
        )));
    }
    let cut: Option<Vec<PathSeg>> = found.cut.as_ref().map(|cut| (place * cut.clone()).segments().collect());
    let mut outline = PatternOutline::default();
    for (n, edge) in edges.iter().enumerate() {
        let drawn = cut.as_ref().and_then(|cut| allowance_between(edge, cut));
        outline.edges.push(OutlineEdge {
            name: edge_name(n),
            path: edge_path(&joined(edge)),
            allowance: drawn.unwrap_or(allowance),
            corner: CornerCut::default(),
            kind: EdgeKind::default(),
        });
    }
    if cut.is_some() && found.role == Role::Stitching {
        notices.push(
            "The allowance of each edge is the one drawn in the file between its two lines; look them over.".into(),
        );
    }
    let (notches, told_of) = notches::all(&edges, found.notches.iter().map(|n| place * *n));
    outline.notches = notches;
    notices.extend(told_of);
    // Turned by a quarter, it runs as the maker says and no longer as the file does.
    let own = found.grain.filter(|_| quarters.is_multiple_of(2));
    if own.is_none() && found.grain.is_some() {
        notices.push(
            "The grainline of the file was left out, for the outline is turned: the grain runs up and down.".into(),
        );
    }
    outline.grain = own
        .map(|ends| ends.map(|p| round::spot(place * p)))
        .filter(|[a, b]| a != b);
    for (name, at) in found.marks.iter().take(limits::MARKS) {
        outline.marks.push(Mark {
            name: name.clone(),
            at: round::spot(place * *at),
        });
    }
    let mut room = limits::SEGMENTS;
    for inner in found.inner.iter().take(limits::INNER_LINES) {
        let path = place * inner.path.clone();
        let segments: Vec<PathSeg> = path.segments().filter(long).collect();
        let segments = simpler(&segments, 0.02);
        if segments.is_empty() || segments.len() > room || !is_near(&path) {
            continue;
        }
        room -= segments.len();
        outline.inner.push(InnerLine {
            name: inner.name.clone(),
            from: round::spot(segments.first().map(|s| s.start()).unwrap_or_default()),
            path: edge_path(&joined(&segments)),
        });
    }
    let left = found.inner.len() - outline.inner.len() + found.marks.len() - outline.marks.len();
    if left > 0 {
        notices.push(format!(
            "{left} lines or points inside were more than can be kept and were left out."
        ));
    }
    Ok(Made { outline, notices })
}

pub(super) fn edge_name(n: usize) -> String {
    format!("edge {}", n + 1)
}

/// The line's parts from corner to corner, from the topmost corner on.
fn divided(path: &BezPath) -> Vec<Vec<PathSeg>> {
    let mut segments: Vec<PathSeg> = path.segments().filter(long).collect();
    // What was dropped leaves gaps no wider than it was.
    let count = segments.len();
    for i in 0..count {
        let begin = segments[i].start();
        let before = &mut segments[(i + count - 1) % count];
        *before = ending(*before, begin);
    }
    let corner = |i: usize| {
        let before = &segments[(i + count - 1) % count];
        let (a, b) = (leaving(&before.reverse()) * -1.0, leaving(&segments[i]));
        a.cross(b).atan2(a.dot(b)).abs() > CORNER
    };
    let corners: Vec<usize> = (0..count).filter(|i| corner(*i)).collect();
    let above = |a: &usize, b: &usize| {
        let (a, b) = (segments[*a].start(), segments[*b].start());
        if (a.y - b.y).abs() > 0.01 {
            a.y.total_cmp(&b.y)
        } else {
            a.x.total_cmp(&b.x)
        }
    };
    let Some(first) = corners.iter().copied().min_by(above) else {
        return if segments.is_empty() {
            Vec::new()
        } else {
            vec![segments]
        };
    };
    let mut edges: Vec<Vec<PathSeg>> = Vec::new();
    for step in 0..count {
        let i = (first + step) % count;
        if corners.binary_search(&i).is_ok() {
            edges.push(Vec::new());
        }
        if let Some(edge) = edges.last_mut() {
            edge.push(segments[i]);
        }
    }
    edges
}

fn long(segment: &PathSeg) -> bool {
    let (a, b) = (segment.start(), segment.end());
    (b - a).hypot() > NOTHING || segment.arclen(NOTHING) > NOTHING * 2.0
}

fn ending(segment: PathSeg, end: Point) -> PathSeg {
    match segment {
        PathSeg::Line(mut l) => {
            l.p1 = end;
            l.into()
        }
        PathSeg::Quad(mut q) => {
            q.p2 = end;
            q.into()
        }
        PathSeg::Cubic(mut c) => {
            c.p3 = end;
            c.into()
        }
    }
}

/// The direction a segment leaves its begin in, of length 1.
fn leaving(segment: &PathSeg) -> Vec2 {
    let cubic = segment.to_cubic();
    [cubic.p1, cubic.p2, cubic.p3]
        .into_iter()
        .map(|p| p - cubic.p0)
        .find(|v| v.hypot() > NOTHING)
        .map_or(Vec2::new(1.0, 0.0), |v| v.normalize())
}

/// Runs of straight lines with the points that say nothing left out.
fn simpler(edge: &[PathSeg], within: f64) -> Vec<PathSeg> {
    let mut out = Vec::new();
    let mut run: Vec<Point> = Vec::new();
    let flush = |run: &mut Vec<Point>, out: &mut Vec<PathSeg>| {
        let line: LineString<f64> = run.iter().map(|p| (p.x, p.y)).collect();
        let kept = line.simplify(within);
        let points: Vec<Point> = kept.coords().map(|c| Point::new(c.x, c.y)).collect();
        out.extend(points.windows(2).map(|w| PathSeg::Line(kurbo::Line::new(w[0], w[1]))));
        run.clear();
    };
    for segment in edge {
        match segment {
            PathSeg::Line(l) => {
                if run.is_empty() {
                    run.push(l.p0);
                }
                run.push(l.p1);
            }
            other => {
                flush(&mut run, &mut out);
                out.push(*other);
            }
        }
    }
    flush(&mut run, &mut out);
    out
}

fn joined(edge: &[PathSeg]) -> BezPath {
    let mut path = BezPath::new();
    if let Some(first) = edge.first() {
        path.move_to(first.start());
    }
    for segment in edge {
        path.push(segment.as_path_el());
    }
    if path.elements().last() == Some(&PathEl::ClosePath) {
        path.pop();
    }
    path
}

/// The distance out to the cut line, where it is the same all along; rounded up.
fn allowance_between(edge: &[PathSeg], cut: &[PathSeg]) -> Option<Length> {
    let mut found: Option<(f64, f64)> = None;
    for segment in edge {
        // Near the corners the other edge's allowance may be closer.
        for t in [0.3, 0.5, 0.7] {
            let p = segment.eval(t);
            let near = cut
                .iter()
                .map(|c| c.nearest(p, 1e-4).distance_sq)
                .fold(f64::MAX, f64::min)
                .sqrt();
            found = Some(found.map_or((near, near), |(a, b)| (a.min(near), b.max(near))));
        }
    }
    let (least, most) = found?;
    // A tenth of a millimetre, for lines drawn with chords.
    (most - least <= 0.1 && most <= 300.0).then(|| {
        let tenths = (most * 10.0).round() / 10.0;
        let told = if (tenths - most).abs() < 0.03 { tenths } else { most };
        round::up(told)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drafting::{Shape, Told};
    use crate::measure::{MM, Unit};

    fn found(path: &str) -> FoundOutline {
        FoundOutline {
            path: BezPath::from_svg(path).expect("a path"),
            ..FoundOutline::default()
        }
    }

    fn shape(made: &Made) -> Shape {
        let told = Told {
            field: String::new(),
            name: "x",
            unit: Unit::Cm,
        };
        Shape::of(&made.outline, &told).expect("a shape")
    }

    #[test]
    fn a_line_is_divided_at_its_corners_alone() {
        // A rounded corner is none; the run of short lines bends by 12 degrees at most.
        let made = outline_of(
            &found("M100 50 H300 V230 Q300 250 280 250 L180 245 L100 230 Z"),
            MM * 10,
            0,
        )
        .unwrap();
        let names: Vec<_> = made.outline.edges.iter().map(|e| e.name.as_str()).collect();
        assert_eq!(names, ["edge 1", "edge 2", "edge 3"]);
        assert!(made.outline.edges[0].path.to_string().starts_with("L 200 0"));
        assert!(
            (shape(&made).area() - found("M100 50 H300 V230 Q300 250 280 250 L180 245 L100 230 Z").area()).abs() < 0.5
        );
    }

    #[test]
    fn a_circle_is_one_edge_and_a_turned_one_as_large() {
        let circle = kurbo::Circle::new((500.0, 80.0), 60.0).to_path(1e-4);
        let line = FoundOutline {
            path: circle,
            ..FoundOutline::default()
        };
        for quarters in 0..4 {
            let made = outline_of(&line, MM * 10, quarters).unwrap();
            assert_eq!(made.outline.edges.len(), 1);
            let area = shape(&made).area();
            assert!((area - std::f64::consts::PI * 3600.0).abs() < 0.5, "{area}");
        }
    }

    #[test]
    fn many_short_lines_are_kept_within_a_hundredth() {
        let mut path = String::from("M 300 0");
        for n in 1..=5_000 {
            let a = f64::from(n) / 5_000.0 * std::f64::consts::TAU;
            path += &format!(" L {:.5} {:.5}", 300.0 * a.cos(), 300.0 * a.sin());
        }
        let made = outline_of(&found(&(path + " Z")), MM * 10, 0).unwrap();
        assert!(made.notices[0].contains("within 0.0"), "{:?}", made.notices);
        let area = shape(&made).area();
        let exact = std::f64::consts::PI * 90_000.0;
        assert!((area / exact - 1.0).abs() < 2e-4, "{area} {exact}");
    }

    #[test]
    fn allowances_are_those_drawn_between_the_two_lines() {
        let mut line = found("M10 10 H110 V210 H10 Z");
        line.role = Role::Stitching;
        line.cut = Some(BezPath::from_svg("M0 0 H120 V240 H0 Z").unwrap());
        let made = outline_of(&line, MM * 7, 0).unwrap();
        let all: Vec<_> = made.outline.edges.iter().map(|e| e.allowance).collect();
        assert_eq!(all, [MM * 10, MM * 10, MM * 30, MM * 10]);
    }

    #[test]
    fn a_line_without_end_is_refused() {
        for path in ["M0 0 L1e12 0 L0 5 Z", "M5 5 L5 5 Z"] {
            outline_of(&found(path), MM, 0).expect_err(path);
        }
    }
}
