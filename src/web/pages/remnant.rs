//! Does this remnant give the binding? Any rectangles typed, answered each way
//! and drawn. Nothing is saved: the address holds what was typed.

use super::figures::binding::{strips, way_name};
use super::{cloth_fields, outline_fields, part};
use crate::figures::binding::{Given, from_rectangles};
use crate::figures::{FromRemnants, FromRemnantsWay, RemnantYield, Size, outline};
use crate::measure::{Length, Round, Unit};
use crate::notebook::Project;
use crate::plan::Plan;
use crate::web::app::{App, id};
use crate::web::components::{
    ReturnTo, card, cloth_length, empty, errors_summary, figure, length_cut, length_down, length_up, save_bar, size,
    working,
};
use crate::web::error::Answer;
use crate::web::form::{Reader, Shown, Typed};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/binding/remnant").route(get().to(show)));
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Vec<(String, String)>>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let plan = &project.plan;
    let typed = Typed(asked.into_inner());
    // At first the remnants the plan knows of.
    let typed = match typed.0.is_empty() {
        true => known(plan),
        false => typed,
    };
    let mut reader = Reader::new(&typed, plan.unit);
    let mut given: Vec<Given> = cloth_fields::remnants(&mut reader)
        .into_iter()
        .map(|(r, _)| Given {
            size: Size {
                width: r.width,
                height: r.length,
            },
            count: i64::from(r.count),
        })
        .collect();
    for (one, _) in outline_fields::read(&mut reader) {
        let rectangles = outline(&one.outline).map(|o| o.rectangles).unwrap_or_default();
        given.extend(rectangles.into_iter().map(|r| Given {
            size: Size {
                width: r.width,
                height: r.height,
            },
            count: i64::from(one.count),
        }));
    }
    let errors = reader.errors;
    let answer = if errors.is_empty() {
        from_rectangles(plan, &given)
    } else {
        None
    };
    let countable = from_rectangles(plan, &[]);
    respond::page(page_of(
        &project,
        &Shown { typed, errors },
        &given,
        answer.as_ref(),
        countable.as_ref(),
    ))
}

fn known(plan: &Plan) -> Typed {
    let cloth = plan.binding.as_ref().and_then(|b| plan.cloth(&b.cloth));
    cloth.map_or_else(Typed::default, |c| cloth_fields::filled(c, plan.unit))
}

fn page_of(
    project: &Project,
    form: &Shown,
    given: &[Given],
    answer: Option<&FromRemnants>,
    need: Option<&FromRemnants>,
) -> Markup {
    let plan = &project.plan;
    let unit = plan.unit;
    let base = part::base(project);
    let cloth = plan.binding.as_ref().and_then(|b| plan.cloth(&b.cloth));
    let name = cloth.map_or("", |c| c.name.as_str());
    page::project(
        project.id,
        &project.details.title,
        Place::Figures,
        "Does this remnant give the binding?",
        html! {
            h1 { "Does this remnant give the binding?" }
            @if let Some(need) = need {
                section.glance aria-label="What is needed" {
                    div.figures {
                        (figure("Needed", cloth_length(need.total, unit), html! { (need.total.both(unit, Round::Up)) }))
                        (figure("Strip width", length_cut(need.strip_width, unit), html! { @if !name.is_empty() { "of " (name) } }))
                    }
                }
                form method="get" action=(format!("{base}/binding/remnant")) data-unit=(unit.name()) {
                    (errors_summary(form))
                    (card("rectangles", "The rectangles", html! {
                        p.hint { "Measured straight: across the grain, along it, and how many. Several are joined, and each join is paid for. Nothing here is saved." }
                        (cloth_fields::remnant_rows(form, 1, false))
                    }))
                    (outline_fields::outlined_card(form, false))
                    (save_bar("Work it out", &ReturnTo { href: &format!("{base}/figures#binding"), label: "Back" }))
                }
                @if let Some(answer) = answer.filter(|_| !given.is_empty()) {
                    @for way in &answer.ways { (way_card(way, given, answer.strip_width, cloth.map_or("", |c| c.colour.as_str()), unit)) }
                    (working(&answer.shown))
                }
            } @else {
                (empty("The binding cannot be worked out yet: it needs edges, a cloth and a width.", &format!("{base}/binding"), "To the binding"))
            }
        },
    )
}

fn way_card(way: &FromRemnantsWay, given: &[Given], strip: Length, colour: &str, unit: Unit) -> Markup {
    let anchor = crate::web::form::word(&way.cut);
    let used: i64 = way.used.iter().map(|u| u.times).sum();
    html! {
        (card(&anchor, way_name(way.cut), html! {
            div.figures {
                @if way.enough {
                    (figure("Enough", html! { "yes" }, html! { (used) @if used == 1 { " remnant does" } @else { " remnants together" } }))
                    (figure("Left over", length_down(way.over, unit), html! {}))
                } @else {
                    (figure("Enough", html! { "no" }, html! { @if used == 0 { "no strip is long enough" } @else { "all of them together" } }))
                    (figure("Missing", length_up(way.missing, unit), html! {}))
                }
                (figure("Made", length_down(way.made, unit), html! { (way.joins) @if way.joins == 1 { " join" } @else { " joins" } " taken off" }))
            }
            @for (n, one) in way.each.iter().enumerate() {
                @if one.made > Length::ZERO {
                    @let times = way.used.iter().find(|u| u.remnant == n).map_or(0, |u| u.times);
                    (rectangle(n, given.get(n), one, times, strip, colour, unit))
                }
            }
        }))
    }
}

fn rectangle(
    n: usize,
    given: Option<&Given>,
    one: &RemnantYield,
    times: i64,
    strip: Length,
    colour: &str,
    unit: Unit,
) -> Markup {
    let whole = given.map_or(one.size, |g| g.size);
    html! {
        article.panel-figure {
            h3 { "Rectangle " (n + 1) ", " (size(whole, unit, Round::Nearest)) }
            p {
                "Gives " (one.made.both(unit, Round::Down)) @if one.count > 1 { ", each of " (one.count) } ": "
                @match one.strips.as_slice() {
                    [longest, _, ..] => { (one.joins + 1) " strips, the longest " (longest.length.both(unit, Round::Down)) }
                    list => @for s in list { (s.count) @if s.count == 1 { " strip of " } @else { " strips of " } (s.length.both(unit, Round::Down)) }
                }
                @if one.lengthwise { ", cut along the grain" }
                ". " @if one.enough { "Enough by itself." } @else { "By itself " (one.missing.both(unit, Round::Up)) " missing." }
                @if one.count > 1 || !one.enough { " Used: " (times) "." }
            }
            @if !one.drawn.is_empty() { (strips(one.size, &one.drawn, strip, colour, unit)) }
        }
    }
}
