//! Everyone something is made for.

use super::show::{age_note, day};
use crate::measure::{Unit, capital};
use crate::notebook::{Id, Notebook, Wearer};
use crate::web::app::App;
use crate::web::components::{empty, length};
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Query};
use chrono::{Local, NaiveDate};
use maud::{Markup, html};

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The wearer just put in the bin.
    #[serde(default)]
    binned: String,
}

pub async fn show(app: Data<App>, asked: Query<Asked>) -> Answer {
    let (wearers, unit) = app.ask(|n: &Notebook| Ok((n.wearers()?, n.settings()?.unit))).await?;
    let binned = Id::try_parse(&asked.binned).ok();
    let today = Local::now().date_naive();
    respond::page(page::notebook(
        Shelf::Wearers,
        "Wearers",
        html! {
            div.page-head {
                h1 { "Wearers" }
                @if !wearers.is_empty() { a.button.primary href="/wearers/new" { "Add a wearer" } }
            }
            @if let Some(wearer) = binned {
                div.undo role="status" {
                    p { "The wearer is in the bin, with all measurements." }
                    form method="post" action=(format!("/wearers/{wearer}/restore")) { button.button type="submit" { "Undo" } }
                }
            }
            @if wearers.is_empty() {
                (empty("Nobody here yet. Who or what do you sew for? Measurements are kept by date, so that you see what has grown.", "/wearers/new", "Add the first wearer"))
            } @else {
                ul.wearers { @for wearer in &wearers { li { (row(wearer, unit, today)) } } }
            }
        },
    ))
}

/// The first measures of the newest set stand in the list: often they are all
/// that is looked up.
const SHOWN: usize = 3;

fn row(wearer: &Wearer, unit: Unit, today: NaiveDate) -> Markup {
    html! {
        a.wearer href=(format!("/wearers/{}", wearer.id)) {
            span.wearer-head { b.wearer-name { (wearer.name) } " " span.meta { (wearer.kind.name()) } }
            @match wearer.sets.first() {
                Some(set) => {
                    @if let Some(note) = age_note(wearer.kind, set.taken_on, today) { span.old { (note) } }
                    span.wearer-measures {
                        @for m in set.values.iter().take(SHOWN) {
                            span.wearer-measure { span { (capital(&m.name)) } " " (length(m.value, unit)) }
                        }
                    }
                    span.meta {
                        @if set.values.len() > SHOWN { (set.values.len() - SHOWN) " more, measured " } @else { "Measured " }
                        (day(set.taken_on))
                    }
                }
                None => span.meta { "Not measured yet" },
            }
        }
    }
}
