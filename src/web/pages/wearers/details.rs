//! A wearer's name, kind and note; into the bin and out again.

use crate::measure::Unit;
use crate::notebook::{Id, Notebook, NotebookError, Wearer, WearerKind};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::components::{ReturnTo, card, choice, errors_summary, hidden, save_bar, text, text_area};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, word};
use crate::web::meanwhile::{self, Kept, Many, Now, Put};
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

pub async fn new() -> Answer {
    let mut form = Shown::default();
    form.typed.set("id", Id::now_v7().to_string());
    form.typed.set("kind", word(&WearerKind::Adult));
    respond::page(details_page(None, &form, None))
}

pub async fn make(app: Data<App>, body: Body) -> Answer {
    let typed = typed(body);
    let mut wearer = Wearer {
        id: form_id(&typed),
        name: String::new(),
        kind: WearerKind::Adult,
        note: String::new(),
        sets: Vec::new(),
        version: 1,
    };
    let errors = read(&typed, &mut wearer);
    if !errors.is_empty() {
        return Err(WebError::Form(details_page(None, &Shown { typed, errors }, None)));
    }
    let made = wearer.id;
    app.ask(move |n: &Notebook| match n.wearer(made) {
        // Sent twice: the first sending made it.
        Ok(_) => Ok(()),
        Err(NotebookError::NotFound(_)) => n.save_wearer(0, &wearer).map(|_| ()),
        Err(other) => Err(other),
    })
    .await?;
    // Measuring is what comes next.
    respond::see(&format!("/wearers/{made}/measurements/new"))
}

pub async fn edit(app: Data<App>, path: Path<String>) -> Answer {
    let wearer = id(&path)?;
    let wearer = app.ask(move |n: &Notebook| n.wearer(wearer)).await?;
    respond::page(details_page(Some(&wearer), &Shown::from(filled(&wearer)), None))
}

pub async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let wearer = app.ask(move |n: &Notebook| n.wearer(id)).await?;
    let save = async |typed: &Typed| {
        // Measures that were taken meanwhile are no part of this form.
        let mut wearer = app.ask(move |n: &Notebook| n.wearer(id)).await?;
        let errors = read(typed, &mut wearer);
        if !errors.is_empty() {
            return Ok(Put::Refused(errors));
        }
        let seen = typed.get("seen").parse().unwrap_or(0);
        Put::ask(&app, move |n: &Notebook| n.save_wearer(seen, &wearer)).await
    };
    match meanwhile::put(typed(body), Many::default(), save, async |seen| {
        now(&app, id, seen, filled).await
    })
    .await?
    {
        Kept::Saved => respond::see(&format!("/wearers/{id}")),
        Kept::Refused(form) => Err(WebError::Form(details_page(Some(&wearer), &form, None))),
        Kept::Clash(form, note, now) => respond::clash(details_page(Some(&now), &form, Some(note))),
    }
}

/// The wearer's form as it was when it was opened and as it would be now.
pub async fn now(app: &App, id: Id, seen: i64, filled: impl Fn(&Wearer) -> Typed) -> Result<Now<Wearer>, WebError> {
    let (now, earlier) = app
        .ask(move |n: &Notebook| Ok((n.wearer(id)?, n.earlier_wearers(id)?)))
        .await?;
    Ok(Now {
        before: earlier.iter().find(|e| e.version == seen).map(|e| filled(&e.value)),
        theirs: filled(&now),
        known: now,
    })
}

fn filled(wearer: &Wearer) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", wearer.version.to_string());
    typed.set("name", &wearer.name);
    typed.set("kind", word(&wearer.kind));
    typed.set("note", &wearer.note);
    typed
}

fn read(typed: &Typed, wearer: &mut Wearer) -> Errors {
    let mut r = Reader::new(typed, Unit::Inch);
    wearer.name = r.required("name", NAME, "Give the wearer a name.");
    wearer.kind = r.choice("kind");
    wearer.note = r.text("note");
    r.errors
}

fn details_page(wearer: Option<&Wearer>, form: &Shown, note: Option<Markup>) -> Markup {
    let kinds: Vec<_> = WearerKind::ALL
        .iter()
        .map(|k| (word(k), k.name().to_string()))
        .collect();
    let heading = if wearer.is_some() {
        "Name and note"
    } else {
        "Add a wearer"
    };
    let (action, back) = match wearer {
        Some(w) => (format!("/wearers/{}/details", w.id), format!("/wearers/{}", w.id)),
        None => ("/wearers/new".to_string(), "/wearers".to_string()),
    };
    page::notebook(
        Shelf::Wearers,
        heading,
        html! {
            h1 { (heading) }
            @if let Some(note) = note { (note) }
            form method="post" action=(action) data-keep=(action) {
                (hidden("id", form.typed.get("id")))
                (hidden("seen", form.typed.get("seen")))
                (errors_summary(form))
                (card("who", "Who or what", html! {
                    div.wide-narrow {
                        (text(form, "name", "Name", "", "text"))
                        (choice(form, "kind", "Kind", "", &kinds))
                    }
                    (text_area(form, "note", "Note", "Likes and dislikes, what fits well.", 3))
                }))
                (save_bar(if wearer.is_some() { "Save" } else { "Save and measure" }, &ReturnTo { href: &back, label: "Cancel" }))
            }
            @if let Some(w) = wearer {
                form.danger method="post" action=(format!("/wearers/{}/bin", w.id)) {
                    p { "The bin keeps the name and all measurements; you can undo this at once." }
                    button.button.quiet type="submit" { "Put this wearer in the bin" }
                }
            }
        },
    )
}

pub async fn bin(app: Data<App>, path: Path<String>) -> Answer {
    let wearer = id(&path)?;
    app.ask(move |n: &Notebook| n.bin_wearer(wearer)).await?;
    respond::see(&format!("/wearers?binned={wearer}"))
}

pub async fn restore(app: Data<App>, path: Path<String>) -> Answer {
    let wearer = id(&path)?;
    app.ask(move |n: &Notebook| n.restore_wearer(wearer)).await?;
    respond::see(&format!("/wearers/{wearer}"))
}
