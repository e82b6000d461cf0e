//! One sheet: its part of the plane, the marks that join it to its neighbours,
//! and at the foot what it is.

use super::ink::{Ink, Pen, PlotPage};
use super::label::width;
use super::size::OVERLAP;
use super::tiles::Tile;
use super::{LaidOut, PatternSheet, cover, date_words, label, piece, place};
use crate::measure::{Round, Unit};
use crate::sheets::paper::letters::{one_line, printable};
use crate::sheets::paper::said::Role;
use kurbo::{Affine, Point, Rect, Shape, Size, Vec2};

/// Half a diamond: so far from the edge, and so far along it.
const DIAMOND: (f64, f64) = (4.0, 3.0);

/// Along an edge that is joined, a diamond at each of these parts of it.
const AT: [f64; 2] = [0.25, 0.75];

pub fn page(sheet: &PatternSheet, laid: &LaidOut, n: usize, number: (usize, usize)) -> PlotPage {
    let tiles = &laid.tiles;
    let paper = laid.paper;
    let tile = tiles.all[n];
    let shows = tiles.shows(tile);
    let (left, top) = paper.corner();
    let high = shows.height() + paper.size().height - paper.frame().height;
    let size = Size::new(paper.size().width, high);
    let to_page = Vec2::new(left, top) - shows.origin().to_vec2();
    let mut clipped = Vec::new();
    if tile == (Tile { column: 0, row: 0 }) && !paper.has_cover() {
        let by = Affine::translate(to_page);
        clipped.extend(cover::head(sheet, laid).iter().map(|ink| ink.moved(by)));
    }
    let name = tile.name();
    clipped.push(Ink::at(Role::Heading(2, format!("Sheet {name}")), n));
    clipped.push(Ink::grey(Point::new(left + 3.0, top + 8.0), 18.0, name.clone()));
    for placed in &laid.placed {
        let Some(piece) = laid.pieces.get(placed.piece) else {
            continue;
        };
        if !near(place::bounds(piece) + placed.by, shows) {
            continue;
        }
        let clear = clear(laid, placed.piece, placed.by);
        let number = n * 65_536 + placed.piece;
        let [own_name, count] = label::words(piece, &clear);
        let mut inks = vec![Ink::at(Role::Heading(3, printable(&piece.name)), number), own_name];
        inks.extend([Ink::at(Role::Paragraph, number), count]);
        inks.push(Ink::at(Role::Figure(says(laid, placed.piece, &name)), number));
        inks.extend(piece::inks(piece));
        let by = Affine::translate(placed.by + to_page);
        clipped.extend(inks.iter().map(|ink| ink.moved(by)));
    }
    clipped.push(Ink::At(None));
    let within = Rect::from_origin_size((left, top), shows.size());
    // Words are seen where some of them lies within.
    clipped.retain(|ink| match ink {
        Ink::Words(_) => ink.bounds().is_some_and(|b| near(b, within)),
        _ => true,
    });
    joins(laid, tile, to_page, &mut clipped);
    let mut marks = vec![Ink::Line {
        path: within.to_path(0.1),
        pen: Pen::FRAME,
    }];
    foot(sheet, laid, n, number, size, &mut marks);
    PlotPage {
        size,
        marks,
        within: Some(within),
        clipped,
    }
}

/// What there is to see of a piece on a sheet, for who cannot see it.
fn says(laid: &LaidOut, piece: usize, sheet: &str) -> String {
    let Some(drawn) = laid.pieces.get(piece) else {
        return String::new();
    };
    let on = laid.tiles.all.iter().enumerate();
    let on = on.filter(|(n, _)| laid.tiles.pieces_on(*n).contains(&piece)).count();
    let size = drawn.cut_size();
    let mut lines = vec!["cut line".to_string()];
    if drawn.stitching.is_some() {
        lines.push("stitching line".into());
    }
    if drawn.fold.is_some() {
        lines.push("fold".into());
    }
    match drawn.notches.len() {
        0 => {}
        1 => lines.push("1 notch".into()),
        n => lines.push(format!("{n} notches")),
    }
    let part = match on {
        0 | 1 => format!("whole on sheet {sheet}"),
        n => format!("its part on sheet {sheet}, one of {n}"),
    };
    format!(
        "{}, {part}, at full size: {}, grainline. As it lies it is {} wide and {} high.",
        printable(&drawn.name),
        lines.join(", "),
        size.width.both(Unit::Cm, Round::Up),
        size.height.both(Unit::Cm, Round::Up)
    )
}

fn near(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Parts of the plane that are seen on one sheet alone, as the piece counts.
fn clear(laid: &LaidOut, piece: usize, by: Vec2) -> Vec<Rect> {
    let tiles = &laid.tiles;
    let on = tiles
        .all
        .iter()
        .enumerate()
        .filter(|(n, _)| tiles.pieces_on(*n).contains(&piece));
    on.map(|(_, t)| tiles.shows(*t).inset(-(OVERLAP + 1.0)) - by).collect()
}

/// Where a neighbour is laid: a dashed line with its name, and the diamonds whose halves meet.
fn joins(laid: &LaidOut, tile: Tile, to_page: Vec2, out: &mut Vec<Ink>) {
    let tiles = &laid.tiles;
    let shows = tiles.shows(tile);
    let at = |x: f64, y: f64| Point::new(x, y) + to_page;
    let diamond = |middle: Point, across: bool| {
        let (deep, half) = DIAMOND;
        let (dx, dy) = if across { (half, deep) } else { (deep, half) };
        let corners = [(-dx, 0.0), (0.0, -dy), (dx, 0.0), (0.0, dy)];
        let points: Vec<Point> = corners.iter().map(|(x, y)| middle + Vec2::new(*x, *y)).collect();
        Ink::Area {
            path: crate::drafting::path_of(&points),
        }
    };
    let next = Tile {
        column: tile.column + 1,
        ..tile
    };
    let below = Tile {
        row: tile.row + 1,
        ..tile
    };
    let before = tile.column.checked_sub(1).map(|column| Tile { column, ..tile });
    let above = tile.row.checked_sub(1).map(|row| Tile { row, ..tile });
    let joined = |other: Option<Tile>| other.is_some_and(|t| tiles.has(t) && tiles.joined(tile, t));
    // Right and below: the neighbour's edge. Left and above: this sheet's own.
    for (is, x) in [(joined(Some(next)), shows.x1 - OVERLAP), (joined(before), shows.x0)] {
        if is {
            out.extend(
                AT.iter()
                    .map(|part| diamond(at(x, shows.y0 + shows.height() * part), false)),
            );
        }
    }
    for (is, y) in [(joined(Some(below)), shows.y1 - OVERLAP), (joined(above), shows.y0)] {
        if is {
            out.extend(
                AT.iter()
                    .map(|part| diamond(at(shows.x0 + shows.width() * part, y), true)),
            );
        }
    }
    if joined(Some(next)) {
        let x = shows.x1 - OVERLAP;
        out.push(Ink::line(at(x, shows.y0), at(x, shows.y1), Pen::GLUE));
        out.push(Ink::grey(at(x + 1.0, shows.center().y), 9.0, next.name()));
        out.push(Ink::grey(at(x + 1.0, shows.center().y + 3.6), 6.5, "to here"));
    }
    if joined(Some(below)) {
        let y = shows.y1 - OVERLAP;
        out.push(Ink::line(at(shows.x0, y), at(shows.x1, y), Pen::GLUE));
        out.push(Ink::grey(
            at(shows.center().x, y + 4.5),
            9.0,
            format!("{} to here", below.name()),
        ));
    }
}

fn foot(sheet: &PatternSheet, laid: &LaidOut, n: usize, (page, of): (usize, usize), size: Size, out: &mut Vec<Ink>) {
    const LETTERS: f64 = 7.5;
    let (left, top) = laid.paper.corner();
    let y = size.height - top - 1.5;
    let tile = laid.tiles.all[n].name();
    let number = format!("page {page} of {of}");
    let x = size.width - left - width(&number, LETTERS, true);
    out.push(Ink::words(Point::new(x, y), LETTERS, true, number));
    let said = "Print at 100 %, do not scale";
    let from = x - 4.0 - width(said, LETTERS, true);
    out.push(Ink::words(Point::new(from, y), LETTERS, true, said));
    let pieces: Vec<&str> = laid
        .tiles
        .pieces_on(n)
        .iter()
        .filter_map(|p| laid.pieces.get(*p))
        .map(|p| p.name.as_str())
        .collect();
    let date = date_words(sheet.date);
    let title: String = sheet.title.chars().take(40).collect();
    let text = format!("{tile} · {title} · {date} · {}", pieces.join(", "));
    let room = (from - 4.0 - left) / super::label::POINT;
    out.push(Ink::words(
        Point::new(left, y),
        LETTERS,
        false,
        one_line(&text, room as f32, LETTERS as f32, false),
    ));
}
