//! The materials list for viewers: what a maker would answer to "what did you
//! use", with the quantities for making the same piece. Holds no prices, no
//! wearers and no private notes: those never enter it.

use crate::figures::thread::spool_both;
use crate::figures::{BindingFigures, ClothFigures, Figures, Purpose};
use crate::measure::{Round, Unit};
use crate::notebook::{LineChoice, PhotoHash, ProjectDetails};
use crate::plan::{Alteration, ClothKind, NotionKind, Plan};
use sha2::{Digest, Sha256};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Names the line for the maker's choice: `cloth/c1`.
    pub key: String,
    pub name: String,
    /// How much, in both units; may be empty.
    pub quantity: String,
    /// What it is and what it is for.
    pub detail: String,
    pub link: String,
    /// The maker's remark for viewers.
    pub remark: String,
    pub shown: bool,
}

impl Line {
    /// What is said of it behind its name: ": 9; 15 mm across (sew-on)".
    pub fn after_name(&self) -> String {
        let mut text = String::new();
        if !self.quantity.is_empty() {
            text.push_str(&format!(": {}", self.quantity));
        }
        if !self.detail.is_empty() {
            let mark = if self.quantity.is_empty() { ", " } else { "; " };
            text.push_str(&format!("{mark}{}", self.detail));
        }
        if !self.remark.is_empty() {
            text.push_str(&format!(" ({})", self.remark));
        }
        text
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    pub heading: &'static str,
    pub lines: Vec<Line>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Materials {
    pub title: String,
    /// What viewers read in place of the project's title, where the maker gave it.
    pub title_for_viewers: String,
    /// The pictures that were ticked: these very ones, whatever is added later.
    pub pictures: Vec<PhotoHash>,
    pub sections: Vec<Section>,
}

/// The key of a ticked picture is this and its hash.
pub const PICTURE: &str = "picture/";
/// The key under which the title for viewers stands, as its remark.
pub const TITLE: &str = "title";

/// Every line there is, with the maker's choices put in. Before the first
/// choice everything but the picture and the alterations is ticked, as a
/// proposal; from then on a line is shown only where it was ticked.
pub fn materials(details: &ProjectDetails, plan: &Plan, figures: &Figures, choices: &[LineChoice]) -> Materials {
    let mut sections = vec![
        Section {
            heading: "Pattern",
            lines: pattern(details),
        },
        Section {
            heading: "Cloth",
            lines: cloths(plan, figures, ClothKind::Cloth),
        },
        Section {
            heading: "Batting",
            lines: cloths(plan, figures, ClothKind::Batting),
        },
        Section {
            heading: "Binding",
            lines: binding(plan, figures),
        },
        Section {
            heading: "Closures",
            lines: closures(plan, figures),
        },
        Section {
            heading: "Thread",
            lines: thread(plan, figures),
        },
        Section {
            heading: "Notions",
            lines: notions(plan, NotionKind::Notion),
        },
        Section {
            heading: "Tools",
            lines: notions(plan, NotionKind::Tool),
        },
        Section {
            heading: "Altered",
            lines: alterations(plan),
        },
    ];
    sections.retain(|s| !s.lines.is_empty());
    for line in sections.iter_mut().flat_map(|s| &mut s.lines) {
        if let Some(choice) = choices.iter().find(|c| c.key == line.key) {
            line.shown = choice.shown;
            line.remark = choice.remark.clone();
        } else if !choices.is_empty() {
            // New since the maker last chose: not shown until it is ticked.
            line.shown = false;
        }
    }
    let title_for_viewers = choices
        .iter()
        .find(|c| c.key == TITLE)
        .map(|c| c.remark.clone())
        .unwrap_or_default();
    Materials {
        title: if title_for_viewers.is_empty() {
            details.title.clone()
        } else {
            title_for_viewers.clone()
        },
        title_for_viewers,
        pictures: choices
            .iter()
            .filter(|c| c.shown)
            .filter_map(|c| Some(PhotoHash(c.key.strip_prefix(PICTURE)?.to_string())))
            .collect(),
        sections,
    }
}

fn line(key: String, name: &str, quantity: String, detail: String, link: &str) -> Line {
    Line {
        key,
        name: name.into(),
        quantity,
        detail,
        link: link.into(),
        remark: String::new(),
        shown: true,
    }
}

fn pattern(details: &ProjectDetails) -> Vec<Line> {
    let p = &details.pattern;
    if p.name.is_empty() && p.maker.is_empty() {
        return Vec::new();
    }
    let name = if p.name.is_empty() { "Pattern" } else { &p.name };
    let by = if p.maker.is_empty() {
        String::new()
    } else {
        format!("by {}", p.maker)
    };
    let size = if p.size.is_empty() {
        String::new()
    } else {
        format!("size {}", p.size)
    };
    vec![line(
        "pattern".into(),
        name,
        String::new(),
        joined(&[by, size]),
        &p.link,
    )]
}

fn cloths(plan: &Plan, figures: &Figures, kind: ClothKind) -> Vec<Line> {
    figures
        .cloths
        .iter()
        .filter(|f| f.kind == kind && f.is_used())
        .filter_map(|f| Some((f, plan.cloth(&f.cloth)?)))
        .map(|(f, c)| {
            // Up: on a narrower cloth the amount would not do.
            let width = c.usable_width.both(plan.unit, Round::Up);
            let amount = f.to_buy_if_none_owned.both_cloth(plan.unit, Round::Up);
            let detail = joined(&[c.fibre.clone(), format!("{width} wide"), uses(f, figures)]);
            line(
                format!("cloth/{}", c.id),
                &c.name,
                if f.not_counted.is_empty() {
                    amount
                } else {
                    format!("more than {amount}")
                },
                detail,
                &c.link,
            )
        })
        .collect()
}

/// "for patches, backing and binding".
fn uses(f: &ClothFigures, figures: &Figures) -> String {
    let mut words: Vec<&str> = Vec::new();
    // A binding cut from remnants stands in no cut list; others have none and need its cloth.
    let from_remnants = |b: &BindingFigures| b.cloth == f.cloth && !b.cut_from.is_empty();
    let kept = figures.binding.as_ref().is_some_and(from_remnants);
    for cut in &f.cuts {
        let word = match cut.purpose {
            Purpose::Patch { .. } => "patches",
            Purpose::Sashing => "sashing",
            Purpose::Border => "borders",
            Purpose::PlainPanel => "plain panels",
            Purpose::Backing => "backing",
            Purpose::Batting => "batting",
            Purpose::StraightBinding | Purpose::BiasRectangle | Purpose::ContinuousSquare => "binding",
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    if kept {
        words.push("binding");
    }
    match words.as_slice() {
        [] | ["batting"] => String::new(),
        [one] => format!("for {one}"),
        [most @ .., last] => format!("for {} and {last}", most.join(", ")),
    }
}

fn binding(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let Some(b) = &figures.binding else { return Vec::new() };
    let cloth = plan.cloth(&b.cloth).map_or("", |c| c.name.as_str());
    let detail = format!(
        "cut {} wide for {} finished, from {cloth}",
        b.strip_width.both(plan.unit, Round::Up),
        b.finished_width.both(plan.unit, Round::Nearest)
    );
    vec![line(
        "binding".into(),
        "Binding",
        b.total.both_cloth(plan.unit, Round::Up),
        detail,
        "",
    )]
}

fn closures(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let unit = plan.unit;
    figures
        .closures
        .iter()
        .filter_map(|f| Some((f, plan.closure(&f.closure)?)))
        .map(|(f, c)| {
            let quantity = match f.zip {
                Some(zip) => format!("1 zip of {}", zip.both_sixteenths(unit, Round::Up)),
                None => format!("{} {}", f.count, c.kind.counted(f.count)),
            };
            let across = c.size.is_positive() && f.zip.is_none();
            let size = if across {
                format!("{} across", c.size.both_sixteenths(unit, Round::Nearest))
            } else {
                String::new()
            };
            let ligne = f.ligne.map(|l| format!("{l} ligne")).unwrap_or_default();
            line(
                format!("closure/{}", c.id),
                &c.name,
                quantity,
                joined(&[size, ligne]),
                &c.link,
            )
        })
        .collect()
}

fn thread(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let Some(t) = figures.thread.as_ref().filter(|t| t.total.is_positive()) else {
        return Vec::new();
    };
    let amount = t.total.both_cloth(plan.unit, Round::Up);
    let more = if t.not_counted.is_empty() { "" } else { "more than " };
    let spools = if t.spools == 1 { "spool" } else { "spools" };
    vec![line(
        "thread".into(),
        "Thread",
        format!("{more}{amount}"),
        format!("{} {spools} of {}", t.spools, spool_both(t.spool, plan.unit)),
        "",
    )]
}

fn notions(plan: &Plan, kind: NotionKind) -> Vec<Line> {
    plan.notions
        .iter()
        .filter(|n| n.kind == kind)
        .map(|n| Line {
            remark: n.remark.clone(),
            ..line(
                format!("notion/{}", n.id),
                &n.name,
                n.quantity.clone(),
                String::new(),
                &n.link,
            )
        })
        .collect()
}

fn alterations(plan: &Plan) -> Vec<Line> {
    let mut lines = Vec::new();
    for piece in &plan.pieces {
        for (i, a) in piece.alterations.iter().enumerate() {
            let alike = piece.alterations[..i].iter().filter(|b| *b == a).count();
            let quantity = altered_by(a, plan.unit);
            lines.push(Line {
                shown: false,
                ..line(
                    format!("altered/{}/{}/{alike}", piece.id, fingerprint(a)),
                    &piece.name,
                    quantity,
                    a.reason.clone(),
                    "",
                )
            });
        }
    }
    lines
}

/// "+1 in (2.5 cm) in height".
pub(super) fn altered_by(a: &Alteration, unit: Unit) -> String {
    let sign = if a.by.is_negative() { "−" } else { "+" };
    format!("{sign}{} in {}", a.by.abs().both(unit, Round::Nearest), a.along.name())
}

/// Names an alteration by what it says. Its place in the list would not do: with
/// the one before it taken out, a tick would pass to an alteration, and a
/// reason, that was never ticked.
fn fingerprint(a: &Alteration) -> String {
    let said = format!("{}\n{}\n{}", a.along.name(), a.by, a.reason);
    let hash = Sha256::digest(said.as_bytes());
    hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

pub(super) fn joined(parts: &[String]) -> String {
    parts
        .iter()
        .filter(|p| !p.is_empty())
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join(", ")
}

impl Materials {
    /// The sections and lines that are ticked.
    pub fn shown(&self) -> Vec<Section> {
        self.sections
            .iter()
            .map(|s| Section {
                heading: s.heading,
                lines: s.lines.iter().filter(|l| l.shown).cloned().collect(),
            })
            .filter(|s| !s.lines.is_empty())
            .collect()
    }

    /// Plain text for the description of a video: what is ticked, nothing else.
    pub fn as_text(&self) -> String {
        let mut text = format!("{}\n", self.title);
        for section in self.shown() {
            text.push_str(&format!("\n{}\n", section.heading.to_uppercase()));
            for l in &section.lines {
                text.push_str(&format!("- {}{}\n", l.name, l.after_name()));
                if !l.link.is_empty() {
                    text.push_str(&format!("  {}\n", l.link));
                }
            }
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    fn plan(alterations: &str, second: &str) -> Plan {
        Plan::from_json(&format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"110 cm"}}],
            "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"24 in","alterations":[{alterations}],
            "face":{{"kind":"plain","cloth":"c1"}}}}{second}]}}"#
        ))
        .unwrap()
    }

    fn list(plan: &Plan, choices: &[LineChoice]) -> Materials {
        let details: ProjectDetails = serde_json::from_str(r#"{"title":"Pinafore"}"#).unwrap();
        materials(&details, plan, &work_out(plan), choices)
    }

    const LONGER: &str = r#"{"along":"height","by":"1 in","reason":"longer in the body"}"#;
    const PRIVATE: &str = r#"{"along":"width","by":"2 in","reason":"nobody else's business"}"#;

    #[test]
    fn a_tick_does_not_pass_to_another_alteration() {
        let before = plan(&format!("{LONGER},{PRIVATE},{LONGER}"), "");
        let choices: Vec<LineChoice> = list(&before, &[])
            .sections
            .iter()
            .flat_map(|s| &s.lines)
            .map(|l| LineChoice {
                key: l.key.clone(),
                shown: l.detail == "longer in the body",
                remark: String::new(),
            })
            .collect();
        for (n, choice) in choices.iter().enumerate() {
            assert!(choices[..n].iter().all(|c| c.key != choice.key), "{} twice", choice.key);
        }
        let text = list(&before, &choices).as_text();
        assert_eq!(text.matches("longer in the body").count(), 2, "{text}");
        assert!(!text.contains("business"), "{text}");
        // With the first taken out the second stands in its place.
        let text = list(&plan(PRIVATE, ""), &choices).as_text();
        assert!(!text.contains("business"), "{text}");
    }

    #[test]
    fn closures_and_thread_are_told_with_their_amounts() {
        let mut plan = plan("", "");
        plan.closures = vec![
            serde_json::from_str(
                r#"{"id":"b1","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","count":8,"size":"1/2 in"}"#,
            )
            .unwrap(),
        ];
        plan.seams = vec![serde_json::from_str(r#"{"id":"s1","name":"Sides","length":"1 m","count":2}"#).unwrap()];
        let text = list(&plan, &[]).as_text();
        assert!(
            text.contains("- Front: 8 buttons; 1/2 in (1.3 cm) across, 20 ligne"),
            "{text}"
        );
        // 2 m and 4 × 3 cm, times 2.5, and 20 % are 6.36 m.
        assert!(
            text.contains("- Thread: 7 yd (6.36 m); 1 spool of 100 m (109 yd)"),
            "{text}"
        );
    }

    #[test]
    fn an_amount_that_is_not_all_says_so() {
        // 110 cm are 43.3 in: a viewer with 43 1/4 in would run short.
        let whole = list(&plan("", ""), &[]).as_text();
        assert!(whole.contains("43 3/8 in (110.0 cm) wide"), "{whole}");
        assert!(!whole.contains("more than"), "{whole}");
        let unknown = r#",{"id":"p2","name":"Pocket","cut_count":1,"width":"0 in","height":"9 in","face":{"kind":"plain","cloth":"c1"}}"#;
        let part = list(&plan("", unknown), &[]).as_text();
        assert!(part.contains("- Cream: more than "), "{part}");
    }
}
