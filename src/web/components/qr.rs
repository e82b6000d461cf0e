//! A square to scan.

use maud::{Markup, html};
use qrcode::{Color, QrCode};

/// The light edge that readers need round the square.
const EDGE: usize = 4;

/// Dark on light whatever the page's colours are: not every phone reads it the
/// other way round. Nothing where the text is too long for one square.
pub fn qr(text: &str, label: &str) -> Markup {
    let Ok(code) = QrCode::new(text) else {
        return html! {};
    };
    let (width, colours) = (code.width(), code.to_colors());
    let mut dark = String::new();
    for (at, _) in colours.iter().enumerate().filter(|(_, c)| **c == Color::Dark) {
        let (x, y) = (at % width + EDGE, at / width + EDGE);
        dark.push_str(&format!("M{x} {y}h1v1h-1z"));
    }
    let side = width + 2 * EDGE;
    html! {
        svg.qr viewBox=(format!("0 0 {side} {side}")) role="img" aria-label=(label) shape-rendering="crispEdges" {
            rect width=(side) height=(side) fill="#ffffff" {}
            path d=(dark) fill="#000000" {}
        }
    }
}
