//! Chapters of a video from the ticked steps that have a time in it: the first
//! at 0:00, in order, each at least ten seconds (common practice).

use super::{Group, Materials};
use crate::measure::video_time;

/// Seconds a chapter lasts at least.
const SHORTEST: u32 = 10;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chapters {
    /// "0:00 Cut the patches"; none where there is a problem.
    pub lines: Vec<String>,
    /// What to mend, each a sentence.
    pub problems: Vec<String>,
}

pub fn chapters(list: &Materials) -> Chapters {
    let steps = list.sections.iter().filter(|s| s.group == Group::Steps);
    let steps = steps.flat_map(|s| &s.lines).filter(|l| l.shown);
    let marks: Vec<(u32, &str)> = steps.filter_map(|l| Some((l.video?, l.name.as_str()))).collect();
    let mut chapters = Chapters::default();
    if let Some((seconds, name)) = marks.first().filter(|(seconds, _)| *seconds > 0) {
        chapters.problems.push(format!(
            "The first chapter must begin at 0:00, and “{name}” stands at {}. Give it 0:00, or tick an earlier step at 0:00.",
            video_time(*seconds)
        ));
    }
    for pair in marks.windows(2) {
        let [(before, first), (after, second)] = [pair[0], pair[1]];
        if after < before {
            chapters.problems.push(format!(
                "“{second}” at {} stands behind “{first}” at {}. Move the step, or mend its time.",
                video_time(after),
                video_time(before)
            ));
        } else if after - before < SHORTEST {
            chapters.problems.push(format!(
                "“{first}” at {} lasts {} s, until “{second}”; a chapter lasts at least {SHORTEST} s. Take one of the two times away, or untick the step.",
                video_time(before),
                after - before
            ));
        }
    }
    if chapters.problems.is_empty() {
        chapters.lines = marks
            .iter()
            .map(|(seconds, name)| format!("{} {name}", video_time(*seconds)))
            .collect();
    }
    chapters
}

#[cfg(test)]
mod tests {
    use super::super::{Line, Section};
    use super::*;
    use crate::measure::Unit;

    fn list(steps: &[(Option<u32>, bool)]) -> Materials {
        let lines = steps.iter().enumerate().map(|(n, (video, shown))| Line {
            key: format!("step/{n}"),
            name: format!("Step {n}"),
            video: *video,
            shown: *shown,
            ..Line::default()
        });
        Materials {
            title: String::new(),
            title_for_viewers: String::new(),
            pictures: Vec::new(),
            unit: Unit::Inch,
            minutes: 0,
            sections: vec![Section {
                group: Group::Steps,
                lines: lines.collect(),
            }],
        }
    }

    #[test]
    fn ticked_steps_with_a_time_are_chapters() {
        let told = chapters(&list(&[
            (Some(0), true),
            (Some(5), false),
            (None, true),
            (Some(10), true),
            (Some(3725), true),
        ]));
        assert_eq!(told.lines, ["0:00 Step 0", "0:10 Step 3", "1:02:05 Step 4"]);
        assert_eq!(told.problems, [""; 0]);
        assert_eq!(chapters(&list(&[(None, true), (Some(0), false)])), Chapters::default());
    }

    #[test]
    fn what_is_to_be_mended_is_said() {
        for (steps, part) in [
            (&[(Some(12), true)][..], "must begin at 0:00"),
            (&[(Some(0), true), (Some(9), true)], "lasts 9 s"),
            (&[(Some(0), true), (Some(0), true)], "lasts 0 s"),
            (&[(Some(0), true), (Some(90), true), (Some(60), true)], "stands behind"),
        ] {
            let told = chapters(&list(steps));
            assert!(told.lines.is_empty());
            assert_eq!(told.problems.len(), 1);
            assert!(told.problems[0].contains(part), "{:?}", told.problems);
        }
    }
}
