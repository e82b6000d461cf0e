//! The log over HTTP: what is sent is there once, what is changed is kept,
//! what cannot be taken is said beside its field and costs nothing else.

use crate::plan_forms::{PIECE, begun, save};
use crate::support::Server;

/// A JPEG of one colour.
pub fn jpeg(colour: [u8; 3]) -> Vec<u8> {
    let picture = image::RgbImage::from_pixel(640, 480, image::Rgb(colour));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a JPEG");
    bytes.into_inner()
}

/// The id after `mark` on a page.
pub fn id_after(page: &str, mark: &str) -> String {
    let at = page.find(mark).unwrap_or_else(|| panic!("{mark} is not on the page")) + mark.len();
    page[at..].chars().take(36).collect()
}

fn entries(page: &str) -> usize {
    page.matches("<article class=\"entry\"").count()
}

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";

#[test]
fn a_note_sent_twice_is_there_once_and_other_words_are_not_lost() {
    let server = Server::empty();
    let project = server.project("Vest");
    let add = format!("{project}/log/add/note");
    for text in [
        "The check *frays*.",
        "The check *frays*.",
        "The check frays; overcast it.",
    ] {
        let sent = server.post(&add, &[("id", ID), ("text", text)]);
        assert_eq!((sent.status, sent.location), (303, format!("{project}/log#entry-{ID}")));
    }
    let log = server.get(&format!("{project}/log"));
    assert_eq!(entries(&log.body), 1);
    assert!(log.text().contains("The check frays; overcast it."));
    assert!(log.text().contains("One earlier version"), "the first words are kept");
    assert!(log.body.contains("<em>frays</em>"));
    // The first sending once more, late: the newer words stay.
    server.post(&add, &[("id", ID), ("text", "The check *frays*.")]);
    assert!(
        server
            .get(&format!("{project}/log"))
            .text()
            .contains("One earlier version")
    );
}

#[test]
fn an_id_of_another_project_takes_nothing_over() {
    let server = Server::empty();
    let (one, two) = (server.project("One"), server.project("Two"));
    assert_eq!(
        server
            .post(&format!("{one}/log/add/note"), &[("id", ID), ("text", "mine")])
            .status,
        303
    );
    assert_eq!(
        server
            .post(&format!("{two}/log/add/note"), &[("id", ID), ("text", "yours")])
            .status,
        404
    );
    assert_eq!(server.get(&format!("{two}/log/{ID}")).status, 404);
    assert_eq!(server.post(&format!("{two}/log/{ID}/bin"), &[]).status, 404);
    assert!(server.get(&format!("{one}/log")).text().contains("mine"));
}

#[test]
fn photos_are_kept_shown_and_served_for_good() {
    let server = Server::empty();
    let project = server.project("Vest");
    let (red, blue) = (jpeg([170, 60, 40]), jpeg([40, 60, 170]));
    let files = [
        ("photos", "a.jpg", red.as_slice()),
        ("photos", "b.jpg", blue.as_slice()),
        ("photos", "a2.jpg", red.as_slice()),
    ];
    let sent = server.post_files(
        &format!("{project}/log/add/photo"),
        &[("id", ID), ("text", "Laid out")],
        &files,
    );
    assert_eq!(sent.status, 303, "{}", sent.body);
    let log = server.get(&format!("{project}/log"));
    assert!(log.text().contains("Laid out"));
    assert!(log.body.contains("data-count=\"2\""), "the same photo twice is one");
    let mark = "/photos/";
    let at = log.body.find(mark).expect("a photo") + mark.len();
    let hash = &log.body[at..at + 64];
    for size in ["small", "page", "print"] {
        let photo = server.get(&format!("/photos/{hash}/{size}"));
        assert_eq!(
            (photo.status, photo.header("content-type")),
            (200, "image/jpeg"),
            "{size}"
        );
        assert_eq!(photo.header("cache-control"), "private, max-age=31536000, immutable");
    }
    for wrong in [
        format!("/photos/{hash}/original"),
        format!("/photos/{}/page", "0".repeat(64)),
        format!("/photos/{}/page", hash.to_uppercase()),
    ] {
        assert_eq!(server.get(&wrong).status, 404, "{wrong}");
    }
    // On the cover of the project.
    assert_eq!(
        server.post(&format!("{project}/cover"), &[("photo", hash)]).location,
        project
    );
    assert!(server.get("/").body.contains(hash));
}

#[test]
fn a_photo_of_60_mb_costs_neither_the_words_nor_the_other_photos() {
    let server = Server::empty();
    let project = server.project("Vest");
    let add = format!("{project}/log/add/photo");
    let big = vec![0xff_u8; 60 * 1000 * 1000];
    let good = jpeg([1, 90, 60]);

    let alone = server.post_files(
        &add,
        &[("id", ID), ("text", "Hem, pinned")],
        &[("photos", "big.jpg", &big)],
    );
    assert_eq!(alone.status, 422);
    assert!(
        alone.body.contains("id=\"photos-error\""),
        "the sentence stands beside the field"
    );
    assert!(
        alone
            .text()
            .contains("“big.jpg”: This photo has 57.3 MB; at most 40 MB fit"),
        "{}",
        alone.text()
    );
    assert!(alone.text().contains("Hem, pinned"), "the words are kept");
    assert_eq!(entries(&server.get(&format!("{project}/log")).body), 0);

    let files = [
        ("photos", "big.jpg", big.as_slice()),
        ("photos", "good.jpg", &good),
        ("photos", "words.jpg", b"not a picture at all"),
    ];
    let mixed = server.post_files(&add, &[("id", ID), ("text", "Hem, pinned")], &files);
    assert_eq!(mixed.status, 422);
    let said = mixed.text();
    assert!(
        said.contains("“big.jpg”: ") && said.contains("“words.jpg”: This file is not a picture"),
        "{said}"
    );
    let log = server.get(&format!("{project}/log"));
    assert_eq!(entries(&log.body), 1);
    assert!(log.body.contains("data-count=\"1\"") && log.text().contains("Hem, pinned"));
}

#[test]
fn more_than_one_form_can_carry_is_said_too() {
    let server = Server::empty();
    let project = server.project("Vest");
    let huge = vec![0xff_u8; 70 * 1024 * 1024];
    let sent = server.post_files(
        &format!("{project}/log/add/photo"),
        &[("text", "kept")],
        &[("photos", "huge.jpg", &huge)],
    );
    assert_eq!(sent.status, 422);
    assert!(
        sent.text().contains("“huge.jpg” is larger than 64 MiB"),
        "{}",
        sent.text()
    );
    let broken = server.post_raw(
        &format!("{project}/log/add/photo"),
        "multipart/form-data; boundary=x",
        b"--x\r\nnonsense",
    );
    assert_eq!(broken.status, 400);
    assert!(broken.text().contains("did not arrive whole"), "{}", broken.text());
    let none = server.post_files(
        &format!("{project}/log/add/photo"),
        &[("text", "words")],
        &[("photos", "", b"")],
    );
    assert!(none.text().contains("No photo came with this"), "{}", none.text());
}

#[test]
fn a_decision_carries_what_changed_since_the_last_one() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let patchwork = |finished: &'static str| {
        let mut fields: Vec<(&str, &str)> = PIECE.iter().filter(|(n, _)| *n != "face").copied().collect();
        fields.extend([("face", "square"), ("arrangement", "all-alike"), ("finished", finished)]);
        fields
    };
    for finished in ["4 in", "3 in"] {
        let mut fields = patchwork(finished);
        fields.push(("cloth0_0", &cloth));
        assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
        if finished == "4 in" {
            assert_eq!(
                server
                    .post(
                        &format!("{project}/log/add/decision"),
                        &carry(&server, &project, "Squares of 4 in")
                    )
                    .status,
                303
            );
        }
    }
    // 14 x 23 in: 4 x 6 squares of 4 in on two fronts are 48, 5 x 8 of 3 in are 80.
    let add = server.get(&format!("{project}/log/add")).text();
    assert!(
        add.contains("48") && add.contains("80"),
        "the form shows what it carries: {add}"
    );
    assert_eq!(
        server
            .post(
                &format!("{project}/log/add/decision"),
                &carry(&server, &project, "Squares of 3 in")
            )
            .status,
        303
    );
    let log = server.get(&format!("{project}/log")).text();
    let newest = log.split("Squares of 4 in").next().unwrap_or("");
    assert!(
        newest.contains("Squares of 3 in") && newest.contains("48") && newest.contains("80"),
        "{newest}"
    );
    let after = server.get(&format!("{project}/log/add"));
    assert!(!after.text().contains("Carry what changed"), "nothing is left to carry");
}

fn carry(server: &Server, project: &str, what: &'static str) -> Vec<(&'static str, &'static str)> {
    let add = format!("{project}/log/add");
    let leak = |name: &str| -> &'static str { String::leak(server.hidden(&add, name)) };
    vec![
        ("decided", what),
        ("why", ""),
        ("carry", "yes"),
        ("from", leak("from")),
        ("to", leak("to")),
    ]
}

#[test]
fn what_is_missing_is_said_beside_its_field() {
    let server = Server::empty();
    let project = server.project("Vest");
    for (kind, fields, field, sentence) in [
        ("note", vec![("text", " ")], "text", "Write a word or two"),
        (
            "decision",
            vec![("why", "Because it frays")],
            "decided",
            "Say in one line",
        ),
        (
            "measure",
            vec![("measured", "strap"), ("length", "1/0")],
            "length",
            "fraction over nothing",
        ),
        (
            "measure",
            vec![("measured", ""), ("length", "15 3/8")],
            "measured",
            "Say what you measured",
        ),
        (
            "measure",
            vec![("measured", "strap"), ("length", "15"), ("piece", "p9")],
            "piece",
            "no longer in the plan",
        ),
    ] {
        let sent = server.post(&format!("{project}/log/add/{kind}"), &fields);
        assert_eq!(sent.status, 422, "{kind}");
        assert!(
            sent.body.contains(&format!("id=\"{field}-error\"")),
            "{kind}: beside {field}"
        );
        assert!(sent.text().contains(sentence), "{kind}: {}", sent.text());
        assert!(
            sent.body.contains(&format!("value=\"{kind}\" checked")),
            "{kind} is the form in view"
        );
    }
    assert_eq!(
        server.post(&format!("{project}/log/add/song"), &[("text", "x")]).status,
        404
    );
    assert!(
        server
            .get(&format!("{project}/log"))
            .text()
            .contains("Nothing written yet")
    );
}

#[test]
fn an_entry_edited_on_two_devices_keeps_both() {
    let server = Server::empty();
    let project = server.project("Vest");
    server.post(
        &format!("{project}/log/add/measure"),
        &[("id", ID), ("measured", "strap"), ("length", "15 3/8 in")],
    );
    let edit = format!("{project}/log/{ID}");
    let seen = server.hidden(&edit, "seen");
    let page = server.get(&edit).body;
    let field = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        let at = page.find(&mark).unwrap_or_else(|| panic!("{name}")) + mark.len();
        page[at..].split('"').next().unwrap_or("").to_string()
    };
    let (day, time) = (field("day"), field("time"));
    assert_eq!(field("length"), "15 3/8 in");
    let with = |length: &'static str| {
        vec![
            ("seen", seen.as_str()),
            ("measured", "strap"),
            ("length", length),
            ("day", day.as_str()),
            ("time", time.as_str()),
        ]
    };
    assert_eq!(server.post_files(&edit, &with("15 1/2"), &[]).status, 303);
    let clash = server.post_files(&edit, &with("16"), &[]);
    assert_eq!(clash.status, 409);
    assert!(
        clash.text().contains("15 1/2 in") && clash.body.contains("value=\"16\""),
        "both are shown: {}",
        clash.text()
    );
    let log = server.get(&format!("{project}/log")).text();
    assert!(
        log.contains("15 1/2 in") && log.contains("15 3/8 in"),
        "the earlier length is kept: {log}"
    );
    // Wrong and kept.
    let mut late = with("16");
    late.retain(|(n, _)| *n != "time" && *n != "seen");
    let now = server.hidden(&edit, "seen");
    late.extend([("time", "25:00"), ("seen", now.as_str())]);
    let refused = server.post_files(&edit, &late, &[]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"time-error\"") && refused.body.contains("value=\"16\""));
}

#[test]
fn photos_can_be_added_and_taken_out_of_an_entry() {
    let server = Server::empty();
    let project = server.project("Vest");
    let red = jpeg([170, 60, 40]);
    server.post_files(
        &format!("{project}/log/add/photo"),
        &[("id", ID)],
        &[("photos", "a.jpg", &red)],
    );
    let edit = format!("{project}/log/{ID}");
    let page = server.get(&edit).body;
    let hidden = |name: &str| server.hidden(&edit, name);
    let (seen, hash) = (hidden("seen"), hidden("photo"));
    let day = id_after(&page, "name=\"day\" value=\"")[..10].to_string();
    let time = id_after(&page, "name=\"time\" value=\"")[..5].to_string();
    let base = vec![
        ("seen", seen.as_str()),
        ("day", day.as_str()),
        ("time", time.as_str()),
        ("photo", hash.as_str()),
    ];
    let mut empty = base.clone();
    empty.extend([("drop", hash.as_str()), ("text", "")]);
    let refused = server.post_files(&edit, &empty, &[]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("leave nothing of the entry"));
    let mut words = base.clone();
    words.extend([("drop", hash.as_str()), ("text", "Laid out")]);
    assert_eq!(server.post_files(&edit, &words, &[]).status, 303);
    let log = server.get(&format!("{project}/log")).body;
    assert!(log.contains("data-kind=\"note\""), "words without a photo are a note");
    let mut more = base;
    let seen = server.hidden(&edit, "seen");
    more.retain(|(n, _)| *n != "seen" && *n != "photo");
    more.extend([
        ("seen", seen.as_str()),
        ("text", "Laid out"),
        ("photo", "../../notebook.sqlite"),
    ]);
    let sent = server.post_files(&edit, &more, &[("photos", "b.jpg", &jpeg([0, 0, 90]))]);
    assert_eq!(sent.status, 303, "{}", sent.body);
    assert!(
        server.get(&format!("{project}/log")).body.contains("data-count=\"1\""),
        "only what is a photo's hash is taken"
    );
}

#[test]
fn the_bin_gives_an_entry_back() {
    let server = Server::empty();
    let project = server.project("Vest");
    server.post(
        &format!("{project}/log/add/note"),
        &[("id", ID), ("text", "The lining is cut")],
    );
    let binned = server.post(&format!("{project}/log/{ID}/bin"), &[]);
    assert_eq!(binned.location, format!("{project}/log?binned={ID}"));
    let log = server.get(&binned.location);
    assert!(
        log.text().contains("in the bin") && log.text().contains("Undo") && !log.text().contains("The lining is cut")
    );
    assert_eq!(server.post(&format!("{project}/log/{ID}/restore"), &[]).status, 303);
    assert!(
        server
            .get(&format!("{project}/log"))
            .text()
            .contains("The lining is cut")
    );
}

#[test]
fn a_second_thought_stands_with_its_decision() {
    let server = Server::empty();
    let project = server.project("Vest");
    server.post(
        &format!("{project}/log/add/decision"),
        &[("id", ID), ("decided", "Line it"), ("why", "It scratches")],
    );
    let judge = format!("{project}/log/{ID}/second-thought");
    let undecided = server.post(&judge, &[("seen", "1"), ("thought", "Too warm")]);
    assert_eq!(undecided.status, 422);
    assert!(undecided.body.contains("id=\"again-error\"") && undecided.text().contains("Too warm"));
    assert_eq!(
        server
            .post(&judge, &[("seen", "1"), ("again", "no"), ("thought", "Too warm")])
            .status,
        303
    );
    assert_eq!(
        server
            .post(&judge, &[("seen", "1"), ("again", "no"), ("thought", "Too warm")])
            .status,
        303,
        "a resend"
    );
    let other = server.post(&judge, &[("seen", "1"), ("again", "yes"), ("thought", "Cosy")]);
    assert_eq!(other.status, 422, "judged otherwise on another device: both are shown");
    assert!(other.text().contains("Cosy") && other.text().contains("Too warm"));
    let log = server.get(&format!("{project}/log")).text();
    assert!(log.contains("Would not do it againToo warm"), "{log}");
    assert!(
        !log.contains("earlier version"),
        "being judged is not a change of words"
    );
}

#[test]
fn the_address_of_a_refused_form_can_be_loaded_again() {
    let server = Server::empty();
    let project = server.project("Vest");
    let add = format!("{project}/log/add");
    assert_eq!(server.post(&format!("{add}/measure"), &[("id", ID)]).status, 422);
    let again = server.get(&format!("{add}/measure"));
    assert_eq!((again.status, again.location), (302, format!("{add}?kind=measure")));
    // Not taken for a save, or the browser would let go of what was typed.
    assert!(again.headers.iter().all(|(name, _)| name != "set-cookie"));
    for forms_only in [format!("{add}/photo"), format!("{project}/binding/remove")] {
        let page = server.get(&forms_only);
        assert_eq!(page.status, 405, "{forms_only}");
        assert!(
            page.text().contains("This address takes what a form sends"),
            "{}",
            page.text()
        );
    }
}
