//! The shop list on paper.

use super::lines::{Lines, lines, wanted_thing};
use crate::sheets::{Document, ShopSheet, shop_sheet};
use crate::web::app::App;
use crate::web::components::document;
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::pages::sheets::{Asked, as_file, files_of};
use crate::web::respond;
use actix_web::web::{Data, Query};
use chrono::Local;
use maud::html;

fn made(lines: &Lines) -> Document {
    let titles: Vec<String> = lines.chosen().iter().map(|p| p.title.clone()).collect();
    let things = lines
        .list
        .things
        .iter()
        .filter(|t| lines.is_bought(&t.key, &wanted_thing(t)));
    let bought: Vec<String> = things.map(|t| t.key.clone()).collect();
    shop_sheet(&ShopSheet {
        list: &lines.list,
        titles: &titles,
        bought: &bought,
        unit: lines.settings.unit,
        currency: &lines.settings.currency,
        date: Local::now().date_naive(),
    })
}

pub async fn show(app: Data<App>) -> Answer {
    let made = made(&lines(&app).await?);
    respond::page(page::notebook(
        Shelf::Shop,
        "Shop list on paper",
        html! {
            p.actions.sheet-actions {
                a.button.quiet href="/shop" { "Back to the list" }
                (files_of("/shop/sheet"))
            }
            (document(&made))
        },
    ))
}

pub async fn file(app: Data<App>, asked: Query<Asked>) -> Answer {
    let paper = asked.paper()?;
    let made = made(&lines(&app).await?);
    as_file(made, paper, "shop-list").await
}
