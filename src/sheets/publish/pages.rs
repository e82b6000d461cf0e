//! The pages of the site. Addresses in them are relative, so that the site can
//! stand anywhere, and nothing in them needs a script.

use crate::measure::Unit;
use crate::sheets::list::{Materials, OwnUnit, TextLength, article, head};
use maud::{DOCTYPE, Markup, html};

/// A list as the index shows it.
pub struct Card {
    pub title: String,
    pub place: String,
    pub picture: Option<String>,
}

/// Style and fonts, the same on all pages.
pub fn shared_files() -> [(&'static str, &'static [u8]); 7] {
    [
        ("style.css", include_bytes!("../../../static/style.css")),
        ("pages.css", include_bytes!("../../../static/pages.css")),
        ("site.css", include_bytes!("../../../static/site.css")),
        ("icon.svg", include_bytes!("../../../static/icon.svg")),
        (
            "fonts/lato-regular.woff2",
            include_bytes!("../../../static/fonts/lato-regular.woff2"),
        ),
        (
            "fonts/lato-bold.woff2",
            include_bytes!("../../../static/fonts/lato-bold.woff2"),
        ),
        ("fonts/OFL.txt", include_bytes!("../../../static/fonts/OFL.txt")),
    ]
}

/// `up` leads to the folder of the site.
fn page(title: &str, up: &str, more: Markup, body: Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="strict-origin-when-cross-origin";
                title { (title) }
                link rel="icon" type="image/svg+xml" href=(format!("{up}icon.svg"));
                @for sheet in ["style.css", "pages.css", "site.css"] { link rel="stylesheet" href=(format!("{up}{sheet}")); }
                (more)
            }
            body.at-plain { (body) }
        }
    }
    .into_string()
}

/// The notebook's own name is not on it: nobody ticked that.
pub fn index(cards: &[Card], address: Option<&str>) -> String {
    let title = "What my pieces are made of";
    let image = address.zip(cards.iter().find_map(|c| c.picture.as_ref()));
    let more = html! {
        meta property="og:type" content="website";
        meta property="og:title" content=(title);
        @if let Some((base, picture)) = image { meta property="og:image" content=(format!("{base}/{picture}")); }
    };
    let body = html! {
        main #main {
            h1 { (title) }
            @if cards.is_empty() { p { "There is no list here at the moment." } } @else {
                ul.site-index { @for card in cards { li { a href=(format!("{}/index.html", card.place)) {
                    div.picture {
                        @match &card.picture {
                            Some(picture) => img src=(picture) alt="" loading="lazy";,
                            None => { svg viewBox="0 0 24 24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="1.5" { path d="M4 4h7v7H4z M4 14h7v6H4z M14 6h6 M14 10h6 M14 15h6 M14 19h4" {} } }
                        }
                    }
                    div.name { (card.title) }
                } } } }
            }
        }
    };
    page(title, "", more, body)
}

/// The page of a list with this unit first, where it is not the maker's own.
fn other_page(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "inches.html",
        Unit::Cm => "centimetres.html",
    }
}

/// The files of one list: their names and what is in them. `other` is the same list with the
/// other unit first, for which nothing but a page of its own is needed.
pub fn list(
    told: &Materials,
    other: &Materials,
    pictures: &[String],
    image: Option<&str>,
) -> Vec<(&'static str, String)> {
    let downloads = [
        ("list.txt", "Plain text"),
        ("list.md", "Markdown"),
        ("list.csv", "Table (CSV)"),
    ];
    let downloads = downloads.map(|(file, name)| (file.to_string(), name));
    let body = |list: &Materials, leads_to: &str| {
        html! {
            header.site-head { a href="../index.html" { "All lists" } }
            main #main { (article(list, pictures, &OwnUnit::OtherPage(leads_to), &downloads)) }
        }
    };
    let name = other_page(other.unit);
    let second = html! {
        link rel="canonical" href="index.html";
        (head(other, image))
    };
    vec![
        (
            "index.html",
            page(&told.title, "../", head(told, image), body(told, name)),
        ),
        (name, page(&other.title, "../", second, body(other, "index.html"))),
        ("list.txt", told.as_text(TextLength::Whole)),
        ("list.md", told.as_markdown()),
        ("list.csv", told.as_csv()),
    ]
}
