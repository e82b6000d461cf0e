use super::*;
use crate::figures::work_out;
use crate::plan::Plan;

fn plan(alterations: &str, second: &str) -> Plan {
    Plan::from_json(&format!(
        r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"110 cm"}}],
        "pieces":[{{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"24 in","alterations":[{alterations}],
        "face":{{"kind":"plain","cloth":"c1"}}}}{second}]}}"#
    ))
    .unwrap()
}

fn list(plan: &Plan, choices: &[LineChoice]) -> Materials {
    materials(&Source {
        title: "Pinafore",
        pattern: &SourcePattern::default(),
        plan,
        figures: &work_out(plan),
        steps: &[],
        decisions: &[],
        choices,
        width: None,
    })
}

const LONGER: &str = r#"{"along":"height","by":"1 in","reason":"longer in the body"}"#;
const PRIVATE: &str = r#"{"along":"width","by":"2 in","reason":"nobody else's business"}"#;

#[test]
fn a_tick_does_not_pass_to_another_alteration() {
    let before = plan(&format!("{LONGER},{PRIVATE},{LONGER}"), "");
    let choices: Vec<LineChoice> = list(&before, &[])
        .sections
        .iter()
        .flat_map(|s| &s.lines)
        .map(|l| LineChoice {
            key: l.key.clone(),
            shown: l.detail == "longer in the body",
            ..LineChoice::default()
        })
        .collect();
    for (n, choice) in choices.iter().enumerate() {
        assert!(choices[..n].iter().all(|c| c.key != choice.key), "{} twice", choice.key);
    }
    let text = list(&before, &choices).as_text(TextLength::Whole);
    assert_eq!(text.matches("longer in the body").count(), 2, "{text}");
    assert!(!text.contains("business"), "{text}");
    // With the first taken out the second stands in its place.
    let text = list(&plan(PRIVATE, ""), &choices).as_text(TextLength::Whole);
    assert!(!text.contains("business"), "{text}");
}

#[test]
fn a_binding_names_its_cloth_only_where_that_is_ticked() {
    let mut plan = plan("", "");
    plan.edges = vec![
        serde_json::from_str(r#"{"id":"e1","name":"Hem","length":"40 in","count":1,"corners":0,"closed":true}"#)
            .unwrap(),
    ];
    plan.binding = serde_json::from_str(
        r#"{"cloth":"c1","fold":"double","cut":"straight","finished_width":"3/8 in","thickness":"0 in"}"#,
    )
    .unwrap();
    assert!(list(&plan, &[]).as_text(TextLength::Whole).contains("from Cream"));
    let choices = [LineChoice {
        key: "binding".into(),
        shown: true,
        ..LineChoice::default()
    }];
    let text = list(&plan, &choices).as_text(TextLength::Whole);
    assert!(text.contains("- Binding: ") && !text.contains("Cream"), "{text}");
}

#[test]
fn closures_and_thread_are_told_with_their_amounts() {
    let mut plan = plan("", "");
    plan.closures = vec![
        serde_json::from_str(
            r#"{"id":"b1","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","count":8,"size":"1/2 in"}"#,
        )
        .unwrap(),
    ];
    plan.seams = vec![serde_json::from_str(r#"{"id":"s1","name":"Sides","length":"1 m","count":2}"#).unwrap()];
    let text = list(&plan, &[]).as_text(TextLength::Whole);
    assert!(
        text.contains("- Front: 8 buttons; 1/2 in (1.3 cm) across, 20 ligne"),
        "{text}"
    );
    // 2 m and 4 × 3 cm, times 2.5, and 20 % are 6.36 m.
    assert!(
        text.contains("- Thread: 7 yd (6.36 m); 1 spool of 100 m (109 yd)"),
        "{text}"
    );
}

#[test]
fn an_amount_that_is_not_all_says_so() {
    // 110 cm are 43.3 in: a viewer with 43 1/4 in would run short.
    let whole = list(&plan("", ""), &[]).as_text(TextLength::Whole);
    assert!(whole.contains("43 3/8 in (110.0 cm) wide"), "{whole}");
    assert!(!whole.contains("more than"), "{whole}");
    let unknown = r#",{"id":"p2","name":"Pocket","cut_count":1,"width":"0 in","height":"9 in","face":{"kind":"plain","cloth":"c1"}}"#;
    let part = list(&plan("", unknown), &[]).as_text(TextLength::Whole);
    assert!(part.contains("- Cream: buy more than "), "{part}");
}

#[test]
fn a_batting_is_told_by_the_package_that_serves_too() {
    let battings = |more: &str| {
        Plan::from_json(&format!(
            r#"{{"format":1,"allowances":{{"batting_overage":"0 in"}},"cloths":[{{"id":"b","name":"Wool","kind":"batting","usable_width":"90 in"}}],
            "pieces":[{{"id":"p1","name":"Top","cut_count":1,"width":"40 in","height":"58 in","take_up":"0 %","layers":{{"batting":"b"}}}}{more}]}}"#
        ))
        .unwrap()
    };
    let text = list(&battings(""), &[]).as_text(TextLength::Whole);
    assert!(
        text.contains("or in packages: 1 of 45 × 60 in (114.3 × 152.4 cm), sold as crib"),
        "{text}"
    );
    // One that cannot be worked out yet may need more: no package is named.
    let unknown =
        r#",{"id":"p2","name":"Other","cut_count":1,"width":"0 in","height":"9 in","layers":{"batting":"b"}}"#;
    let text = list(&battings(unknown), &[]).as_text(TextLength::Whole);
    assert!(text.contains("more than") && !text.contains("packages"), "{text}");
}

#[test]
fn a_tick_does_not_pass_to_other_words_of_a_decision() {
    let id: crate::notebook::Id = "019c48ba-6423-706d-b602-2fe8a9d05d0d".parse().unwrap();
    let decided = |text: &str, why: &str| Decided {
        id,
        text: text.into(),
        why: why.into(),
    };
    let plan = plan("", "");
    let figures = work_out(&plan);
    let told = |decisions: &[Decided], choices: &[LineChoice]| {
        materials(&Source {
            title: "Pinafore",
            pattern: &SourcePattern::default(),
            plan: &plan,
            figures: &figures,
            steps: &[],
            decisions,
            choices,
            width: None,
        })
    };
    let before = [decided("**Shorter** sleeves.", "Warm\nin spring")];
    let key = closing::decisions(&before)[0].key.clone();
    let choices = [LineChoice {
        key,
        shown: true,
        ..LineChoice::default()
    }];
    let text = told(&before, &choices).as_text(TextLength::Whole);
    assert!(text.contains("- Shorter sleeves, why: Warm in spring\n"), "{text}");
    for other in [
        decided("Shorter sleeves.", "Between us"),
        decided("Longer sleeves", "Warm\nin spring"),
    ] {
        let text = told(&[other], &choices).as_text(TextLength::Whole);
        assert!(!text.contains("sleeves"), "{text}");
    }
}

#[test]
fn small_parts_are_among_the_cautions_to_tick() {
    let mut plan = plan("", "");
    plan.made_for = crate::plan::MadeFor::Child;
    plan.closures = vec![
        serde_json::from_str(
            r#"{"id":"b1","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","count":8,"size":"1/2 in"}"#,
        )
        .unwrap(),
    ];
    let all = list(&plan, &[]);
    let cautions = all.sections.iter().find(|s| s.group == Group::Cautions).unwrap();
    let small: Vec<&Line> = cautions
        .lines
        .iter()
        .filter(|l| l.name.contains("come off are swallowed"))
        .collect();
    assert_eq!(small.len(), 1);
    assert!(!small[0].shown, "it tells for whom it is made");
}
