//! The allowances of a project, and its unit.

use super::part::{self, PartForm};
use crate::measure::{Length, Unit};
use crate::notebook::Project;
use crate::plan::{Allowances, CuttingRule, Edit, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, choice, length_input};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, Typed, length_text, word};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/allowances")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/allowances/try").route(post().to(try_it)));
}

/// Field, label, hint. The source of each default stands beside the figures that use it.
const LENGTHS: [(&str, &str, &str); 10] = [
    ("seam", "Seam of the patchwork", "1/4 in (6.4 mm) is usual."),
    (
        "straightening",
        "Lost to straightening",
        "Once on each length of cloth and each remnant.",
    ),
    (
        "shop_step",
        "The shop cuts by",
        "Lengths to buy are rounded up to it: 1/8 yd, 1/4 yd, 5 cm, 10 cm.",
    ),
    ("batting_overage", "Batting beyond the panel", "On every side."),
    ("backing_overage", "Backing beyond the panel", "On every side."),
    (
        "backing_seam",
        "Seam where backing is joined",
        "On each side of the join.",
    ),
    (
        "binding_closed_end",
        "Binding: where a run meets itself",
        "For each closed edge.",
    ),
    (
        "binding_open_ends",
        "Binding: both ends of an open run",
        "For each open edge.",
    ),
    ("binding_corner", "Binding: a mitred corner", "For each corner."),
    (
        "binding_shortest_strip",
        "Binding: shortest bias strip used",
        "Shorter ones mean too many joins.",
    ),
];

fn values(a: &Allowances) -> [Length; 10] {
    [
        a.seam,
        a.straightening,
        a.shop_step,
        a.batting_overage,
        a.backing_overage,
        a.backing_seam,
        a.binding_closed_end,
        a.binding_open_ends,
        a.binding_corner,
        a.binding_shortest_strip,
    ]
}

async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let mut form = Shown::from(filled(&project.plan));
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &form, None).await?)
}

async fn page(app: &App, project: &Project, form: &Shown, note: Option<Markup>) -> Result<Markup, WebError> {
    let rules = [
        (word(&CuttingRule::Trade), "as the trade prints them".to_string()),
        (word(&CuttingRule::Exact), "by exact geometry".to_string()),
    ];
    let units = [
        (word(&Unit::Inch), "inches".to_string()),
        (word(&Unit::Cm), "centimetres".to_string()),
    ];
    PartForm {
        project,
        address: "allowances".into(),
        heading: "Unit and allowances".into(),
        fields: html! {
            (card("unit-card", "Unit and cutting rule", html! {
                (choice(form, "unit", "Shown first, and taken by a bare number", "", &units))
                (choice(form, "cutting_rule", "Triangles are cut", "As printed they are a little generous and trimmed after sewing; exact sizes are rounded up to 1/16 in (1 mm).", &rules))
            }))
            (card("lengths", "Allowances of this project", html! {
                div.setting-rows { @for (field, label, hint) in LENGTHS { (length_input(form, field, label, hint)) } }
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

fn filled(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    typed.set("unit", word(&plan.unit));
    typed.set("cutting_rule", word(&plan.allowances.cutting_rule));
    for ((field, _, _), value) in LENGTHS.iter().zip(values(&plan.allowances)) {
        typed.set(field, length_text(value, plan.unit));
    }
    typed
}

fn read(typed: &Typed, plan: &Plan) -> Result<(Allowances, Unit), Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let unit = r.choice("unit");
    let allowances = Allowances {
        seam: r.length("seam"),
        cutting_rule: r.choice("cutting_rule"),
        straightening: r.length("straightening"),
        shop_step: r.length_positive("shop_step"),
        batting_overage: r.length("batting_overage"),
        backing_overage: r.length("backing_overage"),
        backing_seam: r.length("backing_seam"),
        binding_closed_end: r.length("binding_closed_end"),
        binding_open_ends: r.length("binding_open_ends"),
        binding_corner: r.length("binding_corner"),
        binding_shortest_strip: r.length("binding_shortest_strip"),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() {
        Ok((in_steps_of(allowances, plan, unit), unit))
    } else {
        Err(r.errors)
    }
}

/// With another unit comes what shops cut by in it, where nothing else was
/// typed: by the metre nobody cuts eighths of a yard.
fn in_steps_of(mut allowances: Allowances, plan: &Plan, unit: Unit) -> Allowances {
    if allowances.shop_step == plan.allowances.shop_step {
        allowances.shop_step = plan.read_in(unit).allowances.shop_step;
    }
    allowances
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let typed = typed(body);
    let (allowances, unit) = match read(&typed, &project.plan) {
        Ok(read) => read,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let saved = part::save(&app, &project, &typed, Edit::Allowances(allowances, unit), "allowances").await?;
    let fields = LENGTHS.map(|(field, _, _)| field);
    part::finish(
        saved,
        Shown::from(typed),
        "#allowances",
        |p| part::last_of(p, &fields),
        |now| filled(&now.plan),
        async |project, form, note| page(&app, project, form, note).await,
        &project,
    )
    .await
}

async fn try_it(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let read = read(&typed(body), &project.plan);
    part::tried(&app, &project, read.map(|(a, unit)| Edit::Allowances(a, unit)), None).await
}
