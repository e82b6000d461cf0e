//! Plans with one draft and the pieces made from it.
#![allow(dead_code)]

use notchbook::drafting::parts_of;
use notchbook::measure::{CM, Unit};
use notchbook::plan::{Draft, DraftKind, DraftPart, Pattern, Piece, Plan, Source};

pub fn draft(kind: DraftKind) -> Draft {
    Draft {
        id: "d1".into(),
        name: "Draft".into(),
        seam: CM,
        kind,
    }
}

/// With a piece for each of its parts, `p-` and the part's key; without any
/// where its measures are not sound.
pub fn plan(kind: DraftKind) -> Plan {
    let mut plan = Plan {
        drafts: vec![draft(kind)],
        ..Plan::new(Unit::Cm)
    };
    let parts = parts_of(&plan, &plan.drafts[0]).unwrap_or_default();
    plan.pieces = parts
        .iter()
        .map(|p| piece(&format!("p-{}", p.key), p.key, p.cut_count))
        .collect();
    plan
}

pub fn piece(id: &str, part: &str, cut_count: u32) -> Piece {
    Piece {
        id: id.into(),
        name: id.into(),
        cut_count,
        pattern: Some(Pattern {
            from: Source::Draft(DraftPart {
                draft: "d1".into(),
                part: part.into(),
            }),
            finish: vec![],
            changes: vec![],
        }),
        ..Piece::default()
    }
}
