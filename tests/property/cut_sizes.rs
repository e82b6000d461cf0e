//! Cut sizes by the way the work is sewn: what a unit measures once it is made
//! from patches cut so, worked out from plane geometry and not from the rules
//! the figures go by. `raw` is what every unit must be trimmed to.

use crate::cases;
use notchbook::figures::Size;
use notchbook::figures::units::Cutting;
use notchbook::measure::{EIGHTH, Length, MM, Unit as System};
use notchbook::plan::{CuttingRule, Part, Unit, UnitKind};
use proptest::prelude::*;

const ROOT_2: f64 = std::f64::consts::SQRT_2;
const ROOT_3: f64 = 1.732_050_807_568_877_2;
/// A unit of 1/640 mm or two are lost in the rounding of a floating number.
const HAIR: f64 = 2.0;

fn cutting() -> impl Strategy<Value = Cutting> {
    (
        prop_oneof![(1..9i64).prop_map(|n| EIGHTH * n), (3..20i64).prop_map(|n| MM * n)],
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(seam, exact, cm)| Cutting {
            seam,
            rule: if exact { CuttingRule::Exact } else { CuttingRule::Trade },
            unit: if cm { System::Cm } else { System::Inch },
        })
}

fn finished() -> impl Strategy<Value = Length> {
    prop_oneof![
        (8..200i64).prop_map(|n| EIGHTH * n),
        (20..700i64).prop_map(|n| MM * n),
        (20_000..400_000i64).prop_map(Length::from_units),
    ]
}

fn units(length: Length) -> f64 {
    length.units() as f64
}

proptest! {
    #![proptest_config(cases(1000))]

    /// Sewn from patches of these sizes, a unit is never smaller than the plain
    /// square beside it, and never larger than marks and the trade's additions make it.
    #[test]
    fn a_unit_can_be_trimmed_to_its_neighbours(cutting in cutting(), f in finished()) {
        let s = units(cutting.seam);
        let raw = units(cutting.square(f));
        prop_assert!(raw >= units(f) + 2.0 * s);
        let mark = units(EIGHTH);
        // The trade's additions are up to 1/8 in more, and a mark on top.
        let sewn = |what: &str, is: f64, slack: f64| {
            prop_assert!(is >= raw - HAIR, "{what}: {is} sewn, {raw} needed");
            prop_assert!(is <= raw + slack * mark, "{what}: {is} sewn for {raw}");
            Ok(())
        };
        // A diagonal seam takes s * sqrt 2 of the side.
        sewn("half-square", units(cutting.half_square(f)) - s * ROOT_2, 2.0)?;
        // The square inside the seam, cut along its diagonals and opened out.
        sewn("four at a time", (units(cutting.half_squares_four(f)) - 2.0 * s) / ROOT_2, 1.0)?;
        sewn("eight at a time", units(cutting.half_squares_eight(f)) / 2.0 - s * ROOT_2, 2.0)?;
        sewn("quarter-square", units(cutting.quarter_square(f)) - 2.0 * s * ROOT_2, 2.0)?;
        for n in 2..=8 {
            let square = Size { width: f, height: f };
            let strip = cutting.rail(square, n);
            let n = n as f64;
            sewn("rail", units(strip.width) * n - 2.0 * s * (n - 1.0), n)?;
            sewn("rail, its height", units(strip.height), 0.0)?;
        }
        // Parts of two, three and four across: each trimmed to its own square.
        for n in 2..=4usize {
            let part = cutting.square(cutting.part(f, n));
            let n = n as f64;
            sewn("parts", units(part) * n - 2.0 * s * (n - 1.0), n)?;
        }
        // A goose: the long side less a seam and the two slanting seams at each
        // end; two geese and their seam are as high as the unit.
        let geese = cutting.geese(f);
        let wide = units(geese.large) - 2.0 * s * (1.0 + ROOT_2) + 2.0 * s;
        sewn("goose, its width", wide, 2.0)?;
        let high = units(geese.large) / 2.0 - s * ROOT_2 + s;
        sewn("geese, their height", 2.0 * high - 2.0 * s, 2.0)?;
        let sky = units(geese.small) - s * ROOT_2;
        sewn("sky", 2.0 * sky - 2.0 * s, 4.0)?;
        // Centre on its point: its diagonal, less the seams, is the side.
        let squares = cutting.square_in_a_square(f);
        let across = (units(squares.centre) - 2.0 * s) * ROOT_2;
        sewn("square in a square", across + 2.0 * s, 2.0)?;
        let corner = units(squares.corner) - s * (2.0 + ROOT_2);
        sewn("its corners", 2.0 * corner + 2.0 * s, 4.0)?;
    }

    /// Patches with 60 degrees: what is inside their seams is at least as large
    /// as the finished patch.
    #[test]
    fn sixty_degrees(cutting in cutting(), f in finished()) {
        let (s, side) = (units(cutting.seam), units(f));
        let mark = units(EIGHTH);
        let triangle = cutting.triangle60(f);
        // Inside three seams: the height is three seams less.
        let inside = units(triangle.height) - 3.0 * s;
        prop_assert!(inside >= side * ROOT_3 / 2.0 - HAIR && inside <= side * ROOT_3 / 2.0 + mark + HAIR);
        prop_assert!(units(triangle.width) >= units(triangle.height) * 2.0 / ROOT_3 - HAIR, "the side the strip gives");
        prop_assert!(units(triangle.width) - 2.0 * ROOT_3 * s >= side - HAIR);
        let diamond = cutting.diamond60(f);
        let inside = units(diamond.height) - 2.0 * s;
        prop_assert!(inside >= side * ROOT_3 / 2.0 - HAIR && inside <= side * ROOT_3 / 2.0 + mark + HAIR);
        prop_assert!(units(diamond.width) >= units(diamond.height) * 2.0 / ROOT_3 * 1.5 - HAIR, "tip to tip");
        let hexagon = cutting.hexagon(f);
        let inside = units(hexagon.height) - 2.0 * s;
        prop_assert!(inside >= side * ROOT_3 - HAIR && inside <= side * ROOT_3 + mark + HAIR);
        prop_assert!(units(hexagon.width) >= units(hexagon.height) * 2.0 / ROOT_3 - HAIR, "tip to tip");
    }

    /// Setting triangles reach the corners of the blocks they lie between.
    #[test]
    fn setting_triangles_reach(cutting in cutting(), f in finished()) {
        let (s, side) = (units(cutting.seam), units(f));
        let mark = units(EIGHTH);
        // Inside its seams the long side is 2 s (1 + sqrt 2) shorter.
        let long = units(cutting.setting_side(f)) - 2.0 * s * (1.0 + ROOT_2);
        prop_assert!(long >= side * ROOT_2 - HAIR, "{long} of {}", side * ROOT_2);
        prop_assert!(long <= side * ROOT_2 + 4.0 * mark);
        // Inside its seams the short side is s (2 + sqrt 2) shorter.
        let short = units(cutting.setting_corner(f)) - s * (2.0 + ROOT_2);
        prop_assert!(short >= side / ROOT_2 - HAIR, "{short} of {}", side / ROOT_2);
        prop_assert!(short <= side / ROOT_2 + 4.0 * mark);
        let round = units(cutting.corners_round(f)) - s * (2.0 + ROOT_2);
        prop_assert!(round >= side / ROOT_2 - HAIR && round <= side / ROOT_2 + 4.0 * mark);
    }

    /// The patches of a unit, their finished areas added up, fill its square.
    #[test]
    fn patches_fill_their_unit(f in (8..80i64).prop_map(|n| EIGHTH * n * 12), kind in 0..9usize, across in 2..=4usize) {
        // A seam of next to nothing leaves the finished areas.
        let cutting = Cutting { seam: Length::from_units(1), rule: CuttingRule::Exact, unit: System::Inch };
        let cloths = |kind: UnitKind| vec!["c".to_string(); kind.positions().0];
        let mut made = vec![Unit::new(UnitKind::ALL[kind], cloths(UnitKind::ALL[kind]))];
        let parts = (0..across * across).map(|n| {
            let kind = UnitKind::ALL[(kind + n) % 4];
            Part { kind, cloths: cloths(kind), turn: 0 }
        });
        made.push(Unit { parts: parts.collect(), ..Unit::new(UnitKind::Composed, Vec::new()) });
        for unit in made {
            let cuts = cutting.unit_cuts(&unit, Size { width: f, height: f });
            let area: f64 = cuts
                .iter()
                .map(|c| units(c.cut.width) * units(c.cut.height) * c.patches as f64 / c.shape.yields() as f64)
                .sum();
            let whole = units(f) * units(f);
            // Each patch is cut up to 1/16 in.
            prop_assert!(area >= whole, "{:?}: {area} of {whole}", unit.kind);
            prop_assert!(area <= whole * 1.25, "{:?}: {area} of {whole}", unit.kind);
        }
    }
}
