//! A disk that is full, and a folder that may not be written to: a sentence,
//! nothing lost of what was there, and a notebook that still opens.
//!
//! The small disk is a tmpfs in a mount namespace of its own (`unshare`), so
//! nothing of the machine changes. Where the system does not allow that, the
//! test says so and is of no use.

use crate::support::{Server, encode};
use notchbook::notebook::{Notebook, check};
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// The server on a disk of so many KiB, and its address.
struct Small {
    child: Child,
    address: String,
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn allowed() -> bool {
    let tried = Command::new("unshare")
        .args(["-rm", "true"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    let can = tried.is_ok_and(|s| s.success());
    if !can {
        eprintln!("Not tried: this system lets nobody mount a small disk (unshare -rm).");
    }
    can
}

/// Runs `script` with `$1` the folder of a small disk and `$2` the program; it
/// ends by copying the disk's content to `$3`.
fn small(place: &Path, kib: u32) -> Small {
    let disk = place.join("disk");
    let copy = place.join("copy");
    std::fs::create_dir_all(&disk).expect("a folder");
    std::fs::create_dir_all(&copy).expect("a folder");
    // The copy is made when the server is gone: outside, the small disk cannot be seen.
    let script = r#"mount -t tmpfs -o size="$4"k tmpfs "$1" || exit 9
"$2" --port 0 --log warn --folder "$1/notebook" &
server=$!
trap 'kill "$server" 2>/dev/null; wait "$server"; cp -r "$1/notebook" "$3"; exit 0' TERM INT
read -r _
kill "$server"; wait "$server"; cp -r "$1/notebook" "$3"
"#;
    let mut child = Command::new("unshare")
        .args(["-rm", "sh", "-c", script, "sh"])
        .args([
            disk.display().to_string(),
            env!("CARGO_BIN_EXE_notchbook").to_string(),
            copy.display().to_string(),
            kib.to_string(),
        ])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .expect("a small disk");
    let mut out = BufReader::new(child.stdout.take().expect("its output"));
    let mut address = String::new();
    while address.is_empty() {
        let mut line = String::new();
        assert!(
            out.read_line(&mut line).expect("a line") > 0,
            "the server did not start"
        );
        if let Some((_, rest)) = line.split_once("http://") {
            address = rest.trim().trim_end_matches('/').to_string();
        }
    }
    std::thread::spawn(move || {
        let mut rest = String::new();
        let _ = out.read_to_string(&mut rest);
    });
    Small { child, address }
}

fn post(address: &str, path: &str, kind: &str, body: &[u8]) -> (u16, String, String) {
    let agent = crate::support::agent();
    let mut answer = agent
        .post(format!("http://{address}{path}"))
        .header("origin", format!("http://{address}"))
        .header("content-type", kind)
        .send(body)
        .expect("the server answers");
    let location = answer
        .headers()
        .get("location")
        .and_then(|v| v.to_str().ok())
        .unwrap_or("")
        .to_string();
    let mut text = String::new();
    let _ = answer.body_mut().as_reader().read_to_string(&mut text);
    (answer.status().as_u16(), location, text)
}

/// A picture that packs badly.
fn noise(seed: u32, side: u32) -> Vec<u8> {
    let mut state = seed.wrapping_mul(2_654_435_761).max(1);
    let image = image::RgbImage::from_fn(side, side, |_, _| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        image::Rgb([state as u8, (state >> 8) as u8, (state >> 16) as u8])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

#[test]
fn a_full_disk_is_told_and_loses_nothing_that_was_answered() {
    if !allowed() {
        return;
    }
    let place = tempfile::tempdir().expect("a folder");
    let mut server = small(place.path(), 6 * 1024);
    let form = "application/x-www-form-urlencoded";
    let (status, project, _) = post(
        &server.address,
        "/projects/new",
        form,
        b"title=Winter+skirt&state=planning",
    );
    assert_eq!(status, 303);
    let mut kept = 0;
    let mut refusals = Vec::new();
    // Photos until well after the disk is full, with notes between them.
    for n in 0..60 {
        let mark = "----small-disk";
        let mut body = Vec::new();
        for (name, value) in [
            ("id", uuid::Uuid::now_v7().to_string()),
            ("text", "A photo".to_string()),
        ] {
            body.extend(
                format!("--{mark}\r\ncontent-disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").into_bytes(),
            );
        }
        body.extend(
            format!("--{mark}\r\ncontent-disposition: form-data; name=\"photos\"; filename=\"{n}.png\"\r\ncontent-type: image/png\r\n\r\n").into_bytes(),
        );
        body.extend(noise(n, 200));
        body.extend(format!("\r\n--{mark}--\r\n").into_bytes());
        let (status, _, text) = post(
            &server.address,
            &format!("{project}/log/add/photo"),
            &format!("multipart/form-data; boundary={mark}"),
            &body,
        );
        match status {
            303 => kept += 1,
            _ => refusals.push((status, text)),
        }
        let note = format!(
            "id={}&text={}",
            uuid::Uuid::now_v7(),
            encode(&format!("Line {n} {}", "word ".repeat(60)))
        );
        let (status, _, text) = post(
            &server.address,
            &format!("{project}/log/add/note"),
            form,
            note.as_bytes(),
        );
        match status {
            303 => kept += 1,
            _ => refusals.push((status, text)),
        }
    }
    assert!(kept > 4, "{kept} saves were answered; {:?}", refusals.first());
    assert!(!refusals.is_empty(), "the disk was never full");
    for (status, text) in &refusals {
        assert!(*status >= 400 && text.contains("disk"), "{status}: {text}");
        assert!(!text.contains("panicked"));
    }
    // Pages are still shown.
    let agent = crate::support::agent();
    let page = agent
        .get(format!("http://{}{project}/log", server.address))
        .call()
        .expect("an answer");
    assert_eq!(page.status().as_u16(), 200);
    // The server ends; what is on the disk is a whole notebook with every answered save.
    drop(server.child.stdin.take());
    server.child.wait().expect("it ends");
    let folder = place.path().join("copy/notebook");
    assert_eq!(check(&folder).expect("a notebook").problems, Vec::<String>::new());
    let notebook = Notebook::open(&folder).expect("it opens");
    let id = project.rsplit('/').next().expect("an id").parse().expect("an id");
    assert_eq!(notebook.log(id).expect("the log").len(), kept);
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_written_to_is_told() {
    use std::os::unix::fs::PermissionsExt;
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("notebook");
    drop(Server::in_folder(&folder, &[]));
    let locked = |mode: u32| {
        std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(mode)).expect("permissions");
        for file in std::fs::read_dir(&folder).expect("the folder").flatten() {
            if file.path().is_file() {
                std::fs::set_permissions(file.path(), std::fs::Permissions::from_mode(mode & 0o666))
                    .expect("permissions");
            }
        }
    };
    locked(0o555);
    // The administrator may write anywhere: then there is nothing to refuse.
    let may = std::fs::File::create(folder.join("try")).is_ok();
    let opened = Notebook::open(&folder);
    locked(0o755);
    match opened {
        Ok(open) => {
            drop(open);
            assert!(may, "a folder that may not be written to was opened");
        }
        Err(refused) => {
            let said = refused.to_string();
            assert!(!may && said.contains("may not be written to"), "{said}");
        }
    }
    drop(Notebook::open(&folder).expect("it opens again"));
}
