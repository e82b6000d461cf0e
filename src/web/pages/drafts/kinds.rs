//! What can be drafted, and the measures each draft asks for: one table, from
//! which its form is shown, filled and read.

use crate::measure::{Percent, Unit};
use crate::plan::{DraftKind, EdgeKind, EdgeOf, Plan, limits};
use crate::web::components::{choice, length_input, number, switch};
use crate::web::form::{Reader, Shown, Typed, length_text};
use maud::{Markup, html};
use serde_json::{Map, Value, json};

pub struct Kind {
    /// As it stands in the plan and in addresses.
    pub word: &'static str,
    pub name: &'static str,
    pub about: &'static str,
    pub fields: &'static [Field],
}

pub struct Field {
    pub key: &'static str,
    pub label: &'static str,
    pub hint: &'static str,
    pub take: Take,
}

pub enum Take {
    /// Usual values to begin with, in inches and in centimetres.
    Length(&'static str, &'static str),
    /// As a length, and nothing typed is nothing.
    LengthOrNone(&'static str, &'static str),
    Count(&'static str),
    Percent(&'static str),
    Flag,
    Choice(&'static [(&'static str, &'static str)]),
    /// An edge of an outline of the plan.
    Edge,
}

use Take::{Choice, Count, Edge, Flag, Length, LengthOrNone};

const fn field(key: &'static str, label: &'static str, hint: &'static str, take: Take) -> Field {
    Field { key, label, hint, take }
}

const NECKLINE: Field = field(
    "half_neckline",
    "Half the neckline",
    "Along the garment's neck edge, from the middle of the back to the middle of the front.",
    Length("8 5/8", "22"),
);
const DROP: Field = field(
    "drop",
    "Drop in front",
    "How much lower the hood's neck edge lies in front than at the back: 3/4 to 2 in (2 to 5 cm).",
    LengthOrNone("1 1/8", "3"),
);
const HEIGHT: Field = field(
    "height",
    "Height",
    "With a tape from the neckline over the head to the neckline, halved.",
    Length("13", "33"),
);
const ROOM: Field = field(
    "room",
    "Looseness",
    "3/8 to 4 in (1 to 10 cm); 2 in (5 cm) is average.",
    LengthOrNone("1 1/2", "4"),
);
const FACE_HEM: Field = field(
    "face_hem",
    "Hem at the face",
    "Turned in; 0 where it is bound.",
    LengthOrNone("1", "2.5"),
);
const HEM: Field = field("hem", "Hem", "Turned in.", LengthOrNone("1", "2.5"));
const PIECES: Field = field("count", "How many", "", Count("1"));
const ALONG: Field = field("along", "Along", "The edge it is sewn to.", Edge);

pub const KINDS: [Kind; 12] = [
    Kind {
        word: "three-panel-hood",
        name: "Hood with a centre strip",
        about: "Two sides and a strip over the head. It sits rounder than one of two halves.",
        fields: &[
            NECKLINE,
            DROP,
            HEIGHT,
            field(
                "depth",
                "Depth",
                "From the face to the back of the head.",
                Length("9 1/2", "24"),
            ),
            field(
                "strip",
                "Width of the strip",
                "Half of it counts to the neckline on either side.",
                Length("4", "10"),
            ),
            field(
                "face_curve",
                "Hollow of the face edge",
                "How far it runs back in its middle; 0 is straight.",
                LengthOrNone("0", "0"),
            ),
            ROOM,
            FACE_HEM,
        ],
    },
    Kind {
        word: "two-piece-hood",
        name: "Hood of two halves",
        about: "One seam from the face over the head to the nape, with or without a dart at the neck.",
        fields: &[
            NECKLINE,
            DROP,
            HEIGHT,
            field(
                "dart",
                "Dart",
                "Taken in at the neckline; 0 is none, 3/4 in (2 cm) is usual.",
                LengthOrNone("0", "0"),
            ),
            field(
                "upper",
                "Wider above",
                "How much wider than at the neck: 0 to 2 in (0 to 5 cm).",
                LengthOrNone("3/4", "2"),
            ),
            ROOM,
            FACE_HEM,
        ],
    },
    Kind {
        word: "patch-pocket",
        name: "Patch pocket",
        about: "Square or with rounded corners, hemmed or faced at the top.",
        fields: &[
            field("width", "Width", "Finished.", Length("5 1/2", "14")),
            field("height", "Height", "Finished.", Length("6", "15")),
            field(
                "corners",
                "Radius of the lower corners",
                "0 is a square pocket.",
                LengthOrNone("1", "2.5"),
            ),
            field(
                "hem",
                "Hem at the top",
                "Turned down, or the depth of the facing.",
                LengthOrNone("1", "2.5"),
            ),
            field("faced", "Faced", "With a facing of its own instead of a hem.", Flag),
        ],
    },
    Kind {
        word: "band",
        name: "Band",
        about: "A waistband, a cuff, a neckband: straight, along the grain.",
        fields: &[
            field("length", "Length", "Finished, without the overlap.", Length("28", "70")),
            field("width", "Width", "Finished.", Length("1 1/2", "4")),
            field(
                "overlap",
                "Overlap",
                "Added at one end to close on.",
                LengthOrNone("1", "2.5"),
            ),
            field("folded", "Folded lengthwise", "Cut twice as wide.", Flag),
            PIECES,
        ],
    },
    Kind {
        word: "tie",
        name: "Tie",
        about: "A strap or an apron string, folded lengthwise and turned.",
        fields: &[
            field("length", "Length", "Finished.", Length("24", "60")),
            field("width", "Width", "Finished.", Length("1", "2.5")),
            field(
                "point",
                "Slant of the end",
                "0 is a square end.",
                LengthOrNone("1", "2.5"),
            ),
            field("count", "How many", "", Count("2")),
        ],
    },
    Kind {
        word: "shaped-facing",
        name: "Facing along an edge",
        about: "Cut as the edge it faces: a neckline, an armhole, a curved hem.",
        fields: &[
            ALONG,
            field("width", "Width", "From the edge inwards.", Length("2", "5")),
            PIECES,
            field(
                "pair",
                "Mirrored pair",
                "Half of them with the pattern turned over.",
                Flag,
            ),
        ],
    },
    Kind {
        word: "bias-strip",
        name: "Bias strip for an edge",
        about: "As long as an edge, cut at 45 degrees to the grain.",
        fields: &[
            ALONG,
            field("width", "Width of the strip", "As it is cut.", Length("1 1/2", "4")),
            field(
                "extra",
                "Longer by",
                "To join it, or to turn its ends in.",
                LengthOrNone("2", "5"),
            ),
            PIECES,
        ],
    },
    Kind {
        word: "circle-piece",
        name: "Circle or part of one",
        about: "A skirt, a cape or a ruffle cut round.",
        fields: &[
            field(
                "edge",
                "Inner edge",
                "Waist or neck with its ease, of all panels together.",
                Length("26", "66"),
            ),
            field(
                "part",
                "How much of a circle",
                "",
                Choice(&[
                    ("whole", "a whole circle"),
                    ("half", "half a circle"),
                    ("third", "a third"),
                    ("quarter", "a quarter"),
                ]),
            ),
            field(
                "length",
                "Length",
                "From the inner edge to the hem.",
                Length("20", "50"),
            ),
            field(
                "panels",
                "Panels",
                "Seams down the circle; a whole one takes 2 or more.",
                Count("2"),
            ),
            field(
                "hem",
                "Hem",
                "A narrow one: it lies along a curve.",
                LengthOrNone("3/8", "1"),
            ),
        ],
    },
    Kind {
        word: "gathered-rectangle",
        name: "Rectangle to gather",
        about: "A gathered skirt, a ruffle, a flounce.",
        fields: &[
            field(
                "edge",
                "Gathered to",
                "The finished length, of all panels together.",
                Length("26", "66"),
            ),
            field(
                "fullness",
                "Fullness",
                "150 to 300 %: 200 % is twice as long before it is gathered.",
                Take::Percent("200"),
            ),
            field(
                "spare",
                "Spare",
                "Added to even the gathers out.",
                LengthOrNone("0", "0"),
            ),
            field(
                "depth",
                "Depth",
                "Finished, from the gathers to the hem.",
                Length("18", "45"),
            ),
            field("panels", "Panels", "", Count("2")),
            HEM,
        ],
    },
    Kind {
        word: "cushion-cover",
        name: "Cushion cover",
        about: "A front, and a back that overlaps or closes with a zip.",
        fields: &[
            field("width", "Width of the cushion", "", Length("16", "40")),
            field("height", "Height of the cushion", "", Length("16", "40")),
            field(
                "smaller",
                "Smaller by",
                "A cover a little smaller sits plump.",
                LengthOrNone("1/2", "1"),
            ),
            field(
                "back",
                "Back",
                "",
                Choice(&[
                    ("overlap", "two parts that overlap"),
                    ("zip", "one part, a zip in the lower seam"),
                ]),
            ),
            field("opening", "Overlap, or length of the zip", "", Length("4", "10")),
            field("hem", "Hem at the overlap", "", LengthOrNone("1", "2.5")),
        ],
    },
    Kind {
        word: "box-cover",
        name: "Box cover",
        about: "A seat cushion or a pouf: top, bottom, walls, a zip in the back wall.",
        fields: &[
            field("width", "Width", "", Length("18", "45")),
            field("depth", "Depth", "", Length("18", "45")),
            field("height", "Height of the walls", "", Length("3", "8")),
            field("zip_seam", "Allowance at the zip", "", LengthOrNone("5/8", "1.5")),
            field(
                "zip_gap",
                "Zip showing",
                "Width between the two parts; 0 where it is hidden.",
                LengthOrNone("0", "0"),
            ),
        ],
    },
    Kind {
        word: "bag-body",
        name: "Bag body",
        about: "Two panels; with a depth, the lower corners are cut out so that it stands.",
        fields: &[
            field("width", "Width", "Finished, at the top.", Length("14", "36")),
            field(
                "height",
                "Height",
                "Finished, from the top to the ground.",
                Length("15", "38"),
            ),
            field(
                "gusset",
                "Depth of the bottom",
                "0 is a flat bag.",
                LengthOrNone("4", "10"),
            ),
            field("hem", "Hem at the top", "", LengthOrNone("1 1/2", "4")),
        ],
    },
];

pub fn of_word(word: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|k| k.word == word)
}

/// The kind of a draft, and its measures by their keys.
pub fn of_draft(kind: &DraftKind) -> Option<(&'static Kind, Map<String, Value>)> {
    let Ok(Value::Object(whole)) = serde_json::to_value(kind) else {
        return None;
    };
    let (word, measures) = whole.into_iter().next()?;
    match measures {
        Value::Object(measures) => Some((of_word(&word)?, measures)),
        _ => None,
    }
}

impl Kind {
    /// Whether it follows an edge of another piece.
    pub fn needs_edge(&self) -> bool {
        self.fields.iter().any(|f| matches!(f.take, Edge))
    }

    /// Usual measures to begin with.
    pub fn fresh(&self, plan: &Plan) -> Typed {
        let mut typed = Typed::default();
        let length = |inch: &str, cm: &str| match plan.unit {
            Unit::Inch => format!("{inch} in"),
            Unit::Cm => format!("{cm} cm"),
        };
        for f in self.fields {
            match &f.take {
                Length(inch, cm) | LengthOrNone(inch, cm) => typed.set(f.key, length(inch, cm)),
                Count(usual) | Take::Percent(usual) => typed.set(f.key, *usual),
                Choice(options) => typed.set(f.key, options.first().map_or("", |(word, _)| word)),
                Edge => typed.set(
                    f.key,
                    edges_of(plan)
                        .first()
                        .map(|(value, _)| value.clone())
                        .unwrap_or_default(),
                ),
                Flag => {}
            }
        }
        typed
    }

    pub fn fill(&self, typed: &mut Typed, measures: &Map<String, Value>, unit: Unit) {
        for f in self.fields {
            let value = measures.get(f.key);
            let text = value.and_then(Value::as_str).unwrap_or_default();
            match f.take {
                Length(..) | LengthOrNone(..) => {
                    let length = crate::measure::Length::parse(text, unit).unwrap_or_default();
                    typed.set(f.key, length_text(length, unit));
                }
                Count(_) => typed.set(f.key, value.and_then(Value::as_u64).unwrap_or_default().to_string()),
                Take::Percent(_) => typed.set(f.key, text.trim_end_matches(" %")),
                Choice(_) => typed.set(f.key, text),
                Edge => {
                    let of: Option<EdgeOf> = value.cloned().and_then(|v| serde_json::from_value(v).ok());
                    typed.set(f.key, of.as_ref().map(edge_value).unwrap_or_default());
                }
                Flag => {
                    if value.and_then(Value::as_bool) == Some(true) {
                        typed.set(f.key, "yes");
                    }
                }
            }
        }
    }

    pub fn show(&self, form: &Shown, plan: &Plan) -> Markup {
        html! {
            @for row in self.rows() { div.pair[row.len() > 1] { @for f in row {
                @match &f.take {
                    Length(..) | LengthOrNone(..) => (length_input(form, f.key, f.label, f.hint)),
                    Count(_) | Take::Percent(_) => (number(form, f.key, f.label, f.hint)),
                    Flag => (switch(form, f.key, f.label, f.hint)),
                    Choice(options) => {
                        @let options: Vec<(String, String)> = options.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect();
                        (choice(form, f.key, f.label, f.hint, &options))
                    },
                    Edge => (choice(form, f.key, f.label, f.hint, &edge_options(form.typed.get(f.key), plan))),
                }
            } } }
        }
    }

    /// Two short fields side by side; what takes a line of its own by itself.
    fn rows(&self) -> Vec<&[Field]> {
        let short = |f: &Field| matches!(f.take, Length(..) | LengthOrNone(..) | Count(_) | Take::Percent(_));
        let mut rows = Vec::new();
        let mut rest = self.fields;
        while !rest.is_empty() {
            let two = rest.iter().take(2).filter(|f| short(f)).count() == 2;
            let (row, after) = rest.split_at(if two { 2 } else { 1 });
            rows.push(row);
            rest = after;
        }
        rows
    }

    /// The measures, refusals beside their fields.
    pub fn read(&self, r: &mut Reader) -> Option<DraftKind> {
        let mut measures = Map::new();
        for f in self.fields {
            let value = match &f.take {
                Length(..) => json!(r.length_positive(f.key)),
                LengthOrNone(..) => json!(r.length_or_zero(f.key)),
                Count(_) => json!(r.count(f.key, 1..=limits::CUT_COUNT)),
                Take::Percent(_) => {
                    let read = r.typed.get(f.key).parse::<Percent>();
                    json!(r.taken(f.key, read))
                }
                Flag => json!(r.typed.ticked(f.key)),
                Choice(options) => {
                    let word = r.typed.get(f.key).to_string();
                    if !options.iter().any(|(known, _)| *known == word) {
                        r.errors.add(f.key, "Choose one of the list.");
                    }
                    json!(word)
                }
                Edge => match edge_of(r.typed.get(f.key)) {
                    Some(of) => json!(of),
                    None => {
                        r.errors.add(
                            f.key,
                            "Choose the edge it is sewn to. Pieces with an outline have edges.",
                        );
                        json!(EdgeOf::default())
                    }
                },
            };
            measures.insert(f.key.into(), value);
        }
        if !r.errors.is_empty() {
            return None;
        }
        let mut whole = Map::new();
        whole.insert(self.word.into(), Value::Object(measures));
        serde_json::from_value(Value::Object(whole)).ok()
    }
}

/// The edges of all outlines of the plan to choose from.
pub fn edges_of(plan: &Plan) -> Vec<(String, String)> {
    let mut options = Vec::new();
    for piece in plan.pieces.iter().filter(|p| p.pattern.is_some()) {
        if let Ok(shape) = crate::drafting::shape_of(plan, piece) {
            for edge in shape.edges.iter().filter(|e| e.kind != EdgeKind::Fold) {
                let of = EdgeOf {
                    piece: piece.id.clone(),
                    edge: edge.name.clone(),
                };
                let length = shape.sewn_length(edge).both(plan.unit, crate::measure::Round::Nearest);
                options.push((edge_value(&of), format!("{}: {}, {length}", piece.name, edge.name)));
            }
        }
    }
    options
}

fn edge_options(chosen: &str, plan: &Plan) -> Vec<(String, String)> {
    let mut options = edges_of(plan);
    if !options.iter().any(|(value, _)| value == chosen) {
        options.insert(0, (chosen.to_string(), "Choose an edge".into()));
    }
    options
}

pub fn edge_value(of: &EdgeOf) -> String {
    format!("{}/{}", of.piece, of.edge)
}

pub fn edge_of(value: &str) -> Option<EdgeOf> {
    let (piece, edge) = value.split_once('/')?;
    (!piece.is_empty() && !edge.is_empty()).then(|| EdgeOf {
        piece: piece.into(),
        edge: edge.into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drafting::parts_of;
    use crate::plan::Draft;

    /// Every kind of the plan has its form, and its usual measures can be drafted.
    #[test]
    fn every_kind_is_read_filled_and_drafted_with_its_usual_measures() {
        for unit in [Unit::Inch, Unit::Cm] {
            let mut plan = Plan::new(unit);
            for kind in KINDS.iter().filter(|k| !k.needs_edge()) {
                let typed = kind.fresh(&plan);
                let mut r = Reader::new(&typed, unit);
                let read = kind.read(&mut r);
                assert!(r.errors.is_empty(), "{}: {:?}", kind.word, r.errors);
                let read = read.expect(kind.word);
                let (known, measures) = of_draft(&read).expect("a known kind");
                assert_eq!(known.word, kind.word);
                let keys: Vec<&str> = kind.fields.iter().map(|f| f.key).collect();
                for key in measures.keys() {
                    assert!(keys.contains(&key.as_str()), "{} has no field for {key}", kind.word);
                }
                let mut again = Typed::default();
                kind.fill(&mut again, &measures, unit);
                let mut r = Reader::new(&again, unit);
                assert_eq!(kind.read(&mut r), Some(read.clone()), "{}", kind.word);
                plan.drafts = vec![Draft {
                    id: "d1".into(),
                    name: "Draft".into(),
                    seam: crate::measure::CM,
                    kind: read,
                }];
                let parts = parts_of(&plan, &plan.drafts[0]);
                assert!(parts.is_ok_and(|p| !p.is_empty()), "{}", kind.word);
            }
        }
    }
}
