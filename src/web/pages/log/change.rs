//! Mending an entry, putting it in the bin and taking it out again, and the
//! second thought on a decision.

use super::add::{decision_fields, measure_fields, note_fields, work_fields};
use super::entries::{fill_words, read_words};
use super::show;
use super::ties::Ties;
use crate::notebook::{Entry, EntryKind, Id, Notebook, NotebookError, PhotoHash, Project, SecondThought, Step};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{
    ReturnTo, card, date, errors_summary, field_errors, hidden, photo, photo_input, save_bar, text, text_area,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, TEXT, Typed, length_text};
use crate::web::meanwhile::{self, Kept, Many, Now, Put, stale_note};
use crate::web::page::{self, Place};
use crate::web::pages::photos::hash;
use crate::web::{respond, upload};
use actix_multipart::Multipart;
use actix_web::HttpRequest;
use actix_web::web::{Data, Path};
use chrono::{DateTime, Local, NaiveTime, TimeZone, Utc};
use maud::{Markup, html};

type EntryPath = Path<(String, String)>;

fn ids(path: EntryPath) -> Result<(Id, Id), WebError> {
    let (project, entry) = path.into_inner();
    Ok((id(&project)?, id(&entry)?))
}

/// An entry of this project and no other.
fn entry_of(notebook: &Notebook, project: Id, entry: Id) -> Result<Entry, NotebookError> {
    let (owner, entry) = notebook.entry(entry)?;
    if owner == project {
        Ok(entry)
    } else {
        Err(NotebookError::NotFound("entry"))
    }
}

/// The project, its steps and the entry.
async fn load(app: &App, project: Id, entry: Id) -> Result<(Project, Vec<Step>, Entry), WebError> {
    app.ask(move |n: &Notebook| Ok((n.project(project)?, n.steps(project)?, entry_of(n, project, entry)?)))
        .await
}

fn ties<'a>(project: &'a Project, steps: &'a [Step], entry: &'a Entry) -> Ties<'a> {
    Ties {
        plan: &project.plan,
        steps,
        taken_out: &[],
        kept: Some(entry),
    }
}

pub async fn show(app: Data<App>, path: EntryPath) -> Answer {
    let (project, entry) = ids(path)?;
    let (project, steps, entry) = load(&app, project, entry).await?;
    respond::page(edit_page(
        &project,
        &steps,
        &entry,
        &Shown::from(filled(&project, &entry)),
        None,
    ))
}

fn filled(project: &Project, entry: &Entry) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", entry.version.to_string());
    fill_words(&mut typed, entry, |x| length_text(x, project.plan.unit));
    let at = entry.happened_at.with_timezone(&Local);
    typed.set("day", at.format("%Y-%m-%d").to_string());
    typed.set("time", at.format("%H:%M").to_string());
    for hash in &entry.photos {
        typed.add("photo", &hash.0);
    }
    if let Some(thought) = &entry.second_thought {
        typed.set("again", if thought.would_do_again { "yes" } else { "no" });
        typed.set("thought", &thought.text);
    }
    typed
}

pub async fn save(app: Data<App>, path: EntryPath, request: HttpRequest, body: Multipart) -> Answer {
    let (project, entry) = ids(path)?;
    let mut upload = upload::read(&request, body).await?;
    let (project, steps, now) = load(&app, project, entry).await?;
    let (new_photos, refused) = upload.keep_photos(&app, "photos").await?;
    let mut typed = upload.typed;
    // Kept already: shown again with the form, whatever else is wrong with it.
    for hash in &new_photos {
        typed.add("photo", &hash.0);
    }
    let (project_id, entry_id) = (project.id, now.id);
    let save = async |typed: &Typed| {
        let (_, now) = app.ask(move |n: &Notebook| n.entry(entry_id)).await?;
        let (entry, mut errors) = read(typed, &project, &steps, &now);
        for sentence in &refused {
            errors.add("photos", sentence);
        }
        if !errors.is_empty() {
            return Ok(Put::Refused(errors));
        }
        let seen = typed.get("seen").parse().unwrap_or(0);
        Put::ask(&app, move |n: &Notebook| n.save_entry(seen, &entry)).await
    };
    let meanwhile = async |seen: i64| {
        let known = load(&app, project_id, entry_id).await?;
        let earlier = app.ask(move |n: &Notebook| n.earlier_entries(entry_id)).await?;
        let before = earlier.iter().find(|e| e.version == seen);
        Ok(Now {
            before: before.map(|e| filled(&known.0, e)),
            theirs: filled(&known.0, &known.2),
            known,
        })
    };
    let many = Many {
        sets: &["photo"],
        ..Many::default()
    };
    match meanwhile::put(typed, many, save, meanwhile).await? {
        Kept::Saved => respond::see(&show::way_to(&app, project_id, entry_id).await?),
        Kept::Refused(form) => Err(WebError::Form(edit_page(&project, &steps, &now, &form, None))),
        Kept::Clash(form, note, (project, steps, now)) => {
            respond::clash(edit_page(&project, &steps, &now, &form, Some(note)))
        }
    }
}

fn read(typed: &Typed, project: &Project, steps: &[Step], now: &Entry) -> (Entry, Errors) {
    let mut r = Reader::new(typed, project.plan.unit);
    let mut entry = now.clone();
    entry.photos = kept_photos(typed);
    read_words(&mut r, &mut entry, &ties(project, steps, now));
    if entry.kind == EntryKind::Photo && entry.photos.is_empty() {
        // Words without a photo are a note.
        entry.kind = EntryKind::Note;
        if entry.text.is_empty() {
            r.errors.add(
                "photos",
                "This would leave nothing of the entry. Keep a photo or some words, or put it in the bin.",
            );
        }
    }
    entry.happened_at = happened_at(&mut r, now.happened_at);
    if entry.kind == EntryKind::Decision && typed.has("thought") {
        entry.second_thought = Some(read_thought(&mut r));
    }
    (entry, r.errors)
}

/// The photos the form still names, each once.
fn kept_photos(typed: &Typed) -> Vec<PhotoHash> {
    let mut kept: Vec<PhotoHash> = Vec::new();
    let dropped: Vec<&str> = typed.all("drop").collect();
    for hash in typed.all("photo").filter(|h| !dropped.contains(h)).filter_map(hash) {
        if !kept.contains(&hash) {
            kept.push(hash);
        }
    }
    kept
}

/// The day and time typed, by this machine's clock; the exact moment stays
/// where neither was touched.
fn happened_at(r: &mut Reader, before: DateTime<Utc>) -> DateTime<Utc> {
    let shown = before.with_timezone(&Local);
    let (day, time) = (r.typed.get("day").trim(), r.typed.get("time").trim());
    if day == shown.format("%Y-%m-%d").to_string() && time == shown.format("%H:%M").to_string() {
        return before;
    }
    let Ok(time) = NaiveTime::parse_from_str(time, "%H:%M") else {
        r.errors
            .add("time", "Type the time as hours and minutes, such as 17:30.");
        return before;
    };
    if day.is_empty() {
        r.errors.add("day", "Type the day it happened.");
    }
    let Some(day) = r.date("day") else { return before };
    match Local.from_local_datetime(&day.and_time(time)).earliest() {
        Some(at) if at > Utc::now() + chrono::Duration::days(1) => {
            r.errors
                .add("day", "This day is still to come. The log keeps what happened.");
            before
        }
        Some(at) => at.with_timezone(&Utc),
        None => {
            r.errors.add(
                "time",
                "The clocks were changed in this hour; it did not exist. Type the hour after it.",
            );
            before
        }
    }
}

/// The form of an entry whose photos were kept, all but those in `errors`.
pub fn half_kept(project: &Project, steps: &[Step], entry: &Entry, typed: Typed, errors: Errors) -> Markup {
    let mut form = filled(project, entry);
    if typed.has("text") {
        form.set("text", typed.get("text"));
    }
    let note = html! {
        div.note role="status" { p { "The rest of what you sent is in the log. Below you can add to it." } }
    };
    edit_page(project, steps, entry, &Shown { typed: form, errors }, Some(note))
}

fn edit_page(project: &Project, steps: &[Step], entry: &Entry, form: &Shown, note: Option<Markup>) -> Markup {
    let ties = ties(project, steps, entry);
    let action = format!("/projects/{}/log/{}", project.id, entry.id);
    let kind = entry.kind.name();
    let kept = kept_photos(&form.typed);
    page::project(
        project.id,
        &project.details.title,
        Place::Log,
        &format!("Edit the {kind}"),
        html! {
            h1 { "Edit the " (kind) }
            @if let Some(note) = note { (note) }
            form method="post" enctype="multipart/form-data" action=(action) data-unit=(project.plan.unit.name()) data-keep=(format!("entry-{}", entry.id)) {
                (hidden("seen", form.typed.get("seen")))
                (errors_summary(form))
                (card("words", "What it says", html! {
                    @match entry.kind {
                        EntryKind::Note => (note_fields(form, &ties)),
                        EntryKind::Photo => {
                            (text_area(form, "text", "Words to the photos", "A line that begins with - becomes a list.", 4))
                            (ties.fields(form, EntryKind::Photo))
                        },
                        EntryKind::Decision => (decision_fields(form, None, &ties)),
                        EntryKind::Measure => (measure_fields(form, &ties)),
                        EntryKind::Work => (work_fields(form, &ties)),
                    }
                    div.pair {
                        (date(form, "day", "Day", ""))
                        (text(form, "time", "Time", "", "time"))
                    }
                }))
                @if entry.second_thought.is_some() { (card("thoughts", "Second thought", thought_fields(form))) }
                (card("pictures", "Photos", html! {
                    @if !kept.is_empty() { ul.kept-photos { @for (i, hash) in kept.iter().enumerate() { li { (kept_photo(form, hash, i + 1)) } } } }
                    (photo_input(form, "photos", "Add photos", "JPEG, PNG or WebP; several at once.", true))
                }))
                (save_bar("Save", &ReturnTo { href: &show::address(project.id, entry.id), label: "Cancel" }))
            }
            @for hash in &entry.photos {
                form id=(format!("cover-{}", hash.0)) method="post" action=(format!("/projects/{}/cover", project.id)) { (hidden("photo", &hash.0)) }
            }
            form.danger method="post" action=(format!("{action}/bin")) {
                p { "The bin keeps it; you can undo this at once." }
                button.button.quiet type="submit" { "Put this " (kind) " in the bin" }
            }
        },
    )
}

/// A photo of the entry, a box to take it out, a button to put it on the cover.
fn kept_photo(form: &Shown, hash: &PhotoHash, number: usize) -> Markup {
    html! {
        a href=(format!("/photos/{}/page", hash.0)) { (photo(hash, &format!("Photo {number}"))) }
        (hidden("photo", &hash.0))
        label.pick { input type="checkbox" name="drop" value=(hash.0) checked[form.typed.all("drop").any(|h| h == hash.0)]; span { "Take photo " (number) " out" } }
        button.button.quiet type="submit" form=(format!("cover-{}", hash.0)) { "Use as the project's picture" }
    }
}

fn thought_fields(form: &Shown) -> Markup {
    let radio = |value: &str, words: &str| {
        html! { label.pick { input type="radio" name="again" value=(value) checked[form.typed.get("again") == value]; span { (words) } } }
    };
    html! {
        fieldset.picks id="again" {
            legend { "Having made it" }
            (radio("yes", "Would do it again"))
            (radio("no", "Would not do it again"))
            (field_errors(form, "again"))
        }
        (text_area(form, "thought", "Why", "", 3))
    }
}

fn read_thought(r: &mut Reader) -> SecondThought {
    let would_do_again = r.typed.get("again") == "yes";
    if !would_do_again && r.typed.get("again") != "no" {
        r.errors.add("again", "Choose whether you would do it again.");
    }
    SecondThought {
        would_do_again,
        text: r.text("thought"),
    }
}

/// The short form in the log. What is wrong with it is shown in the long one.
pub async fn second_thought(app: Data<App>, path: EntryPath, body: Body) -> Answer {
    let (project, entry) = ids(path)?;
    let sent = typed(body);
    let (project, steps, now) = load(&app, project, entry).await?;
    if now.kind != EntryKind::Decision {
        return Err(WebError::NoPage);
    }
    let mut r = Reader::new(&sent, project.plan.unit);
    let thought = read_thought(&mut r);
    let errors = r.errors;
    let mut changed = now.clone();
    changed.second_thought = Some(thought);
    // Judged on another device meanwhile, or wrong: both are settled in the long form.
    let stale = sent.get("seen") != now.version.to_string() && now.second_thought != changed.second_thought;
    if !errors.is_empty() || stale {
        let mut form = filled(&project, &now);
        let note = stale.then(|| stale_note("This decision", &form, &sent));
        form.set("again", sent.get("again"));
        form.set(
            "thought",
            sent.get("thought").chars().take(TEXT * 2).collect::<String>(),
        );
        return Err(WebError::Form(edit_page(
            &project,
            &steps,
            &changed,
            &Shown { typed: form, errors },
            note,
        )));
    }
    let (owner, entry_id) = (project.id, now.id);
    if now.second_thought != changed.second_thought {
        app.ask(move |n: &Notebook| n.save_entry(now.version, &changed)).await?;
    }
    respond::see(&show::way_to(&app, owner, entry_id).await?)
}

pub async fn bin(app: Data<App>, path: EntryPath) -> Answer {
    let (project, entry) = ids(path)?;
    app.ask(move |n: &Notebook| {
        entry_of(n, project, entry)?;
        n.bin_entry(entry)
    })
    .await?;
    respond::see(&format!("/projects/{project}/log?binned={entry}"))
}

pub async fn restore(app: Data<App>, path: EntryPath) -> Answer {
    let (project, entry) = ids(path)?;
    app.ask(move |n: &Notebook| n.restore_entry(entry)).await?;
    respond::see(&show::way_to(&app, project, entry).await?)
}
