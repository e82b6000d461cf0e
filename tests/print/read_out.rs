//! A sheet read out to those who cannot see it: its headings, tables and lists
//! are told as such, drawings and photos in words. Against PDF/UA-1 (ISO
//! 14289-1) as far as poppler tells of it: 7.1 title and language, 7.3 words for
//! graphics, 7.4 headings, 7.5 heads of tables, 7.8 heads and feet of pages.

use crate::poppler::Pdf;
use crate::sheets::{ALL, day, of, sample_plans};
use notchbook::figures::work_out;
use notchbook::notebook::{Entry, EntryKind, Id, Notebook, SampleFolder};
use notchbook::sheets::document::{Block, Cell, Column, Document, Row, Table};
use notchbook::sheets::{Paper, ProjectSheet, pdf, project_sheet};

/// Lines of the tree of a file, each with how deep it is.
fn tree(file: &Pdf) -> Vec<(usize, String)> {
    let all = file.structure();
    let lines = all.lines().skip(1).map(|line| {
        let told = line.trim_start();
        ((line.len() - told.len()) / 2, told.to_string())
    });
    lines.filter(|(_, told)| !told.is_empty()).collect()
}

/// All that is read out, words apart by single blanks.
fn told(file: &Pdf) -> String {
    let all = file.structure();
    let words = all
        .lines()
        .filter_map(|line| line.trim().strip_prefix('"')?.strip_suffix('"'));
    let joined: String = words.collect();
    joined.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_sheet_can_be_read_out() {
    let (mut figures, mut tables) = (0, 0);
    for plan in sample_plans() {
        let worked_out = work_out(&plan);
        for make in ALL {
            let document = make(&of("Sample"), &plan, &worked_out);
            let bytes = pdf(&document, Paper::A4).expect("a PDF");
            let file = Pdf::of(&bytes);
            assert_eq!(file.info("Tagged"), "yes");
            assert!(
                String::from_utf8_lossy(&bytes).contains("/Lang"),
                "it says its language"
            );
            let tree = tree(&file);
            let heading = tree.iter().find(|(_, t)| t.starts_with('H'));
            assert_eq!(heading.map(|(_, t)| t.as_str()), Some("H1 \"Sample\" (block)"));
            // Every row has a cell for every column.
            let mut heads = 0;
            let mut cells = None;
            for (_, part) in &tree {
                match part.split([' ', ':']).next().unwrap_or_default() {
                    "THead" => (heads, tables) = (0, tables + 1),
                    "TH" => heads += 1,
                    "TR" | "P" | "H2" | "H3" | "L" | "Figure" => {
                        assert!(cells.is_none_or(|n| n == 0 || n == heads), "{cells:?} of {heads} cells");
                        cells = Some(0);
                    }
                    "TD" => cells = cells.map(|n| n + 1),
                    _ => {}
                }
            }
            let drawn = document.blocks.iter().filter_map(|block| match block {
                Block::Drawings(all) => Some(all),
                _ => None,
            });
            for drawing in drawn.flatten() {
                assert!(!drawing.says.is_empty());
                figures += 1;
            }
            let found = tree.iter().filter(|(_, t)| t.starts_with("Figure")).count();
            let expected = document.blocks.iter().map(|block| match block {
                Block::Drawings(all) => all.len(),
                _ => 0,
            });
            assert_eq!(found, expected.sum::<usize>());
        }
    }
    assert!(figures > 30 && tables > 20, "{figures} figures, {tables} tables");
}

/// What stands at the foot of a page and the heads it repeats are not read out again.
#[test]
fn a_table_over_pages_is_read_out_as_one() {
    let row = |n: usize| Row::of(vec![format!("patch number {n}").into(), Cell::new(n.to_string(), "")]);
    let document = Document {
        kind: "Cut sheet",
        title: "Long".into(),
        date: day(),
        blocks: vec![Block::Table(Table {
            columns: vec![Column::words("Whatistobecut"), Column::strong("Cutsize")],
            rows: (0..150).map(row).collect(),
            ticks: true,
        })],
        ..Document::default()
    };
    let file = Pdf::of(&pdf(&document, Paper::Letter).expect("a PDF"));
    assert!(file.pages().len() > 3);
    let said = told(&file);
    assert_eq!(said.matches("Whatistobecut").count(), 1);
    assert!(!said.contains("page 1 of"), "{said}");
    let at = |n: usize| {
        said.find(&format!("patch number {n} {n} "))
            .or(said.find(&format!("patch number {n} {n}")))
    };
    for n in 1..150 {
        assert!(at(n) > at(n - 1), "row {n} after the one before");
    }
    let tables = tree(&file).iter().filter(|(_, t)| t.starts_with("Table")).count();
    assert_eq!(tables, 1);
}

/// A decision stands on the day it was where the notebook is, in plain paragraphs.
#[test]
fn the_log_is_told_by_local_days_and_without_marks() {
    let place = tempfile::tempdir().expect("a folder");
    let notebook = Notebook::open(&place.path().join("notebook")).expect("a notebook");
    notebook.import(&SampleFolder).expect("the sample");
    let cards = notebook.projects().expect("projects");
    let card = cards
        .iter()
        .find(|c| c.details.title.contains("waistcoat"))
        .expect("it");
    let text =
        r#"{"id":"019c48ba-6423-706d-b602-2fe8a9d05d0d","kind":"decision","happened_at":"2026-03-04T20:30:00Z"}"#;
    let decision = Entry {
        id: Id::now_v7(),
        kind: EntryKind::Decision,
        text: "Line the **pocket** with:\n\n- muslin\n- or *lawn*".into(),
        why: "It [frays](https://example.org).\n\nBadly.".into(),
        ..serde_json::from_str(text).expect("an entry")
    };
    notebook.add_entry(card.id, &decision).expect("written");
    let project = notebook.project(card.id).expect("it");
    let figures = work_out(&project.plan);
    let sheet = project_sheet(&ProjectSheet {
        project: &project,
        figures: &figures,
        time: &figures.time,
        log: &notebook.log(card.id).expect("its log"),
        picture: None,
        photos: &[],
        currency: "£",
        date: day(),
        // Thirteen hours ahead, as in a New Zealand summer.
        day_of: |at| (at + chrono::Duration::hours(13)).date_naive(),
    });
    let file = Pdf::of(&pdf(&sheet, Paper::A4).expect("a PDF"));
    let said = told(&file);
    assert!(
        said.contains("5 Mar 2026 Line the pocket with: • muslin • or lawn Why: It frays. Badly."),
        "{said}"
    );
    assert!(!said.contains("4 Mar 2026") && !said.contains("**"), "{said}");
    // What holds it together is on it too.
    assert!(
        said.contains("snaps from the upper end") && said.contains("Thread: "),
        "{said}"
    );
}
