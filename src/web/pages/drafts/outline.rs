//! The outline of a piece: how each edge is finished, and what was changed.

use super::drawn::OF_OUTLINE;
use super::{fold, grain};
use crate::drafting::{parts_of, settled, shape_of};
use crate::figures::Problem;
use crate::measure::{Length, Round};
use crate::notebook::Project;
use crate::plan::{
    AddToEdge, Along, ChangeOf, CornerCut, EdgeKind, Edit, Finish, Lengthen, OutlineChange, OutlineEdge, Pattern,
    Piece, Plan, RoundCorner, Source, limits,
};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, choice, length_change_input, length_input, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, Reader, Shown, Typed, length_text};
use crate::web::pages::part::{self, PartForm};
use crate::web::respond;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

/// Empty rows for further changes.
const SPARE: usize = 1;

const CHANGES: [(&str, &str); 5] = [
    ("", "no change"),
    ("height", "longer or shorter, at a line across"),
    ("width", "wider or narrower, at a line up and down"),
    ("add", "moved edge: added to it, or taken off"),
    ("round", "rounded corner at the end of an edge"),
];

/// The piece and the edges of its outline as they are before they are finished otherwise.
fn outlined(plan: &Plan, name: &str) -> Result<(Piece, Pattern, Vec<OutlineEdge>), WebError> {
    let piece = plan.piece(name).cloned().ok_or(WebError::NoPage)?;
    let pattern = piece.pattern.clone().ok_or(WebError::NoPage)?;
    let edges = match &pattern.from {
        Source::Drawn(outline) => outline.edges.clone(),
        Source::Draft(of) => plan
            .draft(&of.draft)
            .and_then(|d| parts_of(plan, d).ok())
            .and_then(|parts| parts.into_iter().find(|p| p.key == of.part))
            .map(|p| p.outline.edges)
            .unwrap_or_default(),
    };
    Ok((piece, pattern, edges))
}

pub async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    outlined(&project.plan, &name)?;
    let mut form = Shown::from(filled(&project.plan, &name));
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &name, &form, None).await?)
}

fn filled(plan: &Plan, name: &str) -> Typed {
    let mut typed = Typed::default();
    let Ok((_, pattern, edges)) = outlined(plan, name) else {
        return typed;
    };
    let length = |l: Length| length_text(l, plan.unit);
    if let Source::Drawn(outline) = &pattern.from {
        typed.set("grain", grain::of(outline));
    }
    typed.set("fold", "");
    for (i, edge) in edges.iter().enumerate() {
        let own = pattern.finish.iter().find(|f| f.edge == edge.name);
        let (allowance, corner, kind) = own.map_or((edge.allowance, edge.corner, edge.kind), |f| {
            (f.allowance, f.corner, f.kind)
        });
        typed.set(&format!("allowance_{i}"), length(allowance));
        typed.set(&format!("corner_{i}"), corner.name());
        typed.set(&format!("kind_{i}"), kind.name());
        if kind == EdgeKind::Fold {
            typed.set("fold", i.to_string());
        }
    }
    for (i, change) in pattern.changes.iter().enumerate() {
        let mut set = |field: &str, value: String| typed.set(&format!("{field}_{i}"), value);
        match &change.change {
            ChangeOf::Lengthen(l) => {
                set("change", l.along.name().into());
                set("at", length(l.at));
                set("by", length(l.by));
            }
            ChangeOf::AddToEdge(a) => {
                set("change", "add".into());
                set("edge", a.edge.clone());
                set("by", length(a.by));
            }
            ChangeOf::RoundCorner(r) => {
                set("change", "round".into());
                set("edge", r.edge.clone());
                set("by", length(r.radius));
            }
        }
        set("reason", change.reason.clone());
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
    let Ok((piece, pattern, edges)) = outlined(plan, name) else {
        return Err(WebError::NoPage);
    };
    let base = part::base(project);
    let drawn = read(&form.typed, plan, name).ok().and_then(|(piece, _)| {
        let edit = Edit::Piece(Box::new(piece));
        edit.apply(plan, plan).ok()
    });
    let shown = Project {
        plan: drawn.unwrap_or_else(|| plan.clone()),
        ..project.clone()
    };
    PartForm {
        project: &shown,
        address: format!("pieces/{name}/outline"),
        heading: format!("{}: outline", piece.name),
        fields: html! {
            @match &pattern.from {
                Source::Draft(of) => p.hint.lead-in { "Drafted. " a href=(format!("{base}/drafts/{}", of.draft)) { "Change its measures" } ", or finish edges and change the outline here." },
                Source::Drawn(_) => p.hint.lead-in { "An outline of its own: finish its edges and change it here." },
            }
            (card("edges", "Edges", html! {
                p.hint { "In order round. The allowance lies between stitching line and cut line; the corner is the one at the end of the edge." }
                @if let Source::Drawn(outline) = &pattern.from { (grain::field(form, outline)) }
                @if edges.is_empty() { p { "The draft cannot be drawn: mend its measures first." } }
                @if !edges.is_empty() { (fold::field(form, &edges)) }
                @for (i, edge) in edges.iter().enumerate() { (edge_row(form, &shown.plan, &piece, i, edge)) }
            }))
            (card("changes", "Changes of the outline", html! {
                p.hint { "In this order, each kept with its reason. Lines are measured from the outline's top, or from its left." }
                @for i in 0..rows(form) { (change_row(form, i, &edges)) }
                button.button.quiet type="button" hidden data-add-row data-most=(limits::OUTLINE_CHANGES) { "Another change" }
                noscript { p.actions { button.button.quiet type="submit" formaction=(format!("{base}/pieces/{name}/outline/draw")) { "Draw" } } }
            }))
        },
        focus: Some(format!("{OF_OUTLINE}{name}")),
        remove: Some("Take the outline off: the piece stays, as the rectangle round it"),
        kept_by: None,
        back: "#pieces".into(),
    }
    .page(app, form, note)
    .await
}

fn edge_row(form: &Shown, plan: &Plan, piece: &Piece, i: usize, edge: &OutlineEdge) -> Markup {
    let shape = plan.piece(&piece.id).and_then(|p| shape_of(plan, p).ok());
    let length = shape
        .as_ref()
        .and_then(|s| s.edge(&edge.name))
        .map(|e| e.length_nearest());
    let words = |list: &[(&str, &str)]| -> Vec<(String, String)> {
        list.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect()
    };
    let kinds = words(&[
        (EdgeKind::Seam.name(), "seam"),
        (EdgeKind::Hem.name(), "hem, turned in"),
        (EdgeKind::Bound.name(), "bound, no allowance"),
    ]);
    let corners = words(&[
        (CornerCut::Mitre.name(), "mitre"),
        (CornerCut::Square.name(), "square to this edge"),
        (CornerCut::FoldBack.name(), "folds back with the hem"),
    ]);
    html! {
        fieldset.edge-row data-edge=(i) {
            legend { span { span.edge-number { (i + 1) } " " (edge.name) } @if let Some(length) = length { " " span.meta data-edge-length-of=(i) { (length.both_sixteenths(plan.unit, Round::Nearest)) } } }
            div.edge-fields {
                (length_input(form, &format!("allowance_{i}"), "Allowance", ""))
                @if fold::is(&form.typed, i) {
                    div.field { span.label { "Finished as" } p.on-the-fold { "on the fold, no allowance" } }
                } @else {
                    (choice(form, &format!("kind_{i}"), "Finished as", "", &kinds))
                }
                (choice(form, &format!("corner_{i}"), "Corner", "", &corners))
            }
        }
    }
}

fn change_row(form: &Shown, i: usize, edges: &[OutlineEdge]) -> Markup {
    let kinds: Vec<(String, String)> = CHANGES.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect();
    let mut options = vec![(String::new(), "choose".to_string())];
    options.extend(edges.iter().map(|e| (e.name.clone(), e.name.clone())));
    html! {
        fieldset.change-row data-row {
            legend { "Change " (i + 1) }
            (choice(form, &format!("change_{i}"), "What", "", &kinds))
            div.edge-fields {
                div.by-line { (length_input(form, &format!("at_{i}"), "Line at", "")) }
                div.by-edge { (choice(form, &format!("edge_{i}"), "Edge", "", &options)) }
                (length_change_input(form, &format!("by_{i}"), "By, or radius", "Less than nothing takes away."))
            }
            (text(form, &format!("reason_{i}"), "Why", "", "text"))
        }
    }
}

/// As many rows as were sent or filled, and some to spare.
fn rows(form: &Shown) -> usize {
    let used = (0..limits::OUTLINE_CHANGES).rev().find(|i| {
        !form.typed.get(&format!("change_{i}")).is_empty() || !form.typed.get(&format!("by_{i}")).trim().is_empty()
    });
    (used.map_or(0, |i| i + 1) + SPARE).min(limits::OUTLINE_CHANGES)
}

/// The piece as typed, and which row of the form each change and finish stands in.
fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<(Piece, Rows), Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let Ok((piece, mut pattern, edges)) = outlined(plan, name) else {
        r.errors
            .add("allowance_0", "This piece has no outline any more. Draft it again.");
        return Err(r.errors);
    };
    if let Source::Drawn(outline) = &mut pattern.from {
        grain::set(outline, typed.get("grain"));
    }
    let mut rows = Rows::default();
    let mut finish = Vec::new();
    for (i, edge) in edges.iter().enumerate() {
        let (kind, allowance) = fold::read(&mut r, i);
        let own = Finish {
            edge: edge.name.clone(),
            allowance,
            corner: r.choice(&format!("corner_{i}")),
            kind,
        };
        match &mut pattern.from {
            Source::Drawn(outline) => {
                if let Some(drawn) = outline.edges.get_mut(i) {
                    (drawn.allowance, drawn.corner, drawn.kind) = (own.allowance, own.corner, own.kind);
                }
            }
            Source::Draft(_) => {
                if (own.allowance, own.corner, own.kind) != (edge.allowance, edge.corner, edge.kind) {
                    rows.finish.push(i);
                    finish.push(own);
                }
            }
        }
    }
    pattern.changes = Vec::new();
    for i in 0..limits::OUTLINE_CHANGES {
        let at = |field: &str| format!("{field}_{i}");
        let what = typed.get(&at("change")).to_string();
        if what.is_empty() {
            if !typed.get(&at("by")).trim().is_empty() {
                r.errors.add(at("change"), "Choose what is changed, or empty the row.");
            }
            continue;
        }
        let by = Length::parse_signed(typed.get(&at("by")), plan.unit);
        let by = r.taken(&at("by"), by);
        let mut edge = || {
            let edge = typed.get(&at("edge")).to_string();
            if edge.is_empty() {
                r.errors.add(at("edge"), "Choose the edge.");
            }
            edge
        };
        let change = match what.as_str() {
            "add" => ChangeOf::AddToEdge(AddToEdge { edge: edge(), by }),
            "round" => ChangeOf::RoundCorner(RoundCorner {
                edge: edge(),
                radius: by,
            }),
            "height" | "width" => ChangeOf::Lengthen(Lengthen {
                along: if what == "width" { Along::Width } else { Along::Height },
                at: r.length_positive(&at("at")),
                by,
            }),
            _ => {
                r.errors.add(at("change"), "Choose one of the list.");
                continue;
            }
        };
        rows.changes.push(i);
        pattern.changes.push(OutlineChange {
            change,
            reason: r.line(&at("reason"), LINE),
        });
    }
    pattern.finish = finish;
    part::read_decision(&mut r);
    if r.errors.is_empty() {
        let piece = Piece {
            pattern: Some(pattern),
            ..piece
        };
        Ok((piece, rows))
    } else {
        Err(r.errors)
    }
}

/// The form's rows of what was read, in its order.
#[derive(Default)]
struct Rows {
    finish: Vec<usize>,
    changes: Vec<usize>,
}

impl Rows {
    /// The field a problem stands beside.
    fn place(&self, problem: &Problem) -> String {
        let parts: Vec<&str> = problem.field.split('/').collect();
        let found = parts.windows(2).find_map(|pair| match pair {
            [list, n] => Some((*list, n.parse::<usize>().ok()?)),
            _ => None,
        });
        let last = parts.last().copied().unwrap_or_default();
        match found {
            Some(("changes", n)) => {
                let field = if last == "radius" { "by" } else { last };
                let row = self.changes.get(n).copied().unwrap_or(n);
                match field {
                    "at" | "by" | "edge" | "reason" => format!("{field}_{row}"),
                    _ => format!("change_{row}"),
                }
            }
            Some(("finish", n)) => format!("allowance_{}", self.finish.get(n).copied().unwrap_or(n)),
            // Nothing but a fold can be wrong with how an edge is finished.
            Some(("edges", _)) if last == "kind" => "fold".into(),
            Some(("edges", n)) if matches!(last, "allowance" | "corner") => format!("{last}_{n}"),
            _ => match self.changes.last() {
                Some(row) => format!("by_{row}"),
                None => "allowance_0".into(),
            },
        }
    }
}

pub async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    outlined(&project.plan, &name)?;
    let typed = typed(body);
    let (piece, rows) = match read(&typed, &project.plan, &name) {
        Ok(read) => read,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &name, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let own = format!("pieces/{name}/pattern");
    let saved = part::save(&app, &project, &typed, Edit::Piece(Box::new(piece)), &own).await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#pieces",
        |p| rows.place(p),
        |now| filled(&now.plan, &name),
        async |project, form, note| page(&app, project, &name, form, note).await,
        &project,
    )
    .await
}

pub async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    outlined(&project.plan, &name)?;
    let read = read(&typed(body), &project.plan, &name).map(|(piece, _)| Edit::Piece(Box::new(piece)));
    let focus = format!("{OF_OUTLINE}{name}");
    part::tried(&app, &project, read, Some(&focus)).await
}

/// Without script: the form again, with what is typed drawn. Nothing is saved.
pub async fn draw(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    outlined(&project.plan, &name)?;
    let typed = typed(body);
    let errors = read(&typed, &project.plan, &name).err().unwrap_or_default();
    respond::page(page(&app, &project, &name, &Shown { typed, errors }, None).await?)
}

/// The piece as the rectangle it is cut from now.
pub async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let plan = settled(&project.plan).plan.into_owned();
    let piece = plan.piece(&name).cloned().ok_or(WebError::NoPage)?;
    let rectangle = Piece { pattern: None, ..piece };
    part::remove(&app, project.id, typed(body), Edit::Piece(Box::new(rectangle))).await
}
