//! Cloths of several plans that are one: what is at hand of it is counted
//! once, and all cuts are laid out together where that can be done.
//!
//! Three ways are weighed, each of which can really be cut; the least is taken:
//! everything laid out together, or what is at hand given to one of the plans
//! while the others are bought for as if nothing were there.

use super::{ClothToBuy, ShopList, Together, Wanting, plainly};
use crate::figures::check::{called, is_colour, price_is_sound};
use crate::figures::cloth::{deeper, figures, to_ask_for};
use crate::figures::cutlist::cut_list;
use crate::figures::layout::{Drawn, Job, draw, strips_of, with_stock};
use crate::figures::outline::AtHand;
use crate::figures::panel::after_loss;
use crate::figures::widths::other_widths;
use crate::figures::{ClothFigures, CutLine, OtherWidth, Parts, Purpose, Shape, Shown, parts, ready_cut};
use crate::measure::{Area, Length, Money, Percent, Round, Unit};
use crate::plan::{Allowances, Cloth, ClothKind, Plan, limits};
use std::collections::HashMap;

/// What tells whether cloths of several plans are one: the cloth of the shelf
/// they were taken from, else kind, width and name.
pub fn same_cloth(cloth: &Cloth) -> String {
    match &cloth.stock {
        Some(id) => format!("shelf/{id}"),
        None => {
            let kind = match cloth.kind {
                ClothKind::Cloth => "cloth",
                ClothKind::Batting => "batting",
            };
            let name = called(&cloth.name, &cloth.id);
            format!("{kind}/{}/{}", cloth.usable_width.units(), plainly(&name))
        }
    }
}

/// What is left after the wash of a length bought.
pub fn after_wash(length: Length, shrinkage: Percent) -> Length {
    after_loss(length, shrinkage)
}

/// Which of several descriptions of one cloth says what is at hand: the shelf,
/// else the one with most. They are never added up.
pub fn at_hand<'a>(cloths: &[&'a Cloth], shelf: &'a [Cloth]) -> Option<&'a Cloth> {
    let stock = cloths.iter().find_map(|c| c.stock.as_ref());
    let kept = stock.and_then(|id| shelf.iter().find(|s| s.stock.as_ref() == Some(id)));
    let area = |c: &Cloth| {
        let remnants = AtHand::of(c);
        remnants.all().iter().fold(Area::of(c.usable_width, c.owned), |sum, r| {
            sum + Area::of(r.width, r.length) * i64::from(r.count)
        })
    };
    // The first of equals.
    kept.or_else(|| cloths.iter().copied().rev().max_by_key(|c| area(c)))
}

struct Member<'a> {
    at: usize,
    wanting: &'a Wanting<'a>,
    cloth: &'a Cloth,
    figures: &'a ClothFigures,
}

pub(super) fn cloths(plans: &[Wanting<'_>], shelf: &[Cloth], unit: Unit, list: &mut ShopList) {
    let mut groups: Vec<(String, Vec<Member>)> = Vec::new();
    for (at, wanting) in plans.iter().enumerate() {
        for cloth in wanting.plan.cloths.iter().take(limits::CLOTHS) {
            let Some(found) = wanting.figures.cloths.iter().find(|f| f.cloth == cloth.id) else {
                if !wanting.plan.uses_of(&cloth.id).is_empty() {
                    list.not_counted.push(format!(
                        "{} of {} cannot be worked out yet: nothing of it is in this list.",
                        called(&cloth.name, &cloth.id),
                        wanting.title
                    ));
                }
                continue;
            };
            if !found.not_counted.is_empty() {
                list.not_counted.push(format!(
                    "{} of {} is without {}: more will be needed.",
                    found.name,
                    wanting.title,
                    found.not_counted.join(", ")
                ));
            }
            if let Some((_, cut)) = wanting.cut.iter().find(|(id, _)| *id == cloth.id) {
                if found.length > *cut {
                    list.not_counted.push(format!(
                        "{} of {}: {} were cut and its plan now takes {}. What is missing is not in this list.",
                        found.name,
                        wanting.title,
                        cut.both_cloth(unit, Round::Down),
                        found.length.both_cloth(unit, Round::Up)
                    ));
                }
                continue;
            }
            if !found.is_used() {
                continue;
            }
            let key = same_cloth(cloth);
            let member = Member {
                at,
                wanting,
                cloth,
                figures: found,
            };
            match groups.iter_mut().find(|(k, _)| *k == key) {
                Some((_, members)) => members.push(member),
                None => groups.push((key, vec![member])),
            }
        }
    }
    for (key, members) in groups {
        let of: Vec<&Cloth> = members.iter().map(|m| m.cloth).collect();
        if let Some(hand) = at_hand(&of, shelf) {
            list.cloths.push(merged(key, &members, hand, unit));
        }
    }
    list.cloths.sort_by_key(|c| !c.to_buy.is_positive());
}

fn merged(key: String, members: &[Member], hand: &Cloth, unit: Unit) -> ClothToBuy {
    let mut shown = Shown::default();
    let both = |length: Length| length.both_cloth(unit, Round::Up);
    for m in members {
        shown.working.push(format!(
            "{}: {} with nothing at hand.",
            m.wanting.title,
            both(m.figures.to_buy_bare())
        ));
        if holding(m.cloth, hand) != *m.cloth {
            shown.cautions.push(format!(
                "The plan of {} counts {} at hand; counted here, once for all, is {}.",
                m.wanting.title,
                or_nothing(stock_words(m.cloth, unit)),
                or_nothing(stock_words(hand, unit))
            ));
        }
    }
    // Each of these can really be cut.
    let bare = |but: Option<usize>| -> Length {
        let others = members.iter().enumerate().filter(|(n, _)| Some(*n) != but);
        others
            .map(|(_, m)| m.figures.to_buy_bare())
            .fold(Length::ZERO, |a, b| a + b)
    };
    let mut to_buy = bare(None);
    let mut how = "Each is bought for by itself.";
    for (n, member) in members.iter().enumerate() {
        if let Some(with) = with_hand(member, hand)
            && with + bare(Some(n)) < to_buy
        {
            to_buy = with + bare(Some(n));
            how = "What is at hand goes to one of them, the rest is bought.";
        }
    }
    let mut together = None;
    if members.len() > 1 {
        let job = gathered(members, hand, None);
        if let Some((with, laid)) = job.as_ref().map(|job| job.laid(hand, unit))
            && with <= to_buy
        {
            to_buy = with;
            how = "All cuts are laid out together, on what is at hand first.";
            together = Some(laid);
        }
        shown.working.push(format!("{how} To buy: {}.", both(to_buy)));
    }
    let narrowest = members.iter().map(|m| m.cloth.usable_width).min().unwrap_or_default();
    let first = members.first().map(|m| m.cloth);
    let said = |of: fn(&Cloth) -> &String| {
        let all = std::iter::once(hand).chain(members.iter().map(|m| m.cloth));
        all.map(of).find(|text| !text.is_empty()).cloned().unwrap_or_default()
    };
    let prices = std::iter::once(hand).chain(members.iter().map(|m| m.cloth));
    let price = prices
        .filter_map(|c| c.price.clone())
        .find(|p| price_is_sound(p.amount));
    ClothToBuy {
        key,
        name: first.map_or(String::new(), |c| called(&c.name, &c.id)),
        kind: hand.kind,
        colour: if is_colour(&hand.colour) {
            hand.colour.clone()
        } else {
            "#b8bcc6".into()
        },
        link: said(|c| &c.link),
        fibre: said(|c| &c.fibre),
        usable_width: narrowest,
        of: members.iter().map(|m| (m.at, m.figures.to_buy_bare())).collect(),
        at_hand: stock_words(hand, unit),
        together,
        other_widths: on_other_widths(members, hand, narrowest, bare(None), unit),
        cost: price.as_ref().map(|p| match to_buy.is_positive() {
            true => p.amount.for_length(to_buy, p.per.length()),
            false => Money::ZERO,
        }),
        price,
        to_buy,
        shown,
    }
}

fn or_nothing(words: String) -> String {
    if words.is_empty() { "nothing".into() } else { words }
}

fn stock_words(cloth: &Cloth, unit: Unit) -> String {
    let mut words = Vec::new();
    if cloth.owned.is_positive() {
        words.push(cloth.owned.both_cloth(unit, Round::Down));
    }
    let count = |n: u32, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let counts = cloth.remnants.iter().map(|r| r.count);
    let remnants = counts
        .chain(cloth.outlined.iter().map(|o| o.count))
        .fold(0u32, u32::saturating_add);
    let ready = cloth.ready_cut.iter().fold(0u32, |n, r| n.saturating_add(r.count));
    words.extend(count(remnants, "remnant", "remnants"));
    words.extend(count(ready, "ready-cut patch", "ready-cut patches"));
    words.join(", ")
}

/// A plan's cloth with that at hand and nothing else. A length narrower than the
/// plan takes the cloth to be is left out.
fn holding(cloth: &Cloth, hand: &Cloth) -> Cloth {
    Cloth {
        owned: if hand.usable_width < cloth.usable_width {
            Length::ZERO
        } else {
            hand.owned
        },
        remnants: hand.remnants.clone(),
        outlined: hand.outlined.clone(),
        ready_cut: hand.ready_cut.clone(),
        ..cloth.clone()
    }
}

/// What one plan would buy, had it all that is at hand.
fn with_hand(member: &Member, hand: &Cloth) -> Option<Length> {
    let cloth = holding(member.cloth, hand);
    if cloth == *member.cloth {
        return Some(member.figures.to_buy);
    }
    let mut plan = member.wanting.plan.clone();
    let place = plan.cloths.iter().position(|c| c.id == cloth.id)?;
    plan.cloths[place] = cloth;
    let settled = crate::drafting::settled(&plan);
    let plan = &*settled.plan;
    let Parts { checked, pieces, .. } = parts(&settled);
    let sound = checked.cloths.get(place).is_some_and(|sound| *sound);
    if !sound || !checked.allowances.straightening || !checked.allowances.shop_step {
        return None;
    }
    let cloth = &plan.cloths[place];
    let list = cut_list(plan, &checked, &pieces, cloth, cloth.usable_width).ok()?;
    Some(figures(plan, &checked, &pieces, cloth, list).to_buy)
}

/// The cuts of all plans on one width.
struct Gathered {
    lines: Vec<CutLine>,
    width: Length,
    allowances: Allowances,
    shrinkage: Percent,
    one_way: bool,
}

/// `None` where the cuts of one of them cannot lie on the width, or where there
/// are too many to lay out. A binding is cut from the cloth: which remnants one
/// plan keeps for its own, another could want as well.
fn gathered(members: &[Member], hand: &Cloth, width: Option<Length>) -> Option<Gathered> {
    let narrowest = members.iter().map(|m| m.cloth.usable_width).min()?;
    let mut all = Gathered {
        lines: Vec::new(),
        width: width.unwrap_or(narrowest),
        allowances: members.first()?.wanting.plan.allowances.clone(),
        shrinkage: hand.shrinkage,
        one_way: false,
    };
    let mut places: HashMap<LineKey, usize> = HashMap::new();
    let mut cuts: i64 = 0;
    for member in members {
        let mut plan: Plan = member.wanting.plan.clone();
        if let Some(bound) = &mut plan.binding {
            bound.from_remnants = false;
        }
        let a = &mut all.allowances;
        a.straightening = a.straightening.max(plan.allowances.straightening);
        a.shop_step = a.shop_step.max(plan.allowances.shop_step);
        all.shrinkage = all.shrinkage.max(member.cloth.shrinkage);
        all.one_way |= member.cloth.one_way;
        let settled = crate::drafting::settled(&plan);
        let plan = &*settled.plan;
        let Parts { checked, pieces, .. } = parts(&settled);
        let cloth = plan.cloth(&member.cloth.id)?;
        let list = cut_list(plan, &checked, &pieces, cloth, all.width).ok()?;
        for line in list.lines {
            cuts = cuts.saturating_add(line.count);
            match places.get(&key_of(&line)) {
                Some(at) => {
                    let known = &mut all.lines[*at];
                    known.count += line.count;
                    known.patches += line.patches;
                }
                None => {
                    places.insert(key_of(&line), all.lines.len());
                    all.lines.push(line);
                }
            }
        }
        if cuts > limits::CUTS {
            return None;
        }
    }
    Some(all)
}

type LineKey = (std::mem::Discriminant<Purpose>, Option<Shape>, Length, Length, bool);

fn key_of(line: &CutLine) -> LineKey {
    let shape = match line.purpose {
        Purpose::Patch { shape, .. } => Some(shape),
        _ => None,
    };
    (
        std::mem::discriminant(&line.purpose),
        shape,
        line.cut.width,
        line.cut.height,
        line.may_turn,
    )
}

impl Gathered {
    /// Laid out on what is at hand and then on new cloth: what is to be bought.
    fn laid(&self, hand: &Cloth, unit: Unit) -> (Length, Together) {
        let a = &self.allowances;
        let cloth = Cloth {
            usable_width: self.width,
            shrinkage: self.shrinkage,
            one_way: self.one_way,
            owned: if hand.usable_width < self.width || !(Length::ZERO..=Length::MAX).contains(&hand.owned) {
                Length::ZERO
            } else {
                hand.owned
            },
            ..hand.clone()
        };
        let mut cuts = self.lines.clone();
        ready_cut::take(&cloth, &mut cuts);
        let job = Job::new(&cuts, self.width, a.straightening);
        let strips = job.least();
        let nested = deeper(&job, &strips, &cloth, a);
        let whole = nested.as_ref().unwrap_or(&strips);
        let remnants = AtHand::of(&cloth);
        let stocked = with_stock(&job, whole, &remnants.sound(), cloth.owned);
        let count = cuts.len();
        for (line, strips) in cuts.iter_mut().zip(strips_of(count, &stocked)) {
            line.strips = strips;
        }
        let layout = if cuts.is_empty() {
            Default::default()
        } else {
            let drawn = Drawn {
                lines: &cuts,
                remnants: &remnants,
                straightening: a.straightening,
                unit,
                before_lay: false,
            };
            draw(&stocked, &drawn)
        };
        let to_buy = to_ask_for(stocked.taken_from_bought(), self.shrinkage, a.shop_step);
        let straightening = a.straightening;
        (
            to_buy,
            Together {
                cloth,
                straightening,
                cuts,
                layout,
            },
        )
    }

    /// With nothing at hand.
    fn bare(&self) -> Length {
        let a = &self.allowances;
        let job = Job::new(&self.lines, self.width, a.straightening);
        let step = if self.shrinkage > Percent::ZERO {
            Length::from_units(1)
        } else {
            a.shop_step
        };
        to_ask_for(
            job.about_least(step).length(a.straightening),
            self.shrinkage,
            a.shop_step,
        )
    }
}

fn on_other_widths(members: &[Member], hand: &Cloth, narrowest: Length, sum: Length, unit: Unit) -> Vec<OtherWidth> {
    if let [one] = members
        && one.wanting.plan.unit == unit
    {
        return one.figures.other_widths.clone();
    }
    let widest = members.iter().map(|m| m.cloth.usable_width).max().unwrap_or(narrowest);
    let widths = other_widths(unit).into_iter();
    let on = |width: Length| {
        let found = gathered(members, hand, Some(width))?.bare();
        // What lies on each of the cloths lies on a wider one.
        let to_buy = if width >= widest { found.min(sum) } else { found };
        Some(OtherWidth { width, to_buy })
    };
    widths.filter_map(on).collect()
}

#[cfg(test)]
mod tests {
    use crate::figures::{ClothToBuy, ShopList, Wanting, shop_list, work_out};
    use crate::measure::{INCH, Length, Unit, YARD};
    use crate::plan::{Cloth, Plan};

    /// One plain panel of 20 by 34 in on 42 in cloth.
    fn plan(cloth: &str) -> Plan {
        Plan::from_json(&format!(
            r#"{{"format":1,"allowances":{{"straightening":"1 in"}},
            "cloths":[{{"id":"c1","name":"Oat","usable_width":"42 in","price":{{"amount":"10.00","per":"yd"}}{cloth}}}],
            "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"34 in","face":{{"kind":"plain","cloth":"c1"}}}}]}}"#
        ))
        .unwrap()
    }

    fn list_of(plans: &[Plan], shelf: &[Cloth], cut: &[(String, Length)]) -> ShopList {
        let figures: Vec<_> = plans.iter().map(work_out).collect();
        let wanting: Vec<Wanting> = plans
            .iter()
            .zip(&figures)
            .enumerate()
            .map(|(n, (plan, figures))| Wanting {
                title: ["Apron", "Cushion", "Bag"][n],
                plan,
                figures,
                cut: if n == 0 { cut } else { &[] },
            })
            .collect();
        shop_list(&wanting, shelf, Unit::Inch)
    }

    fn one(plans: &[Plan], shelf: &[Cloth]) -> ClothToBuy {
        let mut list = list_of(plans, shelf, &[]);
        assert_eq!(list.cloths.len(), 1);
        list.cloths.remove(0)
    }

    #[test]
    fn two_plans_are_cut_side_by_side() {
        // Each alone takes 35 in, a yard; both lie side by side on the same.
        let both = one(&[plan(""), plan("")], &[]);
        assert_eq!((both.to_buy, both.of.len()), (YARD, 2));
        assert_eq!(both.cost.unwrap().to_string(), "10.00");
        assert_eq!(both.together.unwrap().layout.sheets.len(), 1);
        let narrow = both.other_widths.iter().find(|w| w.width == INCH * 36).unwrap();
        assert!(narrow.to_buy > YARD, "20 and 20 in do not lie side by side on 36");
    }

    #[test]
    fn what_is_at_hand_is_counted_once() {
        // Three panels: two on the yard at hand, one more to buy. Each plan
        // alone would have had enough.
        let owned = r#","owned":"1 yd""#;
        let all = one(&[plan(owned), plan(owned), plan(owned)], &[]);
        assert_eq!(all.to_buy, YARD);
        // The shelf knows better than the plans.
        let stock = r#","owned":"5 yd","stock":"s1""#;
        let shelf = |owned: Length| Cloth {
            owned,
            ..plan(stock).cloths.remove(0)
        };
        let some = one(&[plan(stock), plan(stock), plan(stock)], &[shelf(Length::ZERO)]);
        assert_eq!(some.to_buy, YARD * 2);
        assert_eq!(some.shown.cautions.len(), 3, "{:?}", some.shown.cautions);
        let none = one(&[plan(stock), plan(stock), plan(stock)], &[shelf(YARD * 2)]);
        assert_eq!(none.to_buy, Length::ZERO);
        // A shelf cloth that is narrower than the plan thinks is not counted on.
        let narrow = Cloth {
            usable_width: INCH * 15,
            ..shelf(YARD * 9)
        };
        assert_eq!(one(&[plan(stock)], &[narrow]).to_buy, YARD);
    }

    #[test]
    fn what_was_cut_is_not_bought_again() {
        let cut = [("c1".to_string(), INCH * 35)];
        let list = list_of(&[plan(""), plan("")], &[], &cut);
        assert_eq!((list.cloths[0].of.len(), list.cloths[0].to_buy), (1, YARD));
        assert_eq!(list.not_counted, [""; 0]);
        let less = [("c1".to_string(), INCH * 20)];
        let list = list_of(&[plan("")], &[], &less);
        assert!(list.cloths.is_empty());
        assert!(list.not_counted[0].contains("Apron"), "{:?}", list.not_counted);
    }

    #[test]
    fn names_and_widths_tell_cloths_apart() {
        let other = r#","fibre":"linen""#;
        let mut named = plan(other);
        named.cloths[0].name = "  OAT ".into();
        assert_eq!(one(&[plan(""), named.clone()], &[]).of.len(), 2);
        named.cloths[0].usable_width = INCH * 54;
        assert_eq!(list_of(&[plan(""), named], &[], &[]).cloths.len(), 2);
    }
}
