//! A pattern read out to who cannot see it: against PDF/UA-1 (ISO 14289-1) as far as
//! poppler tells of it, as for the other sheets.

use super::{drawn, printed, rectangle, sleeve};
use notchbook::measure::MM;
use notchbook::plan::{CornerCut, EdgeKind, Pattern, Source};
use notchbook::sheets::PatternPaper;

#[test]
fn headings_pieces_and_drawings_are_told() {
    let mut back = drawn("Back", "M0 0 H200 C230 200 230 400 250 600 H0 Z", MM * 10);
    if let Some(Pattern {
        from: Source::Drawn(outline),
        ..
    }) = &mut back.pattern
    {
        let fold = outline.edges.last_mut().expect("edges");
        (fold.kind, fold.allowance, fold.corner) = (EdgeKind::Fold, notchbook::measure::Length::ZERO, CornerCut::Mitre);
    }
    let pieces = vec![sleeve(), back, rectangle("Pocket", 90, 120)];
    for paper in PatternPaper::ALL {
        let print = printed(pieces.clone(), paper);
        assert_eq!(print.pdf.info("Tagged"), "yes");
        let tree = print.pdf.structure();
        let parts: Vec<&str> = tree.lines().map(str::trim).collect();
        let of = |kind: &str| -> Vec<&str> { parts.iter().copied().filter(|p| p.starts_with(kind)).collect() };
        // The first heading is the title; each sheet has its own below it.
        assert_eq!(of("H1"), ["H1 \"Quilted poncho\" (block)"], "{}", paper.name());
        let first = parts.iter().find(|p| p.starts_with('H')).expect("headings");
        assert!(first.starts_with("H1"), "{first}");
        let map = print.sheet.map(&print.laid);
        let sheets: Vec<String> = map
            .tiles
            .iter()
            .map(|(_, name)| format!("H2 \"Sheet {name}\" (block)"))
            .collect();
        let found: Vec<&str> = of("H2 \"Sheet");
        assert_eq!(found, sheets);
        // A drawing for every sheet a piece is on, two test squares, and the map where there is a cover.
        let on: usize = map.pieces.iter().map(|p| p.on.len()).sum();
        let figures = of("Figure").len();
        let others = if paper.has_cover() { 3 } else { 2 };
        assert!(figures >= on + others, "{figures} of {on} on {}", paper.name());
        for piece in ["Sleeve", "Back", "Pocket"] {
            assert!(
                of("H3").iter().any(|h| h.contains(piece)),
                "{piece} on {}",
                paper.name()
            );
        }
        // Said of a figure by its words: poppler tells them of the raw file only.
        let words: String = parts
            .iter()
            .filter_map(|line| line.strip_prefix('"')?.strip_suffix('"'))
            .collect();
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        for said in [
            "Cut 2, a mirrored pair",
            "Cut 2 on the fold",
            "Measure a test square before you cut.",
        ] {
            let said = if said.contains("fold") {
                said.replace("Cut 2", "Cut 1")
            } else {
                said.to_string()
            };
            assert!(words.contains(&said), "{said}: {words}");
        }
        // Names of neighbours, the foot and its number are not read out.
        for not in ["page 1 of", "page 2 of", "to here", "3 May 2026 · Sleeve"] {
            assert!(!words.contains(not), "{not}: {words}");
        }
        assert_eq!(of("L ").len() + of("L:").len(), 1, "{parts:?}");
    }
}
