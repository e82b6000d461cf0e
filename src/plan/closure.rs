//! Closures along a line: buttons, snaps, hooks.

use crate::measure::{Length, Money};
use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum ClosureKind {
    #[default]
    Button,
    Snap,
    HookAndEye,
    /// One, as long as the line between first and last.
    Zip,
}

impl ClosureKind {
    pub const ALL: [ClosureKind; 4] = [
        ClosureKind::Button,
        ClosureKind::Snap,
        ClosureKind::HookAndEye,
        ClosureKind::Zip,
    ];
    pub const fn name(self) -> &'static str {
        match self {
            ClosureKind::Button => "button",
            ClosureKind::Snap => "snap",
            ClosureKind::HookAndEye => "hook and eye",
            ClosureKind::Zip => "zip",
        }
    }
    /// As it is said of so many: "8 buttons" without the number.
    pub const fn counted(self, count: i64) -> &'static str {
        match (self, count) {
            (_, 1) => self.name(),
            (ClosureKind::Button, _) => "buttons",
            (ClosureKind::Snap, _) => "snaps",
            (ClosureKind::HookAndEye, _) => "hooks and eyes",
            (ClosureKind::Zip, _) => "zips",
        }
    }
}

/// A row of closures along one line of the garment.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Closure {
    pub id: String,
    /// "Front opening".
    pub name: String,
    pub kind: ClosureKind,
    /// Length of the line, from its upper to its lower end.
    pub line: Length,
    /// The first closure's centre from the upper end.
    pub first: Length,
    /// The last one's centre from the lower end.
    pub last: Length,
    /// Centre to centre at most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacing: Option<Length>,
    /// So many, whatever the spacing comes to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// One must sit here, from the upper end: at bust level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bust_level: Option<Length>,
    /// Diameter of a button or snap, width of a hook.
    #[serde(default)]
    pub size: Length,
    /// Of a button.
    #[serde(default)]
    pub thickness: Length,
    /// Of one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
    #[serde(default)]
    pub link: String,
}
