//! The allowances of a project: named, changeable, each with a default whose
//! source stands beside it in `figures::allowance_sources`.

use crate::measure::{CM, INCH, Length, QUARTER, Unit, YARD};
use serde::{Deserialize, Serialize};

/// How triangle patches are sized.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum CuttingRule {
    /// The additions printed in the trade (+7/8, +1 1/4 at 1/4 in seams): a
    /// little generous, trimmed after sewing.
    #[default]
    Trade,
    /// Plane geometry, rounded up to 1/16 in.
    Exact,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Allowances {
    /// Seam allowance of the patchwork.
    pub seam: Length,
    pub cutting_rule: CuttingRule,
    /// Lost once on each length of cloth, to make its cut edge straight.
    pub straightening: Length,
    /// What the shop cuts by: lengths to buy are rounded up to it.
    pub shop_step: Length,
    /// Batting beyond the panel, on every side.
    pub batting_overage: Length,
    /// Backing beyond the panel, on every side.
    pub backing_overage: Length,
    /// Seam allowance where lengths of backing (or batting) are joined, on each side of the join.
    pub backing_seam: Length,
    /// Binding beyond the edge where a closed run meets itself.
    pub binding_closed_end: Length,
    /// Binding beyond the edge for an open run, both ends together.
    pub binding_open_ends: Length,
    /// Binding taken up by one mitred corner.
    pub binding_corner: Length,
    /// Bias strips shorter than this are not counted as binding.
    pub binding_shortest_strip: Length,
}

impl Default for Allowances {
    fn default() -> Allowances {
        Allowances::for_unit(Unit::Inch)
    }
}

impl Allowances {
    pub fn for_unit(unit: Unit) -> Allowances {
        Allowances {
            seam: QUARTER,
            cutting_rule: CuttingRule::Trade,
            straightening: INCH,
            shop_step: match unit {
                Unit::Inch => Length::from_units(YARD.units() / 8),
                Unit::Cm => CM * 10,
            },
            batting_overage: INCH * 3,
            backing_overage: INCH * 4,
            backing_seam: Length::inches_frac(1, 2),
            binding_closed_end: INCH * 6,
            binding_open_ends: INCH * 2,
            binding_corner: INCH,
            binding_shortest_strip: INCH * 8,
        }
    }
}
