//! How light the cloths of a plan are, and which neighbours hardly differ; and
//! the switch that shows panels as seen with the eyes half closed.

use super::part;
use crate::figures::{Figures, PanelFigures, contrast, in_lightness_only};
use crate::notebook::{Notebook, Pictures, Project};
use crate::plan::{Cloth, Edit, Face, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, cautions, letter, panel_drawing, swatch};
use crate::web::error::{Answer, WebError};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/cloths/{cloth}/shelf-colour").route(post().to(take_colour)));
}

/// The colour the shelf draws the cloth in, taken over into the plan.
async fn take_colour(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, cloth) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let cloth = project.plan.cloth(&cloth).ok_or(WebError::NoPage)?.clone();
    let stock = id(cloth.stock.as_deref().unwrap_or_default())?;
    let seen = typed(body).get("seen").parse().unwrap_or(0);
    let colour = app.ask(move |n: &Notebook| Ok(n.stock_cloth(stock)?.colour)).await?;
    if colour != cloth.colour {
        let edit = Edit::Cloth(Cloth { colour, ..cloth });
        part::change(&app, project.id, seen, edit, None, None).await?;
    }
    respond::see(&format!("{}#contrast", part::base(&project)))
}

pub fn card_of(project: &Project, figures: &Figures, pictures: &Pictures) -> Markup {
    let plan = &project.plan;
    let found = contrast(plan, figures);
    let drawn = |id: &str| {
        let at = plan.cloths.iter().position(|c| c.id == id);
        html! { @if let Some(at) = at { (swatch(&plan.cloths[at].colour, Some(&letter(at)), pictures.of(&plan.cloths[at]))) } }
    };
    let base = part::base(project);
    let marked: Vec<(&Cloth, &str)> = plan
        .cloths
        .iter()
        .filter(|c| found.cloths.iter().any(|f| f.cloth == c.id))
        .filter_map(|c| Some((c, pictures.colour_of(c).filter(|colour| *colour != c.colour)?)))
        .collect();
    html! {
        @if found.cloths.len() > 1 {
            (card("contrast", "Contrast", html! {
                @for (c, colour) in &marked {
                    form.take-colour method="post" action=(format!("{base}/cloths/{}/shelf-colour", c.id)) {
                        input type="hidden" name="seen" value=(project.revision);
                        span.swatch-change aria-hidden="true" { (swatch(&c.colour, None, None)) "→" (swatch(colour, None, None)) }
                        span { (c.name) " has a marked swatch on the shelf; the plan still draws it in another colour." }
                        button.button type="submit" aria-label=(format!("Take the colour of the swatch of {}", c.name)) { "Take its colour" }
                    }
                }
                (cautions(&found.cautions))
                @if found.cautions.is_empty() { p.hint { "All neighbours differ enough in lightness to be told apart from across a room." } }
                details open[!found.cautions.is_empty()] {
                    summary { "How light each cloth is" }
                    ul.lightness { @for c in &found.cloths {
                        li {
                            (drawn(&c.cloth))
                            span { b { (c.name) } " " span.meta { (c.step.name()) ", " span.tabular { (format!("{:.0}", c.l)) } " of 100" } }
                        }
                    } }
                }
                @if !found.pairs.is_empty() {
                    details {
                        summary { "Every two that lie side by side" }
                        div.scroll { table.numbers {
                            thead { tr { th scope="col" { "Neighbours" } th.num scope="col" { "Lightness apart" } th.num scope="col" { "Colour apart" } th scope="col" { "In" } } }
                            tbody { @for p in &found.pairs { tr {
                                th scope="row" { (found.cloths[p.one].name) ", " (found.cloths[p.other].name) }
                                td.num.big { (format!("{:.0}", p.lightness)) @if p.hardly_differs() { div.meta { "hardly" } } }
                                td.num { (format!("{:.0}", p.difference)) }
                                td { (p.pieces.join(", ")) }
                            } } }
                        } }
                        p.hint { "Lightness is CIE L*, 0 black to 100 white; under 10 apart hardly differs. Colour apart is CIEDE2000: about 1 can just be seen side by side." }
                    }
                }
            }))
        }
    }
}

/// Turns the panels of a page to lightness alone and back; without script too.
pub fn squint_switch() -> Markup {
    html! {
        label.pick.squint-switch { input #squint type="checkbox" autocomplete="off"; span { "Squint: lightness only" } }
    }
}

/// The panel in its colours, and in lightness alone for the switch.
pub fn seen_both_ways(plan: &Plan, face: &Face, panel: &PanelFigures, name: &str) -> Markup {
    html! {
        div.seen-in-colour { (panel_drawing(plan, face, panel, name)) }
        div.seen-squinting { (panel_drawing(&in_lightness_only(plan), face, panel, &format!("{name}-squint"))) }
    }
}
