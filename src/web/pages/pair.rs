//! The door: where a device that is not let in yet says its code. The code is
//! typed, or stands after the # of a scanned address; it is sent in a form's
//! body only, so that no log and no referrer has it.

use crate::measure::Unit;
use crate::notebook::Notebook;
use crate::web::app::{App, Body, typed};
use crate::web::components::text;
use crate::web::error::{Answer, WebError};
use crate::web::form::{NAME, Reader, Shown};
use crate::web::page;
use crate::web::pairing::{MINUTES, Outcome};
use crate::web::respond;
use crate::web::visitor::{self, Visitor};
use actix_web::http::{Method, StatusCode, header};
use actix_web::web::{Data, FormConfig, ReqData, ServiceConfig, get, post, resource};
use actix_web::{HttpRequest, HttpResponse};
use chrono::Utc;
use maud::{Markup, html};

/// Strangers may send this form: it is small.
const FORM: usize = 4 * 1024;

pub fn routes(config: &mut ServiceConfig) {
    let form = FormConfig::default()
        .limit(FORM)
        .error_handler(|_, _| WebError::Refused("The form could not be read. Open the page again.".into()).into());
    config.service(
        resource("/pair")
            .app_data(form)
            .route(get().to(show))
            .route(post().to(pair)),
    );
}

async fn show(app: Data<App>, visitor: ReqData<Visitor>, request: HttpRequest) -> Answer {
    if visitor.is_computer() {
        return respond::page(already("This is the computer the notebook is on: it needs no code."));
    }
    if let Some(device) = visitor::device(&app, &request).await? {
        return respond::page(already(&format!(
            "This device is let in already, as “{}”.",
            device.name
        )));
    }
    respond::page(door_page("Let this device in", &fresh(), html! {}))
}

/// Anyone may ask; only a good code has an effect.
async fn pair(app: Data<App>, body: Body, request: HttpRequest) -> Answer {
    let lan = app.lan.clone().ok_or(WebError::NoPage)?;
    let typed = typed(body);
    // What else is wrong is said first, so that it costs no code.
    let mut r = Reader::new(&typed, Unit::Inch);
    let code = r.required("code", 40, "Type the code that stands on the computer.");
    let name = r.required("name", NAME, "Give this device a name, to know it by in the settings.");
    let mut errors = r.errors;
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    if errors.is_empty() {
        let from = request.peer_addr().ok_or(WebError::NoPage)?.ip().to_canonical();
        let outcome = lan.pairing.try_code(&code, from, Utc::now());
        if outcome != Outcome::Good {
            tracing::warn!(peer = %from, ?outcome, "a code was not taken");
        }
        match outcome {
            Outcome::Good => {
                let (device, token) = app.ask(move |n: &Notebook| n.add_device(&name)).await?;
                tracing::info!(device = %device.id, peer = %from, "a device was let in");
                return Ok(HttpResponse::SeeOther()
                    .insert_header((header::LOCATION, "/"))
                    .cookie(visitor::cookie(&token, visitor::is_encrypted(&request)))
                    .finish());
            }
            Outcome::Wrong => errors.add(
                "code",
                format!("This code is wrong, was used, or is older than {MINUTES} minutes. Make a new one on the computer: Settings, “Let a phone in”."),
            ),
            Outcome::TooOften => {
                status = StatusCode::TOO_MANY_REQUESTS;
                errors.add("code", "Too many codes were tried from here. Wait a minute, then try again.");
            }
        }
    }
    let form = Shown { typed, errors };
    Ok(respond::page_with(
        status,
        door_page("Let this device in", &form, html! {}),
    ))
}

/// The answer to a device that is not let in, whatever it asked for.
pub fn turned_away(method: &Method, path: &str) -> HttpResponse {
    if path.starts_with("/api/") {
        return HttpResponse::Forbidden()
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .json(serde_json::json!({ "error": "This device is not let in. Open /pair in its browser." }));
    }
    let sent = *method == Method::POST;
    let note = html! {
        @if sent { p.hint { "This was not saved. When the device is let in, open the form again: this browser keeps what was typed in it. Photos must be chosen anew." } }
    };
    let page = door_page("This device is not let in", &fresh(), note);
    let mut answer = respond::page_with(StatusCode::FORBIDDEN, page);
    // For the worker that keeps pages: it lets go of them.
    answer.headers_mut().insert(
        header::HeaderName::from_static("x-notchbook-door"),
        header::HeaderValue::from_static("closed"),
    );
    answer
}

fn fresh() -> Shown {
    let mut form = Shown::default();
    form.typed.set("name", "Phone");
    form
}

fn door_page(heading: &str, form: &Shown, note: Markup) -> Markup {
    page::door(
        heading,
        html! {
            section.card {
                h1 { (heading) }
                p { "On the computer the notebook is on, open Settings and press “Let a phone in”. Scan the square it shows, or type its code here." }
                form method="post" action="/pair" {
                    (text(form, "code", "Code", "Twelve letters and digits. Hyphens may be left out.", "text"))
                    (text(form, "name", "Name of this device", "Shown in the notebook's settings, where it can be shut out again.", "text"))
                    p.actions { button.button.primary type="submit" { "Let this device in" } }
                }
            }
            (note)
        },
    )
}

fn already(sentence: &str) -> Markup {
    page::door(
        "Let in already",
        html! {
            section.card {
                h1 { "Let in already" }
                p { (sentence) }
                p.actions { a.button.primary href="/" { "Open the notebook" } }
            }
        },
    )
}
