//! Words as they begin a sentence or a line.

/// With a large first letter.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_letter_alone_is_made_large() {
        for (text, large) in [
            ("", ""),
            ("rows", "Rows"),
            ("left to right", "Left to right"),
            ("ärmel", "Ärmel"),
            ("½ in", "½ in"),
            ("ßtoff", "SStoff"),
        ] {
            assert_eq!(capital(text), large);
        }
    }
}
