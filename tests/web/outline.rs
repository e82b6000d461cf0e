//! An outline drawn as a half: which edge lies on the fold, and which way the grain runs.

use crate::pattern::{plan, taken_from};
use crate::support::{Reply, Server};

/// A half: straight on the left and below.
const BACK: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='700mm' viewBox='0 0 500 700'>
<path id='back' d='M0 0 H150 C160 60 200 90 230 100 V560 H0 Z'/></svg>";

/// Saves the outline's form with its edges as they are (seams of 1 cm), and these.
fn save(server: &Server, address: &str, more: &[(&str, &str)]) -> Reply {
    let seen = server.hidden(address, "seen");
    let mut fields = vec![("seen".to_string(), seen), ("grain".into(), "down".into())];
    for i in 0..5 {
        for (list, value) in [("allowance", "1 cm"), ("kind", "seam"), ("corner", "mitre")] {
            fields.push((format!("{list}_{i}"), value.into()));
        }
    }
    for (name, value) in more {
        fields.retain(|(known, _)| known != name);
        fields.push((name.to_string(), value.to_string()));
    }
    let fields: Vec<(&str, &str)> = fields.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    server.post(address, &fields)
}

/// What is chosen in a list of the form.
fn chosen(page: &Reply, name: &str) -> String {
    let at = page.body.find(&format!("<select id=\"{name}\"")).expect("a list");
    let list = page.body[at..].split("</select>").next().unwrap_or_default();
    let before = list.split("\" selected").next().unwrap_or_default();
    before.rsplit("value=\"").next().unwrap_or_default().to_string()
}

#[test]
fn one_control_says_which_edge_lies_on_the_fold() {
    let server = Server::empty();
    let project = server.project("Blouse");
    let piece = taken_from(&server, &project, "back.svg", BACK);
    let address = format!("{piece}/outline");
    let form = server.get(&address);
    assert!(form.text().contains("on the fold lies"), "{}", form.text());
    // 230 mm and two allowances; on the fold there is one, and the whole is twice as wide.
    assert_eq!(plan(&server, &project)["pieces"][0]["width"], "250 mm");
    let saved = save(&server, &address, &[("fold", "4")]);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["on_fold"], true);
    assert_eq!(made["pieces"][0]["width"], "240 mm");
    // The edge is on the fold, whatever its row says, and has no allowance.
    let edge = &made["pieces"][0]["pattern"]["from"]["drawn"]["edges"][4];
    assert_eq!(edge["kind"], "fold");
    let form = server.get(&address);
    assert_eq!(chosen(&form, "fold"), "4");
    assert!(form.text().contains("on the fold, no allowance"), "{}", form.text());
    // A curved one is refused beside the control, with what was chosen kept.
    let refused = save(&server, &address, &[("fold", "1")]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"fold-error\""), "{}", refused.text());
    assert!(refused.text().contains("must be straight"), "{}", refused.text());
    assert_eq!(chosen(&refused, "fold"), "1");
    // Taken off the fold it is a seam again, with the allowance typed.
    let saved = save(
        &server,
        &address,
        &[("fold", ""), ("kind_4", ""), ("allowance_4", "2 cm")],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["width"], "260 mm");
    assert!(made["pieces"][0].get("on_fold").is_none_or(|on| on == false));
}

#[test]
fn a_fold_across_the_grain_is_opened_out_until_the_grain_runs_along_it() {
    let server = Server::empty();
    let project = server.project("Blouse");
    let piece = taken_from(&server, &project, "back.svg", BACK);
    let address = format!("{piece}/outline");
    let saved = save(&server, &address, &[("fold", "3")]);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert!(made["pieces"][0].get("on_fold").is_none_or(|on| on == false));
    // Twice 560 mm and an allowance at either end.
    assert_eq!(made["pieces"][0]["height"], "1140 mm");
    let said = "does not run along its grainline";
    assert!(server.get(&address).text().contains(said));
    assert!(server.get(&format!("{project}/pattern")).text().contains(said));
    let saved = save(&server, &address, &[("fold", "3"), ("grain", "across")]);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["on_fold"], true);
    // It stands upright now: 230 mm tall with two allowances, 560 wide to the fold with one.
    assert_eq!(made["pieces"][0]["height"], "250 mm");
    assert_eq!(made["pieces"][0]["width"], "570 mm");
    let form = server.get(&address);
    assert!(!form.text().contains(said));
    assert_eq!(chosen(&form, "grain"), "across");
}
