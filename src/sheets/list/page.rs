//! The page viewers see, alike by a link and on the published site: what is
//! ticked, nothing else, and no way on into the notebook.

use super::{Group, Line, Materials, Section};
use crate::measure::{Unit, video_time};
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

/// `pictures` are their addresses; `viewer` puts in the form for the viewer's unit and width; `downloads` are
/// addresses of the list in other forms, and their names.
pub fn article(list: &Materials, pictures: &[String], viewer: Option<&Viewer>, downloads: &[(String, &str)]) -> Markup {
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
            @if let Some(viewer) = viewer { @if cloth { (viewer_form(list, viewer)) } }
            @for section in sections.iter().filter(|s| !s.lines.is_empty()) { (shown(section)) }
            p.hint { "Amounts to buy are for making the same piece with nothing at hand, at the width named." }
            @if !downloads.is_empty() {
                ul.downloads { @for (href, name) in downloads { li { a href=(href) { (name) } } } }
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
                    @if !l.remark.is_empty() { div { (l.remark) } }
                } @if let Some(seconds) = l.video { div.row-figure.num { (video_time(seconds)) } } } } }
            } @else {
                ul.rows { @for l in &section.lines { li.row { (line(l)) } } }
            }
        }
    }
}

fn line(l: &Line) -> Markup {
    html! {
        div.row-text {
            b { (l.name) }
            @if !l.detail.is_empty() { div.meta { (l.detail) } }
            @if !l.remark.is_empty() { div { (l.remark) } }
            @if !l.substitute.is_empty() { div { span.label { "Instead: " } (l.substitute) } }
            @if l.has_web_link() {
                a.link href=(l.link) rel=(if l.paid { "sponsored noopener noreferrer nofollow" } else { "noopener noreferrer nofollow" }) { (l.link) }
                @if l.paid { " " span.paid { "paid link" } }
            } @else if !l.link.is_empty() { div { (l.link) } }
            @if !l.widths.is_empty() {
                details.widths {
                    summary { "On cloth of another width" }
                    table { tbody { @for (width, amount) in &l.widths { tr { th scope="row" { (width) } td.num { (amount) } } } } }
                }
            }
        }
        @if !l.quantity.is_empty() || !l.used.is_empty() {
            div.row-figure.num {
                @if l.used.is_empty() { b { (l.quantity) } } @else {
                    span.label { "to buy" } b { (l.quantity) }
                    span.label { "used" } span { (l.used) }
                }
            }
        }
    }
}
