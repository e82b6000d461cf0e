//! The maker's own pages that are looked at all the time, kept as they were
//! made until anything in the notebook is changed.
//!
//! A wrong page is worse than a slow one, so a page is kept only where all it
//! is made of is known: the notebook, whose every change counts, and what is
//! in [`key`]. Handlers of these pages take nothing else of a request but its
//! address. Ids of forms are made anew for every answer ([`super::fresh`]).

use super::app::App;
use super::fresh::{self, Template};
use super::pages::reminder_on_first_page;
use super::respond;
use super::running;
use super::visitor::{self, Visitor};
use crate::notebook::{Id, Timer};
use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{Method, StatusCode, header};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, HttpResponse, web};
use chrono::{DateTime, FixedOffset, Local, Utc};
use std::sync::Arc;

/// Longer addresses are made up.
const ADDRESS: usize = 300;

pub async fn kept(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let app = request.app_data::<web::Data<App>>().cloned();
    let asked = app.zip(running::state()).and_then(|(app, state)| {
        let key = key(&app, &request)?;
        Some((app, state, key))
    });
    let Some((app, state, key)) = asked else {
        return Ok(next.call(request).await?.map_into_boxed_body());
    };
    if let Some(template) = app.known.own.get(state, &key) {
        return Ok(request.into_response(respond::whole_page(StatusCode::OK, template.page())));
    }
    let since = u64::try_from(Utc::now().timestamp_millis()).unwrap_or(0);
    let (answer, made) = fresh::noting(next.call(request)).await;
    let (request, answer) = answer?.into_parts();
    if !is_plain_page(&answer) {
        return Ok(ServiceResponse::new(request, answer.map_into_boxed_body()));
    }
    let (answer, body) = answer.into_parts();
    let body = match body.try_into_bytes() {
        Ok(page) => {
            // Its own copy takes no more room than it is long.
            if let Some(template) = Template::of(web::Bytes::copy_from_slice(&page), &made, since) {
                app.known.own.keep(state, &key, Arc::new(template));
            }
            BoxBody::new(page)
        }
        Err(body) => body.boxed(),
    };
    Ok(ServiceResponse::new(request, answer.set_body(body)))
}

/// As [`respond::page`] answers, and nothing more: no cookie, no other header.
fn is_plain_page<B>(answer: &HttpResponse<B>) -> bool {
    let has = |name, value: &str| answer.headers().get(name).is_some_and(|v| v == value);
    answer.status() == StatusCode::OK
        && answer.headers().len() == 2
        && has(header::CONTENT_TYPE, respond::HTML)
        && has(header::CACHE_CONTROL, respond::NOT_STORED)
}

/// All that a page depends on besides the notebook.
struct Asked<'a> {
    address: &'a str,
    who: &'a str,
    encrypted: bool,
    /// The day, and the clock's zone.
    now: DateTime<FixedOffset>,
    /// The minutes it runs.
    timer: Option<&'a Timer>,
    /// On the first page. A backup is made by another program, too.
    reminder: Option<Option<String>>,
}

impl Asked<'_> {
    fn key(&self) -> String {
        let minutes = self.timer.filter(|t| t.stopped_at.is_none());
        format!(
            "{} {} {} {} {} {:?} {:?}",
            self.address,
            self.who,
            self.encrypted,
            self.now.date_naive(),
            self.now.offset().local_minus_utc(),
            minutes.map(|t| t.minutes(self.now.to_utc())),
            self.reminder
        )
    }
}

/// Nothing for what is not kept.
fn key(app: &App, request: &ServiceRequest) -> Option<String> {
    if *request.method() != Method::GET || !is_kept(request.path()) {
        return None;
    }
    let address = request.uri().path_and_query()?.as_str();
    if address.len() > ADDRESS {
        return None;
    }
    let who = match request.extensions().get::<Visitor>()? {
        Visitor::Computer => "computer",
        Visitor::Device(_) => "device",
        Visitor::Anyone => return None,
    };
    let (now, timer) = (Local::now().fixed_offset(), running::timer());
    let asked = Asked {
        address,
        who,
        encrypted: visitor::is_encrypted(request.request()),
        now,
        timer: timer.as_ref(),
        reminder: (request.path() == "/").then(|| reminder_on_first_page(&app.notebook, now.to_utc())),
    };
    Some(asked.key())
}

/// The first page, the shelf, the wearers, and of a project its plan, figures,
/// log and steps.
fn is_kept(path: &str) -> bool {
    let of_project = |rest: &str| {
        let (id, page) = rest.split_once('/').map_or((rest, ""), |(id, page)| (id, page));
        Id::try_parse(id).is_ok() && matches!(page, "" | "figures" | "log" | "steps")
    };
    matches!(path, "/" | "/cloth" | "/wearers") || path.strip_prefix("/projects/").is_some_and(of_project)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_pages_are_kept() {
        let project = "/projects/0192f0c4-1b2a-7c3d-8e4f-5a6b7c8d9e0f";
        for path in ["", "/figures", "/log", "/steps"] {
            assert!(is_kept(&format!("{project}{path}")), "{path}");
        }
        assert!(is_kept("/") && is_kept("/cloth") && is_kept("/wearers"));
        for path in [
            "/settings",
            "/pair",
            "/s/token",
            "/search",
            "/projects",
            "/projects/new",
            "/projects/x/log",
            "/cloth/new",
        ] {
            assert!(!is_kept(path), "{path}");
        }
        for path in ["/materials", "/timer", "/log/add", "/variants/a", "/variants/a/figures"] {
            assert!(!is_kept(&format!("{project}{path}")), "{path}");
        }
    }

    #[test]
    fn what_a_page_depends_on_makes_another_page() {
        let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap();
        let timer = |stopped: Option<&str>| Timer {
            id: Id::nil(),
            project: Id::nil(),
            title: String::new(),
            step: None,
            work: None,
            started_at: at("2026-11-25T09:00:00Z").to_utc(),
            stopped_at: stopped.map(|s| at(s).to_utc()),
        };
        let asked = |now: &str| Asked {
            address: "/",
            who: "computer",
            encrypted: false,
            now: at(now),
            timer: None,
            reminder: None,
        };
        let noon = asked("2026-11-25T12:00:00+01:00").key();
        assert_eq!(noon, asked("2026-11-25T23:59:59+01:00").key(), "the same day");
        assert_ne!(noon, asked("2026-11-26T00:00:00+01:00").key(), "the next one");
        assert_ne!(noon, asked("2026-11-25T12:00:00+02:00").key(), "after a flight");
        for other in [
            Asked {
                address: "/?a",
                ..asked("2026-11-25T12:00:00+01:00")
            },
            Asked {
                who: "device",
                ..asked("2026-11-25T12:00:00+01:00")
            },
            Asked {
                encrypted: true,
                ..asked("2026-11-25T12:00:00+01:00")
            },
            Asked {
                reminder: Some(None),
                ..asked("2026-11-25T12:00:00+01:00")
            },
            Asked {
                reminder: Some(Some("old".into())),
                ..asked("2026-11-25T12:00:00+01:00")
            },
        ] {
            assert_ne!(noon, other.key());
        }
        let with = |timer: &Timer, now: &str| {
            Asked {
                timer: Some(timer),
                ..asked(now)
            }
            .key()
        };
        let runs = timer(None);
        assert_eq!(with(&runs, "2026-11-25T10:00:05Z"), with(&runs, "2026-11-25T10:00:50Z"));
        assert_ne!(with(&runs, "2026-11-25T10:00:05Z"), with(&runs, "2026-11-25T10:01:05Z"));
        let stopped = timer(Some("2026-11-25T09:30:00Z"));
        assert_eq!(
            with(&stopped, "2026-11-25T10:00:05Z"),
            with(&stopped, "2026-11-25T10:01:05Z")
        );
    }
}
