//! The closed outlines of a drawing. Strokes, fills and letters say nothing here:
//! a line is where its path runs.

use super::element::lines;
use super::size::{inside, outermost};
use crate::drafting::formats::line::{close, is_closed, is_near, parts};
use crate::drafting::formats::{FileProblem, FileUnit, Found, FoundOutline, MOST_OUTLINES, too_large};
use kurbo::{Affine, Shape, Size};
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::HashMap;
use std::str::FromStr;

/// Elements and texts of a file, with its linked copies drawn out, and groups in groups.
pub(super) const NODES: u32 = 100_000;
pub(super) const DEEPEST: usize = 60;

/// Less than this, in square millimetres, is no piece.
const SMALLEST: f64 = 1.0;

/// How far a curve may leave an arc, in millimetres.
const ARC: f64 = 1e-3;

/// Sentences of one kind are so many at most; the rest is counted.
const NOTICES: usize = 20;

/// The outlines of an SVG file. `unit` is what the maker says of it; without, what the
/// file says counts.
pub fn read(bytes: &[u8], unit: Option<FileUnit>) -> Result<Found, FileProblem> {
    if let Some(problem) = too_large(bytes) {
        return Err(problem);
    }
    let text = std::str::from_utf8(bytes)
        .ok()
        .filter(|text| !text.contains('\0'))
        .ok_or_else(|| {
            FileProblem::new("The file is not written in UTF-8, so it cannot be read. Save it again as plain SVG.")
        })?;
    let text = without_doctype(text.trim_start_matches('\u{feff}'));
    if let Some(line) = too_deep(&text) {
        return Err(FileProblem::at(
            line,
            format!("Groups lie {DEEPEST} deep in one another. Ungroup the drawing, then save it again."),
        ));
    }
    let options = ParsingOptions {
        allow_dtd: false,
        nodes_limit: NODES,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(&text, options).map_err(unreadable)?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(FileProblem::new(
            "The file is no SVG drawing. Choose a file that ends in .svg or .dxf.",
        ));
    }
    let at = |node: &Node<'_, '_>| line_of(&text, node);
    let (to_mm, view, notice) = outermost(&root, at(&root), unit)?;
    let mut walk = Walk {
        text: &text,
        found: Found {
            notices: notice.into_iter().collect(),
            ..Found::default()
        },
        left_out: Vec::new(),
        open: 0,
        told: 0,
        ids: super::copies::ids(&document),
        within: Vec::new(),
        copies: 0,
        depth: 0,
        looked_at: 0,
    };
    walk.children(&root, to_mm * transform(&root).unwrap_or_default(), view, "")?;
    walk.end()
}

/// A document type without entities of its own says nothing that is needed; blanks keep
/// the count of lines. With entities it stays and is refused.
fn without_doctype(text: &str) -> String {
    let mut text = text.to_string();
    if let Some(from) = text.find("<!DOCTYPE")
        && let Some(length) = text[from..].find('>')
        && !text[from..from + length].contains('[')
    {
        let blank: String = text[from..=from + length]
            .chars()
            .map(|c| if c == '\n' { '\n' } else { ' ' })
            .collect();
        text.replace_range(from..=from + length, &blank);
    }
    text
}

/// The line where elements lie too deep in one another: counted before a tree of them is made.
fn too_deep(text: &str) -> Option<usize> {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(next) = text[at..].find('<').map(|n| n + at) {
        let rest = &text[next..];
        let end = |sign: &str| rest.find(sign).map_or(text.len(), |n| next + n + sign.len());
        at = if rest.starts_with("<!--") {
            end("-->")
        } else if rest.starts_with("<![CDATA[") {
            end("]]>")
        } else {
            end(">")
        };
        if rest.starts_with("</") {
            depth = depth.saturating_sub(1);
        } else if rest[1..].starts_with(|c: char| c.is_alphabetic()) && !text[..at].ends_with("/>") {
            depth += 1;
        }
        if depth > DEEPEST {
            return Some(text[..next].matches('\n').count() + 1);
        }
    }
    None
}

fn unreadable(error: roxmltree::Error) -> FileProblem {
    let line = error.pos().row as usize;
    match error {
        roxmltree::Error::DtdDetected => FileProblem::at(
            line,
            "The file defines entities of its own (<!DOCTYPE … [ ), which are not read. Save it again as plain SVG.",
        ),
        roxmltree::Error::NodesLimitReached => FileProblem::new(format!(
            "The file has more than {NODES} elements. Keep the outlines alone in it, and save it again."
        )),
        roxmltree::Error::UnclosedRootNode | roxmltree::Error::UnexpectedEndOfStream => {
            FileProblem::new("The file ends in the middle. Save it, or load it down, again.")
        }
        error => FileProblem::at(
            line,
            format!("The file is damaged here ({error}). Save it again from the program it comes from."),
        ),
    }
}

pub(super) fn line_of(text: &str, node: &Node<'_, '_>) -> usize {
    let before = text.as_bytes().get(..node.range().start).unwrap_or_default();
    before.iter().filter(|b| **b == b'\n').count() + 1
}

pub(super) fn transform(node: &Node<'_, '_>) -> Result<Affine, String> {
    let Some(text) = node.attribute("transform") else {
        return Ok(Affine::IDENTITY);
    };
    let t = svgtypes::Transform::from_str(text).map_err(|e| format!("has a transform that cannot be read: {e}"))?;
    let all = [t.a, t.b, t.c, t.d, t.e, t.f];
    if all.iter().all(|v| v.is_finite()) {
        Ok(Affine::new(all))
    } else {
        Err("has a transform without end".into())
    }
}

pub(super) struct Walk<'a> {
    pub(super) text: &'a str,
    found: Found,
    /// Names of elements that are not read, and how many.
    left_out: Vec<(String, usize)>,
    open: usize,
    told: usize,
    /// What linked copies may be of.
    pub(super) ids: HashMap<&'a str, Node<'a, 'a>>,
    /// Ids of what is being drawn, each inside of the one before.
    pub(super) within: Vec<&'a str>,
    /// Linked copies that are being drawn.
    pub(super) copies: usize,
    depth: usize,
    looked_at: u32,
}

impl<'a> Walk<'a> {
    pub(super) fn tell(&mut self, node: &Node<'_, '_>, sentence: &str) {
        self.told += 1;
        if self.told <= NOTICES {
            let line = line_of(self.text, node);
            self.found.notices.push(format!("Line {line}: {sentence}"));
        }
    }

    fn leave_out(&mut self, what: &str) {
        match self.left_out.iter_mut().find(|(name, _)| name == what) {
            Some((_, count)) => *count += 1,
            None => self.left_out.push((what.to_string(), 1)),
        }
    }

    pub(super) fn children(
        &mut self,
        of: &Node<'a, '_>,
        to_mm: Affine,
        view: Size,
        name: &str,
    ) -> Result<(), FileProblem> {
        for node in of.children().filter(Node::is_element) {
            self.element(&node, to_mm, view, name)?;
        }
        Ok(())
    }

    pub(super) fn element(
        &mut self,
        node: &Node<'a, '_>,
        to_mm: Affine,
        view: Size,
        outer: &str,
    ) -> Result<(), FileProblem> {
        self.depth += 1;
        self.looked_at += 1;
        // Without linked copies both were counted before.
        if self.depth > DEEPEST {
            return Err(FileProblem::at(
                line_of(self.text, node),
                format!(
                    "Groups and linked copies lie {DEEPEST} deep in one another. Ungroup the drawing and unlink its copies, then save it again."
                ),
            ));
        }
        if self.looked_at > NODES {
            return Err(FileProblem::new(format!(
                "With its linked copies drawn the file has more than {NODES} elements. Keep the outlines alone in it, and save it again."
            )));
        }
        let id = node.attribute("id");
        self.within.extend(id);
        let done = self.drawn(node, to_mm, view, outer);
        self.within.truncate(self.within.len() - usize::from(id.is_some()));
        self.depth -= 1;
        done
    }

    fn drawn(&mut self, node: &Node<'a, '_>, to_mm: Affine, view: Size, outer: &str) -> Result<(), FileProblem> {
        let tag = node.tag_name().name();
        let style = node.attribute("style").unwrap_or_default().replace(' ', "");
        let hidden = node.attribute("display") == Some("none") || style.contains("display:none");
        match tag {
            "defs" | "symbol" | "clipPath" | "mask" | "pattern" | "marker" | "metadata" | "style" | "script"
            | "title" | "desc" | "namedview" => return Ok(()),
            _ if hidden => {
                self.leave_out("hidden");
                return Ok(());
            }
            "text" | "image" | "foreignObject" => {
                self.leave_out(tag);
                return Ok(());
            }
            _ => {}
        }
        if style.contains("transform:") {
            self.tell(
                node,
                "this element is moved by its style, which is not read, and was left out. Apply its transform in the drawing.",
            );
            return Ok(());
        }
        let own = match transform(node) {
            Ok(own) => own,
            Err(e) => {
                self.tell(node, &format!("this {tag} {e}; it was left out."));
                return Ok(());
            }
        };
        let name = named(node, outer);
        match tag {
            "g" | "a" | "switch" => return self.children(node, to_mm * own, view, &name),
            "use" => return self.copy(node, to_mm * own, view, &name),
            "svg" => {
                let (to, view) = inside(node, line_of(self.text, node), view, None)?;
                return self.children(node, to_mm * own * to, view, &name);
            }
            _ => {}
        }
        let to_mm = to_mm * own;
        let scale = to_mm.determinant().abs().sqrt();
        if !scale.is_finite() || scale <= 1e-9 {
            self.tell(node, &format!("this {tag} is shrunk to nothing and was left out."));
            return Ok(());
        }
        match lines(node, view, ARC / scale) {
            Ok(Some(path)) => {
                if self.copies > 0 {
                    // Ten commands of a path take as long as an element.
                    self.looked_at = self.looked_at.saturating_add(path.elements().len() as u32 / 10);
                }
                self.add(node, &(to_mm * path), &name)
            }
            Ok(None) => Ok(()),
            Err(e) => {
                self.tell(node, &format!("this {tag} {e}; it was left out."));
                Ok(())
            }
        }
    }

    fn add(&mut self, node: &Node<'_, '_>, path: &kurbo::BezPath, name: &str) -> Result<(), FileProblem> {
        if !is_near(path) {
            let tag = node.tag_name().name();
            self.tell(
                node,
                &format!("this {tag} reaches farther than 200 m and was left out. Check its numbers and the unit."),
            );
            return Ok(());
        }
        let parts = parts(path);
        let many = parts.len() > 1;
        for (n, part) in parts.into_iter().enumerate() {
            if !is_closed(&part) {
                self.open += 1;
                continue;
            }
            let path = close(part);
            if path.area().abs() < SMALLEST {
                continue;
            }
            if self.found.outlines.len() == MOST_OUTLINES {
                return Err(FileProblem::new(format!(
                    "The file has more than {MOST_OUTLINES} closed outlines. Keep the pieces alone in it, and save it again."
                )));
            }
            let name = if many {
                format!("{name}, part {}", n + 1)
            } else {
                name.to_string()
            };
            self.found.outlines.push(FoundOutline {
                name,
                line: Some(line_of(self.text, node)),
                path,
                ..FoundOutline::default()
            });
        }
        Ok(())
    }

    fn end(self) -> Result<Found, FileProblem> {
        let mut found = self.found;
        if self.told > NOTICES {
            found
                .notices
                .push(format!("{} more elements were left out.", self.told - NOTICES));
        }
        if self.open > 0 {
            found.notices.push(format!(
                "{} left out: an outline must end where it begins.",
                counted(self.open, "open line was", "open lines were")
            ));
        }
        for (what, count) in &self.left_out {
            let sentence = match what.as_str() {
                "hidden" => format!(
                    "{} left out.",
                    counted(*count, "hidden element was", "hidden elements were")
                ),
                "text" => format!("{} left out.", counted(*count, "text was", "texts were")),
                "image" => format!("{} left out.", counted(*count, "picture was", "pictures were")),
                _ => format!(
                    "{} left out.",
                    counted(*count, "foreign part was", "foreign parts were")
                ),
            };
            found.notices.push(sentence);
        }
        if found.outlines.is_empty() {
            let mut sentence =
                String::from("The file has no closed outline. Draw the piece as one closed line, and save it again.");
            for notice in &found.notices {
                sentence = format!("{sentence} {notice}");
            }
            return Err(FileProblem::new(sentence));
        }
        Ok(found)
    }
}

fn counted(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

/// Its title, label or id, after that of the group it is in.
fn named(node: &Node<'_, '_>, outer: &str) -> String {
    let title = node
        .children()
        .find(|c| c.tag_name().name() == "title")
        .and_then(|c| c.text());
    let label = node.attributes().find(|a| a.name() == "label").map(|a| a.value());
    let own = title.or(label).or(node.attribute("id")).unwrap_or_default();
    let own: String = own
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .take(60)
        .collect();
    match (outer.is_empty(), own.trim()) {
        (_, "") => outer.to_string(),
        (true, own) => own.to_string(),
        (false, own) => format!("{outer} / {own}").chars().take(120).collect(),
    }
}
