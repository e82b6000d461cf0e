//! What is needed besides cloth and batting.

use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum NotionKind {
    /// Thread, snaps, buttons, tape: used up in the piece.
    #[default]
    Notion,
    /// Used for the making, not used up.
    Tool,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notion {
    pub id: String,
    pub name: String,
    #[serde(default)]
    pub kind: NotionKind,
    /// As the maker says it: "9", "2 spools".
    #[serde(default)]
    pub quantity: String,
    #[serde(default)]
    pub remark: String,
    #[serde(default)]
    pub link: String,
}
