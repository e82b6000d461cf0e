//! What the pieces are laid on.

use super::Leftover;
use crate::drafting::lay;
use crate::figures::{outline, outline_words};
use crate::measure::{Round, Unit};
use crate::plan::{Cloth, LayGround};
use kurbo::Point;

/// Most leftovers laid on at once.
const MOST_LEFTOVERS: usize = 40;

impl LayGround {
    pub fn told(self, cloth: &Cloth, unit: Unit) -> String {
        match self {
            LayGround::Single => "One layer of the whole width".into(),
            LayGround::Folded => "Folded lengthwise, right sides together".into(),
            LayGround::Remnants => "All its remnants".into(),
            LayGround::Remnant(n) => format!("Remnant: {}", kind(cloth, n, unit)),
        }
    }
}

fn kind(cloth: &Cloth, n: usize, unit: Unit) -> String {
    let rectangles = cloth.remnants.len();
    if let Some(r) = cloth.remnants.get(n) {
        return format!(
            "{} × {}",
            r.width.both(unit, Round::Down),
            r.length.both(unit, Round::Down)
        );
    }
    cloth
        .outlined
        .get(n - rectangles)
        .map_or_else(String::new, |o| outline_words(&o.outline, unit))
}

pub(super) fn of(cloth: &Cloth) -> Vec<LayGround> {
    let mut all = vec![LayGround::Single, LayGround::Folded];
    let kinds = cloth.remnants.len() + cloth.outlined.len();
    if kinds > 0 {
        all.push(LayGround::Remnants);
    }
    if kinds > 1 {
        all.extend((0..kinds).map(LayGround::Remnant));
    }
    all
}

/// The cloth to lay on, and of leftovers what each is called.
pub(super) fn cloth(cloth: &Cloth, ground: LayGround) -> Result<(lay::Cloth, Vec<Leftover>), String> {
    let width = cloth.usable_width.as_mm_f64();
    let wanted: Vec<usize> = match ground {
        LayGround::Single => return Ok((lay::Cloth::Single { width }, Vec::new())),
        LayGround::Folded => return Ok((lay::Cloth::Folded { width }, Vec::new())),
        LayGround::Remnants => (0..cloth.remnants.len() + cloth.outlined.len()).collect(),
        LayGround::Remnant(n) => vec![n],
    };
    let mut outlines = Vec::new();
    let mut leftovers = Vec::new();
    for n in wanted {
        let (corners, count) = corners(cloth, n)?;
        for copy in 0..count {
            outlines.push(corners.clone());
            leftovers.push(Leftover {
                name: if count > 1 {
                    format!("Remnant {}, number {} of {count}", n + 1, copy + 1)
                } else {
                    format!("Remnant {}", n + 1)
                },
                kind: n,
                nth: copy,
            });
        }
        if outlines.len() > MOST_LEFTOVERS {
            return Err(format!(
                "These are more than {MOST_LEFTOVERS} remnants. Choose one kind of them."
            ));
        }
    }
    if outlines.is_empty() {
        return Err("This cloth has no remnants. Add one to the cloth, or lay on the whole width.".into());
    }
    Ok((lay::Cloth::Remnants(outlines), leftovers))
}

/// Corners of one kind of remnant, x along the grain, and how many there are.
fn corners(cloth: &Cloth, n: usize) -> Result<(Vec<Point>, u32), String> {
    if let Some(r) = cloth.remnants.get(n) {
        let (w, l) = (r.width.as_mm_f64(), r.length.as_mm_f64());
        let around = [(0.0, 0.0), (l, 0.0), (l, w), (0.0, w)].map(Point::from);
        return Ok((around.to_vec(), r.count));
    }
    let Some(outlined) = n
        .checked_sub(cloth.remnants.len())
        .and_then(|at| cloth.outlined.get(at))
    else {
        return Err("This remnant is no longer there. Choose another.".into());
    };
    let shape = outline(&outlined.outline)?;
    let corner = |c: &crate::figures::OutlineCorner| Point::new(c.y.as_mm_f64(), c.x.as_mm_f64());
    Ok((shape.corners.iter().map(corner).collect(), outlined.count))
}
