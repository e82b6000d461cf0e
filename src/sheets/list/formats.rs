//! The list as Markdown and as a table for spreadsheets: what is ticked,
//! nothing else.

use super::{Materials, chapters};
use crate::sheets::export::escaped;

impl Materials {
    pub fn as_markdown(&self) -> String {
        let mut text = format!("# {}\n", escaped(&self.title));
        if let Some(notice) = self.paid_notice() {
            text.push_str(&format!("\n> {notice}\n"));
        }
        let chapters = chapters(self).lines;
        if !chapters.is_empty() {
            text.push_str("\n## Chapters\n\n");
            for line in &chapters {
                text.push_str(&format!("- {}\n", escaped(line)));
            }
        }
        for section in self.shown() {
            text.push_str(&format!("\n## {}\n\n", section.heading()));
            for l in &section.lines {
                text.push_str(&format!("- **{}**{}", escaped(&l.name), escaped(&l.after_name())));
                if l.has_web_link() {
                    // Angle brackets hold any address but these two.
                    let link = l.link.replace('<', "%3C").replace('>', "%3E");
                    let paid = if l.paid { " (paid link)" } else { "" };
                    text.push_str(&format!(" [link](<{link}>){paid}"));
                } else if !l.link.is_empty() {
                    text.push_str(&format!(" {}", escaped(&l.link)));
                }
                for line in l.further() {
                    // Within the item, each a line by itself.
                    text.push_str(&format!("\n\n  {}", escaped(line)));
                }
                text.push('\n');
            }
        }
        text
    }

    /// RFC 4180: lines end in CR LF, every field stands in quotation marks.
    pub fn as_csv(&self) -> String {
        let mut text = String::new();
        row(
            &mut text,
            &[
                "section",
                "name",
                "to buy",
                "used",
                "details",
                "instead",
                "remark",
                "link",
                "paid link",
            ],
        );
        for section in self.shown() {
            for l in &section.lines {
                row(
                    &mut text,
                    &[
                        section.heading(),
                        &l.name,
                        &l.quantity,
                        &l.used,
                        &l.detail,
                        &l.substitute,
                        &l.remark,
                        &l.link,
                        if l.paid { "yes" } else { "" },
                    ],
                );
            }
        }
        text
    }
}

fn row(text: &mut String, fields: &[&str]) {
    for (n, field) in fields.iter().enumerate() {
        if n > 0 {
            text.push(',');
        }
        text.push('"');
        // A spreadsheet would take these for a formula, which a stranger's list must not be.
        if field.starts_with(['=', '+', '-', '@', '\t']) {
            text.push('\'');
        }
        text.push_str(&field.replace('"', "\"\""));
        text.push('"');
    }
    text.push_str("\r\n");
}
