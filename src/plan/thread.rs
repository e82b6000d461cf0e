//! Seams and the thread they take.

use crate::measure::{Length, METRE, Money, Percent};
use serde::{Deserialize, Serialize};

/// A stitch by its number in ISO 4915.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
pub enum Stitch {
    /// Single-thread chainstitch.
    #[serde(rename = "101")]
    S101,
    /// Blindstitch.
    #[serde(rename = "103")]
    S103,
    /// Lockstitch: the straight stitch of a household machine.
    #[default]
    #[serde(rename = "301")]
    S301,
    /// Zigzag lockstitch.
    #[serde(rename = "304")]
    S304,
    /// Two-thread chainstitch.
    #[serde(rename = "401")]
    S401,
    /// Two-needle bottom covering chainstitch.
    #[serde(rename = "406")]
    S406,
    /// Two-thread overedge.
    #[serde(rename = "503")]
    S503,
    /// Three-thread overedge.
    #[serde(rename = "504")]
    S504,
    /// Four-thread mock safety.
    #[serde(rename = "512")]
    S512,
    /// Five-thread safety.
    #[serde(rename = "516")]
    S516,
    /// Two-needle covering chainstitch.
    #[serde(rename = "602")]
    S602,
    /// Three-needle covering chainstitch.
    #[serde(rename = "605")]
    S605,
    /// Four-needle flat seam.
    #[serde(rename = "606")]
    S606,
    /// Sewn by hand.
    #[serde(rename = "hand")]
    Hand,
}

impl Stitch {
    pub const ALL: [Stitch; 14] = [
        Stitch::S301,
        Stitch::S304,
        Stitch::S503,
        Stitch::S504,
        Stitch::S512,
        Stitch::S516,
        Stitch::S101,
        Stitch::S103,
        Stitch::S401,
        Stitch::S406,
        Stitch::S602,
        Stitch::S605,
        Stitch::S606,
        Stitch::Hand,
    ];
}

/// A seam the figures cannot know of: a side seam, a hem, an overedge.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seam {
    pub id: String,
    pub name: String,
    /// Of one.
    pub length: Length,
    pub count: u32,
    #[serde(default)]
    pub stitch: Stitch,
}

/// How thread is counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Thread {
    /// Stitch of seams between patches and of panels.
    pub piecing: Stitch,
    /// Stitch of the quilting lines.
    pub quilting: Stitch,
    /// How binding is sewn down the second time; the first time it is a lockstitch.
    pub binding: Stitch,
    /// Beyond each end of a seam.
    pub seam_end: Length,
    /// Lost to breaks, bobbins and trials.
    pub waste: Percent,
    /// Length on one spool.
    pub spool: Length,
    /// Of one spool.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
}

impl Default for Thread {
    fn default() -> Thread {
        Thread {
            piecing: Stitch::S301,
            quilting: Stitch::S301,
            binding: Stitch::Hand,
            seam_end: Length::from_units(640 * 30),
            waste: Percent::hundredths(2_000),
            spool: METRE * 100,
            price: None,
        }
    }
}
