//! A photo of the notebook, in the size a place needs.

use crate::notebook::PhotoHash;
use maud::{Markup, html};

pub fn photo(hash: &PhotoHash, alt: &str) -> Markup {
    let small = format!("/photos/{}/small", hash.0);
    let page = format!("/photos/{}/page", hash.0);
    html! {
        img src=(page) srcset=(format!("{small} 480w, {page} 1280w")) sizes="(min-width: 60rem) 30rem, 100vw" alt=(alt) loading="lazy";
    }
}
