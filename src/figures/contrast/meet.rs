//! Which cloths lie side by side in a face.
//!
//! Of two units side by side every cloth along the one edge counts as meeting
//! every cloth along the other; on point, every cloth of the one's edges every
//! one of the other's. That may name a pair that only meets at a corner, and
//! never leaves out one that shares a seam.

use crate::figures::PanelFigures;
use crate::plan::{Face, Patchwork, Unit, UnitKind};
use std::collections::BTreeSet;

type Pairs<'a> = BTreeSet<(&'a str, &'a str)>;

/// Units of a panel that are gone through one by one.
const MOST: usize = 40_000;

pub(super) fn neighbours<'a>(face: &'a Face, panel: Option<&PanelFigures>) -> Pairs<'a> {
    let mut pairs = Pairs::new();
    if let Face::Patchwork(p) = face {
        of_patchwork(p, panel, &mut pairs);
    }
    pairs
}

/// A unit as it meets others: top, right, bottom, left.
#[derive(Clone, Default)]
struct Edges<'a>([BTreeSet<&'a str>; 4]);

impl<'a> Edges<'a> {
    fn turned(mut self, quarters: u32) -> Edges<'a> {
        // Clockwise: what was at the left is at the top.
        self.0.rotate_right(quarters as usize % 4);
        self
    }

    fn all(&self) -> BTreeSet<&'a str> {
        self.0.iter().flatten().copied().collect()
    }
}

fn meet<'a>(pairs: &mut Pairs<'a>, one: &BTreeSet<&'a str>, other: &BTreeSet<&'a str>) {
    for a in one {
        for b in other {
            if a != b {
                pairs.insert((a.min(b), a.max(b)));
            }
        }
    }
}

fn of_patchwork<'a>(p: &'a Patchwork, panel: Option<&PanelFigures>, pairs: &mut Pairs<'a>) {
    let units: Vec<Edges<'a>> = p.units.iter().map(|u| of_unit(u, pairs)).collect();
    let whole: BTreeSet<&str> = units.iter().flat_map(Edges::all).collect();
    let only = |id: &'a String| BTreeSet::from([id.as_str()]);
    // What the next strip outside meets.
    let mut outermost = whole.clone();
    if let Some(sashing) = &p.sashing {
        let strip = only(&sashing.cloth);
        meet(pairs, &whole, &strip);
        if let Some(posts) = &sashing.posts {
            meet(pairs, &strip, &only(posts));
        }
        if sashing.around || p.on_point.is_some() {
            outermost = strip;
            outermost.extend(sashing.posts.as_deref());
        } else {
            outermost.extend(strip);
        }
    } else if !p.units.first().is_some_and(|u| u.kind.in_rows()) {
        between_units(p, panel, &units, pairs);
    }
    if let Some(on_point) = &p.on_point {
        let setting = BTreeSet::from([on_point.side.as_str(), on_point.corner.as_str()]);
        meet(pairs, &outermost, &setting);
        meet(pairs, &setting, &setting);
        outermost = setting;
    }
    for border in &p.borders {
        let mut strip = only(&border.cloth);
        meet(pairs, &outermost, &strip);
        if let Some(corners) = &border.corners {
            meet(pairs, &strip, &only(corners));
            strip.insert(corners.as_str());
        }
        outermost = strip;
    }
}

fn between_units<'a>(p: &'a Patchwork, panel: Option<&PanelFigures>, units: &[Edges<'a>], pairs: &mut Pairs<'a>) {
    let known = panel.filter(|panel| panel.columns > 0 && panel.rows > 0);
    let side = |n: i64| usize::try_from(n).unwrap_or(1).clamp(1, MOST);
    // Without figures a corner of the panel stands for it.
    let (columns, rows) = known.map_or((16, 16), |panel| (side(panel.columns), side(panel.rows)));
    // On point the rows between are counted too.
    let rows = if p.on_point.is_some() { rows * 2 } else { rows }.min((MOST / columns).max(1));
    // Each way two units stand beside each other is looked at once.
    let mut seen: BTreeSet<[u32; 5]> = BTreeSet::new();
    let mut above: Vec<(usize, u32)> = Vec::new();
    for row in 0..rows {
        let now = p.row_of(row, columns);
        for (column, here) in now.iter().enumerate() {
            let left = column.checked_sub(1).map(|c| now[c]);
            let over = above.get(column).copied();
            for (way, other) in [(0, left), (1, over)] {
                let Some(other) = other else { continue };
                if p.on_point.is_some() && way == 0 {
                    continue;
                }
                let key = [way, here.0 as u32, here.1, other.0 as u32, other.1];
                if !seen.insert(key) {
                    continue;
                }
                let of = |(unit, turn): (usize, u32)| units.get(unit).cloned().unwrap_or_default().turned(turn);
                let (here, other) = (of(*here), of(other));
                match (p.on_point.is_some(), way) {
                    (true, _) => meet(pairs, &here.all(), &other.all()),
                    (false, 0) => meet(pairs, &here.0[3], &other.0[1]),
                    (false, _) => meet(pairs, &here.0[0], &other.0[2]),
                }
            }
        }
        above = now;
    }
}

/// The edges of a unit unturned; what meets inside it is noted.
fn of_unit<'a>(unit: &'a Unit, pairs: &mut Pairs<'a>) -> Edges<'a> {
    if unit.kind == UnitKind::Composed {
        return of_parts(unit, pairs);
    }
    of_simple(unit.kind, &unit.cloths, pairs)
}

fn of_simple<'a>(kind: UnitKind, cloths: &'a [String], pairs: &mut Pairs<'a>) -> Edges<'a> {
    let one = |n: usize| -> BTreeSet<&'a str> { cloths.get(n).map(String::as_str).into_iter().collect() };
    let all: BTreeSet<&str> = cloths.iter().map(String::as_str).collect();
    let same = |s: BTreeSet<&'a str>| Edges([s.clone(), s.clone(), s.clone(), s]);
    match kind {
        UnitKind::Square => same(one(0)),
        UnitKind::HalfSquareTriangle => {
            meet(pairs, &one(0), &one(1));
            Edges([one(0), one(1), one(1), one(0)])
        }
        UnitKind::QuarterSquareTriangle => {
            for n in 0..4 {
                meet(pairs, &one(n), &one((n + 1) % 4));
            }
            Edges([one(0), one(1), one(2), one(3)])
        }
        UnitKind::Rail => {
            for n in 1..cloths.len() {
                meet(pairs, &one(n - 1), &one(n));
            }
            Edges([all.clone(), one(cloths.len().saturating_sub(1)), all, one(0)])
        }
        UnitKind::FlyingGeese => {
            meet(pairs, &one(0), &one(1));
            Edges([one(1), one(1), one(0), one(1)])
        }
        UnitKind::SquareInASquare => {
            meet(pairs, &one(0), &one(1));
            same(one(1))
        }
        UnitKind::FourPatch | UnitKind::NinePatch | UnitKind::Pinwheel => {
            meet(pairs, &one(0), &one(1));
            same(all)
        }
        UnitKind::Triangle60 | UnitKind::Diamond60 | UnitKind::Hexagon => {
            // One cloth after the other in a row; the next row begins one further.
            for n in 0..cloths.len() {
                meet(pairs, &one(n), &one((n + 1) % cloths.len()));
            }
            same(all)
        }
        UnitKind::Composed => Edges::default(),
    }
}

fn of_parts<'a>(unit: &'a Unit, pairs: &mut Pairs<'a>) -> Edges<'a> {
    let side = unit.parts.len().isqrt();
    let mut edges = Edges::default();
    let parts: Vec<Edges<'a>> = unit
        .parts
        .iter()
        .map(|part| of_simple(part.kind, &part.cloths, pairs).turned(part.turn))
        .collect();
    for (n, part) in parts.iter().take(side * side).enumerate() {
        let (row, column) = (n / side, n % side);
        if column > 0 {
            meet(pairs, &part.0[3], &parts[n - 1].0[1]);
        } else {
            edges.0[3].extend(&part.0[3]);
        }
        if row > 0 {
            meet(pairs, &part.0[0], &parts[n - side].0[2]);
        } else {
            edges.0[0].extend(&part.0[0]);
        }
        if column + 1 == side {
            edges.0[1].extend(&part.0[1]);
        }
        if row + 1 == side {
            edges.0[2].extend(&part.0[2]);
        }
    }
    edges
}
