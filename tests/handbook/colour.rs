//! Colours: CIE L*a*b*, the contrast of the web guidelines, CIEDE2000.

use notchbook::measure::{D65, Lab, Rgb};

fn lab(l: f64, a: f64, b: f64) -> Lab {
    Lab { l, a, b }
}

fn near(found: Lab, expected: [f64; 3], tolerance: f64, what: &str) {
    for (found, expected) in [found.l, found.a, found.b].into_iter().zip(expected) {
        assert!((found - expected).abs() <= tolerance, "{what}: {found}, not {expected}");
    }
}

fn rgb(text: &str) -> Rgb {
    Rgb::parse(text).expect("a colour")
}

/// MathWorks, reference page of xyz2lab: XYZ 0.25 0.40 0.10. The white the page
/// gives in four digits moves the second decimal, so each is tried as printed.
#[test]
fn lab_of_xyz() {
    let xyz = [0.25, 0.40, 0.10];
    near(
        Lab::from_xyz(xyz, D65),
        [69.4695, -48.0439, 57.1259],
        0.005,
        "white .95047 1.08883",
    );
    let four_digits = Lab::from_xyz(xyz, [0.9504, 1.0, 1.0888]);
    near(four_digits, [69.4695, -48.0361, 57.1259], 0.005, "white .9504 1.0888");
    // D50 of ICC.1, in four digits 0.9642 1 0.8251.
    let d50 = Lab::from_xyz(xyz, [0.96422, 1.0, 0.82521]);
    near(d50, [69.4695, -49.5717, 48.3864], 0.02, "D50");
}

/// White: MathWorks, reference page of rgb2lab. The primaries, yellow and
/// #777777: worked out with another program from the standard (IEC 61966-2-1
/// and CIE 15). Grey 128: a public test pack prints 53.6.
#[test]
fn lab_of_srgb() {
    for (colour, expected) in [
        ([255, 255, 255], [100.0, 0.0, 0.0]),
        ([255, 0, 0], [53.2408, 80.0925, 67.2032]),
        ([0, 255, 0], [87.7347, -86.1827, 83.1793]),
        ([0, 0, 255], [32.2970, 79.1875, -107.8602]),
        ([128, 128, 128], [53.585, 0.0, 0.0]),
        ([119, 119, 119], [50.0344, 0.0, 0.0]),
        ([255, 255, 0], [97.1393, -21.5537, 94.478]),
    ] {
        near(Rgb(colour).lab(), expected, 0.02, &Rgb(colour).to_string());
    }
}

/// MathWorks, reference page of lab2rgb: 0.7359 0.6566 0.6010.
#[test]
fn srgb_of_lab() {
    assert_eq!(lab(70.0, 5.0, 10.0).rgb(), Rgb([188, 167, 153]));
}

/// W3C, Web Content Accessibility Guidelines, definition of contrast ratio
/// (black on white); Manning, Math for Web Design; the others worked out with
/// another program from the same definition.
#[test]
fn contrast_of_the_web_guidelines() {
    for (one, other, expected, tolerance) in [
        ("#000000", "#ffffff", 21.0, 1e-9),
        ("#767676", "#ffffff", 4.5422, 5e-5),
        ("#777777", "#ffffff", 4.4781, 5e-5),
        ("#0000ff", "#ffffff", 8.5925, 5e-5),
        ("#0000ff", "#ff0000", 2.1489, 5e-5),
        ("#ffff00", "#ffffff", 1.0738, 5e-5),
        ("#949494", "#ffffff", 3.03, 5e-3),
        ("#595959", "#ffffff", 7.00, 5e-3),
        ("#808080", "#ffffff", 3.95, 5e-3),
    ] {
        for (a, b) in [(one, other), (other, one)] {
            let found = rgb(a).contrast(rgb(b));
            assert!((found - expected).abs() <= tolerance, "{a} on {b}: {found}");
        }
    }
    // The thresholds themselves: #767676 just passes 4.5, #777777 just fails.
    assert!(rgb("#767676").contrast(rgb("#ffffff")) >= 4.5);
    assert!(rgb("#777777").contrast(rgb("#ffffff")) < 4.5);
    for (primary, luminance) in [("#ff0000", 0.2126), ("#00ff00", 0.7152), ("#0000ff", 0.0722)] {
        assert!((rgb(primary).luminance() - luminance).abs() < 1e-12);
    }
}

/// sRGB changes its rule at 0.04045; W3C once printed 0.03928. No colour of 8
/// bits lies between the two.
#[test]
fn the_two_printed_breaks_of_srgb_are_one_for_8_bits() {
    assert!((0..=255u8).all(|c| {
        let v = f64::from(c) / 255.0;
        (v <= 0.04045) == (v <= 0.03928)
    }));
}

/// Sharma, Wu and Dalal 2005, The CIEDE2000 color-difference formula, Color
/// Research and Application 30(1) 21-30, table 1.
const PAIRS: [([f64; 3], [f64; 3], f64); 13] = [
    ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
    ([50.0, 3.1571, -77.2803], [50.0, 0.0, -82.7485], 2.8615),
    ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0000),
    ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
    ([50.0, 2.4900, -0.0010], [50.0, -2.4900, 0.0011], 7.2195),
    ([50.0, -0.0010, 2.4900], [50.0, 0.0009, -2.4900], 4.8045),
    ([50.0, 2.5, 0.0], [50.0, 0.0, -2.5], 4.3065),
    ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
    ([50.0, 2.5, 0.0], [56.0, -27.0, -3.0], 31.9030),
    ([50.0, 2.5, 0.0], [58.0, 24.0, 15.0], 19.4535),
    ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.2630),
    ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
    ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
];

#[test]
fn ciede2000() {
    for ([l1, a1, b1], [l2, a2, b2], expected) in PAIRS {
        let (one, other) = (lab(l1, a1, b1), lab(l2, a2, b2));
        // Pair 8 of the table is pair 7 swapped: the way round does not matter.
        for found in [one.difference(other), other.difference(one)] {
            assert!(
                (found - expected).abs() <= 1e-4,
                "{one:?} {other:?}: {found}, not {expected}"
            );
        }
    }
}
