//! The server: where it listens, what it takes, how it stops.

use super::app::{App, VIEWERS};
use super::connection::{self, Connection, answering};
use super::error::WebError;
use super::guard::guard;
use super::kept::kept;
use super::lan::{self, Lan};
use super::limit::Limit;
use super::pages;
use super::patience::patience;
use super::running::with_timer;
use super::tls::{Tls, Trust};
use crate::notebook::Notebook;
use actix_http::{HttpService, Protocol};
use actix_service::{IntoServiceFactory, ServiceFactoryExt, fn_service, map_config};
use actix_web::body::MessageBody;
use actix_web::dev::{AppConfig, Server, ServiceFactory, ServiceRequest, ServiceResponse};
use actix_web::http::{StatusCode, header};
use actix_web::middleware::{Compress, Condition, ErrorHandlerResponse, ErrorHandlers, from_fn};
use actix_web::rt::net::TcpStream;
use actix_web::{App as Actix, ResponseError, web};
use chrono::Utc;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::{Arc, Mutex};
use std::time::Duration;

pub struct Options {
    /// 0 takes any free port.
    pub port: u16,
    /// Listen to the home network too, and let devices in by a code.
    pub lan: bool,
    /// Encrypt what goes through the network.
    pub tls: Option<Tls>,
}

/// What there is to tell once connections are taken.
pub struct Opened {
    /// On this computer.
    pub address: SocketAddr,
    /// With `lan`.
    pub invitation: Option<Invitation>,
    /// With `tls`.
    pub trust: Option<Trust>,
}

/// How the first device gets in.
pub struct Invitation {
    /// Addresses of this computer in its networks, the likeliest first.
    pub ways: Vec<String>,
    /// What to scan: the likeliest way with the code. None without a network.
    pub link: Option<String>,
    /// To be typed.
    pub code: String,
    /// Where a phone gets what it is to trust before it comes in encrypted.
    pub way_to_trust: Option<String>,
}

/// The most a form without a photo may send.
const FORM: usize = 2 * 1024 * 1024;
/// Connections at once, for each of the two workers.
const CONNECTIONS: usize = 300;
/// For the head of a request; its body has `patience`.
const HEAD: Duration = Duration::from_secs(20);
/// For a connection's end to be heard.
const FAREWELL: Duration = Duration::from_secs(2);

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
    let tls = options.tls.map(Arc::new);
    let lan = options.lan.then(|| Arc::new(Lan::new(port, tls.as_deref())));
    let opened = Opened {
        address: (Ipv4Addr::LOCALHOST, port).into(),
        invitation: lan.as_deref().map(invitation).transpose()?,
        trust: tls.as_deref().map(|t| t.trust.clone()),
    };
    let app = App {
        notebook,
        lan,
        tls,
        viewers: Arc::new(Mutex::new(Limit::new(VIEWERS))),
        known: Arc::default(),
        lays: Arc::default(),
        variant: None,
    };
    // Not actix-web's own `HttpServer`: that is either plain or encrypted, and
    // lets who takes nothing keep a connection for ever.
    let lays = app.lays.clone();
    let mut server = Server::build()
        // Two cores are plenty for one maker; photos are worked on in the blocking pool.
        .workers(2)
        // Fewer than the files a process may usually have open: who opens more
        // waits until the time limits have made room.
        .max_concurrent_connections(CONNECTIONS)
        .shutdown_timeout(10);
    let stopping = server.graceful_shutdown_signal();
    server = server.listen("notchbook", listener, move || {
        let app = app.clone();
        let door = connection::door(app.tls.as_ref().map(|t| t.config.clone()));
        let stopping = stopping.clone();
        let pages = pages_of(app)
            .into_factory()
            .map_err(|error: actix_web::Error| error.error_response());
        let http = HttpService::build()
            .graceful_shutdown_signal(move || {
                let stopping = stopping.clone();
                async move { stopping.notified().await }
            })
            .client_request_timeout(HEAD)
            .client_disconnect_timeout(FAREWELL)
            .on_connect_ext(|connection: &Connection, kept| {
                kept.insert(connection.came_in());
                kept.insert(connection.busy());
            })
            .finish(map_config(pages, |_| AppConfig::default()))
            .map_err(|error| tracing::debug!(%error, "a connection ended"));
        fn_service(move |tcp: TcpStream| {
            let door = door.clone();
            async move {
                let peer = tcp.peer_addr().ok();
                match door.open(tcp).await {
                    Ok(connection) => Ok((connection, Protocol::Http1, peer)),
                    Err(error) => {
                        tracing::debug!(?peer, %error, "a connection was not made");
                        Err(())
                    }
                }
            }
        })
        .and_then(http)
    })?;
    let server = server.run();
    ready(&opened);
    let served = server.await;
    lays.stop();
    served
}

/// Every page, behind what is the same for all of them.
pub fn pages_of(
    app: App,
) -> Actix<
    impl ServiceFactory<
        ServiceRequest,
        Config = (),
        Response = ServiceResponse<impl MessageBody>,
        Error = actix_web::Error,
        InitError = (),
    >,
> {
    Actix::new()
        .app_data(web::Data::new(app.clone()))
        .app_data(web::FormConfig::default().limit(FORM).error_handler(|error, _| {
            tracing::info!(%error, "unreadable form");
            WebError::Refused("The form could not be read: it is larger than 2 MiB or broken off.".into()).into()
        }))
        .app_data(web::PathConfig::default().error_handler(|_, _| WebError::NoPage.into()))
        .app_data(web::QueryConfig::default().error_handler(|_, _| WebError::NoPage.into()))
        .wrap(from_fn(kept))
        .wrap(from_fn(with_timer))
        .wrap(ErrorHandlers::new().handler(StatusCode::METHOD_NOT_ALLOWED, forms_only))
        .wrap(Compress::default())
        .wrap(from_fn(patience))
        .wrap(from_fn(guard))
        .wrap(from_fn(answering))
        .wrap(Condition::new(
            requests_are_told(),
            tracing_actix_web::TracingLogger::default(),
        ))
        .configure(|config| pages::routes(config, &app))
        .default_service(web::to(|| async {
            Err::<actix_web::HttpResponse, _>(WebError::NoPage)
        }))
}

/// Whether anybody reads of single requests. What is put together for that costs
/// as much as a small answer.
fn requests_are_told() -> bool {
    tracing::enabled!(target: "tracing_actix_web::root_span_builder", tracing::Level::INFO)
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
        link: ways.first().map(|way| lan::link(way, &code)),
        ways,
        code: code.spaced(),
        way_to_trust: lan.way_to_trust(),
    })
}
