//! What the figures say, as plain values. Pages and texts format these and
//! compute nothing.
//!
//! In JSON every [`Length`] is its exact text (`"10 1/2 in"`, `"27 mm"`);
//! counts are numbers.

use super::{CareFigures, ClosureFigures, CostFigures, SizingFigures, ThreadFigures};
use crate::measure::{Length, Money, Round, Unit};
use crate::plan::{BindingCut, ClothKind, Fold};
use serde::Serialize;

/// Something in the plan that a figure cannot be worked out from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Where: `pieces/p1/width`, `pieces/p1/face/finished`,
    /// `cloths/c2/usable_width`, `edges/e1/length`, `binding/finished_width`,
    /// `allowances/seam`; ids, not positions in a list.
    pub field: String,
    /// A sentence that says what to do.
    pub message: String,
}

/// How a figure came about.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Shown {
    /// Lines as a teacher would write them.
    pub working: Vec<String>,
    pub allowances: Vec<AllowanceUsed>,
    pub cautions: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AllowanceUsed {
    pub name: String,
    pub value: String,
    /// Where the default comes from; "common practice" where no source is printed.
    pub source: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Size {
    pub width: Length,
    pub height: Length,
}

impl Size {
    /// One system: `16 1/2 × 24 1/2 in`.
    pub fn one(self, unit: Unit, round: Round) -> String {
        match unit {
            Unit::Inch => joined(self.width.inches(round), self.height.inches(round)),
            Unit::Cm => joined(self.width.cm(round), self.height.cm(round)),
        }
    }

    /// What is cut, in one system, both sides also of a square.
    pub fn cut_one(self, unit: Unit) -> String {
        joined(self.width.cut_one(unit), self.height.cut_one(unit))
    }

    /// Both systems, each its pair: `16 1/2 × 24 1/2 in (42.0 × 62.2 cm)`.
    pub fn both(self, lead: Unit, round: Round) -> String {
        in_both(lead, |unit| self.one(unit, round))
    }

    /// What is cut, never printed smaller than it is; of a square one side.
    pub fn cut(self, lead: Unit) -> String {
        if self.width == self.height {
            return self.width.cut(lead);
        }
        in_both(lead, |unit| self.cut_one(unit))
    }
}

/// `16 1/2 in` and `24 1/2 in` as `16 1/2 × 24 1/2 in`.
fn joined(wide: String, high: String) -> String {
    let number = wide.rsplit_once(' ').map_or(wide.as_str(), |(number, _)| number);
    format!("{number} × {high}")
}

fn in_both(lead: Unit, one: impl Fn(Unit) -> String) -> String {
    match lead {
        Unit::Inch => format!("{} ({})", one(Unit::Inch), one(Unit::Cm)),
        Unit::Cm => format!("{} ({})", one(Unit::Cm), one(Unit::Inch)),
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Figures {
    pub unit: Unit,
    pub pieces: Vec<PieceFigures>,
    /// In the plan's order; a cloth nothing is cut from is there too, with an empty cut list.
    pub cloths: Vec<ClothFigures>,
    pub binding: Option<BindingFigures>,
    pub closures: Vec<ClosureFigures>,
    /// Where the plan counts thread.
    pub thread: Option<ThreadFigures>,
    /// Where the plan has the pattern's size table.
    pub sizing: Option<SizingFigures>,
    /// Where there is a material.
    pub care: Option<CareFigures>,
    pub cost: CostFigures,
    /// At published paces; [`super::time::expected`] knows those of past projects.
    pub time: super::time::TimeFigures,
    pub quilting: super::QuiltingFigures,
    /// For every batting something is cut from: the packages that would do.
    pub batting: Vec<super::BattingFigures>,
    pub totals: Totals,
    pub problems: Vec<Problem>,
}

impl Figures {
    /// Closures of all rows together.
    pub fn closures_in_all(&self) -> i64 {
        self.closures.iter().map(|c| c.count).sum()
    }
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Totals {
    /// Patches of all panels together (triangles counted one by one).
    pub patches: i64,
    /// Pieced units of all panels together.
    pub units: i64,
    pub panels: i64,
    /// Cost of what is to be bought, where every cloth to buy has a price.
    pub to_buy: Option<Money>,
    /// Cost of cloth to buy whose price is known, and names of those without a price.
    pub to_buy_known: Money,
    pub unpriced: Vec<String>,
    /// What to mind while cutting and sewing any of it.
    pub cautions: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceFigures {
    pub piece: String,
    pub name: String,
    /// Panels of this piece: its cut count.
    pub count: i64,
    pub mirrored: bool,
    /// The piece, whole (fold opened), with its alterations.
    pub finished: Size,
    /// The piece with the margin to be cut away: the least a panel must measure after quilting.
    pub needed: Size,
    /// The least a panel must measure before quilting.
    pub needed_before: Size,
    pub panel: Option<PanelFigures>,
    /// Per panel, one for each: batting and backing with overage.
    pub batting: Option<Size>,
    pub backing: Option<Size>,
    pub shown: Shown,
}

/// One panel of a piece. For plain cloth `columns` and `rows` are 1 and
/// `units` is 0.
///
/// What a drawing needs, all of one panel: where the units stand
/// ([`crate::plan::Patchwork::unit_at`] says which), their size, the setting,
/// and from the inside out sashing and borders.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PanelFigures {
    /// Units across. On point: outer blocks across, those that touch the top
    /// edge. In rows of triangles, diamonds or hexagons: patches in a row.
    pub columns: i64,
    /// Units down. On point: outer blocks down; the rows between are not counted.
    pub rows: i64,
    /// Pieced units in one panel; in rows of patches, the patches.
    pub units: i64,
    /// Side of a unit when sewn in, and before it is sewn in (trim to this).
    /// Patches in rows are not trimmed.
    pub unit_finished: Option<Length>,
    pub unit_trim: Option<Length>,
    /// The same of its height, where a unit is not square.
    pub unit_finished_height: Option<Length>,
    pub unit_trim_height: Option<Length>,
    pub setting: Setting,
    pub sashing: Option<SashingFigures>,
    /// From the inside out.
    pub borders: Vec<BorderFigures>,
    /// The units with their sashing when sewn in, without borders: rows of
    /// triangles, diamonds and hexagons with their ends cut off straight.
    pub inside: Size,
    /// Raw edge to raw edge, sewn, before quilting.
    pub before: Size,
    /// As large as `before` may come out where patches are cut by the ruler's
    /// marks and nothing is trimmed below them: layers are measured by this.
    pub at_most: Size,
    /// `before` after quilting, printed down: at least this much is there.
    pub after: Size,
    /// Patches of all panels of this piece; posts, border corners and setting
    /// triangles are among them.
    pub patches: Vec<PatchCut>,
    /// Strips of sashing and borders of all panels of this piece.
    pub strips: Vec<StripCut>,
}

/// How units stand in a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Setting {
    /// One rectangle of cloth.
    Plain,
    /// Side by side, straight up and down.
    Straight,
    /// On their points: `columns` by `rows` outer blocks, one fewer each way
    /// between them, triangles along the sides and in the four corners. With
    /// sashing it goes round every block; posts at the edge are cut in half.
    OnPoint { side_triangles: i64, corner_triangles: i64 },
    /// Equilateral triangles, the first row beginning with one that points
    /// up, the next with one that points down.
    Triangles,
    /// Diamonds that lean to the right, every second row moved half a diamond.
    Diamonds,
    /// Hexagons that stand on a point, every second row moved half a hexagon.
    Hexagons,
}

impl Setting {
    /// How the size of a panel is printed: where a square root is in it, it is
    /// on no mark, and at least what is printed must be there.
    pub const fn round(self) -> Round {
        match self {
            Setting::Plain | Setting::Straight => Round::Nearest,
            Setting::OnPoint { .. } | Setting::Triangles | Setting::Diamonds | Setting::Hexagons => Round::Down,
        }
    }
}

/// Strips between the units, and round them where they go round.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SashingFigures {
    /// Finished width.
    pub width: Length,
    /// Also round the outside.
    pub around: bool,
    /// Squares stand where strips cross; without them the level strips run through.
    pub posts: bool,
}

/// One border.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BorderFigures {
    /// Finished width.
    pub width: Length,
    /// Squares stand in the corners; without them the strips at the top and
    /// the bottom run through.
    pub corners: bool,
}

/// What a strip is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StripKind {
    Sashing,
    Border,
}

/// Strips of sashing or border, whole as they are sewn in. One that is longer
/// than its cloth is wide is joined from parts: the cut list says from which.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StripCut {
    pub kind: StripKind,
    pub cloth: String,
    /// "sashing strips between the units", "side strips of border 1".
    pub what: String,
    /// `width` across the panel, `height` up it, both with seam allowances.
    pub cut: Size,
    pub count: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    Square,
    Rectangle,
    /// Squares cut once corner to corner: two triangles each.
    HalfSquareTriangle,
    /// Squares cut corner to corner both ways: four triangles each.
    QuarterSquareTriangle,
    /// Squares sewn all round to another and cut corner to corner both ways: a
    /// triangle in each of four half-square triangles.
    FourHalfSquares,
    /// Squares sewn to another along both diagonals and cut into eight
    /// half-square triangles.
    EightHalfSquares,
    /// Large squares of flying geese: each is sewn to four small ones and gives
    /// a triangle in each of four geese.
    GeeseLarge,
    /// Small squares of flying geese, four to a large one: each gives two
    /// triangles of the sky.
    GeeseSmall,
    /// Equilateral triangles from strips, `width` the side and `height` the height as cut.
    #[serde(rename = "triangle-60")]
    Triangle60,
    /// 60-degree diamonds from strips: `height` of the strip; `width` from tip to tip along it.
    #[serde(rename = "diamond-60")]
    Diamond60,
    /// Hexagons from strips: `height` from flat to flat, `width` from tip to tip.
    Hexagon,
}

impl Shape {
    /// Patches that one cut rectangle yields.
    pub const fn yields(self) -> i64 {
        match self {
            Shape::Square | Shape::Rectangle | Shape::Triangle60 | Shape::Diamond60 | Shape::Hexagon => 1,
            Shape::HalfSquareTriangle | Shape::GeeseSmall => 2,
            Shape::QuarterSquareTriangle | Shape::FourHalfSquares | Shape::GeeseLarge => 4,
            Shape::EightHalfSquares => 8,
        }
    }

    /// Squares that are sewn to squares of another cloth before they are cut
    /// apart. They are counted set by set: a square that gives four triangles
    /// for one pair of cloths has none to spare for another.
    pub const fn sewn_first(self) -> bool {
        matches!(
            self,
            Shape::FourHalfSquares | Shape::EightHalfSquares | Shape::GeeseLarge | Shape::GeeseSmall
        )
    }
}

/// A patch to cut: `cuts` rectangles of `cut`, which give at least `patches`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PatchCut {
    pub cloth: String,
    pub shape: Shape,
    pub cut: Size,
    pub patches: i64,
    pub cuts: i64,
    /// The unit these go into: "half-square triangle 4 in finished".
    pub unit: String,
    /// Names of the pieces these go into.
    pub pieces: Vec<String>,
}

/// What a rectangle on a cloth is for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Purpose {
    Patch {
        shape: Shape,
        unit: String,
    },
    /// Strips between units.
    Sashing,
    /// Strips round a panel.
    Border,
    PlainPanel,
    Backing,
    Batting,
    StraightBinding,
    BiasRectangle,
    ContinuousSquare,
}

/// One line of a cloth's cut list: `count` rectangles of one size.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutLine {
    pub purpose: Purpose,
    pub pieces: Vec<String>,
    /// As it lies on the cloth: `width` across (selvage to selvage), `height` along.
    pub cut: Size,
    pub count: i64,
    /// May lie turned by a quarter.
    pub may_turn: bool,
    /// Patches these rectangles are cut into afterwards (triangles), else equal to `count`.
    pub patches: i64,
    /// How the line is cut by hand: full-width strips of this height, and
    /// subcuts a strip. Set when the line is cut as strips.
    pub strips: Option<StripsFor>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct StripsFor {
    pub strips: i64,
    pub height: Length,
    pub subcut: Length,
    pub per_strip: i64,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClothFigures {
    pub cloth: String,
    pub name: String,
    pub kind: ClothKind,
    pub colour: String,
    pub usable_width: Length,
    /// Ready-cut patches in stock: what is used of them before any cloth is cut.
    pub ready_cut: Vec<super::ReadyCutFigures>,
    /// What is cut from the cloth besides.
    pub cuts: Vec<CutLine>,
    pub layout: Layout,
    /// Length of full-width cloth the layout takes, straightening included,
    /// remnants not counted.
    pub length: Length,
    /// `length` before shrinking in the wash.
    pub length_unwashed: Length,
    pub owned: Length,
    /// Beyond what is owned, rounded up to the shop's step; nothing if owned suffices.
    pub to_buy: Length,
    /// All of it rounded up to the shop's step, as if none were owned: what a list for viewers says.
    pub to_buy_if_none_owned: Length,
    pub cost: Option<Money>,
    /// The same cut list on other usable widths: (width, length rounded up to the
    /// shop's step). Without remnants. A width on which a cut cannot lie is left out.
    pub other_widths: Vec<OtherWidth>,
    /// Parts that should be cut from this cloth but cannot be worked out yet
    /// ("the face of Sleeve"): the length is without them.
    pub not_counted: Vec<String>,
    /// The lay that is kept of it: `cuts` are all of them, `layout` those beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lay: Option<super::KeptLayFigures>,
    pub shown: Shown,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct OtherWidth {
    pub width: Length,
    pub to_buy: Length,
}

/// A drawn cutting layout: what is cut from each remnant, then from the cloth.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Layout {
    pub sheets: Vec<Sheet>,
    /// The order of cuts in words, sheet by sheet.
    pub order: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// "Remnant 12 × 20 in, 1 of 2" or "Cloth, full width".
    pub name: String,
    /// None for the full-width cloth; else the index into the plan's remnants of this cloth.
    /// The rectangles of those with an outline are counted on after these.
    pub remnant: Option<usize>,
    /// Where it is a rectangle of a remnant with an outline: which.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<SheetPart>,
    /// Across, selvage to selvage.
    pub width: Length,
    /// Along. For the full-width cloth: what the layout takes, straightening included.
    pub length: Length,
    /// Lost at the start of the sheet to make its edge straight; the first strip begins here.
    pub straightening: Length,
    pub strips: Vec<Strip>,
    /// Rectangles of this sheet nothing is cut from, that are worth keeping.
    pub left_over: Vec<Rect>,
}

/// A rectangle marked on a remnant with an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SheetPart {
    /// Index into the plan's outlined remnants of this cloth.
    pub outlined: usize,
    /// Its rectangles are numbered from 1.
    pub number: usize,
    /// Its nearest corner, across and along, from the corner of the rectangle round the outline.
    pub x: Length,
    pub y: Length,
}

/// One strip cut across the whole sheet, and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Strip {
    /// The step of [`Layout::order`] it is cut in, from 1.
    pub step: usize,
    /// Distance of its near edge from the start of the sheet.
    pub at: Length,
    pub height: Length,
    pub placed: Vec<Placed>,
    /// Where subcuts and what is trimmed from them are not enough: every cut in
    /// the strip, in order. Else empty.
    pub cuts: Vec<Cut>,
}

/// Cuts from edge to edge of a part, all one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// What the order of cuts calls the part; nothing for a whole strip, and for
    /// a part that only has one piece trimmed from it.
    pub number: Option<usize>,
    /// The part that is divided: the strip, or what an earlier cut left.
    pub part: Rect,
    /// Along the cloth, at distances from the left selvage; else across it, at
    /// distances from the start of the sheet.
    pub lengthwise: bool,
    pub at: Vec<Length>,
}

/// A cut piece where it lies. `line` is the index into `ClothFigures::cuts`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Placed {
    pub line: usize,
    /// The rectangle round it: those of nested triangles and diamonds overlap.
    pub rect: Rect,
    /// By a quarter.
    pub turned: bool,
    /// A triangle that lies tip down (turned: tip to the left).
    pub flipped: bool,
}

/// `x` across from the left selvage, `y` along from the start of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Rect {
    pub x: Length,
    pub y: Length,
    pub width: Length,
    pub height: Length,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BindingFigures {
    pub cloth: String,
    pub fold: Fold,
    pub cut: BindingCut,
    pub finished_width: Length,
    pub strip_width: Length,
    /// The edges alone.
    pub edges: Length,
    /// Edges, ends and corners: what must be there once it is sewn together.
    pub total: Length,
    /// Strips and joins; for continuous binding 1 and 0.
    pub strips: Vec<BiasStrip>,
    pub joins: i64,
    /// Length after all joins; never less than `total`.
    pub made: Length,
    /// The rectangle of cloth it is cut from (across, along).
    pub rectangle: Size,
    /// Bias strips as they lie on that rectangle.
    pub drawn: Vec<super::BiasPiece>,
    /// All ways to cut it, this one among them.
    pub ways: Vec<super::BindingWay>,
    pub not_possible: Vec<super::NoWay>,
    /// What the remnants of its cloth give, where it has any.
    pub remnants: Option<super::FromRemnants>,
    /// The remnants it is cut from, where the plan says so and they give it:
    /// `strips`, `joins` and `made` are then theirs, and `rectangle` is only
    /// what it would take of the cloth.
    pub cut_from: Vec<super::RemnantUse>,
    /// How much less there would be to buy if it were cut from the remnants.
    pub saving: Option<Length>,
    pub shown: Shown,
}

/// Equal strips of a binding and their true length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct BiasStrip {
    pub length: Length,
    pub count: i64,
}

/// One figure that differs between two plans.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, serde::Deserialize)]
pub struct Change {
    /// "Cream linen to buy", "Sleeve panel, before quilting".
    pub what: String,
    pub before: String,
    pub after: String,
    /// The difference in words, both units where it is a length:
    /// "+3/8 yd (0.34 m)", "1 in (2.5 cm) narrower".
    pub difference: String,
}
