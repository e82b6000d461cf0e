//! A DXF file is pairs of lines: a whole number that says what the next line is,
//! and that value. Every pair is looked at before any is understood, so that
//! what is wrong is told with its line.

use crate::drafting::formats::FileProblem;

/// The most lines of a file.
const LINES: usize = 600_000;
/// The largest number of a place or a size.
const LARGEST: f64 = 1e9;

/// Bytes that no file of text has.
fn is_binary(bytes: &[u8]) -> bool {
    bytes.starts_with(b"AutoCAD Binary DXF") || bytes.contains(&0)
}

pub(super) fn check(bytes: &[u8]) -> Result<(), FileProblem> {
    if is_binary(bytes) {
        return Err(FileProblem::new(
            "The file is a binary one, which is not read. Save it as DXF in text (ASCII).",
        ));
    }
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.lines().enumerate();
    let mut last = (0, String::new());
    let (mut sections, mut drawn) = (false, false);
    while let Some((n, code)) = lines.next() {
        if n > LINES {
            return Err(FileProblem::new(format!(
                "The file has more than {LINES} lines. Keep the pieces alone in it, and save it again."
            )));
        }
        if code.trim().is_empty() && last.1 == "EOF" {
            continue;
        }
        let number: i32 = code.trim().parse().map_err(|_| {
            FileProblem::at(
                n + 1,
                format!(
                    "“{}” stands where a whole number must be. {}",
                    short(code),
                    if n == 0 {
                        "The file is no DXF in text: choose another, or save it again."
                    } else {
                        "The file is damaged: save it again from the program it comes from."
                    }
                ),
            )
        })?;
        let Some((at, value)) = lines.next() else {
            return Err(FileProblem::at(
                n + 1,
                "The file ends in the middle. Save it, or load it down, again.",
            ));
        };
        let value = value.trim();
        if is_number(number) {
            let read: Option<f64> = value.parse().ok();
            // The head of an empty drawing gives its size as 1e20.
            let most = if drawn { LARGEST } else { f64::MAX };
            if !read.is_some_and(|v| v.abs() <= most) {
                return Err(FileProblem::at(
                    at + 1,
                    format!(
                        "“{}” is no number that can be used here. The file is damaged: save it again.",
                        short(value)
                    ),
                ));
            }
        }
        sections |= number == 0 && value == "SECTION";
        if number == 2 && last == (0, "SECTION".into()) {
            drawn = matches!(value, "BLOCKS" | "ENTITIES");
        }
        last = (number, value.to_string());
    }
    if !sections {
        return Err(FileProblem::new(
            "The file is no DXF: it has no section. Choose a file that ends in .dxf or .svg.",
        ));
    }
    if last != (0, "EOF".into()) {
        return Err(FileProblem::new(
            "The file ends before its end mark (EOF), so a part may be missing. Save it, or load it down, again.",
        ));
    }
    Ok(())
}

/// The lines on which entities of a kind begin.
pub(super) fn beginnings(bytes: &[u8], kind: &str) -> Vec<usize> {
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.lines().enumerate();
    let mut found = Vec::new();
    while let (Some((_, code)), Some((n, value))) = (lines.next(), lines.next()) {
        if code.trim() == "0" && value.trim() == kind {
            found.push(n + 1);
        }
    }
    found
}

/// Codes whose values are numbers with a point.
fn is_number(code: i32) -> bool {
    matches!(code, 10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059)
}

fn short(text: &str) -> String {
    text.trim().chars().filter(|c| !c.is_control()).take(40).collect()
}
