//! What poppler says of a PDF.

use std::path::Path;
use std::process::Command;

pub struct Pdf {
    file: tempfile::NamedTempFile,
}

impl Pdf {
    pub fn of(bytes: &[u8]) -> Pdf {
        let file = tempfile::NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), bytes).expect("written");
        Pdf { file }
    }

    fn ask(&self, tool: &str, before: &[&str], after: &[&str]) -> Vec<u8> {
        let answer = Command::new(tool)
            .args(before)
            .arg(self.file.path())
            .args(after)
            .output()
            .unwrap_or_else(|e| panic!("{tool} (poppler-utils): {e}"));
        assert!(
            answer.status.success(),
            "{tool}: {}",
            String::from_utf8_lossy(&answer.stderr)
        );
        // Versions before 23 take the truth value that the standard wants there for a fault.
        let faults = String::from_utf8_lossy(&answer.stderr)
            .replace("Syntax Error: Suspects object is wrong type (boolean)\n", "");
        assert!(faults.is_empty(), "{tool}: {faults}");
        answer.stdout
    }

    fn words(&self, tool: &str, before: &[&str], after: &[&str]) -> String {
        String::from_utf8(self.ask(tool, before, after)).expect("UTF-8")
    }

    pub fn info(&self, key: &str) -> String {
        let all = self.words("pdfinfo", &[], &[]);
        let line = all.lines().find_map(|l| l.strip_prefix(&format!("{key}:")));
        line.unwrap_or_else(|| panic!("no {key} in {all}")).trim().to_string()
    }

    /// The text of each page, its words apart by single blanks.
    pub fn pages(&self) -> Vec<String> {
        let all = self.words("pdftotext", &["-raw"], &["-"]);
        let pages = all.trim_end_matches('\u{c}').split('\u{c}');
        pages
            .map(|p| p.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect()
    }

    /// Each font: its name, and whether it is embedded.
    pub fn fonts(&self) -> Vec<(String, bool)> {
        let all = self.words("pdffonts", &[], &[]);
        all.lines()
            .skip(2)
            .map(|line| {
                let words: Vec<&str> = line.split_whitespace().collect();
                (words[0].to_string(), words[words.len() - 5] == "yes")
            })
            .collect()
    }

    /// The tree of what it says, with its words.
    pub fn structure(&self) -> String {
        self.words("pdfinfo", &["-struct-text"], &[])
    }

    /// How many pictures are in it.
    pub fn pictures(&self) -> usize {
        self.words("pdfimages", &["-list"], &[]).lines().skip(2).count()
    }

    /// Width and height of every page in points.
    pub fn sizes(&self) -> Vec<(f64, f64)> {
        let all = self.words("pdfinfo", &["-l", "-1"], &[]);
        let sizes = all.lines().filter(|l| l.starts_with("Page") && l.contains(" size:"));
        sizes
            .map(|line| {
                let (_, size) = line.split_once("size:").expect("a size");
                let mut words = size.split_whitespace();
                let wide = words.next().and_then(|w| w.parse().ok()).expect("its width");
                assert_eq!(words.next(), Some("x"));
                (wide, words.next().and_then(|w| w.parse().ok()).expect("its height"))
            })
            .collect()
    }

    /// The first page in grey, dots to an inch as given.
    pub fn raster(&self, dots: u32) -> Raster {
        self.raster_of(1, dots)
    }

    /// One page in grey.
    pub fn raster_of(&self, page: usize, dots: u32) -> Raster {
        let page = page.to_string();
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("page");
        let answer = Command::new("pdftoppm")
            .args([
                "-r",
                &dots.to_string(),
                "-gray",
                "-f",
                &page,
                "-l",
                &page,
                "-singlefile",
            ])
            .arg(self.file.path())
            .arg(&out)
            .output()
            .expect("pdftoppm (poppler-utils)");
        assert!(answer.status.success());
        Raster::read(&out.with_extension("pgm"))
    }
}

/// One byte a dot, 0 for black.
pub struct Raster {
    wide: usize,
    dots: Vec<u8>,
}

impl Raster {
    /// 0 for black; beyond the page it is white.
    pub fn dot(&self, x: i64, y: i64) -> u8 {
        let at = |v: i64| usize::try_from(v).ok();
        match (at(x), at(y)) {
            (Some(x), Some(y)) if x < self.wide => self.dots.get(y * self.wide + x).copied().unwrap_or(255),
            _ => 255,
        }
    }

    /// Lengths of all unbroken runs of dark dots along rows.
    pub fn runs_across(&self) -> Vec<usize> {
        self.dots.chunks(self.wide).flat_map(|row| runs(row.iter())).collect()
    }

    /// The same along columns.
    pub fn runs_down(&self) -> Vec<usize> {
        (0..self.wide)
            .flat_map(|x| runs(self.dots.iter().skip(x).step_by(self.wide)))
            .collect()
    }

    fn read(path: &Path) -> Raster {
        let bytes = std::fs::read(path).expect("a picture");
        let mut at = 0;
        let mut word = || {
            let from = at;
            while !bytes[at].is_ascii_whitespace() {
                at += 1;
            }
            at += 1;
            std::str::from_utf8(&bytes[from..at - 1]).expect("a head").to_string()
        };
        assert_eq!(word(), "P5");
        let wide: usize = word().parse().expect("its width");
        let high: usize = word().parse().expect("its height");
        assert_eq!(word(), "255");
        let dots = bytes[at..].to_vec();
        assert_eq!(dots.len(), wide * high);
        Raster { wide, dots }
    }

    /// The rectangle round the dark dots within the given shares of the page
    /// (left, top, right, bottom), in dots.
    pub fn dark_within(&self, [left, top, right, bottom]: [f64; 4]) -> Option<[usize; 4]> {
        let high = self.dots.len() / self.wide;
        let part = |share: f64, of: usize| (share * of as f64) as usize;
        let mut found: Option<[usize; 4]> = None;
        for y in part(top, high)..part(bottom, high) {
            for x in part(left, self.wide)..part(right, self.wide) {
                if self.dots[y * self.wide + x] < 100 {
                    let [x0, y0, x1, y1] = found.unwrap_or([x, y, x, y]);
                    found = Some([x0.min(x), y0.min(y), x1.max(x), y1.max(y)]);
                }
            }
        }
        found
    }

    /// The longest unbroken run of dark dots along any row.
    pub fn longest_across(&self) -> usize {
        self.dots
            .chunks(self.wide)
            .map(|row| longest(row.iter()))
            .max()
            .unwrap_or(0)
    }

    /// The middles of rows of dots with an unbroken dark run at least so long, rows
    /// beside each other as one line.
    pub fn lines_across(&self, least: usize) -> Vec<f64> {
        let rows: Vec<usize> = (0..self.dots.len() / self.wide)
            .filter(|y| longest(self.dots[y * self.wide..(y + 1) * self.wide].iter()) >= least)
            .collect();
        let lines = rows.chunk_by(|a, b| a + 1 == *b);
        lines
            .map(|line| (line[0] + line[line.len() - 1]) as f64 / 2.0)
            .collect()
    }

    /// The same along any column.
    pub fn longest_down(&self) -> usize {
        (0..self.wide)
            .map(|x| longest(self.dots.iter().skip(x).step_by(self.wide)))
            .max()
            .unwrap_or(0)
    }
}

fn runs<'a>(dots: impl Iterator<Item = &'a u8>) -> Vec<usize> {
    let (mut all, mut run) = (Vec::new(), 0);
    for dot in dots {
        if *dot < 100 {
            run += 1;
        } else if run > 0 {
            all.push(run);
            run = 0;
        }
    }
    all.extend((run > 0).then_some(run));
    all
}

fn longest<'a>(dots: impl Iterator<Item = &'a u8>) -> usize {
    let (mut best, mut run) = (0, 0);
    for dot in dots {
        run = if *dot < 100 { run + 1 } else { 0 };
        best = best.max(run);
    }
    best
}
