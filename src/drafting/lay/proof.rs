//! When pieces cannot be laid, and why: only what is proven is ever said.

use super::body::Body;
use super::outline::{edges, nudged};
use super::prepared::{Field, Kind, Prepared, Remnant, Turned};
use super::slide::lone_place;
use kurbo::{Point, Rect};

/// Why there is no layout. Measures are in millimetres, areas in square ones.
#[derive(Clone, Debug, PartialEq)]
pub enum Proof {
    /// A piece (index in the problem) is wider than the cloth in every way it
    /// may lie: across the cloth on the bolt, in one direction on remnants.
    TooWide { piece: usize, least: f64, most: f64 },
    /// A piece alone has no place on any remnant.
    NoPlace { piece: usize },
    /// These pieces have no place but on some of the remnants (by their
    /// numbers from 0), and together more area than those.
    Area {
        pieces: Vec<usize>,
        remnants: Vec<usize>,
        needed: f64,
        there: f64,
    },
}

/// A layout might overlook this much, in millimetres: what would fit if it were
/// smaller by it is not said not to fit.
const DOUBT: f64 = 1e-4;
/// Beyond so many contacts of one piece with one remnant nothing is proven.
const MOST_CONTACTS: usize = 1500;

/// On the bolt: a piece too wide for it.
pub(super) fn too_wide(prepared: &Prepared) -> Option<Proof> {
    let Field::Strip { width } = prepared.field else {
        return None;
    };
    prepared.kinds.iter().find_map(|kind| {
        let least = kind.ways.iter().map(|w| w.height).fold(f64::INFINITY, f64::min);
        (least > width + DOUBT).then_some(Proof::TooWide {
            piece: kind.piece,
            least,
            most: width,
        })
    })
}

/// Whether a kind of piece has a place on a remnant, alone, as far as can be
/// told; and how much work that was, in steps.
pub(super) fn has_place(kind: &Kind, remnant: &Remnant) -> (bool, u64) {
    let mut work = 0;
    let has = kind.ways.iter().any(|way| {
        let corners = (way.outline.len() * remnant.outline.len()) as u64;
        work += 10 + (corners * corners / 2_000).min(2_000);
        may_have_place(way, remnant)
    });
    (has, work)
}

/// The proof that follows from where each kind has a place alone.
pub(super) fn conclude(prepared: &Prepared, places: &[Vec<usize>]) -> Option<Proof> {
    let Field::Remnants(list) = &prepared.field else {
        return None;
    };
    for (kind, places) in prepared.kinds.iter().zip(places) {
        if places.is_empty() {
            return Some(no_place(kind, list));
        }
    }
    // All together on all that any has a place on; then those of fewer places.
    let mut sets: Vec<Vec<usize>> = vec![
        (0..list.len())
            .filter(|r| places.iter().any(|p| p.contains(r)))
            .collect(),
    ];
    sets.extend(places.iter().cloned());
    sets.into_iter().find_map(|set| {
        let belongs = |kind: usize| places[kind].iter().all(|r| set.contains(r));
        let needed: f64 = prepared
            .copies
            .iter()
            .filter(|c| belongs(c.kind))
            .map(|c| prepared.kinds[c.kind].area)
            .sum();
        let there: f64 = set.iter().map(|r| list[*r].area).sum();
        let mut pieces: Vec<usize> = (0..prepared.kinds.len())
            .filter(|k| belongs(*k))
            .map(|k| prepared.kinds[k].piece)
            .collect();
        pieces.dedup();
        (needed > there * (1.0 + 1e-9)).then_some(Proof::Area {
            pieces,
            remnants: set,
            needed,
            there,
        })
    })
}

/// The plainer sentence where the rectangles round both say it already.
fn no_place(kind: &Kind, list: &[Remnant]) -> Proof {
    let piece = kind.piece;
    for size in [|w: &Turned| w.height, |w: &Turned| w.width] {
        let least = kind.ways.iter().map(size).fold(f64::INFINITY, f64::min);
        // In every way it may lie longer than any remnant is either way.
        let most = list
            .iter()
            .map(|r| r.round.width().max(r.round.height()))
            .fold(0.0, f64::max);
        if least > most + DOUBT {
            return Proof::TooWide { piece, least, most };
        }
    }
    Proof::NoPlace { piece }
}

/// False only if the piece, lying this way, has no place on the remnant.
fn may_have_place(way: &Turned, remnant: &Remnant) -> bool {
    let room = Rect::new(
        remnant.round.x0 - DOUBT,
        remnant.round.y0 - DOUBT,
        remnant.round.x1 - way.width + DOUBT,
        remnant.round.y1 - way.height + DOUBT,
    );
    if room.x1 < room.x0 || room.y1 < room.y0 {
        return false;
    }
    lone_place(way, remnant).is_some() || !has_no_place(way, remnant, room)
}

/// The places of a piece inside an outline make a closed set. If there is one
/// at all, there is one of least x (and of those of least y), and there two
/// contacts hold the piece, or one contact at its end: a corner of the one on a
/// corner of the other. So it is enough to look at all ends and crossings of
/// contacts (a corner of one sliding along an edge of the other).
fn has_no_place(way: &Turned, remnant: &Remnant, room: Rect) -> bool {
    let near = room.inflate(DOUBT, DOUBT);
    let mut contacts: Vec<(Point, Point)> = Vec::new();
    for (a, b) in edges(&remnant.outline) {
        contacts.extend(way.outline.iter().map(|p| (a - p.to_vec2(), b - p.to_vec2())));
    }
    for (a, b) in edges(&way.outline) {
        contacts.extend(remnant.outline.iter().map(|c| (*c - a.to_vec2(), *c - b.to_vec2())));
    }
    contacts.retain(|(a, b)| {
        let round = Rect::from_points(*a, *b);
        round.x0 <= near.x1 && round.x1 >= near.x0 && round.y0 <= near.y1 && round.y1 >= near.y0
    });
    if contacts.len() > MOST_CONTACTS {
        return false;
    }
    let small = Body::outline_only(&nudged(&way.outline, -DOUBT / 2.0));
    let large = Body::outline_only(&nudged(&remnant.outline, DOUBT / 2.0));
    let lies = |t: Point| {
        near.contains(t) && large.holds(small.x[0] + t.x, small.y[0] + t.y) && !large.edges_cross(&small, t.x, t.y)
    };
    for (at, &(a, b)) in contacts.iter().enumerate() {
        if lies(a) || lies(b) {
            return false;
        }
        let along = b - a;
        for &(c, d) in &contacts[at + 1..] {
            let other = d - c;
            let turn = along.cross(other);
            // Contacts so nearly parallel lie within the doubt of each other's ends.
            if turn.abs() <= 1e-9 * along.hypot() * other.hypot() {
                continue;
            }
            let s = (c - a).cross(other) / turn;
            let t = (c - a).cross(along) / turn;
            let (slack_s, slack_t) = (DOUBT / along.hypot(), DOUBT / other.hypot());
            if s >= -slack_s && s <= 1.0 + slack_s && t >= -slack_t && t <= 1.0 + slack_t && lies(a + along * s) {
                return false;
            }
        }
    }
    true
}
