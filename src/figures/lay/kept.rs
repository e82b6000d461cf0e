//! A lay that was kept. It says where pieces lay when they were laid; whether
//! the pieces as they are today still lie there is asked every time, of their
//! true outlines.

use super::{LayFigures, LayJob, LayPiece, LayWish, job_of, lay_pieces};
use crate::drafting::lay::{Layout, Misfit, Place, laid_again};
use crate::figures::Figures;
use crate::plan::{Cloth, KeptLay, LaidCopy, LayPoint, Plan, limits};
use kurbo::Point;

/// A kept lay that holds.
#[derive(Clone, Debug)]
pub struct HeldLay<'a> {
    pub job: LayJob<'a>,
    pub layout: Layout,
}

impl KeptLay {
    pub fn wish(&self) -> LayWish {
        LayWish {
            pieces: self.pieces.clone(),
            ground: self.ground,
            turns: self.turns,
            gap: self.gap,
        }
    }
}

/// The kept lay of a cloth on today's plan, or in a sentence why it holds no
/// longer; nothing where none is kept. `figures` are those of the plan.
pub fn kept_lay<'a>(plan: &'a Plan, figures: &Figures, cloth: &'a Cloth) -> Option<Result<HeldLay<'a>, String>> {
    let lay = plan.lay(&cloth.id)?;
    Some(held(plan, lay_pieces(plan, figures, &cloth.id), cloth, lay))
}

/// `pieces` are all that are cut from this cloth.
pub(in crate::figures) fn held<'a>(
    plan: &'a Plan,
    pieces: Vec<LayPiece>,
    cloth: &'a Cloth,
    lay: &KeptLay,
) -> Result<HeldLay<'a>, String> {
    if lay.copies.len() > limits::LAID_COPIES {
        return Err(format!(
            "{} copies are laid in it, and {} are the most.",
            lay.copies.len(),
            limits::LAID_COPIES
        ));
    }
    for id in &lay.pieces {
        if !pieces.iter().any(|p| p.piece == *id) {
            return Err(match plan.piece(id) {
                Some(piece) => format!("{} is no longer cut in one from this cloth.", piece.name),
                None => "A piece that was laid is no longer in the plan.".into(),
            });
        }
    }
    // Some pieces turned on a cloth that runs one way may be meant; a length to buy is not built on it.
    if cloth.one_way && lay.copies.iter().any(|c| c.quarters % 4 != 0) {
        return Err("This cloth runs one way, and pieces are turned in it.".into());
    }
    let job = job_of(plan, pieces, cloth, &lay.wish()).map_err(|p| p.message)?;
    let places = places(&job, lay)?;
    match laid_again(&job.problem, &places) {
        Ok(layout) => Ok(HeldLay { job, layout }),
        Err(misfit) => Err(told(&job, misfit)),
    }
}

fn places(job: &LayJob, lay: &KeptLay) -> Result<Vec<Place>, String> {
    let place = |copy: &LaidCopy| {
        let piece = job.pieces.iter().position(|p| p.piece == copy.piece);
        let piece = piece.ok_or("It lays a piece that was not to be laid.")?;
        let remnant = if job.leftovers.is_empty() {
            0
        } else {
            let same = |l: &super::Leftover| l.kind == copy.remnant as usize && l.nth == copy.nth;
            let found = job.leftovers.iter().position(same);
            found.ok_or("A remnant it lies on is no longer there.")?
        };
        let (across, along) = copy.at.mm();
        Ok(Place {
            piece,
            copy: copy.copy as usize,
            turn: f64::from(copy.quarters % 4 * 90),
            mirrored: copy.mirrored,
            remnant,
            corner: Point::new(along, across),
        })
    };
    lay.copies
        .iter()
        .map(|copy| place(copy).map_err(|why: &str| why.to_string()))
        .collect()
}

fn told(job: &LayJob, misfit: Misfit) -> String {
    let name = |at: usize| job.pieces.get(at).map_or("A piece", |p| p.name.as_str());
    match misfit {
        Misfit::Refused(error) => error.to_string(),
        Misfit::Copies(at) => format!("{} is to be cut another number of times than it was laid.", name(at)),
        Misfit::Turned(at) => format!("{} may not lie the way it was laid.", name(at)),
        Misfit::OffCloth(at) => format!("{} does not lie within the cloth where it was laid.", name(at)),
        Misfit::Meet(a, b) if a == b => format!("Two copies of {} meet where they were laid.", name(a)),
        Misfit::Meet(a, b) => format!("{} and {} meet where they were laid.", name(a), name(b)),
    }
}

impl HeldLay<'_> {
    pub fn answer(&self) -> LayFigures {
        self.job.answer(&self.layout)
    }

    /// Of each kind of remnant, rectangles first, how many are cut into.
    pub(in crate::figures) fn remnants(&self) -> Vec<(usize, u32)> {
        let mut used: Vec<(usize, u32)> = Vec::new();
        for (at, leftover) in self.job.leftovers.iter().enumerate() {
            if !self.layout.placements.iter().any(|p| p.remnant == at) {
                continue;
            }
            match used.iter_mut().find(|(kind, _)| *kind == leftover.kind) {
                Some((_, count)) => *count += 1,
                None => used.push((leftover.kind, 1)),
            }
        }
        used
    }
}

impl LayJob<'_> {
    /// The layout as the plan keeps it; `None` of one that lies askew or beyond
    /// every cloth, which no search gives out.
    pub fn to_keep(&self, layout: &Layout, wish: &LayWish) -> Option<KeptLay> {
        let copies = layout.placements.iter().map(|placement| {
            let piece = &self.pieces[placement.piece];
            let corner = placement.corner(piece.outline(self.ground));
            let quarters = placement.turn / 90.0;
            let leftover = self.leftovers.get(placement.remnant);
            (quarters.fract() == 0.0).then_some(())?;
            Some(LaidCopy {
                piece: piece.piece.clone(),
                copy: u32::try_from(placement.copy).ok()?,
                quarters: quarters.rem_euclid(4.0) as u32,
                mirrored: placement.mirrored,
                remnant: leftover.map_or(0, |l| l.kind as u32),
                nth: leftover.map_or(0, |l| l.nth),
                at: LayPoint::near(corner.y, corner.x)?,
            })
        });
        Some(KeptLay {
            cloth: self.cloth.id.clone(),
            pieces: self.pieces.iter().map(|p| p.piece.clone()).collect(),
            ground: wish.ground,
            turns: wish.turns,
            gap: wish.gap,
            copies: copies.collect::<Option<_>>()?,
        })
    }
}
