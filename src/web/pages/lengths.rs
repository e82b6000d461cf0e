//! What a typed length means, in both units, while it is being typed.

use crate::measure::{Length, Round, Unit};
use crate::web::app::App;
use crate::web::error::Answer;
use actix_web::HttpResponse;
use actix_web::web::{Data, Query, ServiceConfig, get, resource};
use serde::{Deserialize, Serialize};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/length").route(get().to(read)));
}

#[derive(Deserialize)]
struct Asked {
    text: String,
    #[serde(default)]
    unit: Unit,
}

#[derive(Serialize)]
struct Read {
    ok: bool,
    text: String,
}

async fn read(_app: Data<App>, asked: Query<Asked>) -> Answer {
    let read = match Length::parse_signed(&asked.text, asked.unit) {
        Ok(length) => Read {
            ok: true,
            text: length.both(asked.unit, Round::Nearest),
        },
        Err(error) => Read {
            ok: false,
            text: error.to_string(),
        },
    };
    Ok(HttpResponse::Ok().json(read))
}
