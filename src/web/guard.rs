//! Who may talk to the notebook.
//!
//! The Host header must name this computer (against pages of foreign sites
//! whose name was made to lead here). A browser on this computer needs no more;
//! anyone else must be a device that was let in, but for the few pages that
//! are open to all. A request that changes something must come from a page of
//! the same origin. Over plain http browsers leave out `Sec-Fetch-Site`, so the
//! `Origin` header is looked at where it is missing.
//!
//! While there is encryption, others get nothing without it but the page that
//! tells how to trust it. On this computer itself nobody reads along, so its
//! own browser may come in either way.
//!
//! Where a request comes from is what the connection says. Headers by which
//! one server forwards for another are never looked at.

use super::app::App;
use super::connection::CameIn;
use super::lan::scheme;
use super::pages::{not_encrypted, turned_away};
use super::visitor::{self, Visitor};
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{Method, header};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, HttpResponse, ResponseError, web};
use std::net::{IpAddr, Ipv4Addr};

/// Names of this computer that mean itself to itself alone.
const LOOPBACK: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

/// Open to all: the way in, the look of it, and pages for viewers, each behind
/// a random link of its own that shows what was ticked and changes nothing.
const OPEN: [&str; 2] = ["/static/", "/s/"];
const WAY_IN: &str = "/pair";
/// How to trust the encryption, and the certificate to trust: a page for those
/// who do not trust it yet, so it is there without encryption too.
const TO_TRUST: [&str; 2] = ["/trust", "/trust/notchbook.crt"];

const FOREIGN_HOST: &str =
    "This notebook answers only under its own address. Open the address it printed when it started.";
const FOREIGN_ORIGIN: &str = "A change must come from a page of this notebook. Open the page again and save there.";

pub async fn guard(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let loopback = request
        .headers()
        .get(header::HOST)
        .and_then(|h| h.to_str().ok())
        .is_some_and(|h| is_loopback_name(host_name(h)));
    let encrypted = visitor::is_encrypted(request.request());
    let mut response = match let_in(&request).await {
        Ok(visitor) => {
            request.extensions_mut().insert(visitor);
            next.call(request).await?.map_into_left_body()
        }
        Err(answer) => request.into_response(answer).map_into_right_body(),
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (
            "content-security-policy",
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; \
             connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; manifest-src 'self'; worker-src 'self'",
        ),
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "same-origin"),
    ] {
        headers.insert(
            header::HeaderName::from_static(name),
            header::HeaderValue::from_static(value),
        );
    }
    // No Strict-Transport-Security: browsers heed it for a name on every port, so
    // it would shut out other programs of this computer, and the notebook itself
    // when it is started without encryption again; for addresses they ignore it.
    if encrypted {
        only_encrypted(headers);
    }
    // Browsers heed it on a loopback name or encrypted, and complain elsewhere.
    if loopback || encrypted {
        headers.insert(
            header::HeaderName::from_static("cross-origin-opener-policy"),
            header::HeaderValue::from_static("same-origin"),
        );
    }
    Ok(response)
}

/// Every cookie that goes out over https comes back over nothing else.
fn only_encrypted(headers: &mut header::HeaderMap) {
    let cookies: Vec<_> = headers.remove(header::SET_COOKIE).collect();
    for cookie in cookies {
        let secure = [cookie.as_bytes(), b"; Secure"].concat();
        let secure = header::HeaderValue::from_bytes(&secure).unwrap_or(cookie);
        headers.append(header::SET_COOKIE, secure);
    }
}

/// The visitor, or the answer to one who may not come in.
async fn let_in(request: &ServiceRequest) -> Result<Visitor, HttpResponse> {
    let app = request.app_data::<web::Data<App>>();
    let lan = app.and_then(|app| app.lan.as_deref());
    let came_in = request.conn_data::<CameIn>().copied();
    let header = |name: &str| request.headers().get(name).and_then(|v| v.to_str().ok());
    let visit = Visit {
        method: request.method(),
        path: request.path(),
        host: header("host").unwrap_or(""),
        origin: header("origin"),
        fetch_site: header("sec-fetch-site"),
        // Without a peer's address nobody is trusted.
        peer: request.peer_addr().map_or(Ipv4Addr::UNSPECIFIED.into(), |a| a.ip()),
        came_in_by: came_in.and_then(|c| c.by),
        encrypted: came_in.is_some_and(|c| c.encrypted),
        encryption: app.is_some_and(|app| app.tls.is_some()),
        names: lan.map(|l| l.names.as_slice()),
    };
    match door(&visit) {
        Door::Computer => Ok(Visitor::Computer),
        Door::Anyone => Ok(Visitor::Anyone),
        Door::Device => {
            let device = match app {
                Some(app) => visitor::device(app, request.request()).await,
                None => Ok(None),
            };
            match device {
                Ok(Some(device)) => Ok(Visitor::Device(device)),
                Ok(None) => {
                    tracing::debug!(peer = %visit.peer, path = visit.path, "not let in");
                    Err(turned_away(visit.method, visit.path))
                }
                Err(error) => Err(error.error_response()),
            }
        }
        Door::NotEncrypted => Err(not_encrypted(visit.method, visit.path, visit.host)),
        Door::Refused(why) => {
            tracing::warn!(why, peer = %visit.peer, path = visit.path, "refused");
            Err(HttpResponse::Forbidden()
                .content_type("text/plain; charset=utf-8")
                .body(why))
        }
    }
}

/// What is known of a request before anything is looked up.
struct Visit<'a> {
    method: &'a Method,
    path: &'a str,
    host: &'a str,
    origin: Option<&'a str>,
    fetch_site: Option<&'a str>,
    peer: IpAddr,
    came_in_by: Option<IpAddr>,
    /// This connection is.
    encrypted: bool,
    /// Connections may be.
    encryption: bool,
    /// While the home network is listened to: what this computer is called there.
    names: Option<&'a [String]>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Door {
    Computer,
    /// For a device that was let in.
    Device,
    Anyone,
    /// Could be read along, and need not.
    NotEncrypted,
    Refused(&'static str),
}

fn door(visit: &Visit<'_>) -> Door {
    let name = host_name(visit.host);
    let loopback = is_loopback_name(name);
    if !loopback && !is_own(name, visit) {
        return Door::Refused(FOREIGN_HOST);
    }
    if !matches!(*visit.method, Method::GET | Method::HEAD) && !from_own_page(visit) {
        return Door::Refused(FOREIGN_ORIGIN);
    }
    let to_trust = TO_TRUST.contains(&visit.path);
    // Both: a name can be made to lead here, and a header can be made up, but
    // not from elsewhere and with this name at once.
    if loopback && visit.peer.to_canonical().is_loopback() {
        Door::Computer
    } else if visit.encryption && !visit.encrypted && !to_trust && !visit.path.starts_with(OPEN[0]) {
        Door::NotEncrypted
    } else if to_trust || visit.path == WAY_IN || OPEN.iter().any(|open| visit.path.starts_with(open)) {
        Door::Anyone
    } else {
        Door::Device
    }
}

/// Whether the host is this computer as the home network knows it: a name of
/// it, or the very address this connection came in by.
fn is_own(name: &str, visit: &Visit<'_>) -> bool {
    let Some(names) = visit.names else { return false };
    let address = name.parse::<Ipv4Addr>().map(IpAddr::V4).ok();
    match address {
        Some(address) => visit.came_in_by.map(|ip| ip.to_canonical()) == Some(address),
        None => names.iter().any(|own| own.eq_ignore_ascii_case(name)),
    }
}

fn from_own_page(visit: &Visit<'_>) -> bool {
    match visit.fetch_site {
        Some(site) => site == "same-origin",
        None => visit
            .origin
            .and_then(|o| o.strip_prefix(scheme(visit.encrypted)))
            .and_then(|o| o.strip_prefix("://"))
            .is_some_and(|from| from == visit.host),
    }
}

pub fn is_loopback_name(name: &str) -> bool {
    LOOPBACK.iter().any(|own| own.eq_ignore_ascii_case(name))
}

/// The host without its port; an IPv6 address keeps its brackets.
pub fn host_name(host: &str) -> &str {
    match host.rfind(':') {
        Some(colon) if !host[colon..].contains(']') => &host[..colon],
        _ => host,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HERE: [u8; 4] = [127, 0, 0, 1];
    const LAPTOP: [u8; 4] = [192, 168, 1, 5];
    const PHONE: [u8; 4] = [192, 168, 1, 77];

    /// A request for the first page, and what is different about it.
    fn ask(peer: [u8; 4], host: &str, change: impl FnOnce(&mut Visit<'_>)) -> Door {
        let names = ["laptop".to_string(), "laptop.local".to_string()];
        let mut visit = Visit {
            method: &Method::GET,
            path: "/",
            host,
            origin: None,
            fetch_site: None,
            peer: IpAddr::from(peer),
            came_in_by: Some(IpAddr::from(if peer == HERE { HERE } else { LAPTOP })),
            encrypted: false,
            encryption: false,
            names: Some(&names),
        };
        change(&mut visit);
        door(&visit)
    }

    fn as_it_is(_: &mut Visit<'_>) {}

    fn refused(door: Door) -> bool {
        matches!(door, Door::Refused(_))
    }

    #[test]
    fn a_browser_on_this_computer_is_trusted() {
        for host in ["localhost:4517", "127.0.0.1:4517", "[::1]:4517", "LocalHost:4517"] {
            assert_eq!(ask(HERE, host, as_it_is), Door::Computer, "{host}");
            assert_eq!(ask(HERE, host, |v| v.names = None), Door::Computer, "{host}");
        }
        let mapped = |v: &mut Visit<'_>| v.peer = Ipv4Addr::from(HERE).to_ipv6_mapped().into();
        assert_eq!(ask(HERE, "localhost", mapped), Door::Computer);
    }

    #[test]
    fn anyone_else_must_be_let_in() {
        for host in ["192.168.1.5:4517", "laptop:4517", "LAPTOP.local:4517", "laptop.local"] {
            assert_eq!(ask(PHONE, host, as_it_is), Door::Device, "{host}");
        }
        // This computer by its address in the network is any device.
        assert_eq!(ask(LAPTOP, "192.168.1.5:4517", as_it_is), Door::Device);
        // From elsewhere, saying it were here; from here, by a name that can be made to lead here.
        assert_eq!(ask(PHONE, "localhost:4517", as_it_is), Door::Device);
        assert_eq!(ask(PHONE, "127.0.0.1:4517", as_it_is), Door::Device);
        assert_eq!(ask(HERE, "laptop.local:4517", as_it_is), Door::Device);
        let unknown = |v: &mut Visit<'_>| v.peer = Ipv4Addr::UNSPECIFIED.into();
        assert_eq!(ask(PHONE, "localhost:4517", unknown), Door::Device);
    }

    #[test]
    fn few_pages_are_open_to_all() {
        let at = |path: &'static str| ask(PHONE, "192.168.1.5:4517", move |v| v.path = path);
        for path in [
            "/pair",
            "/static/0123/pair.js",
            "/s/token",
            "/s/token/picture",
            "/trust",
            "/trust/notchbook.crt",
        ] {
            assert_eq!(at(path), Door::Anyone, "{path}");
        }
        for path in [
            "/",
            "/settings",
            "/settings/let-in",
            "/projects/x",
            "/photos",
            "/photos/x/page",
            "/worker.js",
            "/api/projects",
            "/pair/",
            "/pairs",
            "/s",
            "/static",
            "//s/token",
            "/x/../s/token",
            "/%73/token",
            "/S/token",
            "/trust/",
            "/trust/authority-private.pem",
            "/trust/../settings",
        ] {
            assert_eq!(at(path), Door::Device, "{path}");
        }
        let here = ask(HERE, "localhost:4517", |v| v.path = "/pair");
        assert_eq!(here, Door::Computer);
    }

    #[test]
    fn foreign_hosts_are_refused() {
        for host in [
            "",
            "evil.example",
            "localhost.evil.example",
            "laptop.local.evil.example",
            "192.168.1.6:4517",
            "127.0.0.2:4517",
            "0.0.0.0:4517",
            "192.168.1.5.evil.example",
            "[fd00::5]:4517",
        ] {
            assert!(refused(ask(PHONE, host, as_it_is)), "{host}");
            assert!(refused(ask(HERE, host, as_it_is)), "{host}");
        }
        let came_by_none = |v: &mut Visit<'_>| v.came_in_by = None;
        assert!(refused(ask(PHONE, "192.168.1.5:4517", came_by_none)));
        // Open pages too.
        let shared = |v: &mut Visit<'_>| v.path = "/s/token";
        assert!(refused(ask(PHONE, "evil.example", shared)));
        // Without the home network only loopback names are answered to.
        for host in ["laptop.local:4517", "192.168.1.5:4517"] {
            assert!(refused(ask(HERE, host, |v| v.names = None)), "{host}");
        }
    }

    #[test]
    fn changes_come_from_pages_of_the_notebook() {
        let post = |peer, host: &str, origin: Option<&'static str>, site: Option<&'static str>| {
            ask(peer, host, move |v| {
                v.method = &Method::POST;
                v.origin = origin;
                v.fetch_site = site;
            })
        };
        for (peer, host, own, let_in) in [
            (HERE, "127.0.0.1:8080", "http://127.0.0.1:8080", Door::Computer),
            (PHONE, "192.168.1.5:8080", "http://192.168.1.5:8080", Door::Device),
            (PHONE, "laptop.local:8080", "http://laptop.local:8080", Door::Device),
        ] {
            assert!(refused(post(peer, host, None, None)));
            assert_eq!(post(peer, host, Some(own), None), let_in);
            assert_eq!(post(peer, host, None, Some("same-origin")), let_in);
            assert!(refused(post(peer, host, Some("http://evil.example"), None)));
            assert!(refused(post(peer, host, Some("null"), None)));
            assert!(refused(post(peer, host, Some(own), Some("cross-site"))));
            assert!(refused(post(peer, host, Some(own), Some("same-site"))));
        }
        // Another program's page on this computer is another origin.
        let other_port = Some("http://127.0.0.1:3000");
        assert!(refused(post(HERE, "127.0.0.1:8080", other_port, None)));
        let pair = ask(PHONE, "192.168.1.5:8080", |v| {
            v.method = &Method::POST;
            v.path = "/pair";
            v.origin = Some("http://evil.example");
        });
        assert!(refused(pair));
    }

    #[test]
    fn what_can_be_encrypted_must_be() {
        let ask = |peer, host: &str, path: &'static str, encrypted| {
            ask(peer, host, move |v| {
                v.path = path;
                v.encrypted = encrypted;
                v.encryption = true;
            })
        };
        let home = "192.168.1.5:4517";
        for path in ["/", "/pair", "/s/token", "/settings", "/trust/x", "/nothing"] {
            assert_eq!(ask(PHONE, home, path, false), Door::NotEncrypted, "{path}");
            assert_ne!(ask(PHONE, home, path, true), Door::NotEncrypted, "{path}");
        }
        for path in ["/trust", "/trust/notchbook.crt", "/static/0123/style.css"] {
            for encrypted in [true, false] {
                assert_eq!(ask(PHONE, home, path, encrypted), Door::Anyone, "{path}");
            }
        }
        // Saying it were here does not make it so.
        assert_eq!(ask(PHONE, "localhost:4517", "/", false), Door::NotEncrypted);
        assert_eq!(ask(HERE, "laptop.local:4517", "/", false), Door::NotEncrypted);
        assert_eq!(ask(HERE, "localhost:4517", "/", false), Door::Computer);
        assert_eq!(ask(HERE, "localhost:4517", "/", true), Door::Computer);
        assert!(refused(ask(PHONE, "evil.example", "/trust", false)));
    }

    #[test]
    fn a_plain_page_of_the_same_host_is_another_origin() {
        let post = |encrypted, origin: &'static str| {
            ask(PHONE, "192.168.1.5:4517", move |v| {
                v.method = &Method::POST;
                v.origin = Some(origin);
                v.encrypted = encrypted;
                v.encryption = encrypted;
            })
        };
        assert_eq!(post(true, "https://192.168.1.5:4517"), Door::Device);
        assert!(refused(post(true, "http://192.168.1.5:4517")));
        assert!(refused(post(false, "https://192.168.1.5:4517")));
        assert!(refused(post(true, "https192.168.1.5:4517")));
    }

    #[test]
    fn every_cookie_over_https_is_for_https_alone() {
        let mut headers = header::HeaderMap::new();
        for cookie in ["a=1; Path=/", "b=2; HttpOnly"] {
            headers.append(header::SET_COOKIE, header::HeaderValue::from_static(cookie));
        }
        only_encrypted(&mut headers);
        let cookies: Vec<_> = headers
            .get_all(header::SET_COOKIE)
            .map(|c| c.to_str().unwrap())
            .collect();
        assert_eq!(cookies, ["a=1; Path=/; Secure", "b=2; HttpOnly; Secure"]);
    }
}
