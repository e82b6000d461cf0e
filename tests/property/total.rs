//! `work_out` gives an answer for any plan, and says what is wrong.

use crate::{cases, checker, plans};
use notchbook::figures::{as_text, effect, problems, summary, work_out};
use notchbook::plan::Plan;
use proptest::prelude::*;

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn any_plan_gives_an_answer(plan in plans::wild_plan()) {
        let figures = work_out(&plan);
        for problem in &figures.problems {
            prop_assert!(!problem.field.is_empty());
            prop_assert!(problem.message.ends_with('.'), "{}", problem.message);
            prop_assert!(problem.message.chars().count() < 700, "{}", problem.message);
        }
        prop_assert_eq!(&figures.problems, &problems(&plan));
        for cloth in &figures.cloths {
            let Some(of_plan) = plan.cloth(&cloth.cloth) else { continue };
            let fault = checker::fault(of_plan, cloth, plan.allowances.straightening);
            prop_assert!(fault.is_none(), "{}: {}", cloth.name, fault.unwrap_or_default());
        }
        let text = as_text(&plan, &figures);
        prop_assert!(!text.is_empty());
        let json = serde_json::to_string(&figures).unwrap();
        prop_assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok());
    }

    /// A notion without a name, or with the id of another part, is told.
    #[test]
    fn a_nameless_or_double_notion_is_told(plan in plans::sound(), which in 0..4usize, name in "\\PC{0,12}") {
        if plan.notions.is_empty() {
            return Ok(());
        }
        let at = which % plan.notions.len();
        let told = |plan: &Plan, end: &str| {
            problems(plan).iter().any(|p| p.field.starts_with("notions/") && p.field.ends_with(end))
        };
        prop_assert!(!told(&plan, ""));
        let mut named = plan.clone();
        named.notions[at].name = name.clone();
        prop_assert_eq!(told(&named, "/name"), name.trim().is_empty());
        let mut double = plan.clone();
        double.notions[at].id = plan.pieces[0].id.clone();
        prop_assert!(told(&double, "/id"));
        double.notions[at].id = plan.notions[(at + 1) % plan.notions.len()].id.clone();
        prop_assert_eq!(told(&double, "/id"), plan.notions.len() > 1);
    }

    /// A cloth's length is never given without saying what it leaves out.
    #[test]
    fn nothing_runs_short_in_silence(plan in plans::wild_plan()) {
        let figures = work_out(&plan);
        for cloth in &figures.cloths {
            for piece in &plan.pieces {
                let uses = piece.face.as_ref().is_some_and(|f| f.cloths().any(|c| c == cloth.cloth));
                let counted = figures.pieces.iter().any(|p| p.piece == piece.id && p.panel.is_some());
                if uses && !counted {
                    prop_assert!(!cloth.not_counted.is_empty());
                    prop_assert!(figures.totals.to_buy.is_none());
                    prop_assert!(cloth.shown.cautions.iter().any(|c| c.contains("Not counted")));
                    prop_assert!(!figures.problems.is_empty());
                }
            }
        }
    }

    #[test]
    fn equal_figures_have_no_effect(plan in plans::wild_plan(), other in plans::wild_plan()) {
        let (a, b) = (work_out(&plan), work_out(&other));
        prop_assert!(effect(&a, &a).is_empty());
        let changes = effect(&a, &b);
        prop_assert_eq!(changes.is_empty(), effect(&b, &a).is_empty());
        for change in &changes {
            prop_assert!(change.before != change.after || !change.difference.is_empty(), "{change:?}");
        }
        prop_assert_eq!(summary(&changes, 3).is_empty(), changes.is_empty());
        prop_assert!(work_out(&plan) == a, "the same plan gave other figures");
    }

    #[test]
    fn a_plan_reads_back(plan in plans::sound()) {
        prop_assert_eq!(Plan::from_json(&plan.to_json()).unwrap(), plan);
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".{0,200}") {
        if let Err(error) = Plan::from_json(&text) {
            prop_assert!(error.to_string().ends_with('.'));
        }
    }
}
