//! The server: where it listens, what it takes, how it stops.

use super::app::App;
use super::error::WebError;
use super::guard::{Hosts, guard};
use super::pages;
use crate::notebook::Notebook;
use actix_web::middleware::{Compress, from_fn};
use actix_web::{App as Actix, HttpServer, web};
use std::net::{IpAddr, SocketAddr, TcpListener};

pub struct Options {
    pub address: IpAddr,
    /// 0 takes any free port.
    pub port: u16,
    pub hosts: Hosts,
}

/// The most a form without a photo may send.
const FORM: usize = 2 * 1024 * 1024;

/// Serves until Ctrl-C or a termination signal, then finishes what is under
/// way. `ready` is told the address once connections are taken.
pub async fn serve(notebook: Notebook, options: Options, ready: impl FnOnce(SocketAddr)) -> std::io::Result<()> {
    let listener = TcpListener::bind((options.address, options.port))?;
    let address = listener.local_addr()?;
    let app = App { notebook };
    let hosts = options.hosts;
    let server = HttpServer::new(move || {
        Actix::new()
            .app_data(web::Data::new(app.clone()))
            .app_data(web::Data::new(hosts.clone()))
            .app_data(web::FormConfig::default().limit(FORM).error_handler(|error, _| {
                tracing::info!(%error, "unreadable form");
                WebError::Refused("The form could not be read: it is larger than 2 MiB or broken off.".into()).into()
            }))
            .app_data(web::PathConfig::default().error_handler(|_, _| WebError::NoPage.into()))
            .app_data(web::QueryConfig::default().error_handler(|_, _| WebError::NoPage.into()))
            .wrap(Compress::default())
            .wrap(from_fn(guard))
            .wrap(tracing_actix_web::TracingLogger::default())
            .configure(pages::routes)
            .default_service(web::to(|| async {
                Err::<actix_web::HttpResponse, _>(WebError::NoPage)
            }))
    })
    // Two cores are plenty for one maker; photos are worked on in the blocking pool.
    .workers(2)
    .client_request_timeout(std::time::Duration::from_secs(20))
    .shutdown_timeout(10)
    .listen(listener)?
    .run();
    ready(address);
    server.await
}
