//! A form that is saved after the same thing was saved elsewhere: what does
//! not clash is put together, what clashes is shown side by side.

mod rows;

pub use rows::List;

use super::app::App;
use super::components::photo;
use super::error::WebError;
use super::form::{Errors, Shown, Typed};
use super::pages::photo_hash as hash;
use crate::measure::Unit;
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

/// Fields of a form that are more than one value each.
#[derive(Clone, Copy, Default)]
pub struct Many<'a> {
    /// The photos of an entry: what either took out is out, what either put in is in.
    pub sets: &'a [&'a str],
    /// Lists whose rows are put together one by one.
    pub lists: &'a [List],
    /// Of a bare number in those rows.
    pub unit: Unit,
}

/// Saves a form. One that was overtaken is put together with what was saved
/// meanwhile and saved on top of it, unless both changed the same.
pub async fn put<K>(
    mut typed: Typed,
    many: Many<'_>,
    save: impl AsyncFn(&Typed) -> Result<Put, WebError>,
    now: impl AsyncFn(i64) -> Result<Now<K>, WebError>,
) -> Result<Kept<K>, WebError> {
    for tries in 0.. {
        match save(&typed).await? {
            Put::Done => break,
            Put::Refused(errors) => return Ok(Kept::Refused(Shown { typed, errors })),
            Put::Stale(what) => {
                let now = now(typed.get(SEEN).parse().unwrap_or(0)).await?;
                let both = together(now.before.as_ref(), &now.theirs, &typed, many);
                if both.clashes() || tries == OVERTAKEN {
                    let note = clash_note(&what, &both);
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
    /// What both changed, differently; of it `typed` has what was typed here.
    pub clashing: Vec<Clash>,
}

/// A field or a row both changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    pub name: String,
    pub theirs: String,
    pub mine: String,
}

impl Together {
    pub fn clashes(&self) -> bool {
        !self.clashing.is_empty()
    }
}

/// Puts together what was typed here (`mine`) and what was saved meanwhile
/// (`theirs`), both begun from `before`. Field by field: what one of them
/// changed is taken. Rows of the lists in `many` are put together one by one;
/// of any other list all numbered fields are one, for their numbers mean
/// another row when one was taken out before it.
pub fn together(before: Option<&Typed>, theirs: &Typed, mine: &Typed, many: Many<'_>) -> Together {
    let mut typed = Typed::default();
    let mut clashing = Vec::new();
    let mut single: Vec<&List> = Vec::new();
    for list in many.lists {
        // Too many rows, or not known what they were: all of them together.
        if let Some(merged) = before.and_then(|b| list.together(b, theirs, mine, many.unit)) {
            typed.0.extend(merged.fields);
            clashing.extend(merged.clashes.into_iter().map(|c| Clash {
                name: format!("{} {}", list.name, c.at + 1),
                theirs: c.theirs,
                mine: c.mine,
            }));
            single.push(list);
        }
    }
    let is_done = |name: &str| single.iter().any(|list| list.has(name));
    let names: BTreeSet<&str> = [theirs, mine]
        .into_iter()
        .flat_map(|t| t.0.iter().map(|(n, _)| n.as_str()))
        .filter(|n| !is_done(n))
        .map(part)
        .filter(|n| *n != SEEN)
        .collect();

    for name in names {
        let of = |typed: &Typed| {
            let mut list = values(typed, name);
            list.retain(|(n, _)| !is_done(n));
            list
        };
        let (was, saved, here) = (before.map(of), of(theirs), of(mine));
        let chosen = if let (true, Some(was)) = (many.sets.contains(&name), &was) {
            let mut all: Vec<(String, String)> = saved.clone();
            all.retain(|v| here.contains(v) || !was.contains(v));
            all.extend(here.iter().filter(|v| !was.contains(v) && !saved.contains(v)).cloned());
            all
        } else if saved == here || was.as_ref() == Some(&here) {
            saved
        } else {
            if was.as_ref() != Some(&saved) {
                clashing.extend(differing(&saved, &here));
            }
            here
        };
        typed.0.extend(chosen);
    }
    // Saved again, it begins from what is there now.
    typed.set(SEEN, theirs.get(SEEN));
    Together { typed, clashing }
}

/// The fields of two versions that differ.
fn differing(saved: &[(String, String)], here: &[(String, String)]) -> Vec<Clash> {
    let of = |list: &[(String, String)], name: &str| {
        let found = list.iter().find(|(n, _)| n == name);
        found.map(|(_, v)| v.clone()).unwrap_or_default()
    };
    let names: BTreeSet<&String> = saved.iter().chain(here).map(|(n, _)| n).collect();
    let clashes = names.into_iter().map(|name| Clash {
        name: name.replace('_', " "),
        theirs: of(saved, name),
        mine: of(here, name),
    });
    clashes.filter(|c| c.theirs != c.mine).collect()
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
    let differing: Vec<Clash> = saved
        .0
        .iter()
        .filter(|(n, v)| mine.has(n) && mine.get(n) != v)
        .map(|(n, v)| Clash {
            name: n.replace('_', " "),
            theirs: v.clone(),
            mine: mine.get(n).to_string(),
        })
        .collect();
    note(what, &differing, false)
}

/// As [`stale_note`], of what clashes alone.
pub fn clash_note(what: &str, both: &Together) -> Markup {
    note(what, &both.clashing, true)
}

fn note(what: &str, differing: &[Clash], put_together: bool) -> Markup {
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
                    tbody { @for clash in differing {
                        tr { th scope="row" { (clash.name) } td { (shown(&clash.theirs)) } td { (shown(&clash.mine)) } }
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

fn shown(value: &str) -> Markup {
    match (value, hash(value)) {
        ("", _) => html! { "–" },
        (_, Some(picture)) => html! { div.version-photo { (photo(&picture, "This photo")) } },
        _ => html! { (value) },
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
        let both = together(Some(&before), &theirs, &mine, Many::default());
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
        let both = together(Some(&before), &theirs, &mine, Many::default());
        let named: Vec<&str> = both.clashing.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(named, ["title"]);
        assert_eq!(both.typed.get("title"), "Mantle");
        assert_eq!(both.typed.get("about"), "y");
        let note = clash_note("This project", &both).0;
        assert!(
            note.contains("Cloak") && note.contains("Mantle") && !note.contains("about"),
            "{note}"
        );
    }

    #[test]
    fn a_field_emptied_here_stays_empty() {
        let before = form(&[("about", "x"), ("title", "t")]);
        let theirs = form(&[("about", "x"), ("title", "u")]);
        let both = together(
            Some(&before),
            &theirs,
            &form(&[("about", ""), ("title", "t")]),
            Many::default(),
        );
        assert!(!both.clashes());
        assert_eq!((both.typed.get("about"), both.typed.get("title")), ("", "u"));
    }

    #[test]
    fn without_the_version_it_began_from_every_difference_clashes() {
        let both = together(
            None,
            &form(&[("a", "1"), ("b", "2")]),
            &form(&[("a", "1"), ("b", "3")]),
            Many {
                sets: &["a"],
                ..Many::default()
            },
        );
        assert!(both.clashing.len() == 1 && both.clashing[0].name == "b");
    }

    #[test]
    fn rows_are_never_mixed() {
        let before = form(&[("width_0", "1"), ("note_0", "a"), ("width_1", "2"), ("note_1", "b")]);
        // There the first row was taken out, here the second row's note was changed.
        let theirs = form(&[("width_0", "2"), ("note_0", "b")]);
        let mine = form(&[("width_0", "1"), ("note_0", "a"), ("width_1", "2"), ("note_1", "c")]);
        let both = together(Some(&before), &theirs, &mine, Many::default());
        assert!(both.clashes());
        assert_eq!(both.typed.get("note_1"), "c");
        assert!(clash_note("x", &both).0.contains("note 1"));
    }

    /// A list of its own is put together row by row beside the other numbered fields.
    #[test]
    fn rows_of_a_list_are_put_together_one_by_one() {
        let lists = [List {
            prefix: "rem_",
            name: "Remnant",
            most: 20,
            aside: &[],
        }];
        let many = Many {
            lists: &lists,
            ..Many::default()
        };
        let before = form(&[("rem_width_0", "1"), ("name_0", "Waist")]);
        let theirs = form(&[("rem_width_0", "1"), ("rem_width_1", "2"), ("name_0", "Hip")]);
        let mine = form(&[("rem_width_0", "4"), ("rem_width_1", "3"), ("name_0", "Waist")]);
        let both = together(Some(&before), &theirs, &mine, many);
        assert!(!both.clashes(), "{:?}", both.clashing);
        assert_eq!(both.typed.get("name_0"), "Hip");
        let widths: Vec<&str> = (0..4)
            .map(|n| {
                both.typed
                    .0
                    .iter()
                    .find(|(f, _)| *f == format!("rem_width_{n}"))
                    .map_or("", |(_, v)| v)
            })
            .collect();
        assert_eq!(widths, ["4", "2", "3", ""]);
        // Not known what it began from: every difference is asked about, and what was typed here stands.
        let both = together(None, &theirs, &mine, many);
        assert!(both.clashes() && both.typed.get("rem_width_0") == "4");
    }

    #[test]
    fn photos_put_in_on_both_devices_are_all_there() {
        let before = form(&[("photo", "a"), ("photo", "b")]);
        let theirs = form(&[("photo", "a"), ("photo", "b"), ("photo", "c")]);
        let mine = form(&[("photo", "b"), ("photo", "d")]);
        let both = together(
            Some(&before),
            &theirs,
            &mine,
            Many {
                sets: &["photo"],
                ..Many::default()
            },
        );
        assert!(!both.clashes());
        assert_eq!(both.typed.all("photo").collect::<Vec<_>>(), ["b", "c", "d"]);
    }
}
