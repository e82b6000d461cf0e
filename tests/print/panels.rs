//! Panels of the piecing sheet: drawn without gaps and overlaps, every letter
//! within its patch. Checked against the panel's own area.

use crate::sheets::of;
use notchbook::figures::work_out;
use notchbook::plan::Plan;
use notchbook::sheets::document::{Block, Drawing, Ground, POINT, Point, Shape};
use notchbook::sheets::piecing_sheet;

/// A panel of each setting.
const FACES: [(&str, &str); 9] = [
    (
        "on point",
        r#""finished":"6 in","arrangement":"alternating","units":[{"kind":"nine-patch","cloths":["c1","c2"]},{"kind":"square","cloths":["c3"]}],"on_point":{"side":"c4","corner":"c5"}"#,
    ),
    (
        "on point with sashing and a border",
        r#""finished":"7 in","arrangement":"all-alike","units":[{"kind":"pinwheel","cloths":["c1","c2"]}],"on_point":{"side":"c4","corner":"c5"},"sashing":{"width":"1 in","cloth":"c6","posts":"c3"},"borders":[{"width":"2 in","cloth":"c1","corners":"c3"}]"#,
    ),
    (
        "sashing all round, two borders",
        r#""finished":"8 in","arrangement":"alternating","units":[{"kind":"square-in-a-square","cloths":["c1","c2"]},{"kind":"flying-geese","cloths":["c3","c2"]}],"sashing":{"width":"1 1/2 in","cloth":"c4","posts":"c5","around":true},"borders":[{"width":"1 in","cloth":"c1"},{"width":"3 in","cloth":"c6","corners":"c3"}]"#,
    ),
    (
        "level sashing",
        r#""finished":"5 in","arrangement":"rows","units":[{"kind":"four-patch","cloths":["c1","c2"]},{"kind":"half-square-triangle","cloths":["c3","c4"]}],"sashing":{"width":"1 in","cloth":"c6"}"#,
    ),
    (
        "triangles",
        r#""finished":"4 in","arrangement":"all-alike","units":[{"kind":"triangle-60","cloths":["c1","c2"]}]"#,
    ),
    (
        "diamonds",
        r#""finished":"3 in","arrangement":"all-alike","units":[{"kind":"diamond-60","cloths":["c1","c2","c3"]}]"#,
    ),
    (
        "hexagons",
        r#""finished":"2 in","arrangement":"all-alike","units":[{"kind":"hexagon","cloths":["c1","c2","c5"]}]"#,
    ),
    (
        "rectangles",
        r#""finished":"2 in","finished_height":"5 in","arrangement":"alternating","units":[{"kind":"square","cloths":["c1"]},{"kind":"square","cloths":["c2"]}]"#,
    ),
    (
        "rails",
        r#""finished":"6 in","arrangement":"all-alike","units":[{"kind":"rail","cloths":["c1","c2","c3"]}]"#,
    ),
];

fn plan(face: &str) -> Plan {
    let cloth = |n: usize| format!(r#"{{"id":"c{n}","name":"Cloth {n}","usable_width":"42 in"}}"#);
    let cloths: Vec<String> = (1..=6).map(cloth).collect();
    Plan::from_json(&format!(
        r#"{{"format":1,"cloths":[{}],"pieces":[{{"id":"p1","name":"Top","cut_count":1,"width":"31 in","height":"43 in","face":{{"kind":"patchwork",{face}}}}}]}}"#,
        cloths.join(",")
    ))
    .expect("a plan")
}

fn drawings(plan: &Plan, begins: &str) -> Vec<Drawing> {
    let blocks = piecing_sheet(&of("x"), plan, &work_out(plan)).blocks.into_iter();
    let all = blocks.filter_map(|block| match block {
        Block::Drawings(all) => Some(all),
        _ => None,
    });
    all.flatten().filter(|d| d.says.starts_with(begins)).collect()
}

fn sides(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

fn area(outline: &[Point]) -> f64 {
    sides(outline).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
}

/// Outlines of patches: what has a colour.
fn patches(drawing: &Drawing) -> Vec<&Vec<Point>> {
    let shapes = drawing.shapes.iter().filter_map(|s| match s {
        Shape::Areas {
            outlines,
            colour: Some(_),
            ..
        } => Some(outlines),
        _ => None,
    });
    shapes.flatten().collect()
}

fn distance((x, y): Point, (a, b): (Point, Point)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let along = ((x - a.0) * dx + (y - a.1) * dy) / (dx * dx + dy * dy).max(1e-12);
    let along = along.clamp(0.0, 1.0);
    (x - a.0 - along * dx).hypot(y - a.1 - along * dy)
}

/// No two patches lie on each other where their areas add up to the panel's
/// and every middle of a small square of it lies in exactly one.
#[test]
fn patches_fill_the_panel_and_lie_on_nothing() {
    for (name, face) in FACES {
        let plan = plan(face);
        let [panel] = drawings(&plan, "Panel of").try_into().expect("one panel");
        let whole = panel.width * panel.height;
        let sum: f64 = patches(&panel).into_iter().map(|o| area(o)).sum();
        assert!((sum - whole).abs() < whole * 1e-4, "{name}: {sum} of {whole}");
        for n in 0..1_000 {
            // Spread over the panel without falling onto its seams.
            let (u, v) = ((n as f64 * 0.754_877).fract(), (n as f64 * 0.569_840).fract());
            let at = (u * panel.width, v * panel.height);
            let inside = patches(&panel).into_iter().filter(|o| holds(o, at)).count();
            assert_eq!(inside, 1, "{name}: {at:?}");
        }
    }
}

/// By the number of sides crossed on the way to the right.
fn holds(outline: &[Point], (x, y): Point) -> bool {
    let crossed = |(a, b): &(Point, Point)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0);
    sides(outline).filter(crossed).count() % 2 == 1
}

#[test]
fn no_letter_covers_a_seam() {
    let mut looked_at = 0;
    for (name, face) in FACES {
        let plan = plan(face);
        for drawing in drawings(&plan, "Panel of").into_iter().chain(drawings(&plan, "Unit ")) {
            for shape in &drawing.shapes {
                let Shape::Label(label) = shape else { continue };
                if label.ground != Ground::Light {
                    continue;
                }
                let radius = label.size * POINT * 0.62 * drawing.one_to;
                let seams = patches(&drawing).into_iter().flat_map(|o| sides(o));
                let nearest = seams.map(|s| distance(label.at, s)).fold(f64::MAX, f64::min);
                assert!(nearest > radius * 0.98, "{name}: {} at {:?}", label.text, label.at);
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 500, "{looked_at}");
}

/// Cloths of strips too narrow for a letter are told by their hatching.
#[test]
fn the_legend_has_every_cloth_of_the_panel() {
    for (name, face) in FACES {
        let plan = plan(face);
        let legend = drawings(&plan, "Cloth ");
        let used = plan.cloths.iter().filter(|c| face.contains(&format!("\"{}\"", c.id)));
        let mut count = 0;
        for cloth in used {
            assert!(
                legend.iter().any(|d| d.caption.ends_with(&cloth.name)),
                "{name}: {}",
                cloth.name
            );
            count += 1;
        }
        assert_eq!(legend.len(), count, "{name}");
    }
}

#[test]
fn rows_on_point_name_their_triangles() {
    let plan = plan(FACES[0].1);
    let figures = work_out(&plan);
    let panel = figures.pieces[0].panel.as_ref().expect("a panel");
    let count = (panel.columns + panel.rows - 1) as usize;
    let document = piecing_sheet(&of("x"), &plan, &figures);
    let rows = document.blocks.iter().find_map(|block| match block {
        Block::Table(table) if table.columns[0].head == "Rows" => Some(table),
        _ => None,
    });
    let mut numbers = Vec::new();
    let (mut sides, mut corners) = (0, 0);
    for row in &rows.expect("rows").rows {
        let here: Vec<usize> = row.cells[0]
            .text
            .split(", ")
            .map(|n| n.parse().expect("a number"))
            .collect();
        sides += row.cells[1].text.matches("side").count() * here.len();
        corners += row.cells[1].text.matches("corner").count() * here.len();
        numbers.extend(here);
    }
    numbers.sort_unstable();
    assert_eq!(numbers, (1..=count).collect::<Vec<_>>());
    // All side triangles of the cut list; of the four corners two are sewn on last.
    let side_triangles = 2 * (panel.columns - 1 + panel.rows - 1) as usize;
    assert_eq!((sides, corners), (side_triangles, 2));
}
