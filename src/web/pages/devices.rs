//! The devices that are let in from the home network: their list, one of them,
//! and letting in another.

use crate::measure::Unit;
use crate::notebook::{Device, Notebook, NotebookError};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{ReturnTo, card, card_with, errors_summary, qr, save_bar, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{NAME, Reader, Shown, Typed};
use crate::web::lan::{self, Lan};
use crate::web::page::{self, Shelf};
use crate::web::pages::trust::first_step;
use crate::web::pairing::{Code, MINUTES};
use crate::web::respond;
use crate::web::tls::Tls;
use crate::web::visitor::Visitor;
use actix_web::web::{Data, Path, ReqData, ServiceConfig, get, post, resource};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/settings/let-in")
                .route(get().to(show_code))
                .route(post().to(make_code)),
        )
        .service(
            resource("/settings/devices/{id}")
                .route(get().to(show))
                .route(post().to(rename)),
        )
        .service(resource("/settings/devices/{id}/revoke").route(post().to(revoke)));
}

/// For the settings.
pub fn devices_card(devices: &[Device], visitor: &Visitor, lan: bool, encrypted: bool) -> Markup {
    let action = html! {
        @if lan && visitor.is_computer() { a.button href="/settings/let-in" { "Let a phone in" } }
    };
    card_with(
        "devices",
        "Phones and other devices",
        action,
        html! {
            @if !lan {
                p { "The notebook answers on this computer only. To use it from a phone at home, start it with " code { "notchbook --lan" } "." }
            } @else if !visitor.is_computer() {
                p.hint { "Another device is let in on the computer the notebook is on." }
            }
            @if lan && encrypted { p.hint { "What goes through the network is encrypted. " a href="/trust" { "How a phone comes to trust it" } } }
            @if devices.is_empty() {
                @if lan { p { "No device is let in yet." } }
            } @else {
                ul.rows {
                    @for device in devices {
                        li { a.row href=(format!("/settings/devices/{}", device.id)) {
                            div.row-text {
                                b { (device.name) }
                                @if visitor.is_device(device) { " (this device)" }
                                div.meta { "last seen " (moment(device.last_seen_at)) }
                            }
                        } }
                    }
                }
            }
        },
    )
}

fn moment(at: DateTime<Utc>) -> String {
    at.with_timezone(&Local).format("%-d %B %Y, %H:%M").to_string()
}

async fn one(app: &App, path: &str) -> Result<Device, WebError> {
    let wanted = id(path)?;
    app.ask(move |n: &Notebook| {
        let mut devices = n.devices()?.into_iter();
        devices
            .find(|d| d.id == wanted)
            .ok_or(NotebookError::NotFound("device"))
    })
    .await
}

async fn show(app: Data<App>, path: Path<String>, visitor: ReqData<Visitor>) -> Answer {
    let device = one(&app, &path).await?;
    let mut typed = Typed::default();
    typed.set("name", &device.name);
    respond::page(device_page(&device, &visitor, &Shown::from(typed)))
}

async fn rename(app: Data<App>, path: Path<String>, body: Body, visitor: ReqData<Visitor>) -> Answer {
    let device = one(&app, &path).await?;
    let typed = typed(body);
    let mut r = Reader::new(&typed, Unit::Inch);
    let name = r.required("name", NAME, "Give the device a name.");
    let errors = r.errors;
    if !errors.is_empty() {
        let form = Shown { typed, errors };
        return Err(WebError::Form(device_page(&device, &visitor, &form)));
    }
    app.ask(move |n: &Notebook| n.rename_device(device.id, &name)).await?;
    respond::see("/settings#devices")
}

async fn revoke(app: Data<App>, path: Path<String>) -> Answer {
    let device = id(&path)?;
    app.ask(move |n: &Notebook| n.revoke_device(device)).await?;
    tracing::info!(%device, "a device was shut out");
    respond::see("/settings#devices")
}

fn device_page(device: &Device, visitor: &Visitor, form: &Shown) -> Markup {
    page::notebook(
        Shelf::Settings,
        &device.name,
        html! {
            h1 { (device.name) }
            form method="post" {
                (errors_summary(form))
                (card("device", "The device", html! {
                    (text(form, "name", "Name", "", "text"))
                    p.meta { "Let in " (moment(device.made_at)) ", last seen " (moment(device.last_seen_at)) "." }
                }))
                (save_bar("Save", &ReturnTo { href: "/settings#devices", label: "Cancel" }))
            }
            form.danger method="post" action=(format!("/settings/devices/{}/revoke", device.id)) {
                p {
                    @if visitor.is_device(device) { "This is the device you hold: it is shut out at once. " } @else { "It is shut out at once. " }
                    "To let it in again it needs a new code."
                }
                button.button.quiet type="submit" { "Shut this device out" }
            }
        },
    )
}

/// Letting in is for the computer itself: a device that was let in, or taken
/// from its owner, lets in no others.
fn only_here(visitor: &Visitor) -> Result<(), WebError> {
    if visitor.is_computer() {
        Ok(())
    } else {
        Err(WebError::Elsewhere)
    }
}

async fn show_code(app: Data<App>, visitor: ReqData<Visitor>) -> Answer {
    only_here(&visitor)?;
    respond::page(page::notebook(
        Shelf::Settings,
        "Let a phone in",
        html! {
            h1 { "Let a phone in" }
            @match app.lan.as_deref() {
                Some(lan) => (let_in(lan, app.tls.as_deref(), lan.pairing.code(Utc::now()))),
                None => (card("let-in", "Not while this computer only is answered", html! {
                    p { "Stop the notebook with Ctrl-C and start it with " code { "notchbook --lan" } "." }
                })),
            }
            p.actions { a.button.quiet href="/settings#devices" { "Back to the settings" } }
        },
    ))
}

fn let_in(lan: &Lan, tls: Option<&Tls>, code: Option<Code>) -> Markup {
    let ways = lan.ways();
    let new_code = |words: &str| {
        html! { form method="post" action="/settings/let-in" { p.actions { button.button.primary type="submit" { (words) } } } }
    };
    html! {
        @match (code, ways.first()) {
            (_, None) => (card("let-in", "No network", html! {
                p { "This computer is in no network now. Connect it to the one the phone is in, and open this page again." }
            })),
            (None, Some(_)) => (card("let-in", "A code", html! {
                p { "A code lets one device in, once, within " (MINUTES) " minutes." }
                (new_code("Make a code"))
            })),
            (Some(code), Some(way)) => (card("let-in", "Scan this with the phone", html! {
                (qr(&lan::link(way, &code), &format!("Code to scan, leads to {way}/pair")))
                p { "It lets one device in, once, until " b { (code.until.with_timezone(&Local).format("%H:%M")) } "." }
                p { "Or open this address on the phone and type the code:" }
                p { code.folder { (way) "/pair" } }
                p.code #code { (code.spaced()) }
                (new_code("Make another code"))
            })),
        }
        @if let Some(tls) = tls {
            (card("encrypted", "Encrypted", first_step(tls, lan.way_to_trust().as_deref())))
        }
        (card("network", "In the home network", html! {
            @if ways.len() > 1 {
                p { "If the phone cannot reach this address, try:" }
                ul.ways { @for way in &ways[1..] { li { code { (way) "/pair" } } } }
            }
            p { "The phone must be in the same network. A firewall on this computer may have to let port " (lan.port) " in." }
            @if tls.is_none() {
                p { "The notebook speaks plain http: anyone in the same network could read along. Use it at home only, or start it with " code { "notchbook --lan --tls" } "." }
            }
        }))
    }
}

async fn make_code(app: Data<App>, visitor: ReqData<Visitor>) -> Answer {
    only_here(&visitor)?;
    let lan = app.lan.as_deref().ok_or(WebError::NoPage)?;
    lan.pairing.new_code(Utc::now()).map_err(NotebookError::from)?;
    respond::see("/settings/let-in")
}
