//! The materials list for viewers: what a maker would answer to "what did you
//! use", what was used and what is to be bought for the same piece apart.
//! Holds no prices, no wearers and no private notes: those never enter it.
//!
//! - [`lines`]: each line, from the plan and its figures
//! - [`closing`]: finished measurements, alterations, care, steps, cautions
//! - [`chapters`]: of a video, from the steps
//! - [`text`]: plain text in three lengths
//! - [`formats`]: Markdown and CSV
//! - [`howto`]: structured data in the vocabulary of schema.org
//! - [`page`]: the page viewers see
//! - [`differences`]: between two states of a list

mod chapters;
mod closing;
mod differences;
mod formats;
mod howto;
mod lines;
mod page;
mod text;

pub use chapters::{Chapters, chapters};
pub use differences::differences;
pub(super) use lines::{altered_by, joined};
pub use page::{OwnUnit, Viewer, article, head};
pub use text::TextLength;

use crate::figures::Figures;
use crate::measure::{Length, Unit};
use crate::notebook::{Decided, LineChoice, PhotoHash, SourcePattern, Step};
use crate::plan::{ClothKind, NotionKind, Plan};

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// Names the line for the maker's choice: `cloth/c1`.
    pub key: String,
    pub name: String,
    /// How much, in both units; may be empty. Where `used` says something, it is
    /// what is to be bought for the same piece.
    pub quantity: String,
    /// What the piece took, where that is another amount.
    pub used: String,
    /// What it is and what it is for.
    pub detail: String,
    pub link: String,
    /// The maker earns by the link.
    pub paid: bool,
    /// The maker's remark for viewers.
    pub remark: String,
    /// What would do in its place, by the maker.
    pub substitute: String,
    /// Of a cloth: other widths, and what is to be bought of them.
    pub widths: Vec<(String, String)>,
    /// Of a step: seconds into the video.
    pub video: Option<u32>,
    pub shown: bool,
}

impl Line {
    /// What is said of it behind its name: ": 9; 15 mm across (sew-on)".
    pub fn after_name(&self) -> String {
        let mut parts = Vec::new();
        match (self.quantity.is_empty(), self.used.is_empty()) {
            (false, false) => {
                parts.push(format!("buy {}", self.quantity));
                parts.push(format!("used {}", self.used));
            }
            (false, true) => parts.push(self.quantity.clone()),
            (true, false) => parts.push(format!("used {}", self.used)),
            (true, true) => {}
        }
        let measured = !parts.is_empty();
        if !self.detail.is_empty() {
            parts.push(self.detail.clone());
        }
        let mut text = match (parts.is_empty(), measured) {
            (true, _) => String::new(),
            (false, true) => format!(": {}", parts.join("; ")),
            (false, false) => format!(", {}", parts.join("; ")),
        };
        if !self.remark.is_empty() && self.further().is_empty() {
            text.push_str(&format!(" ({})", self.remark));
        }
        if !self.substitute.is_empty() {
            text.push_str(&format!("; instead: {}", self.substitute));
        }
        text
    }

    /// A remark of several lines, which stand below.
    pub fn further(&self) -> Vec<&str> {
        if !self.remark.contains('\n') {
            return Vec::new();
        }
        let lines = self.remark.lines().map(str::trim);
        lines.filter(|l| !l.is_empty()).collect()
    }

    /// A link a browser can follow.
    pub fn has_web_link(&self) -> bool {
        let link = self.link.to_ascii_lowercase();
        ["https://", "http://"].iter().any(|s| link.starts_with(s)) && !link.contains(char::is_whitespace)
    }
}

/// What a section holds, in the order a maker tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Group {
    Cloth,
    Batting,
    Backing,
    Binding,
    Closures,
    Notions,
    Thread,
    Pattern,
    Tools,
    Time,
    Finished,
    Altered,
    Care,
    Steps,
    Cautions,
}

impl Group {
    pub const ALL: [Group; 15] = [
        Group::Cloth,
        Group::Batting,
        Group::Backing,
        Group::Binding,
        Group::Closures,
        Group::Notions,
        Group::Thread,
        Group::Pattern,
        Group::Tools,
        Group::Time,
        Group::Finished,
        Group::Altered,
        Group::Care,
        Group::Steps,
        Group::Cautions,
    ];

    pub const fn heading(self) -> &'static str {
        match self {
            Group::Cloth => "Cloth",
            Group::Batting => "Batting",
            Group::Backing => "Backing",
            Group::Binding => "Binding",
            Group::Closures => "Closures",
            Group::Notions => "Notions",
            Group::Thread => "Thread",
            Group::Pattern => "Pattern",
            Group::Tools => "Tools",
            Group::Time => "Time",
            Group::Finished => "Finished measurements",
            Group::Altered => "Altered, and why",
            Group::Care => "Care",
            Group::Steps => "Steps",
            Group::Cautions => "Take care",
        }
    }

    /// Used up in the piece, or needed for it: what one asks a maker for.
    pub const fn is_material(self) -> bool {
        matches!(
            self,
            Group::Cloth
                | Group::Batting
                | Group::Backing
                | Group::Binding
                | Group::Closures
                | Group::Notions
                | Group::Thread
                | Group::Pattern
                | Group::Tools
        )
    }

    /// Ticked before the maker has chosen: what says nothing of anyone's body
    /// or doings. Of steps those in the video are proposed, of cautions the one
    /// that holds for everyone.
    const fn proposed(self) -> bool {
        !matches!(
            self,
            Group::Time | Group::Finished | Group::Altered | Group::Steps | Group::Cautions
        )
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    pub group: Group,
    pub lines: Vec<Line>,
}

impl Section {
    pub fn heading(&self) -> &'static str {
        self.group.heading()
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Materials {
    pub title: String,
    /// What viewers read in place of the project's title, where the maker gave it.
    pub title_for_viewers: String,
    /// The pictures that were ticked: these very ones, whatever is added later.
    pub pictures: Vec<PhotoHash>,
    pub unit: Unit,
    /// Minutes expected for all of it, where their line is there.
    pub minutes: i64,
    pub sections: Vec<Section>,
}

/// What a list is made of.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    pub title: &'a str,
    pub pattern: &'a SourcePattern,
    pub plan: &'a Plan,
    /// Of that plan.
    pub figures: &'a Figures,
    pub steps: &'a [Step],
    pub decisions: &'a [Decided],
    pub choices: &'a [LineChoice],
    /// The viewer's own cloth; nothing for the widths of the plan.
    pub width: Option<Length>,
}

/// The key of a ticked picture is this and its hash.
pub const PICTURE: &str = "picture/";
/// The key under which the title for viewers stands, as its remark.
pub const TITLE: &str = "title";

/// The title viewers read.
pub fn title_for(title: &str, choices: &[LineChoice]) -> String {
    match given_title(choices) {
        "" => title.to_string(),
        given => given.to_string(),
    }
}

fn given_title(choices: &[LineChoice]) -> &str {
    choices.iter().find(|c| c.key == TITLE).map_or("", |c| &c.remark)
}

/// The ticked pictures.
pub fn pictures(choices: &[LineChoice]) -> Vec<PhotoHash> {
    choices
        .iter()
        .filter(|c| c.shown)
        .filter_map(|c| Some(PhotoHash(c.key.strip_prefix(PICTURE)?.to_string())))
        .collect()
}

/// Every line there is, with the maker's choices put in. Before the first
/// choice a proposal is ticked; from then on a line is shown only where it was
/// ticked.
pub fn materials(source: &Source<'_>) -> Materials {
    let choices = source.choices;
    let mut sections: Vec<Section> = Group::ALL
        .into_iter()
        .map(|group| Section {
            group,
            lines: lines_of(group, source),
        })
        .filter(|s| !s.lines.is_empty())
        .collect();
    for section in &mut sections {
        let proposed = section.group.proposed();
        for line in &mut section.lines {
            if let Some(choice) = choices.iter().find(|c| c.key == line.key) {
                line.shown = choice.shown;
                line.remark = choice.remark.clone();
                line.substitute = choice.substitute.clone();
                line.paid = choice.paid && line.has_web_link();
            } else {
                // New since the maker last chose: not shown until it is ticked.
                line.shown = choices.is_empty() && (proposed || line.shown || line.video.is_some());
            }
        }
    }
    name_cloth_of_binding(source, &mut sections);
    Materials {
        title: title_for(source.title, choices),
        title_for_viewers: given_title(choices).to_string(),
        pictures: pictures(choices),
        unit: source.plan.unit,
        minutes: source.figures.time.expected.likely,
        sections,
    }
}

/// A cloth that is not ticked is not named by its binding either.
fn name_cloth_of_binding(source: &Source<'_>, sections: &mut [Section]) {
    let Some(binding) = &source.figures.binding else { return };
    let key = format!("cloth/{}", binding.cloth);
    let lines = || sections.iter().flat_map(|s| &s.lines);
    let Some(cloth) = lines().find(|l| l.key == key && l.shown).map(|l| l.name.clone()) else {
        return;
    };
    for line in sections.iter_mut().flat_map(|s| &mut s.lines) {
        if line.key == "binding" {
            line.detail.push_str(&format!(", from {cloth}"));
        }
    }
}

fn lines_of(group: Group, source: &Source<'_>) -> Vec<Line> {
    let Source { plan, figures, .. } = *source;
    match group {
        Group::Cloth | Group::Backing => lines::cloths(source, ClothKind::Cloth)
            .into_iter()
            .filter(|(only_backing, _)| *only_backing == (group == Group::Backing))
            .map(|(_, line)| line)
            .collect(),
        Group::Batting => lines::cloths(source, ClothKind::Batting)
            .into_iter()
            .map(|(_, line)| line)
            .collect(),
        Group::Binding => lines::binding(plan, figures),
        Group::Closures => lines::closures(plan, figures),
        Group::Notions => lines::notions(plan, NotionKind::Notion),
        Group::Thread => lines::thread(plan, figures),
        Group::Pattern => lines::pattern(source.pattern),
        Group::Tools => lines::notions(plan, NotionKind::Tool),
        Group::Time => closing::time(figures),
        Group::Finished => closing::finished(plan, figures),
        Group::Altered => {
            let mut lines = closing::alterations(plan);
            lines.extend(closing::decisions(source.decisions));
            lines
        }
        Group::Care => closing::care(figures),
        Group::Steps => closing::steps(source.steps),
        Group::Cautions => closing::cautions(figures),
    }
}

impl Materials {
    /// The sections and lines that are ticked.
    pub fn shown(&self) -> Vec<Section> {
        self.sections
            .iter()
            .map(|s| Section {
                group: s.group,
                lines: s.lines.iter().filter(|l| l.shown).cloned().collect(),
            })
            .filter(|s| !s.lines.is_empty())
            .collect()
    }

    /// Said before anything else where a ticked line has a link the maker earns by.
    pub fn paid_notice(&self) -> Option<&'static str> {
        let mut lines = self.sections.iter().flat_map(|s| &s.lines);
        lines
            .any(|l| l.shown && l.paid)
            .then_some("Some links here are paid links, marked so: if you buy by them, I am paid a part of it.")
    }
}

#[cfg(test)]
mod tests;
