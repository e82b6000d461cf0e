//! The history of a cloth: which project takes how much of it, and what was
//! bought, cut, given back and corrected.

use crate::figures::{ClothUse, Size, cloth_use, outline_words};
use crate::measure::{Length, Round, Unit};
use crate::notebook::{Id, Movement, MovementKind, Notebook, Settings, StockRemnant};
use crate::web::app::App;
use crate::web::components::{card, hidden, length_up, sentence};
use crate::web::error::WebError;
use crate::web::pages::shop::money;
use maud::{Markup, html};

/// A project that has the cloth in its plan, or cut from it.
struct Taker {
    id: Id,
    title: String,
    /// By the figures of its plan as it is now.
    takes: Option<ClothUse>,
    /// What it cut so far, if anything.
    cut: Option<Length>,
}

pub async fn card_of(app: &App, cloth: Id) -> Result<Markup, WebError> {
    let known = app.known.clone();
    let (settings, takers, moved) = app
        .ask(move |n: &Notebook| {
            let moved = n.movements(cloth)?;
            let mut takers = Vec::new();
            for (id, title) in n.projects_with_cloth(cloth)? {
                let plan = n.project(id)?.plan;
                let figures = known.figures(&plan);
                let own = plan.cloths.iter().find(|c| c.stock == Some(cloth.to_string()));
                let takes = own.and_then(|c| cloth_use(&plan, &figures, &c.id));
                let cuts = moved
                    .iter()
                    .filter(|m| m.project == Some(id) && m.kind == MovementKind::CutFrom);
                let cut = cuts.map(|m| m.length).reduce(|a, b| a + b);
                takers.push(Taker { id, title, takes, cut });
            }
            let mut titles = Vec::new();
            for m in moved {
                let title = match m.project {
                    Some(id) => n
                        .project(id)
                        .map_or("a project that is gone".into(), |p| p.details.title),
                    None => String::new(),
                };
                titles.push((m, title));
            }
            Ok((n.settings()?, takers, titles))
        })
        .await?;
    Ok(card(
        "history",
        "History",
        html! {
            @if takers.is_empty() && moved.is_empty() {
                p.hint { "What is bought of it, cut from it and given back will stand here." }
            }
            @if !takers.is_empty() { (used(&takers, settings.unit)) }
            @if !moved.is_empty() { (lines(&moved, &settings)) }
        },
    ))
}

fn used(takers: &[Taker], unit: Unit) -> Markup {
    html! {
        h3 { "Which project takes how much" }
        ul.rows.cloth-takers {
            @for t in takers {
                li.row {
                    div.row-text {
                        a href=(format!("/projects/{}", t.id)) { b { (t.title) } }
                        @match &t.takes {
                            None => div.meta { "In its plan, nothing of it is cut." },
                            Some(takes) => div.meta { (sentence(&taken(takes, unit))) },
                        }
                        @if let Some(cut) = t.cut { div.meta {
                            "Cut so far: " @if cut.is_positive() { (sentence(&cut.both(unit, Round::Nearest))) } @else { "nothing of the length" } "."
                        } }
                    }
                    @if let Some(takes) = &t.takes {
                        div.row-figure { span.label { "by its plan" } (length_up(takes.length, unit)) }
                    }
                    a.button href=(format!("/projects/{}/cloth", t.id)) aria-label=(format!("Cut from it for {}", t.title)) { "Cut" }
                }
            }
        }
    }
}

/// "2 remnants, 30 ready-cut patches; not counted: the face of Sleeve".
fn taken(takes: &ClothUse, unit: Unit) -> String {
    let mut words = Vec::new();
    for r in &takes.remnants {
        let size = Size {
            width: r.width,
            height: r.length,
        };
        words.push(format!("{} of the remnants {}", r.count, size.both(unit, Round::Down)));
    }
    for o in &takes.outlined {
        words.push(format!(
            "{} of the remnants: {}",
            o.count,
            outline_words(&o.outline, unit)
        ));
    }
    let ready: u32 = takes.ready_cut.iter().map(|r| r.0.count).sum();
    if ready > 0 {
        words.push(format!("{ready} ready-cut patches"));
    }
    if !takes.not_counted.is_empty() {
        words.push(format!("not counted yet: {}", takes.not_counted.join(", ")));
    }
    words.join("; ")
}

fn lines(moved: &[(Movement, String)], settings: &Settings) -> Markup {
    let unit = settings.unit;
    html! {
        h3 { "What came and went" }
        ol.movements {
            @for (n, (m, title)) in moved.iter().enumerate() {
                li {
                    div.movement-head {
                        b.movement-kind { (m.kind.name()) }
                        time.meta datetime=(m.day) { (m.day.format("%-d %B %Y")) }
                    }
                    @match m.kind {
                        MovementKind::Bought => p {
                            (sentence(&m.length.both_cloth(unit, Round::Down)))
                            @if let Some(price) = &m.price { " at " (money(settings, price.amount)) " a " (price.per.name()) }
                            "."
                        },
                        MovementKind::CutFrom => p {
                            "For " (title) ": "
                            @if m.length > Length::ZERO { (sentence(&m.length.both(unit, Round::Nearest))) }
                            @if !m.parts.is_empty() { @if m.length > Length::ZERO { ", " } (sentence(&parts(m, unit))) }
                            @if m.length == Length::ZERO && m.parts.is_empty() { "nothing more" }
                            "."
                        },
                        MovementKind::GivenBack => p { "From " (title) ": " (sentence(&parts(m, unit))) "." },
                        MovementKind::Corrected => {},
                    }
                    @if m.owned_before != m.owned_after {
                        p.meta { "At hand in one piece: " (sentence(&at_hand(m.owned_before, unit))) " before, " (sentence(&at_hand(m.owned_after, unit))) " after." }
                    }
                    // The latest can be taken back in one step.
                    @if let Some(change) = m.change.filter(|_| n == 0) {
                        form method="post" action=(format!("/shelf-changes/{change}/undo")) {
                            (hidden("cloth", &m.cloth.to_string()))
                            button.button.quiet type="submit" { @if moved.get(1).is_some_and(|(next, _)| next.change == m.change) { "Undo both" } @else { "Undo" } }
                        }
                    }
                }
            }
        }
    }
}

fn at_hand(length: Length, unit: Unit) -> String {
    if length.is_positive() {
        length.both_cloth(unit, Round::Down)
    } else {
        "nothing".into()
    }
}

fn parts(m: &Movement, unit: Unit) -> String {
    let remnant = |r: &StockRemnant| {
        let size = Size {
            width: r.width,
            height: r.length,
        };
        let many = if r.count == 1 { "remnant" } else { "remnants" };
        format!("{} {many} {}", r.count, size.both(unit, Round::Down))
    };
    let mut words: Vec<String> = m.parts.remnants.iter().map(remnant).collect();
    for o in &m.parts.outlined {
        words.push(format!("{} of an {}", o.count, outline_words(&o.outline, unit)));
    }
    let ready: u32 = m.parts.ready_cut.iter().map(|r| r.count).sum();
    if ready > 0 {
        words.push(format!("{ready} ready-cut patches"));
    }
    words.join(", ")
}
