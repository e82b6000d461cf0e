//! What the forms for parts of a plan have in common: saving one change from
//! the revision it began from, the decision that goes with it, the clash of
//! two devices, and the figures shown while typing.

use crate::figures::{self, Change, Figures, Problem};
use crate::measure::Round;
use crate::notebook::{Id, Letter, NewDecision, Notebook, NotebookError, Project, StockCloth};
use crate::plan::{Edit, Face, Plan};
use crate::web::app::App;
use crate::web::components::{
    ReturnTo, cautions, changes, errors_summary, figure, hidden, panel_extent, save_bar, size_up, text, text_area,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed};
use crate::web::meanwhile::stale_note;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpResponse;
use maud::{Markup, html};

/// The project with its plan, or with the variant whose pages are asked for.
pub async fn load(app: &App, id: Id) -> Result<Project, WebError> {
    let variant = app.variant;
    app.ask(move |n: &Notebook| match variant {
        None => n.project(id),
        Some(letter) => n.variant_project(id, letter),
    })
    .await
}

/// The page the parts of a plan, or of a variant, are listed on; their forms
/// stand under it.
pub fn base(project: &Project) -> String {
    base_of(project.id, project.variant)
}

fn base_of(project: Id, variant: Option<Letter>) -> String {
    match variant {
        None => format!("/projects/{project}"),
        Some(letter) => format!("/variants/{}/projects/{project}", letter.word()),
    }
}

/// A form for one part of a plan.
pub struct PartForm<'a> {
    pub project: &'a Project,
    /// Under `/projects/ID/`: `pieces/p1`, `binding`.
    pub address: String,
    /// What the page is called: "Sleeve", "Add a piece".
    pub heading: String,
    pub fields: Markup,
    /// A piece to draw in the figures beside the form.
    pub focus: Option<String>,
    /// Taking the part out, where it is there.
    pub remove: Option<&'static str>,
    /// Why it cannot be taken out.
    pub kept_by: Option<String>,
    pub back: String,
}

impl PartForm<'_> {
    pub async fn page(&self, app: &App, form: &Shown, note: Option<Markup>) -> Result<Markup, WebError> {
        let id = self.project.id;
        let base = base(self.project);
        let action = format!("{base}/{}", self.address);
        let keep = match self.project.variant {
            None => format!("{id}/{}", self.address),
            Some(letter) => format!("{id}/{}/{}", letter.word(), self.address),
        };
        let plan = &self.project.plan;
        let figures = app.figures(plan).await?;
        let focus = self.focus.as_deref();
        Ok(page::project(
            id,
            &self.project.details.title,
            Place::Plan,
            &self.heading,
            html! {
                (variant_note(self.project))
                h1 { (self.heading) }
                @if let Some(note) = note { (note) }
                div.form-and-figures {
                    form method="post" action=(action) data-unit=(self.project.plan.unit.name()) data-keep=(keep) data-try=(format!("{action}/try")) {
                        (hidden("seen", form.typed.get("seen")))
                        (hidden("decision_id", form.typed.get("decision_id")))
                        (hidden("part_id", form.typed.get("part_id")))
                        (errors_summary(form))
                        (self.fields)
                        @if self.project.variant.is_none() { (decision_fields(form)) }
                        a.live-line href="#live-figures" data-live-line { @if let Some(piece) = focus { (one_line(plan, &figures, piece)) } }
                        (save_bar("Save", &ReturnTo { href: &format!("{base}{}", self.back), label: "Cancel" }))
                    }
                    aside.live #live-figures tabindex="0" aria-label="Figures of what is typed" {
                        @if focus.is_some_and(|f| plan.piece(f).is_some()) { (super::contrast::squint_switch()) }
                        div aria-live="polite" data-live { (glimpse(plan, &figures, focus, None)) }
                    }
                }
                @if self.project.variant.is_none() {
                    p.aside { "Not sure? " a href=(format!("/projects/{id}/variants")) { "Set two variants beside each other" } "." }
                }
                @if let Some(remove) = self.remove {
                    @if let Some(kept) = &self.kept_by {
                        p.hint.danger { (kept) }
                    } @else {
                        form.danger method="post" action=(format!("{action}/remove")) {
                            (hidden("seen", form.typed.get("seen")))
                            p { @if self.project.variant.is_none() { "Earlier revisions of the plan keep it." } @else { "The plan itself keeps it until you take the variant." } }
                            button.button.quiet type="submit" { (remove) }
                        }
                    }
                }
            },
        ))
    }
}

/// Says on every page of a variant whose plan this is not.
pub fn variant_note(project: &Project) -> Markup {
    html! {
        @if let Some(letter) = project.variant {
            p.variant-note {
                b { "Variant " (letter.name()) ". " } "The plan stays as it is until you take it. "
                a href=(format!("/projects/{}/variants", project.id)) { "Both variants side by side" }
            }
        }
    }
}

/// The figures of a piece in one line, in view over the save button of a phone.
fn one_line(plan: &Plan, figures: &Figures, piece: &str) -> Markup {
    if let Some(line) = super::drafts::line(plan, piece) {
        return line;
    }
    let Some(f) = figures.pieces.iter().find(|f| f.piece == piece) else {
        return html! {};
    };
    let (size, round, panel) = match &f.panel {
        Some(p) => (p.before, p.setting.round(), Some(p)),
        None => (f.needed_before, Round::Up, None),
    };
    let units = panel
        .filter(|p| p.units > 0)
        .map(|p| format!("{} × {} {}, ", p.columns, p.rows, super::figures::counted(p.setting)))
        .unwrap_or_default();
    html! { (units) "panel " (size.one(plan.unit, round)) }
}

/// Starts the hidden fields every part form carries.
pub fn begin(form: &mut Shown, project: &Project) {
    form.typed.set("seen", project.revision.to_string());
    form.typed.set("decision_id", Id::now_v7().to_string());
    form.typed.set("part_id", &Id::now_v7().simple().to_string()[24..]);
}

/// The id of a part the form adds. The form carries its random half from the
/// moment it is shown: sending it twice adds one part, and two devices adding
/// a part each do not meet.
pub fn new_id(typed: &Typed, plan: &Plan, letter: char) -> String {
    let tail = typed.get("part_id");
    let good = (4..=16).contains(&tail.len()) && tail.bytes().all(|b| b.is_ascii_hexdigit());
    if good {
        format!("{letter}{}", tail.to_ascii_lowercase())
    } else {
        plan.free_id(letter)
    }
}

pub fn decision_fields(form: &Shown) -> Markup {
    let open = !form.typed.get("decided").is_empty() || !form.typed.get("why").is_empty();
    html! {
        details.decide open[open] {
            summary { "Keep this change as a decision" }
            p.hint { "It goes into the log with what it does to the figures. Leave empty for a mere correction." }
            (text(form, "decided", "What you decided", "", "text"))
            (text_area(form, "why", "Why", "", 3))
        }
    }
}

/// What came of a save.
pub enum Saved {
    Done,
    /// Changed elsewhere meanwhile: the project as it is now, and which part of its plan.
    Clash(Box<Project>, String),
    /// Problems in the part itself, by their place in the plan.
    Problems(Vec<Problem>),
}

/// Saves one change. `own` is the place of the part in the plan
/// (`pieces/p1`): problems there keep it from being saved.
pub async fn save(app: &App, project: &Project, typed: &Typed, edit: Edit, own: &str) -> Result<Saved, WebError> {
    save_shelving(app, project, typed, edit, own, None).await
}

/// As [`save`], with a cloth that goes onto the shelf in the same step.
pub async fn save_shelving(
    app: &App,
    project: &Project,
    typed: &Typed,
    edit: Edit,
    own: &str,
    shelf: Option<StockCloth>,
) -> Result<Saved, WebError> {
    let id = project.id;
    if let Ok(after) = edit.apply(&project.plan, &project.plan) {
        let problems: Vec<Problem> = app
            .problems(after)
            .await?
            .into_iter()
            .filter(|p| within(&p.field, own))
            .collect();
        if !problems.is_empty() {
            return Ok(Saved::Problems(problems));
        }
    }
    let seen = typed.get("seen").parse().unwrap_or(0);
    let decision = decision(typed, &edit, &project.plan);
    match change(app, id, seen, edit, decision, shelf).await {
        Ok(()) => Ok(Saved::Done),
        Err(WebError::Notebook(NotebookError::Clash { clash, .. })) => {
            Ok(Saved::Clash(Box::new(load(app, id).await?), clash.0))
        }
        Err(other) => Err(other),
    }
}

/// One change of the plan, or of the variant whose pages it came from.
pub async fn change(
    app: &App,
    id: Id,
    seen: i64,
    edit: Edit,
    decision: Option<NewDecision>,
    shelf: Option<StockCloth>,
) -> Result<(), WebError> {
    let variant = app.variant;
    app.ask(move |n: &Notebook| {
        match (variant, &shelf) {
            (Some(letter), shelf) => {
                n.change_variant(id, letter, seen, &edit, shelf.as_ref())?;
            }
            (None, Some(cloth)) => {
                n.change_plan_shelving(id, seen, &edit, decision.as_ref(), cloth)?;
            }
            (None, None) => {
                n.change_plan_deciding(id, seen, &edit, decision.as_ref())?;
            }
        }
        Ok(())
    })
    .await
}

fn within(field: &str, own: &str) -> bool {
    field == own || field.strip_prefix(own).is_some_and(|rest| rest.starts_with('/'))
}

fn decision(typed: &Typed, edit: &Edit, plan: &Plan) -> Option<NewDecision> {
    let (decided, why) = (typed.get("decided").trim(), typed.get("why").trim());
    if decided.is_empty() && why.is_empty() {
        return None;
    }
    let what = if decided.is_empty() {
        edit.title(plan)
    } else {
        decided.to_string()
    };
    let id = Id::try_parse(typed.get("decision_id")).unwrap_or_else(|_| Id::now_v7());
    Some(NewDecision {
        id,
        what,
        why: why.to_string(),
    })
}

/// Refuses decision texts that are too long, with the other fields of a form.
pub fn read_decision(r: &mut Reader) {
    r.line("decided", NAME * 2);
    r.text("why");
}

/// Finishes a save: on to the page it leads to, or the form again with
/// everything typed and what is in its way.
pub async fn finish(
    saved: Saved,
    mut form: Shown,
    done: &str,
    place: impl Fn(&Problem) -> String,
    own: impl Fn(&Project) -> Typed,
    page: impl AsyncFn(&Project, &Shown, Option<Markup>) -> Result<Markup, WebError>,
    project: &Project,
) -> Answer {
    match saved {
        Saved::Done => respond::see(&format!("{}{done}", base(project))),
        Saved::Problems(problems) => {
            for p in &problems {
                form.errors.add(place(p), &p.message);
            }
            Err(WebError::Form(page(project, &form, None).await?))
        }
        Saved::Clash(now, what) => {
            let note = stale_note(&what, &own(&now), &form.typed);
            form.typed.set("seen", now.revision.to_string());
            let markup = page(&now, &form, Some(note)).await?;
            Ok(respond::page_with(actix_web::http::StatusCode::CONFLICT, markup))
        }
    }
}

/// The last part of a problem's place where it is a field of the form, else the first field.
pub fn last_of(problem: &Problem, fields: &[&str]) -> String {
    let last = problem.field.rsplit('/').next().unwrap_or("");
    fields
        .iter()
        .find(|f| **f == last)
        .or(fields.first())
        .map(|f| f.to_string())
        .unwrap_or_default()
}

/// The answer to a try: the figures as they would be, nothing saved.
pub async fn tried(app: &App, project: &Project, read: Result<Edit, Errors>, focus: Option<&str>) -> Answer {
    let markup = match read.map(|edit| edit.apply(&project.plan, &project.plan)) {
        Ok(Ok(plan)) => {
            let mut plans = vec![plan.clone()];
            if plan != project.plan {
                plans.push(project.plan.clone());
            }
            let list = app.figures_of(project.id, plans).await?;
            match list.as_slice() {
                [now] => glimpse(&plan, now, focus, None),
                [now, before, ..] => glimpse(&plan, now, focus, Some(figures::effect(before, now))),
                [] => html! {},
            }
        }
        Ok(Err(clash)) => html! { p.hint { (clash) } },
        Err(errors) => html! {
            p.live-head { "Figures" }
            ul.missing { @for (field, message) in &errors.0 {
                li { a href=(format!("#{field}")) { (message) } }
            } }
        },
    };
    Ok(HttpResponse::Ok()
        .content_type("text/html; charset=utf-8")
        .body(markup.into_string()))
}

/// The figures of a plan in short, with what differs from the saved plan.
fn glimpse(plan: &Plan, figures: &Figures, focus: Option<&str>, differs: Option<Vec<Change>>) -> Markup {
    html! {
        @if let Some(drawing) = focus.and_then(|f| super::drafts::glimpse(plan, f)) {
            (drawing)
            template data-line { @if let Some(line) = focus.and_then(|f| super::drafts::line(plan, f)) { (line) } }
        } @else if let Some(row) = focus.and_then(|f| f.strip_prefix(super::closures::FOCUS)) {
            (super::closures::glimpse(plan, figures, row))
        } @else if focus == Some(super::seams::FOCUS) {
            (super::seams::glimpse(plan, figures))
        } @else if focus == Some(super::sizing::FOCUS) {
            (super::sizing::glimpse(plan, figures))
        } @else if let Some(piece) = focus {
            (piece_glimpse(plan, figures, piece))
            template data-line { (one_line(plan, figures, piece)) }
        }
        @if !figures.problems.is_empty() {
            ul.missing { @for p in figures.problems.iter().take(4) { li { (p.message) } } }
        }
        // What cannot be worked out is missing from the sums: a comparison would
        // show it as cloth saved.
        @let wrong_here = focus.is_some_and(|f| figures.problems.iter().any(|p| p.field.starts_with(&format!("pieces/{f}/"))));
        @match differs {
            Some(_) if wrong_here => p.hint { "What this changes is told as soon as that is put right." },
            Some(list) if !list.is_empty() => {
                p.live-head { "What this changes" }
                (changes(&list))
            }
            Some(_) => p.hint { "This changes no figure." },
            None => {}
        }
    }
}

fn piece_glimpse(plan: &Plan, figures: &Figures, piece: &str) -> Markup {
    let unit = plan.unit;
    let (Some(p), Some(f)) = (plan.piece(piece), figures.pieces.iter().find(|f| f.piece == piece)) else {
        return html! { p.hint { "Figures appear here as soon as the piece has a size." } };
    };
    // What the painter's grid is as large as.
    let extent = match (&p.face, &f.panel) {
        (Some(Face::Patchwork(face)), Some(panel)) => Some(panel_extent(plan, face, panel)),
        _ => None,
    };
    html! {
        p.live-head { (p.name) }
        div.glimpse data-panel=[extent] {
            @if let (Some(face), Some(panel)) = (&p.face, &f.panel) {
                div.glimpse-panel { (super::contrast::seen_both_ways(plan, face, panel, "live")) }
            }
            div.figures {
                @if let Some(panel) = &f.panel {
                    @if panel.units > 0 {
                        (figure(super::figures::units_label(panel.setting), html! { (panel.columns) " × " (panel.rows) }, html! { (super::figures::units_words(panel)) }))
                    }
                    (figure("Panel before quilting", crate::web::components::size(panel.before, unit, panel.setting.round()), html! {
                        @if p.layers.is_some() { "after: " (crate::web::components::size(panel.after, unit, Round::Down)) }
                    }))
                    @if !panel.patches.is_empty() && panel.units > 0 {
                        (figure("Patches", html! { (panel.patches.iter().map(|c| c.patches).sum::<i64>()) }, html! {
                            @for cut in &panel.patches { (super::figures::patch_words(plan, cut)) br; }
                            @for strip in &panel.strips { (strip.count) " " (strip.what) br; }
                        }))
                    }
                } @else {
                    (figure("Panel must measure", size_up(f.needed_before, unit), html! {
                        @if p.face.is_none() { "Choose a face to see units and patches." }
                    }))
                }
            }
        }
        (cautions(&f.shown.cautions))
    }
}

/// Takes a part out, or shows why it was not.
pub async fn remove(app: &App, project: Id, typed: Typed, edit: Edit) -> Answer {
    let seen = typed.get("seen").parse().unwrap_or(0);
    change(app, project, seen, edit, None, None).await?;
    respond::see(&base_of(project, app.variant))
}
