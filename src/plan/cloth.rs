//! Cloths and batting a plan uses, as they are at hand or to be bought.

use super::{Care, Outlined};
use crate::measure::{Length, METRE, Money, Percent, YARD};
use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum ClothKind {
    #[default]
    Cloth,
    Batting,
}

/// What a price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
pub enum Per {
    #[default]
    #[serde(rename = "yd")]
    Yard,
    #[serde(rename = "m")]
    Metre,
}

impl Per {
    pub const fn length(self) -> Length {
        match self {
            Per::Yard => YARD,
            Per::Metre => METRE,
        }
    }
    pub const fn name(self) -> &'static str {
        match self {
            Per::Yard => "yd",
            Per::Metre => "m",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Price {
    pub amount: Money,
    pub per: Per,
}

/// A leftover rectangle. `width` runs across the grain of the cloth it came
/// from (selvage to selvage), `length` along it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Remnant {
    pub width: Length,
    pub length: Length,
    pub count: u32,
}

/// Shape of ready-cut patches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum ReadyShape {
    /// A rectangle of `width` by `height`.
    #[default]
    Rectangle,
    /// Half of a square of `width`, cut corner to corner.
    HalfSquareTriangle,
    /// A quarter of a square of `width`, cut corner to corner both ways.
    QuarterSquareTriangle,
    /// An equilateral triangle of side `width`, as cut.
    #[serde(rename = "triangle-60")]
    Triangle60,
    /// A hexagon, `width` from flat to flat, as cut.
    Hexagon,
}

/// Patches cut for an earlier project, in stock. Sizes are as cut, seam
/// allowances included.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReadyCut {
    #[serde(default)]
    pub shape: ReadyShape,
    pub width: Length,
    /// Of a rectangle; nothing for the other shapes.
    #[serde(default)]
    pub height: Length,
    pub count: u32,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cloth {
    pub id: String,
    pub name: String,
    #[serde(default)]
    pub kind: ClothKind,
    /// As the maker writes it: "cotton", "55 % linen, 45 % cotton".
    #[serde(default)]
    pub fibre: String,
    /// Between the selvages, as it will be when it is cut.
    pub usable_width: Length,
    /// Length at hand in one piece of the full width.
    #[serde(default)]
    pub owned: Length,
    /// Leftovers, cut from first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remnants: Vec<Remnant>,
    /// Leftovers of any other outline with straight edges, cut from first too.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub outlined: Vec<Outlined>,
    /// Patches in stock, used before any cloth is cut.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ready_cut: Vec<ReadyCut>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    /// `#rrggbb`, for drawings.
    #[serde(default = "grey")]
    pub colour: String,
    #[serde(default)]
    pub link: String,
    /// Print or nap that runs one way: nothing may be turned on this cloth.
    #[serde(default)]
    pub one_way: bool,
    /// Expected loss of length in the first wash of what is still to be bought.
    #[serde(default)]
    pub shrinkage: Percent,
    /// What its label bears.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub care: Option<Care>,
    /// The notebook's own cloth this was taken from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<String>,
}

impl Default for Cloth {
    fn default() -> Cloth {
        Cloth {
            id: String::new(),
            name: String::new(),
            kind: ClothKind::Cloth,
            fibre: String::new(),
            usable_width: Length::ZERO,
            owned: Length::ZERO,
            remnants: Vec::new(),
            outlined: Vec::new(),
            ready_cut: Vec::new(),
            price: None,
            colour: grey(),
            link: String::new(),
            one_way: false,
            shrinkage: Percent::ZERO,
            care: None,
            stock: None,
        }
    }
}

fn grey() -> String {
    "#b8bcc6".into()
}
