//! What other programs read.

use crate::plan_forms::{begun, plan};
use crate::support::Server;
use std::io::Write;
use std::process::{Command, Stdio};

#[test]
fn figures_of_the_api_are_those_of_the_command() {
    let server = Server::sample();
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    let projects = list.as_array().expect("a list");
    assert!(projects.len() >= 3);
    for project in projects {
        let path = format!("/projects/{}", project["id"].as_str().expect("an id"));
        let reply: serde_json::Value =
            serde_json::from_str(&server.get(&format!("/api{path}/figures")).body).expect("JSON");
        let plan = plan(&server, &path).to_string();
        let mut child = Command::new(env!("CARGO_BIN_EXE_notchbook"))
            .args(["figures", "--plan", "-", "--format", "json"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the command starts");
        child
            .stdin
            .take()
            .expect("its input")
            .write_all(plan.as_bytes())
            .expect("written");
        let out = child.wait_with_output().expect("the command ends");
        let figures: serde_json::Value = serde_json::from_slice(&out.stdout).expect("JSON");
        assert_eq!(reply["figures"], figures, "{path}");
        assert_eq!(
            reply["figures"]["problems"],
            serde_json::json!([]),
            "the sample has no problems: {path}"
        );
    }
}

#[test]
fn an_unknown_project_is_an_error_in_json() {
    let server = Server::empty();
    let (project, _, _) = begun(&server);
    assert!(
        server
            .get(&format!("/api{project}/figures"))
            .body
            .contains("\"pieces\"")
    );
    let reply = server.get("/api/projects/01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a/figures");
    assert_eq!(reply.status, 404);
    let error: serde_json::Value = serde_json::from_str(&reply.body).expect("JSON");
    assert!(error["error"].as_str().expect("a sentence").ends_with('.'));
}
