//! Care symbols in words, and fibre labels.

use notchbook::figures::care::{fibre, mildest, words};
use notchbook::figures::work_out;
use notchbook::plan::{Care, Cloth, Ironing, MadeFor, Plan, Washing};

/// The washing symbols from the strongest to none, temperature and bars under
/// the tub (one: mild, two: very mild). doublered.eu, list after the standard.
const WASHING: [(i64, i64); 11] = [
    (95, 0),
    (70, 0),
    (60, 0),
    (60, 1),
    (50, 1),
    (40, 0),
    (40, 1),
    (40, 2),
    (30, 0),
    (30, 1),
    (30, 2),
];

#[test]
fn every_washing_symbol_has_its_words() {
    for ((degrees, bars), (_, words)) in WASHING.into_iter().zip(words::WASHING) {
        assert!(words.contains(&format!("{degrees} °C")), "{words}");
        let drum = match bars {
            0 => !words.contains("mild"),
            1 => words.ends_with(", mild"),
            _ => words.ends_with(", very mild"),
        };
        assert!(drum, "{words}");
    }
    assert_eq!(words::WASHING.len(), 13);
    assert!(words::WASHING[11].1.contains("by hand"));
    assert_eq!(words::WASHING[12].1, "do not wash");
    // Hand wash: 30 in that list, 40 in ozdenim.com: the lower one.
    assert!(words::WASHING[11].1.contains("30 °C"));
}

/// One dot 110, two dots 150, three dots 200 degrees C: ozdenim.com.
#[test]
fn iron_temperatures() {
    for (ironing, degrees, dots) in [
        (Ironing::Low, 110, "one"),
        (Ironing::Medium, 150, "two"),
        (Ironing::High, 200, "three"),
    ] {
        let text = words::of(&words::IRONING, ironing);
        assert!(
            text.contains(&format!("{degrees} °C")) && text.contains(&format!("{dots} dot")),
            "{text}"
        );
    }
    // Bleach: any, oxygen only, none; tumble: two dots normal, one lower, none;
    // natural: line, drip line, flat, drip flat (the list of doublered.eu).
    assert_eq!(
        (words::BLEACHING.len(), words::TUMBLE.len(), words::NATURAL.len()),
        (3, 3, 4)
    );
    assert!(words::TUMBLE[0].1.contains("two dots") && words::TUMBLE[1].1.contains("one dot"));
}

fn cloth(id: &str, care: Option<Care>) -> Cloth {
    Cloth {
        id: id.into(),
        name: format!("Cloth {id}"),
        care,
        usable_width: notchbook::measure::INCH * 42,
        ..Cloth::default()
    }
}

/// Washing, bleaching, drying, ironing, professional care: contents of ISO 3758:2012.
#[test]
fn the_order_of_the_standard() {
    let plan = Plan {
        cloths: vec![
            cloth(
                "c1",
                Some(Care {
                    washing: Washing::C60,
                    ..Care::default()
                }),
            ),
            cloth(
                "c2",
                Some(Care {
                    washing: Washing::C30Mild,
                    ..Care::default()
                }),
            ),
            cloth("c3", None),
        ],
        made_for: MadeFor::Child,
        ..Plan::default()
    };
    let care = work_out(&plan).care.expect("there are materials");
    let order: Vec<&str> = care.lines.iter().map(|l| l.treatment).collect();
    assert_eq!(
        order,
        [
            "Washing",
            "Bleaching",
            "Tumble drying",
            "Natural drying",
            "Ironing",
            "Professional care"
        ]
    );
    assert_eq!(care.lines[0].words, "wash at 30 °C, mild");
    assert_eq!(care.lines[0].limited_by, ["Cloth c2"]);
    assert!(care.lines[1].limited_by.is_empty());
    assert_eq!(care.unknown, ["Cloth c3"]);
    assert!(care.shown.cautions[0].contains("Cloth c3 is washed is not known: ask the seller"));
    assert!(care.shown.cautions.iter().any(|c| c.contains("local rules")));
}

/// Common practice: what limits by heat and what limits by the drum together.
#[test]
fn two_labels_together() {
    let washed = |a: Washing, b: Washing| {
        let of = |washing| Care {
            washing,
            ..Care::default()
        };
        mildest([of(a), of(b)].iter()).unwrap().washing
    };
    assert_eq!(washed(Washing::C40VeryMild, Washing::C30), Washing::C30VeryMild);
    assert_eq!(washed(Washing::C70, Washing::C60Mild), Washing::C60Mild);
    assert_eq!(washed(Washing::C95, Washing::C95), Washing::C95);
    assert_eq!(washed(Washing::C30, Washing::DoNotWash), Washing::DoNotWash);
}

/// Regulation (EU) 1007/2011: percentages in descending order, "100 %", "pure"
/// and "all" for a single fibre (EUR-Lex summary LEGISSUM:mi0088; ifai.com).
/// Cotton 80 %, polyester 15 %, nylon 5 % add to 100 %: qima.es.
#[test]
fn fibre_labels() {
    assert!(fibre::hints("Cloth", "cotton 80 %, polyester 15 %, nylon 5 %").is_empty());
    assert_eq!(
        fibre::parts("cotton 80 %, polyester 15 %, nylon 5 %"),
        [
            ("cotton".to_string(), Some(8_000)),
            ("polyester".into(), Some(1_500)),
            ("nylon".into(), Some(500))
        ]
    );
    assert_eq!(fibre::hints("Cloth", "polyester 15 %, cotton 80 %, nylon 5 %").len(), 1);
    assert_eq!(fibre::hints("Cloth", "cotton 80 %, polyester 15 %").len(), 1);
    assert_eq!(fibre::hints("Cloth", "100 % cotton, silk").len(), 2);
    assert!(fibre::hints("Cloth", "pure wool").is_empty());
}
