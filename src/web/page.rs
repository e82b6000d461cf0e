//! The frame of every page: head, way round the notebook, bottom bar of a project.

use super::assets::address;
use super::components::{PHOTO_FORMATS, entry_icon, hidden};
use super::fresh;
use super::running;
use crate::measure::{capital, hours};
use crate::notebook::{EntryKind, Id, Timer};
use crate::photos::PhotoError;
use chrono::Utc;
use maud::{DOCTYPE, Markup, html};

/// Where the maker is in a project: the bottom bar marks it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Place {
    Plan,
    Figures,
    Steps,
    Log,
    Materials,
}

/// Where the maker is in the notebook.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Shelf {
    Projects,
    Cloth,
    Shop,
    Wearers,
    Settings,
    Search,
}

/// `outbox`: whether what waits on this device is shown, and sent where it may.
fn frame(title: &str, body_class: &str, script: &str, outbox: bool, body: Markup) -> Markup {
    frame_with(html! {}, title, body_class, script, outbox, body)
}

fn frame_with(more: Markup, title: &str, body_class: &str, script: &str, outbox: bool, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                // Neither a private notebook nor a page by a random link belongs into a search engine.
                meta name="robots" content="noindex";
                meta name="color-scheme" content="light dark";
                meta name="theme-color" content="#f2f4f3" media="(prefers-color-scheme: light)";
                meta name="theme-color" content="#12162b" media="(prefers-color-scheme: dark)";
                title { (title) " · Notchbook" }
                (more)
                link rel="icon" type="image/svg+xml" href=(address("icon.svg"));
                link rel="stylesheet" href=(address("style.css"));
                link rel="stylesheet" href=(address("pages.css"));
                script src=(address(script)) defer {}
                // Run in this order: the outbox uses what stands in those before it.
                @if script == "notebook.js" { script src=(address("timer.js")) defer {} }
                @if outbox { script src=(address("outbox.js")) type="module" {} }
            }
            body class=(body_class) { (body) }
        }
    }
}

fn notebook_nav(here: Shelf) -> Markup {
    let places = [
        (Shelf::Projects, "/", "Projects"),
        (Shelf::Cloth, "/cloth", "Cloth"),
        (Shelf::Shop, "/shop", "Shop list"),
        (Shelf::Wearers, "/wearers", "Wearers"),
        (Shelf::Settings, "/settings", "Settings"),
    ];
    html! {
        nav.notebook-nav aria-label="Notebook" {
            @for (shelf, href, name) in places {
                a href=(href) aria-current=[(shelf == here).then_some("page")] { (name) }
            }
        }
    }
}

/// A page of the notebook outside any project.
pub fn notebook(here: Shelf, title: &str, body: Markup) -> Markup {
    frame(
        title,
        "at-notebook",
        "notebook.js",
        true,
        html! {
            a.skip href="#main" { "To the content" }
            header.top {
                a.mark href="/" aria-label="Notchbook, all projects" { (mark()) span { "Notchbook" } }
                (notebook_nav(here))
                (search_link(here == Shelf::Search))
            }
            (timer_strip(None))
            main #main { (body) }
        },
    )
}

/// A page of a project: its title on top, its places and what is added to its
/// log within reach of the thumb.
pub fn project(id: Id, title: &str, place: Place, heading: &str, body: Markup) -> Markup {
    let places = [
        (Place::Plan, format!("/projects/{id}"), "Plan"),
        (Place::Figures, format!("/projects/{id}/figures"), "Figures"),
        (Place::Steps, format!("/projects/{id}/steps"), "Steps"),
        (Place::Log, format!("/projects/{id}/log"), "Log"),
        (Place::Materials, format!("/projects/{id}/materials"), "Materials"),
    ];
    frame(
        &format!("{heading}, {title}"),
        "at-project",
        "notebook.js",
        true,
        html! {
            a.skip href="#main" { "To the content" }
            header.top {
                a.mark href="/" { (mark()) span { "Projects" } }
                a.project-title href=(format!("/projects/{id}")) { (title) }
                (search_link(false))
            }
            nav.project-nav aria-label="Project" {
                @for (at, href, name) in &places {
                    a href=(href) aria-current=[(*at == place).then_some("page")] { (icon(name)) span { (name) } }
                }
            }
            (timer_strip(Some(id)))
            main #main { (body) }
            (quick(id))
        },
    )
}

/// The timer while it runs, or while its minutes wait for the log. `here` is
/// the project of the page.
fn timer_strip(here: Option<Id>) -> Markup {
    let Some(timer) = running::timer() else {
        return html! {};
    };
    let page = format!("/projects/{}/timer", timer.project);
    let minutes = timer.minutes(Utc::now());
    html! {
        aside.timer aria-label="Timer" data-running[timer.stopped_at.is_none()] {
            a href=(page) {
                (entry_icon(EntryKind::Work))
                span.timer-words {
                    b { (timer_on(&timer)) }
                    @if here != Some(timer.project) { " " span.meta { (timer.title) } }
                }
                span.timer-minutes.num data-since=[timer.stopped_at.is_none().then(|| timer.started_at.to_rfc3339())] { (hours(minutes)) }
            }
            @if timer.stopped_at.is_none() {
                form method="post" action=(format!("{page}/stop")) {
                    (hidden("timer", &timer.id.to_string()))
                    button.button.primary type="submit" aria-label="Stop the timer" { "Stop" }
                }
            } @else {
                a.button.primary href=(page) { "To the log" }
            }
        }
    }
}

/// What a timer runs on: its step, else its kind of work.
pub fn timer_on(timer: &Timer) -> String {
    match (&timer.step, timer.work) {
        (Some((_, title)), _) => title.clone(),
        (None, Some(work)) => capital(work.name()),
        (None, None) => "Timer".into(),
    }
}

/// What is added while sewing, each one tap away: the camera opens at once,
/// the timer starts at once on the next step.
fn quick(id: Id) -> Markup {
    let add = format!("/projects/{id}/log/add");
    let running = running::timer().filter(|t| t.project == id && t.stopped_at.is_none());
    let kinds = [
        (EntryKind::Note, "Note"),
        (EntryKind::Decision, "Decision"),
        (EntryKind::Measure, "Measure"),
    ];
    html! {
        nav.quick aria-label="Add to the log" {
            form.quick-camera method="post" enctype="multipart/form-data" action=(format!("{add}/photo")) data-submit-on-choose data-outbox {
                (hidden("id", &fresh::id().to_string()))
                input type="hidden" name="happened_at" value="" data-now;
                input.unseen #quick-camera type="file" name="photos" accept=(PHOTO_FORMATS) capture="environment" multiple required data-heic=(PhotoError::Heic);
                label for="quick-camera" { (entry_icon(EntryKind::Photo)) span data-sending-sign { "Photo" } }
                button.button.primary.quick-send type="submit" { "Save the photo" }
            }
            @for (kind, name) in kinds {
                a href=(format!("{add}?kind={}#{}-card", kind.name(), kind.name())) { (entry_icon(kind)) span { (name) } }
            }
            @if let Some(timer) = running {
                form method="post" action=(format!("/projects/{id}/timer/stop")) {
                    (hidden("timer", &timer.id.to_string()))
                    button.runs type="submit" aria-label="Stop the timer" { (entry_icon(EntryKind::Work)) span { "Stop" } }
                }
            } @else {
                form method="post" action=(format!("/projects/{id}/timer/start")) {
                    (hidden("timer", &fresh::id().to_string()))
                    button type="submit" aria-label="Start the timer" { (entry_icon(EntryKind::Work)) span { "Timer" } }
                }
            }
        }
    }
}

/// The way to the search, on every page of the notebook.
fn search_link(here: bool) -> Markup {
    html! {
        a.search-link href="/search" aria-label="Search" aria-current=[here.then_some("page")] { (icon("Search")) }
    }
}

/// A page for viewers, or for errors: no way into the notebook's other parts.
pub fn plain(title: &str, body: Markup) -> Markup {
    frame(title, "at-plain", "notebook.js", false, html! { main #main { (body) } })
}

/// A page for viewers, with what machines read of it in its head.
pub fn viewers(title: &str, head: Markup, body: Markup) -> Markup {
    frame_with(
        head,
        title,
        "at-plain",
        "viewers.js",
        false,
        html! { main #main { (body) } },
    )
}

/// A page at the door: it knows nothing of the notebook, and leaves what was
/// typed and not yet saved on this device alone, but for saying that it is there.
pub fn door(title: &str, body: Markup) -> Markup {
    frame(
        title,
        "at-plain",
        "pair.js",
        true,
        html! { main #main { div.door { (body) } } },
    )
}

/// The notch: a filled triangle on the edge, as pattern pieces have.
fn mark() -> Markup {
    html! {
        svg.mark-sign viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" {
            path d="M3 3h18v18H3z" fill="none" stroke="currentColor" stroke-width="2" {}
            path d="M3 8l7 4-7 4z" fill="currentColor" {}
        }
    }
}

/// Line drawings of our own for the project bar.
fn icon(name: &str) -> Markup {
    let path = match name {
        // a pattern piece with its grainline
        "Plan" => "M6 3h8c1 4 3 5 4 6v12H6z M11 9v8 M9.5 10.5L11 9l1.5 1.5 M9.5 15.5L11 17l1.5-1.5",
        // a tape with marks
        "Figures" => "M3 8h18v8H3z M7 8v4 M11 8v3 M15 8v4 M19 8v3",
        // three lines, the first ticked
        "Steps" => "M4 6l2 2 3-4 M12 6h8 M5 12h2 M12 12h8 M5 18h2 M12 18h8",
        // a page with written lines
        "Log" => "M5 3h14v18H5z M8 8h8 M8 12h8 M8 16h5",
        // a swatch card
        "Materials" => "M4 4h7v7H4z M4 14h7v6H4z M14 6h6 M14 10h6 M14 15h6 M14 19h4",
        // a glass
        "Search" => "M10.5 4a6.5 6.5 0 1 0 0 13a6.5 6.5 0 1 0 0-13z M15.5 15.5L21 21",
        _ => "M12 5v14 M5 12h14",
    };
    html! {
        svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="1.8" stroke-linecap="round" stroke-linejoin="round" {
            path d=(path) {}
        }
    }
}
