//! The pieces of a plan that are no part of a cloth's lay, and why.

use super::panel_in;
use crate::figures::Figures;
use crate::figures::check::called;
use crate::plan::{Face, Plan};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotLaid {
    /// Its id in the plan.
    pub piece: String,
    pub name: String,
    pub why: WhyNotLaid,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WhyNotLaid {
    /// Sewn from patches, some of them of this cloth or none.
    Pieced { of_it: bool },
    /// Cut from this cloth of the plan.
    OtherCloth { cloth: String, name: String },
    /// Its face is not decided.
    NoFace,
    /// Its size or outline cannot be worked out yet.
    NotWorkedOut,
}

/// In the plan's order. `figures` are those of the plan.
pub fn not_laid(plan: &Plan, figures: &Figures, cloth: &str) -> Vec<NotLaid> {
    let laid = super::lay_pieces(plan, figures, cloth);
    let left = plan.pieces.iter().filter(|p| !laid.iter().any(|l| l.piece == p.id));
    left.map(|piece| NotLaid {
        piece: piece.id.clone(),
        name: called(&piece.name, &piece.id),
        why: match &piece.face {
            None => WhyNotLaid::NoFace,
            Some(Face::Patchwork(_)) => WhyNotLaid::Pieced {
                of_it: piece.face.iter().flat_map(Face::cloths).any(|c| c == cloth),
            },
            Some(Face::Plain(face)) if face.cloth != cloth => match plan.cloth(&face.cloth) {
                Some(other) => WhyNotLaid::OtherCloth {
                    cloth: other.id.clone(),
                    name: called(&other.name, &other.id),
                },
                None => WhyNotLaid::NoFace,
            },
            Some(Face::Plain(_)) => WhyNotLaid::NotWorkedOut,
        },
    })
    .collect()
}

/// Pieces of this cloth's lay that are quilted, with what lies under them:
/// `(piece, batting, backing)`, ids of cloths.
pub fn layers_under(plan: &Plan, figures: &Figures, cloth: &str) -> Vec<(String, Option<String>, Option<String>)> {
    let of_it = plan.pieces.iter().filter(|p| {
        matches!(&p.face, Some(Face::Plain(face)) if face.cloth == cloth) && panel_in(figures, &p.id).is_some()
    });
    of_it
        .filter_map(|piece| {
            let layers = piece.layers.as_ref()?;
            let name = called(&piece.name, &piece.id);
            Some((name, layers.batting.clone(), layers.backing.clone()))
        })
        .filter(|(_, batting, backing)| batting.is_some() || backing.is_some())
        .collect()
}
