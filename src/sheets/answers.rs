//! Answers to "what did you use for ...": single lines of the materials list
//! and of the pieces, as they are looked up.

use super::list::{Line, Source, altered_by, joined, materials};
use super::outline_change_words;
use crate::figures::Figures;
use crate::measure::Round;
use crate::notebook::{LineChoice, ProjectDetails};
use crate::plan::{Piece, Plan, TakeUpFrom};

/// Every line that may be asked for (`cloth/c1`, `binding`, `piece/p1`).
/// Materials are told as in the list for viewers, with the maker's remarks,
/// whether they are ticked or not.
pub fn answers(details: &ProjectDetails, plan: &Plan, figures: &Figures, choices: &[LineChoice]) -> Vec<Line> {
    let list = materials(&Source {
        title: &details.title,
        pattern: &details.pattern,
        plan,
        figures,
        steps: &[],
        decisions: &[],
        choices,
        width: None,
    });
    let mut lines: Vec<Line> = list.sections.into_iter().flat_map(|s| s.lines).collect();
    for c in &plan.cloths {
        let key = format!("cloth/{}", c.id);
        if lines.iter().all(|line| line.key != key) {
            lines.extend(unused(plan, &c.id));
        }
    }
    for p in &plan.pieces {
        let line = piece(p, plan, figures);
        if lines.iter().all(|other| other.key != line.key) {
            lines.push(line);
        }
    }
    lines
}

/// A cloth of the plan that stands in no list: nothing is cut from it.
fn unused(plan: &Plan, id: &str) -> Option<Line> {
    let c = plan.cloth(id)?;
    let detail = joined(&[c.fibre.clone(), "in the plan, but nothing is cut from it".into()]);
    Some(line(format!("cloth/{id}"), &c.name, String::new(), detail, &c.link))
}

fn piece(p: &Piece, plan: &Plan, figures: &Figures) -> Line {
    let unit = plan.unit;
    let mut detail: Vec<String> = Vec::new();
    if p.mirrored {
        detail.push("mirrored".into());
    }
    for a in &p.alterations {
        let why = if a.reason.is_empty() {
            String::new()
        } else {
            format!(" ({})", a.reason)
        };
        detail.push(format!("altered {}{why}", altered_by(a, unit)));
    }
    for c in p.outline_changes() {
        let why = if c.reason.is_empty() {
            String::new()
        } else {
            format!(" ({})", c.reason)
        };
        detail.push(format!("altered {}{why}", outline_change_words(&c.change, unit)));
    }
    if p.layers.is_some() {
        match p.take_up_from {
            TakeUpFrom::Spacing => detail.push("quilted, take-up by its quilting lines".into()),
            TakeUpFrom::Typed => detail.push(format!("quilted, {} take-up", p.take_up)),
        }
    }
    // Up: a panel this large is needed for it.
    let size = figures.pieces.iter().find(|f| f.piece == p.id);
    let quantity = size.map_or(String::new(), |f| {
        format!("{} of {}", f.count, f.finished.both(unit, Round::Up))
    });
    line(format!("piece/{}", p.id), &p.name, quantity, joined(&detail), "")
}

fn line(key: String, name: &str, quantity: String, detail: String, link: &str) -> Line {
    Line {
        key,
        name: name.into(),
        quantity,
        detail,
        link: link.into(),
        ..Line::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    #[test]
    fn each_key_is_answered_in_both_units() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[
                {"id":"c1","name":"Cream","usable_width":"42 in"},
                {"id":"c2","name":"Reeds","usable_width":"42 in","fibre":"cotton"},
                {"id":"c3","name":"Spare","usable_width":"42 in","fibre":"wool"}],
            "pieces":[{"id":"p1","name":"Front","cut_count":2,"mirrored":true,"width":"12 in","height":"20 in",
                "alterations":[{"along":"height","by":"1 in","reason":"long arms"}],
                "face":{"kind":"plain","cloth":"c1"},"layers":{"backing":"c2"},"take_up":"4 %"}]}"#,
        )
        .unwrap();
        let details: ProjectDetails = serde_json::from_str(r#"{"title":"Pinafore"}"#).unwrap();
        let choices = [LineChoice {
            key: "cloth/c2".into(),
            shown: false,
            remark: "the lining".into(),
            ..LineChoice::default()
        }];
        let lines = answers(&details, &plan, &work_out(&plan), &choices);
        let said: Vec<String> = ["cloth/c2", "piece/p1", "cloth/c3", "cloth/c9", "nothing"]
            .iter()
            .filter_map(|key| lines.iter().find(|l| l.key == *key))
            .map(|l| format!("{}{}", l.name, l.after_name()))
            .collect();
        assert_eq!(said.len(), 3, "{said:?}");
        let backing = &said[0];
        assert!(
            backing.starts_with("Reeds: ") && backing.contains(" yd (") && backing.contains(" m)"),
            "{backing}"
        );
        assert!(backing.ends_with("for backing (the lining)"), "{backing}");
        assert_eq!(
            said[1],
            "Front: 2 of 12 × 21 in (30.5 × 53.4 cm); mirrored, altered +1 in (2.5 cm) in height (long arms), quilted, 4 % take-up"
        );
        assert_eq!(said[2], "Spare, wool, in the plan, but nothing is cut from it");
    }
}
