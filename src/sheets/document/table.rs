//! Rows and columns of a sheet. A row is never divided between two pages of
//! paper, and the heads stand on each.

#[derive(Clone, Debug, Default)]
pub struct Table {
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    /// A box to tick before each row.
    pub ticks: bool,
}

#[derive(Clone, Debug, Default)]
pub struct Column {
    pub head: String,
    /// Set against the right edge: what is compared by its digits.
    pub right: bool,
    /// In bold: what is read while cutting.
    pub strong: bool,
    /// What is left over of the width goes to it, else to the first of words.
    pub wide: bool,
}

impl Column {
    pub fn words(head: &str) -> Column {
        Column {
            head: head.into(),
            ..Column::default()
        }
    }

    pub fn number(head: &str) -> Column {
        Column {
            head: head.into(),
            right: true,
            ..Column::default()
        }
    }

    pub fn strong(head: &str) -> Column {
        Column {
            head: head.into(),
            right: true,
            strong: true,
            ..Column::default()
        }
    }

    pub fn wide(self) -> Column {
        Column { wide: true, ..self }
    }
}

#[derive(Clone, Debug, Default)]
pub struct Row {
    pub cells: Vec<Cell>,
    /// Room to leave for what is fixed to the paper, in millimetres.
    pub room: f64,
}

impl Row {
    pub fn of(cells: Vec<Cell>) -> Row {
        Row { cells, room: 0.0 }
    }
}

#[derive(Clone, Debug, Default)]
pub struct Cell {
    pub text: String,
    /// Under it, smaller.
    pub under: String,
    /// Boxes to tick under it, one for each strip.
    pub boxes: usize,
}

impl Cell {
    pub fn new(text: impl Into<String>, under: impl Into<String>) -> Cell {
        Cell {
            text: text.into(),
            under: under.into(),
            boxes: 0,
        }
    }
}

/// A text and what stands under it, as [`crate::sheets::in_both`] gives them.
impl From<(String, String)> for Cell {
    fn from((text, under): (String, String)) -> Cell {
        Cell::new(text, under)
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        Cell::new(text, "")
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        Cell::new(text, "")
    }
}
