//! Many devices at once: nothing is lost, nobody is told that the notebook is
//! busy, and a clash is shown, not written over. `NOTCHBOOK_CROWD=60` (seconds)
//! keeps at it longer.

use crate::support::{Server, encode};
use std::collections::HashSet;
use std::sync::Mutex;
use std::time::{Duration, Instant};

const DEVICES: usize = 20;

fn lasting() -> Duration {
    let asked = std::env::var("NOTCHBOOK_CROWD").ok();
    Duration::from_secs(asked.and_then(|s| s.parse().ok()).unwrap_or(5))
}

/// Resident memory of the server, in KiB, where the system tells.
fn memory(server: &Server) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{}/status", server.process())).ok()?;
    let line = status.lines().find(|l| l.starts_with("VmRSS:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

#[test]
fn twenty_devices_write_at_once_and_nothing_is_lost() {
    let server = Server::empty();
    let project = server.project("Winter skirt");
    let answered: Mutex<(HashSet<String>, HashSet<String>, usize)> = Mutex::default();
    let until = Instant::now() + lasting();
    std::thread::scope(|scope| {
        for device in 0..DEVICES {
            let (server, project, answered) = (&server, &project, &answered);
            scope.spawn(move || {
                let mut n = 0;
                while Instant::now() < until {
                    n += 1;
                    let text = format!("Device {device} line {n}.");
                    let note = server.post(
                        &format!("{project}/log/add/note"),
                        &[("id", &uuid::Uuid::now_v7().to_string()), ("text", &text)],
                    );
                    assert_eq!(note.status, 303, "{}", note.text());
                    answered.lock().expect("kept").0.insert(text);
                    // A part of one's own: never a clash, whoever else saves meanwhile.
                    let form = format!("{project}/edges/new");
                    let part = format!("{:04x}{:04x}", device, n);
                    let seen = server.hidden(&form, "seen");
                    let name = format!("Hem {device}-{n}");
                    let saved = server.post(
                        &form,
                        &[
                            ("name", &name),
                            ("length", "40 in"),
                            ("count", "1"),
                            ("corners", "0"),
                            ("seen", &seen),
                            ("part_id", &part),
                        ],
                    );
                    // 200 edges are the most a plan holds: then a sentence.
                    match saved.status {
                        303 => drop(answered.lock().expect("kept").1.insert(name)),
                        422 => assert!(saved.text().contains("200"), "{}", saved.text()),
                        other => panic!("{other}: {}", saved.text()),
                    }
                    // The same part from an old revision: shown, not written over.
                    let details = server.post(&format!("{project}/allowances"), &[("seen", "1"), ("seam", "3/8 in")]);
                    assert!(details.status < 500, "{}: {}", details.status, encode(&details.text()));
                    answered.lock().expect("kept").2 += 1;
                }
            });
        }
    });
    let (notes, edges, _) = answered.into_inner().expect("kept");
    assert!(notes.len() >= DEVICES, "{} notes", notes.len());
    let id = project.rsplit('/').next().expect("an id");
    let plan: serde_json::Value =
        serde_json::from_str(&server.get(&format!("/api/projects/{id}/plan")).body).expect("the plan");
    let kept: HashSet<String> = plan["edges"]
        .as_array()
        .expect("edges")
        .iter()
        .map(|e| e["name"].as_str().expect("a name").to_string())
        .collect();
    assert!(
        edges.is_subset(&kept),
        "{:?} are gone",
        edges.difference(&kept).collect::<Vec<_>>()
    );
    let log = server.log(&project);
    let lost = notes.iter().filter(|n| !log.contains(n.as_str())).count();
    assert_eq!(lost, 0, "of {} notes", notes.len());
    if let Some(kib) = memory(&server) {
        println!("{} notes, {} edges, {kib} KiB resident", notes.len(), edges.len());
        assert!(kib < 400 * 1024, "{kib} KiB");
    }
}
