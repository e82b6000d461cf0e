//! Cloths in a drawing: their colour, their letter, and lettering that can be read on it.

use crate::plan::Plan;
use crate::web::components::swatch::safe_colour;

/// What stands where a cloth is not chosen yet.
const NONE: &str = "#b8bcc6";

/// The place of a cloth in the plan, and its colour.
pub fn cloth_of<'a>(plan: &'a Plan, id: &str) -> (Option<usize>, &'a str) {
    let at = plan.cloths.iter().position(|c| c.id == id);
    (at, at.map_or(NONE, |i| safe_colour(&plan.cloths[i].colour)))
}

/// Dark or light lettering, whichever is read better on the colour (the WCAG
/// relative luminance where both contrasts are equal is about 0.18).
pub fn ink_on(colour: &str) -> &'static str {
    let channel = |at: usize| -> f64 {
        let v = f64::from(u8::from_str_radix(colour.get(at..at + 2).unwrap_or("80"), 16).unwrap_or(128)) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    };
    let luminance = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
    if luminance > 0.18 { "#14182f" } else { "#ffffff" }
}
