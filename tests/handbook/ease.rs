//! Ease: printed garments against body tables, and printed ranges.

use notchbook::figures::sizing::ease::hints;
use notchbook::figures::work_out;
use notchbook::measure::{CM, EIGHTH, INCH, Length};
use notchbook::plan::{Allowances, Plan, SizeRow, Sizing};

fn eighths(list: &[i64]) -> Vec<Length> {
    list.iter().map(|n| EIGHTH * *n).collect()
}

fn table(sizes: &[&str], rows: Vec<SizeRow>) -> notchbook::figures::SizingFigures {
    let plan = Plan {
        sizing: Some(Sizing {
            sizes: sizes.iter().map(|s| s.to_string()).collect(),
            rows,
            ..Sizing::default()
        }),
        ..Plan::default()
    };
    let figures = work_out(&plan);
    assert_eq!(figures.problems, []);
    figures.sizing.unwrap()
}

/// Finished measures of a misses loose jacket, sizes 8 to 16, as printed on the
/// back of its envelope (sandbox83.mybigcommerce.com/m7817), in eighths of an
/// inch, against the body table of Sewing Scholar 2011: 6 1/4 in of ease at the
/// bust and 7 1/2 in at the hip in every size.
const BUST: ([i64; 5], [i64; 5]) = ([252, 260, 272, 288, 304], [302, 310, 322, 338, 354]);
const HIP: ([i64; 5], [i64; 5]) = ([268, 276, 288, 304, 320], [328, 336, 348, 364, 380]);

#[test]
fn ten_eases_of_a_printed_garment() {
    let row = |name: &str, (body, garment): ([i64; 5], [i64; 5])| SizeRow {
        name: name.into(),
        body: eighths(&body),
        garment: eighths(&garment),
        wearer: Some(INCH * 34),
        ..SizeRow::default()
    };
    let s = table(
        &["8", "10", "12", "14", "16"],
        vec![row("bust girth", BUST), row("hip girth", HIP)],
    );
    assert_eq!(s.rows[0].designed_ease, [EIGHTH * 50; 5]);
    assert_eq!(s.rows[1].designed_ease, [EIGHTH * 60; 5]);
    // The wearer of size 12 has just that ease at the bust.
    assert_eq!(s.sizes[s.taken.unwrap()], "12");
    assert_eq!(s.rows[0].ease[2], EIGHTH * 50);
}

/// A dress of size 12 with a printed bust of 41 1/2 in over 34 in: 7 1/2 in.
/// lauramaedesigns.com 2014.
#[test]
fn a_loose_dress() {
    let bust = SizeRow {
        name: "bust girth".into(),
        body: vec![INCH * 34],
        garment: vec![EIGHTH * 332],
        ..SizeRow::default()
    };
    assert_eq!(table(&["12"], vec![bust]).rows[0].designed_ease, [EIGHTH * 60]);
}

/// With the ease wanted and the finished measures printed, the smallest size
/// that has it is taken: 34 in and 2 1/2 in are 36 1/2 in, less than any of the
/// jacket's, so its smallest; 6 1/4 in take the 12 it was drawn for.
#[test]
fn ease_wanted_chooses_the_size() {
    let size = |ease: i64| {
        let row = SizeRow {
            name: "bust girth".into(),
            body: eighths(&BUST.0),
            garment: eighths(&BUST.1),
            wearer: Some(INCH * 34),
            ease: Some(EIGHTH * ease),
        };
        let s = table(&["8", "10", "12", "14", "16"], vec![row]);
        s.sizes[s.recommended.unwrap()].clone()
    };
    assert_eq!(size(20), "8");
    assert_eq!(size(50), "12");
    assert_eq!(size(51), "14");
}

/// Ease printed for a girth, in eighths of an inch: least and most. Central
/// Washington University, costume text ch. 16, cwu.edu/~robinsos/ppages/
/// resources/costxt/costxt_16.htm; Alto & Palmer, Fit for Real People ch. 3,
/// scribd.com/document/377205004.
const PRINTED: [(&str, &str, i64, i64); 11] = [
    ("bust girth", "bodice", 12, 16),
    ("waist girth", "dress", 6, 8),
    ("waist girth", "skirt", 4, 6),
    ("hip girth", "any garment", 16, 22),
    ("chest girth", "fitted shirt", 12, 20),
    ("chest girth", "classic", 20, 24),
    ("seat girth", "seat", 12, 16),
    ("thigh girth", "thigh", 8, 8),
    ("bust girth", "basic pattern", 20, 20),
    ("waist girth", "basic pattern", 8, 8),
    ("hip girth", "basic pattern", 16, 16),
];

#[test]
fn printed_ranges_stand_as_hints() {
    for (girth, what, least, most) in PRINTED {
        let hint = hints(girth).iter().find(|h| h.what.contains(what)).expect(what);
        assert_eq!(
            (hint.least, hint.most),
            (EIGHTH * least, EIGHTH * most),
            "{girth}: {what}"
        );
    }
}

/// Men's shirts in cm and in eighths of an inch (an anonymous repost): both
/// columns agree to the quarter inch they are printed in.
#[test]
fn shirts_in_both_systems() {
    for (what, cm, eighth) in [
        ("extremely slim", 9, 28),
        ("shirt, slim", 12, 38),
        ("normal", 16, 50),
        ("loose", 20, 62),
    ] {
        let hint = hints("chest girth").iter().find(|h| h.what.contains(what)).expect(what);
        assert_eq!(hint.least, EIGHTH * eighth);
        assert!((CM * cm - hint.least).abs() <= EIGHTH, "{what}");
    }
}

/// A jacket of the 1954 tailoring draft (movsd.com/BespokeCutter, topic 548):
/// parts of the half chest 19 + 12 + 19 = 50 cm and their ease 4.5 + 4.5 + 3 =
/// 12, so that a chest of 100 cm is 124 cm finished.
#[test]
fn a_draft_of_the_half_chest() {
    let half: Length = [190, 120, 190, 45, 45, 30].iter().map(|mm| Length::whole_mm(*mm)).sum();
    let row = SizeRow {
        name: "chest girth".into(),
        body: vec![CM * 100],
        garment: vec![half * 2],
        wearer: Some(CM * 100),
        ..SizeRow::default()
    };
    assert_eq!(table(&["50"], vec![row]).rows[0].ease, [CM * 24]);
}

/// Less ease than the least that is printed is pointed out; a garment smaller
/// than its wearer too.
#[test]
fn too_little_ease_is_told() {
    let cautions = |garment: i64| {
        let row = SizeRow {
            name: "bust girth".into(),
            body: vec![INCH * 34],
            garment: vec![EIGHTH * garment],
            wearer: Some(INCH * 34),
            ..SizeRow::default()
        };
        table(&["12"], vec![row]).shown.cautions
    };
    assert!(cautions(272 + 12).is_empty());
    assert!(cautions(272 + 11)[0].contains("1 3/8 in"));
    assert!(cautions(272 - 8)[0].contains("smaller than the wearer"));
}

/// Seam allowances in sixteenths of an inch and in millimetres, exactly
/// (derived). Home patterns print 5/8 in as 1.5 cm (fashion2apparel.com;
/// thesewingretreat.co.uk 2023 prints 3/8 as 1 cm): charts round, a seam that is
/// cut does not.
#[test]
fn seam_allowances_are_exact_in_both_systems() {
    for (sixteenths, hundredths_mm) in [(4, 635), (6, 953), (8, 1270), (10, 1588), (16, 2540)] {
        let seam = Length::inches_frac(sixteenths, 16);
        let mm = seam.as_mm_f64() * 100.0;
        assert!((mm - f64::from(hundredths_mm)).abs() <= 0.5, "{sixteenths}/16: {mm}");
        assert_eq!(Length::inches_frac(sixteenths, 16) * 16, INCH * sixteenths);
    }
    // Patchwork is sewn with 1/4 in: all quilting sources.
    assert_eq!(Allowances::default().seam, Length::inches_frac(1, 4));
}
