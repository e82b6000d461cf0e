//! The binding as text: what it takes, each way to cut it, what remnants give.

use super::Page;
use crate::figures::binding::fold_name;
use crate::figures::check::called;
use crate::figures::{BindingFigures, Figures};
use crate::measure::Round;
use crate::plan::{BindingCut, Plan};

/// Lengths of strips named in a line.
const STRIPS: usize = 12;

fn way_name(cut: BindingCut) -> &'static str {
    match cut {
        BindingCut::Straight => "straight-grain strips",
        BindingCut::BiasStrips => "bias strips",
        BindingCut::Continuous => "continuous bias",
    }
}

impl Page {
    pub(super) fn binding(&mut self, plan: &Plan, figures: &Figures) {
        let Some(binding) = &figures.binding else { return };
        self.heading("Binding");
        let cloth = plan
            .cloth(&binding.cloth)
            .map_or(binding.cloth.clone(), |c| called(&c.name, &c.id));
        let cut = way_name(binding.cut);
        self.pair("cut", &format!("{}, {cut}, of {cloth}", fold_name(binding.fold)));
        self.pair("strip", &binding.strip_width.cut(self.unit));
        self.pair("edges", &self.both(binding.edges, Round::Up));
        self.pair("needed in all", &self.both(binding.total, Round::Up));
        self.pair("cut gives", &self.both(binding.made, Round::Down));
        if binding.cut_from.is_empty() {
            self.pair("from cloth", &self.size(binding.rectangle, Round::Up));
        } else {
            let count: i64 = binding.cut_from.iter().map(|u| u.times).sum();
            self.pair("from remnants", &format!("{count}, none of it from cloth to buy"));
        }
        if binding.cut != BindingCut::Continuous {
            let strips: i64 = binding.strips.iter().map(|s| s.count).sum();
            self.pair("strips and joins", &format!("{strips} and {}", binding.joins));
            let each = binding.strips.iter().take(STRIPS);
            let mut lengths: Vec<String> = each
                .map(|s| format!("{} of {}", s.count, self.both(s.length, Round::Down)))
                .collect();
            if binding.strips.len() > STRIPS {
                lengths.push("shorter ones".into());
            }
            self.pair("their lengths", &lengths.join("; "));
        }
        self.ways(binding);
        self.remnants(binding);
        self.shown(&binding.shown);
    }

    fn ways(&mut self, binding: &BindingFigures) {
        self.line(4, "Ways to cut it:");
        for way in &binding.ways {
            let mark = match (way.chosen, way.least) {
                (true, true) => " (chosen; the least cloth)",
                (true, false) => " (chosen)",
                (false, true) => " (the least cloth)",
                (false, false) => "",
            };
            let text = format!(
                "{}{mark}: {} of cloth, a rectangle {}; gives {}, {} joins take {}.",
                way_name(way.cut),
                self.both(way.cloth, Round::Up),
                self.size(way.rectangle, Round::Up),
                self.both(way.made, Round::Down),
                way.joins,
                self.both(way.lost, Round::Up)
            );
            self.wrapped("      ", "        ", &text);
        }
        for no in &binding.not_possible {
            self.wrapped("      ", "        ", &format!("{}: {}", way_name(no.cut), no.why));
        }
    }

    fn remnants(&mut self, binding: &BindingFigures) {
        let Some(remnants) = &binding.remnants else { return };
        self.line(4, "From the remnants:");
        for way in &remnants.ways {
            let used: i64 = way.used.iter().map(|u| u.times).sum();
            let text = if way.enough {
                format!(
                    "{}: {used} of them give it, {}, {} left over.",
                    way_name(way.cut),
                    self.both(way.made, Round::Down),
                    self.both(way.over, Round::Down)
                )
            } else {
                format!(
                    "{}: all of them give {}; {} are missing.",
                    way_name(way.cut),
                    self.both(way.made, Round::Down),
                    self.both(way.missing, Round::Up)
                )
            };
            self.wrapped("      ", "        ", &text);
        }
        if let Some(saving) = binding.saving.filter(|s| s.is_positive()) {
            let text = format!(
                "Cut from the remnants there would be {} less to buy.",
                saving.both_cloth(self.unit, Round::Down)
            );
            self.wrapped("      ", "        ", &text);
        }
    }
}
