//! The grain upright: `y` runs down along the grain in every figure, so an outline
//! whose grainline is drawn otherwise is turned until it does.

use super::Shape;
use crate::plan::EdgeKind;
use kurbo::{Affine, Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// A fold that differs from the grain by less lies along it: one degree. What is
/// laid by eye and hand is no closer.
const ALONG: f64 = std::f64::consts::PI / 180.0;

/// Less than this is the noise of a drawing, in radians.
const NOISE: f64 = 1e-4;

impl Shape {
    /// Turned as little as sets the grainline upright.
    pub(super) fn upright(&mut self) {
        let turn = off(self.grain[1] - self.grain[0]);
        if turn.abs() > NOISE {
            self.turned(turn);
        }
        if self.grain[0].y > self.grain[1].y {
            self.grain.reverse();
        }
        self.fold_upright();
    }

    /// A fold that is nearly along the grain is set upright itself: the fold of the
    /// cloth is straight, and both halves meet on it.
    pub(super) fn fold_upright(&mut self) {
        let fold = self.edges.iter().find(|e| e.kind == EdgeKind::Fold && e.is_straight());
        let Some(turn) = fold.map(|f| off(f.end() - f.start())) else {
            return;
        };
        if turn != 0.0 && turn.abs() < ALONG {
            self.turned(turn);
        }
    }

    fn turned(&mut self, turn: f64) {
        let middle = self.bounds().center();
        let quarter = (turn.abs() - FRAC_PI_2).abs() < 1e-12;
        let map = if quarter {
            // Exactly: a cosine of 90 degrees is not quite zero.
            let s = turn.signum();
            Affine::translate(middle.to_vec2())
                * Affine::new([0.0, s, -s, 0.0, 0.0, 0.0])
                * Affine::translate(-middle.to_vec2())
        } else {
            Affine::rotate_about(turn, middle)
        };
        for edge in &mut self.edges {
            edge.path = map * edge.path.clone();
        }
        for (_, line) in &mut self.inner {
            *line = map * line.clone();
        }
        for (_, p) in &mut self.marks {
            *p = map * *p;
        }
        self.grain = self.grain.map(|p: Point| map * p);
    }
}

/// The least turn that sets a line upright, in radians.
fn off(along: Vec2) -> f64 {
    if along.x == 0.0 {
        return 0.0;
    }
    let down = if along.y < 0.0 { -along } else { along };
    FRAC_PI_2 - down.atan2()
}
