//! What changed in the rows of closures.

use super::{counted, differs, length, pairs};
use crate::figures::{Change, ClosureFigures, Figures};
use crate::measure::{Length, Round, Unit};

pub(super) fn changes(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let mut changes = Vec::new();
    for (old, new) in pairs(&before.closures, &after.closures, |c| &c.closure) {
        let name = new.or(old).map_or("", |c| c.name.as_str());
        let count = |c: Option<&ClosureFigures>| c.map_or(0, |c| c.count);
        if count(old) != count(new) {
            let kind = new.or(old).map(|c| c.kind).unwrap_or_default();
            let (one, many) = (kind.counted(1), kind.counted(2));
            changes.push(counted(name.to_string(), count(old), count(new), one, many));
        }
        let (Some(old), Some(new)) = (old, new) else { continue };
        let gaps = |c: &ClosureFigures| {
            let widest = c.gaps.iter().max().copied().unwrap_or_default();
            let least = c.gaps.iter().min().copied().unwrap_or_default();
            (least, widest)
        };
        let (was, is) = (gaps(old), gaps(new));
        if was != is && new.count > 1 {
            let show = |(least, widest): (Length, Length)| {
                let one = |l: Length| l.both_sixteenths(unit, Round::Nearest);
                if one(least) == one(widest) {
                    one(widest)
                } else {
                    format!("{} to {}", one(least), one(widest))
                }
            };
            let difference = format!(
                "{} centre to centre",
                if is.1 > was.1 { "farther apart" } else { "closer" }
            );
            changes.extend(differs(format!("{name} gaps"), show(was), show(is), difference));
        }
        let moved = old.positions != new.positions && was == is && old.count == new.count;
        if moved {
            let start = |c: &ClosureFigures| c.positions.first().copied().unwrap_or_default();
            changes.extend(length(
                format!("{name}, first from the upper end"),
                start(old),
                start(new),
                unit,
                Round::Nearest,
            ));
        }
        for (what, get) in [
            (
                "overlap",
                (|c: &ClosureFigures| c.overlap) as fn(&ClosureFigures) -> Option<Length>,
            ),
            ("buttonholes", |c: &ClosureFigures| c.buttonhole),
            ("length of the zip", |c: &ClosureFigures| c.zip),
        ] {
            if let (Some(was), Some(is)) = (get(old), get(new)) {
                changes.extend(length(format!("{name}, {what}"), was, is, unit, Round::Up));
            }
        }
    }
    changes
}

#[cfg(test)]
mod tests {
    use crate::figures::{effect, work_out};
    use crate::measure::INCH;
    use crate::plan::Plan;

    #[test]
    fn a_longer_front_takes_more_buttons() {
        let plan = Plan::from_json(
            r#"{"format":1,"closures":[{"id":"b1","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","spacing":"3 in"}]}"#,
        )
        .unwrap();
        let mut longer = plan.clone();
        longer.closures[0].line = INCH * 30;
        let changes = effect(&work_out(&plan), &work_out(&longer));
        assert_eq!(changes[0].what, "Front");
        assert_eq!(changes[0].difference, "2 more buttons");
        let mut closer = plan.clone();
        closer.closures[0].count = Some(15);
        let changes = effect(&work_out(&plan), &work_out(&closer));
        assert_eq!(changes[1].difference, "closer centre to centre");
        assert_eq!(
            (changes[1].before.as_str(), changes[1].after.as_str()),
            ("3 in (7.6 cm)", "1 1/2 in (3.8 cm)")
        );
    }
}
