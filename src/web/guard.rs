//! Who may talk to the notebook: only pages of the notebook itself.
//!
//! The Host header must name this machine's loopback (against DNS rebinding);
//! a request that changes something must come from a page of the same origin.
//! Over plain http browsers leave out `Sec-Fetch-Site` on some names, so the
//! `Origin` header is looked at where it is missing.

use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{Method, header};
use actix_web::middleware::Next;
use actix_web::{Error, HttpResponse, web};

/// Host names this server answers to, besides loopback.
#[derive(Clone, Debug, Default)]
pub struct Hosts(pub Vec<String>);

const LOOPBACK: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

pub async fn guard(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let hosts = request
        .app_data::<web::Data<Hosts>>()
        .map(|h| h.get_ref().clone())
        .unwrap_or_default();
    if let Some(why) = refused(&request, &hosts) {
        tracing::warn!(why, path = request.path(), "refused");
        let answer = HttpResponse::Forbidden()
            .content_type("text/plain; charset=utf-8")
            .body(why);
        return Ok(request.into_response(answer).map_into_right_body());
    }
    let mut response = next.call(request).await?.map_into_left_body();
    let headers = response.headers_mut();
    for (name, value) in [
        (
            "content-security-policy",
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; \
             connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; manifest-src 'self'",
        ),
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "same-origin"),
        ("cross-origin-opener-policy", "same-origin"),
    ] {
        headers.insert(
            header::HeaderName::from_static(name),
            header::HeaderValue::from_static(value),
        );
    }
    Ok(response)
}

fn refused(request: &ServiceRequest, hosts: &Hosts) -> Option<&'static str> {
    let header = |name: &str| request.headers().get(name).and_then(|v| v.to_str().ok());
    let host = header("host").unwrap_or("");
    let name = host_name(host);
    if !LOOPBACK.contains(&name) && !hosts.0.iter().any(|h| h == name) {
        return Some("This notebook answers only under its own address. Open the address it printed when it started.");
    }
    if matches!(*request.method(), Method::GET | Method::HEAD) {
        return None;
    }
    let same = match header("sec-fetch-site") {
        Some(site) => site == "same-origin",
        None => header("origin")
            .and_then(|o| o.strip_prefix("http://").or_else(|| o.strip_prefix("https://")))
            .is_some_and(|from| from == host),
    };
    if same {
        None
    } else {
        Some("A change must come from a page of this notebook. Open the page again and save there.")
    }
}

/// The host without its port; an IPv6 address keeps its brackets.
fn host_name(host: &str) -> &str {
    match host.rfind(':') {
        Some(colon) if !host[colon..].contains(']') => &host[..colon],
        _ => host,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::test::TestRequest;

    fn request(method: Method, headers: &[(&str, &str)]) -> Option<&'static str> {
        let mut r = TestRequest::default().method(method).uri("/");
        for (n, v) in headers {
            r = r.insert_header((*n, *v));
        }
        refused(&r.to_srv_request(), &Hosts(vec!["laptop.local".into()]))
    }

    #[test]
    fn foreign_hosts_and_origins_are_refused() {
        assert!(request(Method::GET, &[("host", "localhost:8080")]).is_none());
        assert!(request(Method::GET, &[("host", "[::1]:8080")]).is_none());
        assert!(request(Method::GET, &[("host", "laptop.local:8080")]).is_none());
        assert!(request(Method::GET, &[("host", "evil.example")]).is_some());
        assert!(request(Method::GET, &[("host", "localhost.evil.example")]).is_some());
        assert!(request(Method::GET, &[]).is_some());
        let host = ("host", "127.0.0.1:8080");
        assert!(request(Method::POST, &[host]).is_some());
        assert!(request(Method::POST, &[host, ("origin", "http://127.0.0.1:8080")]).is_none());
        assert!(request(Method::POST, &[host, ("origin", "http://evil.example")]).is_some());
        assert!(request(Method::POST, &[host, ("origin", "null")]).is_some());
        assert!(request(Method::POST, &[host, ("sec-fetch-site", "same-origin")]).is_none());
        assert!(
            request(
                Method::POST,
                &[
                    host,
                    ("sec-fetch-site", "cross-site"),
                    ("origin", "http://127.0.0.1:8080")
                ]
            )
            .is_some()
        );
    }
}
