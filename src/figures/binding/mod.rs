//! Binding: from edges to the cloth it is cut from.
//!
//! - [`need`]: how much binding, and how wide its strips are
//! - [`straight`], [`bias`], [`continuous`]: the three ways to cut it
//! - [`ways`]: those three compared
//! - [`drawn`]: bias strips as they lie on their rectangle
//! - [`remnant`]: whether what is at hand gives it
//! - [`kept`]: remnants kept for it
//! - [`left_out`]: edges of outlines that are bound and not counted
//!
//! Every way gives at least the total; where a way rounds, it rounds so that
//! there is more.

pub mod bias;
pub mod continuous;
mod drawn;
mod kept;
mod left_out;
mod need;
mod remnant;
pub mod straight;
mod ways;

pub use bias::{bias_strips, bias_total};
pub use continuous::{continuous_by_law, continuous_geometric, continuous_practical, continuous_side_by_law};
pub use drawn::{BiasPiece, Point, drawn};
pub(super) use kept::{kept_for_it, remnants_left};
pub(super) use left_out::left_out;
pub use need::{run_total, strip_width};
pub use remnant::{FromRemnants, FromRemnantsWay, Given, RemnantUse, RemnantYield, from_rectangles};
pub use straight::{strips_made, strips_needed};

pub use ways::{BindingWay, NoWay, WAYS};

use super::allowances::used;
use super::check::{Checked, called, remnant_is_sound};
use super::outline::AtHand;
use super::units::coarse_mark;
use super::{BiasStrip, BindingFigures, Problem, Shown, Size};
use crate::measure::{EIGHTH, Length, METRE, QUARTER, Round, Unit};
use crate::plan::{Binding, BindingCut, Cloth, Fold, Plan, Remnant};
use std::f64::consts::SQRT_2;

/// Seam of a join between strips.
pub const JOIN_SEAM: Length = QUARTER;

/// What one join of bias strips with ends on the grain takes: a seam of
/// [`JOIN_SEAM`] on each of the two, at 45 degrees to the strip: 0.707 in.
pub fn bias_join_loss() -> Length {
    JOIN_SEAM.times_irrational_up(SQRT_2) * 2
}

/// More than this is a slip of the finger.
const MOST: Length = Length::from_units(METRE.units() * 1000);

/// What a way of cutting gives.
struct Cut {
    strips: Vec<BiasStrip>,
    joins: i64,
    made: Length,
    rectangle: Size,
    /// Bias strips as they lie on the rectangle.
    drawn: Vec<BiasPiece>,
    working: Vec<String>,
    cautions: Vec<String>,
}

/// The binding of a plan on its cloth, if that were `width` wide. `None` where
/// there is nothing to bind.
pub(super) fn work_out(plan: &Plan, checked: &Checked, width: Length) -> Option<Result<BindingFigures, Problem>> {
    let binding = plan.binding.as_ref()?;
    if !can_be_counted(plan, checked) {
        return None;
    }
    let unit = plan.unit;
    let (exact, strip) = strip_of(binding, unit);
    let need = need::need(plan, exact);
    if need.total > MOST {
        return Some(Err(Problem {
            field: "edges".into(),
            message: format!(
                "These edges take {} of binding; 1000 m are the most. Check their lengths and counts.",
                need.total.metres(Round::Up)
            ),
        }));
    }
    if width < strip * 2 {
        let cloth = plan.cloth(&binding.cloth).map(|c| called(&c.name, &c.id));
        return Some(Err(Problem {
            field: "binding/cloth".into(),
            message: format!(
                "{} is {} wide: too narrow for binding strips of {}. Choose a wider cloth, or a narrower binding.",
                cloth.unwrap_or_else(|| "The cloth".into()),
                width.both(unit, Round::Down),
                strip.cut(unit)
            ),
        }));
    }
    let cut = match ways::cut_by(binding.cut, plan, need.total, strip, width) {
        Ok(cut) => cut,
        Err(message) => {
            return Some(Err(Problem {
                field: "binding/cloth".into(),
                message,
            }));
        }
    };
    let mut working = need.working;
    working.push(need::strip_working(binding, strip, unit));
    working.extend(cut.working);
    let mut cautions = cut.cautions;
    if binding.fold == Fold::Double && exact < binding.finished_width * 6 + EIGHTH {
        cautions.push(format!(
            "A double fold of this width just reaches over the seam on the other side. Round thick layers, add 1/8 to 1/4 in to the strip: now it is {}.",
            strip.cut(unit)
        ));
    }
    let mut fields = need.fields;
    if binding.cut == BindingCut::BiasStrips {
        fields.push("binding_shortest_strip");
    }
    Some(Ok(BindingFigures {
        cloth: binding.cloth.clone(),
        fold: binding.fold,
        cut: binding.cut,
        finished_width: binding.finished_width,
        strip_width: strip,
        edges: need.edges,
        total: need.total,
        strips: cut.strips,
        joins: cut.joins,
        made: cut.made,
        rectangle: cut.rectangle,
        drawn: cut.drawn,
        ways: Vec::new(),
        not_possible: Vec::new(),
        remnants: None,
        cut_from: Vec::new(),
        saving: None,
        shown: Shown {
            working,
            allowances: used(&plan.allowances, unit, &fields),
            cautions,
        },
    }))
}

fn can_be_counted(plan: &Plan, checked: &Checked) -> bool {
    !plan.edges.is_empty() && checked.binding && checked.edges && checked.allowances.binding
}

/// The strip's width by the rule, and up to the marks of a ruler.
fn strip_of(binding: &Binding, unit: Unit) -> (Length, Length) {
    let exact = strip_width(binding.fold, binding.finished_width, binding.thickness);
    (exact, exact.ceil_to(coarse_mark(unit)))
}

/// How much binding a plan needs and how wide its strips are; `None` while it
/// cannot be counted.
fn needed(plan: &Plan, checked: &Checked) -> Option<(Length, Length)> {
    let binding = plan.binding.as_ref()?;
    if !can_be_counted(plan, checked) {
        return None;
    }
    let (exact, strip) = strip_of(binding, plan.unit);
    let total = need::need(plan, exact).total;
    (total <= MOST).then_some((total, strip))
}

/// The binding of a plan as [`work_out`] has it, with what the other ways would
/// take and what the remnants of its cloth give.
pub(super) fn whole(plan: &Plan, checked: &Checked, cloth: &Cloth) -> Option<BindingFigures> {
    let mut figures = work_out(plan, checked, cloth.usable_width)?.ok()?;
    let (total, strip) = (figures.total, figures.strip_width);
    (figures.ways, figures.not_possible) = ways::compared(plan, figures.cut, total, strip, cloth.usable_width);
    let given = of_cloth(cloth);
    if given.is_empty() || !checked.allowances.straightening {
        return Some(figures);
    }
    let answer = remnant::answer(plan, total, strip, &given);
    let asked = plan.binding.as_ref().is_some_and(|b| b.from_remnants);
    if let Some(way) = answer.way(figures.cut).filter(|_| asked) {
        if way.enough {
            figures.strips = way.strips();
            (figures.joins, figures.made) = (way.joins, way.made);
            figures.drawn = Vec::new();
            figures.cut_from = way.used.clone();
            figures.shown.working.push(format!(
                "Cut from remnants instead: {} of them give {}.",
                way.used.iter().map(|u| u.times).sum::<i64>(),
                way.made.both(plan.unit, Round::Down)
            ));
        } else {
            figures.shown.cautions.push(format!(
                "The remnants do not give this binding: {} would be missing. All of it is counted from the cloth.",
                way.missing.both(plan.unit, Round::Up)
            ));
        }
    }
    figures.remnants = Some(answer);
    Some(figures)
}

/// The remnants of a cloth, in the plan's order, then the rectangles of those
/// with an outline; of one that cannot be used there is none.
fn of_cloth(cloth: &Cloth) -> Vec<Given> {
    let given = |r: &Remnant| Given {
        size: Size {
            width: r.width,
            height: r.length,
        },
        count: if remnant_is_sound(r) { i64::from(r.count) } else { 0 },
    };
    AtHand::of(cloth).all().iter().map(given).collect()
}

pub(super) fn fold_name(fold: Fold) -> &'static str {
    match fold {
        Fold::Single => "single-fold",
        Fold::Double => "double-fold",
    }
}

/// The least multiple of `step`, from `from` upwards, of which `enough` holds;
/// `enough` must hold for every length above one it holds for. Gives up above `most`.
fn least(step: Length, from: Length, most: Length, enough: impl Fn(Length) -> bool) -> Option<Length> {
    let mut low = from.ceil_to(step).max(step);
    if enough(low) {
        return Some(low);
    }
    let mut reach = step;
    let mut high = low + reach;
    while !enough(high) {
        if high > most {
            return None;
        }
        low = high;
        reach = reach * 2;
        high = low + reach;
    }
    // `low` is too short, `high` is enough.
    while high - low > step {
        let middle = low + Length::from_units((high - low).units() / 2).floor_to(step).max(step);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// `a * b / c`, rounded down.
fn area_over(a: Length, b: Length, c: Length) -> Length {
    a.scale_down(b.units(), c.units().max(1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    #[test]
    fn the_least_multiple_is_the_least() {
        for wanted in 1..200 {
            let enough = |l: Length| l >= INCH * wanted;
            assert_eq!(least(INCH, Length::ZERO, INCH * 1000, enough), Some(INCH * wanted));
            assert_eq!(least(INCH, INCH * 50, INCH * 1000, enough), Some(INCH * wanted.max(50)));
        }
        assert_eq!(least(INCH, INCH, INCH * 100, |_| false), None);
    }

    #[test]
    fn a_tight_double_fold_is_pointed_out() {
        let tight = |finished: &str, thickness: &str| {
            let plan = Plan::from_json(&format!(
                r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"42 in"}}],
                "edges":[{{"id":"e1","name":"Outside","length":"90 in","count":1,"corners":4,"closed":true}}],
                "binding":{{"cloth":"c1","fold":"double","cut":"bias-strips","finished_width":"{finished}","thickness":"{thickness}"}}}}"#
            ))
            .unwrap();
            let binding = crate::figures::work_out(&plan).binding.unwrap();
            binding.shown.cautions.iter().any(|c| c.contains("just reaches"))
        };
        assert!(tight("1/2 in", "0 in"));
        assert!(!tight("1/2 in", "1/8 in"));
        assert!(!tight("3/8 in", "0 in"));
        assert!(!tight("3/4 in", "0 in"));
    }

    #[test]
    fn a_bias_join_takes_the_diagonal_of_its_seam_twice() {
        // A seam of 1/4 in on each: 1/2 in square to the seam, at 45 degrees to the strip.
        let loss = bias_join_loss().as_inches_f64();
        assert!((loss * loss - 0.5).abs() < 0.0003, "{loss}");
    }
}
