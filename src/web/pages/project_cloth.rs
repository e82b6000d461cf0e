//! What a project cuts from the cloths of the shelf, and what is left over and
//! goes back: proposed by the figures, chosen by tick.

use crate::figures::{ClothUse, LeftOver, Size, cloth_use, outline_words};
use crate::measure::{Length, Round, Unit};
use crate::notebook::{
    ClothUsed, Id, Movement, MovementKind, Notebook, NotebookError, Parts, Project, ProjectState, StockCloth,
    StockOutlined, StockRemnant,
};
use crate::plan::{Outline, ReadyCut, limits};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::components::{
    ReturnTo, card, date, empty, errors_summary, field_errors, hidden, length_input, save_bar, sentence, switch,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, Typed, length_text};
use crate::web::meanwhile::stale_note;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use chrono::Local;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/cloth")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/nothing-left").route(post().to(nothing_left)));
}

/// A cloth of the shelf in the plan.
struct Cut {
    shelf: StockCloth,
    takes: ClothUse,
    /// What was cut from it and given back for this project.
    moved: Vec<Movement>,
}

/// The most left-over sizes that are offered.
const OFFERED: usize = 12;

async fn load(app: &App, id: Id) -> Result<(Project, Vec<Cut>), WebError> {
    let known = app.known.clone();
    app.ask(move |n: &Notebook| {
        let project = n.project(id)?;
        let figures = known.figures(&project.plan);
        let moved = n.movements_of_project(id)?;
        let mut cuts: Vec<Cut> = Vec::new();
        for cloth in &project.plan.cloths {
            let Some(stock) = cloth.stock.as_ref().and_then(|s| Id::try_parse(s).ok()) else {
                continue;
            };
            let shelf = match n.stock_cloth(stock) {
                Ok(shelf) => shelf,
                Err(NotebookError::NotFound(_)) => continue,
                Err(other) => return Err(other),
            };
            let takes = cloth_use(&project.plan, &figures, &cloth.id);
            if let Some(takes) = takes
                && cuts.iter().all(|c| c.shelf.id != stock)
            {
                let moved = moved.iter().filter(|m| m.cloth == stock).cloned().collect();
                cuts.push(Cut { shelf, takes, moved });
            }
        }
        Ok((project, cuts))
    })
    .await
}

impl Cut {
    fn was_cut(&self) -> bool {
        self.moved.iter().any(|m| m.kind == MovementKind::CutFrom)
    }

    /// The shelf has all that the plan takes.
    fn is_enough(&self) -> bool {
        let count = |of: &[StockRemnant]| -> u32 { of.iter().map(|r| r.count).sum() };
        let takes: u32 = self.takes.remnants.iter().map(|r| r.count).sum();
        let patches: u32 = self.takes.ready_cut.iter().map(|r| r.0.count).sum();
        let there: u32 = self.ready_cut().iter().map(|r| r.count).sum();
        let outlines: u32 = self.takes.outlined.iter().map(|o| o.count).sum();
        let outlined: u32 = self.outlined().iter().map(|o| o.count).sum();
        self.takes.length <= self.shelf.owned
            && count(&self.remnants()) == takes
            && outlined == outlines
            && there == patches
    }

    /// Remnants the plan cuts into, as far as they are on the shelf.
    fn remnants(&self) -> Vec<StockRemnant> {
        let on_shelf = |width: Length, length: Length| -> u32 {
            let same = self
                .shelf
                .remnants
                .iter()
                .filter(|r| (r.width, r.length) == (width, length));
            same.map(|r| r.count).fold(0, u32::saturating_add)
        };
        let takes = self.takes.remnants.iter().map(|r| StockRemnant {
            width: r.width,
            length: r.length,
            count: r.count.min(on_shelf(r.width, r.length)),
            note: String::new(),
        });
        takes.filter(|r| r.count > 0).collect()
    }

    fn outlined(&self) -> Vec<StockOutlined> {
        let on_shelf = |outline: &Outline| -> u32 {
            let same = self.shelf.outlined.iter().filter(|o| o.outline == *outline);
            same.map(|o| o.count).fold(0, u32::saturating_add)
        };
        let takes = self.takes.outlined.iter().map(|o| StockOutlined {
            count: o.count.min(on_shelf(&o.outline)),
            outline: o.outline.clone(),
            note: String::new(),
        });
        takes.filter(|o| o.count > 0).collect()
    }

    fn ready_cut(&self) -> Vec<ReadyCut> {
        let on_shelf = |of: &ReadyCut| -> u32 {
            let same = |r: &&ReadyCut| (r.shape, r.width, r.height) == (of.shape, of.width, of.height);
            self.shelf
                .ready_cut
                .iter()
                .filter(same)
                .map(|r| r.count)
                .fold(0, u32::saturating_add)
        };
        let takes = self.takes.ready_cut.iter().map(|r| ReadyCut {
            count: r.0.count.min(on_shelf(&r.0)),
            ..r.0.clone()
        });
        takes.filter(|r| r.count > 0).collect()
    }

    /// What the layout leaves over and was not given back yet.
    fn left_over(&self) -> Vec<LeftOver> {
        let back: Vec<&StockRemnant> = self
            .moved
            .iter()
            .filter(|m| m.kind == MovementKind::GivenBack)
            .flat_map(|m| &m.parts.remnants)
            .collect();
        let left = self.takes.left_over.iter().map(|l| {
            let same = back
                .iter()
                .filter(|r| (r.width, r.length) == (l.size.width, l.size.height));
            let gone = same.map(|r| r.count).fold(0, u32::saturating_add);
            LeftOver {
                count: l.count.saturating_sub(gone),
                ..*l
            }
        });
        left.filter(|l| l.count > 0).take(OFFERED).collect()
    }
}

/// The form as the figures propose it: all of it cut, the first time.
fn filled(project: &Project, cuts: &[Cut]) -> Typed {
    let unit = project.plan.unit;
    let mut typed = Typed::default();
    typed.set("id", Id::now_v7().to_string());
    typed.set("plan", project.revision.to_string());
    typed.set("day", Local::now().date_naive().to_string());
    for (n, cut) in cuts.iter().enumerate() {
        typed.set(&format!("seen_{n}"), cut.shelf.version.to_string());
        typed.set(&format!("cloth_{n}"), cut.shelf.id.to_string());
        if cut.was_cut() {
            continue;
        }
        let length = cut.takes.length.min(cut.shelf.owned);
        if length.is_positive() {
            typed.set(&format!("cut_{n}"), length_text(length, unit));
        }
        // Where the shelf has less than the plan takes, more is to be cut later.
        if cut.is_enough() {
            typed.set(&format!("complete_{n}"), "yes");
        }
        for m in 0..cut.remnants().len() {
            typed.set(&format!("remnant_{n}_{m}"), "yes");
        }
        for m in 0..cut.outlined().len() {
            typed.set(&format!("outlined_{n}_{m}"), "yes");
        }
        if !cut.ready_cut().is_empty() {
            typed.set(&format!("ready_{n}"), "yes");
        }
    }
    typed
}

/// The form anew, by the plan as it is now, with what was typed of each cloth.
/// Ticks go by the layout of the plan they were made for, so they are not kept.
fn proposed_anew(project: &Project, cuts: &[Cut], typed: &Typed) -> Typed {
    let mut form = filled(project, cuts);
    form.set("id", typed.get("id"));
    form.set("day", typed.get("day"));
    for (n, cut) in cuts.iter().enumerate() {
        let shelf = cut.shelf.id.to_string();
        let before = (0..limits::CLOTHS).find(|m| typed.get(&format!("cloth_{m}")) == shelf);
        for field in before.iter().flat_map(|_| ["cut", "wide", "long"]) {
            let value = before.map_or("", |m| typed.get(&format!("{field}_{m}")));
            form.set(&format!("{field}_{n}"), value);
        }
    }
    form
}

fn plan_changed() -> Markup {
    html! {
        div.errors role="alert" tabindex="-1" {
            p { b { "The plan was changed on another device or in another tab since you opened this. Nothing has left the shelf yet." } }
            p { "Below stands what the plan takes now, with the lengths you typed. Look it over and save again." }
        }
    }
}

fn read(typed: &Typed, cuts: &[Cut], unit: Unit) -> Result<(chrono::NaiveDate, Vec<ClothUsed>), Errors> {
    let mut r = Reader::new(typed, unit);
    let day = r.date("day").unwrap_or_else(|| Local::now().date_naive());
    let mut used = Vec::new();
    for (n, cut) in cuts.iter().enumerate() {
        let remnants = cut.remnants().into_iter().enumerate();
        let outlined = cut.outlined().into_iter().enumerate();
        let taken = Parts {
            remnants: remnants
                .filter(|(m, _)| typed.ticked(&format!("remnant_{n}_{m}")))
                .map(|(_, remnant)| remnant)
                .collect(),
            outlined: outlined
                .filter(|(m, _)| typed.ticked(&format!("outlined_{n}_{m}")))
                .map(|(_, outlined)| outlined)
                .collect(),
            ready_cut: if typed.ticked(&format!("ready_{n}")) {
                cut.ready_cut()
            } else {
                Vec::new()
            },
        };
        let mut given_back = Vec::new();
        for (m, left) in cut.left_over().into_iter().enumerate() {
            if typed.ticked(&format!("back_{n}_{m}")) {
                given_back.push(StockRemnant {
                    width: left.size.width,
                    length: left.size.height,
                    count: left.count.min(limits::REMNANT_COUNT),
                    note: String::new(),
                });
            }
        }
        let [wide, long] = ["wide", "long"].map(|f| format!("{f}_{n}"));
        if [&wide, &long].iter().any(|f| !typed.get(f).trim().is_empty()) {
            given_back.push(StockRemnant {
                width: r.length_positive(&wide),
                length: r.length_positive(&long),
                count: 1,
                note: String::new(),
            });
        }
        let field = format!("cut_{n}");
        let length = r.length_or_zero(&field);
        if length > cut.shelf.owned {
            r.errors.add(
                &field,
                format!(
                    "The shelf has {} of {} in one piece. Type at most that, or correct the shelf first.",
                    cut.shelf.owned.both_cloth(unit, Round::Down),
                    cut.shelf.name
                ),
            );
        }
        used.push(ClothUsed {
            cloth: cut.shelf.id,
            seen: typed.get(&format!("seen_{n}")).parse().unwrap_or(0),
            cut: length,
            taken,
            complete: typed.ticked(&format!("complete_{n}")),
            given_back,
        });
    }
    if r.errors.is_empty() {
        Ok((day, used))
    } else {
        Err(r.errors)
    }
}

async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let (project, cuts) = load(&app, id(&path)?).await?;
    let form = Shown::from(filled(&project, &cuts));
    respond::page(cloth_page(&project, &cuts, &form, None))
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let mut typed = typed(body);
    let (project, cuts) = load(&app, id).await?;
    let unit = project.plan.unit;
    // Sent again after its answer was lost: what was cut is cut already.
    let change = form_id(&typed);
    if cuts.iter().any(|c| c.moved.iter().any(|m| m.change == Some(change))) {
        return respond::see(&format!("/projects/{id}"));
    }
    // Fields are numbered by the plan: of another plan, a number means another cloth or remnant.
    if typed.get("plan") != project.revision.to_string() {
        let form = Shown::from(proposed_anew(&project, &cuts, &typed));
        let page = cloth_page(&project, &cuts, &form, Some(plan_changed()));
        return Ok(respond::page_with(actix_web::http::StatusCode::CONFLICT, page));
    }
    let (day, used) = match read(&typed, &cuts, unit) {
        Ok(read) => read,
        Err(errors) => {
            return Err(WebError::Form(cloth_page(
                &project,
                &cuts,
                &Shown { typed, errors },
                None,
            )));
        }
    };
    let first = used
        .iter()
        .find(|u| u.cut.is_positive() || !u.taken.is_empty() || !u.given_back.is_empty());
    let back = first.map_or(format!("/projects/{id}"), |u| format!("/cloth/{}#history", u.cloth));
    match app.ask(move |n: &Notebook| n.use_cloths(change, id, day, &used)).await {
        Ok(()) => respond::see(&back),
        Err(WebError::Notebook(NotebookError::Stale(what))) => {
            let saved = filled(&project, &cuts);
            let note = stale_note(&what, &saved, &typed);
            for n in 0..cuts.len() {
                let seen = format!("seen_{n}");
                typed.set(&seen, saved.get(&seen));
            }
            let page = cloth_page(&project, &cuts, &Shown::from(typed), Some(note));
            Ok(respond::page_with(actix_web::http::StatusCode::CONFLICT, page))
        }
        Err(WebError::Notebook(NotebookError::Refused { message, .. })) => {
            let mut form = Shown::from(typed);
            form.errors.add("day", message);
            Err(WebError::Form(cloth_page(&project, &cuts, &form, None)))
        }
        Err(other) => Err(other),
    }
}

async fn nothing_left(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.nothing_left(project)).await?;
    respond::see(&format!("/projects/{project}"))
}

fn cloth_page(project: &Project, cuts: &[Cut], form: &Shown, note: Option<Markup>) -> Markup {
    let back = format!("/projects/{}", project.id);
    page::project(
        project.id,
        &project.details.title,
        Place::Plan,
        "Cloth cut and given back",
        html! {
            h1 { "Cloth cut and given back" }
            @if let Some(note) = note { (note) }
            @if cuts.is_empty() {
                (empty("No cloth of this plan is on the shelf. Take its cloths from the shelf, or bring them home from the shop list.", &format!("{back}#cloths"), "To the cloths"))
            } @else {
                p.lead-in { "What is saved here leaves the shelf and comes back to it. The plan stays as it is." }
                form method="post" data-unit=(project.plan.unit.name()) {
                    (hidden("id", form.typed.get("id")))
                    (hidden("plan", form.typed.get("plan")))
                    (errors_summary(form))
                    @for (n, cut) in cuts.iter().enumerate() { (cut_card(cut, n, form, project.plan.unit)) }
                    (card("when", "When", html! { (date(form, "day", "Day", "")) }))
                    (save_bar("Save", &ReturnTo { href: &back, label: "Cancel" }))
                }
            }
        },
    )
}

fn cut_card(cut: &Cut, n: usize, form: &Shown, unit: Unit) -> Markup {
    let size = |width: Length, height: Length| Size { width, height }.both(unit, Round::Down);
    let left = cut.left_over();
    let hint = format!(
        "The plan takes {}; the shelf has {} in one piece.",
        cut.takes.length.both(unit, Round::Up),
        cut.shelf.owned.both_cloth(unit, Round::Down)
    );
    html! {
        (card(&format!("cloth-{n}"), &cut.shelf.name, html! {
            @for name in ["seen", "cloth"] { (hidden(&format!("{name}_{n}"), form.typed.get(&format!("{name}_{n}")))) }
            @for m in cut.moved.iter().filter(|m| m.kind == MovementKind::CutFrom) {
                p.meta { "Cut on " (m.day.format("%-d %B %Y")) ": " (sentence(&m.length.both(unit, Round::Nearest))) "." }
            }
            @if !cut.takes.not_counted.is_empty() {
                p.error { "Not counted yet: " (cut.takes.not_counted.join(", ")) ". More will be cut than is proposed here." }
            }
            (length_input(form, &format!("cut_{n}"), "Cut from the length", &hint))
            @for (m, r) in cut.remnants().iter().enumerate() {
                (tick(form, &format!("remnant_{n}_{m}"), html! { "Cut into " (r.count) @if r.count == 1 { " remnant " } @else { " remnants " } (sentence(&size(r.width, r.length))) }))
            }
            @for (m, o) in cut.outlined().iter().enumerate() {
                (tick(form, &format!("outlined_{n}_{m}"), html! { "Cut into " (o.count) @if o.count == 1 { " remnant: " } @else { " remnants: " } (sentence(&outline_words(&o.outline, unit))) }))
            }
            @let ready: u32 = cut.ready_cut().iter().map(|r| r.count).sum();
            @if ready > 0 {
                (tick(form, &format!("ready_{n}"), html! { "Used " (ready) " ready-cut patches" }))
            }
            (switch(form, &format!("complete_{n}"), "All of it is cut", "Then the shop list asks for none of it any more for this project."))
            @if !left.is_empty() {
                h3 { "Left over" }
                p.hint { "Worth keeping, by the cutting layout: tick what goes back to the shelf." }
                @for (m, l) in left.iter().enumerate() {
                    (tick(form, &format!("back_{n}_{m}"), html! { @if l.count > 1 { (l.count) " × " } (sentence(&size(l.size.width, l.size.height))) }))
                }
            }
            details open[form.errors.has(&format!("wide_{n}")) || form.errors.has(&format!("long_{n}"))] {
                summary { "Another piece is left" }
                div.pair {
                    (length_input(form, &format!("wide_{n}"), "Across", ""))
                    (length_input(form, &format!("long_{n}"), "Along grain", ""))
                }
            }
        }))
    }
}

fn tick(form: &Shown, name: &str, words: Markup) -> Markup {
    html! {
        label.pick {
            input type="checkbox" name=(name) value="yes" checked[form.typed.ticked(name)];
            span { (words) }
        }
        (field_errors(form, name))
    }
}

/// Asked once, when a project is finished that cut from the shelf.
pub async fn reminder(app: &App, project: &Project) -> Result<Markup, WebError> {
    let id = project.id;
    let of_shelf = project.plan.cloths.iter().any(|c| c.stock.is_some());
    if project.details.state != ProjectState::Finished || project.variant.is_some() || !of_shelf {
        return Ok(html! {});
    }
    if app.ask(move |n: &Notebook| n.asked_what_is_left(id)).await? {
        return Ok(html! {});
    }
    Ok(html! {
        div.undo {
            p { "Finished. Is cloth left that goes back to the shelf?" }
            div.cloth-left {
                a.button href=(format!("/projects/{id}/cloth")) { "Give it back" }
                form method="post" action=(format!("/projects/{id}/nothing-left")) { button.button.quiet type="submit" { "Nothing is left" } }
            }
        }
    })
}
