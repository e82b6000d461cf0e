//! Pieces of a file: a block with a boundary each; without any, every closed line.

use super::entity::{is_line, line, point, words};
use super::{Layer, lines};
use crate::drafting::formats::line::{is_near, joined};
use crate::drafting::formats::{FileProblem, FileUnit, Found, FoundOutline, Inner, MOST_OUTLINES, Role, too_large};
use dxf::Drawing;
use dxf::entities::{Entity, EntityType};
use dxf::enums::Units;
use kurbo::{Affine, BezPath, Point, Shape};

/// Lines that are joined end to end are so many at most.
const LINES: usize = 2_000;

/// Sentences of one kind are so many at most; the rest is counted.
const NOTICES: usize = 20;

/// Layers that are looked through where none is as the standard has it.
const LAYERS: usize = 100;

/// The outlines of a DXF file. `unit` is what the maker says of it; without, what the
/// file says counts.
pub fn read(bytes: &[u8], unit: Option<FileUnit>) -> Result<Found, FileProblem> {
    if let Some(problem) = too_large(bytes) {
        return Err(problem);
    }
    lines::check(bytes)?;
    let mut reader = bytes;
    let drawing = Drawing::load(&mut reader).map_err(|e| unreadable(&e))?;
    let mut notices = Vec::new();
    let scale = match unit.map(FileUnit::millimetres).or_else(|| said(&drawing, &mut notices)) {
        Some(scale) => scale,
        None => {
            return Err(FileProblem::no_unit(
                "The file does not say what its numbers are (“Units: METRIC” or “Units: ENGLISH”). Choose below what one unit of the file is.",
            ));
        }
    };
    let mut found = Found {
        notices,
        ..Found::default()
    };
    splines(&drawing, bytes, scale, &mut found.notices)?;
    for block in drawing.blocks() {
        let entities: Vec<&Entity> = block.entities.iter().collect();
        if entities.iter().any(|e| on(e) == Some(Layer::Boundary)) {
            piece(&entities, &block.name, scale, &mut found)?;
        }
    }
    let outside: Vec<&Entity> = drawing.entities().collect();
    if found.outlines.is_empty() && outside.iter().any(|e| on(e) == Some(Layer::Boundary) && is_line(e)) {
        piece(&outside, "piece", scale, &mut found)?;
    }
    if found.outlines.is_empty() {
        anything(&drawing, scale, &mut found)?;
    }
    if found.outlines.is_empty() {
        let mut sentence = String::from(
            "The file has no closed outline. A piece is a block with its boundary on layer 1; draw it closed, and save it again.",
        );
        for notice in &found.notices {
            sentence = format!("{sentence} {notice}");
        }
        return Err(FileProblem::new(sentence));
    }
    Ok(found)
}

/// Says of each spline that cannot be read why, with its line.
fn splines(drawing: &Drawing, bytes: &[u8], scale: f64, notices: &mut Vec<String>) -> Result<(), FileProblem> {
    let inside = drawing.blocks().flat_map(|b| b.entities.iter());
    let all: Vec<&dxf::entities::Spline> = inside
        .chain(drawing.entities())
        .filter_map(|e| match &e.specific {
            EntityType::Spline(spline) => Some(spline),
            _ => None,
        })
        .collect();
    if all.len() > LINES {
        return Err(FileProblem::new(format!(
            "The file has more than {LINES} splines. Keep the pieces alone in it, or save its curves as polylines."
        )));
    }
    let at = lines::beginnings(bytes, "SPLINE");
    let mut wrong = 0;
    for (n, spline) in all.iter().enumerate() {
        let Err(why) = super::spline::path(spline, scale) else {
            continue;
        };
        wrong += 1;
        if wrong > NOTICES {
            continue;
        }
        // Blocks come before the drawing in the file too.
        let line = at.get(n).filter(|_| at.len() == all.len());
        let place = line.map_or_else(|| "A spline".to_string(), |line| format!("Line {line}: this spline"));
        notices.push(format!(
            "{place} {why}; it was left out. Save it as a polyline, or as a spline of degree 3 with control points."
        ));
    }
    if wrong > NOTICES {
        notices.push(format!("{} more splines were left out.", wrong - NOTICES));
    }
    Ok(())
}

fn unreadable(error: &dxf::DxfError) -> FileProblem {
    use dxf::DxfError as E;
    let line = match error {
        E::ParseFloatError(_, line)
        | E::ParseIntError(_, line)
        | E::ParseError(line)
        | E::UnexpectedCode(_, line)
        | E::UnexpectedByte(_, line)
        | E::UnexpectedEnumValue(line)
        | E::ExpectedTableType(line)
        | E::WrongValueType(line) => Some(*line),
        E::UnexpectedCodePair(pair, _) => Some(pair.offset),
        _ => None,
    };
    FileProblem {
        line: line.filter(|n| *n > 0),
        ..FileProblem::new(format!(
            "The file cannot be read here ({error}). Save it again from the program it comes from."
        ))
    }
}

/// The words after a label such as `Units:`, whatever their case.
fn after<'a>(text: &'a str, label: &str) -> Option<&'a str> {
    let (head, rest) = text.split_once(':')?;
    head.trim().eq_ignore_ascii_case(label).then_some(rest.trim())
}

/// Millimetres of one unit, as the file's words or its header say.
fn said(drawing: &Drawing, notices: &mut Vec<String>) -> Option<f64> {
    let inside = drawing.blocks().flat_map(|b| b.entities.iter());
    let mut units = drawing
        .entities()
        .chain(inside)
        .filter_map(words)
        .filter_map(|text| after(text, "Units"));
    if let Some(unit) = units.next() {
        match unit.to_ascii_uppercase().as_str() {
            "METRIC" => return Some(FileUnit::Millimetre.millimetres()),
            "ENGLISH" | "IMPERIAL" => return Some(FileUnit::Inch.millimetres()),
            _ => notices.push("The file's word for its units is neither METRIC nor ENGLISH.".into()),
        }
    }
    match drawing.header.default_drawing_units {
        Units::Millimeters => Some(1.0),
        Units::Centimeters => Some(10.0),
        Units::Meters => Some(1000.0),
        Units::Inches => Some(25.4),
        _ => None,
    }
}

fn on(entity: &Entity) -> Option<Layer> {
    Layer::read(&entity.common.layer)
}

/// One piece: its cut line, and its stitching line where there is one.
fn piece(entities: &[&Entity], block: &str, scale: f64, found: &mut Found) -> Result<(), FileProblem> {
    let texts: Vec<&str> = entities.iter().filter_map(|e| words(e)).collect();
    let say = |label: &str| texts.iter().find_map(|t| after(t, label)).filter(|v| !v.is_empty());
    let name: String = say("Piece Name")
        .unwrap_or(block)
        .chars()
        .filter(|c| !c.is_control())
        .take(100)
        .collect();
    let lines_on = |layer: Layer| -> Vec<BezPath> {
        entities
            .iter()
            .filter(|e| on(e) == Some(layer))
            .filter_map(|e| line(e, scale))
            .collect()
    };
    let points_on = |layer: Layer| -> Vec<Point> {
        entities
            .iter()
            .filter(|e| on(e) == Some(layer))
            .filter_map(|e| match &e.specific {
                EntityType::ModelPoint(p) => Some(point(&p.location, scale)),
                EntityType::Circle(c) => Some(point(&c.center, scale)),
                EntityType::Line(l) if layer == Layer::Notches => Some(point(&l.p1, scale)),
                _ => None,
            })
            .collect()
    };
    let boundary = lines_on(Layer::Boundary);
    let sewing = lines_on(Layer::Sewing);
    if boundary.len().max(sewing.len()) > LINES {
        return Err(FileProblem::new(format!(
            "“{name}” is drawn with more than {LINES} separate lines. Join them into one line round the piece, and save it again."
        )));
    }
    if !boundary.iter().all(is_near) {
        return Err(FileProblem::new(format!(
            "The piece “{name}” reaches farther than 200 m. Check the unit."
        )));
    }
    let (closed, open) = joined(boundary);
    if !open.is_empty() {
        found.notices.push(format!(
            "The boundary of “{name}” does not close; the open part was left out."
        ));
    }
    if closed.is_empty() {
        return Ok(());
    }
    if !lines_on(Layer::Mirror).is_empty() {
        found.notices.push(format!(
            "“{name}” has a mirror line: look whether it is drawn whole or as a half."
        ));
    }
    let grain = entities
        .iter()
        .filter(|e| on(e) == Some(Layer::Grain))
        .find_map(|e| match &e.specific {
            EntityType::Line(l) => Some([point(&l.p1, scale), point(&l.p2, scale)]),
            _ => None,
        })
        .filter(|[a, b]| (*b - *a).hypot() > 0.01);
    let upright = grain.map_or(Affine::IDENTITY, upright);
    let grain = grain.map(|ends| {
        let [a, b] = ends.map(|p| upright * p);
        if a.y <= b.y { [a, b] } else { [b, a] }
    });
    let turned = |points: Vec<Point>| points.into_iter().map(|p| upright * p).collect::<Vec<_>>();
    let marks = turned(points_on(Layer::DrillHoles));
    let numbered = |what: &str, lines: Vec<BezPath>| -> Vec<Inner> {
        let each = lines.into_iter().filter(is_near).enumerate();
        each.map(|(n, path)| Inner {
            name: format!("{what} {}", n + 1),
            path: upright * path,
        })
        .collect()
    };
    let mut inner = numbered("inner line", lines_on(Layer::InternalLines));
    inner.extend(numbered("cutout", lines_on(Layer::Cutouts)));
    let (cut_count, mirrored) = say("Quantity").map_or((None, false), quantity);
    let of = FoundOutline {
        role: Role::Cut,
        notches: turned(points_on(Layer::Notches)),
        grain,
        marks: marks
            .into_iter()
            .enumerate()
            .map(|(n, p)| (format!("drill hole {}", n + 1), p))
            .collect(),
        inner,
        cut_count,
        mirrored: mirrored
            || texts
                .iter()
                .filter_map(|t| after(t, "Annotation"))
                .any(|t| t == super::write::PAIR),
        ..FoundOutline::default()
    };
    let largest = |lines: Vec<BezPath>| {
        lines
            .into_iter()
            .max_by(|a, b| a.area().abs().total_cmp(&b.area().abs()))
    };
    let Some(cut) = largest(closed).map(|path| upright * path) else {
        return Ok(());
    };
    let (sewn, _) = joined(sewing.into_iter().filter(is_near).collect());
    if let Some(stitching) = largest(sewn) {
        add(
            found,
            FoundOutline {
                name: format!("{name}, stitching line"),
                role: Role::Stitching,
                path: upright * stitching,
                cut: Some(cut.clone()),
                ..of.clone()
            },
        )?;
    }
    add(
        found,
        FoundOutline {
            name: format!("{name}, cut line"),
            path: cut,
            ..of
        },
    )
}

/// `2`, or `1,1` for as many of one hand and the other.
fn quantity(text: &str) -> (Option<u32>, bool) {
    let mut parts = text.split(',').map(|p| p.trim().parse::<u32>().ok());
    match (parts.next().flatten(), parts.next().flatten()) {
        (Some(a), Some(b)) => (a.checked_add(b), b > 0),
        (Some(a), None) => (Some(a), false),
        _ => (None, false),
    }
}

/// The least turn that sets the grain upright.
fn upright([a, b]: [Point; 2]) -> Affine {
    let along = b - a;
    let down = if along.y < -1e-6 { -along } else { along };
    let turn = std::f64::consts::FRAC_PI_2 - down.atan2();
    if turn.abs() < 1e-9 {
        Affine::IDENTITY
    } else {
        Affine::rotate(turn)
    }
}

fn add(found: &mut Found, outline: FoundOutline) -> Result<(), FileProblem> {
    if outline.area() < 1.0 {
        return Ok(());
    }
    if found.outlines.len() >= MOST_OUTLINES {
        return Err(FileProblem::new(format!(
            "The file has more than {MOST_OUTLINES} outlines. Keep the pieces of one size in it, and save it again."
        )));
    }
    found.outlines.push(outline);
    Ok(())
}

/// Not as the standard has it: each closed line may be a piece.
fn anything(drawing: &Drawing, scale: f64, found: &mut Found) -> Result<(), FileProblem> {
    let inside = drawing.blocks().flat_map(|b| b.entities.iter());
    let all: Vec<&Entity> = drawing.entities().chain(inside).collect();
    let mut layers: Vec<&str> = Vec::new();
    for entity in &all {
        if layers.len() < LAYERS && is_line(entity) && !layers.contains(&entity.common.layer.as_str()) {
            layers.push(&entity.common.layer);
        }
    }
    for layer in layers {
        let on = all.iter().filter(|e| e.common.layer == layer);
        let lines: Vec<BezPath> = on.filter_map(|e| line(e, scale)).filter(is_near).take(LINES).collect();
        let (closed, _) = joined(lines);
        let many = closed.len() > 1;
        for (n, path) in closed.into_iter().enumerate() {
            let name: String = layer.chars().filter(|c| !c.is_control()).take(60).collect();
            let name = if many {
                format!("layer {name}, {}", n + 1)
            } else {
                format!("layer {name}")
            };
            add(
                found,
                FoundOutline {
                    name,
                    path,
                    ..FoundOutline::default()
                },
            )?;
        }
    }
    if !found.outlines.is_empty() {
        found.notices.push(
            "No boundary stands on layer 1, where drawings for apparel have it. Every closed line is listed by its layer.".into(),
        );
    }
    Ok(())
}
