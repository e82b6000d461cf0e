//! The shared lists as a site of plain files, which any host can carry to any
//! number of viewers: an index, a page for each list, its pictures drawn anew.
//!
//! - [`folder`]: the folder it is written into: what is ours there, and nothing else
//! - [`pages`]: the pages
//! - [`sync`]: files onto the disk
//!
//! Only what is ticked is in it. A list whose sources did not change is not
//! worked out again, a file that did not change is not written again, and what is
//! shared no longer is taken away.

mod folder;
mod pages;
mod sync;

use super::list::{Materials, Source, materials, pictures, title_for};
use super::slug;
use crate::figures;
use crate::measure::Unit;
use crate::notebook::{Id, Notebook, NotebookError, PhotoHash, PhotoSize, Seen};
use crate::plan::Plan;
use folder::{Folder, hash};
use pages::Card;
use std::path::Path;

/// Raise when pages of the same sources come out otherwise.
const WORDING: u32 = 2;

/// What was done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Published {
    pub lists: usize,
    /// Files that are new or differ.
    pub written: usize,
    pub unchanged: usize,
    pub removed: usize,
    /// Pictures whose files are gone or damaged.
    pub problems: Vec<String>,
}

/// Writes the site into `to`, which is new, empty, or holds a site this
/// program wrote. `address` is where the site will stand, for machines that show
/// a link with its picture; without it they show the title alone.
pub fn publish(notebook: &Notebook, to: &Path, address: Option<&str>) -> Result<Published, NotebookError> {
    let address = address.map(checked).transpose()?;
    let mut folder = Folder::open(to)?;
    let mut done = Published::default();
    let mut lists = Vec::new();
    for id in notebook.on_site()? {
        let seen = notebook.seen(id)?;
        if seen.shown.choices.iter().any(|c| c.shown) {
            lists.push(seen);
        }
    }
    let wanted: Vec<(Id, String)> = lists.iter().map(|s| (s.project, slug(&title_of(s)))).collect();
    let places = notebook.site_addresses(&wanted)?;
    for (name, bytes) in pages::shared_files() {
        folder.put(name, bytes)?;
    }
    let mut cards = Vec::new();
    for seen in &lists {
        let Some(place) = places.get(&seen.project) else {
            continue;
        };
        cards.push(list(notebook, &mut folder, seen, place, address.as_deref(), &mut done)?);
        done.lists += 1;
    }
    folder.put("index.html", pages::index(&cards, address.as_deref()).as_bytes())?;
    let counts = folder.finish()?;
    (done.written, done.unchanged, done.removed) = (counts.written, counts.unchanged, counts.removed);
    Ok(done)
}

fn title_of(seen: &Seen) -> String {
    title_for(&seen.shown.title, &seen.shown.choices)
}

/// `https://example.org/lists`, without a slash at its end.
fn checked(address: &str) -> Result<String, NotebookError> {
    let plain = address.trim().trim_end_matches('/');
    let web = ["https://", "http://"]
        .iter()
        .any(|s| plain.starts_with(s) && plain.len() > s.len());
    if !web || plain.contains(|c: char| c.is_whitespace() || c.is_control() || "\"<>#?".contains(c)) {
        return Err(NotebookError::Refused {
            field: "address",
            message: format!(
                "“{address}” is no address of a site. Type it as the browser shows it, such as https://example.org/lists."
            ),
        });
    }
    Ok(plain.to_string())
}

/// One list; nothing is worked out where its sources are those of the last time.
fn list(
    notebook: &Notebook,
    folder: &mut Folder,
    seen: &Seen,
    place: &str,
    address: Option<&str>,
    done: &mut Published,
) -> Result<Card, NotebookError> {
    let hashes = pictures(&seen.shown.choices);
    let sources = sources(seen, place, address);
    let title = title_of(seen);
    let named = |n: usize| format!("{place}/picture-{}.jpg", n + 1);
    let small = format!("{place}/small.jpg");
    if folder.keep(place, &sources) {
        let there: Vec<String> = (0..hashes.len()).map(named).filter(|name| folder.holds(name)).collect();
        return Ok(Card {
            title,
            place: place.to_string(),
            picture: folder.holds(&small).then_some(small).filter(|_| !there.is_empty()),
        });
    }
    let mut shown = Vec::new();
    let mut card = None;
    let mut whole = true;
    for (n, photo) in hashes.iter().enumerate() {
        match drawn(notebook, photo, PhotoSize::Page) {
            Ok(bytes) => {
                folder.put(&named(n), &bytes)?;
                shown.push(format!("picture-{}.jpg", n + 1));
                if card.is_none() {
                    folder.put(&small, &drawn(notebook, photo, PhotoSize::Small)?)?;
                    card = Some(small.clone());
                }
            }
            Err(error) => {
                whole = false;
                done.problems
                    .push(format!("A picture of “{title}” is left out: {error}"));
            }
        }
    }
    let told = told(seen, &seen.plan);
    let other = self::told(seen, &seen.plan.read_in(other_unit(seen.plan.unit)));
    let image = address
        .zip(shown.first())
        .map(|(base, name)| format!("{base}/{place}/{name}"));
    for (name, text) in pages::list(&told, &other, &shown, image.as_deref()) {
        folder.put(&format!("{place}/{name}"), text.as_bytes())?;
    }
    // With a picture missing it is looked at again the next time.
    if whole {
        folder.made_of(place, sources);
    }
    Ok(Card {
        title,
        place: place.to_string(),
        picture: card,
    })
}

fn other_unit(unit: Unit) -> Unit {
    match unit {
        Unit::Inch => Unit::Cm,
        Unit::Cm => Unit::Inch,
    }
}

fn told(seen: &Seen, plan: &Plan) -> Materials {
    materials(&Source {
        title: &seen.shown.title,
        pattern: &seen.shown.pattern,
        plan,
        figures: &figures::work_out(plan),
        steps: &seen.shown.steps,
        decisions: &seen.shown.decisions,
        choices: &seen.shown.choices,
        width: None,
    })
}

fn drawn(notebook: &Notebook, photo: &PhotoHash, size: PhotoSize) -> Result<Vec<u8>, NotebookError> {
    Ok(std::fs::read(notebook.photo_file(photo, size)?)?)
}

/// A hash of all a page depends on. It stands in the folder's list of files, so
/// it is made with care that nothing can be guessed from it: of the whole plan,
/// its prices and all, together with what is unlike in every notebook.
fn sources(seen: &Seen, place: &str, address: Option<&str>) -> String {
    let shown = serde_json::to_string(&seen.shown).unwrap_or_default();
    let text = format!(
        "{}\n{WORDING}\n{}\n{place}\n{}\n{shown}\n{}",
        env!("CARGO_PKG_VERSION"),
        seen.project,
        address.unwrap_or_default(),
        seen.plan.to_json()
    );
    hash(text.as_bytes())
}
