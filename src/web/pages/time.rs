//! Time: hours a week, other work, and what the plan's work comes to.

use super::part::{self, PartForm};
use crate::figures::Figures;
use crate::figures::time::{self, Days, Paces, TimeFigures, WorkFigures};
use crate::measure::{Unit, about_hours, hours};
use crate::notebook::{Notebook, Project, ProjectState, WearerKind};
use crate::plan::{Edit, MadeFor, Plan, TimePlan, limits};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, card_with, cautions, choice, figure, text, working};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, Typed, word};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use chrono::Local;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/time")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/time/try").route(post().to(try_it)));
}

/// The time of a plan at the paces of past projects, less what is logged,
/// against the project's due date.
pub async fn reckoned(app: &App, project: &Project, figures: &Figures) -> Result<TimeFigures, WebError> {
    let id = project.id;
    let (past, logged, steps) = app
        .ask(move |n: &Notebook| Ok((n.paces(id)?, n.minutes(id)?, n.step_times(id)?)))
        .await?;
    let days = Days {
        today: Local::now().date_naive(),
        due: project.details.due,
    };
    let amounts = time::amounts_in(figures);
    let time = time::reckoned(&project.plan, amounts, &Paces::of(&past), &logged, &steps, Some(days));
    Ok(match project.details.state {
        ProjectState::Finished => time.of_finished(),
        _ => time,
    })
}

async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let whole = whole(&app, &project).await?;
    let mut form = Shown::from(filled(&project.plan));
    if project.plan.time.is_none() {
        form.typed.set("made_for", word(&wearers_kind(&app, &project).await?));
    }
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &form, None, &whole).await?)
}

async fn whole(app: &App, project: &Project) -> Result<TimeFigures, WebError> {
    let figures = app.figures(&project.plan).await?;
    reckoned(app, project, &figures).await
}

/// Where nothing is said yet: as the wearer is.
async fn wearers_kind(app: &App, project: &Project) -> Result<MadeFor, WebError> {
    let Some(wearer) = project.details.wearer else {
        return Ok(project.plan.made_for);
    };
    let kind = app.ask(move |n: &Notebook| n.wearer(wearer)).await.map(|w| w.kind);
    Ok(match kind {
        // The wearer may be in the bin.
        Ok(WearerKind::Adult) | Err(_) => project.plan.made_for,
        Ok(kind) => kind.made_for(),
    })
}

async fn page(
    app: &App,
    project: &Project,
    form: &Shown,
    note: Option<Markup>,
    time: &TimeFigures,
) -> Result<Markup, WebError> {
    let whom: Vec<_> = MadeFor::ALL.iter().map(|m| (word(m), m.name().to_string())).collect();
    PartForm {
        project,
        address: "time".into(),
        heading: "Time".into(),
        fields: html! {
            (summed(project, time))
            (card("time-form", "Your time", html! {
                div.pair {
                    (text(form, "minutes_a_week", "Hours a week", "For this project: 5, or 2:30.", "text"))
                    (text(form, "other_minutes", "Other work, hours", "Designing, shopping, a first fitting.", "text"))
                }
                (choice(form, "made_for", "Made for", "Cautions differ for children and animals.", &whom))
            }))
        },
        focus: None,
        remove: None,
        kept_by: None,
        back: "#allowances".into(),
    }
    .page(app, form, note)
    .await
}

/// Sum, verdict and the kinds of work, each with its pace.
fn summed(project: &Project, time: &TimeFigures) -> Markup {
    let unit = project.plan.unit;
    let log = format!("/projects/{}/log/add?kind=work", project.id);
    card_with(
        "work",
        "Work",
        html! { a.button href=(log) { "Log minutes" } },
        html! {
            @if time.work.is_empty() {
                p { "The plan holds no work yet: it follows from pieces, patchwork, edges and closures." }
            } @else {
                div.figures {
                    (figure("Left to do", html! { (about_hours(time.left.likely, true)) }, range(time.left.low, time.left.high, time)))
                    (figure("Logged so far", html! { (hours(time.logged)) }, html! { "of this project" }))
                }
                @if let Some(outlook) = &time.outlook {
                    div.outlook { @for sentence in &outlook.words { p { (sentence) } } }
                }
                (table(time, unit))
                (cautions(&time.shown.cautions))
                (working(&time.shown))
            }
        },
    )
}

fn range(low: i64, high: i64, time: &TimeFigures) -> Markup {
    html! {
        @if low != high { (about_hours(low, false)) " to " (about_hours(high, true)) }
        @if !time.not_known.is_empty() { @if low != high { ", " } "without " (time::names(&time.not_known)) }
    }
}

fn table(time: &TimeFigures, unit: Unit) -> Markup {
    html! {
        table.work role="table" {
            caption.quiet { "Kinds of work" }
            thead role="rowgroup" { tr role="row" {
                @for head in ["Work", "Amount", "Logged", "Left", "Expected in all", "Pace from"] { th role="columnheader" scope="col" { (head) } }
            } }
            tbody role="rowgroup" { @for line in &time.work { (row(line, unit)) } }
            @if time.expected.high > 0 {
                tfoot role="rowgroup" { tr role="row" {
                    th role="rowheader" scope="row" { "Together" @if !time.not_known.is_empty() { ", as far as known" } }
                    td role="cell" data-head="Amount" {}
                    td role="cell" data-head="Logged" { (hours(time.logged)) }
                    td role="cell" data-head="Left" { (about_hours(time.left.likely, true)) }
                    td role="cell" data-head="Expected in all" { (time.expected.words()) }
                    td role="cell" data-head="Pace from" {}
                } }
            }
        }
    }
}

fn row(line: &WorkFigures, unit: Unit) -> Markup {
    let unknown = html! { span.unknown { "not known yet" } };
    html! {
        tr role="row" {
            th role="rowheader" scope="row" { (line.work.name()) }
            td role="cell" data-head="Amount" {
                @if let Some(amount) = line.amount { b { (amount.words(unit)) } " " }
                (line.of)
            }
            td.none[line.logged == 0] role="cell" data-head="Logged" { @if line.logged > 0 { (hours(line.logged)) } @else { "–" } }
            td.none[line.left.is_none()] role="cell" data-head="Left" { @if let Some(left) = line.left { b { (about_hours(left.likely, true)) } } @else { "–" } }
            td role="cell" data-head="Expected in all" { @if let Some(minutes) = line.expected { (minutes.words()) } @else if line.amount.is_some() { (unknown) } @else { "–" } }
            td.source.none[line.expected.is_none() && line.amount.is_some()] role="cell" data-head="Pace from" { @if line.expected.is_some() || line.amount.is_none() { (line.pace) } @else { "–" } }
        }
    }
}

/// One line for the plan page.
pub fn in_short(time: &TimeFigures) -> String {
    let without = match time.not_known.as_slice() {
        [] => String::new(),
        kinds => format!(", without {}", time::names(kinds)),
    };
    match &time.outlook {
        Some(outlook) if !outlook.words.is_empty() => outlook.words.join(" "),
        _ if time.left.high == 0 && time.not_known.is_empty() && time.logged > 0 => {
            format!("{} logged, nothing left to do.", hours(time.logged))
        }
        _ if time.work.is_empty() => "Hours a week, and how long it will take.".into(),
        _ if time.expected.high == 0 => "How long it will take is not known yet: log minutes as you work.".into(),
        _ => format!("About {} left{without}.", time.left.words()),
    }
}

fn filled(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    let time = plan.time.clone().unwrap_or_default();
    for (field, minutes) in [
        ("minutes_a_week", time.minutes_a_week),
        ("other_minutes", time.other_minutes),
    ] {
        typed.set(
            field,
            if minutes == 0 {
                String::new()
            } else {
                hours(minutes.into())
            },
        );
    }
    typed.set("made_for", word(&plan.made_for));
    typed
}

fn read(typed: &Typed, plan: &Plan) -> Result<(TimePlan, MadeFor), Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let time = TimePlan {
        minutes_a_week: r.hours_or_none("minutes_a_week", limits::MINUTES_A_WEEK),
        other_minutes: r.hours_or_none("other_minutes", limits::OTHER_MINUTES),
    };
    let made_for = r.choice("made_for");
    part::read_decision(&mut r);
    if r.errors.is_empty() {
        Ok((time, made_for))
    } else {
        Err(r.errors)
    }
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let typed = typed(body);
    let whole = whole(&app, &project).await?;
    let (time, made_for) = match read(&typed, &project.plan) {
        Ok(read) => read,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &Shown { typed, errors }, None, &whole).await?,
            ));
        }
    };
    let saved = part::save(&app, &project, &typed, Edit::Time(Some(time), made_for), "time").await?;
    part::finish(
        saved,
        Shown::from(typed),
        "/time",
        |p| part::last_of(p, &["minutes_a_week", "other_minutes"]),
        |now| filled(&now.plan),
        async |project, form, note| page(&app, project, form, note, &whole).await,
        &project,
    )
    .await
}

async fn try_it(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let read = read(&typed(body), &project.plan);
    part::tried(&app, &project, read.map(|(t, whom)| Edit::Time(Some(t), whom)), None).await
}
