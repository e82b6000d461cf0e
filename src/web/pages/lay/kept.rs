//! The lay that is kept of the cloth: what became of it, keeping one, taking
//! it out again.

use super::form::{self, Wanted, carried};
use super::{Laid, Place2, found, sheet, whole};
use crate::figures::LayState;
use crate::figures::lay::{LayJob, kept_lay};
use crate::plan::{Edit, KeptLay};
use crate::web::app::{App, Body};
use crate::web::components::{card as card_of, hidden};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed};
use crate::web::laying::Found;
use crate::web::pages::part::{self, Saved};
use crate::web::respond;
use actix_web::http::StatusCode;
use actix_web::web::Data;
use maud::{Markup, html};

/// Whether one is kept that holds on the plan as it is.
pub fn holds(laid: &Laid) -> bool {
    matches!(kept_lay(&laid.plan, &laid.figures, &laid.cloth), Some(Ok(_)))
}

pub fn card(laid: &Laid) -> Markup {
    let Some(lay) = laid.plan.lay(&laid.cloth.id) else {
        return html! {};
    };
    let Some(held) = kept_lay(&laid.plan, &laid.figures, &laid.cloth) else {
        return html! {};
    };
    let figures = laid.figures.cloths.iter().find(|f| f.cloth == laid.cloth.id);
    let told = figures.and_then(|f| f.lay.as_ref());
    let again = form::query(&form::of_wish(laid, &lay.wish()));
    card_of(
        "kept",
        "The kept lay",
        html! {
            @match told {
                Some(told) => p.lay-verdict.error[told.state == LayState::NoLongerHolds] { (told.told) },
                None => p.lay-verdict.error { "The figures of this cloth cannot be worked out yet, so the kept lay is not counted on. Put right what the plan asks for." },
            }
            @if let Ok(held) = &held {
                (found::shown(&held.answer(), laid.plan.unit, "kept"))
                p.actions { (sheet::links(&laid.base(), None)) }
            }
            div.actions.lay-ways {
                a.button href=(format!("{}?{again}#found", laid.base())) { "Lay these again" }
                form method="post" action=(format!("{}/remove", laid.base())) {
                    (hidden("seen", &laid.project.revision.to_string()))
                    button.button.quiet type="submit" { "Take the kept lay out" }
                }
            }
            p.hint { @if laid.project.variant.is_none() { "Earlier revisions of the plan keep it." } @else { "The plan itself keeps its own until you take the variant." } }
        },
    )
}

/// Keeps what is shown, place by place: another search may be under way by the
/// time it is sent.
pub fn keep_form(laid: &Laid, wanted: &Wanted, job: &LayJob, found: &Found) -> Markup {
    let Some(lay) = found
        .layout
        .as_ref()
        .and_then(|layout| job.to_keep(layout, &wanted.wish))
    else {
        return html! {};
    };
    let kept = laid.plan.lay(&laid.cloth.id);
    if kept == Some(&lay) {
        return html! { p.hint { "This is the lay that is kept." } };
    }
    let Ok(text) = serde_json::to_string(&lay) else {
        return html! {};
    };
    let mut form = Shown::default();
    part::begin(&mut form, &laid.project);
    html! {
        form.keep-lay method="post" action=(format!("{}/keep", laid.base())) {
            (carried(wanted))
            (hidden("seen", form.typed.get("seen")))
            (hidden("decision_id", form.typed.get("decision_id")))
            (hidden("lay", &text))
            @if laid.project.variant.is_none() { (part::decision_fields(&form)) }
            div.actions {
                button.button.primary type="submit" { @if kept.is_some() { "Keep this lay instead" } @else { "Keep this lay" } }
            }
            p.hint { "It goes into the plan. What is to be bought follows from it as long as every piece still lies where it is drawn, and cutting rectangles takes no less." }
        }
    }
}

/// What was sent, or in a sentence why it cannot be kept.
fn sent(laid: &Laid, typed: &Typed) -> Result<KeptLay, String> {
    let lay: KeptLay =
        serde_json::from_str(typed.get("lay")).map_err(|error| format!("What was sent is no lay ({error})."))?;
    if lay.cloth != laid.cloth.id {
        return Err("It lies on another cloth.".into());
    }
    let mut plan = laid.plan.clone();
    plan.lays = vec![lay.clone()];
    match kept_lay(&plan, &laid.figures, &laid.cloth) {
        Some(Err(why)) => Err(why),
        _ => Ok(lay),
    }
}

pub async fn keep(app: Data<App>, place: Place2, body: Body) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(body.into_inner());
    let lay = match sent(&laid, &typed) {
        Ok(lay) => lay,
        Err(why) => {
            let note = note(&format!("This lay was not kept. {why} Lay the pieces again."));
            let (page, _) = whole(&app, &laid, typed, note).await?;
            return Ok(respond::page_with(StatusCode::UNPROCESSABLE_ENTITY, page));
        }
    };
    let edit = Edit::Lay(Box::new(lay));
    match part::save(&app, &laid.project, &typed, edit, &format!("lays/{}", laid.cloth.id)).await? {
        Saved::Done => respond::see(&format!("{}#kept", laid.base())),
        Saved::Problems(problems) => {
            let said: Vec<&str> = problems.iter().map(|p| p.message.as_str()).collect();
            let (page, _) = whole(&app, &laid, typed, note(&said.join(" "))).await?;
            Ok(respond::page_with(StatusCode::UNPROCESSABLE_ENTITY, page))
        }
        Saved::Clash(_, what) => {
            let now = Laid::load(&app, &place).await?;
            let said = format!(
                "{what} was changed on another device or in another tab since you opened it. It is shown here; keep yours instead, or leave it."
            );
            let (page, _) = whole(&app, &now, typed, note(&said)).await?;
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
    }
}

pub async fn remove(app: Data<App>, place: Place2, body: Body) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(body.into_inner());
    let seen = typed.get("seen").parse().unwrap_or(0);
    let edit = Edit::RemoveLay(laid.cloth.id.clone());
    match part::change(&app, laid.project.id, seen, edit, None, None).await {
        Err(WebError::Notebook(crate::notebook::NotebookError::Clash { clash, .. })) => {
            let (page, _) = whole(&app, &laid, Typed::default(), note(&clash.to_string())).await?;
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
        Err(other) => Err(other),
        Ok(()) => respond::see(&laid.base()),
    }
}

fn note(said: &str) -> Markup {
    html! { p.error role="alert" { (said) } }
}
