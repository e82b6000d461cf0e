//! The size table of a printed pattern, typed in, and the body it is to fit.

use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// One girth or length of the table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SizeRow {
    /// An ISO 8559-1 name ("bust girth") or the maker's own.
    pub name: String,
    /// Body measures by size, as many as there are sizes.
    pub body: Vec<Length>,
    /// Finished garment measures by size, where the pattern prints them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub garment: Vec<Length>,
    /// As measured on the wearer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wearer: Option<Length>,
    /// Ease wanted; may be negative for stretch cloth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ease: Option<Length>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sizing {
    /// As the pattern calls them, smallest first.
    pub sizes: Vec<String>,
    pub rows: Vec<SizeRow>,
    /// The day the wearer was measured: `2026-03-14`.
    #[serde(default)]
    pub measured_on: String,
    /// The size the maker decided on; nothing while undecided.
    #[serde(default)]
    pub chosen: String,
}
