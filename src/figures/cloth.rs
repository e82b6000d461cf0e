//! The figures of one cloth: its cut list laid out, the length it takes, what
//! is to be bought.

use super::allowances::used;
use super::binding;
use super::check::{Checked, called, is_colour, price_is_sound};
use super::cutlist::{CutList, cut_list, not_counted};
use super::cutting::{Cutting, LaidFrom, Told, lay_step, working};
use super::kept_lay::{Asked, KeptLayFigures, LayState, kept_lay};
use super::layout::{Bolt, Drawn, Job, draw, strips_of};
use super::outline::AtHand;
use super::panel::{after_loss, before_loss};
use super::{AllowanceUsed, ClothFigures, CutLine, Layout, PieceFigures, Problem, Shown, widths};
use crate::measure::{Length, Money, Percent, Round};
use crate::plan::{Allowances, Cloth, ClothKind, Plan};

/// What to ask for in a shop so that `length` is there after the first wash.
pub(super) fn to_ask_for(length: Length, shrinkage: Percent, step: Length) -> Length {
    before_loss(length, shrinkage).ceil_to(step)
}

/// Cloths whose figures can be worked out; problems of the others are added.
pub(super) fn cloths(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    problems: &mut Vec<Problem>,
) -> Vec<ClothFigures> {
    let mut out = Vec::new();
    for (n, cloth) in plan.cloths.iter().enumerate() {
        if !checked.cloths.get(n).is_some_and(|sound| *sound) {
            continue;
        }
        if !checked.allowances.straightening || !checked.allowances.shop_step {
            continue;
        }
        match cut_list(plan, checked, pieces, cloth, cloth.usable_width) {
            Err(found) => problems.extend(found),
            Ok(list) => out.push(figures(plan, checked, pieces, cloth, list)),
        }
    }
    out
}

pub(super) fn figures(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &Cloth,
    list: CutList,
) -> ClothFigures {
    let unit = plan.unit;
    let a = &plan.allowances;
    let name = called(&cloth.name, &cloth.id);
    let all_lines = list.lines.clone();
    let kept = binding::kept_for_it(plan, checked, cloth);
    let at_hand = AtHand::of(cloth);
    let remnants = binding::remnants_left(&at_hand, &kept);
    let as_rectangles = Cutting::as_rectangles(cloth, a, list.clone(), &remnants);
    let laid = kept_lay(&Asked {
        plan,
        checked,
        pieces,
        cloth,
        list: &list,
        at_hand: &at_hand,
        for_binding: &kept,
        as_rectangles: &as_rectangles,
    });
    let (lay, by_lay) = laid.map_or((None, None), |(figures, cutting)| (Some(figures), cutting));
    let whole = as_rectangles.whole;
    let mut cutting = by_lay.unwrap_or(as_rectangles);
    let served = cutting.ready_cut.iter().any(|r| r.used > 0);
    let strips = strips_of(cutting.rest.len(), &cutting.stocked);
    for (line, strips) in cutting.list.lines.iter_mut().zip(strips) {
        line.strips = strips;
    }
    let layout = drawn(plan, &cutting, &at_hand, lay.as_ref());

    let (from_owned, from_bought) = (cutting.from_owned, cutting.from_bought);
    let length = cutting.length();
    // As if nothing were there: then the binding is cut from the cloth too, and
    // every patch. Who is told this has no lay.
    let all = with_binding(plan, checked, pieces, cloth).filter(|_| !kept.is_empty());
    let alone = match &all {
        Some((_, list)) => none_owned(&list.lines, cloth, a).max(whole),
        None if served => none_owned(&all_lines, cloth, a),
        None => whole,
    };
    let to_buy = to_ask_for(from_bought, cloth.shrinkage, a.shop_step);
    let to_buy_if_none_owned = to_ask_for(alone, cloth.shrinkage, a.shop_step);
    let price = cloth.price.as_ref().filter(|p| price_is_sound(p.amount));
    let not_counted = not_counted(plan, checked, pieces, &cloth.id);

    let working = working(
        &cutting,
        &Told {
            unit,
            allowances: a,
            cloth,
            layout: &layout,
            lay: lay.as_ref(),
            for_binding: !kept.is_empty(),
            to_buy,
        },
    );
    let list = cutting.list;
    let mut cautions = list.cautions;
    let both = |length: Length| length.both(unit, Round::Up);
    if let Some(lay) = lay.as_ref().filter(|lay| lay.state == LayState::NoLongerHolds) {
        cautions.insert(0, lay.told.clone());
    }
    if !not_counted.is_empty() {
        cautions.push(format!(
            "Not counted, because it cannot be worked out yet: {}. More will be needed.",
            not_counted.join(", ")
        ));
    }
    let cuts_remnants = cutting.stocked.uses_remnants() || lay.as_ref().is_some_and(|lay| !lay.remnants.is_empty());
    let unwashed = after_loss(cloth.owned, cloth.shrinkage);
    if unwashed < from_owned {
        cautions.push(format!(
            "The length at hand is counted as washed. If it is not, wash it before measuring: of {} only {} may be left, and {} are needed.",
            cloth.owned.both(unit, Round::Nearest),
            unwashed.both(unit, Round::Down),
            both(from_owned)
        ));
    }
    if cloth.shrinkage > Percent::ZERO && (cuts_remnants || !kept.is_empty()) {
        cautions.push("The remnants are counted as washed. If they are not, wash them before measuring.".into());
    }
    if served && cloth.one_way {
        cautions
            .push("This cloth runs one way: sort the ready-cut patches so that every top points the same way.".into());
    }
    if served && cloth.shrinkage > Percent::ZERO {
        cautions
            .push("The ready-cut patches are counted as washed: unwashed, they shrink in the finished piece.".into());
    }
    if cloth.one_way && !list.lines.is_empty() {
        cautions.push("This cloth runs one way: lay every cut with its top the same way.".into());
    }
    if cloth.kind == ClothKind::Batting && is_synthetic(&cloth.fibre) {
        cautions.push(
            "Synthetic batting goes flat or melts under a hot iron: press from the face with a cool iron, or not at all."
                .into(),
        );
    }
    let mut fields = list.fields;
    if !list.lines.is_empty() {
        fields.extend(["straightening", "shop_step"]);
    }
    let mut allowances = used(a, unit, &fields);
    if cloth.shrinkage > Percent::ZERO {
        allowances.push(AllowanceUsed {
            name: "Shrinkage in the first wash".into(),
            value: cloth.shrinkage.to_string(),
            source: match cloth.kind {
                ClothKind::Cloth => {
                    "set for this cloth; cotton is said to lose 2 to 5 % (no named source), sheeting washed and tumble \
                     dried lost 8 to 10 % (Marsidian, marsidian.com/blog/fabric-shrinkage-test): wash a measured square \
                     to know (ISO 5077 for the way to measure)"
                }
                ClothKind::Batting => {
                    "set for this batting; cotton 3 to 5 % (The Quilt Orchard 2013, thequiltorchard.blogspot.com), \
                     natural fibres 2 to 3 % (Fairfield, fairfieldworld.com/faq)"
                }
            }
            .into(),
        });
    }
    ClothFigures {
        cloth: cloth.id.clone(),
        name,
        kind: cloth.kind,
        colour: if is_colour(&cloth.colour) {
            cloth.colour.clone()
        } else {
            "#b8bcc6".into()
        },
        usable_width: cloth.usable_width,
        other_widths: match &all {
            Some((plan, _)) => widths::on_other_widths(plan, checked, pieces, cloth, to_buy_if_none_owned),
            None if all_lines.is_empty() => Vec::new(),
            None => widths::on_other_widths(plan, checked, pieces, cloth, to_buy_if_none_owned),
        },
        ready_cut: cutting.ready_cut,
        cuts: list.lines,
        layout,
        length,
        length_unwashed: before_loss(length, cloth.shrinkage),
        owned: cloth.owned,
        to_buy,
        to_buy_if_none_owned,
        cost: price.map(|p| {
            if to_buy.is_positive() {
                p.amount.for_length(to_buy, p.per.length())
            } else {
                Money::ZERO
            }
        }),
        not_counted,
        lay,
        shown: Shown {
            working,
            allowances,
            cautions,
        },
    }
}

/// What is laid out as rectangles, drawn, and the order of all cuts.
fn drawn(plan: &Plan, cutting: &Cutting, at_hand: &AtHand, lay: Option<&KeptLayFigures>) -> Layout {
    let lay = lay.filter(|_| cutting.lay.is_some());
    let mut layout = if cutting.rectangles() == 0 {
        Layout::default()
    } else {
        draw(
            &cutting.stocked,
            &Drawn {
                lines: &cutting.rest,
                remnants: at_hand,
                straightening: plan.allowances.straightening,
                unit: plan.unit,
                before_lay: cutting.lay_from(LaidFrom::Bought).is_positive()
                    || cutting.lay_from(LaidFrom::Owned).is_positive(),
            },
        )
    };
    layout.order.extend(lay.map(|lay| lay_step(cutting, lay, plan.unit)));
    layout
}

/// The length the whole cut list would take if none of the cloth were at hand.
pub(super) fn none_owned(lines: &[CutLine], cloth: &Cloth, a: &Allowances) -> Length {
    let job = Job::new(lines, cloth.usable_width, a.straightening);
    let bare = Cloth {
        owned: Length::ZERO,
        ..cloth.clone()
    };
    let strips = job.least();
    deeper(&job, &strips, &bare, a)
        .unwrap_or(strips)
        .length(a.straightening)
}

/// The plan and its cut list with the binding cut from the cloth, where it is
/// to be cut from remnants.
fn with_binding(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &Cloth,
) -> Option<(Plan, CutList)> {
    plan.binding
        .as_ref()
        .filter(|b| b.from_remnants && b.cloth == cloth.id)?;
    let mut plan = plan.clone();
    plan.binding.as_mut()?.from_remnants = false;
    let list = cut_list(&plan, checked, pieces, cloth, cloth.usable_width).ok()?;
    Some((plan, list))
}

/// How much less of its cloth there is to buy where the binding is cut from the
/// remnants; `None` where it already is, or they do not give it.
pub(super) fn saved_by_remnants(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    now: &[ClothFigures],
) -> Option<Length> {
    let mut other = plan.clone();
    let binding = other.binding.as_mut().filter(|b| !b.from_remnants)?;
    binding.from_remnants = true;
    let cloth = plan.cloth(&plan.binding.as_ref()?.cloth)?;
    let now = now.iter().find(|f| f.cloth == cloth.id)?;
    if binding::kept_for_it(&other, checked, cloth).is_empty() {
        return None;
    }
    let list = cut_list(&other, checked, pieces, cloth, cloth.usable_width).ok()?;
    Some(now.to_buy - figures(&other, checked, pieces, cloth, list).to_buy)
}

/// A layout of deeper cuts, where it takes at least the shop's step less to buy
/// than strips do, or where what is at hand is enough for it alone.
pub(super) fn deeper(job: &Job, strips: &Bolt, cloth: &Cloth, a: &Allowances) -> Option<Bolt> {
    let length = strips.length(a.straightening);
    let asked = |length: Length| to_ask_for(length, cloth.shrinkage, a.shop_step);
    if cloth.owned.is_positive() {
        let short = length > cloth.owned;
        return short.then(|| job.deeper(cloth.owned, a.shop_step)).flatten();
    }
    let less = asked(length) - a.shop_step;
    // What is left of a step less after the wash.
    let room = less.scale_down(10_000 - cloth.shrinkage.as_hundredths(), 10_000);
    let found = job.deeper(room, a.shop_step)?;
    (asked(found.length(a.straightening)) <= less).then_some(found)
}

fn is_synthetic(fibre: &str) -> bool {
    let fibre = fibre.to_lowercase();
    [
        "polyester",
        "synthetic",
        "polyamide",
        "acrylic",
        "polypropylene",
        "nylon",
    ]
    .iter()
    .any(|word| fibre.contains(word))
}

#[cfg(test)]
mod tests {
    use crate::figures::{ClothFigures, work_out};
    use crate::measure::{EIGHTH, INCH};
    use crate::plan::Plan;

    fn linen(owned: &str, step: &str) -> ClothFigures {
        let piece = |id: &str, count: i64, width: i64, height: i64| {
            format!(
                r#"{{"id":"{id}","name":"Piece {id}","cut_count":{count},"width":"{width} in","height":"{height} in",
                "margin":"0 in","take_up":"0 %","face":{{"kind":"plain","cloth":"c1"}}}}"#
            )
        };
        let pieces = [
            piece("a", 1, 30, 21),
            piece("b", 2, 15, 21),
            piece("c", 1, 30, 15),
            piece("d", 1, 30, 27),
        ];
        let json = format!(
            r#"{{"format":1,"allowances":{{"straightening":"1 in","shop_step":"{step}"}},
            "cloths":[{{"id":"c1","name":"Linen","usable_width":"60 in","one_way":true,"owned":"{owned}"}}],
            "pieces":[{}]}}"#,
            pieces.join(",")
        );
        work_out(&Plan::from_json(&json).unwrap()).cloths.remove(0)
    }

    #[test]
    fn deeper_cuts_are_taken_where_they_save_a_step() {
        let deep = |cloth: &ClothFigures| {
            let strips = || cloth.layout.sheets.iter().flat_map(|s| &s.strips);
            let cuts: usize = strips().map(|s| s.cuts.len()).sum();
            assert_eq!(
                cuts > 0,
                cloth.layout.order.iter().any(|o| o.contains("further than by subcuts"))
            );
            cuts
        };
        // Strips: 27 + 21 and 1 lost are 49 in; deeper cuts: 42 and 1.
        let fine = linen("0 in", "4 1/2 in");
        assert_eq!((fine.length, fine.to_buy), (INCH * 43, INCH * 45));
        // The strip lengthwise, each column across, and the row of two.
        assert_eq!(deep(&fine), 4);
        let order = fine.layout.order.join("\n");
        assert!(
            order.contains("across the full width; divide lengthwise, from the left:"),
            "{order}"
        );
        assert!(order.contains("Divide part 1 across, from the near edge:"), "{order}");
        assert!(order.contains("2 panels 15 × 21 in"), "{order}");
        // Both would be bought as 2 yd: then strips, which are simpler.
        let coarse = linen("0 in", "72 in");
        assert_eq!((coarse.length, deep(&coarse)), (INCH * 49, 0));
        // What is at hand is enough with deeper cuts alone.
        let owned = linen("44 in", "4 1/2 in");
        assert!(!owned.to_buy.is_positive());
        assert!(deep(&owned) > 0);
        assert_eq!(owned.to_buy_if_none_owned, INCH * 45);
        for wider in owned.other_widths.iter().filter(|w| w.width > INCH * 60) {
            assert!(wider.to_buy <= INCH * 45 + EIGHTH, "{wider:?}");
        }
    }

    #[test]
    fn cloth_at_hand_is_counted_as_washed_and_that_is_said() {
        let cautions = |cloth: &str| {
            let json = format!(
                r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"42 in",{cloth}}}],
                "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"17 in","face":{{"kind":"plain","cloth":"c1"}}}}]}}"#
            );
            work_out(&Plan::from_json(&json).unwrap())
                .cloths
                .remove(0)
                .shown
                .cautions
        };
        // 18 in are just enough washed; unwashed they would leave 17.1 in. 20 in would leave 19.
        let owned = cautions(r#""owned":"18 in","shrinkage":"5 %""#);
        assert!(
            owned[0].contains("of 18 in (45.7 cm) only 17 in (43.4 cm) may be left, and 18 in (45.8 cm) are needed"),
            "{owned:?}"
        );
        let remnant = cautions(r#""remnants":[{"width":"22 in","length":"19 in","count":1}],"shrinkage":"5 %""#);
        assert!(remnant[0].contains("remnants are counted as washed"), "{remnant:?}");
        assert!(cautions(r#""owned":"20 in","shrinkage":"5 %""#).is_empty());
        assert!(cautions(r#""owned":"18 in""#).is_empty());
        assert!(cautions(r#""shrinkage":"5 %""#).is_empty());
    }
}
