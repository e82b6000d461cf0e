//! The command line, as it is used in a shell.

use std::io::Write;
use std::process::{Command, Output, Stdio};

fn run(words: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .args(words)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A program that refuses early closes its input: that is no failure here.
    let _ = child.stdin.take().expect("its input").write_all(input);
    child.wait_with_output().expect("it ends")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

const FIGURES: [&str; 3] = ["figures", "--plan", "-"];

/// One panel of plain squares: 10 x 10 in needed, 2 1/2 in squares.
const PLAN: &str = r##"{
  "format": 1,
  "cloths": [ { "id": "c1", "name": "Moss cotton", "usable_width": "42 in", "colour": "#607050" } ],
  "pieces": [ { "id": "p1", "name": "Pocket", "cut_count": 1, "width": "10 in", "height": "10 in",
    "face": { "kind": "patchwork", "finished": "2 1/2 in", "arrangement": "all-alike", "units": [ { "kind": "square", "cloths": [ "c1" ] } ] } } ]
}"##;

#[test]
fn help_teaches() {
    let help = out(&run(&["--help"], b""));
    for part in [
        "--folder",
        "--sample",
        "--lan",
        "--tls",
        "figures --plan",
        "Ctrl-C",
        "Examples",
    ] {
        assert!(help.contains(part), "{part}: {help}");
    }
    assert!(!help.contains("--address"), "no way round the codes: {help}");
    assert!(out(&run(&["figures", "--help"], b"")).contains("--format"));
}

#[test]
fn figures_as_text_and_json() {
    let text = run(&FIGURES, PLAN.as_bytes());
    assert!(text.status.success(), "{}", err(&text));
    // 4 x 4 squares of 3 in cut; 14 a strip of 42 in: two strips.
    let said = out(&text);
    for part in ["Pocket", "Moss cotton", "4", "16", "3 in"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let json = run(&["figures", "--plan", "-", "--format", "json"], PLAN.as_bytes());
    let figures: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(figures["pieces"][0]["panel"]["columns"], 4);
    assert_eq!(figures["pieces"][0]["panel"]["patches"][0]["cut"]["width"], "3 in");
    assert_eq!(figures["totals"]["patches"], 16);
}

#[test]
fn a_plan_with_problems_prints_the_rest_and_says_so() {
    let plan = PLAN.replace("42 in", "2 in");
    let run = run(&FIGURES, plan.as_bytes());
    assert_eq!(run.status.code(), Some(2));
    assert!(err(&run).contains("Moss cotton"), "{}", err(&run));
    assert!(out(&run).contains("Pocket"));
}

#[test]
fn a_plan_that_cannot_be_read_says_where() {
    for (plan, part) in [
        (
            PLAN.replace("\"format\": 1,", "\"format\": 1, \"colours\": 3,"),
            "unknown key `colours`",
        ),
        (PLAN.replace("\"cut_count\"", "\"cutcount\""), "pieces[0]"),
        (PLAN.replace("\"format\": 1", "\"format\": 9"), "format 9"),
        (PLAN.replace("2 1/2 in", "2 1/0 in"), "fraction over nothing"),
        ("not json".into(), "line 1"),
        (String::new(), "line 1"),
        (format!("{}{}", " ".repeat(1024 * 1024), PLAN), "larger than 1 MiB"),
        (
            format!("{}{}", "[".repeat(200_000), "]".repeat(200_000)),
            "begins with {",
        ),
        (
            format!("{}{}", "{\"pieces\":".repeat(90_000), "}".repeat(90_000)),
            "pieces",
        ),
    ] {
        let run = run(&FIGURES, plan.as_bytes());
        assert_eq!(run.status.code(), Some(1), "{part}");
        assert!(err(&run).contains(part), "{part}: {}", err(&run));
        assert!(!err(&run).contains("panicked"));
    }
    let run = run(&FIGURES, &[0xff, 0xfe, 0x00]);
    assert_eq!(run.status.code(), Some(1));
    assert!(err(&run).contains("not text"));
}

#[test]
fn files_that_are_not_there() {
    let run = run(&["figures", "--plan", "no-such-plan.json"], b"");
    assert_eq!(run.status.code(), Some(1));
    assert!(err(&run).contains("no-such-plan.json"));
}

#[test]
fn a_notebook_is_backed_up_checked_restored_exported_and_taken_in() {
    let aside = tempfile::tempdir().expect("a folder");
    let at = |name: &str| aside.path().join(name).display().to_string();
    let (one, zip, two, out_, three) = (at("one"), at("kept.zip"), at("two"), at("out"), at("three"));
    let sample = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-notebook");
    let done = |words: &[&str], part: &str| {
        let ran = run(words, b"");
        assert!(ran.status.success(), "{words:?}: {}", err(&ran));
        assert!(out(&ran).contains(part), "{words:?}: {}", out(&ran));
    };
    done(&["import", sample, "--folder", &one], "projects");
    done(&["check", "--folder", &one], "All is well");
    done(&["backup", &zip, "--folder", &one], "read back and whole");
    done(&["restore", &zip, "--folder", &two], "Open it with");
    done(&["check", "--folder", &two], "All is well");
    done(&["export", &out_, "--folder", &two], "written to");
    done(&["import", &out_, "--folder", &three], "Taken in");
    for (words, part) in [
        (vec!["backup", &zip, "--folder", &one], "not written over"),
        (vec!["restore", &zip, "--folder", &two], "not empty"),
        (vec!["restore", sample, "--folder", "x"], "notchbook:"),
        (vec!["check", "--folder", sample], "no notebook.sqlite"),
        (vec!["import", &out_, "--folder", &three], "already has"),
        (vec!["export", &out_, "--folder", &three], "not empty"),
    ] {
        let ran = run(&words, b"");
        assert_eq!(ran.status.code(), Some(1), "{words:?}");
        assert!(err(&ran).contains(part), "{words:?}: {}", err(&ran));
        assert!(!err(&ran).contains("panicked"));
    }
}

#[test]
fn leftovers_say_how_many_they_give() {
    // Two pockets of 16 squares; 20 ready-cut ones are enough for one.
    let plan = PLAN.replace("\"cut_count\": 1", "\"cut_count\": 2").replace(
        "\"colour\": \"#607050\"",
        "\"colour\": \"#607050\", \"ready_cut\": [ { \"width\": \"3 in\", \"height\": \"3 in\", \"count\": 20 } ]",
    );
    let words = ["figures", "--plan", "-", "--leftovers"];
    let said = out(&run(&words, plan.as_bytes()));
    assert!(
        said.contains("1 of 2") && said.contains("lacks") && said.contains("Moss cotton"),
        "{said}"
    );
    let json = run(&[&words[..], &["--format", "json"]].concat(), plan.as_bytes());
    let answer: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!((&answer[0]["covered"], &answer[0]["wanted"]), (&1.into(), &2.into()));
}
