//! The form of a draft: its measures, the drawing beside them, its pieces put
//! into the plan.

use super::drawn::OF_DRAFT;
use super::kinds;
use super::table::{Kind, of_word};
use crate::drafting::{as_sewn, parts_of};
use crate::measure::{Length, Unit};
use crate::notebook::Project;
use crate::plan::{Draft, DraftPart, Edit, Pattern, Piece, Plan, Source};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, length_input, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text};
use crate::web::pages::part::{self, PartForm};
use crate::web::respond;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

/// Before the word of a kind, for a draft that is not there yet.
const NEW: &str = "new-";

fn kind_of(plan: &Plan, name: &str) -> Option<&'static Kind> {
    match plan.draft(name) {
        Some(draft) => kinds::of_draft(&draft.kind).map(|(kind, _)| kind),
        None => of_word(name.strip_prefix(NEW)?),
    }
}

pub async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = match (project.plan.draft(&name), kind_of(&project.plan, &name)) {
        (Some(draft), Some(_)) => filled(draft, project.plan.unit),
        (None, Some(kind)) => fresh(kind, &project.plan),
        (_, None) => return Err(WebError::NoPage),
    };
    let mut form = Shown::from(typed);
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &name, &form, None).await?)
}

fn fresh(kind: &Kind, plan: &Plan) -> Typed {
    let mut typed = kind.fresh(plan);
    typed.set("name", kind.name);
    // Common practice in garments.
    typed.set("seam", if plan.unit == Unit::Inch { "3/8 in" } else { "1 cm" });
    typed
}

fn filled(draft: &Draft, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &draft.name);
    typed.set("seam", length_text(draft.seam, unit));
    if let Some((kind, measures)) = kinds::of_draft(&draft.kind) {
        kind.fill(&mut typed, &measures, unit);
    }
    typed
}

async fn page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let plan = &project.plan;
    let known = plan.draft(name);
    let Some(kind) = kind_of(plan, name) else {
        return Err(WebError::NoPage);
    };
    // What is typed is drawn, whether it is saved or not.
    let read = read(&form.typed, plan, name);
    let focus = read.as_ref().ok().map(|d| format!("{OF_DRAFT}{}", d.draft.id));
    let drawn = read.ok().and_then(|d| d.edit().apply(plan, plan).ok());
    let shown = Project {
        plan: drawn.unwrap_or_else(|| plan.clone()),
        ..project.clone()
    };
    let made: Vec<&Piece> = known.map(|d| plan.drafted_from(&d.id).collect()).unwrap_or_default();
    let base = part::base(project);
    PartForm {
        project: &shown,
        address: format!("drafts/{name}"),
        heading: known.map_or(kind.name.into(), |d| d.name.clone()),
        fields: html! {
            (card("draft", kind.name, html! {
                p.hint { (kind.about) " Finished measures; allowances are added." }
                (text(form, "name", "Name", "", "text"))
                (kind.show(form, plan, known.map(|d| d.id.as_str())))
                (length_input(form, "seam", "Seam allowance", "Of every edge that says nothing else. Edges can be finished differently under the outline of each piece."))
                noscript { p.actions { button.button.quiet type="submit" formaction=(format!("{base}/drafts/{name}/draw")) { "Draw" } } }
            }))
            @if !made.is_empty() {
                (card("made", "Its pieces", html! {
                    ul.rows { @for piece in &made {
                        li { a.row href=(format!("{base}/pieces/{}/outline", piece.id)) { div.row-text {
                            b { (piece.name) }
                            div.meta { "Edges, allowances, changes of the outline" }
                        } } }
                    } }
                }))
            }
        },
        focus,
        remove: known.map(|_| "Take this draft and its pieces out of the plan"),
        kept_by: None,
        back: "#pieces".into(),
    }
    .page(app, form, note)
    .await
}

/// A draft as it was typed, with the pieces it adds to the plan.
struct Drafted {
    draft: Draft,
    pieces: Vec<Piece>,
}

impl Drafted {
    fn edit(&self) -> Edit {
        Edit::Drafted(self.draft.clone(), self.pieces.clone())
    }
}

fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Drafted, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let before = plan.draft(name);
    let title = r.required("name", NAME, "Give the draft a name.");
    let seam = r.length_or_zero("seam");
    let kind = kind_of(plan, name).and_then(|kind| kind.read(&mut r));
    part::read_decision(&mut r);
    let mut errors = r.errors;
    let Some(kind) = kind.filter(|_| errors.is_empty()) else {
        return Err(errors);
    };
    let mut draft = Draft {
        id: match before {
            Some(known) => known.id.clone(),
            None => part::new_id(typed, plan, 'd'),
        },
        name: title,
        seam,
        kind,
    };
    // The length stands in the plan as it is today, for who reads its file.
    let parts = match as_sewn(plan, &draft).and_then(|sewn| Ok((parts_of(plan, &sewn)?, sewn))) {
        Ok((parts, sewn)) => {
            draft = sewn;
            parts
        }
        Err(problems) => {
            for p in problems {
                errors.add(p.field.rsplit('/').next().unwrap_or("name"), p.sentence);
            }
            return Err(errors);
        }
    };
    // A part the draft had before may have been taken out on purpose.
    let had: Vec<&str> = before
        .and_then(|d| parts_of(plan, d).ok())
        .map(|parts| parts.iter().map(|p| p.key).collect())
        .unwrap_or_default();
    let new = parts.iter().filter(|p| !had.contains(&p.key)).enumerate();
    let pieces = new
        .map(|(n, p)| Piece {
            id: format!("{}{n}", part::new_id(typed, plan, 'p')),
            name: match plan.pieces.iter().any(|known| known.name == p.name) {
                true => format!("{} ({})", p.name, draft.name),
                false => p.name.clone(),
            },
            cut_count: p.cut_count,
            mirrored: p.mirrored,
            margin: Length::ZERO,
            pattern: Some(Pattern {
                from: Source::Draft(DraftPart {
                    draft: draft.id.clone(),
                    part: p.key.into(),
                }),
                finish: Vec::new(),
                changes: Vec::new(),
            }),
            ..Piece::default()
        })
        .collect();
    Ok(Drafted { draft, pieces })
}

pub async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    // Sent twice: the first sending put it there, and this one leads on.
    let name = match project.plan.draft(&part::new_id(&typed, &project.plan, 'd')) {
        Some(known) if name.starts_with(NEW) => known.id.clone(),
        _ => name,
    };
    if kind_of(&project.plan, &name).is_none() {
        return Err(WebError::NoPage);
    }
    let drafted = match read(&typed, &project.plan, &name) {
        Ok(drafted) => drafted,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &name, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let draft = drafted.draft.id.clone();
    let saved = part::save(&app, &project, &typed, drafted.edit(), &format!("drafts/{draft}")).await?;
    let unit = project.plan.unit;
    part::finish(
        saved,
        Shown::from(typed),
        "#pieces",
        |p| p.field.rsplit('/').next().unwrap_or("name").to_string(),
        |now| now.plan.draft(&draft).map(|d| filled(d, unit)).unwrap_or_default(),
        async |project, form, note| page(&app, project, &name, form, note).await,
        &project,
    )
    .await
}

pub async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    if kind_of(&project.plan, &name).is_none() {
        return Err(WebError::NoPage);
    }
    let read = read(&typed(body), &project.plan, &name);
    let focus = read.as_ref().ok().map(|d| format!("{OF_DRAFT}{}", d.draft.id));
    part::tried(&app, &project, read.map(|d| d.edit()), focus.as_deref()).await
}

/// Without script: the form again, with what is typed drawn. Nothing is saved.
pub async fn draw(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    if kind_of(&project.plan, &name).is_none() {
        return Err(WebError::NoPage);
    }
    let typed = typed(body);
    let errors = read(&typed, &project.plan, &name).err().unwrap_or_default();
    respond::page(page(&app, &project, &name, &Shown { typed, errors }, None).await?)
}

pub async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, draft) = path.into_inner();
    part::remove(&app, id(&project)?, typed(body), Edit::RemoveDrafted(draft)).await
}
