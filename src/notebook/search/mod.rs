//! Search over everything that is written: projects, the parts of their plans
//! as they are now, the log, the shelf, the wearers. Nothing of the bin.

/// The index, and how it stays in step.
mod index;
/// What is found of each thing, in words.
mod rows;
/// What people type, as a query.
mod words;

pub(super) use index::{catch_up, watch};

use super::columns::{At, Key, Word};
use super::{Id, Notebook, ProjectState, Result};
use chrono::{DateTime, Utc};
use rusqlite::{Row, Transaction, params};

/// What a search is narrowed to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SearchFilter {
    pub state: Option<ProjectState>,
    /// Made for this wearer.
    pub wearer: Option<Id>,
    /// This cloth of the shelf, and projects whose plan uses it.
    pub cloth: Option<Id>,
    /// From the first moment up to, and without, the second: entries that
    /// happened then, projects that were worked on then.
    pub within: Option<(DateTime<Utc>, DateTime<Utc>)>,
}

impl SearchFilter {
    pub fn is_empty(&self) -> bool {
        *self == SearchFilter::default()
    }
}

/// What kind of thing was found, in the order they are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoundKind {
    /// A cloth, closure, notion, tool, the binding or thread of a plan.
    Material,
    /// A piece of a plan, with its alterations.
    Piece,
    Project,
    Step,
    Entry,
    /// A cloth of the shelf.
    Cloth,
    Wearer,
}

impl FoundKind {
    pub const ALL: [FoundKind; 7] = [
        FoundKind::Material,
        FoundKind::Piece,
        FoundKind::Project,
        FoundKind::Step,
        FoundKind::Entry,
        FoundKind::Cloth,
        FoundKind::Wearer,
    ];

    const fn word(self) -> &'static str {
        match self {
            FoundKind::Material => "material",
            FoundKind::Piece => "piece",
            FoundKind::Project => "project",
            FoundKind::Step => "step",
            FoundKind::Entry => "entry",
            FoundKind::Cloth => "cloth",
            FoundKind::Wearer => "wearer",
        }
    }
}

/// A stretch of what was written; `hit` where it is what was looked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Excerpt {
    pub text: String,
    pub hit: bool,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    pub kind: FoundKind,
    /// The project it stands in, and its title.
    pub project: Option<(Id, String)>,
    /// The id of an entry, step, cloth or wearer; of a part of a plan its key in
    /// lists: `cloth/c1`, `notion/n2`, `piece/p1`, `binding`.
    pub item: String,
    pub title: String,
    pub excerpt: Vec<Excerpt>,
    /// Of an entry.
    pub happened_at: Option<DateTime<Utc>>,
}

/// Things of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundGroup {
    pub kind: FoundKind,
    pub found: Vec<Found>,
    /// There are more than are handed out.
    pub more: bool,
}

/// Most things of a kind that are handed out: more are narrowed down, not read.
const MOST: usize = 60;

/// Stand round what was looked for; no text field takes them.
const OPEN: char = '\u{2}';
const CLOSE: char = '\u{3}';

impl Notebook {
    /// What has all the words of `text` in it, by kind; kinds of which nothing
    /// was found are left out. Any text will do, none finds nothing.
    pub fn search(&self, text: &str, filter: &SearchFilter) -> Result<Vec<FoundGroup>> {
        let Some(query) = words::query(text) else {
            return Ok(Vec::new());
        };
        self.read(|t| {
            let mut groups = Vec::new();
            for kind in FoundKind::ALL {
                let mut found = find(t, kind, &query, filter)?;
                let more = found.len() > MOST;
                found.truncate(MOST);
                if !found.is_empty() {
                    groups.push(FoundGroup { kind, found, more });
                }
            }
            Ok(groups)
        })
    }

    /// From the first project's beginning to the last change of any.
    pub fn begun_and_changed(&self) -> Result<Option<(DateTime<Utc>, DateTime<Utc>)>> {
        self.read(|t| {
            let (first, last) = t.query_row(
                "SELECT min(created_at), max(changed_at) FROM project WHERE binned_at IS NULL",
                [],
                |r| Ok((r.get::<_, Option<At>>(0)?, r.get::<_, Option<At>>(1)?)),
            )?;
            Ok(first.zip(last).map(|(first, last)| (first.0, last.0)))
        })
    }
}

fn find(t: &Transaction<'_>, kind: FoundKind, query: &str, filter: &SearchFilter) -> Result<Vec<Found>> {
    // The log is told in the order of time, the rest by how well it fits; parts
    // of one plan stay together.
    let order = match kind {
        FoundKind::Entry => "e.happened_at DESC",
        FoundKind::Material | FoundKind::Piece => "p.changed_at DESC, p.id",
        FoundKind::Project | FoundKind::Step | FoundKind::Cloth | FoundKind::Wearer => "bm25(search, 10.0, 2.0, 0.5)",
    };
    let mut statement = t.prepare_cached(&format!(
        "SELECT s.project, p.title AS project_title, s.item, s.title, e.happened_at,
                snippet(search, 1, char(2), char(3), '…', 24) AS excerpt
         FROM search JOIN search_text s ON s.id = search.rowid
         LEFT JOIN project p ON p.id = s.project
         LEFT JOIN entry e ON s.kind = 'entry' AND e.id = s.item
         WHERE search MATCH ?1 AND s.kind = ?2 AND p.binned_at IS NULL AND e.binned_at IS NULL
            AND (?3 IS NULL OR p.state = ?3)
            AND (?4 IS NULL OR p.wearer = ?4 OR (s.kind = 'wearer' AND s.item = ?4))
            AND (?5 IS NULL OR (s.kind = 'cloth' AND s.item = ?5) OR EXISTS
                (SELECT 1 FROM revision r, json_each(r.plan, '$.cloths') c WHERE r.project = p.id
                    AND r.number = (SELECT max(number) FROM revision WHERE project = p.id)
                    AND c.value ->> '$.stock' = ?5))
            AND (?6 IS NULL OR CASE s.kind WHEN 'entry' THEN e.happened_at >= ?6 AND e.happened_at < ?7
                ELSE p.created_at < ?7 AND p.changed_at >= ?6 END)
         ORDER BY {order}, s.id LIMIT ?8"
    ))?;
    let rows = statement.query_map(
        params![
            query,
            kind.word(),
            filter.state.map(Word),
            filter.wearer.map(Key),
            filter.cloth.map(Key),
            filter.within.map(|w| At(w.0)),
            filter.within.map(|w| At(w.1)),
            MOST as i64 + 1,
        ],
        |row| found(row, kind),
    )?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn found(row: &Row<'_>, kind: FoundKind) -> rusqlite::Result<Found> {
    let project: Option<Key> = row.get("project")?;
    let title: Option<String> = row.get("project_title")?;
    let excerpt: String = row.get("excerpt")?;
    Ok(Found {
        kind,
        project: project.map(|p| p.0).zip(title),
        item: row.get("item")?,
        title: row.get("title")?,
        excerpt: stretches(&with_whole_figures(&excerpt)),
        happened_at: row.get::<_, Option<At>>("happened_at")?.map(|at| at.0),
    })
}

/// An excerpt may begin or end in the middle of a length: "15 3…" of "15 3/8 in"
/// would be read as another. Figures at a cut end are left out.
fn with_whole_figures(excerpt: &str) -> String {
    let figure = |word: &str| word.chars().any(|c| c.is_ascii_digit()) && !word.contains([OPEN, CLOSE]);
    let (begun, text) = match excerpt.strip_prefix('…') {
        Some(text) => (true, text),
        None => (false, excerpt),
    };
    let (ended, mut text) = match text.strip_suffix('…') {
        Some(text) => (true, text.trim_end()),
        None => (false, text),
    };
    while begun && let Some((_, rest)) = text.split_once(' ').filter(|(first, _)| figure(first)) {
        text = rest.trim_start();
    }
    while ended && let Some((rest, _)) = text.rsplit_once(' ').filter(|(_, last)| figure(last)) {
        text = rest.trim_end();
    }
    let end = |cut: bool| if cut { "…" } else { "" };
    format!("{}{text}{}", end(begun), end(ended))
}

fn stretches(marked: &str) -> Vec<Excerpt> {
    let mut list = Vec::new();
    let mut hit = false;
    for part in marked.split_inclusive([OPEN, CLOSE]) {
        let text = part.trim_end_matches([OPEN, CLOSE]);
        if !text.is_empty() {
            list.push(Excerpt { text: text.into(), hit });
        }
        hit = part.ends_with(OPEN);
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_figure_is_cut_short() {
        assert_eq!(with_whole_figures("neck base girth 15 3…"), "neck base girth…");
        assert_eq!(
            with_whole_figures("…8 in (168.0 cm), neck 15 3/8 in"),
            "…in (168.0 cm), neck 15 3/8 in"
        );
        assert_eq!(with_whole_figures("take-up 4 %"), "take-up 4 %");
        assert_eq!(with_whole_figures("…3 \u{2}4\u{3}…"), "…\u{2}4\u{3}…");
        assert_eq!(with_whole_figures("…"), "…");
    }

    #[test]
    fn what_was_looked_for_is_told_apart() {
        let parts: Vec<(String, bool)> = stretches("a \u{2}snap\u{3}, and \u{2}snaps\u{3}")
            .into_iter()
            .map(|e| (e.text, e.hit))
            .collect();
        let said: Vec<(&str, bool)> = parts.iter().map(|(t, h)| (t.as_str(), *h)).collect();
        assert_eq!(
            said,
            [("a ", false), ("snap", true), (", and ", false), ("snaps", true)]
        );
    }
}
