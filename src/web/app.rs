//! What every page handler has: the notebook, asked off the async threads.

use super::error::WebError;
use super::form::Typed;
use super::known::Known;
use super::lan::Lan;
use super::laying::Lays;
use super::limit::{Limit, Rate};
use super::tls::Tls;
use crate::figures::{self, Figures, Problem, time};
use crate::notebook::{Id, Letter, Notebook, NotebookError};
use crate::plan::Plan;
use actix_web::web;
use chrono::{DateTime, TimeDelta, Utc};
use std::sync::{Arc, Mutex};

/// A page with its pictures many times over, and then one request a second:
/// more is a machine.
pub const VIEWERS: Rate = Rate {
    at_once: 300,
    seconds_each: 1,
};

#[derive(Clone)]
pub struct App {
    pub notebook: Notebook,
    /// There while the home network is listened to.
    pub lan: Option<Arc<Lan>>,
    /// There while connections may be encrypted.
    pub tls: Option<Arc<Tls>>,
    /// How often shared pages may be asked for.
    pub viewers: Arc<Mutex<Limit>>,
    /// What was worked out already.
    pub known: Arc<Known>,
    /// Lays of outlines that were looked for.
    pub lays: Arc<Lays>,
    /// On the pages of a variant: the forms of its parts load and save that
    /// in place of the plan.
    pub variant: Option<Letter>,
}

impl App {
    /// Runs `ask` where blocking is allowed.
    pub async fn ask<T, F>(&self, ask: F) -> Result<T, WebError>
    where
        T: Send + 'static,
        F: FnOnce(&Notebook) -> Result<T, NotebookError> + Send + 'static,
    {
        let notebook = self.notebook.clone();
        Ok(web::block(move || ask(&notebook)).await??)
    }

    /// Works out a plan where blocking is allowed: a large one takes a while,
    /// and other pages must not wait for it.
    pub async fn figures(&self, plan: &Plan) -> Result<Arc<Figures>, WebError> {
        let plan = plan.clone();
        let known = self.known.clone();
        Ok(web::block(move || known.figures(&plan)).await?)
    }

    /// What is wrong with a plan, likewise.
    pub async fn problems(&self, plan: Plan) -> Result<Vec<Problem>, WebError> {
        Ok(web::block(move || figures::problems(&plan)).await?)
    }

    /// As [`App::figures`], of several plans of one project, their time at the
    /// paces of the maker's other projects.
    pub async fn figures_of(&self, project: Id, plans: Vec<Plan>) -> Result<Vec<Figures>, WebError> {
        let known = self.known.clone();
        self.ask(move |n| {
            let past = n.paces(project)?;
            Ok(plans
                .iter()
                .map(|plan| {
                    let mut figures = Figures::clone(&known.figures(plan));
                    figures.time = time::expected(&figures, plan, &past, &[], None);
                    figures
                })
                .collect())
        })
        .await
    }
}

/// A form body as the handlers take it.
pub type Body = web::Form<Vec<(String, String)>>;

pub fn typed(body: Body) -> Typed {
    Typed(body.into_inner())
}

/// An id from an address; anything else is a page that is not there.
pub fn id(text: &str) -> Result<Id, WebError> {
    Id::try_parse(text).map_err(|_| WebError::NoPage)
}

/// The id a form carries from the moment it is shown, so that sending it twice
/// makes one thing; a new one where it is missing or unreadable.
pub fn form_id(typed: &Typed) -> Id {
    Id::try_parse(typed.get("id")).unwrap_or_else(|_| Id::now_v7())
}

/// When a word was said that may have waited on a device. It tells how long ago
/// that was: the clocks of two devices need not agree.
pub fn said_at(typed: &Typed) -> DateTime<Utc> {
    let age = typed.get("age").parse().unwrap_or(0).clamp(0, YEARS);
    Utc::now() - TimeDelta::milliseconds(age)
}

/// Nothing waits longer than ten years; in milliseconds.
const YEARS: i64 = 10 * 366 * 24 * 60 * 60 * 1000;
