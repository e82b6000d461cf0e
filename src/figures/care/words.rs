//! Care in words, in the order of ISO 3758: washing, bleaching, drying,
//! ironing, professional care.

use crate::plan::{Bleaching, DryCleaning, Ironing, NaturalDrying, TumbleDrying, Washing};

pub const WASHING: [(Washing, &str); 13] = [
    (Washing::C95, "wash at 95 °C"),
    (Washing::C70, "wash at 70 °C"),
    (Washing::C60, "wash at 60 °C"),
    (Washing::C60Mild, "wash at 60 °C, mild"),
    (Washing::C50Mild, "wash at 50 °C, mild"),
    (Washing::C40, "wash at 40 °C"),
    (Washing::C40Mild, "wash at 40 °C, mild"),
    (Washing::C40VeryMild, "wash at 40 °C, very mild"),
    (Washing::C30, "wash at 30 °C"),
    (Washing::C30Mild, "wash at 30 °C, mild"),
    (Washing::C30VeryMild, "wash at 30 °C, very mild"),
    // The limit is printed as 30 and as 40 °C: the lower one harms nothing.
    (Washing::HandWash, "wash by hand, lukewarm (30 °C)"),
    (Washing::DoNotWash, "do not wash"),
];

pub const BLEACHING: [(Bleaching, &str); 3] = [
    (Bleaching::Any, "any bleach"),
    (Bleaching::OxygenOnly, "oxygen bleach only, no chlorine"),
    (Bleaching::DoNotBleach, "do not bleach"),
];

pub const TUMBLE: [(TumbleDrying, &str); 3] = [
    (TumbleDrying::Normal, "tumble dry, normal heat (two dots)"),
    (TumbleDrying::Low, "tumble dry, low heat (one dot)"),
    (TumbleDrying::DoNotTumbleDry, "do not tumble dry"),
];

pub const NATURAL: [(NaturalDrying, &str); 4] = [
    (NaturalDrying::Line, "dry on a line"),
    (NaturalDrying::DripLine, "hang dripping wet on a line"),
    (NaturalDrying::Flat, "dry lying flat"),
    (NaturalDrying::DripFlat, "dry lying flat, dripping wet"),
];

pub const IRONING: [(Ironing, &str); 4] = [
    (Ironing::High, "iron at 200 °C at most (three dots)"),
    (Ironing::Medium, "iron at 150 °C at most (two dots)"),
    (Ironing::Low, "iron at 110 °C at most (one dot), no steam"),
    (Ironing::DoNotIron, "do not iron"),
];

pub const DRY_CLEANING: [(DryCleaning, &str); 3] = [
    (DryCleaning::Normal, "dry clean"),
    (DryCleaning::Mild, "dry clean, mild"),
    (DryCleaning::DoNotDryClean, "do not dry clean"),
];

/// The words of one value.
pub fn of<T: PartialEq>(list: &[(T, &'static str)], value: T) -> &'static str {
    list.iter().find(|(v, _)| *v == value).map_or("", |(_, words)| words)
}
