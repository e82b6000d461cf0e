//! The lines of quilting, and the take-up that follows from them.

use super::{Finder, called};
use crate::figures::quilting::LineWay;
use crate::figures::take_up;
use crate::plan::{TakeUpFrom, limits};

/// By piece: whether its lines can be worked out.
pub(super) fn check(find: &mut Finder) -> Vec<bool> {
    let plan = find.plan;
    if plan.pieces.len() > limits::PIECES {
        return vec![false; plan.pieces.len()];
    }
    let mut sound = Vec::new();
    for piece in &plan.pieces {
        let name = called(&piece.name, &piece.id);
        let at = format!("pieces/{}", piece.id);
        let lines = piece.layers.as_ref().and_then(|l| l.quilting.as_ref());
        let mut good = true;
        for way in LineWay::ALL {
            if let Some(spacing) = lines.and_then(|l| way.spacing(l)) {
                let field = format!("{at}/layers/quilting/{}", way.name());
                let what = format!("The spacing of the {} lines of {name}", way.name());
                good &= find.positive(&field, &what, spacing);
            }
        }
        if good && lacks_lines(piece) {
            find.add(
                format!("{at}/take_up"),
                format!(
                    "The take-up of {name} is to follow from its quilting, and no lines are set. Set how far apart they are, or type the take-up."
                ),
            );
        }
        sound.push(good);
    }
    sound
}

/// Whether its take-up follows from lines that are not there: it has no size then.
pub(super) fn lacks_lines(piece: &crate::plan::Piece) -> bool {
    piece.take_up_from == TakeUpFrom::Spacing && piece.layers.is_some() && take_up::closest(piece).is_none()
}
