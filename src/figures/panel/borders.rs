//! Borders from the inside out: the side strips first, then those at the top
//! and the bottom over their ends; or squares in the corners.

use super::patches::squares;
use super::patchwork::{Inside, PatchworkOf};
use super::write::Writer;
use crate::figures::{BorderFigures, PatchCut, Size, StripCut, StripKind};
use crate::measure::{Length, Round};

pub(super) struct Bordered {
    /// The panel when sewn in: the least, and as large as it may come out.
    pub least: Size,
    pub most: Size,
    pub strips: Vec<StripCut>,
    pub patches: Vec<PatchCut>,
    pub figures: Vec<BorderFigures>,
}

/// Borders round all panels. Strips are as long as the panel inside them may
/// come out.
pub(super) fn add(of: &PatchworkOf, inside: &Inside, write: &mut Writer) -> Bordered {
    let cutting = of.cutting;
    let mut made = Bordered {
        least: inside.least,
        most: inside.most,
        strips: Vec::new(),
        patches: Vec::new(),
        figures: Vec::new(),
    };
    let wider = |size: Size, by: Length| Size {
        width: size.width + by * 2,
        height: size.height + by * 2,
    };
    for (n, border) in of.face.borders.iter().enumerate() {
        let as_cut = cutting.as_cut(border.width);
        let wide = cutting.square(border.width);
        let outside = wider(made.most, as_cut);
        let long = |length: Length| cutting.up(length + cutting.seam * 2);
        let ends = if border.corners.is_some() {
            made.most.width
        } else {
            outside.width
        };
        let strip = |what: &str, width, height| StripCut {
            kind: StripKind::Border,
            cloth: border.cloth.clone(),
            what: format!("{what} strips of border {}", n + 1),
            cut: Size { width, height },
            count: of.panels.saturating_mul(2),
        };
        let strips = [
            strip("side", wide, long(made.most.height)),
            strip("top and bottom", long(ends), wide),
        ];
        write.line(format!(
            "Border {}, {} finished: {}.",
            n + 1,
            write.one(border.width, Round::Nearest),
            strips
                .iter()
                .map(|s| format!("{} {}, cut {}", s.count, s.what, s.cut.cut(cutting.unit)))
                .collect::<Vec<_>>()
                .join("; ")
        ));
        made.strips.extend(strips);
        if let Some(cloth) = &border.corners {
            let label = format!("border corners {} finished", write.one(border.width, Round::Nearest));
            let count = of.panels.saturating_mul(4);
            made.patches.extend(squares(of, cloth, border.width, count, label));
        }
        made.figures.push(BorderFigures {
            width: border.width,
            corners: border.corners.is_some(),
        });
        made.least = wider(made.least, border.width);
        made.most = outside;
    }
    if !made.strips.is_empty() {
        write.shown.cautions.push(
            "Measure the panel through its middle before its borders are cut, and cut them to that length: the edges of pieced work stretch."
                .into(),
        );
    }
    made
}
