//! A panel's units, setting and strips.

use super::Page;
use crate::figures::{PanelFigures, Setting, Size};
use crate::plan::Plan;

impl Page {
    pub(super) fn units(&mut self, panel: &PanelFigures) {
        let (columns, rows, units) = (panel.columns, panel.rows, panel.units);
        match panel.setting {
            Setting::OnPoint {
                side_triangles,
                corner_triangles,
            } => {
                self.pair(
                    "blocks on point",
                    &format!("{columns} across, {rows} down, and one fewer each way between them: {units}"),
                );
                self.pair(
                    "setting triangles",
                    &format!("{side_triangles} along the sides, {corner_triangles} in the corners"),
                );
            }
            Setting::Triangles | Setting::Diamonds | Setting::Hexagons => {
                self.pair("patches", &format!("{columns} a row, {rows} rows: {units}"));
            }
            Setting::Plain | Setting::Straight => {
                self.pair("units", &format!("{columns} across, {rows} down: {units}"));
            }
        }
        match (panel.unit_trim, panel.unit_trim_height) {
            (Some(width), Some(height)) => self.pair("trim units to", &Size { width, height }.cut(self.unit)),
            (Some(side), None) => self.pair("trim units to", &side.cut(self.unit)),
            _ => {}
        }
    }

    pub(super) fn strips(&mut self, plan: &Plan, panel: &PanelFigures) {
        for strip in &panel.strips {
            let cloth = plan
                .cloth(&strip.cloth)
                .map_or(strip.cloth.clone(), |c| crate::figures::check::called(&c.name, &c.id));
            let text = format!("{} {}, cut {}", strip.count, strip.what, self.cut(strip.cut));
            self.pair(&cloth, &text);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::figures::{as_text, work_out};
    use crate::plan::Plan;

    fn text(face: &str) -> String {
        let plan = Plan::from_json(&format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"42 in"}}],
            "pieces":[{{"id":"p1","name":"Cover","cut_count":1,"width":"30 in","height":"40 in",
            "face":{{"kind":"patchwork","arrangement":"all-alike",{face}}}}}]}}"#
        ))
        .expect("a plan");
        let figures = work_out(&plan);
        assert!(figures.problems.is_empty(), "{:?}", figures.problems);
        // As it reads without its line breaks.
        as_text(&plan, &figures)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    }

    #[test]
    fn settings_and_strips_are_told() {
        let square = r#""finished":"6 in","units":[{"kind":"square","cloths":["c1"]}]"#;
        let on_point = text(&format!(r#"{square},"on_point":{{"side":"c1","corner":"c1"}}"#));
        for part in [
            "blocks on point 4 across, 5 down, and one fewer each way between them: 32",
            "setting triangles 14 along the sides, 4 in the corners",
            // 34.44 by 42.93 in: not the nearest eighth, 34 1/2, which is not there.
            "panel, sewn 34 3/8 × 42 7/8 in",
        ] {
            assert!(on_point.contains(part), "{part} is not in {on_point}");
        }
        let sashed = text(&format!(
            r#"{square},"sashing":{{"width":"1 in","cloth":"c1"}},"borders":[{{"width":"3 in","cloth":"c1"}}]"#
        ));
        for part in [
            "units 4 across, 5 down: 20",
            "level sashing strips between the rows, cut 27 1/2 × 1 1/2 in",
            "2 side strips of border 1, cut 3 1/2 × 34 1/2 in",
            "2 top and bottom strips of border 1, cut 33 1/2 × 3 1/2 in",
        ] {
            assert!(sashed.contains(part), "{part} is not in {sashed}");
        }
        let rows = text(r#""finished":"4 in","units":[{"kind":"triangle-60","cloths":["c1","c1"]}]"#);
        assert!(rows.contains("patches 17 a row, 12 rows: 204"), "{rows}");
        assert!(!rows.contains("trim units to"), "{rows}");
    }
}
