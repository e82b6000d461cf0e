//! Drafts: the measures pieces are drafted from. The outlines themselves are
//! worked out by [`crate::drafting`].

use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// One draft; its parts become pieces of the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Draft {
    pub id: String,
    pub name: String,
    /// Seam allowance of its parts, where an edge says nothing else.
    pub seam: Length,
    pub kind: DraftKind,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DraftKind {
    PatchPocket(PatchPocket),
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PatchPocket {
    /// Finished, as it is sewn on.
    pub width: Length,
    pub height: Length,
    /// Radius of the lower corners; nothing is a square pocket.
    #[serde(default)]
    pub corners: Length,
    /// Turned down at the top.
    pub hem: Length,
}
