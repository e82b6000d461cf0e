//! The allowances by name, and where each default comes from.

use super::AllowanceUsed;
use crate::measure::{Length, Round, Unit};
use crate::plan::{Allowances, CuttingRule};

/// One field of [`Allowances`]: its label, its default and the source of it.
#[derive(Clone, Copy, Debug)]
pub struct AllowanceSource {
    /// The key in the plan: `seam`.
    pub field: &'static str,
    pub label: &'static str,
    /// The default in words, both units.
    pub default: &'static str,
    /// What the maker is asked, in one sentence.
    pub help: &'static str,
    /// Where the default is printed; "common practice" where no source is.
    pub source: &'static str,
}

impl AllowanceSource {
    fn is_default(&self, allowances: &Allowances, unit: Unit) -> bool {
        let defaults = [Allowances::for_unit(Unit::Inch), Allowances::for_unit(Unit::Cm)];
        let now = self.value(allowances, unit);
        defaults.iter().any(|d| self.value(d, unit) == now)
    }

    /// What stands in this plan, in words.
    pub fn value(&self, allowances: &Allowances, unit: Unit) -> String {
        let show = |length: Length| length.both(unit, Round::Nearest);
        match self.field {
            "seam" => show(allowances.seam),
            "cutting_rule" => match allowances.cutting_rule {
                CuttingRule::Trade => "the trade's additions".into(),
                CuttingRule::Exact => "exact geometry".into(),
            },
            "straightening" => show(allowances.straightening),
            "shop_step" => allowances.shop_step.both_cloth(unit, Round::Nearest),
            "batting_overage" => show(allowances.batting_overage),
            "backing_overage" => show(allowances.backing_overage),
            "backing_seam" => show(allowances.backing_seam),
            "binding_closed_end" => show(allowances.binding_closed_end),
            "binding_open_ends" => show(allowances.binding_open_ends),
            "binding_corner" => show(allowances.binding_corner),
            "binding_shortest_strip" => show(allowances.binding_shortest_strip),
            _ => String::new(),
        }
    }
}

const SOURCES: [AllowanceSource; 11] = [
    AllowanceSource {
        field: "seam",
        label: "Seam allowance of patchwork",
        default: "1/4 in (6.35 mm)",
        help: "Sewn on each side of every patch.",
        source: "usual in patchwork, e.g. Karen Combs 2002, karencombs.com/page.php?ID=31",
    },
    AllowanceSource {
        field: "cutting_rule",
        label: "Size of triangles",
        default: "the trade's additions: 7/8 in and 1 1/4 in at 1/4 in seams",
        help: "The trade's additions leave a little to trim; exact geometry leaves next to nothing.",
        source: "Karen Combs 2002, karencombs.com/page.php?ID=31 (+7/8 in, +1 1/4 in on the long side)",
    },
    AllowanceSource {
        field: "straightening",
        label: "Lost to straightening",
        default: "1 in (2.5 cm)",
        help: "Cut off once at the start of each length of cloth and each remnant.",
        source: "A printed chart of strips per yard allows 35 in of each 36 (docsbay chart, anonymous); Monica Curry 2019, monicacurryquiltdesign.com, adds 2 in for a whole binding",
    },
    AllowanceSource {
        field: "shop_step",
        label: "Shop's step",
        default: "1/8 yd in inches, 10 cm in centimetres",
        help: "Lengths to buy are rounded up to it.",
        source: "common practice",
    },
    AllowanceSource {
        field: "batting_overage",
        label: "Batting beyond the panel, each side",
        default: "3 in (7.6 cm)",
        help: "Batting is cut this much larger than the panel on every side.",
        source: "Honey Be Good 2012, Common quilt and batting sizes, honeybegood.com/blogs/resources/12653533-common-quilt-and-batting-sizes (+6 in on each dimension)",
    },
    AllowanceSource {
        field: "backing_overage",
        label: "Backing beyond the panel, each side",
        default: "4 in (10.2 cm)",
        help: "Backing is cut this much larger than the panel on every side.",
        source: "Julie Baird, generations-quilt-patterns.com/calculating-yardage-for-quilt-back.html (6 to 8 in on each dimension, uses 8)",
    },
    AllowanceSource {
        field: "backing_seam",
        label: "Seam of joined lengths",
        default: "1/2 in (1.3 cm)",
        help: "Where a backing or batting is wider than the cloth: taken on both sides of the join.",
        source: "Julie Baird, generations-quilt-patterns.com/calculating-yardage-for-quilt-back.html (1/2 in seams)",
    },
    AllowanceSource {
        field: "binding_closed_end",
        label: "Binding: closing a run",
        default: "6 in (15.2 cm)",
        help: "Where a binding meets itself: with four corners of 1 in it comes to the 10 in of the handbooks.",
        source: "C&T Publishing, All-in-One Quilter's Reference Tool (excerpt), ctpub.com/blog/quilting-tips-calculating-yardage-for-bias-binding; Monica Curry 2019 (+10 in for a quilt)",
    },
    AllowanceSource {
        field: "binding_open_ends",
        label: "Binding: ends of an open run",
        default: "2 in (5.1 cm)",
        help: "For both ends of an edge that does not close on itself, together.",
        source: "common practice",
    },
    AllowanceSource {
        field: "binding_corner",
        label: "Binding: one mitred corner",
        default: "1 in (2.5 cm)",
        help: "Folded away at each corner.",
        source: "C&T Publishing, All-in-One Quilter's Reference Tool (excerpt), ctpub.com (+10 in for a quilt of four corners)",
    },
    AllowanceSource {
        field: "binding_shortest_strip",
        label: "Binding: shortest bias strip",
        default: "8 in (20.3 cm)",
        help: "Bias strips shorter than this are not counted.",
        source: "common practice",
    },
];

/// Every allowance of a plan with its label, default and source, in the order of the plan's keys.
pub fn allowance_sources() -> &'static [AllowanceSource] {
    &SOURCES
}

/// The allowances named, as they stand in the plan.
pub(super) fn used(allowances: &Allowances, unit: Unit, fields: &[&str]) -> Vec<AllowanceUsed> {
    SOURCES
        .iter()
        .filter(|source| fields.contains(&source.field))
        .map(|source| AllowanceUsed {
            name: source.label.into(),
            value: source.value(allowances, unit),
            // Where the default comes from is said of the default only.
            source: match source.is_default(allowances, unit) {
                true => source.source.into(),
                false => format!("set for this project; the default is {}", source.default),
            },
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_allowance_does_not_cite_the_default() {
        let changed = Allowances {
            batting_overage: Length::whole_inches(2),
            ..Allowances::default()
        };
        let used = used(&changed, Unit::Inch, &["batting_overage", "seam"]);
        let of = |name: &str| used.iter().find(|u| u.name.starts_with(name)).unwrap().source.clone();
        assert!(of("Batting").starts_with("set for this project"), "{used:?}");
        assert!(of("Seam").contains("Combs"), "{used:?}");
    }

    #[test]
    fn every_allowance_of_a_plan_has_a_source() {
        let json = serde_json::to_value(Allowances::default()).unwrap();
        let keys: Vec<&str> = json.as_object().unwrap().keys().map(String::as_str).collect();
        for key in &keys {
            let source = SOURCES.iter().find(|s| s.field == *key).expect(key);
            assert!(!source.value(&Allowances::default(), Unit::Inch).is_empty(), "{key}");
        }
        assert_eq!(keys.len(), SOURCES.len());
    }
}
