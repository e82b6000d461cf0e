//! The page for the shop: one line a cloth or thing, ticked by a thumb. It is
//! whole in itself, so that a copy of it serves without the laptop.

use super::lines::{Lines, State, lines, wanted_cloth, wanted_thing};
use crate::figures::{ClothToBuy, ThingKind, ThingToBuy};
use crate::measure::{Length, Money, Round};
use crate::notebook::{Id, Notebook, Settings};
use crate::plan::ClothKind;
use crate::web::app::{App, Body, typed};
use crate::web::assets::address;
use crate::web::components::{card, cautions, cloth_length, empty, hidden, length_down, length_up, sentence, swatch};
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Query};
use maud::{Markup, html};

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The purchase that was just brought home.
    #[serde(default)]
    bought: String,
}

pub async fn show(app: Data<App>, asked: Query<Asked>) -> Answer {
    let lines = lines(&app).await?;
    respond::page(list_page(&lines, Id::try_parse(&asked.bought).ok()))
}

pub async fn choose(app: Data<App>, body: Body) -> Answer {
    let typed = typed(body);
    let chosen: Vec<Id> = typed.all("project").filter_map(|id| Id::try_parse(id).ok()).collect();
    app.ask(move |n: &Notebook| n.choose_shop_projects(&chosen)).await?;
    respond::see("/shop")
}

/// A line to tick: a form of one button, so that it works without script.
struct Line<'a> {
    number: usize,
    key: &'a str,
    wanted: String,
    name: &'a str,
    amount: Markup,
    swatch: Markup,
}

fn list_page(lines: &Lines, bought: Option<Id>) -> Markup {
    let l = &lines.list;
    let wanted: Vec<&ClothToBuy> = l.cloths.iter().filter(|c| c.to_buy > Length::ZERO).collect();
    let enough: Vec<&ClothToBuy> = l.cloths.iter().filter(|c| c.to_buy == Length::ZERO).collect();
    let (had, open): (Vec<&ThingToBuy>, Vec<&ThingToBuy>) =
        l.things.iter().partition(|t| lines.is_bought(&t.key, &wanted_thing(t)));
    let mut number = 0;
    let mut next = || {
        number += 1;
        number
    };
    let groups = [
        ("cloth", "Cloth", ClothKind::Cloth),
        ("batting", "Batting", ClothKind::Batting),
    ];
    let kinds = [
        ("notions", "Notions", ThingKind::Notion),
        ("closures", "Buttons and other closures", ThingKind::Closure),
        ("thread", "Thread", ThingKind::Thread),
        ("tools", "Tools", ThingKind::Tool),
    ];
    page::notebook(
        Shelf::Shop,
        "Shop list",
        html! {
            h1 { "Shop list" }
            @if let Some(purchase) = bought {
                div.undo role="status" {
                    p { "It is on the shelf, and the plans that want it know of it." }
                    form method="post" action=(format!("/shelf-changes/{purchase}/undo")) { button.button type="submit" { "Undo" } }
                }
            }
            p.shop-waiting role="status" data-shop-waiting {}
            @if lines.projects.is_empty() {
                (empty("The list follows from the plans of open projects. There is none yet.", "/projects/new", "Start a project"))
            } @else {
                (choice(lines))
                @let nothing = wanted.is_empty() && open.is_empty();
                @if nothing && !lines.chosen().is_empty() { (nothing_to_buy(lines, &enough, &had)) }
                @for (id, heading, kind) in groups {
                    @if wanted.iter().any(|c| c.kind == kind) {
                        (card(id, heading, html! {
                            ul.shop-list { @for c in wanted.iter().filter(|c| c.kind == kind) { (cloth_line(lines, c, next())) } }
                        }))
                    }
                }
                @for (id, heading, kind) in kinds {
                    @if open.iter().any(|t| t.kind == kind) {
                        (card(id, heading, html! {
                            @if kind == ThingKind::Tool { p.hint { "Named in the plans and not used up: tick what you have to buy." } }
                            ul.shop-list { @for t in open.iter().filter(|t| t.kind == kind) { (thing_line(lines, t, next())) } }
                        }))
                    }
                }
                (cautions(&l.not_counted))
                (cost(lines))
                p.actions { a.button.quiet href="/shop/sheet" { "The list on paper" } }
                @if !enough.is_empty() { (at_home(lines, &enough, nothing)) }
                @if !had.is_empty() { (in_the_drawer(lines, &had, nothing)) }
                @if !wanted.is_empty() || !open.is_empty() {
                    div.save-bar {
                        a.button.primary href="/shop/home" data-shop-home { "Bring home what is ticked" }
                    }
                }
            }
            script src=(address("shop.js")) defer {}
        },
    )
}

/// Which projects are shopped for: folded, with their titles in sight.
fn choice(lines: &Lines) -> Markup {
    let chosen = lines.chosen();
    html! {
        details.shop-choice open[chosen.is_empty()] {
            summary {
                span {
                    @if chosen.is_empty() { "For no project: choose one" }
                    @else { "For " (lines.titles(0..chosen.len())) }
                }
                span.shop-change { "Change" }
            }
            form method="post" action="/shop/choice" {
                @for p in &lines.projects {
                    label.pick {
                        input type="checkbox" name="project" value=(p.id) checked[p.chosen];
                        span { (p.title) }
                    }
                }
                button.button type="submit" { "Shop for these" }
            }
        }
    }
}

fn tick_line(lines: &Lines, line: &Line) -> Markup {
    let ticked = lines.is_ticked(line.key, &line.wanted);
    html! {
        form method="post" action="/shop/tick" data-tick {
            (hidden("key", line.key))
            (hidden("wanted", &line.wanted))
            (hidden("ticked", if ticked { "" } else { "yes" }))
            (hidden("line", &line.number.to_string()))
            button.shop-line type="submit" role="checkbox" aria-checked=(ticked) {
                svg.shop-box viewBox="0 0 24 24" width="28" height="28" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" {
                    rect x="2" y="2" width="20" height="20" rx="3" {}
                    path.shop-check d="M6 12.5l4 4 8-9" {}
                }
                (line.swatch)
                span.shop-name { (line.name) }
                span.shop-amount { (line.amount) }
            }
        }
    }
}

fn cloth_line(lines: &Lines, c: &ClothToBuy, number: usize) -> Markup {
    let unit = lines.settings.unit;
    let line = Line {
        number,
        key: &c.key,
        wanted: wanted_cloth(c),
        name: &c.name,
        amount: cloth_length(c.to_buy, unit),
        swatch: swatch(&c.colour, None, lines.picture(&c.key)),
    };
    html! {
        li id=(format!("line-{number}")) {
            (tick_line(lines, &line))
            div.shop-more {
                p.meta {
                    (sentence(&c.usable_width.both(unit, Round::Up))) " wide"
                    @if !c.fibre.is_empty() { ", " (c.fibre) }
                    ". For " (lines.titles(c.of.iter().map(|(at, _)| *at))) "."
                    @if let (Some(price), Some(cost)) = (&c.price, c.cost) {
                        " " (money(&lines.settings, cost)) span.whole { " at " (money(&lines.settings, price.amount)) " a " (price.per.name()) } "."
                    }
                }
                @if !c.at_hand.is_empty() { p.meta { "At hand: " (sentence(&c.at_hand)) "." } }
                details.widths {
                    summary { "Other widths, and how it adds up" }
                    @if !c.other_widths.is_empty() {
                        p.hint { "All of it cut from a cloth of another width, with nothing at hand." }
                        table.numbers.shop-widths {
                            thead { tr { th.num scope="col" { "Usable width" } th.num scope="col" { "Length" } } }
                            tbody { @for w in &c.other_widths { tr { td.num { (length_down(w.width, unit)) } td.num { (cloth_length(w.to_buy, unit)) } } } }
                        }
                    }
                    ul.shop-working { @for line in &c.shown.working { li { (sentence(line)) } } }
                    (cautions(&c.shown.cautions))
                    @if !c.link.is_empty() { p.meta { a href=(c.link) rel="noopener noreferrer" { "Where to buy" } } }
                }
            }
        }
    }
}

fn thing_line(lines: &Lines, t: &ThingToBuy, number: usize) -> Markup {
    let wanted = wanted_thing(t);
    let before = match lines.state(&t.key, &wanted) {
        State::BoughtAs(as_said) => Some(as_said.to_string()),
        _ => None,
    };
    let line = Line {
        number,
        key: &t.key,
        wanted,
        name: &t.name,
        amount: html! { b { (t.quantity) } },
        swatch: html! {},
    };
    let mut several: Vec<String> = Vec::new();
    let chosen = lines.chosen();
    for (at, amount) in &t.of {
        let title = chosen.get(*at).map_or("", |p| p.title.as_str());
        several.push(
            if amount.is_empty() || t.of.len() == 1 && t.kind != ThingKind::Closure && t.kind != ThingKind::Thread {
                title.to_string()
            } else {
                format!("{title} ({amount})")
            },
        );
    }
    html! {
        li id=(format!("line-{number}")) {
            (tick_line(lines, &line))
            div.shop-more {
                p.meta {
                    "For " (sentence(&several.join(", "))) "."
                    @if let Some(cost) = t.cost { " " (money(&lines.settings, cost)) "." }
                    @if let Some(before) = before { " Bought before: " (if before.is_empty() { "some" } else { before.as_str() }) "." }
                }
                @if !t.remark.is_empty() { p.meta { "Your remark: " (t.remark) } }
                @if !t.link.is_empty() { p.meta { a href=(t.link) rel="noopener noreferrer" { "Where to buy" } } }
            }
        }
    }
}

fn cost(lines: &Lines) -> Markup {
    let (sum, without) = lines.list.cost();
    html! {
        @if sum > Money::ZERO {
            p.shop-cost {
                b { "Together " (money(&lines.settings, sum)) }
                @if !without.is_empty() { span.meta { ", without " (without.join(", ")) ": no price is known" } }
            }
        }
    }
}

/// Why there is nothing, and where it can be looked up or changed.
fn nothing_to_buy(lines: &Lines, enough: &[&ClothToBuy], had: &[&ThingToBuy]) -> Markup {
    let chosen = lines.chosen();
    let cut: Vec<String> = chosen
        .iter()
        .flat_map(|p| {
            let names = p.cut.iter().filter_map(|(id, _)| p.plan.cloth(id));
            names.map(move |c| format!("{} of {}", c.name, p.title))
        })
        .collect();
    let covered = !(enough.is_empty() && had.is_empty() && cut.is_empty());
    html! {
        section.card.shop-nothing {
            @if covered {
                p { b { "Nothing is to be bought." } " What these projects take is covered, as is said below." }
            } @else {
                p { b { "Nothing is to be bought." } " The plans name no cloth that is used, no thread and no notions yet." }
            }
            @if !cut.is_empty() { p.meta { "Cut already: " (cut.join(", ")) "." } }
            ul.rows {
                @for p in chosen {
                    li.row {
                        div.row-text { b { (p.title) } }
                        @if covered { a.button.quiet href=(format!("/projects/{}/figures", p.id)) { "Figures" } }
                        a.button.quiet href=(format!("/projects/{}", p.id)) { "Plan" }
                    }
                }
            }
        }
    }
}

/// What covers a cloth: the lengths, remnants and patches of it, and for whom.
fn at_home(lines: &Lines, enough: &[&ClothToBuy], open: bool) -> Markup {
    let unit = lines.settings.unit;
    html! {
        details.shop-home open[open] {
            summary { "Enough at hand: " (enough.len()) @if enough.len() == 1 { " cloth" } @else { " cloths" } }
            ul.rows {
                @for c in enough {
                    li.row {
                        (swatch(&c.colour, None, lines.picture(&c.key)))
                        div.row-text {
                            b { @if let Some(id) = c.key.strip_prefix("shelf/") { a href=(format!("/cloth/{id}")) { (c.name) } } @else { (c.name) } }
                            div.meta { (length_up(c.usable_width, unit)) " wide" @if !c.at_hand.is_empty() { ", at hand: " (sentence(&c.at_hand)) } }
                            @for (at, bare) in &c.of {
                                @if let Some(p) = lines.chosen().get(*at) {
                                    div.meta { "For " a href=(format!("/projects/{}/figures", p.id)) { (p.title) } ", which takes " (sentence(&bare.both_cloth(unit, Round::Up))) " off a new cloth" }
                                }
                            }
                            (cautions(&c.shown.cautions))
                        }
                    }
                }
            }
        }
    }
}

/// Things that were bought: a line leads back to the list.
fn in_the_drawer(lines: &Lines, had: &[&ThingToBuy], open: bool) -> Markup {
    html! {
        details.shop-home open[open] {
            summary { "Bought: " (had.len()) }
            ul.rows {
                @for t in had {
                    li.row {
                        div.row-text { b { (t.name) } " " (t.quantity) div.meta { "for " (lines.titles(t.of.iter().map(|(at, _)| *at))) } }
                        form method="post" action="/shop/tick" {
                            (hidden("key", &t.key))
                            (hidden("wanted", &wanted_thing(t)))
                            button.button.quiet type="submit" { "Back on the list" }
                        }
                    }
                }
            }
        }
    }
}

/// Signs stand close to the amount, letters apart.
pub fn money(settings: &Settings, amount: Money) -> String {
    let apart = if settings.currency.ends_with(char::is_alphabetic) {
        " "
    } else {
        ""
    };
    format!("{}{apart}{amount}", settings.currency)
}
