//! The timer as every page shows it. It is asked for once at the beginning of
//! a request and kept for as long as that is worked on, so that no page has to
//! hand it through.

use super::app::App;
use crate::notebook::{Notebook, Timer};
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::{Error, web};

tokio::task_local! {
    static TIMER: Option<Timer>;
}

/// Addresses that are no pages of the notebook.
const NO_PAGES: [&str; 6] = ["/static/", "/photos/", "/s/", "/api/", "/pair", "/length"];

pub async fn with_timer(
    request: ServiceRequest,
    next: Next<impl MessageBody>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let page = !NO_PAGES.iter().any(|start| request.path().starts_with(start));
    let timer = match request.app_data::<web::Data<App>>().filter(|_| page) {
        // What is wrong with the notebook is for the page itself to say.
        Some(app) => app.ask(|n: &Notebook| n.timer()).await.unwrap_or_default(),
        None => None,
    };
    TIMER.scope(timer, next.call(request)).await
}

/// The timer that runs, or waits for the log, as the request began.
pub fn timer() -> Option<Timer> {
    TIMER.try_with(Clone::clone).ok().flatten()
}
