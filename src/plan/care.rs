//! Care of a material: what it bears, in the words of ISO 3758.

use serde::{Deserialize, Serialize};

/// From the strongest washing to none, in the order of ISO 3758.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Washing {
    #[serde(rename = "95")]
    C95,
    #[serde(rename = "70")]
    C70,
    #[serde(rename = "60")]
    C60,
    #[serde(rename = "60-mild")]
    C60Mild,
    #[serde(rename = "50-mild")]
    C50Mild,
    #[default]
    #[serde(rename = "40")]
    C40,
    #[serde(rename = "40-mild")]
    C40Mild,
    #[serde(rename = "40-very-mild")]
    C40VeryMild,
    #[serde(rename = "30")]
    C30,
    #[serde(rename = "30-mild")]
    C30Mild,
    #[serde(rename = "30-very-mild")]
    C30VeryMild,
    HandWash,
    DoNotWash,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Bleaching {
    Any,
    OxygenOnly,
    #[default]
    DoNotBleach,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum TumbleDrying {
    Normal,
    #[default]
    Low,
    DoNotTumbleDry,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum NaturalDrying {
    #[default]
    Line,
    DripLine,
    Flat,
    DripFlat,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Ironing {
    /// Three dots, 200 degrees C.
    High,
    /// Two dots, 150 degrees C.
    #[default]
    Medium,
    /// One dot, 110 degrees C.
    Low,
    DoNotIron,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum DryCleaning {
    Normal,
    Mild,
    #[default]
    DoNotDryClean,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Care {
    pub washing: Washing,
    pub bleaching: Bleaching,
    pub tumble_drying: TumbleDrying,
    pub natural_drying: NaturalDrying,
    /// Dried out of the sun.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub in_the_shade: bool,
    pub ironing: Ironing,
    pub dry_cleaning: DryCleaning,
}
