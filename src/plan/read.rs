//! Reading a plan from JSON, with a sentence for everything that can be wrong
//! in it, and the limits that keep a plan workable.

use super::{FORMAT, Plan};

/// The most a plan may hold: far beyond any garment, near enough that no
/// figure can take minutes or overflow.
pub mod limits {
    pub const CLOTHS: usize = 60;
    pub const PIECES: usize = 100;
    pub const DRAFTS: usize = 40;
    /// Lines and curves of one outline, its notches, marks and inner lines.
    pub const SEGMENTS: usize = 400;
    pub const NOTCHES: usize = 100;
    pub const MARKS: usize = 100;
    pub const INNER_LINES: usize = 40;
    /// Edges one draft is sewn to.
    pub const SEWN_EDGES: usize = 12;
    pub const OUTLINE_CHANGES: usize = 30;
    pub const EDGES: usize = 200;
    pub const NOTIONS: usize = 200;
    pub const ALTERATIONS: usize = 30;
    pub const CLOSURES: usize = 60;
    /// Closures of one row.
    pub const CLOSURE_COUNT: u32 = 300;
    pub const SEAMS: usize = 200;
    pub const SEAM_COUNT: u32 = 1_000;
    pub const READY_CUT: usize = 60;
    pub const READY_CUT_COUNT: u32 = 5_000;
    pub const BORDERS: usize = 6;
    /// Units to choose from in one panel.
    pub const PALETTE: usize = 8;
    pub const SIZES: usize = 40;
    pub const SIZE_ROWS: usize = 40;
    pub const REMNANTS: usize = 60;
    /// Remnants of a cloth that are no rectangles, and the corners of one.
    pub const OUTLINED: usize = 20;
    pub const OUTLINE_CORNERS: usize = 12;
    pub const CUT_COUNT: u32 = 200;
    pub const EDGE_COUNT: u32 = 200;
    pub const CORNERS: u32 = 200;
    pub const REMNANT_COUNT: u32 = 100;
    /// Units in all panels of one piece.
    pub const UNITS: i64 = 40_000;
    /// Rectangles to cut in a whole plan: each is drawn in a layout.
    pub const CUTS: i64 = 200_000;
    /// A week has no more.
    pub const MINUTES_A_WEEK: u32 = 7 * 24 * 60;
    /// 2,000 hours: a year of working days.
    pub const OTHER_MINUTES: u32 = 2_000 * 60;
    /// Kept lays, one a cloth, and the copies laid in one.
    pub const LAYS: usize = CLOTHS;
    pub const LAID_COPIES: usize = 400;
    /// Characters of a name, a reason, a link.
    pub const TEXT: usize = 500;
    /// Bytes of a plan's JSON.
    pub const JSON: usize = 1024 * 1024;
}

#[derive(Debug, thiserror::Error)]
pub enum PlanError {
    #[error("The plan is larger than 1 MiB. A plan holds lengths and names only; leave out anything else.")]
    TooLarge,
    #[error("This is not a plan: a plan is a JSON object, which begins with {{.")]
    NotAnObject,
    #[error("The plan cannot be read at line {line}, column {column}: {what}.")]
    Syntax { line: usize, column: usize, what: String },
    #[error("The plan cannot be read at {path}: {what}.")]
    Shape { path: String, what: String },
    #[error("The plan is of format {0}; this program reads format {FORMAT}. Update Notchbook to read it.")]
    Newer(u32),
}

impl Plan {
    /// Reads a plan. Unknown keys are refused: a misspelt key would otherwise
    /// be an allowance that silently is not there.
    pub fn from_json(json: &str) -> Result<Plan, PlanError> {
        if json.len() > limits::JSON {
            return Err(PlanError::TooLarge);
        }
        // The reader would also take lists in the order of the keys.
        if json.trim_start().starts_with('[') {
            return Err(PlanError::NotAnObject);
        }
        // The format first: a newer plan may have keys this program cannot know.
        #[derive(serde::Deserialize)]
        struct Head {
            format: Option<u32>,
        }
        if let Ok(Head { format: Some(format) }) = serde_json::from_str::<Head>(json)
            && format > FORMAT
        {
            return Err(PlanError::Newer(format));
        }
        let mut reader = serde_json::Deserializer::from_str(json);
        let plan: Plan = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
            let path = error.path().to_string();
            let inner = error.into_inner();
            let what = plain(&inner);
            match inner.classify() {
                serde_json::error::Category::Data if path != "." => PlanError::Shape { path, what },
                _ => PlanError::Syntax {
                    line: inner.line(),
                    column: inner.column(),
                    what,
                },
            }
        })?;
        reader.end().map_err(|inner| PlanError::Syntax {
            line: inner.line(),
            column: inner.column(),
            what: "there is text after the end of the plan".into(),
        })?;
        Ok(plan)
    }

    pub fn to_json(&self) -> String {
        // A plan holds nothing that JSON cannot: only texts, numbers and lists.
        serde_json::to_string_pretty(self).expect("a plan is always JSON")
    }
}

/// The reader's message without its own position and final stop.
fn plain(error: &serde_json::Error) -> String {
    let text = error.to_string();
    let text = text.split(" at line ").next().unwrap_or(&text);
    text.trim_end_matches('.')
        .replace("unknown field", "unknown key")
        .replace("missing field", "missing key")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_plan_reads_back() {
        let plan = Plan::default();
        assert_eq!(Plan::from_json(&plan.to_json()).unwrap(), plan);
        assert_eq!(Plan::from_json(r#"{"format":1}"#).unwrap(), plan);
    }

    #[test]
    fn refusals_say_where_and_what() {
        for (json, part) in [
            (r#"{"format":1,"colour":"red"}"#, "unknown key `colour`"),
            (r#"{"format":1,"allowances":{"seams":"1/4 in"}}"#, "allowances"),
            (
                r#"{"format":1,"allowances":{"seam":"1/0 in"}}"#,
                "fraction over nothing",
            ),
            (r#"{"format":1,"allowances":{"seam":"1/4"}}"#, "names no unit"),
            (r#"{"format":1,"pieces":[{"id":"p1"}]}"#, "pieces[0]"),
            (r#"{"format":2,"new":true}"#, "format 2"),
            (r#"{"format":1"#, "line 1"),
            ("[]", "begins with {"),
            ("", "line 1"),
            (r#"{"format":1} x"#, "after the end"),
        ] {
            let text = Plan::from_json(json).expect_err(json).to_string();
            assert!(text.contains(part), "{json}: {text}");
            assert!(text.ends_with('.'), "{text}");
        }
    }
}
