//! The form of a notion or tool.

use super::care_fields;
use super::edges::last_of;
use super::part::{self, PartForm};
use crate::notebook::Project;
use crate::plan::{Edit, Notion, NotionKind, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, choice, money, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, NAME, Reader, Shown, Typed, word};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/notions/{notion}")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/notions/{notion}/try").route(post().to(try_it)))
        .service(resource("/projects/{id}/notions/{notion}/remove").route(post().to(remove)));
}

const NEW: &str = "new";

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, notion) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let mut form = match project.plan.notion(&notion) {
        Some(n) => Shown::from(filled(n)),
        None if notion == NEW => {
            let mut typed = Typed::default();
            care_fields::fill(&mut typed, None);
            Shown::from(typed)
        }
        None => return Err(WebError::NoPage),
    };
    part::begin(&mut form, &project);
    respond::page(page(&project, &notion, &form, None))
}

fn page(project: &Project, name: &str, form: &Shown, note: Option<Markup>) -> Markup {
    let known = project.plan.notion(name);
    let kinds = [
        (word(&NotionKind::Notion), "notion, used up".to_string()),
        (word(&NotionKind::Tool), "tool".to_string()),
    ];
    PartForm {
        project,
        address: format!("notions/{name}"),
        heading: known.map_or("A notion or tool".into(), |n| n.name.clone()),
        fields: card(
            "notion",
            "What is needed",
            html! {
                (text(form, "name", "Name", "Thread, snaps, buttons, a walking foot.", "text"))
                div.pair {
                    (choice(form, "kind", "Kind", "", &kinds))
                    (text(form, "quantity", "How much", "9, or 2 spools.", "text"))
                }
                (money(form, "price", "Price", "Of all of it."))
                (text(form, "remark", "Remark", "Shown to viewers where you tick it.", "text"))
                (text(form, "link", "Link", "", "url"))
                (care_fields::fields(form))
            },
        ),
        focus: None,
        remove: known.map(|_| "Take this out of the plan"),
        kept_by: None,
        back: "#notions".into(),
    }
    .page(form, note)
}

fn filled(n: &Notion) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &n.name);
    typed.set("kind", word(&n.kind));
    typed.set("quantity", &n.quantity);
    typed.set("remark", &n.remark);
    typed.set("link", &n.link);
    typed.set("price", n.price.map(|p| p.to_string()).unwrap_or_default());
    care_fields::fill(&mut typed, n.care.as_ref());
    typed
}

fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Notion, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let notion = Notion {
        id: if name == NEW {
            part::new_id(typed, plan, 'n')
        } else {
            name.to_string()
        },
        name: r.required("name", NAME, "Give it a name."),
        kind: r.choice("kind"),
        quantity: r.line("quantity", NAME),
        remark: r.line("remark", LINE),
        link: r.link("link"),
        price: r.money("price"),
        care: care_fields::read(&mut r, plan.notion(name).and_then(|n| n.care.as_ref())),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(notion) } else { Err(r.errors) }
}

async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    let notion = match read(&typed, &project.plan, &name) {
        Ok(notion) => notion,
        Err(errors) => return Err(WebError::Form(page(&project, &name, &Shown { typed, errors }, None))),
    };
    let own = format!("notions/{}", notion.id);
    let nid = notion.id.clone();
    let saved = part::save(&app, &project, &typed, Edit::Notion(notion), &own).await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#notions",
        |p| last_of(p, &["name", "quantity", "price", "remark", "link"]),
        |now| now.plan.notion(&nid).map(filled).unwrap_or_default(),
        |project, form, note| page(project, &name, form, note),
        &project,
    )
    .await
}

async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let read = read(&typed(body), &project.plan, &name);
    part::tried(&app, &project, read.map(Edit::Notion), None).await
}

async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, notion) = path.into_inner();
    part::remove(&app, id(&project)?, typed(body), Edit::RemoveNotion(notion)).await
}
