//! What can be wrong with an outline, each with a sentence.

use super::cut::{Side, hem_of};
use super::sample::samples;
use super::{Shape, round};
use crate::drafting::DraftProblem;
use crate::measure::{INCH, Length, Round, Unit};
use crate::plan::{EdgeKind, PatternOutline, Segment, limits};
use kurbo::Point;
use std::collections::HashSet;

/// The widest allowance: a deep hem of a curtain.
const WIDEST: Length = Length::from_units(INCH.units() * 12);

/// An edge shorter than this is none.
const SHORTEST: f64 = 0.05;

/// Where an outline stands, for the problems found in it.
#[derive(Clone, Debug)]
pub struct Told<'a> {
    /// Its place in the plan: `pieces/p1/pattern`.
    pub field: String,
    /// What the maker calls it.
    pub name: &'a str,
    pub unit: Unit,
}

impl Told<'_> {
    pub(super) fn problem(&self, field: impl std::fmt::Display, sentence: impl Into<String>) -> DraftProblem {
        DraftProblem::new(format!("{}/{field}", self.field), sentence)
    }
}

impl Shape {
    /// What stands in the way of cutting it: for a shape that was changed.
    pub(super) fn problems(&self, told: &Told<'_>) -> Vec<DraftProblem> {
        let mut found = Vec::new();
        let name = told.name;
        let (bounds, most) = (self.bounds(), round::mm(Length::MAX));
        // Also where a number came out as none.
        if !(bounds.width() <= most && bounds.height() <= most) {
            found.push(told.problem(
                "edges",
                format!("The outline of {name} is larger than 200 m. Check the measures and their units."),
            ));
            return found;
        }
        for (i, edge) in self.edges.iter().enumerate() {
            if edge.length() < SHORTEST {
                found.push(told.problem(
                    format!("edges/{i}/path"),
                    format!(
                        "The edge “{}” of {name} has no length. Take it out, or move one of its ends.",
                        edge.name
                    ),
                ));
            }
        }
        if found.is_empty() {
            found.extend(self.fold_problem(told));
            found.extend(self.fold_back_problems(told));
        }
        if found.is_empty()
            && let Some((a, b)) = self.crossing()
        {
            let what = if a == b {
                format!("The edge “{a}” of {name} crosses itself")
            } else {
                format!("The edges “{a}” and “{b}” of {name} cross each other")
            };
            found.push(told.problem(
                "edges",
                format!("{what}. Check the measures, or take the last change back."),
            ));
        }
        if found.is_empty() && self.area() < 1.0 {
            found.push(told.problem(
                "edges",
                format!("The outline of {name} encloses nothing. Draw it round the piece."),
            ));
        }
        found
    }

    fn fold_problem(&self, told: &Told<'_>) -> Option<DraftProblem> {
        let (i, fold) = self.edges.iter().enumerate().find(|(_, e)| e.kind == EdgeKind::Fold)?;
        let say = |what: &str| {
            Some(told.problem(
                format!("edges/{i}/kind"),
                format!("The fold “{}” of {} {what}", fold.name, told.name),
            ))
        };
        if self.edges.iter().filter(|e| e.kind == EdgeKind::Fold).count() > 1 {
            return say("is one of two. A piece lies on one fold; make the other edge a seam.");
        }
        if self.edges.len() < 2 {
            return say("is its only edge. Divide the outline into edges first.");
        }
        if !fold.is_straight() {
            return say("must be straight. Make it a seam, or draw it straight.");
        }
        let (from, along) = (fold.start(), (fold.end() - fold.start()).normalize());
        let aside = |p: Point| along.cross(p - from);
        let sides = self.edges.iter().flat_map(|e| samples(e, 0.0)).map(|s| aside(s.p));
        let (least, most) = sides.fold((0.0_f64, 0.0_f64), |(a, b), d| (a.min(d), b.max(d)));
        if least < -0.01 && most > 0.01 {
            return say("has a part of the piece on either side. Draw one half only, or make the edge a seam.");
        }
        None
    }

    fn fold_back_problems(&self, told: &Told<'_>) -> Vec<DraftProblem> {
        let mut found = Vec::new();
        for (i, edge) in self.edges.iter().enumerate() {
            if edge.corner != crate::plan::CornerCut::FoldBack {
                continue;
            }
            let Some(next) = self.edges.get((i + 1) % self.edges.len()) else {
                continue;
            };
            let field = format!("edges/{i}/corner");
            let corner = format!(
                "The corner between “{}” and “{}” of {}",
                edge.name, next.name, told.name
            );
            let Some(side) = hem_of(edge, next) else {
                found.push(told.problem(
                    field,
                    format!("{corner} is cut to fold back, which takes one hem. Make one of the two a hem, or choose a mitre."),
                ));
                continue;
            };
            let hem = if side == Side::This { edge } else { next };
            if !hem.is_straight() {
                found.push(told.problem(
                    field,
                    format!("{corner} is cut to fold back, but the hem is curved. Choose a mitre, or face the hem."),
                ));
                continue;
            }
            let (arrives, leaves) = (edge.at(f64::MAX).1, next.at(0.0).1);
            if arrives.cross(leaves).abs() < 0.35 {
                found.push(told.problem(
                    field,
                    format!("{corner} is too flat or too sharp to fold back. Choose a mitre or a square corner."),
                ));
            }
        }
        found
    }

    /// Names of two edges that cross.
    fn crossing(&self) -> Option<(&str, &str)> {
        let mut chords: Vec<(Point, Point, usize)> = Vec::new();
        for (i, edge) in self.edges.iter().enumerate() {
            for pair in samples(edge, 0.0).windows(2) {
                if let [a, b] = pair
                    && (b.p - a.p).hypot() > 1e-9
                {
                    chords.push((a.p, b.p, i));
                }
            }
        }
        let least = |c: &(Point, Point, usize)| c.0.x.min(c.1.x);
        chords.sort_by(|a, b| least(a).total_cmp(&least(b)));
        for (n, a) in chords.iter().enumerate() {
            let right = a.0.x.max(a.1.x);
            for b in chords.iter().skip(n + 1).take_while(|b| least(b) <= right) {
                if cross((a.0, a.1), (b.0, b.1)) {
                    let name = |i: usize| self.edges.get(i).map_or("", |e| e.name.as_str());
                    return Some((name(a.2.min(b.2)), name(a.2.max(b.2))));
                }
            }
        }
        None
    }
}

/// Whether two chords cross at a point inside of both.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| {
        let area = (q - p).cross(r - p);
        if area.abs() < 1e-7 { 0.0 } else { area.signum() }
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// What can be told from the lists alone.
pub(super) fn listed(outline: &PatternOutline, told: &Told<'_>) -> Vec<DraftProblem> {
    let mut found = Vec::new();
    let name = told.name;
    if outline.edges.is_empty() {
        found.push(told.problem(
            "edges",
            format!("The outline of {name} has no edges. Draw it, or take the pattern off."),
        ));
    }
    for (field, what, count, most) in [
        (
            "edges",
            "lines and curves",
            outline.edges.iter().map(|e| e.path.0.len()).sum(),
            limits::SEGMENTS,
        ),
        ("notches", "notches", outline.notches.len(), limits::NOTCHES),
        ("marks", "marks", outline.marks.len(), limits::MARKS),
        ("inner", "inner lines", outline.inner.len(), limits::INNER_LINES),
        (
            "inner",
            "lines and curves inside",
            outline.inner.iter().map(|l| l.path.0.len()).sum(),
            limits::SEGMENTS,
        ),
    ] {
        if count > most {
            found.push(told.problem(
                field,
                format!("The outline of {name} has {count} {what}; {most} are the most. Leave some out."),
            ));
            return found;
        }
    }
    let mut names = HashSet::new();
    for (i, edge) in outline.edges.iter().enumerate() {
        let at = |field: &str| format!("edges/{i}/{field}");
        if edge.name.trim().is_empty() {
            found.push(told.problem(at("name"), format!("An edge of {name} has no name. Type one.")));
        } else if edge.name.chars().count() > 60 {
            found.push(told.problem(
                at("name"),
                format!("The name of an edge of {name} is longer than 60 characters. Shorten it."),
            ));
        } else if !names.insert(edge.name.as_str()) {
            found.push(told.problem(
                at("name"),
                format!(
                    "Two edges of {name} are called “{}”. Give each its own name.",
                    edge.name
                ),
            ));
        }
        if edge.path.0.is_empty() {
            found.push(told.problem(
                at("path"),
                format!(
                    "The edge “{}” of {name} has no path. Draw it, or take it out.",
                    edge.name
                ),
            ));
        }
        found.extend(
            allowance_problem(edge.kind, edge.allowance, &edge.name, told).map(|s| told.problem(at("allowance"), s)),
        );
    }
    let ends = outline.edges.iter().flat_map(|e| &e.path.0);
    let inside = outline.inner.iter().flat_map(|l| &l.path.0);
    let points = ends.chain(inside).flat_map(|s| match s {
        Segment::Line(a) => vec![*a],
        Segment::Curve(a, b, c) => vec![*a, *b, *c],
    });
    let others = outline.marks.iter().map(|m| m.at);
    let others = others
        .chain(outline.inner.iter().map(|l| l.from))
        .chain(outline.grain.into_iter().flatten());
    if points
        .chain(others)
        .any(|p| p.x.abs() > Length::MAX || p.y.abs() > Length::MAX)
    {
        found.push(told.problem(
            "edges",
            format!("A point of the outline of {name} lies more than 200 m away. Check the unit."),
        ));
    }
    for (i, notch) in outline.notches.iter().enumerate() {
        let place = format!("notches/{i}");
        match outline.edges.iter().find(|e| e.name == notch.edge) {
            None => found.push(told.problem(
                format!("{place}/edge"),
                format!(
                    "A notch of {name} is on “{}”, which is no edge of it. Choose one of its edges.",
                    notch.edge
                ),
            )),
            Some(_) if notch.at.is_negative() => found.push(told.problem(
                format!("{place}/at"),
                format!(
                    "A notch of {name} lies before the begin of “{}”. Type nothing or more.",
                    notch.edge
                ),
            )),
            Some(_) => {}
        }
    }
    if let Some([from, to]) = &outline.grain
        && from == to
    {
        found.push(told.problem(
            "grain",
            format!("The grainline of {name} has no length. Draw it longer, or leave it out."),
        ));
    }
    found
}

/// What is wrong with an edge's allowance.
pub(super) fn allowance_problem(kind: EdgeKind, allowance: Length, edge: &str, told: &Told<'_>) -> Option<String> {
    let name = told.name;
    let said = |what: String| Some(format!("The allowance of “{edge}” of {name} {what}"));
    if allowance.is_negative() {
        said("is less than nothing. Type nothing or more.".into())
    } else if allowance > WIDEST {
        said(format!(
            "is {}. Type at most {}.",
            allowance.both(told.unit, Round::Nearest),
            WIDEST.both(told.unit, Round::Down)
        ))
    } else if allowance.is_positive() && kind == EdgeKind::Fold {
        said("lies on the fold. Type 0: nothing is cut there.".into())
    } else if allowance.is_positive() && kind == EdgeKind::Bound {
        said("is covered by a binding. Type 0: the cloth ends at the stitching line's place.".into())
    } else {
        None
    }
}
