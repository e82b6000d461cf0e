//! Edges to bind and the binding they get.

use super::EdgeOf;
use crate::measure::Length;
use serde::{Deserialize, Serialize};

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edge {
    pub id: String,
    pub name: String,
    /// Length of one such edge.
    pub length: Length,
    /// How many such edges.
    pub count: u32,
    /// Mitred corners on one such edge.
    #[serde(default)]
    pub corners: u32,
    /// The edge closes on itself: a hem, a cuff, the outside of a quilt.
    #[serde(default)]
    pub closed: bool,
    /// The edge of an outline it is: its length follows from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<EdgeOf>,
}

impl Edge {
    /// Without the length that follows from an outline.
    pub fn as_written(self) -> Edge {
        match self.from {
            Some(_) => Edge {
                length: Length::ZERO,
                ..self
            },
            None => self,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Fold {
    /// One layer over the edge, both long sides turned in.
    Single,
    /// The strip folded in half, two layers over the edge.
    #[default]
    Double,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum BindingCut {
    /// Strips across the width of the cloth.
    Straight,
    /// Single strips at 45 degrees from a rectangle of the cloth.
    #[default]
    BiasStrips,
    /// One long strip cut round a tube sewn from a square.
    Continuous,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Binding {
    pub cloth: String,
    pub fold: Fold,
    pub cut: BindingCut,
    /// Width seen on one side when sewn on.
    pub finished_width: Length,
    /// Extra strip width for thick layers.
    #[serde(default)]
    pub thickness: Length,
    /// Cut it from the remnants of its cloth where they give all of it.
    #[serde(default, skip_serializing_if = "is_false")]
    pub from_remnants: bool,
}

fn is_false(value: &bool) -> bool {
    !*value
}
