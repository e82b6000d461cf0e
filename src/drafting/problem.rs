//! What stands in the way of an outline: where, and what to do about it.

/// `field` is the place in the plan (`pieces/p1/pattern/changes/0`,
/// `drafts/d1/height`), the sentence says what is wrong and what to type.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftProblem {
    pub field: String,
    pub sentence: String,
}

impl DraftProblem {
    pub fn new(field: impl Into<String>, sentence: impl Into<String>) -> DraftProblem {
        DraftProblem {
            field: field.into(),
            sentence: sentence.into(),
        }
    }
}
