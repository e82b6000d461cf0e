//! What is kept of shopping and of a cloth's history, as plain values.

use super::{Id, StockOutlined, StockRemnant};
use crate::measure::Length;
use crate::plan::{Price, ReadyCut};
use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum MovementKind {
    Bought,
    CutFrom,
    GivenBack,
    /// The maker changed by hand what is at hand.
    Corrected,
}

impl MovementKind {
    pub const fn name(self) -> &'static str {
        match self {
            MovementKind::Bought => "bought",
            MovementKind::CutFrom => "cut from it",
            MovementKind::GivenBack => "given back",
            MovementKind::Corrected => "corrected",
        }
    }
}

/// Remnants and ready-cut patches that left the shelf or came to it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parts {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remnants: Vec<StockRemnant>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub outlined: Vec<StockOutlined>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ready_cut: Vec<ReadyCut>,
}

impl Parts {
    pub fn is_empty(&self) -> bool {
        self.remnants.is_empty() && self.outlined.is_empty() && self.ready_cut.is_empty()
    }
}

/// A line of a cloth's history.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Movement {
    pub id: Id,
    pub cloth: Id,
    pub kind: MovementKind,
    pub day: NaiveDate,
    pub made_at: DateTime<Utc>,
    /// What it was cut for, or given back from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub project: Option<Id>,
    /// As bought, unwashed; or as cut.
    #[serde(default)]
    pub length: Length,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    /// In one piece of full width.
    pub owned_before: Length,
    pub owned_after: Length,
    #[serde(default)]
    pub parts: Parts,
    /// Everything the project needs of the cloth is cut.
    #[serde(default)]
    pub complete: bool,
    /// What undoes it, where it can be undone.
    #[serde(skip)]
    pub change: Option<Id>,
}

/// A tick of the shop list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tick {
    pub key: String,
    /// What the line said.
    pub wanted: String,
    pub ticked: bool,
    /// By the device it was made on.
    pub changed_at: DateTime<Utc>,
    /// Bought: it stands on no list until more is wanted.
    #[serde(default)]
    pub bought: bool,
}

/// What an exchange folder says of shopping.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shopping {
    #[serde(default)]
    pub left_out: Vec<Id>,
    #[serde(default)]
    pub ticks: Vec<Tick>,
    /// Finished projects that were asked what is left of their cloth.
    #[serde(default)]
    pub given_back: Vec<Id>,
    /// The oldest first.
    #[serde(default)]
    pub movements: Vec<Movement>,
}

/// What came home from the shop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Purchase {
    /// Made with the form: sent twice, it is bought once.
    pub id: Id,
    pub day: NaiveDate,
    pub cloths: Vec<BoughtCloth>,
    /// Keys of things that are no cloth, and what their lines said.
    pub things: Vec<(String, String)>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoughtCloth {
    /// [`crate::figures::shopping::same_cloth`].
    pub key: String,
    /// Of the shelf's cloth, should there be none yet.
    pub new: Id,
    /// In words, for the sentence that says it is wanted no more.
    pub name: String,
    pub width: Length,
    /// As sold, before any wash.
    pub length: Length,
    pub price: Option<Price>,
}

/// What a project took of a cloth of the shelf and what comes back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClothUsed {
    pub cloth: Id,
    /// The version the form began from.
    pub seen: i64,
    pub cut: Length,
    /// Remnants cut into, by size, and ready-cut patches used.
    pub taken: Parts,
    pub complete: bool,
    pub given_back: Vec<StockRemnant>,
}
