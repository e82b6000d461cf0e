//! The outline of a piece from a file: sent, looked at, chosen, kept. The file
//! stays in memory between the steps; all else is in the form.

use super::kept;
use super::look::page_of;
use crate::drafting::formats::{self, FileProblem, FileUnit, Found, FoundOutline, Made, Role, dxf, outline_of, svg};
use crate::drafting::{Shape, Told};
use crate::measure::{INCH, Length, MM, Unit};
use crate::notebook::Project;
use crate::photos::{PhotoError, sniff};
use crate::plan::{Edit, Pattern, Piece, Plan, Source, limits};
use crate::web::app::{App, id};
use crate::web::error::{Answer, WebError};
use crate::web::form::{NAME, Reader, Shown, Typed, length_text};
use crate::web::meanwhile::stale_note;
use crate::web::pages::part::{self, Saved};
use crate::web::{respond, upload};
use actix_multipart::Multipart;
use actix_web::HttpRequest;
use actix_web::http::StatusCode;
use actix_web::web::{self, Data, Path};
use std::sync::Arc;

const NEW: &str = "new";

/// The usual seam allowance: 5/8 in on printed patterns in inches, 1 cm in centimetres.
fn usual_allowance(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_units(INCH.units() * 5 / 8),
        Unit::Cm => MM * 10,
    }
}

/// The lines of a file, and what becomes of the chosen one.
pub struct Look {
    pub found: Found,
    pub chosen: usize,
    pub made: Option<(Made, Shape)>,
}

pub async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let known = known(&project.plan, &name)?;
    let mut form = Shown::default();
    part::begin(&mut form, &project);
    let unit = project.plan.unit;
    form.typed.set("allowance", length_text(usual_allowance(unit), unit));
    if known.is_none() {
        form.typed.set("cut_count", "1");
    }
    respond::page(page_of(&project, &name, &form, None, None))
}

fn known<'a>(plan: &'a Plan, name: &str) -> Result<Option<&'a Piece>, WebError> {
    match plan.piece(name) {
        None if name == NEW => Ok(None),
        None => Err(WebError::NoPage),
        known => Ok(known),
    }
}

pub async fn send(app: Data<App>, path: Path<(String, String)>, request: HttpRequest, body: Multipart) -> Answer {
    let mut sent = upload::read(&request, body).await?;
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let before = known(&project.plan, &name)?.cloned();
    let file = sent.take_file("file", formats::LARGEST);
    let mut form = Shown::from(std::mem::take(&mut sent.typed));
    match file {
        Some(Ok((file, bytes))) => {
            form.typed.set("kept", kept::keep(bytes));
            form.typed.set("file_name", file);
            form.typed.set("outline", "");
        }
        Some(Err(sentence)) => {
            form.typed.set("kept", "");
            form.errors.add("file", sentence);
        }
        None => {}
    }
    let look = if form.errors.is_empty() {
        look(&project, &mut form).await?
    } else {
        None
    };
    if before.is_none()
        && let Some(look) = &look
    {
        propose(&mut form.typed, &look.found.outlines[look.chosen]);
    }
    let keep = form.typed.get("do") == "keep";
    if !form.errors.is_empty() {
        return Err(WebError::Form(page_of(&project, &name, &form, look.as_ref(), None)));
    }
    let Some((_, (made, shape))) = look.as_ref().and_then(|l| Some((l, l.made.as_ref()?))).filter(|_| keep) else {
        return respond::page(page_of(&project, &name, &form, look.as_ref(), None));
    };
    let piece = match piece(before, &form.typed, &project.plan, &made.clone(), shape) {
        Ok(piece) => piece,
        Err(errors) => {
            form.errors = errors;
            return Err(WebError::Form(page_of(&project, &name, &form, look.as_ref(), None)));
        }
    };
    let own = format!("pieces/{}", piece.id);
    let to = format!("{}/{own}", part::base(&project));
    match part::save(&app, &project, &form.typed, Edit::Piece(Box::new(piece)), &own).await? {
        Saved::Done => respond::see(&to),
        Saved::Problems(problems) => {
            for problem in problems {
                form.errors.add("outline", problem.message);
            }
            Err(WebError::Form(page_of(&project, &name, &form, look.as_ref(), None)))
        }
        Saved::Clash(now, what) => {
            form.typed.set("seen", now.revision.to_string());
            let note = stale_note(&what, &Typed::default(), &Typed::default());
            let page = page_of(&now, &name, &form, look.as_ref(), Some(note));
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
    }
}

/// What a new piece is called in the file, where nothing is typed.
fn propose(typed: &mut Typed, outline: &FoundOutline) {
    if typed.get("name").trim().is_empty() {
        typed.set("name", own_name(&outline.name));
        let count = outline.cut_count.unwrap_or(1).clamp(1, limits::CUT_COUNT);
        typed.set("cut_count", count.to_string());
        if outline.mirrored {
            typed.set("mirrored", "yes");
        }
    }
}

/// Of `Sleeve / path12` the part a person gave it.
fn own_name(name: &str) -> String {
    let name = name.trim_end_matches(", stitching line").trim_end_matches(", cut line");
    let given = |part: &&str| {
        let word = part.trim_end_matches(|c: char| c.is_ascii_digit() || c == '-' || c == '_');
        ![
            "path",
            "g",
            "rect",
            "polygon",
            "outline",
            "cut-line",
            "stitching-line",
            "piece",
            "",
        ]
        .contains(&word)
    };
    let part = name.rsplit(" / ").find(given).unwrap_or(name);
    part.chars().take(NAME).collect()
}

/// Reads the file that is kept, and makes an outline of the chosen line. What is wrong
/// stands beside its field.
async fn look(project: &Project, form: &mut Shown) -> Result<Option<Look>, WebError> {
    let key = form.typed.get("kept").to_string();
    if key.is_empty() {
        form.errors.add("file", "Choose a file that ends in .svg or .dxf.");
        return Ok(None);
    }
    let Some(bytes) = kept::get(&key) else {
        form.errors
            .add("file", "The file is no longer at hand. Choose it once more.");
        return Ok(None);
    };
    let unit = FileUnit::read(form.typed.get("unit"));
    let read = web::block(move || read(&bytes, unit)).await?;
    let found = match read {
        Ok(found) => found,
        Err(problem) => {
            let field = if problem.wants_unit { "unit" } else { "file" };
            form.errors.add(field, problem);
            return Ok(None);
        }
    };
    let usual = |role: Role| if role == Role::Stitching { 0 } else { 1 };
    let largest = (0..found.outlines.len()).min_by(|a, b| {
        let (a, b) = (&found.outlines[*a], &found.outlines[*b]);
        usual(a.role).cmp(&usual(b.role)).then(b.area().total_cmp(&a.area()))
    });
    let typed = form
        .typed
        .get("outline")
        .parse()
        .ok()
        .filter(|n| *n < found.outlines.len());
    let chosen = typed.or(largest).unwrap_or(0);
    form.typed.set("outline", chosen.to_string());
    let mut reader = Reader::new(&form.typed, project.plan.unit);
    let allowance = reader.length_or_zero("allowance");
    let mut errors = std::mem::take(&mut reader.errors);
    let quarters = form.typed.get("turn").parse().unwrap_or(0);
    let mut look = Look {
        found,
        chosen,
        made: None,
    };
    if errors.is_empty() {
        match outline_of(&look.found.outlines[chosen], allowance, quarters) {
            Err(problem) => errors.add("outline", problem),
            Ok(made) => {
                let told = Told {
                    field: String::new(),
                    name: "the piece",
                    unit: project.plan.unit,
                };
                match Shape::of(&made.outline, &told) {
                    Ok(shape) => look.made = Some((made, shape)),
                    Err(problems) => {
                        for problem in problems {
                            let field = if problem.field.ends_with("allowance") {
                                "allowance"
                            } else {
                                "outline"
                            };
                            if !errors.of(field).any(|m| m == problem.sentence) {
                                errors.add(field, problem.sentence);
                            }
                        }
                    }
                }
            }
        }
    }
    form.errors.0.extend(errors.0);
    Ok(Some(look))
}

fn read(bytes: &Arc<Vec<u8>>, unit: Option<FileUnit>) -> Result<Found, FileProblem> {
    if matches!(sniff(bytes), Ok(_) | Err(PhotoError::Heic | PhotoError::OtherFormat(_))) {
        return Err(FileProblem::new(
            "This is a picture. Put it into the log as a photo and trace the piece on it, or choose an SVG or DXF file.",
        ));
    }
    if bytes.starts_with(b"%PDF") {
        return Err(FileProblem::new(
            "This is a PDF, which is not read. Choose an SVG or DXF file, or trace the piece on a photo.",
        ));
    }
    let head = bytes
        .iter()
        .find(|b| !b.is_ascii_whitespace() && ![0xef, 0xbb, 0xbf].contains(*b));
    if head == Some(&b'<') {
        svg::read(bytes, unit)
    } else {
        dxf::read(bytes, unit)
    }
}

/// The piece with its new outline; a new piece as the form says.
fn piece(
    before: Option<Piece>,
    typed: &Typed,
    plan: &Plan,
    made: &Made,
    shape: &Shape,
) -> Result<Piece, crate::web::form::Errors> {
    let mut piece = match before {
        Some(piece) => piece,
        None => {
            let mut r = Reader::new(typed, plan.unit);
            let piece = Piece {
                id: part::new_id(typed, plan, 'p'),
                name: r.required("name", NAME, "Give the piece a name."),
                cut_count: r.count("cut_count", 1..=limits::CUT_COUNT),
                mirrored: typed.ticked("mirrored"),
                ..Piece::default()
            };
            if !r.errors.is_empty() {
                return Err(r.errors);
            }
            piece
        }
    };
    let size = shape.cut_size();
    piece.width = size.width;
    piece.height = size.height;
    piece.on_fold = false;
    piece.alterations = Vec::new();
    piece.pattern = Some(Pattern {
        from: Source::Drawn(made.outline.clone()),
        finish: Vec::new(),
        changes: Vec::new(),
    });
    Ok(piece)
}
