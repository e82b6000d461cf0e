//! A real Chromium, driven through chromedriver, at an exact screen size.

use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

#[derive(Clone, Copy, Debug)]
pub struct Screen {
    pub name: &'static str,
    pub width: u32,
    pub height: u32,
    pub phone: bool,
}

pub const PHONE: Screen = Screen {
    name: "phone",
    width: 390,
    height: 844,
    phone: true,
};
/// The narrowest screen that must do.
pub const NARROW: Screen = Screen {
    name: "narrow",
    width: 320,
    height: 640,
    phone: true,
};
pub const LAPTOP: Screen = Screen {
    name: "laptop",
    width: 1280,
    height: 800,
    phone: false,
};

pub struct Browser {
    pub client: Client,
    pub screen: Screen,
    pub server: String,
    driver: Child,
    _profile: TempDir,
}

impl Browser {
    pub async fn open(screen: Screen, server: &str) -> Browser {
        Browser::open_with(screen, server, &[]).await
    }

    /// As if the address were one of https.
    pub async fn open_secure(screen: Screen, server: &str) -> Browser {
        let trust = format!("--unsafely-treat-insecure-origin-as-secure=http://{server}");
        Browser::open_with(screen, server, &[trust]).await
    }

    async fn open_with(screen: Screen, server: &str, more: &[String]) -> Browser {
        // It takes one free port for two protocols and stops where the second
        // has none: then another port will do.
        let (driver, port) = (0..5).find_map(|_| start_driver()).expect("chromedriver says its port");
        let profile = tempfile::tempdir().expect("a temporary folder");
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities(screen, &profile, more))
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .expect("Chromium starts");
        Browser {
            client,
            screen,
            server: format!("http://{server}"),
            driver,
            _profile: profile,
        }
    }

    pub async fn go(&self, path: &str) {
        self.client
            .goto(&format!("{}{path}", self.server))
            .await
            .expect("the page opens");
    }

    /// Clicks what a person would see: the element must be there and visible.
    pub async fn click(&self, css: &str) {
        self.click_at(Locator::Css(css)).await;
    }

    /// Ticks a box by its words, and sees that it is ticked: figures that
    /// arrive meanwhile may move it from under the pointer.
    pub async fn tick(&self, name: &str) {
        for _ in 0..5 {
            let ticked = self
                .script(
                    "return document.querySelector(`[name=\"${arguments[0]}\"]`).checked",
                    vec![json!(name)],
                )
                .await;
            if ticked == json!(true) {
                return;
            }
            self.click(&format!("label:has([name=\"{name}\"])")).await;
        }
        panic!("{name} cannot be ticked");
    }

    /// Clicks the link or button with these words.
    pub async fn press(&self, words: &str) {
        let xpath = format!(
            "//*[self::a or self::button or self::summary or self::label][normalize-space()={0} or @aria-label={0}]",
            quoted(words)
        );
        self.click_at(Locator::XPath(&xpath)).await;
    }

    /// A page that is just being left hands out elements that are gone a
    /// moment later: then look again.
    async fn click_at(&self, place: Locator<'_>) {
        let mut last = None;
        for _ in 0..20 {
            let element = self
                .client
                .wait()
                .at_most(Duration::from_secs(10))
                .for_element(place)
                .await
                .unwrap_or_else(|e| panic!("nothing to click at {place:?}: {e}"));
            match self.reach(&element).await {
                Ok(()) => match element.click().await {
                    Ok(()) => return,
                    Err(error) => last = Some(error),
                },
                Err(error) => last = Some(error),
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("click {place:?}: {last:?}");
    }

    /// Scrolls an element into the middle, clear of the bars at the edges.
    async fn reach(&self, element: &fantoccini::elements::Element) -> Result<(), fantoccini::error::CmdError> {
        let element = serde_json::to_value(element).expect("an element");
        self.client
            .execute("arguments[0].scrollIntoView({block:'center'})", vec![element])
            .await
            .map(drop)
    }

    pub async fn find(&self, css: &str) -> fantoccini::elements::Element {
        self.client
            .wait()
            .at_most(Duration::from_secs(10))
            .for_element(Locator::Css(css))
            .await
            .unwrap_or_else(|e| panic!("nothing on the page is {css}: {e}"))
    }

    /// Types into a field, in place of what stood in it.
    pub async fn type_in(&self, name: &str, text: &str) {
        let css = format!("[name=\"{name}\"]");
        let mut last = None;
        for _ in 0..20 {
            let element = self.find(&css).await;
            let typed = async {
                self.reach(&element).await?;
                element.clear().await?;
                element.send_keys(text).await
            };
            match typed.await {
                Ok(()) => return,
                Err(error) => last = Some(error),
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("type into {name}: {last:?}");
    }

    pub async fn choose(&self, name: &str, value: &str) {
        let css = format!("select[name=\"{name}\"]");
        self.find(&css)
            .await
            .select_by_value(value)
            .await
            .unwrap_or_else(|e| panic!("choose {value} in {name}: {e}"));
    }

    /// Chooses the option whose words hold `part`.
    pub async fn choose_words(&self, name: &str, part: &str) {
        let done = self
            .script(
                "const s=document.querySelector(`select[name=\"${arguments[0]}\"]`);
                 const o=[...s.options].find(o=>o.textContent.includes(arguments[1]));
                 if(!o) return null; return o.value;",
                vec![json!(name), json!(part)],
            )
            .await;
        let value = done
            .as_str()
            .unwrap_or_else(|| panic!("{name} offers nothing like {part}"))
            .to_string();
        self.choose(name, &value).await;
    }

    pub async fn text(&self, css: &str) -> String {
        self.find(css).await.text().await.expect("text")
    }

    pub async fn page_text(&self) -> String {
        self.text("body").await
    }

    /// Waits until the text of an element holds `part`.
    pub async fn until(&self, css: &str, part: &str) {
        let mut last = String::new();
        for _ in 0..100 {
            if let Ok(element) = self.client.find(Locator::Css(css)).await
                && let Ok(text) = element.text().await
            {
                if text.contains(part) {
                    return;
                }
                last = text;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("{css} never said {part}; it says: {last}");
    }

    pub async fn script(&self, script: &str, arguments: Vec<Value>) -> Value {
        self.client.execute(script, arguments).await.expect("the script runs")
    }

    /// Nothing in the console, nothing cut off at the side, no violation of
    /// WCAG 2.2 A or AA on the page as it stands.
    pub async fn check(&self, what: &str) {
        self.check_looks(what).await;
        self.check_console(what, &["the server responded with a status of 4"])
            .await;
    }

    /// As [`Browser::check`], with the server gone: the console says so whenever it is asked for.
    pub async fn check_away(&self, what: &str) {
        self.check_looks(what).await;
        let gone = [
            "net::ERR_",
            "the server responded with a status of 503",
            "the server responded with a status of 4",
        ];
        self.check_console(what, &gone).await;
    }

    async fn check_looks(&self, what: &str) {
        let wide = self
            .script(
                "return [document.documentElement.scrollWidth, document.documentElement.clientWidth]",
                vec![],
            )
            .await;
        assert!(
            wide[0].as_i64() <= wide[1].as_i64(),
            "{what} on {}: the page is wider than the screen: {wide}",
            self.screen.name
        );
        self.check_cut_off(what).await;
        self.check_axe(what).await;
        self.picture(what).await;
    }

    /// No number or word reaches out of its place, lies over another, or is
    /// squeezed until it breaks letter by letter.
    pub async fn check_cut_off(&self, what: &str) {
        let found = self
            .script(
                "const out = [];
                 const say = (why, e) => out.push(why + ': ' + e.className + ' ' + e.textContent.trim().slice(0, 60));
                 const clipped = e => e && (getComputedStyle(e).clipPath !== 'none' || clipped(e.parentElement));
                 const seen = e => e.getClientRects().length > 0 && !clipped(e);
                 const box = e => e.getBoundingClientRect();
                 for (const e of document.querySelectorAll('main .scroll:not(.size-scroll), main td, main th, main .figure, main .figure-value, main .lines li, main .row, main h1, main h2, main .button, main .len')) {
                   if (seen(e) && e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1) say('reaches out', e);
                 }
                 for (const row of document.querySelectorAll('main .figures, main .figure, main .row, main .lines li, main tr')) {
                   const parts = [...row.children].filter(seen);
                   for (let i = 1; i < parts.length; i++) {
                     const [a, b] = [box(parts[i - 1]), box(parts[i])];
                     const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                     const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                     if (across > 1 && down > 1) say('lies over the one before', parts[i]);
                   }
                 }
                 for (const e of document.querySelectorAll('main .figure-label, main .lines li > :first-child, main th')) {
                   const longest = Math.max(0, ...e.textContent.split(/\\s+/).map(w => w.length));
                   if (seen(e) && longest > 3 && box(e).width < 5 * longest) say('squeezed', e);
                 }
                 return out;",
                vec![],
            )
            .await;
        assert_eq!(found, json!([]), "{what} on {}: {found:#}", self.screen.name);
    }

    async fn check_axe(&self, what: &str) {
        let axe = std::fs::read_to_string(axe_file()).expect("axe-core; tests/run installs it");
        // What a bar fixed to the edge covers at this moment scrolls clear of it.
        self.script(
            "for (const bar of document.querySelectorAll('.project-nav, .quick, .save-bar, .live-line')) bar.style.position = arguments[0]; return true",
            vec![json!("static")],
        )
        .await;
        // Brought in and run in one: between two calls the page may move on.
        let run = "const done=arguments[arguments.length-1];
                 axe.run(document,{runOnly:{type:'tag',values:['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa']}})
                   .then(r=>done(r.violations.map(v=>v.id+': '+v.help+' '+v.nodes.map(n=>n.target.join(' ')+' '+n.failureSummary).join(' | '))))
                   .catch(e=>done(['axe failed: '+e]));";
        let found = self
            .client
            .execute_async(&format!("{axe};\n{run}"), vec![])
            .await
            .expect("axe runs");
        self.script(
            "for (const bar of document.querySelectorAll('.project-nav, .quick, .save-bar, .live-line')) bar.style.position = ''; return true",
            vec![],
        )
        .await;
        assert_eq!(found, json!([]), "{what} on {}: {found:#}", self.screen.name);
    }

    /// Leaves aside what the console said so far.
    pub async fn forget_console(&self) {
        let _ = self.client.issue_cmd(BrowserLog).await;
    }

    async fn check_console(&self, what: &str, expected: &[&str]) {
        let log = self.client.issue_cmd(BrowserLog).await.expect("the console's log");
        let bad: Vec<&Value> = log
            .as_array()
            .into_iter()
            .flatten()
            .filter(|l| matches!(l["level"].as_str(), Some("SEVERE" | "WARNING")))
            // A form with errors is answered with 422 and a clash with 409; Chromium notes the status.
            .filter(|l| {
                let said = l["message"].as_str().unwrap_or("");
                !expected.iter().any(|e| said.contains(e))
            })
            .collect();
        assert!(
            bad.is_empty(),
            "{what} on {}: the console says {bad:#?}",
            self.screen.name
        );
    }

    /// A picture of the page in the folder NOTCHBOOK_PICTURES names, to look at.
    pub async fn picture(&self, what: &str) {
        let Some(folder) = std::env::var_os("NOTCHBOOK_PICTURES") else {
            return;
        };
        let folder = PathBuf::from(folder);
        std::fs::create_dir_all(&folder).expect("the folder for pictures");
        let png = self.client.screenshot().await.expect("a picture");
        let name = what.replace(|c: char| !c.is_ascii_alphanumeric(), "-");
        std::fs::write(folder.join(format!("{}-{name}.png", self.screen.name)), png).expect("written");
    }

    /// The pictures of the README, made anew where NOTCHBOOK_README_PICTURES is set.
    pub async fn readme_picture(&self, name: &str) {
        if std::env::var_os("NOTCHBOOK_README_PICTURES").is_none() {
            return;
        }
        let png = self.client.screenshot().await.expect("a picture");
        let picture = image::load_from_memory(&png).expect("a picture").into_rgb8();
        let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/browser/pictures");
        std::fs::create_dir_all(&folder).expect("the folder");
        let file = std::fs::File::create(folder.join(name)).expect("the file");
        image::codecs::jpeg::JpegEncoder::new_with_quality(file, 86)
            .encode_image(&picture)
            .expect("written");
    }

    pub async fn close(mut self) {
        let _ = self.client.clone().close().await;
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

pub fn axe_file() -> PathBuf {
    std::env::var_os("NOTCHBOOK_AXE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/test-tools/node_modules/axe-core/axe.min.js"),
        PathBuf::from,
    )
}

/// Chromedriver and its port, or nothing where it stopped before it had one.
fn start_driver() -> Option<(Child, String)> {
    let mut driver = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("chromedriver starts; tests/run installs it");
    let mut lines = BufReader::new(driver.stdout.take().expect("its output")).lines();
    while let Some(Ok(line)) = lines.next() {
        if let Some((_, rest)) = line.split_once("successfully on port ") {
            let port = rest.trim_end_matches('.').to_string();
            std::thread::spawn(move || lines.for_each(drop));
            return Some((driver, port));
        }
    }
    let _ = driver.wait();
    None
}

fn quoted(words: &str) -> String {
    if words.contains('"') {
        format!("'{words}'")
    } else {
        format!("\"{words}\"")
    }
}

fn capabilities(screen: Screen, profile: &TempDir, more: &[String]) -> Capabilities {
    let mut options = json!({
        "args": [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
            "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--lang=en-GB",
            // A page that failed to load stays failed: tests of a dead server say when to try again.
            "--disable-auto-reload",
            format!("--user-data-dir={}", profile.path().display()),
        ]
    });
    if let Some(args) = options["args"].as_array_mut() {
        args.extend(more.iter().map(|arg| json!(arg)));
    }
    // A window cannot be made 390 wide; device metrics can.
    options["mobileEmulation"] = json!({
        "deviceMetrics": {
            "width": screen.width, "height": screen.height, "pixelRatio": if screen.phone { 2.0 } else { 1.0 },
            "touch": screen.phone, "mobile": screen.phone,
        },
    });
    let mut capabilities = Capabilities::new();
    capabilities.insert("goog:chromeOptions".into(), options);
    capabilities.insert("goog:loggingPrefs".into(), json!({ "browser": "ALL" }));
    capabilities
}

/// Chromedriver's own command for what the console said.
#[derive(Debug)]
struct BrowserLog;

impl WebDriverCompatibleCommand for BrowserLog {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(json!({ "type": "browser" }).to_string()))
    }
}
