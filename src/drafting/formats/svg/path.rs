//! Path data as lines and curves. An arc becomes curves within a thousandth of
//! a millimetre.

use kurbo::{Arc, BezPath, Point, SvgArc, Vec2};
use svgtypes::{PathParser, PathSegment};

/// The most commands of one path.
const COMMANDS: usize = 20_000;

/// `within` is how far a curve may leave an arc, in the drawing's units.
pub(super) fn path(data: &str, within: f64) -> Result<BezPath, String> {
    let mut pen = Pen::default();
    for (n, segment) in PathParser::from(data).enumerate() {
        if n > COMMANDS {
            return Err(format!("has more than {COMMANDS} commands"));
        }
        match segment {
            Ok(segment) => pen.go(segment, within),
            Err(error) => return Err(format!("cannot be read after its command {n}: {error}")),
        }
    }
    Ok(pen.path)
}

#[derive(Default)]
struct Pen {
    path: BezPath,
    at: Point,
    start: Point,
    /// The last control point of a cubic, of a quadratic: reflected by smooth commands.
    cubic: Option<Point>,
    quad: Option<Point>,
    /// After a close the next line begins a new part.
    closed: bool,
}

impl Pen {
    fn go(&mut self, segment: PathSegment, within: f64) {
        let at = self.at;
        let to = |abs: bool, x: f64, y: f64| {
            if abs { Point::new(x, y) } else { at + Vec2::new(x, y) }
        };
        let (cubic, quad) = (self.cubic.take(), self.quad.take());
        let reflected = |control: Option<Point>| control.map_or(at, |c| at + (at - c));
        if self.closed && !matches!(segment, PathSegment::MoveTo { .. } | PathSegment::ClosePath { .. }) {
            self.path.move_to(at);
        }
        self.closed = false;
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                self.at = to(abs, x, y);
                self.start = self.at;
                self.path.move_to(self.at);
            }
            PathSegment::LineTo { abs, x, y } => self.line(to(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => self.line(Point::new(to(abs, x, 0.0).x, at.y)),
            PathSegment::VerticalLineTo { abs, y } => self.line(Point::new(at.x, to(abs, 0.0, y).y)),
            PathSegment::CurveTo {
                abs,
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => self.curve(to(abs, x1, y1), to(abs, x2, y2), to(abs, x, y)),
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                self.curve(reflected(cubic), to(abs, x2, y2), to(abs, x, y));
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => self.quadratic(to(abs, x1, y1), to(abs, x, y)),
            PathSegment::SmoothQuadratic { abs, x, y } => self.quadratic(reflected(quad), to(abs, x, y)),
            PathSegment::EllipticalArc {
                abs,
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
            } => {
                let end = to(abs, x, y);
                let arc = Arc::from_svg_arc(&SvgArc {
                    from: at,
                    to: end,
                    radii: Vec2::new(rx.abs(), ry.abs()),
                    x_rotation: x_axis_rotation.to_radians(),
                    large_arc,
                    sweep,
                });
                match arc {
                    Some(arc) => self.path.extend(arc.append_iter(within)),
                    None => self.path.line_to(end),
                }
                // The sums of an arc end a hair beside it.
                if let Some(kurbo::PathEl::CurveTo(_, _, last)) = self.path.elements_mut().last_mut() {
                    *last = end;
                }
                self.at = end;
            }
            PathSegment::ClosePath { .. } => {
                if !self.path.elements().is_empty() {
                    self.path.close_path();
                }
                self.at = self.start;
                self.closed = true;
            }
        }
    }

    fn line(&mut self, end: Point) {
        self.path.line_to(end);
        self.at = end;
    }

    fn curve(&mut self, first: Point, second: Point, end: Point) {
        self.path.curve_to(first, second, end);
        self.cubic = Some(second);
        self.at = end;
    }

    fn quadratic(&mut self, control: Point, end: Point) {
        self.path.quad_to(control, end);
        self.quad = Some(control);
        self.at = end;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    #[test]
    fn relative_and_absolute_commands_draw_the_same() {
        let pairs = [
            (
                "M10 10 L30 10 H50 V40 C50 60 30 60 10 40 Z",
                "m10 10 l20 0 h20 v30 c0 20 -20 20 -40 0 z",
            ),
            (
                "M0 0 Q10 10 20 0 T40 0 L40 50 L0 50 Z",
                "m0 0 q10 10 20 0 t20 0 l0 50 l-40 0 z",
            ),
            (
                "M0 0 C0 10 10 10 10 0 S20 -10 20 0 L0 -40 Z",
                "m0,0c0,10,10,10,10,0s10-10,10,0l-20-40z",
            ),
        ];
        for (a, b) in pairs {
            let (a, b) = (path(a, 1e-3).unwrap(), path(b, 1e-3).unwrap());
            assert_eq!(a.elements().len(), b.elements().len());
            assert!((a.area() - b.area()).abs() < 1e-9);
        }
    }

    #[test]
    fn arcs_are_circles_within_a_thousandth() {
        // Half a circle of 300 and back: area and length by Archimedes.
        let half = path("M0 0 A300 300 0 0 1 600 0 Z", 1e-3).unwrap();
        let exact = std::f64::consts::PI * 300.0 * 300.0 / 2.0;
        assert!((half.area().abs() - exact).abs() < 1.0, "{} {exact}", half.area());
        // Flags written together, radii too small grown, none at all a line.
        assert!(path("M0 0a5 5 0 1110 0z", 1e-3).is_ok());
        let grown = path("M0 0 A1 1 0 0 1 10 0 Z", 1e-3).unwrap();
        assert!((grown.area().abs() - std::f64::consts::PI * 12.5).abs() < 0.01);
        assert_eq!(path("M0 0 A0 5 0 0 1 10 0", 1e-3).unwrap().elements().len(), 2);
    }

    #[test]
    fn what_is_no_path_is_told() {
        for data in [
            "L 1 2",
            "M 1 2 L x",
            "M 1 NaN",
            "M 1e999 0 L 5 5",
            "M 0 0 A 1 1 0 2 0 5 5",
        ] {
            let read = path(data, 1e-3);
            let far = read.as_ref().is_ok_and(|p| !crate::drafting::formats::line::is_near(p));
            assert!(read.is_err() || far, "{data}: {read:?}");
        }
    }
}
