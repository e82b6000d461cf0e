//! Notions, closures, thread and tools of several plans, those of one name
//! (closures: of one kind and size) as one line.

use super::{ThingKind, ThingToBuy, Wanting, plainly};
use crate::figures::check::{called, price_is_sound};
use crate::figures::thread::spool_both;
use crate::measure::{Length, Money, Round, Unit, capital};
use crate::plan::NotionKind;

/// A line while plans are added to it.
struct Line {
    thing: ThingToBuy,
    amount: Amount,
}

/// How much, as far as it can be added up.
#[derive(Clone, PartialEq, Eq)]
enum Amount {
    Count(i64),
    Cloth(Length),
    /// In the makers' words.
    Words(Vec<String>),
}

#[derive(Default)]
struct Lines(Vec<Line>);

struct New<'a> {
    key: String,
    kind: ThingKind,
    name: String,
    amount: Amount,
    said: String,
    remark: &'a str,
    link: &'a str,
    cost: Option<Money>,
}

pub(super) fn things(plans: &[Wanting<'_>], unit: Unit) -> Vec<ThingToBuy> {
    let mut lines = Lines::default();
    for (at, wanting) in plans.iter().enumerate() {
        for n in &wanting.plan.notions {
            let kind = match n.kind {
                NotionKind::Notion => ThingKind::Notion,
                NotionKind::Tool => ThingKind::Tool,
            };
            let word = if kind == ThingKind::Tool { "tool" } else { "notion" };
            let name = called(&n.name, &n.id);
            lines.add(
                at,
                New {
                    key: format!("{word}/{}", plainly(&name)),
                    kind,
                    amount: Amount::read(&n.quantity),
                    said: n.quantity.clone(),
                    name,
                    remark: &n.remark,
                    link: &n.link,
                    cost: n.price.filter(|p| price_is_sound(*p)),
                },
            );
        }
        for row in &wanting.figures.closures {
            let Some(known) = wanting.plan.closure(&row.closure) else {
                continue;
            };
            let (size, word, round) = match row.zip {
                Some(zip) => (zip, "long", Round::Up),
                None => (known.size, "across", Round::Nearest),
            };
            let many = row.kind.counted(2);
            let name = if size.is_positive() {
                format!("{} {} {word}", capital(many), size.both_sixteenths(unit, round))
            } else {
                capital(many)
            };
            lines.add(
                at,
                New {
                    key: format!("closure/{}/{}", plainly(many), size.units()),
                    kind: ThingKind::Closure,
                    name,
                    amount: Amount::Count(row.count),
                    said: format!("{}, {}", row.count, row.name),
                    remark: "",
                    link: &known.link,
                    cost: row.cost,
                },
            );
        }
        if let Some(t) = wanting.figures.thread.as_ref().filter(|t| t.total.is_positive()) {
            let more = if t.not_counted.is_empty() { "" } else { "more than " };
            lines.add(
                at,
                New {
                    key: format!("thread/{}", t.spool.units()),
                    kind: ThingKind::Thread,
                    name: format!("Thread, spools of {}", spool_both(t.spool, unit)),
                    // Each plan has colours of its own: spools are not shared.
                    amount: Amount::Count(t.spools),
                    said: format!("{} for {more}{}", t.spools, t.total.both_cloth(unit, Round::Up)),
                    remark: "",
                    link: "",
                    cost: t.cost,
                },
            );
        }
    }
    let mut things: Vec<ThingToBuy> = lines.0.into_iter().map(|line| line.done(unit)).collect();
    things.sort_by_key(|thing| (thing.kind, plainly(&thing.name)));
    things
}

impl Lines {
    fn add(&mut self, at: usize, new: New<'_>) {
        let of = (at, new.said);
        match self.0.iter_mut().find(|l| l.thing.key == new.key) {
            Some(line) => {
                line.amount.add(new.amount, new.kind == ThingKind::Tool);
                let thing = &mut line.thing;
                thing.of.push(of);
                thing.cost = thing.cost.zip(new.cost).map(|(a, b)| a + b);
                if thing.remark.is_empty() {
                    thing.remark = new.remark.into();
                }
                if thing.link.is_empty() {
                    thing.link = new.link.into();
                }
            }
            None => self.0.push(Line {
                amount: new.amount,
                thing: ThingToBuy {
                    key: new.key,
                    kind: new.kind,
                    name: new.name,
                    quantity: String::new(),
                    of: vec![of],
                    remark: new.remark.into(),
                    link: new.link.into(),
                    cost: new.cost,
                },
            }),
        }
    }
}

impl Line {
    fn done(mut self, unit: Unit) -> ThingToBuy {
        self.thing.quantity = self.amount.words(unit);
        self.thing
    }
}

impl Amount {
    /// A number, or a length with its unit; else words.
    fn read(text: &str) -> Amount {
        let text = text.trim();
        if let Ok(count) = text.parse::<u32>() {
            return Amount::Count(count.into());
        }
        let unit = text.ends_with(|c: char| c.is_alphabetic() || c == '"');
        match Length::parse_positive(text, Unit::Inch) {
            Ok(length) if unit => Amount::Cloth(length),
            _ => Amount::Words(vec![text.into()]),
        }
    }

    /// Of tools, which are not used up, the most that any plan wants.
    fn add(&mut self, more: Amount, tools: bool) {
        match (&mut *self, more) {
            (Amount::Count(a), Amount::Count(b)) if tools => *a = (*a).max(b),
            (now, more) if tools && *now == more => {}
            (Amount::Count(a), Amount::Count(b)) => *a = a.saturating_add(b),
            (Amount::Cloth(a), Amount::Cloth(b)) if *a + b <= Length::MAX => *a += b,
            (_, more) => {
                let mut words = self.each();
                words.extend(more.each());
                *self = Amount::Words(words);
            }
        }
    }

    fn each(&self) -> Vec<String> {
        match self {
            Amount::Count(n) => vec![n.to_string()],
            Amount::Cloth(length) => vec![length.both_cloth(Unit::Inch, Round::Up)],
            Amount::Words(words) => words.clone(),
        }
    }

    fn words(&self, unit: Unit) -> String {
        match self {
            Amount::Count(n) => n.to_string(),
            Amount::Cloth(length) => length.both_cloth(unit, Round::Up),
            Amount::Words(words) => {
                let said: Vec<&str> = words.iter().map(String::as_str).filter(|w| !w.is_empty()).collect();
                let more = if said.len() < words.len() && !said.is_empty() {
                    "more than "
                } else {
                    ""
                };
                format!("{more}{}", said.join(" + "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::plan::Plan;

    fn list(jsons: &[&str]) -> Vec<(String, String)> {
        let plans: Vec<Plan> = jsons
            .iter()
            .map(|j| Plan::from_json(&format!(r#"{{"format":1,{j}}}"#)).unwrap())
            .collect();
        let figures: Vec<_> = plans.iter().map(work_out).collect();
        let wanting: Vec<Wanting> = plans
            .iter()
            .zip(&figures)
            .map(|(plan, figures)| Wanting {
                title: "",
                plan,
                figures,
                cut: &[],
            })
            .collect();
        let lines = things(&wanting, Unit::Inch).into_iter();
        lines.map(|t| (t.name, t.quantity)).collect()
    }

    #[test]
    fn amounts_of_one_name_are_added_where_they_can_be() {
        let notions = |tape: &str, snaps: &str, pins: &str| {
            format!(
                r#""notions":[{{"id":"n1","name":"Tape","quantity":"{tape}"}},{{"id":"n2","name":"Snaps","quantity":"{snaps}"}},
                {{"id":"n3","name":"Pins","quantity":"{pins}"}}]"#
            )
        };
        let (a, b) = (
            notions("1 m", "9", "a box"),
            notions("2 m", "5", "").replace("Tape", " tape "),
        );
        let found = list(&[&a, &b]);
        let said: Vec<(&str, &str)> = found.iter().map(|(n, q)| (n.as_str(), q.as_str())).collect();
        assert_eq!(
            said,
            [
                ("Pins", "more than a box"),
                ("Snaps", "14"),
                ("Tape", "3 3/8 yd (3.00 m)"),
            ]
        );
    }

    #[test]
    fn closures_go_together_by_kind_and_size() {
        let row = |id: &str, size: &str, count: u32| {
            format!(
                r#"{{"id":"{id}","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","count":{count},"size":"{size}"}}"#
            )
        };
        let one = format!(r#""closures":[{},{}]"#, row("b1", "1/2 in", 6), row("b2", "3/4 in", 2));
        let two = format!(r#""closures":[{}]"#, row("b1", "1/2 in", 5));
        let found = list(&[&one, &two]);
        assert_eq!(found.len(), 2);
        assert_eq!(
            found[0],
            ("Buttons 1/2 in (1.3 cm) across".to_string(), "11".to_string())
        );
    }
}
