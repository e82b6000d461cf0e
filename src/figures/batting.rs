//! Batting sold ready packed: which package serves the battings of a plan.

use super::layout::{Job, with_stock};
use super::panel::after_loss;
use super::{CutLine, PieceFigures, Purpose, Shown, Size};
use crate::figures::check::{Checked, called};
use crate::measure::{Area, INCH, Length, Percent, Round};
use crate::plan::{Cloth, ClothKind, Plan, Remnant, limits};
use serde::Serialize;

/// More packages than this are no help to anyone.
const MOST_PACKAGES: u32 = 40;
/// More battings than this are cut from a bolt.
const MOST_BATTINGS: i64 = 400;

/// A size batting is packed in: inches, and who prints it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Packed {
    pub name: &'static str,
    pub width: i64,
    pub length: i64,
    pub source: &'static str,
}

const PROJECT: &str =
    "Project12 2012, Quilting basics, project12quilts.blogspot.com/2012/01/quilting-basics-standard-quilt-sizes.html";
const ALL_THREE: &str = "Project12 2012, project12quilts.blogspot.com/2012/01/quilting-basics-standard-quilt-sizes.html; \
     Honey Be Good 2012, honeybegood.com/blogs/resources/12653533-common-quilt-and-batting-sizes; \
     Primitive Quilts, primitivequiltsandprojects.com/blog/quilt-size-measurements/";
const LESS: &str = "Honey Be Good 2012, honeybegood.com/blogs/resources/12653533-common-quilt-and-batting-sizes; \
     Primitive Quilts, primitivequiltsandprojects.com/blog/quilt-size-measurements/; another source prints more, \
     so the smaller is counted";

/// Packaged sizes; where the sources differ, the smaller.
pub const PACKED: [Packed; 6] = [
    packed("craft", 34, 45, PROJECT),
    packed("crib", 45, 60, ALL_THREE),
    packed("twin", 72, 90, ALL_THREE),
    packed("full", 81, 96, LESS),
    packed("queen", 90, 108, ALL_THREE),
    packed("king", 120, 120, LESS),
];

const fn packed(name: &'static str, width: i64, length: i64, source: &'static str) -> Packed {
    Packed {
        name,
        width,
        length,
        source,
    }
}

/// What a kind of batting is said to lose in the first wash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BattingShrinkage {
    /// Words in its fibre, any of which name it.
    words: &'static [&'static str],
    pub kind: &'static str,
    /// Per cent, from and to.
    pub from: i64,
    pub to: i64,
    pub source: &'static str,
}

/// The first whose words stand in the fibre.
pub const SHRINKAGE: [BattingShrinkage; 4] = [
    BattingShrinkage {
        words: &["bamboo"],
        kind: "bamboo and cotton",
        from: 2,
        to: 3,
        source: "The Quilt Orchard 2013, thequiltorchard.blogspot.com/2013/09",
    },
    BattingShrinkage {
        words: &["cotton"],
        kind: "cotton",
        from: 3,
        to: 5,
        source: "The Quilt Orchard 2013, thequiltorchard.blogspot.com/2013/09; its maker says 2 to 3 of natural fibres (Fairfield, fairfieldworld.com/faq/)",
    },
    BattingShrinkage {
        words: &["wool", "silk", "linen"],
        kind: "natural fibres",
        from: 2,
        to: 3,
        source: "Fairfield, fairfieldworld.com/faq/",
    },
    BattingShrinkage {
        words: &["polyester", "synthetic"],
        kind: "polyester",
        from: 0,
        to: 0,
        source: "Prism99, quiltingboard.com",
    },
];

/// What batting of this fibre is said to lose in the first wash.
pub fn said_to_shrink(fibre: &str) -> Option<&'static BattingShrinkage> {
    let fibre = fibre.to_lowercase();
    SHRINKAGE
        .iter()
        .find(|s| s.words.iter().any(|word| fibre.contains(word)))
}

/// The packages that would do for one batting of the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BattingFigures {
    pub cloth: String,
    pub name: String,
    /// All battings cut from it.
    pub count: i64,
    /// Sizes all of them can be cut from, up to the smallest of which one is enough.
    pub packages: Vec<Packages>,
    pub shown: Shown,
}

/// So many packages of one size.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Packages {
    pub name: &'static str,
    pub size: Size,
    pub count: i64,
    /// One of it does, or where none does by itself these take the least batting.
    pub best: bool,
    pub source: &'static str,
}

/// For every batting of the plan something is cut from.
pub(super) fn battings(plan: &Plan, checked: &Checked, pieces: &[(usize, PieceFigures)]) -> Vec<BattingFigures> {
    let sound = plan.cloths.iter().zip(&checked.cloths);
    sound
        .filter(|(cloth, sound)| **sound && cloth.kind == ClothKind::Batting)
        .filter_map(|(cloth, _)| of_cloth(plan, pieces, cloth))
        .collect()
}

fn of_cloth(plan: &Plan, pieces: &[(usize, PieceFigures)], cloth: &Cloth) -> Option<BattingFigures> {
    let mut lines: Vec<CutLine> = Vec::new();
    for (n, figures) in pieces {
        let layers = plan.pieces.get(*n).and_then(|p| p.layers.as_ref());
        let here = layers.is_some_and(|l| l.batting.as_deref() == Some(&cloth.id));
        let Some(size) = figures.batting.filter(|_| here) else {
            continue;
        };
        lines.push(CutLine {
            purpose: Purpose::Batting,
            pieces: vec![figures.name.clone()],
            cut: size,
            count: figures.count,
            may_turn: !cloth.one_way,
            patches: figures.count,
            strips: None,
        });
    }
    let count: i64 = lines.iter().map(|l| l.count).sum();
    if !(1..=MOST_BATTINGS).contains(&count) || lines.len() > limits::PIECES {
        return None;
    }
    // Each lies within the next: where one is enough, one of any larger is too.
    let mut packages: Vec<Packages> = Vec::new();
    for packed in PACKED {
        packages.extend(needed(packed, &lines, cloth.shrinkage));
        if packages.last().is_some_and(|p| p.count == 1) {
            break;
        }
    }
    // Of those of which one does the smallest; else the least batting in all.
    let rank = |p: &Packages| {
        let area = i128::from(p.size.width.units()) * i128::from(p.size.height.units()) * i128::from(p.count);
        (p.count > 1, area, p.count)
    };
    let best = packages.iter().map(rank).min();
    for package in &mut packages {
        package.best = Some(rank(package)) == best;
    }
    let shown = shown(plan, cloth, &lines, &packages);
    Some(BattingFigures {
        cloth: cloth.id.clone(),
        name: called(&cloth.name, &cloth.id),
        count,
        packages,
        shown,
    })
}

/// How many packages of one size all battings take, each laid out on one of
/// them, whichever way round takes fewer. What the wash takes of a package is
/// counted both ways. `None` where one is larger than the package.
fn needed(packed: Packed, lines: &[CutLine], shrinkage: Percent) -> Option<Packages> {
    let (short, long) = (INCH * packed.width, INCH * packed.length);
    let washed = |length: Length| after_loss(length, shrinkage);
    let ways = [(washed(short), washed(long)), (washed(long), washed(short))];
    let count = ways.iter().filter_map(|(w, l)| packages_of(*w, *l, lines)).min()?;
    Some(Packages {
        name: packed.name,
        size: Size {
            width: short,
            height: long,
        },
        count,
        best: false,
        source: packed.source,
    })
}

fn packages_of(width: Length, length: Length, lines: &[CutLine]) -> Option<i64> {
    let fits = |line: &CutLine| {
        let (w, h) = (line.cut.width, line.cut.height);
        (w <= width && h <= length) || (line.may_turn && h <= width && w <= length)
    };
    if !lines.iter().all(fits) {
        return None;
    }
    let job = Job::new(lines, width, Length::ZERO);
    // All of it on one, by the best search there is; else one after the other.
    let strips = job.about_least(Length::from_units(1));
    let area: Area = lines
        .iter()
        .map(|l| Area::of(l.cut.width, l.cut.height) * l.count)
        .fold(Area::ZERO, |sum, area| sum + area);
    let on_one = strips.length(Length::ZERO) <= length
        || (area <= Area::of(width, length)
            && (job.deeper(length, Length::from_units(1))).is_some_and(|bolt| bolt.length(Length::ZERO) <= length));
    if on_one {
        return Some(1);
    }
    let package = Remnant {
        width,
        length,
        count: MOST_PACKAGES,
    };
    let stocked = with_stock(&job, &strips, &[(0, &package)], Length::ZERO);
    let all = !stocked.taken_from_bought().is_positive();
    all.then(|| stocked.sheets.iter().map(|s| s.times).sum())
}

fn shown(plan: &Plan, cloth: &Cloth, lines: &[CutLine], packages: &[Packages]) -> Shown {
    let unit = plan.unit;
    let mut shown = Shown::default();
    for line in lines {
        shown.working.push(format!(
            "{} × {} for {}.",
            line.count,
            line.cut.both(unit, Round::Up),
            line.pieces.join(", ")
        ));
    }
    for package in packages {
        let size = package.size.both(unit, Round::Nearest);
        shown.working.push(match package.count {
            1 => format!(
                "One {} package of {size} gives all of them. {}.",
                package.name, package.source
            ),
            n => format!(
                "{n} {} packages of {size} give all of them. {}.",
                package.name, package.source
            ),
        });
    }
    if packages.is_empty() {
        shown
            .cautions
            .push("One of them is larger than any package: cut it from the length, or join packages.".into());
    } else {
        shown
            .cautions
            .push("Packages differ by maker: measure what is in it before cutting.".into());
    }
    if let Some(loss) = said_to_shrink(&cloth.fibre) {
        let much = match (loss.from, loss.to) {
            (0, 0) => "is said not to shrink".to_string(),
            (from, to) => format!("is said to shrink {from} to {to} % in the first wash"),
        };
        shown.working.push(format!(
            "Batting of {} {much} ({}); counted for this one: {}. Shrink it before it is cut, or set its shrinkage.",
            loss.kind, loss.source, cloth.shrinkage
        ));
    }
    if cloth.shrinkage > Percent::ZERO && !packages.is_empty() {
        shown.working.push(format!(
            "Each package is counted {} shorter and narrower, for the first wash.",
            cloth.shrinkage
        ));
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    fn packages(pieces: &[(i64, i64, i64)], fibre: &str) -> BattingFigures {
        let pieces: Vec<String> = pieces
            .iter()
            .enumerate()
            .map(|(n, (count, width, height))| {
                format!(
                    r#"{{"id":"p{n}","name":"Piece {n}","cut_count":{count},"width":"{width} in","height":"{height} in","take_up":"0 %","layers":{{"batting":"b"}}}}"#
                )
            })
            .collect();
        let plan = Plan::from_json(&format!(
            r#"{{"format":1,"allowances":{{"batting_overage":"3 in"}},
            "cloths":[{{"id":"b","name":"Wool","kind":"batting","fibre":"{fibre}","usable_width":"90 in"}}],"pieces":[{}]}}"#,
            pieces.join(",")
        ))
        .unwrap();
        work_out(&plan).batting.remove(0)
    }

    fn best(figures: &BattingFigures) -> (&'static str, i64) {
        let best = figures.packages.iter().find(|p| p.best).unwrap();
        (best.name, best.count)
    }

    #[test]
    fn the_smallest_package_that_gives_all() {
        // 40 x 60 with 3 in on every side: 46 x 66, too wide for a crib package.
        assert_eq!(best(&packages(&[(1, 40, 60)], "wool")), ("twin", 1));
        // 45 x 60 exactly, and turned.
        assert_eq!(best(&packages(&[(1, 39, 54)], "wool")), ("crib", 1));
        assert_eq!(best(&packages(&[(1, 54, 39)], "wool")), ("crib", 1));
        // Two of 36 x 45 lie on 72 x 90 four times over.
        assert_eq!(best(&packages(&[(4, 30, 39)], "wool")), ("twin", 1));
        // Two of 66 x 86 on no package but the largest, none of it for both: two of the next.
        let two = packages(&[(2, 60, 80)], "wool");
        assert_eq!(best(&two), ("twin", 2));
        assert!(packages(&[(1, 130, 130)], "wool").packages.is_empty());
    }

    #[test]
    fn what_the_wash_takes_of_a_package_is_counted() {
        // 45 x 60 exactly: with any loss the crib package is too small.
        let plan = |shrinkage: &str| {
            Plan::from_json(&format!(
                r#"{{"format":1,"allowances":{{"batting_overage":"0 in"}},
                "cloths":[{{"id":"b","name":"Wool","kind":"batting","usable_width":"90 in","shrinkage":"{shrinkage}"}}],
                "pieces":[{{"id":"p","name":"Top","cut_count":1,"width":"45 in","height":"60 in","take_up":"0 %","layers":{{"batting":"b"}}}}]}}"#
            ))
            .unwrap()
        };
        let found = |shrinkage: &str| work_out(&plan(shrinkage)).batting.remove(0);
        assert_eq!(best(&found("0 %")), ("crib", 1));
        assert_eq!(best(&found("3 %")), ("twin", 1));
        assert!(
            found("3 %")
                .shown
                .working
                .join(" ")
                .contains("3 % shorter and narrower")
        );
    }

    #[test]
    fn what_is_said_of_shrinkage_names_its_source() {
        let told = |fibre: &str| packages(&[(1, 20, 20)], fibre).shown.working.join(" ");
        assert!(told("80 % Cotton").contains("3 to 5 %"));
        assert!(told("bamboo and cotton").contains("2 to 3 %"));
        assert!(told("polyester").contains("not to shrink"));
        assert!(!told("kapok").contains("shrink"));
    }
}
