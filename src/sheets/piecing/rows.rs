//! The rows of a panel in words, equal ones together.

use super::{on_point, unit_letter};
use crate::figures::PanelFigures;
use crate::plan::Patchwork;
use crate::sheets::document::{Cell, Column, Row, Table};

/// More rows than this are not listed one by one.
const ROWS: usize = 400;

pub fn rows(face: &Patchwork, panel: &PanelFigures, panels: i64) -> Table {
    let columns = panel.columns.clamp(0, 2_000) as usize;
    let count = panel.rows.clamp(0, ROWS as i64) as usize;
    let all: Vec<String> = match face.on_point {
        Some(_) => on_point::rows(face, columns, count)
            .iter()
            .map(|row| {
                let units: Vec<_> = row.blocks.iter().map(|b| b.1).collect();
                let end = |corner: bool| if corner { "corner" } else { "side" };
                format!("{}, {}, {}", end(row.corners.0), words(&units), end(row.corners.1))
            })
            .collect(),
        None => (0..count).map(|row| words(&face.row_of(row, columns))).collect(),
    };
    let on_point = face.on_point.is_some();
    // Equal rows that are pressed the same way.
    let mut groups: Vec<(String, bool, Vec<usize>)> = Vec::new();
    for (row, words) in all.into_iter().enumerate() {
        let right = row % 2 == 0;
        match groups.iter_mut().find(|g| g.0 == words && g.1 == right) {
            Some(group) => group.2.push(row + 1),
            None => groups.push((words, right, vec![row + 1])),
        }
    }
    let press = |right: bool| match (right, on_point) {
        (true, false) => "right →",
        (false, false) => "left ←",
        (true, true) => "upper right →",
        (false, true) => "lower left ←",
    };
    Table {
        columns: vec![
            Column::words("Rows"),
            Column::words(if on_point {
                "Units from the lower left, with the triangles at the ends"
            } else {
                "Units from the left"
            })
            .wide(),
            Column::words("Press to the"),
        ],
        rows: groups
            .into_iter()
            .map(|(words, right, rows)| {
                let boxes = rows.len().saturating_mul(usize::try_from(panels).unwrap_or(1));
                let numbers: Vec<String> = rows.iter().map(usize::to_string).collect();
                Row::of(vec![
                    Cell {
                        boxes: if boxes <= 48 { boxes } else { 0 },
                        ..Cell::from(numbers.join(", "))
                    },
                    words.into(),
                    press(right).into(),
                ])
            })
            .collect(),
        ticks: false,
    }
}

/// `2 × a, b turned 1/4, a`.
fn words(units: &[(usize, u32)]) -> String {
    let mut runs: Vec<((usize, u32), usize)> = Vec::new();
    for unit in units {
        match runs.last_mut() {
            Some((last, count)) if last == unit => *count += 1,
            _ => runs.push((*unit, 1)),
        }
    }
    let one = |((unit, turn), count): &((usize, u32), usize)| {
        let turned = match turn {
            0 => "",
            1 => " turned 1/4",
            2 => " turned 1/2",
            _ => " turned 3/4",
        };
        let times = if *count > 1 {
            format!("{count} × ")
        } else {
            String::new()
        };
        format!("{times}{}{turned}", unit_letter(*unit))
    };
    runs.iter().map(one).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn equal_neighbours_are_counted() {
        assert_eq!(words(&[(0, 0), (0, 0), (1, 1), (0, 0)]), "2 × a, b turned 1/4, a");
        assert_eq!(words(&[]), "");
    }
}
