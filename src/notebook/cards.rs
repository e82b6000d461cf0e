use super::columns::{At, Key, Word};
use super::plans::current;
use super::projects::{details_of, for_whom};
use super::{Id, Look, Notebook, NotebookError, PhotoHash, ProjectCard, ProjectState, Result};
use rusqlite::{ToSql, Transaction};

impl Notebook {
    /// Those not in the bin, the one changed last first.
    pub fn projects(&self) -> Result<Vec<ProjectCard>> {
        self.read(|t| self.cards(t, "p.binned_at IS NULL", &[], "p.changed_at"))
    }

    /// As [`Notebook::projects`], without the finished ones.
    pub fn open_projects(&self) -> Result<Vec<ProjectCard>> {
        let finished = Word(ProjectState::Finished);
        self.read(|t| self.cards(t, "p.binned_at IS NULL AND p.state <> ?1", &[&finished], "p.changed_at"))
    }

    /// The finished ones, the one changed last first: at most so many, without
    /// the first so many; and how many there are in all.
    pub fn finished_projects(&self, without: usize, most: usize) -> Result<(Vec<ProjectCard>, usize)> {
        let number = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
        self.read(|t| {
            let finished = Word(ProjectState::Finished);
            let all: i64 = t
                .prepare_cached("SELECT count(*) FROM project WHERE binned_at IS NULL AND state = ?1")?
                .query_row([&finished], |r| r.get(0))?;
            // What is looked up for each is looked up of those that are shown.
            let which = "p.id IN (SELECT id FROM project WHERE binned_at IS NULL AND state = ?1
                                  ORDER BY changed_at DESC, id DESC LIMIT ?2 OFFSET ?3)";
            let values: [&dyn ToSql; 3] = [&finished, &number(most), &number(without)];
            let cards = self.cards(t, which, &values, "p.changed_at")?;
            Ok((cards, usize::try_from(all).unwrap_or(0)))
        })
    }

    /// The bin, the one put there last first.
    pub fn binned_projects(&self) -> Result<Vec<ProjectCard>> {
        self.read(|t| self.cards(t, "p.binned_at IS NOT NULL", &[], "p.binned_at"))
    }

    /// Those that are `which`, the latest by `order` first.
    fn cards(&self, t: &Transaction<'_>, which: &str, values: &[&dyn ToSql], order: &str) -> Result<Vec<ProjectCard>> {
        let sql = format!(
            "SELECT p.*, w.name AS wearer_name, (SELECT max(number) FROM revision WHERE project = p.id) AS revision,
                    coalesce(p.cover, (SELECT i.photo FROM entry e JOIN entry_photo i ON i.entry = e.id
                        WHERE e.project = p.id AND e.binned_at IS NULL
                        ORDER BY e.happened_at DESC, e.id DESC, i.position LIMIT 1)) AS shown_photo,
                    (SELECT e.text FROM entry e WHERE e.project = p.id AND e.binned_at IS NULL AND trim(e.text) <> ''
                        ORDER BY e.happened_at DESC, e.id DESC LIMIT 1) AS last_text
             FROM project p LEFT JOIN wearer w ON w.id = p.wearer
             WHERE {which} ORDER BY {order} DESC, p.id DESC"
        );
        let mut statement = t.prepare_cached(&sql)?;
        let pictures = super::swatches::pictures(t)?;
        let rows = statement.query_map(values, |row| {
            let details = details_of(row)?;
            let last: Option<String> = row.get("last_text")?;
            Ok(ProjectCard {
                id: row.get::<_, Key>("id")?.0,
                for_whom: for_whom(row, &details)?,
                details,
                photo: row.get::<_, Option<String>>("shown_photo")?.map(PhotoHash),
                changed_at: row.get::<_, At>("changed_at")?.0,
                last_entry: last.and_then(|text| first_line(&text)),
                revision: row.get("revision")?,
                swatches: Vec::new(),
            })
        })?;
        let mut cards: Vec<ProjectCard> = rows.collect::<rusqlite::Result<_>>()?;
        // Where a photo is shown no plan is read.
        for card in cards.iter_mut().filter(|c| c.photo.is_none()) {
            let cloths = self.known_colours().of(card.id, card.revision, || drawn(t, card.id))?;
            let looks = cloths.iter().map(|c| Look {
                picture: c.stock.as_deref().and_then(|stock| pictures.of_stock(stock)).cloned(),
                colour: c.colour.clone(),
            });
            card.swatches = looks.collect();
        }
        Ok(cards)
    }
}

/// A cloth of a plan, as far as it is drawn in a list.
pub(super) struct Drawn {
    stock: Option<String>,
    colour: String,
}

fn first_line(text: &str) -> Option<String> {
    text.lines()
        .map(str::trim)
        .find(|line| !line.is_empty())
        .map(String::from)
}

/// A plan that cannot be read must not hide the whole list; its own page says what is wrong.
fn drawn(t: &Transaction<'_>, id: Id) -> Result<Vec<Drawn>> {
    match current(t, id) {
        Ok(revision) => {
            let cloths = revision.plan.cloths.into_iter();
            Ok(cloths
                .map(|c| Drawn {
                    stock: c.stock,
                    colour: c.colour,
                })
                .collect())
        }
        Err(NotebookError::Damaged(error)) => {
            tracing::warn!(%error, "a plan in the list of projects cannot be read");
            Ok(Vec::new())
        }
        Err(other) => Err(other),
    }
}
