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

/// Binding for all runs of one edge: the edge, its corners and its ends, so many times.
pub fn run_total(edge: &Edge, allowances: &Allowances) -> Length {
    let ends = if edge.closed {
        allowances.binding_closed_end
    } else {
        allowances.binding_open_ends
    };
    (edge.length + allowances.binding_corner * i64::from(edge.corners) + ends) * i64::from(edge.count)
}

/// Width of the strip for a finished width seen on one side.
///
/// Single fold: four times the finished width and 1/8 in for the turn. Double
/// fold: the trade's four times and 1 in, but never less than six times the
/// finished width, which is what the six layers of it measure: above 1/2 in
/// the trade's rule alone is too narrow.
pub fn strip_width(fold: Fold, finished: Length, thickness: Length) -> Length {
    let width = match fold {
        Fold::Single => finished * 4 + EIGHTH,
        Fold::Double => (finished * 4 + INCH).max(finished * 6),
    };
    width + thickness
}

pub(super) fn need(plan: &Plan, _binding: &Binding) -> Need {
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
        let run = run_total(edge, a);
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
            format!("{} to close", one(a.binding_closed_end))
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
        Fold::Double if f * 6 > f * 4 + INCH => {
            format!("6 × {} (4 × {} + {} would be too narrow)", one(f), one(f), one(INCH))
        }
        Fold::Double => format!("4 × {} + {}", one(f), one(INCH)),
    };
    let thick = if binding.thickness.is_positive() {
        format!(" + {} for thickness", one(binding.thickness))
    } else {
        String::new()
    };
    format!(
        "Strip width, {}: {rule}{thick} = {}.",
        fold_name(binding.fold),
        strip.cut(unit)
    )
}
