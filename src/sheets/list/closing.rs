//! What closes a list: finished measurements, what was altered and why, care,
//! steps, cautions.

use super::Line;
use super::lines::{altered_by, line};
use crate::figures::Figures;
use crate::measure::Unit;
use crate::measure::{Round, about_hours};
use crate::notebook::{Decided, Step};
use crate::plan::{Alteration, Plan};
use crate::sheets::outline_change_words;
use crate::sheets::plain::one_line;
use sha2::{Digest, Sha256};

/// At published paces: what the maker logged is hers.
pub fn time(figures: &Figures) -> Vec<Line> {
    let time = &figures.time;
    if time.expected.likely <= 0 {
        return Vec::new();
    }
    let about = about_hours(time.expected.likely, true);
    let more = if time.not_known.is_empty() {
        "about"
    } else {
        "more than"
    };
    vec![line(
        "time".into(),
        "All of the work",
        format!("{more} {about}"),
        "at paces others have published".into(),
        "",
    )]
}

/// Of the pieces, and of the garment where the pattern's table says them. The
/// wearer's own measures are in neither.
pub fn finished(plan: &Plan, figures: &Figures) -> Vec<Line> {
    let unit = plan.unit;
    let garment = figures.sizing.iter().flat_map(|s| &s.rows).filter_map(|row| {
        let measure = row.garment?.both(unit, Round::Nearest);
        let key = format!("garment/{}", hashed(&row.name));
        Some(line(key, &row.name, measure, "of the garment".into(), ""))
    });
    let pieces = figures.pieces.iter().map(|f| {
        let size = f.finished.both(unit, Round::Nearest);
        let quantity = match f.count {
            1 => size,
            n => format!("{n} of {size}"),
        };
        line(
            format!("finished/{}", f.piece),
            &f.name,
            quantity,
            "the piece, with its seam allowances".into(),
            "",
        )
    });
    garment.chain(pieces).collect()
}

pub fn alterations(plan: &Plan) -> Vec<Line> {
    let mut lines = Vec::new();
    for piece in &plan.pieces {
        for (i, a) in piece.alterations.iter().enumerate() {
            let alike = piece.alterations[..i].iter().filter(|b| *b == a).count();
            let quantity = altered_by(a, plan.unit);
            lines.push(line(
                format!("altered/{}/{}/{alike}", piece.id, fingerprint(a)),
                &piece.name,
                quantity,
                a.reason.clone(),
                "",
            ));
        }
        for (i, c) in piece.outline_changes().iter().enumerate() {
            let alike = piece.outline_changes()[..i].iter().filter(|b| *b == c).count();
            let words = outline_change_words(&c.change, plan.unit);
            // As alterations are: by what it says, in whatever unit it is read.
            let said = outline_change_words(&c.change, Unit::Cm);
            lines.push(line(
                format!(
                    "altered/{}/{}/{alike}",
                    piece.id,
                    hashed(&format!("{said}\n{}", c.reason))
                ),
                &piece.name,
                words,
                c.reason.clone(),
                "",
            ));
        }
    }
    lines
}

/// What the log says was decided. Named by what it says too: with other words
/// it is ticked anew.
pub fn decisions(decided: &[Decided]) -> Vec<Line> {
    let told = decided.iter().map(|d| {
        let said = one_line(&d.text);
        let why = one_line(&d.why);
        let why = if why.is_empty() { why } else { format!("why: {why}") };
        let key = format!("decided/{}", hashed(&format!("{}\n{}\n{}", d.id, d.text, d.why)));
        line(key, said.trim_end_matches('.'), String::new(), why, "")
    });
    told.filter(|l| !l.name.is_empty()).collect()
}

/// Names an alteration by what it says. Its place in the list would not do: with
/// the one before it taken out, a tick would pass to an alteration, and a
/// reason, that was never ticked.
fn fingerprint(a: &Alteration) -> String {
    hashed(&format!("{}\n{}\n{}", a.along.name(), a.by, a.reason))
}

fn hashed(said: &str) -> String {
    let hash = Sha256::digest(said.as_bytes());
    hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

pub fn care(figures: &Figures) -> Vec<Line> {
    let Some(care) = &figures.care else { return Vec::new() };
    let part = if care.unknown.is_empty() {
        ""
    } else {
        "of what is known: not of all materials it is"
    };
    let lines = care.lines.iter().map(|l| {
        let key = format!("care/{}", hashed(l.treatment));
        line(key, l.treatment, l.words.clone(), part.into(), "")
    });
    lines.collect()
}

pub fn steps(steps: &[Step]) -> Vec<Line> {
    steps
        .iter()
        .map(|s| Line {
            video: s.video,
            ..line(format!("step/{}", s.id), &s.title, String::new(), String::new(), "")
        })
        .collect()
}

/// Named by what they say: another caution is not ticked with this one.
pub fn cautions(figures: &Figures) -> Vec<Line> {
    const TOOLS: &str =
        "Cutters and irons hurt: close the blade after every cut, and keep both from children and animals.";
    let said = |said: &str| {
        line(
            format!("caution/{}", hashed(said)),
            said,
            String::new(),
            String::new(),
            "",
        )
    };
    let care = figures.care.iter().flat_map(|care| {
        // The one on unknown care names materials, which may not be ticked.
        let names = usize::from(!care.unknown.is_empty());
        care.shown.cautions.iter().skip(names)
    });
    let tools = Line {
        shown: true,
        ..said(TOOLS)
    };
    let parts = figures.closures.iter().filter_map(|c| c.small_parts.as_ref());
    let mut met: Vec<&String> = Vec::new();
    for caution in care.chain(parts) {
        if !met.contains(&caution) {
            met.push(caution);
        }
    }
    // The others tell for whom it is made.
    std::iter::once(tools).chain(met.into_iter().map(|c| said(c))).collect()
}
