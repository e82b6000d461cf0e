//! The checks of a plan taken by itself: names, references, limits. What only
//! shows once sizes are worked out (a patch wider than its cloth) is checked
//! where it is worked out.

mod closures;
mod face;
mod lay;
mod outlined;
mod quilting;
mod ready_cut;
mod seams;
mod sizing;
mod time;
mod unit;

pub(super) use ready_cut::is_sound as ready_cut_is_sound;
pub(super) use unit::a_unit;

use super::Problem;
use crate::drafting::Settled;
use crate::measure::{INCH, Length, Money, Percent, Round};
use crate::plan::{Cloth, FORMAT, Piece, Plan, limits};
use face::check_face;
use std::collections::HashMap;

/// What was found, and which parts of the plan figures may be built on.
pub(super) struct Checked {
    pub problems: Vec<Problem>,
    /// By position in the plan's lists.
    pub cloths: Vec<bool>,
    pub pieces: Vec<PieceSound>,
    pub edges: bool,
    pub binding: bool,
    pub closures: Vec<bool>,
    pub seams: Vec<bool>,
    pub thread: bool,
    pub sizing: sizing::SizingSound,
    /// By position of the piece.
    pub quilting: Vec<bool>,
    pub allowances: AllowancesSound,
}

#[derive(Clone, Copy)]
pub(super) struct PieceSound {
    pub size: bool,
    pub face: bool,
    pub batting: bool,
    pub backing: bool,
}

#[derive(Clone, Copy)]
pub(super) struct AllowancesSound {
    pub seam: bool,
    pub straightening: bool,
    pub shop_step: bool,
    pub batting_overage: bool,
    pub backing_overage: bool,
    pub backing_seam: bool,
    pub binding: bool,
}

/// A name to use in a sentence: the maker's, cut to a length that fits one,
/// or the id where there is none.
pub(super) fn called(name: &str, id: &str) -> String {
    let name = name.trim();
    let name = if name.is_empty() { id } else { name };
    match name.char_indices().nth(80) {
        Some((end, _)) => format!("{}…", &name[..end]),
        None => name.to_string(),
    }
}

struct Finder<'a> {
    plan: &'a Plan,
    settled: &'a Settled<'a>,
    problems: Vec<Problem>,
}

impl Finder<'_> {
    fn add(&mut self, field: impl Into<String>, message: impl Into<String>) -> bool {
        self.problems.push(Problem {
            field: field.into(),
            message: message.into(),
        });
        false
    }

    fn show(&self, length: Length) -> String {
        length.both(self.plan.unit, Round::Nearest)
    }

    /// More than nothing and at most 200 m.
    fn positive(&mut self, field: &str, what: &str, length: Length) -> bool {
        if !length.is_positive() {
            self.add(
                field,
                format!("{what} is {}. Type a length of more than nothing.", self.show(length)),
            )
        } else {
            self.not_huge(field, what, length)
        }
    }

    /// Nothing or more, and at most 200 m.
    fn at_least_nothing(&mut self, field: &str, what: &str, length: Length) -> bool {
        if length.is_negative() {
            self.add(
                field,
                format!("{what} is {}. Type a length of nothing or more.", self.show(length)),
            )
        } else {
            self.not_huge(field, what, length)
        }
    }

    fn not_huge(&mut self, field: &str, what: &str, length: Length) -> bool {
        if length > Length::MAX {
            self.add(
                field,
                format!("{what} is longer than 200 m (about 218 yd). Check the unit."),
            )
        } else {
            true
        }
    }

    fn at_most(&mut self, field: &str, what: &str, length: Length, most: Length) -> bool {
        if length > most {
            let message = format!(
                "{what} is {}. Type at most {}.",
                self.show(length),
                most.both(self.plan.unit, Round::Down)
            );
            self.add(field, message)
        } else {
            true
        }
    }

    /// Below half: a cloth that loses half of itself cannot be planned for.
    fn below_half(&mut self, field: &str, what: &str, percent: Percent) -> bool {
        let value = percent.as_hundredths();
        if value < 0 {
            self.add(field, format!("{what} is {percent}. Type 0 or more."))
        } else if value >= 10_000 {
            self.add(
                field,
                format!(
                    "{what} of {percent} would leave nothing of the cloth. Type less than 50 %; 1 to 4 % is usual."
                ),
            )
        } else if value >= 5_000 {
            self.add(
                field,
                format!("{what} of {percent} is too much to plan with. Type less than 50 %; 1 to 4 % is usual."),
            )
        } else {
            true
        }
    }

    fn name(&mut self, field: String, what: &str, name: &str) {
        if name.trim().is_empty() {
            self.add(field, format!("This {what} has no name. Type one."));
        } else {
            self.text(field, "The name", name);
        }
    }

    fn text(&mut self, field: String, what: &str, text: &str) {
        if text.len() > limits::TEXT && text.chars().nth(limits::TEXT).is_some() {
            self.add(
                field,
                format!("{what} is longer than {} characters. Shorten it.", limits::TEXT),
            );
        }
    }

    fn count(&mut self, field: String, what: &str, count: u32, most: u32) -> bool {
        if count == 0 {
            self.add(field, format!("{what} is 0. Type at least 1, or take the line out."))
        } else if count > most {
            self.add(field, format!("{what} is {count}. Type at most {most}."))
        } else {
            true
        }
    }

    fn list(&mut self, field: &str, what: &str, len: usize, most: usize) -> bool {
        if len > most {
            self.add(
                field,
                format!("The plan has {len} {what}; it can hold {most}. Divide it into two projects."),
            )
        } else {
            true
        }
    }

    /// Whether each id is there and stands once.
    fn ids<'b>(&mut self, list: &str, what: &str, ids: impl Iterator<Item = &'b str> + Clone) -> Vec<bool> {
        let mut seen: HashMap<&str, usize> = HashMap::new();
        for id in ids.clone() {
            *seen.entry(id).or_default() += 1;
        }
        let mut told: HashMap<&str, ()> = HashMap::new();
        ids.enumerate()
            .map(|(at, id)| {
                if id.trim().is_empty() {
                    return self.add(
                        format!("{list}/{at}/id"),
                        format!("A {what} has no id. Give it one that no other {what} has, such as {list}-1."),
                    );
                }
                if id.chars().count() > limits::TEXT {
                    return self.add(
                        format!("{list}/{at}/id"),
                        format!(
                            "The id of a {what} is longer than {} characters. Shorten it.",
                            limits::TEXT
                        ),
                    );
                }
                if seen.get(id).is_some_and(|n| *n > 1) {
                    if told.insert(id, ()).is_none() {
                        self.add(
                            format!("{list}/{id}/id"),
                            format!("Two {what}s have the id “{id}”. Give each its own."),
                        );
                    }
                    return false;
                }
                true
            })
            .collect()
    }

    fn reference(&mut self, field: String, id: &str, usable: &HashMap<&str, bool>) -> bool {
        match usable.get(id) {
            Some(sound) => *sound,
            None if id.is_empty() => self.add(field, "No cloth is chosen here. Choose one."),
            None => self.add(
                field,
                format!(
                    "The plan has no cloth “{}”. Choose one of its cloths, or add this one.",
                    called(id, "")
                ),
            ),
        }
    }
}

pub(super) fn check<'a>(settled: &'a Settled<'a>) -> Checked {
    let plan = &*settled.plan;
    let outlines = settled.problems.iter().map(|p| Problem {
        field: p.field.clone(),
        message: p.sentence.clone(),
    });
    let mut find = Finder {
        plan,
        settled,
        problems: outlines.collect(),
    };
    if plan.format == 0 || plan.format > FORMAT {
        find.add(
            "format",
            format!(
                "The plan is of format {}; this program reads format {FORMAT}. Update Notchbook to read it.",
                plan.format
            ),
        );
    }
    let allowances = check_allowances(&mut find);
    let cloths = check_cloths(&mut find);
    // An id that stands twice names neither cloth.
    let mut usable: HashMap<&str, bool> = HashMap::new();
    for cloth in plan.cloths.iter().filter(|c| !c.id.trim().is_empty()) {
        usable.entry(&cloth.id).and_modify(|s| *s = false).or_insert(true);
    }
    let mut pieces = check_pieces(&mut find, &usable);
    let quilting = quilting::check(&mut find);
    for ((piece, sound), lines) in plan.pieces.iter().zip(&mut pieces).zip(&quilting) {
        let follows = piece.take_up_from == crate::plan::TakeUpFrom::Spacing;
        sound.size &= !quilting::lacks_lines(piece) && (*lines || !follows);
    }
    let edges = check_edges(&mut find);
    let binding = check_binding(&mut find, &usable);
    check_notions(&mut find);
    let closures = closures::check(&mut find);
    let seams = seams::check(&mut find);
    lay::check(&mut find);
    let thread = seams::check_thread(&mut find);
    let sizing = sizing::check(&mut find);
    time::check(&mut find);
    Checked {
        problems: find.problems,
        cloths,
        pieces,
        edges,
        binding,
        closures,
        seams,
        thread,
        sizing,
        quilting,
        allowances,
    }
}

fn check_allowances(find: &mut Finder) -> AllowancesSound {
    let a = &find.plan.allowances.clone();
    let seam = find.positive("allowances/seam", "The seam allowance", a.seam)
        && find.at_most("allowances/seam", "The seam allowance", a.seam, INCH * 2);
    let straightening = find.at_least_nothing("allowances/straightening", "The loss to straightening", a.straightening)
        && find.at_most(
            "allowances/straightening",
            "The loss to straightening",
            a.straightening,
            INCH * 36,
        );
    let shop_step = find.positive("allowances/shop_step", "The shop's step", a.shop_step)
        && find.at_most("allowances/shop_step", "The shop's step", a.shop_step, INCH * 400);
    let mut small = |field: &str, what: &str, length: Length| {
        let field = format!("allowances/{field}");
        find.at_least_nothing(&field, what, length) && find.at_most(&field, what, length, INCH * 40)
    };
    let batting_overage = small("batting_overage", "The batting's overage", a.batting_overage);
    let backing_overage = small("backing_overage", "The backing's overage", a.backing_overage);
    let backing_seam = small("backing_seam", "The seam of joined lengths", a.backing_seam);
    let binding = [
        small(
            "binding_closed_end",
            "The allowance for a closed run of binding",
            a.binding_closed_end,
        ),
        small(
            "binding_open_ends",
            "The allowance for an open run of binding",
            a.binding_open_ends,
        ),
        small(
            "binding_corner",
            "The allowance for a corner of the binding",
            a.binding_corner,
        ),
        small(
            "binding_shortest_strip",
            "The shortest strip of binding",
            a.binding_shortest_strip,
        ),
    ]
    .iter()
    .all(|sound| *sound);
    AllowancesSound {
        seam,
        straightening,
        shop_step,
        batting_overage,
        backing_overage,
        backing_seam,
        binding,
    }
}

fn check_cloths(find: &mut Finder) -> Vec<bool> {
    let plan = find.plan;
    let few = find.list("cloths", "cloths", plan.cloths.len(), limits::CLOTHS);
    if !few {
        return vec![false; plan.cloths.len()];
    }
    let ids = find.ids("cloths", "cloth", plan.cloths.iter().map(|c| c.id.as_str()));
    plan.cloths
        .iter()
        .zip(ids)
        .map(|(cloth, id)| {
            let at = format!("cloths/{}", cloth.id);
            let name = called(&cloth.name, &cloth.id);
            find.name(format!("{at}/name"), "cloth", &cloth.name);
            for (field, what, text) in [("fibre", "The fibre", &cloth.fibre), ("link", "The link", &cloth.link)] {
                find.text(format!("{at}/{field}"), what, text);
            }
            if !is_colour(&cloth.colour) {
                find.add(
                    format!("{at}/colour"),
                    format!("The colour of {name} must be # and six digits or letters a to f, such as #b8bcc6."),
                );
            }
            let mut sound = id;
            sound &= find.positive(
                &format!("{at}/usable_width"),
                &format!("The usable width of {name}"),
                cloth.usable_width,
            );
            sound &= find.at_least_nothing(
                &format!("{at}/owned"),
                &format!("The length of {name} at hand"),
                cloth.owned,
            );
            sound &= find.below_half(
                &format!("{at}/shrinkage"),
                &format!("Shrinkage of {name}"),
                cloth.shrinkage,
            );
            if let Some(price) = &cloth.price
                && !price_is_sound(price.amount)
            {
                find.add(
                    format!("{at}/price"),
                    format!("The price of {name} must be between 0 and 999,999. Type it again."),
                );
            }
            check_remnants(find, cloth, &at, &name);
            outlined::check(find, cloth, &at, &name);
            ready_cut::check(find, cloth, &at, &name);
            sound
        })
        .collect()
}

/// A remnant that cannot be read is not cut from: never short, so the cloth's figures stand.
fn check_remnants(find: &mut Finder, cloth: &Cloth, at: &str, name: &str) {
    if cloth.remnants.len() > limits::REMNANTS {
        find.add(
            format!("{at}/remnants"),
            format!(
                "{name} has {} remnants; it can hold {}. Leave out the smallest.",
                cloth.remnants.len(),
                limits::REMNANTS
            ),
        );
        return;
    }
    for (n, remnant) in cloth.remnants.iter().enumerate() {
        let which = format!("remnant {} of {name}", n + 1);
        find.positive(
            &format!("{at}/remnants/{n}/width"),
            &format!("The width of {which}"),
            remnant.width,
        );
        find.positive(
            &format!("{at}/remnants/{n}/length"),
            &format!("The length of {which}"),
            remnant.length,
        );
        find.count(
            format!("{at}/remnants/{n}/count"),
            &format!("The number of {which}"),
            remnant.count,
            limits::REMNANT_COUNT,
        );
    }
}

/// Whether a remnant may be cut from.
pub(super) fn remnant_is_sound(remnant: &crate::plan::Remnant) -> bool {
    let side = |l: Length| l.is_positive() && l <= Length::MAX;
    side(remnant.width) && side(remnant.length) && (1..=limits::REMNANT_COUNT).contains(&remnant.count)
}

pub(super) fn price_is_sound(amount: Money) -> bool {
    (0..=99_999_999).contains(&amount.as_hundredths())
}

pub(super) fn is_colour(colour: &str) -> bool {
    colour.len() == 7 && colour.starts_with('#') && colour[1..].chars().all(|c| c.is_ascii_hexdigit())
}

fn check_pieces(find: &mut Finder, usable: &HashMap<&str, bool>) -> Vec<PieceSound> {
    let plan = find.plan;
    const NOTHING: PieceSound = PieceSound {
        size: false,
        face: false,
        batting: false,
        backing: false,
    };
    if !find.list("pieces", "pieces", plan.pieces.len(), limits::PIECES) {
        return vec![NOTHING; plan.pieces.len()];
    }
    let ids = find.ids("pieces", "piece", plan.pieces.iter().map(|p| p.id.as_str()));
    plan.pieces
        .iter()
        .zip(ids)
        .map(|(piece, id)| {
            let at = format!("pieces/{}", piece.id);
            let size = check_size(find, piece, &at) && id;
            let face = match &piece.face {
                Some(face) => check_face(find, face, &at, usable),
                None => true,
            };
            let mut layer = |field: &str, cloth: &Option<String>| match cloth {
                Some(cloth) => find.reference(format!("{at}/layers/{field}"), cloth, usable),
                None => true,
            };
            let (batting, backing) = match &piece.layers {
                Some(layers) => (layer("batting", &layers.batting), layer("backing", &layers.backing)),
                None => (true, true),
            };
            PieceSound {
                size,
                face,
                batting,
                backing,
            }
        })
        .collect()
}

fn check_size(find: &mut Finder, piece: &Piece, at: &str) -> bool {
    let name = called(&piece.name, &piece.id);
    find.name(format!("{at}/name"), "piece", &piece.name);
    let mut sound = find.count(
        format!("{at}/cut_count"),
        &format!("The cut count of {name}"),
        piece.cut_count,
        limits::CUT_COUNT,
    );
    if sound && piece.mirrored && piece.cut_count % 2 == 1 {
        sound = find.add(
            format!("{at}/cut_count"),
            format!(
                "{name} is a mirrored pair, but its cut count is {}. Type an even number, or take the pair off.",
                piece.cut_count
            ),
        );
    }
    if find.settled.unsettled_pieces.contains(&piece.id) {
        // Its outline says why; its size is what it was before.
        sound = false;
    } else {
        sound &= find.positive(&format!("{at}/width"), &format!("The width of {name}"), piece.width);
        sound &= find.positive(&format!("{at}/height"), &format!("The height of {name}"), piece.height);
    }
    sound &= find.at_least_nothing(&format!("{at}/margin"), &format!("The margin of {name}"), piece.margin);
    sound &= find.below_half(
        &format!("{at}/take_up"),
        &format!("Quilting take-up of {name}"),
        piece.take_up,
    );
    if piece.alterations.len() > limits::ALTERATIONS {
        return find.add(
            format!("{at}/alterations"),
            format!(
                "{name} has {} alterations; it can hold {}. Add some of them up.",
                piece.alterations.len(),
                limits::ALTERATIONS
            ),
        );
    }
    for (n, alteration) in piece.alterations.iter().enumerate() {
        sound &= find.not_huge(
            &format!("{at}/alterations/{n}/by"),
            &format!("An alteration of {name}"),
            alteration.by.abs(),
        );
        find.text(format!("{at}/alterations/{n}/reason"), "The reason", &alteration.reason);
    }
    sound
}

fn check_edges(find: &mut Finder) -> bool {
    let plan = find.plan;
    if !find.list("edges", "edges", plan.edges.len(), limits::EDGES) {
        return false;
    }
    let ids = find.ids("edges", "edge", plan.edges.iter().map(|e| e.id.as_str()));
    let mut sound = true;
    for (edge, id) in plan.edges.iter().zip(ids) {
        let at = format!("edges/{}", edge.id);
        let name = called(&edge.name, &edge.id);
        find.name(format!("{at}/name"), "edge", &edge.name);
        sound &= id;
        if find.settled.unsettled_edges.contains(&edge.id) {
            sound = false;
        } else {
            sound &= find.positive(&format!("{at}/length"), &format!("The length of {name}"), edge.length);
        }
        sound &= find.count(
            format!("{at}/count"),
            &format!("The number of {name}"),
            edge.count,
            limits::EDGE_COUNT,
        );
        if edge.corners > limits::CORNERS {
            sound = find.add(
                format!("{at}/corners"),
                format!("{name} has {} corners. Type at most {}.", edge.corners, limits::CORNERS),
            );
        }
    }
    sound
}

/// No figure is built on a notion: what is wrong is told and nothing is left out.
fn check_notions(find: &mut Finder) {
    let plan = find.plan;
    if !find.list("notions", "notions and tools", plan.notions.len(), limits::NOTIONS) {
        return;
    }
    find.ids("notions", "notion", plan.notions.iter().map(|n| n.id.as_str()));
    // Lists for others tick parts of any kind by their ids alone.
    let others = plan
        .cloths
        .iter()
        .map(|c| c.id.as_str())
        .chain(plan.pieces.iter().map(|p| p.id.as_str()))
        .chain(plan.edges.iter().map(|e| e.id.as_str()));
    let others: std::collections::HashSet<&str> = others.collect();
    for notion in &plan.notions {
        let at = format!("notions/{}", notion.id);
        if others.contains(notion.id.as_str()) {
            find.add(
                format!("{at}/id"),
                format!(
                    "The id “{}” of a notion is that of another part of the plan. Give it its own.",
                    called(&notion.id, "")
                ),
            );
        }
        find.name(format!("{at}/name"), "notion", &notion.name);
        if notion.price.is_some_and(|p| !price_is_sound(p)) {
            find.add(
                format!("{at}/price"),
                "The price of a notion must be between 0 and 999,999. Type it again.",
            );
        }
        for (field, what, text) in [
            ("quantity", "The quantity", &notion.quantity),
            ("remark", "The remark", &notion.remark),
            ("link", "The link", &notion.link),
        ] {
            find.text(format!("{at}/{field}"), what, text);
        }
    }
}

fn check_binding(find: &mut Finder, usable: &HashMap<&str, bool>) -> bool {
    let Some(binding) = &find.plan.binding else {
        return true;
    };
    let mut sound = find.reference("binding/cloth".into(), &binding.cloth, usable);
    let what = "The finished width of the binding";
    sound &= find.positive("binding/finished_width", what, binding.finished_width)
        && find.at_most("binding/finished_width", what, binding.finished_width, INCH * 10);
    let what = "The extra for thick layers";
    sound &= find.at_least_nothing("binding/thickness", what, binding.thickness)
        && find.at_most("binding/thickness", what, binding.thickness, INCH * 10);
    sound
}
