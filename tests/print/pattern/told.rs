//! What stands on the sheets, and how many there are.

use super::{drawn, mm, printed, rectangle, sheet, sleeve};
use notchbook::measure::MM;
use notchbook::plan::Piece;
use notchbook::sheets::PatternPaper;

#[test]
fn the_test_squares_measure_100_mm_and_4_in() {
    for paper in PatternPaper::ALL {
        let print = printed(vec![rectangle("Pocket", 160, 180)], paper);
        let page = print.pdf.raster(super::DOTS);
        for (side, runs) in [
            (100.0, page.runs_across()),
            (100.0, page.runs_down()),
            (101.6, page.runs_across()),
            (101.6, page.runs_down()),
        ] {
            // To the middle of lines 0.25 mm wide; each side is seen in its own row of dots.
            let found = runs.iter().map(|n| mm(*n as f64) - 0.25);
            let near = found.filter(|f| (f - side).abs() < 0.2).count();
            assert!(near >= 4, "{near} lines of {side} mm on {}", paper.name());
        }
    }
}

#[test]
fn every_sheet_says_what_it_is() {
    let pieces = vec![sleeve(), rectangle("Band", 60, 900), rectangle("Pocket", 150, 170)];
    for paper in [PatternPaper::A4, PatternPaper::Letter] {
        let print = printed(pieces.clone(), paper);
        let map = print.sheet.map(&print.laid);
        let pages = print.pdf.pages();
        assert_eq!(pages.len(), map.pages);
        for said in [
            "Quilted poncho",
            "3 May 2026",
            "100 mm",
            "4 in each side",
            "do not scale",
            "Sleeve",
            "Cut 2, a mirrored pair",
            "Pocket",
        ] {
            assert!(pages[0].contains(said), "{said}: {}", pages[0]);
        }
        for (n, (_, name)) in map.tiles.iter().enumerate() {
            let page = &pages[n + 1];
            for said in [
                format!("{name} · Quilted poncho · 3 May 2026"),
                format!("page {} of {}", n + 2, pages.len()),
                "Print at 100 %, do not scale".into(),
            ] {
                assert!(page.contains(&said), "{said}: {page}");
            }
            assert!(pages[0].contains(name.as_str()), "{name} is not on the map");
        }
        // The words of each piece stand on some sheet.
        for said in ["Sleeve", "Cut 2, a mirrored pair", "Band", "Cut 1", "Pocket"] {
            let on = pages[1..].iter().filter(|p| p.contains(said)).count();
            assert!(on > 0, "{said}");
        }
        let size = paper.size();
        for (wide, high) in print.pdf.sizes() {
            assert!((wide - size.width / 25.4 * 72.0).abs() < 0.01 && (high - size.height / 25.4 * 72.0).abs() < 0.01);
        }
    }
}

#[test]
fn a_piece_on_the_fold_says_so() {
    let mut back = rectangle("Back", 250, 300);
    back.on_fold = true;
    let text = printed(vec![back], PatternPaper::A0).pdf.pages().join(" ");
    assert!(
        text.contains("place on the fold") && text.contains("Cut 1 on the fold"),
        "{text}"
    );
}

#[test]
fn large_paper_holds_pieces_whole() {
    let pieces = vec![sleeve(), rectangle("Front", 400, 700), rectangle("Back", 420, 720)];
    let a0 = printed(pieces.clone(), PatternPaper::A0);
    let sizes = a0.pdf.sizes();
    assert!(
        sizes
            .iter()
            .all(|(w, h)| (w - 2383.94).abs() < 0.1 && (h - 3370.39).abs() < 0.1)
    );
    let map = a0.sheet.map(&a0.laid);
    assert!(
        map.pieces.iter().all(|p| p.on.len() == 1),
        "{:?}",
        map.pieces.iter().map(|p| &p.on).collect::<Vec<_>>()
    );
    let roll = printed(pieces, PatternPaper::Roll36);
    let sizes = roll.pdf.sizes();
    assert_eq!(sizes.len(), 1);
    // 36 in wide, and no longer than the pieces are high together.
    assert!((sizes[0].0 - 36.0 * 72.0).abs() < 0.01);
    assert!(sizes[0].1 / 72.0 * 25.4 < 600.0 + 720.0 + 200.0, "{sizes:?}");
}

#[test]
fn sheets_with_nothing_on_them_are_left_out_and_those_inside_a_piece_are_not() {
    let angle = drawn("Angle", "M0 0 H900 V60 H60 V1000 H0 Z", MM * 10);
    let print = printed(vec![angle], PatternPaper::A4);
    let map = print.sheet.map(&print.laid);
    assert!(map.tiles.len() < 12, "{}", map.tiles.len());
    assert!(!map.tiles.iter().any(|(_, name)| name == "C3"));
    // Of a large rectangle the middle is kept: the paper holds together.
    let print = printed(vec![rectangle("Front", 700, 900)], PatternPaper::A4);
    let map = print.sheet.map(&print.laid);
    assert!(map.tiles.iter().any(|(_, name)| name == "B2"));
}

#[test]
fn a_small_piece_lies_on_one_sheet() {
    let pieces: Vec<Piece> = (0..9)
        .map(|n| rectangle(&format!("Patch {n}"), 70 + n, 90 + 5 * n))
        .collect();
    let print = printed(pieces, PatternPaper::A4);
    let map = print.sheet.map(&print.laid);
    for piece in &map.pieces {
        assert_eq!(piece.on.len(), 1, "{} {:?}", piece.name, piece.on);
    }
    assert!(map.tiles.len() <= 4, "{}", map.tiles.len());
}

#[test]
fn no_file_has_more_than_400_pages() {
    let pieces: Vec<Piece> = (0..40)
        .map(|n| rectangle(&format!("Curtain {n}"), 1400, 2600))
        .collect();
    let error = sheet(pieces.clone()).lay_out(PatternPaper::A4).err().expect("too many");
    assert!(
        error.contains("400 are the most") && error.contains("larger paper"),
        "{error}"
    );
    assert!(sheet(Vec::new()).lay_out(PatternPaper::A4).is_err());
    sheet(pieces).lay_out(PatternPaper::Roll36).expect("as pages of a roll");
}

#[test]
fn names_of_any_kind_and_many_pieces_are_printed() {
    let names = ["ß".repeat(200), "שמלה \u{202e}".into(), "<b>&\"".into(), "👩‍🧵".into()];
    let mut pieces: Vec<Piece> = names.iter().map(|n| rectangle(n, 30, 40)).collect();
    pieces.extend((0..90).map(|n| rectangle(&format!("Part {n}"), 3 + n, 400 - 4 * n)));
    for paper in PatternPaper::ALL {
        let pages = printed(pieces.clone(), paper).pdf.pages();
        assert!(pages.iter().any(|p| p.contains("Part 89")), "{}", paper.name());
    }
}
