//! What follows an edge of another piece: a facing cut as that edge is, a strip
//! on the bias as long as it.

use super::{COUNT, Drawing, Made, Measures, count, part, sound};
use crate::drafting::sewn::followed;
use crate::drafting::shape::{Shape, ShapeEdge, round};
use crate::measure::Length;
use crate::plan::{BiasStrip, CornerCut, EdgeKind, Plan, ShapedFacing};
use kurbo::{BezPath, ParamCurve, ParamCurveNearest, PathSeg, Point, Shape as _, Vec2, offset::offset_cubic};
use std::f64::consts::FRAC_1_SQRT_2;

/// How far an offset curve may leave the true one, in millimetres.
const FIT: f64 = 0.01;

/// How near to the stitching line counts as on it.
const ON: f64 = 0.05;

pub(in crate::drafting) fn bias(strip: &BiasStrip, mut m: Measures, plan: &Plan, trail: &mut Vec<String>) -> Made {
    let width = m.positive("width", "The strip's width", strip.width, Length::whole_mm(500));
    m.between(
        "extra",
        "What is added to its length",
        strip.extra,
        Length::ZERO,
        Length::whole_mm(1_000),
    );
    count(&mut m, "count", "The number of strips", strip.count, COUNT);
    let found = followed(plan, &strip.along, "along", &mut m, trail);
    let length = found.and_then(|(shape, at)| shape.edges.get(at).map(|e| shape.sewn_length(e)));
    m.end(|| {
        let long = (length.unwrap_or_default() + strip.extra).as_mm_f64();
        // Laid at 45 degrees, so that the grain runs straight down as in every piece.
        let (l, w) = (long * FRAC_1_SQRT_2, width * FRAC_1_SQRT_2);
        let mut d = Drawing::from(Point::new(w, 0.0));
        d.line(w + l, l)
            .seam("long edge", Length::ZERO)
            .line(l, l + w)
            .seam("far end", Length::ZERO)
            .line(0.0, w)
            .seam("other long edge", Length::ZERO)
            .line(w, 0.0)
            .seam("end", Length::ZERO);
        let middle = Point::new((w + l) / 2.0, (w + l) / 2.0);
        let half = Vec2::new(0.0, w * 0.8);
        d.grain(middle - half, middle + half);
        vec![part("strip", "Bias strip", strip.count, false, &mut d)]
    })
}

pub(in crate::drafting) fn facing(
    facing: &ShapedFacing,
    mut m: Measures,
    plan: &Plan,
    trail: &mut Vec<String>,
) -> Made {
    let width = m.positive("width", "The facing's width", facing.width, Length::whole_mm(500));
    count(&mut m, "count", "The number of facings", facing.count, COUNT);
    if facing.pair && facing.count % 2 == 1 {
        m.wrong(
            "count",
            format!(
                "{} facings are no mirrored pairs. Type an even number, or take the pair off.",
                facing.count
            ),
        );
    }
    let found = followed(plan, &facing.along, "along", &mut m, trail);
    let seam = m.seam;
    let Some((shape, at)) = found else {
        return m.end(Vec::new);
    };
    let edges = shape.edges.len();
    let (Some(edge), Some(before), Some(after)) = (
        shape.edges.get(at),
        shape.edges.get((at + edges - 1) % edges),
        shape.edges.get((at + 1) % edges),
    ) else {
        return m.end(Vec::new);
    };
    let outer = inside_of(&shape, edge, width);
    let next = side(&outer, &after.path, width, edges > 1);
    let previous = side(&reversed(&outer), &reversed(&before.path), width, edges > 1);
    let outer = between(&outer, &previous, &next);
    if m.sound() && !lies_on(&shape, &outer) {
        m.wrong(
            "width",
            format!(
                "A facing {} wide runs off the piece along this edge. Type less.",
                m.show(facing.width)
            ),
        );
    }
    let mut d = Drawing::from(edge.start());
    let own = match edge.kind {
        EdgeKind::Seam => round::nearest(edge.allowance),
        _ => seam,
    };
    let end = |e: &ShapeEdge| match e.kind {
        EdgeKind::Fold => (EdgeKind::Fold, Length::ZERO),
        _ => (EdgeKind::Seam, round::nearest(e.allowance)),
    };
    let ((kind, allowance), (first_kind, first_allowance)) = (end(after), end(before));
    d.follow(&edge.path)
        .seam("faced edge", own)
        .follow(&next.path)
        .edge("end", kind, allowance, CornerCut::Mitre)
        .follow(&reversed(&outer))
        .seam("outer edge", Length::ZERO)
        .follow(&reversed(&previous.path))
        .edge("other end", first_kind, first_allowance, CornerCut::Mitre);
    let made = part("facing", "Facing", facing.count, facing.pair, &mut d);
    if m.sound() && !sound(&made, m.unit) {
        m.wrong("width", format!("A facing {} wide does not fit along this edge: it bends too tightly for it. Type less, or face a part of it.", m.show(facing.width)));
    }
    m.end(|| vec![made])
}

/// The edge moved into the piece.
fn inside_of(shape: &Shape, edge: &ShapeEdge, width: f64) -> BezPath {
    let mut path = BezPath::new();
    let join = |path: &mut BezPath, to: Point| match path.elements().last().and_then(|e| e.end_point()) {
        None => path.move_to(to),
        Some(at) if (at - to).hypot() > 1e-6 => path.line_to(to),
        Some(_) => {}
    };
    for segment in edge.segments() {
        let inward = |t: f64| {
            let along = crate::drafting::shape::direction(&segment, t);
            shape.outward(along) * -width
        };
        let (from, to) = (segment.start() + inward(0.0), segment.end() + inward(1.0));
        let straight = match segment {
            PathSeg::Line(_) => true,
            PathSeg::Quad(_) | PathSeg::Cubic(_) => {
                let c = segment.to_cubic();
                let chord = c.p3 - c.p0;
                let off = |p: Point| chord.cross(p - c.p0).abs() / chord.hypot().max(1e-9);
                off(c.p1) < 1e-3 && off(c.p2) < 1e-3
            }
        };
        join(&mut path, from);
        if straight {
            path.line_to(to);
            continue;
        }
        let mut curve = BezPath::new();
        offset_cubic(segment.to_cubic(), width, FIT, &mut curve);
        let begins = curve.elements().first().and_then(|e| e.end_point()).unwrap_or(from);
        if (begins - from).hypot() > width {
            // The other side of it.
            curve = BezPath::new();
            offset_cubic(segment.to_cubic(), -width, FIT, &mut curve);
        }
        for element in curve.elements().iter().skip(1) {
            path.push(*element);
        }
    }
    path
}

/// Whether a path is nowhere outside of the piece.
fn lies_on(shape: &Shape, path: &BezPath) -> bool {
    let line = shape.stitching();
    path.segments().all(|s| {
        (0..=16)
            .map(|n| s.eval(f64::from(n) / 16.0))
            .all(|p| line.winding(p) != 0 || line.segments().any(|l| l.nearest(p, 1e-3).distance_sq < ON * ON))
    })
}

/// How one end of a facing runs: from the corner of its edge, and where its outer
/// edge ends.
struct End {
    path: BezPath,
    /// Segment and parameter of the outer edge, counted from the end it belongs to;
    /// beyond 0 where the outer edge is carried on straight.
    at: Option<(usize, f64)>,
}

/// `outer` ends beside the corner where `neighbour` begins. The facing's end
/// follows the neighbour to where the two meet.
fn side(outer: &BezPath, neighbour: &BezPath, width: f64, there: bool) -> End {
    let corner = neighbour
        .elements()
        .first()
        .and_then(|e| e.end_point())
        .unwrap_or_default();
    let outer_end = outer.elements().last().and_then(|e| e.end_point()).unwrap_or_default();
    let plain = || {
        let mut path = BezPath::new();
        path.move_to(corner);
        path.line_to(outer_end);
        End { path, at: None }
    };
    if !there {
        return plain();
    }
    let mut chords = chords(outer);
    // Carried on straight, in case the neighbour leans outwards.
    let last = outer.segments().last();
    if let (Some(last), Some(index)) = (last, outer.segments().count().checked_sub(1)) {
        let on = crate::drafting::shape::direction(&last, 1.0) * (width * 4.0);
        chords.push((outer_end, outer_end + on, index, 1.0, f64::INFINITY));
    }
    for (a, b, segment, from, to) in self::chords(neighbour) {
        if let Some((c, d, own, own_from, own_to, s, t)) = chords
            .iter()
            .rev()
            .find_map(|(c, d, own, f, g)| meet((a, b), (*c, *d)).map(|(s, t)| (*c, *d, *own, *f, *g, s, t)))
        {
            let at = from + (to - from) * s;
            let mut path = cut_after(neighbour, segment, at);
            let point = c + (d - c) * t;
            if let Some(kurbo::PathEl::LineTo(p) | kurbo::PathEl::CurveTo(_, _, p)) = path.elements_mut().last_mut() {
                *p = point;
            }
            let own_at = if own_to.is_finite() {
                own_from + (own_to - own_from) * t
            } else {
                1.0
            };
            return End {
                path,
                at: Some((own, own_at)),
            };
        }
    }
    plain()
}

/// Chords of a path: ends, the segment, and its parameters there.
fn chords(path: &BezPath) -> Vec<(Point, Point, usize, f64, f64)> {
    let mut all = Vec::new();
    for (i, segment) in path.segments().enumerate() {
        let steps = if matches!(segment, PathSeg::Line(_)) { 1 } else { 128 };
        for n in 0..steps {
            let (from, to) = (f64::from(n) / f64::from(steps), f64::from(n + 1) / f64::from(steps));
            all.push((segment.eval(from), segment.eval(to), i, from, to));
        }
    }
    all
}

/// Where two chords cross, as shares of both; not in the corner they may share.
fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<(f64, f64)> {
    let (u, v) = (b - a, d - c);
    let cross = u.cross(v);
    if cross.abs() < 1e-12 {
        return None;
    }
    let s = (c - a).cross(v) / cross;
    let t = (c - a).cross(u) / cross;
    let within = |x: f64| (-1e-9..=1.0 + 1e-9).contains(&x);
    (within(s) && within(t)).then_some((s, t))
}

fn cut_after(path: &BezPath, segment: usize, at: f64) -> BezPath {
    let kept = path.segments().enumerate().take(segment + 1).map(|(i, s)| {
        if i == segment {
            s.subsegment(0.0..at.clamp(1e-6, 1.0))
        } else {
            s
        }
    });
    BezPath::from_path_segments(kept)
}

/// The outer edge from where one end meets it to where the other does.
fn between(outer: &BezPath, first: &End, last: &End) -> BezPath {
    let end = outer.segments().count().saturating_sub(1);
    // The first end is counted on the path walked the other way.
    let (from, from_at) = first.at.map_or((0, 0.0), |(s, t)| (end - s.min(end), 1.0 - t));
    let (to, to_at) = last.at.unwrap_or((end, 1.0));
    let kept = outer
        .segments()
        .enumerate()
        .filter(|(i, _)| (from..=to).contains(i))
        .filter_map(|(i, s)| {
            let begin = if i == from { from_at.clamp(0.0, 1.0) } else { 0.0 };
            let stop = if i == to { to_at.clamp(0.0, 1.0) } else { 1.0 };
            (stop > begin + 1e-9).then(|| s.subsegment(begin..stop))
        });
    let mut path = BezPath::from_path_segments(kept);
    if path.elements().is_empty() {
        path.move_to(end_of(&first.path));
    }
    put_end(&mut path, end_of(&last.path));
    let mut turned = reversed(&path);
    put_end(&mut turned, end_of(&first.path));
    reversed(&turned)
}

/// Walked the other way; a single point stays.
fn reversed(path: &BezPath) -> BezPath {
    match path.segments().next() {
        Some(_) => path.reverse_subpaths(),
        None => path.clone(),
    }
}

fn end_of(path: &BezPath) -> Point {
    path.elements().last().and_then(|e| e.end_point()).unwrap_or_default()
}

/// Carries a path on to a point it nearly or not yet reaches.
fn put_end(path: &mut BezPath, to: Point) {
    if (end_of(path) - to).hypot() > 0.05 {
        path.line_to(to);
    } else if let Some(kurbo::PathEl::LineTo(p) | kurbo::PathEl::CurveTo(_, _, p)) = path.elements_mut().last_mut() {
        *p = to;
    }
}
