//! Rules of the trade for one button or snap: how far it reaches beyond the
//! centre line, how long its hole is, which trade size it is.

use crate::measure::{INCH, Length, QUARTER};

/// A rule with the place where it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    pub length: Length,
    pub words: &'static str,
    pub source: &'static str,
}

/// A button this small counts as tiny in the rule of the whole diameter.
const TINY: Length = Length::from_units(INCH.units() * 38 / 100);
const HOLE_EXTRA: Length = Length::inches_frac(1, 8);

/// How far a front reaches beyond its centre line. The first is the one the
/// figures use; the others are printed too and differ. Rounded up to 1/640 mm.
pub fn extension_rules(diameter: Length) -> [Rule; 4] {
    let tiny = diameter.is_positive() && diameter <= TINY;
    [
        Rule {
            length: diameter.scale_up(1, 2) + QUARTER,
            words: "half the diameter (of a snap, half its width) and 1/4 in",
            source: "ASDP standards, mysuitshop.com/ASDP_standards24.php",
        },
        Rule {
            length: if tiny { diameter.scale_up(3, 2) } else { diameter },
            words: if tiny {
                "one and a half diameters of a tiny button"
            } else {
                "the whole diameter"
            },
            source: "dresspatternmaking.com/garment-elements/button-extension-placket",
        },
        Rule {
            length: diameter.scale_up(3, 4),
            words: "three quarters of the diameter",
            source: "trantor.is, book excerpt ch0708",
        },
        Rule {
            length: diameter.scale_up(1, 2),
            words: "half the diameter at least",
            source: "ICAR e-course, ecoursesonline.iasri.res.in/mod/page/view.php?id=27312",
        },
    ]
}

/// Length of a buttonhole: the button must pass with its thickness, and at
/// least 1/8 in is added.
pub fn buttonhole(diameter: Length, thickness: Length) -> Length {
    diameter + thickness.max(HOLE_EXTRA)
}

pub const BUTTONHOLE_SOURCE: &str = "diameter and thickness (from memory), and never less than 1/8 in more than the \
     diameter (trantor.is, book excerpt; 1/8 to 1/4 in: thebuttonqueen.co.uk)";

/// Where a hole that lies across begins, beyond the centre line toward the edge:
/// the shank pulls the button back onto the line.
pub const HOLE_STARTS: Length = Length::inches_frac(1, 8);

/// What takes the place of the diameter for a square button: its diagonal,
/// rounded up to 1/640 mm.
pub fn square_button(side: Length) -> Length {
    side.times_irrational_up(std::f64::consts::SQRT_2)
}

/// Trade sizes in ligne; 40 are 25.4 mm exactly.
pub const LIGNES: [i64; 17] = [12, 14, 16, 18, 20, 22, 24, 28, 30, 32, 34, 36, 38, 40, 45, 48, 60];

/// Diameter of a trade size, to the nearest 1/640 mm.
pub fn ligne_diameter(ligne: i64) -> Length {
    (INCH * ligne).round_to(Length::from_units(40)).scale_down(1, 40)
}

/// The trade size nearest to a diameter; of two as near, the larger.
pub fn nearest_ligne(diameter: Length) -> i64 {
    LIGNES
        .into_iter()
        .min_by_key(|l| ((ligne_diameter(*l) - diameter).abs(), -l))
        .unwrap_or(LIGNES[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thick_button_needs_a_longer_hole() {
        assert_eq!(buttonhole(INCH, Length::ZERO), Length::inches_frac(9, 8));
        assert_eq!(buttonhole(INCH, Length::inches_frac(1, 4)), Length::inches_frac(5, 4));
    }

    #[test]
    fn a_diameter_between_two_sizes_takes_the_larger() {
        let middle = (ligne_diameter(40) + ligne_diameter(45)).scale_down(1, 2);
        assert_eq!(nearest_ligne(middle), 45);
        assert_eq!(nearest_ligne(middle - Length::from_units(1)), 40);
        assert_eq!(nearest_ligne(Length::ZERO), 12);
        assert_eq!(nearest_ligne(INCH * 9), 60);
    }
}
