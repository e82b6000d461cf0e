//! Steps, the timer and what is to be done now, over HTTP.

use crate::plan_forms::begun;
use crate::support::{Reply, Server};

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";
const OTHER: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6b";
const TIMER: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6c";

fn sees(reply: &Reply, to: &str) {
    assert_eq!((reply.status, reply.location.as_str()), (303, to), "{}", reply.text());
}

fn add(server: &Server, project: &str, id: &str, title: &str) {
    let sent = server.post(&format!("{project}/steps/add"), &[("id", id), ("title", title)]);
    sees(&sent, &format!("{project}/steps#step-{id}"));
}

/// The titles of the list as they stand on the page.
fn titles(server: &Server, project: &str) -> Vec<String> {
    let page = server.get(&format!("{project}/steps?order=yes")).body;
    let rows = page.split("<span class=\"step-text\"><b>").skip(1);
    rows.map(|row| row.split('<').next().unwrap_or("").to_string())
        .collect()
}

#[test]
fn the_plans_list_is_offered_taken_once_and_edited() {
    let server = Server::empty();
    let (project, _, _) = begun(&server);
    let steps = format!("{project}/steps");
    let page = server.get(&steps);
    for said in [
        "From the plan",
        "Cut the pieces to shape",
        "2 pieces",
        "time not known",
        "Take these steps",
    ] {
        assert!(page.text().contains(said), "{said}: {}", page.text());
    }
    let id = server.hidden(&steps, "id-shape");
    let fields = [("take", "shape"), ("id-shape", id.as_str()), ("id-assemble", OTHER)];
    for _ in 0..2 {
        sees(&server.post(&format!("{steps}/take"), &fields), &steps);
    }
    assert_eq!(titles(&server, &project), ["Cut the pieces to shape"]);
    let page = server.get(&steps).text();
    assert!(
        page.contains("The plan has more: 1 step") && page.contains("0 of 1 done"),
        "{page}"
    );
    // What a form of the offer names and the plan does not have is not taken.
    let odd = [("take", "quilt"), ("take", "sleep"), ("id-quilt", ID)];
    sees(&server.post(&format!("{steps}/take"), &odd), &steps);
    assert_eq!(titles(&server, &project).len(), 1);

    let step = format!("{steps}/{id}");
    for (field, value, said) in [
        ("title", " ", "Say in a few words what is to be done."),
        ("minutes", "an hour", "hours and minutes such as 1:30"),
        ("minutes", "1001 h", "Type 1 min to 1000 h."),
        ("video", "4", "such as 4:05"),
        ("video", "4:75", "type 00 to 59"),
        ("work", "sleep", "Choose one of the list."),
    ] {
        let mut typed = vec![("title", "Shape it"), ("work", "shape"), ("minutes", ""), ("video", "")];
        typed.iter_mut().filter(|(f, _)| *f == field).for_each(|f| f.1 = value);
        let refused = server.post(&step, &typed);
        assert_eq!(refused.status, 422, "{field} {value}");
        assert!(refused.text().contains(said), "{said}: {}", refused.text());
    }
    let typed = [
        ("seen", "1"),
        ("title", "Shape it"),
        ("work", "shape"),
        ("minutes", "1:30"),
        ("video", "1:04:05"),
    ];
    sees(&server.post(&step, &typed), &format!("{steps}#step-{id}"));
    let page = server.get(&steps).text();
    for said in [
        "Shape it",
        "1:04:05 in the video",
        "about 1 h 30 min",
        "left without assemble",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    // Begun before that: both versions are shown, and a second save keeps mine.
    let late = [
        ("seen", "1"),
        ("title", "Shape all"),
        ("work", "shape"),
        ("minutes", ""),
        ("video", ""),
    ];
    let clash = server.post(&step, &late);
    assert_eq!(clash.status, 409);
    assert!(
        clash.text().contains("Nothing is lost")
            && clash.body.contains("Shape it")
            && clash.body.contains("value=\"Shape all\"")
    );
    let again = [
        ("seen", "2"),
        ("title", "Shape all"),
        ("work", "shape"),
        ("minutes", ""),
        ("video", ""),
    ];
    sees(&server.post(&step, &again), &format!("{steps}#step-{id}"));
    let page = server.get(&step).text();
    assert!(
        page.contains("2 earlier versions") && page.contains("Shape it, cut to shape, 1 h 30 min"),
        "{page}"
    );

    sees(
        &server.post(&format!("{step}/bin"), &[]),
        &format!("{steps}?binned={id}"),
    );
    assert!(
        server
            .get(&format!("{steps}?binned={id}"))
            .text()
            .contains("The step is in the bin.Undo")
    );
    assert_eq!(server.get(&step).status, 404);
    sees(
        &server.post(&format!("{step}/restore"), &[]),
        &format!("{steps}#step-{id}"),
    );
    assert_eq!(titles(&server, &project), ["Shape all"]);
}

#[test]
fn steps_are_added_moved_and_ticked() {
    let server = Server::empty();
    let project = server.project("Vest");
    let steps = format!("{project}/steps");
    let refused = server.post(&format!("{steps}/add"), &[("id", ID), ("title", " ")]);
    assert!(refused.status == 422 && refused.text().contains("Say in a few words"));
    add(&server, &project, ID, "Baste");
    add(&server, &project, ID, "Baste");
    add(&server, &project, OTHER, "Label <it>");
    assert_eq!(titles(&server, &project), ["Baste", "Label &lt;it&gt;"]);
    for _ in 0..2 {
        let moved = server.post(&format!("{steps}/{OTHER}/place"), &[("after", "")]);
        sees(&moved, &format!("{steps}?order=yes#step-{OTHER}"));
        assert_eq!(titles(&server, &project), ["Label &lt;it&gt;", "Baste"]);
    }
    for _ in 0..2 {
        sees(
            &server.post(&format!("{steps}/{OTHER}/tick"), &[("done", "yes")]),
            &format!("{steps}#step-{OTHER}"),
        );
    }
    let page = server.get(&steps);
    assert!(page.text().contains("1 of 2 done"));
    assert!(
        page.body.contains(&format!("id=\"step-{ID}\" data-next")),
        "the first that is not done"
    );
    assert!(server.get("/").text().contains("Next, 1 of 2 doneBaste"));
    server.post(&format!("{steps}/{OTHER}/tick"), &[("done", "no")]);
    assert!(server.get("/").text().contains("Next, 0 of 2 doneLabel"));
    // A step is changed by the way of its own project alone.
    let other = server.project("Other");
    for (end, fields) in [
        ("tick", [("done", "yes")]),
        ("place", [("after", "")]),
        ("bin", [("", "")]),
    ] {
        assert_eq!(
            server.post(&format!("{other}/steps/{ID}/{end}"), &fields).status,
            404,
            "{end}"
        );
    }
    assert_eq!(
        server.post(&format!("{steps}/{ID}/place"), &[("after", "x")]).status,
        404
    );
}

#[test]
fn the_timer_is_on_every_page_and_its_minutes_go_to_the_log() {
    let server = Server::empty();
    let project = server.project("Vest");
    add(&server, &project, ID, "Baste");
    let start = format!("{project}/timer/start");
    // By the bar at the bottom: on the next step, without a word.
    sees(&server.post(&start, &[("timer", TIMER)]), &format!("{project}/timer"));
    for page in [
        "/",
        "/cloth",
        "/settings",
        &project,
        &format!("{project}/pieces/new"),
        &format!("{project}/timer"),
    ] {
        let page = server.get(page);
        assert!(
            page.body.contains("aria-label=\"Timer\" data-running"),
            "{}",
            page.text()
        );
        assert!(page.text().contains("Baste") && page.text().contains("1 min"));
    }
    assert!(!server.get("/api/projects").body.contains("Timer"));
    let stop = format!("{project}/timer/stop");
    sees(&server.post(&stop, &[("timer", TIMER)]), &format!("{project}/timer"));
    // It waits, whatever becomes of the page.
    assert!(server.get("/").text().contains("To the log"));
    let form = server.get(&format!("{project}/timer"));
    assert!(
        form.text().contains("Minutes to the log") && form.body.contains(&format!("name=\"id\" value=\"{TIMER}\""))
    );
    let moment = server.hidden(&format!("{project}/timer"), "happened_at");
    let save = format!("{project}/log/add/work");
    let without = [("id", TIMER), ("work", ""), ("minutes", "1 min"), ("step", ID)];
    assert_eq!(server.post(&save, &without).status, 422);
    let minutes = [
        ("id", TIMER),
        ("happened_at", moment.as_str()),
        ("work", "layer"),
        ("minutes", "25"),
        ("step", ID),
    ];
    for _ in 0..2 {
        assert_eq!(server.post(&save, &minutes).status, 303);
    }
    assert!(!server.get("/").body.contains("aria-label=\"Timer\""));
    let log = server.get(&format!("{project}/log"));
    assert_eq!(log.body.matches("<article class=\"entry\"").count(), 1);
    assert!(
        log.text().contains("step Baste") && log.text().contains("25 min"),
        "{}",
        log.text()
    );
    assert!(server.get(&format!("{project}/steps")).text().contains("25 min logged"));

    // Another is started: the first goes to the log by itself, and it is said.
    server.post(&start, &[("timer", OTHER), ("step", "none"), ("work", "cut")]);
    let next = server.post(&start, &[("step", "none")]);
    sees(&next, &format!("{project}/timer?logged={OTHER}"));
    assert!(
        server
            .get(&next.location)
            .text()
            .contains("The timer before was stopped: 1 min are in the log.")
    );
    let running = server.hidden(&format!("{project}/timer"), "timer");
    sees(
        &server.post(&format!("{project}/timer/drop"), &[("timer", &running)]),
        &format!("{project}/log?binned={running}"),
    );
    assert_eq!(server.post(&stop, &[("timer", "x")]).status, 404);
    assert_eq!(server.post(&start, &[("step", TIMER)]).status, 404);
}

#[test]
fn entries_say_what_they_belong_to_and_keep_it() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    add(&server, &project, OTHER, "Baste");
    let add = format!("{project}/log/add/note");
    let fields = [
        ("id", ID),
        ("text", "Ends frayed"),
        ("step", OTHER),
        ("piece", piece.as_str()),
        ("cloth", cloth.as_str()),
    ];
    assert_eq!(server.post(&add, &fields).status, 303);
    let said = server.get(&format!("{project}/log")).text();
    assert!(said.contains("step Baste, piece Front, cloth "), "{said}");
    for field in ["step", "piece", "cloth"] {
        let refused = server.post(&add, &[("text", "x"), (field, "c99")]);
        assert_eq!(refused.status, 422);
        assert!(
            refused.text().contains("Choose another, or none."),
            "{}",
            refused.text()
        );
    }
    // Taken out, it stays to be chosen for the entry that names it.
    server.post(&format!("{project}/steps/{OTHER}/bin"), &[]);
    let edit = format!("{project}/log/{ID}");
    let page = server.get(&edit).body;
    assert!(page.contains("A step that was taken out"), "{page}");
    let (day, time) = (server.hidden(&edit, "day"), server.hidden(&edit, "time"));
    let mended = [
        ("seen", "1"),
        ("day", day.as_str()),
        ("time", time.as_str()),
        ("text", "Ends frayed"),
        ("step", OTHER),
        ("piece", ""),
        ("cloth", cloth.as_str()),
    ];
    assert_eq!(server.post_files(&edit, &mended, &[]).status, 303);
    let log = server.get(&format!("{project}/log")).text();
    assert!(
        log.contains("step Baste, cloth ") && log.contains("One earlier version"),
        "{log}"
    );
}

#[test]
fn every_page_of_a_project_has_what_is_one_tap_away() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    for page in [
        "",
        "/figures",
        "/steps",
        "/log",
        "/materials",
        "/time",
        "/allowances",
        "/revisions",
        "/details",
        "/again",
    ] {
        let body = server.get(&format!("{project}{page}")).body;
        assert!(body.contains("capture=\"environment\""), "{page}");
        for kind in ["note", "decision", "measure"] {
            assert!(
                body.contains(&format!("{project}/log/add?kind={kind}#{kind}-card")),
                "{page} {kind}"
            );
        }
        assert!(body.contains(&format!("action=\"{project}/timer/start\"")), "{page}");
    }
    for page in [format!("{project}/pieces/{piece}"), format!("{project}/cloths/{cloth}")] {
        assert!(server.get(&page).body.contains("class=\"quick\""), "{page}");
    }
    for kind in ["note", "decision", "measure"] {
        let page = server.get(&format!("{project}/log/add?kind={kind}")).body;
        assert!(page.contains(&format!("id=\"{kind}-card\"")), "{kind}");
    }
}

#[test]
fn second_thoughts_stand_where_a_project_is_copied() {
    let server = Server::empty();
    let project = server.project("Vest");
    let decided = [("id", ID), ("decided", "Patches 5 in"), ("why", "bold")];
    assert_eq!(
        server.post(&format!("{project}/log/add/decision"), &decided).status,
        303
    );
    let thought = [("seen", "1"), ("again", "no"), ("thought", "too big for the yoke")];
    assert_eq!(
        server
            .post(&format!("{project}/log/{ID}/second-thought"), &thought)
            .status,
        303
    );
    for page in ["", "/again"] {
        let said = server.get(&format!("{project}{page}")).text();
        assert!(
            said.contains("Patches 5 in: would not do again. too big for the yoke"),
            "{page}: {said}"
        );
    }
    let refused = server.post(
        &format!("{project}/again"),
        &[("title", ""), ("state", "planning"), ("take", "plan")],
    );
    assert!(refused.status == 422 && refused.text().contains("would not do again"));
}

/// Taken out on another device while the timer ran or a note was written.
#[test]
fn what_was_done_on_a_step_that_was_taken_out_still_belongs_to_it() {
    let server = Server::empty();
    let project = server.project("Heather vest");
    let step = server.hidden(&format!("{project}/steps"), "id");
    let added = server.post(
        &format!("{project}/steps/add"),
        &[("id", &step), ("title", "Quilt the front")],
    );
    assert_eq!(added.status, 303);
    let started = server.post(&format!("{project}/timer/start"), &[("step", &step)]);
    assert_eq!(started.status, 303);
    assert_eq!(server.post(&format!("{project}/steps/{step}/bin"), &[]).status, 303);
    let timer = server.hidden(&format!("{project}/timer"), "timer");
    assert_eq!(
        server
            .post(&format!("{project}/timer/stop"), &[("timer", &timer)])
            .status,
        303
    );
    let stopped = server.get(&format!("{project}/timer"));
    assert!(
        stopped.body.contains(&format!("value=\"{step}\" selected")),
        "{}",
        stopped.body
    );
    let id = server.hidden(&format!("{project}/log/add"), "id");
    let noted = server.post(
        &format!("{project}/log/add/note"),
        &[("id", &id), ("text", "By a thread."), ("step", &step)],
    );
    assert_eq!(noted.status, 303, "{}", noted.text());
    let log = server.get(&format!("{project}/log")).text();
    assert!(log.contains("step Quilt the front"), "{log}");
    // A step of nobody is still no step.
    let strange = server.post(
        &format!("{project}/log/add/note"),
        &[("text", "Another."), ("step", "0192f3c0-0000-7000-8000-000000000000")],
    );
    assert_eq!(strange.status, 422);
}

/// A tick may have waited on a device: it says how long ago it was made, and
/// whatever it says there, it is one of this notebook's moments.
#[test]
fn a_tick_that_waited_does_not_undo_a_later_one() {
    let server = Server::empty();
    let project = server.project("Heather vest");
    let step = server.hidden(&format!("{project}/steps"), "id");
    let steps = format!("{project}/steps");
    server.post(&format!("{steps}/add"), &[("id", &step), ("title", "Quilt")]);
    let tick = |id: &str, done: &str, age: &str| {
        let said = server.post(
            &format!("{steps}/{step}/tick"),
            &[("id", id), ("done", done), ("age", age)],
        );
        assert_eq!(said.status, 303, "{}", said.text());
        server.get(&steps).body.contains("data-done")
    };
    let id = |n: u32| format!("0192f3c0-0000-7000-8000-{n:012}");
    assert!(tick(&id(1), "yes", "60000"));
    assert!(tick(&id(2), "no", "120000"), "made before");
    assert!(!tick(&id(3), "no", "30000"));
    assert!(!tick(&id(1), "yes", "0"), "sent twice");
    for (n, nonsense) in (4..).zip(["99999999999999999999", "9223372036854775807"]) {
        tick(&id(n), "yes", nonsense);
    }
    for (n, nonsense) in (10..).step_by(2).zip(["-9223372036854775808", "-5", "soon", ""]) {
        assert!(tick(&id(n), "yes", nonsense), "{nonsense}");
        assert!(!tick(&id(n + 1), "no", "0"), "{nonsense}");
    }
}
