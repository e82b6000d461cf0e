//! Two variants of a plan side by side, before one is decided on. Each is
//! changed by the forms of the plan, on pages under `/variants/a/projects/ID`.

use super::part;
use super::plan;
use crate::figures::{self, Figures, beside};
use crate::notebook::{Id, Letter, NewDecision, Notebook, NotebookError, Project, Variant};
use crate::plan::{Clash, differences};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{
    ReturnTo, card, changes, comparison, errors_summary, field_errors, hidden, save_bar, text, text_area,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{NAME, Reader, Shown, Typed};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::http::StatusCode;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource, scope};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig, app: &App) {
    config
        .service(
            resource("/projects/{id}/variants")
                .route(get().to(show))
                .route(post().to(begin)),
        )
        .service(resource("/projects/{id}/variants/drop").route(post().to(drop_both)))
        .service(resource("/projects/{id}/variants/restore").route(post().to(restore)))
        .service(resource("/projects/{id}/variants/{letter}/note").route(post().to(note)))
        .service(
            resource("/projects/{id}/variants/{letter}/take")
                .route(get().to(show_take))
                .route(post().to(take)),
        );
    for letter in Letter::ALL {
        let app = App {
            variant: Some(letter),
            ..app.clone()
        };
        config.service(
            scope(&format!("/variants/{}", letter.word()))
                .app_data(Data::new(app))
                .configure(super::parts)
                .configure(super::figures::routes)
                .configure(super::leftovers::routes)
                .configure(super::lay::routes)
                .configure(super::sheets::routes)
                .service(resource("/projects/{id}").route(get().to(parts_of))),
        );
    }
}

fn letter(word: &str) -> Result<Letter, WebError> {
    let found = Letter::ALL.into_iter().find(|l| l.word() == word);
    found.ok_or(WebError::NoPage)
}

fn address(project: Id) -> String {
    format!("/projects/{project}/variants")
}

#[derive(serde::Deserialize)]
struct Asked {
    /// The pair was just given up.
    #[serde(default)]
    dropped: bool,
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let id = id(&path)?;
    let (project, pair, binned) = app
        .ask(move |n: &Notebook| Ok((n.project(id)?, n.variants(id)?, n.has_binned_variants(id)?)))
        .await?;
    let Some(pair) = pair else {
        return respond::page(none_yet(&project, binned, asked.dropped));
    };
    side_by_side(&app, &project, &pair).await.and_then(respond::page)
}

fn none_yet(project: &Project, binned: bool, dropped: bool) -> Markup {
    let id = project.id;
    frame(
        project,
        "Two variants",
        html! {
            h1 { "Two variants" }
            @if dropped { div.undo role="status" {
                p { "Both variants are in the bin." }
                form method="post" action=(format!("{}/restore", address(id))) { button.button type="submit" { "Undo" } }
            } }
            p.lead-in { "Not sure whether 5 in patches or 6 in, the cream or the grey? Set two variants of the plan beside each other: change each as you like, look at both cut lists, then take one. The plan itself stays as it is until then." }
            form method="post" action=(address(id)) {
                button.button.primary type="submit" { "Set two variants beside each other" }
            }
            @if binned && !dropped {
                form.danger method="post" action=(format!("{}/restore", address(id))) {
                    p { "The pair you had before is still in the bin." }
                    button.button.quiet type="submit" { "Take the earlier pair out of the bin" }
                }
            }
            p.actions { a.button.quiet href=(format!("/projects/{id}")) { "Back to the plan" } }
        },
    )
}

fn frame(project: &Project, heading: &str, body: Markup) -> Markup {
    page::project(project.id, &project.details.title, Place::Plan, heading, body)
}

async fn side_by_side(app: &App, project: &Project, pair: &[Variant; 2]) -> Result<Markup, WebError> {
    // What taking it would give; where that clashes, the variant by itself.
    let outcomes: Vec<_> = pair.iter().map(|v| v.brought_over(&project.plan)).collect();
    let mut plans = vec![project.plan.clone()];
    plans.extend(
        pair.iter()
            .zip(&outcomes)
            .map(|(v, outcome)| outcome.as_ref().unwrap_or(&v.plan).clone()),
    );
    let all = app.figures_of(project.id, plans).await?;
    let rows = beside(&all.iter().collect::<Vec<_>>());
    let id = project.id;
    Ok(frame(
        project,
        "Two variants",
        html! {
            h1 { "Two variants" }
            p.hint { "Neither is the plan yet. Change each, look at the figures, take one." }
            div.variants {
                @for ((v, outcome), figures) in pair.iter().zip(&outcomes).zip(all.iter().skip(1)) {
                    (head(project, v, outcome.as_ref().err(), figures))
                }
            }
            (card("figures", "Figure by figure", html! {
                @if rows.is_empty() {
                    p { "Every figure is the same in the plan and in both variants so far." }
                } @else {
                    (comparison("Figures of the plan and of both variants", &["The plan", "A", "B"], Some("B against A"), &rows))
                    p.hint { "All other figures are the same. Time is reckoned by the paces of your finished projects." }
                }
            }))
            form.danger method="post" action=(format!("{}/drop", address(id))) {
                p { "Neither of them? The plan stays as it is; the pair goes into the bin." }
                button.button.quiet type="submit" { "Give both variants up" }
            }
            p.actions { a.button.quiet href=(format!("/projects/{id}")) { "Back to the plan" } }
        },
    ))
}

/// One variant: what is tried in it, what differs, and what to do.
fn head(project: &Project, v: &Variant, clash: Option<&Clash>, figures: &Figures) -> Markup {
    let (id, name, word) = (project.id, v.letter.name(), v.letter.word());
    let field = format!("note-{word}");
    let done = differences(&v.from.plan, &v.plan);
    html! {
        section.card.variant aria-labelledby=(format!("variant-{word}")) {
            h2 id=(format!("variant-{word}")) { (name) @if !v.note.is_empty() { ": " (v.note) } }
            @if done.is_empty() { p.meta { "As the plan, nothing changed yet." } }
            @else { ul.done { @for edit in &done { li { (edit.title(&v.from.plan)) } } } }
            @if let Some(clash) = clash { p.error { (clash.0) " was changed in the plan as well. The figures are this variant's own." } }
            @if !figures.problems.is_empty() {
                ul.missing { @for p in figures.problems.iter().take(4) { li { (p.message) } } }
            }
            div.actions {
                a.button href=(format!("/variants/{word}/projects/{id}")) { "Change " (name) }
                a.button.primary href=(format!("{}/{word}/take", address(id))) { "Take " (name) }
                a.button.quiet href=(format!("/variants/{word}/projects/{id}/figures")) { "Cut list of " (name) }
            }
            details {
                summary { "Say what " (name) " tries" }
                form method="post" action=(format!("{}/{word}/note", address(id))) {
                    div.field { label for=(field) { "In a few words" } input type="text" id=(field) name="note" value=(v.note) autocomplete="off" maxlength=(NAME); }
                    button.button type="submit" { "Save" }
                }
            }
        }
    }
}

async fn begin(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.begin_variants(project)).await?;
    respond::see(&address(project))
}

async fn drop_both(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.drop_variants(project)).await?;
    respond::see(&format!("{}?dropped=true", address(project)))
}

async fn restore(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.restore_variants(project)).await?;
    respond::see(&address(project))
}

async fn note(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, word) = path.into_inner();
    let (project, letter) = (id(&project)?, letter(&word)?);
    let typed = typed(body);
    let mut r = Reader::new(&typed, crate::measure::Unit::Inch);
    let note = r.line("note", NAME);
    if let Some((_, sentence)) = r.errors.0.first() {
        return Err(WebError::Refused(sentence.clone()));
    }
    app.ask(move |n: &Notebook| n.note_variant(project, letter, &note))
        .await?;
    respond::see(&address(project))
}

/// The parts of a variant: the lists of the plan page, leading to its forms.
async fn parts_of(app: Data<App>, path: Path<String>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let figures = app.figures(&project.plan).await?;
    let pictures = app.ask(|n: &Notebook| n.pictures()).await?;
    let time = super::time::reckoned(&app, &project, &figures).await?;
    let name = project.variant.map_or("", Letter::name);
    respond::page(frame(
        &project,
        &format!("Variant {name}"),
        html! {
            (part::variant_note(&project))
            h1 { "Variant " (name) }
            (plan::problems(&project, &figures))
            (plan::pieces(&project, &figures))
            (plan::cloths(&project, &figures, &pictures))
            (plan::edges(&project, &figures))
            (super::plan_sewing::sections(&project, &figures))
            (plan::notions(&project))
            (super::not_yet::card_of(&project))
            (super::contrast::card_of(&project, &figures, &pictures))
            (plan::footer(&project, &time, None))
            p.actions {
                a.button.primary href=(address(project.id)) { "Compare both variants" }
                a.button href=(format!("{}/figures", part::base(&project))) { "All figures and the cut list of " (name) }
            }
        },
    ))
}

async fn load(app: &App, project: &str, word: &str) -> Result<(Project, Variant), WebError> {
    let (id, letter) = (id(project)?, letter(word)?);
    app.ask(move |n: &Notebook| {
        let [a, b] = n.variants(id)?.ok_or(NotebookError::NotFound("variant"))?;
        Ok((n.project(id)?, if letter == Letter::A { a } else { b }))
    })
    .await
}

async fn show_take(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, word) = path.into_inner();
    let (project, variant) = load(&app, &project, &word).await?;
    let mut form = Shown::default();
    form.typed.set("decision_id", Id::now_v7().to_string());
    form.typed.set("decided", &variant.note);
    respond::page(take_page(&app, &project, &variant, form, None).await?)
}

/// What taking a variant changes, and the decision that goes with it.
async fn take_page(
    app: &App,
    project: &Project,
    v: &Variant,
    mut form: Shown,
    stale: Option<String>,
) -> Result<Markup, WebError> {
    let outcome = v.brought_over(&project.plan);
    let plan = outcome.as_ref().unwrap_or(&v.plan).clone();
    let all = app.figures_of(project.id, vec![project.plan.clone(), plan]).await?;
    let effect = match all.as_slice() {
        [now, then] => figures::effect(now, then),
        _ => Vec::new(),
    };
    let (id, name, word) = (project.id, v.letter.name(), v.letter.word());
    form.typed.set("version", v.version.to_string());
    let over = outcome.as_ref().err().map(|clash| (clash, project.revision));
    form.typed
        .set("over", over.map_or(String::new(), |(_, revision)| revision.to_string()));
    Ok(frame(
        project,
        &format!("Take {name}"),
        html! {
            h1 { "Take " (name) @if !v.note.is_empty() { ": " (v.note) } }
            @if let Some(sentence) = stale { div.errors role="alert" tabindex="-1" { p { b { (sentence) } } p { "Look at what it changes now, then take it or go back." } } }
            @if let Some((clash, revision)) = over {
                div.errors role="alert" tabindex="-1" {
                    p { b { (clash.0) " was changed in the plan as well, since the variants were set beside each other. Nothing was written over." } }
                    p { "Taken all the same, the plan becomes " (name) " as it is, in place of revision " (revision) ", which is kept among the earlier ones. Or go back and make the change in " (name) " too." }
                }
            }
            (card("effect", "What it changes in the plan", html! {
                @if effect.is_empty() { p { "No figure." } } @else { (changes(&effect)) }
            }))
            form method="post" action=(format!("{}/{word}/take", address(id))) data-keep=(format!("{id}/{word}/take")) {
                @for field in ["version", "over", "decision_id"] { (hidden(field, form.typed.get(field))) }
                (errors_summary(&form))
                (field_errors(&form, "version"))
                (card("decision", "Keep it as a decision", html! {
                    p.hint { "It goes into the log with what it changes. Leave both empty for no entry." }
                    (text(&form, "decided", "What you decided", "", "text"))
                    (text_area(&form, "why", "Why", "So that you know it again in a year.", 3))
                }))
                (save_bar(&if over.is_some() { format!("Take {name} all the same") } else { format!("Take {name}") }, &ReturnTo { href: &address(id), label: "Cancel" }))
            }
        },
    ))
}

async fn take(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, word) = path.into_inner();
    let (project, letter) = (id(&project)?, letter(&word)?);
    let typed = typed(body);
    let mut r = Reader::new(&typed, crate::measure::Unit::Inch);
    part::read_decision(&mut r);
    let errors = r.errors;
    if !errors.is_empty() {
        let (project, variant) = load(&app, &project.to_string(), &word).await?;
        let form = Shown { typed, errors };
        return Err(WebError::Form(take_page(&app, &project, &variant, form, None).await?));
    }
    let version = typed.get("version").parse().unwrap_or(0);
    let over = typed.get("over").parse().ok();
    let decision = decision(&typed, letter);
    let taken = app
        .ask(move |n: &Notebook| n.take_variant(project, letter, version, over, decision.as_ref()))
        .await;
    match taken {
        Ok(_) => respond::see(&format!("/projects/{project}")),
        Err(WebError::Notebook(error @ (NotebookError::Clash { .. } | NotebookError::Stale(_)))) => {
            let stale = matches!(error, NotebookError::Stale(_)).then(|| error.to_string());
            let (project, variant) = load(&app, &project.to_string(), &word).await?;
            let page = take_page(&app, &project, &variant, Shown::from(typed), stale).await?;
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
        Err(other) => Err(other),
    }
}

fn decision(typed: &Typed, letter: Letter) -> Option<NewDecision> {
    let (decided, why) = (typed.get("decided").trim(), typed.get("why").trim());
    (!decided.is_empty() || !why.is_empty()).then(|| NewDecision {
        id: Id::try_parse(typed.get("decision_id")).unwrap_or_else(|_| Id::now_v7()),
        what: if decided.is_empty() {
            format!("Variant {} taken", letter.name())
        } else {
            decided.to_string()
        },
        why: why.to_string(),
    })
}

/// For the plan page: what is set beside it.
pub fn in_short(pair: &[Variant; 2]) -> String {
    let said = |v: &Variant| match v.note.as_str() {
        "" => v.letter.name().to_string(),
        note => format!("{} ({note})", v.letter.name()),
    };
    format!("{} and {} stand beside the plan.", said(&pair[0]), said(&pair[1]))
}
