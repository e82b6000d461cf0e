//! Adding to the log: one page for a thumb. The camera is one tap away, the
//! note can be typed at once, a decision and a measure are a tap further.

use super::effect::{Undecided, effect_between, undecided};
use super::entries::{begun, keep, read_words};
use super::ties::Ties;
use super::{change, show};
use crate::measure::Unit;
use crate::notebook::{EntryKind, Id, Notebook, Project, Step};
use crate::photos::PhotoError;
use crate::plan::Work;
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{
    PHOTO_FORMATS, ReturnTo, card, changes, choice, entry_icon, errors_summary, hidden, length_input, photo_input,
    save_bar, switch, text, text_area,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, Typed, word};
use crate::web::page::{self, Place};
use crate::web::pages::photos::hash;
use crate::web::{respond, upload};
use actix_multipart::Multipart;
use actix_web::http::header;
use actix_web::web::{Data, Path, Query};
use actix_web::{HttpRequest, HttpResponse};
use maud::{Markup, html};

/// The project, its steps, and what its plan has seen since the last decision.
pub struct Begun {
    project: Project,
    steps: Vec<Step>,
    taken_out: Vec<Step>,
    undecided: Option<Undecided>,
}

impl Begun {
    fn ties(&self) -> Ties<'_> {
        Ties {
            plan: &self.project.plan,
            steps: &self.steps,
            taken_out: &self.taken_out,
            kept: None,
        }
    }
}

async fn load(app: &App, project: Id) -> Result<Begun, WebError> {
    app.ask(move |n: &Notebook| {
        let project = n.project(project)?;
        let undecided = undecided(n, &project)?;
        Ok(Begun {
            steps: n.steps(project.id)?,
            taken_out: n.binned_steps(project.id)?,
            project,
            undecided,
        })
    })
    .await
}

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The form that is open at once.
    #[serde(default = "note")]
    kind: EntryKind,
}

fn note() -> EntryKind {
    EntryKind::Note
}

pub async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let begun = load(&app, id(&path)?).await?;
    let forms = Forms {
        open: asked.kind,
        shown: fresh(begun.undecided.as_ref()),
    };
    respond::page(add_page(&begun, &forms))
}

/// The address a refused form stands at, loaded again: the form from new. Not
/// `respond::see`: nothing is saved, so the browser keeps what was typed.
pub async fn again(path: Path<(String, String)>) -> Answer {
    let (project, kind) = path.into_inner();
    let kind = word(&kind_of(&kind)?);
    let address = format!("/projects/{}/log/add?kind={kind}", id(&project)?);
    Ok(HttpResponse::Found()
        .insert_header((header::LOCATION, address))
        .finish())
}

fn kind_of(word: &str) -> Result<EntryKind, WebError> {
    match word {
        "note" => Ok(EntryKind::Note),
        "decision" => Ok(EntryKind::Decision),
        "measure" => Ok(EntryKind::Measure),
        "work" => Ok(EntryKind::Work),
        _ => Err(WebError::NoPage),
    }
}

/// A note, a decision, a measure or work.
pub async fn words(app: Data<App>, path: Path<(String, String)>, request: HttpRequest, body: Body) -> Answer {
    let (project, kind) = path.into_inner();
    let kind = kind_of(&kind)?;
    let page = load(&app, id(&project)?).await?;
    let project = &page.project;
    let typed = typed(body);
    let mut r = Reader::new(&typed, project.plan.unit);
    let mut entry = begun(kind, &typed);
    read_words(&mut r, &mut entry, &page.ties());
    let errors = r.errors;
    if !errors.is_empty() {
        let forms = Forms {
            open: kind,
            shown: Shown { typed, errors },
        };
        return Err(WebError::Form(add_page(&page, &forms)));
    }
    let carried = (kind == EntryKind::Decision && typed.ticked("carry"))
        .then(|| carried(&typed, project.revision))
        .flatten();
    let (owner, entry_id) = (project.id, entry.id);
    app.ask(move |n: &Notebook| {
        if let Some((from, to)) = carried {
            entry.effect = effect_between(n, owner, from, to)?;
            entry.revisions = carried;
        }
        keep(n, owner, &entry)
    })
    .await?;
    respond::see_or_say(&request, &show::way_to(&app, owner, entry_id).await?)
}

/// The revisions whose effect stood on the form, so that what is kept is what
/// was seen though the plan has changed again meanwhile.
fn carried(typed: &Typed, newest: i64) -> Option<(i64, i64)> {
    let number = |name: &str| typed.get(name).parse::<i64>().ok();
    let (from, to) = (number("from")?, number("to")?);
    (1 <= from && from < to && to <= newest).then_some((from, to))
}

/// Photos, with words or without: files, or names of photos the outbox sent
/// before. Those that could be read are kept even when others could not.
pub async fn photo(app: Data<App>, path: Path<String>, request: HttpRequest, body: Multipart) -> Answer {
    let mut upload = upload::read(&request, body).await?;
    let page = load(&app, id(&path)?).await?;
    let project = &page.project;
    let (mut photos, refused) = upload.keep_photos(&app, "photos").await?;
    let typed = upload.typed;
    for sent in typed.all("photo").filter_map(hash) {
        if !photos.contains(&sent) {
            photos.push(sent);
        }
    }
    let mut entry = begun(EntryKind::Photo, &typed);
    let mut r = Reader::new(&typed, project.plan.unit);
    read_words(&mut r, &mut entry, &page.ties());
    let mut errors = r.errors;
    for sentence in refused {
        errors.add("photos", sentence);
    }
    if photos.is_empty() {
        if errors.is_empty() {
            errors.add("photos", "No photo came with this. Choose one and send it again.");
        }
        let forms = Forms {
            open: EntryKind::Photo,
            shown: Shown { typed, errors },
        };
        return Err(WebError::Form(add_page(&page, &forms)));
    }
    if errors.has("text") {
        // Kept in the form below, to be shortened there.
        entry.text = String::new();
    }
    entry.photos = photos;
    let (owner, entry_id) = (project.id, entry.id);
    app.ask(move |n: &Notebook| keep(n, owner, &entry)).await?;
    if errors.is_empty() {
        return respond::see_or_say(&request, &show::way_to(&app, owner, entry_id).await?);
    }
    let (_, saved) = app.ask(move |n: &Notebook| n.entry(entry_id)).await?;
    Err(WebError::Form(change::half_kept(
        project,
        &page.steps,
        &saved,
        typed,
        errors,
    )))
}

/// What stands in the page's forms: the one last sent as it was typed, the
/// others fresh.
struct Forms {
    open: EntryKind,
    shown: Shown,
}

impl Forms {
    fn of(&self, kind: EntryKind, undecided: Option<&Undecided>) -> Shown {
        if kind == self.open {
            self.shown.clone()
        } else {
            fresh(undecided)
        }
    }
}

fn fresh(undecided: Option<&Undecided>) -> Shown {
    let mut typed = Typed::default();
    typed.set("id", Id::now_v7().to_string());
    if let Some(u) = undecided {
        typed.set("carry", "yes");
        typed.set("from", u.from.to_string());
        typed.set("to", u.to.to_string());
    }
    Shown {
        typed,
        errors: Errors::default(),
    }
}

fn add_page(begun: &Begun, forms: &Forms) -> Markup {
    let (project, undecided, ties) = (&begun.project, begun.undecided.as_ref(), begun.ties());
    let note = forms.of(EntryKind::Note, undecided);
    let decision = forms.of(EntryKind::Decision, undecided);
    let measure = forms.of(EntryKind::Measure, undecided);
    let work = forms.of(EntryKind::Work, undecided);
    let photos = forms.of(EntryKind::Photo, undecided);
    page::project(
        project.id,
        &project.details.title,
        Place::Log,
        "Add to the log",
        html! {
            h1 { "Add to the log" }
            (errors_summary(&forms.shown))
            div.add-log {
                fieldset.kinds {
                    legend.quiet { "What to add" }
                    (camera(project.id))
                    (pick(EntryKind::Note, "Note", forms.open))
                    (pick(EntryKind::Decision, "Decision", forms.open))
                    (pick(EntryKind::Measure, "Measure", forms.open))
                    (pick(EntryKind::Work, "Minutes", forms.open))
                }
                (panel(project, EntryKind::Note, &note, note_fields(&note, &ties)))
                (panel(project, EntryKind::Decision, &decision, decision_fields(&decision, undecided, &ties)))
                (panel(project, EntryKind::Measure, &measure, measure_fields(&measure, &ties)))
                (panel(project, EntryKind::Work, &work, work_fields(&work, &ties)))
                (taken_before(project.id, &photos))
            }
        },
    )
}

/// The camera under the first target: with script the photo is sent as soon
/// as it is taken, without it a button appears (style.css: `:valid`).
fn camera(project: Id) -> Markup {
    html! {
        form.add-camera method="post" enctype="multipart/form-data" action=(format!("/projects/{project}/log/add/photo")) data-submit-on-choose data-outbox {
            (hidden("id", &Id::now_v7().to_string()))
            (hidden_moment())
            input.unseen #camera type="file" name="photos" accept=(PHOTO_FORMATS) capture="environment" multiple required data-heic=(PhotoError::Heic);
            label.kind for="camera" { (entry_icon(EntryKind::Photo)) span data-sending-sign { "Photo" } }
            button.button.primary.once-chosen type="submit" { "Save the photo" }
        }
    }
}

fn pick(kind: EntryKind, name: &str, open: EntryKind) -> Markup {
    // A photo that could not be kept has its own form below; the note stays in view above it.
    let open = if open == EntryKind::Photo {
        EntryKind::Note
    } else {
        open
    };
    html! {
        label.kind {
            input.unseen type="radio" name="add" id=(format!("add-{}", kind.name())) value=(kind.name()) checked[kind == open] autocomplete="off";
            (entry_icon(kind)) span { (name) }
        }
    }
}

fn panel(project: &Project, kind: EntryKind, form: &Shown, fields: Markup) -> Markup {
    let name = kind.name();
    let heading = match kind {
        EntryKind::Decision => "A decision",
        EntryKind::Measure => "A measure",
        EntryKind::Work => "Minutes of work",
        EntryKind::Note | EntryKind::Photo => "A note",
    };
    let (id, unit) = (project.id, project.plan.unit.name());
    html! {
        div class=(format!("panel panel-{name}")) {
            form method="post" action=(format!("/projects/{id}/log/add/{name}")) data-unit=(unit) data-keep=(format!("{id}/log/{name}")) data-outbox {
                (hidden("id", form.typed.get("id")))
                (hidden_moment())
                (card(&format!("{name}-card"), heading, fields))
                (save_bar("Save", &ReturnTo { href: &format!("/projects/{id}/log"), label: "Cancel" }))
            }
        }
    }
}

/// Filled by script when the form is sent: an entry written out of reach of
/// the notebook keeps its own time.
fn hidden_moment() -> Markup {
    html! { input type="hidden" name="happened_at" value="" data-now; }
}

pub fn note_fields(form: &Shown, ties: &Ties) -> Markup {
    html! {
        (text_area(form, "text", "What happened", "A line that begins with - becomes a list.", 5))
        (ties.fields(form, EntryKind::Note))
    }
}

pub fn decision_fields(form: &Shown, undecided: Option<&Undecided>, ties: &Ties) -> Markup {
    html! {
        (text(form, "decided", "What you decided", "In one line, such as “Strap patches 5 in instead of 6 in”.", "text"))
        (text_area(form, "why", "Why", "So that you know it again in a year.", 3))
        (ties.fields(form, EntryKind::Decision))
        @if let Some(u) = undecided {
            div.carry {
                (switch(form, "carry", "Carry what changed in the plan since the last decision", ""))
                (hidden("from", form.typed.get("from")))
                (hidden("to", form.typed.get("to")))
                @if u.effect.is_empty() { p.hint { "The plan changed, but no figure did." } }
                @else { (changes(&u.effect)) }
            }
        }
    }
}

pub fn work_fields(form: &Shown, ties: &Ties) -> Markup {
    let mut kinds = vec![(String::new(), "Choose".to_string())];
    kinds.extend(Work::ALL.iter().map(|w| (word(w), w.name().to_string())));
    html! {
        div.pair {
            (choice(form, "work", "Work", "", &kinds))
            (text(form, "minutes", "How long", "Minutes, or hours and minutes: 90, 1:30.", "text"))
        }
        (ties.fields(form, EntryKind::Work))
        (text(form, "did", "What you did", "", "text"))
        p.hint { "Of a finished project the minutes become the pace of the next: log all of one kind of work, or none." }
    }
}

pub fn measure_fields(form: &Shown, ties: &Ties) -> Markup {
    let bare = match ties.plan.unit {
        Unit::Inch => "A bare number is inches.",
        Unit::Cm => "A bare number is centimetres.",
    };
    html! {
        (text(form, "measured", "What you measured", "", "text"))
        (length_input(form, "length", "Length", bare))
        (ties.fields(form, EntryKind::Measure))
    }
}

fn taken_before(project: Id, form: &Shown) -> Markup {
    html! {
        form.taken-before method="post" enctype="multipart/form-data" action=(format!("/projects/{project}/log/add/photo")) data-keep=(format!("{project}/log/photos")) data-outbox {
            (hidden("id", form.typed.get("id")))
            (hidden_moment())
            (card("photos-card", "Photos already taken", html! {
                (photo_input(form, "photos", "Photos", "JPEG, PNG or WebP; several at once.", true))
                div.field.has-error[form.errors.has("text")] {
                    label for="photo-words" { "Words to them" }
                    textarea id="photo-words" name="text" rows="2" { (form.typed.get("text")) }
                    (crate::web::components::field_errors(form, "text"))
                }
                button.button type="submit" { "Save these photos" }
            }))
        }
    }
}
