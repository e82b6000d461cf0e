//! Files and folders onto the disk. A name is there for good only once the disk
//! has said so; it is asked for several at once, while the next are made.

use crate::photos::sync_folder;
use std::fs::File;
use std::io;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;

/// Disks write what is asked for at one time in one go.
const AT_ONCE: usize = 8;
/// Files that are open and wait for their turn.
const WAITING: usize = 64;

enum Job {
    File(File),
    Folder(PathBuf),
}

/// Begun with the first file; what went wrong is told by [`Syncing::done`].
#[derive(Default)]
pub struct Syncing {
    at_work: Option<AtWork>,
}

struct AtWork {
    to: SyncSender<Job>,
    hands: Vec<JoinHandle<io::Result<()>>>,
}

impl Syncing {
    pub fn file(&mut self, file: File) -> io::Result<()> {
        self.give(Job::File(file))
    }

    pub fn folder(&mut self, folder: PathBuf) -> io::Result<()> {
        self.give(Job::Folder(folder))
    }

    /// All that was given is on the disk, or the first thing that went wrong.
    pub fn done(&mut self) -> io::Result<()> {
        let Some(AtWork { to, hands }) = self.at_work.take() else {
            return Ok(());
        };
        drop(to);
        let mut outcome = Ok(());
        for hand in hands {
            let of_one = hand.join().unwrap_or_else(|_| Err(stopped()));
            outcome = outcome.and(of_one);
        }
        outcome
    }

    fn give(&mut self, job: Job) -> io::Result<()> {
        let at_work = match &mut self.at_work {
            Some(at_work) => at_work,
            none => none.insert(begun()?),
        };
        at_work.to.send(job).map_err(|_| stopped())
    }
}

fn begun() -> io::Result<AtWork> {
    let (to, jobs) = sync_channel(WAITING);
    let jobs = Arc::new(Mutex::new(jobs));
    let hands = (0..AT_ONCE).map(|_| {
        let jobs = jobs.clone();
        std::thread::Builder::new()
            .name("sync".into())
            .spawn(move || work(&jobs))
    });
    Ok(AtWork {
        to,
        hands: hands.collect::<io::Result<_>>()?,
    })
}

/// To the end, whatever goes wrong: whoever gives must not wait for nobody.
fn work(jobs: &Mutex<Receiver<Job>>) -> io::Result<()> {
    let mut outcome = Ok(());
    loop {
        let job = jobs.lock().unwrap_or_else(PoisonError::into_inner).recv();
        let Ok(job) = job else { return outcome };
        let done = match job {
            Job::File(file) => file.sync_all(),
            Job::Folder(folder) => sync_folder(&folder),
        };
        outcome = outcome.and(done);
    }
}

fn stopped() -> io::Error {
    io::Error::other("writing to the disk stopped")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_of_it_is_waited_for_and_what_goes_wrong_is_told() {
        let place = tempfile::tempdir().unwrap();
        let mut syncing = Syncing::default();
        assert!(syncing.done().is_ok(), "nothing was given");
        for n in 0..300 {
            syncing
                .file(File::create(place.path().join(n.to_string())).unwrap())
                .unwrap();
        }
        syncing.folder(place.path().to_path_buf()).unwrap();
        syncing.done().unwrap();
        // One of many: told, and the others are not waited for in vain.
        for n in 0..300 {
            syncing
                .file(File::open(place.path().join(n.to_string())).unwrap())
                .unwrap();
            if n == 3 && cfg!(unix) {
                syncing.folder(place.path().join("gone")).unwrap();
            }
        }
        assert_eq!(syncing.done().is_err(), cfg!(unix));
        assert!(syncing.done().is_ok(), "told once");
    }
}
