//! What is sewn to each other: parts that follow a part that was changed, and
//! seams that no longer have the same length.

use super::drafts::three_panel_hood::centre_strip;
use super::parts::Part;
use super::shape::{Shape, Told, round};
use super::{as_sewn, shape_of};
use crate::measure::{Length, MM, Round};
use crate::plan::{Draft, DraftKind, Piece, Plan, Source};

/// The strip of a hood is as long as the centre seam of its sides after all
/// changes of their outline.
pub(super) fn follow(plan: &Plan, draft: &Draft, parts: &mut [Part]) {
    let DraftKind::ThreePanelHood(hood) = &draft.kind else {
        return;
    };
    let Some(side) = piece_of(plan, draft, "side").filter(|p| !p.outline_changes().is_empty()) else {
        return;
    };
    let told = Told {
        field: String::new(),
        name: &side.name,
        unit: plan.unit,
    };
    let drafted = parts
        .iter()
        .find(|p| p.key == "side")
        .map(|p| Shape::of(&p.outline, &told));
    let Some(Ok(drafted)) = drafted else { return };
    let finish = side.pattern.as_ref().map_or(&[][..], |p| &p.finish);
    // Where the side cannot be changed so, its own outline says why.
    let Ok(changed) = drafted.changed(finish, side.outline_changes(), &told) else {
        return;
    };
    let seam = changed.edge("centre seam").map(|e| round::nearest(e.length()));
    if let (Some(seam), Some(strip)) = (seam, parts.iter_mut().find(|p| p.key == "strip")) {
        *strip = centre_strip(hood, seam.as_mm_f64(), draft.seam);
    }
}

/// A difference of two seams that is no noise of curves and rounding.
const SEEN: Length = MM;

/// Of each seam inside a draft whose two sides differ, a sentence.
pub fn unequal_seams(plan: &Plan, draft: &Draft) -> Vec<String> {
    let Ok(draft) = as_sewn(plan, draft) else {
        return Vec::new();
    };
    // Edges of the pieces as they are in the plan; a part that was taken out has none.
    let edge = |part: &str, name: &str| {
        let piece = piece_of(plan, &draft, part)?;
        shape_of(plan, piece).ok()?.edge(name).map(|e| e.length_nearest())
    };
    let mut found = Vec::new();
    let mut compare = |what: &str, length: Option<Length>, to: &str, other: Option<Length>| {
        let (Some(length), Some(other)) = (length, other) else {
            return;
        };
        let by = length - other;
        if by.abs() > SEEN {
            let show = |l: Length| l.both_sixteenths(plan.unit, Round::Nearest);
            found.push(format!(
                "{what} is {}, {to} {}: {} too {}. Change one of them, or ease it in.",
                show(length),
                show(other),
                show(by.abs()),
                if by.is_positive() { "long" } else { "short" }
            ));
        }
    };
    match &draft.kind {
        DraftKind::ThreePanelHood(hood) => {
            let seam = edge("side", "centre seam");
            compare(
                "The strip's right seam",
                edge("strip", "right seam"),
                "the side's centre seam",
                seam,
            );
            compare(
                "The strip's left seam",
                edge("strip", "left seam"),
                "the side's centre seam",
                seam,
            );
            let strip = edge("strip", "neck").map(|s| s.scale_up(1, 2));
            let neck = edge("side", "neck").zip(strip).map(|(side, strip)| side + strip);
            compare(
                "Half the hood's neck edge",
                neck,
                "half the neckline",
                Some(hood.half_neckline),
            );
        }
        DraftKind::TwoPieceHood(hood) => {
            let neck = edge("half", "neck").map(|half| half - hood.dart);
            compare(
                "Half the hood's neck edge",
                neck,
                "half the neckline",
                Some(hood.half_neckline),
            );
        }
        DraftKind::Band(band) => {
            let long = edge("band", "long edge").map(|l| l - band.overlap);
            compare("The band's long edge", long, "what it is made for", Some(band.length));
        }
        DraftKind::CirclePiece(circle) => {
            let inner = edge("panel", "inner edge").map(|l| l * i64::from(circle.panels));
            compare(
                "The inner edge of all panels",
                inner,
                "what it is made for",
                Some(circle.edge),
            );
        }
        DraftKind::PatchPocket(_)
        | DraftKind::Tie(_)
        | DraftKind::ShapedFacing(_)
        | DraftKind::BiasStrip(_)
        | DraftKind::GatheredRectangle(_)
        | DraftKind::CushionCover(_)
        | DraftKind::BoxCover(_)
        | DraftKind::BagBody(_) => {}
    }
    found
}

fn piece_of<'a>(plan: &'a Plan, draft: &Draft, part: &str) -> Option<&'a Piece> {
    plan.drafted_from(&draft.id).find(|p| {
        p.pattern
            .as_ref()
            .is_some_and(|pattern| matches!(&pattern.from, Source::Draft(of) if of.part == part))
    })
}
