//! Names of measurements and how each is taken.
//!
//! The names are those of ISO 8559:1989 and EN 13402-1:2001 (after ISO 3635);
//! the four definitions marked with EN are that standard's, in other words.
//! The rest say what is common practice.

use crate::notebook::WearerKind;

/// Name and how it is taken.
pub const BODY: [(&str, &str); 13] = [
    // EN 13402-1
    (
        "bust girth",
        "Level, under the arms and over the fullest part of the bust.",
    ),
    // EN 13402-1
    (
        "chest girth",
        "Under the arms, over the shoulder blades and across the chest, breathing normally.",
    ),
    (
        "waist girth",
        "Round the narrowest part; tie a ribbon round and let it settle.",
    ),
    ("hip girth", "Level, round the widest part, feet together."),
    // EN 13402-1
    (
        "neck girth",
        "Round the neck over the bone at the nape, 2 cm (3/4 in) below the Adam's apple in front.",
    ),
    (
        "back neck point to waist",
        "From the bone at the nape straight down to the waist ribbon.",
    ),
    (
        "shoulder length",
        "From the side of the neck along the shoulder to its outer bone.",
    ),
    ("upper arm girth", "Round the thickest part, arm hanging."),
    (
        "arm length",
        "From the outer shoulder bone over the bent elbow to the wrist bone.",
    ),
    ("wrist girth", "Over the wrist bone."),
    // EN 13402-1
    ("head girth", "The largest level girth, above the ears."),
    (
        "inside leg length",
        "From the crotch straight down to the floor, without shoes.",
    ),
    (
        "height",
        "From the crown to the floor, without shoes, back against a wall.",
    ),
];

/// Animals: the same words on four legs.
pub const ANIMAL: [(&str, &str); 4] = [
    ("neck girth", "Where a collar lies; two fingers fit under the tape."),
    ("chest girth", "Round the deepest part, just behind the front legs."),
    (
        "back length",
        "From where the collar lies to the root of the tail, standing.",
    ),
    ("belly girth", "Round the narrowest part before the hind legs."),
];

pub const HOUSEHOLD: [(&str, &str); 3] = [
    ("width", "From edge to edge, across the middle."),
    ("depth", "From front to back."),
    ("height", "From the surface it stands on to the top."),
];

pub fn for_kind(kind: WearerKind) -> &'static [(&'static str, &'static str)] {
    match kind {
        WearerKind::Adult | WearerKind::Child => &BODY,
        WearerKind::Animal => &ANIMAL,
        WearerKind::Household => &HOUSEHOLD,
    }
}

/// How a measurement of this name is taken, if the name is a known one.
pub fn how_to(kind: WearerKind, name: &str) -> &'static str {
    let same = |known: &str| known.eq_ignore_ascii_case(name.trim());
    for_kind(kind)
        .iter()
        .find(|(known, _)| same(known))
        .map_or("", |(_, how)| how)
}

/// As it stands at the head of a line.
pub fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters
        .next()
        .map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
