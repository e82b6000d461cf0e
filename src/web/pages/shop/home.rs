//! What was bought comes home: how much of each cloth, how wide, at what price.

use super::lines::{Lines, lines, wanted_cloth, wanted_thing};
use crate::measure::{Length, Unit};
use crate::notebook::{BoughtCloth, Id, Notebook, NotebookError, Purchase, Settings};
use crate::plan::{Per, Price, limits};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::components::{
    ReturnTo, card, choice, date, empty, errors_summary, hidden, length_input, money, save_bar,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{LINE, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path};
use chrono::Local;
use maud::{Markup, html};

pub async fn show(app: Data<App>) -> Answer {
    let lines = lines(&app).await?;
    let typed = filled(&lines);
    respond::page(home_page(&lines.settings, &Shown::from(typed)))
}

/// What is ticked, as the list says it.
fn filled(lines: &Lines) -> Typed {
    let unit = lines.settings.unit;
    let mut typed = Typed::default();
    typed.set("id", Id::now_v7().to_string());
    typed.set("day", Local::now().date_naive().to_string());
    let ticked = lines
        .list
        .cloths
        .iter()
        .filter(|c| c.to_buy > Length::ZERO && lines.is_ticked(&c.key, &wanted_cloth(c)));
    for (n, c) in ticked.enumerate() {
        let mut set = |field: &str, value: String| typed.set(&format!("{field}_{n}"), value);
        set("key", c.key.clone());
        set("name", c.name.clone());
        set("new", Id::now_v7().to_string());
        set("length", length_text(c.to_buy, unit));
        set("width", length_text(c.usable_width, unit));
        set(
            "price",
            c.price.as_ref().map_or(String::new(), |p| p.amount.to_string()),
        );
        let usual = if unit == Unit::Cm { Per::Metre } else { Per::Yard };
        set("per", word(&c.price.as_ref().map_or(usual, |p| p.per)));
    }
    let ticked = lines
        .list
        .things
        .iter()
        .filter(|t| lines.is_ticked(&t.key, &wanted_thing(t)));
    for (n, t) in ticked.enumerate() {
        typed.set(&format!("thing_{n}"), &t.key);
        typed.set(&format!("thing_name_{n}"), &t.name);
        typed.set(&format!("thing_wanted_{n}"), wanted_thing(t));
    }
    typed
}

fn rows<'a>(typed: &'a Typed, field: &'a str) -> impl Iterator<Item = usize> + 'a {
    (0..limits::NOTIONS + limits::CLOTHS).filter(move |n| typed.has(&format!("{field}_{n}")))
}

fn home_page(settings: &Settings, form: &Shown) -> Markup {
    let typed = &form.typed;
    let cloths: Vec<usize> = rows(typed, "key").collect();
    let things: Vec<usize> = rows(typed, "thing").collect();
    let per = [
        (word(&Per::Yard), "a yard".to_string()),
        (word(&Per::Metre), "a metre".to_string()),
    ];
    page::notebook(
        Shelf::Shop,
        "Bring home",
        html! {
            h1 { "Bring home" }
            @if cloths.is_empty() && things.is_empty() {
                (empty("Nothing is ticked on the shop list yet.", "/shop", "Back to the list"))
            } @else {
                form method="post" action="/shop/home" data-unit=(settings.unit.name()) {
                    (hidden("id", typed.get("id")))
                    (errors_summary(form))
                    @for n in &cloths {
                        @let field = |name: &str| format!("{name}_{n}");
                        (card(&format!("cloth-{n}"), typed.get(&field("name")), html! {
                            @for name in ["key", "name", "new"] { (hidden(&field(name), typed.get(&field(name)))) }
                            div.pair {
                                (length_input(form, &field("length"), "Length", "As sold, unwashed."))
                                (length_input(form, &field("width"), "Usable width", "Between the selvages."))
                            }
                            div.pair {
                                (money(form, &field("price"), &format!("Price, {}", settings.currency), "Empty if you do not know."))
                                (choice(form, &field("per"), "For", "", &per))
                            }
                        }))
                    }
                    @if !things.is_empty() {
                        (card("things", "And besides", html! {
                            ul.lines { @for n in &things {
                                @let field = |name: &str| format!("{name}_{n}");
                                li {
                                    span { (typed.get(&field("thing_name"))) } b { (typed.get(&field("thing_wanted"))) }
                                    @for name in ["thing", "thing_name", "thing_wanted"] { (hidden(&field(name), typed.get(&field(name)))) }
                                }
                            } }
                        }))
                    }
                    (card("when", "When", html! { (date(form, "day", "Day", "")) }))
                    @if !cloths.is_empty() {
                        p.hint { "Cloth goes to the shelf, less what the first wash is expected to take, and the plans that want it see it there. A cloth of another width is another cloth of the shelf." }
                    }
                    (save_bar("Put it away", &ReturnTo { href: "/shop", label: "Back" }))
                }
            }
        },
    )
}

fn read(typed: &Typed, unit: Unit) -> Result<Purchase, crate::web::form::Errors> {
    let mut r = Reader::new(typed, unit);
    let day = r.date("day").unwrap_or_else(|| Local::now().date_naive());
    let mut cloths = Vec::new();
    for n in rows(typed, "key") {
        let field = |name: &str| format!("{name}_{n}");
        let amount = r.money(&field("price"));
        let per: Per = r.choice(&field("per"));
        cloths.push(BoughtCloth {
            key: typed.get(&field("key")).into(),
            new: Id::try_parse(typed.get(&field("new"))).unwrap_or_else(|_| Id::now_v7()),
            name: r.line(&field("name"), NAME),
            width: r.length_positive(&field("width")),
            length: r.length_positive(&field("length")),
            price: amount.map(|amount| Price { amount, per }),
        });
    }
    let mut things = Vec::new();
    for n in rows(typed, "thing") {
        let wanted = r.line(&format!("thing_wanted_{n}"), LINE);
        things.push((typed.get(&format!("thing_{n}")).to_string(), wanted));
    }
    if r.errors.is_empty() {
        Ok(Purchase {
            id: form_id(typed),
            day,
            cloths,
            things,
        })
    } else {
        Err(r.errors)
    }
}

pub async fn save(app: Data<App>, body: Body) -> Answer {
    let typed = typed(body);
    let settings = app.ask(|n: &Notebook| n.settings()).await?;
    let purchase = match read(&typed, settings.unit) {
        Ok(purchase) => purchase,
        Err(errors) => return Err(WebError::Form(home_page(&settings, &Shown { typed, errors }))),
    };
    let change = purchase.id;
    match app.ask(move |n: &Notebook| n.buy(&purchase)).await {
        Ok(()) => respond::see(&format!("/shop?bought={change}")),
        Err(WebError::Notebook(NotebookError::Refused { message, .. })) => {
            let mut form = Shown::from(typed);
            form.errors.add("day", message);
            Err(WebError::Form(home_page(&settings, &form)))
        }
        Err(other) => Err(other),
    }
}

pub async fn undo(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let change = id(&path)?;
    let typed = typed(body);
    app.ask(move |n: &Notebook| n.undo_shelf_change(change)).await?;
    // From the page of a cloth back to it.
    match Id::try_parse(typed.get("cloth")) {
        Ok(cloth) => respond::see(&format!("/cloth/{cloth}#history")),
        Err(_) => respond::see("/shop"),
    }
}
