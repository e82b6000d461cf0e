use crate::common::*;
use notchbook::measure::{Length, Money, Percent};
use notchbook::notebook::{PhotoHash, StockCloth};
use notchbook::plan::{Edit, Per, Price, ReadyShape};

#[test]
fn a_cloth_keeps_every_figure_exactly_and_what_it_was_before() {
    let f = fresh();
    let n = &f.notebook;
    let first = stock_cloth("Cream linen");
    assert_eq!(n.save_cloth(0, &first).unwrap(), 1);
    assert_eq!(n.stock_cloth(first.id).unwrap(), first);
    assert_eq!(n.save_cloth(0, &first).unwrap(), 1, "sent again");

    let mut second = first.clone();
    second.owned = Length::from_units(999_937);
    second.price = None;
    second.remnants.clear();
    second.ready_cut[0].count = 3;
    assert!(is_stale(n.save_cloth(0, &second)), "not new any more");
    assert_eq!(n.save_cloth(1, &second).unwrap(), 2);
    assert!(is_stale(n.save_cloth(1, &first)));
    second.version = 2;
    assert_eq!(n.stock_cloth(first.id).unwrap(), second);
    assert!(is_not_found(n.save_cloth(1, &stock_cloth("never saved"))));

    let earlier = n.earlier_cloths(first.id).unwrap();
    assert_eq!((earlier.len(), earlier[0].version, &earlier[0].value), (1, 1, &first));
}

#[test]
fn cloths_are_listed_by_name() {
    let f = fresh();
    for name in ["moss wool", "Cream linen", "berry cotton"] {
        f.notebook.save_cloth(0, &stock_cloth(name)).unwrap();
    }
    let names: Vec<_> = f.notebook.cloths().unwrap().into_iter().map(|c| c.name).collect();
    assert_eq!(names, ["berry cotton", "Cream linen", "moss wool"]);
}

#[test]
fn cloths_that_cannot_be_are_refused() {
    let f = fresh();
    let with = |change: &dyn Fn(&mut StockCloth)| {
        let mut cloth = stock_cloth("Cream linen");
        change(&mut cloth);
        cloth
    };
    for (cloth, field) in [
        (with(&|c| c.name = " ".into()), "name"),
        (with(&|c| c.usable_width = Length::ZERO), "usable_width"),
        (with(&|c| c.usable_width = Length::from_units(i64::MAX)), "usable_width"),
        (with(&|c| c.owned = -Length::from_units(1)), "owned"),
        (
            with(&|c| {
                c.price = Some(Price {
                    amount: Money::hundredths(-1),
                    per: Per::Metre,
                })
            }),
            "price",
        ),
        (
            with(&|c| {
                c.price = Some(Price {
                    amount: Money::hundredths(100_000_000),
                    per: Per::Metre,
                })
            }),
            "price",
        ),
        (with(&|c| c.shrinkage = Percent::whole(100)), "shrinkage"),
        (with(&|c| c.colour = "red; background: url(x)".into()), "colour"),
        (with(&|c| c.colour = "#12345é".into()), "colour"),
        (with(&|c| c.remnants[0].length = Length::ZERO), "remnants"),
        (with(&|c| c.ready_cut[0].width = Length::ZERO), "ready_cut"),
        (with(&|c| c.ready_cut[0].count = 0), "ready_cut"),
        (with(&|c| c.ready_cut[0].shape = ReadyShape::Rectangle), "ready_cut"),
        (with(&|c| c.photo = Some(PhotoHash("b".repeat(64)))), "photo"),
    ] {
        assert_eq!(refused_field(f.notebook.save_cloth(0, &cloth)), field, "{cloth:?}");
    }
    assert_eq!(f.rows("cloth"), 0);
}

#[test]
fn a_cloth_knows_the_projects_whose_plan_uses_it_now() {
    let f = fresh();
    let n = &f.notebook;
    let linen = stock_cloth("Cream linen");
    n.save_cloth(0, &linen).unwrap();
    let used = f.project("Uses it");
    let once = f.project("Used it once");
    f.project("Never");
    for id in [used, once] {
        n.change_plan(id, 1, &Edit::Cloth(linen.for_plan("c1".into()))).unwrap();
    }
    n.change_plan(once, 2, &Edit::RemoveCloth("c1".into())).unwrap();
    assert_eq!(
        n.projects_with_cloth(linen.id).unwrap(),
        [(used, "Uses it".to_string())]
    );
    n.bin_project(used).unwrap();
    assert!(n.projects_with_cloth(linen.id).unwrap().is_empty());
}

#[test]
fn a_wearer_keeps_dated_measurements_newest_first() {
    let f = fresh();
    let n = &f.notebook;
    let mut ada = wearer("Ada");
    ada.sets.reverse();
    n.save_wearer(0, &ada).unwrap();
    ada.sets.reverse();
    assert_eq!(n.wearer(ada.id).unwrap(), ada);
    assert_eq!(n.save_wearer(0, &ada).unwrap(), 1, "sent again");

    let mut grown = ada.clone();
    grown.sets.insert(0, set("2026-11-01", 99));
    assert_eq!(n.save_wearer(1, &grown).unwrap(), 2);
    assert!(is_stale(n.save_wearer(1, &ada)));
    grown.version = 2;
    assert_eq!(n.wearers().unwrap(), [grown.clone()]);
    let earlier = n.earlier_wearers(ada.id).unwrap();
    assert_eq!((earlier.len(), earlier[0].version, &earlier[0].value), (1, 1, &ada));

    // Taken out only when no project is made to them.
    let id = f.project("Moss waistcoat");
    n.use_measurements(id, Some(grown.sets[0].id)).unwrap();
    let mut without = grown.clone();
    without.sets.remove(0);
    assert_eq!(refused_field(n.save_wearer(2, &without)), "sets");
    assert_eq!(n.wearer(ada.id).unwrap(), grown, "all or nothing");
    n.use_measurements(id, None).unwrap();
    assert_eq!(n.save_wearer(2, &without).unwrap(), 3);
    assert_eq!(n.wearer(ada.id).unwrap().sets, without.sets);
}

#[test]
fn wearers_that_cannot_be_are_refused() {
    let f = fresh();
    let n = &f.notebook;
    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let mut ben = wearer("Ben");
    ben.sets[0].id = ada.sets[0].id;
    assert_eq!(refused_field(n.save_wearer(0, &ben)), "sets");
    ben.sets[0].id = ben.sets[1].id;
    assert_eq!(refused_field(n.save_wearer(0, &ben)), "sets");
    let mut ben = wearer("Ben");
    ben.sets[0].values[0].value = Length::ZERO;
    assert_eq!(refused_field(n.save_wearer(0, &ben)), "values");
    let mut ben = wearer("Ben");
    ben.sets[0].values[0].name = String::new();
    assert_eq!(refused_field(n.save_wearer(0, &ben)), "values");
    let mut ben = wearer("Ben");
    ben.sets[0].taken_on = chrono::NaiveDate::MAX;
    assert_eq!(refused_field(n.save_wearer(0, &ben)), "taken_on");
    let nameless = wearer("");
    assert_eq!(refused_field(n.save_wearer(0, &nameless)), "name");
    assert_eq!(n.wearers().unwrap(), [ada]);
}
