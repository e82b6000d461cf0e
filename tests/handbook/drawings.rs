//! Drawings in and out, held against readers of others: svgpathtools 1.8.0 and
//! shapely 2.2.0 for SVG, ezdxf 1.4.5 for DXF. `drawings/measure.py` made
//! `metric.dxf`, `english.dxf` and `curves.dxf` with ezdxf, and measured them, `shapes.svg`
//! and `copies.svg` (written by hand) and what this program writes; its numbers are
//! `measured.json`.

use kurbo::{ParamCurveArclen, Shape as _};
use notchbook::drafting::formats::{DrawnPiece, FileUnit, Found, FoundOutline, Role, dxf, outline_of, svg};
use notchbook::drafting::{Shape, Told};
use notchbook::measure::{Length, MM, Unit};
use notchbook::plan::{EdgeKind, InnerLine, Mark, Notch, Pattern, PatternOutline, Piece, Plan, Segment, Source, Spot};
use serde_json::Value;
use std::path::Path;

const SHAPES: &str = include_str!("drawings/shapes.svg");
const METRIC: &[u8] = include_bytes!("drawings/metric.dxf");
const ENGLISH: &[u8] = include_bytes!("drawings/english.dxf");
const WRITTEN_SVG: &str = include_str!("drawings/written.svg");
const WRITTEN_DXF: &[u8] = include_bytes!("drawings/written.dxf");

pub fn measured(table: &str) -> Value {
    let all: Value = serde_json::from_str(include_str!("drawings/measured.json")).expect("the tables");
    all[table].clone()
}

pub fn number(row: &Value, name: &str) -> f64 {
    row[name].as_f64().unwrap_or_else(|| panic!("{name} of {row}"))
}

pub fn length(outline: &FoundOutline) -> f64 {
    outline.path.segments().map(|s| s.arclen(1e-5)).sum()
}

pub fn same(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found}, not {expected}");
}

pub fn outline<'a>(found: &'a Found, name: &str) -> &'a FoundOutline {
    let all: Vec<&str> = found.outlines.iter().map(|o| o.name.as_str()).collect();
    found
        .outlines
        .iter()
        .find(|o| o.name == name || o.name.ends_with(&format!(" / {name}")))
        .unwrap_or_else(|| panic!("{name} is not among {all:?}"))
}

#[test]
fn every_kind_of_shape_is_as_large_as_svgpathtools_measures_it() {
    let found = svg::read(SHAPES.as_bytes(), None).expect("it is read");
    let table = measured("shapes");
    let table = table.as_object().expect("rows");
    assert_eq!(table.len(), found.outlines.len());
    assert_eq!(table.len(), 11);
    for (name, row) in table {
        let outline = outline(&found, name);
        same(outline.area(), number(row, "area"), 0.05, name);
        same(length(outline), number(row, "length"), 0.01, name);
    }
    let notices = found.notices.join(" ");
    assert!(
        notices.contains("2 open lines were") && notices.contains("1 text was"),
        "{notices}"
    );
}

#[test]
fn the_maker_says_what_a_unit_is() {
    let of = |unit| {
        let found = svg::read(SHAPES.as_bytes(), Some(unit)).expect("it is read");
        outline(&found, "square-corners").area()
    };
    same(of(FileUnit::Millimetre), 3_500.0, 1e-6, "mm");
    same(of(FileUnit::Centimetre), 350_000.0, 1e-6, "cm");
    same(of(FileUnit::Inch), 3_500.0 * 25.4 * 25.4, 1e-3, "in");
    same(of(FileUnit::Point), 3_500.0 * 25.4 * 25.4 / 72.0 / 72.0, 1e-6, "pt");
    // CSS: 96 pixels an inch.
    same(of(FileUnit::Pixel), 3_500.0 * 25.4 * 25.4 / 96.0 / 96.0, 1e-6, "px");
}

#[test]
fn sizes_of_a_page_count_in_every_unit() {
    // One inch square, written in each unit of a page.
    for (size, view) in [
        ("1in", "0 0 10 10"),
        ("2.54cm", "0 0 1 1"),
        ("25.4mm", "-3 7 100 100"),
        ("72pt", "0 0 72 72"),
        ("6pc", "0 0 6 6"),
        ("96px", "0 0 5 5"),
    ] {
        let [x, y, w, h]: [f64; 4] = view
            .split(' ')
            .map(|v| v.parse().unwrap())
            .collect::<Vec<_>>()
            .try_into()
            .unwrap();
        let file = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{size}' height='{size}' viewBox='{view}'><rect x='{x}' y='{y}' width='{w}' height='{h}'/></svg>"
        );
        let found = svg::read(file.as_bytes(), None).expect(size);
        same(found.outlines[0].area(), 645.16, 1e-6, size);
    }
}

#[test]
fn pieces_made_by_ezdxf_are_as_large_as_it_says_in_both_units() {
    let table = measured("apparel");
    for (file, bytes) in [("metric", METRIC), ("english", ENGLISH)] {
        let found = dxf::read(bytes, None).expect("it is read");
        assert_eq!(found.outlines.len(), 2, "{file}");
        let [sewn, cut] = &found.outlines[..] else {
            panic!("{file}")
        };
        assert_eq!((sewn.role, cut.role), (Role::Stitching, Role::Cut));
        assert_eq!(
            (cut.name.as_str(), cut.cut_count, cut.mirrored),
            ("Front, cut line", Some(2), true)
        );
        for (outline, layer) in [(cut, "1"), (sewn, "14")] {
            let row = &table[format!("{file} {layer}")];
            same(outline.area(), number(row, "area"), 0.2, &format!("{file} {layer}"));
            same(length(outline), number(row, "length"), 0.02, &format!("{file} {layer}"));
            // The grain is upright, however it lies in the file.
            let [a, b] = outline.grain.expect("a grainline");
            same(b.x - a.x, 0.0, 1e-4, "grain across");
            same(b.y - a.y, 240.0, 1e-3, "grain down");
            assert_eq!(
                (outline.notches.len(), outline.marks.len(), outline.inner.len()),
                (1, 1, 1)
            );
        }
        // Its allowances are those between the two lines: 20 mm at the hem.
        let made = outline_of(sewn, MM * 7, 0).expect("an outline");
        let hem = made.outline.edges.iter().map(|e| e.allowance).max();
        assert_eq!(hem, Some(MM * 20), "{:?}", made.outline.edges);
        assert_eq!(made.outline.notches.len(), 1);
        assert_eq!(made.outline.notches[0].at, MM * 140);
    }
}

/// The pieces that are written: curves, notches, marks, lines inside, one on the
/// fold, a rectangle, names with all kinds of signs.
fn pieces() -> Plan {
    let path = "M0 180 C60 150 110 0 210 0 S360 150 420 180 L370 560 H50 Z";
    let sleeve = drawn("Sleeve & <cuff>", path, |outline| {
        let edge = outline.edges[0].name.clone();
        for (at, double) in [(150, false), (340, true)] {
            outline.notches.push(Notch {
                edge: edge.clone(),
                at: MM * at,
                double,
            });
        }
        outline.marks.push(Mark {
            name: "vent".into(),
            at: Spot::new(MM * 210, MM * 480),
        });
        outline.inner.push(InnerLine {
            name: "fold".into(),
            from: Spot::new(MM * 60, MM * 520),
            path: notchbook::plan::EdgePath(vec![Segment::Line(Spot::new(MM * 360, MM * 520))]),
        });
    });
    let back = drawn("Back", "M0 0 H200 C230 200 230 400 250 600 H0 Z", |outline| {
        let edge = outline.edges.last_mut().expect("edges");
        edge.kind = EdgeKind::Fold;
        edge.allowance = Length::ZERO;
    });
    let pocket = Piece {
        id: "p3".into(),
        name: "Tasche für Ä".into(),
        cut_count: 2,
        mirrored: true,
        on_fold: true,
        width: MM * 80,
        height: MM * 150,
        ..Piece::default()
    };
    Plan {
        pieces: vec![sleeve, back, pocket],
        ..Plan::default()
    }
}

fn drawn(name: &str, path: &str, more: impl FnOnce(&mut PatternOutline)) -> Piece {
    let file = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1000mm' height='1000mm' viewBox='0 0 1000 1000'><path d='{path}'/></svg>"
    );
    let found = svg::read(file.as_bytes(), None).expect("a drawing");
    let mut outline = outline_of(&found.outlines[0], MM * 10, 0).expect("an outline").outline;
    more(&mut outline);
    Piece {
        id: name.into(),
        name: name.into(),
        cut_count: 2,
        width: MM,
        height: MM,
        pattern: Some(Pattern {
            from: Source::Drawn(outline),
            finish: Vec::new(),
            changes: Vec::new(),
        }),
        ..Piece::default()
    }
}

fn whole() -> Vec<DrawnPiece> {
    let plan = pieces();
    let all = plan.pieces.iter();
    all.map(|p| DrawnPiece::whole(&plan, p).expect("an outline")).collect()
}

/// Fails when a writer changes: then the files are written anew with
/// `NOTCHBOOK_DRAWINGS=new` and measured anew with `measure.py`.
#[test]
fn what_is_written_is_what_the_other_readers_measured() {
    let svg = svg::write("Poncho & hood", &whole());
    let dxf = dxf::write("Poncho & hood", &whole()).expect("a file");
    if std::env::var("NOTCHBOOK_DRAWINGS").is_ok() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/handbook/drawings");
        std::fs::write(folder.join("written.svg"), &svg).expect("written");
        std::fs::write(folder.join("written.dxf"), &dxf).expect("written");
        return;
    }
    assert!(svg == WRITTEN_SVG, "the SVG writer changed: measure it anew");
    assert!(dxf == WRITTEN_DXF, "the DXF writer changed: measure it anew");
    let table = measured("written");
    for (n, piece) in whole().iter().enumerate() {
        let n = n + 1;
        let cut = notchbook::drafting::path_of(&piece.cut);
        let around: f64 = cut.segments().map(|s| s.arclen(1e-6)).sum();
        for key in [format!("svg cut-line-{n}"), format!("dxf PIECE{n} 1")] {
            same(number(&table[&key], "area"), cut.area().abs(), 0.2, &key);
            same(number(&table[&key], "length"), around, 0.02, &key);
        }
        if let Some(stitching) = &piece.stitching {
            let around: f64 = stitching.segments().map(|s| s.arclen(1e-6)).sum();
            let svg = &table[format!("svg stitching-line-{n}")];
            same(number(svg, "area"), stitching.area().abs(), 0.2, "stitching");
            same(number(svg, "length"), around, 0.01, "stitching");
            // Chords within 0.02 mm: shorter by less than a tenth of a thousandth.
            let dxf = &table[format!("dxf PIECE{n} 14")];
            same(number(dxf, "length"), around, around * 1e-4, "stitching");
            same(number(dxf, "area"), stitching.area().abs(), around * 0.02, "stitching");
        }
        let [a, b] = piece.grain;
        same(
            number(&table[format!("svg grainline-{n}")], "length"),
            (b - a).hypot(),
            1e-3,
            "grain",
        );
    }
    assert_eq!(table["dxf units"], serde_json::json!(["Units: METRIC"]));
    assert_eq!(
        table["dxf PIECE1 texts"],
        serde_json::json!(["Piece Name: Sleeve & <cuff>", "Quantity: 2"])
    );
    assert_eq!(
        table["dxf PIECE3 texts"],
        serde_json::json!(["Piece Name: Tasche f?r ?", "Quantity: 2", "Annotation: mirrored pair"])
    );
    // One notch, and a double one as two.
    assert_eq!(table["dxf PIECE1 notches"], 3);
}

#[test]
fn what_is_written_is_read_back_the_same() {
    let whole = whole();
    let told = Told {
        field: String::new(),
        name: "x",
        unit: Unit::Cm,
    };
    let shape = |outline: &FoundOutline| {
        let made = outline_of(outline, Length::ZERO, 0).expect("an outline");
        Shape::of(&made.outline, &told).expect("a shape")
    };
    let svg = svg::read(WRITTEN_SVG.as_bytes(), None).expect("it is read");
    let dxf = dxf::read(WRITTEN_DXF, None).expect("it is read");
    for (n, piece) in whole.iter().enumerate() {
        let exact = notchbook::drafting::path_of(&piece.cut);
        let back = outline(&svg, &format!("cut-line-{}", n + 1));
        same(shape(back).area(), exact.area().abs(), 0.5, &piece.name);
        let Some(stitching) = &piece.stitching else { continue };
        let back = outline(&svg, &format!("stitching-line-{}", n + 1));
        same(shape(back).area(), stitching.area().abs(), 0.5, &piece.name);
    }
    let sleeve = outline(&dxf, "Sleeve & <cuff>, stitching line");
    let made = outline_of(sleeve, Length::ZERO, 0).expect("an outline");
    // Every allowance comes back from the two lines, to a tenth of a millimetre.
    for edge in &made.outline.edges {
        same(edge.allowance.as_mm_f64(), 10.0, 0.1, &edge.name);
        assert!(edge.allowance >= MM * 10 - MM, "{edge:?}");
    }
    assert_eq!(made.outline.edges.len(), 4);
    assert_eq!(
        (
            made.outline.notches.len(),
            made.outline.marks.len(),
            made.outline.inner.len()
        ),
        (2, 1, 1)
    );
    // The double one is written as two and read as one.
    for (notch, (at, double)) in made.outline.notches.iter().zip([(150.0, false), (340.0, true)]) {
        same(notch.at.as_mm_f64(), at, 0.2, "notch");
        assert_eq!(notch.double, double);
    }
}

/// "boundary polyline within 0.05 mm of the outline", both ways.
#[test]
fn the_boundary_lies_within_a_twentieth_of_a_millimetre_of_the_outline() {
    let dxf = dxf::read(WRITTEN_DXF, None).expect("it is read");
    let piece = &whole()[0];
    let stitching = piece.stitching.as_ref().expect("a line");
    let back = outline(&dxf, "Sleeve & <cuff>, stitching line");
    // Both from their own corner.
    let (a, b) = (stitching.bounding_box(), back.path.bounding_box());
    let by = a.origin() - b.origin();
    let near = |p: kurbo::Point, line: &kurbo::BezPath| {
        use kurbo::ParamCurveNearest;
        let distances = line.segments().map(|s| s.nearest(p, 1e-6).distance_sq);
        distances.fold(f64::MAX, f64::min).sqrt()
    };
    let moved = kurbo::Affine::translate(by) * back.path.clone();
    let mut looked = 0;
    for (from, to) in [(&moved, stitching), (stitching, &moved)] {
        for segment in from.segments() {
            for t in [0.0, 0.13, 0.5, 0.77] {
                use kurbo::ParamCurve;
                let off = near(segment.eval(t), to);
                assert!(off < 0.05, "{off} at {:?}", segment.eval(t));
                looked += 1;
            }
        }
    }
    assert!(looked > 100);
}
