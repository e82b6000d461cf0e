//! What people type, as a query of SQLite's full-text search. Every word goes
//! in between quotes, where nothing is an operator: no text is an error.

/// Words of a question that say nothing about what is looked for. They count
/// only where there is nothing else.
const QUESTION: [&str; 40] = [
    "a", "about", "all", "an", "and", "any", "are", "as", "at", "did", "do", "does", "for", "from", "had", "have",
    "how", "i", "in", "is", "it", "many", "me", "much", "my", "of", "on", "or", "the", "this", "to", "use", "used",
    "was", "were", "what", "when", "where", "which", "with",
];

/// Longest text and most words that are looked at.
const MOST_CHARACTERS: usize = 300;
const MOST_WORDS: usize = 12;

/// What is asked of the index.
#[derive(Debug, PartialEq, Eq)]
pub struct Query {
    /// Every word must be found, one of them in more than the title of the project
    /// it stands in. The last word may go on.
    pub all: String,
    /// Every word in its name.
    pub titles: String,
}

/// Nothing where there is no word.
pub fn query(text: &str) -> Option<Query> {
    let all = words(text);
    let telling: Vec<&Typed> = all.iter().filter(|w| !w.is_of_a_question()).collect();
    let chosen: Vec<String> = match telling.as_slice() {
        [] => all.iter().map(Typed::quoted).collect(),
        telling => telling.iter().map(|w| w.quoted()).collect(),
    };
    let all = match chosen.as_slice() {
        [] => return None,
        [one] => format!("{{title body}} : ({one})"),
        several => format!(
            "({{title body}} : ({})) AND ({})",
            several.join(" OR "),
            several.join(" AND ")
        ),
    };
    Some(Query {
        all,
        titles: format!("{{title}} : ({})", chosen.join(" AND ")),
    })
}

/// A word, or what was typed between quotes.
struct Typed {
    text: String,
    /// It may go on: "butt" finds buttons.
    goes_on: bool,
    /// Typed between quotes: found as it stands.
    exact: bool,
}

impl Typed {
    fn is_of_a_question(&self) -> bool {
        QUESTION.contains(&self.text.to_lowercase().as_str())
    }

    /// One is found where many are asked for, and many where one is. Word stems
    /// would go too far: a backing is not a back.
    fn quoted(&self) -> String {
        let this = format!("\"{}\"{}", self.text, if self.goes_on { "*" } else { "" });
        let plain = !self.exact && self.text.chars().all(char::is_alphanumeric) && self.text.chars().count() > 3;
        match self.text.strip_suffix(['s', 'S']) {
            Some(one) if plain => format!("({this} OR \"{one}\")"),
            None if plain && !self.goes_on => format!("({this} OR \"{}s\")", self.text),
            _ => this,
        }
    }
}

/// Without the signs round it.
fn bare(word: &str) -> String {
    word.trim_matches(|c: char| !c.is_alphanumeric()).into()
}

fn words(text: &str) -> Vec<Typed> {
    let text: String = text
        .chars()
        .take(MOST_CHARACTERS)
        .map(|c| match c {
            '“' | '”' | '„' | '«' | '»' => '"',
            c if c.is_control() => ' ',
            c => c,
        })
        .collect();
    let mut list = Vec::new();
    // Every second part stood between quotes; a quote left open ends with the text.
    for (n, part) in text.split('"').enumerate() {
        if n % 2 == 1 {
            list.push((part.trim().to_string(), true));
        } else {
            list.extend(part.split_whitespace().map(|word| (bare(word), false)));
        }
    }
    // Without a letter or digit there is nothing to find.
    list.retain(|(word, _)| word.chars().any(char::is_alphanumeric));
    list.truncate(MOST_WORDS);
    let last = list.len().saturating_sub(1);
    list.into_iter()
        .enumerate()
        .map(|(n, (text, exact))| Typed {
            text,
            goes_on: n == last && !exact,
            exact,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> String {
        let titles = query(text).unwrap().titles;
        let words = titles.strip_prefix("{title} : (").and_then(|t| t.strip_suffix(')'));
        words.unwrap_or_default().to_string()
    }

    #[test]
    fn words_phrases_and_questions() {
        assert_eq!(said("snaps"), "(\"snaps\"* OR \"snap\")");
        assert_eq!(said("snap size"), "(\"snap\" OR \"snaps\") AND \"size\"*");
        assert_eq!(query("hood").unwrap().all, "{title body} : (\"hood\"*)");
        assert_eq!(
            query("hood lining").unwrap().all,
            "({title body} : ((\"hood\" OR \"hoods\") OR \"lining\"*)) AND ((\"hood\" OR \"hoods\") AND \"lining\"*)"
        );
        assert_eq!(said("take-up"), "\"take-up\"*");
        assert_eq!(said("what did I use for the backing?"), "\"backing\"*");
        assert_eq!(said("\"wide muslin\""), "\"wide muslin\"");
        assert_eq!(said("„Grüner Ärmel“ "), "\"Grüner Ärmel\"");
    }

    #[test]
    fn a_question_of_nothing_else_is_looked_for_as_it_is() {
        let query = query("how much").unwrap().all;
        assert!(query.ends_with("AND (\"how\" AND \"much\"*)"), "{query}");
    }

    #[test]
    fn operators_are_words_and_signs_are_nothing() {
        assert!(query("").is_none());
        assert!(query(" \" ' * ^ ( ) : { } - + \u{0} ").is_none());
        let odd = query("NOT title:x* NEAR(a, b) \"open").unwrap().all;
        assert_eq!(odd.matches('"').count() % 2, 0, "{odd}");
        assert!(odd.contains("\"NOT\""), "{odd}");
    }
}
