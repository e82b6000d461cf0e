//! What an entry belongs to: a step of the project, a piece or a cloth of its
//! plan, each or none.

use crate::notebook::{Entry, EntryKind, Id, Project, Step};
use crate::plan::Plan;
use crate::web::components::{field_errors, option_list};
use crate::web::form::{Reader, Shown, Typed};
use maud::{Markup, html};

/// What there is to choose from.
#[derive(Clone, Copy)]
pub struct Ties<'a> {
    pub plan: &'a Plan,
    pub steps: &'a [Step],
    /// Steps in the bin. They are not offered, but what was written on one
    /// while it was taken out elsewhere still belongs to it.
    pub taken_out: &'a [Step],
    /// The entry that is edited: what it names stays to be chosen though it
    /// has left the plan, or lies in the bin.
    pub kept: Option<&'a Entry>,
}

const STEP: &str = "step";
const PIECE: &str = "piece";
const CLOTH: &str = "cloth";

impl Ties<'_> {
    /// Values with their words; nothing where there is nothing to choose.
    fn choices(&self, field: &str) -> Vec<(String, String)> {
        let (mut list, kept, gone): (Vec<(String, String)>, Option<String>, &str) = match field {
            STEP => (
                self.steps.iter().map(|s| (s.id.to_string(), s.title.clone())).collect(),
                self.kept.and_then(|e| e.step).map(|id| id.to_string()),
                "A step that was taken out",
            ),
            PIECE => (
                self.plan
                    .pieces
                    .iter()
                    .map(|p| (p.id.clone(), p.name.clone()))
                    .collect(),
                self.kept.and_then(|e| e.piece.clone()),
                "A piece no longer in the plan",
            ),
            _ => (
                self.plan
                    .cloths
                    .iter()
                    .map(|c| (c.id.clone(), c.name.clone()))
                    .collect(),
                self.kept.and_then(|e| e.cloth.clone()),
                "A cloth no longer in the plan",
            ),
        };
        if let Some(kept) = kept.filter(|k| !list.iter().any(|(value, _)| value == k)) {
            list.push((kept, gone.into()));
        }
        if !list.is_empty() {
            list.insert(0, (String::new(), "None".into()));
        }
        list
    }

    fn select(&self, form: &Shown, kind: EntryKind, field: &str, label: &str) -> Markup {
        let mut choices = self.choices(field);
        if field == STEP
            && let Some(step) = self.taken(form.typed.get(field))
        {
            choices.push((step.id.to_string(), format!("{} (taken out)", step.title)));
        }
        let wrong = form.errors.has(field);
        if choices.is_empty() && wrong {
            choices.push((String::new(), "None".into()));
        }
        if choices.is_empty() {
            return html! {};
        }
        // Several forms of one page have this field: its id names the form.
        let id = format!("{}-{field}", kind.name());
        html! {
            div.field.has-error[wrong] id=[wrong.then_some(field)] {
                label for=(id) { (label) }
                select id=(id) name=(field) aria-invalid=[wrong.then_some("true")] aria-describedby=[wrong.then(|| format!("{field}-error"))] { (option_list(form.typed.get(field), &choices)) }
                (field_errors(form, field))
            }
        }
    }

    /// The fields of an entry: what its kind is mostly about at once, the rest
    /// folded away while it is empty.
    pub fn fields(&self, form: &Shown, kind: EntryKind) -> Markup {
        let first: &[&str] = match kind {
            EntryKind::Work => &[STEP, PIECE],
            EntryKind::Measure => &[PIECE],
            EntryKind::Note | EntryKind::Photo | EntryKind::Decision => &[],
        };
        let label = |field: &str| match field {
            STEP => "Step",
            PIECE => "Piece",
            _ => "Cloth",
        };
        let rest: Vec<&str> = [STEP, PIECE, CLOTH]
            .into_iter()
            .filter(|f| !first.contains(f))
            .collect();
        let chosen = rest.iter().any(|f| !form.typed.get(f).is_empty() || form.errors.has(f));
        let any = chosen || rest.iter().any(|f| !self.choices(f).is_empty());
        html! {
            @if !first.is_empty() {
                div.pair { @for field in first { (self.select(form, kind, field, label(field))) } }
            }
            @if any {
                details.ties open[chosen] {
                    summary { @if first.is_empty() { "Belongs to a step, piece or cloth" } @else if first.len() == 1 { "Belongs to a step or cloth" } @else { "Belongs to a cloth" } }
                    div.three { @for field in &rest { (self.select(form, kind, field, label(field))) } }
                }
            }
        }
    }

    /// Reads them; a form without such a field leaves it as it was.
    pub fn read(&self, r: &mut Reader, entry: &mut Entry) {
        if let Some(step) = self.one(
            r,
            STEP,
            "This step is no longer in the project. Choose another, or none.",
        ) {
            entry.step = Id::try_parse(&step).ok();
        }
        if let Some(piece) = self.one(
            r,
            PIECE,
            "This piece is no longer in the plan. Choose another, or none.",
        ) {
            entry.piece = Some(piece).filter(|p| !p.is_empty());
        }
        if let Some(cloth) = self.one(
            r,
            CLOTH,
            "This cloth is no longer in the plan. Choose another, or none.",
        ) {
            entry.cloth = Some(cloth).filter(|c| !c.is_empty());
        }
    }

    fn taken(&self, step: &str) -> Option<&Step> {
        let here = self.choices(STEP).iter().any(|(value, _)| value == step);
        self.taken_out.iter().find(|s| !here && s.id.to_string() == step)
    }

    fn one(&self, r: &mut Reader, field: &str, sentence: &str) -> Option<String> {
        if !r.typed.has(field) {
            return None;
        }
        let chosen = r.typed.get(field);
        let there = self.choices(field).iter().any(|(value, _)| value == chosen)
            || field == STEP && self.taken(chosen).is_some();
        if !chosen.is_empty() && !there {
            r.errors.add(field, sentence);
            return None;
        }
        Some(chosen.to_string())
    }
}

pub fn fill(typed: &mut Typed, entry: &Entry) {
    typed.set(STEP, entry.step.map(|s| s.to_string()).unwrap_or_default());
    typed.set(PIECE, entry.piece.clone().unwrap_or_default());
    typed.set(CLOTH, entry.cloth.clone().unwrap_or_default());
}

/// The names of what an entry belongs to, with where each is. `steps` has
/// those of the bin too.
pub fn named<'a>(project: &'a Project, steps: &'a [Step], entry: &Entry) -> Vec<(&'static str, &'a str, String)> {
    let base = format!("/projects/{}", project.id);
    let mut named = Vec::new();
    if let Some(step) = entry.step.and_then(|of| steps.iter().find(|s| s.id == of)) {
        named.push(("step", step.title.as_str(), format!("{base}/steps#step-{}", step.id)));
    }
    if let Some(piece) = entry.piece.as_deref().and_then(|p| project.plan.piece(p)) {
        named.push(("piece", piece.name.as_str(), format!("{base}/pieces/{}", piece.id)));
    }
    if let Some(cloth) = entry.cloth.as_deref().and_then(|c| project.plan.cloth(c)) {
        named.push(("cloth", cloth.name.as_str(), format!("{base}/cloths/{}", cloth.id)));
    }
    named
}
