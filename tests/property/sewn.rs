//! What is sewn on and how, to try: closures, seams and thread, size tables,
//! care; sound ones and hostile ones.

use crate::plans::{inches, wild, wild_count, wild_percent, wild_text};
use notchbook::measure::{EIGHTH, Length, METRE, MM, Money, Percent};
use notchbook::plan::{
    Bleaching, Care, Closure, ClosureKind, DryCleaning, Ironing, MadeFor, NaturalDrying, Plan, Seam, SizeRow, Sizing,
    Stitch, Thread, TumbleDrying,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// These parts of a plan.
#[derive(Clone, Debug)]
pub struct Sewn {
    closures: Vec<Closure>,
    seams: Vec<Seam>,
    thread: Option<Thread>,
    sizing: Option<Sizing>,
    care: Vec<Option<Care>>,
    made_for: MadeFor,
}

impl Sewn {
    pub fn onto(self, mut plan: Plan) -> Plan {
        plan.closures = self.closures;
        plan.seams = self.seams;
        plan.thread = self.thread;
        plan.sizing = self.sizing;
        plan.made_for = self.made_for;
        for (cloth, care) in plan.cloths.iter_mut().zip(self.care) {
            cloth.care = care;
        }
        plan
    }
}

pub fn closure(n: usize) -> impl Strategy<Value = Closure> {
    (
        (0..4usize, inches(10, 40), inches(0, 2), inches(0, 2)),
        (
            1..5i64,
            option::weighted(0.3, 1..12u32),
            option::weighted(0.5, 0..100i64),
        ),
        (0..8i64, 0..3i64, option::of(0..500i64)),
    )
        .prop_map(
            move |((kind, line, first, last), (spacing, count, bust), (size, thick, price))| {
                let span = line - first - last;
                Closure {
                    id: format!("b{n}"),
                    name: format!("Row {n}"),
                    kind: ClosureKind::ALL[kind],
                    line,
                    first,
                    last,
                    spacing: Some(EIGHTH * (spacing * 8)),
                    count,
                    bust_level: bust.map(|part| first + span.scale_down(part, 100)),
                    size: MM * size,
                    thickness: MM * thick,
                    price: price.map(Money::hundredths),
                    link: String::new(),
                }
            },
        )
}

pub fn seam(n: usize) -> impl Strategy<Value = Seam> {
    (inches(1, 80), 1..9u32, 0..Stitch::ALL.len()).prop_map(move |(length, count, stitch)| Seam {
        id: format!("s{n}"),
        name: format!("Seam {n}"),
        length,
        count,
        stitch: Stitch::ALL[stitch],
    })
}

pub fn thread() -> impl Strategy<Value = Thread> {
    (
        vec(0..Stitch::ALL.len(), 3),
        (1..9i64, 0..9i64, 0..5i64, 0..40i64),
        (1..4000i64, option::of(0..900i64)),
    )
        .prop_map(|(stitch, (length, layers, ends, waste), (spool, price))| Thread {
            piecing: Stitch::ALL[stitch[0]],
            quilting: Stitch::ALL[stitch[1]],
            binding: Stitch::ALL[stitch[2]],
            stitch_length: MM * length,
            layers: MM * layers,
            seam_end: MM * (ends * 10),
            waste: Percent::whole(waste),
            spool: METRE * spool,
            price: price.map(Money::hundredths),
        })
}

const NAMES: [&str; 5] = ["bust girth", "chest girth", "waist girth", "hip girth", "arm length"];

pub fn sizing() -> impl Strategy<Value = Sizing> {
    (1..9usize)
        .prop_flat_map(|sizes| {
            let row = (
                0..NAMES.len(),
                inches(20, 40),
                vec(0..16i64, sizes),
                option::of(vec(0..16i64, sizes)),
                option::weighted(0.8, inches(18, 60)),
                option::of(-8..40i64),
            );
            (Just(sizes), vec(row, 1..5), option::of(0..sizes))
        })
        .prop_map(|(sizes, rows, chosen)| {
            let up = |start: Length, steps: &[i64]| {
                let mut at = start;
                steps
                    .iter()
                    .map(|step| {
                        at += EIGHTH * *step;
                        at
                    })
                    .collect::<Vec<_>>()
            };
            let names: Vec<String> = (0..sizes).map(|n| format!("{}", 8 + 2 * n)).collect();
            Sizing {
                chosen: chosen.map(|n| names[n].clone()).unwrap_or_default(),
                sizes: names,
                rows: rows
                    .into_iter()
                    .map(|(name, start, body, garment, wearer, ease)| SizeRow {
                        name: NAMES[name].into(),
                        body: up(start, &body),
                        garment: garment.map(|steps| up(start + EIGHTH * 24, &steps)).unwrap_or_default(),
                        wearer,
                        ease: ease.map(|n| EIGHTH * n),
                    })
                    .collect(),
                measured_on: "2027-03-14".into(),
            }
        })
}

pub fn care() -> impl Strategy<Value = Care> {
    use notchbook::figures::care::words;
    (
        (0..words::WASHING.len(), 0..3usize, 0..3usize),
        (0..4usize, 0..4usize, 0..3usize, any::<bool>()),
    )
        .prop_map(|((washing, bleaching, tumble), (natural, ironing, dry, shade))| Care {
            washing: pick(&words::WASHING, washing),
            bleaching: pick::<Bleaching>(&words::BLEACHING, bleaching),
            tumble_drying: pick::<TumbleDrying>(&words::TUMBLE, tumble),
            natural_drying: pick::<NaturalDrying>(&words::NATURAL, natural),
            in_the_shade: shade,
            ironing: pick::<Ironing>(&words::IRONING, ironing),
            dry_cleaning: pick::<DryCleaning>(&words::DRY_CLEANING, dry),
        })
}

fn pick<T: Copy>(list: &[(T, &str)], at: usize) -> T {
    list[at].0
}

fn made_for() -> impl Strategy<Value = MadeFor> {
    (0..4usize).prop_map(|n| MadeFor::ALL[n])
}

pub fn sound() -> impl Strategy<Value = Sewn> {
    (
        (0..3usize).prop_flat_map(|n| (0..n).map(closure).collect::<Vec<_>>()),
        (0..3usize).prop_flat_map(|n| (0..n).map(seam).collect::<Vec<_>>()),
        option::of(thread()),
        option::of(sizing()),
        vec(option::of(care()), 4),
        made_for(),
    )
        .prop_map(|(closures, seams, thread, sizing, care, made_for)| Sewn {
            closures,
            seams,
            thread,
            sizing,
            care,
            made_for,
        })
}

fn wild_money() -> impl Strategy<Value = Option<Money>> {
    option::of(any::<i64>().prop_map(Money::hundredths))
}

fn wild_closure() -> impl Strategy<Value = Closure> {
    (
        (wild_text(), wild_text(), 0..4usize, vec(wild(), 5)),
        (
            option::of(wild()),
            option::of(wild_count()),
            option::of(wild()),
            wild_money(),
        ),
    )
        .prop_map(
            |((id, name, kind, lengths), (spacing, count, bust_level, price))| Closure {
                id,
                name,
                kind: ClosureKind::ALL[kind],
                line: lengths[0],
                first: lengths[1],
                last: lengths[2],
                spacing,
                count,
                bust_level,
                size: lengths[3],
                thickness: lengths[4],
                price,
                link: String::new(),
            },
        )
}

fn wild_seam() -> impl Strategy<Value = Seam> {
    (wild_text(), wild_text(), wild(), wild_count(), 0..Stitch::ALL.len()).prop_map(
        |(id, name, length, count, stitch)| Seam {
            id,
            name,
            length,
            count,
            stitch: Stitch::ALL[stitch],
        },
    )
}

fn wild_thread() -> impl Strategy<Value = Thread> {
    (
        vec(0..Stitch::ALL.len(), 3),
        vec(wild(), 4),
        wild_percent(),
        wild_money(),
    )
        .prop_map(|(stitch, lengths, waste, price)| Thread {
            piecing: Stitch::ALL[stitch[0]],
            quilting: Stitch::ALL[stitch[1]],
            binding: Stitch::ALL[stitch[2]],
            stitch_length: lengths[0],
            layers: lengths[1],
            seam_end: lengths[2],
            waste,
            spool: lengths[3],
            price,
        })
}

fn wild_sizing() -> impl Strategy<Value = Sizing> {
    let row = (
        wild_text(),
        vec(wild(), 0..5),
        vec(wild(), 0..5),
        option::of(wild()),
        option::of(wild()),
    );
    (vec(wild_text(), 0..5), vec(row, 0..4), wild_text(), wild_text()).prop_map(|(sizes, rows, measured_on, chosen)| {
        Sizing {
            sizes,
            rows: rows
                .into_iter()
                .map(|(name, body, garment, wearer, ease)| SizeRow {
                    name,
                    body,
                    garment,
                    wearer,
                    ease,
                })
                .collect(),
            measured_on,
            chosen,
        }
    })
}

pub fn wild_parts() -> impl Strategy<Value = Sewn> {
    (
        vec(prop_oneof![1 => closure(0), 1 => wild_closure()], 0..3),
        vec(prop_oneof![1 => seam(0), 1 => wild_seam()], 0..3),
        option::of(prop_oneof![1 => thread(), 1 => wild_thread()]),
        option::of(prop_oneof![1 => sizing(), 1 => wild_sizing()]),
        vec(option::of(care()), 4),
        made_for(),
    )
        .prop_map(|(closures, seams, thread, sizing, care, made_for)| Sewn {
            closures,
            seams,
            thread,
            sizing,
            care,
            made_for,
        })
}
