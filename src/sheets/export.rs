//! The notebook as a folder that reads well by itself: Markdown for a person,
//! JSON that [`crate::notebook::Notebook::import`] takes in again, and the
//! pictures as they were taken.

use crate::figures::{self, outline_words};
use crate::measure::{Round, hours, video_time};
use crate::notebook::{
    Entry, EntryKind, Id, Letter, Notebook, NotebookError, Part, ProjectFolder, Step, StockCloth, Wearer,
};
use serde::Serialize;
use std::collections::{HashMap, HashSet};
use std::path::{Path, PathBuf};

/// What was written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Exported {
    pub projects: usize,
    pub photos: usize,
    /// Photos whose files are gone or damaged.
    pub problems: Vec<String>,
}

#[derive(Serialize)]
struct NotebookFile<'a, S: Serialize> {
    format: u32,
    settings: &'a S,
}

/// Writes the notebook into `to`, which must be new or empty.
pub fn export(notebook: &Notebook, to: &Path) -> Result<Exported, NotebookError> {
    if std::fs::read_dir(to).is_ok_and(|mut items| items.next().is_some()) {
        return Err(NotebookError::Refused {
            field: "folder",
            message: format!(
                "The folder {} is not empty. Name a new or an empty one: nothing is written over.",
                to.display()
            ),
        });
    }
    std::fs::create_dir_all(to)?;
    let mut done = Exported::default();
    let mut folder = Folder::new(to);
    notebook.read_out(|part| -> Result<(), NotebookError> {
        match part {
            Part::Settings(settings) => {
                folder.name = settings.name.clone();
                folder.json(
                    "notebook.json",
                    &NotebookFile {
                        format: 1,
                        settings: &settings,
                    },
                )?;
            }
            Part::Cloths(cloths) => {
                folder.json("cloths.json", &cloths)?;
                folder.text("cloths.md", &shelf(&cloths))?;
            }
            Part::Wearers(wearers) => {
                folder.wearers = wearers.iter().map(|w| (w.id, w.name.clone())).collect();
                folder.json("wearers.json", &wearers)?;
                folder.text("wearers.md", &measured(&wearers))?;
            }
            Part::Shopping(shopping) => folder.json("shop.json", &shopping)?,
            Part::Project(project) => {
                folder.project(&project)?;
                done.projects += 1;
            }
            Part::Photo(Ok((name, bytes))) => {
                folder.bytes(&format!("photos/{name}"), &bytes)?;
                done.photos += 1;
            }
            Part::Photo(Err(problem)) => done.problems.push(problem),
        }
        Ok(())
    })?;
    folder.contents()?;
    Ok(done)
}

struct Folder {
    root: PathBuf,
    name: String,
    wearers: HashMap<Id, String>,
    /// Folders of projects with their titles.
    projects: Vec<(String, String)>,
    taken: HashSet<String>,
}

impl Folder {
    fn new(root: &Path) -> Folder {
        Folder {
            root: root.to_path_buf(),
            name: String::new(),
            wearers: HashMap::new(),
            projects: Vec::new(),
            taken: HashSet::new(),
        }
    }

    fn bytes(&self, name: &str, bytes: &[u8]) -> Result<(), NotebookError> {
        let path = self.root.join(name);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)?;
        }
        Ok(std::fs::write(path, bytes)?)
    }

    fn text(&self, name: &str, text: &str) -> Result<(), NotebookError> {
        self.bytes(name, text.as_bytes())
    }

    fn json<T: Serialize>(&self, name: &str, value: &T) -> Result<(), NotebookError> {
        let mut text = serde_json::to_string_pretty(value).map_err(|e| NotebookError::Damaged(e.to_string()))?;
        text.push('\n');
        self.text(name, &text)
    }

    fn project(&mut self, project: &ProjectFolder) -> Result<(), NotebookError> {
        let title = &project.file.details.title;
        let slug = self.free(&slug(title));
        self.json(&format!("projects/{slug}/project.json"), &project.file)?;
        self.json(&format!("projects/{slug}/log.json"), &project.log)?;
        let for_whom = project
            .file
            .details
            .wearer
            .and_then(|w| self.wearers.get(&w).cloned())
            .unwrap_or_else(|| project.file.details.for_whom.clone());
        self.text(&format!("projects/{slug}/project.md"), &page(project, &for_whom))?;
        self.projects.push((slug, title.clone()));
        Ok(())
    }

    /// A name no other project of this folder has.
    fn free(&mut self, slug: &str) -> String {
        let name = (1..)
            .map(|n| {
                if n == 1 {
                    slug.to_string()
                } else {
                    format!("{slug}-{n}")
                }
            })
            .find(|name| !self.taken.contains(name))
            .unwrap_or_default();
        self.taken.insert(name.clone());
        name
    }

    fn contents(&self) -> Result<(), NotebookError> {
        let mut text = format!("# {}\n\n", one_line(&self.name));
        text.push_str(
            "Written by Notchbook. Each project is a page; the JSON beside it is for `notchbook import`.\n\n\
             The photos are the originals. They may say where and with which camera they were taken: to give one away, save \
             it from a page of the notebook, which shows copies without that.\n\n",
        );
        for (slug, title) in &self.projects {
            text.push_str(&format!("- [{}](projects/{slug}/project.md)\n", escaped(title)));
        }
        text.push_str("- [The shelf](cloths.md)\n- [Wearers](wearers.md)\n");
        self.text("README.md", &text)
    }
}

/// A title as the name of a folder: plain letters, figures and hyphens.
pub(super) fn slug(title: &str) -> String {
    let mut slug = String::new();
    for c in title.to_lowercase().chars() {
        match c {
            'a'..='z' | '0'..='9' => slug.push(c),
            _ if !slug.is_empty() && !slug.ends_with('-') => slug.push('-'),
            _ => {}
        }
        if slug.len() >= 60 {
            break;
        }
    }
    let slug = slug.trim_matches('-');
    if slug.is_empty() { "project".into() } else { slug.into() }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Words that are no Markdown of ours.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in one_line(text).chars() {
        if matches!(c, '\\' | '[' | ']' | '*' | '_' | '`' | '<' | '>' | '#' | '|') {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn page(project: &ProjectFolder, for_whom: &str) -> String {
    let ProjectFolder { file, log } = project;
    let d = &file.details;
    let mut text = format!("# {}\n\n", escaped(&d.title));
    let mut fact = |label: &str, value: String| {
        if !value.trim().is_empty() {
            text.push_str(&format!("- {label}: {value}\n"));
        }
    };
    fact("State", d.state.name().into());
    fact("For", escaped(for_whom));
    let pattern = [&d.pattern.name, &d.pattern.maker, &d.pattern.size].map(|t| escaped(t));
    let named: Vec<String> = pattern.iter().filter(|t| !t.is_empty()).cloned().collect();
    fact("Pattern", named.join(", "));
    fact("Pattern link", d.pattern.link.clone());
    fact("Due", d.due.map(|day| day.to_string()).unwrap_or_default());
    fact("Begun", file.created_at.format("%Y-%m-%d").to_string());
    if !d.about.trim().is_empty() {
        text.push_str(&format!("\n{}\n", d.about.trim()));
    }
    if let Some(newest) = file.revisions.last() {
        let figures = figures::work_out(&newest.plan);
        text.push_str("\n## Figures\n\n```text\n");
        // A fence inside would end it early; nothing the figures say has one.
        text.push_str(&figures::as_text(&newest.plan, &figures).replace("```", "'''"));
        text.push_str("```\n");
    }
    if let Some(pair) = &file.variants {
        text.push_str("\n## Two variants beside each other\n\n");
        for (variant, letter) in pair.iter().zip(Letter::ALL) {
            text.push_str(&format!(
                "- {}, from revision {}: {}\n",
                letter.name(),
                variant.from,
                escaped(&variant.note)
            ));
        }
    }
    if !file.steps.is_empty() {
        text.push_str("\n## Steps\n\n");
        for step in &file.steps {
            text.push_str(&step_line(step));
        }
    }
    text.push_str("\n## Log\n");
    for entry in log {
        text.push_str(&written(entry, &file.steps));
    }
    if let Some(pair) = &file.before_after {
        text.push_str(&format!(
            "\n## Before and after\n\nBefore: `photos/{}`, after: `photos/{}`\n",
            pair.before.0, pair.after.0
        ));
    }
    if !file.marks.is_empty() {
        text.push_str("\n## Measures marked on photos\n\n");
    }
    for mark in &file.marks {
        let length = mark.length.both(crate::measure::Unit::Inch, Round::Nearest);
        text.push_str(&format!(
            "- {}: {length}, on `photos/{}`\n",
            if mark.what.is_empty() {
                "Measure".into()
            } else {
                escaped(&mark.what)
            },
            mark.photo.0
        ));
    }
    text.push_str("\n## Revisions of the plan\n\n");
    for r in &file.revisions {
        text.push_str(&format!(
            "{}. {}, {}\n",
            r.number,
            r.made_at.format("%Y-%m-%d"),
            escaped(&r.what)
        ));
    }
    text
}

/// `- [x] Cut the patches (cut), about 45 min, 4:05 in the video, done 2026-03-04`
fn step_line(step: &Step) -> String {
    let mut text = format!(
        "- [{}] {}",
        if step.done_at.is_some() { "x" } else { " " },
        escaped(&step.title)
    );
    if let Some(work) = step.work {
        text.push_str(&format!(" ({})", work.name()));
    }
    if let Some(minutes) = step.minutes {
        text.push_str(&format!(", about {}", hours(minutes.into())));
    }
    if let Some(seconds) = step.video {
        text.push_str(&format!(", {} in the video", video_time(seconds)));
    }
    if let Some(at) = step.done_at {
        text.push_str(&format!(", done {}", at.format("%Y-%m-%d")));
    }
    text.push('\n');
    text
}

fn written(entry: &Entry, steps: &[Step]) -> String {
    let mut text = format!(
        "\n### {}, {}\n\n",
        entry.happened_at.format("%Y-%m-%d %H:%M"),
        entry.kind.name()
    );
    if let Some(length) = entry.length {
        text.push_str(&format!(
            "{} ({})\n\n",
            length.inches(Round::Nearest),
            length.cm(Round::Nearest)
        ));
    }
    if let Some(work) = &entry.work {
        text.push_str(&format!("{}, {}\n\n", work.kind.name(), hours(work.minutes.into())));
    }
    if let Some(step) = entry.step.and_then(|of| steps.iter().find(|s| s.id == of)) {
        text.push_str(&format!("Step: {}\n\n", escaped(&step.title)));
    }
    if !entry.text.trim().is_empty() {
        text.push_str(&format!("{}\n", entry.text.trim()));
    }
    if entry.kind == EntryKind::Decision && !entry.why.trim().is_empty() {
        text.push_str(&format!("\nWhy: {}\n", entry.why.trim()));
    }
    if !entry.effect.is_empty() {
        text.push('\n');
        for change in &entry.effect {
            text.push_str(&format!(
                "- {}: {} to {} ({})\n",
                escaped(&change.what),
                escaped(&change.before),
                escaped(&change.after),
                escaped(&change.difference)
            ));
        }
    }
    if let Some(thought) = &entry.second_thought {
        text.push_str(&format!(
            "\nLater: {}. {}\n",
            if thought.would_do_again {
                "would do it again"
            } else {
                "would not do it again"
            },
            thought.text.trim()
        ));
    }
    for photo in &entry.photos {
        text.push_str(&format!("\nPhoto: `photos/{}`\n", photo.0));
    }
    text
}

fn shelf(cloths: &[StockCloth]) -> String {
    let mut text = String::from("# The shelf\n");
    for c in cloths {
        text.push_str(&format!("\n## {}\n\n", escaped(&c.name)));
        if !c.fibre.trim().is_empty() {
            text.push_str(&format!("- Fibre: {}\n", escaped(&c.fibre)));
        }
        let both = |l: crate::measure::Length| l.both(crate::measure::Unit::Inch, Round::Nearest);
        text.push_str(&format!(
            "- Usable width: {}\n- Owned: {}\n",
            both(c.usable_width),
            both(c.owned)
        ));
        for r in &c.remnants {
            text.push_str(&format!(
                "- Remnant: {} × {} by {}\n",
                r.count,
                both(r.width),
                both(r.length)
            ));
        }
        for o in &c.outlined {
            text.push_str(&format!(
                "- Remnant: {} × {}\n",
                o.count,
                outline_words(&o.outline, crate::measure::Unit::Inch)
            ));
        }
        if let Some((_, step)) = c.swatch.as_ref().and_then(|s| s.lightness()) {
            text.push_str(&format!("- Lightness: {}\n", step.name()));
        }
        if !c.note.trim().is_empty() {
            text.push_str(&format!("\n{}\n", c.note.trim()));
        }
    }
    text
}

fn measured(wearers: &[Wearer]) -> String {
    let mut text = String::from("# Wearers\n");
    for w in wearers {
        text.push_str(&format!("\n## {} ({})\n", escaped(&w.name), w.kind.name()));
        if !w.note.trim().is_empty() {
            text.push_str(&format!("\n{}\n", w.note.trim()));
        }
        for set in &w.sets {
            text.push_str(&format!("\nMeasured on {}\n\n", set.taken_on));
            for m in &set.values {
                text.push_str(&format!(
                    "- {}: {}\n",
                    escaped(&m.name),
                    m.value.both(crate::measure::Unit::Cm, Round::Nearest)
                ));
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_become_plain_names_of_folders() {
        for (title, name) in [
            ("Patchwork waistcoat for Ilse", "patchwork-waistcoat-for-ilse"),
            ("../../etc", "etc"),
            ("Möbel & co.", "m-bel-co"),
            ("日本", "project"),
        ] {
            assert_eq!(slug(title), name);
        }
        let mut folder = Folder::new(Path::new("x"));
        assert_eq!(
            [folder.free("a"), folder.free("a"), folder.free("a")],
            ["a", "a-2", "a-3"]
        );
    }
}
