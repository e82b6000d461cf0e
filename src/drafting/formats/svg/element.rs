//! The lines of one element, in the units of its drawing.

use super::path::path;
use super::size::length;
use kurbo::{BezPath, Ellipse, Point, RoundedRect, RoundedRectRadii, Shape, Size};
use roxmltree::Node;
use svgtypes::PointsParser;

/// Nothing where the element is no line at all, or one that SVG says is not drawn.
pub(super) fn lines(node: &Node<'_, '_>, view: Size, within: f64) -> Result<Option<BezPath>, String> {
    let diagonal = (view.width.hypot(view.height)) / std::f64::consts::SQRT_2;
    let across = |name: &str| length(node, name, view.width);
    let down = |name: &str| length(node, name, view.height);
    let made = match node.tag_name().name() {
        "path" => match node.attribute("d") {
            Some(data) => path(data, within)?,
            None => return Ok(None),
        },
        "rect" => {
            let (x, y) = (across("x")?.unwrap_or(0.0), down("y")?.unwrap_or(0.0));
            let (w, h) = (across("width")?.unwrap_or(0.0), down("height")?.unwrap_or(0.0));
            let (rx, ry) = (across("rx")?, down("ry")?);
            if w <= 0.0 || h <= 0.0 {
                return Ok(None);
            }
            rectangle(x, y, w, h, (rx, ry), within)
        }
        "circle" => {
            let r = length(node, "r", diagonal)?.unwrap_or(0.0);
            let middle = (across("cx")?.unwrap_or(0.0), down("cy")?.unwrap_or(0.0));
            if r <= 0.0 {
                return Ok(None);
            }
            kurbo::Circle::new(middle, r).to_path(within)
        }
        "ellipse" => {
            let (rx, ry) = (across("rx")?, down("ry")?);
            let (rx, ry) = (rx.or(ry).unwrap_or(0.0), ry.or(rx).unwrap_or(0.0));
            let middle = (across("cx")?.unwrap_or(0.0), down("cy")?.unwrap_or(0.0));
            if rx <= 0.0 || ry <= 0.0 {
                return Ok(None);
            }
            Ellipse::new(middle, (rx, ry), 0.0).to_path(within)
        }
        "line" => {
            let mut line = BezPath::new();
            line.move_to((across("x1")?.unwrap_or(0.0), down("y1")?.unwrap_or(0.0)));
            line.line_to((across("x2")?.unwrap_or(0.0), down("y2")?.unwrap_or(0.0)));
            line
        }
        name @ ("polyline" | "polygon") => {
            let Some(text) = node.attribute("points") else {
                return Ok(None);
            };
            let mut line = BezPath::new();
            for (n, (x, y)) in PointsParser::from(text).enumerate() {
                let p = Point::new(x, y);
                if n == 0 { line.move_to(p) } else { line.line_to(p) }
            }
            // The reader of points stops at what is no number, without a word.
            let mut numbers = text
                .split(|c: char| c == ',' || c.is_whitespace())
                .filter(|w| !w.is_empty());
            if let Some(wrong) = numbers.find(|w| !is_numbers(w)) {
                let wrong: String = wrong.chars().take(40).collect();
                return Err(format!("has “{wrong}” among its points, which is no number"));
            }
            if name == "polygon" && !line.elements().is_empty() {
                line.close_path();
            }
            line
        }
        _ => return Ok(None),
    };
    Ok(Some(made))
}

/// One number, or several written together: `10-5`, `1.5.5`.
fn is_numbers(word: &str) -> bool {
    word.bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+' | b'e' | b'E'))
        && word.bytes().any(|b| b.is_ascii_digit())
}

fn rectangle(x: f64, y: f64, w: f64, h: f64, (rx, ry): (Option<f64>, Option<f64>), within: f64) -> BezPath {
    let (rx, ry) = (rx.or(ry).unwrap_or(0.0), ry.or(rx).unwrap_or(0.0));
    let (rx, ry) = (rx.clamp(0.0, w / 2.0), ry.clamp(0.0, h / 2.0));
    if rx <= 0.0 || ry <= 0.0 {
        return kurbo::Rect::new(x, y, x + w, y + h).to_path(within);
    }
    // A rectangle with round corners, stretched where they are oval.
    let stretch = rx / ry;
    let round = RoundedRect::new(0.0, 0.0, w, h * stretch, RoundedRectRadii::from_single_radius(rx));
    kurbo::Affine::translate((x, y)) * kurbo::Affine::scale_non_uniform(1.0, 1.0 / stretch) * round.to_path(within)
}
