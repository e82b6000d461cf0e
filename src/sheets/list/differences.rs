//! What viewers would see differently if a list that stays as it was followed
//! the plan.

use super::{Line, Materials, Section};

/// Each a sentence; none where both show the same.
pub fn differences(shown: &Materials, now: &Materials) -> Vec<String> {
    let mut said = Vec::new();
    if shown.title != now.title {
        said.push(format!("The title “{}” would be “{}”.", shown.title, now.title));
    }
    if shown.pictures != now.pictures {
        said.push("Other pictures would be shown.".into());
    }
    let (before, after) = (shown.shown(), now.shown());
    let flat = |sections: &[Section]| -> Vec<(&'static str, Line)> {
        let lines = |s: &Section| -> Vec<_> { s.lines.iter().map(|l| (s.heading(), l.clone())).collect() };
        sections.iter().flat_map(lines).collect()
    };
    let (before, after) = (flat(&before), flat(&after));
    for (heading, line) in &before {
        match after.iter().find(|(_, l)| l.key == line.key) {
            None => said.push(format!("{heading}: “{}” would be gone.", whole(line))),
            Some((_, now)) if whole(now) != whole(line) || now.link != line.link || now.paid != line.paid => {
                let (was, is) = (whole(line), whole(now));
                said.push(if was == is {
                    format!("{heading}: {} would have another link.", line.name)
                } else {
                    format!("{heading}: “{was}” would be “{is}”.")
                });
            }
            Some(_) => {}
        }
    }
    for (heading, line) in &after {
        if !before.iter().any(|(_, l)| l.key == line.key) {
            said.push(format!("{heading}: “{}” would be new.", whole(line)));
        }
    }
    if said.is_empty() && before.iter().map(|(_, l)| &l.key).ne(after.iter().map(|(_, l)| &l.key)) {
        said.push("The lines would stand in another order.".into());
    }
    said
}

fn whole(l: &Line) -> String {
    let time = l.video.map(|s| format!(", {}", crate::measure::video_time(s)));
    let below = l.further().join(" / ");
    let below = if below.is_empty() { below } else { format!(" ({below})") };
    format!("{}{}{below}{}", l.name, l.after_name(), time.unwrap_or_default())
}
