//! Names of measurements and how each is taken.
//!
//! The names for people are those of ISO 8559:1989 (Woodhead, Anthropometry,
//! Apparel Sizing and Design, table 4.1) and EN 13402-1:2001 (after ISO 3635);
//! those marked with M from memory. The four definitions marked with EN are
//! that standard's, in other words. The rest say what is common practice.
//!
//! The first list of each kind stands ready on a new form; the second is
//! offered beside it.

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

/// Taken now and then.
const MORE_BODY: [(&str, &str); 22] = [
    // M
    ("underbust girth", "Level, close under the bust."),
    (
        "neck-base girth",
        "Round the foot of the neck, where a plain round neckline lies.",
    ),
    (
        "armscye girth",
        "Round the top of the arm, over the shoulder bone and through the armpit.",
    ),
    ("elbow girth", "Over the elbow, arm bent."),
    ("hand girth", "Round the knuckles without the thumb, fingers flat."),
    ("thigh girth", "Level, round the thickest part, close under the seat."),
    ("knee girth", "Over the kneecap, leg straight."),
    ("calf girth", "Level, round the thickest part."),
    ("ankle girth", "Over both ankle bones."),
    (
        "shoulder width",
        "Across the back, from one outer shoulder bone to the other.",
    ),
    (
        "back width",
        "Across the back, from arm to arm, halfway between shoulder and armpit.",
    ),
    (
        "scye depth",
        "From the bone at the nape straight down to the level of the armpits.",
    ),
    ("upper arm length", "From the outer shoulder bone to the bent elbow."),
    (
        "7th cervical to wrist",
        "From the bone at the nape over the shoulder and the bent elbow to the wrist bone.",
    ),
    (
        "neck shoulder point to breast point",
        "From the side of the neck to the fullest part of the bust.",
    ),
    (
        "cervical to waist front",
        "From the bone at the nape round the neck and down the front to the waist ribbon.",
    ),
    (
        "waist height",
        "From the waist ribbon down to the floor, without shoes.",
    ),
    (
        "waist to hips",
        "At the side, from the waist ribbon to the widest part.",
    ),
    (
        "body rise",
        "Sitting on a hard chair: at the side, from the waist ribbon to the seat.",
    ),
    (
        "outside leg length",
        "At the side, from the waist ribbon over the hip to the floor.",
    ),
    ("knee height", "From the middle of the kneecap to the floor."),
    ("foot length", "From the heel to the longest toe, standing."),
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

const MORE_ANIMAL: [(&str, &str); 5] = [
    ("head girth", "Round the widest part, before the ears."),
    (
        "height at the shoulder",
        "From the floor to the top of the shoulder blades, standing.",
    ),
    (
        "chest to belly",
        "Along the underside, from the breastbone to where a coat is to end.",
    ),
    ("front leg length", "From the elbow to the floor."),
    ("leg girth", "Round the thickest part of the front leg."),
];

pub const HOUSEHOLD: [(&str, &str); 3] = [
    ("width", "From edge to edge, across the middle."),
    ("depth", "From front to back."),
    ("height", "From the surface it stands on to the top."),
];

const MORE_HOUSEHOLD: [(&str, &str); 5] = [
    ("length", "The longer side, from edge to edge."),
    ("diameter", "Across the middle of what is round."),
    ("girth", "Once round, tape level."),
    ("drop", "From the upper edge down to where the cloth is to end."),
    ("thickness", "Pressed lightly, as it is in use."),
];

/// Those that stand ready on a new form.
pub fn for_kind(kind: WearerKind) -> &'static [(&'static str, &'static str)] {
    match kind {
        WearerKind::Adult | WearerKind::Child => &BODY,
        WearerKind::Animal => &ANIMAL,
        WearerKind::Household => &HOUSEHOLD,
    }
}

/// Those that are offered besides.
pub fn more_for_kind(kind: WearerKind) -> &'static [(&'static str, &'static str)] {
    match kind {
        WearerKind::Adult | WearerKind::Child => &MORE_BODY,
        WearerKind::Animal => &MORE_ANIMAL,
        WearerKind::Household => &MORE_HOUSEHOLD,
    }
}

/// How a measurement of this name is taken, if the name is a known one.
pub fn how_to(kind: WearerKind, name: &str) -> &'static str {
    let same = |known: &str| known.eq_ignore_ascii_case(name.trim());
    for_kind(kind)
        .iter()
        .chain(more_for_kind(kind))
        .find(|(known, _)| same(known))
        .map_or("", |(_, how)| how)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_name_stands_once_and_says_how_it_is_taken() {
        for kind in WearerKind::ALL {
            let mut met = HashSet::new();
            for (name, how) in for_kind(kind).iter().chain(more_for_kind(kind)) {
                assert!(met.insert(*name), "{name} twice");
                assert_eq!(*name, name.trim());
                assert!(how.ends_with('.') && how.len() > 10, "{name}: {how}");
                assert_eq!(how_to(kind, &format!(" {} ", name.to_uppercase())), *how);
            }
        }
        assert_eq!(how_to(WearerKind::Adult, "strap length"), "");
    }
}
