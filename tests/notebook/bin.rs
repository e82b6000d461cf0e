use crate::common::*;
use notchbook::notebook::TakeOver;
use notchbook::plan::Edit;

#[test]
fn a_project_in_the_bin_comes_back_whole() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    fill(n, id);
    n.add_entry(id, &note("Basted.", "2026-05-02T08:00:00Z")).unwrap();
    let before = n.project(id).unwrap();
    n.bin_project(id).unwrap();
    n.bin_project(id).unwrap();
    assert!(n.projects().unwrap().is_empty());
    assert_eq!(n.binned_projects().unwrap()[0].details.title, "Moss waistcoat");
    assert!(is_not_found(n.project(id)));
    assert!(is_not_found(n.log(id)));
    assert!(is_not_found(n.revisions(id)));
    assert!(is_not_found(n.change_plan(id, 4, &Edit::Edge(edge("e2")))));
    assert!(is_not_found(n.save_details(id, 1, &details("x"))));
    let take = TakeOver {
        measurements: false,
        pieces: false,
        plan: true,
    };
    assert!(is_not_found(n.start_from(new_id(), &details("x"), id, take)));
    // Written on the phone before it knew.
    n.add_entry(id, &note("Quilted.", "2026-05-03T08:00:00Z")).unwrap();
    n.restore_project(id).unwrap();
    let after = n.project(id).unwrap();
    assert_eq!((after.plan, after.details), (before.plan, before.details));
    assert_eq!(n.log(id).unwrap().len(), 2);
    assert!(n.binned_projects().unwrap().is_empty());
    assert!(is_not_found(n.bin_project(new_id())));
    assert!(is_not_found(n.restore_project(new_id())));
}

#[test]
fn an_entry_in_the_bin_comes_back_with_its_history() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let entry = note("Basted.", "2026-05-02T08:00:00Z");
    n.add_entry(id, &entry).unwrap();
    let mut edited = entry.clone();
    edited.text = "Basted by hand.".into();
    n.save_entry(1, &edited).unwrap();
    n.bin_entry(entry.id).unwrap();
    assert!(n.log(id).unwrap().is_empty());
    assert!(is_not_found(n.entry(entry.id)));
    assert!(is_not_found(n.save_entry(2, &entry)));
    assert_eq!(n.binned_entries(id).unwrap()[0].text, "Basted by hand.");
    // A resend does not bring it back.
    n.add_entry(id, &entry).unwrap();
    assert!(n.log(id).unwrap().is_empty());
    n.restore_entry(entry.id).unwrap();
    assert_eq!(n.log(id).unwrap()[0].text, "Basted by hand.");
    assert_eq!(n.earlier_entries(entry.id).unwrap(), [entry]);
    assert!(is_not_found(n.bin_entry(new_id())));
}

#[test]
fn cloths_and_wearers_come_back_from_the_bin() {
    let f = fresh();
    let n = &f.notebook;
    let cloth = stock_cloth("Cream linen");
    n.save_cloth(0, &cloth).unwrap();
    n.bin_cloth(cloth.id).unwrap();
    assert!(n.cloths().unwrap().is_empty());
    assert_eq!(n.binned_cloths().unwrap(), std::slice::from_ref(&cloth));
    assert!(is_not_found(n.stock_cloth(cloth.id)));
    // Neither a resend of the first save nor an edit brings it back.
    assert!(is_not_found(n.save_cloth(0, &cloth)));
    assert!(is_not_found(n.save_cloth(1, &cloth)));
    n.restore_cloth(cloth.id).unwrap();
    assert_eq!(n.cloths().unwrap(), [cloth]);

    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let mut for_ada = details("Moss waistcoat");
    for_ada.wearer = Some(ada.id);
    let project = n.start_project(new_id(), &for_ada).unwrap();
    n.use_measurements(project, Some(ada.sets[0].id)).unwrap();
    n.bin_wearer(ada.id).unwrap();
    assert!(n.wearers().unwrap().is_empty());
    assert_eq!(n.binned_wearers().unwrap(), std::slice::from_ref(&ada));
    assert!(is_not_found(n.wearer(ada.id)));
    assert!(is_not_found(n.save_wearer(0, &ada)));
    // What was made for her still says so, and can be saved.
    let made = n.project(project).unwrap();
    assert_eq!(
        (made.for_whom.as_str(), made.measurements.as_ref()),
        ("Ada", Some(&ada.sets[0]))
    );
    for_ada.about = "finished".into();
    n.save_details(project, made.details_version, &for_ada).unwrap();
    n.restore_wearer(ada.id).unwrap();
    assert_eq!(n.wearers().unwrap(), [ada]);
    assert!(is_not_found(n.bin_cloth(new_id())));
    assert!(is_not_found(n.restore_wearer(new_id())));
}
