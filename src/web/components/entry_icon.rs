//! A sign for each kind of entry of the log.

use crate::notebook::EntryKind;
use maud::{Markup, html};

/// Line drawings of our own, a sign for each kind of entry.
pub fn entry_icon(kind: EntryKind) -> Markup {
    let path = match kind {
        EntryKind::Photo => "M4 7h4l1.5-2h5L16 7h4v12H4z M12 10a3.2 3.2 0 1 0 .01 0",
        EntryKind::Note => "M5 19l1-4L16 5l3 3L9 18z M14 7l3 3",
        // two ways, one taken
        EntryKind::Decision => "M12 20v-7 M12 13L6 6 M12 13l6-7 M6 10V6h4 M14.5 6H18v3.5",
        EntryKind::Measure => "M3 9h18v6H3z M7 9v3 M11 9v2 M15 9v3 M19 9v2",
        // a dial with two hands
        EntryKind::Work => "M12 4a8 8 0 1 0 .01 0 M12 8v4l3 2",
    };
    html! {
        svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="1.8" stroke-linecap="round" stroke-linejoin="round" {
            path d=(path) {}
        }
    }
}
