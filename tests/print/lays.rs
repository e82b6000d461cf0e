//! Lays on paper: what stands on the sheet, drawn to scale, divided between
//! drawings without a piece lost.

use crate::poppler::Pdf;
use crate::sheets::{day, of};
use notchbook::drafting::lay::Search;
use notchbook::figures::lay::{LayFigures, LayGround, LayTurns, LayWish, kept_lay, lay_job, lay_pieces};
use notchbook::figures::{Figures, work_out};
use notchbook::measure::Length;
use notchbook::plan::{Edit, Plan};
use notchbook::sheets::document::{Block, Document, Drawing, Line, Shape};
use notchbook::sheets::{LaySheetOf, Paper, cut_sheet, lay_sheet, pdf};

const DOTS: u32 = 600;

fn plan(pieces: &str) -> Plan {
    Plan::from_json(&format!(
        r##"{{"format":1,"cloths":[{{"id":"c1","name":"Oat linen","usable_width":"42 in","colour":"#d9cfb8",
        "remnants":[{{"width":"14 in","length":"30 in","count":2}}]}}],"pieces":[{pieces}]}}"##
    ))
    .expect("a plan")
}

fn piece(id: &str, name: &str, count: u32, width: &str, height: &str, more: &str) -> String {
    format!(
        r#"{{"id":"{id}","name":"{name}","cut_count":{count},"width":"{width} in","height":"{height} in",
        "face":{{"kind":"plain","cloth":"c1"}}{more}}}"#
    )
}

/// A right triangle of 40 by 30 in.
fn sails(count: u32) -> String {
    let edge = |name: &str, path: &str| format!(r#"{{"name":"{name}","path":"{path}"}}"#);
    let edges = [("top", "L 1016 0"), ("slant", "L 0 762"), ("side", "L 0 0")].map(|(n, p)| edge(n, p));
    let pattern = format!(r#","pattern":{{"from":{{"drawn":{{"edges":[{}]}}}}}}"#, edges.join(","));
    piece("p1", "Sail", count, "0", "0", &pattern)
}

/// The plan with a lay of all its pieces kept.
fn kept(plan: &Plan, ground: LayGround) -> (Plan, Figures) {
    let plan = notchbook::drafting::settled(plan).plan.into_owned();
    let figures = work_out(&plan);
    let wish = LayWish {
        pieces: lay_pieces(&plan, &figures, "c1").into_iter().map(|p| p.piece).collect(),
        ground,
        turns: LayTurns::BothWays,
        gap: Length::ZERO,
    };
    let job = lay_job(&plan, &figures, &plan.cloths[0], &wish).expect("a job");
    let mut search = Search::new(&job.problem, 1).expect("a problem");
    let layout = search.first().expect("a layout").clone();
    let lay = job.to_keep(&layout, &wish).expect("a lay to keep");
    let kept = Edit::Lay(Box::new(lay)).apply(&plan, &plan).expect("kept");
    let kept = notchbook::drafting::settled(&kept).plan.into_owned();
    let figures = work_out(&kept);
    (kept, figures)
}

fn answer(plan: &Plan, figures: &Figures) -> LayFigures {
    kept_lay(plan, figures, &plan.cloths[0])
        .expect("kept")
        .expect("it holds")
        .answer()
}

fn sheet(plan: &Plan, figures: &Figures) -> Document {
    lay_sheet(&LaySheetOf {
        of: &of("Sails"),
        plan,
        figures,
        cloth: &plan.cloths[0],
        lay: &answer(plan, figures),
        kept: true,
    })
}

fn text(document: &Document) -> String {
    Pdf::of(&pdf(document, Paper::A4).expect("a PDF")).pages().join(" ")
}

fn drawings(document: &Document) -> Vec<Drawing> {
    let all = document.blocks.iter().filter_map(|block| match block {
        Block::Drawings(all) => Some(all.clone()),
        _ => None,
    });
    all.flatten().filter(|d| d.says.starts_with("Lay on")).collect()
}

#[test]
fn the_sheet_says_what_lies_where_and_how() {
    let bib = piece("p2", "Bib", 2, "10", "12", r#","mirrored":true"#);
    let back = piece("p3", "Back", 1, "11", "25", r#","on_fold":true"#);
    let skirt = piece("p1", "Skirt", 2, "9", "20", r#","mirrored":true"#);
    let (folded, figures) = kept(&plan(&[skirt.clone(), bib.clone(), back].join(",")), LayGround::Folded);
    let said = text(&sheet(&folded, &figures));
    for part in [
        "Lay, 1 : ",
        "Skirt",
        "Bib",
        "Back",
        "on the fold",
        "Length of the lay",
        "Usable width",
        "both selvages",
        "Where each lies",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let (single, figures) = kept(&plan(&[skirt, bib.clone()].join(",")), LayGround::Single);
    let said = text(&sheet(&single, &figures));
    assert!(
        said.contains("turned over") && said.contains("Hatched: turned over"),
        "{said}"
    );
    assert!(!said.contains("on the fold"), "{said}");
    // The cut sheet draws it where it is used, and refers to it.
    assert!(figures.cloths[0].used_lay().is_some(), "{:?}", figures.cloths[0].lay);
    let cut = text(&cut_sheet(&of("Sails"), &single, &figures));
    assert!(cut.contains("Lay, 1 : ") && cut.contains("see the lay"), "{cut}");
    let (remnants, figures) = kept(&plan(&bib), LayGround::Remnants);
    let said = text(&sheet(&remnants, &figures));
    assert!(said.contains("Remnant 1, number 1 of 2: 14 in"), "{said}");
    // One that holds no longer is on no sheet, and the cut sheet says so.
    let mut changed = single.clone();
    changed.pieces[0].width += notchbook::measure::INCH * 20;
    let cut = text(&cut_sheet(&of("Sails"), &changed, &work_out(&changed)));
    assert!(
        !cut.contains("Lay, 1 : ") && cut.contains("not counted on any more"),
        "{cut}"
    );
}

/// Pieces of 30 by 25 in, alone on black: as large on paper as the scale says.
#[test]
fn pieces_are_as_large_as_the_scale_says() {
    for (ground, width, height) in [(LayGround::Single, 30.0, 25.0), (LayGround::Remnants, 13.0, 29.0)] {
        let one = piece("p1", "Skirt", 1, &width.to_string(), &height.to_string(), "");
        let (plan, figures) = kept(&plan(&one), ground);
        for paper in Paper::ALL {
            let mut drawing = drawings(&sheet(&plan, &figures)).remove(0);
            drawing.shapes.retain(|shape| matches!(shape, Shape::Areas { .. }));
            for shape in &mut drawing.shapes {
                if let Shape::Areas { colour, line, .. } = shape {
                    (*colour, *line) = (Some((0, 0, 0)), Line::None);
                }
            }
            let one_to = drawing.one_to;
            let alone = Document {
                kind: "x",
                date: day(),
                blocks: vec![Block::Drawings(vec![drawing])],
                ..Document::default()
            };
            let page = Pdf::of(&pdf(&alone, paper).expect("a PDF")).raster(DOTS);
            for (dots, inches) in [(page.longest_across(), width), (page.longest_down(), height)] {
                let found = dots as f64 * 25.4 / f64::from(DOTS);
                let expected = inches * 25.4 / one_to;
                assert!((found - expected).abs() < 0.2, "{found} mm, not {expected} mm");
            }
        }
    }
}

/// Square millimetres of the pieces of a drawing, by the shoelace.
fn area(drawing: &Drawing) -> f64 {
    let outlines = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Areas { outlines, .. } => Some(outlines),
        _ => None,
    });
    let one = |o: &Vec<(f64, f64)>| {
        let next = (0..o.len()).map(|n| (o[n], o[(n + 1) % o.len()]));
        next.map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum::<f64>().abs() / 2.0
    };
    outlines.flatten().map(one).sum()
}

#[test]
fn a_long_lay_is_divided_and_nothing_of_it_is_lost() {
    let (plan, figures) = kept(
        &plan(&[sails(15), piece("p2", "Strap", 7, "4", "38", "")].join(",")),
        LayGround::Single,
    );
    let document = sheet(&plan, &figures);
    let parts = drawings(&document);
    assert!(parts.len() > 1, "one drawing");
    let pieces = (15.0 * 40.0 * 30.0 / 2.0 + 7.0 * 4.0 * 38.0) * 25.4 * 25.4;
    let drawn: f64 = parts.iter().map(area).sum();
    assert!((drawn / pieces - 1.0).abs() < 1e-3, "{drawn} of {pieces}");
    let whole: f64 = parts.iter().map(|d| d.height).sum();
    let length = figures.cloths[0].lay.as_ref().expect("kept").length.as_mm_f64();
    assert!((whole - length).abs() < 0.1, "{whole} of {length}");
    for part in &parts {
        let (wide, high) = part.on_paper();
        assert!(wide <= 170.1 && high <= 185.1, "{wide} by {high} mm");
    }
    for paper in Paper::ALL {
        let file = Pdf::of(&pdf(&document, paper).expect("a PDF"));
        assert!((2..8).contains(&file.info("Pages").parse::<usize>().expect("a number")));
        assert_eq!(file.info("Tagged"), "yes");
    }
}

#[test]
fn thirty_pieces_have_their_letters() {
    let many: Vec<String> = (1..=30)
        .map(|n| {
            let (w, h) = ((4 + n % 9).to_string(), (6 + n % 7).to_string());
            piece(&format!("p{n}"), &format!("Part {n}"), 1 + n % 3, &w, &h, "")
        })
        .collect();
    let (plan, figures) = kept(&plan(&many.join(",")), LayGround::Single);
    let said = text(&sheet(&plan, &figures));
    for part in ["AA", "AD", "Part 30", "Part 1"] {
        assert!(said.contains(part), "{part}");
    }
}
