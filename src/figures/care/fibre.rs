//! What a fibre as typed leaves open: names with percentages, largest first,
//! adding to 100. A hint only: what is sewn at home needs no label.

pub const SOURCE: &str = "Regulation (EU) 1007/2011, summary LEGISSUM:mi0088 on EUR-Lex";

/// Parts of a composition: name and hundredths of a per cent.
pub fn parts(text: &str) -> Vec<(String, Option<i64>)> {
    let chars: Vec<char> = text.chars().collect();
    let digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    let mut parts = vec![String::new()];
    for (at, c) in chars.iter().enumerate() {
        // A comma between two digits is a decimal sign.
        let decimal = *c == ',' && at > 0 && digit(at - 1) && digit(at + 1);
        if matches!(c, ',' | ';' | '/' | '+') && !decimal {
            parts.push(String::new());
        } else if let Some(last) = parts.last_mut() {
            last.push(if decimal { '.' } else { *c });
        }
    }
    let and = parts.iter().flat_map(|part| part.split(" and "));
    and.map(str::trim).filter(|part| !part.is_empty()).map(part).collect()
}

fn part(text: &str) -> (String, Option<i64>) {
    let Some((before, after)) = text.split_once('%') else {
        return (text.to_string(), None);
    };
    let number: String = {
        let tail = before.trim_end();
        let start = tail
            .char_indices()
            .rev()
            .take_while(|(_, c)| c.is_ascii_digit() || *c == '.')
            .last()
            .map_or(tail.len(), |(at, _)| at);
        tail[start..].to_string()
    };
    let name = format!(
        "{} {}",
        before.trim_end().trim_end_matches(&number).trim(),
        after.trim()
    );
    (name.trim().to_string(), hundredths(&number))
}

fn hundredths(number: &str) -> Option<i64> {
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    if whole.is_empty() || whole.len() > 4 || part.len() > 2 {
        return None;
    }
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    Some(whole.parse::<i64>().ok()? * 100 + part)
}

/// Sentences about what does not add up; none where nothing is said in per cent.
pub fn hints(name: &str, text: &str) -> Vec<String> {
    let parts = parts(text);
    let known: Vec<i64> = parts.iter().filter_map(|(_, percent)| *percent).collect();
    let mut hints = Vec::new();
    let lower = text.to_lowercase();
    let single = ["pure", "all"]
        .iter()
        .any(|word| lower.split_whitespace().any(|w| w == *word))
        || known.contains(&10_000);
    if single && parts.len() > 1 {
        hints.push(format!(
            "{name}: “100 %”, “pure” and “all” are said of a single fibre, and {} are named.",
            parts.len()
        ));
    }
    if known.is_empty() {
        return hints;
    }
    if let Some((fibre, _)) = parts.iter().find(|(_, percent)| percent.is_none()) {
        hints.push(format!("{name}: {} has no percentage.", cut(fibre)));
    } else {
        let sum: i64 = known.iter().sum();
        if sum != 10_000 {
            hints.push(format!(
                "{name}: its fibres add to {}; on a label they add to 100 %.",
                crate::measure::Percent::hundredths(sum)
            ));
        }
    }
    if known.windows(2).any(|two| two[0] < two[1]) {
        hints.push(format!("{name}: on a label the largest share is named first."));
    }
    hints
}

fn cut(text: &str) -> String {
    super::super::check::called(text, "a fibre")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn compositions_are_read() {
        let read = |text: &str| parts(text);
        assert_eq!(
            read("55 % linen, 45% cotton"),
            [("linen".to_string(), Some(5_500)), ("cotton".into(), Some(4_500))]
        );
        assert_eq!(
            read("linen 52,5 % and cotton 47.5 %"),
            [("linen".to_string(), Some(5_250)), ("cotton".into(), Some(4_750))]
        );
        assert_eq!(read("cotton"), [("cotton".to_string(), None)]);
        assert!(read("").is_empty() && read(" , ;").is_empty());
    }

    #[test]
    fn what_does_not_add_up_is_told() {
        assert!(hints("Oat", "cotton").is_empty());
        assert!(hints("Oat", "55 % linen, 45 % cotton").is_empty());
        assert!(hints("Oat", "100 % wool").is_empty());
        assert_eq!(hints("Oat", "45 % cotton, 55 % linen").len(), 1);
        assert_eq!(
            hints("Oat", "55 % linen, 40 % cotton")[0],
            "Oat: its fibres add to 95 %; on a label they add to 100 %."
        );
        assert!(hints("Oat", "80 % wool, silk")[0].contains("silk has no percentage"));
        assert!(hints("Oat", "pure wool, silk")[0].contains("single fibre"));
        for odd in ["%", "% %", "5.555 % x", "99999 % x", "é🧵 % ,,, %", "-3 % wool"] {
            hints("Oat", odd);
        }
    }
}
