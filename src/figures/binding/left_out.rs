//! Edges of outlines that are bound and not, or not often enough, counted: the
//! binding would run short, and nothing else would say so.

use crate::drafting::shape_of;
use crate::figures::check::called;
use crate::plan::{EdgeKind, Plan};

/// A sentence for each. An edge may be bound on one of two pieces alone, so it
/// is pointed out and not counted.
pub fn left_out(plan: &Plan) -> Vec<String> {
    let mut said = Vec::new();
    for piece in plan.pieces.iter().filter(|p| p.pattern.is_some()) {
        let counted = |name: &str| -> Option<i64> {
            let of: Vec<i64> = plan
                .edges
                .iter()
                .filter(|e| e.from.as_ref().is_some_and(|f| f.piece == piece.id && f.edge == name))
                .map(|e| i64::from(e.count))
                .collect();
            (!of.is_empty()).then(|| of.iter().sum())
        };
        let Ok(shape) = shape_of(plan, piece) else { continue };
        let whole = called(&piece.name, &piece.id);
        for edge in &shape.edges {
            let name = &edge.name;
            match counted(name) {
                Some(n) if n < i64::from(piece.cut_count) => said.push(format!(
                    "The {name} of {whole} is bound {n} × and {whole} is cut {} ×. Where each of them is bound, type {} in how many: now the binding runs short.",
                    piece.cut_count, piece.cut_count
                )),
                None if edge.kind == EdgeKind::Bound => said.push(format!(
                    "The {name} of {whole} is finished as bound and is not among the edges to bind: the binding is without it."
                )),
                _ => {}
            }
        }
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A strip 20 cm long and 10 cm wide, its right side bound.
    fn plan(cut: u32, edges: &str) -> Plan {
        let side = |name: &str, to: &str, kind: &str| {
            format!(
                r#"{{"name":"{name}","path":"L{to}","kind":"{kind}","allowance":"{}"}}"#,
                if kind == "bound" { "0 in" } else { "10 mm" }
            )
        };
        let outline = format!(
            r#"{{"edges":[{},{},{},{}]}}"#,
            side("top", "100,0", "seam"),
            side("right", "100,200", "bound"),
            side("bottom", "0,200", "seam"),
            side("left", "0,0", "seam"),
        );
        let json = format!(
            r#"{{"format":1,"pieces":[{{"id":"p1","name":"Front","cut_count":{cut},"width":"10 cm","height":"20 cm","pattern":{{"from":{{"drawn":{outline}}}}}}}],"edges":[{edges}]}}"#
        );
        Plan::from_json(&json).unwrap_or_else(|e| panic!("{e}: {json}"))
    }

    fn edge(count: u32) -> String {
        format!(
            r#"{{"id":"e{count}","name":"Fronts","length":"0 in","count":{count},"from":{{"piece":"p1","edge":"right"}}}}"#
        )
    }

    #[test]
    fn a_bound_edge_that_is_not_counted_is_pointed_out() {
        let said = left_out(&plan(2, ""));
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(
            said[0].contains("The right of Front") && said[0].contains("without it"),
            "{said:?}"
        );
    }

    #[test]
    fn an_edge_counted_less_often_than_its_piece_is_cut_is_pointed_out() {
        let said = left_out(&plan(2, &edge(1)));
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("bound 1 ×") && said[0].contains("cut 2 ×"), "{said:?}");
        for enough in [edge(2), edge(3), format!("{},{}", edge(1), edge(1).replace("e1", "e9"))] {
            assert!(left_out(&plan(2, &enough)).is_empty(), "{enough}");
        }
        assert!(left_out(&plan(1, &edge(1))).is_empty());
    }
}
