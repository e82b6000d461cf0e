//! Closed lines: parts of a path, open ones joined end to end.

use super::{FARTHEST, SAME};
use kurbo::{BezPath, PathEl, Point};

/// The parts of a path, each beginning with a move.
pub(super) fn parts(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    let mut start = Point::ZERO;
    let mut closed = false;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(p) => {
                start = *p;
                closed = false;
                all.push(BezPath::from_vec(vec![*element]));
                continue;
            }
            // Drawing on after a close begins where that part began.
            _ if closed => {
                closed = false;
                all.push(BezPath::from_vec(vec![PathEl::MoveTo(start)]));
            }
            _ => {}
        }
        if let Some(part) = all.last_mut() {
            part.push(*element);
        }
        closed |= matches!(element, PathEl::ClosePath);
    }
    all.retain(|part| part.elements().len() > 1);
    all
}

pub(super) fn start(path: &BezPath) -> Point {
    path.elements().first().and_then(|e| e.end_point()).unwrap_or_default()
}

/// Where its last drawn part ends.
pub(super) fn end(path: &BezPath) -> Point {
    path.elements()
        .iter()
        .rev()
        .find_map(|e| e.end_point())
        .unwrap_or_default()
}

pub(super) fn is_closed(path: &BezPath) -> bool {
    path.elements().last() == Some(&PathEl::ClosePath)
        || (path.elements().len() > 2 && (start(path) - end(path)).hypot() <= SAME)
}

/// Ended with a close, its last point moved onto its first where they are one.
pub(super) fn close(mut path: BezPath) -> BezPath {
    let first = start(&path);
    if path.elements().last() != Some(&PathEl::ClosePath) {
        let gap = (end(&path) - first).hypot();
        if gap > 0.0
            && gap <= SAME
            && let Some(last) = path.elements_mut().last_mut()
        {
            match last {
                PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => *p = first,
                PathEl::MoveTo(_) | PathEl::ClosePath => {}
            }
        }
        path.push(PathEl::ClosePath);
    }
    path
}

/// Whether all of it lies within what is read.
pub(super) fn is_near(path: &BezPath) -> bool {
    let near = |p: &Point| p.is_finite() && p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST;
    path.elements().iter().all(|e| match e {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => near(p),
        PathEl::QuadTo(a, p) => near(a) && near(p),
        PathEl::CurveTo(a, b, p) => near(a) && near(b) && near(p),
        PathEl::ClosePath => true,
    })
}

/// Open lines joined where their ends meet: the closed ones and what stays open.
pub(super) fn joined(lines: Vec<BezPath>) -> (Vec<BezPath>, Vec<BezPath>) {
    let (mut closed, mut open): (Vec<BezPath>, Vec<BezPath>) = (Vec::new(), Vec::new());
    let mut left = lines;
    left.reverse();
    while let Some(mut line) = left.pop() {
        loop {
            if is_closed(&line) {
                closed.push(close(line));
                break;
            }
            let at = end(&line);
            let next = left.iter().rposition(|other| {
                !is_closed(other) && ((start(other) - at).hypot() <= SAME || (end(other) - at).hypot() <= SAME)
            });
            let Some(next) = next else {
                open.push(line);
                break;
            };
            let other = left.remove(next);
            let other = if (start(&other) - at).hypot() <= SAME {
                other
            } else {
                other.reverse_subpaths()
            };
            line.extend(other.elements().iter().skip(1).copied());
        }
    }
    (closed, open)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[(f64, f64)]) -> BezPath {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        points[1..].iter().for_each(|p| path.line_to(*p));
        path
    }

    #[test]
    fn lines_end_to_end_become_one_whichever_way_they_run() {
        let (closed, open) = joined(vec![
            line(&[(0.0, 0.0), (10.0, 0.0)]),
            line(&[(10.0, 10.0), (10.02, 0.0)]),
            line(&[(50.0, 0.0), (60.0, 0.0)]),
            line(&[(10.0, 10.0), (0.0, 10.0), (0.0, 0.0)]),
        ]);
        assert_eq!((closed.len(), open.len()), (1, 1));
        assert_eq!(closed[0].elements().len(), 6, "{:?}", closed[0]);
    }

    #[test]
    fn a_part_after_a_close_begins_where_the_closed_one_did() {
        let path = BezPath::from_svg("M1 1 h4 v4 z l -1 -1 M9 9 h1").expect("a path");
        let all = parts(&path);
        assert_eq!(all.len(), 3);
        assert_eq!(start(&all[1]), Point::new(1.0, 1.0));
        assert!(is_closed(&all[0]) && !is_closed(&all[1]));
    }
}
