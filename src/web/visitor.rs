//! Who asks, and the cookie a device is known by.

use super::app::App;
use super::connection::CameIn;
use super::error::WebError;
use crate::notebook::{Device, Notebook};
use actix_web::HttpRequest;
use actix_web::cookie::time::Duration;
use actix_web::cookie::{Cookie, SameSite};
use chrono::Utc;

/// Left in every request by the guard.
#[derive(Clone, Debug)]
pub enum Visitor {
    /// A browser on the computer the notebook runs on.
    Computer,
    /// A device that was let in.
    Device(Device),
    /// Somebody on one of the few pages that are open to all.
    Anyone,
}

impl Visitor {
    pub fn is_computer(&self) -> bool {
        matches!(self, Visitor::Computer)
    }

    pub fn is_device(&self, device: &Device) -> bool {
        matches!(self, Visitor::Device(mine) if mine.id == device.id)
    }
}

const COOKIE: &str = "notchbook";
/// Over https: a browser takes a cookie of this beginning from nowhere else,
/// so that nobody in the network can put one in, and a token that went over
/// plain http is not sent here.
const COOKIE_ENCRYPTED: &str = "__Host-notchbook";

fn cookie_name(encrypted: bool) -> &'static str {
    if encrypted { COOKIE_ENCRYPTED } else { COOKIE }
}

/// Out of reach of scripts. `Lax` rather than `Strict`: a link to the notebook
/// in a message or behind a scanned code must open it, and no page that is
/// merely looked at changes anything; what changes something is also held
/// against its origin. The guard makes it `Secure` where it goes over https.
pub fn cookie(token: &str, encrypted: bool) -> Cookie<'_> {
    Cookie::build(cookie_name(encrypted), token)
        .path("/")
        .http_only(true)
        .same_site(SameSite::Lax)
        .max_age(Duration::days(365))
        .finish()
}

/// Whether nobody in the network reads this request along.
pub fn is_encrypted(request: &HttpRequest) -> bool {
    request.conn_data::<CameIn>().is_some_and(|c| c.encrypted)
}

/// The device whose cookie came along, if it is let in.
pub async fn device(app: &App, request: &HttpRequest) -> Result<Option<Device>, WebError> {
    let name = cookie_name(is_encrypted(request));
    let Some(token) = request.cookie(name).map(|c| c.value().to_string()) else {
        return Ok(None);
    };
    app.ask(move |n: &Notebook| n.device_in(&token, Utc::now())).await
}
