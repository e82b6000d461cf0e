//! Names made to break a page.

use crate::poppler::Pdf;
use crate::sheets::{ALL, of, sample_plans};
use notchbook::figures::work_out;
use notchbook::sheets::{Paper, pdf};

const NAMES: [&str; 7] = [
    "שמלה לקיץ עם כיסים",
    "👩\u{200d}🧵🧵🪡 quilt",
    "\u{202e}gnorw eht yaw dnuor",
    "a\u{0}b\u{7}c\td\ne",
    "<b>& \"quoted\" \\(brackets) % of it",
    "Z\u{300}\u{301}\u{302}\u{303}\u{304}algo",
    "   ",
];

#[test]
fn every_name_is_shown_or_replaced() {
    let long = "W".repeat(400);
    let words = "patchwork ".repeat(60);
    let names: Vec<&str> = NAMES.into_iter().chain([long.as_str(), words.as_str()]).collect();
    for (n, name) in names.iter().enumerate() {
        let mut plan = sample_plans().remove(n % 3);
        for cloth in &mut plan.cloths {
            cloth.name = name.to_string();
            cloth.fibre = name.to_string();
            cloth.colour = name.to_string();
        }
        for piece in &mut plan.pieces {
            piece.name = name.to_string();
        }
        let figures = work_out(&plan);
        for (m, make) in ALL.into_iter().enumerate() {
            // Both papers in turn: all of them would take long.
            let paper = Paper::ALL[(n + m) % 2];
            let file = Pdf::of(&pdf(&make(&of(name), &plan, &figures), paper).expect("a PDF"));
            let pages = file.pages();
            assert!(pages.len() < 60, "{} pages for {name}", pages.len());
            for (n, page) in pages.iter().enumerate() {
                assert!(page.contains(&format!("page {} of {}", n + 1, pages.len())), "{page}");
            }
            assert!(file.fonts().iter().all(|(_, embedded)| *embedded));
        }
    }
}

#[test]
fn what_the_letters_do_not_have_is_told() {
    let plan = sample_plans().remove(0);
    let figures = work_out(&plan);
    let said = Pdf::of(&pdf(&ALL[0](&of(NAMES[0]), &plan, &figures), Paper::A4).expect("a PDF"))
        .pages()
        .join(" ");
    assert!(said.contains("□□□□ □□□□"), "{said}");
    assert!(said.contains("□ stands for a sign"), "{said}");
    let said = Pdf::of(&pdf(&ALL[0](&of("Apron"), &plan, &figures), Paper::A4).expect("a PDF"))
        .pages()
        .join(" ");
    assert!(!said.contains('□'));
}
