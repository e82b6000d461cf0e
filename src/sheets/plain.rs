//! The maker's Markdown as it is read where nothing can be set: paragraphs
//! without its marks.

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// Each paragraph, line, item of a list and row of a table by itself.
pub fn paragraphs(markdown: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut text = String::new();
    // The next number of each list that is open; bullets have none.
    let mut lists: Vec<Option<u64>> = Vec::new();
    for event in Parser::new_ext(markdown, Options::ENABLE_TABLES) {
        match event {
            Event::Text(words) | Event::Code(words) | Event::Html(words) | Event::InlineHtml(words) => {
                text.push_str(&words);
            }
            Event::Start(Tag::List(first)) => {
                end(&mut text, &mut all);
                lists.push(first);
            }
            Event::End(TagEnd::List(_)) => {
                lists.pop();
            }
            Event::Start(Tag::Item) => match lists.last_mut() {
                Some(Some(number)) => {
                    text.push_str(&format!("{number}. "));
                    *number += 1;
                }
                _ => text.push_str("• "),
            },
            Event::End(TagEnd::TableCell) => text.push_str("  "),
            // A single line end typed on a phone is meant as one.
            Event::SoftBreak | Event::HardBreak | Event::Rule => end(&mut text, &mut all),
            Event::End(
                TagEnd::Paragraph
                | TagEnd::Heading(_)
                | TagEnd::Item
                | TagEnd::CodeBlock
                | TagEnd::HtmlBlock
                | TagEnd::TableHead
                | TagEnd::TableRow
                | TagEnd::BlockQuote(_),
            ) => end(&mut text, &mut all),
            _ => {}
        }
    }
    end(&mut text, &mut all);
    all
}

fn end(text: &mut String, all: &mut Vec<String>) {
    for line in std::mem::take(text).lines() {
        let line = line.trim_end();
        if !line.trim().is_empty() {
            all.push(line.to_string());
        }
    }
}

/// All of it on one line.
pub fn one_line(markdown: &str) -> String {
    paragraphs(markdown).join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_gone_and_paragraphs_stay() {
        let text = "# Snaps\n\nFive **snaps**, [here](https://example.org)\nnot *six*.\n\n- one\n- two\n  1. and\n  2. more\n\n~~5 in~~ 6 in <b>";
        assert_eq!(
            paragraphs(text),
            [
                "Snaps",
                "Five snaps, here",
                "not six.",
                "• one",
                "• two",
                "1. and",
                "2. more",
                // Struck out is not the same as said: the marks stay.
                "~~5 in~~ 6 in <b>"
            ]
        );
        assert_eq!(paragraphs(""), [""; 0]);
        assert_eq!(paragraphs("|a|b|\n|-|-|\n|1|2|"), ["a  b", "1  2"]);
        assert_eq!(one_line("a\n\nb"), "a b");
    }
}
