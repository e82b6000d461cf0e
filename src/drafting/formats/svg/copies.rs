//! Linked copies: `use` draws another element once more, elsewhere.

use super::read::{Walk, line_of};
use super::size::{inside, length};
use crate::drafting::formats::FileProblem;
use kurbo::{Affine, Size};
use roxmltree::{Document, Node};
use std::collections::HashMap;

const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Elements by their ids; of two with one id the first, as in browsers.
pub(super) fn ids<'a>(document: &'a Document<'a>) -> HashMap<&'a str, Node<'a, 'a>> {
    let mut all = HashMap::new();
    for node in document.descendants().filter(Node::is_element) {
        if let Some(id) = node.attribute("id") {
            all.entry(id).or_insert(node);
        }
    }
    all
}

impl<'a> Walk<'a> {
    /// `to_mm` has the copy's own transform; its `x` and `y` come after that.
    pub(super) fn copy(
        &mut self,
        node: &Node<'a, '_>,
        to_mm: Affine,
        view: Size,
        name: &str,
    ) -> Result<(), FileProblem> {
        let link = node.attribute("href").or_else(|| node.attribute((XLINK, "href")));
        let link = link.map(str::trim).unwrap_or_default();
        let Some(id) = link.strip_prefix('#') else {
            let what = if link.is_empty() {
                "this linked copy does not say of what"
            } else {
                "this copy is linked to another file, which is not read,"
            };
            self.tell(
                node,
                &format!("{what} and was left out. Make it a copy of its own in the drawing."),
            );
            return Ok(());
        };
        let Some((id, of)) = self.ids.get_key_value(id).map(|(id, of)| (*id, *of)) else {
            let id: String = id.chars().filter(|c| !c.is_control()).take(40).collect();
            self.tell(
                node,
                &format!("this copy is linked to “{id}”, which is not in the file, and was left out."),
            );
            return Ok(());
        };
        if self.within.contains(&id) {
            self.tell(
                node,
                "this copy is linked to what it lies in itself, and was left out. Make it a copy of its own in the drawing.",
            );
            return Ok(());
        }
        let place = [("x", view.width), ("y", view.height)].map(|(side, whole)| length(node, side, whole));
        let to_mm = match place {
            [Ok(x), Ok(y)] => to_mm * Affine::translate((x.unwrap_or(0.0), y.unwrap_or(0.0))),
            [Err(e), _] | [_, Err(e)] => {
                self.tell(node, &format!("this linked copy {e}; it was left out."));
                return Ok(());
            }
        };
        self.copies += 1;
        let done = match of.tag_name().name() {
            "symbol" | "svg" => {
                let (to, view) = inside(&of, line_of(self.text, &of), view, Some(node))?;
                // Of both the transform counts, of a symbol in newer drawings alone.
                let own = super::read::transform(&of).unwrap_or_default();
                self.within.push(id);
                let done = self.children(&of, to_mm * own * to, view, name);
                self.within.pop();
                done
            }
            _ => self.element(&of, to_mm, view, name),
        };
        self.copies -= 1;
        done
    }
}
