//! What is found of each thing, in words: its title, and all that a maker may
//! remember of it. Parts of a plan also say what they are for.

use super::FoundKind;
use crate::figures::outline_words;
use crate::measure::{Length, Round, Unit};
use crate::notebook::{Entry, LineChoice, Movement, MovementKind, PhotoMark, ProjectDetails, Step, StockCloth, Wearer};
use crate::plan::{ClothKind, Face, NotionKind, Piece, Plan, TakeUpFrom};
use pulldown_cmark::{Event, Parser, TagEnd};

/// A row of the index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    pub kind: FoundKind,
    /// The second an entry happened in, since 1970; 0 of all else.
    pub second: i64,
    pub item: String,
    pub title: String,
    pub body: String,
    /// Where it stands; see the migrations.
    pub place: String,
}

pub fn place(details: &ProjectDetails, for_whom: &str) -> String {
    joined(&[&details.title, for_whom])
}

pub fn project(details: &ProjectDetails, for_whom: &str) -> Found {
    let pattern = &details.pattern;
    let size = said("size ", &pattern.size);
    Found {
        kind: FoundKind::Project,
        second: 0,
        item: String::new(),
        title: details.title.clone(),
        body: joined(&[
            &said("for ", for_whom),
            &plain(&details.about),
            &pattern.name,
            &pattern.maker,
            &size,
        ]),
        place: String::new(),
    }
}

/// The materials and pieces of a plan. The items are the keys of the materials list.
pub fn plan(plan: &Plan, choices: &[LineChoice], place: &str) -> Vec<Found> {
    let said = |key: &str| {
        let choice = choices.iter().find(|c| c.key == key);
        choice.map_or(["", ""], |c| [c.remark.as_str(), c.substitute.as_str()])
    };
    let mut rows = Vec::new();
    let mut add = |kind: FoundKind, item: String, title: &str, parts: &[&str]| {
        let body = [parts, &said(&item)].concat();
        rows.push(Found {
            kind,
            second: 0,
            title: title.into(),
            body: joined(&body),
            item,
            place: place.into(),
        });
    };
    for c in &plan.cloths {
        let batting = if c.kind == ClothKind::Batting { "batting" } else { "" };
        let uses = plan.uses_of(&c.id).join(", ");
        add(
            FoundKind::Material,
            format!("cloth/{}", c.id),
            &c.name,
            &[batting, &c.fibre, &uses],
        );
    }
    if let Some(binding) = &plan.binding {
        let cloth = plan.cloth(&binding.cloth).map_or("", |c| c.name.as_str());
        let edges: Vec<&str> = plan.edges.iter().map(|e| e.name.as_str()).collect();
        add(
            FoundKind::Material,
            "binding".into(),
            "Binding",
            &[cloth, &edges.join(", ")],
        );
    }
    for c in &plan.closures {
        let words = format!("{}, {}", c.kind.name(), c.kind.counted(2));
        add(FoundKind::Material, format!("closure/{}", c.id), &c.name, &[&words]);
    }
    if plan.thread.is_some() {
        add(FoundKind::Material, "thread".into(), "Thread", &[]);
    }
    for n in &plan.notions {
        let tool = if n.kind == NotionKind::Tool { "tool" } else { "" };
        add(
            FoundKind::Material,
            format!("notion/{}", n.id),
            &n.name,
            &[&n.quantity, &n.remark, tool],
        );
    }
    for p in &plan.pieces {
        add(FoundKind::Piece, format!("piece/{}", p.id), &p.name, &[&piece(p)]);
    }
    rows
}

fn piece(p: &Piece) -> String {
    let mut words: Vec<String> = Vec::new();
    if let Some(Face::Patchwork(patchwork)) = &p.face {
        words.push("patchwork".into());
        for unit in &patchwork.units {
            let name = unit.kind.name().to_string();
            if !words.contains(&name) {
                words.push(name);
            }
        }
    }
    if p.layers.is_some() {
        words.push("quilted".into());
        match p.take_up_from {
            TakeUpFrom::Spacing => words.push("take-up by the quilting lines".into()),
            TakeUpFrom::Typed if p.take_up.as_hundredths() > 0 => words.push(format!("take-up {}", p.take_up)),
            TakeUpFrom::Typed => {}
        }
    }
    for a in &p.alterations {
        words.push(format!("altered in {}", a.along.name()));
        words.push(a.reason.clone());
    }
    for c in p.outline_changes() {
        words.push("outline changed".into());
        words.push(c.reason.clone());
    }
    joined(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

pub fn step(step: &Step, place: &str) -> Found {
    Found {
        kind: FoundKind::Step,
        second: 0,
        item: step.id.to_string(),
        title: step.title.clone(),
        body: step.work.map_or(String::new(), |w| w.name().into()),
        place: place.into(),
    }
}

/// With what is marked on its photos; `tied` are the names of the step, piece
/// and cloth it belongs to.
pub fn entry(entry: &Entry, marks: &[PhotoMark], unit: Unit, tied: &[&str], place: &str) -> Found {
    let marks: Vec<String> = marks
        .iter()
        .map(|m| joined(&[&m.what, &both(m.length, unit)]))
        .collect();
    let work = entry.work.map_or("", |w| w.kind.name());
    let thought = entry.second_thought.as_ref().map_or("", |s| s.text.as_str());
    Found {
        kind: FoundKind::Entry,
        second: entry.happened_at.timestamp(),
        item: entry.id.to_string(),
        title: String::new(),
        body: joined(&[
            work,
            &plain(&entry.text),
            &entry.length.map(|l| both(l, unit)).unwrap_or_default(),
            &plain(&entry.why),
            &plain(thought),
            &joined(&marks.iter().map(String::as_str).collect::<Vec<_>>()),
            &joined(tied),
        ]),
        place: place.into(),
    }
}

pub fn cloth(c: &StockCloth, history: &[Movement], unit: Unit) -> Found {
    let batting = if c.kind == ClothKind::Batting { "batting" } else { "" };
    Found {
        kind: FoundKind::Cloth,
        second: 0,
        item: c.id.to_string(),
        title: c.name.clone(),
        body: joined(&[
            batting,
            &c.fibre,
            &at_hand(c, unit),
            &plain(&c.note),
            &bought(history, unit),
        ]),
        place: String::new(),
    }
}

/// What there is of it, so that "linen remnant" is answered by its size.
fn at_hand(c: &StockCloth, unit: Unit) -> String {
    let down = |l: Length| l.both(unit, Round::Down);
    let some = |count: u32, of: String, note: &str| {
        let many = if count == 1 {
            "remnant".into()
        } else {
            format!("{count} remnants")
        };
        format!(
            "{many} {of}{}",
            if note.is_empty() {
                String::new()
            } else {
                format!(" ({note})")
            }
        )
    };
    let mut words = vec![format!("{} wide", down(c.usable_width))];
    if c.owned.is_positive() {
        words.push(format!(
            "{} at hand in one piece",
            c.owned.both_cloth(unit, Round::Down)
        ));
    }
    words.extend(c.remnants.iter().map(|r| {
        let size = format!("{} × {}", down(r.width), down(r.length));
        some(r.count, size, &r.note)
    }));
    words.extend(
        c.outlined
            .iter()
            .map(|o| some(o.count, outline_words(&o.outline, unit), &o.note)),
    );
    let patches = c.ready_cut.iter().map(|r| r.count).fold(0, u32::saturating_add);
    if patches > 0 {
        words.push(format!("{patches} ready-cut patches"));
    }
    words.join(", ")
}

/// When it was bought and for how much.
fn bought(history: &[Movement], unit: Unit) -> String {
    let bought = history.iter().filter(|m| m.kind == MovementKind::Bought).map(|m| {
        let price = m
            .price
            .as_ref()
            .map_or(String::new(), |p| format!(" at {} a {}", p.amount, p.per.name()));
        let length = m.length.both_cloth(unit, Round::Down);
        format!("bought {length}{price}, {}", m.day.format("%-d %B %Y"))
    });
    bought.collect::<Vec<_>>().join("; ")
}

/// With the newest measurements, so that the answer is in what is found.
pub fn wearer(w: &Wearer, unit: Unit) -> Found {
    let measures: Vec<String> = w
        .sets
        .iter()
        .take(1)
        .flat_map(|set| &set.values)
        .map(|m| format!("{} {}", m.name, both(m.value, unit)))
        .collect();
    Found {
        kind: FoundKind::Wearer,
        second: 0,
        item: w.id.to_string(),
        title: w.name.clone(),
        body: joined(&[w.kind.name(), &plain(&w.note), &measures.join(", ")]),
        place: String::new(),
    }
}

fn both(length: Length, unit: Unit) -> String {
    length.both(unit, Round::Nearest)
}

fn said(before: &str, text: &str) -> String {
    if text.is_empty() {
        String::new()
    } else {
        format!("{before}{text}")
    }
}

fn joined(parts: &[&str]) -> String {
    let parts: Vec<&str> = parts.iter().copied().filter(|p| !p.is_empty()).collect();
    parts.join(" · ")
}

/// Markdown as it is read, without its marks.
fn plain(markdown: &str) -> String {
    let mut text = String::new();
    for event in Parser::new(markdown) {
        match event {
            Event::Text(words) | Event::Code(words) | Event::Html(words) | Event::InlineHtml(words) => {
                text.push_str(&words);
            }
            Event::End(TagEnd::Strong | TagEnd::Emphasis | TagEnd::Link) => {}
            Event::SoftBreak | Event::HardBreak | Event::Rule | Event::End(_) => text.push(' '),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markdown_is_found_as_it_is_read() {
        let text = "# Snaps\n\nFive **snaps**,\n[here](https://example.org) <b>x</b>\n\n- one\n- two";
        assert_eq!(plain(text), "Snaps Five snaps, here <b>x</b> one two");
    }
}
