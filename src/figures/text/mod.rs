//! All figures as plain text, for a terminal or a printer that knows no pages.

mod batting;
mod binding;
mod care;
mod closures;
mod cost;
mod leftovers;
mod panel;
mod quilting;
mod ready_cut;
mod sizing;
mod thread;
mod time;

pub use leftovers::leftovers_as_text;

use super::{ClothFigures, CutLine, Figures, PieceFigures, Purpose, Shown, Size};
use crate::measure::{Length, Round, Unit};
use crate::plan::{ClothKind, Plan};

const COLUMNS: usize = 78;
/// Where the value of a line begins.
const VALUE: usize = 26;

/// The figures of `plan`, wrapped to 78 columns.
pub fn as_text(plan: &Plan, figures: &Figures) -> String {
    let mut page = Page {
        unit: figures.unit,
        text: String::new(),
    };
    if !figures.problems.is_empty() {
        page.heading("To put right");
        for problem in &figures.problems {
            page.item(&format!("{} [{}]", problem.message, problem.field));
        }
    }
    if !figures.pieces.is_empty() {
        page.heading("Pieces and panels");
        for piece in &figures.pieces {
            page.piece(plan, piece);
        }
    }
    if !figures.cloths.is_empty() {
        page.heading("Cloth");
        for cloth in &figures.cloths {
            page.cloth(cloth);
        }
    }
    page.binding(plan, figures);
    page.batting(figures);
    page.closures(figures);
    page.thread(figures);
    page.sizing(figures);
    page.care(figures);
    page.cost(figures);
    page.quilting(figures);
    page.time(figures);
    page.totals(figures);
    if page.text.is_empty() {
        page.line(0, "The plan is empty: add a piece, a cloth or an edge to bind.");
    }
    page.text
}

struct Page {
    unit: Unit,
    text: String,
}

impl Page {
    fn heading(&mut self, title: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.line(0, title);
        self.line(0, &"=".repeat(title.chars().count()));
    }

    /// A paragraph, wrapped, every line indented.
    fn line(&mut self, indent: usize, text: &str) {
        self.wrapped(&" ".repeat(indent), &" ".repeat(indent), text);
    }

    fn item(&mut self, text: &str) {
        self.wrapped("  - ", "    ", text);
    }

    /// `label` and a value beside it, wrapped under itself.
    fn pair(&mut self, label: &str, value: &str) {
        let first = format!("  {label:<width$}", width = VALUE - 2);
        self.wrapped(&first, &" ".repeat(VALUE), value);
    }

    fn wrapped(&mut self, first: &str, next: &str, text: &str) {
        let mut line = first.to_string();
        let mut empty = true;
        for word in text.split_whitespace() {
            let long = line.chars().count() + usize::from(!empty) + word.chars().count() > COLUMNS;
            if long && !empty {
                self.push(&line);
                line = next.to_string();
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        self.push(&line);
    }

    fn push(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn both(&self, length: Length, round: Round) -> String {
        length.both(self.unit, round)
    }

    fn size(&self, size: Size, round: Round) -> String {
        size.both(self.unit, round)
    }

    fn cut(&self, size: Size) -> String {
        size.cut(self.unit)
    }

    fn shown(&mut self, shown: &Shown) {
        for caution in &shown.cautions {
            self.line(4, &format!("Mind: {caution}"));
        }
        if !shown.working.is_empty() {
            self.line(4, "Working:");
            for line in &shown.working {
                self.wrapped("      ", "        ", line);
            }
        }
        if !shown.allowances.is_empty() {
            self.line(4, "Allowances:");
            for used in &shown.allowances {
                self.wrapped(
                    "      ",
                    "        ",
                    &format!("{}: {} ({})", used.name, used.value, used.source),
                );
            }
        }
    }

    fn piece(&mut self, plan: &Plan, piece: &PieceFigures) {
        let count = match (piece.count, piece.mirrored) {
            (1, _) => "cut 1".to_string(),
            (n, false) => format!("cut {n}"),
            (n, true) => format!("cut {n}, half of them mirrored"),
        };
        self.text.push('\n');
        self.line(0, &format!("{}, {count}", piece.name));
        self.pair("piece", &self.size(piece.finished, Round::Nearest));
        if piece.needed != piece.finished {
            self.pair("with margin", &self.size(piece.needed, Round::Up));
        }
        if piece.needed_before != piece.needed {
            self.pair("before quilting", &self.size(piece.needed_before, Round::Up));
        }
        if let Some(panel) = &piece.panel {
            if panel.units > 0 {
                self.units(panel);
            }
            self.pair("panel, sewn", &self.size(panel.before, panel.setting.round()));
            if panel.after != panel.before {
                self.pair("after quilting at least", &self.size(panel.after, Round::Down));
            }
            for patch in &panel.patches {
                let cloth = plan
                    .cloth(&patch.cloth)
                    .map_or(patch.cloth.clone(), |c| super::check::called(&c.name, &c.id));
                let patches = if patch.patches == 1 { "patch" } else { "patches" };
                let mut text = format!("{} {patches}", patch.patches);
                if patch.cuts != patch.patches {
                    let squares = if patch.cuts == 1 { "square" } else { "squares" };
                    text.push_str(&format!(" from {} {squares}", patch.cuts));
                }
                text.push_str(&format!(" cut {}, {}", self.cut(patch.cut), patch.unit));
                self.pair(&cloth, &text);
            }
            self.strips(plan, panel);
        }
        if let Some(size) = piece.batting {
            self.pair("batting", &self.size(size, Round::Up));
        }
        if let Some(size) = piece.backing {
            self.pair("backing", &self.size(size, Round::Up));
        }
        self.shown(&piece.shown);
    }

    fn cloth(&mut self, cloth: &ClothFigures) {
        let kind = match cloth.kind {
            ClothKind::Cloth => "",
            ClothKind::Batting => " (batting)",
        };
        self.text.push('\n');
        self.line(0, &format!("{}{kind}", cloth.name));
        self.pair("usable width", &self.both(cloth.usable_width, Round::Down));
        if !cloth.is_used() {
            self.pair("", "Nothing is cut from it.");
            self.shown(&cloth.shown);
            return;
        }
        self.pair("length cut from", &self.both(cloth.length, Round::Up));
        if cloth.owned.is_positive() {
            self.pair("at hand", &cloth.owned.both_cloth(self.unit, Round::Down));
        }
        let buy = if cloth.to_buy.is_positive() {
            cloth.to_buy.both_cloth(self.unit, Round::Up)
        } else {
            "nothing".into()
        };
        self.pair("to buy", &buy);
        if cloth.to_buy_if_none_owned != cloth.to_buy {
            self.pair(
                "if none were at hand",
                &cloth.to_buy_if_none_owned.both_cloth(self.unit, Round::Up),
            );
        }
        if let Some(cost) = cloth.cost {
            self.pair("cost", &cost.to_string());
        }
        ready_cut::lines(self, cloth);
        for (n, line) in cloth.cuts.iter().enumerate() {
            let mut text = self.cut_line(line);
            if cloth.laid(n) > 0 {
                text.push_str(&format!("; {} of them in the kept lay", cloth.laid(n)));
            }
            self.pair(purpose(line), &text);
        }
        if !cloth.layout.order.is_empty() {
            self.line(4, "Order of cuts:");
        }
        for (n, step) in cloth.layout.order.iter().enumerate() {
            self.wrapped(&format!("      {}. ", n + 1), "         ", step);
        }
        if !cloth.other_widths.is_empty() {
            let widths: Vec<String> = cloth
                .other_widths
                .iter()
                .map(|w| {
                    let width = match self.unit {
                        Unit::Inch => w.width.inches(Round::Nearest),
                        Unit::Cm => w.width.cm(Round::Nearest),
                    };
                    format!("{width} wide: {}", w.to_buy.both_cloth(self.unit, Round::Up))
                })
                .collect();
            self.line(4, &format!("On other widths, {}.", widths.join("; ")));
        }
        self.shown(&cloth.shown);
    }

    fn cut_line(&self, line: &CutLine) -> String {
        let mut text = format!("{} of {}", line.count, self.cut(line.cut));
        if line.patches != line.count {
            text.push_str(&format!(", for {} triangles", line.patches));
        }
        // A panel by itself is no strip to anyone who cuts it.
        if let Some(strips) = line.strips.filter(|s| s.strips * s.per_strip > 1 && s.per_strip > 1) {
            text.push_str(&format!(
                "; {} {} of {}, {} a strip",
                strips.strips,
                if strips.strips == 1 { "strip" } else { "strips" },
                strips.height.cut_one(self.unit),
                strips.per_strip
            ));
        }
        if !line.pieces.is_empty() {
            text.push_str(&format!(" ({})", line.pieces.join(", ")));
        }
        text
    }

    fn totals(&mut self, figures: &Figures) {
        let totals = &figures.totals;
        if figures.pieces.is_empty() && figures.cloths.is_empty() {
            return;
        }
        self.heading("In all");
        self.pair("panels", &totals.panels.to_string());
        if totals.units > 0 {
            self.pair("units", &totals.units.to_string());
            self.pair("patches", &totals.patches.to_string());
        }
        match totals.to_buy {
            Some(cost) => self.pair("cloth to buy", &cost.to_string()),
            None => {
                let mut text = format!("{} as far as known", totals.to_buy_known);
                if !totals.unpriced.is_empty() {
                    text.push_str(&format!("; no price for {}", totals.unpriced.join(", ")));
                }
                self.pair("cloth to buy", &text);
            }
        }
        for caution in &totals.cautions {
            self.line(2, &format!("Mind: {caution}"));
        }
    }
}

fn purpose(line: &CutLine) -> &'static str {
    match line.purpose {
        Purpose::Patch { .. } => "patches",
        Purpose::Sashing => "sashing",
        Purpose::Border => "borders",
        Purpose::PlainPanel => "panels",
        Purpose::Backing => "backing",
        Purpose::Batting => "batting",
        Purpose::StraightBinding => "binding strips",
        Purpose::BiasRectangle => "for bias strips",
        Purpose::ContinuousSquare => "for continuous binding",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    #[test]
    fn the_text_is_whole_and_fits() {
        let plan = Plan::from_json(
            r#"{"format":1,
            "cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in","price":{"amount":"12.00","per":"yd"}},
                      {"id":"c2","name":"Wool batting","kind":"batting","usable_width":"90 in"}],
            "pieces":[{"id":"p1","name":"Sleeve","cut_count":2,"mirrored":true,"width":"18 in","height":"24 in","take_up":"2 %",
              "face":{"kind":"patchwork","finished":"4 in","arrangement":"all-alike","units":[{"kind":"half-square-triangle","cloths":["c1","c1"]}]},
              "layers":{"batting":"c2"}},
              {"id":"p2","name":"Pocket","cut_count":1,"width":"0 in","height":"9 in"}],
            "edges":[{"id":"e1","name":"Hem","length":"40 in","count":1,"closed":true}],
            "binding":{"cloth":"c1","fold":"double","cut":"straight","finished_width":"3/8 in"}}"#,
        )
        .unwrap();
        let text = as_text(&plan, &work_out(&plan));
        for line in text.lines() {
            // Only an address that is itself too long may run over.
            let one_word = line.split_whitespace().count() == 1;
            assert!(line.chars().count() <= COLUMNS || one_word, "{line}");
            assert_eq!(line, line.trim_end());
        }
        for part in [
            "To put right\n============",
            "[pieces/p2/width]",
            "Sleeve, cut 2, half of them mirrored",
            "4 7/8 in (12.4 cm)",
            "Order of cuts:",
            "straight-grain strips, of Cream linen",
            "as far as known; no price for Wool batting",
            "Mind: Rotary cutter",
        ] {
            assert!(text.contains(part), "{part} is not in\n{text}");
        }
        let empty = Plan::default();
        assert!(as_text(&empty, &work_out(&empty)).contains("The plan is empty"));
    }
}
