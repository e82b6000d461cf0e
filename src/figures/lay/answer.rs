//! A layout as it is drawn, and what is to be bought for it.

use super::{LayGround, LayJob, LayTurns};
use crate::drafting::lay::{Layout, TOUCH};
use crate::figures::cloth::to_ask_for;
use crate::measure::{Length, Percent, Round};
use kurbo::Point;

/// What a layout comes to. Drawings are in millimetres, x across the cloth, y along it.
#[derive(Clone, Debug)]
pub struct LayFigures {
    pub sheets: Vec<LaySheet>,
    /// Length of cloth the pieces take, rounded up; nothing on remnants.
    pub length: Length,
    /// `length` with what is lost to straightening.
    pub needed: Length,
    /// What to ask for in a shop if none of it is at hand.
    pub to_buy: Length,
    /// Whether the length at hand is enough.
    pub at_hand: bool,
    /// How much of the cloth is pieces, rounded down.
    pub percent: u32,
    pub working: Vec<String>,
    pub cautions: Vec<String>,
}

/// A length of cloth or a remnant, and what lies on it.
#[derive(Clone, Debug)]
pub struct LaySheet {
    pub name: String,
    /// Its edge: of cloth from the bolt the length that is used.
    pub outline: Vec<Point>,
    pub folded: bool,
    pub from_bolt: bool,
    pub pieces: Vec<LaidPiece>,
}

#[derive(Clone, Debug)]
pub struct LaidPiece {
    pub name: String,
    pub letter: String,
    pub outline: Vec<Point>,
    /// From the top of the piece to its bottom.
    pub grain: [Point; 2],
    /// Which copy of it, from 0.
    pub copy: usize,
    /// Quarter turns from how it is drawn in the pattern.
    pub quarters: u32,
    /// Lies with its other face up than it is drawn in the pattern.
    pub mirrored: bool,
    pub on_fold: bool,
}

fn across(p: Point) -> Point {
    Point::new(p.y, p.x)
}

impl LayJob<'_> {
    pub fn answer(&self, layout: &Layout) -> LayFigures {
        let a = &self.plan.allowances;
        let unit = self.plan.unit;
        let from_bolt = matches!(self.ground, LayGround::Single | LayGround::Folded);
        // Rounded up, here and once. Not for the touches alone: pieces that lie edge
        // to edge would come out an eighth of an inch longer for a millionth of a millimetre.
        let touches = layout.placements.len() as f64 * 3.0 * TOUCH;
        let length = Length::from_units(((layout.length - touches) * 640.0).ceil() as i64);
        let needed = length + a.straightening;
        let to_buy = to_ask_for(needed, self.cloth.shrinkage, a.shop_step);
        let mut figures = LayFigures {
            sheets: self.sheets(layout),
            length: if from_bolt { length } else { Length::ZERO },
            needed: if from_bolt { needed } else { Length::ZERO },
            to_buy: if from_bolt { to_buy } else { Length::ZERO },
            at_hand: from_bolt && needed <= self.cloth.owned,
            percent: (layout.density * 100.0).floor() as u32,
            working: Vec::new(),
            cautions: self.cautions(),
        };
        if from_bolt {
            figures.working.push(format!(
                "Pieces reach {} along the cloth; {} % of that is pieces.",
                length.both(unit, Round::Up),
                figures.percent
            ));
            figures.working.push(format!(
                "{} + {} lost to straightening = {}.",
                length.both(unit, Round::Up),
                a.straightening.both(unit, Round::Nearest),
                needed.both(unit, Round::Up)
            ));
            if self.cloth.shrinkage > Percent::ZERO {
                figures
                    .working
                    .push(format!("It shrinks {} in the first wash.", self.cloth.shrinkage));
            }
            figures.working.push(format!(
                "Up to the shop's step of {}: {}.",
                a.shop_step.both_cloth(unit, Round::Nearest),
                to_buy.both_cloth(unit, Round::Up)
            ));
        } else {
            figures
                .working
                .push(format!("{} % of the remnants is pieces.", figures.percent));
        }
        figures
    }

    /// No layout is shorter than this: what must at least be there.
    pub fn least_needed(&self, least: f64) -> Length {
        Length::from_units((least * 640.0).floor() as i64) + self.plan.allowances.straightening
    }

    fn sheets(&self, layout: &Layout) -> Vec<LaySheet> {
        let frames: Vec<(String, Vec<Point>)> = match &self.problem.cloth {
            crate::drafting::lay::Cloth::Remnants(outlines) => {
                let names = self.leftovers.iter().map(|l| l.name.clone());
                names.zip(outlines.iter().cloned()).collect()
            }
            crate::drafting::lay::Cloth::Single { width } => {
                vec![(self.cloth.name.clone(), strip(*width, layout.length))]
            }
            crate::drafting::lay::Cloth::Folded { width } => {
                vec![(
                    format!("{}, folded", self.cloth.name),
                    strip(width / 2.0, layout.length),
                )]
            }
        };
        let from_bolt = self.leftovers.is_empty();
        frames
            .into_iter()
            .enumerate()
            .map(|(at, (name, outline))| {
                let pieces = layout.placements.iter().filter(|p| p.remnant == at).map(|placement| {
                    let piece = &self.pieces[placement.piece];
                    LaidPiece {
                        name: piece.name.clone(),
                        letter: piece.letter.clone(),
                        outline: placement
                            .place(piece.outline(self.ground))
                            .into_iter()
                            .map(across)
                            .collect(),
                        grain: piece.grain(self.ground).map(|p| across(placement.at * p)),
                        copy: placement.copy,
                        quarters: (placement.turn / 90.0).round().rem_euclid(4.0) as u32,
                        mirrored: placement.mirrored && !self.problem.pieces[placement.piece].on_fold,
                        on_fold: self.problem.pieces[placement.piece].on_fold,
                    }
                });
                LaySheet {
                    name,
                    outline: outline.into_iter().map(across).collect(),
                    folded: self.ground == LayGround::Folded,
                    from_bolt,
                    pieces: pieces.collect(),
                }
            })
            .filter(|sheet| from_bolt || !sheet.pieces.is_empty())
            .collect()
    }

    fn cautions(&self) -> Vec<String> {
        let mut cautions: Vec<String> = self.pieces.iter().filter_map(|p| p.opened_out.clone()).collect();
        if self.cloth.one_way && self.turns != LayTurns::OneWay {
            cautions.push("This cloth runs one way, and here pieces may be turned: mind that every top points the same way, or choose one way.".into());
        }
        if self.turns == LayTurns::Across {
            cautions.push("Pieces that lie across the grain hang and stretch otherwise than those along it.".into());
        }
        if self.ground == LayGround::Folded {
            let odd: Vec<&str> = self
                .problem
                .pieces
                .iter()
                .filter(|p| !p.on_fold && p.count % 2 == 1)
                .map(|p| p.name.as_str())
                .collect();
            if !odd.is_empty() {
                cautions.push(format!(
                    "Folded cloth gives two at every cut: one to spare of {}.",
                    odd.join(", ")
                ));
            }
            cautions
                .push("Lay the fold along a thread of the cloth, and pin both layers: what slips is cut askew.".into());
        } else if self.pieces.iter().any(|p| p.mirrored) {
            cautions.push(
                "Of a pair one copy is turned over: lay it as it is drawn, all on the same face of the cloth.".into(),
            );
        }
        if self.pieces.iter().any(|p| !p.outlined) {
            cautions.push(
                "Pieces without an outline, and panels that are quilted or trimmed first, are laid as rectangles."
                    .into(),
            );
        }
        cautions.push("Only these pieces are laid. Patches, strips and bindings of this cloth come on top: see its cutting layout.".into());
        cautions.push("Rotary cutters and shears cut more than cloth: close the blade after every cut, keep fingers, children and animals away.".into());
        cautions
    }
}

fn strip(width: f64, length: f64) -> Vec<Point> {
    [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
        .map(Point::from)
        .to_vec()
}
