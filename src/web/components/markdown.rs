//! The maker's Markdown as clean HTML: raw HTML is dropped before rendering,
//! and a maintained sanitiser is the second wall.

use maud::{Markup, PreEscaped};
use pulldown_cmark::{Event, Options, Parser, html::push_html};
use std::sync::LazyLock;

pub fn markdown(text: &str) -> Markup {
    let events =
        Parser::new_ext(text, Options::ENABLE_STRIKETHROUGH | Options::ENABLE_TABLES).map(|event| match event {
            // Shown as it was typed instead of being obeyed.
            Event::Html(raw) | Event::InlineHtml(raw) => Event::Text(raw),
            // A single line end typed on a phone is meant as one.
            Event::SoftBreak => Event::HardBreak,
            other => other,
        });
    let mut html = String::new();
    push_html(&mut html, events);
    PreEscaped(CLEANER.clean(&html).to_string())
}

/// Its tables of what may stay are made once.
static CLEANER: LazyLock<ammonia::Builder<'static>> = LazyLock::new(|| {
    let mut cleaner = ammonia::Builder::default();
    cleaner.rm_tags(["img"]).link_rel(Some("noopener noreferrer nofollow"));
    cleaner
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_do_not_pass() {
        for text in [
            "<script>alert(1)</script>",
            "[x](javascript:alert(1))",
            "<img src=x onerror=alert(1)>",
            "![x](http://example.com/track.png)",
            "<a href='javascript:alert(1)'>x</a>",
        ] {
            let html = markdown(text).into_string();
            assert!(!html.contains("<script"), "{html}");
            assert!(!html.contains("href=\"javascript"), "{html}");
            assert!(!html.contains("<img"), "{html}");
        }
        assert!(
            markdown("**bold** and\nnext")
                .into_string()
                .contains("<strong>bold</strong>")
        );
    }
}
