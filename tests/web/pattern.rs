//! Patterns on paper, in files and from files, over HTTP.

use crate::support::{Reply, Server};
use notchbook::drafting::formats::{dxf, svg};
use serde_json::Value;

const PONCHO: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='700mm' viewBox='0 0 500 700'>
<g><title>Sleeve</title><path id='path1' d='M20 200 C80 170 130 20 230 20 S380 170 440 200 L390 580 H70 Z'/></g>
<path id='cuff' d='M20 600 h200 v80 h-200 z'/><line x1='0' y1='0' x2='10' y2='10'/><text x='9' y='9'>x</text>
</svg>";

fn value(page: &Reply, name: &str) -> String {
    let mark = format!("name=\"{name}\" value=\"");
    let at = page
        .body
        .find(&mark)
        .unwrap_or_else(|| panic!("no field {name}: {}", page.text()))
        + mark.len();
    page.body[at..].split('"').next().unwrap_or("").to_string()
}

/// What the form has, with changes; the file itself is not sent again.
fn again(page: &Reply, changes: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut fields: Vec<(String, String)> = ["seen", "part_id", "kept", "file_name"]
        .iter()
        .map(|name| (name.to_string(), value(page, name)))
        .collect();
    fields.extend(changes.iter().map(|(n, v)| (n.to_string(), v.to_string())));
    fields
}

fn send(server: &Server, path: &str, fields: &[(String, String)]) -> Reply {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    server.post_files(path, &fields, &[])
}

fn look(server: &Server, path: &str, name: &str, bytes: &[u8]) -> Reply {
    let form = server.get(path);
    let fields = again(&form, &[("allowance", "1 cm"), ("do", "look")]);
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    server.post_files(path, &fields, &[("file", name, bytes)])
}

pub fn plan(server: &Server, project: &str) -> Value {
    serde_json::from_str(&server.get(&format!("/api{project}/plan")).body).expect("the plan")
}

/// A drawing of one outline as a piece of its own; where it is.
pub fn taken_from(server: &Server, project: &str, name: &str, file: &str) -> String {
    let path = format!("{project}/pieces/new/from-file");
    let seen = look(server, &path, name, file.as_bytes());
    let chosen = [
        ("allowance", "1 cm"),
        ("outline", "0"),
        ("name", "Back"),
        ("cut_count", "1"),
        ("do", "keep"),
    ];
    let kept = send(server, &path, &again(&seen, &chosen));
    assert_eq!(kept.status, 303, "{}", kept.text());
    kept.location
}

fn sleeve(server: &Server, project: &str) -> String {
    let path = format!("{project}/pieces/new/from-file");
    let seen = look(server, &path, "poncho.svg", PONCHO.as_bytes());
    assert_eq!(seen.status, 200, "{}", seen.text());
    let fields = again(
        &seen,
        &[
            ("allowance", "1 cm"),
            ("outline", "0"),
            ("name", "Sleeve"),
            ("cut_count", "2"),
            ("mirrored", "yes"),
            ("do", "keep"),
        ],
    );
    let kept = send(server, &path, &fields);
    assert_eq!(kept.status, 303, "{}", kept.text());
    // A resend makes no second piece.
    assert_eq!(send(server, &path, &fields).location, kept.location);
    kept.location
}

#[test]
fn a_piece_comes_out_of_a_drawing_and_goes_into_files_as_large() {
    let server = Server::empty();
    let project = server.project("Poncho");
    let path = format!("{project}/pieces/new/from-file");
    let seen = look(&server, &path, "poncho.svg", PONCHO.as_bytes());
    let text = seen.text();
    // The largest line is taken first; 420 by 560 mm, 440 by about 580 with its allowance.
    for said in [
        "Chosen: poncho.svg",
        "Sleeve / path1",
        "cuff",
        "16 1/2 in 42.0 cm",
        "22 in 56.0 cm",
        "1 open line was left out",
        "1 text was left out",
        "edge 4",
        "Keep this outline",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(seen.body.contains("value=\"Sleeve\""), "its name is proposed");
    assert_eq!(
        plan(&server, &project)["pieces"].as_array().map(Vec::len),
        Some(0),
        "only looked at"
    );

    let piece = sleeve(&server, &project);
    let kept = plan(&server, &project);
    assert_eq!(kept["pieces"].as_array().map(Vec::len), Some(1));
    let one = &kept["pieces"][0];
    assert_eq!(
        (one["cut_count"].as_u64(), one["mirrored"].as_bool()),
        (Some(2), Some(true))
    );
    let edges = one["pattern"]["from"]["drawn"]["edges"].as_array().expect("edges");
    assert_eq!(edges.len(), 4);
    assert!(edges.iter().all(|e| e["allowance"] == "10 mm"), "{edges:?}");
    assert!(server.get(&piece).body.contains("from-file"), "the piece leads there");

    let id = one["id"].as_str().expect("an id");
    for (kind, mime) in [("svg", "image/svg+xml"), ("dxf", "image/vnd.dxf")] {
        let file = server.get(&format!("{project}/pattern.{kind}?piece={id}"));
        assert_eq!((file.status, file.header("content-type")), (200, mime));
        assert!(file.header("content-disposition").starts_with("attachment"));
        let found = match kind {
            "svg" => svg::read(file.body.as_bytes(), None),
            _ => dxf::read(file.body.as_bytes(), None),
        };
        let found = found.expect("it is read back");
        let exact = svg::read(PONCHO.as_bytes(), None).expect("read").outlines[0].area();
        let back = found
            .outlines
            .iter()
            .filter(|o| (o.area() - exact).abs() < exact * 1e-4);
        assert_eq!(back.count(), 1, "{kind}: {exact}");
    }
    let pdf = server.get(&format!("{project}/pattern.pdf?paper=a4"));
    assert_eq!((pdf.status, pdf.header("content-type")), (200, "application/pdf"));
    assert!(pdf.body.starts_with("%PDF-") && pdf.body.len() > 5_000);
}

#[test]
fn an_outline_takes_the_place_of_a_rectangle_and_of_an_older_one() {
    let server = Server::empty();
    let project = server.project("Poncho");
    let piece = sleeve(&server, &project);
    let path = format!("{piece}/from-file");
    let seen = look(&server, &path, "poncho.svg", PONCHO.as_bytes());
    assert!(
        seen.text().contains("takes the place of the present outline"),
        "{}",
        seen.text()
    );
    let fields = again(
        &seen,
        &[("allowance", "5 mm"), ("outline", "1"), ("turn", "1"), ("do", "keep")],
    );
    assert_eq!(send(&server, &path, &fields).status, 303);
    let now = plan(&server, &project);
    let one = &now["pieces"][0];
    assert_eq!(one["name"], "Sleeve");
    // The cuff of 200 by 80 mm turned upright, 5 mm round it.
    assert_eq!(
        (&one["width"], &one["height"]),
        (&Value::from("90 mm"), &Value::from("210 mm")),
        "{one}"
    );
    // From a form that was opened before: shown once more, nothing lost.
    let stale = again(
        &seen,
        &[("allowance", "7 mm"), ("outline", "1"), ("turn", "0"), ("do", "keep")],
    );
    let answer = send(&server, &path, &stale);
    assert_eq!(answer.status, 409, "{}", answer.text());
    assert!(answer.body.contains("value=\"7 mm\"") && answer.text().contains("Keep this outline"));
}

#[test]
fn what_is_wrong_is_said_beside_its_field_and_nothing_typed_is_lost() {
    let server = Server::empty();
    let project = server.project("Poncho");
    let path = format!("{project}/pieces/new/from-file");
    // No file at all.
    let form = server.get(&path);
    let none = send(&server, &path, &again(&form, &[("allowance", "2 cm"), ("do", "look")]));
    assert_eq!(none.status, 422);
    assert!(none.text().contains("Choose a file that ends in .svg or .dxf") && none.body.contains("value=\"2 cm\""));
    // No unit: asked for, and the file is at hand when it is told.
    let bare = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 30'><rect width='10' height='20'/></svg>";
    let asked = look(&server, &path, "bare.svg", bare.as_bytes());
    assert_eq!(asked.status, 422);
    assert!(asked.body.contains("id=\"unit-error\"") && asked.text().contains("does not say how large"));
    let told = send(
        &server,
        &path,
        &again(&asked, &[("allowance", "1 cm"), ("unit", "in"), ("do", "look")]),
    );
    assert_eq!(told.status, 200, "{}", told.text());
    assert!(told.text().contains("10 in 25.4 cm"), "{}", told.text());
    // An allowance that is none, an outline that is none.
    let fields = again(
        &told,
        &[
            ("allowance", "a thumb"),
            ("unit", "in"),
            ("name", "Flap"),
            ("do", "keep"),
        ],
    );
    let wrong = send(&server, &path, &fields);
    assert_eq!(wrong.status, 422);
    assert!(
        wrong.body.contains("id=\"allowance-error\"")
            && wrong.body.contains("a thumb")
            && wrong.body.contains("value=\"Flap\"")
    );
    let crossed = "<svg xmlns='http://www.w3.org/2000/svg' width='9cm' height='9cm' viewBox='0 0 90 90'><path d='M0 0 L80 60 L80 0 L0 70 Z'/></svg>";
    let crossed = look(&server, &path, "crossed.svg", crossed.as_bytes());
    assert_eq!(crossed.status, 422);
    assert!(
        crossed.text().contains("cross each other") && !crossed.text().contains("Keep this outline"),
        "{}",
        crossed.text()
    );
    // Without a name, and with a file that is gone.
    let seen = look(&server, &path, "poncho.svg", PONCHO.as_bytes());
    let fields = again(
        &seen,
        &[
            ("allowance", "1 cm"),
            ("name", "Sleeve"),
            ("cut_count", "0"),
            ("do", "keep"),
        ],
    );
    let count = send(&server, &path, &fields);
    assert_eq!(count.status, 422);
    assert!(count.body.contains("id=\"cut_count-error\""), "{}", count.text());
    let mut fields = again(
        &seen,
        &[
            ("allowance", "1 cm"),
            ("name", "Sleeve"),
            ("cut_count", "1"),
            ("do", "keep"),
        ],
    );
    fields.retain(|(n, _)| n != "kept");
    fields.push(("kept".into(), "0".repeat(64)));
    let gone = send(&server, &path, &fields);
    assert!(gone.status == 422 && gone.text().contains("no longer at hand"));
    assert_eq!(plan(&server, &project)["pieces"].as_array().map(Vec::len), Some(0));
    assert_eq!(server.get(&format!("{project}/pieces/p9/from-file")).status, 404);
}

#[test]
fn files_made_to_do_harm_are_refused_with_a_sentence() {
    let svg = |inside: &str| {
        format!("<svg xmlns='http://www.w3.org/2000/svg' width='9cm' height='9cm' viewBox='0 0 90 90'>{inside}</svg>")
            .into_bytes()
    };
    let dxf = |pairs: &str| format!("0\nSECTION\n2\nENTITIES\n{pairs}0\nENDSEC\n0\nEOF\n").into_bytes();
    let laughs = "<?xml version='1.0'?>\n<!DOCTYPE svg [<!ENTITY a 'ha'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;'><!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;'>]>\n<svg xmlns='http://www.w3.org/2000/svg' width='1cm' height='1cm'><text>&c;</text></svg>";
    let outside =
        "<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><svg xmlns='http://www.w3.org/2000/svg'>&x;</svg>";
    let deep = "<g>".repeat(100_000) + "<rect width='5' height='5'/>" + &"</g>".repeat(100_000);
    let many = "<rect width='5' height='5'/>".repeat(40_000);
    let lines = (0..45_000)
        .map(|n| format!("0\nLINE\n8\n1\n10\n{n}.0\n20\n0.0\n11\n{n}.5\n21\n9.0\n"))
        .collect::<String>();
    let units = "0\nTEXT\n8\n1\n1\nUnits: METRIC\n";
    let line = |x: &str| {
        dxf(&format!(
            "{units}0\nPOLYLINE\n8\n1\n66\n1\n70\n1\n0\nVERTEX\n8\n1\n10\n{x}\n20\n1.0\n0\nSEQEND\n8\n1\n"
        ))
    };
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("laughs.svg", laughs.into(), "entities"),
        ("outside.svg", outside.into(), "entities"),
        ("deep.svg", svg(&deep), "deep in one another"),
        ("many.svg", svg(&many), "outlines"),
        ("huge.svg", svg("<rect width='1e300' height='1e300'/>"), "200 m"),
        (
            "far.svg",
            svg("<path d='M0 0 L 9999999999 0 L 0 9999999999 Z'/>"),
            "200 m",
        ),
        ("nan.svg", svg("<path d='M0 0 L NaN 0 L 0 5 Z'/>"), "Line 1"),
        ("infinite.svg", svg("<polygon points='0,0 inf,0 0,5'/>"), "no number"),
        (
            "turned.svg",
            svg("<rect width='5' height='5' transform='scale(1e200) scale(1e200)'/>"),
            "without end",
        ),
        (
            "shrunk.svg",
            svg("<rect width='5' height='5' transform='scale(0)'/>"),
            "shrunk",
        ),
        ("empty.svg", svg(""), "no closed outline"),
        (
            "no-view.svg",
            b"<svg xmlns='http://www.w3.org/2000/svg' width='9cm' viewBox='0 0 0 0'/>".to_vec(),
            "viewBox",
        ),
        (
            "broken.svg",
            b"<svg xmlns='http://www.w3.org/2000/svg'>\n\n<rect x=5/></svg>".to_vec(),
            "Line 3",
        ),
        (
            "half.svg",
            b"<svg xmlns='http://www.w3.org/2000/svg'><rect".to_vec(),
            "middle",
        ),
        ("html.svg", b"<html><body/></html>".to_vec(), "no SVG"),
        (
            "wide.svg",
            "<svg/>".encode_utf16().flat_map(u16::to_le_bytes).collect(),
            "UTF-8",
        ),
        ("photo.svg", vec![0xff, 0xd8, 0xff, 0xe0, 0, 0, 1], "trace the piece"),
        ("sheet.dxf", b"%PDF-1.7\n\0".to_vec(), "This is a PDF"),
        ("other.dxf", vec![1, 0, 2, 0], "binary"),
        ("nothing.dxf", b"".to_vec(), "no section"),
        ("words.dxf", b"Dear Ida,\nhere is the pattern\n".to_vec(), "Line 1"),
        ("nan.dxf", line("NaN"), "Line 2"),
        ("infinite.dxf", line("1e400"), "no number"),
        ("huge.dxf", line("1e18"), "no number"),
        ("short.dxf", b"0\nSECTION\n2\nENTITIES\n0\nLINE\n".to_vec(), "EOF"),
        (
            "unclosed-block.dxf",
            b"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n1\n2\nP\n0\nENDSEC\n0\nEOF\n".to_vec(),
            "units",
        ),
        ("lines.dxf", dxf(&(units.to_string() + &lines)), "separate lines"),
        ("binary.dxf", b"AutoCAD Binary DXF\r\n\x1a\0".to_vec(), "binary"),
        ("five.svg", svg(&" ".repeat(5 * 1024 * 1024)), "4 MiB"),
    ];
    let server = Server::empty();
    let project = server.project("Poncho");
    let path = format!("{project}/pieces/new/from-file");
    let mut wrong: Vec<String> = Vec::new();
    for (name, bytes, said) in cases {
        let answer = look(&server, &path, name, &bytes);
        let text = answer.text();
        let refused = answer.status == 422 && text.to_lowercase().contains(&said.to_lowercase());
        // What was typed is kept, and nothing of this computer is shown.
        if !refused || text.contains("root:") || !answer.body.contains("value=\"1 cm\"") {
            let sentence = text.split("Nothing you typed is lost.").nth(1).unwrap_or(&text);
            wrong.push(format!("{name}: {} {sentence:.300}", answer.status));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Names made to run as a script are shown as they are.
    let named = svg("<path id='&lt;script&gt;alert(1)&lt;/script&gt;' d='M0 0 H50 V50 H0 Z'/>");
    let shown = look(&server, &path, "<img src=x onerror=alert(1)>.svg", &named);
    assert_eq!(shown.status, 200);
    assert!(!shown.body.contains("<script>alert") && !shown.body.contains("<img src=x"));
    assert_eq!(plan(&server, &project)["pieces"].as_array().map(Vec::len), Some(0));
}

#[test]
fn the_page_of_the_pattern_says_what_is_printed() {
    let server = Server::empty();
    let project = server.project("Poncho");
    let page = format!("{project}/pattern");
    assert!(server.get(&page).text().contains("no pieces yet"));
    assert_eq!(server.get(&format!("{project}/pattern.pdf")).status, 400);
    sleeve(&server, &project);
    let kept = plan(&server, &project);
    let id = kept["pieces"][0]["id"].as_str().expect("an id").to_string();
    let all = server.get(&page);
    let text = all.text();
    // A plan in inches: Letter first. The map has its sheets.
    for said in ["pages of Letter", "PDF Letter", "A1", "B2", "Sleeve", "paper scissors"] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(
        server
            .get(&format!("{page}?paper=a0&piece={id}&chosen=yes"))
            .text()
            .contains("1 page of A0")
    );
    let none = server.get(&format!("{page}?paper=a4&chosen=yes")).text();
    assert!(none.contains("Tick at least one") && !none.contains("PDF A4"), "{none}");
    assert!(
        server
            .get(&format!("{page}?paper=a9"))
            .text()
            .contains("a4, letter, a0 or roll36")
    );
    for wrong in [
        "pattern.pdf?paper=a9",
        "pattern.pdf?piece=p99",
        "pattern.svg?piece=p99",
        "pattern.dxf?piece=",
    ] {
        let answer = server.get(&format!("{project}/{wrong}"));
        assert_eq!(answer.status, 400, "{wrong}");
    }
    assert!(server.get(&format!("{project}/sheets")).body.contains(&page));
    // A curtain of 190 m: more sheets than anybody prints.
    let form = server.get(&format!("{project}/pieces/new"));
    let fields = [
        ("seen", value(&form, "seen")),
        ("part_id", value(&form, "part_id")),
        ("name", "Curtain".into()),
        ("cut_count", "1".into()),
        ("width", "90 m".into()),
        ("height", "90 m".into()),
        ("margin", "0".into()),
    ];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    let saved = server.post(&format!("{project}/pieces/new"), &fields);
    if saved.status == 303 {
        let many = server.get(&page).text();
        assert!(many.contains("400 are the most"), "{many}");
        assert_eq!(server.get(&format!("{project}/pattern.pdf")).status, 400);
    } else {
        panic!("{}", saved.text());
    }
}
