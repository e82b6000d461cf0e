//! Earlier versions of a project's details, a cloth and a wearer: looked at,
//! compared with what is there now, taken again. Undoing the last change is
//! taking the version before it.

use super::revisions;
use super::wearers::day;
use crate::measure::{Length, Round, Unit, capital};
use crate::notebook::{Earlier, EarlierDetails, Id, Notebook, NotebookError, Project, Revision, StockCloth, Wearer};
use crate::plan::{Corner, Outline};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, hidden};
use crate::web::error::{Answer, WebError};
use crate::web::meanwhile::{self, Put};
use crate::web::page::{self, Place, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/details/versions").route(get().to(of_details)))
        .service(resource("/projects/{id}/details/versions/{version}/take").route(post().to(take_details)))
        .service(resource("/projects/{id}/undo").route(post().to(undo_plan)))
        .service(resource("/cloth/{id}/versions").route(get().to(of_cloth)))
        .service(resource("/cloth/{id}/versions/{version}/take").route(post().to(take_cloth)))
        .service(resource("/wearers/{id}/versions").route(get().to(of_wearer)))
        .service(resource("/wearers/{id}/versions/{version}/take").route(post().to(take_wearer)));
}

/// Versions shown at once.
const AT_ONCE: usize = 20;

#[derive(serde::Deserialize)]
struct Asked {
    /// The list goes on below this version.
    below: Option<i64>,
}

/// What a page says of a thing, line by line, so that two versions can be held
/// beside each other.
type Told = Vec<Line>;

#[derive(Clone)]
struct Line {
    label: String,
    value: Markup,
    /// What it is a part of: a set of measures is told by itself where the
    /// other version has nothing of it.
    of: Option<String>,
}

fn line(label: &str, value: Markup) -> Line {
    Line {
        label: label.into(),
        value,
        of: None,
    }
}

/// What has versions, as these pages know it.
struct Thing {
    /// The page it stands on; its versions stand under it.
    address: String,
    name: String,
    /// Where its versions are listed, and taken again.
    versions: String,
    seen: i64,
    now: Told,
    earlier: Vec<Earlier<Told>>,
}

/// A line that differs: what it said then, what it says now.
struct Differs {
    label: String,
    then: Option<Markup>,
    now: Option<Markup>,
}

fn differing(then: &Told, now: &Told) -> Vec<Differs> {
    let find = |told: &Told, label: &str| told.iter().find(|l| l.label == label).map(|l| l.value.clone());
    // Parts of a whole that only one of the two has.
    let count = |told: &Told, of: &str| told.iter().filter(|l| l.of.as_deref() == Some(of)).count();
    let gone = then.iter().filter(|l| find(now, &l.label).is_none());
    let mut list: Vec<Differs> = Vec::new();
    for l in now.iter().chain(gone) {
        if let Some(of) = &l.of {
            let (was, is) = (count(then, of), count(now, of));
            if was == 0 || is == 0 {
                let lines = |n: usize| (n > 0).then(|| html! { (n) @if n == 1 { " measure" } @else { " measures" } });
                if list.iter().all(|d| d.label != *of) {
                    list.push(Differs {
                        label: of.clone(),
                        then: lines(was),
                        now: lines(is),
                    });
                }
                continue;
            }
        }
        let (was, is) = (find(then, &l.label), find(now, &l.label));
        if was.as_ref().map(|m| &m.0) != is.as_ref().map(|m| &m.0) {
            list.push(Differs {
                label: l.label.clone(),
                then: was,
                now: is,
            });
        }
    }
    list
}

fn moment(at: DateTime<Utc>) -> String {
    at.with_timezone(&Local).format("%-d %B %Y, %H:%M").to_string()
}

/// The page of versions once more, where the one to be taken again was chosen
/// beside something that is not there any more.
fn overtaken(thing: &Thing, what: &str, version: i64) -> Markup {
    let below = thing
        .earlier
        .iter()
        .take(AT_ONCE)
        .all(|e| e.version != version)
        .then_some(version + 1);
    html! { (meanwhile::not_done(what, "taken again")) (list(thing, below)) }
}

fn list(thing: &Thing, below: Option<i64>) -> Markup {
    let below = below.unwrap_or(i64::MAX);
    let shown: Vec<&Earlier<Told>> = thing.earlier.iter().filter(|e| e.version < below).collect();
    html! {
        h1 { "Earlier versions of " (thing.name) }
        @if thing.earlier.is_empty() { p { "It was not changed yet: there is one version, the present one." } }
        @else { p.hint.lead-in { "Each is shown beside what is there now. Taking one again keeps the present one among the earlier ones." } }
        @for e in shown.iter().take(AT_ONCE) { (version(thing, e)) }
        @if let Some(last) = shown.get(AT_ONCE).and(shown.get(AT_ONCE - 1)) {
            p { a.button href=(format!("{}?below={}", thing.versions, last.version)) { "Older versions" } }
        }
        p { a.button.quiet href=(thing.address) { "Back" } }
    }
}

fn version(thing: &Thing, e: &Earlier<Told>) -> Markup {
    let differs = differing(&e.value, &thing.now);
    card(
        &format!("version-{}", e.version),
        &format!("Version {}, until {}", e.version, moment(e.until)),
        html! {
            @if differs.is_empty() { p { "It says the same as now." } }
            @else {
                (table(&differs))
                form method="post" action=(format!("{}/{}/take", thing.versions, e.version)) {
                    (hidden("seen", &thing.seen.to_string()))
                    button.button type="submit" aria-label=(format!("Take this version again: version {}", e.version)) { "Take this version again" }
                }
            }
            details.working {
                summary { "All it said" }
                dl.allowances { @for l in &e.value { div { dt { (l.label) } dd { (l.value) } } } }
            }
        },
    )
}

fn table(differs: &[Differs]) -> Markup {
    let cell = |value: &Option<Markup>| html! { td { @if let Some(value) = value { (value) } @else { "–" } } };
    html! {
        table.versions {
            thead { tr { th scope="col" { span.quiet-heading { "What" } } th scope="col" { "Then" } th scope="col" { "Now" } } }
            tbody { @for d in differs { tr { th scope="row" { (d.label) } (cell(&d.then)) (cell(&d.now)) } } }
        }
    }
}

/// What the last change of a thing was, in labels, to be undone by one tap.
fn last_row(thing: &Thing, heading: &str) -> Markup {
    let Some(last) = thing.earlier.first() else {
        return html! {};
    };
    let differs = differing(&last.value, &thing.now);
    let labels: Vec<&str> = differs.iter().map(|d| d.label.as_str()).collect();
    html! {
        li.row {
            div.row-text {
                b { (heading) }
                div.meta { (moment(last.until)) @if !labels.is_empty() { ": " (short(&labels)) } }
                a href=(thing.versions) { @if thing.earlier.len() == 1 { "One earlier version" } @else { (thing.earlier.len()) " earlier versions" } }
            }
            @if !labels.is_empty() {
                form method="post" action=(format!("{}/{}/take", thing.versions, last.version)) {
                    (hidden("seen", &thing.seen.to_string()))
                    button.button type="submit" aria-label=(format!("Undo: {heading}")) { "Undo" }
                }
            }
        }
    }
}

fn short(labels: &[&str]) -> String {
    match labels {
        few if few.len() <= 3 => few.join(", "),
        [a, b, rest @ ..] => format!("{a}, {b} and {} more", rest.len()),
        _ => String::new(),
    }
}

fn last_card(rows: Markup) -> Markup {
    html! { @if !rows.0.is_empty() { (card("last-change", "Last change", html! { ul.rows { (rows) } })) } }
}

/// After something was taken again.
pub fn undone_note(asked: &str) -> Markup {
    html! {
        @if !asked.is_empty() {
            div.undo role="status" { p { "The earlier version is back. What it took the place of is kept among the earlier ones." } }
        }
    }
}

/* a project's details, and its plan */

fn details_told(e: &EarlierDetails) -> Told {
    let d = &e.details;
    let mut told: Told = Vec::new();
    let mut say = |label: &str, value: &str| {
        if !value.is_empty() {
            told.push(line(label, html! { (value) }));
        }
    };
    say("Title", &d.title);
    say("State", d.state.name());
    say("For", &e.for_whom);
    say("Due", &d.due.map(day).unwrap_or_default());
    say("Pattern", &d.pattern.name);
    say("Maker of the pattern", &d.pattern.maker);
    say("Size of the pattern", &d.pattern.size);
    say("Link to the pattern", &d.pattern.link);
    say("About", &d.about);
    if let Some(set) = &e.measurements {
        say("Measures of", &day(set.taken_on));
    }
    told
}

fn details_thing(project: &Project, earlier: Vec<Earlier<EarlierDetails>>) -> Thing {
    let now = EarlierDetails {
        details: project.details.clone(),
        for_whom: project.for_whom.clone(),
        measurements: project.measurements.clone(),
    };
    Thing {
        address: format!("/projects/{}", project.id),
        name: format!("the details of {}", project.details.title),
        versions: format!("/projects/{}/details/versions", project.id),
        seen: project.details_version,
        now: details_told(&now),
        earlier: told_all(earlier, details_told),
    }
}

fn told_all<T>(earlier: Vec<Earlier<T>>, told: impl Fn(&T) -> Told) -> Vec<Earlier<Told>> {
    earlier
        .into_iter()
        .map(|e| Earlier {
            version: e.version,
            until: e.until,
            value: told(&e.value),
        })
        .collect()
}

/// What was changed last in a project, for its page.
pub struct LastOfProject {
    revision: Revision,
    details: Vec<Earlier<EarlierDetails>>,
}

pub async fn last_of(app: &App, project: &Project) -> Result<LastOfProject, WebError> {
    let (id, revision) = (project.id, project.revision);
    app.ask(move |n: &Notebook| {
        Ok(LastOfProject {
            revision: n.revision(id, revision)?,
            details: n.earlier_details(id)?,
        })
    })
    .await
}

pub fn project_card(project: &Project, last: LastOfProject) -> Markup {
    let base = format!("/projects/{}", project.id);
    let revision = last.revision;
    let details = details_thing(project, last.details);
    last_card(html! {
        @if revision.number > 1 { li.row {
            div.row-text {
                b { "Plan: " (revision.what) }
                div.meta { (moment(revision.made_at)) }
                a href=(format!("{base}/revisions")) { (revision.number - 1) " earlier " @if revision.number == 2 { "revision" } @else { "revisions" } }
            }
            form method="post" action=(format!("{base}/undo")) {
                (hidden("seen", &revision.number.to_string()))
                button.button type="submit" aria-label=(format!("Undo: {}", revision.what)) { "Undo" }
            }
        } }
        (last_row(&details, "Details"))
    })
}

async fn of_details(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    respond::page(details_page(&app, id(&path)?, |thing| list(thing, asked.below)).await?)
}

async fn details_page(app: &App, id: Id, body: impl Fn(&Thing) -> Markup) -> Result<Markup, WebError> {
    let (project, earlier) = app
        .ask(move |n: &Notebook| Ok((n.project(id)?, n.earlier_details(id)?)))
        .await?;
    let title = project.details.title.clone();
    let thing = details_thing(&project, earlier);
    Ok(page::project(id, &title, Place::Plan, "Earlier versions", body(&thing)))
}

async fn take_details(app: Data<App>, path: Path<(String, i64)>, body: Body) -> Answer {
    let (project, version) = path.into_inner();
    let id = id(&project)?;
    let seen = seen(body);
    match Put::ask(&app, move |n: &Notebook| n.take_details_again(id, seen, version)).await? {
        Put::Stale(what) => respond::clash(details_page(&app, id, |thing| overtaken(thing, &what, version)).await?),
        _ => respond::see(&format!("/projects/{id}?undone=details")),
    }
}

async fn undo_plan(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let seen = seen(body);
    match Put::ask(&app, move |n: &Notebook| n.undo_plan(id, seen)).await? {
        Put::Stale(what) => respond::clash(revisions::overtaken(&app, id, seen, &what, "undone").await?),
        _ => respond::see(&format!("/projects/{id}?undone=plan")),
    }
}

fn seen(body: Body) -> i64 {
    typed(body).get("seen").parse().unwrap_or(0)
}

/* a cloth of the shelf */

fn cloth_told(c: &StockCloth, unit: Unit) -> Told {
    let mut told: Told = Vec::new();
    let mut say = |label: &str, value: Markup| {
        if !value.0.is_empty() {
            told.push(line(label, value));
        }
    };
    let both = |l: Length| l.both(unit, Round::Nearest);
    say("Name", html! { (c.name) });
    say("Kind", html! { (crate::web::form::word(&c.kind)) });
    say("Fibre", html! { (c.fibre) });
    say("Usable width", html! { (both(c.usable_width)) });
    say("Owned", html! { (c.owned.both_cloth(unit, Round::Down)) });
    say(
        "Price",
        html! { @if let Some(p) = &c.price { (p.amount) " a " (crate::web::form::word(&p.per)) } },
    );
    say("Colour", html! { (c.colour) });
    say("Link", html! { (c.link) });
    say("One way", html! { @if c.one_way { "yes" } });
    say(
        "Shrinkage",
        html! { @if c.shrinkage.as_hundredths() > 0 { (c.shrinkage) } },
    );
    say("Care", html! { @if let Some(care) = &c.care { (care_words(care)) } });
    say("Note", html! { (c.note) });
    say(
        "Photo",
        html! { @if let Some(photo) = &c.photo { a href=(format!("/photos/{}/page", photo.0)) { "photo " (photo.0.get(..6).unwrap_or_default()) } } },
    );
    say(
        "Marked part of the photo",
        html! { @if let Some(s) = &c.swatch {
            @let share = |n: u32| format!("{}.{:02} %", n / 100, n % 100);
            (share(s.part.width)) " × " (share(s.part.height)) " of it, from the left " (share(s.part.left)) ", from the top " (share(s.part.top))
        } },
    );
    say(
        "Remnants",
        html! { @for (i, r) in c.remnants.iter().enumerate() {
            @if i > 0 { br; }
            (r.count) " of " (both(r.width)) " × " (both(r.length)) @if !r.note.is_empty() { ", " (r.note) }
        } },
    );
    say(
        "Remnants of other outlines",
        html! { @for (i, o) in c.outlined.iter().enumerate() {
            @if i > 0 { br; }
            (o.count) " of " (outline_told(&o.outline, unit)) @if !o.note.is_empty() { ", " (o.note) }
        } },
    );
    say(
        "Ready-cut patches",
        html! { @for (i, r) in c.ready_cut.iter().enumerate() {
            @if i > 0 { br; }
            (r.count) " " (crate::web::form::word(&r.shape)) " " (both(r.width)) @if r.height.is_positive() { " × " (both(r.height)) }
        } },
    );
    told
}

/// As it was measured: two outlines within one rectangle read differently.
fn outline_told(outline: &Outline, unit: Unit) -> String {
    let both = |l: Length| l.both(unit, Round::Nearest);
    match outline {
        Outline::Sides(s) => {
            let sides: Vec<String> = s.sides.iter().map(|l| both(*l)).collect();
            let diagonal = s.diagonal.map_or(String::new(), |d| format!(", diagonal {}", both(d)));
            format!("sides {}{diagonal}", sides.join(", "))
        }
        Outline::Corners(corners) => {
            let at = |c: &Corner| format!("{} across and {} along", both(c.across), both(c.along));
            format!("corners {}", corners.iter().map(at).collect::<Vec<_>>().join("; "))
        }
    }
}

/// As the plan's JSON says it: the words of the standard.
fn care_words(care: &crate::plan::Care) -> String {
    let value = serde_json::to_value(care).unwrap_or_default();
    let lines = value.as_object().into_iter().flatten().map(|(key, value)| {
        let value = value.as_str().map_or_else(|| value.to_string(), String::from);
        format!("{}: {value}", key.replace('_', " "))
    });
    lines.collect::<Vec<_>>().join(", ")
}

fn cloth_thing(cloth: &StockCloth, earlier: Vec<Earlier<StockCloth>>, unit: Unit) -> Thing {
    Thing {
        address: format!("/cloth/{}", cloth.id),
        name: cloth.name.clone(),
        versions: format!("/cloth/{}/versions", cloth.id),
        seen: cloth.version,
        now: cloth_told(cloth, unit),
        earlier: told_all(earlier, |c| cloth_told(c, unit)),
    }
}

pub fn cloth_card(cloth: &StockCloth, earlier: Vec<Earlier<StockCloth>>, unit: Unit) -> Markup {
    last_card(last_row(&cloth_thing(cloth, earlier, unit), "This cloth"))
}

async fn of_cloth(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    respond::page(cloth_page(&app, id(&path)?, |thing| list(thing, asked.below)).await?)
}

async fn cloth_page(app: &App, id: Id, body: impl Fn(&Thing) -> Markup) -> Result<Markup, WebError> {
    let (cloth, earlier, unit) = app
        .ask(move |n: &Notebook| Ok((n.stock_cloth(id)?, n.earlier_cloths(id)?, n.settings()?.unit)))
        .await?;
    let thing = cloth_thing(&cloth, earlier, unit);
    Ok(page::notebook(Shelf::Cloth, "Earlier versions", body(&thing)))
}

async fn take_cloth(app: Data<App>, path: Path<(String, i64)>, body: Body) -> Answer {
    let (cloth, version) = path.into_inner();
    let id = id(&cloth)?;
    let seen = seen(body);
    let take = move |n: &Notebook| {
        let earlier = at(n.earlier_cloths(id)?, version)?;
        n.save_cloth(seen, &earlier)
    };
    match Put::ask(&app, take).await? {
        Put::Stale(what) => respond::clash(cloth_page(&app, id, |thing| overtaken(thing, &what, version)).await?),
        _ => respond::see(&format!("/cloth/{id}?undone=yes")),
    }
}

fn at<T>(earlier: Vec<Earlier<T>>, version: i64) -> Result<T, NotebookError> {
    let found = earlier.into_iter().find(|e| e.version == version);
    found.map(|e| e.value).ok_or(NotebookError::NotFound("earlier version"))
}

/* a wearer */

fn wearer_told(w: &Wearer, unit: Unit) -> Told {
    let mut told: Told = vec![
        line("Name", html! { (w.name) }),
        line("Kind", html! { (w.kind.name()) }),
    ];
    if !w.note.is_empty() {
        told.push(line("Note", html! { (w.note) }));
    }
    // Two sets of one day are told apart by their place.
    for (i, set) in w.sets.iter().enumerate() {
        let same_day = w.sets[..i].iter().filter(|s| s.taken_on == set.taken_on).count();
        let again = if same_day > 0 {
            format!(" ({})", same_day + 1)
        } else {
            String::new()
        };
        let of = format!("{}{again}", day(set.taken_on));
        told.extend(set.values.iter().map(|m| Line {
            label: format!("{}, {of}", capital(&m.name)),
            value: html! { (m.value.both(unit, Round::Nearest)) },
            of: Some(of.clone()),
        }));
    }
    told
}

fn wearer_thing(wearer: &Wearer, earlier: Vec<Earlier<Wearer>>, unit: Unit) -> Thing {
    Thing {
        address: format!("/wearers/{}", wearer.id),
        name: wearer.name.clone(),
        versions: format!("/wearers/{}/versions", wearer.id),
        seen: wearer.version,
        now: wearer_told(wearer, unit),
        earlier: told_all(earlier, |w| wearer_told(w, unit)),
    }
}

pub fn wearer_card(wearer: &Wearer, earlier: Vec<Earlier<Wearer>>, unit: Unit) -> Markup {
    last_card(last_row(&wearer_thing(wearer, earlier, unit), &wearer.name))
}

async fn of_wearer(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    respond::page(wearer_page(&app, id(&path)?, |thing| list(thing, asked.below)).await?)
}

async fn wearer_page(app: &App, id: Id, body: impl Fn(&Thing) -> Markup) -> Result<Markup, WebError> {
    let (wearer, earlier, unit) = app
        .ask(move |n: &Notebook| Ok((n.wearer(id)?, n.earlier_wearers(id)?, n.settings()?.unit)))
        .await?;
    let thing = wearer_thing(&wearer, earlier, unit);
    Ok(page::notebook(Shelf::Wearers, "Earlier versions", body(&thing)))
}

async fn take_wearer(app: Data<App>, path: Path<(String, i64)>, body: Body) -> Answer {
    let (wearer, version) = path.into_inner();
    let id = id(&wearer)?;
    let seen = seen(body);
    let take = move |n: &Notebook| {
        let earlier = at(n.earlier_wearers(id)?, version)?;
        n.save_wearer(seen, &earlier)
    };
    match Put::ask(&app, take).await {
        Ok(Put::Stale(what)) => respond::clash(wearer_page(&app, id, |thing| overtaken(thing, &what, version)).await?),
        // A project is made to measures this version did not have yet.
        Err(WebError::Notebook(NotebookError::Refused { message, .. })) => Err(WebError::Refused(message)),
        Err(other) => Err(other),
        Ok(_) => respond::see(&format!("/wearers/{id}?undone=yes")),
    }
}

/// Something was just taken again.
#[derive(serde::Deserialize)]
pub struct Undone {
    #[serde(default)]
    pub undone: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_differs_is_told_with_what_is_gone() {
        let told = |lines: &[(&str, &str)]| -> Told { lines.iter().map(|(l, v)| line(l, html! { (v) })).collect() };
        let mut then = told(&[("Name", "Moss"), ("Note", "washed"), ("Fibre", "wool")]);
        let mut now = told(&[("Name", "Fern"), ("Fibre", "wool"), ("Link", "x")]);
        let labels =
            |then: &Told, now: &Told| -> Vec<String> { differing(then, now).into_iter().map(|d| d.label).collect() };
        assert_eq!(labels(&then, &now), ["Name", "Link", "Note"]);
        // A whole set is one line, a measure of a set both have is one too.
        let measure = |label: &str, value: &str, of: &str| Line {
            of: Some(of.into()),
            ..line(label, html! { (value) })
        };
        now.push(measure("Waist, May", "70", "May"));
        now.push(measure("Hip, May", "90", "May"));
        for (told, waist) in [(&mut then, "68"), (&mut now, "69")] {
            told.push(measure("Waist, March", waist, "March"));
        }
        assert_eq!(labels(&then, &now), ["Name", "Link", "May", "Waist, March", "Note"]);
        let labels = ["Name", "Link", "Note"];
        assert_eq!(short(&labels), "Name, Link, Note");
        assert_eq!(short(&["a", "b", "c", "d"]), "a, b and 2 more");
    }
}
