//! A cloth as a small square: its photo or colour, its letter besides.

use crate::notebook::{Look, Picture};
pub use crate::sheets::letter;
use maud::{Markup, html};

/// Only `#rrggbb` reaches a page.
pub fn safe_colour(colour: &str) -> &str {
    let hex = colour.len() == 7 && colour.starts_with('#') && colour[1..].bytes().all(|b| b.is_ascii_hexdigit());
    if hex { colour } else { "#b8bcc6" }
}

/// Where the picture of a swatch is: the marked part, or the whole photo.
fn picture_address(picture: &Picture) -> String {
    let photo = &picture.photo.0;
    match picture.part {
        Some(part) => format!(
            "/swatches/{photo}/{}-{}-{}-{}",
            part.left, part.top, part.width, part.height
        ),
        None => format!("/photos/{photo}/small"),
    }
}

pub fn look(of: &Look) -> Markup {
    swatch(&of.colour, None, of.picture.as_ref())
}

pub fn swatch(colour: &str, letter: Option<&str>, picture: Option<&Picture>) -> Markup {
    html! {
        span.swatch aria-hidden="true" {
            @if let Some(picture) = picture {
                img src=(picture_address(picture)) alt="" loading="lazy";
            } @else {
                svg viewBox="0 0 40 40" width="40" height="40" preserveAspectRatio="xMidYMid slice" {
                    rect width="40" height="40" fill=(safe_colour(colour)) {}
                    // the weave: two thin lines each way, so that white cloth is seen on a white page
                    path d="M0 10h40M0 20h40M0 30h40M10 0v40M20 0v40M30 0v40" stroke="#ffffff" stroke-opacity=".16" {}
                    path d="M0 10.8h40M0 20.8h40M0 30.8h40M10.8 0v40M20.8 0v40M30.8 0v40" stroke="#000000" stroke-opacity=".10" {}
                }
            }
            @if let Some(letter) = letter { span.letter { (letter) } }
        }
    }
}
