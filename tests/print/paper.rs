//! Pages: their size and count, what stands on each, nothing divided.

use crate::poppler::Pdf;
use crate::sheets::day;
use notchbook::sheets::document::{Block, Cell, Column, Document, Row, Table};
use notchbook::sheets::{Paper, pdf};

/// Rows of several lines, each beginning and ending with words of its own.
fn long_table(rows: usize) -> Document {
    let row = |n: usize| {
        let words = format!("begin{n} {} end{n}", "patch of cream linen ".repeat(3 + n % 17));
        Row::of(vec![words.into(), Cell::new(format!("{n} 1/2 in"), "(12.4 cm)")])
    };
    Document {
        kind: "Cut sheet",
        title: "Apron of offcuts".into(),
        state: "Revision 3 of the plan".into(),
        date: day(),
        blocks: vec![
            Block::Heading("A  Cream linen".into()),
            Block::Table(Table {
                columns: vec![Column::words("Whatistobecut"), Column::strong("Cutsize")],
                rows: (0..rows).map(row).collect(),
                ticks: true,
            }),
        ],
    }
}

fn made(document: &Document, paper: Paper) -> Pdf {
    Pdf::of(&pdf(document, paper).expect("a PDF"))
}

#[test]
fn pages_are_as_large_as_the_paper() {
    for (paper, size) in [
        (Paper::A4, "595.276 x 841.89 pts (A4)"),
        (Paper::Letter, "612 x 792 pts (letter)"),
    ] {
        assert_eq!(made(&long_table(3), paper).info("Page size"), size);
    }
}

#[test]
fn every_page_says_what_it_belongs_to_and_which_it_is() {
    for paper in Paper::ALL {
        let file = made(&long_table(120), paper);
        let pages = file.pages();
        assert_eq!(file.info("Pages"), pages.len().to_string());
        assert!(pages.len() > 5, "{} pages", pages.len());
        for (n, page) in pages.iter().enumerate() {
            for words in [
                &format!("page {} of {}", n + 1, pages.len()),
                "Apron of offcuts",
                "Cut sheet",
                "Revision 3 of the plan",
                "3 May 2026",
            ] {
                assert!(page.contains(words), "page {} lacks {words}: {page}", n + 1);
            }
        }
    }
}

#[test]
fn no_row_is_divided_none_lost_and_the_heads_stand_on_each_page() {
    for paper in Paper::ALL {
        let pages = made(&long_table(120), paper).pages();
        for n in 0..120 {
            let on = |word: String| -> Vec<usize> {
                let has = |page: &&String| page.split(' ').any(|w| w == word);
                (0..pages.len()).filter(|p| has(&&pages[*p])).collect()
            };
            let (begin, end) = (on(format!("begin{n}")), on(format!("end{n}")));
            assert_eq!(begin.len(), 1, "row {n} begins on {begin:?}");
            assert_eq!(begin, end, "row {n} is divided");
        }
        for page in &pages {
            assert!(
                page.contains("Whatistobecut") && page.contains("Cutsize"),
                "no heads: {page}"
            );
        }
    }
}

#[test]
fn a_heading_is_never_the_last_thing_on_a_page() {
    let mut document = long_table(0);
    document.blocks = (0..60)
        .flat_map(|n| {
            [
                Block::Heading(format!("heading{n}")),
                Block::Text(format!("follows{n} {}", "and more words ".repeat(n * 3))),
            ]
        })
        .collect();
    let pages = made(&document, Paper::A4).pages();
    for n in 0..60 {
        let with = |word: &str| pages.iter().position(|p| p.split(' ').any(|w| w == word));
        assert_eq!(with(&format!("heading{n}")), with(&format!("follows{n}")));
    }
}

#[test]
fn letters_are_embedded() {
    let fonts = made(&long_table(3), Paper::A4).fonts();
    assert_eq!(fonts.len(), 2, "{fonts:?}");
    for (name, embedded) in fonts {
        assert!(name.contains("Lato") && embedded, "{name}");
    }
}

#[test]
fn the_same_sheet_is_the_same_file() {
    let document = long_table(20);
    assert_eq!(pdf(&document, Paper::A4), pdf(&document, Paper::A4));
}
