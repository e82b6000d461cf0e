//! An outline made ready for asking often: do two of them meet, and how badly.

use super::circles::circles;
use super::outline::{area, bounds, hull};
use kurbo::Point;

#[derive(Clone)]
pub(super) struct Body {
    /// Corners in order round, the first once more at the end.
    pub(super) x: Vec<f64>,
    pub(super) y: Vec<f64>,
    pub(super) x0: f64,
    pub(super) y0: f64,
    pub(super) x1: f64,
    pub(super) y1: f64,
    pub(super) circle_x: Vec<f32>,
    pub(super) circle_y: Vec<f32>,
    pub(super) circle_r: Vec<f32>,
    /// The largest circle, a little smaller than it may be: x, y and radius.
    heart: (f64, f64, f64),
    /// Square root of the area of its hull: how much its overlaps matter.
    pub(super) weight: f64,
    /// Where overlaps end and fading begins, from the size of the outline.
    pub(super) fade: f64,
}

impl Body {
    pub(super) fn new(outline: &[Point]) -> Body {
        Body::with(outline, &circles(outline))
    }

    /// For questions about the outline alone: without circles.
    pub(super) fn outline_only(outline: &[Point]) -> Body {
        Body::with(outline, &[])
    }

    fn with(outline: &[Point], circles: &[(Point, f64)]) -> Body {
        let round = bounds(outline);
        let closed = || outline.iter().chain(outline.first());
        let hull_area = area(&hull(outline));
        Body {
            x: closed().map(|p| p.x).collect(),
            y: closed().map(|p| p.y).collect(),
            x0: round.x0,
            y0: round.y0,
            x1: round.x1,
            y1: round.y1,
            circle_x: circles.iter().map(|c| c.0.x as f32).collect(),
            circle_y: circles.iter().map(|c| c.0.y as f32).collect(),
            circle_r: circles.iter().map(|c| c.1 as f32).collect(),
            heart: circles.first().map_or((0.0, 0.0, 0.0), |(c, r)| (c.x, c.y, 0.999 * r)),
            weight: hull_area.sqrt(),
            fade: 0.01 * round.width().hypot(round.height()),
        }
    }

    /// Whether a point is inside.
    pub(super) fn holds(&self, x: f64, y: f64) -> bool {
        let mut inside = false;
        for at in 1..self.x.len() {
            let (ax, ay, bx, by) = (self.x[at - 1], self.y[at - 1], self.x[at], self.y[at]);
            if (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
                inside = !inside;
            }
        }
        inside
    }

    /// Whether an edge of the one crosses an edge of the other, `other` moved
    /// by (dx, dy).
    pub(super) fn edges_cross(&self, other: &Body, dx: f64, dy: f64) -> bool {
        // Only edges that reach into the rectangle both have in common.
        let x0 = self.x0.max(other.x0 + dx);
        let x1 = self.x1.min(other.x1 + dx);
        let y0 = self.y0.max(other.y0 + dy);
        let y1 = self.y1.min(other.y1 + dy);
        if x0 > x1 || y0 > y1 {
            return false;
        }
        for j in 1..other.x.len() {
            let (cx, cy) = (other.x[j - 1] + dx, other.y[j - 1] + dy);
            let (ex, ey) = (other.x[j] + dx, other.y[j] + dy);
            let (left, right) = if cx < ex { (cx, ex) } else { (ex, cx) };
            let (low, high) = if cy < ey { (cy, ey) } else { (ey, cy) };
            if right < x0 || left > x1 || high < y0 || low > y1 {
                continue;
            }
            let (ux, uy) = (ex - cx, ey - cy);
            let mut last = ux * (self.y[0] - cy) - uy * (self.x[0] - cx);
            for i in 1..self.x.len() {
                let (bx, by) = (self.x[i], self.y[i]);
                let here = ux * (by - cy) - uy * (bx - cx);
                if (last > 0.0) != (here > 0.0) {
                    let (ax, ay) = (self.x[i - 1], self.y[i - 1]);
                    let (vx, vy) = (bx - ax, by - ay);
                    let first = vx * (cy - ay) - vy * (cx - ax);
                    let second = vx * (ey - ay) - vy * (ex - ax);
                    if (first > 0.0) != (second > 0.0) {
                        return true;
                    }
                }
                last = here;
            }
        }
        false
    }

    /// Whether the largest circles inside the two meet, which settles it.
    pub(super) fn hearts_meet(&self, other: &Body, dx: f64, dy: f64) -> bool {
        let (ux, uy) = (other.heart.0 + dx - self.heart.0, other.heart.1 + dy - self.heart.1);
        let reach = self.heart.2 + other.heart.2;
        ux * ux + uy * uy < reach * reach
    }

    /// Whether the two have more than a touch in common.
    pub(super) fn meets(&self, other: &Body, dx: f64, dy: f64) -> bool {
        if self.x0 > other.x1 + dx || other.x0 + dx > self.x1 || self.y0 > other.y1 + dy || other.y0 + dy > self.y1 {
            return false;
        }
        // Copies that lie exactly on each other cross nowhere.
        self.hearts_meet(other, dx, dy)
            || self.edges_cross(other, dx, dy)
            || self.holds(other.x[0] + dx, other.y[0] + dy)
            || other.holds(self.x[0] - dx, self.y[0] - dy)
    }

    /// How badly two outlines that meet lie in each other: over all pairs of
    /// their circles the depth of one in the other times the smaller radius.
    /// The depth fades out beyond zero instead of stopping there, so that the
    /// slightest meeting still says which way is out.
    pub(super) fn depth(&self, other: &Body, dx: f64, dy: f64) -> f64 {
        let fade = self.fade.min(other.fade) as f32;
        let square = fade * fade;
        let (dx, dy) = (dx as f32, dy as f32);
        let count = other.circle_x.len();
        let (ox, oy, or) = (
            &other.circle_x[..count],
            &other.circle_y[..count],
            &other.circle_r[..count],
        );
        let mut sum = 0f32;
        for i in 0..self.circle_x.len() {
            let (x, y, r) = (self.circle_x[i] - dx, self.circle_y[i] - dy, self.circle_r[i]);
            for j in 0..count {
                let (ux, uy) = (ox[j] - x, oy[j] - y);
                let depth = r + or[j] - (ux * ux + uy * uy).sqrt();
                let faded = square / (2.0 * fade - depth.min(fade));
                let counted = if depth >= fade { depth } else { faded };
                sum += counted * r.min(or[j]);
            }
        }
        f64::from(sum.max(1e-12)).sqrt() * (self.weight * other.weight).sqrt()
    }
}
