//! What the terminal says about the encryption.

use crate::web::Trust;

pub fn words(port: u16, trust: &Trust) -> String {
    match trust {
        Trust::Authority { name, fingerprint, .. } => format!(
            "Encrypted: https://localhost:{port}/ by the notebook's own authority, “{name}”.\n\
             Its SHA-256 fingerprint, to compare with what a phone shows in the certificate's details:\n  {}\n  {}\n",
            &fingerprint.get(..48).unwrap_or(fingerprint),
            &fingerprint.get(48..).unwrap_or_default(),
        ),
        Trust::OwnFiles { names, until } => {
            let names = match names.as_slice() {
                [] => "no name".to_string(),
                names => names.join(", "),
            };
            format!(
                "Encrypted by your own certificate for {names}, which ends on {}.\n",
                until.format("%-d %B %Y")
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_whole_fingerprint_is_said() {
        let fingerprint = (0..32).map(|n| format!("{n:02X}")).collect::<Vec<_>>().join(":");
        let said = words(
            4517,
            &Trust::Authority {
                name: "Notchbook table 2026-11-25".into(),
                fingerprint: fingerprint.clone(),
                certificate: Vec::new(),
            },
        );
        let lines: Vec<&str> = said.lines().map(str::trim).collect();
        assert!(
            lines.iter().any(|l| *l == &fingerprint[..48]) && lines.contains(&&fingerprint[48..]),
            "{said}"
        );
        assert!(said.contains("https://localhost:4517/"), "{said}");
    }
}
