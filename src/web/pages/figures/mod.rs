//! All figures of a project: panels, the cut list of each cloth with its
//! layout drawn, batting and backing, binding; each with its working.

mod batting;
pub(super) mod binding;
mod care;
mod closures;
mod cost;
mod overview;
mod panels;
mod quilting;
mod ready_cut;
mod sizing;
mod thread;
mod time;

pub use panels::{counted, units_label, units_words};

use crate::figures::lay::kept_lay;
use crate::figures::{BattingFigures, ClothFigures, CutLine, Figures, LayState, PatchCut, Purpose, Size};
use crate::measure::{Length, Round, Unit};
use crate::notebook::Notebook;
use crate::plan::Plan;
use crate::sheets::{at_sixty, purpose_words, shape_words};
use crate::web::app::{App, id};
use crate::web::components::{
    card, cautions, cloth_length, empty, figure, folding, layout_drawing, length_down, length_up, letter, sentence,
    size, size_cut, swatch, working,
};
use crate::web::error::Answer;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/figures").route(get().to(show)));
}

async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    let project = super::part::load(&app, id).await?;
    let settings = app.ask(|n: &Notebook| n.settings()).await?;
    let wearer = super::measured::wearer_of(&app, id).await?;
    let old = super::measured::old_table_note(&project, wearer.as_ref(), chrono::Local::now().date_naive());
    let figures = app.figures(&project.plan).await?;
    let hours = super::time::reckoned(&app, &project, &figures).await?;
    let plan = &project.plan;
    let base = super::part::base(&project);
    let cut: Vec<(usize, &ClothFigures)> = figures.cloths.iter().enumerate().filter(|(_, c)| c.is_used()).collect();
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "Figures",
        html! {
            (super::part::variant_note(&project))
            h1 { "Figures" @if let Some(letter) = project.variant { " of variant " (letter.name()) } }
            p.print-only { (project.details.title) ", "
                @match project.variant { None => { "revision " (project.revision) }, Some(letter) => { "variant " (letter.name()) } } }
            (super::plan::problems(&project, &figures))
            @if plan.pieces.is_empty() {
                (empty("The figures follow from the pieces and cloths of the plan.", &format!("{base}/pieces/new"), "Add the first piece"))
            } @else {
                @if !cut.is_empty() {
                    (overview::overview(plan, &figures, &hours, &cut, &settings.currency))
                    (overview::sections(&figures, &hours, &cut))
                    p.actions { a.button.quiet href=(format!("{base}/sheets")) { "Sheets to print" } }
                    (buying(&figures, plan.unit, &settings.currency))
                    (cautions(&figures.totals.cautions))
                }
                @if plan.cloths.iter().any(|c| !c.remnants.is_empty() || !c.outlined.is_empty() || !c.ready_cut.is_empty() || c.owned > Length::ZERO) {
                    p.actions { a.button.quiet href=(format!("{base}/leftovers")) { "What the cloth at hand gives" } }
                }
                (panels::panels(&project, &figures))
                @for (i, c) in &cut { (cloth(plan, &figures, *i, c, &base, figures.batting.iter().find(|b| b.cloth == c.cloth))) }
                @if !figures.quilting.pieces.is_empty() { (quilting::card(&figures.quilting, plan.unit, &base)) }
                @if let Some(b) = &figures.binding { (binding::card(plan, b, &base)) }
                (time::time(&hours, plan.unit, &base))
            }
            (closures::card_of(plan, &figures, &base))
            (thread::card_of(plan, &figures, &base))
            (sizing::card_of(plan, &figures, &base, &old))
            (care::card_of(&figures))
            (cost::card_of(&figures, &settings.currency))
        },
    ))
}

/// What to buy, first: it is read in the shop.
fn buying(figures: &Figures, unit: Unit, currency: &str) -> Markup {
    let t = &figures.totals;
    card(
        "buy",
        "To buy",
        html! {
            @let list: Vec<_> = figures.cloths.iter().filter(|c| c.to_buy > Length::ZERO).collect();
            @if list.is_empty() { p { "Nothing: what is owned suffices for every cloth." } }
            @else {
                table.numbers {
                    thead { tr { th scope="col" { "Cloth" } th.num scope="col" { "Usable width" } th.num scope="col" { "Length" } th.num scope="col" { "Cost, " (currency) } } }
                    tbody { @for c in &list { tr {
                        th scope="row" { (c.name) }
                        td.num { (length_down(c.usable_width, unit)) }
                        td.num.big { (cloth_length(c.to_buy, unit)) }
                        td.num { @if let Some(cost) = c.cost { (cost) } @else { "–" } }
                    } } }
                    @if t.to_buy_known.as_hundredths() > 0 {
                        tfoot { tr { th scope="row" colspan="3" { "Together" @if !t.unpriced.is_empty() { " (without " (t.unpriced.join(", ")) ": no price)" } } td.num { (t.to_buy_known) } } }
                    }
                }
            }
        },
    )
}

fn cloth(
    plan: &Plan,
    figures: &Figures,
    index: usize,
    c: &ClothFigures,
    base: &str,
    packed: Option<&BattingFigures>,
) -> Markup {
    let unit = plan.unit;
    folding(
        &format!("cloth-{}", c.cloth),
        &format!("{} {}", letter(index), c.name),
        html! { @if c.to_buy > Length::ZERO { "buy " (cloth_length(c.to_buy, unit)) } @else { "nothing to buy" } },
        html! { a.button.quiet href=(format!("{base}/cloths/{}", c.cloth)) { "Change" } },
        html! {
            div.cloth-head {
                (swatch(&c.colour, Some(&letter(index)), None))
                div.figures {
                    @if c.to_buy > Length::ZERO {
                        (figure("To buy", cloth_length(c.to_buy, unit), html! { "at " (c.usable_width.both(unit, Round::Down)) " usable width" }))
                    } @else {
                        (figure("To buy", html! { "nothing" }, html! { "what is owned suffices" }))
                    }
                    (figure("Length cut from", length_up(c.length_unwashed, unit), html! { @if let Some(known) = plan.cloth(&c.cloth) { (sentence(&super::plan::owned_words(known, unit))) } }))
                }
            }
            @if let Some(packed) = packed { (batting::packages(packed, unit)) }
            @if !c.not_counted.is_empty() {
                p.error { "Not counted yet: " (c.not_counted.join(", ")) ". The length is without it." }
            }
            (ready_cut::table(c, unit))
            @if !c.cuts.is_empty() {
            h3 { "Cut list" }
            div.scroll { table.numbers.cuts {
                thead { tr { th scope="col" { "" } th scope="col" { "What" } th.num scope="col" { "Cut size" } th.num scope="col" { "Cut" } th scope="col" { "As" } } }
                tbody { @for (i, line) in c.cuts.iter().enumerate() {
                    tr {
                        th.num scope="row" { (i + 1) }
                        td { (purpose_words(&line.purpose)) div.meta { (line.pieces.join(", ")) } }
                        td.num.big { (size_cut(line.cut, unit)) }
                        td.num.big { (line.count) @if line.patches != line.count { div.meta { (line.patches) " triangles" } } }
                        td { (strip_words(line, c.laid(i), unit)) }
                    }
                } }
            } }
            @if c.cuts.iter().enumerate().any(|(n, line)| line.count > c.laid(n)) {
            h3 { "Cutting layout" }
            p.hint { "Numbers in circles are lines of the cut list; beside the selvage stands the step of the order of cuts" @if c.layout.sheets.iter().flat_map(|s| &s.strips).any(|s| !s.cuts.is_empty()) { "; in squares, the parts it names" } "." }
            div.layouts { (layout_drawing(c, unit, &c.cloth)) }
            }
            }
            (laid(plan, figures, c, base))
            @if !c.layout.order.is_empty() {
                details.order open {
                    summary { "Order of cuts" }
                    ol.ticks { @for (n, step) in c.layout.order.iter().enumerate() { li { label { input type="checkbox" autocomplete="off"; b.step-number { (n + 1) } span { (sentence(step)) } } } } }
                }
            }
            (left_over(c, unit))
            @if !c.other_widths.is_empty() {
                details.widths {
                    summary { "At other widths" }
                    @if c.used_lay().is_some() { p.hint { "All cut as rectangles: the kept lay is for this width alone." } }
                    div.scroll { table.numbers {
                        thead { tr { th.num scope="col" { "Usable width" } th.num scope="col" { "Length to buy" } } }
                        tbody { @for w in &c.other_widths { tr { td.num { (length_down(w.width, unit)) } td.num { (cloth_length(w.to_buy, unit)) } } } }
                    } }
                }
            }
            (cautions(&c.shown.cautions))
            (working(&c.shown))
        },
    )
}

/// The kept lay where it is used, else what became of it, and the way there.
fn laid(plan: &Plan, figures: &Figures, c: &ClothFigures, base: &str) -> Markup {
    let plain = c.cuts.iter().any(|l| l.purpose == Purpose::PlainPanel);
    let address = format!("{base}/lay/{}", c.cloth);
    let known = plan.cloth(&c.cloth);
    let held = known
        .and_then(|known| kept_lay(plan, figures, known))
        .and_then(Result::ok);
    html! {
        @if let Some(lay) = &c.lay {
            h3 { "Kept lay" }
            p.error[lay.state == LayState::NoLongerHolds] { (lay.told) }
            @if let (Some(held), LayState::Used) = (&held, lay.state) { (super::lay::drawings(&held.answer(), plan.unit, &c.cloth)) }
            p.actions { a.button.quiet href=(address) { @if lay.state == LayState::NoLongerHolds { "Lay again" } @else { "The kept lay" } } }
        } @else if plain {
            p.actions { a.button.quiet href=(address) { "Lay its pieces as they are shaped" } }
        }
    }
}

fn strip_words(line: &CutLine, laid: i64, unit: Unit) -> Markup {
    html! {
        @if laid > 0 {
            @if laid == line.count { "see the kept lay" } @else { (laid) " in the kept lay, " (line.count - laid) " in the layout" }
        } @else if let Some(s) = line.strips {
            (s.strips) @if s.strips == 1 { " strip " } @else { " strips " } (s.height.cut(unit))
            @if !at_sixty(&line.purpose) { ", subcut " (s.subcut.cut(unit)) }
            ", " (s.per_strip) " a strip"
        } @else { "see the layout" }
    }
}

fn left_over(c: &ClothFigures, unit: Unit) -> Markup {
    let list: Vec<_> = c.layout.sheets.iter().flat_map(|s| &s.left_over).collect();
    html! {
        @if !list.is_empty() {
            p.meta { "Left over, worth keeping: "
                @for (i, r) in list.iter().take(12).enumerate() {
                    @if i > 0 { "; " }
                    (size(Size { width: r.width, height: r.height }, unit, Round::Down))
                }
                @if list.len() > 12 { " and " (list.len() - 12) " more" } "." }
        }
    }
}

/// "64 × A, half-square triangles from 32 squares 4 7/8 in".
pub fn patch_words(plan: &Plan, cut: &PatchCut) -> Markup {
    let index = plan.cloths.iter().position(|c| c.id == cut.cloth).unwrap_or(0);
    let what = shape_words(cut.shape);
    html! { (cut.patches) " " (what) " of " (letter(index)) ", cut " (cut_words(cut, plan.unit)) }
}

/// "4 7/8 in square", "2 × 4 1/2 in".
fn cut_words(cut: &PatchCut, unit: Unit) -> String {
    if cut.cut.width == cut.cut.height {
        cut.cut.width.cut_one(unit)
    } else {
        cut.cut.cut_one(unit)
    }
}
