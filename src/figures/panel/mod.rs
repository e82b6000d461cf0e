//! From a piece to its panel: alterations, fold, margin, quilting take-up,
//! whole units across and down, patches.
//!
//! - [`altered`]: the piece with its alterations, unfolded
//! - [`plain`]: a face of one cloth
//! - [`patchwork`]: units, sashing and borders up to the size that is needed
//! - [`grid`]: units side by side, sashing between them
//! - [`on_point`]: blocks on their corners, with setting triangles
//! - [`rows`]: triangles, diamonds and hexagons in rows
//! - [`sashing`], [`borders`]: their strips
//! - [`patches`]: how many of each unit, and what they are cut from
//! - [`rules`]: how each cut size came about, and what to mind
//! - [`write`]: lengths in sentences

mod altered;
mod borders;
mod grid;
mod on_point;
mod patches;
mod patchwork;
mod plain;
mod rows;
mod rules;
mod sashing;
mod write;

use super::allowances::used;
use super::check::{Checked, called};
use super::take_up;
use super::units::{Cutting, coarse_mark};
use super::{AllowanceUsed, PanelFigures, PieceFigures, Problem, Shape, Shown, Size};
use crate::measure::{Length, Percent, Round};
use crate::plan::{Face, Piece, Plan};
use altered::altered;
pub(super) use patches::cuts_for;
use patchwork::PatchworkOf;
use plain::plain_panel;
use write::{Writer, decimal};

/// A length after a loss, never more than what is there.
pub(super) fn after_loss(length: Length, loss: Percent) -> Length {
    length.scale_down(10_000 - loss.as_hundredths(), 10_000)
}

/// The length that leaves `length` after a loss, never less.
pub(super) fn before_loss(length: Length, loss: Percent) -> Length {
    length.scale_up(10_000, (10_000 - loss.as_hundredths()).max(1))
}

/// The figures of every piece that can be worked out, beside its place in the
/// plan; what cannot be is added to the problems.
pub(super) fn pieces(plan: &Plan, checked: &Checked, problems: &mut Vec<Problem>) -> Vec<(usize, PieceFigures)> {
    let mut out = Vec::new();
    for (n, piece) in plan.pieces.iter().enumerate() {
        if !checked.pieces.get(n).is_some_and(|sound| sound.size) {
            continue;
        }
        match piece_figures(plan, piece, n, checked, problems) {
            Ok(figures) => out.push((n, figures)),
            Err(problem) => problems.push(problem),
        }
    }
    out
}

fn piece_figures(
    plan: &Plan,
    piece: &Piece,
    n: usize,
    checked: &Checked,
    problems: &mut Vec<Problem>,
) -> Result<PieceFigures, Problem> {
    let sound = checked.pieces[n];
    let unit = plan.unit;
    let at = format!("pieces/{}", piece.id);
    let name = called(&piece.name, &piece.id);
    let mut write = Writer {
        unit,
        shown: Shown::default(),
    };

    let finished = altered(piece, &at, &name, &mut write)?;
    let needed = Size {
        width: finished.width + piece.margin * 2,
        height: finished.height + piece.margin * 2,
    };
    if needed.width > Length::MAX || needed.height > Length::MAX {
        return Err(Problem {
            field: format!("{at}/width"),
            message: format!("{name} with its alterations and margin is longer than 200 m. Check the unit."),
        });
    }
    if piece.margin.is_positive() {
        write.line(format!(
            "With a margin of {} on every side to cut away: {}.",
            write.one(piece.margin, Round::Nearest),
            write.size(needed, Round::Up)
        ));
    }
    let quilted = piece.layers.is_some();
    let loss = if quilted {
        take_up::take_up(piece)
    } else {
        Percent::ZERO
    };
    if quilted {
        write.shown.working.extend(take_up::working(piece, unit));
        write.shown.cautions.extend(take_up::caution(piece));
    }
    let needed_before = Size {
        width: before_loss(needed.width, loss),
        height: before_loss(needed.height, loss),
    };
    if loss > Percent::ZERO {
        write.line(format!(
            "Quilting takes up {loss}: {} / (1 − {}) = {} wide, {} high before quilting.",
            write.one(needed.width, Round::Up),
            decimal(loss),
            needed_before.width.both(unit, Round::Up),
            needed_before.height.both(unit, Round::Up)
        ));
    } else if !quilted && piece.take_up > Percent::ZERO {
        write.shown.cautions.push(format!(
            "The take-up of {} is not counted: this piece has no layers. If it is quilted, say so.",
            piece.take_up
        ));
    } else if quilted {
        write.shown.cautions.push(
            "No take-up is counted. Quilting draws a panel in, mostly by 1 to 4 %: quilted and then cut, it may be too small."
                .into(),
        );
    }

    let panel = match &piece.face {
        Some(face) if sound.face => {
            let made = match face {
                Face::Plain(_) => Ok(plain_panel(needed_before, loss, &mut write)),
                Face::Patchwork(_) if !checked.allowances.seam => Err(None),
                Face::Patchwork(face) => {
                    let of = PatchworkOf {
                        face,
                        cutting: Cutting {
                            seam: plan.allowances.seam,
                            rule: plan.allowances.cutting_rule,
                            unit,
                        },
                        piece: &piece.id,
                        name: &name,
                        panels: i64::from(piece.cut_count),
                    };
                    of.panel(finished, needed_before, loss, &mut write).map_err(Some)
                }
            };
            match made {
                Ok(panel) => Some(panel),
                Err(problem) => {
                    problems.extend(problem);
                    None
                }
            }
        }
        _ => None,
    };

    // Layers are cut larger than the panel; where there is no face yet, than the least panel.
    let under = panel.as_ref().map_or(needed_before, |p| p.at_most);
    let grown = panel.as_ref().is_some_and(|p| p.before != under);
    if grown {
        write.line(format!(
            "Cut by the marks of a ruler, units may come out a little larger: the panel up to {}.",
            write.size(under, Round::Up)
        ));
    }
    let has = |layer: &Option<String>| layer.is_some();
    let face_known = piece.face.is_none() || panel.is_some();
    let layer = |there: bool, what: &str, overage: Length, write: &mut Writer| {
        there.then(|| {
            let size = Size {
                width: (under.width + overage * 2).ceil_to(coarse_mark(unit)),
                height: (under.height + overage * 2).ceil_to(coarse_mark(unit)),
            };
            write.line(format!(
                "{what}: the panel{} and {} on every side, {}.",
                if grown { " at its largest" } else { "" },
                write.one(overage, Round::Nearest),
                write.size(size, Round::Up)
            ));
            size
        })
    };
    let layers = piece.layers.clone().unwrap_or_default();
    let batting = layer(
        has(&layers.batting) && sound.batting && face_known && checked.allowances.batting_overage,
        "Batting",
        plan.allowances.batting_overage,
        &mut write,
    );
    let backing = layer(
        has(&layers.backing) && sound.backing && face_known && checked.allowances.backing_overage,
        "Backing",
        plan.allowances.backing_overage,
        &mut write,
    );

    if panel.is_some() && piece.layers.is_some() && piece.pattern.is_some() && !piece.margin.is_positive() {
        write.shown.cautions.push(
            "It is quilted and then cut to its outline, with nothing left round it to cut away: quilting pulls edges out of true. 1 to 2 in (2.5 to 5 cm) of margin on every side are common practice."
                .into(),
        );
    }
    write.shown.allowances = allowances_of(plan, piece, panel.as_ref(), batting.is_some(), backing.is_some());
    Ok(PieceFigures {
        piece: piece.id.clone(),
        name,
        count: i64::from(piece.cut_count),
        mirrored: piece.mirrored,
        finished,
        needed,
        needed_before,
        panel,
        batting,
        backing,
        shown: write.shown,
    })
}

fn allowances_of(
    plan: &Plan,
    piece: &Piece,
    panel: Option<&PanelFigures>,
    batting: bool,
    backing: bool,
) -> Vec<AllowanceUsed> {
    let mut fields = Vec::new();
    if panel.is_some_and(|p| p.units > 0) {
        fields.push("seam");
    }
    if panel.is_some_and(|p| {
        p.patches
            .iter()
            .any(|c| c.shape.yields() > 1 || c.shape == Shape::Triangle60)
    }) {
        fields.push("cutting_rule");
    }
    if batting {
        fields.push("batting_overage");
    }
    if backing {
        fields.push("backing_overage");
    }
    let mut list = Vec::new();
    if piece.margin.is_positive() {
        list.push(AllowanceUsed {
            name: "Margin to cut away, each side".into(),
            value: piece.margin.both(plan.unit, Round::Nearest),
            source: "set for this piece".into(),
        });
    }
    if piece.layers.is_some() && take_up::take_up(piece) > Percent::ZERO {
        list.push(AllowanceUsed {
            name: "Quilting take-up".into(),
            value: take_up::take_up(piece).to_string(),
            source: take_up::source(piece),
        });
    }
    list.extend(used(&plan.allowances, plan.unit, &fields));
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    fn piece(inside: &str) -> PieceFigures {
        let json = format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}}],
            "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"24 in",{inside}}}]}}"#
        );
        work_out(&Plan::from_json(&json).unwrap()).pieces.remove(0)
    }

    fn minds(figures: &PieceFigures, words: &str) -> bool {
        figures.shown.cautions.iter().any(|c| c.contains(words))
    }

    #[test]
    fn a_quilted_piece_without_take_up_is_pointed_out() {
        let face = r#""face":{"kind":"plain","cloth":"c1"}"#;
        let layers = r#""layers":{"backing":"c1"}"#;
        assert!(minds(&piece(&format!("{face},{layers}")), "No take-up is counted"));
        let with = piece(&format!(r#"{face},{layers},"take_up":"3 %""#));
        assert!(with.shown.cautions.is_empty(), "{:?}", with.shown.cautions);
        // And a take-up that no quilting stands behind.
        assert!(minds(&piece(&format!(r#"{face},"take_up":"3 %""#)), "is not counted"));
        assert!(piece(face).shown.cautions.is_empty());
    }

    #[test]
    fn rails_that_come_out_too_wide_are_trimmed() {
        let rail = |finished: &str, cloths: &str| {
            piece(&format!(
                r#""face":{{"kind":"patchwork","finished":"{finished}","arrangement":"all-alike","units":[{{"kind":"rail","cloths":[{cloths}]}}]}}"#
            ))
        };
        // 4 / 3 + 1/2 = 1.83, cut 1 7/8: three sewn measure 4 5/8, 1/8 in too wide.
        let thirds = rail("4 in", r#""c1","c1","c1""#);
        assert!(
            minds(&thirds, "up to 1/8 in (0.4 cm) too wide: trim it to 4 1/2 in"),
            "{:?}",
            thirds.shown.cautions
        );
        assert!(rail("4 in", r#""c1","c1""#).shown.cautions.is_empty());
    }

    #[test]
    fn a_quilted_outline_without_a_margin_is_pointed_out() {
        let pocket = |margin: &str, layers: &str| {
            let json = format!(
                r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}}],
                "drafts":[{{"id":"d1","name":"Pocket","seam":"3/8 in","kind":{{"patch-pocket":{{"width":"5 in","height":"6 in","corners":"0 in","hem":"1 in"}}}}}}],
                "pieces":[{{"id":"p1","name":"Pocket","cut_count":1,"width":"5 in","height":"6 in",
                "pattern":{{"from":{{"draft":{{"draft":"d1","part":"pocket"}}}}}},"face":{{"kind":"plain","cloth":"c1"}},"margin":"{margin}"{layers}}}]}}"#
            );
            work_out(&Plan::from_json(&json).unwrap_or_else(|e| panic!("{e}: {json}")))
                .pieces
                .remove(0)
        };
        let quilted = r#","take_up":"3 %","layers":{"backing":"c1"}"#;
        assert!(minds(&pocket("0 in", quilted), "nothing left round it"));
        assert!(!minds(&pocket("1 in", quilted), "nothing left round it"));
        assert!(!minds(&pocket("0 in", ""), "nothing left round it"));
    }
}
