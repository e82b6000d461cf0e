//! One unit drawn: alone for choosing its kind, in its cloths, and as the
//! shapes the painter on the page fills.

use super::colours::{cloth_of, ink_on};
use super::shapes::{Point, SIDE, areas, patches, path};
use crate::plan::{Plan, Unit, UnitKind};
use crate::web::components::letter;
use maud::{Markup, html};

/// One unit alone in three tones, for choosing its kind.
pub fn unit_drawing(kind: UnitKind) -> Markup {
    let cloths = if kind == UnitKind::Rail { 3 } else { 2 };
    let mut shapes: Vec<(String, usize)> = match kind {
        UnitKind::Composed => patches(&star(), 0)
            .iter()
            .map(|p| (path(&p.points), usize::from(p.cloth == "ground")))
            .collect(),
        _ => areas(kind, cloths)
            .iter()
            .map(|a| (path(&a.points), a.position % if kind == UnitKind::Rail { 3 } else { 2 }))
            .collect(),
    };
    if kind.in_rows() {
        // They fill no square: the rest of it stays open.
        shapes.retain(|(_, tone)| *tone == 0 || kind == UnitKind::Triangle60);
    }
    const TONES: [&str; 3] = ["dark", "light", "mid"];
    html! {
        svg.unit viewBox="-6 -6 252 252" width="42" height="42" aria-hidden="true" {
            @for (d, tone) in &shapes { path class=(TONES[*tone]) d=(d) {} }
        }
    }
}

/// What stands for composed units: three by three parts, some of them turned.
fn star() -> Unit {
    let part = |kind, turn, cloths: &[&str]| crate::plan::Part {
        kind,
        turn,
        cloths: cloths.iter().map(|c| c.to_string()).collect(),
    };
    let triangles = |turn| part(UnitKind::HalfSquareTriangle, turn, &["ground", "point"]);
    let square = |cloth| part(UnitKind::Square, 0, &[cloth]);
    Unit {
        parts: vec![
            triangles(0),
            square("point"),
            triangles(1),
            square("point"),
            square("ground"),
            square("point"),
            triangles(3),
            square("point"),
            triangles(2),
        ],
        ..Unit::new(UnitKind::Composed, Vec::new())
    }
}

/// The patches of a unit in their cloths, `high` where it is not square. A
/// letter stands where it can be at least `least_letter` high.
pub fn unit_patches(plan: &Plan, unit: &Unit, turn: u32, high: i64, least_letter: i64) -> Markup {
    let tall = |p: &Point| (p.0, p.1 * high / SIDE);
    html! {
        @for patch in patches(unit, turn) {
            @let (index, colour) = cloth_of(plan, patch.cloth);
            path class="patch" d=(path(&patch.points.iter().map(tall).collect::<Vec<_>>())) fill=(colour) {}
            @if patch.room >= least_letter {
                @if let Some(index) = index {
                    @let (x, y) = tall(&patch.label);
                    text.cloth-letter x=(x) y=(y) fill=(ink_on(colour)) text-anchor="middle" dominant-baseline="central"
                        font-size=(patch.room.min(high / 2)) { (letter(index)) }
                }
            }
        }
    }
}

/// A unit alone in its cloths, lettered.
pub fn unit_view(plan: &Plan, unit: &Unit) -> Markup {
    html! {
        svg.unit-view viewBox="-4 -4 248 248" width="72" height="72" aria-hidden="true" {
            (unit_patches(plan, unit, 0, SIDE, 0))
        }
    }
}

/// The shapes of every kind, out of sight: the painter uses them and gives
/// them their colours. Rails by their number of strips.
pub fn kind_shapes() -> Markup {
    let kinds = UnitKind::ALL
        .into_iter()
        .filter(|k| !k.in_rows() && *k != UnitKind::Composed);
    html! {
        svg.unseen width="0" height="0" aria-hidden="true" {
            defs {
                @for kind in kinds {
                    @let (least, most) = kind.positions();
                    @for cloths in least..=most {
                        g id=(shape_id(kind, cloths)) {
                            @for a in areas(kind, cloths) { path class=(format!("patch c{}", a.position)) d=(path(&a.points)) {} }
                        }
                    }
                }
            }
        }
    }
}

/// `kind-rail-3`, `kind-half-square-triangle-2`.
fn shape_id(kind: UnitKind, cloths: usize) -> String {
    format!("kind-{}-{cloths}", crate::web::form::word(&kind))
}
