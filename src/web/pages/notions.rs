//! The form of a notion or tool.

use super::care_fields;
use super::listed::{self, Listed, NEW};
use super::part::{self, PartForm};
use crate::notebook::Project;
use crate::plan::{Edit, Notion, NotionKind, Plan};
use crate::web::app::App;
use crate::web::components::{card, choice, money, text};
use crate::web::error::WebError;
use crate::web::form::{Errors, LINE, NAME, Reader, Shown, Typed, word};
use actix_web::web::ServiceConfig;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    listed::routes::<Notion>(config);
}

impl Listed for Notion {
    const LIST: &'static str = "notions";
    const BACK: &'static str = "#notions";
    const FIELDS: &'static [&'static str] = &["name", "quantity", "price", "remark", "link"];

    fn id(&self) -> &str {
        &self.id
    }

    fn of<'p>(plan: &'p Plan, id: &str) -> Option<&'p Notion> {
        plan.notion(id)
    }

    fn fresh() -> Typed {
        let mut typed = Typed::default();
        care_fields::fill(&mut typed, None);
        typed
    }

    fn filled(&self, _: &Plan) -> Typed {
        filled(self)
    }

    fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Notion, Errors> {
        read(typed, plan, name)
    }

    async fn page(
        app: &App,
        project: &Project,
        name: &str,
        form: &Shown,
        note: Option<Markup>,
    ) -> Result<Markup, WebError> {
        page(app, project, name, form, note).await
    }

    fn put(self) -> Edit {
        Edit::Notion(self)
    }

    fn removal(id: String) -> Edit {
        Edit::RemoveNotion(id)
    }
}

async fn page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
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
    .page(app, form, note)
    .await
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
