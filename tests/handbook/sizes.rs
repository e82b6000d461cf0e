//! Sizes from tables of body measures: which size a wearer takes.

use notchbook::figures::{SizePlace, SizingFigures, work_out};
use notchbook::measure::{CM, EIGHTH, INCH, Length};
use notchbook::plan::{Plan, SizeRow, Sizing};

/// Quarters of an inch.
fn quarters(list: &[i64]) -> Vec<Length> {
    list.iter().map(|n| EIGHTH * (n * 2)).collect()
}

fn cms(list: &[i64]) -> Vec<Length> {
    list.iter().map(|n| CM * *n).collect()
}

fn row(name: &str, body: &[Length], wearer: Length) -> SizeRow {
    SizeRow {
        name: name.into(),
        body: body.to_vec(),
        wearer: Some(wearer),
        ..SizeRow::default()
    }
}

fn fit(sizes: &[&str], rows: Vec<SizeRow>) -> SizingFigures {
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
    figures.sizing.expect("a size table")
}

/// Home-pattern sizing as used since 1968-70: Sewing Scholar 2011,
/// sewingscholar.blogspot.com/2011/02. Bust, waist, hip and back waist length in
/// quarters of an inch. The size row of Women's is misprinted there; the girths
/// stand for themselves.
const MISSES: [&str; 8] = ["6", "8", "10", "12", "14", "16", "18", "20"];
const MISSES_ROWS: [(&str, [i64; 8]); 4] = [
    ("bust girth", [122, 126, 130, 136, 144, 152, 160, 168]),
    ("waist girth", [92, 96, 100, 106, 112, 120, 128, 136]),
    ("hip girth", [130, 134, 138, 144, 152, 160, 168, 176]),
    ("back waist length", [62, 63, 64, 65, 66, 67, 68, 69]),
];
const PETITE_ROWS: [(&str, [i64; 6]); 4] = [
    ("bust girth", [122, 126, 130, 136, 144, 152]),
    ("waist girth", [94, 98, 102, 108, 114, 122]),
    ("hip girth", [130, 134, 138, 144, 152, 160]),
    ("back waist length", [58, 59, 60, 61, 62, 63]),
];
const WOMENS_ROWS: [(&str, [i64; 7]); 3] = [
    ("bust girth", [168, 176, 184, 192, 200, 208, 216]),
    ("waist girth", [140, 148, 156, 166, 176, 186, 196]),
    ("hip girth", [176, 184, 192, 200, 208, 216, 224]),
];

/// A wearer with the printed measures of a size takes that size, by every row;
/// a quarter more takes the next one and stands between the two.
fn each_size_takes_itself<const N: usize>(sizes: &[&str], rows: &[(&str, [i64; N])]) -> usize {
    let mut values = 0;
    for n in 0..N {
        let of = |more: Length| {
            rows.iter()
                .map(|(name, row)| row_of(name, row, n, more))
                .collect::<Vec<_>>()
        };
        let same = fit(sizes, of(Length::ZERO));
        assert_eq!(same.recommended, Some(n));
        for row in &same.rows {
            assert_eq!(
                (row.place, row.needed),
                (Some(SizePlace::Is(n)), Some(n)),
                "{}",
                row.name
            );
            values += 1;
        }
        let larger = fit(sizes, of(EIGHTH));
        for row in &larger.rows {
            let (place, needed) = match n + 1 < N {
                true => (SizePlace::Between(n, n + 1), Some(n + 1)),
                false => (SizePlace::Larger, None),
            };
            assert_eq!((row.place, row.needed), (Some(place), needed), "{}", row.name);
            assert_eq!(row.off_taken.is_some_and(Length::is_positive), n + 1 == N);
        }
    }
    values
}

fn row_of<const N: usize>(name: &str, row_values: &[i64; N], n: usize, more: Length) -> SizeRow {
    let body = quarters(row_values);
    row(name, &body, body[n] + more)
}

#[test]
fn printed_measures_take_their_own_size() {
    assert_eq!(each_size_takes_itself(&MISSES, &MISSES_ROWS), 32);
    assert_eq!(each_size_takes_itself(&MISSES[..6], &PETITE_ROWS), 24);
    let womens = [
        "bust 42", "bust 44", "bust 46", "bust 48", "bust 50", "bust 52", "bust 54",
    ];
    assert_eq!(each_size_takes_itself(&womens, &WOMENS_ROWS), 21);
}

/// One size at the bust, another at the hip: bust decides, hip is graded.
#[test]
fn bust_first() {
    let rows = vec![
        row("waist girth", &quarters(&MISSES_ROWS[1].1), INCH * 28),
        row("hip girth", &quarters(&MISSES_ROWS[2].1), INCH * 40),
        row("bust girth", &quarters(&MISSES_ROWS[0].1), INCH * 34),
    ];
    let s = fit(&MISSES, rows);
    assert_eq!(s.sizes[s.recommended.unwrap()], "12");
    let to = |n: usize| s.rows[n].grade_to.map(|n| s.sizes[n].as_str());
    assert_eq!((to(0), to(1), to(2)), (Some("14"), Some("16"), None));
    assert_eq!(s.rows[1].off_taken, Some(INCH * 4));
}

/// EN 13402-3 letter codes, chest girth of men in cm (second-hand, a public
/// design note; matches what is known from memory) and bust girth of women
/// (from memory): from and to.
const MEN: [(&str, i64, i64); 5] = [
    ("S", 86, 94),
    ("M", 94, 102),
    ("L", 102, 110),
    ("XL", 110, 118),
    ("XXL", 118, 129),
];
const WOMEN: [(&str, i64, i64); 4] = [("XS", 74, 82), ("S", 82, 90), ("M", 90, 98), ("L", 98, 106)];

#[test]
fn letter_codes() {
    for (girth, table) in [("chest girth", &MEN[..]), ("bust girth", &WOMEN[..])] {
        let sizes: Vec<&str> = table.iter().map(|(size, ..)| *size).collect();
        let upper: Vec<i64> = table.iter().map(|(_, _, to)| *to).collect();
        for (n, (size, from, to)) in table.iter().enumerate() {
            for wearer in [CM * *from + EIGHTH, CM * ((from + to) / 2), CM * *to] {
                let s = fit(&sizes, vec![row(girth, &cms(&upper), wearer)]);
                assert_eq!(s.recommended, Some(n), "{size}: {wearer:?}");
            }
        }
        // A letter of two steps of 4 cm.
        assert!(table.iter().all(|(size, from, to)| to - from == 8 || *size == "XXL"));
    }
}

/// Under EN 13402 an underbust girth is rounded to the nearest 5 cm: least, most
/// and band. liquisearch.com/bra_sizes/international_fitting_standards.
#[test]
fn underbust_bands() {
    let bands: Vec<i64> = (12..=24).map(|n| n * 5).collect();
    let names: Vec<String> = bands.iter().map(|b| b.to_string()).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    for (least, most, band) in [(58, 62, 60), (63, 67, 65), (83, 87, 85), (88, 92, 90), (118, 122, 120)] {
        for wearer in least..=most {
            let s = fit(&names, vec![row("underbust girth", &cms(&bands), CM * wearer)]);
            let nearest = s.rows[0].nearest.map(|n| s.sizes[n].as_str());
            assert_eq!(nearest, Some(band.to_string().as_str()), "{wearer}");
            assert_eq!((CM * wearer).round_to(CM * 5), CM * band);
        }
    }
}

/// Single values of ASTM D5585-11, table 1 (misses, inches), astm.org/Standards/
/// D5585.htm: chest 36 1/4 in at size 8 and 37 1/4 in at 10, waist (straight)
/// 1 1/2 in more than the curvy one.
#[test]
fn a_wearer_between_two_sizes() {
    let body = quarters(&[145, 149]);
    let s = fit(&["8", "10"], vec![row("bust girth", &body, EIGHTH * 293)]);
    assert_eq!(s.rows[0].place, Some(SizePlace::Between(0, 1)));
    assert_eq!(s.rows[0].nearest, Some(0));
    assert_eq!(s.rows[0].off_nearest, Some(EIGHTH * 3));
    assert_eq!(s.recommended, Some(1));
}
