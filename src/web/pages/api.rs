//! What other programs read: the plan and its figures as JSON.

use crate::figures::Figures;
use crate::notebook::{Notebook, Project};
use crate::web::app::{App, id};
use crate::web::error::WebError;
use actix_web::web::{Data, Path, ServiceConfig, get, resource};
use actix_web::{HttpResponse, ResponseError, http::header};
use serde_json::json;
use std::sync::Arc;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/api/projects").route(get().to(projects)))
        .service(resource("/api/projects/{id}/plan").route(get().to(plan)))
        .service(resource("/api/projects/{id}/figures").route(get().to(figures)));
}

async fn projects(app: Data<App>) -> HttpResponse {
    answer(app.ask(|n: &Notebook| n.projects()).await.map(|list| {
        json!(
            list.iter()
                .map(|p| json!({
                    "id": p.id, "title": p.details.title, "state": p.details.state, "revision": p.revision
                }))
                .collect::<Vec<_>>()
        )
    }))
}

async fn plan(app: Data<App>, path: Path<String>) -> HttpResponse {
    answer(project(&app, &path).await.and_then(|p| to_value(&p.plan)))
}

async fn figures(app: Data<App>, path: Path<String>) -> HttpResponse {
    answer(match with_figures(&app, &path).await {
        Ok((p, figures)) => {
            to_value(&*figures).map(|figures| json!({ "project": p.id, "revision": p.revision, "figures": figures }))
        }
        Err(error) => Err(error),
    })
}

async fn with_figures(app: &App, text: &str) -> Result<(Project, Arc<Figures>), WebError> {
    let project = project(app, text).await?;
    let figures = app.figures(&project.plan).await?;
    Ok((project, figures))
}

async fn project(app: &App, text: &str) -> Result<Project, WebError> {
    let id = id(text)?;
    app.ask(move |n: &Notebook| n.project(id)).await
}

fn to_value(value: &impl serde::Serialize) -> Result<serde_json::Value, WebError> {
    serde_json::to_value(value).map_err(|e| WebError::Refused(format!("This could not be written as JSON: {e}.")))
}

/// The value, or the error's sentence, as JSON.
fn answer(result: Result<serde_json::Value, WebError>) -> HttpResponse {
    let (status, value) = match result {
        Ok(value) => (actix_web::http::StatusCode::OK, value),
        Err(error) => (error.status_code(), json!({ "error": error.to_string() })),
    };
    HttpResponse::build(status)
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .json(value)
}
