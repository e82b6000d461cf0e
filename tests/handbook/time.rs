//! How long things took, as single makers wrote it down. Anecdotes, not
//! measurements: what is checked is that their sums and speeds come out.

use notchbook::figures::time::{Amount, Minutes, PastWork, TimeFigures, WorkFigures, expected, published_paces};
use notchbook::figures::work_out;
use notchbook::measure::{INCH, Length, hours, parse_minutes};
use notchbook::plan::{Plan, Work};

/// The time of a plan that holds these amounts and nothing else.
fn time(amounts: &[(Work, Amount)], past: &[PastWork], logged: &[(Work, i64)]) -> TimeFigures {
    let plan = Plan::default();
    let mut figures = work_out(&plan);
    figures.time.work = amounts
        .iter()
        .map(|(work, amount)| WorkFigures {
            work: *work,
            amount: Some(*amount),
            of: String::new(),
            logged: 0,
            expected: None,
            left: None,
            pace: String::new(),
        })
        .collect();
    expected(&figures, &plan, past, logged, None)
}

fn past(work: Work, amount: Amount, minutes: i64) -> PastWork {
    PastWork {
        project: "a past project".into(),
        work,
        amount,
        minutes,
    }
}

/// Hours of a project's parts and their sum, as printed.
const SUMS: [(&str, &[&str], &str); 6] = [
    // Faith Quilter, January 2013, faithquilter.blogspot.com: two quilts of surfboards.
    (
        "surfboards",
        &["2 h", "25 h", "46.5 h", "14.5 h", "2.5 h", "10 h"],
        "100 h 30 min",
    ),
    // Steph Skardal, stephskardalquilts.com: 54 by 76 in; design, 7, rows, quilting, binding, burying threads.
    ("54 x 76", &["2 h", "7 h", "27 h", "15 h", "4 h", "1 h"], "56 h"),
    // Heather Kojan 2011, heatherkojan.com: a simple quilt.
    ("simple", &["1 h", "2.5 h", "1.5 h"], "5 h"),
    // Hexy Lady 2014, hexylady.com: the binding of 28.5 by 32.25 in, in minutes.
    ("hexagons, binding", &["15", "12", "30", "43", "140"], "4 h"),
    // North Hills Quilter 2012, northhillsquilter.blogspot.com: a top of 12 blocks, and its cutting.
    ("12 blocks", &["2 h 10", "45 min"], "2 h 55 min"),
    // Faith Quilter, March 2012, faithquilter.blogspot.com: a quilt of shirts, "about 30" with
    // the hand stitching of the row below; dismantling, top, quilting, binding.
    ("shirts", &["5 h", "14.5 h", "322 min", "1.65 h"], "26 h 31 min"),
];

#[test]
fn printed_sums() {
    for (name, parts, sum) in SUMS {
        let logged: Vec<(Work, i64)> = parts
            .iter()
            .zip(Work::ALL)
            .map(|(part, work)| (work, parse_minutes(part).unwrap().into()))
            .collect();
        assert_eq!(hours(time(&[], &[], &logged).logged), sum, "{name}");
    }
    // "50 each" of two is 100.5 halved and rounded.
    assert_eq!(parse_minutes("100.5 h").unwrap() / 2, 50 * 60 + 15);
}

/// Faith Quilter, March 2012: 16 in sewn down by hand in 10 min; of 300 in she
/// makes 3.1 h. 300 / 16 x 10 = 187.5 min. "3 to 5 h" it took.
#[test]
fn sewing_down_by_hand() {
    let along = |inches: i64| Amount::Along(INCH * inches);
    let own = [past(Work::HandSew, along(16), 10)];
    for paces in [&own[..], &[]] {
        let minutes = time(&[(Work::HandSew, along(300))], paces, &[]).expected;
        // Part of a minute is rounded up.
        assert_eq!(minutes.likely, 188);
        assert!(minutes.low <= 180 && minutes.high >= 180, "{minutes:?}");
    }
    // Published by one other maker: half to double, so the slowest of her times is in it.
    let published = time(&[(Work::HandSew, along(300))], &[], &[]);
    assert_eq!(
        published.expected,
        Minutes {
            low: 93,
            likely: 188,
            high: 375
        }
    );
    assert!(published.expected.high >= 5 * 60);
    assert!(published.work[0].pace.contains("single maker"));
    // The whole quilt of shirts: the four parts above and this are "about 30" hours.
    let all = 26 * 60 + 31 + published.expected.likely;
    assert!((29 * 60..=31 * 60).contains(&all), "{all}");
}

/// The same: 1.65 h to make and attach that binding.
#[test]
fn making_and_attaching_binding() {
    let minutes = time(&[(Work::Bind, Amount::Along(INCH * 300))], &[], &[]).expected;
    assert_eq!(minutes.likely, i64::from(parse_minutes("1.65 h").unwrap()));
    // Steph Skardal's 4 h for the binding of 54 by 76 in, 260 in round: by these
    // two paces 4 h 9, so one maker's pace does for another within half and double.
    let round = Amount::Along(INCH * 260);
    let both = time(&[(Work::Bind, round), (Work::HandSew, round)], &[], &[]).expected;
    assert_eq!(both.likely, 86 + 163);
    assert!(both.low <= 240 && 240 <= both.high, "{both:?}");
    // Hexy Lady's 4 h for 121.5 in round are outside: hers is the edge of hexagons.
    let round = Amount::Along(Length::inches_frac(243, 2));
    let both = time(&[(Work::Bind, round), (Work::HandSew, round)], &[], &[]).expected;
    assert!(both.high < 240, "{both:?}");
}

/// Hexy Lady 2014, hexylady.com: 41 flowers of hexagons at 12.5 min are 8 h 32.5.
#[test]
fn flowers_of_hexagons() {
    let paces = [past(Work::Piece, Amount::Count(2), 25)];
    let time = time(&[(Work::Piece, Amount::Count(41))], &paces, &[]);
    assert_eq!(time.expected.likely, 8 * 60 + 33);
    // Her 4 h for the binding with it, logged, leave nothing of that and take nothing of this.
    assert_eq!(time.left, time.expected);
}

/// Only what names both an amount and the minutes is a pace.
#[test]
fn other_work_is_not_guessed() {
    assert_eq!(published_paces().len(), 2);
    for work in [
        Work::Cut,
        Work::Piece,
        Work::Press,
        Work::Layer,
        Work::Quilt,
        Work::Assemble,
    ] {
        let time = time(&[(work, Amount::Count(48))], &[], &[]);
        assert_eq!(
            (time.expected, time.not_known.as_slice()),
            (Minutes::default(), &[work][..])
        );
        assert_eq!(time.work[0].pace, "not known yet");
    }
}
