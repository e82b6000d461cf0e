//! The lines of a piece.

use super::ink::{Ink, Pen};
use super::label;
use crate::drafting::formats::{DrawnNotch, DrawnPiece};
use kurbo::{BezPath, Point, Vec2};

/// A notch is so wide and so deep.
const NOTCH: (f64, f64) = (4.0, 5.0);

/// All that is drawn of a piece but its name, in its own place.
pub fn inks(piece: &DrawnPiece) -> Vec<Ink> {
    let mut all = Vec::new();
    if let Some(path) = &piece.stitching {
        all.push(Ink::Line {
            path: without_fold_path(path, piece),
            pen: Pen::STITCHING,
        });
    }
    for path in cut_lines(piece) {
        all.push(Ink::Line { path, pen: Pen::CUT });
    }
    for (name, path) in &piece.inner {
        all.push(Ink::Line {
            path: path.clone(),
            pen: Pen::INSIDE,
        });
        if let Some(kurbo::PathEl::MoveTo(at)) = path.elements().first() {
            all.push(Ink::grey(*at + Vec2::new(1.5, -1.0), 6.0, name));
        }
    }
    all.extend(piece.notches.iter().flat_map(notch));
    for (name, at) in &piece.marks {
        all.push(Ink::line(
            *at - Vec2::new(3.0, 0.0),
            *at + Vec2::new(3.0, 0.0),
            Pen::FINE,
        ));
        all.push(Ink::line(
            *at - Vec2::new(0.0, 3.0),
            *at + Vec2::new(0.0, 3.0),
            Pen::FINE,
        ));
        all.push(Ink::grey(*at + Vec2::new(1.5, -1.5), 6.0, name));
    }
    arrow(piece.grain[0], piece.grain[1], true, &mut all);
    if let Some(ends) = piece.fold {
        fold(piece, ends, &mut all);
    }
    all
}

/// Whether a point lies on a line.
fn on([from, to]: [Point; 2], p: Point) -> bool {
    let along = to - from;
    along.hypot() > 0.0 && (along.cross(p - from) / along.hypot()).abs() < 1e-6
}

/// From a fold into the piece, of length 1.
fn inwards(piece: &DrawnPiece, [from, to]: [Point; 2]) -> Vec2 {
    let along = (to - from).normalize();
    let aside = Vec2::new(-along.y, along.x);
    aside * aside.dot(piece.bounds().center() - from).signum()
}

/// The cut line; nothing is cut along the fold.
fn cut_lines(piece: &DrawnPiece) -> Vec<BezPath> {
    let Some(fold) = piece.fold else {
        return vec![crate::drafting::path_of(&piece.cut)];
    };
    let on_fold = |p: Point| on(fold, p);
    let count = piece.cut.len();
    let mut paths: Vec<BezPath> = Vec::new();
    // Begins behind the fold, so that no line is broken elsewhere.
    let first = (0..count).find(|n| on_fold(piece.cut[*n]) && !on_fold(piece.cut[(n + 1) % count]));
    let mut open = false;
    for step in 0..count {
        let n = (first.unwrap_or(0) + step) % count;
        let (a, b) = (piece.cut[n], piece.cut[(n + 1) % count]);
        if on_fold(a) && on_fold(b) {
            open = false;
            continue;
        }
        if !open {
            paths.push(BezPath::from_vec(vec![kurbo::PathEl::MoveTo(a)]));
            open = true;
        }
        if let Some(path) = paths.last_mut() {
            path.line_to(b);
        }
    }
    paths
}

/// The stitching line without its part on the fold.
fn without_fold_path(path: &BezPath, piece: &DrawnPiece) -> BezPath {
    let Some(fold) = piece.fold else { return path.clone() };
    let on_fold = |p: Point| on(fold, p);
    let mut out = BezPath::new();
    let mut at = None;
    for segment in path.segments() {
        use kurbo::ParamCurve;
        let straight = matches!(segment, kurbo::PathSeg::Line(_));
        if straight && on_fold(segment.start()) && on_fold(segment.end()) {
            continue;
        }
        if at != Some(segment.start()) {
            out.move_to(segment.start());
        }
        out.push(segment.as_path_el());
        at = Some(segment.end());
    }
    out
}

/// Triangles with their base on the cut line, and the place on the stitching line.
fn notch(notch: &DrawnNotch) -> Vec<Ink> {
    let aside: &[f64] = if notch.double {
        &[-NOTCH.0 * 0.8, NOTCH.0 * 0.8]
    } else {
        &[0.0]
    };
    let mut all: Vec<Ink> = aside
        .iter()
        .map(|by| {
            let base = notch.cut + notch.along * *by;
            let half = notch.along * (NOTCH.0 / 2.0);
            let path = crate::drafting::path_of(&[base - half, base + half, base - notch.outward * NOTCH.1]);
            Ink::Area { path }
        })
        .collect();
    if (notch.cut - notch.stitched).hypot() > NOTCH.1 {
        all.push(Ink::line(notch.cut, notch.stitched, Pen::FINE));
    }
    all
}

/// With a head at its end, or at both.
fn arrow(from: Point, to: Point, both: bool, all: &mut Vec<Ink>) {
    let long = (to - from).hypot();
    if long < 1e-6 {
        return;
    }
    let head = 5.0_f64.min(long / 3.0);
    all.push(Ink::line(from, to, Pen::FINE));
    let mut tip = |at: Point, back: Vec2| {
        let aside = Vec2::new(-back.y, back.x) * 0.3;
        let path = crate::drafting::path_of(&[at, at + back + aside, at + back - aside]);
        all.push(Ink::Area { path });
    };
    let along = (to - from).normalize() * head;
    tip(to, -along);
    if both {
        tip(from, along);
    }
}

/// A bracket with two arrows that point to the fold, and what it says.
fn fold(piece: &DrawnPiece, [top, end]: [Point; 2], all: &mut Vec<Ink>) {
    all.push(Ink::line(top, end, Pen::FOLD));
    let bounds = piece.bounds();
    let inside = inwards(piece, [top, end]);
    let deep = (bounds.width() * inside.x).abs() + (bounds.height() * inside.y).abs();
    let away = inside * 12.0_f64.min(deep / 3.0);
    let at = |part: f64| top.lerp(end, part);
    let (a, b) = (at(0.2), at(0.8));
    all.push(Ink::line(a + away, b + away, Pen::FINE));
    arrow(a + away, a, false, all);
    arrow(b + away, b, false, all);
    all.push(fold_words(piece, [top, end], away));
}

const FOLD_WORDS: &str = "place on the fold";

/// Beside the bracket, further in; smaller and beside the fold where there is no room.
fn fold_words(piece: &DrawnPiece, [top, end]: [Point; 2], away: Vec2) -> Ink {
    let bounds = piece.bounds();
    let start = top.lerp(end, 0.2);
    // Letters stand on their line: level ones over or under a level bracket.
    let beside = |from: Point, gap: f64, size: f64, wide: f64| {
        let inside = away.normalize();
        if inside.x.abs() > inside.y.abs() {
            let x = if inside.x > 0.0 { gap } else { -gap - wide };
            from + Vec2::new(x, 8.0)
        } else {
            let high = size * label::POINT;
            let y = if inside.y > 0.0 { gap + high } else { -gap };
            let x = if (end - top).x < 0.0 { -wide } else { 0.0 };
            from + Vec2::new(x, y)
        }
    };
    let wide = label::width(FOLD_WORDS, 9.0, false);
    let spot = beside(start + away, 2.0, 9.0, wide);
    if bounds.contains(spot) && bounds.contains(spot + Vec2::new(wide, 0.0)) {
        return Ink::words(spot, 9.0, false, FOLD_WORDS);
    }
    let wide = label::width(FOLD_WORDS, 6.0, false);
    Ink::words(beside(start, 1.0, 6.0, wide), 6.0, false, FOLD_WORDS)
}

/// Every line as chords: what words must not lie on.
pub fn chords(piece: &DrawnPiece) -> Vec<(Point, Point)> {
    let mut all = Vec::new();
    let mut add = |path: &BezPath| {
        let (mut at, mut start) = (Point::ZERO, Point::ZERO);
        kurbo::flatten(path, 0.5, |element| match element {
            kurbo::PathEl::MoveTo(p) => (at, start) = (p, p),
            kurbo::PathEl::ClosePath => {
                all.push((at, start));
                at = start;
            }
            other => {
                if let Some(p) = other.end_point() {
                    all.push((at, p));
                    at = p;
                }
            }
        });
    };
    add(&crate::drafting::path_of(&piece.cut));
    piece.stitching.iter().for_each(&mut add);
    piece.inner.iter().for_each(|(_, line)| add(line));
    all.push((piece.grain[0], piece.grain[1]));
    for (_, at) in &piece.marks {
        all.push((*at - Vec2::new(4.0, 4.0), *at + Vec2::new(14.0, 4.0)));
    }
    if let Some(ends @ [top, end]) = piece.fold {
        let away = inwards(piece, ends) * 12.0;
        all.push((top.lerp(end, 0.2) + away, top.lerp(end, 0.8) + away));
        if let Ink::Words(words) = fold_words(piece, ends, away) {
            let middle = words.at - Vec2::new(0.0, 1.5);
            all.push((
                middle,
                middle + Vec2::new(label::width(FOLD_WORDS, words.size, false), 0.0),
            ));
        }
    }
    all
}
