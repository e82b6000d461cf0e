//! Linked copies of SVG and all kinds of curves of DXF, held against svgpathtools 1.8.0,
//! ezdxf 1.4.5 and (splines whose knots are not clamped) scipy 1.17.1: see
//! `drawings/measure.py`.

use crate::drawings::{length, measured, number, outline, same};
use notchbook::drafting::formats::{Found, FoundOutline, dxf, svg};
use serde_json::Value;

const COPIES: &str = include_str!("drawings/copies.svg");
const CURVES: &[u8] = include_bytes!("drawings/curves.dxf");

fn lies_where(found: &FoundOutline, row: &Value, what: &str) {
    // Arcs are drawn within a thousandth of a millimetre.
    same(
        found.area(),
        number(row, "area"),
        0.05 + number(row, "length") * 1e-3,
        what,
    );
    same(length(found), number(row, "length"), 0.02, what);
    let bounds = found.bounds();
    let own = [bounds.x0, bounds.y0, bounds.x1, bounds.y1];
    for (own, said) in own.iter().zip(row["box"].as_array().expect("a box")) {
        same(
            *own,
            said.as_f64().expect("a number"),
            0.011,
            &format!("{what}: {bounds:?}"),
        );
    }
}

#[test]
fn linked_copies_lie_where_their_transforms_say() {
    let found = svg::read(COPIES.as_bytes(), None).expect("it is read");
    let table = measured("copies");
    let table = table.as_object().expect("rows");
    assert_eq!((table.len(), found.outlines.len()), (7, 7), "{:?}", names(&found));
    for (name, row) in table {
        let one = found.outlines.iter().find(|o| o.name.starts_with(name.as_str()));
        lies_where(one.unwrap_or_else(|| panic!("{name}: {:?}", names(&found))), row, name);
    }
    // What cannot be copied is said with its line.
    for part in [
        "Line 16: this copy is linked to “nowhere”",
        "Line 17: this copy is linked to another file",
        "Line 18: this copy is linked to what it lies in itself",
    ] {
        assert!(found.notices.iter().any(|n| n.starts_with(part)), "{:?}", found.notices);
    }
}

fn names(found: &Found) -> Vec<&str> {
    found.outlines.iter().map(|o| o.name.as_str()).collect()
}

#[test]
fn curves_of_every_kind_are_as_ezdxf_flattens_them() {
    let found = dxf::read(CURVES, None).expect("it is read");
    let table = measured("curves");
    let table = table.as_object().expect("rows");
    assert_eq!(table.len(), 16);
    assert_eq!(table.len(), found.outlines.len(), "{:?}", names(&found));
    for (name, row) in table {
        lies_where(outline(&found, &format!("layer {name}")), row, name);
    }
    let told = found
        .notices
        .iter()
        .find(|n| n.contains("this spline"))
        .expect("a notice");
    let line: usize = told["Line ".len()..]
        .split(':')
        .next()
        .and_then(|n| n.parse().ok())
        .expect("a line");
    let text = String::from_utf8_lossy(CURVES);
    assert_eq!(text.lines().nth(line - 1), Some("SPLINE"), "{told}");
    assert!(told.contains("points it passes through alone"), "{told}");
}

fn drawing(inside: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>{inside}</svg>")
}

/// Copies of copies of copies: ten of ten of ten would be more than can be drawn.
#[test]
fn copies_without_end_are_refused() {
    let mut inside = String::from("<defs><path id='n0' d='M0 0 L1 0'/>");
    for n in 1..=9 {
        inside += &format!("<g id='n{n}'>{}</g>", format!("<use href='#n{}'/>", n - 1).repeat(10));
    }
    let told = svg::read(drawing(&(inside + "</defs><use href='#n9'/>")).as_bytes(), None).expect_err("too many");
    assert!(told.sentence.contains("100000 elements"), "{told}");

    let mut inside = String::from("<defs><path id='n0' d='M0 0 H9 V9 Z'/>");
    for n in 1..=70 {
        inside += &format!("<g id='n{n}'><use href='#n{}'/></g>", n - 1);
    }
    let told = svg::read(drawing(&(inside + "</defs><use href='#n70'/>")).as_bytes(), None).expect_err("too deep");
    assert!(
        told.sentence.contains("deep in one another") && told.line == Some(1),
        "{told}"
    );

    // Two that are linked to each other, and one outline that can be read.
    let both = "<g id='a'><use href='#b'/><rect width='9' height='9'/></g><g id='b'><use href='#a'/></g>";
    let found = svg::read(drawing(both).as_bytes(), None).expect("it is read");
    assert_eq!(found.outlines.len(), 2, "{:?}", found.notices);
    assert!(
        found.notices.iter().any(|n| n.contains("what it lies in itself")),
        "{:?}",
        found.notices
    );

    // A long path, copied more often than can be looked at.
    let long = format!("<path id='p' d='M0 0{}'/>", " h1 v1".repeat(9_000));
    let many = format!("<defs>{long}</defs>{}", "<use href='#p'/>".repeat(20_000));
    let told = svg::read(drawing(&many).as_bytes(), None).expect_err("too many");
    assert!(told.sentence.contains("100000 elements"), "{told}");
}
