//! What can be made of the cloth at hand: how many of each piece, and how
//! large a panel.

use crate::figures::{
    LargestPanel, PanelFromLeftovers, PanelWish, PieceFromLeftovers, Problem, RunsOut, largest_panel,
    pieces_from_leftovers,
};
use crate::measure::{Round, Unit};
use crate::notebook::Project;
use crate::plan::{Face, Patchwork, Plan};
use crate::web::app::{App, id};
use crate::web::components::{card, choice, empty, figure, layout_drawing, length_input, number};
use crate::web::error::Answer;
use crate::web::form::{Errors, Reader, Shown, Typed, length_text};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, block, get, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/leftovers").route(get().to(show)));
}

/// Nothing but what stands in the address: asking changes nothing.
async fn show(app: Data<App>, path: Path<String>, asked: Query<Vec<(String, String)>>) -> Answer {
    let id = id(&path)?;
    let project = super::part::load(&app, id).await?;
    let typed = Typed(asked.into_inner());
    let plan = project.plan.clone();
    let begun = typed.has("piece");
    let form = if begun { typed } else { filled(&plan) };
    let (pieces, form, largest) = block(move || {
        let pieces = pieces_from_leftovers(&plan);
        let (errors, largest) = match read(&form, &plan) {
            Ok(wish) if begun => (Errors::default(), Some(largest_panel(&plan, &wish))),
            Ok(_) => (Errors::default(), None),
            Err(errors) => (if begun { errors } else { Errors::default() }, None),
        };
        (pieces, Shown { typed: form, errors }, largest)
    })
    .await?;
    respond::page(page(&project, &pieces, &form, largest.as_ref()))
}

fn page(
    project: &Project,
    pieces: &[PieceFromLeftovers],
    form: &Shown,
    largest: Option<&Result<LargestPanel, Vec<Problem>>>,
) -> Markup {
    let plan = &project.plan;
    let base = super::part::base(project);
    page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "What the cloth at hand gives",
        html! {
            h1 { "What the cloth at hand gives" }
            p.lead-in { "From the remnants, the ready-cut patches and the lengths owned, with nothing to buy. Faces alone: batting and backing are not counted." }
            @if pieces.is_empty() {
                (empty("It needs a piece with a face in the plan, and the cloths it is made of.", &format!("{base}#pieces"), "Back to the plan"))
            } @else {
                (pieces_card(pieces, plan.unit))
                (panel_card(plan, &base, form, largest))
            }
        },
    )
}

fn pieces_card(pieces: &[PieceFromLeftovers], unit: Unit) -> Markup {
    card(
        "pieces",
        "Pieces of this project",
        html! {
            p.hint { "Each as if nothing else were made." }
            ul.rows {
                @for p in pieces { li.row {
                    div.row-text {
                        b { (p.name) }
                        @if p.covered < p.wanted {
                            div.meta { "One more takes " (lacking(&p.runs_out, unit)) "." }
                        }
                    }
                    div.row-figure { span.len { span.lead { (p.covered) " of " (p.wanted) } } }
                } }
            }
        },
    )
}

/// "9 in (22.9 cm) more of Cream than is there".
fn lacking(runs_out: &[RunsOut], unit: Unit) -> String {
    let parts: Vec<String> = runs_out
        .iter()
        .map(|r| format!("{} more of {}", r.short.both(unit, Round::Up), r.name))
        .collect();
    if parts.is_empty() {
        "more than can be laid out".into()
    } else {
        format!("{} than is there", parts.join(", "))
    }
}

fn panel_card(plan: &Plan, base: &str, form: &Shown, largest: Option<&Result<LargestPanel, Vec<Problem>>>) -> Markup {
    let options: Vec<(String, String)> = patchworks(plan)
        .map(|(id, name, p)| {
            let units: Vec<&str> = p.units.iter().map(|u| u.kind.name()).collect();
            (id.to_string(), format!("{name}: {}", units.join(" and ")))
        })
        .collect();
    card(
        "largest",
        "The largest panel",
        html! {
            @if options.is_empty() {
                p { "No piece of the plan has a face of patchwork, so there is no unit to ask about." }
            } @else {
                form method="get" action=(format!("{base}/leftovers#largest")) data-unit=(plan.unit.name()) {
                    (choice(form, "piece", "Units of", "", &options))
                    (length_input(form, "finished", "Finished size", "Of one unit, sewn in."))
                    div.pair {
                        (number(form, "wide", "Wide", ""))
                        (number(form, "high", "to high", ""))
                    }
                    p.hint { "The shape of the panel: 3 to 4 is a little higher than wide." }
                    p.actions { button.button.primary type="submit" { "Find it" } }
                }
                @match largest {
                    None => {}
                    Some(Err(problems)) => {
                        div.caution role="note" { @for p in problems { p { (p.message) } } }
                    }
                    Some(Ok(found)) => (answer(found, plan.unit)),
                }
            }
        },
    )
}

fn answer(found: &LargestPanel, unit: Unit) -> Markup {
    html! {
        @match &found.near {
            None => p.error { "There is not enough for one unit: it takes " (lacking(&found.runs_out, unit)) "." },
            Some(panel) => (one("In that shape", panel, unit, "near")),
        }
        @if let Some(panel) = &found.full_width {
            (one("As wide as the cloth", panel, unit, "full"))
        }
    }
}

fn one(label: &str, found: &PanelFromLeftovers, unit: Unit, name: &str) -> Markup {
    let panel = &found.panel;
    html! {
        section.leftover-answer {
            (figure(
                label,
                html! { (panel.columns) " × " (panel.rows) " units" },
                html! { (panel.before.both(unit, Round::Down)) " with its seam allowances, before quilting; " (panel.units) " units" },
            ))
            @if let Some((columns, rows)) = found.next {
                p.meta { (columns) " × " (rows) " would take " (lacking(&found.runs_out, unit)) "." }
            }
            details.order {
                summary { "How it is cut" }
                @for c in &found.cloths {
                    h3 { (c.name) }
                    @for ready in c.ready_cut.iter().filter(|r| r.used > 0) {
                        p.meta { (ready.used) " ready-cut " (ready.named(unit)) }
                    }
                    div.layouts { (layout_drawing(c, unit, &format!("{name}-{}", c.cloth))) }
                    ol { @for step in &c.layout.order { li { (step) } } }
                }
            }
        }
    }
}

fn patchworks(plan: &Plan) -> impl Iterator<Item = (&str, &str, &Patchwork)> {
    plan.pieces.iter().filter_map(|p| match &p.face {
        Some(Face::Patchwork(patchwork)) => Some((p.id.as_str(), p.name.as_str(), patchwork)),
        _ => None,
    })
}

fn filled(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    if let Some((id, _, patchwork)) = patchworks(plan).next() {
        typed.set("piece", id);
        typed.set("finished", length_text(patchwork.finished, plan.unit));
    }
    typed.set("wide", "1");
    typed.set("high", "1");
    typed
}

fn read(typed: &Typed, plan: &Plan) -> Result<PanelWish, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let piece = r.line("piece", crate::web::form::NAME);
    let patchwork = patchworks(plan).find(|(id, ..)| *id == piece).map(|(.., p)| p.clone());
    if patchwork.is_none() {
        r.errors.add("piece", "Choose a piece with a face of patchwork.");
    }
    let finished = r.length_positive("finished");
    let wide = r.count("wide", 1..=100);
    let high = r.count("high", 1..=100);
    match patchwork {
        Some(mut patchwork) if r.errors.is_empty() => {
            // A unit with a height of its own keeps its shape.
            patchwork.finished_height = patchwork.finished_height.filter(|_| patchwork.finished == finished);
            patchwork.finished = finished;
            Ok(PanelWish { patchwork, wide, high })
        }
        _ => Err(r.errors),
    }
}
