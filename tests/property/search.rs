//! What people type into the search.

use crate::cases;
use notchbook::notebook::{Entry, Id, Notebook, ProjectDetails, SearchFilter};
use proptest::prelude::*;
use std::sync::LazyLock;
use tempfile::TempDir;

const TEXT: &str = "Grüne Ärmel, take-up 4 %, NOT near the \"hem\" AND (title:x*) ^y; naïve O'Clock";

static NOTEBOOK: LazyLock<(TempDir, Notebook)> = LazyLock::new(|| {
    let dir = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(dir.path()).unwrap();
    let details = ProjectDetails {
        title: "Apron".into(),
        ..ProjectDetails::default()
    };
    let project = notebook.start_project(Id::now_v7(), &details).unwrap();
    let entry =
        serde_json::json!({"id": Id::now_v7(), "kind": "note", "happened_at": "2026-03-04T10:00:00Z", "text": TEXT});
    let entry: Entry = serde_json::from_value(entry).unwrap();
    notebook.add_entry(project, &entry).unwrap();
    (dir, notebook)
});

fn found(text: &str) -> usize {
    let groups = NOTEBOOK.1.search(text, &SearchFilter::default());
    let groups = groups.unwrap_or_else(|e| panic!("{text:?}: {e}"));
    groups.iter().map(|g| g.found.len()).sum()
}

proptest! {
    #![proptest_config(cases(500))]

    #[test]
    fn any_text_is_a_search(text in any::<String>()) {
        found(&text);
    }

    /// Texts of what means something to a query.
    #[test]
    fn operators_and_signs_are_never_an_error(
        parts in prop::collection::vec(
            prop_oneof![
                Just("\""), Just("'"), Just("“"), Just("*"), Just("^"), Just("("), Just(")"), Just("{title}"), Just(":"),
                Just("-"), Just("+"), Just(" AND "), Just(" OR "), Just(" NOT "), Just("NEAR("), Just(", 2)"), Just("title:"),
                Just("\u{0}"), Just("\u{2}"), Just("\u{301}"), Just("hem"), Just(" "), Just("Ⓐ"), Just(";--"), Just("ß"),
            ],
            0..24,
        ),
    ) {
        found(&parts.concat());
    }

    /// Any run of words of a text finds it, however it is written, its last
    /// word begun only.
    #[test]
    fn words_of_a_text_find_it(from in 0usize..12, count in 1usize..5, cut in 0usize..4, upper in any::<bool>(), quoted in any::<bool>()) {
        let words: Vec<&str> = TEXT.split_whitespace().collect();
        let some: Vec<&str> = words.into_iter().skip(from).take(count).collect();
        let mut text = some.join(" ");
        if upper {
            text = text.to_uppercase();
        }
        let plain = text.replace('"', "");
        // A beginning of three letters or more.
        let tail = plain.rsplit(' ').next().unwrap_or_default();
        prop_assume!(tail.chars().filter(|c| c.is_alphanumeric()).count() > 2);
        if quoted {
            prop_assert!(found(&format!("\"{plain}\"")) == 1, "\"{plain}\"");
        } else if tail.chars().all(char::is_alphanumeric) && tail.chars().count() >= 3 + cut {
            let begun: String = plain.chars().take(plain.chars().count() - cut).collect();
            prop_assert!(found(&begun) == 1, "{begun}");
        } else {
            prop_assert!(found(&text) == 1, "{text}");
        }
    }
}
