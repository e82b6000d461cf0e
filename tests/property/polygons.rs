//! Pieces as they lie, as polygons in whole numbers: whether two of them
//! overlap, and which lie in one row.

use crate::checker::shape;
use notchbook::figures::{CutLine, Placed, Rect, Shape};
use notchbook::measure::Length;

/// Corners one after the other of a convex outline, in halves of a length's unit.
#[derive(Clone, Debug)]
pub struct Polygon {
    corners: Vec<(i128, i128)>,
}

impl Polygon {
    pub fn rectangle(rect: &Rect) -> Polygon {
        let (w, h) = (i128::from(rect.width.units()) * 2, i128::from(rect.height.units()) * 2);
        Polygon {
            corners: vec![(0, 0), (w, 0), (w, h), (0, h)],
        }
        .at(rect)
    }

    fn at(mut self, rect: &Rect) -> Polygon {
        for (x, y) in &mut self.corners {
            *x += i128::from(rect.x.units()) * 2;
            *y += i128::from(rect.y.units()) * 2;
        }
        self
    }

    fn ends(&self) -> [i128; 4] {
        let xs = || self.corners.iter().map(|c| c.0);
        let ys = || self.corners.iter().map(|c| c.1);
        let least = |a: Option<i128>| a.unwrap_or_default();
        [
            least(xs().min()),
            least(xs().max()),
            least(ys().min()),
            least(ys().max()),
        ]
    }

    /// Whether one of its sides has all of `other` beyond it or on it.
    fn side_parts(&self, other: &Polygon) -> bool {
        let n = self.corners.len();
        let sides = (0..n).map(|i| (self.corners[i], self.corners[(i + 1) % n]));
        let beyond = |((ax, ay), (bx, by)): ((i128, i128), (i128, i128)), (x, y): (i128, i128)| {
            (bx - ax) * (y - ay) - (by - ay) * (x - ax)
        };
        for side in sides {
            // On which side of it the polygon itself lies.
            let own = self.corners.iter().map(|c| beyond(side, *c).signum()).find(|s| *s != 0);
            if let Some(own) = own
                && other.corners.iter().all(|c| beyond(side, *c).signum() != own)
            {
                return true;
            }
        }
        false
    }

    fn overlaps(&self, other: &Polygon) -> bool {
        !self.side_parts(other) && !other.side_parts(self)
    }
}

/// The side of a diamond from a strip of this height: the least whole number
/// that is not below height / sin 60.
fn diamond_side(height: i128) -> i128 {
    let mut side = (4 * height * height / 3).isqrt();
    while 3 * side * side < 4 * height * height {
        side += 1;
    }
    side
}

/// What is cut from the cloth for one piece.
pub fn outline(line: &CutLine, piece: &Placed) -> Polygon {
    let (w, h) = (i128::from(line.cut.width.units()), i128::from(line.cut.height.units()));
    let corners = match shape(line) {
        Shape::Triangle60 if piece.flipped => vec![(0, 0), (2 * w, 0), (w, 2 * h)],
        Shape::Triangle60 => vec![(0, 2 * h), (w, 0), (2 * w, 2 * h)],
        Shape::Diamond60 => {
            let side = diamond_side(h).min(w);
            // Cut at 60 degrees it leans by half its side; never beyond its rectangle.
            let lean = ((side + 1) / 2).min(w - side);
            vec![(0, 2 * h), (2 * lean, 0), (2 * (lean + side), 0), (2 * side, 2 * h)]
        }
        // A hexagon is cut from its rectangle.
        _ => vec![(0, 0), (2 * w, 0), (2 * w, 2 * h), (0, 2 * h)],
    };
    let turned = |(x, y): (i128, i128)| if piece.turned { (2 * h - y, x) } else { (x, y) };
    Polygon {
        corners: corners.into_iter().map(turned).collect(),
    }
    .at(&piece.rect)
}

/// Two outlines that overlap.
pub fn overlap(outlines: Vec<Polygon>) -> Option<String> {
    let mut sorted: Vec<([i128; 4], Polygon)> = outlines.into_iter().map(|p| (p.ends(), p)).collect();
    sorted.sort_by_key(|([x, _, y, _], _)| (*y, *x));
    for (n, ([ax, ax2, _, ay2], a)) in sorted.iter().enumerate() {
        for ([bx, bx2, by, _], b) in &sorted[n + 1..] {
            if by >= ay2 {
                break;
            }
            if ax < bx2 && bx < ax2 && a.overlaps(b) {
                return Some(format!("{a:?} and {b:?} overlap"));
            }
        }
    }
    None
}

/// What is cut from edge to edge: nested pieces of one line in one row
/// together, everything else one by one.
pub fn rows(lines: &[CutLine], placed: &[Placed]) -> Vec<Rect> {
    let mut sorted = placed.to_vec();
    sorted.sort_by_key(|p| {
        let (row, along) = if p.turned {
            (p.rect.x, p.rect.y)
        } else {
            (p.rect.y, p.rect.x)
        };
        (p.line, p.turned, row, along)
    });
    let mut rows: Vec<(Placed, Rect)> = Vec::new();
    for piece in sorted {
        let nests = matches!(shape(&lines[piece.line]), Shape::Triangle60 | Shape::Diamond60);
        let rect = piece.rect;
        match rows.last_mut() {
            Some((last, row)) if nests && (last.line, last.turned) == (piece.line, piece.turned) => {
                let joined = if piece.turned {
                    rect.x == row.x && rect.y < row.y + row.height
                } else {
                    rect.y == row.y && rect.x < row.x + row.width
                };
                if joined {
                    row.width = (rect.x + rect.width).max(row.x + row.width) - row.x;
                    row.height = (rect.y + rect.height).max(row.y + row.height) - row.y;
                } else {
                    rows.push((piece, rect));
                }
            }
            _ => rows.push((piece, rect)),
        }
    }
    rows.into_iter().map(|(_, rect)| rect).collect()
}

/// Cut by itself, in strips across a cloth or, where that is shorter and it may
/// be turned, in rows along it: the length it takes.
pub fn cut_by_itself(line: &CutLine, width: Length) -> Length {
    let (w, h) = (line.cut.width, line.cut.height);
    let step = match shape(line) {
        Shape::Triangle60 if line.may_turn => w - w.scale_down(1, 2),
        Shape::Diamond60 => {
            let side = diamond_side(i128::from(h.units()));
            Length::from_units(i64::try_from(side).unwrap()).min(w)
        }
        _ => w,
    };
    let needed = |a_row: i64| (line.count + a_row - 1) / a_row;
    let across = (w <= width).then(|| h * needed(1 + (width - w).times_fits(step)));
    let along = (line.may_turn && h <= width).then(|| w + step * (needed(width.times_fits(h)) - 1));
    across.into_iter().chain(along).min().expect("every line fits")
}

/// The area of a line's pieces that no layout can go below, doubled, in square
/// units: of triangles half their rectangle.
pub fn twice_the_area(line: &CutLine) -> i128 {
    let (w, h) = (i128::from(line.cut.width.units()), i128::from(line.cut.height.units()));
    let one = match shape(line) {
        Shape::Triangle60 => w * h,
        Shape::Diamond60 => 2 * h * diamond_side(h).min(w),
        _ => 2 * w * h,
    };
    one * i128::from(line.count)
}

mod tests {
    use super::*;
    use notchbook::figures::{Purpose, Size};

    fn line(shape: Shape, width: i64, height: i64) -> CutLine {
        CutLine {
            purpose: Purpose::Patch {
                shape,
                unit: String::new(),
            },
            pieces: Vec::new(),
            cut: Size {
                width: Length::from_units(width),
                height: Length::from_units(height),
            },
            count: 1,
            may_turn: true,
            patches: 1,
            strips: None,
        }
    }

    fn lies(x: i64, flipped: bool, line: &CutLine) -> Placed {
        Placed {
            line: 0,
            rect: Rect {
                x: Length::from_units(x),
                y: Length::ZERO,
                width: line.cut.width,
                height: line.cut.height,
            },
            turned: false,
            flipped,
        }
    }

    #[test]
    fn outlines_overlap_where_they_do() {
        let triangle = line(Shape::Triangle60, 101, 88);
        let at = |x, flipped| outline(&triangle, &lies(x, flipped, &triangle));
        // Half of 101 is 50 1/2: a step of 50 is half a unit short.
        assert_eq!(overlap(vec![at(0, false), at(51, true), at(102, false)]), None);
        assert!(overlap(vec![at(0, false), at(50, true)]).is_some());
        assert!(overlap(vec![at(0, false), at(51, false)]).is_some());
        let diamond = line(Shape::Diamond60, 153, 88);
        let at = |x| outline(&diamond, &lies(x, false, &diamond));
        // 88 / sin 60 = 101.6.
        assert_eq!(overlap(vec![at(0), at(102), at(204)]), None);
        assert!(overlap(vec![at(0), at(101)]).is_some());
        let square = Polygon::rectangle(&lies(75, false, &triangle).rect);
        assert!(overlap(vec![at(0), square]).is_some());
    }
}
