//! What a sheet says, in order and as it hangs together, for those who have it
//! read out: headings, paragraphs, lists, tables, and words for each drawing. It
//! goes into the file as its tags (PDF/UA-1).

use super::marks::both;
use krilla::destination::XyzDestination;
use krilla::geom::Rect;
use krilla::outline::{Outline, OutlineNode};
use krilla::tagging::{BBox, Identifier, ListNumbering, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};
use std::num::NonZeroU16;

/// From the whole to the part: the third cell of the second row of a table.
pub type Place = Vec<Part>;

#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub role: Role,
    /// Tells it from others beside it.
    pub number: usize,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Role {
    /// Its level from 1 on, and its words.
    Heading(u16, String),
    Paragraph,
    List,
    Numbered,
    Item,
    Label,
    Body,
    Table,
    Heads,
    Rows,
    Row,
    HeadCell,
    Cell,
    /// With words for who cannot see it.
    Figure(String),
}

impl Part {
    pub fn new(role: Role, number: usize) -> Part {
        Part { role, number }
    }

    /// The nth part of what one block of a sheet becomes.
    pub fn of_block(role: Role, block: usize, n: usize) -> Part {
        Part::new(role, block * 65_536 + n)
    }
}

/// Cells are there even where nothing stands in them: a table has as many in each row.
pub fn is_cell(place: &Place) -> bool {
    matches!(place.last().map(|p| &p.role), Some(Role::Cell | Role::HeadCell))
}

pub fn is_figure(place: &Place) -> bool {
    matches!(place.last().map(|p| &p.role), Some(Role::Figure(_)))
}

#[derive(Default)]
pub struct Said {
    whole: Vec<Node>,
    /// Level, words, page and height of every heading.
    headings: Vec<(u16, String, usize, f32)>,
}

struct Node {
    part: Part,
    leaves: Vec<Identifier>,
    within: Vec<Node>,
    /// Where a figure is: its page, and left, top, right and bottom.
    bounds: Option<(usize, [f32; 4])>,
}

impl Said {
    /// A piece of a page belongs to this place. `bounds` are left, top, right and bottom of it.
    pub fn add(&mut self, place: &Place, leaf: Identifier, page: usize, bounds: [f32; 4]) {
        let mut nodes = &mut self.whole;
        let Some((last, above)) = place.split_last() else {
            return;
        };
        for part in above {
            nodes = &mut child(nodes, part).within;
        }
        let node = child(nodes, last);
        if let (Role::Heading(level, words), true) = (&last.role, node.leaves.is_empty()) {
            self.headings.push((*level, words.clone(), page, bounds[1]));
        }
        node.leaves.push(leaf);
        node.bounds = Some(match node.bounds {
            Some((on, before)) if on == page => (page, both(before, bounds)),
            Some(first) => first,
            None => (page, bounds),
        });
    }

    pub fn tree(&self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".into()));
        self.whole.iter().for_each(|node| tree.push(group(node)));
        tree
    }

    /// The headings to go to: those of the third level under the one before them.
    pub fn outline(&self) -> Outline {
        let mut top: Vec<OutlineNode> = Vec::new();
        for (level, words, page, y) in &self.headings {
            let at = XyzDestination::new(*page, krilla::geom::Point::from_xy(0.0, (y - 12.0).max(0.0)));
            let node = OutlineNode::new(words.clone(), at);
            match top.last_mut() {
                Some(last) if *level > 2 => last.push_child(node),
                _ => top.push(node),
            }
        }
        let mut outline = Outline::new();
        top.into_iter().for_each(|node| outline.push_child(node));
        outline
    }
}

/// The one named so, or a new one at the end. It is nearly always the last.
fn child<'a>(nodes: &'a mut Vec<Node>, part: &Part) -> &'a mut Node {
    let at = nodes.iter().rposition(|n| n.part == *part).unwrap_or_else(|| {
        nodes.push(Node {
            part: part.clone(),
            leaves: Vec::new(),
            within: Vec::new(),
            bounds: None,
        });
        nodes.len() - 1
    });
    &mut nodes[at]
}

fn group(node: &Node) -> TagGroup {
    let mut group = TagGroup::new(tag(node));
    node.leaves.iter().for_each(|leaf| group.push(*leaf));
    node.within.iter().for_each(|part| group.push(self::group(part)));
    group
}

fn tag(node: &Node) -> TagKind {
    match &node.part.role {
        Role::Heading(level, words) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(words.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::List => Tag::L(ListNumbering::None).into(),
        Role::Numbered => Tag::L(ListNumbering::Decimal).into(),
        Role::Item => Tag::LI.into(),
        Role::Label => Tag::Lbl.into(),
        Role::Body => Tag::LBody.into(),
        Role::Table => Tag::Table.into(),
        Role::Heads => Tag::THead.into(),
        Role::Rows => Tag::TBody.into(),
        Role::Row => Tag::TR.into(),
        Role::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        Role::Cell => Tag::TD.into(),
        Role::Figure(words) => {
            let bounds = node.bounds.and_then(|(page, [left, top, right, bottom])| {
                Some(BBox::new(page, Rect::from_ltrb(left, top, right, bottom)?))
            });
            // Nothing to say of it would make the whole file refused.
            let words = if words.trim().is_empty() { "Drawing" } else { words };
            Tag::Figure(Some(words.to_string())).with_bbox(bounds).into()
        }
    }
}
