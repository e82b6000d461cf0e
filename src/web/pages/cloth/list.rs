//! What is on the shelf, each cloth with a swatch big enough to know it by.

use crate::figures::{Size, outline_words};
use crate::measure::{Length, Round};
use crate::notebook::{Id, Notebook, Settings, StockCloth};
use crate::plan::{ClothKind, Price};
use crate::web::app::App;
use crate::web::components::{cloth_length_down, empty, length_down, size, swatch};
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Query};
use maud::{Markup, html};

/// Projects a tile names: all of them stand on the cloth's own page.
const NAMED: usize = 2;

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The cloth that was just put in the bin.
    #[serde(default)]
    binned: String,
}

/// A cloth and the projects that use it.
struct Shelved {
    cloth: StockCloth,
    projects: Vec<(Id, String)>,
}

pub async fn show(app: Data<App>, asked: Query<Asked>) -> Answer {
    let (settings, shelf) = app
        .ask(|n: &Notebook| {
            let mut shelf = Vec::new();
            for cloth in n.cloths()? {
                let projects = n.projects_with_cloth(cloth.id)?;
                shelf.push(Shelved { cloth, projects });
            }
            Ok((n.settings()?, shelf))
        })
        .await?;
    let binned = Id::try_parse(&asked.binned).ok();
    let (cloths, batting): (Vec<&Shelved>, Vec<&Shelved>) =
        shelf.iter().partition(|s| s.cloth.kind == ClothKind::Cloth);
    respond::page(page::notebook(
        Shelf::Cloth,
        "Cloth and remnants",
        html! {
            div.page-head {
                h1 { "Cloth and remnants" }
                @if !shelf.is_empty() { a.button.primary href="/cloth/new" { "Add a cloth" } }
            }
            @if let Some(cloth) = binned {
                div.undo role="status" {
                    p { "The cloth is in the bin. Projects that use it keep their own copy." }
                    form method="post" action=(format!("/cloth/{cloth}/restore")) { button.button type="submit" { "Undo" } }
                }
            }
            @if shelf.is_empty() {
                (empty("The shelf is empty. Put your cloths and leftovers here once, and every project can cut from them.", "/cloth/new", "Add the first cloth"))
            }
            @if !cloths.is_empty() {
                @if !batting.is_empty() { h2.group { "Cloth" } }
                (tiles(&cloths, &settings))
            }
            @if !batting.is_empty() {
                h2.group { "Batting" }
                (tiles(&batting, &settings))
            }
        },
    ))
}

fn tiles(shelf: &[&Shelved], settings: &Settings) -> Markup {
    html! { ul.shelf { @for shelved in shelf { li { (tile(shelved, settings)) } } } }
}

/// What is there is printed down: a shelf that says more than it holds is a
/// plan that runs short.
fn tile(shelved: &Shelved, settings: &Settings) -> Markup {
    let (c, unit) = (&shelved.cloth, settings.unit);
    html! {
        div.shelf-cloth {
            (swatch(&c.colour, None, c.picture().as_ref()))
            div.shelf-text {
                a.shelf-name href=(format!("/cloth/{}", c.id)) { b { (c.name) } }
                p.meta {
                    @if !c.fibre.is_empty() { (c.fibre) ", " }
                    (length_down(c.usable_width, unit)) " wide"
                    @if let Some((_, step)) = c.swatch.as_ref().and_then(|s| s.lightness()) { ", " (step.name()) }
                    @if let Some(price) = &c.price { ", " span.whole { (money(settings, price)) " a " (price.per.name()) } }
                }
                ul.lines {
                    @if c.owned > Length::ZERO || (c.remnants.is_empty() && c.outlined.is_empty()) {
                        li { span { "Length owned" }
                            @if c.owned == Length::ZERO { span.meta { "none" } } @else { (cloth_length_down(c.owned, unit)) } }
                    }
                    @for r in &c.remnants {
                        li {
                            span { @if r.count > 1 { (r.count) " remnants" } @else { "Remnant" } }
                            (size(Size { width: r.width, height: r.length }, unit, Round::Down))
                            @if !r.note.is_empty() { span.meta.remnant-note { (r.note) } }
                        }
                    }
                    @for o in &c.outlined {
                        li {
                            span { @if o.count > 1 { (o.count) " remnants" } @else { "Remnant" } }
                            span { (outline_words(&o.outline, unit)) }
                            @if !o.note.is_empty() { span.meta.remnant-note { (o.note) } }
                        }
                    }
                    @let ready: u32 = c.ready_cut.iter().map(|r| r.count).sum();
                    @if ready > 0 { li { span { "Ready-cut patches" } span { (ready) } } }
                }
                @if !shelved.projects.is_empty() {
                    p.meta.shelf-used { "Used in "
                        @for (i, (id, title)) in shelved.projects.iter().take(NAMED).enumerate() {
                            @if i > 0 { ", " }
                            a href=(format!("/projects/{id}")) { (title) }
                        }
                        @if shelved.projects.len() > NAMED { " and " (shelved.projects.len() - NAMED) " more" }
                    }
                }
            }
        }
    }
}

/// Signs stand close to the amount, letters apart: $14.50, CHF 14.50.
fn money(settings: &Settings, price: &Price) -> String {
    let apart = if settings.currency.ends_with(char::is_alphabetic) {
        " "
    } else {
        ""
    };
    format!("{}{apart}{}", settings.currency, price.amount)
}
