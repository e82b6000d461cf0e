//! The sheets in the browser: listed, shown, handed over as PDF.

use crate::poppler::Pdf;
use crate::support::{Server, agent};
use notchbook::plan::Plan;

fn projects(server: &Server) -> Vec<String> {
    let home = server.get("/").body;
    let mut all: Vec<String> = home
        .match_indices("/projects/0")
        .map(|(at, start)| home[at..at + start.len() - 1 + 36].to_string())
        .collect();
    all.sort();
    all.dedup();
    assert!(all.len() > 3, "{all:?}");
    all
}

fn file(server: &Server, address: &str) -> Pdf {
    let mut answer = agent().get(server.url(address)).call().expect("an answer");
    assert_eq!(answer.status(), 200, "{address}");
    assert_eq!(answer.headers()["content-type"], "application/pdf");
    Pdf::of(&answer.body_mut().read_to_vec().expect("a file"))
}

/// Words alone, as they stand however lines are broken.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_project_sheet_tells_of_its_project() {
    let server = Server::sample();
    let (mut pictures, mut headings) = (0, Vec::new());
    for project in projects(&server) {
        let plan = server.get(&format!("/api{project}/plan")).body;
        let plan = Plan::from_json(&plan).expect("a plan");
        let sheet = file(&server, &format!("{project}/sheets/project.pdf"));
        let said = words(&sheet.pages().join(" "));
        for piece in &plan.pieces {
            assert!(said.contains(&piece.name), "{} in {said}", piece.name);
            for altered in &piece.alterations {
                // A cell may be broken between its lines by those beside it.
                let first = altered.reason.split(' ').next().unwrap_or("");
                assert!(said.contains(first), "{} in {said}", altered.reason);
            }
        }
        pictures += sheet.pictures();
        for heading in [
            "Measurements",
            "Allowances",
            "Decisions",
            "Second thoughts",
            "Time",
            "Cost",
        ] {
            if said.contains(heading) && !headings.contains(&heading) {
                headings.push(heading);
            }
        }
    }
    assert!(pictures > 2, "{pictures}");
    assert_eq!(headings.len(), 6, "{headings:?}");
}

#[test]
fn the_shop_list_on_paper_has_every_line_of_the_page() {
    let server = Server::sample();
    let page = server.get("/shop").body;
    assert!(page.contains("href=\"/shop/sheet\""));
    let mark = "class=\"shop-name\">";
    let names: Vec<&str> = page
        .match_indices(mark)
        .map(|(at, _)| page[at + mark.len()..].split('<').next().unwrap_or(""))
        .collect();
    assert!(names.len() > 5, "{names:?}");
    assert_eq!(server.get("/shop/sheet").status, 200);
    for paper in ["a4", "letter"] {
        let said = words(
            &file(&server, &format!("/shop/sheet.pdf?paper={paper}"))
                .pages()
                .join(" "),
        );
        for name in &names {
            // Names of things are wide enough for a line; amounts may be escaped.
            assert!(said.contains(*name) || name.contains('&'), "{name} in {said}");
        }
    }
    assert_eq!(server.get("/shop/sheet.pdf?paper=x").status, 400);
}

#[test]
fn sheets_are_two_taps_from_the_project() {
    let server = Server::sample();
    let all = projects(&server);
    let project = all[0].as_str();
    let sheets = format!("{project}/sheets");
    assert!(server.get(project).body.contains(&format!("href=\"{sheets}\"")));
    let list = server.get(&sheets).body;
    for word in ["cut", "piecing", "project", "swatches"] {
        assert!(list.contains(&format!("href=\"{sheets}/{word}\"")), "{word}");
        let page = server.get(&format!("{sheets}/{word}"));
        assert_eq!(page.status, 200);
        let page = page.body;
        assert!(page.contains("class=\"paper\"") && !page.contains("style=\""), "{word}");
        for paper in ["a4", "letter"] {
            let address = format!("{sheets}/{word}.pdf?paper={paper}");
            assert!(list.contains(&address) && page.contains(&address), "{address}");
            let mut answer = agent().get(server.url(&address)).call().expect("an answer");
            assert_eq!(answer.headers()["content-type"], "application/pdf");
            let file = Pdf::of(&answer.body_mut().read_to_vec().expect("a file"));
            assert!(
                file.info("Page size").to_lowercase().contains(paper),
                "{}",
                file.info("Page size")
            );
        }
    }
    for (address, status) in [
        (format!("{sheets}/cut.pdf?paper=a0"), 400),
        (format!("{sheets}/none"), 404),
        (format!("{sheets}/none.pdf"), 404),
        ("/projects/0192f0c4-7e3a-7cc1-8a51-3f1d6a5e9b20/sheets".into(), 404),
        (
            "/projects/0192f0c4-7e3a-7cc1-8a51-3f1d6a5e9b20/sheets/cut.pdf".into(),
            404,
        ),
    ] {
        assert_eq!(server.get(&address).status, status, "{address}");
    }
}
