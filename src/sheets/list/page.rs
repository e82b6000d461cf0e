//! The page viewers see, alike by a link and on the published site: what is
//! ticked, nothing else, and no way on into the notebook.

use super::{Group, Line, Materials, Section};
use crate::measure::{Unit, video_time};
use crate::sheets::sentence;
use maud::{Markup, PreEscaped, html};

/// Where the viewer's own unit and width can be said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Viewer {
    /// As it was typed.
    pub width: String,
    pub error: Option<String>,
}

/// For the head of the page: what machines read that show a link to it.
/// `image` is the whole address of a picture.
pub fn head(list: &Materials, image: Option<&str>) -> Markup {
    let about = about(list);
    // Nothing in it can end the element.
    let data = list.as_howto(image).to_string().replace('<', "\\u003c");
    html! {
        meta name="description" content=(about);
        meta property="og:type" content="article";
        meta property="og:title" content=(list.title);
        meta property="og:description" content=(about);
        @if let Some(image) = image {
            meta property="og:image" content=(image);
            meta property="og:image:alt" content=(list.title);
            meta name="twitter:card" content="summary_large_image";
        }
        script type="application/ld+json" { (PreEscaped(data)) }
    }
}

/// "Cloth, batting, thread: amounts for making the same piece."
fn about(list: &Materials) -> String {
    let sections = list.shown();
    let kinds: Vec<&str> = sections
        .iter()
        .filter(|s| s.group.is_material())
        .map(Section::heading)
        .collect();
    match kinds.as_slice() {
        [] => "What this piece is made of.".into(),
        kinds => {
            let kinds = kinds.join(", ").to_lowercase();
            format!("What it is made of, with amounts for the same piece: {kinds}.")
        }
    }
}

/// How a viewer comes to the list in their own unit.
pub enum OwnUnit<'a> {
    /// By a form, which takes the width of their cloth too.
    Asked(&'a Viewer),
    /// By another page with the other unit first, at this address.
    OtherPage(&'a str),
}

/// `pictures` are their addresses, `downloads` addresses of the list in other forms, and their names.
pub fn article(list: &Materials, pictures: &[String], own: &OwnUnit, downloads: &[(String, &str)]) -> Markup {
    let sections = list.shown();
    let cloth = sections
        .iter()
        .any(|s| matches!(s.group, Group::Cloth | Group::Backing));
    html! {
        article.shared {
            h1 { (list.title) }
            @if let Some(notice) = list.paid_notice() { p.paid-notice { (notice) } }
            @for (i, picture) in pictures.iter().enumerate() {
                div.project-cover { img src=(picture) alt=(format!("{}, picture {}", list.title, i + 1)) loading=[(i > 0).then_some("lazy")]; }
            }
            @match own {
                OwnUnit::Asked(viewer) if cloth => (viewer_form(list, viewer)),
                OwnUnit::Asked(_) => "",
                OwnUnit::OtherPage(other) => (unit_pages(list.unit, other)),
            }
            @for section in sections.iter().filter(|s| !s.lines.is_empty()) { (shown(section)) }
            p.hint { "Amounts to buy are for making the same piece with nothing at hand, at the width named." }
            @if !downloads.is_empty() {
                ul.downloads { @for (href, name) in downloads { li { a href=(href) { (name) } } } }
            }
        }
    }
}

fn unit_pages(here: Unit, other: &str) -> Markup {
    html! {
        nav.unit-pages aria-label="Show first" {
            span.label { "Show first" }
            @for (unit, name) in [(Unit::Inch, "inches"), (Unit::Cm, "cm")] {
                @if unit == here { a aria-current="page" { (name) } } @else { a href=(other) { (name) } }
            }
        }
    }
}

fn viewer_form(list: &Materials, viewer: &Viewer) -> Markup {
    let unit = |unit: Unit, name: &str| {
        html! {
            label.unit-pick {
                input type="radio" name="unit" value=(unit.name()) checked[list.unit == unit];
                span { (name) }
            }
        }
    };
    html! {
        form.viewer #viewer method="get" data-viewer {
            fieldset.viewer-units {
                legend { "Show first" }
                (unit(Unit::Inch, "inches"))
                (unit(Unit::Cm, "cm"))
            }
            div.viewer-width {
                label for="viewer-width" { "Width of your cloth" }
                input #viewer-width type="text" name="width" value=(viewer.width) placeholder="as named" autocomplete="off" aria-describedby=(if viewer.error.is_some() { "viewer-error" } else { "viewer-hint" }) aria-invalid=[viewer.error.is_some().then_some("true")];
            }
            button.button type="submit" { "Show" }
            @if let Some(error) = &viewer.error { p.error #viewer-error role="alert" { (error) } }
            @else { p.hint #viewer-hint { "Between the selvages, such as 44 in or 110 cm. Empty: the widths named below." } }
        }
    }
}

fn shown(section: &Section) -> Markup {
    html! {
        section.card.material-section {
            h2 { (section.heading()) }
            @if section.group == Group::Steps {
                ol.rows.steps-told { @for l in &section.lines { li.row { div.row-text {
                    b { (l.name) }
                    (remark(l))
                } @if let Some(seconds) = l.video { div.row-figure.num { (video_time(seconds)) } } } } }
            } @else {
                ul.rows { @for l in &section.lines { li.row { (line(l)) } } }
            }
        }
    }
}

fn remark(l: &Line) -> Markup {
    html! { @for line in l.remark.lines().filter(|line| !line.trim().is_empty()) { div { (line) } } }
}

fn line(l: &Line) -> Markup {
    html! {
        div.row-text {
            b { (l.name) }
            @if !l.detail.is_empty() { div.meta { (sentence(&l.detail)) } }
        }
        @if !l.quantity.is_empty() || !l.used.is_empty() {
            div.row-figure.num {
                @if l.used.is_empty() { b { (sentence(&l.quantity)) } } @else {
                    span.label { "to buy" } b { (sentence(&l.quantity)) }
                    span.label { "used" } span { (sentence(&l.used)) }
                }
            }
        }
        @if !(l.remark.is_empty() && l.substitute.is_empty() && l.link.is_empty() && l.widths.is_empty()) {
            div.row-more {
                (remark(l))
                @if !l.substitute.is_empty() { div { span.label { "Instead: " } (l.substitute) } }
                @if l.has_web_link() {
                    div {
                        a.link href=(l.link) rel=(if l.paid { "sponsored noopener noreferrer nofollow" } else { "noopener noreferrer nofollow" }) { (l.link) }
                        @if l.paid { " " span.paid { "paid link" } }
                    }
                } @else if !l.link.is_empty() { div { (l.link) } }
                @if !l.widths.is_empty() {
                    details.widths {
                        summary { "On cloth of another width" }
                        table { tbody { @for (width, amount) in &l.widths { tr { th scope="row" { (sentence(width)) } td.num { (sentence(amount)) } } } } }
                    }
                }
            }
        }
    }
}
