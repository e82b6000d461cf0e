//! The forms of a seam the figures cannot know of, and of how thread is counted.

use super::listed::{self, Listed, NEW};
use super::part::{self, PartForm};
use crate::figures::Figures;
use crate::figures::thread::ratios::ratio;
use crate::figures::thread::{spool_both, stitch_name};
use crate::measure::{Length, Unit};
use crate::notebook::Project;
use crate::plan::{Edit, Plan, Seam, Stitch, Thread, limits, read_spool, spool_words};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, cautions, choice, cloth_length, figure, length_input, money, number, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    listed::routes::<Seam>(config);
    config
        .service(
            resource("/projects/{id}/thread")
                .route(get().to(show_thread))
                .route(post().to(save_thread)),
        )
        .service(resource("/projects/{id}/thread/try").route(post().to(try_thread)))
        .service(resource("/projects/{id}/thread/remove").route(post().to(remove_thread)));
}

impl Listed for Seam {
    const LIST: &'static str = "seams";
    const BACK: &'static str = "#thread";
    const FIELDS: &'static [&'static str] = &["name", "length", "count", "stitch"];

    fn id(&self) -> &str {
        &self.id
    }

    fn of<'p>(plan: &'p Plan, id: &str) -> Option<&'p Seam> {
        plan.seam(id)
    }

    fn fresh() -> Typed {
        let mut typed = Typed::default();
        typed.set("count", "1");
        typed.set("stitch", word(&Stitch::default()));
        typed
    }

    fn filled(&self, plan: &Plan) -> Typed {
        filled_seam(self, plan.unit)
    }

    fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Seam, Errors> {
        read_seam(typed, plan, name)
    }

    async fn page(
        app: &App,
        project: &Project,
        name: &str,
        form: &Shown,
        note: Option<Markup>,
    ) -> Result<Markup, WebError> {
        seam_page(app, project, name, form, note).await
    }

    fn put(self) -> Edit {
        Edit::Seam(self)
    }

    fn removal(id: String) -> Edit {
        Edit::RemoveSeam(id)
    }

    fn focus(&self) -> Option<String> {
        Some(FOCUS.to_string())
    }
}

/// The thread as the focus of the figures beside a form.
pub const FOCUS: &str = "thread";

/// Every stitch with its number and what it takes.
fn stitches() -> Vec<(String, String)> {
    Stitch::ALL
        .iter()
        .map(|s| (word(s), format!("{}: {} times the seam", stitch_name(*s), ratio(*s).0)))
        .collect()
}

async fn seam_page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let known = project.plan.seam(name);
    PartForm {
        project,
        address: format!("seams/{name}"),
        heading: known.map_or("A seam".into(), |s| s.name.clone()),
        fields: card(
            "seam",
            "The seam",
            html! {
                p.hint { "Seams between patches, quilting, binding and joins of a backing are counted already." }
                (text(form, "name", "Name", "Side seams, hem, overedge of the armholes.", "text"))
                div.wide-narrow {
                    (length_input(form, "length", "Length of one", "Sewn twice? Type twice its count."))
                    (number(form, "count", "How many", ""))
                }
                (choice(form, "stitch", "Stitch", "By its number in ISO 4915, and the thread it takes.", &stitches()))
            },
        ),
        focus: Some(FOCUS.into()),
        remove: known.map(|_| "Take this seam out of the plan"),
        kept_by: None,
        back: "#thread".into(),
    }
    .page(app, form, note)
    .await
}

fn filled_seam(s: &Seam, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &s.name);
    typed.set("length", length_text(s.length, unit));
    typed.set("count", s.count.to_string());
    typed.set("stitch", word(&s.stitch));
    typed
}

fn read_seam(typed: &Typed, plan: &Plan, name: &str) -> Result<Seam, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let seam = Seam {
        id: if name == NEW {
            part::new_id(typed, plan, 's')
        } else {
            name.to_string()
        },
        name: r.required("name", NAME, "Give the seam a name."),
        length: r.length_positive("length"),
        count: r.count("count", 1..=limits::SEAM_COUNT),
        stitch: r.choice("stitch"),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(seam) } else { Err(r.errors) }
}

async fn show_thread(app: Data<App>, path: Path<String>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let mut form = Shown::from(filled_thread(&project.plan));
    part::begin(&mut form, &project);
    respond::page(thread_page(&app, &project, &form, None).await?)
}

async fn thread_page(app: &App, project: &Project, form: &Shown, note: Option<Markup>) -> Result<Markup, WebError> {
    let stitches = stitches();
    PartForm {
        project,
        address: "thread".into(),
        heading: "How thread is counted".into(),
        fields: html! {
            (card("stitches", "Stitches", html! {
                p.hint { "By their numbers in ISO 4915. A household machine sews 301; by hand is one of the list too." }
                (choice(form, "piecing", "Between patches", "", &stitches))
                (choice(form, "quilting", "Quilting lines", "", &stitches))
                (choice(form, "binding", "Binding, sewn down", "Sewn on first with a lockstitch, then down on the other side.", &stitches))
                div.pair {
                    (length_input(form, "stitch_length", "Stitch length", "Usual: 2.5 mm."))
                    (length_input(form, "layers", "Thickness of all layers", "As the foot presses them, about 2 mm."))
                }
            }))
            (card("spools", "Ends, waste and spools", html! {
                div.pair {
                    (length_input(form, "seam_end", "Beyond each seam's end", "2 to 3 cm; 0.5 cm where patches run through in a chain."))
                    (text(form, "waste", "Waste, %", "Breaks, bobbins, trials: 10 to 20 % in print.", "text"))
                }
                div.pair {
                    (text(form, "spool", "Length on a spool", "As printed on it: 100 m, 500 yd.", "text"))
                    (money(form, "price", "Price of a spool", ""))
                }
            }))
        },
        focus: Some(FOCUS.into()),
        remove: project.plan.thread.as_ref().map(|_| "Count thread no more"),
        kept_by: None,
        back: "#thread".into(),
    }
    .page(app, form, note)
    .await
}

fn filled_thread(plan: &Plan) -> Typed {
    let thread = plan.thread.clone().unwrap_or_default();
    let mut typed = Typed::default();
    typed.set("piecing", word(&thread.piecing));
    typed.set("quilting", word(&thread.quilting));
    typed.set("binding", word(&thread.binding));
    typed.set("stitch_length", millimetres(thread.stitch_length));
    typed.set("layers", millimetres(thread.layers));
    typed.set("seam_end", length_text(thread.seam_end, plan.unit));
    typed.set("waste", thread.waste.to_string().trim_end_matches(" %"));
    typed.set("spool", spool_words(thread.spool));
    typed.set("price", thread.price.map(|p| p.to_string()).unwrap_or_default());
    typed
}

/// Stitches are set, and layers measured, in millimetres everywhere.
fn millimetres(length: Length) -> String {
    let tenths = length.units() / 64;
    match (length.units() % 64, tenths % 10) {
        (0, 0) => format!("{} mm", tenths / 10),
        (0, part) => format!("{}.{} mm", tenths / 10, part.abs()),
        _ => length_text(length, Unit::Cm),
    }
}

fn read_thread(typed: &Typed, plan: &Plan) -> Result<Thread, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let spool = read_spool(typed.get("spool"), plan.unit);
    let thread = Thread {
        piecing: r.choice("piecing"),
        quilting: r.choice("quilting"),
        binding: r.choice("binding"),
        stitch_length: r.length_positive("stitch_length"),
        layers: r.length_or_zero("layers"),
        seam_end: r.length_or_zero("seam_end"),
        waste: r.percent_or_zero("waste"),
        spool: r.taken::<Length, _>("spool", spool),
        price: r.money("price"),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(thread) } else { Err(r.errors) }
}

async fn save_thread(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let typed = typed(body);
    let thread = match read_thread(&typed, &project.plan) {
        Ok(thread) => thread,
        Err(errors) => {
            return Err(WebError::Form(
                thread_page(&app, &project, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let saved = part::save(&app, &project, &typed, Edit::Thread(Some(thread)), "thread").await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#thread",
        |p| part::last_of(p, &["spool", "stitch_length", "layers", "seam_end", "waste", "price"]),
        |now| filled_thread(&now.plan),
        async |project, form, note| thread_page(&app, project, form, note).await,
        &project,
    )
    .await
}

async fn try_thread(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let read = read_thread(&typed(body), &project.plan);
    part::tried(&app, &project, read.map(|t| Edit::Thread(Some(t))), Some(FOCUS)).await
}

async fn remove_thread(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    part::remove(&app, id(&path)?, typed(body), Edit::Thread(None)).await
}

/// The figures beside the forms.
pub fn glimpse(plan: &Plan, figures: &Figures) -> Markup {
    let unit = plan.unit;
    html! {
        @match &figures.thread {
            None => p.hint { "Thread appears here as soon as it is counted." },
            Some(t) => {
                p.live-head { "Thread" }
                div.figures {
                    (figure("In all", cloth_length(t.total, unit), html! { "waste included" }))
                    (figure("Spools", html! { (t.spools) }, html! { "of " (spool_both(t.spool, unit)) }))
                }
                (cautions(&t.shown.cautions))
            }
        }
    }
}
