//! The form of a piece: size, alterations, face, layers, with its figures beside it.

use super::part::{self, PartForm};
use crate::figures::Problem;
use crate::measure::{INCH, Length, Percent};
use crate::notebook::Project;
use crate::plan::{
    Along, Alteration, Arrangement, ClothKind, Edit, Face, Layers, Patchwork, Piece, Plan, Unit, UnitKind, limits,
};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{
    card, choice, field_errors, length_change_input, length_input, letter, number, option_list, switch, text,
    unit_drawing,
};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, NAME, Reader, Shown, Typed, length_text, word};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/pieces/{piece}")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/pieces/{piece}/try").route(post().to(try_it)))
        .service(resource("/projects/{id}/pieces/{piece}/remove").route(post().to(remove)));
}

/// `new` stands for a piece that is not there yet.
const NEW: &str = "new";

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, piece) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let mut form = match project.plan.piece(&piece) {
        Some(piece) => Shown::from(filled(piece, &project.plan)),
        None if piece == NEW => Shown::from(fresh(&project.plan)),
        None => return Err(WebError::NoPage),
    };
    part::begin(&mut form, &project);
    respond::page(page(&project, &piece, &form, None))
}

async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    let piece = match read(&typed, &project.plan, &name) {
        Ok(piece) => piece,
        Err(errors) => return Err(WebError::Form(page(&project, &name, &Shown { typed, errors }, None))),
    };
    let own = format!("pieces/{}", piece.id);
    let pid = piece.id.clone();
    let saved = part::save(&app, &project, &typed, Edit::Piece(Box::new(piece)), &own).await?;
    part::finish(
        saved,
        Shown::from(typed.clone()),
        "#pieces",
        |p| place(p, &own, &typed),
        |now| now.plan.piece(&pid).map(|p| filled(p, &now.plan)).unwrap_or_default(),
        |project, form, note| page(project, &name, form, note),
        &project,
    )
    .await
}

async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let read = read(&typed(body), &project.plan, &name);
    let focus = read.as_ref().ok().map(|p| p.id.clone());
    part::tried(&app, &project, read.map(|p| Edit::Piece(Box::new(p))), focus.as_deref()).await
}

async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, piece) = path.into_inner();
    part::remove(&app, id(&project)?, typed(body), Edit::RemovePiece(piece)).await
}

fn page(project: &Project, name: &str, form: &Shown, note: Option<Markup>) -> Markup {
    let plan = &project.plan;
    let known = plan.piece(name);
    PartForm {
        project,
        address: format!("pieces/{name}"),
        heading: known.map_or("Add a piece".into(), |p| p.name.clone()),
        fields: fields(form, plan),
        focus: known.map(|p| p.id.clone()),
        remove: known.map(|_| "Take this piece out of the plan"),
        kept_by: None,
        back: "#pieces".into(),
    }
    .page(form, note)
}

/// The face as one choice: nothing yet, plain cloth, or the kind of the first unit.
fn face_choices() -> Vec<(String, &'static str, Option<UnitKind>)> {
    let mut list = vec![
        ("none".to_string(), "not decided", None),
        ("plain".to_string(), "plain cloth", None),
    ];
    list.extend(UnitKind::ALL.iter().map(|k| (word(k), k.name(), Some(*k))));
    list
}

fn positions(kind: UnitKind) -> &'static [&'static str] {
    match kind {
        UnitKind::Square => &["Cloth"],
        UnitKind::HalfSquareTriangle => &["Top left", "Bottom right"],
        UnitKind::QuarterSquareTriangle => &["Top", "Right", "Bottom", "Left"],
        UnitKind::Rail => &[
            "Strip 1", "Strip 2", "Strip 3", "Strip 4", "Strip 5", "Strip 6", "Strip 7", "Strip 8",
        ],
        _ => &[],
    }
}

fn cloth_options(plan: &Plan, kind: ClothKind, none: &str) -> Vec<(String, String)> {
    let mut options = vec![(String::new(), none.to_string())];
    options.extend(
        plan.cloths
            .iter()
            .enumerate()
            .filter(|(_, c)| c.kind == kind)
            .map(|(i, c)| (c.id.clone(), format!("{} · {}", letter(i), c.name))),
    );
    options
}

fn fields(form: &Shown, plan: &Plan) -> Markup {
    let new_cloth = !plan.cloths.iter().any(|c| c.kind == ClothKind::Cloth);
    let along: Vec<_> = [Along::Height, Along::Width]
        .iter()
        .map(|a| (word(a), a.name().to_string()))
        .collect();
    let rows = alteration_rows(&form.typed);
    html! {
        (card("size", "The piece", html! {
            (text(form, "name", "Name", "As the pattern calls it: front, sleeve, hood.", "text"))
            div.trio {
                (length_input(form, "width", "Width", ""))
                (length_input(form, "height", "Height", ""))
                (number(form, "cut_count", "Cut", ""))
            }
            p.hint { "The rectangle round the pattern piece, seam allowances included. Of a mirrored pair, count both." }
            div.two {
                (switch(form, "mirrored", "Mirrored pair", "Half of them are cut with the pattern turned over."))
                (switch(form, "on_fold", "On the fold", "The width is measured to the fold; the piece is twice as wide, and an alteration in width counts on both halves."))
            }
        }))
        (card("alterations", "Alterations", html! {
            p.hint { "What you change of the printed pattern: +1 in lengthens, -2 cm shortens. Clear a row to take it out." }
            @for i in 0..rows {
                fieldset.alteration data-row {
                    legend.quiet { "Alteration " (i + 1) }
                    div.alteration-row {
                        div.field { label for=(format!("alt_along_{i}")) { "Along the" }
                            select id=(format!("alt_along_{i}")) name=(format!("alt_along_{i}")) { (option_list(form.typed.get(&format!("alt_along_{i}")), &along)) } }
                        (length_change_input(form, &format!("alt_by_{i}"), "By", ""))
                        (text(form, &format!("alt_reason_{i}"), "Why", "", "text"))
                    }
                }
            }
            button.button.quiet type="button" hidden data-add-row { "Another alteration" }
        }))
        (card("face", "The face", html! {
            @if new_cloth {
                p.hint { "The plan has no cloth yet. Save the piece with its face not decided, then "
                    a href="../cloths/new" { "add a cloth" } " and come back." }
            }
            fieldset.faces {
                legend { "Made of" }
                @for (value, words, kind) in face_choices() {
                    label.face-pick {
                        input type="radio" name="face" value=(value) checked[form.typed.get("face") == value];
                        @if let Some(kind) = kind { (unit_drawing(kind)) } @else { span.no-unit aria-hidden="true" { @if value == "plain" { "▭" } @else { "?" } } }
                        span { (words) }
                    }
                }
                (field_errors(form, "face"))
            }
            div.when-plain { (choice(form, "plain_cloth", "Cloth", "", &cloth_options(plan, ClothKind::Cloth, "Choose a cloth"))) }
            div.when-patchwork {
                (length_input(form, "finished", "Finished size of a unit", "Its side when it is sewn in."))
                (unit_cloths(form, plan, "a"))
                (choice(form, "arrangement", "Arrangement", "", &[
                    (word(&Arrangement::AllAlike), "all alike".into()),
                    (word(&Arrangement::Alternating), "alternating with a second unit".into()),
                ]))
                div.when-alternating {
                    (choice(form, "second", "Second unit", "", &UnitKind::ALL.map(|k| (word(&k), k.name().to_string()))))
                    (unit_cloths(form, plan, "b"))
                }
            }
        }))
        (card("layers", "Layers and quilting", html! {
            (length_input(form, "margin", "Margin to cut away", "Panel beyond the piece on every side, cut off when it is cut to shape. Common practice: 1 to 2 in."))
            (switch(form, "quilted", "Quilted before it is cut to shape", ""))
            div.when-quilted {
                (text(form, "take_up", "Take-up by quilting, %", "Measured on five quilts: 1.2 to 3.6 %. Lines closer than 2 in take up more. 4 is on the safe side.", "text"))
                div.positions {
                    (choice(form, "batting", "Batting", if plan.cloths.iter().any(|c| c.kind == ClothKind::Batting) { "" } else { "Add one under Cloths, as kind batting." }, &cloth_options(plan, ClothKind::Batting, "none")))
                    (choice(form, "backing", "Backing", "", &cloth_options(plan, ClothKind::Cloth, "none")))
                }
            }
        }))
    }
}

fn unit_cloths(form: &Shown, plan: &Plan, which: &str) -> Markup {
    html! {
        @for kind in UnitKind::ALL {
            fieldset class=(format!("unit-cloths {which}-{}", word(&kind))) {
                legend { (if which == "a" { "Cloth by position" } else { "Cloth by position in the second unit" }) }
                div.positions {
                    @for (i, place) in positions(kind).iter().enumerate() {
                        @let none = if i >= kind.positions().0 { "no strip" } else { "Choose a cloth" };
                        (choice(form, &format!("{which}-{}-{i}", word(&kind)), place, "", &cloth_options(plan, ClothKind::Cloth, none)))
                    }
                }
            }
        }
    }
}

/// Rows in the form: those with something in them, and one to fill.
fn alteration_rows(typed: &Typed) -> usize {
    let filled = (0..limits::ALTERATIONS)
        .rev()
        .find(|i| !typed.get(&format!("alt_by_{i}")).is_empty() || !typed.get(&format!("alt_reason_{i}")).is_empty());
    (filled.map_or(0, |i| i + 1) + 1).min(limits::ALTERATIONS)
}

fn fresh(plan: &Plan) -> Typed {
    let mut typed = Typed::default();
    let batting = plan.cloths.iter().find(|c| c.kind == ClothKind::Batting);
    typed.set("cut_count", "1");
    typed.set("face", "none");
    typed.set("arrangement", word(&Arrangement::AllAlike));
    typed.set("second", word(&UnitKind::Square));
    typed.set("margin", length_text(INCH, plan.unit));
    typed.set("take_up", "4");
    if let Some(batting) = batting {
        typed.set("quilted", "yes");
        typed.set("batting", &batting.id);
    }
    // A new piece is most likely layered like the last one.
    if let Some(last) = plan.pieces.last() {
        typed.set("margin", length_text(last.margin, plan.unit));
        if let Some(layers) = &last.layers {
            typed.set("quilted", "yes");
            typed.set("take_up", bare(last.take_up));
            typed.set("batting", layers.batting.clone().unwrap_or_default());
            typed.set("backing", layers.backing.clone().unwrap_or_default());
        }
    }
    typed
}

fn bare(percent: Percent) -> String {
    percent.to_string().trim_end_matches(" %").to_string()
}

fn filled(piece: &Piece, plan: &Plan) -> Typed {
    let length = |x: Length| length_text(x, plan.unit);
    let mut typed = Typed::default();
    typed.set("name", &piece.name);
    typed.set("cut_count", piece.cut_count.to_string());
    typed.set("width", length(piece.width));
    typed.set("height", length(piece.height));
    for (field, on) in [
        ("mirrored", piece.mirrored),
        ("on_fold", piece.on_fold),
        ("quilted", piece.layers.is_some()),
    ] {
        if on {
            typed.set(field, "yes");
        }
    }
    for (i, a) in piece.alterations.iter().enumerate() {
        let sign = if a.by.is_negative() { "" } else { "+" };
        typed.set(&format!("alt_along_{i}"), word(&a.along));
        typed.set(&format!("alt_by_{i}"), format!("{sign}{}", length(a.by)));
        typed.set(&format!("alt_reason_{i}"), &a.reason);
    }
    typed.set("face", "none");
    typed.set("arrangement", word(&Arrangement::AllAlike));
    typed.set("second", word(&UnitKind::Square));
    match &piece.face {
        Some(Face::Plain(plain)) => {
            typed.set("face", "plain");
            typed.set("plain_cloth", &plain.cloth);
        }
        Some(Face::Patchwork(p)) => {
            typed.set("finished", length(p.finished));
            typed.set("arrangement", word(&p.arrangement));
            for (which, unit) in ["a", "b"].iter().zip(&p.units) {
                typed.set(if *which == "a" { "face" } else { "second" }, word(&unit.kind));
                for (i, cloth) in unit.cloths.iter().enumerate() {
                    typed.set(&format!("{which}-{}-{i}", word(&unit.kind)), cloth);
                }
            }
        }
        None => {}
    }
    typed.set("margin", length(piece.margin));
    typed.set("take_up", bare(piece.take_up));
    if let Some(layers) = &piece.layers {
        typed.set("batting", layers.batting.clone().unwrap_or_default());
        typed.set("backing", layers.backing.clone().unwrap_or_default());
    }
    typed
}

fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Piece, Errors> {
    let mut r = Reader::new(typed, plan.unit);
    let quilted = typed.ticked("quilted");
    let piece = Piece {
        id: if name == NEW {
            part::new_id(typed, plan, 'p')
        } else {
            name.to_string()
        },
        name: r.required("name", NAME, "Give the piece a name."),
        cut_count: r.count("cut_count", 1..=limits::CUT_COUNT),
        mirrored: typed.ticked("mirrored"),
        on_fold: typed.ticked("on_fold"),
        width: r.length_positive("width"),
        height: r.length_positive("height"),
        alterations: alterations(&mut r),
        face: face(&mut r),
        margin: r.length_or_zero("margin"),
        take_up: if quilted {
            r.percent_or_zero("take_up")
        } else {
            Percent::ZERO
        },
        layers: quilted.then(|| Layers {
            batting: chosen(&mut r, plan, "batting"),
            backing: chosen(&mut r, plan, "backing"),
            quilting: None,
        }),
        ..Piece::default()
    };
    part::read_decision(&mut r);
    if r.errors.is_empty() { Ok(piece) } else { Err(r.errors) }
}

fn alterations(r: &mut Reader) -> Vec<Alteration> {
    let mut list = Vec::new();
    for i in 0..limits::ALTERATIONS {
        let (by, reason) = (format!("alt_by_{i}"), format!("alt_reason_{i}"));
        if r.typed.get(&by).trim().is_empty() && r.typed.get(&reason).trim().is_empty() {
            continue;
        }
        let read = Length::parse_signed(r.typed.get(&by), r.unit);
        let by_length = r.taken(&by, read);
        if by_length == Length::ZERO && !r.errors.has(&by) {
            r.errors
                .add(&by, "Type by how much, such as +1 or -2 cm, or clear the row.");
        }
        list.push(Alteration {
            along: r.choice(&format!("alt_along_{i}")),
            by: by_length,
            reason: r.line(&reason, LINE),
        });
    }
    list
}

fn chosen(r: &mut Reader, plan: &Plan, field: &str) -> Option<String> {
    let value = r.typed.get(field);
    if value.is_empty() {
        return None;
    }
    if plan.cloth(value).is_none() {
        r.errors
            .add(field, "This cloth is no longer in the plan. Choose another.");
    }
    Some(value.to_string())
}

fn face(r: &mut Reader) -> Option<Face> {
    match r.typed.get("face") {
        "" | "none" => None,
        "plain" => {
            let cloth = r.required("plain_cloth", NAME, "Choose the cloth of the face.");
            Some(Face::plain(cloth))
        }
        _ => {
            let first = unit(r, "face", "a");
            let arrangement: Arrangement = r.choice("arrangement");
            let mut units = vec![first];
            if arrangement == Arrangement::Alternating {
                units.push(unit(r, "second", "b"));
            }
            Some(Face::Patchwork(Patchwork {
                finished: r.length_positive("finished"),
                arrangement,
                units,
                ..Patchwork::default()
            }))
        }
    }
}

fn unit(r: &mut Reader, kind_field: &str, which: &str) -> Unit {
    let kind = UnitKind::ALL
        .into_iter()
        .find(|k| word(k) == r.typed.get(kind_field))
        .unwrap_or_else(|| {
            r.errors.add(kind_field, "Choose one of the units.");
            UnitKind::Square
        });
    let (least, most) = kind.positions();
    let mut cloths = Vec::new();
    for i in 0..most {
        let field = format!("{which}-{}-{i}", word(&kind));
        match r.typed.get(&field) {
            "" if i < least => {
                r.errors.add(&field, "Choose a cloth for this place.");
            }
            "" => {}
            cloth => cloths.push(cloth.to_string()),
        }
    }
    Unit::new(kind, cloths)
}

/// The form field a problem belongs beside.
fn place(problem: &Problem, own: &str, typed: &Typed) -> String {
    let at = problem.field.strip_prefix(own).unwrap_or("").trim_start_matches('/');
    let mut parts = at.split('/');
    match (parts.next().unwrap_or(""), parts.next().unwrap_or("")) {
        ("face", "finished") => "finished".into(),
        ("face", "cloth") => "plain_cloth".into(),
        ("face", "arrangement") => "arrangement".into(),
        ("face", "units") => {
            let which = if parts.next() == Some("1") { "b" } else { "a" };
            let kind = typed.get(if which == "b" { "second" } else { "face" });
            let last = parts.next_back().and_then(|i| i.parse::<usize>().ok()).unwrap_or(0);
            format!("{which}-{kind}-{last}")
        }
        ("face", _) => "face".into(),
        ("layers", which @ ("batting" | "backing")) => which.into(),
        ("layers", _) => "quilted".into(),
        ("alterations", i) => format!("alt_by_{}", i.parse::<usize>().unwrap_or(0)),
        (field @ ("name" | "cut_count" | "mirrored" | "on_fold" | "width" | "height" | "margin" | "take_up"), _) => {
            field.into()
        }
        _ => "name".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit as System;

    #[test]
    fn a_piece_goes_through_its_form_unchanged() {
        let piece = Piece {
            id: "p1".into(),
            name: "Front".into(),
            cut_count: 2,
            mirrored: true,
            on_fold: false,
            width: INCH * 12,
            height: Length::inches_frac(45, 2),
            alterations: vec![Alteration {
                along: Along::Height,
                by: -INCH,
                reason: "shorter".into(),
            }],
            face: Some(Face::Patchwork(Patchwork {
                finished: INCH * 4,
                arrangement: Arrangement::Alternating,
                units: vec![
                    Unit::new(UnitKind::HalfSquareTriangle, vec!["c1".into(), "c2".into()]),
                    Unit::new(UnitKind::Rail, vec!["c1".into(), "c2".into(), "c1".into()]),
                ],
                ..Patchwork::default()
            })),
            layers: Some(Layers {
                batting: None,
                backing: Some("c2".into()),
                quilting: None,
            }),
            margin: INCH,
            take_up: Percent::hundredths(250),
            ..Piece::default()
        };
        let mut plan = Plan::new(System::Inch);
        for id in ["c1", "c2"] {
            plan.cloths.push(crate::plan::Cloth {
                id: id.into(),
                name: id.into(),
                usable_width: INCH * 42,
                ..crate::plan::Cloth::default()
            });
        }
        for unit in [System::Inch, System::Cm] {
            plan.unit = unit;
            assert_eq!(read(&filled(&piece, &plan), &plan, "p1").unwrap(), piece);
        }
    }
}
