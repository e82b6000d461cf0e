//! The plan of a project: its title, its figures in short, and every part one
//! tap from being changed.

use super::versions::Undone;
use super::{at_table, not_yet, part, thoughts};
use crate::figures::time::TimeFigures;
use crate::figures::{ClothFigures, Figures, LayState, PieceFigures};
use crate::measure::{Length, Round, Unit};
use crate::notebook::{Notebook, Pictures, Project, ProjectState, Wearer};
use crate::plan::{ClothKind, Face, NotionKind, Piece, Plan};
use crate::web::app::{App, id};
use crate::web::components::{
    card_with, cloth_length, empty, empty_for_now, figure, length, length_down, letter, markdown, panel_drawing, photo,
    sentence, size_up, swatch,
};
use crate::web::error::Answer;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, resource};
use chrono::Local;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}").route(get().to(show)));
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Undone>) -> Answer {
    let id = id(&path)?;
    let (project, thoughts, tried, pictures, steps) = app
        .ask(move |n: &Notebook| {
            Ok((
                n.project(id)?,
                thoughts::of(n, id)?,
                n.variants(id)?,
                n.pictures()?,
                n.steps(id)?,
            ))
        })
        .await?;
    let wearer = super::measured::wearer_of(&app, id).await?;
    let pair = app
        .ask(move |n: &Notebook| super::before_after::load_pair(n, id))
        .await?;
    let last = super::versions::last_of(&app, &project).await?;
    let figures = app.figures(&project.plan).await?;
    let time = super::time::reckoned(&app, &project, &figures).await?;
    let tried = tried.as_ref().map(super::variants::in_short);
    let left = super::project_cloth::reminder(&app, &project).await?;
    respond::page(page::project(
        id,
        &project.details.title,
        Place::Plan,
        "Plan",
        html! {
            (super::versions::undone_note(&asked.undone))
            (title(&project, wearer.as_ref()))
            (left)
            (problems(&project, &figures))
            @let waiting = next(&project);
            @if let Some(waiting) = &waiting { (waiting) }
            (at_table::card(&project, &figures, steps, &time, waiting.is_some()))
            (super::measured::changed_card(&project, wearer.as_ref()))
            (thoughts::show(&thoughts))
            (at_a_glance(&project, &figures))
            div.plan-parts {
                (pieces(&project, &figures))
                (cloths(&project, &figures, &pictures))
                (edges(&project, &figures))
                (super::plan_sewing::sections(&project, &figures))
                (notions(&project))
                (super::contrast::card_of(&project, &figures, &pictures))
                @if let Some(pair) = &pair { (super::before_after::pair_card(id, pair, project.plan.unit)) }
                (not_yet::card_of(&project))
                (footer(&project, &time, tried))
                (super::versions::project_card(&project, last))
            }
        },
    ))
}

/// The one thing the plan is waiting for, while it is being made.
fn next(project: &Project) -> Option<Markup> {
    let plan = &project.plan;
    let base = format!("/projects/{}", project.id);
    let undecided = plan.pieces.iter().find(|p| p.face.is_none());
    let step = if project.details.state == ProjectState::Finished || plan.pieces.is_empty() {
        None
    } else if !plan.cloths.iter().any(|c| c.kind == ClothKind::Cloth) {
        Some((
            "Choose the cloths".to_string(),
            "From your shelf or new: with them the pieces get their face.",
            format!("{base}/cloths/choose"),
        ))
    } else if let Some(piece) = undecided {
        Some((
            format!("Decide the face of {}", piece.name),
            "Plain cloth or a patchwork: then its figures can be worked out.",
            format!("{base}/pieces/{}#face", piece.id),
        ))
    } else if !plan.edges.is_empty() && plan.binding.is_none() {
        Some((
            "Choose the binding".to_string(),
            "Its cloth, fold and width: the edges are listed.",
            format!("{base}/binding"),
        ))
    } else {
        None
    };
    step.map(|(what, why, href)| {
        html! {
            a.next href=(href) {
                span { b { "Next: " (what) } span.hint { (why) } }
                svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" { path d="M5 12h13 M13 6l6 6-6 6" {} }
            }
        }
    })
}

fn title(project: &Project, wearer: Option<&Wearer>) -> Markup {
    let d = &project.details;
    let today = Local::now().date_naive();
    html! {
        div.project-head {
            @if let Some(hash) = &project.photo { div.project-cover { (photo(hash, &format!("{}, newest or chosen picture", d.title))) } }
            div.project-facts {
                h1 { (d.title) }
                p.meta {
                    span.state data-state=(d.state.name()) { (d.state.name()) }
                    @if !project.for_whom.is_empty() { " for " (project.for_whom) }
                }
                @if let Some(due) = d.due {
                    @if d.state != ProjectState::Finished {
                        p.due.late[due < today].soon[(due - today).num_days() < 8] { (super::home::due_words(due, today)) }
                    }
                }
                @if !d.pattern.name.is_empty() || !d.pattern.maker.is_empty() {
                    p.meta {
                        "Pattern: "
                        @if d.pattern.link.is_empty() { (d.pattern.name) } @else { a href=(d.pattern.link) rel="noopener noreferrer" { (d.pattern.name) } }
                        @if !d.pattern.maker.is_empty() { " by " (d.pattern.maker) }
                        @if !d.pattern.size.is_empty() { ", size " (d.pattern.size) }
                    }
                }
                @if let Some(set) = &project.measurements {
                    p.meta { "Measurements of " (set.taken_on.format("%-d %B %Y")) }
                    (super::measured::old_note(project, wearer, set.taken_on, today))
                }
                @if let Some((from, title)) = &project.from { p.meta { "Started from " a href=(format!("/projects/{from}")) { (title) } } }
                @if !d.about.is_empty() { div.prose { (markdown(&d.about)) } }
                p.actions {
                    a.button.quiet href=(format!("/projects/{}/details", project.id)) { "Change details" }
                }
            }
        }
    }
}

pub fn problems(project: &Project, figures: &Figures) -> Markup {
    html! {
        @if !figures.problems.is_empty() {
            section.card.problems aria-label="What is in the way" {
                h2 { "To mend before every figure can be worked out" }
                ul { @for p in &figures.problems { li {
                    a href=(format!("{}/{}", part::base(project), part_address(&p.field))) { (p.message) }
                } } }
            }
        }
    }
}

/// The form of the part a problem is in.
fn part_address(field: &str) -> String {
    let mut parts = field.split('/');
    match (parts.next().unwrap_or(""), parts.next()) {
        ("pieces", Some(id)) if field.split('/').nth(2) == Some("pattern") => format!("pieces/{id}/outline"),
        (list @ ("pieces" | "drafts" | "cloths" | "edges" | "notions" | "closures" | "seams"), Some(id)) => {
            format!("{list}/{id}")
        }
        ("lays", Some(cloth)) => format!("lay/{cloth}"),
        ("binding", _) => "binding".into(),
        (one @ ("allowances" | "thread" | "sizing" | "time"), _) => one.into(),
        _ => String::new(),
    }
}

fn at_a_glance(project: &Project, figures: &Figures) -> Markup {
    let unit = project.plan.unit;
    let to_buy: Vec<&ClothFigures> = figures.cloths.iter().filter(|c| c.to_buy > Length::ZERO).collect();
    let used = figures.cloths.iter().any(ClothFigures::is_used);
    html! {
        @if used {
            section.glance aria-label="Figures in short" {
                div.figures {
                    (figure("Panels", html! { (figures.totals.panels) }, html! { @if figures.totals.units > 0 { "of " (figures.totals.units) " units" } }))
                    @if figures.totals.patches > 0 { (figure("Patches", html! { (figures.totals.patches) }, html! { "to cut" })) }
                    @if let Some(b) = &figures.binding { (figure("Binding", cloth_length(b.total, unit), html! { "strips " (b.strip_width.cut_one(unit)) " wide" })) }
                }
                div.to-buy {
                    h2 { "To buy" }
                    @if to_buy.is_empty() { p { b { "Nothing." } " What is owned suffices." } }
                    @else { ul.lines { @for c in &to_buy { li { span { (c.name) } (cloth_length(c.to_buy, unit)) } } } }
                }
                // Of what is still made they stand with what is needed at the table.
                @if project.details.state == ProjectState::Finished {
                    p.actions { a.button.quiet href=(format!("/projects/{}/sheets", project.id)) { "Sheets to print" } }
                }
            }
        }
    }
}

pub fn pieces(project: &Project, figures: &Figures) -> Markup {
    let base = format!("{}/pieces", part::base(project));
    let plan = &project.plan;
    card_with(
        "pieces",
        "Pieces",
        html! { @if !plan.pieces.is_empty() {
            span.head-actions {
                a.button.quiet href=(format!("{}/drafts", part::base(project))) { "Draft one" }
                a.button href=(format!("{base}/new")) { "Add a piece" }
            }
        } },
        html! {
            @if plan.pieces.is_empty() {
                (empty("Enter the parts of the pattern: how many, how large, what you alter. Figures follow as soon as a face is chosen.", &format!("{base}/new"), "Add the first piece"))
                p.actions { a.button.quiet href=(format!("{}/drafts", part::base(project))) { "Or draft one from measures" } }
            }
            ul.rows {
                @for piece in &plan.pieces {
                    li { a.row href=(format!("{base}/{}", piece.id)) {
                        (piece_row(plan, piece, figures.pieces.iter().find(|f| f.piece == piece.id)))
                    } }
                }
            }
            @if plan.pieces.iter().any(|p| matches!(p.face, Some(Face::Patchwork(_)))) {
                p.actions { a.button.quiet href=(format!("{}/unit-sizes", part::base(project))) { "Compare unit sizes" } }
            }
        },
    )
}

fn piece_row(plan: &Plan, piece: &Piece, f: Option<&PieceFigures>) -> Markup {
    let unit = plan.unit;
    html! {
        div.row-drawing {
            @let panel = piece.face.as_ref().zip(f.and_then(|f| f.panel.as_ref()));
            // Of plain cloth the outline tells more than its panel.
            @let plain = matches!(piece.face, Some(Face::Plain(_)) | None);
            @if let Some(outline) = super::drafts::piece_drawing(plan, piece).filter(|_| plain) {
                (outline)
            } @else if let Some((face, panel)) = panel {
                (panel_drawing(plan, face, panel, &piece.id))
            } @else if let Some(outline) = super::drafts::piece_drawing(plan, piece) {
                (outline)
            } @else { span.no-unit aria-hidden="true" { "?" } }
        }
        div.row-text {
            b { (piece.name) } " "
            span.count { "cut " (piece.cut_count) @if piece.mirrored { ", mirrored pair" } @if piece.on_fold { ", on the fold" } }
            @if let Some(f) = f { div.meta { (size_up(f.finished, unit)) } }
            div.meta {
                @match &piece.face {
                    None => "face not decided",
                    Some(Face::Plain(plain)) => { "plain " (plan.cloth(&plain.cloth).map_or("cloth", |c| c.name.as_str())) }
                    Some(Face::Patchwork(p)) => {
                        @if let Some(panel) = f.and_then(|f| f.panel.as_ref()) { (panel.columns) " × " (panel.rows) " " (super::figures::counted(panel.setting)) ", " }
                        (unit_names(p)) " " (overage(p.finished, unit))
                    }
                }
            }
            @for a in &piece.alterations {
                div.meta.altered { @if a.by.is_negative() { "−" } @else { "+" } (length(a.by.abs(), unit)) " in " (a.along.name()) @if !a.reason.is_empty() { ": " (a.reason) } }
            }
            @for c in piece.outline_changes() {
                div.meta.altered { (crate::sheets::outline_change_words(&c.change, unit)) @if !c.reason.is_empty() { ": " (c.reason) } }
            }
        }
    }
}

/// "half-square triangle and plain square", "4 kinds of units".
fn unit_names(p: &crate::plan::Patchwork) -> String {
    let mut names: Vec<&str> = Vec::new();
    for name in p.units.iter().map(|u| u.kind.name()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    match names.len() {
        0..=2 => names.join(" and "),
        n => format!("{n} kinds of units"),
    }
}

pub fn cloths(project: &Project, figures: &Figures, pictures: &Pictures) -> Markup {
    let base = format!("{}/cloths", part::base(project));
    let plan = &project.plan;
    let unit = plan.unit;
    card_with(
        "cloths",
        "Cloths",
        html! { @if !plan.cloths.is_empty() { a.button href=(format!("{base}/choose")) { "Add a cloth" } } },
        html! {
            @if plan.cloths.is_empty() {
                (empty_for_now("Take cloths from your shelf or describe new ones: width, how much you own, the price.", &format!("{base}/choose"), "Choose the first cloth"))
            }
            ul.rows {
                @for (i, c) in plan.cloths.iter().enumerate() {
                    @let f = figures.cloths.iter().find(|f| f.cloth == c.id);
                    li { a.row href=(format!("{base}/{}", c.id)) {
                        (swatch(&c.colour, Some(&letter(i)), pictures.of(c)))
                        div.row-text {
                            b { (c.name) } @if c.kind == ClothKind::Batting && !c.name.to_lowercase().contains("batting") { " " span.count { "batting" } }
                            div.meta { @if !c.fibre.is_empty() { (c.fibre) ", " } (length_down(c.usable_width, unit)) " wide" }
                            div.meta { (sentence(&owned_words(c, unit))) }
                            @if let Some(lay) = f.and_then(|f| f.lay.as_ref()) {
                                @if lay.state == LayState::NoLongerHolds { div.meta.error { (lay.told) } } @else { div.meta { (lay.told) } }
                            }
                        }
                        @if let Some(f) = f {
                            div.row-figure {
                                @if !f.is_used() { span.meta { "not used yet" } }
                                @else if f.to_buy > Length::ZERO { span.label { "to buy" } (cloth_length(f.to_buy, unit)) }
                                @else { span.label { "suffices" } span.len { span.lead { "✓" } } }
                            }
                        }
                    } }
                }
            }
            @if project.variant.is_none() && plan.cloths.iter().any(|c| c.stock.is_some()) {
                p.actions { a.button.quiet href=(format!("/projects/{}/cloth", project.id)) { "Cut, and given back to the shelf" } }
            }
            @if plan.cloths.iter().any(|c| !c.remnants.is_empty() || !c.outlined.is_empty() || !c.ready_cut.is_empty() || c.owned > Length::ZERO) {
                p.actions { a.button.quiet href=(format!("/projects/{}/leftovers", project.id)) { "What the cloth at hand gives" } }
            }
        },
    )
}

/// "owned 1 yd (0.91 m) and 2 remnants".
pub fn owned_words(c: &crate::plan::Cloth, unit: Unit) -> String {
    let ready = c.ready_cut.iter().map(|r| r.count).sum();
    let remnants = leftover_count(c.remnants.iter().map(|r| r.count), c.outlined.iter().map(|o| o.count));
    at_hand(c.owned, remnants, ready, unit)
}

/// Remnants of any outline together.
pub fn leftover_count(rectangles: impl Iterator<Item = u32>, outlined: impl Iterator<Item = u32>) -> u32 {
    rectangles.chain(outlined).fold(0, u32::saturating_add)
}

/// As [`owned_words`], of a cloth in the plan or on the shelf. Printed down:
/// what is not there cannot be cut.
pub fn at_hand(owned: Length, remnants: u32, ready_cut: u32, unit: Unit) -> String {
    let mut parts = Vec::new();
    if owned > Length::ZERO {
        parts.push(format!("owned {}", owned.both_cloth(unit, Round::Down)));
    }
    match remnants {
        0 => {}
        1 => parts.push("1 remnant".into()),
        n => parts.push(format!("{n} remnants")),
    }
    match ready_cut {
        0 => {}
        1 => parts.push("1 ready-cut patch".into()),
        n => parts.push(format!("{n} ready-cut patches")),
    }
    match parts.pop() {
        None => "none owned".into(),
        Some(last) if parts.is_empty() => last,
        Some(last) => format!("{} and {last}", parts.join(", ")),
    }
}

pub fn edges(project: &Project, figures: &Figures) -> Markup {
    let plan = &project.plan;
    let unit = plan.unit;
    let base = part::base(project);
    if plan.edges.is_empty() {
        return html! {};
    }
    card_with(
        "edges",
        "Edges and binding",
        html! { a.button href=(format!("{base}/edges/new")) { "Add an edge" } },
        html! {
                ul.rows {
                    @for e in &plan.edges {
                        li { a.row href=(format!("{base}/edges/{}", e.id)) {
                            div.row-text { b { (e.name) } " " span.count { (e.count) " ×" @if e.closed { ", closed" } @if e.corners > 0 { ", " (e.corners) " corners" } } }
                            div.row-figure { (length(e.length, unit)) }
                        } }
                    }
                    li { a.row href=(format!("{base}/binding")) {
                        div.row-text {
                            @match &plan.binding {
                                Some(b) => {
                                    b { "Binding" } " " span.count { (binding_words(b)) }
                                    div.meta { "from " (plan.cloth(&b.cloth).map_or("a cloth", |c| c.name.as_str())) ", " (b.finished_width.both(unit, Round::Nearest)) " wide when finished" }
                                }
                                None => { b { "Choose the binding" } div.meta { "Width, fold, cloth, how it is cut." } }
                            }
                        }
                        @if let Some(b) = &figures.binding { div.row-figure { span.label { "to make" } (cloth_length(b.total, unit)) } }
                    } }
                }
        },
    )
}

pub fn binding_words(b: &crate::plan::Binding) -> String {
    use crate::plan::{BindingCut, Fold};
    let fold = match b.fold {
        Fold::Single => "single-fold",
        Fold::Double => "double-fold",
    };
    let cut = match b.cut {
        BindingCut::Straight => "straight-grain strips",
        BindingCut::BiasStrips => "bias strips",
        BindingCut::Continuous => "continuous bias",
    };
    let from = if b.from_remnants { ", from remnants" } else { "" };
    format!("{fold}, {cut}{from}")
}

pub fn notions(project: &Project) -> Markup {
    let plan = &project.plan;
    let base = format!("{}/notions", part::base(project));
    if plan.notions.is_empty() {
        return html! {};
    }
    card_with(
        "notions",
        "Notions and tools",
        html! { a.button href=(format!("{base}/new")) { "Add" } },
        html! {
            ul.rows { @for n in &plan.notions {
                li { a.row href=(format!("{base}/{}", n.id)) {
                    div.row-text { b { (n.name) } @if n.kind == NotionKind::Tool { " " span.count { "tool" } }
                        @if !n.remark.is_empty() { div.meta { (n.remark) } } }
                    div.row-figure { (n.quantity) }
                } }
            } }
        },
    )
}

/// What is set for the whole plan. `tried` are the variants' names, where a
/// pair is set up.
pub fn footer(project: &Project, time: &TimeFigures, tried: Option<String>) -> Markup {
    let a = &project.plan.allowances;
    let unit = project.plan.unit;
    let base = part::base(project);
    let own = project.variant.is_none();
    card_with(
        "allowances",
        if own {
            "Allowances, time and revisions"
        } else {
            "Allowances and time"
        },
        html! {},
        html! {
            ul.rows {
                li { a.row href=(format!("{base}/allowances")) {
                    div.row-text { b { "Unit and allowances" }
                        div.meta { (match unit { Unit::Inch => "Inches first", Unit::Cm => "Centimetres first" }) ", patchwork seam " (a.seam.both(unit, Round::Nearest)) ", batting +" (overage(a.batting_overage, unit)) ", backing +" (overage(a.backing_overage, unit)) " on every side" } }
                } }
                li { a.row href=(format!("{base}/time")) {
                    div.row-text { b { "Time" } div.meta { (super::time::in_short(time)) } }
                } }
                @if own {
                    li { a.row href=(format!("{base}/variants")) {
                        div.row-text { b { "Two variants" }
                            div.meta { @if let Some(tried) = tried { (tried) } @else { "Try two ways of it side by side before you decide." } } }
                    } }
                    li { a.row href=(format!("{base}/revisions")) {
                        div.row-text { b { "Revision " (project.revision) } div.meta { "Every earlier plan is kept: look, compare, take again." } }
                    } }
                }
            }
            @if own { p.actions { a.button.quiet href=(format!("/projects/{}/again", project.id)) { "New project from this" } } }
        },
    )
}

fn overage(x: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => x.inches(Round::Nearest),
        Unit::Cm => x.cm(Round::Nearest),
    }
}
