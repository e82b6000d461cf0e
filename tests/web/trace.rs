//! A piece traced from a photo whose camera and table are known.

use crate::support::Server;
use image::{DynamicImage, GrayImage, ImageFormat, Luma};
use std::io::Cursor;

const PHOTO: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b8a";
const WIDE: f64 = 1600.0;
const HIGH: f64 = 1200.0;
const MARKS: [(f64, f64); 4] = [(0.0, 0.0), (600.0, 0.0), (600.0, 450.0), (0.0, 450.0)];

/// Where a camera that is tilted by 15 degrees and turned by 5 sees a place of
/// the table (millimetres); focal length 0.74 of the width, 1.1 m above.
fn sees((x, y): (f64, f64)) -> (f64, f64) {
    let (dx, dy) = (x - 300.0, y - 225.0);
    let (s, c) = 5f64.to_radians().sin_cos();
    let (x, y) = (c * dx - s * dy, s * dx + c * dy);
    let (s, c) = 15f64.to_radians().sin_cos();
    let (y, z) = (c * y, s * y + 1_000.0);
    (WIDE / 2.0 + 0.74 * WIDE * x / z, HIGH / 2.0 + 0.74 * WIDE * y / z)
}

/// The other way, by halving steps: nothing of the program's own is used.
fn lies(photo: (f64, f64)) -> (f64, f64) {
    let (mut x, mut y) = (300.0, 225.0);
    for _ in 0..60 {
        let (px, py) = sees((x, y));
        x += (photo.0 - px) * 0.8;
        y += (photo.1 - py) * 0.8;
    }
    (x, y)
}

/// The table with its four printed marks, the rest plain.
fn photo() -> Vec<u8> {
    let mut image = GrayImage::from_pixel(WIDE as u32, HIGH as u32, Luma([170]));
    for mark in MARKS {
        let (cx, cy) = sees(mark);
        for py in (cy as i64 - 30)..(cy as i64 + 30) {
            for px in (cx as i64 - 30)..(cx as i64 + 30) {
                let mut dark = 0.0;
                for s in 0..16 {
                    let at = (
                        px as f64 - 0.5 + (f64::from(s % 4) + 0.5) / 4.0,
                        py as f64 - 0.5 + (f64::from(s / 4) + 0.5) / 4.0,
                    );
                    let (x, y) = lies(at);
                    let (x, y) = (x - mark.0, y - mark.1);
                    if x * y > 0.0 && x.abs() < 10.0 && y.abs() < 10.0 {
                        dark += 1.0 / 16.0;
                    }
                }
                if let (Ok(x), Ok(y)) = (u32::try_from(px), u32::try_from(py)) {
                    image.put_pixel(x, y, Luma([(220.0 - 180.0 * dark) as u8]));
                }
            }
        }
    }
    let mut file = Vec::new();
    DynamicImage::ImageLuma8(image)
        .write_to(&mut Cursor::new(&mut file), ImageFormat::Png)
        .expect("a PNG");
    file
}

fn point(table: (f64, f64), off: (f64, f64), word: &str) -> String {
    let (x, y) = sees(table);
    format!(
        "{:.3} {:.3}{word}\n",
        (x + off.0) / WIDE * 100.0,
        (y + off.1) / HIGH * 100.0
    )
}

struct Taps {
    marks: String,
    outline: String,
    check: String,
}

/// A straight upper edge of 400 mm, sides of 200, and a half circle's bow below;
/// the marks tapped a few pixels beside.
fn taps() -> Taps {
    let beside = [(4.0, -3.0), (-5.0, 2.0), (3.0, 5.0), (-4.0, -4.0)];
    let marks = MARKS.iter().zip(beside).map(|(m, off)| point(*m, off, "")).collect();
    let mut outline = point((100.0, 80.0), (0.0, 0.0), "") + &point((500.0, 80.0), (0.0, 0.0), "");
    outline += &point((500.0, 280.0), (0.0, 0.0), "");
    for i in 1..8 {
        let a = std::f64::consts::PI * f64::from(i) / 8.0;
        outline += &point((300.0 + 200.0 * a.cos(), 280.0 + 120.0 * a.sin()), (0.0, 0.0), " curve");
    }
    outline += &point((100.0, 280.0), (0.0, 0.0), "");
    let check = point((0.0, 225.0), (0.0, 0.0), "") + &point((600.0, 225.0), (0.0, 0.0), "");
    Taps { marks, outline, check }
}

fn photographed(server: &Server) -> (String, String) {
    let project = server.project("Velvet collar");
    let added = server.post_files(
        &format!("{project}/log/add/photo"),
        &[("id", PHOTO)],
        &[("photos", "table.png", &photo())],
    );
    assert_eq!(added.status, 303, "{}", added.text());
    let log = server.get(&format!("{project}/log")).body;
    let at = log.find(&format!("{project}/photos/")).expect("the photo's page");
    let page = log[at..].split('"').next().expect("its address").to_string();
    assert!(
        server.get(&page).body.contains(&format!("{page}/trace")),
        "it leads to the tracing"
    );
    (project, format!("{page}/trace"))
}

fn form<'a>(server: &Server, address: &str, taps: &'a Taps, more: &[(&'a str, &'a str)]) -> Vec<(String, String)> {
    let mut fields = vec![
        ("kind", "rectangle"),
        ("mark_width", "600 mm"),
        ("mark_height", "450 mm"),
        ("marks", &taps.marks),
        ("outline", &taps.outline),
        ("check", &taps.check),
        ("check_length", "600 mm"),
        ("snap", "on"),
        ("grain", "down"),
        ("allowance", "10 mm"),
        ("do", "measure"),
    ];
    for (name, value) in more {
        fields.retain(|(n, _)| n != name);
        fields.push((name, value));
    }
    let mut fields: Vec<(String, String)> = fields.into_iter().map(|(n, v)| (n.into(), v.into())).collect();
    for name in ["seen", "decision_id", "part_id"] {
        fields.push((name.into(), server.hidden(address, name)));
    }
    fields
}

fn send(server: &Server, address: &str, fields: &[(String, String)]) -> crate::support::Reply {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    server.post(address, &fields)
}

#[test]
fn a_piece_on_a_tilted_photo_has_its_true_measures() {
    let server = Server::empty();
    let (project, address) = photographed(&server);
    let taps = taps();
    let seen = send(&server, &address, &form(&server, &address, &taps, &[]));
    assert_eq!(seen.status, 200, "{}", seen.text());
    let text = seen.text();
    for part in [
        "The check length agrees",
        "4 marks were brought",
        "15 3/4 in 40.0 cm",
        "7 7/8 in 20.0 cm",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let keep = [("do", "keep"), ("name", "Collar"), ("cut_count", "2"), ("piece", "")];
    let kept = send(&server, &address, &form(&server, &address, &taps, &keep));
    assert_eq!(kept.status, 303, "{}", kept.text());
    let plan: serde_json::Value =
        serde_json::from_str(&server.get(&format!("/api{project}/plan")).body).expect("a plan");
    let piece = &plan["pieces"][0];
    let edges = piece["pattern"]["from"]["drawn"]["edges"].as_array().expect("edges");
    assert_eq!(
        (piece["name"].as_str(), piece["cut_count"].as_i64(), edges.len()),
        (Some("Collar"), Some(2), 4)
    );
    // Width with 10 mm on either side, height with the bow of 120 mm.
    let mm = |value: &serde_json::Value| {
        let text = value.as_str().expect("a length");
        notchbook::measure::Length::parse(text, notchbook::measure::Unit::Cm)
            .expect("a length")
            .as_mm_f64()
    };
    assert!((mm(&piece["width"]) - 420.0).abs() < 1.0, "{piece}");
    assert!((mm(&piece["height"]) - 340.0).abs() < 1.5, "{piece}");
    let figures = server.get(&format!("{project}/figures"));
    assert!(
        figures.status == 200 && figures.text().contains("Collar"),
        "{}",
        figures.text()
    );
}

#[test]
fn a_print_that_is_not_to_scale_is_found_by_the_check_length() {
    let server = Server::empty();
    let (_, address) = photographed(&server);
    let taps = taps();
    // The marks are said to be 1 % farther apart than they are.
    let wrong = [("mark_width", "606 mm"), ("mark_height", "454,5 mm")];
    let text = send(&server, &address, &form(&server, &address, &taps, &wrong)).text();
    assert!(text.contains("off by +6.0 mm (1.0"), "{text}");
    assert!(
        text.contains("more than 0.5 %") && text.contains("Do not cut by this"),
        "{text}"
    );
    let none = [("check", ""), ("check_length", "")];
    let text = send(&server, &address, &form(&server, &address, &taps, &none)).text();
    assert!(text.contains("No check length was measured"), "{text}");
}

#[test]
fn what_cannot_be_traced_says_what_to_do_and_keeps_what_was_tapped() {
    let server = Server::empty();
    let (project, address) = photographed(&server);
    let good = taps();
    let three = good.marks.lines().take(3).collect::<Vec<_>>().join("\n");
    let mut crossed: Vec<&str> = good.marks.lines().collect();
    crossed.swap(1, 2);
    let crossed = crossed.join("\n");
    let many = "50 50\n".repeat(500);
    for (change, field, part) in [
        (("marks", three.as_str()), "marks", "there are 3 so far"),
        (("marks", crossed.as_str()), "marks", "not in order round"),
        (("outline", "10 10\n20 20"), "outline", "there are 2 so far"),
        (("outline", "10 10\n20 x\n30 30"), "outline", "Line 2, “20 x”"),
        (("outline", "10 10\n20 NaN\n30 30"), "outline", "Line 2"),
        (("outline", "10 10\n90 90\n90 10\n10 90"), "outline", "cross"),
        (("outline", many.as_str()), "outline", "at most"),
        (("mark_width", "0"), "mark_width", ""),
        (("check", "1 1"), "check", "both ends"),
        (("check_length", ""), "check_length", "by hand"),
    ] {
        let refused = send(&server, &address, &form(&server, &address, &good, &[change]));
        assert_eq!(refused.status, 422, "{change:?}: {}", refused.text());
        assert!(
            refused.body.contains(&format!("id=\"{field}-error\"")),
            "{change:?}: {}",
            refused.text()
        );
        assert!(refused.text().contains(part), "{change:?}: {}", refused.text());
        // The other points are still there.
        let other = if change.0 == "outline" {
            &good.marks
        } else {
            &good.outline
        };
        assert!(
            refused.body.contains(other.lines().next().expect("a point")),
            "{change:?}"
        );
    }
    let unnamed = [("do", "keep"), ("name", ""), ("cut_count", "1")];
    let refused = send(&server, &address, &form(&server, &address, &good, &unnamed));
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"name-error\""), "{}", refused.text());
    assert!(
        server
            .get(&format!("/api{project}/plan"))
            .body
            .contains("\"pieces\":[]")
    );
}

#[test]
fn the_sheet_of_marks_is_a_file() {
    let server = Server::empty();
    for paper in ["a4", "letter", "no-paper"] {
        let sheet = server.get(&format!("/marks.pdf?paper={paper}"));
        assert_eq!((sheet.status, sheet.header("content-type")), (200, "application/pdf"));
    }
}
