//! A project with one piece and three cloths, for tests of its face.

use crate::plan_forms::{begun, plan, save};
use crate::support::{Reply, Server};
use serde_json::Value;

pub const SIZE: [(&str, &str); 5] = [
    ("name", "Front"),
    ("cut_count", "1"),
    ("width", "20"),
    ("height", "24"),
    ("margin", "1"),
];

/// A project with three cloths and one piece.
pub struct Bench {
    pub server: Server,
    pub project: String,
    pub piece: String,
    pub cloths: Vec<String>,
}

impl Bench {
    pub fn new() -> Bench {
        let server = Server::empty();
        let (project, _, piece) = begun(&server);
        for name in ["Rust check", "Sage lawn"] {
            let cloth = [
                ("name", name),
                ("kind", "cloth"),
                ("usable_width", "54 in"),
                ("colour", "#807050"),
                ("price_per", "yd"),
                ("price", "10"),
            ];
            assert_eq!(save(&server, &format!("{project}/cloths/new"), &cloth).status, 303);
        }
        let all = plan(&server, &project);
        let cloths = all["cloths"].as_array().expect("cloths").iter();
        let cloths = cloths.map(|c| c["id"].as_str().expect("an id").to_string()).collect();
        Bench {
            server,
            project,
            piece,
            cloths,
        }
    }

    pub fn address(&self) -> String {
        format!("{}/pieces/{}", self.project, self.piece)
    }

    /// Saves the piece with a face; `A`, `B`, `C` stand for the cloths.
    pub fn save(&self, face: &[(&str, &str)]) -> Reply {
        let cloth = |value: &str| match value {
            "A" => self.cloths[0].clone(),
            "B" => self.cloths[1].clone(),
            "C" => self.cloths[2].clone(),
            other => other.to_string(),
        };
        let own: Vec<(&str, String)> = SIZE.iter().chain(face).map(|(n, v)| (*n, cloth(v))).collect();
        let fields: Vec<(&str, &str)> = own.iter().map(|(n, v)| (*n, v.as_str())).collect();
        save(&self.server, &self.address(), &fields)
    }

    pub fn saved(&self, face: &[(&str, &str)]) -> Value {
        let reply = self.save(face);
        assert_eq!(reply.status, 303, "{face:?}: {}", reply.text());
        self.now()
    }

    pub fn now(&self) -> Value {
        plan(&self.server, &self.project)["pieces"][0].clone()
    }

    /// Saves the form as its page holds it.
    pub fn save_page(&self) -> Reply {
        let page = self.server.get(&self.address()).body;
        let fields = fields_of(&page);
        let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        self.server.post(&self.address(), &fields)
    }

    pub fn refused(&self, face: &[(&str, &str)], field: &str, words: &str) {
        let before = self.now();
        let reply = self.save(face);
        assert_eq!(reply.status, 422, "{face:?}");
        assert!(
            reply.body.contains(&format!("id=\"{field}-error\"")),
            "{field}: {}",
            reply.text()
        );
        assert!(reply.text().contains(words), "{words}: {}", reply.text());
        // What was typed is still there.
        let kept = fields_of(&reply.body);
        // A list cannot hold what is none of its choices.
        let of_list = |name: &str| name == "made_0" || name == "border_cloth_0";
        for (name, value) in face
            .iter()
            .filter(|(n, v)| !of_list(n) && !["A", "B", "C", ""].contains(v))
        {
            let value = value.replace("\r\n", "\n");
            assert!(
                kept.iter().any(|(n, v)| n == name && v.replace("\r\n", "\n") == value),
                "{name} = {value} is not in the form any more"
            );
        }
        assert_eq!(self.now(), before, "nothing is saved");
    }
}

fn unescape(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let mark = format!(" {name}=\"");
    let at = tag.find(&mark)? + mark.len();
    Some(unescape(tag[at..].split('"').next().unwrap_or("")))
}

/// What the first form of a page would send, without its templates.
pub fn fields_of(page: &str) -> Vec<(String, String)> {
    let form = page.split("<form").nth(1).expect("a form");
    let mut form = form.split("</form>").next().unwrap_or("").to_string();
    while let (Some(from), Some(to)) = (form.find("<template"), form.find("</template>")) {
        form.replace_range(from..to + "</template>".len(), "");
    }
    let mut fields = Vec::new();
    for part in form.split('<').skip(1) {
        let (tag, rest) = part.split_once('>').unwrap_or((part, ""));
        let name = attribute(tag, "name");
        if tag.starts_with("input ") {
            let choice = matches!(attribute(tag, "type").as_deref(), Some("radio" | "checkbox"));
            if let Some(name) = name.filter(|_| !choice || tag.contains(" checked")) {
                fields.push((name, attribute(tag, "value").unwrap_or_default()));
            }
        } else if tag.starts_with("textarea ") {
            // As a browser reads it: a first line end is not part of the text.
            let text = rest.strip_prefix('\n').unwrap_or(rest);
            fields.push((name.expect("a name"), unescape(text)));
        } else if tag.starts_with("select ") {
            fields.push((name.expect("a name"), String::new()));
        } else if tag.starts_with("option ") && tag.contains(" selected") {
            fields.last_mut().expect("a select").1 = attribute(tag, "value").unwrap_or_default();
        }
    }
    // A select without a choice sends its first option: all of ours are then chosen or empty.
    fields
}
