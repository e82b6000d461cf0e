//! Pieces as blocks of a DXF file, release 12, in millimetres.

use super::Layer;
use crate::drafting::formats::DrawnPiece;
use chrono::DateTime;
use dxf::entities::{Entity, EntityType, Insert, Line, ModelPoint, Polyline, Text, Vertex};
use dxf::enums::AcadVersion;
use dxf::tables::Layer as TableLayer;
use dxf::{Block, Drawing};
use kurbo::{BezPath, PathEl, Point};

/// Curves become chords within so much, in millimetres.
const CHORD: f64 = 0.02;

/// Where the boundary bends by more than this it turns, else it curves: 15 degrees.
const TURN: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// Said of a pair: half of them are mirror images.
pub(super) const PAIR: &str = "mirrored pair";

/// The file, or why it could not be written: a fault of the program.
pub fn write(title: &str, pieces: &[DrawnPiece]) -> Result<Vec<u8>, String> {
    let mut drawing = Drawing::new();
    drawing.header.version = AcadVersion::R12;
    // Nothing refers to anything by its handle; the library gives ends of lines in blocks none.
    drawing.header.handles_enabled = false;
    // The file says nothing of the clock: the same pieces give the same bytes.
    let day = DateTime::from_timestamp(0, 0).unwrap_or_default();
    drawing.header.creation_date = day.into();
    drawing.header.creation_date_universal = day;
    drawing.header.update_date = day.into();
    drawing.header.update_date_universal = day;
    for layer in Layer::ALL {
        drawing.add_layer(TableLayer {
            name: layer.name(),
            ..TableLayer::default()
        });
    }
    for text in [
        "Author: Notchbook".to_string(),
        "Units: METRIC".into(),
        format!("Style Name: {}", plain(title)),
    ] {
        let entity = words(&text, Point::ZERO, Layer::Boundary);
        drawing.add_entity(entity);
    }
    for (n, piece) in pieces.iter().enumerate() {
        let name = format!("PIECE{}", n + 1);
        let block = Block {
            name: name.clone(),
            layer: Layer::Boundary.name(),
            entities: entities(piece, &mut drawing),
            ..Block::default()
        };
        drawing.add_block(block);
        let mut insert = Entity::new(EntityType::Insert(Insert {
            name,
            ..Insert::default()
        }));
        insert.common.layer = Layer::Boundary.name();
        drawing.add_entity(insert);
    }
    let mut out = Vec::new();
    drawing
        .save(&mut out)
        .map_err(|e| format!("The DXF could not be written: {e}."))?;
    Ok(without_later_marks(&out))
}

/// Release 12 knows no subclass markers (code 100) and no handles in its tables, which
/// the library writes there all the same.
fn without_later_marks(bytes: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(bytes);
    let lines: Vec<&str> = text.lines().collect();
    let mut out = Vec::with_capacity(bytes.len());
    let mut tables = false;
    for pair in lines.chunks(2) {
        let [code, value] = pair else { continue };
        let (code, value) = (code.trim(), value.trim_end());
        if code == "2" && ["TABLES", "BLOCKS"].contains(&value) {
            tables = value == "TABLES";
        }
        if code == "100" || (code == "5" && tables) {
            continue;
        }
        out.extend_from_slice(format!("{code:>3}\r\n{value}\r\n").as_bytes());
    }
    out
}

fn entities(piece: &DrawnPiece, drawing: &mut Drawing) -> Vec<Entity> {
    let mut all = Vec::new();
    all.push(polyline(&piece.cut, true, Layer::Boundary, drawing));
    for (n, p) in piece.cut.iter().enumerate() {
        let layer = if turns(&piece.cut, n) {
            Layer::TurnPoints
        } else {
            Layer::CurvePoints
        };
        all.push(mark(*p, layer));
    }
    for notch in &piece.notches {
        let aside: &[f64] = if notch.double { &[-3.0, 3.0] } else { &[0.0] };
        all.extend(
            aside
                .iter()
                .map(|by| mark(notch.cut + notch.along * *by, Layer::Notches)),
        );
    }
    let [from, to] = piece.grain.map(|p| spot(&p));
    all.push(on(
        EntityType::Line(Line {
            p1: from,
            p2: to,
            ..Line::default()
        }),
        Layer::Grain,
    ));
    for (_, line) in &piece.inner {
        let points = chords(line);
        let closed = line.elements().last() == Some(&PathEl::ClosePath);
        all.push(polyline(&points, closed, Layer::InternalLines, drawing));
    }
    all.extend(piece.marks.iter().map(|(_, p)| mark(*p, Layer::DrillHoles)));
    if let Some(stitching) = &piece.stitching {
        let mut points = chords(stitching);
        if points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        all.push(polyline(&points, true, Layer::Sewing, drawing));
    }
    let at = piece.bounds().center();
    all.push(words(
        &format!("Piece Name: {}", plain(&piece.name)),
        at,
        Layer::Boundary,
    ));
    all.push(words(&format!("Quantity: {}", piece.cut_count), at, Layer::Boundary));
    if piece.mirrored && piece.cut_count > 1 {
        all.push(words(&format!("Annotation: {PAIR}"), at, Layer::Annotation));
    }
    all
}

fn turns(points: &[Point], n: usize) -> bool {
    let count = points.len();
    let (before, here, next) = (points[(n + count - 1) % count], points[n], points[(n + 1) % count]);
    let (a, b) = (here - before, next - here);
    a.cross(b).atan2(a.dot(b)).abs() > TURN
}

fn chords(line: &BezPath) -> Vec<Point> {
    let mut points = Vec::new();
    kurbo::flatten(line, CHORD, |element| points.extend(element.end_point()));
    points.dedup_by(|b, a| (*b - *a).hypot() < 1e-9);
    points
}

/// `y` runs up in the file. Six decimals of a millimetre are more than enough.
fn spot(p: &Point) -> dxf::Point {
    let rounded = |v: f64| (v * 1e6).round() / 1e6 + 0.0;
    dxf::Point::new(rounded(p.x), rounded(-p.y), 0.0)
}

fn on(what: EntityType, layer: Layer) -> Entity {
    let mut entity = Entity::new(what);
    entity.common.layer = layer.name();
    entity
}

fn mark(p: Point, layer: Layer) -> Entity {
    on(
        EntityType::ModelPoint(ModelPoint {
            location: spot(&p),
            ..ModelPoint::default()
        }),
        layer,
    )
}

fn polyline(points: &[Point], closed: bool, layer: Layer, drawing: &mut Drawing) -> Entity {
    let mut line = Polyline::default();
    line.set_is_closed(closed);
    for p in points {
        let vertex = Vertex {
            location: spot(p),
            ..Vertex::default()
        };
        line.add_vertex(drawing, vertex);
    }
    on(EntityType::Polyline(line), layer)
}

fn words(text: &str, at: Point, layer: Layer) -> Entity {
    on(
        EntityType::Text(Text {
            location: spot(&at),
            text_height: 6.0,
            value: text.to_string(),
            ..Text::default()
        }),
        layer,
    )
}

/// Letters the format has: what is not plain ASCII is written as `?`.
fn plain(text: &str) -> String {
    text.chars()
        .take(100)
        .map(|c| match c {
            ' '..='~' => c,
            c if c.is_control() || c.is_whitespace() => ' ',
            _ => '?',
        })
        .collect()
}
