//! Swatches marked on photos, and how the shelf's pictures reach plans.

use crate::common::*;
use crate::pictures;
use notchbook::measure::{Lightness, Rgb};
use notchbook::notebook::{NotebookError, PhotoHash, Picture, Region, StockCloth};
use notchbook::plan::{Cloth, Edit};

fn part(left: u32, top: u32, width: u32, height: u32) -> Region {
    Region {
        left,
        top,
        width,
        height,
    }
}

/// Red in its upper half and blue in its lower once it is upright.
fn photographed(f: &Fresh) -> StockCloth {
    let file = pictures::file(f.dir.path(), "picture", &pictures::turned_jpeg());
    let photo = f.notebook.add_photo(&file).unwrap().hash;
    let cloth = StockCloth {
        photo: Some(photo),
        ..stock_cloth("Cream linen")
    };
    f.notebook.save_cloth(0, &cloth).unwrap();
    cloth
}

fn near(found: &str, wanted: [u8; 3]) {
    let found = Rgb::parse(found).unwrap();
    let difference = found.lab().difference(Rgb(wanted).lab());
    assert!(difference < 4.0, "{found} is {difference} from {wanted:?}");
}

#[test]
fn a_part_is_measured_as_the_photo_is_shown_and_kept_with_the_cloth() {
    let f = fresh();
    let n = &f.notebook;
    let before = photographed(&f);
    assert_eq!(n.mark_swatch(before.id, 1, part(1000, 500, 8000, 3500)).unwrap(), 2);
    let marked = n.stock_cloth(before.id).unwrap();
    let swatch = marked.swatch.clone().unwrap();
    near(&swatch.average, [220, 20, 20]);
    assert_eq!(swatch.colours.len(), 1, "{swatch:?}");
    assert_eq!(marked.colour, swatch.average);
    assert_eq!(swatch.lightness().map(|l| l.1), Some(Lightness::Medium));
    // Everything else is as it was, and what was before is kept.
    assert_eq!(
        StockCloth {
            swatch: None,
            colour: before.colour.clone(),
            version: 1,
            ..marked.clone()
        },
        before
    );
    let earlier = n.earlier_cloths(before.id).unwrap();
    assert_eq!((earlier.len(), &earlier[0].value), (1, &before));

    // The other half, then both.
    n.mark_swatch(before.id, 2, part(0, 6000, 10_000, 4000)).unwrap();
    near(&n.stock_cloth(before.id).unwrap().colour, [20, 20, 220]);
    n.mark_swatch(before.id, 3, part(0, 0, 10_000, 10_000)).unwrap();
    let both = n.stock_cloth(before.id).unwrap().swatch.unwrap();
    assert_eq!(both.colours.len(), 2, "{both:?}");
    assert!(both.colours.iter().all(|c| (45..=55).contains(&c.percent)), "{both:?}");
}

#[test]
fn two_devices_marking_at_once_lose_nothing() {
    let f = fresh();
    let n = &f.notebook;
    let cloth = photographed(&f);
    let mut other = n.stock_cloth(cloth.id).unwrap();
    other.note = "washed twice".into();
    n.save_cloth(1, &other).unwrap();
    assert!(is_stale(n.mark_swatch(cloth.id, 1, part(0, 0, 5000, 5000))));
    let now = n.stock_cloth(cloth.id).unwrap();
    assert_eq!((now.note.as_str(), now.swatch), ("washed twice", None));
    n.mark_swatch(cloth.id, 2, part(0, 0, 5000, 5000)).unwrap();
    // Taken off again: the version with it is kept.
    n.unmark_swatch(cloth.id, 3).unwrap();
    assert_eq!(n.stock_cloth(cloth.id).unwrap().swatch, None);
    assert!(n.earlier_cloths(cloth.id).unwrap()[0].value.swatch.is_some());
}

#[test]
fn what_cannot_be_marked_is_refused() {
    let f = fresh();
    let n = &f.notebook;
    let cloth = photographed(&f);
    for bad in [
        part(0, 0, 0, 5000),
        part(9000, 0, 2000, 5000),
        part(0, u32::MAX, 5000, u32::MAX),
    ] {
        let said = n.mark_swatch(cloth.id, 1, bad).unwrap_err();
        assert!(matches!(said, NotebookError::Refused { .. }), "{said:?}");
    }
    let bare = stock_cloth("No photo");
    n.save_cloth(0, &bare).unwrap();
    let said = n.mark_swatch(bare.id, 1, part(0, 0, 5000, 5000)).unwrap_err();
    assert!(said.to_string().contains("no photo"), "{said}");
    assert!(is_not_found(n.mark_swatch(new_id(), 1, part(0, 0, 5000, 5000))));
    // A swatch without its photo is none.
    n.mark_swatch(cloth.id, 1, part(0, 0, 5000, 5000)).unwrap();
    let mut without = n.stock_cloth(cloth.id).unwrap();
    without.photo = None;
    assert!(n.save_cloth(2, &without).is_err());
}

#[test]
fn the_file_of_a_swatch_is_the_part_alone_with_nothing_of_the_camera() {
    let f = fresh();
    let n = &f.notebook;
    let cloth = photographed(&f);
    let photo = cloth.photo.clone().unwrap();
    let here = part(0, 0, 10_000, 4500);
    assert!(is_not_found(n.swatch_file(&photo, here)), "nobody marked it");
    n.mark_swatch(cloth.id, 1, here).unwrap();
    let file = n.swatch_file(&photo, here).unwrap();
    let bytes = std::fs::read(&file).unwrap();
    let picture = image::load_from_memory(&bytes).unwrap().into_rgb8();
    // Of 64 by 96, the upper part.
    assert_eq!((picture.width(), picture.height()), (64, 43));
    assert!(picture.pixels().all(|p| p.0[0] > 150 && p.0[2] < 110));
    assert!(!bytes.windows(pictures::MAKE.len()).any(|w| w == pictures::MAKE));
    // Only marked parts are drawn, and only of photos that are there.
    assert!(is_not_found(n.swatch_file(&photo, part(0, 0, 10_000, 4600))));
    assert!(is_not_found(n.swatch_file(&PhotoHash("0".repeat(64)), here)));
}

#[test]
fn plans_and_the_home_page_show_the_swatch_of_the_shelf() {
    let f = fresh();
    let n = &f.notebook;
    let cloth = photographed(&f);
    let here = part(0, 0, 5000, 5000);
    n.mark_swatch(cloth.id, 1, here).unwrap();
    let marked = n.stock_cloth(cloth.id).unwrap();
    let project = n.start_project(new_id(), &details("Reading quilt")).unwrap();
    let mut of_plan = marked.for_plan("c1".into());
    of_plan.colour = "#eee4cf".into();
    n.change_plan(project, 1, &Edit::Cloth(of_plan.clone())).unwrap();
    let picture = Picture {
        photo: cloth.photo.clone().unwrap(),
        part: Some(here),
    };
    assert_eq!(n.projects().unwrap()[0].swatches[0].picture, Some(picture.clone()));
    let pictures = n.pictures().unwrap();
    assert_eq!(pictures.of(&of_plan), Some(&picture));
    assert_eq!(pictures.colour_of(&of_plan), Some(marked.colour.as_str()));
    assert_eq!(pictures.of(&Cloth::default()), None);
    // In the bin it is still how the plan's cloth looks, but offers no colour.
    n.bin_cloth(cloth.id).unwrap();
    let pictures = n.pictures().unwrap();
    assert_eq!(
        (pictures.of(&of_plan), pictures.colour_of(&of_plan)),
        (Some(&picture), None)
    );
}
