//! The face of a piece: units, arrangement, setting, sashing and borders.

use super::Finder;
use super::unit::{a_unit, check_unit, given, units_of};
use crate::measure::capital;
use crate::plan::{Arrangement, Face, Patchwork, UnitKind, limits};
use std::collections::HashMap;

pub(super) type Usable<'a> = HashMap<&'a str, bool>;

pub(super) fn check_face(find: &mut Finder, face: &Face, at: &str, usable: &Usable) -> bool {
    let at = format!("{at}/face");
    match face {
        Face::Plain(plain) => find.reference(format!("{at}/cloth"), &plain.cloth, usable),
        Face::Patchwork(patchwork) => {
            let mut sound = find.positive(&format!("{at}/finished"), "The finished size", patchwork.finished);
            if !palette(find, patchwork, &at) {
                return false;
            }
            for (n, unit) in patchwork.units.iter().enumerate() {
                sound &= check_unit(find, unit, &format!("{at}/units/{n}"), usable);
            }
            sound &= alone(find, patchwork, &at);
            sound &= height(find, patchwork, &at);
            if patchwork.arrangement == Arrangement::Painted {
                sound &= painted(find, patchwork, &at);
            }
            sound &= setting(find, patchwork, &at, usable);
            sound & borders(find, patchwork, &at, usable)
        }
    }
}

/// As many units as the arrangement takes.
fn palette(find: &mut Finder, patchwork: &Patchwork, at: &str) -> bool {
    let (least, most, words, choose) = match patchwork.arrangement {
        Arrangement::AllAlike => (1, 1, "one unit", "Choose one unit, or let two alternate"),
        Arrangement::Alternating => (2, 2, "two units", "Choose both units, or make all alike"),
        Arrangement::Rows => (
            2,
            limits::PALETTE,
            "two to eight units, a row of each in turn",
            "Choose at least two and at most eight, or make all alike",
        ),
        Arrangement::Painted => (
            1,
            limits::PALETTE,
            "one to eight units to paint with",
            "Choose at least one and at most eight",
        ),
    };
    let units = patchwork.units.len();
    if (least..=most).contains(&units) {
        return true;
    }
    find.add(
        format!("{at}/units"),
        format!("This arrangement takes {words}; {} given. {choose}.", given(units)),
    )
}

/// Triangles, diamonds and hexagons are sewn in rows of their own.
fn alone(find: &mut Finder, patchwork: &Patchwork, at: &str) -> bool {
    let in_rows = patchwork.units.iter().position(|u| u.kind.in_rows());
    let Some(n) = in_rows else { return true };
    let what = capital(&units_of(patchwork.units[n].kind));
    let mut sound = true;
    if patchwork.arrangement != Arrangement::AllAlike {
        sound = find.add(
            format!("{at}/units/{n}/kind"),
            format!(
                "{what} are sewn in rows of their own, without other units. Make all alike, or choose another unit."
            ),
        );
    }
    if patchwork.sashing.is_some() {
        sound = find.add(
            format!("{at}/sashing"),
            format!("{what} are sewn to each other without sashing. Take the sashing out, or choose another unit."),
        );
    }
    if patchwork.on_point.is_some() {
        sound = find.add(
            format!("{at}/on_point"),
            format!("{what} are sewn in rows and cannot be set on point. Set them straight, or choose another unit."),
        );
    }
    sound
}

/// A height of its own.
fn height(find: &mut Finder, patchwork: &Patchwork, at: &str) -> bool {
    let Some(height) = patchwork.finished_height else {
        return true;
    };
    let field = format!("{at}/finished_height");
    let mut sound = find.positive(&field, "The finished height", height);
    let other = patchwork
        .units
        .iter()
        .find(|u| !matches!(u.kind, UnitKind::Square | UnitKind::Rail));
    if let Some(unit) = other {
        sound = find.add(
            &field,
            format!(
                "Only plain rectangles and rails have a height of their own; {} has not. Leave the height out.",
                a_unit(unit.kind)
            ),
        );
    }
    if patchwork.on_point.is_some() {
        sound = find.add(
            &field,
            "Blocks on point are square. Leave the height out, or set them straight.",
        );
    }
    sound
}

/// Every mark names a unit. A few rows that cannot be read are told, not all.
fn painted(find: &mut Finder, patchwork: &Patchwork, at: &str) -> bool {
    let rows = patchwork.painted.len();
    let most = limits::UNITS as usize;
    let mut marks = 0usize;
    let square = patchwork.finished_height.is_none_or(|h| h == patchwork.finished);
    let mut told = 0;
    let last = char::from(b'a' + patchwork.units.len().clamp(1, limits::PALETTE) as u8 - 1);
    for (n, row) in patchwork.painted.iter().enumerate().take(most) {
        let wrong = row.split_whitespace().find_map(|mark| {
            marks += 1;
            let Some((_, turn)) = patchwork.read_mark(mark) else {
                return Some(format!(
                    "“{}” in row {} is no unit. Write a letter from a to {last}, and 1 to 3 after it where it is turned, such as a1.",
                    short(mark),
                    n + 1
                ));
            };
            (turn % 2 == 1 && !square).then(|| {
                format!(
                    "“{mark}” in row {} turns a unit by a quarter that is not square. Turn it by half (2), or not.",
                    n + 1
                )
            })
        });
        if let Some(wrong) = wrong {
            find.add(format!("{at}/painted/{n}"), wrong);
            told += 1;
            if told == 5 {
                break;
            }
        }
    }
    if rows.max(marks) > most {
        find.add(
            format!("{at}/painted"),
            format!("More than {most} units are painted, the most a piece can have. Take some out."),
        );
        return false;
    }
    told == 0
}

fn short(mark: &str) -> String {
    match mark.char_indices().nth(12) {
        Some((end, _)) => format!("{}…", &mark[..end]),
        None => mark.into(),
    }
}

/// On point and sashing.
fn setting(find: &mut Finder, patchwork: &Patchwork, at: &str, usable: &Usable) -> bool {
    let mut sound = true;
    if let Some(on_point) = &patchwork.on_point {
        sound &= find.reference(format!("{at}/on_point/side"), &on_point.side, usable);
        sound &= find.reference(format!("{at}/on_point/corner"), &on_point.corner, usable);
    }
    if let Some(sashing) = &patchwork.sashing {
        let at = format!("{at}/sashing");
        sound &= find.positive(&format!("{at}/width"), "The width of the sashing", sashing.width);
        sound &= find.reference(format!("{at}/cloth"), &sashing.cloth, usable);
        if let Some(posts) = &sashing.posts {
            sound &= find.reference(format!("{at}/posts"), posts, usable);
        }
        if patchwork.on_point.is_some() && sashing.posts.is_none() {
            sound = find.add(
                format!("{at}/posts"),
                "Sashing round blocks on point takes posts where strips cross. Choose a cloth for them, or set the blocks straight.",
            );
        }
    }
    sound
}

fn borders(find: &mut Finder, patchwork: &Patchwork, at: &str, usable: &Usable) -> bool {
    let count = patchwork.borders.len();
    if count > limits::BORDERS {
        return find.add(
            format!("{at}/borders"),
            format!(
                "{count} borders are given; a panel can have {}. Take some out.",
                limits::BORDERS
            ),
        );
    }
    let mut sound = true;
    for (n, border) in patchwork.borders.iter().enumerate() {
        let at = format!("{at}/borders/{n}");
        sound &= find.positive(
            &format!("{at}/width"),
            &format!("The width of border {}", n + 1),
            border.width,
        );
        sound &= find.reference(format!("{at}/cloth"), &border.cloth, usable);
        if let Some(corners) = &border.corners {
            sound &= find.reference(format!("{at}/corners"), corners, usable);
        }
    }
    sound
}

#[cfg(test)]
mod tests {
    use crate::figures::problems;
    use crate::plan::Plan;

    /// The problems of a patchwork with these keys: place below the face, and sentence.
    fn told(keys: &str) -> Vec<(String, String)> {
        let plan = Plan::from_json(&format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}}],
            "pieces":[{{"id":"p1","name":"Cover","cut_count":1,"width":"30 in","height":"40 in",
            "face":{{"kind":"patchwork","finished":"6 in",{keys}}}}}]}}"#
        ))
        .expect("a plan");
        problems(&plan)
            .into_iter()
            .map(|p| {
                let place = p.field.strip_prefix("pieces/p1/face/").unwrap_or(&p.field).to_string();
                (place, p.message)
            })
            .collect()
    }

    #[test]
    fn each_fault_is_told_at_its_place() {
        let square = r#"{"kind":"square","cloths":["c1"]}"#;
        let alike = format!(r#""arrangement":"all-alike","units":[{square}]"#);
        let parts = |part: &str, count: usize| {
            let parts = vec![part; count].join(",");
            format!(r#""arrangement":"all-alike","units":[{{"kind":"composed","parts":[{parts}]}}]"#)
        };
        for (keys, place, words) in [
            (r#""arrangement":"rows","units":[]"#.to_string(), "units", "two to eight units"),
            (format!(r#""arrangement":"rows","units":[{square}]"#), "units", "one is given"),
            (
                format!(r#""arrangement":"painted","units":[{}]"#, [square; 9].join(",")),
                "units",
                "9 are given",
            ),
            (
                format!(r#""arrangement":"painted","units":[{square}],"painted":["a a","a b2 a"]"#),
                "painted/1",
                "“b2” in row 2 is no unit. Write a letter from a to a",
            ),
            (
                format!(r#""arrangement":"painted","finished_height":"3 in","units":[{square}],"painted":["a1"]"#),
                "painted/0",
                "Turn it by half",
            ),
            (
                r#""arrangement":"all-alike","units":[{"kind":"half-square-triangle","cloths":["c1","c1"],"at_a_time":6}]"#
                    .into(),
                "units/0/at_a_time",
                "2, 4 or 8",
            ),
            (
                r#""arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"],"at_a_time":4}]"#.into(),
                "units/0/at_a_time",
                "not plain squares",
            ),
            (parts(square, 5), "units/0/parts", "4, 9 or 16 parts"),
            (
                parts(r#"{"kind":"pinwheel","cloths":["c1","c1"]}"#, 4),
                "units/0/parts/0/kind",
                "A pinwheel cannot be a part",
            ),
            (parts(r#"{"kind":"square","cloths":["c1"],"turn":4}"#, 4), "units/0/parts/0/turn", "0 to 3 quarters"),
            (parts(r#"{"kind":"square","cloths":["c9"]}"#, 4), "units/0/parts/3/cloths/0", "no cloth “c9”"),
            (
                r#""arrangement":"all-alike","units":[{"kind":"hexagon","cloths":["c1"]}],"sashing":{"width":"1 in","cloth":"c1"}"#
                    .into(),
                "sashing",
                "Hexagons are sewn to each other",
            ),
            (
                format!(r#""arrangement":"alternating","units":[{square},{{"kind":"triangle-60","cloths":["c1","c1"]}}]"#),
                "units/1/kind",
                "rows of their own",
            ),
            (
                format!(r#"{alike},"on_point":{{"side":"c1","corner":"c2"}}"#),
                "on_point/corner",
                "no cloth “c2”",
            ),
            (
                format!(r#"{alike},"on_point":{{"side":"c1","corner":"c1"}},"sashing":{{"width":"1 in","cloth":"c1"}}"#),
                "sashing/posts",
                "Choose a cloth for them",
            ),
            (
                r#""arrangement":"all-alike","finished_height":"3 in","units":[{"kind":"pinwheel","cloths":["c1","c1"]}]"#
                    .into(),
                "finished_height",
                "a pinwheel has not",
            ),
            (format!(r#"{alike},"finished_height":"0 in""#), "finished_height", "more than nothing"),
            (
                format!(r#"{alike},"sashing":{{"width":"0 in","cloth":"c1"}}"#),
                "sashing/width",
                "more than nothing",
            ),
            (
                format!(r#"{alike},"sashing":{{"width":"1 in","cloth":"c1","posts":"c2"}}"#),
                "sashing/posts",
                "no cloth “c2”",
            ),
            (
                format!(r#"{alike},"borders":[{{"width":"2 in","cloth":"c1"}},{{"width":"2 in","cloth":"c2"}}]"#),
                "borders/1/cloth",
                "no cloth “c2”",
            ),
            (
                format!(r#"{alike},"borders":[{}]"#, [r#"{"width":"2 in","cloth":"c1"}"#; 7].join(",")),
                "borders",
                "7 borders are given",
            ),
        ] {
            let found = told(&keys);
            assert!(
                found.iter().any(|(at, message)| at == place && message.contains(words)),
                "{keys} gave {found:?}"
            );
        }
    }

    #[test]
    fn sound_faces_are_not_told() {
        let square = r#"{"kind":"square","cloths":["c1"]}"#;
        for keys in [
            format!(r#""arrangement":"painted","units":[{square},{square}],"painted":["a b1  a3","","b"]"#),
            format!(r#""arrangement":"painted","finished_height":"3 in","units":[{square}],"painted":["a2 a"]"#),
            r#""arrangement":"all-alike","units":[{"kind":"half-square-triangle","cloths":["c1","c1"],"at_a_time":8}]"#
                .into(),
            r#""arrangement":"all-alike","units":[{"kind":"hexagon","cloths":["c1","c1","c1"]}],"borders":[{"width":"1 in","cloth":"c1"}]"#
                .into(),
        ] {
            assert_eq!(told(&keys), [], "{keys}");
        }
    }
}
