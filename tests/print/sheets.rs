//! Every sheet of the sample projects: what it must say stands on it.

use crate::poppler::Pdf;
use chrono::NaiveDate;
use notchbook::figures::{Figures, work_out};
use notchbook::plan::Plan;
use notchbook::sheets::{Document, Paper, SheetOf, cut_sheet, letter, pdf, piecing_sheet, swatch_card};
use std::path::Path;

pub fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 3).expect("a day")
}

pub fn of(title: &str) -> SheetOf {
    SheetOf {
        title: title.into(),
        state: "Revision 7 of the plan".into(),
        date: day(),
    }
}

/// The newest plan of every project of the sample notebook.
pub fn sample_plans() -> Vec<Plan> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-notebook/projects");
    let mut plans = Vec::new();
    for entry in std::fs::read_dir(folder).expect("the sample notebook").flatten() {
        let text = std::fs::read_to_string(entry.path().join("project.json")).expect("a project");
        let project: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        let newest = project["revisions"]
            .as_array()
            .and_then(|r| r.last())
            .expect("a revision");
        plans.push(Plan::from_json(&newest["plan"].to_string()).expect("a plan"));
    }
    assert!(plans.len() > 3);
    plans
}

pub type Make = fn(&SheetOf, &Plan, &Figures) -> Document;
pub const ALL: [Make; 3] = [cut_sheet, piecing_sheet, swatch_card];

/// All of it as one text, blanks between words, without what stands at the foot.
fn text(document: &Document) -> String {
    let pages = Pdf::of(&pdf(document, Paper::A4).expect("a PDF")).pages();
    let foot = |page: &String| {
        let at = page.rfind("page ").unwrap_or(page.len());
        page[..at].to_string()
    };
    pages.iter().map(foot).collect::<Vec<_>>().join(" ")
}

#[test]
fn every_sheet_of_every_sample_is_made_on_both_papers() {
    for plan in sample_plans() {
        let figures = work_out(&plan);
        for make in ALL {
            let document = make(&of("Sample"), &plan, &figures);
            for paper in Paper::ALL {
                let file = Pdf::of(&pdf(&document, paper).expect("a PDF"));
                let pages: usize = file.info("Pages").parse().expect("a number");
                assert!((1..30).contains(&pages), "{pages} pages");
                assert_eq!(file.info("Title"), format!("{}, Sample", document.kind));
            }
        }
    }
}

#[test]
fn the_cut_sheet_tells_every_cut_and_every_step() {
    for plan in sample_plans() {
        let figures = work_out(&plan);
        let said = text(&cut_sheet(&of("Sample"), &plan, &figures));
        let mut steps = 0;
        for cloth in &figures.cloths {
            for line in &cloth.cuts {
                for unit in [notchbook::measure::Unit::Inch, notchbook::measure::Unit::Cm] {
                    let size = line.cut.cut_one(unit);
                    assert!(said.contains(&size), "{size} of {}", cloth.name);
                }
            }
            for step in &cloth.layout.order {
                // Other steps may stand between where a page ends; the words of one do not.
                assert!(said.contains(step.trim()), "{step}\nin {said}");
                steps += 1;
            }
        }
        assert!(steps > 0);
    }
}

#[test]
fn the_piecing_sheet_draws_every_cloth_with_its_letter() {
    let mut drawn = 0;
    for plan in sample_plans() {
        let figures = work_out(&plan);
        let said = text(&piecing_sheet(&of("Sample"), &plan, &figures));
        for (n, cloth) in plan.cloths.iter().enumerate() {
            let patched = figures.pieces.iter().filter_map(|p| p.panel.as_ref());
            if patched.flat_map(|p| &p.patches).any(|p| p.cloth == cloth.id) && figures.totals.units > 0 {
                assert!(
                    said.contains(&format!("{} {}", letter(n), cloth.name)),
                    "{}",
                    cloth.name
                );
                drawn += 1;
            }
        }
    }
    assert!(drawn > 4, "{drawn}");
}

#[test]
fn the_swatch_card_has_room_for_every_cloth() {
    for plan in sample_plans() {
        let figures = work_out(&plan);
        let said = text(&swatch_card(&of("Sample"), &plan, &figures));
        for cloth in &plan.cloths {
            assert!(
                said.contains(&cloth.name) && said.contains(&cloth.fibre),
                "{}",
                cloth.name
            );
        }
    }
}

#[test]
fn a_plan_that_cannot_be_worked_out_says_so_on_paper() {
    let mut plan = sample_plans().remove(0);
    plan.pieces[0].width = notchbook::measure::Length::ZERO;
    let figures = work_out(&plan);
    assert!(!figures.problems.is_empty());
    for make in [cut_sheet, piecing_sheet] as [Make; 2] {
        let said = text(&make(&of("Sample"), &plan, &figures));
        for problem in &figures.problems {
            assert!(said.contains(&problem.message), "{}", problem.message);
        }
    }
    let empty = Plan::default();
    for make in ALL {
        assert!(text(&make(&of("Sample"), &empty, &work_out(&empty))).contains("Sample"));
    }
}
