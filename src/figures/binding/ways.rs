//! The three ways to cut a binding, side by side.

use super::{Cut, bias, bias_join_loss, continuous, straight};
use crate::figures::{BiasStrip, Size};
use crate::measure::{Area, Length};
use crate::plan::{BindingCut, Plan};
use serde::Serialize;

/// The order they are shown in.
pub const WAYS: [BindingCut; 3] = [BindingCut::Straight, BindingCut::BiasStrips, BindingCut::Continuous];

/// What one way of cutting takes and gives.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BindingWay {
    pub cut: BindingCut,
    /// The rectangle of cloth it is cut from (across, along).
    pub rectangle: Size,
    /// Length of cloth of the full width that rectangle is cut off.
    pub cloth: Length,
    pub strips: Vec<BiasStrip>,
    pub joins: i64,
    /// What the joins take, together.
    pub lost: Length,
    pub made: Length,
    /// Takes the least length of cloth of the ways that can be cut; of equal ones the least area.
    pub least: bool,
    /// The plan's own.
    pub chosen: bool,
    pub cautions: Vec<String>,
}

/// A way that cannot be cut from this cloth, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NoWay {
    pub cut: BindingCut,
    pub why: String,
}

pub(super) fn cut_by(way: BindingCut, plan: &Plan, total: Length, strip: Length, width: Length) -> Result<Cut, String> {
    match way {
        BindingCut::Straight => straight::cut(plan, total, strip, width),
        BindingCut::BiasStrips => bias::cut(plan, total, strip, width),
        BindingCut::Continuous => continuous::cut(plan, total, strip, width),
    }
}

/// What one join takes where two strips cut this way meet. The ends of straight
/// strips are square, so joined on the diagonal they lose a square of it; so may
/// the ends of two continuous lengths.
pub(super) fn join_loss(way: BindingCut, strip: Length) -> Length {
    match way {
        BindingCut::BiasStrips => bias_join_loss(),
        BindingCut::Straight => strip,
        BindingCut::Continuous => strip.max(bias_join_loss()),
    }
}

pub(super) fn compared(
    plan: &Plan,
    chosen: BindingCut,
    total: Length,
    strip: Length,
    width: Length,
) -> (Vec<BindingWay>, Vec<NoWay>) {
    let (mut ways, mut not) = (Vec::new(), Vec::new());
    for cut in WAYS {
        match cut_by(cut, plan, total, strip, width) {
            Err(why) => not.push(NoWay { cut, why }),
            Ok(found) => ways.push(BindingWay {
                cut,
                rectangle: found.rectangle,
                cloth: found.rectangle.height,
                lost: join_loss(cut, strip) * found.joins,
                strips: found.strips,
                joins: found.joins,
                made: found.made,
                least: false,
                chosen: cut == chosen,
                cautions: found.cautions,
            }),
        }
    }
    let takes = |way: &BindingWay| (way.cloth, Area::of(way.rectangle.width, way.rectangle.height));
    if let Some(least) = ways.iter().map(takes).min() {
        for way in &mut ways {
            way.least = takes(way) == least;
        }
    }
    (ways, not)
}
