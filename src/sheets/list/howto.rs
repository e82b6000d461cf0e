//! The list as structured data: a `HowTo` in the vocabulary of schema.org, with
//! what is ticked and nothing else.

use super::{Group, Line, Materials};
use crate::measure::video_time;
use serde_json::{Value, json};

impl Materials {
    /// `image` is the whole address of the first picture, where it has one.
    pub fn as_howto(&self, image: Option<&str>) -> Value {
        let mut howto = json!({
            "@context": "https://schema.org",
            "@type": "HowTo",
            "name": self.title,
        });
        let mut put = |key: &str, value: Value| {
            if let Value::Object(fields) = &mut howto {
                fields.insert(key.into(), value);
            }
        };
        let mut supply = Vec::new();
        let mut tool = Vec::new();
        let mut step = Vec::new();
        for section in self.shown() {
            for l in &section.lines {
                match section.group {
                    Group::Tools => tool.push(item("HowToTool", l)),
                    Group::Pattern => supply.push(item("HowToSupply", l)),
                    group if group.is_material() => supply.push(item("HowToSupply", l)),
                    Group::Steps => {
                        let text = match l.video {
                            Some(seconds) => format!("{}, {} in the video", l.name, video_time(seconds)),
                            None => l.name.clone(),
                        };
                        step.push(json!({
                            "@type": "HowToStep",
                            "position": step.len() + 1,
                            "name": l.name,
                            "text": text,
                        }));
                    }
                    Group::Time => put("totalTime", json!(duration(self.minutes))),
                    _ => {}
                }
            }
        }
        if let Some(image) = image {
            put("image", json!(image));
        }
        for (key, list) in [("supply", supply), ("tool", tool), ("step", step)] {
            if !list.is_empty() {
                put(key, list.into());
            }
        }
        howto
    }
}

fn item(kind: &str, l: &Line) -> Value {
    let mut item = json!({ "@type": kind, "name": l.name });
    let said: Vec<&str> = [&l.detail, &l.remark]
        .into_iter()
        .filter(|t| !t.is_empty())
        .map(String::as_str)
        .collect();
    for (key, value) in [
        ("requiredQuantity", l.quantity.as_str()),
        ("description", said.join("; ").as_str()),
        ("url", if l.has_web_link() { l.link.as_str() } else { "" }),
    ] {
        if !value.is_empty() {
            item[key] = json!(value);
        }
    }
    item
}

/// ISO 8601: `PT31H20M`.
fn duration(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("PT{m}M"),
        (h, 0) => format!("PT{h}H"),
        (h, m) => format!("PT{h}H{m}M"),
    }
}
