//! How a phone is told to trust this notebook's encryption. Open to all, and
//! without encryption too: it is for those who do not trust it yet.

use crate::web::app::App;
use crate::web::components::card;
use crate::web::error::{Answer, WebError};
use crate::web::lan::scheme;
use crate::web::page;
use crate::web::respond;
use crate::web::tls::{Tls, Trust};
use crate::web::visitor::is_encrypted;
use actix_web::http::{Method, StatusCode, header};
use actix_web::web::{Data, ServiceConfig, get, resource};
use actix_web::{HttpRequest, HttpResponse};
use maud::{Markup, html};

/// The kind by which phones and browsers know an authority's certificate.
const KIND: &str = "application/x-x509-ca-cert";

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/trust").route(get().to(show)))
        .service(resource("/trust/notchbook.crt").route(get().to(certificate)));
}

async fn show(app: Data<App>, request: HttpRequest) -> Answer {
    let host = request.headers().get("host").and_then(|h| h.to_str().ok());
    let body = match app.tls.as_deref().map(|t| &t.trust) {
        Some(Trust::Authority { name, fingerprint, .. }) => {
            steps(name, fingerprint, host.unwrap_or_default(), is_encrypted(&request))
        }
        Some(Trust::OwnFiles { .. }) => html! {
            section.card {
                h1 { "Nothing to install" }
                p { "This notebook uses certificate files of its maker's own. Phones trust them if they trust whoever signed them." }
            }
        },
        None => html! {
            section.card {
                h1 { "Not encrypted" }
                p { "This notebook speaks plain http. To encrypt what goes through the network, stop it with Ctrl-C on its computer and start it with " code { "notchbook --lan --tls" } "." }
            }
        },
    };
    respond::page(page::door("Trust this notebook", body))
}

async fn certificate(app: Data<App>) -> Answer {
    let Some(Trust::Authority { certificate, .. }) = app.tls.as_deref().map(|t| &t.trust) else {
        return Err(WebError::NoPage);
    };
    // Not as an attachment: a phone then offers to install it instead of keeping a file.
    Ok(HttpResponse::Ok()
        .content_type(KIND)
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(certificate.clone()))
}

fn steps(name: &str, fingerprint: &str, host: &str, encrypted: bool) -> Markup {
    html! {
        h1 { "Trust this notebook" }
        p { "Then nobody in the network can read along, and this device works without warnings. It is done once for each phone." }
        (card("certificate", "1. Get the certificate", html! {
            p.actions { a.button.primary href="/trust/notchbook.crt" { "Get the certificate" } }
            p.hint { "It is called “" (name) "”. It can vouch only for the notebook's computer in networks at home, never for a site of the internet." }
        }))
        (card("install", "2. Tell the phone to trust it", html! {
            h3 { "iPhone or iPad" }
            ol {
                li { "Open this page in Safari and allow the download." }
                li { "Settings, “Profile Downloaded” near the top, Install." }
                li { "Settings, General, About, Certificate Trust Settings: switch on “" (name) "”. Without this last step it is not trusted." }
            }
            h3 { "Android" }
            ol {
                li { "Open Settings and search for “CA certificate”. It stands under Security, Encryption and credentials, Install a certificate." }
                li { "Press “Install anyway” and choose notchbook.crt among the downloads. The phone may ask for its lock code first." }
                li { "The phone then says that the network may be monitored. It says so of every certificate added by hand." }
            }
            h3 { "Another computer" }
            ol {
                li { "Open the file notchbook.crt and add it to the authorities the system trusts, for websites." }
                li { "Firefox keeps a list of its own: Settings, Privacy and Security, View Certificates, Authorities, Import." }
            }
        }))
        (card("compare", "3. Compare", html! {
            p { "Someone in the network could have handed you another certificate. Compare the SHA-256 fingerprint in the certificate's details " b { "on the phone" } " with the one the notebook's computer shows: in its terminal, and under Settings, “Let a phone in”." }
            (fingerprint_lines(fingerprint))
            p.hint { "If they differ, take the certificate off the phone again." }
        }))
        (card("open", "4. Open the notebook", html! {
            p.actions { a.button href=(format!("{}://{host}/", scheme(true))) { "Open it encrypted" } }
            @if !encrypted { p.hint { "The address begins with https from now on. A warning there means that a step is missing." } }
        }))
    }
}

/// Eight bytes a line, to be compared line by line.
pub fn fingerprint_lines(fingerprint: &str) -> Markup {
    let bytes: Vec<&str> = fingerprint.split(':').collect();
    html! {
        p.fingerprint { @for line in bytes.chunks(8) { code { (line.join(":")) } " " } }
    }
}

/// For the page that lets a phone in: what must happen first, and what to compare.
pub fn first_step(tls: &Tls, way: Option<&str>) -> Markup {
    match &tls.trust {
        Trust::Authority { fingerprint, .. } => html! {
            @if let Some(way) = way {
                p { "A phone that comes for the first time must trust this notebook's certificate. Open this address on it and follow the steps, then scan the square above:" }
                p { code.folder { (way) } }
            }
            p { "The certificate's SHA-256 fingerprint, to compare with what the phone shows in its details:" }
            (fingerprint_lines(fingerprint))
        },
        Trust::OwnFiles { until, .. } => html! {
            p { "Encrypted by your own certificate, which ends on " (until.format("%-d %B %Y")) "." }
        },
    }
}

/// The answer to plain http from elsewhere while the notebook can be encrypted.
pub fn not_encrypted(method: &Method, path: &str, host: &str) -> HttpResponse {
    let address = format!("{}://{host}", scheme(true));
    if path.starts_with("/api/") {
        return HttpResponse::Forbidden()
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .json(serde_json::json!({ "error": format!("This notebook is encrypted. Ask {address} instead.") }));
    }
    let sent = *method == Method::POST;
    let body = html! {
        section.card {
            h1 { "This notebook is encrypted" }
            p { "Its address begins with https:" }
            p.actions { a.button.primary href=(format!("{address}/")) { (address) } }
            p { "If the browser warns you there, this device does not trust the notebook yet." }
            p.actions { a.button href="/trust" { "How to trust it" } }
        }
        @if sent { p.hint { "What you sent was not saved." } }
    };
    respond::page_with(StatusCode::FORBIDDEN, page::door("This notebook is encrypted", body))
}
