//! What no layout on cloth from the bolt can be shorter than.

use super::prepared::{Field, Prepared};

impl Prepared {
    /// The largest of: the area over the width; the longest piece; all edges
    /// that lie on the fold, one after the other. On remnants nothing.
    pub(super) fn least_length(&self) -> f64 {
        let Field::Strip { width } = self.field else { return 0.0 };
        let longest = self
            .kinds
            .iter()
            .map(|kind| {
                let ways = kind.ways.iter().filter(|w| w.height <= width + super::outline::TOUCH);
                ways.map(|w| w.width).fold(f64::INFINITY, f64::min)
            })
            .filter(|w| w.is_finite())
            .fold(0.0, f64::max);
        let on_fold = self
            .copies
            .iter()
            .map(|c| &self.kinds[c.kind])
            .filter(|k| k.pinned)
            .map(|kind| {
                super::outline::edges(&kind.ways[0].outline)
                    .filter(|(a, b)| a.y.abs().max(b.y.abs()) < super::outline::TOUCH)
                    .map(|(a, b)| (b.x - a.x).abs())
                    .sum::<f64>()
            })
            .sum::<f64>();
        (self.area / width).max(longest).max(on_fold)
    }
}
