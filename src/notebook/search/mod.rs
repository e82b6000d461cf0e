//! Search over everything that is written: projects, the parts of their plans
//! as they are now, the log, the shelf, the wearers. Nothing of the bin.

/// Looking things up in the index.
mod find;
/// The index, and how it stays in step.
mod index;
/// How the index is ordered.
mod places;
/// What is found of each thing, in words.
mod rows;
/// What people type, as a query.
mod words;

pub(super) use index::{catch_up, watch};

use super::columns::At;
use super::{Id, Notebook, ProjectState, Result};
use chrono::{DateTime, Utc};

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

impl Notebook {
    /// What has all the words of `text` in it, by kind; kinds of which nothing
    /// was found are left out. Any text will do, none finds nothing.
    pub fn search(&self, text: &str, filter: &SearchFilter) -> Result<Vec<FoundGroup>> {
        let Some(query) = words::query(text) else {
            return Ok(Vec::new());
        };
        self.read(|t| find::find(t, &query, filter))
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
