//! What is needed besides cloth and batting.

use super::Care;
use crate::measure::Money;
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

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
    /// Of all of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
    /// Of a ribbon, a lace, an elastic: what its label bears.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub care: Option<Care>,
}
