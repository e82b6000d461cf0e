//! The form of a cloth of a plan: new, taken from the shelf, or changed.

use super::cloth_fields;
use super::part::{self, PartForm};
use super::ready_cut_fields::ready_cut_card;
use crate::figures::Problem;
use crate::measure::Unit;
use crate::notebook::{Id, Notebook, Project, StockCloth};
use crate::plan::{Cloth, Edit, Per, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, length_down, swatch, switch};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Reader, Shown, Typed, word};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/cloths/choose")
                .route(get().to(choose))
                .route(post().to(take)),
        )
        .service(
            resource("/projects/{id}/cloths/{cloth}")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/cloths/{cloth}/try").route(post().to(try_it)))
        .service(resource("/projects/{id}/cloths/{cloth}/remove").route(post().to(remove)));
}

const NEW: &str = "new";

/// The shelf, to take a cloth from, and the way to a new one.
async fn choose(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    let project = part::load(&app, id).await?;
    let shelf = app.ask(|n: &Notebook| n.cloths()).await?;
    let base = part::base(&project);
    if shelf.is_empty() {
        // Nothing to choose from.
        return respond::see(&format!("{base}/cloths/{NEW}"));
    }
    let taken = |c: &StockCloth| {
        project
            .plan
            .cloths
            .iter()
            .any(|p| p.stock.as_deref() == Some(&c.id.to_string()))
    };
    let unit = project.plan.unit;
    respond::page(page::project(
        id,
        &project.details.title,
        Place::Plan,
        "Choose a cloth",
        html! {
            (part::variant_note(&project))
            h1 { "Choose a cloth" }
            p { a.button.primary href=(format!("{base}/cloths/{NEW}")) { "Describe a new cloth" } }
            h2.group { "Or take one from your shelf" }
            ul.rows.sheet-rows {
                @for c in &shelf {
                    li.row {
                        (swatch(&c.colour, None, c.picture().as_ref()))
                        div.row-text {
                            b { (c.name) }
                            div.meta { @if !c.fibre.is_empty() { (c.fibre) ", " } (length_down(c.usable_width, unit)) " wide" }
                            div.meta { (super::plan::at_hand(c.owned, super::plan::leftover_count(c.remnants.iter().map(|r| r.count), c.outlined.iter().map(|o| o.count)), c.ready_cut.iter().map(|r| r.count).sum(), unit)) }
                        }
                        @if taken(c) { span.meta { "in the plan" } }
                        @else {
                            form method="post" {
                                input type="hidden" name="seen" value=(project.revision);
                                input type="hidden" name="stock" value=(c.id);
                                button.button type="submit" aria-label=(format!("Take {}", c.name)) { "Take" }
                            }
                        }
                    }
                }
            }
            p.actions { a.button.quiet href=(format!("{base}#cloths")) { "Back to the plan" } }
        },
    ))
}

async fn take(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let done = format!("{}#cloths", part::base(&project));
    let typed = typed(body);
    let stock = id(typed.get("stock"))?;
    let seen = typed.get("seen").parse().unwrap_or(0);
    // Taken already, by a second tap: once is enough.
    let named = Some(stock.to_string());
    if project.plan.cloths.iter().any(|c| c.stock == named) {
        return respond::see(&done);
    }
    let cloth = app.ask(move |n: &Notebook| n.stock_cloth(stock)).await?;
    let edit = Edit::Cloth(cloth.for_plan(project.plan.free_id('c')));
    part::change(&app, project.id, seen, edit, None, None).await?;
    respond::see(&done)
}

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, cloth) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let mut form = match project.plan.cloth(&cloth) {
        Some(c) => Shown::from(filled(c, &project.plan)),
        None if cloth == NEW => Shown::from(fresh(project.plan.unit)),
        None => return Err(WebError::NoPage),
    };
    part::begin(&mut form, &project);
    form.typed.set("stock_id", Id::now_v7().to_string());
    respond::page(page(&app, &project, &cloth, &form, None).await?)
}

async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    let mut cloth = match read(&typed, &project.plan, &name) {
        Ok(cloth) => cloth,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &name, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    // A cloth described for the first time goes on the shelf too, under an id
    // the form carries, so that sending it twice shelves it once.
    let shelve = (name == NEW).then(|| Id::try_parse(typed.get("stock_id")).unwrap_or_else(|_| Id::now_v7()));
    if let Some(stock) = shelve {
        cloth.stock = Some(stock.to_string());
        // Sent twice: the first sending made it.
        if project.plan.cloths.iter().any(|c| c.stock == cloth.stock) {
            return respond::see(&format!("{}#cloths", part::base(&project)));
        }
    }
    let own = format!("cloths/{}", cloth.id);
    let cid = cloth.id.clone();
    let shelf = shelve.map(|stock| StockCloth::of_plan(stock, &cloth));
    let saved = part::save_shelving(&app, &project, &typed, Edit::Cloth(cloth), &own, shelf).await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#cloths",
        |p| place(p, &own),
        |now| now.plan.cloth(&cid).map(|c| filled(c, &now.plan)).unwrap_or_default(),
        async |project, form, note| page(&app, project, &name, form, note).await,
        &project,
    )
    .await
}

async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let read = read(&typed(body), &project.plan, &name);
    part::tried(&app, &project, read.map(Edit::Cloth), None).await
}

async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, cloth) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    if let Some(kept) = kept_by(&project.plan, &cloth) {
        return Err(WebError::Refused(kept));
    }
    part::remove(&app, project.id, typed(body), Edit::RemoveCloth(cloth)).await
}

fn kept_by(plan: &Plan, cloth: &str) -> Option<String> {
    let uses = plan.uses_of(cloth);
    (!uses.is_empty()).then(|| {
        format!(
            "This cloth is used for {}. Choose another cloth there before taking this one out.",
            uses.join(", ")
        )
    })
}

async fn page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let known = project.plan.cloth(name);
    PartForm {
        project,
        address: format!("cloths/{name}"),
        heading: known.map_or("A new cloth".into(), |c| c.name.clone()),
        fields: fields(form, known),
        focus: None,
        remove: known.map(|_| "Take this cloth out of the plan"),
        kept_by: known.and_then(|c| kept_by(&project.plan, &c.id)),
        back: "#cloths".into(),
    }
    .page(app, form, note)
    .await
}

fn fields(form: &Shown, known: Option<&Cloth>) -> Markup {
    let stock = known.and_then(|c| c.stock.as_deref());
    html! {
        input type="hidden" name="stock_id" value=(form.typed.get("stock_id"));
        (card("cloth", "The cloth", html! {
            @if let Some(stock) = stock {
                p.actions.of-cloth {
                    a.button.quiet href=(format!("/cloth/{stock}/swatch")) { "Mark its swatch" }
                    a.button.quiet href=(format!("/cloth/{stock}")) { "On the shelf" }
                }
            }
            @if known.is_none() { p.hint { "It is put on your shelf as well, so that the next project finds it." } }
            (cloth_fields::what(form))
            div.field { label for="colour" { "Colour" } input type="color" id="colour" name="colour" value=(form.typed.get("colour")); }
            (switch(form, "one_way", "One-way print or nap", "Nothing is turned on it when it is laid out."))
        }))
        (cloth_fields::remnants_card(form, 1, false))
        (super::outline_fields::outlined_card(form, false))
        (ready_cut_card(form, 1))
        (cloth_fields::buying_card(form, "Buying", "Price"))
    }
}

fn fresh(unit: Unit) -> Typed {
    let mut typed = cloth_fields::fresh();
    typed.set("price_per", word(&per(unit)));
    typed
}

fn filled(c: &Cloth, plan: &Plan) -> Typed {
    let mut typed = cloth_fields::filled(c, plan.unit);
    if c.price.is_none() {
        typed.set("price_per", word(&per(plan.unit)));
    }
    typed
}

/// What shops that count in `unit` sell by.
fn per(unit: Unit) -> Per {
    match unit {
        Unit::Inch => Per::Yard,
        Unit::Cm => Per::Metre,
    }
}

fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Cloth, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let id = if name == NEW {
        part::new_id(typed, plan, 'c')
    } else {
        name.to_string()
    };
    let stock = plan.cloth(name).and_then(|c| c.stock.clone());
    let before = plan.cloth(name).and_then(|c| c.care.as_ref());
    let (cloth, _) = cloth_fields::read(&mut r, id, stock, before);
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(cloth) } else { Err(r.errors) }
}

fn place(problem: &Problem, own: &str) -> String {
    let at = problem.field.strip_prefix(own).unwrap_or("").trim_start_matches('/');
    let mut parts = at.split('/');
    match (parts.next().unwrap_or(""), parts.next()) {
        ("remnants", Some(i)) => format!("rem_width_{i}"),
        ("outlined", Some(i)) => format!("out_by_{i}"),
        ("ready_cut", Some(i)) => format!("ready_width_{i}"),
        (field @ ("name" | "usable_width" | "owned" | "price" | "shrinkage" | "colour" | "link"), _) => field.into(),
        _ => "name".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{INCH, Length};
    use crate::plan::{Care, ReadyCut, ReadyShape};

    #[test]
    fn a_filled_form_reads_back_with_what_it_does_not_show() {
        let cloth = Cloth {
            id: "c1".into(),
            name: "Oat linen".into(),
            usable_width: INCH * 52,
            ready_cut: vec![ReadyCut {
                shape: ReadyShape::Triangle60,
                width: INCH * 5,
                height: Length::ZERO,
                count: 12,
            }],
            care: Some(Care::default()),
            stock: Some("01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a".into()),
            colour: "#d9cfb8".into(),
            ..Cloth::default()
        };
        for unit in [Unit::Inch, Unit::Cm] {
            let mut plan = Plan::new(unit);
            plan.cloths.push(cloth.clone());
            let read = read(&filled(&cloth, &plan), &plan, "c1");
            assert_eq!(read.expect("it is sound"), cloth);
        }
    }
}
