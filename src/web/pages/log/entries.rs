//! Entries as forms carry them, and saving them so that nothing typed is lost
//! and nothing is written twice.

use super::ties::{self, Ties};
use crate::measure::hours;
use crate::notebook::{Entry, EntryKind, Id, Notebook, NotebookError, WorkDone};
use crate::plan::Work;
use crate::web::app::form_id;
use crate::web::form::{LINE, Reader, Typed, word};
use chrono::{DateTime, Datelike, Duration, Utc};

/// An empty entry of a kind under the id its form carries.
pub fn begun(kind: EntryKind, typed: &Typed) -> Entry {
    Entry {
        id: form_id(typed),
        kind,
        happened_at: happened_at(typed),
        text: String::new(),
        why: String::new(),
        length: None,
        work: None,
        piece: None,
        cloth: None,
        step: None,
        photos: Vec::new(),
        revisions: None,
        effect: Vec::new(),
        second_thought: None,
        version: 1,
    }
}

/// When the device says it happened. Script fills it in when the form is
/// sent; an empty or impossible time is taken as now.
fn happened_at(typed: &Typed) -> DateTime<Utc> {
    let now = Utc::now();
    DateTime::parse_from_rfc3339(typed.get("happened_at"))
        .map(|t| t.with_timezone(&Utc))
        .ok()
        .filter(|t| t.year() >= 2000 && *t < now + Duration::days(1))
        .unwrap_or(now)
}

/// Reads the words of an entry from the fields its kind has.
pub fn read_words(r: &mut Reader, entry: &mut Entry, ties: &Ties) {
    ties.read(r, entry);
    match entry.kind {
        EntryKind::Note => {
            entry.text = r.text("text");
            if entry.text.is_empty() && entry.photos.is_empty() {
                r.errors
                    .add("text", "Write a word or two; an empty note says nothing later.");
            }
        }
        EntryKind::Photo => entry.text = r.text("text"),
        EntryKind::Decision => {
            entry.text = r.required("decided", LINE, "Say in one line what you decided.");
            entry.why = r.text("why");
        }
        EntryKind::Measure => {
            entry.text = r.required(
                "measured",
                LINE,
                "Say what you measured, such as “strap, seam to seam”.",
            );
            entry.length = Some(r.length("length"));
        }
        EntryKind::Work => {
            entry.text = r.line("did", LINE);
            if r.typed.get("work").is_empty() {
                r.errors.add("work", "Choose which work it was.");
            }
            let kind = if r.errors.has("work") {
                Work::Other
            } else {
                r.choice("work")
            };
            let minutes = r.minutes("minutes", 1..=WorkDone::MOST);
            entry.work = Some(WorkDone { kind, minutes });
        }
    }
}

/// The words of an entry as its fields show them.
pub fn fill_words(typed: &mut Typed, entry: &Entry, length: impl Fn(crate::measure::Length) -> String) {
    ties::fill(typed, entry);
    match entry.kind {
        EntryKind::Note | EntryKind::Photo => typed.set("text", &entry.text),
        EntryKind::Decision => {
            typed.set("decided", &entry.text);
            typed.set("why", &entry.why);
        }
        EntryKind::Measure => {
            typed.set("measured", &entry.text);
            typed.set("length", entry.length.map(length).unwrap_or_default());
        }
        EntryKind::Work => {
            typed.set("did", &entry.text);
            if let Some(work) = &entry.work {
                typed.set("work", word(&work.kind));
                typed.set("minutes", hours(work.minutes.into()));
            }
        }
    }
}

/// Keeps an entry a form sent. Sent again as it was, it changes nothing; sent
/// again with other words (back, mended, saved), the words become a new
/// version, and photos not seen before are added.
pub fn keep(notebook: &Notebook, project: Id, entry: &Entry) -> Result<(), NotebookError> {
    let (owner, now) = match notebook.entry(entry.id) {
        Err(NotebookError::NotFound(_)) => return notebook.add_entry(project, entry),
        found => found?,
    };
    if owner != project {
        return Err(NotebookError::NotFound("entry"));
    }
    let earlier = notebook.earlier_entries(now.id)?;
    let merged = merged(&now, &earlier, entry);
    if merged != now {
        notebook.save_entry(now.version, &merged)?;
    }
    Ok(())
}

fn merged(now: &Entry, earlier: &[Entry], sent: &Entry) -> Entry {
    let versions = || earlier.iter().chain([now]);
    let words = |e: &Entry| {
        (
            (e.text.clone(), e.why.clone(), e.length, e.work),
            (e.piece.clone(), e.cloth.clone(), e.step),
        )
    };
    let mut merged = now.clone();
    if !versions().any(|v| words(v) == words(sent)) {
        (
            (merged.text, merged.why, merged.length, merged.work),
            (merged.piece, merged.cloth, merged.step),
        ) = words(sent);
    }
    for photo in &sent.photos {
        if !versions().any(|v| v.photos.contains(photo)) {
            merged.photos.push(photo.clone());
        }
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::PhotoHash;

    fn note(text: &str, photos: &[&str]) -> Entry {
        let mut entry = begun(EntryKind::Note, &Typed::default());
        entry.id = Id::nil();
        entry.happened_at = DateTime::UNIX_EPOCH;
        entry.text = text.into();
        entry.photos = photos.iter().map(|p| PhotoHash((*p).into())).collect();
        entry
    }

    #[test]
    fn a_late_resend_does_not_undo_a_later_edit() {
        let first = note("hem pined", &["a"]);
        let mended = note("hem pinned", &["a"]);
        assert_eq!(merged(&mended, std::slice::from_ref(&first), &first), mended);
        // A photo taken out by hand does not come back by a resend.
        let without = note("hem pinned", &[]);
        assert_eq!(merged(&without, std::slice::from_ref(&first), &first), without);
    }

    #[test]
    fn other_words_under_the_same_id_are_kept() {
        let first = note("hem pinned", &["a"]);
        let again = note("hem pinned and pressed", &["b"]);
        assert_eq!(merged(&first, &[], &again), note("hem pinned and pressed", &["a", "b"]));
    }

    #[test]
    fn impossible_times_become_now() {
        let at = |text: &str| {
            let mut typed = Typed::default();
            typed.set("happened_at", text);
            happened_at(&typed)
        };
        assert_eq!(at("2025-11-25T10:00:00Z").to_rfc3339(), "2025-11-25T10:00:00+00:00");
        for bad in ["", "yesterday", "1970-01-01T00:00:00Z", "9999-01-01T00:00:00Z"] {
            assert!(at(bad) > Utc::now() - Duration::minutes(1), "{bad}");
        }
    }
}
