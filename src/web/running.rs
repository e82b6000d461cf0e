//! The timer as every page shows it. It is known at the beginning of a request
//! and kept for as long as that is worked on, so that no page has to hand it
//! through.

use super::app::App;
use crate::notebook::{Notebook, Timer};
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::{Error, web};

/// As the request began.
#[derive(Clone, Default)]
struct Begun {
    /// Of the notebook, asked for before the timer; none on what is no page.
    state: Option<u64>,
    timer: Option<Timer>,
}

tokio::task_local! {
    static BEGUN: Begun;
}

/// Addresses that are no pages of the notebook.
const NO_PAGES: [&str; 6] = ["/static/", "/photos/", "/s/", "/api/", "/pair", "/length"];

pub async fn with_timer(
    request: ServiceRequest,
    next: Next<impl MessageBody>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let page = !NO_PAGES.iter().any(|start| request.path().starts_with(start));
    let begun = match request.app_data::<web::Data<App>>().filter(|_| page) {
        Some(app) => {
            let state = app.notebook.state();
            let timer = match app.known.timer(state) {
                Some(timer) => Some(timer),
                None => {
                    let asked = app.ask(|n: &Notebook| n.timer()).await.ok();
                    if let Some(timer) = &asked {
                        app.known.keep_timer(state, timer);
                    }
                    asked
                }
            };
            // What is wrong with the notebook is for the page itself to say.
            Begun {
                state: timer.is_some().then_some(state),
                timer: timer.flatten(),
            }
        }
        None => Begun::default(),
    };
    BEGUN.scope(begun, next.call(request)).await
}

/// The timer that runs, or waits for the log, as the request began.
pub fn timer() -> Option<Timer> {
    BEGUN.try_with(|begun| begun.timer.clone()).ok().flatten()
}

/// The state of the notebook before anything was asked of it for this request.
pub fn state() -> Option<u64> {
    BEGUN.try_with(|begun| begun.state).ok().flatten()
}
