//! Changes of an outline: lengthened or shortened at a line, added to at an
//! edge, rounded at a corner.

use super::check::{Told, allowance_problem};
use super::corner::Corner;
use super::{Shape, ShapeEdge, round};
use crate::drafting::DraftProblem;
use crate::measure::{Length, Round};
use crate::plan::{AddToEdge, Along, ChangeOf, CornerCut, EdgeKind, Finish, Lengthen, OutlineChange, RoundCorner};
use kurbo::{BezPath, CubicBez, Line, ParamCurve, PathEl, PathSeg, Point, Vec2};

impl Shape {
    /// Edges finished otherwise, then the changes in their order; checked as a whole.
    pub fn changed(
        mut self,
        finish: &[Finish],
        changes: &[OutlineChange],
        told: &Told<'_>,
    ) -> Result<Shape, Vec<DraftProblem>> {
        let mut problems = Vec::new();
        let folded_back = self.folds_back();
        for (i, own) in finish.iter().enumerate() {
            let field = format!("{}/finish/{i}", told.field);
            let Some(edge) = self.edges.iter_mut().find(|e| e.name == own.edge) else {
                problems.push(no_edge(&field, &own.edge, told));
                continue;
            };
            edge.kind = own.kind;
            edge.corner = own.corner;
            edge.allowance = round::mm(own.allowance);
            problems.extend(
                allowance_problem(own.kind, own.allowance, &own.edge, told)
                    .map(|s| DraftProblem::new(format!("{field}/allowance"), s)),
            );
        }
        self.forget_lost_hems(&folded_back);
        self.fold_upright();
        for (i, change) in changes.iter().enumerate() {
            let field = format!("{}/changes/{i}", told.field);
            let lengths = match &change.change {
                ChangeOf::Lengthen(l) => [("at", l.at), ("by", l.by)],
                ChangeOf::AddToEdge(a) => [("by", a.by); 2],
                ChangeOf::RoundCorner(r) => [("radius", r.radius); 2],
            };
            if let Some((part, _)) = lengths.iter().find(|(_, l)| l.abs() > Length::MAX) {
                let sentence = format!(
                    "A change of the outline of {} is longer than 200 m. Check the unit.",
                    told.name
                );
                problems.push(DraftProblem::new(format!("{field}/{part}"), sentence));
                continue;
            }
            if change.reason.chars().count() > crate::plan::limits::TEXT {
                let sentence = format!(
                    "The reason of a change of {} is longer than {} characters. Shorten it.",
                    told.name,
                    crate::plan::limits::TEXT
                );
                problems.push(DraftProblem::new(format!("{field}/reason"), sentence));
            }
            let done = match &change.change {
                ChangeOf::Lengthen(l) => self.lengthen(l, &field, told),
                ChangeOf::AddToEdge(a) => self.add_to_edge(a, &field, told),
                ChangeOf::RoundCorner(r) => self.round_corner(r, &field, told),
            };
            problems.extend(done.err());
        }
        if problems.is_empty() && !(finish.is_empty() && changes.is_empty()) {
            problems = self.problems(told);
        }
        if problems.is_empty() { Ok(self) } else { Err(problems) }
    }

    /// Corners that fold back with a hem, in the order of the edges.
    fn folds_back(&self) -> Vec<bool> {
        let next = self.edges.iter().cycle().skip(1);
        let hemmed = |e: &ShapeEdge, next: &ShapeEdge| e.kind == EdgeKind::Hem || next.kind == EdgeKind::Hem;
        let edges = self.edges.iter().zip(next);
        edges
            .map(|(e, next)| e.corner == CornerCut::FoldBack && hemmed(e, next))
            .collect()
    }

    /// A corner that folded back `before` is a mitre once its hem is finished otherwise.
    fn forget_lost_hems(&mut self, before: &[bool]) {
        let now = self.folds_back();
        for ((edge, before), now) in self.edges.iter_mut().zip(before).zip(now) {
            if *before && !now && edge.corner == CornerCut::FoldBack {
                edge.corner = CornerCut::Mitre;
            }
        }
    }

    fn lengthen(&mut self, l: &Lengthen, field: &str, told: &Told<'_>) -> Result<(), DraftProblem> {
        let bounds = self.bounds();
        let (axis, from, size, way) = match l.along {
            Along::Height => (Vec2::new(0.0, 1.0), bounds.y0, bounds.height(), "tall"),
            Along::Width => (Vec2::new(1.0, 0.0), bounds.x0, bounds.width(), "wide"),
        };
        let at = round::mm(l.at);
        let by = round::mm(l.by);
        if at <= 0.0 || at >= size {
            return Err(DraftProblem::new(
                format!("{field}/at"),
                format!(
                    "The line at {} does not cross {}, which is {} {way}. Type more than nothing and less than that.",
                    l.at.both(told.unit, Round::Nearest),
                    told.name,
                    round::nearest(size).both(told.unit, Round::Down)
                ),
            ));
        }
        let line = from + at;
        let beyond = |p: Point| p.to_vec2().dot(axis) > line;
        if by < 0.0 {
            // What is folded out may hold no corner: the seams across it are drawn anew.
            let folded = |p: Point| {
                let v = p.to_vec2().dot(axis);
                v > line && v < line - by
            };
            let corner = self
                .edges
                .iter()
                .flat_map(|e| e.segments())
                .map(|s| s.start())
                .find(|p| folded(*p));
            if corner.is_some() {
                return Err(DraftProblem::new(
                    format!("{field}/by"),
                    format!(
                        "Folding out {} at this line would swallow a corner of {}. Move the line, or shorten by less.",
                        l.by.abs().both(told.unit, Round::Nearest),
                        told.name
                    ),
                ));
            }
        }
        let moved = |p: Point| if beyond(p) { p + axis * by } else { p };
        // Control points go with their own end, so that seams stay smooth, and
        // are as long for a stretched curve as they were for its chord.
        let stretched = |path: &BezPath| {
            let mut new = BezPath::new();
            for (i, segment) in path.segments().enumerate() {
                if i == 0 {
                    new.move_to(moved(segment.start()));
                }
                match segment {
                    PathSeg::Line(line) => new.line_to(moved(line.p1)),
                    PathSeg::Quad(_) | PathSeg::Cubic(_) => {
                        let c = segment.to_cubic();
                        let (a, b) = (moved(c.p0), moved(c.p3));
                        let before = (c.p3 - c.p0).hypot();
                        let scale = if before > 1e-9 { (b - a).hypot() / before } else { 1.0 };
                        new.curve_to(a + (c.p1 - c.p0) * scale, b + (c.p2 - c.p3) * scale, b);
                    }
                }
            }
            new
        };
        let shares = self.notch_shares();
        for edge in &mut self.edges {
            edge.path = stretched(&edge.path);
        }
        self.put_notches(&shares);
        for (_, line) in &mut self.inner {
            *line = stretched(line);
        }
        for (_, p) in &mut self.marks {
            *p = moved(*p);
        }
        self.grain = self.grain.map(moved);
        Ok(())
    }

    fn add_to_edge(&mut self, add: &AddToEdge, field: &str, told: &Told<'_>) -> Result<(), DraftProblem> {
        let Some(at) = self.edges.iter().position(|e| e.name == add.edge) else {
            return Err(no_edge(field, &add.edge, told));
        };
        let count = self.edges.len();
        if count < 3 {
            return Err(DraftProblem::new(
                format!("{field}/edge"),
                format!(
                    "{} has too few edges to move one of them. Change its measures instead.",
                    told.name
                ),
            ));
        }
        let by = round::mm(add.by);
        let shares = self.notch_shares();
        let turn = self.turn();
        let Some(edge) = self.edges.get(at).cloned() else {
            return Ok(());
        };
        let mut path = moved_aside(&edge.path, by, turn);
        // Where it meets its neighbours: straight ones are followed, curves are drawn to it.
        let (before, after) = ((at + count - 1) % count, (at + 1) % count);
        let mut ends = [path_start(&path), path_end(&path)];
        let tangents = [edge.at(0.0).1, edge.at(f64::MAX).1];
        for (end, tangent, neighbour, last) in [(0, tangents[0], before, true), (1, tangents[1], after, false)] {
            let Some(other) = self.edges.get(neighbour) else {
                continue;
            };
            let meeting = if last {
                other.segments().last()
            } else {
                other.segments().next()
            };
            if let Some(PathSeg::Line(line)) = meeting
                && let Some(corner) = Line::new(ends[end], ends[end] + tangent).crossing_point(line)
                && (corner - ends[end]).hypot() < by.abs() * 6.0
                && edge.is_straight()
            {
                ends[end] = corner;
            }
        }
        set_start(&mut path, ends[0]);
        set_end(&mut path, ends[1]);
        if let Some(edge) = self.edges.get_mut(at) {
            edge.path = path;
        }
        if let Some(edge) = self.edges.get_mut(before) {
            set_end(&mut edge.path, ends[0]);
        }
        if let Some(edge) = self.edges.get_mut(after) {
            set_start(&mut edge.path, ends[1]);
        }
        self.put_notches(&shares);
        Ok(())
    }

    fn round_corner(&mut self, r: &RoundCorner, field: &str, told: &Told<'_>) -> Result<(), DraftProblem> {
        let Some(at) = self.edges.iter().position(|e| e.name == r.edge) else {
            return Err(no_edge(field, &r.edge, told));
        };
        let next = (at + 1) % self.edges.len();
        let radius = round::mm(r.radius);
        let say = |field: &str, sentence: String| Err(DraftProblem::new(field, sentence));
        let radius_field = format!("{field}/radius");
        if radius <= 0.0 {
            return say(
                &radius_field,
                "A radius is more than nothing. Type one, or take this change out.".into(),
            );
        }
        let (Some(this), Some(that)) = (self.edges.get(at), self.edges.get(next)) else {
            return Ok(());
        };
        let names = format!("“{}” and “{}”", this.name, that.name);
        if at != next && [this, that].iter().any(|e| e.kind == EdgeKind::Fold) {
            return say(
                &format!("{field}/edge"),
                format!(
                    "The corner between {names} of {} lies on the fold: rounded, both halves would meet in a point. Choose another corner, or make the fold a seam.",
                    told.name
                ),
            );
        }
        let Some(corner) = Corner::of(&this.path, &that.path, at == next, self.turn()) else {
            return Ok(());
        };
        if corner.is_straight_on() {
            return say(
                &radius_field,
                format!(
                    "“{}” runs straight on into “{}”: there is no corner to round.",
                    this.name, that.name
                ),
            );
        }
        let Some(rounded) = corner.rounded(radius) else {
            let sentence = match corner.largest(radius) {
                Some(most) => format!(
                    "A radius of {} reaches beyond the edges at the corner of {names}. Type at most {}.",
                    r.radius.both(told.unit, Round::Nearest),
                    round::nearest(most).both(told.unit, Round::Down)
                ),
                None => format!(
                    "The corner of {names} of {} is too narrow for a circle to lie in. Take this change out, or draw the corner otherwise.",
                    told.name
                ),
            };
            return say(&radius_field, sentence);
        };
        // Notches stay where they are; one of the corner goes to where the curve begins or ends.
        for notch in &mut self.notches {
            if notch.edge == next {
                notch.at = (notch.at - rounded.taken).max(0.0);
            }
            if notch.edge == at {
                notch.at = notch.at.min(rounded.kept);
            }
        }
        if let Some(edge) = self.edges.get_mut(at) {
            edge.path = rounded.arrives;
        }
        if at != next
            && let Some(edge) = self.edges.get_mut(next)
        {
            edge.path = rounded.leaves;
        }
        Ok(())
    }

    /// Notches keep their share of the edge when it changes.
    fn notch_shares(&self) -> Vec<f64> {
        self.notches
            .iter()
            .map(|n| {
                let length = self.edges.get(n.edge).map_or(0.0, |e| e.length());
                if length > 0.0 { n.at / length } else { 0.0 }
            })
            .collect()
    }

    fn put_notches(&mut self, shares: &[f64]) {
        let lengths: Vec<f64> = self.edges.iter().map(|e| e.length()).collect();
        for (notch, share) in self.notches.iter_mut().zip(shares) {
            if let Some(length) = lengths.get(notch.edge) {
                notch.at = length * share;
            }
        }
    }
}

fn no_edge(field: &str, edge: &str, told: &Told<'_>) -> DraftProblem {
    DraftProblem::new(
        format!("{field}/edge"),
        format!("{} has no edge “{edge}”. Choose one of its edges.", told.name),
    )
}

/// Cubics of a circle of `radius` that turns by `angle`, leaving along `ta`; at most
/// an eighth of a circle each, which leaves it by 5 millionths of the radius.
pub(crate) fn arc(from: Point, ta: Vec2, to: Point, radius: f64, angle: f64) -> Vec<CubicBez> {
    let steps = (angle.abs() / std::f64::consts::FRAC_PI_4).ceil().max(1.0);
    let step = angle / steps;
    // The usual four thirds of the tangent of a quarter of the angle.
    let handle = 4.0 / 3.0 * (step.abs() / 4.0).tan() * radius;
    let turned = |v: Vec2, by: f64| Vec2::new(v.x * by.cos() - v.y * by.sin(), v.x * by.sin() + v.y * by.cos());
    let inner = Vec2::new(-ta.y, ta.x) * angle.signum();
    let centre = from + inner * radius;
    let mut curves = Vec::new();
    let mut at = from;
    for n in 1..=(steps as u32) {
        let last = f64::from(n) >= steps;
        let after = if last {
            to
        } else {
            centre + turned(-inner * radius, step * f64::from(n))
        };
        let (t0, t1) = (turned(ta, step * f64::from(n - 1)), turned(ta, step * f64::from(n)));
        curves.push(CubicBez::new(at, at + t0 * handle, after - t1 * handle, after));
        at = after;
    }
    curves
}

/// A path moved outwards by `by`, curve by curve: ends along their normals,
/// handles as long for the new chord as they were for the old.
fn moved_aside(path: &BezPath, by: f64, turn: f64) -> BezPath {
    let mut new = BezPath::new();
    for (i, segment) in path.segments().enumerate() {
        let out = |t: f64| super::band::outward(super::edge::direction(&segment, t), turn) * by;
        let (a, b) = (segment.start() + out(0.0), segment.end() + out(1.0));
        if i == 0 {
            new.move_to(a);
        } else if (path_end(&new) - a).hypot() > 1e-9 {
            new.line_to(a);
        }
        match segment {
            PathSeg::Line(_) => new.line_to(b),
            PathSeg::Quad(_) | PathSeg::Cubic(_) => {
                let c = segment.to_cubic();
                let before = (c.p3 - c.p0).hypot();
                let scale = if before > 1e-9 { (b - a).hypot() / before } else { 1.0 };
                new.curve_to(a + (c.p1 - c.p0) * scale, b + (c.p2 - c.p3) * scale, b);
            }
        }
    }
    new
}

fn path_start(path: &BezPath) -> Point {
    match path.elements().first() {
        Some(PathEl::MoveTo(p)) => *p,
        _ => Point::ZERO,
    }
}

fn path_end(path: &BezPath) -> Point {
    path.elements().last().and_then(|e| e.end_point()).unwrap_or_default()
}

/// Puts the end of a path somewhere else; a handle goes with it.
fn set_end(path: &mut BezPath, to: Point) {
    let by = to - path_end(path);
    match path.elements_mut().last_mut() {
        Some(PathEl::LineTo(p) | PathEl::MoveTo(p)) => *p = to,
        Some(PathEl::CurveTo(_, handle, p)) => {
            *handle += by;
            *p = to;
        }
        Some(PathEl::QuadTo(_, p)) => *p = to,
        _ => {}
    }
}

fn set_start(path: &mut BezPath, to: Point) {
    let by = to - path_start(path);
    let mut elements = path.elements_mut().iter_mut();
    if let Some(PathEl::MoveTo(p)) = elements.next() {
        *p = to;
    }
    if let Some(PathEl::CurveTo(handle, _, _)) = elements.next() {
        *handle += by;
    }
}
