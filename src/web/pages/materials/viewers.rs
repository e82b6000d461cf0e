//! How viewers come to the list: the link, the published site, and whether
//! what they see follows the plan.

use super::Known;
use crate::notebook::{Notebook, Site};
use crate::sheets::differences;
use crate::web::app::{App, Body, id, typed};
use crate::web::components::card;
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, word};
use crate::web::respond;
use actix_web::web::{Data, Path};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

/// On top of the page, where what viewers see is not what the plan says.
pub(super) fn differing(known: &Known) -> Markup {
    let Some((_, held)) = &known.held else { return html! {} };
    let said = differences(held, &known.list);
    html! {
        @if !said.is_empty() {
            div.notice-differs {
                p { b { "Viewers see an earlier state: " } (said.len()) @if said.len() == 1 { " thing differs" } @else { " things differ" } " from the plan and the ticks of now. " a href="#differences" { "What differs" } }
            }
        }
    }
}

pub(super) fn share_card(known: &Known) -> Markup {
    let id = known.project.id;
    card(
        "share",
        "As a page",
        html! {
            @match &known.share {
                Some(share) => {
                    @let href = format!("{}/s/{}", known.address, share.token);
                    p { "Whoever has this link sees the ticked lines, and nothing else." }
                    p.share-link { a href=(format!("/s/{}", share.token)) #share-link { (href) } }
                    p.actions {
                        button.button.primary type="button" hidden data-copy="#share-link" { "Copy the link" }
                        span role="status" data-copied {}
                    }
                    form method="post" action=(format!("/projects/{id}/materials/close")) {
                        p.hint { "Closing the link cannot be undone; a new one will be different." }
                        button.button.quiet type="submit" { "Close this link" }
                    }
                }
                None => p.hint { "No link yet. “Save and make a link” above opens a read-only page with the ticked lines." }
            }
            (states(known))
            (site_form(known))
        },
    )
}

fn day(at: DateTime<Utc>) -> String {
    at.with_timezone(&Local).format("%-d %B %Y, %H:%M").to_string()
}

/// Whether it follows the plan, and what it was before.
fn states(known: &Known) -> Markup {
    let action = format!("/projects/{}/materials/state", known.project.id);
    let button = |what: &str, number: Option<i64>, words: &str| {
        html! {
            form method="post" action=(action) {
                input type="hidden" name="do" value=(what);
                @if let Some(number) = number { input type="hidden" name="number" value=(number); }
                button.button.quiet type="submit" { (words) }
            }
        }
    };
    html! {
        h3 #differences { "When the plan changes" }
        @match &known.held {
            None => {
                p { "What viewers see follows the plan and your ticks." }
                @if known.version > 0 { (button("hold", None, "Let it stay as it is now")) }
            }
            Some((seen, held)) => {
                @let said = differences(held, &known.list);
                p { "It stays as it was on " b { (seen.since.map(day).unwrap_or_default()) } " (revision " (seen.shown.revision) " of the plan). A tick you take away is gone there at once." }
                @if said.is_empty() { p { "The plan says the same now." } } @else {
                    p { "By the plan and your ticks of now:" }
                    ul.differences { @for line in &said { li { (line) } } }
                }
                (button("follow", None, "Let it follow the plan again"))
                @if !said.is_empty() { (button("hold", None, "Show what it is now, and let that stay")) }
            }
        }
        @let earlier: Vec<_> = known.viewers.states.iter().filter(|(n, _)| Some(*n) != known.viewers.shows).collect();
        @if !earlier.is_empty() {
            details.earlier-states {
                summary { "States it was held at before" }
                ul.rows { @for (number, at) in earlier { li.row { div.row-text { (day(*at)) } (button("again", Some(*number), "Show this again")) } } }
            }
        }
    }
}

fn site_form(known: &Known) -> Markup {
    let id = known.project.id;
    let words = |site: Site| match site {
        Site::WithLink => "While it has a link",
        Site::Always => "Always",
        Site::Never => "Never",
    };
    html! {
        h3 { "On the published site" }
        form.site-form method="post" action=(format!("/projects/{id}/materials/site")) {
            p.hint { code { "notchbook publish DIR" } " writes the lists of many projects as a site of plain files, for everyone to see." }
            fieldset.site-choice {
                legend.quiet { "Whether this list is on the published site" }
                @for site in Site::ALL {
                    label.pick { input type="radio" name="site" value=(word(&site)) checked[known.viewers.site == site]; span { (words(site)) } }
                }
            }
            @if let Some(address) = &known.viewers.address { p.hint { "Its place there: " code { (address) "/" } } }
            button.button type="submit" { "Save" }
        }
    }
}

pub(super) async fn close(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    app.ask(move |n: &Notebook| n.revoke_share(id)).await?;
    respond::see(&format!("/projects/{id}/materials#share"))
}

pub(super) async fn state(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let typed = typed(body);
    let (what, number) = (typed.get("do").to_string(), typed.get("number").parse::<i64>());
    app.ask(move |n: &Notebook| match (what.as_str(), number) {
        ("hold", _) => n.hold(id),
        ("again", Ok(number)) => n.hold_again(id, number),
        ("follow", _) => n.follow(id),
        // Nothing that the page's buttons send.
        _ => Ok(()),
    })
    .await?;
    respond::see(&format!("/projects/{id}/materials#share"))
}

pub(super) async fn site(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let typed = typed(body);
    let mut r = Reader::new(&typed, crate::measure::Unit::Inch);
    let site: Site = r.choice("site");
    if let Errors(list) = &r.errors
        && let Some((_, message)) = list.first()
    {
        return Err(WebError::Refused(message.clone()));
    }
    app.ask(move |n: &Notebook| n.set_site(id, site)).await?;
    respond::see(&format!("/projects/{id}/materials#share"))
}
