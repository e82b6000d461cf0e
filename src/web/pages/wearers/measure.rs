//! Taking a set of measurements, or mending a slip in one: a line for each
//! measure, named already, with how it is taken and what it was last time.

use super::details::now;
use super::names::{for_kind, how_to, more_for_kind};
use super::plausible::asked_back;
use super::show::{day, value_of};
use crate::measure::{Round, Unit, capital};
use crate::notebook::{Id, Measurement, MeasurementSet, Notebook, NotebookError, Settings, Wearer};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::components::{
    ReturnTo, card, date, errors_summary, field_errors, hidden, length_input, save_bar, switch,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, length_text};
use crate::web::meanwhile::{self, Kept, Many, Put};
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path};
use chrono::Local;
use maud::{Markup, html};

const NEW: &str = "new";
/// The most measures one set holds.
const MOST: usize = 80;
/// Empty rows for names of the maker's own.
const OWN_ROWS: usize = 3;

struct Known {
    settings: Settings,
    wearer: Wearer,
    /// The set being mended; nothing for a new one.
    set: Option<MeasurementSet>,
}

impl Known {
    /// What the values are compared with: the newest set, or the one before the set being mended.
    fn last(&self) -> Option<&MeasurementSet> {
        match &self.set {
            None => self.wearer.sets.first(),
            Some(set) => {
                let at = self.wearer.sets.iter().position(|s| s.id == set.id)?;
                self.wearer.sets.get(at + 1)
            }
        }
    }
}

async fn load(app: &App, path: (String, String)) -> Result<Known, WebError> {
    let wearer = id(&path.0)?;
    let set = if path.1 == NEW { None } else { Some(id(&path.1)?) };
    let (settings, wearer) = app
        .ask(move |n: &Notebook| Ok((n.settings()?, n.wearer(wearer)?)))
        .await?;
    let set = match set {
        None => None,
        Some(set) => Some(
            wearer
                .sets
                .iter()
                .find(|s| s.id == set)
                .cloned()
                .ok_or(WebError::NoPage)?,
        ),
    };
    Ok(Known { settings, wearer, set })
}

pub async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let known = load(&app, path.into_inner()).await?;
    let typed = match &known.set {
        Some(set) => filled(&known.wearer, set, known.settings.unit),
        None => fresh(&known.wearer),
    };
    respond::page(set_page(&known, &Shown::from(typed), None))
}

/// The names of the newest set, or the usual ones for the first; no values, so
/// that none is taken over unmeasured.
fn fresh(wearer: &Wearer) -> Typed {
    let mut typed = Typed::default();
    typed.set("id", Id::now_v7().to_string());
    typed.set("seen", wearer.version.to_string());
    typed.set("taken_on", Local::now().date_naive().to_string());
    let names: Vec<String> = match wearer.sets.first() {
        Some(newest) => newest.values.iter().map(|m| m.name.clone()).collect(),
        None => for_kind(wearer.kind).iter().map(|(name, _)| name.to_string()).collect(),
    };
    for (i, name) in names.iter().enumerate() {
        typed.set(&format!("name_{i}"), name);
    }
    typed.set("named", names.len().to_string());
    typed
}

fn filled(wearer: &Wearer, set: &MeasurementSet, unit: Unit) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", wearer.version.to_string());
    typed.set("taken_on", set.taken_on.to_string());
    for (i, m) in set.values.iter().enumerate() {
        typed.set(&format!("name_{i}"), &m.name);
        typed.set(&format!("value_{i}"), length_text(m.value, unit));
    }
    typed.set("named", set.values.len().to_string());
    typed
}

pub async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let known = load(&app, path.into_inner()).await?;
    let typed = typed(body);
    let set_id = known.set.as_ref().map_or_else(|| form_id(&typed), |s| s.id);
    let (id, unit) = (known.wearer.id, known.settings.unit);
    let save = async |typed: &Typed| {
        let (set, errors) = read(typed, &known, set_id);
        if !errors.is_empty() {
            return Ok(Put::Refused(errors));
        }
        let mut wearer = app.ask(move |n: &Notebook| n.wearer(id)).await?;
        // A new set sent twice is there already.
        if wearer.sets.contains(&set) {
            return Ok(Put::Done);
        }
        wearer.sets.retain(|s| s.id != set.id);
        wearer.sets.push(set);
        wearer.sets.sort_by_key(|s| std::cmp::Reverse((s.taken_on, s.id)));
        let seen = typed.get("seen").parse().unwrap_or(0);
        Put::ask(&app, move |n: &Notebook| n.save_wearer(seen, &wearer)).await
    };
    // A set is one of the wearer's; other sets and the name are no part of this form.
    let of_set = |wearer: &Wearer| match wearer.sets.iter().find(|s| s.id == set_id) {
        Some(set) => filled(wearer, set, unit),
        None => {
            let mut none = Typed::default();
            none.set("seen", wearer.version.to_string());
            none
        }
    };
    match meanwhile::put(typed, Many::default(), save, async |seen| {
        now(&app, id, seen, of_set).await
    })
    .await?
    {
        Kept::Saved => respond::see(&format!("/wearers/{id}")),
        Kept::Refused(form) => Err(WebError::Form(set_page(&known, &form, None))),
        Kept::Clash(form, note, now) => {
            let known = Known { wearer: now, ..known };
            respond::clash(set_page(&known, &form, Some(note)))
        }
    }
}

/// Ticked, unusual measures are taken.
const AS_MEASURED: &str = "as_measured";

fn read(typed: &Typed, known: &Known, id: Id) -> (MeasurementSet, Errors) {
    let unit = known.settings.unit;
    let mut r = Reader::new(typed, unit);
    let today = Local::now().date_naive();
    let taken_on = r.date("taken_on");
    if taken_on.is_none() && !r.errors.has("taken_on") {
        r.errors.add("taken_on", "Type the day these were taken.");
    }
    if taken_on.is_some_and(|d| d > today + chrono::Duration::days(1)) {
        r.errors
            .add("taken_on", "This day is still to come. Type the day these were taken.");
    }
    let mut values: Vec<Measurement> = Vec::new();
    for i in 0..MOST {
        let (name_field, value_field) = (format!("name_{i}"), format!("value_{i}"));
        if typed.get(&value_field).trim().is_empty() {
            if i >= named(typed) && !typed.get(&name_field).trim().is_empty() {
                r.errors
                    .add(value_field, "Type the length of this measure, or clear its name.");
            }
            continue;
        }
        let name = r.required(&name_field, NAME, "Name this measure.");
        if values.iter().any(|m| m.name.eq_ignore_ascii_case(&name)) {
            r.errors.add(
                &name_field,
                format!("“{name}” stands here twice. Give one of them another name."),
            );
        }
        let value = r.length_positive(&value_field);
        let measure = Measurement { name, value };
        if !r.errors.has(&value_field)
            && !typed.ticked(AS_MEASURED)
            && let Some(asked) = asked_back(known.wearer.kind, &measure, known.last(), unit)
        {
            r.errors.add(&value_field, asked);
            r.errors.add(AS_MEASURED, "Tick this where the tape says so.");
        }
        values.push(measure);
    }
    if values.is_empty() && r.errors.is_empty() {
        r.errors.add("value_0", "Type at least one measure.");
    }
    let set = MeasurementSet {
        id,
        taken_on: taken_on.unwrap_or(today),
        values,
    };
    (set, r.errors)
}

/// How many rows stand under a name of their own, the rest being free.
fn named(typed: &Typed) -> usize {
    typed.get("named").parse().unwrap_or(0).min(MOST)
}

fn set_page(known: &Known, form: &Shown, note: Option<Markup>) -> Markup {
    let wearer = &known.wearer;
    let heading = match &known.set {
        None => format!("Measure {}", wearer.name),
        Some(set) => format!("{}, {}", wearer.name, day(set.taken_on)),
    };
    let back = format!("/wearers/{}", wearer.id);
    let name = known.set.as_ref().map_or(NEW.to_string(), |s| s.id.to_string());
    let action = format!("{back}/measurements/{name}");
    let named = named(&form.typed);
    let own = own_rows(&form.typed, named);
    page::notebook(
        Shelf::Wearers,
        &heading,
        html! {
            h1 { (heading) }
            @if let Some(note) = note { (note) }
            form method="post" action=(action) data-unit=(known.settings.unit.name()) data-keep=(action) {
                (hidden("id", form.typed.get("id")))
                (hidden("seen", form.typed.get("seen")))
                (hidden("named", &named.to_string()))
                (errors_summary(form))
                (card("day", "When", date(form, "taken_on", "Taken on", "")))
                (card("measures", "Measures", html! {
                    p.hint { "Over what is worn under the piece, tape level and not tight. Leave empty what you do not take." }
                    div.measure-rows.setting-rows { @for i in 0..named { (named_row(known, form, i)) } }
                    @if form.errors.has(AS_MEASURED) || form.typed.ticked(AS_MEASURED) { (switch(form, AS_MEASURED, "It is as measured", "For measures that are asked back.")) }
                }))
                (card("own", "Others", html! {
                    p.hint { "A standard name from the list, or one of your own." }
                    datalist #measure-names { @for (name, _) in for_kind(wearer.kind).iter().chain(more_for_kind(wearer.kind)) { option value=(name) {} } }
                    details.working {
                        summary { "Standard names, and how each is taken" }
                        dl.allowances { @for (name, how) in more_for_kind(wearer.kind).iter().chain(for_kind(wearer.kind)) { div { dt { (capital(name)) } dd { (how) } } } }
                    }
                    @for i in named..own { (own_row(form, i)) }
                    button.button.quiet type="button" hidden data-add-row { "Another measure" }
                }))
                (save_bar("Save", &ReturnTo { href: &back, label: "Cancel" }))
            }
            @if known.set.is_some() {
                form.danger method="post" action=(format!("{action}/remove")) {
                    (hidden("seen", &wearer.version.to_string()))
                    p { "Earlier versions of this wearer keep it." }
                    button.button.quiet type="submit" { "Take this set of measures out" }
                }
            }
        },
    )
}

/// One past the last own row shown: those that hold something, and empty ones after them.
fn own_rows(typed: &Typed, named: usize) -> usize {
    let holds = |i: &usize| {
        ["name", "value"]
            .iter()
            .any(|f| !typed.get(&format!("{f}_{i}")).trim().is_empty())
    };
    let last = (named..MOST).rev().find(holds);
    (last.map_or(named, |i| i + 1) + OWN_ROWS).min(MOST)
}

fn named_row(known: &Known, form: &Shown, i: usize) -> Markup {
    let name = form.typed.get(&format!("name_{i}"));
    let how = how_to(known.wearer.kind, name);
    let before = known.last().and_then(|set| {
        let value = value_of(set, name)?;
        Some(format!(
            "On {}: {}.",
            day(set.taken_on),
            value.both(known.settings.unit, Round::Nearest)
        ))
    });
    let hint = [how, before.as_deref().unwrap_or("")]
        .iter()
        .filter(|s| !s.is_empty())
        .copied()
        .collect::<Vec<_>>()
        .join(" ");
    html! {
        div.measure-row {
            (hidden(&format!("name_{i}"), name))
            (length_input(form, &format!("value_{i}"), &capital(name), &hint))
            (field_errors(form, &format!("name_{i}")))
        }
    }
}

fn own_row(form: &Shown, i: usize) -> Markup {
    let name = format!("name_{i}");
    html! {
        fieldset.measure-own data-row {
            legend.quiet { "Another measure" }
            div.measure-fields {
                div.field.has-error[form.errors.has(&name)] {
                    label for=(name) { "Name" }
                    input type="text" id=(name) name=(name) value=(form.typed.get(&name)) list="measure-names" autocomplete="off"
                        aria-invalid=[form.errors.has(&name).then_some("true")] aria-describedby=[form.errors.has(&name).then(|| format!("{name}-error"))];
                    (field_errors(form, &name))
                }
                (length_input(form, &format!("value_{i}"), "Length", ""))
            }
        }
    }
}

pub async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let known = load(&app, path.into_inner()).await?;
    let Some(set) = &known.set else {
        return Err(WebError::NoPage);
    };
    let seen = typed(body).get("seen").parse().unwrap_or(0);
    let mut without = known.wearer.clone();
    without.sets.retain(|s| s.id != set.id);
    match app.ask(move |n: &Notebook| n.save_wearer(seen, &without)).await {
        Ok(_) => respond::see(&format!("/wearers/{}", known.wearer.id)),
        // A project is made to these measures: said where they stand.
        Err(WebError::Notebook(NotebookError::Refused { message, .. })) => {
            let mut form = Shown::from(filled(&known.wearer, set, known.settings.unit));
            form.errors.add("taken_on", message);
            Err(WebError::Form(set_page(&known, &form, None)))
        }
        Err(other) => Err(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;
    use crate::notebook::WearerKind;

    fn wearer() -> Wearer {
        Wearer {
            id: Id::now_v7(),
            name: "Lene".into(),
            kind: WearerKind::Adult,
            note: String::new(),
            sets: Vec::new(),
            version: 1,
        }
    }

    fn known(unit: Unit) -> Known {
        Known {
            settings: Settings {
                name: String::new(),
                unit,
                currency: String::new(),
                description_limit: 5_000,
            },
            wearer: wearer(),
            set: None,
        }
    }

    #[test]
    fn a_new_set_takes_over_names_but_no_values() {
        let mut wearer = wearer();
        assert_eq!(fresh(&wearer).get("name_0"), "bust girth");
        let value = Measurement {
            name: "strap length".into(),
            value: INCH * 15,
        };
        wearer.sets.push(MeasurementSet {
            id: Id::now_v7(),
            taken_on: Local::now().date_naive(),
            values: vec![value],
        });
        let typed = fresh(&wearer);
        assert_eq!(
            (typed.get("name_0"), typed.get("value_0"), typed.get("named")),
            ("strap length", "", "1")
        );
    }

    #[test]
    fn a_filled_set_reads_back_and_empty_rows_are_left_out() {
        let mut typed = fresh(&wearer());
        let id = Id::now_v7();
        typed.set("value_1", "38 1/2");
        typed.set("name_13", "strap length");
        typed.set("value_13", "39 cm");
        let (set, errors) = read(&typed, &known(Unit::Inch), id);
        assert_eq!(errors, Errors::default());
        let names: Vec<&str> = set.values.iter().map(|m| m.name.as_str()).collect();
        assert_eq!(names, ["chest girth", "strap length"]);
        assert_eq!(
            read(&filled(&wearer(), &set, Unit::Inch), &known(Unit::Cm), id),
            (set, Errors::default())
        );
    }

    #[test]
    fn what_is_wrong_stands_beside_its_field() {
        let mut typed = fresh(&wearer());
        typed.set("taken_on", "");
        typed.set("value_0", "about 90");
        typed.set("value_1", "0");
        typed.set("name_13", "strap length");
        typed.set("value_14", "12");
        let (_, errors) = read(&typed, &known(Unit::Inch), Id::now_v7());
        let fields: Vec<&str> = errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["taken_on", "value_0", "value_1", "value_13", "name_14"]);
    }
}
