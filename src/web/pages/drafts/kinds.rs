//! The measures of a draft as its form: shown, filled and read by the table of
//! kinds.

use super::sewn;
use super::table::Take::{self, Choice, Count, Edge, Flag, Length, LengthOrNone, SewnTo};
use super::table::{Field, Kind, of_word};
use crate::drafting::{Shape, ShapeEdge, shape_of};
use crate::measure::{self, Percent, Unit};
use crate::plan::{DraftKind, EdgeKind, EdgeOf, Piece, Plan, limits};
use crate::web::components::{choice, length_input, number, switch};
use crate::web::form::{Reader, Shown, Typed, length_text};
use maud::{Markup, html};
use serde_json::{Map, Value, json};

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
                Flag | SewnTo(_) => {}
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
                    let length = measure::Length::parse(text, unit).unwrap_or_default();
                    // What edges give has any fraction: as a tape would be read.
                    let given = self
                        .fields
                        .iter()
                        .any(|s| matches!(s.take, SewnTo(of) if of == f.key) && measures.contains_key(s.key));
                    let length = if given { on_a_tape(length, unit) } else { length };
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
                SewnTo(_) => sewn::fill(typed, value),
            }
        }
    }

    /// `draft` is its id, if it is in the plan.
    pub fn show(&self, form: &Shown, plan: &Plan, draft: Option<&str>) -> Markup {
        html! {
            @for row in self.rows() { div.pair[row.len() > 1 && row.iter().all(short)] { @for f in shown(row) {
                @match &f.take {
                    Length(..) | LengthOrNone(..) => (length_input(form, f.key, f.label, f.hint)),
                    Count(_) | Take::Percent(_) => (number(form, f.key, f.label, f.hint)),
                    Flag => (switch(form, f.key, f.label, f.hint)),
                    Choice(options) => {
                        @let options: Vec<(String, String)> = options.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect();
                        (choice(form, f.key, f.label, f.hint, &options))
                    },
                    Edge => (choice(form, f.key, f.label, f.hint, &edge_options(form.typed.get(f.key), plan))),
                    SewnTo(_) => (sewn::show(form, f, row.get(1), plan, draft)),
                }
            } } }
        }
    }

    /// Two short fields side by side; what takes a line of its own by itself.
    fn rows(&self) -> Vec<&[Field]> {
        let mut rows = Vec::new();
        let mut rest = self.fields;
        while !rest.is_empty() {
            let two = rest.iter().take(2).filter(|f| short(f)).count() == 2;
            // What the edges are shortened by stands with them.
            let with_edges = rest.len() > 1 && rest.first().is_some_and(|f| matches!(f.take, SewnTo(_)));
            let (row, after) = rest.split_at(if two || with_edges { 2 } else { 1 });
            rows.push(row);
            rest = after;
        }
        rows
    }

    /// Whether edges were chosen that give this measure.
    fn is_sewn(&self, key: &str, typed: &Typed) -> bool {
        let gives = |f: &Field| matches!(f.take, SewnTo(length) if length == key);
        self.fields.iter().any(gives) && sewn::chosen(typed)
    }

    /// The measures, refusals beside their fields.
    pub fn read(&self, r: &mut Reader) -> Option<DraftKind> {
        let mut measures = Map::new();
        for f in self.fields {
            let value = match &f.take {
                // Where edges give it, it may be left empty.
                Length(..) if self.is_sewn(f.key, r.typed) && r.typed.get(f.key).trim().is_empty() => {
                    json!(measure::MM)
                }
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
                SewnTo(_) => json!(sewn::read(r)),
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

/// To the nearest millimetre or sixteenth of an inch.
fn on_a_tape(length: measure::Length, unit: Unit) -> measure::Length {
    let step = match unit {
        Unit::Cm => measure::MM,
        Unit::Inch => measure::SIXTEENTH,
    };
    let steps = (length + step.scale_down(1, 2)).units().div_euclid(step.units());
    step * steps
}

fn short(f: &Field) -> bool {
    matches!(f.take, Length(..) | LengthOrNone(..) | Count(_) | Take::Percent(_))
}

/// Without what stands inside the first.
fn shown(row: &[Field]) -> &[Field] {
    match row {
        [first, _] if matches!(first.take, SewnTo(_)) => std::slice::from_ref(first),
        _ => row,
    }
}

/// The edges of all outlines of the plan to choose from.
pub fn edges_of(plan: &Plan) -> Vec<(String, String)> {
    each_edge(plan, None, |piece, shape, edge| {
        let length = shape.sewn_length(edge).both(plan.unit, measure::Round::Nearest);
        format!("{}: {}, {length}", piece.name, edge.name)
    })
}

/// Each edge of an outline as a form sends it, and in words; without those of
/// the pieces of the draft `except`.
pub fn each_edge(
    plan: &Plan,
    except: Option<&str>,
    words: impl Fn(&Piece, &Shape, &ShapeEdge) -> String,
) -> Vec<(String, String)> {
    let mut options = Vec::new();
    let others = plan.pieces.iter().filter(|p| except.is_none() || p.draft() != except);
    for piece in others.filter(|p| p.pattern.is_some()) {
        let Ok(shape) = shape_of(plan, piece) else { continue };
        for edge in shape.edges.iter().filter(|e| e.kind != EdgeKind::Fold) {
            let of = EdgeOf {
                piece: piece.id.clone(),
                edge: edge.name.clone(),
            };
            options.push((edge_value(&of), words(piece, &shape, edge)));
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
    use super::super::table::KINDS;
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
