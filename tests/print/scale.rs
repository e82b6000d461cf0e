//! What is drawn to scale, measured on the page with a ruler of dots.

use crate::poppler::Pdf;
use crate::sheets::{day, of, sample_plans};
use notchbook::figures::work_out;
use notchbook::sheets::document::{Block, Document, Drawing, Hatch, Line, POINT, Shape};
use notchbook::sheets::{Paper, cut_sheet, marks_sheet, pdf, piecing_sheet};

const DOTS: u32 = 600;

fn on_page(dots: usize) -> f64 {
    dots as f64 * 25.4 / f64::from(DOTS)
}

/// A filled rectangle so large, drawn at a scale.
fn rectangle(width: f64, height: f64, one_to: f64) -> Drawing {
    Drawing {
        width,
        height,
        one_to,
        aside: 5.0,
        shapes: vec![Shape::Areas {
            outlines: vec![vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]],
            colour: Some((0, 0, 0)),
            hatch: Hatch::None,
            line: Line::None,
        }],
        ..Drawing::default()
    }
}

#[test]
fn a_length_on_paper_is_as_long_as_its_scale_says() {
    for paper in Paper::ALL {
        for (width, height, one_to) in [(100.0, 60.0, 1.0), (1066.8, 914.4, 7.0), (254.0, 381.0, 2.5)] {
            let document = Document {
                kind: "x",
                date: day(),
                blocks: vec![Block::Drawings(vec![rectangle(width, height, one_to)])],
                ..Document::default()
            };
            let page = Pdf::of(&pdf(&document, paper).expect("a PDF")).raster(DOTS);
            for (found, expected) in [
                (page.longest_across(), width / one_to),
                (page.longest_down(), height / one_to),
            ] {
                // The rule at the foot is grey.
                let found = on_page(found);
                assert!(
                    (found - expected).abs() < 0.2,
                    "{found} mm, not {expected} mm, on {}",
                    paper.name()
                );
            }
        }
    }
}

#[test]
fn a_cut_across_the_cloth_is_as_wide_as_the_cloth() {
    let (mut looked_at, mut measured) = (0, 0);
    for plan in sample_plans() {
        let figures = work_out(&plan);
        let document = cut_sheet(&of("x"), &plan, &figures);
        for block in &document.blocks {
            let Block::Drawings(all) = block else { continue };
            for drawing in all
                .iter()
                .filter(|d| d.says.starts_with("Cutting layout") && d.says.contains("full width"))
            {
                // The selvages are lines of their own breadth beside the cloth; labels would be read as lines.
                let mut bare = drawing.clone();
                bare.shapes
                    .retain(|shape| !matches!(shape, Shape::Lines { line: Line::Dashed, .. } | Shape::Label(_)));
                let alone = Document {
                    kind: "x",
                    date: day(),
                    blocks: vec![Block::Drawings(vec![bare])],
                    ..Document::default()
                };
                let page = Pdf::of(&pdf(&alone, Paper::Letter).expect("a PDF")).raster(DOTS);
                let (found, expected) = (on_page(page.longest_across()), drawing.on_paper().0);
                assert!(
                    (found - expected).abs() < 0.2,
                    "{found} mm, not {expected} mm: {}",
                    drawing.says
                );
                // Every cut across, from the upper edge on.
                let mut cuts = across(drawing);
                cuts.sort_by(f64::total_cmp);
                let lines = page.lines_across((expected * 0.98 / 25.4 * f64::from(DOTS)) as usize);
                let lines: Vec<f64> = lines.iter().map(|y| y * 25.4 / f64::from(DOTS)).collect();
                for cut in cuts {
                    let nearest = lines
                        .iter()
                        .map(|y| (y - lines[0] - cut).abs())
                        .fold(f64::MAX, f64::min);
                    assert!(nearest < 0.2, "{cut} mm down, {nearest} mm off: {}", drawing.says);
                    measured += 1;
                }
                looked_at += 1;
            }
        }
        if looked_at >= 8 {
            break;
        }
    }
    assert!(looked_at > 3 && measured > 10, "{looked_at} drawings, {measured} cuts");
}

/// Where lines go across all of the cloth, in millimetres on paper.
fn across(drawing: &Drawing) -> Vec<f64> {
    let paths = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Lines { paths, line } if *line != Line::Dashed => Some(paths),
        _ => None,
    });
    let whole = |path: &&Vec<(f64, f64)>| path[0].1 == path[1].1 && path[1].0 - path[0].0 == drawing.width;
    paths
        .flatten()
        .filter(whole)
        .map(|path| path[0].1 / drawing.one_to)
        .collect()
}

/// The outline of a panel, drawn with a line a point broad.
#[test]
fn a_panel_is_as_large_as_it_is_sewn() {
    let mut looked_at = 0;
    for plan in sample_plans() {
        let document = piecing_sheet(&of("x"), &plan, &work_out(&plan));
        for block in document.blocks {
            let Block::Drawings(all) = block else { continue };
            for mut panel in all.into_iter().filter(|d| d.says.starts_with("Panel of")) {
                panel.shapes.retain(|shape| !matches!(shape, Shape::Label(_)));
                let size = panel.on_paper();
                let alone = Document {
                    kind: "x",
                    date: day(),
                    blocks: vec![Block::Drawings(vec![panel])],
                    ..Document::default()
                };
                let page = Pdf::of(&pdf(&alone, Paper::A4).expect("a PDF")).raster(DOTS);
                for (found, expected) in [(page.longest_across(), size.0), (page.longest_down(), size.1)] {
                    let found = on_page(found) - POINT;
                    assert!((found - expected).abs() < 0.2, "{found} mm, not {expected} mm");
                }
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 2, "{looked_at}");
}

#[test]
fn marks_to_trace_by_are_as_far_apart_as_the_sheet_says() {
    for (paper, down) in [(Paper::A4, 260.0), (Paper::Letter, 240.0)] {
        let sheet = Pdf::of(&marks_sheet(paper, day()).expect("a PDF"));
        let text = sheet.pages().join(" ");
        assert_eq!(sheet.info("Pages"), "1");
        assert!(
            text.contains("180 mm") && text.contains(&format!("{down} mm")),
            "{text}"
        );
        let page = sheet.raster(DOTS);
        // Each mark is as wide on one side of its crossing as on the other, and
        // its number stands farther in.
        let crossing = |[x, y]: [f64; 2]| {
            let [x0, y0, x1, y1] = page.dark_within([x, y, x + 0.125, y + 0.1]).expect("a mark");
            (on_page(x0 + x1 + 1) / 2.0, on_page(y0 + y1 + 1) / 2.0)
        };
        let corners = [[0.0, 0.0], [0.875, 0.0], [0.875, 0.9], [0.0, 0.9]].map(crossing);
        for (a, b, apart) in [(0, 1, 180.0), (1, 2, down), (2, 3, 180.0), (3, 0, down)] {
            let (a, b) = (corners[a], corners[b]);
            let found = (a.0 - b.0).hypot(a.1 - b.1);
            assert!(
                (found - apart).abs() < 0.2,
                "{found} mm, not {apart} mm, on {}",
                paper.name()
            );
        }
        let ruler = on_page(page.longest_across());
        assert!((ruler - 150.0).abs() < 0.2, "{ruler}");
    }
}
