//! A piece with its alterations, unfolded.

use super::write::Writer;
use crate::figures::check::called;
use crate::figures::{Problem, Size};
use crate::measure::Round;
use crate::plan::{Along, Piece};

/// The piece whole, with its alterations.
pub(super) fn altered(piece: &Piece, at: &str, name: &str, write: &mut Writer) -> Result<Size, Problem> {
    let mut size = Size {
        width: piece.width,
        height: piece.height,
    };
    write.line(format!("The piece as printed: {}.", write.size(size, Round::Nearest)));
    for alteration in &piece.alterations {
        match alteration.along {
            Along::Width => size.width += alteration.by,
            Along::Height => size.height += alteration.by,
        }
        let sign = if alteration.by.is_negative() { "-" } else { "+" };
        let reason = alteration.reason.trim();
        let reason = if reason.is_empty() {
            String::new()
        } else {
            format!(" ({})", called(reason, ""))
        };
        write.line(format!(
            "{sign}{} in {}{reason}: {}.",
            write.one(alteration.by.abs(), Round::Nearest),
            alteration.along.name(),
            write.size(size, Round::Nearest)
        ));
    }
    for (length, what) in [(size.width, "width"), (size.height, "height")] {
        if !length.is_positive() {
            return Err(Problem {
                field: format!("{at}/alterations"),
                message: format!("The alterations leave nothing of the {what} of {name}. Take less off."),
            });
        }
    }
    if piece.on_fold {
        size.width = size.width * 2;
        write.line(format!(
            "On the fold, so twice as wide when opened: {}.",
            write.size(size, Round::Nearest)
        ));
    }
    Ok(size)
}
