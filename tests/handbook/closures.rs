//! Buttons and snaps: spacing, extension, buttonholes, trade sizes.

use notchbook::figures::closures::positions::by_count;
use notchbook::figures::closures::rules::{
    HOLE_STARTS, LIGNES, buttonhole, extension_rules, ligne_diameter, nearest_ligne, square_button,
};
use notchbook::figures::work_out;
use notchbook::measure::{EIGHTH, INCH, Length, MM};
use notchbook::plan::{Closure, ClosureKind, Plan};

fn sixteenths(n: i64) -> Length {
    Length::inches_frac(n, 16)
}

fn row(closure: Closure) -> notchbook::figures::ClosureFigures {
    let plan = Plan {
        closures: vec![Closure {
            id: "b1".into(),
            name: "Front".into(),
            ..closure
        }],
        ..Plan::default()
    };
    let figures = work_out(&plan);
    assert_eq!(figures.problems, []);
    figures.closures[0].clone()
}

/// Derived: 24 in, 1 in above and 2 in below, 8 buttons: 21 / 7 = 3 in.
#[test]
fn eight_buttons_on_24_inches() {
    let figures = row(Closure {
        line: INCH * 24,
        first: INCH,
        last: INCH * 2,
        count: Some(8),
        ..Closure::default()
    });
    assert_eq!(figures.gaps, [INCH * 3; 7]);
    let places: Vec<Length> = [1, 4, 7, 10, 13, 16, 19, 22].map(|n| INCH * n).to_vec();
    assert_eq!(figures.positions, places);
}

/// Least and most centre to centre, in eighths of an inch. India ICAR e-course,
/// ecoursesonline.iasri.res.in/mod/page/view.php?id=27312 (shirt; "mark first
/// and last, then divide equally"); sewingmadeclear.com button guide (the rest).
const SPACING: [(&str, i64, i64); 3] = [("shirt", 24, 28), ("fitted shirt", 20, 24), ("relaxed shirt", 24, 28)];

/// Fronts of 20 to 30 in, kept to the upper value, never come below the lower:
/// the printed range is one that can be divided equally.
#[test]
fn dividing_equally_stays_within_the_printed_spacing() {
    for (garment, least, most) in SPACING {
        for span in 20..=30 {
            let figures = row(Closure {
                line: INCH * (span + 3),
                first: EIGHTH * 4,
                last: EIGHTH * 20,
                spacing: Some(EIGHTH * most),
                ..Closure::default()
            });
            for gap in &figures.gaps {
                assert!(*gap <= EIGHTH * most, "{garment}, {span} in: {gap:?}");
                assert!(*gap >= EIGHTH * least, "{garment}, {span} in: {gap:?}");
            }
        }
    }
}

/// A button sits at bust level: dresspatternmaking.com, button extension.
#[test]
fn a_button_sits_at_bust_level() {
    for bust in 6..=14 {
        let placed = by_count(INCH, INCH * 22, 8, Some(INCH * bust));
        assert!(placed.centres.contains(&(INCH * bust)), "{bust}");
        assert_eq!((placed.centres[0], placed.centres[7]), (INCH, INCH * 22));
    }
}

/// Diameter; half and 1/4 in (ASDP standards, mysuitshop.com/ASDP_standards24.php);
/// the diameter (dresspatternmaking.com/garment-elements/button-extension-placket);
/// three quarters (trantor.is, book excerpt ch0708); half (ICAR e-course id 27312).
/// In sixteenths of an inch; 15/32 in is 7 1/2.
#[test]
fn beyond_the_centre_line() {
    for (diameter, rules) in [(32, [24, 32, 24, 16]), (20, [18, 20, 15, 10])] {
        // In thirty-seconds, so that 15/32 is whole.
        let at = Length::inches_frac(diameter, 32);
        let got: Vec<Length> = extension_rules(at).iter().map(|r| r.length).collect();
        assert_eq!(got, rules.map(|n| Length::inches_frac(n, 32)), "{diameter}/32 in");
    }
    // One and a half diameters of a tiny button of 0.38 in (the same page).
    let tiny = Length::from_units(INCH.units() * 38 / 100);
    assert_eq!(extension_rules(tiny)[1].length, tiny.scale_up(3, 2));
    let used = row(Closure {
        line: INCH * 20,
        first: INCH,
        last: INCH,
        count: Some(5),
        size: INCH,
        ..Closure::default()
    });
    assert_eq!(used.extension, Some(sixteenths(12)));
    assert_eq!(used.overlap, Some(sixteenths(24)));
}

/// Diameter and 1/8 in (trantor.is, book excerpt); diameter and thickness, from
/// memory; 1/8 in past the centre (dresspatternmaking.com, trantor.is, ICAR,
/// ASDP agree). Side 3/4 in, diagonal 1.06 in: stepalica.blogspot.com 2014.
#[test]
fn buttonholes() {
    assert_eq!(buttonhole(INCH, Length::ZERO), INCH + EIGHTH);
    assert_eq!(buttonhole(INCH, EIGHTH), INCH + EIGHTH);
    assert_eq!(buttonhole(sixteenths(10), sixteenths(3)), sixteenths(13));
    assert_eq!(HOLE_STARTS, EIGHTH);
    let diagonal = square_button(Length::inches_frac(3, 4)).as_inches_f64();
    assert!((diagonal - 1.06).abs() < 0.005, "{diagonal}");
}

/// Ligne, exact mm (derived: 0.635 mm each), mm of cxbuttons.com and of
/// gentsshop.co.uk, inches in sixteenths of workroombuttons.com. Where a page
/// prints nothing, 0.
const TRADE: [(i64, f64, f64, f64, i64); 17] = [
    (12, 7.62, 7.5, 8.0, 0),
    (14, 8.89, 9.0, 9.0, 0),
    (16, 10.16, 10.0, 10.0, 6),
    (18, 11.43, 11.5, 11.0, 7),
    (20, 12.70, 12.5, 12.0, 8),
    (22, 13.97, 14.0, 14.0, 9),
    (24, 15.24, 15.0, 15.0, 10),
    (28, 17.78, 18.0, 18.0, 11),
    (30, 19.05, 19.0, 19.0, 12),
    (32, 20.32, 20.0, 20.0, 0),
    (34, 21.59, 21.5, 21.0, 0),
    (36, 22.86, 23.0, 23.0, 14),
    (38, 24.13, 24.0, 24.0, 0),
    (40, 25.40, 25.0, 25.0, 16),
    (45, 28.58, 30.0, 0.0, 18),
    (48, 30.48, 30.0, 30.0, 0),
    (60, 38.10, 38.0, 0.0, 24),
];

#[test]
fn ligne_exactly() {
    assert_eq!(TRADE.map(|row| row.0), LIGNES);
    for (ligne, exact, ..) in TRADE {
        let mm = ligne_diameter(ligne).as_mm_f64();
        assert!((mm - exact).abs() < 0.0051, "{ligne} L: {mm}");
        assert_eq!(nearest_ligne(ligne_diameter(ligne)), ligne);
    }
    // 20 L are 1/2 in exactly (sizes.com/people/buttons.htm), 40 L one inch.
    assert_eq!(ligne_diameter(20) * 2, INCH);
    assert_eq!(ligne_diameter(40), INCH);
}

/// Trade charts print rounded millimetres, some rounded down, one far off
/// (45 L as 30 mm, which is 48 L): every printed value within 1 mm leads back
/// to its own size or to one of its neighbours.
#[test]
fn ligne_as_printed() {
    for (n, (ligne, exact, cx, gents, sixteenth)) in TRADE.into_iter().enumerate() {
        let near = |printed: Length| {
            let at = LIGNES.iter().position(|l| *l == nearest_ligne(printed)).unwrap();
            at.abs_diff(n) <= 1
        };
        for mm in [cx, gents].into_iter().filter(|mm| *mm > 0.0) {
            if (mm - exact).abs() <= 1.0 {
                assert!(near(MM.scale_down((mm * 2.0) as i64, 2)), "{ligne} L as {mm} mm");
            } else {
                assert_eq!((ligne, mm), (45, 30.0), "no other misprint");
            }
        }
        if sixteenth > 0 {
            assert!(near(sixteenths(sixteenth)), "{ligne} L as {sixteenth}/16 in");
            let off = (sixteenths(sixteenth) - ligne_diameter(ligne)).abs();
            assert!(off <= sixteenths(1), "{ligne} L: {off:?}");
        }
    }
}

/// A zip is as long as the line between its ends.
#[test]
fn a_zip() {
    let figures = row(Closure {
        kind: ClosureKind::Zip,
        line: INCH * 22,
        first: EIGHTH * 6,
        last: INCH * 3,
        ..Closure::default()
    });
    assert_eq!((figures.zip, figures.count), (Some(EIGHTH * 146), 1));
}
