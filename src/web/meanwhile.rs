//! A form that is saved after the same thing was saved elsewhere: what does
//! not clash is put together, what clashes is shown side by side.

use super::app::App;
use super::error::WebError;
use super::form::{Errors, Shown, Typed};
use crate::notebook::{Notebook, NotebookError};
use maud::{Markup, html};
use std::collections::BTreeSet;

/// What came of trying to save a form.
pub enum Put {
    Done,
    Refused(Errors),
    /// It was saved elsewhere since; what it is called.
    Stale(String),
}

impl Put {
    /// Asks the notebook to save.
    pub async fn ask<T: Send + 'static>(
        app: &App,
        save: impl FnOnce(&Notebook) -> Result<T, NotebookError> + Send + 'static,
    ) -> Result<Put, WebError> {
        match app.ask(save).await {
            Ok(_) => Ok(Put::Done),
            Err(WebError::Notebook(NotebookError::Stale(what))) => Ok(Put::Stale(what)),
            Err(other) => Err(other),
        }
    }
}

/// What is there now of what a form is about.
pub struct Now<K> {
    /// The form as it was when this one was opened, where that is still known.
    pub before: Option<Typed>,
    pub theirs: Typed,
    /// What the page needs to be shown again.
    pub known: K,
}

pub enum Kept<K> {
    Saved,
    Refused(Shown),
    /// To be looked at once more: the form, a note above it, what is there now.
    Clash(Shown, Markup, K),
}

/// Saves a form. One that was overtaken is put together with what was saved
/// meanwhile and saved on top of it, unless both changed the same.
pub async fn put<K>(
    mut typed: Typed,
    sets: &[&str],
    save: impl AsyncFn(&Typed) -> Result<Put, WebError>,
    now: impl AsyncFn(i64) -> Result<Now<K>, WebError>,
) -> Result<Kept<K>, WebError> {
    for tries in 0.. {
        match save(&typed).await? {
            Put::Done => break,
            Put::Refused(errors) => return Ok(Kept::Refused(Shown { typed, errors })),
            Put::Stale(what) => {
                let now = now(typed.get(SEEN).parse().unwrap_or(0)).await?;
                let both = together(now.before.as_ref(), &now.theirs, &typed, sets);
                if both.clashes() || tries == OVERTAKEN {
                    let note = clash_note(&what, &now.theirs, &both);
                    return Ok(Kept::Clash(Shown::from(both.typed), note, now.known));
                }
                typed = both.typed;
            }
        }
    }
    Ok(Kept::Saved)
}

/// How often a form may be overtaken before the maker is asked.
const OVERTAKEN: u32 = 3;

/// The form as both meant it.
pub struct Together {
    pub typed: Typed,
    /// Fields both changed, differently; of these `typed` has what was typed here.
    pub clashing: Vec<String>,
}

impl Together {
    pub fn clashes(&self) -> bool {
        !self.clashing.is_empty()
    }
}

/// Puts together what was typed here (`mine`) and what was saved meanwhile
/// (`theirs`), both begun from `before`. Field by field: what one of them
/// changed is taken. Rows of a list have numbers in their fields' names, which
/// mean another row when one was taken out before it: all numbered fields are
/// one. Of the fields in `sets` (the photos of an entry) what either took out
/// is out, and what either put in is in.
pub fn together(before: Option<&Typed>, theirs: &Typed, mine: &Typed, sets: &[&str]) -> Together {
    let mut typed = Typed::default();
    let mut clashing = Vec::new();
    let names: BTreeSet<&str> = [theirs, mine]
        .into_iter()
        .flat_map(|t| t.0.iter().map(|(n, _)| part(n)))
        .filter(|n| *n != SEEN)
        .collect();

    for name in names {
        let (was, saved, here) = (
            before.map(|b| values(b, name)),
            values(theirs, name),
            values(mine, name),
        );
        let chosen = if let (true, Some(was)) = (sets.contains(&name), &was) {
            let mut all: Vec<(String, String)> = saved.clone();
            all.retain(|v| here.contains(v) || !was.contains(v));
            all.extend(here.iter().filter(|v| !was.contains(v) && !saved.contains(v)).cloned());
            all
        } else if saved == here || was.as_ref() == Some(&here) {
            saved
        } else {
            if was.as_ref() != Some(&saved) {
                clashing.push(name.to_string());
            }
            here
        };
        typed.0.extend(chosen);
    }
    // Saved again, it begins from what is there now.
    typed.set(SEEN, theirs.get(SEEN));
    Together { typed, clashing }
}

/// The version a form was filled from.
const SEEN: &str = "seen";

const NUMBERED: &str = "rows";

fn part(name: &str) -> &str {
    let stem = name.trim_end_matches(|c: char| c.is_ascii_digit());
    match stem.len() < name.len() && stem.ends_with('_') {
        true => NUMBERED,
        false => name,
    }
}

/// As a browser may say the same in several ways: line ends, an empty field
/// or none.
fn values(typed: &Typed, name: &str) -> Vec<(String, String)> {
    let mut list: Vec<(String, String)> = typed
        .0
        .iter()
        .filter(|(n, v)| part(n) == name && !v.trim().is_empty())
        .map(|(n, v)| (n.clone(), v.replace("\r\n", "\n").replace('\r', "\n")))
        .collect();
    if name == NUMBERED {
        list.sort();
    }
    list
}

/// Both versions side by side where two devices saved different things. What
/// was typed here stands in the form below; saving again keeps it.
pub fn stale_note(what: &str, saved: &Typed, mine: &Typed) -> Markup {
    let differing: Vec<&str> = saved
        .0
        .iter()
        .filter(|(n, v)| mine.has(n) && mine.get(n) != v)
        .map(|(n, _)| n.as_str())
        .collect();
    note(what, saved, mine, &differing, false)
}

/// As [`stale_note`], of the fields that clash alone.
pub fn clash_note(what: &str, saved: &Typed, both: &Together) -> Markup {
    let of: Vec<&str> = saved
        .0
        .iter()
        .chain(&both.typed.0)
        .map(|(n, _)| n.as_str())
        .filter(|n| both.clashing.iter().any(|c| c == part(n)))
        .filter(|n| saved.get(n) != both.typed.get(n))
        .collect::<BTreeSet<&str>>()
        .into_iter()
        .collect();
    note(what, saved, &both.typed, &of, true)
}

fn note(what: &str, saved: &Typed, mine: &Typed, differing: &[&str], put_together: bool) -> Markup {
    html! {
        div.errors role="alert" tabindex="-1" {
            p { b { (what) " was changed on another device or in another tab since you opened it. Nothing is lost." } }
            @if put_together {
                p { "Below, what does not clash is put together, and where both changed the same stands what you typed here. To keep it so, save again; the other version stays among the earlier ones." }
            } @else {
                p { "Below is what you typed here. To keep it, save again; the other version stays among the earlier ones." }
            }
            @if !differing.is_empty() {
                table.versions {
                    thead { tr { th { "" } th { "Saved meanwhile" } th { "Typed here" } } }
                    tbody { @for name in differing {
                        tr { th scope="row" { (name.replace('_', " ")) } td { (shown(saved, name)) } td { (shown(mine, name)) } }
                    } }
                }
            }
        }
    }
}

/// Above both versions, where something was to be taken again or undone on a
/// page that was overtaken.
pub fn not_done(what: &str, done: &str) -> Markup {
    html! {
        div.errors role="alert" tabindex="-1" {
            p { b { (what) " was changed on another device or in another tab since you opened the page, so nothing was " (done) " yet." } }
            p { "Below stand both beside each other. Look at what is there now, and choose again." }
        }
    }
}

fn shown(typed: &Typed, name: &str) -> String {
    match typed.get(name) {
        "" => "–".into(),
        value => value.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(fields: &[(&str, &str)]) -> Typed {
        Typed(fields.iter().map(|(n, v)| (n.to_string(), v.to_string())).collect())
    }

    #[test]
    fn what_one_of_them_changed_is_taken() {
        let before = form(&[("title", "Cape"), ("about", "a\nb"), ("due", "")]);
        let theirs = form(&[("title", "Cape of wool"), ("about", "a\nb"), ("due", "")]);
        let mine = form(&[("title", "Cape"), ("about", "a\r\nb"), ("due", "2026-12-01")]);
        let both = together(Some(&before), &theirs, &mine, &[]);
        assert!(!both.clashes());
        assert_eq!(both.typed.get("title"), "Cape of wool");
        assert_eq!(both.typed.get("due"), "2026-12-01");
        assert_eq!(both.typed.get("about"), "a\nb");
    }

    #[test]
    fn what_both_changed_clashes_and_stays_as_typed() {
        let before = form(&[("title", "Cape"), ("about", "x")]);
        let theirs = form(&[("title", "Cloak"), ("about", "y")]);
        let mine = form(&[("title", "Mantle"), ("about", "x")]);
        let both = together(Some(&before), &theirs, &mine, &[]);
        assert_eq!(both.clashing, ["title"]);
        assert_eq!(both.typed.get("title"), "Mantle");
        assert_eq!(both.typed.get("about"), "y");
        let note = clash_note("This project", &theirs, &both).0;
        assert!(
            note.contains("Cloak") && note.contains("Mantle") && !note.contains("about"),
            "{note}"
        );
    }

    #[test]
    fn a_field_emptied_here_stays_empty() {
        let before = form(&[("about", "x"), ("title", "t")]);
        let theirs = form(&[("about", "x"), ("title", "u")]);
        let both = together(Some(&before), &theirs, &form(&[("about", ""), ("title", "t")]), &[]);
        assert!(!both.clashes());
        assert_eq!((both.typed.get("about"), both.typed.get("title")), ("", "u"));
    }

    #[test]
    fn without_the_version_it_began_from_every_difference_clashes() {
        let both = together(
            None,
            &form(&[("a", "1"), ("b", "2")]),
            &form(&[("a", "1"), ("b", "3")]),
            &["a"],
        );
        assert_eq!(both.clashing, ["b"]);
    }

    #[test]
    fn rows_are_never_mixed() {
        let before = form(&[("width_0", "1"), ("note_0", "a"), ("width_1", "2"), ("note_1", "b")]);
        // There the first row was taken out, here the second row's note was changed.
        let theirs = form(&[("width_0", "2"), ("note_0", "b")]);
        let mine = form(&[("width_0", "1"), ("note_0", "a"), ("width_1", "2"), ("note_1", "c")]);
        let both = together(Some(&before), &theirs, &mine, &[]);
        assert_eq!(both.clashing, [NUMBERED]);
        assert_eq!(both.typed.get("note_1"), "c");
        assert!(clash_note("x", &theirs, &both).0.contains("note 1"));
    }

    #[test]
    fn photos_put_in_on_both_devices_are_all_there() {
        let before = form(&[("photo", "a"), ("photo", "b")]);
        let theirs = form(&[("photo", "a"), ("photo", "b"), ("photo", "c")]);
        let mine = form(&[("photo", "b"), ("photo", "d")]);
        let both = together(Some(&before), &theirs, &mine, &["photo"]);
        assert!(!both.clashes());
        assert_eq!(both.typed.all("photo").collect::<Vec<_>>(), ["b", "c", "d"]);
    }
}
