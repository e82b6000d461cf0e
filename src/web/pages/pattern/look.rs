//! The page an outline of a file is looked at on: the file, its lines to choose
//! from, the outline as it would be kept.

use super::drawn;
use super::from_file::Look;
use crate::drafting::Shape;
use crate::drafting::formats::{FileUnit, Made, Role};
use crate::figures::Size;
use crate::measure::{Length, MM, Unit};
use crate::notebook::Project;
use crate::plan::Piece;
use crate::web::components::{
    ReturnTo, card, choice, errors_summary, field_errors, hidden, length, length_input, length_up, number, save_bar,
    size_up, switch, text,
};
use crate::web::form::Shown;
use crate::web::page::{self, Place};
use crate::web::pages::part;
use maud::{Markup, html};

pub fn page_of(project: &Project, name: &str, form: &Shown, look: Option<&Look>, note: Option<Markup>) -> Markup {
    let base = part::base(project);
    let known = project.plan.piece(name);
    let action = format!("{base}/pieces/{name}/from-file");
    let heading = known.map_or("A piece from a file".to_string(), |p| {
        format!("{}: outline from a file", p.name)
    });
    let back = known.map_or(format!("{base}#pieces"), |p| format!("{base}/pieces/{}", p.id));
    page::project(
        project.id,
        &project.details.title,
        Place::Plan,
        &heading,
        html! {
            (part::variant_note(project))
            h1 { (heading) }
            @if let Some(note) = note { (note) }
            // The outlines are far below the fields on a phone.
            form method="post" action=(format!("{action}#outline")) enctype="multipart/form-data" {
                (hidden("seen", form.typed.get("seen")))
                (hidden("part_id", form.typed.get("part_id")))
                (hidden("kept", form.typed.get("kept")))
                (hidden("file_name", form.typed.get("file_name")))
                (errors_summary(form))
                (card("the-file", "The file", file_fields(form)))
                @if let Some(look) = look {
                    (card("outline", "Which outline", outlines(project.plan.unit, form, look)))
                    @if known.is_none() {
                        (card("piece", "The piece", html! {
                            (text(form, "name", "Name", "As it is called on the pattern: front, sleeve, hood.", "text"))
                            (number(form, "cut_count", "Cut count", "How many in all; of a mirrored pair, both."))
                            (switch(form, "mirrored", "Mirrored pair", "Half of them are cut with the pattern turned over."))
                        }))
                    }
                    @if let Some((made, shape)) = &look.made {
                        (card("as-kept", "As it would be kept", preview(project, known, look, made, shape)))
                    }
                    p.actions { button.button type="submit" name="do" value="look" formaction=(format!("{action}#as-kept")) { "Look again" } }
                    @if look.made.is_some() {
                        p.actions { button.button.primary type="submit" name="do" value="keep" { "Keep this outline" } " " a.button.quiet href=(back) { "Cancel" } }
                    }
                } @else {
                    (save_bar("Look at it", &ReturnTo { href: &back, label: "Cancel" }))
                }
            }
        },
    )
}

fn file_fields(form: &Shown) -> Markup {
    let file = form.typed.get("file_name");
    let mut units = vec![(String::new(), "as the file says".to_string())];
    units.extend(FileUnit::ALL.map(|u| (u.word().to_string(), u.name().to_string())));
    let turns = [
        "as in the file",
        "a quarter to the right",
        "upside down",
        "a quarter to the left",
    ];
    let turns: Vec<(String, String)> = turns
        .iter()
        .enumerate()
        .map(|(n, words)| (n.to_string(), words.to_string()))
        .collect();
    html! {
        div.field.has-error[form.errors.has("file")] {
            label for="file" { "Drawing" }
            @if !file.is_empty() { p { "Chosen: " b { (file) } ". Choose another to take its place." } }
            input type="file" id="file" name="file" accept=".svg,.dxf,image/svg+xml,image/vnd.dxf" aria-describedby="file-hint";
            p.hint id="file-hint" { "SVG, or DXF as it is used for apparel; at most 4 MiB. Each piece is one closed line." }
            (field_errors(form, "file"))
        }
        div.pair {
            (choice(form, "unit", "One unit of the file is", "", &units))
            (choice(form, "turn", "Turned", "The grain runs up and down.", &turns))
        }
        (length_input(form, "allowance", "Seam allowance to add", "Outside of the chosen line, on every edge. Type 0 if the line is the cut line and has its allowance inside. Each edge can be changed later."))
    }
}

fn outlines(unit: Unit, form: &Shown, look: &Look) -> Markup {
    html! {
        (field_errors(form, "outline"))
        div.outline-choice { @for (n, outline) in look.found.outlines.iter().enumerate() {
            @let b = outline.bounds();
            label.tick-row {
                input type="radio" name="outline" value=(n) checked[n == look.chosen];
                (drawn::line(&outline.path))
                span {
                    b { @if outline.name.is_empty() { "Outline " (n + 1) } @else { (outline.name) } }
                    br; (near(b.width(), unit)) " × " (near(b.height(), unit))
                    @if let Some(line) = outline.line { br; span.meta { "line " (line) " of the file" } }
                    @if let Some(count) = outline.cut_count { br; span.meta { "to cut, says the file: " (count) } }
                }
            }
        } }
        @if !look.found.notices.is_empty() {
            div.file-notes { p { b { "About the file" } } ul { @for notice in &look.found.notices { li { (notice) } } } }
        }
    }
}

/// A measure of a drawing, for a person to compare with a ruler.
fn near(mm: f64, unit: Unit) -> Markup {
    length(Length::from_units((mm * MM.units() as f64).round() as i64), unit)
}

fn preview(project: &Project, known: Option<&Piece>, look: &Look, made: &Made, shape: &Shape) -> Markup {
    let unit = project.plan.unit;
    let size = shape.cut_size();
    let name = known.map_or("the piece", |p| p.name.as_str());
    let mut notices = made.notices.clone();
    if let Some(piece) = known {
        if piece.pattern.is_some() {
            notices.push("It takes the place of the present outline and of its changes; earlier revisions of the plan keep them.".into());
        }
        if !piece.alterations.is_empty() {
            notices.push(format!(
                "The {} alterations of width and height go: the outline counts as it is drawn. Earlier revisions of the plan keep them.",
                piece.alterations.len()
            ));
        }
        if piece.on_fold {
            notices.push("The piece was on the fold; this outline counts as the whole. If it is a half, make its edge a fold afterwards.".into());
        }
    }
    if look.found.outlines[look.chosen].role == Role::Cut {
        notices.push("This is the cut line of the file: what is typed as seam allowance is added outside of it. Choose the stitching line where there is one, or type 0.".into());
    }
    html! {
        (drawn::outline(shape, name))
        p { "Cut " (size_up(Size { width: size.width, height: size.height }, unit)) ", seam allowances included." }
        @if !notices.is_empty() { div.file-notes { ul { @for notice in &notices { li { (notice) } } } } }
        div.scroll { table.numbers {
            thead { tr { th scope="col" { "Edge" } th scope="col" { "Stitching line" } th scope="col" { "Allowance" } } }
            tbody { @for edge in shape.edges.iter() {
                tr {
                    th scope="row" { (edge.name) }
                    td { (length(edge.length_nearest(), unit)) }
                    td { (length_up(Length::from_units((edge.allowance * MM.units() as f64).round() as i64), unit)) }
                }
            } }
        } }
        p.hint { @if !made.outline.notches.is_empty() { (made.outline.notches.len()) " notches. " } "Check one length against the paper pattern before you keep it." }
    }
}
