//! Typed seams and how thread is counted.

use super::{Finder, called, price_is_sound};
use crate::measure::{CM, INCH, METRE, MM};
use crate::plan::limits;

/// Whether each typed seam can be counted.
pub(super) fn check(find: &mut Finder) -> Vec<bool> {
    let plan = find.plan;
    if !find.list("seams", "seams", plan.seams.len(), limits::SEAMS) {
        return vec![false; plan.seams.len()];
    }
    let ids = find.ids("seams", "seam", plan.seams.iter().map(|s| s.id.as_str()));
    plan.seams
        .iter()
        .zip(ids)
        .map(|(seam, id)| {
            let at = format!("seams/{}", seam.id);
            let name = called(&seam.name, &seam.id);
            find.name(format!("{at}/name"), "seam", &seam.name);
            let mut sound = find.positive(&format!("{at}/length"), &format!("The length of {name}"), seam.length);
            sound &= find.count(
                format!("{at}/count"),
                &format!("The number of {name}"),
                seam.count,
                limits::SEAM_COUNT,
            );
            id & sound
        })
        .collect()
}

/// Whether thread can be counted at all.
pub(super) fn check_thread(find: &mut Finder) -> bool {
    let Some(thread) = &find.plan.thread else { return true };
    let mut sound = true;
    for (field, what, length, most) in [
        (
            "seam_end",
            "The allowance beyond a seam's end",
            thread.seam_end,
            CM * 100,
        ),
        ("layers", "The thickness of all layers", thread.layers, INCH * 2),
        ("stitch_length", "The stitch length", thread.stitch_length, MM * 50),
    ] {
        let place = format!("thread/{field}");
        sound &= find.at_least_nothing(&place, what, length) && find.at_most(&place, what, length, most);
    }
    if thread.stitch_length < MM.scale_down(1, 2) {
        sound = find.add(
            "thread/stitch_length",
            "The stitch length is under 0.5 mm. Type it as it is set on the machine, such as 2.5 mm.",
        );
    }
    // A spool of 30,000 m is the largest cone made; the longest length that can be typed is 200 m.
    if !thread.spool.is_positive() || thread.spool > METRE * 50_000 {
        sound = find.add(
            "thread/spool",
            "The length on a spool must be more than nothing and at most 50,000 m. Type it as it is printed on the spool.",
        );
    }
    let waste = thread.waste.as_hundredths();
    if !(0..=20_000).contains(&waste) {
        sound = find.add(
            "thread/waste",
            format!(
                "Waste of {} cannot be counted with. Type 0 to 200 %; 20 % is usual.",
                thread.waste
            ),
        );
    }
    if thread.price.is_some_and(|p| !price_is_sound(p)) {
        find.add(
            "thread/price",
            "The price of a spool must be between 0 and 999,999. Type it again.",
        );
    }
    sound
}
