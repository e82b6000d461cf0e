//! A lay on paper: the one that is kept, or the one that was found.

use super::form::{self, Wanted};
use super::{Asked, Laid, Place2, ask};
use crate::figures::lay::{LayFigures, kept_lay};
use crate::sheets::{Document, LaySheetOf, Paper, SheetOf, lay_sheet};
use crate::web::app::App;
use crate::web::components::document;
use crate::web::error::{Answer, WebError};
use crate::web::form::Typed;
use crate::web::page::{self, Place};
use crate::web::pages::sheets::{as_file, state};
use crate::web::respond;
use actix_web::web::Data;
use chrono::Local;
use maud::{Markup, html};

/// Of what is wanted, else of what is kept.
pub fn links(base: &str, wanted: Option<&Wanted>) -> Markup {
    let query = wanted.map_or("", |w| w.query.as_str());
    html! {
        a.button.quiet href=(format!("{base}/sheet?{query}")) { "Lay sheet" }
        @for paper in Paper::ALL {
            a.button.quiet href=(format!("{base}/sheet.pdf?{query}&paper={}", paper.word())) aria-label=(format!("Lay sheet as PDF, {}", paper.name())) { "PDF " (paper.name()) }
        }
    }
}

async fn made(app: &App, laid: &Laid, typed: &Typed) -> Result<Document, WebError> {
    let gone = || WebError::Refused("There is no such lay any more. Lay the pieces again.".into());
    let (answer, kept): (LayFigures, bool) = if typed.has("ground") {
        let (wanted, errors) = form::read(laid, typed);
        let job = laid.job(&wanted).ok().filter(|_| errors.is_empty()).ok_or_else(gone)?;
        let found = ask(app, laid, &wanted).await?.map_err(|_| gone())?;
        (job.answer(found.layout.as_ref().ok_or_else(gone)?), false)
    } else {
        match kept_lay(&laid.plan, &laid.figures, &laid.cloth) {
            Some(Ok(held)) => (held.answer(), true),
            _ => return Err(gone()),
        }
    };
    let of = SheetOf {
        title: laid.project.details.title.clone(),
        state: state(&laid.project),
        date: Local::now().date_naive(),
    };
    Ok(lay_sheet(&LaySheetOf {
        of: &of,
        plan: &laid.plan,
        figures: &laid.figures,
        cloth: &laid.cloth,
        lay: &answer,
        kept,
    }))
}

pub async fn show(app: Data<App>, place: Place2, asked: Asked) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(asked.into_inner());
    let made = made(&app, &laid, &typed).await?;
    let query = form::query(&typed);
    let heading = format!("Lay on {}", laid.cloth.name);
    respond::page(page::project(
        laid.project.id,
        &laid.project.details.title,
        Place::Figures,
        &heading,
        html! {
            (crate::web::pages::part::variant_note(&laid.project))
            p.actions.sheet-actions {
                a.button.quiet href=(format!("{}?{query}", laid.base())) { "Back to the lay" }
                @for paper in Paper::ALL {
                    a.button href=(format!("{}/sheet.pdf?{query}&paper={}", laid.base(), paper.word())) { "PDF " (paper.name()) }
                }
            }
            (document(&made))
        },
    ))
}

pub async fn file(app: Data<App>, place: Place2, asked: Asked) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(asked.into_inner());
    let paper = match typed.get("paper") {
        "" => Paper::default(),
        word => Paper::read(word).ok_or_else(|| WebError::Refused("The paper is a4 or letter.".into()))?,
    };
    let made = made(&app, &laid, &typed).await?;
    as_file(made, paper, "lay-sheet").await
}
