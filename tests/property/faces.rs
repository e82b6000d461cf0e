//! Faces to try: every unit, arrangement and setting a maker could choose, and
//! hostile ones.

use crate::plans::{cloth_id, inches};
use notchbook::measure::{EIGHTH, Length};
use notchbook::plan::{Arrangement, Border, Face, OnPoint, Part, Patchwork, Sashing, Unit, UnitKind};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// Cloths for a kind, out of eight.
fn cloths_of(kind: UnitKind, cloths: &[String], strips: usize) -> Vec<String> {
    let (least, most) = kind.positions();
    cloths[..strips.clamp(least, most)].to_vec()
}

fn part() -> impl Strategy<Value = Part> {
    (0..4usize, vec(cloth_id(), 8), 2..=3usize, 0..4u32).prop_map(|(kind, cloths, strips, turn)| {
        let kind = UnitKind::ALL[kind];
        Part {
            kind,
            cloths: cloths_of(kind, &cloths, strips),
            turn,
        }
    })
}

/// A unit that fills a square.
fn unit() -> impl Strategy<Value = Unit> {
    let composed = prop_oneof![3 => Just(4usize), 1 => Just(9usize), 1 => Just(16usize)]
        .prop_flat_map(|n| vec(part(), n))
        .prop_map(|parts| Unit {
            parts,
            ..Unit::new(UnitKind::Composed, Vec::new())
        });
    let other = (0..9usize, vec(cloth_id(), 8), 2..=8usize, 0..3usize).prop_map(|(kind, cloths, strips, way)| {
        let kind = UnitKind::ALL[kind];
        let mut unit = Unit::new(kind, cloths_of(kind, &cloths, strips));
        if kind == UnitKind::HalfSquareTriangle {
            unit.at_a_time = [2, 4, 8][way];
        }
        unit
    });
    prop_oneof![6 => other, 1 => composed]
}

/// A plain rectangle or a rail: what may have a height of its own.
fn oblong() -> impl Strategy<Value = Unit> {
    (any::<bool>(), vec(cloth_id(), 8), 2..=4usize).prop_map(|(rail, cloths, strips)| {
        let kind = if rail { UnitKind::Rail } else { UnitKind::Square };
        Unit::new(kind, cloths_of(kind, &cloths, strips))
    })
}

fn in_rows() -> impl Strategy<Value = Unit> {
    (10..13usize, vec(cloth_id(), 8), 1..=8usize).prop_map(|(kind, cloths, count)| {
        let kind = UnitKind::ALL[kind];
        Unit::new(kind, cloths_of(kind, &cloths, count))
    })
}

fn sashing() -> impl Strategy<Value = Sashing> {
    (inches(1, 3), cloth_id(), option::of(cloth_id()), any::<bool>()).prop_map(|(width, cloth, posts, around)| {
        Sashing {
            width,
            cloth,
            posts,
            around,
        }
    })
}

fn borders() -> impl Strategy<Value = Vec<Border>> {
    let border = (inches(1, 4), cloth_id(), option::of(cloth_id())).prop_map(|(width, cloth, corners)| Border {
        width,
        cloth,
        corners,
    });
    prop_oneof![3 => Just(Vec::new()), 1 => vec(border, 1..3)]
}

/// Units in an arrangement: as many as it takes, and what is painted.
fn arranged(units: Vec<Unit>, arrangement: usize, painted: Vec<Vec<(usize, u32)>>, square: bool) -> Patchwork {
    let arrangement = [
        Arrangement::AllAlike,
        Arrangement::Alternating,
        Arrangement::Rows,
        Arrangement::Painted,
    ][arrangement];
    let take = match arrangement {
        Arrangement::AllAlike => 1,
        Arrangement::Alternating => 2,
        Arrangement::Rows => units.len().max(2),
        Arrangement::Painted => units.len(),
    };
    let units: Vec<Unit> = units.iter().cycle().take(take).cloned().collect();
    let mark = |(unit, turn): &(usize, u32)| {
        let letter = char::from(b'a' + (unit % units.len()) as u8);
        // An oblong unit is turned by half at most.
        let turn = if square { *turn } else { turn / 2 * 2 };
        if turn == 0 {
            letter.to_string()
        } else {
            format!("{letter}{turn}")
        }
    };
    let rows = painted
        .iter()
        .map(|row| row.iter().map(mark).collect::<Vec<_>>().join(" "));
    Patchwork {
        painted: if arrangement == Arrangement::Painted {
            rows.collect()
        } else {
            Vec::new()
        },
        arrangement,
        units,
        ..Default::default()
    }
}

fn painted() -> impl Strategy<Value = Vec<Vec<(usize, u32)>>> {
    vec(vec((0..8usize, 0..4u32), 0..8), 0..8)
}

pub fn face() -> BoxedStrategy<Face> {
    let straight = (
        inches(3, 9),
        vec(unit(), 1..4),
        0..4usize,
        painted(),
        option::weighted(0.3, sashing()),
        borders(),
    )
        .prop_map(|(finished, units, arrangement, painted, sashing, borders)| Patchwork {
            finished,
            sashing,
            borders,
            ..arranged(units, arrangement, painted, true)
        });
    let oblong = (
        (inches(3, 9), inches(3, 9)),
        vec(oblong(), 1..4),
        0..4usize,
        painted(),
        option::weighted(0.3, sashing()),
        borders(),
    )
        .prop_map(
            |((finished, height), units, arrangement, painted, sashing, borders)| Patchwork {
                finished,
                finished_height: Some(height),
                sashing,
                borders,
                ..arranged(units, arrangement, painted, false)
            },
        );
    let on_point = (
        inches(3, 9),
        vec(unit(), 1..4),
        0..4usize,
        painted(),
        (cloth_id(), cloth_id(), cloth_id()),
        option::weighted(0.3, sashing()),
        borders(),
    )
        .prop_map(
            |(finished, units, arrangement, painted, (side, corner, posts), sashing, borders)| Patchwork {
                finished,
                on_point: Some(OnPoint { side, corner }),
                sashing: sashing.map(|s| Sashing {
                    posts: Some(posts),
                    ..s
                }),
                borders,
                ..arranged(units, arrangement, painted, true)
            },
        );
    let rows = (inches(1, 6), in_rows(), borders()).prop_map(|(finished, unit, borders)| Patchwork {
        finished,
        units: vec![unit],
        borders,
        ..Default::default()
    });
    prop_oneof![
        2 => cloth_id().prop_map(Face::plain),
        5 => straight.prop_map(Face::Patchwork),
        1 => oblong.prop_map(Face::Patchwork),
        2 => on_point.prop_map(Face::Patchwork),
        2 => rows.prop_map(Face::Patchwork),
    ]
    .boxed()
}

/// Parts of sound faces, and parts that are wrong in every way the types allow.
pub fn wild(length: fn() -> BoxedStrategy<Length>, text: fn() -> BoxedStrategy<String>) -> BoxedStrategy<Face> {
    let kind = (0..UnitKind::ALL.len()).prop_map(|n| UnitKind::ALL[n]);
    let part = (
        kind.clone(),
        vec(text(), 0..5),
        prop_oneof![4 => 0..4u32, 1 => any::<u32>()],
    )
        .prop_map(|(kind, cloths, turn)| Part { kind, cloths, turn });
    let unit = (
        kind,
        vec(text(), 0..9),
        prop_oneof![3 => Just(2u32), 1 => any::<u32>()],
        prop_oneof![3 => vec(part.clone(), 0..1), 1 => vec(part, 4)],
    )
        .prop_map(|(kind, cloths, at_a_time, parts)| Unit {
            kind,
            cloths,
            at_a_time,
            parts,
        });
    let strip = (length(), text(), option::of(text()), any::<bool>());
    let wild = (
        (length(), option::weighted(0.2, length()), 0..4usize),
        vec(unit, 0..4),
        vec(prop_oneof![2 => "[a-d][0-3]?( [a-d][0-3]?){0,5}", 1 => ".{0,12}"], 0..4),
        option::weighted(0.2, (text(), text())),
        option::weighted(0.2, strip.clone()),
        prop_oneof![3 => vec(strip.clone(), 0..1), 1 => vec(strip, 0..9)],
    )
        .prop_map(
            |((finished, finished_height, arrangement), units, painted, on_point, sashing, borders)| Patchwork {
                finished,
                finished_height,
                arrangement: [
                    Arrangement::AllAlike,
                    Arrangement::Alternating,
                    Arrangement::Rows,
                    Arrangement::Painted,
                ][arrangement],
                units,
                painted,
                on_point: on_point.map(|(side, corner)| OnPoint { side, corner }),
                sashing: sashing.map(|(width, cloth, posts, around)| Sashing {
                    width,
                    cloth,
                    posts,
                    around,
                }),
                borders: borders
                    .into_iter()
                    .map(|(width, cloth, corners, _)| Border { width, cloth, corners })
                    .collect(),
            },
        );
    // A sound face with one length that is anything.
    let nearly = (face(), length(), 0..4usize).prop_map(|(face, length, which)| match face {
        Face::Patchwork(mut p) => {
            match which {
                0 => p.finished = length,
                1 => p.finished_height = Some(length),
                2 => p.sashing.iter_mut().for_each(|s| s.width = length),
                _ => p.borders.iter_mut().for_each(|b| b.width = length),
            }
            Face::Patchwork(p)
        }
        plain => plain,
    });
    // Tiny patches of triangles and hexagons, to the limit of what is counted.
    let tiny = (in_rows(), 1..12i64).prop_map(|(unit, n)| {
        Face::Patchwork(Patchwork {
            finished: Length::from_units(EIGHTH.units() * n / 4),
            units: vec![unit],
            ..Default::default()
        })
    });
    prop_oneof![
        1 => text().prop_map(Face::plain),
        3 => wild.prop_map(Face::Patchwork),
        3 => nearly,
        1 => tiny,
    ]
    .boxed()
}
