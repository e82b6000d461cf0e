//! Size and ease: girth by girth, for the size that is taken.

use crate::figures::{Figures, SizeFit, SizePlace, SizingFigures};
use crate::measure::{Length, Round, Unit, capital};
use crate::plan::Plan;
use crate::web::components::{cautions, figure, folding, length, working};
use maud::{Markup, html};

/// `old` says where the wearer's measures are.
pub fn card_of(plan: &Plan, figures: &Figures, base: &str, old: &Markup) -> Markup {
    let unit = plan.unit;
    let Some(s) = &figures.sizing else { return html! {} };
    let named = |n: Option<usize>| n.and_then(|n| s.sizes.get(n)).map_or("–", String::as_str);
    let decided = s.taken != s.recommended;
    folding(
        "sizing",
        "Size and ease",
        html! { b { (named(s.taken)) } },
        html! { a.button.quiet href=(format!("{base}/sizing")) { "Change" } },
        html! {
            (old)
            div.figures {
                @if decided { (figure("Decided on", html! { (named(s.taken)) }, html! { "ease and grading are told for it" })) }
                (figure("By the measures", html! { (named(s.recommended)) }, html! { (s.why) }))
            }
            div.girths { @for fit in &s.rows { (girth(s, fit, unit)) } }
            (cautions(&s.shown.cautions))
            (working(&s.shown))
        },
    )
}

fn girth(s: &SizingFigures, fit: &SizeFit, unit: Unit) -> Markup {
    let named = |n: usize| s.sizes.get(n).map_or("–", String::as_str);
    html! {
        article.girth {
            h3 { (capital(&fit.name)) }
            @if fit.wearer.is_none() { p.meta { "The wearer's measure is not known: type it in the size table." } }
            div.figure-lines {
                @if let Some(wearer) = fit.wearer { (figure("Wearer", length(wearer, unit), html! { (place_words(s, fit, unit)) })) }
                @if let Some(garment) = fit.garment {
                    (figure("Finished", length(garment, unit), html! { @if let Some(n) = s.taken { "in size " (named(n)) } }))
                }
                @if let Some(ease) = s.taken.and_then(|n| fit.ease.get(n)) {
                    (figure("Ease on this wearer", length(*ease, unit), html! {
                        @if let Some(designed) = s.taken.and_then(|n| fit.designed_ease.get(n)) { "drawn with " (designed.both(unit, Round::Nearest)) }
                    }))
                }
                @if let Some(to) = fit.grade_to {
                    (figure("Grade here to", html! { "size " (named(to)) }, html! { @if let Some(n) = s.taken { "from size " (named(n)) } }))
                }
                @if let Some(alter) = fit.alter.filter(|a| *a != Length::ZERO) {
                    (figure(if alter.is_negative() { "Take in, all round" } else { "Let out, all round" }, length(alter.abs(), unit), html! {
                        @if fit.wanted.is_some() && fit.garment.is_some() { "for the ease wanted" } @else { "against the body of the size" }
                    }))
                }
            }
        }
    }
}

fn place_words(s: &SizingFigures, fit: &SizeFit, unit: Unit) -> String {
    let named = |n: usize| s.sizes.get(n).map_or("–", String::as_str);
    let near = fit.nearest.zip(fit.off_nearest).map(|(n, off)| {
        let way = if off.is_negative() { "larger" } else { "smaller" };
        format!(", nearest {}, {} {way}", named(n), off.abs().both(unit, Round::Nearest))
    });
    let near = near.unwrap_or_default();
    match fit.place {
        Some(SizePlace::Is(n)) => format!("exactly size {}", named(n)),
        Some(SizePlace::Between(a, b)) => format!("between {} and {}{near}", named(a), named(b)),
        Some(SizePlace::Smaller) => format!("smaller than the smallest size{near}"),
        Some(SizePlace::Larger) => format!("larger than the largest size{near}"),
        None => String::new(),
    }
}
