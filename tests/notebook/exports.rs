//! A notebook written out and taken in again is the same notebook.

use crate::common::{details, edge, fill, fresh, new_id, note, stock_cloth, wearer};
use crate::pictures::jpeg;
use notchbook::notebook::{
    BoughtCloth, ClothUsed, DiskFolder, Id, Letter, Movement, Notebook, Parts, Purchase, SampleFolder, SecondThought,
};
use notchbook::plan::Edit;
use notchbook::sheets::export;
use std::path::Path;

/// Everything an export holds, as values.
fn all(notebook: &Notebook) -> Vec<String> {
    let mut out = vec![format!("{:?}", notebook.settings().unwrap())];
    out.extend(notebook.cloths().unwrap().iter().map(|c| format!("{c:?}")));
    out.extend(notebook.wearers().unwrap().iter().map(|w| format!("{w:?}")));
    out.extend(notebook.ticks().unwrap().iter().map(|t| format!("{t:?}")));
    for cloth in notebook.cloths().unwrap() {
        let moved = notebook.movements(cloth.id).unwrap().into_iter();
        out.extend(moved.map(|m| format!("{:?}", Movement { change: None, ..m })));
    }
    out.extend(
        notebook
            .shop_projects()
            .unwrap()
            .iter()
            .map(|p| format!("{} {} {:?}", p.id, p.chosen, p.cut)),
    );
    let mut ids: Vec<Id> = notebook.projects().unwrap().iter().map(|p| p.id).collect();
    ids.sort();
    for id in ids {
        let p = notebook.project(id).unwrap();
        out.push(format!(
            "{id} {:?} {:?} {:?} {:?} {:?}",
            p.details, p.for_whom, p.photo, p.created_at, p.from
        ));
        out.push(format!(
            "{:?} {}",
            p.measurements,
            notebook.asked_what_is_left(id).unwrap()
        ));
        out.push(format!("{:?}", notebook.choices(id).unwrap()));
        for v in notebook.variants(id).unwrap().into_iter().flatten() {
            out.push(format!(
                "{:?} {} {} {} {:?}",
                v.letter, v.from.number, v.note, v.changed_at, v.plan
            ));
        }
        for (number, _, _) in notebook.revisions(id).unwrap() {
            out.push(format!("{:?}", notebook.revision(id, number).unwrap()));
        }
        for entry in notebook.log(id).unwrap() {
            for photo in &entry.photos {
                out.push(format!("{:?} {}", photo, notebook.photo(photo).unwrap().bytes));
            }
            out.push(format!("{entry:?}"));
        }
    }
    out
}

/// Something bought, cut and left out of the list; the history of a cloth in
/// the bin stays behind with it.
fn shop(n: &Notebook, project: Id, binned: Id) {
    let day = "2026-11-25".parse().unwrap();
    let own = stock_cloth("Kept");
    n.save_cloth(0, &own).unwrap();
    let used = |cloth: Id, seen: i64| ClothUsed {
        cloth,
        seen,
        cut: notchbook::measure::INCH,
        taken: Parts::default(),
        complete: true,
        given_back: own.remnants.clone(),
    };
    n.restore_cloth(binned).unwrap();
    n.use_cloths(new_id(), project, day, &[used(own.id, 1), used(binned, 1)])
        .unwrap();
    n.bin_cloth(binned).unwrap();
    n.choose_shop_projects(&[project]).unwrap();
    n.nothing_left(project).unwrap();
    let plan = n.project(project).unwrap().plan;
    let purchase = Purchase {
        id: new_id(),
        day,
        cloths: vec![BoughtCloth {
            key: notchbook::figures::shopping::same_cloth(plan.cloth("c1").unwrap()),
            new: new_id(),
            name: "Cream linen".into(),
            width: plan.cloths[0].usable_width,
            length: notchbook::measure::YARD,
            price: None,
        }],
        things: vec![("notion/snaps".into(), "9".into())],
    };
    n.buy(&purchase).unwrap();
}

fn there_and_back(notebook: &Notebook, aside: &Path) {
    let folder = aside.join("out");
    let done = export(notebook, &folder).unwrap();
    assert_eq!(done.problems, Vec::<String>::new());
    let again = Notebook::open(&aside.join("again")).unwrap();
    let taken = again.import(&DiskFolder::new(&folder)).unwrap();
    assert_eq!((taken.projects, taken.photos), (done.projects, done.photos));
    assert_eq!(all(&again), all(notebook));
    // Nothing is written over.
    let said = export(notebook, &folder).unwrap_err().to_string();
    assert!(said.contains("not empty"), "{said}");
}

#[test]
fn the_sample_goes_out_and_comes_back_the_same() {
    let here = fresh();
    here.notebook.import(&SampleFolder).unwrap();
    let aside = tempfile::tempdir().unwrap();
    let waistcoat = here.notebook.projects().unwrap()[0].id;
    here.notebook.begin_variants(waistcoat).unwrap();
    here.notebook
        .change_variant(waistcoat, Letter::B, 1, &Edit::Edge(edge("e9")), None)
        .unwrap();
    here.notebook
        .note_variant(waistcoat, Letter::B, "One more edge to bind")
        .unwrap();
    there_and_back(&here.notebook, aside.path());
    // And it reads well by itself.
    let first = std::fs::read_to_string(aside.path().join("out/README.md")).unwrap();
    let page = std::fs::read_to_string(
        aside
            .path()
            .join("out/projects/patchwork-waistcoat-for-ilse/project.md"),
    )
    .unwrap();
    assert!(
        first.contains("(projects/patchwork-waistcoat-for-ilse/project.md)"),
        "{first}"
    );
    for part in [
        "# Patchwork waistcoat for Ilse",
        "- For: Ilse",
        "## Figures",
        "Indigo linen",
        "Why: ",
        "would do it again",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[test]
fn odd_texts_the_bin_and_what_hangs_on_it_do_no_harm() {
    let here = fresh();
    let n = &here.notebook;
    let aside = tempfile::tempdir().unwrap();
    let ilse = wearer("Ilse");
    let gone = wearer("Long gone");
    for w in [&ilse, &gone] {
        n.save_wearer(0, w).unwrap();
    }
    let cloth = stock_cloth("Cream | *linen* ``` # ");
    n.save_cloth(0, &cloth).unwrap();
    let first = n
        .start_project(new_id(), &details("../../\u{202e}A/B `c`\u{0}".trim_end_matches('\0')))
        .unwrap();
    let mut second = details("The same");
    second.wearer = Some(gone.id);
    let second = n.start_project(new_id(), &second).unwrap();
    let third = n.start_project(new_id(), &details("The same")).unwrap();
    fill(n, first);
    n.change_plan(first, 4, &notchbook::plan::Edit::Cloth(cloth.for_plan("c9".into())))
        .unwrap();
    let mut entry = note(
        "<script>alert(1)</script>\n```\n# not a heading",
        "2026-03-01T10:00:00Z",
    );
    let file = aside.path().join("p.jpg");
    std::fs::write(&file, jpeg(80, 60, 5)).unwrap();
    entry.photos.push(n.add_photo(&file).unwrap().hash);
    entry.second_thought = Some(SecondThought {
        would_do_again: false,
        text: "ä\u{2028}b".into(),
    });
    entry.kind = notchbook::notebook::EntryKind::Decision;
    n.add_entry(first, &entry).unwrap();
    n.bin_wearer(gone.id).unwrap();
    n.bin_cloth(cloth.id).unwrap();
    n.bin_project(third).unwrap();

    shop(n, first, cloth.id);
    let folder = aside.path().join("out");
    assert_eq!(export(n, &folder).unwrap().projects, 2);
    let again = Notebook::open(&aside.path().join("again")).unwrap();
    again.import(&DiskFolder::new(&folder)).unwrap();
    assert_eq!(again.log(first).unwrap(), n.log(first).unwrap());
    let shelf = again.cloths().unwrap();
    assert_eq!(shelf.len(), 2, "what was bought, and what was cut");
    assert!(shelf.iter().any(|c| {
        again
            .movements(c.id)
            .unwrap()
            .iter()
            .any(|m| m.project == Some(first) && m.complete)
    }));
    assert!(
        again
            .ticks()
            .unwrap()
            .iter()
            .any(|t| t.bought && t.key == "notion/snaps")
    );
    assert!(
        again
            .shop_projects()
            .unwrap()
            .iter()
            .any(|p| p.id == second && !p.chosen)
    );
    assert!(again.asked_what_is_left(first).unwrap());
    assert_eq!(again.project(first).unwrap().plan, n.project(first).unwrap().plan);
    // The wearer in the bin stays behind; the name does not.
    let kept = again.project(second).unwrap();
    assert_eq!((kept.details.wearer, kept.for_whom.as_str()), (None, "Long gone"));
    assert!(again.project(third).is_err());
    let again_out = aside.path().join("out2");
    export(&again, &again_out).unwrap();
    assert_eq!(
        std::fs::read_to_string(again_out.join("shop.json")).unwrap(),
        std::fs::read_to_string(folder.join("shop.json")).unwrap()
    );
    assert_eq!(
        std::fs::read(again_out.join("projects/a-b-c/log.json")).unwrap(),
        std::fs::read(folder.join("projects/a-b-c/log.json")).unwrap()
    );
}
