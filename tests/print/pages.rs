//! The sheets in the browser: listed, shown, handed over as PDF.

use crate::poppler::Pdf;
use crate::support::{Server, agent};

#[test]
fn sheets_are_two_taps_from_the_project() {
    let server = Server::sample();
    let home = server.get("/").body;
    let at = home.find("/projects/0").expect("a project");
    let project = &home[at..at + "/projects/".len() + 36];
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
