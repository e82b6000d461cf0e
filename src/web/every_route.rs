//! Walks every address the router knows: none takes a change from a page that
//! is not of this notebook. The list is the router's own, so that a new
//! address cannot be forgotten.

use super::app::{App, VIEWERS};
use super::limit::Limit;
use super::server::pages_of;
use crate::notebook::Notebook;
use actix_web::http::{Method, StatusCode};
use actix_web::test::{TestRequest, call_service, init_service, read_body};
use actix_web::{HttpRequest, web};
use std::sync::{Arc, Mutex};

const OWN: &str = "http://127.0.0.1:4517";

/// The router's own list, `/projects/{id}/bin`, those of scopes with what they
/// stand under. It can be had in words only.
fn addresses(router: &str) -> Vec<String> {
    let (mut found, mut scopes): (Vec<String>, Vec<(usize, String)>) = (Vec::new(), Vec::new());
    let mut lines = router.lines();
    while let Some(line) = lines.next() {
        if line.trim() != "patterns: Single(" {
            continue;
        }
        let depth = line.len() - line.trim_start().len();
        let pattern = lines
            .next()
            .unwrap_or_default()
            .trim()
            .trim_end_matches(',')
            .trim_matches('"');
        let prefix = lines.by_ref().nth(1).is_some_and(|l| l.trim() == "is_prefix: true,");
        scopes.retain(|(d, _)| *d < depth);
        let whole = scopes.iter().map(|(_, s)| s.as_str()).collect::<String>() + pattern;
        if prefix {
            scopes.push((depth, pattern.to_string()));
        } else {
            found.push(whole);
        }
    }
    found
}

/// With something in place of what differs.
fn filled(address: &str) -> String {
    let mut out = String::new();
    for (n, part) in address.split('{').enumerate() {
        match part.split_once('}').filter(|_| n > 0) {
            Some((_, rest)) => out += &format!("0192f0c4-7e3a-7cc1-8a51-3f1d6a5e9b20{rest}"),
            None => out += part,
        }
    }
    out
}

#[actix_web::test]
async fn no_address_takes_a_change_from_elsewhere() {
    let folder = tempfile::tempdir().unwrap();
    let app = App {
        notebook: Notebook::open(&folder.path().join("n")).unwrap(),
        lan: None,
        tls: None,
        viewers: Arc::new(Mutex::new(Limit::new(VIEWERS))),
        known: Arc::default(),
        lays: Arc::default(),
        variant: None,
    };
    let lister = actix_web::App::new()
        .configure(|config| super::pages::routes(config, &app))
        .default_service(web::to(
            |r: HttpRequest| async move { format!("{:#?}", r.resource_map()) },
        ));
    let lister = init_service(lister).await;
    let said = call_service(&lister, TestRequest::with_uri("/list-of-all").to_request()).await;
    let said = read_body(said).await;
    let all = addresses(std::str::from_utf8(&said).unwrap());
    for known in [
        "/projects/{id}/pieces/{part}",
        "/variants/b/projects/{id}/pieces/{part}",
        "/settings",
        "/pair",
        "/cloth/",
        "/s/{token}",
    ] {
        let known = known.split('{').next().unwrap();
        assert!(
            all.iter().any(|a| a.starts_with(known)),
            "{known} is not among {all:#?}"
        );
    }
    assert!(all.len() > 90, "{all:#?}");

    let service = init_service(pages_of(app)).await;
    let ask = async |method: &Method, address: &str, headers: &[(&'static str, &'static str)]| {
        let mut request = TestRequest::with_uri(address)
            .method(method.clone())
            .peer_addr("127.0.0.1:50000".parse().unwrap())
            .insert_header(("host", "127.0.0.1:4517"))
            .insert_header(("content-type", "application/x-www-form-urlencoded"));
        for header in headers {
            request = request.insert_header(*header);
        }
        let answer = call_service(&service, request.to_request()).await;
        let status = answer.status();
        let body = read_body(answer).await;
        (status, String::from_utf8_lossy(&body).into_owned())
    };
    let mut changing = 0;
    for address in &all {
        let address = filled(address);
        for method in [Method::POST, Method::PUT, Method::PATCH, Method::DELETE] {
            for foreign in [
                &[][..],
                &[("origin", "null")],
                &[("origin", "http://evil.example")],
                &[("origin", "https://127.0.0.1:4517")],
                &[("origin", "http://127.0.0.1:3000")],
                &[("origin", OWN), ("sec-fetch-site", "cross-site")],
                &[("origin", OWN), ("sec-fetch-site", "same-site")],
            ] {
                let (status, body) = ask(&method, &address, foreign).await;
                let refused =
                    status == StatusCode::FORBIDDEN && body.contains("must come from a page of this notebook");
                assert!(refused, "{method} {address} {foreign:?}: {status} {body}");
            }
        }
        // From a page of the notebook it comes further.
        let (status, body) = ask(&Method::POST, &address, &[("origin", OWN)]).await;
        assert!(!body.contains("must come from a page"), "{address}: {status}");
        assert!(!status.is_server_error(), "{address}: {status} {body}");
        changing += usize::from(status != StatusCode::METHOD_NOT_ALLOWED);
    }
    assert!(changing > 60, "{changing} of {} addresses take a change", all.len());
}
