//! A problem made ready: every piece in each way it may lie, worked out once,
//! so that the search itself turns nothing.

use super::body::Body;
use super::outline::{TOUCH, area, bounds, grown, nudged, tidied};
use super::problem::{Cloth, Faces, Piece, Problem, ProblemError};
use super::simpler::simpler;
use kurbo::{Affine, Point, Rect};

/// A piece the way it may lie, its corner of least x and y at the origin.
pub(super) struct Turned {
    pub(super) degrees: f64,
    pub(super) mirrored: bool,
    /// From the piece's own coordinates to these.
    pub(super) map: Affine,
    pub(super) outline: Vec<Point>,
    pub(super) width: f64,
    pub(super) height: f64,
    /// Grown by half the gap: what must not meet another.
    pub(super) body: Body,
    /// The outline itself, which must not leave a remnant.
    pub(super) own: Body,
}

/// Copies that may lie in the same ways.
pub(super) struct Kind {
    pub(super) piece: usize,
    pub(super) ways: Vec<Turned>,
    pub(super) pinned: bool,
    pub(super) area: f64,
}

pub(super) struct Copy {
    pub(super) kind: usize,
    /// Which copy of its piece, from 0.
    pub(super) number: usize,
}

pub(super) enum Field {
    Strip { width: f64 },
    Remnants(Vec<Remnant>),
}

pub(super) struct Remnant {
    pub(super) outline: Vec<Point>,
    /// Let out by the least touch, for the question whether a piece leaves it.
    pub(super) body: Body,
    pub(super) round: Rect,
    pub(super) area: f64,
    /// Remnants lie side by side in one plane; what this one was moved by.
    pub(super) moved: f64,
    /// An earlier one of the same outline.
    pub(super) like: Option<usize>,
}

pub(super) struct Prepared {
    pub(super) kinds: Vec<Kind>,
    pub(super) copies: Vec<Copy>,
    pub(super) field: Field,
    pub(super) gap: f64,
    /// Area of all copies.
    pub(super) area: f64,
}

pub(super) fn turning(degrees: f64, mirrored: bool) -> Affine {
    // Quarter turns exactly: a sine of 180 degrees is not quite zero.
    let turn = match degrees {
        0.0 => Affine::IDENTITY,
        90.0 => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        180.0 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
        270.0 => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
        other => Affine::rotate(other.to_radians()),
    };
    if mirrored { turn * Affine::FLIP_Y } else { turn }
}

impl Prepared {
    pub(super) fn new(problem: &Problem) -> Result<Prepared, ProblemError> {
        problem.check()?;
        let folded = matches!(problem.cloth, Cloth::Folded { .. });
        let mut kinds = Vec::new();
        let mut copies = Vec::new();
        for (at, piece) in problem.pieces.iter().enumerate() {
            for hand in hands(piece, folded)? {
                if hand.count == 0 {
                    continue;
                }
                copies.extend((0..hand.count).map(|n| Copy {
                    kind: kinds.len(),
                    number: hand.first + n * hand.step,
                }));
                kinds.push(Kind {
                    piece: at,
                    ways: ways(piece, hand.faces, problem.gap),
                    pinned: piece.on_fold,
                    area: area(&piece.outline),
                });
            }
        }
        let field = match &problem.cloth {
            Cloth::Single { width } => Field::Strip { width: *width },
            Cloth::Folded { width } => Field::Strip { width: width / 2.0 },
            Cloth::Remnants(outlines) => Field::Remnants(beside(outlines, &kinds)),
        };
        let area = copies.iter().map(|c| kinds[c.kind].area).sum();
        Ok(Prepared {
            kinds,
            copies,
            field,
            gap: problem.gap,
            area,
        })
    }

    pub(super) fn kind(&self, copy: usize) -> &Kind {
        &self.kinds[self.copies[copy].kind]
    }
}

/// Copies that may lie mirrored or not or either.
pub(super) struct Hand {
    pub(super) faces: &'static [bool],
    pub(super) count: usize,
    /// The number of the first, and from one to the next.
    pub(super) first: usize,
    pub(super) step: usize,
}

pub(super) fn hands(piece: &Piece, folded: bool) -> Result<Vec<Hand>, ProblemError> {
    const PLAIN: &[bool] = &[false];
    const MIRRORED: &[bool] = &[true];
    const EITHER: &[bool] = &[false, true];
    let half = piece.count.div_ceil(2);
    let hand = |faces, count, first, step| Hand {
        faces,
        count,
        first,
        step,
    };
    if piece.on_fold {
        return Ok(vec![hand(PLAIN, piece.count, 0, 1)]);
    }
    if !folded {
        return Ok(match piece.faces {
            Faces::Alike => vec![hand(PLAIN, piece.count, 0, 1)],
            Faces::Pair => vec![hand(PLAIN, half, 0, 2), hand(MIRRORED, piece.count - half, 1, 2)],
            Faces::Either => vec![hand(EITHER, piece.count, 0, 1)],
        });
    }
    // Doubled cloth gives a piece and its mirror image at one cut, whichever
    // of the two lies on top.
    if piece.faces == Faces::Alike && !is_its_own_mirror_image(piece) {
        return Err(ProblemError::OneHand(piece.name.clone()));
    }
    Ok(vec![hand(EITHER, half, 0, 1)])
}

fn is_its_own_mirror_image(piece: &Piece) -> bool {
    let outline = tidied(&piece.outline);
    let (mirrored, _) = laid(&outline, turning(0.0, true));
    piece
        .turns
        .degrees()
        .into_iter()
        .any(|d| same(&laid(&outline, turning(d, false)).0, &mirrored))
}

/// The outline in this way, moved to the origin, and the whole map.
pub(super) fn laid(outline: &[Point], turn: Affine) -> (Vec<Point>, Affine) {
    let turned: Vec<Point> = outline.iter().map(|p| turn * *p).collect();
    let round = bounds(&turned);
    let map = Affine::translate((-round.x0, -round.y0)) * turn;
    (tidied(&outline.iter().map(|p| map * *p).collect::<Vec<_>>()), map)
}

/// Whether two tidy outlines are one.
pub(super) fn same(a: &[Point], b: &[Point]) -> bool {
    let count = a.len();
    count == b.len() && (0..count).any(|from| (0..count).all(|at| a[(from + at) % count].distance(b[at]) < TOUCH))
}

fn ways(piece: &Piece, mirrored: &[bool], gap: f64) -> Vec<Turned> {
    let outline = tidied(&piece.outline);
    let simple = simpler(&outline);
    let mut found: Vec<Turned> = Vec::new();
    for &mirrored in mirrored {
        for degrees in piece.turns.degrees() {
            let mirrored = if piece.on_fold {
                // Its fold edge must stay on the fold: the only other way is end for end.
                match degrees {
                    0.0 => false,
                    180.0 => true,
                    _ => continue,
                }
            } else {
                mirrored
            };
            let (outline, map) = laid(&outline, turning(degrees, mirrored));
            if found.iter().any(|other| same(&other.outline, &outline)) {
                continue;
            }
            let round = bounds(&outline);
            let own = nudged(&outline, -TOUCH / 2.0);
            let apart: Vec<Point> = tidied(&simple.iter().map(|p| map * *p).collect::<Vec<_>>());
            let apart = if gap > 0.0 {
                simpler(&grown(&apart, gap / 2.0))
            } else {
                apart
            };
            let body = nudged(&apart, -TOUCH / 2.0);
            found.push(Turned {
                degrees,
                mirrored,
                map,
                width: round.width(),
                height: round.height(),
                body: Body::new(&body),
                own: Body::new(&own),
                outline,
            });
        }
    }
    if found.is_empty() {
        // A piece on the fold that may not even lie as it is drawn: as it is drawn.
        let plain = Piece {
            turns: super::problem::Turns::OneWay,
            ..piece.clone()
        };
        return ways(&plain, &[false], gap);
    }
    found
}

fn beside(outlines: &[Vec<Point>], kinds: &[Kind]) -> Vec<Remnant> {
    let reach = kinds.iter().flat_map(|k| &k.ways).map(|w| w.width).fold(0.0, f64::max);
    let mut from = 0.0;
    outlines
        .iter()
        .enumerate()
        .map(|(at, given)| {
            let tidy = tidied(given);
            let round = bounds(&tidy);
            let moved = from - round.x0;
            let outline: Vec<Point> = tidy.iter().map(|p| Point::new(p.x + moved, p.y)).collect();
            let round = bounds(&outline);
            from = round.x1 + reach + 100.0;
            Remnant {
                body: Body::new(&nudged(&outline, TOUCH / 2.0)),
                area: area(&outline),
                outline,
                round,
                moved,
                like: outlines[..at].iter().position(|other| other == given),
            }
        })
        .collect()
}
