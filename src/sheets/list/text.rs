//! The list as plain text, for the description of a video: what is ticked,
//! nothing else. The notice of paid links stands before anything else.

use super::{Group, Line, Materials, chapters};

/// How much of it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextLength {
    /// Everything that is ticked.
    Whole,
    /// Materials, their amounts and links.
    Short,
    /// A line for each kind of material, without links.
    Shortest,
}

impl TextLength {
    pub const ALL: [TextLength; 3] = [TextLength::Whole, TextLength::Short, TextLength::Shortest];

    pub const fn name(self) -> &'static str {
        match self {
            TextLength::Whole => "Everything",
            TextLength::Short => "Amounts and links",
            TextLength::Shortest => "Shortest",
        }
    }
}

impl Materials {
    pub fn as_text(&self, length: TextLength) -> String {
        let mut text = String::new();
        if length != TextLength::Shortest
            && let Some(notice) = self.paid_notice()
        {
            text.push_str(&format!("{notice}\n\n"));
        }
        text.push_str(&format!("{}\n", self.title));
        let chapters = chapters(self).lines;
        if !chapters.is_empty() {
            text.push_str("\nCHAPTERS\n");
            for line in &chapters {
                text.push_str(&format!("{line}\n"));
            }
        }
        if length == TextLength::Shortest {
            text.push('\n');
        }
        for section in self.shown() {
            let (group, heading) = (section.group, section.heading());
            match length {
                TextLength::Shortest if group == Group::Cautions => {
                    section
                        .lines
                        .iter()
                        .for_each(|l| text.push_str(&format!("{}\n", l.name)));
                }
                TextLength::Shortest if !group.is_material() => {}
                TextLength::Shortest => {
                    let lines: Vec<String> = section.lines.iter().map(short).collect();
                    text.push_str(&format!("{heading}: {}\n", lines.join("; ")));
                }
                TextLength::Short if !group.is_material() && group != Group::Cautions => {}
                // They stand above, with their times.
                TextLength::Whole if group == Group::Steps && !chapters.is_empty() => {}
                TextLength::Whole | TextLength::Short => {
                    text.push_str(&format!("\n{}\n", heading.to_uppercase()));
                    for l in &section.lines {
                        let said = match length {
                            TextLength::Whole => format!("{}{}", l.name, l.after_name()),
                            _ => short(l),
                        };
                        text.push_str(&format!("- {said}\n"));
                        if length == TextLength::Whole {
                            l.further()
                                .iter()
                                .for_each(|line| text.push_str(&format!("  {line}\n")));
                        }
                        if !l.link.is_empty() {
                            let paid = if l.paid { " (paid link)" } else { "" };
                            text.push_str(&format!("  {}{paid}\n", l.link));
                        }
                    }
                }
            }
        }
        text
    }
}

/// The name and what is to be bought.
fn short(l: &Line) -> String {
    match l.quantity.as_str() {
        "" => l.name.clone(),
        quantity => format!("{} {quantity}", l.name),
    }
}
