//! What the letters and hatchings of a panel are: a patch of each cloth with
//! its name. Strips too narrow for a letter are told by it.

use super::named;
use crate::plan::{Face, Patchwork, Plan};
use crate::sheets::document::{Drawing, Ground, Hatch, Label, Line, Shape, tint};
use crate::sheets::letter;

/// In millimetres on paper.
const PATCH: (f64, f64) = (14.0, 7.0);

pub fn legend(plan: &Plan, face: &Patchwork) -> Vec<Drawing> {
    let whole = Face::Patchwork(face.clone());
    let used = |id: &str| whole.cloths().any(|c| c == id);
    let cloths = (0..plan.cloths.len()).filter(|n| used(&plan.cloths[*n].id));
    cloths.map(|n| patch(plan, n)).collect()
}

fn patch(plan: &Plan, n: usize) -> Drawing {
    let cloth = &plan.cloths[n];
    let (width, height) = PATCH;
    let name = named(plan, &cloth.id);
    Drawing {
        says: format!("Cloth {name}, as it is hatched here"),
        caption: name,
        width,
        height,
        one_to: 1.0,
        shapes: vec![
            Shape::Areas {
                outlines: vec![vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]],
                colour: Some(tint(&cloth.colour)),
                hatch: Hatch::of_cloth(n),
                line: Line::Fine,
            },
            Shape::Label(Label {
                at: (width / 2.0, height / 2.0),
                text: letter(n),
                size: 8.5,
                ground: Ground::Light,
                bold: true,
            }),
        ],
        ..Drawing::default()
    }
}
