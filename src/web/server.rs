//! The server: where it listens, what it takes, how it stops.

use super::app::{App, VIEWERS};
use super::error::WebError;
use super::guard::{CameInBy, guard};
use super::lan::{self, Lan};
use super::limit::Limit;
use super::pages;
use super::running::with_timer;
use crate::notebook::Notebook;
use actix_web::dev::ServiceResponse;
use actix_web::http::{StatusCode, header};
use actix_web::middleware::{Compress, ErrorHandlerResponse, ErrorHandlers, from_fn};
use actix_web::{App as Actix, HttpServer, ResponseError, web};
use chrono::Utc;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::{Arc, Mutex};

pub struct Options {
    /// 0 takes any free port.
    pub port: u16,
    /// Listen to the home network too, and let devices in by a code.
    pub lan: bool,
}

/// What there is to tell once connections are taken.
pub struct Opened {
    /// On this computer.
    pub address: SocketAddr,
    /// With `lan`.
    pub invitation: Option<Invitation>,
}

/// How the first device gets in.
pub struct Invitation {
    /// Addresses of this computer in its networks, the likeliest first.
    pub ways: Vec<SocketAddr>,
    /// What to scan: the likeliest way with the code. None without a network.
    pub link: Option<String>,
    /// To be typed.
    pub code: String,
}

/// The most a form without a photo may send.
const FORM: usize = 2 * 1024 * 1024;

/// Serves until Ctrl-C or a termination signal, then finishes what is under
/// way. `ready` is called once connections are taken.
pub async fn serve(notebook: Notebook, options: Options, ready: impl FnOnce(&Opened)) -> std::io::Result<()> {
    // IPv4 alone: its addresses at home end at the router, those of IPv6 may
    // be reached from everywhere.
    let address = match options.lan {
        true => Ipv4Addr::UNSPECIFIED,
        false => Ipv4Addr::LOCALHOST,
    };
    let listener = TcpListener::bind((address, options.port))?;
    let port = listener.local_addr()?.port();
    let lan = options.lan.then(|| Arc::new(Lan::new(port)));
    let opened = Opened {
        address: (Ipv4Addr::LOCALHOST, port).into(),
        invitation: lan.as_deref().map(invitation).transpose()?,
    };
    let app = App {
        notebook,
        lan,
        viewers: Arc::new(Mutex::new(Limit::new(VIEWERS))),
        variant: None,
    };
    let server = HttpServer::new(move || {
        Actix::new()
            .app_data(web::Data::new(app.clone()))
            .app_data(web::FormConfig::default().limit(FORM).error_handler(|error, _| {
                tracing::info!(%error, "unreadable form");
                WebError::Refused("The form could not be read: it is larger than 2 MiB or broken off.".into()).into()
            }))
            .app_data(web::PathConfig::default().error_handler(|_, _| WebError::NoPage.into()))
            .app_data(web::QueryConfig::default().error_handler(|_, _| WebError::NoPage.into()))
            .wrap(from_fn(with_timer))
            .wrap(ErrorHandlers::new().handler(StatusCode::METHOD_NOT_ALLOWED, forms_only))
            .wrap(Compress::default())
            .wrap(from_fn(guard))
            .wrap(tracing_actix_web::TracingLogger::default())
            .configure(|config| pages::routes(config, &app))
            .default_service(web::to(|| async {
                Err::<actix_web::HttpResponse, _>(WebError::NoPage)
            }))
    })
    // Two cores are plenty for one maker; photos are worked on in the blocking pool.
    .workers(2)
    .on_connect(|connection, kept| {
        let stream = connection.downcast_ref::<actix_web::rt::net::TcpStream>();
        if let Some(Ok(by)) = stream.map(|s| s.local_addr()) {
            kept.insert(CameInBy(by.ip()));
        }
    })
    .client_request_timeout(std::time::Duration::from_secs(20))
    .shutdown_timeout(10)
    .listen(listener)?
    .run();
    ready(&opened);
    server.await
}

/// Instead of the empty page a browser shows for an address of forms alone.
fn forms_only<B>(refused: ServiceResponse<B>) -> actix_web::Result<ErrorHandlerResponse<B>> {
    let (request, refused) = refused.into_parts();
    let mut page = WebError::FormsOnly.error_response();
    if let Some(allow) = refused.headers().get(header::ALLOW) {
        page.headers_mut().insert(header::ALLOW, allow.clone());
    }
    let page = ServiceResponse::new(request, page).map_into_right_body();
    Ok(ErrorHandlerResponse::Response(page))
}

fn invitation(lan: &Lan) -> std::io::Result<Invitation> {
    let code = lan.pairing.new_code(Utc::now())?;
    let ways = lan.ways();
    Ok(Invitation {
        link: ways.first().map(|way| lan::link(*way, &code)),
        ways,
        code: code.spaced(),
    })
}
