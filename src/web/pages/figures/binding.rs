//! The card of the binding: what it takes, the three ways to cut it compared,
//! every bias strip drawn, what the remnants give.

use crate::figures::{BiasPiece, BindingFigures, BindingWay, FromRemnantsWay, Size};
use crate::measure::{Length, Round, Unit};
use crate::plan::Plan;
pub use crate::sheets::way_name;
use crate::web::components::{
    cautions, figure, folding, length_cut, length_down, length_up, size_cut, strips_drawing, working,
};
use crate::web::form::word;
use maud::{Markup, html};

pub fn card(plan: &Plan, b: &BindingFigures, base: &str) -> Markup {
    let unit = plan.unit;
    let cloth = plan.cloth(&b.cloth);
    let name = cloth.map_or("", |c| c.name.as_str());
    let colour = cloth.map_or("", |c| c.colour.as_str());
    let remnants: i64 = b.cut_from.iter().map(|u| u.times).sum();
    folding(
        "binding",
        "Binding",
        html! { (length_up(b.total, unit)) },
        html! { a.button.quiet href=(format!("{base}/binding")) { "Change" } },
        html! {
            div.figures {
                (figure("Needed", length_up(b.total, unit), html! { "about " (b.total.both_cloth(unit, Round::Up)) "; edges " (b.edges.both(unit, Round::Up)) ", ends and corners added" }))
                (figure("Strip width", length_cut(b.strip_width, unit), html! { (b.finished_width.both(unit, Round::Nearest)) " when finished" }))
                @if b.cut_from.is_empty() {
                    (figure("Rectangle to cut it from", size_cut(b.rectangle, unit), html! { "of " (name) ", " (way_name(b.cut).to_lowercase()) }))
                } @else {
                    (figure("Cut from remnants", html! { (remnants) }, html! { "of " (name) ", " (way_name(b.cut).to_lowercase()) }))
                }
                (figure("Made", length_down(b.made, unit), html! { (b.joins) @if b.joins == 1 { " join" } @else { " joins" } }))
            }
            (cautions(&b.shown.cautions))
            @if !b.drawn.is_empty() {
                h3 { "The strips" }
                (strips(b.rectangle, &b.drawn, b.strip_width, colour, unit))
            } @else if !b.strips.is_empty() && b.cut_from.is_empty() {
                p.meta { "Strips: " @for (i, s) in b.strips.iter().enumerate() { @if i > 0 { ", " } (s.count) " of " (s.length.both(unit, Round::Down)) } "." }
            }
            details.other-ways {
                summary { "Three ways to cut it, compared" }
                div.binding-ways { @for way in &b.ways { (way_article(way, unit, base)) } }
                @for no in &b.not_possible { p.meta { b { (way_name(no.cut)) } ": " (no.why) } }
            }
            details.other-ways open[b.saving.is_some_and(|s| s > Length::ZERO)] {
                summary { "Does a remnant give it?" }
                (remnants_part(b, unit, base))
            }
            (working(&b.shown))
        },
    )
}

fn way_article(way: &BindingWay, unit: Unit, base: &str) -> Markup {
    html! {
        article.binding-way data-chosen[way.chosen] {
            h4 { (way_name(way.cut)) }
            p.marks {
                @if way.chosen { span.state data-state="making" { "chosen" } " " }
                @if way.least { span.state { "least cloth" } }
            }
            dl.facts {
                div { dt { "Length of cloth" } dd { (length_up(way.cloth, unit)) } }
                div { dt { "Rectangle" } dd { (size_cut(way.rectangle, unit)) } }
                div { dt { "Made" } dd { (length_down(way.made, unit)) } }
                @if way.joins > 0 { div { dt { (way.joins) @if way.joins == 1 { " join takes" } @else { " joins take" } } dd { (length_up(way.lost, unit)) } } }
            }
            @if !way.chosen {
                @for line in &way.cautions { p.meta { (line) } }
                a.button href=(format!("{base}/binding?cut={}", word(&way.cut))) { "Choose " (way_name(way.cut).to_lowercase()) }
            }
        }
    }
}

/// Every strip with its number, drawn and listed.
pub fn strips(rectangle: Size, drawn: &[BiasPiece], strip: Length, colour: &str, unit: Unit) -> Markup {
    html! {
        div.strips-and-list {
            (strips_drawing(rectangle, drawn, strip, colour, unit))
            details.strip-list open[drawn.len() <= 12] {
                summary { (drawn.len()) @if drawn.len() == 1 { " strip, its true length" } @else { " strips, their true lengths" } }
                div.scroll { table.numbers {
                    thead { tr { th scope="col" { "Strip" } th.num scope="col" { "True length" } th.num scope="col" { "Joined, so far" } } }
                    tbody { @for strip in drawn { tr {
                        th scope="row" { (strip.number) }
                        td.num { (length_down(strip.length, unit)) }
                        td.num { (length_down(strip.so_far, unit)) }
                    } } }
                } }
            }
        }
    }
}

fn remnants_part(b: &BindingFigures, unit: Unit, base: &str) -> Markup {
    html! {
        @if let Some(remnants) = &b.remnants {
            ul.verdicts { @for way in &remnants.ways { li {
                b { (way_name(way.cut)) } " " (verdict(way, unit))
            } } }
            @match b.saving {
                Some(saving) if saving > Length::ZERO => p {
                    "Cut from the remnants there are " (saving.both_cloth(unit, Round::Down)) " less to buy: "
                    a href=(format!("{base}/binding?remnants=yes#from_remnants")) { "say so in the binding" } "."
                }
                Some(_) => p.meta { "Cut from the remnants there is no less to buy: what is bought is taken by other cuts, or the remnants are used already." }
                None => {}
            }
        } @else {
            p.meta { "The plan knows no remnants of this cloth." }
        }
        p.actions { a.button href=(format!("{base}/binding/remnant")) { "Try a rectangle" } }
    }
}

/// "give it: 3 of them, 12 in left over" or what is missing.
fn verdict(way: &FromRemnantsWay, unit: Unit) -> Markup {
    let used: i64 = way.used.iter().map(|u| u.times).sum();
    html! {
        @if way.enough {
            "enough: " (used) @if used == 1 { " remnant makes " } @else { " remnants make " } (way.made.both(unit, Round::Down))
            ", " (way.over.both(unit, Round::Down)) " left over."
        } @else if used == 0 {
            "nothing: no strip is long enough."
        } @else {
            "not enough: all make " (way.made.both(unit, Round::Down)) ", " (way.missing.both(unit, Round::Up)) " missing."
        }
    }
}
