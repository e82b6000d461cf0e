//! The form of the pattern's size table and the wearer it is to fit: sizes in
//! one line, each girth's values in one line, as they are printed.

use super::measured::old_note;
use super::part::{self, PartForm};
use crate::figures::measured::with_measures;
use crate::figures::sizing::ease::hints;
use crate::figures::{Figures, Problem};
use crate::measure::{Length, Unit};
use crate::notebook::{Id, MeasurementSet, Notebook, Project, Wearer};
use crate::plan::{Edit, Plan, SizeRow, Sizing, limits};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, cautions, date, figure, length, length_change_input, length_input, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, NAME, Reader, Shown, Typed, length_text};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::Local;
use maud::{Markup, html};
use serde::Deserialize;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/sizing")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/sizing/try").route(post().to(try_it)))
        .service(resource("/projects/{id}/sizing/remove").route(post().to(remove)));
}

/// The size as the focus of the figures beside the form.
pub const FOCUS: &str = "sizing";
/// Rows of a table that is begun.
const USUAL: [&str; 3] = ["bust girth", "waist girth", "hip girth"];
const EMPTY_ROWS: usize = 1;

#[derive(Deserialize)]
struct Asked {
    /// Another project whose table is copied.
    from: Option<String>,
    /// The wearer's measures are taken anew.
    measures: Option<String>,
}

/// What the form is shown with besides the plan.
struct Around {
    /// Other projects that have a table, and their titles.
    tables: Vec<(Id, String)>,
    /// Whose measures the project goes by.
    wearer: Option<Wearer>,
}

async fn load(app: &App, project: Id) -> Result<(Project, Around), WebError> {
    let around = app
        .ask(move |n: &Notebook| {
            Ok(Around {
                tables: n.projects_with_sizing(project)?,
                wearer: n.measured_wearer(project)?,
            })
        })
        .await?;
    Ok((part::load(app, project).await?, around))
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let (project, around) = load(&app, id(&path)?).await?;
    let set = project.measurements.as_ref();
    let unit = project.plan.unit;
    let copied = match &asked.from {
        Some(from) => {
            let from = id(from)?;
            app.ask(move |n: &Notebook| Ok(n.project(from)?.plan.sizing)).await?
        }
        None => None,
    };
    let typed = match (copied, &project.plan.sizing) {
        (Some(table), _) => filled(&measured(for_another(table), set), unit),
        (None, Some(table)) if asked.measures.is_some() => filled(&measured(table.clone(), set), unit),
        (None, Some(table)) => filled(table, unit),
        (None, None) => filled(&measured(begun(set), set), unit),
    };
    let mut form = Shown::from(typed);
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &around, &form, None).await?)
}

/// A past project's table, without the body it was made for.
fn for_another(mut table: Sizing) -> Sizing {
    for row in &mut table.rows {
        row.wearer = None;
    }
    Sizing {
        measured_on: String::new(),
        chosen: String::new(),
        ..table
    }
}

/// Rows for the girths a pattern prints, those that were measured first.
fn begun(set: Option<&MeasurementSet>) -> Sizing {
    let measured = set.iter().flat_map(|s| &s.values).map(|m| m.name.clone());
    let mut names: Vec<String> = measured.filter(|name| !hints(name).is_empty()).collect();
    if names.is_empty() {
        names = USUAL.map(String::from).to_vec();
    }
    Sizing {
        rows: names
            .into_iter()
            .map(|name| SizeRow {
                name,
                ..SizeRow::default()
            })
            .collect(),
        ..Sizing::default()
    }
}

/// With the wearer's measures of the same names, as they are on that day.
fn measured(table: Sizing, set: Option<&MeasurementSet>) -> Sizing {
    match set {
        Some(set) => with_measures(&table, &set.measured()),
        None => table,
    }
}

async fn page(
    app: &App,
    project: &Project,
    around: &Around,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    PartForm {
        project,
        address: "sizing".into(),
        heading: "Size and ease".into(),
        fields: fields(project, around, form),
        focus: Some(FOCUS.into()),
        remove: project
            .plan
            .sizing
            .as_ref()
            .map(|_| "Take the size table out of the plan"),
        kept_by: None,
        back: "#sizing".into(),
    }
    .page(app, form, note)
    .await
}

fn fields(project: &Project, around: &Around, form: &Shown) -> Markup {
    let address = format!("{}/sizing", part::base(project));
    let newer = project
        .measurements
        .as_ref()
        .filter(|set| set.taken_on.to_string() != form.typed.get("measured_on"));
    let today = Local::now().date_naive();
    let typed_day = form.typed.get("measured_on").parse().ok();
    let old = html! { @if let Some(day) = typed_day { (old_note(project, around.wearer.as_ref(), day, today)) } };
    html! {
        (card("sizes-card", "The pattern's sizes", html! {
            @if !around.tables.is_empty() {
                details.copy-table {
                    summary { "Copy the table of another project" }
                    ul.rows { @for (id, title) in &around.tables {
                        li { a.row href=(format!("{address}?from={id}")) { div.row-text { b { (title) } div.meta { "Takes the place of what is typed here." } } } }
                    } }
                }
            }
            (text(form, "sizes", "Sizes", "As the pattern calls them, smallest first: 8, 10, 12, 14.", "text"))
            div.pair {
                (text(form, "chosen", "Size decided on", "Empty: the one by the measures.", "text"))
                (date(form, "measured_on", "Measured on", ""))
            }
            (old)
            @if let Some(set) = newer {
                p.hint { "This project names the measurements of " (set.taken_on.format("%-d %B %Y")) ". "
                    a href=(format!("{address}?measures=anew")) { "Take them into the table" } }
            }
        }))
        (card("girths", "Girths and lengths", html! {
            p.hint { "One value for each size, in one line: 31 1/2, 32 1/2, 34. Where a comma is your decimal sign, part them with semicolons: 80,5; 83; 86. Clear a row to take it out." }
            @for i in 0..rows(&form.typed) { (row(form, i)) }
            button.button.quiet type="button" hidden data-add-row { "Another row" }
        }))
    }
}

fn row(form: &Shown, i: usize) -> Markup {
    let field = |name: &str| format!("row_{name}_{i}");
    html! {
        fieldset.size-row data-row {
            legend.quiet { "Row " (i + 1) }
            (text(form, &field("name"), "Measure", "", "text"))
            (text(form, &field("body"), "Body, by size", "", "text"))
            (text(form, &field("garment"), "Finished garment, by size", "Where the pattern prints it.", "text"))
            div.pair {
                (length_input(form, &field("wearer"), "Wearer", ""))
                (length_change_input(form, &field("ease"), "Ease wanted", ""))
            }
        }
    }
}

const FIELDS: [&str; 5] = ["name", "body", "garment", "wearer", "ease"];

fn holds(typed: &Typed, i: usize) -> bool {
    FIELDS
        .iter()
        .any(|f| !typed.get(&format!("row_{f}_{i}")).trim().is_empty())
}

fn rows(typed: &Typed) -> usize {
    let last = (0..limits::SIZE_ROWS).rev().find(|i| holds(typed, *i));
    (last.map_or(0, |i| i + 1) + EMPTY_ROWS).min(limits::SIZE_ROWS)
}

fn filled(table: &Sizing, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    let list = |values: &[Length]| {
        let texts: Vec<String> = values.iter().map(|v| bare(*v, unit)).collect();
        // As it was printed; a decimal comma never comes out of this.
        texts.join(", ")
    };
    typed.set("sizes", table.sizes.join(", "));
    typed.set("chosen", &table.chosen);
    typed.set("measured_on", &table.measured_on);
    for (i, row) in table.rows.iter().enumerate() {
        typed.set(&format!("row_name_{i}"), &row.name);
        typed.set(&format!("row_body_{i}"), list(&row.body));
        typed.set(&format!("row_garment_{i}"), list(&row.garment));
        let one = |length: Option<Length>| length.map(|l| length_text(l, unit)).unwrap_or_default();
        typed.set(&format!("row_wearer_{i}"), one(row.wearer));
        typed.set(&format!("row_ease_{i}"), one(row.ease));
    }
    typed
}

/// Without the notebook's own unit: a line of values is read by it.
fn bare(length: Length, unit: Unit) -> String {
    let text = length_text(length, unit);
    match text.strip_suffix(&format!(" {}", unit.name())) {
        Some(number) => number.to_string(),
        None => text,
    }
}

fn read(typed: &Typed, plan: &Plan) -> Result<Sizing, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let line = r.required(
        "sizes",
        LINE,
        "Type the sizes as the pattern calls them, smallest first: 8, 10, 12.",
    );
    let sizes: Vec<String> = line
        .split([',', ';'])
        .map(|s| s.trim().to_string())
        .filter(|s| !s.is_empty())
        .collect();
    let measured_on = r.date("measured_on").map(|d| d.to_string()).unwrap_or_default();
    let mut table = Sizing {
        sizes,
        rows: Vec::new(),
        measured_on,
        chosen: r.line("chosen", NAME),
    };
    for i in 0..limits::SIZE_ROWS {
        let [name, body, garment, wearer, ease] = FIELDS.map(|f| format!("row_{f}_{i}"));
        if !holds(typed, i) {
            continue;
        }
        // A row that was offered and only holds its name is not asked for.
        let said = |field: &str| !typed.get(field).trim().is_empty();
        if !said(&body) && !said(&garment) && !said(&ease) {
            continue;
        }
        let row = SizeRow {
            name: r.required(&name, NAME, "Name the measure, such as bust girth."),
            body: values(&mut r, &body, &table.sizes, true),
            garment: values(&mut r, &garment, &table.sizes, false),
            wearer: said(&wearer).then(|| r.length_positive(&wearer)),
            ease: said(&ease).then(|| {
                let read = Length::parse_signed(typed.get(&ease), r.unit);
                r.taken(&ease, read)
            }),
        };
        table.rows.push(row);
    }
    if table.rows.is_empty() && r.errors.is_empty() {
        r.errors
            .add("row_body_0", "Type the pattern's body measures of at least one girth.");
    }
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(table) } else { Err(r.errors) }
}

/// A line of values, one for each size. Parted by semicolons or commas; a comma
/// between two digits may also be a decimal sign, which the number of values tells.
fn values(r: &mut Reader, field: &str, sizes: &[String], needed: bool) -> Vec<Length> {
    let text = r.typed.get(field).trim();
    if text.is_empty() {
        if needed {
            r.errors.add(field, "Type the body measures, one for each size.");
        }
        return Vec::new();
    }
    let ways: &[&str] = if text.contains(';') { &[";"] } else { &[",", ", "] };
    let parted: Vec<Vec<&str>> = ways
        .iter()
        .map(|by| text.split(by).map(str::trim).filter(|t| !t.is_empty()).collect())
        .collect();
    let fitting = parted.iter().find(|list| list.len() == sizes.len());
    let Some(list) = fitting else {
        let count = parted.first().map_or(0, Vec::len);
        r.errors.add(
            field,
            format!(
                "{count} {} for {} {}. Type one for each of {}, parted by commas, or by semicolons where a comma is your decimal sign.",
                if count == 1 { "value" } else { "values" },
                sizes.len(),
                if sizes.len() == 1 { "size" } else { "sizes" },
                sizes.join(", ")
            ),
        );
        return Vec::new();
    };
    let mut out = Vec::new();
    for (value, size) in list.iter().zip(sizes) {
        match Length::parse_positive(value, r.unit) {
            Ok(length) => out.push(length),
            Err(error) => {
                r.errors.add(field, format!("Size {size}: {error}"));
                return Vec::new();
            }
        }
    }
    out
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let (project, around) = load(&app, id(&path)?).await?;
    let typed = typed(body);
    let table = match read(&typed, &project.plan) {
        Ok(table) => table,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &around, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    // Rows that were left out shift those after them: problems name rows of the table.
    let at: Vec<usize> = (0..limits::SIZE_ROWS)
        .filter(|i| {
            ["body", "garment", "ease"]
                .iter()
                .any(|f| !typed.get(&format!("row_{f}_{i}")).trim().is_empty())
        })
        .collect();
    let saved = part::save(&app, &project, &typed, Edit::Sizing(Some(table)), "sizing").await?;
    part::finish(
        saved,
        Shown::from(typed),
        "#sizing",
        |p| field_of(p, &at),
        |now| {
            now.plan
                .sizing
                .as_ref()
                .map(|t| filled(t, now.plan.unit))
                .unwrap_or_default()
        },
        async |project, form, note| page(&app, project, &around, form, note).await,
        &project,
    )
    .await
}

/// `sizing/rows/2/body` is the body line of the third row that was typed.
fn field_of(problem: &Problem, at: &[usize]) -> String {
    let mut parts = problem.field.split('/').skip(1);
    match (parts.next(), parts.next(), parts.next()) {
        (Some("rows"), Some(n), field) => {
            let n = n.parse::<usize>().ok().and_then(|n| at.get(n)).copied().unwrap_or(0);
            let field = field.filter(|f| FIELDS.contains(f)).unwrap_or("name");
            format!("row_{field}_{n}")
        }
        (Some(field @ ("chosen" | "measured_on")), ..) => field.to_string(),
        _ => "sizes".into(),
    }
}

async fn try_it(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let read = read(&typed(body), &project.plan);
    part::tried(&app, &project, read.map(|t| Edit::Sizing(Some(t))), Some(FOCUS)).await
}

async fn remove(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    part::remove(&app, id(&path)?, typed(body), Edit::Sizing(None)).await
}

/// The figures beside the form.
pub fn glimpse(plan: &Plan, figures: &Figures) -> Markup {
    let unit = plan.unit;
    let Some(s) = &figures.sizing else {
        return html! { p.hint { "The size appears here as soon as the table has sizes and a girth." } };
    };
    let named = |n: Option<usize>| n.and_then(|n| s.sizes.get(n)).map_or("–", String::as_str);
    html! {
        p.live-head { "Size" }
        div.figures {
            (figure("By the measures", html! { (named(s.recommended)) }, html! { (s.why) }))
            @for fit in &s.rows {
                @if let Some(ease) = s.taken.and_then(|n| fit.ease.get(n)) {
                    (figure(&format!("Ease, {}", fit.name), length(*ease, unit), html! { "in size " (named(s.taken)) }))
                }
            }
        }
        (cautions(&s.shown.cautions))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{CM, INCH};

    fn plan(unit: Unit) -> Plan {
        Plan::new(unit)
    }

    fn sent(pairs: &[(&str, &str)]) -> Typed {
        Typed(pairs.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect())
    }

    #[test]
    fn lines_of_values_are_read_as_printed() {
        let typed = sent(&[
            ("sizes", "8, 10, 12"),
            ("row_name_0", "bust girth"),
            ("row_body_0", "31 1/2, 32 1/2, 34"),
            ("row_ease_0", "-1"),
        ]);
        let table = read(&typed, &plan(Unit::Inch)).unwrap();
        assert_eq!(
            table.rows[0].body,
            [INCH.scale_up(63, 2), INCH.scale_up(65, 2), INCH * 34]
        );
        assert_eq!(table.rows[0].ease, Some(-INCH));
        // Decimal commas, parted by semicolons or by comma and space.
        for line in ["80,5; 83; 86,5", "80,5, 83, 86,5", "80.5,83,86.5"] {
            let typed = sent(&[("sizes", "S,M,L"), ("row_name_3", "bust girth"), ("row_body_3", line)]);
            let table = read(&typed, &plan(Unit::Cm)).unwrap();
            assert_eq!(
                table.rows[0].body,
                [CM.scale_up(161, 2), CM * 83, CM.scale_up(173, 2)],
                "{line}"
            );
            let again = read(&filled(&table, Unit::Cm), &plan(Unit::Cm)).unwrap();
            assert_eq!(again, table);
        }
    }

    #[test]
    fn errors_name_the_value() {
        let error = |line: &str| {
            let typed = sent(&[("sizes", "8, 10"), ("row_name_0", "bust girth"), ("row_body_0", line)]);
            read(&typed, &plan(Unit::Inch)).unwrap_err().0[0].clone()
        };
        assert_eq!(error("30, wide").0, "row_body_0");
        assert!(
            error("30, wide").1.contains("Size 10: “wide”"),
            "{:?}",
            error("30, wide")
        );
        assert!(error("30").1.contains("1 value for 2 sizes"), "{:?}", error("30"));
        assert!(read(&sent(&[("sizes", "8")]), &plan(Unit::Inch)).is_err());
    }
}
