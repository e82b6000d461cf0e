//! The forms of an edge to bind and of the binding itself.

use super::drafts::{edge_of, edge_value, edges_of};
use super::listed::{self, Listed, NEW};
use super::part::{self, PartForm};
use crate::measure::{INCH, Length};
use crate::notebook::Project;
use crate::plan::{Binding, BindingCut, ClothKind, Edge, Edit, Fold, Plan, limits};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, choice, length_input, letter, number, switch, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    listed::routes::<Edge>(config);
    config
        .service(
            resource("/projects/{id}/binding")
                .route(get().to(show_binding))
                .route(post().to(save_binding)),
        )
        .service(resource("/projects/{id}/binding/try").route(post().to(try_binding)))
        .service(resource("/projects/{id}/binding/remove").route(post().to(remove_binding)));
}

impl Listed for Edge {
    const LIST: &'static str = "edges";
    const BACK: &'static str = "#edges";
    const FIELDS: &'static [&'static str] = &["name", "from", "length", "count", "corners"];

    fn id(&self) -> &str {
        &self.id
    }

    fn of<'p>(plan: &'p Plan, id: &str) -> Option<&'p Edge> {
        plan.edge(id)
    }

    fn fresh() -> Typed {
        let mut typed = Typed::default();
        typed.set("corners", "0");
        typed
    }

    fn filled(&self, plan: &Plan) -> Typed {
        filled_edge(self, plan)
    }

    fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Edge, Errors> {
        read_edge(typed, plan, name)
    }

    async fn page(
        app: &App,
        project: &Project,
        name: &str,
        form: &Shown,
        note: Option<Markup>,
    ) -> Result<Markup, WebError> {
        edge_page(app, project, name, form, note).await
    }

    fn put(self) -> Edit {
        Edit::Edge(self)
    }

    fn removal(id: String) -> Edit {
        Edit::RemoveEdge(id)
    }
}

async fn edge_page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let known = project.plan.edge(name);
    let outlines = outlines(form, &project.plan);
    PartForm {
        project,
        address: format!("edges/{name}"),
        heading: known.map_or("An edge to bind".into(), |e| e.name.clone()),
        fields: card("edge", "The edge", html! {
            (text(form, "name", "Name", "Hem, front edge, armhole.", "text"))
            @if let Some(outlines) = &outlines { (choice(form, "from", "Taken from", "An edge of an outline: its length follows the outline.", outlines)) }
            div.wide-narrow {
                (length_input(form, "length", "Length of one", if outlines.is_some() { "Measured along the curve. Nothing where it is taken from an outline." } else { "Measured along the curve." }))
                (number(form, "count", "How many", if outlines.is_some() { "Empty: as many as its piece is cut." } else { "Empty: one." }))
            }
            div.wide-narrow {
                (switch(form, "closed", "Closes on itself", "A hem in the round, an armhole, the outside of a quilt."))
                (number(form, "corners", "Corners", "Mitred, on one."))
            }
        }),
        focus: None,
        remove: known.map(|_| "Take this edge out of the plan"),
        kept_by: None,
        back: "#edges".into(),
    }
    .page(app, form, note)
    .await
}

fn filled_edge(e: &Edge, plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &e.name);
    match &e.from {
        Some(of) => typed.set("from", edge_value(of)),
        None => typed.set("length", length_text(e.length, plan.unit)),
    }
    typed.set("count", e.count.to_string());
    typed.set("corners", e.corners.to_string());
    if e.closed {
        typed.set("closed", "yes");
    }
    typed
}

/// Where the length can come from; nothing where no piece has an outline.
fn outlines(form: &Shown, plan: &Plan) -> Option<Vec<(String, String)>> {
    let mut options = vec![(String::new(), "no outline: the length is typed".to_string())];
    options.extend(edges_of(plan));
    let chosen = form.typed.get("from");
    if !options.iter().any(|(value, _)| value == chosen) {
        options.push((chosen.to_string(), "an edge that is no longer there".into()));
    }
    (options.len() > 1).then_some(options)
}

fn read_edge(typed: &Typed, plan: &Plan, name: &str) -> Result<Edge, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let from = edge_of(typed.get("from"));
    let edge = Edge {
        id: if name == NEW {
            part::new_id(typed, plan, 'e')
        } else {
            name.to_string()
        },
        name: r.required("name", NAME, "Give the edge a name."),
        length: match from {
            Some(_) => Length::ZERO,
            None => r.length_positive("length"),
        },
        count: match (typed.get("count").trim().is_empty(), &from) {
            (true, Some(of)) => plan.piece(&of.piece).map_or(1, |p| p.cut_count),
            (true, None) => 1,
            _ => r.count("count", 1..=limits::EDGE_COUNT),
        },
        corners: if typed.get("corners").trim().is_empty() {
            0
        } else {
            r.count("corners", 0..=limits::CORNERS)
        },
        closed: typed.ticked("closed"),
        from,
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(edge) } else { Err(r.errors) }
}

/// A way to cut it, chosen where the ways are compared: filled in, not saved.
#[derive(serde::Deserialize)]
struct Chosen {
    cut: Option<BindingCut>,
    remnants: Option<String>,
}

async fn show_binding(app: Data<App>, path: Path<String>, chosen: Option<Query<Chosen>>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let mut form = Shown::from(filled_binding(&project.plan));
    if let Some(chosen) = chosen {
        if let Some(cut) = chosen.cut {
            form.typed.set("cut", word(&cut));
        }
        if chosen.remnants.is_some() {
            form.typed.set("from_remnants", "yes");
        }
    }
    part::begin(&mut form, &project);
    respond::page(binding_page(&app, &project, &form, None).await?)
}

async fn binding_page(app: &App, project: &Project, form: &Shown, note: Option<Markup>) -> Result<Markup, WebError> {
    let mut cloths = vec![(String::new(), "Choose a cloth".to_string())];
    cloths.extend(
        project
            .plan
            .cloths
            .iter()
            .enumerate()
            .filter(|(_, c)| c.kind == ClothKind::Cloth)
            .map(|(i, c)| (c.id.clone(), format!("{} · {}", letter(i), c.name))),
    );
    let folds = [
        (word(&Fold::Double), "double-fold: the strip folded in half".to_string()),
        (
            word(&Fold::Single),
            "single-fold: one layer, both sides turned in".to_string(),
        ),
    ];
    let cuts = [
        (
            word(&BindingCut::BiasStrips),
            "bias strips from a rectangle".to_string(),
        ),
        (
            word(&BindingCut::Continuous),
            "continuous bias from a square".to_string(),
        ),
        (
            word(&BindingCut::Straight),
            "straight-grain strips across the width".to_string(),
        ),
    ];
    PartForm {
        project,
        address: "binding".into(),
        heading: "Binding".into(),
        fields: card(
            "binding",
            "The binding",
            html! {
                @if cloths.len() == 1 {
                    p.hint { "The plan has no cloth yet. " a href="cloths/choose" { "Add a cloth" } " first." }
                }
                (choice(form, "cloth", "Cloth", "", &cloths))
                (choice(form, "fold", "Fold", "", &folds))
                (choice(form, "cut", "Cut as", "Curved edges need bias; straight edges take either.", &cuts))
                div.pair {
                    (length_input(form, "finished_width", "Finished width", "Seen on one side when it is sewn on."))
                    (length_input(form, "thickness", "Extra width", "For thick layers, added to the strip."))
                }
                p.actions {
                    a.button.quiet href=(format!("{}/figures#binding", part::base(project))) { "Compare three ways" }
                    a.button.quiet href=(format!("{}/binding/remnant", part::base(project))) { "Does a remnant give it?" }
                }
                (switch(form, "from_remnants", "Cut it from the remnants of its cloth", "Where they give all of it. They are then kept for the binding, and the cloth to buy does not count it."))
            },
        ),
        focus: None,
        remove: project
            .plan
            .binding
            .as_ref()
            .map(|_| "Take the binding out of the plan"),
        kept_by: None,
        back: "#edges".into(),
    }
    .page(app, form, note)
    .await
}

fn filled_binding(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    let default = Binding {
        cloth: String::new(),
        fold: Fold::default(),
        cut: BindingCut::default(),
        finished_width: INCH.scale_up(3, 8),
        thickness: Length::ZERO,
        from_remnants: false,
    };
    let b = plan.binding.as_ref().unwrap_or(&default);
    typed.set("cloth", &b.cloth);
    typed.set("fold", word(&b.fold));
    typed.set("cut", word(&b.cut));
    typed.set("finished_width", length_text(b.finished_width, plan.unit));
    if b.from_remnants {
        typed.set("from_remnants", "yes");
    }
    typed.set(
        "thickness",
        if b.thickness == Length::ZERO {
            String::new()
        } else {
            length_text(b.thickness, plan.unit)
        },
    );
    typed
}

fn read_binding(typed: &Typed, plan: &Plan) -> Result<Binding, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let binding = Binding {
        cloth: r.required("cloth", NAME, "Choose the cloth of the binding."),
        fold: r.choice("fold"),
        cut: r.choice("cut"),
        finished_width: r.length_positive("finished_width"),
        thickness: r.length_or_zero("thickness"),
        from_remnants: typed.ticked("from_remnants"),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() {
        Ok(binding)
    } else {
        Err(r.errors)
    }
}

async fn save_binding(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let typed = typed(body);
    let binding = match read_binding(&typed, &project.plan) {
        Ok(binding) => binding,
        Err(errors) => {
            return Err(WebError::Form(
                binding_page(&app, &project, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let saved = part::save(&app, &project, &typed, Edit::Binding(Some(binding)), "binding").await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#edges",
        |p| part::last_of(p, &["cloth", "finished_width", "thickness"]),
        |now| filled_binding(&now.plan),
        async |project, form, note| binding_page(&app, project, form, note).await,
        &project,
    )
    .await
}

async fn try_binding(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let read = read_binding(&typed(body), &project.plan);
    part::tried(&app, &project, read.map(|b| Edit::Binding(Some(b))), None).await
}

async fn remove_binding(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    part::remove(&app, id(&path)?, typed(body), Edit::Binding(None)).await
}
