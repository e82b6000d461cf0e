//! Strips between the units: upright ones beside each unit; level ones as long
//! as a unit with posts where they cross, or running through.

use super::grid::Between;
use super::patches::squares;
use super::patchwork::PatchworkOf;
use super::write::Writer;
use crate::figures::{PatchCut, SashingFigures, Size, StripCut, StripKind};
use crate::measure::Round;
use crate::plan::Sashing;

pub(super) struct Sashed {
    pub strips: Vec<StripCut>,
    pub posts: Vec<PatchCut>,
    pub figures: SashingFigures,
}

/// The sashing of `columns` by `rows` units in all panels. Strips that run
/// through are as long as the row comes out by the marks it is cut by.
pub(super) fn strips(
    of: &PatchworkOf,
    sashing: &Sashing,
    as_cut: Between,
    columns: i64,
    rows: i64,
    write: &mut Writer,
) -> Sashed {
    let cutting = of.cutting;
    let unit = cutting.unit;
    let finished = of.finished();
    let (beside, above) = (as_cut.strips(columns), as_cut.strips(rows));
    let wide = cutting.square(sashing.width);
    let strip = |what: &str, width, height, count: i64| StripCut {
        kind: StripKind::Sashing,
        cloth: sashing.cloth.clone(),
        what: what.into(),
        cut: Size { width, height },
        count: count.saturating_mul(of.panels),
    };
    let upright = strip(
        "upright sashing strips beside the units",
        wide,
        cutting.square(finished.height),
        beside.saturating_mul(rows),
    );
    let level = if sashing.posts.is_some() {
        let wide_unit = cutting.square(finished.width);
        strip(
            "level sashing strips above and below the units",
            wide_unit,
            wide,
            columns.saturating_mul(above),
        )
    } else {
        let long = cutting.up(as_cut.sewn(columns, cutting.as_cut(finished.width)) + cutting.seam * 2);
        strip("level sashing strips between the rows", long, wide, above)
    };
    let mut posts = Vec::new();
    if let Some(cloth) = &sashing.posts {
        let count = beside.saturating_mul(above).saturating_mul(of.panels);
        let label = format!("sashing posts {} finished", write.one(sashing.width, Round::Nearest));
        posts.extend(squares(of, cloth, sashing.width, count, label));
    }
    let strips: Vec<StripCut> = [upright, level].into_iter().filter(|s| s.count > 0).collect();
    for strip in &strips {
        write.line(format!("{} {}, cut {}.", strip.count, strip.what, strip.cut.cut(unit)));
    }
    for post in &posts {
        write.line(format!(
            "{} posts where they cross, cut {}.",
            post.patches,
            post.cut.cut(unit)
        ));
    }
    Sashed {
        strips,
        posts,
        figures: SashingFigures {
            width: sashing.width,
            around: sashing.around,
            posts: sashing.posts.is_some(),
        },
    }
}

/// The sashing of blocks on point: a strip at each side of each block, posts at
/// their corners, those at the edge of the panel too.
pub(super) fn round_blocks(
    of: &PatchworkOf,
    sashing: &Sashing,
    columns: i64,
    rows: i64,
    blocks: i64,
    sides: i64,
    write: &mut Writer,
) -> Sashed {
    let cutting = of.cutting;
    // Four sides of each block, two of each side triangle and one of each
    // corner triangle, and every strip lies between two of them.
    let between = (blocks.saturating_mul(4).saturating_add(sides * 2 + 4)) / 2;
    let strip = StripCut {
        kind: StripKind::Sashing,
        cloth: sashing.cloth.clone(),
        what: "sashing strips round the blocks".into(),
        cut: Size {
            width: cutting.square(sashing.width),
            height: cutting.square(of.face.finished),
        },
        count: between.saturating_mul(of.panels),
    };
    write.line(format!(
        "{} {}, cut {}.",
        strip.count,
        strip.what,
        strip.cut.cut(cutting.unit)
    ));
    let mut posts = Vec::new();
    if let Some(cloth) = &sashing.posts {
        // One above and below each outer block, one beside each.
        let count = columns
            .saturating_mul(rows + 1)
            .saturating_add((columns + 1).saturating_mul(rows));
        let label = format!("sashing posts {} finished", write.one(sashing.width, Round::Nearest));
        posts.extend(squares(
            of,
            cloth,
            sashing.width,
            count.saturating_mul(of.panels),
            label,
        ));
    }
    for post in &posts {
        write.line(format!(
            "{} posts at their corners, cut {}; those at the edge of the panel are cut through their middle when it is trimmed.",
            post.patches,
            post.cut.cut(cutting.unit)
        ));
    }
    Sashed {
        strips: vec![strip],
        posts,
        figures: SashingFigures {
            width: sashing.width,
            around: true,
            posts: true,
        },
    }
}
