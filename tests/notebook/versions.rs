//! Earlier versions taken again, the last change undone, newer measures taken.

use crate::common::*;
use notchbook::measure::{CM, INCH};
use notchbook::notebook::ProjectDetails;
use notchbook::plan::{Edit, SizeRow, Sizing};

#[test]
fn the_last_change_of_a_plan_is_undone_as_a_new_revision() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    assert_eq!(refused_field(n.undo_plan(id, 1)), "seen");
    fill(n, id);
    let (before, after) = n.undo_plan(id, 4).unwrap();
    assert_eq!((before.number, after.number), (4, 5));
    assert_eq!(after.plan, n.revision(id, 3).unwrap().plan);
    assert_eq!(after.what, "Undone: Edge Hem e1 added");
    // Sent twice it is undone once.
    assert_eq!(n.undo_plan(id, 4).unwrap().1.number, 5);
    // Undone again it is as it was.
    let (_, again) = n.undo_plan(id, 5).unwrap();
    assert_eq!((again.number, &again.plan), (6, &n.revision(id, 4).unwrap().plan));
    assert_eq!(again.what, "Undone: Edge Hem e1 added");
    // From a page that is behind nothing is undone.
    assert!(is_stale(n.undo_plan(id, 3)));
    assert!(is_stale(n.take_revision_again(id, 3, 1)));
    let (_, first) = n.take_revision_again(id, 6, 1).unwrap();
    assert_eq!((first.number, first.what.as_str()), (7, "Revision 1 taken again"));
    assert_eq!(n.take_revision_again(id, 6, 1).unwrap().1.number, 7, "sent again");
    assert!(is_not_found(n.take_revision_again(id, 7, 99)));
    assert_eq!(n.revisions(id).unwrap().len(), 7, "nothing is lost");
}

#[test]
fn earlier_details_come_back_with_their_measurements() {
    let f = fresh();
    let n = &f.notebook;
    let (ada, ben) = (wearer("Ada"), wearer("Ben"));
    for w in [&ada, &ben] {
        n.save_wearer(0, w).unwrap();
    }
    let first = ProjectDetails {
        wearer: Some(ada.id),
        ..details("Moss waistcoat")
    };
    let id = n.start_project(new_id(), &first).unwrap();
    assert_eq!(n.project(id).unwrap().measurements, Some(ada.sets[0].clone()));
    let second = ProjectDetails {
        wearer: Some(ben.id),
        ..details("Fern waistcoat")
    };
    assert_eq!(n.save_details(id, 1, &second).unwrap(), 2);
    assert_eq!(n.project(id).unwrap().measurements, None);
    let earlier = n.earlier_details(id).unwrap();
    assert_eq!((earlier[0].version, earlier[0].value.for_whom.as_str()), (1, "Ada"));
    assert_eq!(earlier[0].value.measurements, Some(ada.sets[0].clone()));

    assert!(is_stale(n.take_details_again(id, 1, 1)));
    assert!(is_not_found(n.take_details_again(id, 2, 7)));
    assert_eq!(n.take_details_again(id, 2, 1).unwrap(), 3);
    assert_eq!(n.take_details_again(id, 2, 1).unwrap(), 3, "sent again");
    let project = n.project(id).unwrap();
    assert_eq!(project.details, first);
    assert_eq!(project.measurements, Some(ada.sets[0].clone()));
    assert_eq!(n.earlier_details(id).unwrap()[0].value.details, second, "kept");
}

#[test]
fn the_newest_measures_go_into_project_and_size_table_in_one_step() {
    let f = fresh();
    let n = &f.notebook;
    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let made_for = ProjectDetails {
        wearer: Some(ada.id),
        ..details("Moss waistcoat")
    };
    let id = n.start_project(new_id(), &made_for).unwrap();
    assert_eq!(n.measured_wearer(id).unwrap(), Some(ada.clone()));
    n.use_measurements(id, Some(ada.sets[1].id)).unwrap();
    let table = |bust: i64, day: &str| Sizing {
        sizes: vec!["8".into(), "10".into()],
        rows: vec![SizeRow {
            name: "bust girth".into(),
            body: vec![INCH * 36, INCH * 38],
            wearer: Some(CM * bust),
            ..SizeRow::default()
        }],
        measured_on: day.into(),
        chosen: String::new(),
    };
    n.change_plan(id, 1, &Edit::Sizing(Some(table(95, "2025-06-30"))))
        .unwrap();
    n.take_measurements(id, ada.sets[0].id, 2, Some(&table(97, "2026-03-01")))
        .unwrap();
    let project = n.project(id).unwrap();
    assert_eq!(
        (project.revision, project.plan.sizing),
        (3, Some(table(97, "2026-03-01")))
    );
    assert_eq!(project.measurements.unwrap().id, ada.sets[0].id);
    // Sent again nothing is added.
    let version = project.details_version;
    n.take_measurements(id, ada.sets[0].id, 2, Some(&table(97, "2026-03-01")))
        .unwrap();
    let project = n.project(id).unwrap();
    assert_eq!((project.revision, project.details_version), (3, version));
    // The table was changed elsewhere: neither table nor measurements change.
    let clash = n.take_measurements(id, ada.sets[1].id, 2, Some(&table(90, "2025-06-30")));
    assert!(clash.is_err());
    assert_eq!(n.project(id).unwrap().measurements.unwrap().id, ada.sets[0].id);
    // A wearer in the bin is nobody to measure.
    n.bin_wearer(ada.id).unwrap();
    assert_eq!(n.measured_wearer(id).unwrap(), None);
}

#[test]
fn an_earlier_wearer_and_cloth_come_back_whole() {
    let f = fresh();
    let n = &f.notebook;
    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let mut without = ada.clone();
    without.sets.remove(1);
    without.name = "Ada B.".into();
    n.save_wearer(1, &without).unwrap();
    let earlier = n.earlier_wearers(ada.id).unwrap().remove(0);
    assert_eq!(n.save_wearer(2, &earlier.value).unwrap(), 3);
    let back = n.wearer(ada.id).unwrap();
    assert_eq!((back.name, back.sets), (ada.name, ada.sets));

    let linen = stock_cloth("Cream linen");
    n.save_cloth(0, &linen).unwrap();
    let mut cut = linen.clone();
    cut.remnants.clear();
    n.save_cloth(1, &cut).unwrap();
    let earlier = n.earlier_cloths(linen.id).unwrap().remove(0);
    n.save_cloth(2, &earlier.value).unwrap();
    assert_eq!(n.stock_cloth(linen.id).unwrap().remnants, linen.remnants);
}
