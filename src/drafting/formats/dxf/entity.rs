//! What an entity of a drawing draws or says.

use dxf::entities::{Entity, EntityType};
use kurbo::{Affine, Arc, BezPath, PathEl, Point, Shape, Vec2};

/// How far a curve may leave an arc, in millimetres.
const ARC: f64 = 1e-3;

pub(super) fn words(entity: &Entity) -> Option<&str> {
    match &entity.specific {
        EntityType::Text(text) => Some(&text.value),
        EntityType::MText(text) => Some(&text.text),
        _ => None,
    }
}

pub(super) fn is_line(entity: &Entity) -> bool {
    matches!(
        entity.specific,
        EntityType::Polyline(_)
            | EntityType::LwPolyline(_)
            | EntityType::Line(_)
            | EntityType::Arc(_)
            | EntityType::Circle(_)
            | EntityType::Ellipse(_)
            | EntityType::Spline(_)
    )
}

/// `y` runs up in the file and down in the plan.
pub(super) fn point(p: &dxf::Point, scale: f64) -> Point {
    // A nought is added so that none is below nought.
    Point::new(p.x * scale, -p.y * scale + 0.0)
}

/// Points of a curved polyline that only steer it, and polylines that are surfaces.
const STEERS: i32 = 16;
const SURFACE: i32 = 16 | 64;

/// Whether the entity's plane is seen from behind: its `x` runs the other way.
fn is_from_behind(entity: &Entity) -> bool {
    let normal = match &entity.specific {
        EntityType::Polyline(p) => &p.normal,
        EntityType::LwPolyline(p) => &p.extrusion_direction,
        EntityType::Arc(a) => &a.normal,
        EntityType::Circle(c) => &c.normal,
        _ => return false,
    };
    normal.z < 0.0
}

/// The line an entity draws; nothing of a spline that cannot be read.
pub(super) fn line(entity: &Entity, scale: f64) -> Option<BezPath> {
    let path = drawn(entity, scale)?;
    Some(if is_from_behind(entity) {
        Affine::FLIP_X * path
    } else {
        path
    })
}

fn drawn(entity: &Entity, scale: f64) -> Option<BezPath> {
    let mut path = BezPath::new();
    match &entity.specific {
        EntityType::Polyline(p) if p.flags & SURFACE != 0 => return None,
        EntityType::Polyline(p) => {
            let own = p.vertices().filter(|v| v.flags & STEERS == 0);
            let vertices: Vec<(Point, f64)> = own.map(|v| (point(&v.location, scale), v.bulge)).collect();
            bulging(&mut path, &vertices, p.is_closed());
        }
        EntityType::LwPolyline(p) => {
            let vertices: Vec<(Point, f64)> = p
                .vertices
                .iter()
                .map(|v| (Point::new(v.x * scale, -v.y * scale), v.bulge))
                .collect();
            // The crate's own answer looks at another bit.
            bulging(&mut path, &vertices, p.flags & 1 != 0);
        }
        EntityType::Line(l) => {
            path.move_to(point(&l.p1, scale));
            path.line_to(point(&l.p2, scale));
        }
        EntityType::Circle(c) => {
            path = kurbo::Circle::new(point(&c.center, scale), c.radius.abs() * scale).to_path(ARC)
        }
        EntityType::Arc(a) => {
            let (from, to) = (a.start_angle.to_radians(), a.end_angle.to_radians());
            let sweep = (to - from).rem_euclid(std::f64::consts::TAU);
            let radius = a.radius.abs() * scale;
            let arc = Arc::new(point(&a.center, scale), (radius, radius), -from, -sweep, 0.0);
            path = arc.to_path(ARC);
        }
        EntityType::Ellipse(e) => {
            let long = e.major_axis.x.hypot(e.major_axis.y) * scale;
            let all = std::f64::consts::TAU;
            let sweep = (e.end_parameter - e.start_parameter).rem_euclid(all);
            let sweep = if sweep < 1e-4 { all } else { sweep };
            // Seen from behind its parameter runs the other way.
            let way = if e.normal.z < 0.0 { 1.0 } else { -1.0 };
            let turned = -e.major_axis.y.atan2(e.major_axis.x);
            let radii = (long, long * e.minor_axis_ratio.abs());
            path = Arc::new(
                point(&e.center, scale),
                radii,
                e.start_parameter * way,
                sweep * way,
                turned,
            )
            .to_path(ARC);
        }
        EntityType::Spline(s) => path = super::spline::path(s, scale).ok()?,
        _ => return None,
    }
    (path.elements().len() > 1).then_some(path)
}

/// Straight from point to point, or along a part of a circle where a point bulges: a
/// quarter of its angle has that tangent, positive to the left as the file counts.
fn bulging(path: &mut BezPath, vertices: &[(Point, f64)], closed: bool) {
    let Some((first, _)) = vertices.first() else { return };
    path.move_to(*first);
    let round = closed.then_some(*first);
    let ends = vertices.iter().skip(1).map(|(p, _)| *p).chain(round);
    for ((from, bulge), to) in vertices.iter().zip(ends) {
        let chord = to - *from;
        if bulge.abs() < 1e-9 || chord.hypot() < 1e-9 {
            path.line_to(to);
            continue;
        }
        let sweep = -4.0 * bulge.atan();
        let radius = chord.hypot() / 2.0 / (sweep / 2.0).sin().abs();
        // The middle lies to one side of the chord by the sign of the sweep.
        let aside = Vec2::new(-chord.y, chord.x).normalize() * (chord.hypot() / 2.0 / (sweep / 2.0).tan());
        let middle = from.midpoint(to) + aside;
        let start = (*from - middle).atan2();
        path.extend(Arc::new(middle, (radius, radius), start, sweep, 0.0).append_iter(ARC));
        if let Some(PathEl::CurveTo(_, _, last)) = path.elements_mut().last_mut() {
            *last = to;
        }
    }
    if closed {
        path.close_path();
    }
}
