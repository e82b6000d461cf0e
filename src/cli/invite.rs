//! What the terminal says to let the first phone in.

use crate::web::{CODE_MINUTES, Invitation, Trust};
use qrcode::QrCode;
use qrcode::render::unicode::Dense1x2;

pub fn words(invitation: &Invitation, trust: Option<&Trust>, terminal: bool) -> String {
    let mut said = String::new();
    let mut say = |line: &str| {
        said.push_str(line);
        said.push('\n');
    };
    let Some(link) = &invitation.link else {
        say(
            "This computer is in no network now. Connect it to the one the phone is in, then open Settings, \"Let a phone in\".",
        );
        return said;
    };
    for (n, way) in invitation.ways.iter().enumerate() {
        let lead = if n == 0 { "From a phone:" } else { "          or:" };
        say(&format!("{lead} {way}/"));
    }
    if let (Some(way), Some(Trust::Authority { .. })) = (&invitation.way_to_trust, trust) {
        say(&format!(
            "A phone that comes for the first time opens {way} first and follows the steps there."
        ));
    }
    say("");
    say("Scan this with the phone to let it in:");
    if let Some(square) = square(link, terminal) {
        say(&square);
    }
    say(&format!(
        "Or open the address on the phone and type the code {}.",
        invitation.code
    ));
    say(&format!(
        "The code is good once, for {CODE_MINUTES} minutes. More codes: Settings, \"Let a phone in\", on this computer."
    ));
    if trust.is_none() {
        say(
            "This is plain http: anyone in the same network could read along. Use it at home only, or start it with --lan --tls.",
        );
    }
    said
}

/// Dark on light, so that every phone reads it: on a terminal by its colours,
/// whatever theme it has; elsewhere as drawn for light letters on dark ground.
fn square(link: &str, terminal: bool) -> Option<String> {
    let code = QrCode::new(link).ok()?;
    let mut square = code.render::<Dense1x2>();
    if !terminal {
        return Some(square.dark_color(Dense1x2::Light).light_color(Dense1x2::Dark).build());
    }
    // Black and white of the fixed part of the 256 colours, which themes leave alone.
    let lines: Vec<String> = square
        .build()
        .lines()
        .map(|line| format!("\x1b[38;5;16;48;5;231m{line}\x1b[0m"))
        .collect();
    Some(lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use qrcode::Color;

    const LINK: &str = "http://192.168.1.5:4517/pair#K7QM2XVD9RTB";

    fn invitation(scheme: &str, link: Option<&str>) -> Invitation {
        let hosts: &[&str] = match link {
            Some(_) => &["192.168.1.5:4517", "10.0.0.7:4517"],
            None => &[],
        };
        Invitation {
            ways: hosts.iter().map(|h| format!("{scheme}://{h}")).collect(),
            link: link.map(str::to_string),
            code: "K7QM-2XVD-9RTB".into(),
            way_to_trust: (scheme == "https").then(|| "http://192.168.1.5:4517/trust".into()),
        }
    }

    fn authority() -> Trust {
        Trust::Authority {
            name: "Notchbook table 2026-11-25".into(),
            fingerprint: "AB:CD".into(),
            certificate: Vec::new(),
        }
    }

    #[test]
    fn addresses_code_and_warning_are_said() {
        let said = words(&invitation("http", Some(LINK)), None, false);
        for part in [
            "http://192.168.1.5:4517/\n",
            "http://10.0.0.7:4517/\n",
            "type the code K7QM-2XVD-9RTB.",
            "10 minutes",
            "could read along",
        ] {
            assert!(said.contains(part), "{part}: {said}");
        }
        assert!(!said.contains('\x1b'), "no colours in a file");
        let said = words(&invitation("http", None), None, true);
        assert!(said.contains("no network") && !said.contains("K7QM"), "{said}");
    }

    #[test]
    fn encrypted_it_says_what_to_trust_first_and_no_warning() {
        let said = words(&invitation("https", Some(LINK)), Some(&authority()), false);
        for part in [
            "From a phone: https://192.168.1.5:4517/\n",
            "opens http://192.168.1.5:4517/trust first",
        ] {
            assert!(said.contains(part), "{part}: {said}");
        }
        assert!(
            !said.contains("read along") && !said.contains("http://192.168.1.5:4517/\n"),
            "{said}"
        );
        let own = Trust::OwnFiles {
            names: Vec::new(),
            until: chrono::DateTime::UNIX_EPOCH,
        };
        let said = words(&invitation("https", Some(LINK)), Some(&own), false);
        assert!(!said.contains("read along") && !said.contains("/trust"), "{said}");
    }

    #[test]
    fn the_square_is_the_link() {
        let code = QrCode::new(LINK).unwrap();
        let width = code.width();
        for terminal in [true, false] {
            let drawn = square(LINK, terminal).unwrap();
            // Back from half blocks to dark and light; the last line may be half empty.
            let mut dark = Vec::new();
            for line in drawn.lines() {
                let blocks = line
                    .trim_start_matches("\x1b[38;5;16;48;5;231m")
                    .trim_end_matches("\x1b[0m");
                let half =
                    |lit: [char; 2]| -> Vec<bool> { blocks.chars().map(|c| lit.contains(&c) == terminal).collect() };
                dark.push(half(['█', '▀']));
                dark.push(half(['█', '▄']));
            }
            dark.truncate(width + 8);
            for y in 0..width {
                for x in 0..width {
                    // An edge of four light ones on every side.
                    assert_eq!(dark[y + 4][x + 4], code[(x, y)] == Color::Dark, "{x} {y} {terminal}");
                }
            }
            let edge = dark.iter().take(4).chain(dark[width + 4..width + 8].iter()).flatten();
            assert!(edge.chain(dark.iter().map(|row| &row[0])).all(|dark| !dark));
        }
    }
}
