//! A large notebook, made up of the sample's projects over and over with a log
//! of their own.

use super::load;
use crate::dice::Dice;
use notchbook::notebook::{Id, Notebook, SampleFolder, SourceFolder};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io;
use std::path::Path;
use std::sync::LazyLock;

const PROJECTS: usize = 1_000;
const ENTRIES: usize = 50;
const PHOTOS: usize = 20;

pub struct Made {
    pub projects: usize,
    pub entries: usize,
    pub photos: usize,
    /// Address of one of its projects.
    pub project: String,
    /// Addresses of searches for words that are in a third of all entries, and
    /// for words as common and as rare as those of a language.
    pub common: Vec<String>,
    pub questions: Vec<String>,
}

const WORDS: &[&str] = &[
    "binding", "sleeve", "hem", "patch", "indigo", "linen", "batting", "backing", "pressed", "open", "seam", "quilted",
    "corner", "pocket", "snap", "thread", "cotton", "cut", "again", "short", "longer", "bias", "strip", "collar",
    "yoke", "facing", "walnut", "cream", "moss", "rust", "brown", "grey", "narrow", "wide", "eased", "basted",
    "gathered", "lining", "notch", "grain", "muslin", "flannel", "corduroy", "twill", "chalk", "needle", "pinned",
    "unpicked",
];

/// Invented words there are.
const INVENTED: usize = 6_000;
const SYLLABLES: &[&str] = &[
    "ba", "den", "fi", "gol", "hu", "kar", "le", "mis", "no", "pra", "qui", "ros", "sa", "tem", "ul", "ven", "wo",
    "xi", "yar", "zet",
];

/// Where the share of each invented word ends.
fn ends() -> &'static [f64] {
    static ENDS: LazyLock<Vec<f64>> = LazyLock::new(|| {
        let sums = (1..=INVENTED).scan(0.0, |sum, rank| {
            *sum += 1.0 / rank as f64;
            Some(*sum)
        });
        sums.collect()
    });
    &ENDS
}

fn word(rank: usize) -> String {
    let n = SYLLABLES.len();
    let parts = [rank % n, rank / n % n, rank / n / n];
    parts.map(|part| SYLLABLES[part]).concat()
}

/// What is made up, by numbers that are the same every time.
struct Chance(Dice);

impl Chance {
    fn below(&mut self, n: usize) -> usize {
        self.0.below(n as u64) as usize
    }
    /// Invented words, the second half as often as the first, the third a third as
    /// often and so on, as words are in any language.
    fn invented(&mut self, n: usize) -> String {
        let sum = ends()[INVENTED - 1];
        let words: Vec<String> = (0..n)
            .map(|_| {
                let at = self.below(1 << 30) as f64 / f64::from(1 << 30) * sum;
                word(ends().partition_point(|end| *end <= at))
            })
            .collect();
        words.join(" ")
    }
    fn words(&mut self, n: usize) -> String {
        let words: Vec<&str> = (0..n).map(|_| WORDS[self.below(WORDS.len())]).collect();
        words.join(" ")
    }
    fn id(&mut self) -> Id {
        let mut bytes = [0; 16];
        bytes.fill_with(|| self.below(256) as u8);
        uuid::Builder::from_random_bytes(bytes).into_uuid()
    }
}

struct Files(BTreeMap<String, Vec<u8>>);

impl SourceFolder for Files {
    fn list(&self, prefix: &str) -> io::Result<Vec<String>> {
        Ok(self.0.keys().filter(|name| name.starts_with(prefix)).cloned().collect())
    }
    fn read(&self, name: &str) -> io::Result<Vec<u8>> {
        self.0.get(name).cloned().ok_or_else(|| io::ErrorKind::NotFound.into())
    }
}

/// Opens the notebook in `folder`, making it where there is none.
pub fn notebook(folder: &Path) -> Made {
    let notebook = Notebook::open(folder).expect("a notebook");
    if notebook.is_empty().expect("an answer") {
        notebook.import(&files()).expect("taken in");
    }
    let cards = notebook.projects().expect("projects");
    // One with a plan and measurements, in the middle of it.
    let project = cards[cards.len() / 2].id;
    let mut chance = Chance(Dice(7));
    let address = |words: String| format!("/search?q={}", words.replace(' ', "+"));
    let common = (0..400).map(|n| address(chance.words(1 + n % 3))).collect();
    let questions = (0..400).map(|n| address(chance.invented(1 + n % 3))).collect();
    Made {
        projects: cards.len(),
        entries: PROJECTS * ENTRIES,
        photos: PROJECTS * PHOTOS,
        project: format!("/projects/{project}"),
        common,
        questions,
    }
}

fn files() -> Files {
    let sample: BTreeMap<String, Vec<u8>> = SampleFolder
        .list("")
        .expect("the sample")
        .into_iter()
        .map(|name| {
            let bytes = SampleFolder.read(&name).expect("a file");
            (name, bytes)
        })
        .collect();
    let projects: Vec<Value> = sample
        .iter()
        .filter(|(name, _)| name.ends_with("/project.json"))
        .map(|(_, bytes)| serde_json::from_slice(bytes).expect("JSON"))
        .collect();
    let mut files: BTreeMap<String, Vec<u8>> = sample
        .into_iter()
        .filter(|(name, _)| !name.starts_with("projects/") && name != "shop.json")
        .collect();
    let mut chance = Chance(Dice(1));
    for n in 0..PROJECTS {
        let mut project = projects[n % projects.len()].clone();
        project["id"] = json!(chance.id());
        let title = format!("{} {n}", project["details"]["title"].as_str().unwrap_or("Piece"));
        project["details"]["title"] = json!(title);
        // Most of so many are done.
        if n % 20 != 0 {
            project["details"]["state"] = json!("finished");
        }
        // No two plans are quite the same, so that nothing is known of one by another.
        let newest = project["revisions"].as_array_mut().and_then(|r| r.last_mut());
        if let Some(height) = newest.and_then(|r| r["plan"]["pieces"][0].get_mut("height")) {
            *height = json!(format!("{}/16 in", 160 + n));
        }
        let object = project.as_object_mut().expect("an object");
        for of_one in ["from", "cover", "steps", "marks", "before_after"] {
            object.remove(of_one);
        }
        object.insert("choices".into(), json!([]));
        let mut log = Vec::new();
        for e in 0..ENTRIES {
            let at = format!(
                "20{:02}-{:02}-{:02}T{:02}:00:00Z",
                10 + n % 16,
                1 + e % 12,
                1 + n % 28,
                8 + e % 12
            );
            let text = format!("{} {}", chance.words(20), chance.invented(10));
            let mut entry = json!({"id": chance.id(), "kind": "note", "happened_at": at, "text": text});
            if e < PHOTOS {
                let (hash, bytes) = tiny(n * PHOTOS + e);
                files.insert(format!("photos/{hash}.png"), bytes);
                entry["kind"] = json!("photo");
                entry["photos"] = json!([hash]);
            }
            log.push(entry);
        }
        log.sort_by_key(|e| e["happened_at"].as_str().map(str::to_string));
        files.insert(
            format!("projects/p{n:04}/project.json"),
            project.to_string().into_bytes(),
        );
        files.insert(
            format!("projects/p{n:04}/log.json"),
            Value::from(log).to_string().into_bytes(),
        );
    }
    Files(files)
}

/// A picture of a few pixels like no other, and its hash.
fn tiny(n: usize) -> (String, Vec<u8>) {
    let image = image::RgbImage::from_fn(4, 4, |x, _| {
        image::Rgb([(n >> 16) as u8, (n >> 8) as u8, n as u8 ^ x as u8])
    });
    let mut bytes = io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    let bytes = bytes.into_inner();
    let hash = Sha256::digest(&bytes).iter().map(|b| format!("{b:02x}")).collect();
    (hash, bytes)
}

/// A shared list of the project with every line of it; its address.
pub fn share(address: &str, project: &str) -> String {
    let materials = format!("{project}/materials");
    let page = load::page(address, &materials);
    let lines = page.split("name=\"line\" value=\"").skip(1);
    let keys: Vec<&str> = lines.filter_map(|rest| Some(rest.split_once('"')?.0)).collect();
    assert!(keys.len() > 3, "a list worth sharing");
    let ticked: String = keys.iter().map(|key| format!("line={key}&show={key}&")).collect();
    load::post(
        address,
        &materials,
        &format!("{}then=share", ticked.replace('/', "%2F")),
    );
    let page = load::page(address, &materials);
    let at = page.find("/s/").expect("a shared link");
    let end = |c: char| !c.is_ascii_alphanumeric() && !"/-_".contains(c);
    page[at..].split(end).next().unwrap_or_default().to_string()
}
