//! Looking things up in the index. The words of the log's commonest are in
//! most of its entries, so nothing here looks at more than it hands out, but for
//! bare rowids.

use super::words::Query;
use super::{Excerpt, Found, FoundGroup, FoundKind, SearchFilter, places};
use crate::notebook::Result;
use crate::notebook::columns::{At, Key, Word};
use rusqlite::{Row, ToSql, Transaction, params};
use std::collections::{HashMap, HashSet};

/// Most things of a kind that are handed out: more are narrowed down, not read.
const MOST: usize = 60;
/// So many rows are looked at one by one to put them in order; of more the
/// projects are walked through instead.
const FEW: usize = 500;

/// Stand round what was looked for; no text field takes them.
const OPEN: char = '\u{2}';
const CLOSE: char = '\u{3}';
const EXCERPT: &str = "snippet(search, 1, char(2), char(3), '…', 24)";

/// By kind, in the order they are shown.
pub fn find(t: &Transaction<'_>, query: &Query, filter: &SearchFilter) -> Result<Vec<FoundGroup>> {
    let rows = rows(t, &query.all)?;
    let titled: HashSet<i64> = match rows.iter().any(|row| ranked_rows().contains(row)) {
        true => self::rows(t, &query.titles)?.into_iter().collect(),
        false => HashSet::new(),
    };
    let mut chosen = Vec::new();
    for kind in FoundKind::ALL.into_iter().filter(|k| *k != FoundKind::Entry) {
        // The rows are in order, so those of a kind stand together.
        let range = places::of(kind);
        let from = rows.partition_point(|row| row < range.start());
        let to = rows.partition_point(|row| row <= range.end());
        let of_kind = &rows[from..to];
        // A hit in its name goes before one elsewhere; parts of a plan stay together.
        let (names, others): (Vec<i64>, Vec<i64>) = match kind {
            FoundKind::Material | FoundKind::Piece => (of_kind.to_vec(), Vec::new()),
            _ => of_kind.iter().partition(|row| titled.contains(row)),
        };
        let mut first = in_order(t, kind, &names, filter)?;
        if first.len() <= MOST {
            first.extend(in_order(t, kind, &others, filter)?);
            first.truncate(MOST + 1);
        }
        chosen.push((kind, first));
    }
    let wanted: Vec<i64> = chosen.iter().flat_map(|(_, rows)| rows).copied().collect();
    let mut told = told(t, &wanted)?;
    let mut excerpts = excerpts(t, &query.all, &wanted)?;
    let mut groups = Vec::new();
    for kind in FoundKind::ALL {
        let found: Vec<Found> = match chosen.iter().find(|(of, _)| *of == kind) {
            Some((_, rows)) => rows
                .iter()
                .filter_map(|row| {
                    let mut found = told.remove(row)?;
                    found.excerpt = excerpts.remove(row).unwrap_or_default();
                    Some(found)
                })
                .collect(),
            None => entries(t, &query.all, filter)?,
        };
        groups.push(group(kind, found));
    }
    groups.retain(|group| !group.found.is_empty());
    Ok(groups)
}

fn group(kind: FoundKind, mut found: Vec<Found>) -> FoundGroup {
    let more = found.len() > MOST;
    found.truncate(MOST);
    FoundGroup { kind, found, more }
}

/// Kinds told by how well they fit, with an excerpt.
fn ranked_rows() -> std::ops::RangeInclusive<i64> {
    *places::of(FoundKind::Project).start()..=i64::MAX
}

/// Rowids of what is found outside the log, in order.
fn rows(t: &Transaction<'_>, query: &str) -> Result<Vec<i64>> {
    let range = places::without_the_log();
    let mut statement =
        t.prepare_cached("SELECT rowid FROM search WHERE search MATCH ?1 AND rowid BETWEEN ?2 AND ?3 ORDER BY rowid")?;
    let rows = statement.query_map(params![query, range.start(), range.end()], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// What a filter asks of `p`, a project, or of `s`, a row of no project.
const NARROWED: &str = "p.binned_at IS NULL
    AND (?2 IS NULL OR p.state = ?2)
    AND (?3 IS NULL OR p.wearer = ?3 OR (s.kind = 'wearer' AND s.item = ?3))
    AND (?4 IS NULL OR (s.kind = 'cloth' AND s.item = ?4) OR p.id IN
        (SELECT r.project FROM revision r, json_each(r.plan, '$.cloths') c
         WHERE r.number = (SELECT max(number) FROM revision WHERE project = r.project) AND c.value ->> '$.stock' = ?4))";
/// Worked on in that time. A row of no project is of no time.
const WORKED_ON: &str = "(?5 IS NULL OR (p.created_at < ?6 AND p.changed_at >= ?5))";

/// The first of these rows, those of the project changed last first.
fn in_order(t: &Transaction<'_>, kind: FoundKind, rows: &[i64], filter: &SearchFilter) -> Result<Vec<i64>> {
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let few = rows.len() <= FEW || matches!(kind, FoundKind::Cloth | FoundKind::Wearer);
    let (from, first) = match few {
        true => (
            "json_each(?1) j CROSS JOIN search_text s ON s.id = j.value LEFT JOIN project p ON p.id = s.project",
            json(rows),
        ),
        // Newest first, and no further than is needed.
        false => (
            "project p CROSS JOIN search_text s ON s.project = p.id AND s.kind = ?1",
            kind.word().to_string(),
        ),
    };
    let mut statement = t.prepare_cached(&format!(
        "SELECT s.id FROM {from} WHERE {NARROWED} AND {WORKED_ON} ORDER BY p.changed_at DESC, p.id, s.id"
    ))?;
    let mut walked = statement.query(params![
        first,
        filter.state.map(Word),
        filter.wearer.map(Key),
        filter.cloth.map(Key),
        filter.within.map(|w| At(w.0)),
        filter.within.map(|w| At(w.1)),
    ])?;
    let mut chosen = Vec::new();
    while let Some(row) = walked.next()? {
        let row: i64 = row.get(0)?;
        if few || rows.binary_search(&row).is_ok() {
            chosen.push(row);
            if chosen.len() > MOST {
                break;
            }
        }
    }
    Ok(chosen)
}

/// What stands in these rows.
fn told(t: &Transaction<'_>, rows: &[i64]) -> Result<HashMap<i64, Found>> {
    let mut statement = t.prepare_cached(
        "SELECT s.id, s.kind, s.project, p.title AS project_title, s.item, s.title
         FROM json_each(?1) j CROSS JOIN search_text s ON s.id = j.value LEFT JOIN project p ON p.id = s.project",
    )?;
    let found = statement.query_map([json(rows)], |r| {
        let kind: String = r.get("kind")?;
        let kind = FoundKind::ALL.into_iter().find(|k| k.word() == kind);
        Ok((r.get("id")?, found(r, kind.unwrap_or(FoundKind::Entry))?))
    })?;
    Ok(found.collect::<rusqlite::Result<_>>()?)
}

/// The words of these rows by which they were found. Materials and pieces are
/// told by what they answer.
fn excerpts(t: &Transaction<'_>, query: &str, rows: &[i64]) -> Result<HashMap<i64, Vec<Excerpt>>> {
    let range = ranked_rows();
    let wanted: Vec<i64> = rows.iter().copied().filter(|row| range.contains(row)).collect();
    if wanted.is_empty() {
        return Ok(HashMap::new());
    }
    let mut statement = t.prepare_cached(&format!(
        "SELECT rowid, CASE WHEN rowid IN (SELECT value FROM json_each(?4)) THEN {EXCERPT} END
         FROM search WHERE search MATCH ?1 AND rowid BETWEEN ?2 AND ?3 ORDER BY rowid"
    ))?;
    let mut excerpts = HashMap::new();
    let mut all = statement.query(params![query, range.start(), range.end(), json(&wanted)])?;
    while let Some(row) = all.next()? {
        if let Some(text) = row.get::<_, Option<String>>(1)? {
            excerpts.insert(row.get(0)?, excerpt(&text));
        }
    }
    Ok(excerpts)
}

/// Of the log, the newest first: the index is in that order, so that it is read
/// no further than what is handed out.
fn entries(t: &Transaction<'_>, query: &str, filter: &SearchFilter) -> Result<Vec<Found>> {
    let range = places::within(filter.within);
    let mut statement = t.prepare_cached(&format!(
        "SELECT s.project, p.title AS project_title, s.item, s.title, e.happened_at, {EXCERPT} AS excerpt
         FROM search CROSS JOIN search_text s ON s.id = search.rowid
         CROSS JOIN project p ON p.id = s.project
         CROSS JOIN entry e ON e.id = s.item
         WHERE search MATCH ?1 AND search.rowid BETWEEN ?7 AND ?8 AND {NARROWED}
            AND e.binned_at IS NULL AND (?5 IS NULL OR (e.happened_at >= ?5 AND e.happened_at < ?6))
         ORDER BY search.rowid DESC LIMIT ?9"
    ))?;
    let values: [&dyn ToSql; 9] = [
        &query,
        &filter.state.map(Word),
        &filter.wearer.map(Key),
        &filter.cloth.map(Key),
        &filter.within.map(|w| At(w.0)),
        &filter.within.map(|w| At(w.1)),
        range.start(),
        range.end(),
        &(MOST as i64 + 1),
    ];
    let rows = statement.query_map(values, |r| {
        let text: String = r.get("excerpt")?;
        Ok(Found {
            excerpt: excerpt(&text),
            happened_at: r.get::<_, Option<At>>("happened_at")?.map(|at| at.0),
            ..found(r, FoundKind::Entry)?
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn json(rows: &[i64]) -> String {
    let rows: Vec<String> = rows.iter().map(i64::to_string).collect();
    format!("[{}]", rows.join(","))
}

/// Without its excerpt and its moment.
fn found(row: &Row<'_>, kind: FoundKind) -> rusqlite::Result<Found> {
    let project: Option<Key> = row.get("project")?;
    let title: Option<String> = row.get("project_title")?;
    Ok(Found {
        kind,
        project: project.map(|p| p.0).zip(title),
        item: row.get("item")?,
        title: row.get("title")?,
        excerpt: Vec::new(),
        happened_at: None,
    })
}

fn excerpt(text: &str) -> Vec<Excerpt> {
    stretches(&with_whole_figures(text))
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
