//! How much binding the edges take, and how wide its strips are.

use super::fold_name;
use crate::figures::check::called;
use crate::measure::{EIGHTH, INCH, Length, Round, Unit};
use crate::plan::{Allowances, Binding, Edge, Fold, Plan};

pub(super) struct Need {
    pub edges: Length,
    pub total: Length,
    pub working: Vec<String>,
    pub fields: Vec<&'static str>,
}

/// Binding for all runs of one edge: the edge, its corners and its ends, so many
/// times. `strip` is the exact width of the strip.
pub fn run_total(edge: &Edge, allowances: &Allowances, strip: Length) -> Length {
    (edge.length + allowances.binding_corner * i64::from(edge.corners) + ends(edge, allowances, strip))
        * i64::from(edge.count)
}

/// What the ends of one run take. A run that closes is joined to itself on the
/// diagonal, which takes a square of the strip, here with what the marks of a
/// ruler may add to it: a wide strip takes more than the allowance.
fn ends(edge: &Edge, allowances: &Allowances, strip: Length) -> Length {
    if edge.closed {
        allowances.binding_closed_end.max(strip + EIGHTH)
    } else {
        allowances.binding_open_ends
    }
}

/// Width of the strip for a finished width seen on one side.
///
/// Single fold: four times the finished width and 1/8 in for the turn. Double
/// fold: the trade's four times and 1 in. Above 1/2 in finished that is less
/// than the six layers of it measure, so there it is six times and 1/8 in for
/// the turn, as the tight printed strip has it (1 5/8 in for 1/4 in): without
/// it the fold would not reach over the seam on the other side.
pub fn strip_width(fold: Fold, finished: Length, thickness: Length) -> Length {
    let width = match fold {
        Fold::Single => finished * 4 + EIGHTH,
        Fold::Double if is_wide(finished) => finished * 6 + EIGHTH,
        Fold::Double => finished * 4 + INCH,
    };
    width + thickness
}

/// A double fold whose six layers measure more than the trade's rule gives.
fn is_wide(finished: Length) -> bool {
    finished * 6 > finished * 4 + INCH
}

pub(super) fn need(plan: &Plan, strip: Length) -> Need {
    let unit = plan.unit;
    let a = &plan.allowances;
    let one = |length: Length| match unit {
        Unit::Inch => length.inches(Round::Nearest),
        Unit::Cm => length.cm(Round::Nearest),
    };
    let mut working = Vec::new();
    let mut fields = Vec::new();
    let mut edges = Length::ZERO;
    let mut total = Length::ZERO;
    for edge in &plan.edges {
        let count = i64::from(edge.count);
        edges += edge.length * count;
        let run = run_total(edge, a, strip);
        total += run;
        let times = if count == 1 {
            String::new()
        } else {
            format!("{count} × ")
        };
        let mut parts = vec![one(edge.length)];
        if edge.corners > 0 {
            let corners = if edge.corners == 1 { "corner" } else { "corners" };
            parts.push(format!("{} {corners} × {}", edge.corners, one(a.binding_corner)));
        }
        parts.push(if edge.closed {
            let wide = if strip + EIGHTH > a.binding_closed_end {
                " (the strip's width and 1/8 in)"
            } else {
                ""
            };
            format!("{}{wide} to close", ends(edge, a, strip).cut_one(unit))
        } else {
            format!("{} for the ends", one(a.binding_open_ends))
        });
        working.push(format!(
            "{}: {times}({}) = {}.",
            called(&edge.name, &edge.id),
            parts.join(" + "),
            run.both(unit, Round::Up)
        ));
        let mut add = |field| {
            if !fields.contains(&field) {
                fields.push(field);
            }
        };
        if edge.corners > 0 {
            add("binding_corner");
        }
        add(if edge.closed {
            "binding_closed_end"
        } else {
            "binding_open_ends"
        });
    }
    working.push(format!("Binding in all: {}.", total.both(unit, Round::Up)));
    Need {
        edges,
        total,
        working,
        fields,
    }
}

pub(super) fn strip_working(binding: &Binding, strip: Length, unit: Unit) -> String {
    let one = |length: Length| match unit {
        Unit::Inch => length.inches(Round::Nearest),
        Unit::Cm => length.cm(Round::Nearest),
    };
    let f = binding.finished_width;
    let rule = match binding.fold {
        Fold::Single => format!("4 × {} + {}", one(f), one(EIGHTH)),
        Fold::Double if is_wide(f) => format!(
            "6 × {} + {} (4 × {} + {} would be too narrow)",
            one(f),
            one(EIGHTH),
            one(f),
            one(INCH)
        ),
        Fold::Double => format!("4 × {} + {}", one(f), one(INCH)),
    };
    let thick = if binding.thickness.is_positive() {
        format!(" + {} for thick layers", one(binding.thickness))
    } else {
        String::new()
    };
    format!(
        "Strip width, {}: {rule}{thick} = {}.",
        fold_name(binding.fold),
        strip.cut(unit)
    )
}
