//! How light the cloths of a plan are, and whether neighbours differ.
//!
//! - [`meet`]: which cloths lie side by side in a face

mod meet;

use super::check::called;
use super::{Figures, PanelFigures};
use crate::measure::{Lightness, Rgb};
use crate::plan::Plan;
use serde::Serialize;

/// Neighbours whose lightness is nearer than this hardly differ from across a
/// room: a tenth of the scale. Our own choice; no source sets one for cloth.
pub const HARDLY: f64 = 10.0;
/// A difference of colour (CIEDE2000) under this is looked for to be seen.
const SAME: f64 = 5.0;

#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Contrast {
    /// The cloths that stand in faces, in the plan's order.
    pub cloths: Vec<ClothLightness>,
    /// Those that lie side by side somewhere, those nearest in lightness first.
    pub pairs: Vec<ClothPair>,
    pub cautions: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClothLightness {
    pub cloth: String,
    pub name: String,
    /// L*, 0 black to 100 white.
    pub l: f64,
    #[serde(skip)]
    pub step: Lightness,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClothPair {
    /// Positions in `cloths`.
    pub one: usize,
    pub other: usize,
    /// Of their L*.
    pub lightness: f64,
    /// CIEDE2000.
    pub difference: f64,
    /// Names of the pieces they meet in.
    pub pieces: Vec<String>,
}

impl ClothPair {
    pub fn hardly_differs(&self) -> bool {
        self.lightness < HARDLY
    }
}

/// The contrast between neighbours. `figures` are the plan's own: they say how
/// many units each panel has.
pub fn contrast(plan: &Plan, figures: &Figures) -> Contrast {
    let mut out = Contrast::default();
    let faces = || plan.pieces.iter().filter_map(|p| Some((p, p.face.as_ref()?)));
    for cloth in &plan.cloths {
        let used = faces().any(|(_, face)| face.cloths().any(|id| id == cloth.id));
        let twice = out.cloths.iter().any(|c| c.cloth == cloth.id);
        if let Some(colour) = Rgb::parse(&cloth.colour).filter(|_| used && !twice) {
            let l = colour.lab().l;
            out.cloths.push(ClothLightness {
                cloth: cloth.id.clone(),
                name: called(&cloth.name, &cloth.id),
                l,
                step: Lightness::of(l),
            });
        }
    }
    let lab = |at: usize| {
        let cloth = plan.cloth(&out.cloths[at].cloth);
        cloth.and_then(|c| Rgb::parse(&c.colour)).unwrap_or(Rgb([0; 3])).lab()
    };
    let mut pairs: Vec<ClothPair> = Vec::new();
    for (piece, face) in faces() {
        let panel: Option<&PanelFigures> = figures
            .pieces
            .iter()
            .find(|f| f.piece == piece.id)
            .and_then(|f| f.panel.as_ref());
        let name = called(&piece.name, &piece.id);
        for (a, b) in meet::neighbours(face, panel) {
            let at = |id: &str| out.cloths.iter().position(|c| c.cloth == id);
            let (Some(one), Some(other)) = (at(a), at(b)) else {
                continue;
            };
            let (one, other) = (one.min(other), one.max(other));
            if one == other {
                continue;
            }
            let known = pairs.iter_mut().find(|p| (p.one, p.other) == (one, other));
            match known {
                Some(pair) if pair.pieces.contains(&name) => {}
                Some(pair) => pair.pieces.push(name.clone()),
                None => pairs.push(ClothPair {
                    one,
                    other,
                    lightness: (lab(one).l - lab(other).l).abs(),
                    difference: lab(one).difference(lab(other)),
                    pieces: vec![name.clone()],
                }),
            }
        }
    }
    pairs.sort_by(|a, b| {
        a.lightness
            .total_cmp(&b.lightness)
            .then((a.one, a.other).cmp(&(b.one, b.other)))
    });
    out.cautions = pairs
        .iter()
        .filter(|p| p.hardly_differs())
        .map(|p| caution(&out, p))
        .collect();
    out.pairs = pairs;
    out
}

fn caution(of: &Contrast, pair: &ClothPair) -> String {
    let (one, other) = (&of.cloths[pair.one], &of.cloths[pair.other]);
    let pieces = match pair.pieces.as_slice() {
        [first, second, third, _, ..] => format!("{first}, {second}, {third} and more"),
        some => some.join(", "),
    };
    let effect = if pair.difference < SAME {
        "they look almost the same, side by side too"
    } else {
        "from across a room they run together, however much their colours differ"
    };
    format!(
        "In {pieces}, {} and {} hardly differ in lightness ({:.0} and {:.0} of 100): {effect}. Where the patchwork is meant to show, take one that is lighter or darker.",
        one.name, other.name, one.l, other.l
    )
}

/// The plan as seen with the eyes half closed: every cloth in the grey that is
/// as light. For drawings; nothing is worked out from it.
pub fn in_lightness_only(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for cloth in &mut plan.cloths {
        if let Some(colour) = Rgb::parse(&cloth.colour) {
            cloth.colour = colour.in_lightness_only().to_string();
        }
    }
    plan
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    fn plan(second: &str, face: &str) -> Plan {
        Plan::from_json(&format!(
            r##"{{"format":1,"cloths":[
            {{"id":"a","name":"Cream","usable_width":"42 in","colour":"#f0e6d2"}},
            {{"id":"b","name":"Second","usable_width":"42 in","colour":"{second}"}},
            {{"id":"c","name":"Navy","usable_width":"42 in","colour":"#1d2450"}},
            {{"id":"d","name":"Not used","usable_width":"42 in","colour":"#f0e6d2"}}],
            "pieces":[{{"id":"p","name":"Front","cut_count":1,"width":"12 in","height":"12 in","face":{face}}}]}}"##
        ))
        .expect("a plan")
    }

    const ALTERNATING: &str = r#"{"kind":"patchwork","finished":"3 in","arrangement":"alternating",
        "units":[{"kind":"square","cloths":["a"]},{"kind":"square","cloths":["b"]}]}"#;

    #[test]
    fn neighbours_of_one_lightness_are_told() {
        // A pale blue as light as the cream.
        let plan = plan("#c9ecff", ALTERNATING);
        let found = contrast(&plan, &work_out(&plan));
        assert_eq!(found.cloths.len(), 2, "{found:?}");
        assert_eq!((found.pairs.len(), found.cautions.len()), (1, 1));
        let said = &found.cautions[0];
        assert!(
            said.starts_with("In Front, Cream and Second hardly differ in lightness"),
            "{said}"
        );
        assert!(said.contains("however much their colours differ"), "{said}");
        assert!(found.pairs[0].difference > 10.0);
    }

    #[test]
    fn dark_beside_light_is_fine() {
        let plan = plan("#1d2450", ALTERNATING);
        let found = contrast(&plan, &work_out(&plan));
        assert!(found.cautions.is_empty());
        assert_eq!(found.cloths[0].step, Lightness::Light);
        assert_eq!(found.cloths[1].step, Lightness::Dark);
    }

    #[test]
    fn cloths_that_do_not_touch_are_not_compared() {
        // Sashing of navy between cream and a second as light.
        let face = ALTERNATING.replace(r#""units""#, r#""sashing":{"width":"1 in","cloth":"c"},"units""#);
        let plan = plan("#f0e6d2", &face);
        let found = contrast(&plan, &work_out(&plan));
        let names: Vec<(usize, usize)> = found.pairs.iter().map(|p| (p.one, p.other)).collect();
        assert_eq!(names, [(0, 2), (1, 2)]);
        assert!(found.cautions.is_empty());
    }

    #[test]
    fn greys_are_as_light_as_the_cloths() {
        let plan = plan("#b03030", ALTERNATING);
        let grey = in_lightness_only(&plan);
        for (a, b) in plan.cloths.iter().zip(&grey.cloths) {
            let (a, b) = (Rgb::parse(&a.colour), Rgb::parse(&b.colour));
            let (a, b) = (a.expect("a colour"), b.expect("a colour"));
            assert!((a.lab().l - b.lab().l).abs() < 0.4);
            assert!(b.0[0] == b.0[1] && b.0[1] == b.0[2]);
        }
    }
}
