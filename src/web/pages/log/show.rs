//! The log of a project, newest first, a heading for each day.

use super::{overview, ties};
use crate::measure::hours;
use crate::notebook::{
    Entry, EntryKind, Id, Notebook, NotebookError, Photo, PhotoHash, PhotoMark, Project, SecondThought, Step,
};
use crate::web::app::{App, id};
use crate::web::components::{
    Paged, changes_in_a_list, empty, entry_icon, hidden, length, markdown, marked_photo, pager, photo,
};
use crate::web::error::{Answer, WebError};
use crate::web::page::{self, Place};
use crate::web::pages::project_photo;
use crate::web::respond;
use actix_web::web::{Data, Path, Query};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};
use std::collections::HashMap;

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The entry that was just put in the bin.
    #[serde(default)]
    binned: String,
    /// The page with this entry, whichever that is.
    #[serde(default)]
    entry: String,
    #[serde(default)]
    page: String,
    /// The entries of this kind alone.
    #[serde(default)]
    kind: String,
}

/// Entries on one page.
const ON_A_PAGE: usize = 40;

/// Where an entry stands in the log, on whichever page that is.
pub fn address(project: Id, entry: Id) -> String {
    format!("/projects/{project}/log?entry={entry}#entry-{entry}")
}

/// As [`address`], for an entry just saved: nearly always it is among the
/// newest, and they have the plain address of the log, which devices keep.
pub async fn way_to(app: &App, project: Id, entry: Id) -> Result<String, WebError> {
    let newer = app.ask(move |n: &Notebook| n.newer_in_log(project, entry)).await?;
    Ok(match newer {
        Some(newer) if newer >= ON_A_PAGE => address(project, entry),
        _ => format!("/projects/{project}/log#entry-{entry}"),
    })
}

pub async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let project = id(&path)?;
    let binned = Id::try_parse(&asked.binned).ok();
    let looked_for = Id::try_parse(&asked.entry).ok();
    let kind = overview::kind(&asked.kind).filter(|_| looked_for.is_none());
    let (project, log, at, photos, steps, earlier, marked, counts) = app
        .ask(move |n: &Notebook| {
            let (all, photos) = n.log_length(project)?;
            let counts = n.log_kinds(project)?;
            let all = match kind {
                Some(kind) => counts.iter().find(|(k, _)| *k == kind).map_or(0, |(_, n)| *n),
                None => all,
            };
            let newer = match looked_for {
                Some(entry) => n.newer_in_log(project, entry)?,
                None => None,
            };
            let at = match newer {
                Some(newer) => Paged::with(newer, all, ON_A_PAGE),
                None => Paged::of(&asked.page, all, ON_A_PAGE),
            };
            let log = n.log_part(project, kind, at.before(), ON_A_PAGE)?;
            let mut earlier = HashMap::new();
            for entry in log.iter().filter(|e| e.version > 1) {
                earlier.insert(entry.id, n.earlier_entries(entry.id)?);
            }
            let marked = Marked::of(n, project)?;
            let mut steps = n.steps(project)?;
            steps.extend(n.binned_steps(project)?);
            Ok((n.project(project)?, log, at, photos, steps, earlier, marked, counts))
        })
        .await?;
    let project_id = project.id;
    let add = format!("/projects/{project_id}/log/add");
    let address = match kind {
        Some(kind) => format!("/projects/{project_id}/log?kind={}", kind.name()),
        None => format!("/projects/{project_id}/log"),
    };
    let days = overview::by_day(&log);
    respond::page(page::project(
        project_id,
        &project.details.title,
        Place::Log,
        "Log",
        html! { div.log {
            div.page-head {
                h1 { "Log" }
                @if !log.is_empty() || kind.is_some() { a.button.primary href=(add) { "Add to the log" } }
            }
            @if photos > 1 {
                p.log-ways { a.button.quiet href=(format!("/projects/{project_id}/before-after")) { "Before and after" } }
            }
            @if let Some(entry) = binned { (undo(project_id, entry)) }
            (overview::kinds(project_id, &counts, kind))
            @if log.is_empty() && kind.is_some() {
                p.lead-in { "The log has none of this kind." }
            } @else if log.is_empty() {
                (empty("Nothing written yet. A photo, a note, a decision with its why, a measure: a tap each.", &add, "Add the first entry"))
            }
            @for (day, entries) in &days {
                h2.group.day id=(overview::place(*day)) { time datetime=(day.to_string()) { (day.format("%A, %-d %B %Y")) } }
                div.entries {
                    @for entry in entries {
                        (entry_card(&project, &steps, entry, earlier.get(&entry.id).map_or(&[][..], Vec::as_slice), &marked))
                    }
                }
            }
            (pager(&address, "the log", at))
            (overview::days(&days.iter().map(|(day, _)| *day).collect::<Vec<_>>()))
        } },
    ))
}

fn undo(project: Id, entry: Id) -> Markup {
    html! {
        div.undo role="status" {
            p { "The entry is in the bin." }
            form method="post" action=(format!("/projects/{project}/log/{entry}/restore")) {
                button.button type="submit" { "Undo" }
            }
        }
    }
}

fn local(at: DateTime<Utc>) -> DateTime<Local> {
    at.with_timezone(&Local)
}

/// The marks of a project's photos, and the photos they are on.
struct Marked {
    marks: Vec<PhotoMark>,
    photos: HashMap<PhotoHash, Photo>,
}

impl Marked {
    fn of(n: &Notebook, project: Id) -> Result<Marked, NotebookError> {
        let marks = n.photo_marks(project)?;
        let mut photos = HashMap::new();
        for mark in &marks {
            photos.insert(mark.photo.clone(), n.photo(&mark.photo)?);
        }
        Ok(Marked { marks, photos })
    }

    fn on(&self, photo: &PhotoHash) -> Vec<&PhotoMark> {
        self.marks.iter().filter(|m| m.photo == *photo).collect()
    }
}

fn entry_card(project: &Project, steps: &[Step], entry: &Entry, earlier: &[Entry], marked: &Marked) -> Markup {
    let time = local(entry.happened_at);
    let kind = entry.kind.name();
    let at = format!("{kind} of {}", time.format("%-d %B %Y, %H:%M"));
    html! {
        article.entry id=(format!("entry-{}", entry.id)) data-kind=(kind) {
            h3.entry-head {
                span.entry-kind { (entry_icon(entry.kind)) span { (kind) } }
                time.entry-time datetime=(entry.happened_at.to_rfc3339()) { (time.format("%H:%M")) }
            }
            // Of a photo the words are what stands under it.
            @if entry.kind == EntryKind::Photo {
                @if !entry.photos.is_empty() { (photos(project, entry, marked)) }
                (words(project, entry))
            } @else {
                (words(project, entry))
                @if !entry.photos.is_empty() { (photos(project, entry, marked)) }
            }
            (tied(project, steps, entry))
            @if !entry.effect.is_empty() { (effect(project.id, entry)) }
            @if let Some(thought) = &entry.second_thought { (judged(thought)) }
            div.entry-foot {
                a.button.quiet href=(format!("/projects/{}/log/{}", project.id, entry.id)) aria-label=(format!("Edit: {at}")) { "Edit" }
                @if entry.kind == EntryKind::Decision && entry.second_thought.is_none() {
                    (second_thought(project.id, entry))
                }
                @let told = told(entry, earlier);
                @if !told.is_empty() { (versions(project, steps, &told)) }
                form.to-bin method="post" action=(format!("/projects/{}/log/{}/bin", project.id, entry.id)) {
                    button.button.quiet type="submit" aria-label=(format!("Put in the bin: {at}")) { "Put in the bin" }
                }
            }
        }
    }
}

/// What the entry says, by its kind.
fn words(project: &Project, entry: &Entry) -> Markup {
    html! {
        @match entry.kind {
            EntryKind::Note | EntryKind::Photo => {
                @if !entry.text.is_empty() { div.prose { (markdown(&entry.text)) } }
            }
            EntryKind::Decision => {
                p.decided { (entry.text) }
                @if !entry.why.is_empty() { div.prose.why { (markdown(&entry.why)) } }
            }
            EntryKind::Measure => {
                p.measured { span { (entry.text) } }
                @if let Some(measure) = entry.length { p.measure.num { (length(measure, project.plan.unit)) } }
            }
            EntryKind::Work => {
                @if let Some(work) = &entry.work {
                    p.measured { span { (work.kind.name()) } }
                    p.measure.num { (hours(work.minutes.into())) }
                }
                @if !entry.text.is_empty() { p { (entry.text) } }
            }
        }
    }
}

/// "Step Quilt the panels, piece Front".
fn tied(project: &Project, steps: &[Step], entry: &Entry) -> Markup {
    let named = ties::named(project, steps, entry);
    html! {
        @if !named.is_empty() {
            p.tied.meta {
                @for (i, (what, name, href)) in named.iter().enumerate() {
                    @if i > 0 { ", " }
                    (what) " " a href=(href) { (name) }
                }
            }
        }
    }
}

/// One by itself is large enough for what is marked on it; of several it is told.
fn photos(project: &Project, entry: &Entry, marked: &Marked) -> Markup {
    let alt = photo_alt(entry);
    let unit = project.plan.unit;
    html! {
        div.entry-photos data-count=(entry.photos.len()) {
            @for (i, hash) in entry.photos.iter().enumerate() {
                @let marks = marked.on(hash);
                a href=(project_photo::address(project.id, hash)) {
                    @match marked.photos.get(hash).filter(|_| entry.photos.len() == 1) {
                        Some(kept) => (marked_photo(kept, &marks, &alt, unit, None)),
                        None => (photo(hash, &if i == 0 { alt.clone() } else { format!("{alt}, {}", i + 1) })),
                    }
                }
            }
        }
        @for hash in &entry.photos {
            @let marks = marked.on(hash);
            @if !marks.is_empty() { p.meta.marked-words { "Marked: " (project_photo::marked_words(&marks, unit)) } }
        }
    }
}

/// The first words under a photo say what it shows; without words, its day.
fn photo_alt(entry: &Entry) -> String {
    let line = entry.text.lines().next().unwrap_or("");
    let line: String = line.chars().filter(|c| !"*_`#[]".contains(*c)).take(120).collect();
    match line.trim() {
        "" => format!("Photo of {}", local(entry.happened_at).format("%-d %B %Y, %H:%M")),
        words => format!("Photo: {words}"),
    }
}

fn effect(project: Id, entry: &Entry) -> Markup {
    html! {
        div.effect {
            p.effect-head {
                "What it did to the figures"
                @if let Some((from, to)) = entry.revisions {
                    " " a href=(format!("/projects/{project}/revisions")) { "revision " (from) " → " (to) }
                }
            }
            (changes_in_a_list(&entry.effect))
        }
    }
}

fn judged(thought: &SecondThought) -> Markup {
    html! {
        div.thought data-again=(if thought.would_do_again { "yes" } else { "no" }) {
            p.verdict { @if thought.would_do_again { "Would do it again" } @else { "Would not do it again" } }
            @if !thought.text.is_empty() { div.prose { (markdown(&thought.text)) } }
        }
    }
}

fn second_thought(project: Id, entry: &Entry) -> Markup {
    let text = format!("thought-{}", entry.id);
    html! {
        details.second-thought {
            summary { "Second thought" }
            form method="post" action=(format!("/projects/{project}/log/{}/second-thought", entry.id)) {
                (hidden("seen", &entry.version.to_string()))
                fieldset.picks {
                    legend { "Having made it" }
                    label.pick { input type="radio" name="again" value="yes" required; span { "Would do it again" } }
                    label.pick { input type="radio" name="again" value="no"; span { "Would not do it again" } }
                }
                div.field {
                    label for=(text) { "Why" }
                    textarea id=(text) name="thought" rows="2" {}
                }
                button.button type="submit" { "Save the second thought" }
            }
        }
    }
}

/// The earlier versions whose words, photos or second thought were changed by
/// the next; a decision that was only judged later reads as it did.
fn told<'a>(entry: &'a Entry, earlier: &'a [Entry]) -> Vec<&'a Entry> {
    let changed = |before: &Entry, after: &Entry| {
        let said = |e: &Entry| {
            (
                e.text.clone(),
                e.why.clone(),
                e.length,
                e.work,
                (e.piece.clone(), e.cloth.clone(), e.step),
                e.photos.clone(),
            )
        };
        let rejudged = before.second_thought.is_some() && before.second_thought != after.second_thought;
        said(before) != said(after) || rejudged
    };
    let after = std::iter::once(entry).chain(earlier);
    earlier
        .iter()
        .zip(after)
        .filter(|(before, after)| changed(before, after))
        .map(|(before, _)| before)
        .collect()
}

fn versions(project: &Project, steps: &[Step], earlier: &[&Entry]) -> Markup {
    html! {
        details.earlier {
            summary { @if earlier.len() == 1 { "One earlier version" } @else { (earlier.len()) " earlier versions" } }
            ol {
                @for &version in earlier {
                    li value=(version.version) {
                        (words(project, version))
                        (tied(project, steps, version))
                        @if !version.photos.is_empty() { p.meta { (photo_links(&version.photos)) } }
                        @if let Some(thought) = &version.second_thought { (judged(thought)) }
                    }
                }
            }
        }
    }
}

fn photo_links(photos: &[PhotoHash]) -> Markup {
    html! {
        @for (i, hash) in photos.iter().enumerate() {
            @if i > 0 { ", " }
            a href=(format!("/photos/{}/page", hash.0)) { "photo " (i + 1) }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::form::Typed;
    use crate::web::pages::log::entries::begun;

    #[test]
    fn only_versions_that_read_differently_are_told() {
        let version = |number: i64, text: &str, again: Option<bool>| {
            let mut entry = begun(EntryKind::Decision, &Typed::default());
            entry.version = number;
            entry.text = text.into();
            entry.second_thought = again.map(|would_do_again| SecondThought {
                would_do_again,
                text: String::new(),
            });
            entry
        };
        let now = version(4, "Patches 5 in", Some(false));
        // Newest first: judged otherwise, judged for the first time, said otherwise.
        let earlier = [
            version(3, "Patches 5 in", Some(true)),
            version(2, "Patches 5 in", None),
            version(1, "Patches 6 in", None),
        ];
        let numbers: Vec<i64> = told(&now, &earlier).iter().map(|e| e.version).collect();
        assert_eq!(numbers, [3, 1]);
    }
}
