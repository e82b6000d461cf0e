//! A layout that was kept, looked at again: whether the pieces as they are now
//! still lie where they lay. Nothing is moved and nothing is looked for.

use super::check::{Offence, offence, on_strip, within};
use super::layout::{Layout, Placement};
use super::outline::{TOUCH, area, bounds, tidied};
use super::prepared::{hands, laid, same, turning};
use super::problem::{Cloth, Piece, Problem, ProblemError};
use kurbo::{Affine, Point};

/// Twice what a search allows: places are kept in steps of a ten-millionth of
/// a millimetre.
const KEPT_TOUCH: f64 = 2.0 * TOUCH;

/// Where a copy was said to lie.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Index in the problem's pieces.
    pub piece: usize,
    pub copy: usize,
    /// Degrees it is turned by, from x towards y, after it is mirrored.
    pub turn: f64,
    pub mirrored: bool,
    pub remnant: usize,
    /// Corner of least x and y of the rectangle round it.
    pub corner: Point,
}

/// Why a kept layout holds no longer.
#[derive(Clone, Debug, PartialEq)]
pub enum Misfit {
    /// The problem itself cannot be laid.
    Refused(ProblemError),
    /// A copy has no place, or more than one.
    Copies(usize),
    /// A copy lies as it may not.
    Turned(usize),
    OffCloth(usize),
    /// Two pieces meet, or lie nearer to each other than the gap.
    Meet(usize, usize),
}

impl Placement {
    /// The corner a [`Place`] is told by.
    pub fn corner(&self, outline: &[Point]) -> Point {
        let round = bounds(&self.place(outline));
        Point::new(round.x0, round.y0)
    }
}

/// The layout, where every copy of every piece has its place, lies as it may,
/// on the cloth and as far from the others as the gap says.
pub fn laid_again(problem: &Problem, places: &[Place]) -> Result<Layout, Misfit> {
    problem.check().map_err(Misfit::Refused)?;
    let folded = matches!(problem.cloth, Cloth::Folded { .. });
    let mut placements = Vec::new();
    let mut outlines = Vec::new();
    for (at, piece) in problem.pieces.iter().enumerate() {
        let given = places.iter().filter(|p| p.piece == at).count();
        let mut wanted = 0;
        for (number, faces) in copies(piece, folded)? {
            wanted += 1;
            let mut own = places.iter().filter(|p| p.piece == at && p.copy == number);
            let (Some(place), None) = (own.next(), own.next()) else {
                return Err(Misfit::Copies(at));
            };
            let (outline, map) = lying(piece, place, faces).ok_or(Misfit::Turned(at))?;
            let to = Affine::translate(place.corner.to_vec2());
            outlines.push(outline.iter().map(|p| to * *p).collect::<Vec<Point>>());
            placements.push(Placement {
                piece: at,
                copy: number,
                turn: place.turn,
                mirrored: place.mirrored,
                remnant: place.remnant,
                at: to * map,
            });
        }
        if given != wanted {
            return Err(Misfit::Copies(at));
        }
    }
    if places.iter().any(|p| p.piece >= problem.pieces.len()) {
        return Err(Misfit::Copies(0));
    }
    let on_cloth = |at: usize, outline: &[Point]| match &problem.cloth {
        Cloth::Single { width } => on_strip(outline, *width, false, KEPT_TOUCH),
        Cloth::Folded { width } => {
            let pinned = problem.pieces[placements[at].piece].on_fold;
            on_strip(outline, width / 2.0, pinned, KEPT_TOUCH)
        }
        Cloth::Remnants(list) => list
            .get(placements[at].remnant)
            .is_some_and(|remnant| within(outline, &tidied(remnant), KEPT_TOUCH)),
    };
    let share = |a: usize, b: usize| placements[a].remnant == placements[b].remnant;
    match offence(&outlines, on_cloth, share, problem.gap, KEPT_TOUCH) {
        Some(Offence::OffCloth(at)) => return Err(Misfit::OffCloth(placements[at].piece)),
        Some(Offence::Meet(a, b)) => return Err(Misfit::Meet(placements[a].piece, placements[b].piece)),
        None => {}
    }
    let pieces: f64 = outlines.iter().map(|o| area(o)).sum();
    let end = outlines.iter().map(|o| bounds(o).x1).fold(0.0, f64::max);
    let (length, ground) = match &problem.cloth {
        Cloth::Single { width } => (end, width * end),
        Cloth::Folded { width } => (end, width / 2.0 * end),
        Cloth::Remnants(list) => (0.0, list.iter().map(|o| area(&tidied(o))).sum()),
    };
    Ok(Layout {
        placements,
        // As of every layout: never shorter than what is laid.
        length: if length > 0.0 {
            length + outlines.len() as f64 * TOUCH
        } else {
            0.0
        },
        density: pieces / ground,
        spots: Vec::new(),
    })
}

/// The number of every copy that is laid, with the faces it may show.
fn copies(piece: &Piece, folded: bool) -> Result<Vec<(usize, &'static [bool])>, Misfit> {
    let mut all = Vec::new();
    for hand in hands(piece, folded).map_err(Misfit::Refused)? {
        all.extend((0..hand.count).map(|n| (hand.first + n * hand.step, hand.faces)));
    }
    Ok(all)
}

/// The outline as it lies, its corner at the origin, if it may lie like that.
/// A piece that looks the same the other way round may lie that way too.
fn lying(piece: &Piece, place: &Place, faces: &[bool]) -> Option<(Vec<Point>, Affine)> {
    let outline = tidied(&piece.outline);
    let (found, map) = laid(&outline, turning(place.turn.rem_euclid(360.0), place.mirrored));
    let may = faces.iter().any(|face| {
        piece.turns.degrees().into_iter().any(|degrees| {
            let mirrored = match (piece.on_fold, degrees) {
                (false, _) => *face,
                // The fold edge must stay on the fold: as it is, or end for end.
                (true, 0.0) => false,
                (true, 180.0) => true,
                (true, _) => return false,
            };
            same(&laid(&outline, turning(degrees, mirrored)).0, &found)
        })
    });
    may.then_some((found, map))
}
