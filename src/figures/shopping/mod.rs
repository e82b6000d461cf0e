//! What several plans together still want to be bought.
//!
//! - [`cloths`]: cloths that are one, laid out together, what is at hand counted once
//! - [`things`]: notions, closures and thread by name
//!
//! The plans hand in their figures; what the shelf holds now goes before what
//! a plan was told when it took the cloth over.

mod cloths;
mod things;

pub use cloths::{after_wash, at_hand, same_cloth};

use super::{CutLine, Figures, Layout, OtherWidth, Shown};
use crate::measure::{Length, Money, Unit};
use crate::plan::{Cloth, ClothKind, Plan, Price};

/// A plan that is shopped for.
#[derive(Clone, Copy, Debug)]
pub struct Wanting<'a> {
    /// The project's title.
    pub title: &'a str,
    pub plan: &'a Plan,
    pub figures: &'a Figures,
    /// Ids of cloths everything is already cut from, and the length that was cut.
    pub cut: &'a [(String, Length)],
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShopList {
    /// Those with something to buy first.
    pub cloths: Vec<ClothToBuy>,
    pub things: Vec<ThingToBuy>,
    /// What cannot be worked out, each a sentence: more will be needed.
    pub not_counted: Vec<String>,
}

/// One cloth, for all plans that want it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClothToBuy {
    /// What the tick and the purchase go by; see [`same_cloth`].
    pub key: String,
    pub name: String,
    pub kind: ClothKind,
    pub colour: String,
    pub link: String,
    /// Of several the narrowest.
    pub usable_width: Length,
    pub fibre: String,
    /// Rounded up to the shop's step; nothing where what is at hand suffices.
    pub to_buy: Length,
    /// The place in the list of plans, and what each would buy with nothing at hand.
    pub of: Vec<(usize, Length)>,
    /// What is at hand of it, in words; empty for nothing.
    pub at_hand: String,
    /// The layout of all their cuts together, where that is what `to_buy` is by.
    pub together: Option<Together>,
    /// All of it cut from a cloth of another width, with nothing at hand.
    pub other_widths: Vec<OtherWidth>,
    pub price: Option<Price>,
    pub cost: Option<Money>,
    pub shown: Shown,
}

/// Cuts of several plans on one cloth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// What they lie on: its width and what of it is at hand.
    pub cloth: Cloth,
    pub straightening: Length,
    pub cuts: Vec<CutLine>,
    pub layout: Layout,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ThingKind {
    Notion,
    Closure,
    Thread,
    /// Not used up: most will be there.
    Tool,
}

/// A notion, closures of one size, thread, a tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingToBuy {
    pub key: String,
    pub kind: ThingKind,
    pub name: String,
    /// Of all plans together; may be empty.
    pub quantity: String,
    /// The place in the list of plans, and how much of it each wants.
    pub of: Vec<(usize, String)>,
    pub remark: String,
    pub link: String,
    pub cost: Option<Money>,
}

/// `shelf` holds the cloths of the shelf as a plan would take them over now.
pub fn shop_list(plans: &[Wanting<'_>], shelf: &[Cloth], unit: Unit) -> ShopList {
    let mut list = ShopList::default();
    cloths::cloths(plans, shelf, unit, &mut list);
    list.things = things::things(plans, unit);
    list
}

impl ShopList {
    /// Of everything whose price is known, and what has none.
    pub fn cost(&self) -> (Money, Vec<&str>) {
        let cloths = self.cloths.iter().filter(|c| c.to_buy.is_positive());
        let priced = cloths.map(|c| (c.name.as_str(), c.cost));
        let things = self.things.iter().filter(|t| t.kind != ThingKind::Tool);
        let mut sum = Money::ZERO;
        let mut without = Vec::new();
        for (name, cost) in priced.chain(things.map(|t| (t.name.as_str(), t.cost))) {
            match cost {
                Some(cost) => sum = sum + cost,
                None => without.push(name),
            }
        }
        (sum, without)
    }
}

/// A name as it tells one thing from another: without what spelling differs in.
fn plainly(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
