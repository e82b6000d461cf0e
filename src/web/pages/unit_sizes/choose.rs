//! Which pieces and which sizes are compared.

use super::{OTHERS, patchwork};
use crate::measure::{INCH, Length, Round, Unit};
use crate::plan::{Piece, Plan};
use crate::web::components::{field_errors, length_input};
use crate::web::form::{Errors, Reader, Shown, Typed, length_text};
use maud::{Markup, html};

pub fn form(form: &Shown, plan: &Plan, action: &str) -> Markup {
    let pieces: Vec<&Piece> = plan.pieces.iter().filter(|p| patchwork(p).is_some()).collect();
    let chosen = chosen(&form.typed, plan);
    let apart = chosen.len() > 1;
    let high = chosen
        .iter()
        .any(|p| patchwork(p).is_some_and(|f| f.finished_height.is_some()));
    html! {
        form.card method="get" action=(action) data-unit=(plan.unit.name()) {
            @if !form.errors.is_empty() {
                div.errors role="alert" tabindex="-1" {
                    p { b { "Not all of this can be compared or taken. Nothing you typed is lost." } }
                    ul { @for (field, message) in &form.errors.0 { li { a href=(format!("#{field}")) { (message) } } } }
                }
            }
            fieldset {
                legend { "Pieces that change" }
                div.size-pieces {
                    @for piece in &pieces {
                        label.pick {
                            input type="checkbox" name="piece" value=(piece.id) checked[chosen.iter().any(|c| c.id == piece.id)];
                            span { (piece.name) " "
                                @if let Some(face) = patchwork(piece) { span.meta { "now " (face.finished.both(plan.unit, Round::Nearest)) } } }
                        }
                    }
                }
                (field_errors(form, "piece"))
            }
            fieldset #sizes {
                legend { "Finished sizes to compare with" }
                div.size-fields { @for n in 1..=OTHERS { (length_input(form, &format!("size_{n}"), &format!("Size {n}"), "")) } }
                @if high { p.hint { "Units with a height of their own keep it; their width changes." } }
                (field_errors(form, "sizes"))
                (field_errors(form, "take"))
            }
            @if apart {
                details.more-of-face open[(1..=OTHERS).any(|n| chosen.iter().any(|p| !form.typed.get(&own(n, p)).is_empty()))] {
                    summary { "Another size for one piece" }
                    p.hint { "Empty: the size over its column." }
                    div.scroll.size-scroll tabindex="0" role="group" aria-label="Sizes of single pieces" {
                        table.own-sizes {
                            thead { tr { th scope="col" { "" } @for n in 1..=OTHERS { th scope="col" { "Size " (n) } } } }
                            tbody { @for piece in &chosen { tr {
                                th scope="row" { (piece.name) }
                                @for n in 1..=OTHERS { td {
                                    @let field = own(n, piece);
                                    input type="text" inputmode="decimal" autocomplete="off" id=(field) name=(field) value=(form.typed.get(&field))
                                        aria-label=(format!("{}, size {n}", piece.name)) aria-invalid=[form.errors.has(&field).then_some("true")];
                                    (field_errors(form, &field))
                                } }
                            } } }
                        }
                    }
                }
            }
            p.actions { button.button.primary type="submit" { "Compare" } }
        }
    }
}

fn own(n: usize, piece: &Piece) -> String {
    format!("own_{n}_{}", piece.id)
}

/// The fields of the choice, for the form that takes one of the sizes.
pub fn carried(typed: &Typed) -> impl Iterator<Item = (&str, &str)> {
    let wanted = |name: &str| name == "piece" || name.starts_with("size_") || name.starts_with("own_");
    typed
        .0
        .iter()
        .filter(move |(name, value)| wanted(name) && !value.is_empty())
        .map(|(name, value)| (name.as_str(), value.as_str()))
}

/// What the address asks for; where it asks for nothing, all pieces whose
/// units are of the first one's size, and the sizes next to it.
pub fn filled(mut typed: Typed, plan: &Plan) -> Typed {
    let pieces: Vec<&Piece> = plan.pieces.iter().filter(|p| patchwork(p).is_some()).collect();
    let size = |p: &Piece| patchwork(p).map(|f| f.finished);
    if !typed.has("piece") && !typed.has("size_1") {
        let first = pieces.first().and_then(|p| size(p));
        for piece in pieces.iter().filter(|p| size(p) == first) {
            typed.add("piece", &piece.id);
        }
    }
    if !(1..=OTHERS).any(|n| typed.has(&format!("size_{n}"))) {
        let now = chosen(&typed, plan).first().and_then(|p| size(p));
        for (n, near) in near(now.unwrap_or(INCH * 4), plan.unit).into_iter().enumerate() {
            typed.set(&format!("size_{}", n + 1), length_text(near, plan.unit));
        }
    }
    typed
}

/// The pieces that are ticked, in the plan's order.
pub fn chosen<'a>(typed: &Typed, plan: &'a Plan) -> Vec<&'a Piece> {
    let ticked: Vec<&str> = typed.all("piece").collect();
    plan.pieces
        .iter()
        .filter(|p| ticked.contains(&p.id.as_str()) && patchwork(p).is_some())
        .collect()
}

/// Two smaller and two larger sizes of those usual in the plan's system.
fn near(now: Length, unit: Unit) -> Vec<Length> {
    let usual: Vec<Length> = match unit {
        Unit::Inch => [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 20, 24, 32, 40, 48]
            .iter()
            .map(|n| Length::inches_frac(*n, 2))
            .collect(),
        Unit::Cm => [3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 50]
            .iter()
            .map(|n| Length::from_units(n * 6_400))
            .collect(),
    };
    let smaller = usual.iter().rev().filter(|s| **s < now).take(2);
    let larger = usual.iter().filter(|s| **s > now).take(2);
    let mut list: Vec<Length> = smaller.chain(larger).copied().collect();
    list.sort();
    list
}

/// The sizes of every column that has any, by piece. What cannot be read
/// stands beside its field, and its column is left out.
pub fn read(form: &mut Shown, plan: &Plan) -> Vec<Vec<(String, Length)>> {
    let mut r = Reader::new(&form.typed, plan.unit);
    let chosen = chosen(&form.typed, plan);
    if chosen.is_empty() {
        r.errors.add("piece", "Tick at least one piece.");
    }
    let mut columns: Vec<Vec<(String, Length)>> = Vec::new();
    for n in 1..=OTHERS {
        let all = format!("size_{n}");
        let before = r.errors.0.len();
        let given = |field: &str| !form.typed.get(field).trim().is_empty();
        let size = given(&all).then(|| r.length_positive(&all));
        let mut sizes = Vec::new();
        for piece in &chosen {
            let field = own(n, piece);
            let own_size = given(&field).then(|| r.length_positive(&field));
            if let Some(size) = own_size.or(size) {
                sizes.push((piece.id.clone(), size));
            }
        }
        if !sizes.is_empty() && r.errors.0.len() == before && !columns.contains(&sizes) {
            columns.push(sizes);
        }
    }
    let found: Errors = r.errors;
    for (field, message) in found.0 {
        if !form.errors.has(&field) {
            form.errors.add(field, message);
        }
    }
    columns
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_near_the_present_one_are_on_both_sides_of_it() {
        for unit in [Unit::Inch, Unit::Cm] {
            let sizes = near(INCH * 4, unit);
            assert_eq!(sizes.len(), 4);
            assert_eq!(sizes.iter().filter(|s| **s < INCH * 4).count(), 2);
            assert!(!sizes.contains(&(INCH * 4)));
        }
        // At the ends there are fewer, never the present one.
        assert_eq!(near(INCH, Unit::Inch).len(), 2);
        assert_eq!(near(INCH * 40, Unit::Inch).len(), 2);
    }
}
