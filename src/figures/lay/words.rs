//! Why pieces cannot be laid, in a sentence.

use super::{LayGround, LayJob};
use crate::drafting::lay::Proof;
use crate::measure::{Length, Round};

/// Rounded so that the sentence stays true: what is too large down, what there is up.
fn least(mm: f64) -> Length {
    Length::from_units((mm * 640.0).floor() as i64)
}

fn most(mm: f64) -> Length {
    Length::from_units((mm * 640.0).ceil() as i64)
}

impl LayJob<'_> {
    pub fn why_not(&self, proof: &Proof) -> String {
        let unit = self.plan.unit;
        let name = |at: usize| self.problem.pieces[at].name.as_str();
        match proof {
            Proof::TooWide {
                piece,
                least: wide,
                most: there,
            } => {
                let (wide, there) = (
                    least(*wide).both_sixteenths(unit, Round::Down),
                    most(*there).both_sixteenths(unit, Round::Nearest),
                );
                let name = name(*piece);
                match self.ground {
                    LayGround::Single => {
                        format!("{name} is {wide} across in every way it may lie, and the cloth is {there} wide.")
                    }
                    LayGround::Folded => format!(
                        "{name} is {wide} across in every way it may lie, and the folded cloth is {there} wide. Lay it on a single layer."
                    ),
                    LayGround::Remnants | LayGround::Remnant(_) => {
                        format!("{name} measures {wide} however it lies, and no remnant is longer than {there}.")
                    }
                }
            }
            Proof::NoPlace { piece } => format!(
                "{} has no place there even alone, in none of the ways it may lie.",
                name(*piece)
            ),
            Proof::Area {
                pieces,
                remnants,
                needed,
                there,
            } => {
                let names: Vec<&str> = pieces.iter().map(|p| name(*p)).collect();
                let ground = if remnants.len() == self.leftovers.len() {
                    "the remnants have".to_string()
                } else {
                    let own: Vec<&str> = remnants.iter().map(|r| self.leftovers[*r].name.as_str()).collect();
                    format!("they have a place on {} alone, which has", own.join(", "))
                };
                // In tenths of a per cent, down, yet more than all of it.
                let tenths = ((needed / there) * 1000.0).floor().max(1000.0) as u64;
                format!(
                    "{} together take more than {}.{} % of the cloth {ground}.",
                    names.join(", "),
                    tenths / 10,
                    tenths % 10
                )
            }
        }
    }
}
