//! The way through a list that stands on several pages.

use maud::{Markup, html};

/// Which page of how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paged {
    /// From 1.
    pub page: usize,
    pub pages: usize,
    /// On one page.
    pub most: usize,
}

impl Paged {
    /// `asked` is a number from 1; what is none, or beyond the last page, is the
    /// nearest there is. `all` things, `most` on a page.
    pub fn of(asked: &str, all: usize, most: usize) -> Paged {
        let pages = all.div_ceil(most).max(1);
        let page = asked.trim().parse::<usize>().unwrap_or(1).clamp(1, pages);
        Paged { page, pages, most }
    }

    /// The page on which the thing with so many before it stands.
    pub fn with(before: usize, all: usize, most: usize) -> Paged {
        Paged::of(&(before / most + 1).to_string(), all, most)
    }

    /// Things on the pages before.
    pub fn before(self) -> usize {
        (self.page - 1) * self.most
    }
}

/// `name` says what is listed, newest first, for those who hear the page. Nothing where one page holds
/// it all.
pub fn pager(address: &str, name: &str, at: Paged) -> Markup {
    let page = |n: usize| match n {
        1 => address.to_string(),
        n if address.contains('?') => format!("{address}&page={n}"),
        n => format!("{address}?page={n}"),
    };
    html! {
        @if at.pages > 1 {
            nav.pager aria-label=(format!("Pages of {name}")) {
                @if at.page > 1 { a.button href=(page(at.page - 1)) rel="prev" { "Newer" } } @else { span {} }
                span.meta { "Page " (at.page) " of " (at.pages) }
                @if at.page < at.pages { a.button href=(page(at.page + 1)) rel="next" { "Older" } } @else { span {} }
                @if at.pages > 2 {
                    span.pager-ends {
                        @if at.page > 1 { a href=(page(1)) { "Newest" } } @else { span {} }
                        @if at.page < at.pages { a href=(page(at.pages)) { "Oldest" } }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_number_is_a_page() {
        let page = |asked, all| {
            let p = Paged::of(asked, all, 40);
            (p.page, p.pages, p.before())
        };
        assert_eq!(page("", 0), (1, 1, 0));
        assert_eq!(page("1", 40), (1, 1, 0));
        assert_eq!(page("2", 41), (2, 2, 40));
        assert_eq!(page("99999999999999999999", 41), (1, 2, 0));
        assert_eq!(page("3", 41), (2, 2, 40));
        for odd in ["0", "-1", "x"] {
            assert_eq!(page(odd, 100), (1, 3, 0), "{odd}");
        }
    }

    #[test]
    fn everything_stands_on_the_page_it_is_looked_for_on() {
        for all in [1, 39, 40, 41, 80, 81] {
            for before in 0..all {
                let p = Paged::with(before, all, 40);
                assert!((p.before()..p.before() + 40).contains(&before), "{before} of {all}");
            }
        }
    }

    #[test]
    fn every_page_is_reached_from_the_first() {
        for pages in 1..9 {
            let mut at = Paged::of("1", pages * 40, 40);
            let mut met = vec![1];
            while let Some((_, rest)) = pager("/list", "a list", at).into_string().split_once("rel=\"next\"") {
                assert!(rest.starts_with(">Older"));
                at.page += 1;
                met.push(at.page);
            }
            assert_eq!(met, (1..=pages).collect::<Vec<_>>());
        }
    }
}
