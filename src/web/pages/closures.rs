//! The form of a row of closures.

use super::listed::{self, Listed, NEW};
use super::part::{self, PartForm};
use crate::figures::Figures;
use crate::figures::closures::rules;
use crate::measure::{Length, Round, Unit};
use crate::notebook::Project;
use crate::plan::{Closure, ClosureKind, Edit, Plan, limits};
use crate::web::app::App;
use crate::web::components::{
    card, cautions, choice, closure_line, figure, length_cut, length_input, length_up, money, number, text,
};
use crate::web::error::WebError;
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text, word};
use actix_web::web::ServiceConfig;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    listed::routes::<Closure>(config);
}

impl Listed for Closure {
    const LIST: &'static str = "closures";
    const BACK: &'static str = "#closures";
    const FIELDS: &'static [&'static str] = &[
        "name",
        "line",
        "first",
        "last",
        "spacing",
        "count",
        "bust_level",
        "size",
        "thickness",
        "price",
        "link",
    ];

    fn id(&self) -> &str {
        &self.id
    }

    fn of<'p>(plan: &'p Plan, id: &str) -> Option<&'p Closure> {
        plan.closure(id)
    }

    fn fresh() -> Typed {
        let mut typed = Typed::default();
        typed.set("kind", word(&ClosureKind::Button));
        typed
    }

    fn filled(&self, plan: &Plan) -> Typed {
        filled(self, plan.unit)
    }

    fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Closure, Errors> {
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
        Edit::Closure(self)
    }

    fn removal(id: String) -> Edit {
        Edit::RemoveClosure(id)
    }

    fn focus(&self) -> Option<String> {
        Some(format!("{FOCUS}{}", self.id))
    }
}

/// Before the id of a row, as the focus of the figures beside the form.
pub const FOCUS: &str = "closures/";

async fn page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let known = project.plan.closure(name);
    PartForm {
        project,
        address: format!("closures/{name}"),
        heading: known.map_or("A row of closures".into(), |c| c.name.clone()),
        fields: fields(form),
        focus: known.map(|c| format!("{FOCUS}{}", c.id)),
        remove: known.map(|_| "Take this row out of the plan"),
        kept_by: None,
        back: "#closures".into(),
    }
    .page(app, form, note)
    .await
}

fn fields(form: &Shown) -> Markup {
    let kinds: Vec<(String, String)> = ClosureKind::ALL
        .iter()
        .map(|k| {
            let words = match k {
                ClosureKind::Button => "buttons",
                ClosureKind::Snap => "snaps",
                ClosureKind::HookAndEye => "hooks and eyes",
                ClosureKind::Zip => "a zip",
            };
            (word(k), words.to_string())
        })
        .collect();
    html! {
        (card("row", "The row", html! {
            (text(form, "name", "Name", "Front opening, back neck, cuff.", "text"))
            (choice(form, "kind", "Closed with", "", &kinds))
            (length_input(form, "line", "Length of the line", "From its upper to its lower end: neck edge to hem. Distances are to the centre of a closure."))
            div.pair {
                (length_input(form, "first", "First, from above", "At a neck edge 3/8 to 3/4 in (1 to 2 cm)."))
                (length_input(form, "last", "Last, from below", "Above the hem."))
            }
        }))
        (card("apart", "How far apart", html! {
            p.hint { "Either of the two; a zip needs neither. Shirts take 3 to 3 1/2 in (7.5 to 9 cm), fitted ones 2 1/2 to 3 in (6.5 to 7.5 cm)." }
            div.pair {
                (length_input(form, "spacing", "Apart at most", "Centre to centre: the fewest that keep to it."))
                (number(form, "count", "Or so many", "Whatever the spacing comes to."))
            }
            (length_input(form, "bust_level", "Bust level", "From the upper end; one will sit exactly there. Empty where it does not matter."))
        }))
        (card("one", "One of them", html! {
            p.hint { "As on the card: 5/8 in, 15 mm or 24 L (ligne). A square button goes through by its diagonal." }
            div.pair {
                (length_input(form, "size", "Diameter or width", ""))
                (length_input(form, "thickness", "Thickness", "Of a button."))
            }
            div.pair {
                (money(form, "price", "Price of one", ""))
                (text(form, "link", "Link", "", "url"))
            }
        }))
    }
}

fn filled(c: &Closure, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    let shown = |x: Length| length_text(x, unit);
    let or_empty = |x: Length| if x == Length::ZERO { String::new() } else { shown(x) };
    typed.set("name", &c.name);
    typed.set("kind", word(&c.kind));
    typed.set("line", shown(c.line));
    typed.set("first", shown(c.first));
    typed.set("last", shown(c.last));
    typed.set("spacing", c.spacing.map(shown).unwrap_or_default());
    typed.set("count", c.count.map(|n| n.to_string()).unwrap_or_default());
    typed.set("bust_level", c.bust_level.map(shown).unwrap_or_default());
    typed.set("size", size_text(c.size, unit));
    typed.set("thickness", or_empty(c.thickness));
    typed.set("price", c.price.map(|p| p.to_string()).unwrap_or_default());
    typed.set("link", &c.link);
    typed
}

fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Closure, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let said = |field: &str| !typed.get(field).trim().is_empty();
    let closure = Closure {
        id: if name == NEW {
            part::new_id(typed, plan, 'b')
        } else {
            name.to_string()
        },
        name: r.required("name", NAME, "Give the row a name, such as Front opening."),
        kind: r.choice("kind"),
        line: r.length_positive("line"),
        first: r.length_or_zero("first"),
        last: r.length_or_zero("last"),
        spacing: said("spacing").then(|| r.length_positive("spacing")),
        count: said("count").then(|| r.count("count", 1..=limits::CLOSURE_COUNT)),
        bust_level: said("bust_level").then(|| r.length_positive("bust_level")),
        size: read_size(&mut r),
        thickness: r.length_or_zero("thickness"),
        price: r.money("price"),
        link: r.link("link"),
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() {
        Ok(closure)
    } else {
        Err(r.errors)
    }
}

/// As it was typed, most likely: a trade size that is no round length in ligne.
fn size_text(size: Length, unit: Unit) -> String {
    if size == Length::ZERO {
        return String::new();
    }
    let round = size.units() % 64 == 0 || size.units() % 127 == 0;
    match (1..=200).find(|l| rules::ligne_diameter(*l) == size) {
        Some(ligne) if !round => format!("{ligne} L"),
        _ => length_text(size, unit),
    }
}

/// A length, or a trade size as it stands on the card: `24 L`.
fn read_size(r: &mut Reader) -> Length {
    let text = r.typed.get("size").trim().to_ascii_lowercase();
    let number = ["ligne", "lignes", "l"].iter().find_map(|end| text.strip_suffix(end));
    let ligne = number.and_then(|n| n.trim().parse::<i64>().ok());
    match ligne.filter(|l| (1..=200).contains(l)) {
        Some(ligne) => rules::ligne_diameter(ligne),
        None => r.length_or_zero("size"),
    }
}

/// The figures beside the form.
pub fn glimpse(plan: &Plan, figures: &Figures, row: &str) -> Markup {
    let unit = plan.unit;
    let (Some(c), Some(f)) = (plan.closure(row), figures.closures.iter().find(|f| f.closure == row)) else {
        return html! { p.hint { "Where they sit appears here as soon as the line and a spacing are typed." } };
    };
    html! {
        p.live-head { (c.name) }
        div.figures {
            @if let Some(zip) = f.zip {
                (figure("Zip", length_up(zip, unit), html! { "at least" }))
            } @else {
                (figure("How many", html! { (f.count) }, html! { (gaps_words(f, unit)) }))
            }
            @if let Some(overlap) = f.overlap { (figure("Overlap", length_cut(overlap, unit), html! { "both fronts together" })) }
            @if let Some(hole) = f.buttonhole { (figure("Buttonhole", length_cut(hole, unit), html! {})) }
        }
        (closure_line(f, c.size, unit))
        (cautions(&f.shown.cautions))
    }
}

/// "3 1/2 in (8.9 cm) apart", or from the least to the widest gap.
pub fn gaps_words(f: &crate::figures::ClosureFigures, unit: Unit) -> String {
    let show = |x: Length| x.both_sixteenths(unit, Round::Nearest);
    let (least, widest) = (f.gaps.iter().min(), f.gaps.iter().max());
    match (least, widest) {
        (Some(least), Some(widest)) if show(*least) == show(*widest) => format!("{} apart", show(*widest)),
        (Some(least), Some(widest)) => format!("{} to {} apart", show(*least), show(*widest)),
        _ => String::new(),
    }
}
