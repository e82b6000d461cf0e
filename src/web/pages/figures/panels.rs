//! The panel of every piece: drawn, measured, and what it is sewn from.

use crate::figures::{Figures, PanelFigures, PieceFigures, Setting, Size, StripCut};
use crate::measure::{Round, Unit};
use crate::notebook::Project;
use crate::plan::{Face, Patchwork, Plan, UnitKind};
use crate::sheets::shape_words;
use crate::web::components::{
    cautions, figure, folding, folding_part, length, length_cut, letter, size, size_cut, size_up, working,
};
use crate::web::pages::contrast::{seen_both_ways, squint_switch};
use maud::{Markup, html};

pub fn panels(project: &Project, figures: &Figures) -> Markup {
    let plan = &project.plan;
    let t = &figures.totals;
    folding(
        "panels",
        "Panels",
        html! { @if t.panels > 0 { b { (t.panels) } @if t.units > 0 { ", " (t.units) " units" } } },
        html! {},
        html! {
            @if figures.pieces.iter().any(|f| f.panel.is_some()) { (squint_switch()) }
            @for f in &figures.pieces {
                (folding_part(
                    &format!("panel-{}", f.piece),
                    html! { (f.name) " " span.count { "cut " (f.count) @if f.mirrored { ", mirrored pair" } } },
                    in_short(plan, f),
                    html! {
                        (panel(plan, f))
                        p.actions { a.button.quiet href=(format!("{}/pieces/{}", super::super::part::base(project), f.piece)) { "Change " (f.name) } }
                    },
                ))
            }
        },
    )
}

/// How large its panel is sewn.
fn in_short(plan: &Plan, f: &PieceFigures) -> Markup {
    match &f.panel {
        Some(p) => size(p.before, plan.unit, p.setting.round()),
        None => html! { "no face yet" },
    }
}

fn panel(plan: &Plan, f: &PieceFigures) -> Markup {
    let unit = plan.unit;
    let face = plan.piece(&f.piece).and_then(|p| p.face.as_ref());
    html! {
        div.panel-and-figures {
            @if let (Some(face), Some(p)) = (face, &f.panel) { div.panel-drawing { (seen_both_ways(plan, face, p, &format!("f-{}", f.piece))) } }
            div.figure-lines {
                (figure("Piece", size(f.finished, unit, Round::Nearest), html! { "with its alterations" }))
                @if let Some(p) = &f.panel {
                    @if p.units > 0 {
                        (figure(units_label(p.setting), html! { (p.columns) " × " (p.rows) }, html! {
                            (units_words(p))
                            @if let (Some(finished), Some(trim)) = (p.unit_finished, p.unit_trim) {
                                @let high = p.unit_finished_height.zip(p.unit_trim_height);
                                br; (finished.both(unit, Round::Nearest)) @if let Some((high, _)) = high { " wide, " (high.both(unit, Round::Nearest)) " high" } " finished, trim to "
                                (trim.cut(unit)) @if let Some((_, high)) = high { " by " (high.cut(unit)) }
                            }
                        }))
                        @if let Some(Face::Patchwork(face)) = face { (made(face)) }
                    }
                    (setting(plan, p))
                    (figure("Panel before quilting", size(p.before, unit, p.setting.round()), html! { "raw edge to raw edge" }))
                    @if f.batting.is_some() || f.backing.is_some() || p.after != p.before {
                        (figure("Panel after quilting", size(p.after, unit, Round::Down), html! { "needed: " (needed(f.needed, p.after, unit)) }))
                    }
                } @else {
                    (figure("Panel must measure", size_up(f.needed_before, unit), html! { "face not decided yet" }))
                }
                @if let Some(b) = f.batting { (figure("Batting, each", size_up(b, unit), html! { (f.count) " of them, overage included" })) }
                @if let Some(b) = f.backing { (figure("Backing, each", size_up(b, unit), html! { (f.count) " of them, overage included" })) }
            }
        }
        @if let Some(p) = &f.panel { (sewn_from(plan, f, p)) }
        (cautions(&f.shown.cautions))
        (working(&f.shown))
    }
}

/// What columns and rows count in a setting.
pub fn units_label(setting: Setting) -> &'static str {
    match setting {
        Setting::Plain | Setting::Straight => "Units across × down",
        Setting::OnPoint { .. } => "Outer blocks across × down",
        Setting::Triangles => "Triangles in a row × rows",
        Setting::Diamonds => "Diamonds in a row × rows",
        Setting::Hexagons => "Hexagons in a row × rows",
    }
}

/// What they are in a line: "4 × 6 units".
pub fn counted(setting: Setting) -> &'static str {
    match setting {
        Setting::Plain | Setting::Straight => "units",
        Setting::OnPoint { .. } => "outer blocks",
        Setting::Triangles | Setting::Diamonds | Setting::Hexagons => "patches",
    }
}

/// "42 units a panel", with those between the outer ones on point.
pub fn units_words(p: &PanelFigures) -> String {
    match p.setting {
        Setting::OnPoint { .. } => format!(
            "{} blocks a panel, {} of them between the outer ones",
            p.units,
            p.units - p.columns * p.rows
        ),
        Setting::Triangles | Setting::Diamonds | Setting::Hexagons if p.units == 1 => "1 patch a panel".into(),
        Setting::Triangles | Setting::Diamonds | Setting::Hexagons => format!("{} patches a panel", p.units),
        Setting::Plain | Setting::Straight if p.units == 1 => "1 unit a panel".into(),
        Setting::Plain | Setting::Straight => format!("{} units a panel", p.units),
    }
}

/// Where triangles are made more at a time than a pair.
fn made(face: &Patchwork) -> Markup {
    let mut counts: Vec<u32> = face
        .units
        .iter()
        .filter(|u| u.kind == UnitKind::HalfSquareTriangle)
        .map(|u| u.at_a_time)
        .collect();
    counts.dedup();
    html! {
        @if counts.iter().any(|n| *n != 2) {
            @for n in counts {
                (figure("Half-square triangles", html! { (n) " at a time" }, html! {
                    @match n {
                        4 => "two squares sewn all round, cut corner to corner both ways",
                        8 => "two squares sewn along both diagonals, cut into eight",
                        _ => "two squares sewn on both sides of a diagonal, cut along it",
                    }
                }))
            }
        }
    }
}

fn setting(plan: &Plan, p: &PanelFigures) -> Markup {
    let unit = plan.unit;
    html! {
        @if let Setting::OnPoint { side_triangles, corner_triangles } = p.setting {
            (figure("Setting triangles", html! { (side_triangles + corner_triangles) }, html! { (side_triangles) " along the sides, " (corner_triangles) " in the corners" }))
        }
        @if let Some(sashing) = &p.sashing {
            (figure("Sashing", length(sashing.width, unit), html! {
                "finished, between the units" @if sashing.around { " and round the outside" }
                @if sashing.posts { ", posts where strips cross" } @else { ", level strips run through" }
            }))
        }
        @for (n, border) in p.borders.iter().enumerate() {
            @let name = if p.borders.len() == 1 { "Border".to_string() } else { format!("Border {}", n + 1) };
            (figure(&name, length(border.width, unit), html! {
                "finished, " @if border.corners { "squares in the corners" } @else { "top and bottom run through" }
            }))
        }
    }
}

/// Patches and strips of all panels of a piece.
fn sewn_from(plan: &Plan, f: &PieceFigures, p: &PanelFigures) -> Markup {
    html! {
        @if !p.patches.is_empty() || !p.strips.is_empty() {
            details.sewn-from {
                summary { "Sewn from" }
                @if f.count > 1 { p.hint { "For all " (f.count) " panels." } }
                table.numbers {
                    thead { tr { th scope="col" { "What" } th.num scope="col" { "How many" } th.num scope="col" { "Cut size" } } }
                    tbody {
                        @for cut in &p.patches { tr {
                            th scope="row" { (shape_words(cut.shape)) " of " (cloth(plan, &cut.cloth)) div.meta { (cut.unit) } }
                            td.num { b { (cut.patches) } @if cut.cuts != cut.patches { div.meta { "from " (cut.cuts) @if cut.cuts == 1 { " square" } @else { " squares" } } } }
                            td.num { @if cut.cut.width == cut.cut.height { (length_cut(cut.cut.width, plan.unit)) } @else { (size_cut(cut.cut, plan.unit)) } }
                        } }
                        @for strip in &p.strips { (strip_row(plan, strip)) }
                    }
                }
            }
        }
    }
}

fn strip_row(plan: &Plan, strip: &StripCut) -> Markup {
    html! {
        tr {
            th scope="row" { (strip.what) " of " (cloth(plan, &strip.cloth)) }
            td.num { b { (strip.count) } }
            td.num { (size_cut(strip.cut, plan.unit)) }
        }
    }
}

fn cloth(plan: &Plan, id: &str) -> String {
    match plan.cloths.iter().position(|c| c.id == id) {
        Some(i) => format!("{} {}", letter(i), plan.cloths[i].name),
        None => "a cloth".into(),
    }
}

/// What a panel must measure. Beside one that is as large, both are rounded the
/// same way: rounded apart, 6 in would look like too little for 6 in.
fn needed(needed: Size, there: Size, unit: Unit) -> Markup {
    let reached = there.width >= needed.width && there.height >= needed.height;
    size(needed, unit, if reached { Round::Down } else { Round::Up })
}
