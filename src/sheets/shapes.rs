//! The patches of a unit as areas of a square, by kind: what drawings of
//! units, panels and the painter are made of.

use crate::plan::{Unit, UnitKind};
use std::fmt::Write;

/// The side of a drawn unit. Divides into 2, 3, 4, 5, 6 and 8 parts.
pub const SIDE: i64 = 240;

pub type Point = (i64, i64);

/// One patch of a unit, in a square of [`SIDE`].
#[derive(Clone, Debug)]
pub struct Area {
    /// The position of its cloth in the unit.
    pub position: usize,
    pub points: Vec<Point>,
    /// Where its letter stands, and how large it may be.
    pub label: Point,
    pub room: i64,
}

fn area(position: usize, room: i64, points: &[Point]) -> Area {
    let n = points.len().max(1) as i64;
    Area {
        position,
        room,
        label: (
            points.iter().map(|p| p.0).sum::<i64>() / n,
            points.iter().map(|p| p.1).sum::<i64>() / n,
        ),
        points: points.to_vec(),
    }
}

fn rect(position: usize, room: i64, x: i64, y: i64, w: i64, h: i64) -> Area {
    area(position, room, &[(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
}

/// The patches of a unit of a kind, `cloths` of them where their number is free.
/// A composed unit has its patches in its parts: see [`patches`].
pub fn areas(kind: UnitKind, cloths: usize) -> Vec<Area> {
    const S: i64 = SIDE;
    const H: i64 = SIDE / 2;
    match kind {
        UnitKind::Square | UnitKind::Composed => vec![rect(0, 96, 0, 0, S, S)],
        UnitKind::HalfSquareTriangle => vec![
            area(0, 80, &[(0, 0), (S, 0), (0, S)]),
            area(1, 80, &[(S, 0), (S, S), (0, S)]),
        ],
        UnitKind::QuarterSquareTriangle => vec![
            area(0, 60, &[(0, 0), (S, 0), (H, H)]),
            area(1, 60, &[(S, 0), (S, S), (H, H)]),
            area(2, 60, &[(S, S), (0, S), (H, H)]),
            area(3, 60, &[(0, S), (0, 0), (H, H)]),
        ],
        UnitKind::Rail => {
            let n = cloths.clamp(1, 8) as i64;
            (0..n)
                .map(|i| {
                    let (from, to) = (i * S / n, (i + 1) * S / n);
                    rect(i as usize, 80.min(S / n), from, 0, to - from, S)
                })
                .collect()
        }
        UnitKind::FlyingGeese => [0, H]
            .into_iter()
            .flat_map(|y| {
                [
                    area(0, 64, &[(0, y + H), (H, y), (S, y + H)]),
                    area(1, 44, &[(0, y), (H, y), (0, y + H)]),
                    area(1, 44, &[(H, y), (S, y), (S, y + H)]),
                ]
            })
            .collect(),
        UnitKind::SquareInASquare => vec![
            area(0, 90, &[(H, 0), (S, H), (H, S), (0, H)]),
            area(1, 44, &[(0, 0), (H, 0), (0, H)]),
            area(1, 44, &[(H, 0), (S, 0), (S, H)]),
            area(1, 44, &[(S, H), (S, S), (H, S)]),
            area(1, 44, &[(H, S), (0, S), (0, H)]),
        ],
        UnitKind::FourPatch => chequered(2),
        UnitKind::NinePatch => chequered(3),
        UnitKind::Pinwheel => (0..4)
            .flat_map(|turn| {
                [
                    area(0, 48, &turned(&[(0, 0), (H, 0), (H, H)], turn)),
                    area(1, 48, &turned(&[(0, 0), (H, H), (0, H)], turn)),
                ]
            })
            .collect(),
        // As they look alone; in a panel they stand in rows.
        UnitKind::Triangle60 => {
            let top = 16;
            vec![
                area(0, 80, &[(H, top), (S, S - top), (0, S - top)]),
                area(1, 44, &[(H, top), (0, S - top), (0, top)]),
                area(1, 44, &[(H, top), (S, top), (S, S - top)]),
            ]
        }
        UnitKind::Diamond60 => vec![area(0, 80, &[(80, 50), (S, 50), (160, 190), (0, 190)])],
        UnitKind::Hexagon => vec![area(
            0,
            96,
            &[(H, 0), (224, 60), (224, 180), (H, S), (16, 180), (16, 60)],
        )],
    }
}

fn chequered(across: i64) -> Vec<Area> {
    let side = SIDE / across;
    (0..across * across)
        .map(|i| {
            let (c, r) = (i % across, i / across);
            rect(((c + r) % 2) as usize, 96 / across + 10, c * side, r * side, side, side)
        })
        .collect()
}

/// Quarter turns clockwise about the middle of the unit.
pub fn turned(points: &[Point], turn: u32) -> Vec<Point> {
    let mut points = points.to_vec();
    for _ in 0..turn % 4 {
        for p in &mut points {
            *p = (SIDE - p.1, p.0);
        }
    }
    points
}

/// One patch with the id of its cloth.
pub struct Patch<'a> {
    pub cloth: &'a str,
    pub points: Vec<Point>,
    pub label: Point,
    pub room: i64,
}

/// The patches of a unit, turned, with their cloths; those of a composed unit
/// from its parts.
pub fn patches(unit: &Unit, turn: u32) -> Vec<Patch<'_>> {
    let mut list = Vec::new();
    if unit.kind == UnitKind::Composed {
        let across = (1..=4).find(|n| n * n >= unit.parts.len()).unwrap_or(4);
        let side = SIDE / across as i64;
        for (i, part) in unit.parts.iter().take(16).enumerate() {
            let at = ((i % across) as i64 * side, (i / across) as i64 * side);
            let own = areas(part.kind, part.cloths.len()).into_iter().map(|a| (part, a));
            for (part, mut a) in own {
                a.points = turned(&a.points, part.turn);
                a.label = turned(&[a.label], part.turn)[0];
                let within = |p: &Point| (at.0 + p.0 / across as i64, at.1 + p.1 / across as i64);
                list.push(Patch {
                    cloth: part.cloths.get(a.position).map_or("", String::as_str),
                    points: a.points.iter().map(within).collect(),
                    label: within(&a.label),
                    room: (a.room / across as i64 + 8).min(a.room),
                });
            }
        }
    } else {
        for a in areas(unit.kind, unit.cloths.len()) {
            list.push(Patch {
                cloth: unit.cloths.get(a.position).map_or("", String::as_str),
                points: a.points,
                label: a.label,
                room: a.room,
            });
        }
    }
    for patch in &mut list {
        patch.points = turned(&patch.points, turn);
        patch.label = turned(&[patch.label], turn)[0];
    }
    list
}

/// `M0 0L240 0L0 240z`.
pub fn path(points: &[Point]) -> String {
    let mut text = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        // Writing to a String cannot fail.
        let _ = write!(text, "{}{x} {y}", if i == 0 { "M" } else { "L" });
    }
    text.push('z');
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twice the area of a polygon.
    fn doubled(points: &[Point]) -> i64 {
        let next = points.iter().cycle().skip(1);
        points
            .iter()
            .zip(next)
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum::<i64>()
            .abs()
    }

    #[test]
    fn patches_fill_their_unit_and_no_more() {
        for kind in UnitKind::ALL.into_iter().filter(|k| !k.in_rows()) {
            let (least, most) = kind.positions();
            for cloths in least..=most {
                let areas = areas(kind, cloths);
                let sum: i64 = areas.iter().map(|a| doubled(&a.points)).sum();
                assert_eq!(sum, 2 * SIDE * SIDE, "{kind:?} of {cloths}");
                assert!(areas.iter().all(|a| a.position < most.max(1)), "{kind:?}");
                for turn in 0..4 {
                    for a in &areas {
                        assert!(
                            turned(&a.points, turn)
                                .iter()
                                .all(|p| (0..=SIDE).contains(&p.0) && (0..=SIDE).contains(&p.1))
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn a_turn_goes_clockwise() {
        // The top left corner goes to the top right.
        assert_eq!(turned(&[(0, 0)], 1), [(SIDE, 0)]);
        assert_eq!(turned(&[(0, 0)], 2), [(SIDE, SIDE)]);
        assert_eq!(turned(&[(0, 0)], 4), [(0, 0)]);
    }
}
