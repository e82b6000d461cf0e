//! The notebook's own authority: a certificate that phones are told to trust,
//! and its key, in one file that only its owner may read.
//!
//! It can vouch for nothing but this computer's names and addresses in home
//! networks: who gets hold of the key cannot pass for any site of the internet.

use super::TlsError;
use chrono::{DateTime, Datelike, Days, NaiveDate};
use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DistinguishedName, DnType, ExtendedKeyUsagePurpose,
    GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose, NameConstraints, SanType,
};
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, PrivatePkcs8KeyDer};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Write;
use std::net::{IpAddr, Ipv4Addr};
use std::path::{Path, PathBuf};
use x509_parser::extensions::{GeneralName, ParsedExtension};
use x509_parser::prelude::{FromDer, X509Certificate};

const FILE: &str = "authority-private.pem";
const YEARS: i32 = 10;
/// A day before, for phones whose clock is slow, and no more than 397 days in
/// all, which is as much as phones take.
const LEAF_DAYS: u64 = 395;

/// Private networks (RFC 1918), addresses a computer gives itself (RFC 3927),
/// those of networks inside a provider or a tunnel (RFC 6598), and itself.
const NETWORKS: [([u8; 4], u8); 6] = [
    ([10, 0, 0, 0], 8),
    ([172, 16, 0, 0], 12),
    ([192, 168, 0, 0], 16),
    ([169, 254, 0, 0], 16),
    ([100, 64, 0, 0], 10),
    ([127, 0, 0, 0], 8),
];
/// Endings that are set aside for networks at home (RFC 6762, 6761, 8375).
const ENDINGS: [&str; 3] = ["local", "localhost", "home.arpa"];

pub struct Authority {
    certificate: CertificateDer<'static>,
    issuer: Issuer<'static, KeyPair>,
    name: String,
    permitted: Permitted,
}

/// What it may vouch for.
#[derive(Default)]
struct Permitted {
    /// Names and endings.
    names: Vec<String>,
    /// Networks and their masks.
    networks: Vec<(u32, u32)>,
}

impl Authority {
    /// The one in `folder`, or a new one that may vouch for these names and
    /// addresses of this computer besides those of home networks.
    pub fn open(
        folder: &Path,
        names: &[String],
        addresses: &[Ipv4Addr],
        today: NaiveDate,
    ) -> Result<Authority, TlsError> {
        let file = folder.join(FILE);
        match fs::read(&file) {
            Ok(bytes) => {
                keep_private(&file)?;
                Authority::read(&file, &bytes, today)
            }
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                let pem = make(names, addresses, today)?;
                write(folder, &file, &pem).map_err(|e| TlsError::of(&file, format!("could not be written: {e}")))?;
                tracing::info!(file = %file.display(), "an authority was made");
                Authority::read(&file, pem.as_bytes(), today)
            }
            Err(error) => Err(TlsError::of(&file, format!("could not be read: {error}"))),
        }
    }

    fn read(file: &Path, bytes: &[u8], today: NaiveDate) -> Result<Authority, TlsError> {
        let broken = |what: &str| {
            TlsError::of(
                file,
                format!(
                    "{what}. Put the file back as it was, or move it away: then a new authority is made, which every phone must trust anew."
                ),
            )
        };
        let certificate =
            CertificateDer::from_pem_slice(bytes).map_err(|_| broken("no certificate can be read in it"))?;
        let key = PrivatePkcs8KeyDer::from_pem_slice(bytes).map_err(|_| broken("no key can be read in it"))?;
        let key = KeyPair::try_from(&key).map_err(|_| broken("its key cannot be read"))?;
        let (_, parsed) =
            X509Certificate::from_der(&certificate).map_err(|_| broken("its certificate cannot be read"))?;
        if parsed.public_key().subject_public_key.data.as_ref() != key.public_key_raw() {
            return Err(broken("its key does not belong to its certificate"));
        }
        let until = DateTime::from_timestamp(parsed.validity().not_after.timestamp(), 0);
        if until.is_none_or(|until| until.date_naive() <= today) {
            return Err(broken("this authority has reached its end"));
        }
        let name = parsed.subject().iter_common_name().next();
        let name = name.and_then(|n| n.as_str().ok()).unwrap_or_default().to_string();
        let permitted = permitted(&parsed);
        let issuer =
            Issuer::from_ca_cert_der(&certificate, key).map_err(|_| broken("its certificate is of no authority"))?;
        Ok(Authority {
            certificate: certificate.clone(),
            issuer,
            name,
            permitted,
        })
    }

    pub fn name(&self) -> &str {
        &self.name
    }

    pub fn certificate(&self) -> &[u8] {
        &self.certificate
    }

    pub fn fingerprint(&self) -> String {
        let hash = Sha256::digest(&self.certificate);
        let bytes: Vec<String> = hash.iter().map(|b| format!("{b:02X}")).collect();
        bytes.join(":")
    }

    /// Whether phones take a certificate of this authority for that name.
    pub fn may_vouch_for(&self, name: &str) -> bool {
        self.permitted.names.iter().any(|p| {
            let ending = name.len().checked_sub(p.len()).map(|at| name.split_at(at));
            ending.is_some_and(|(before, end)| {
                end.eq_ignore_ascii_case(p) && (before.is_empty() || before.ends_with('.'))
            })
        })
    }

    pub fn may_vouch_for_address(&self, address: Ipv4Addr) -> bool {
        let mut networks = self.permitted.networks.iter();
        networks.any(|(network, mask)| u32::from(address) & mask == network & mask)
    }

    /// A certificate for a server of these names and addresses, and its key.
    /// What the authority may not vouch for is left out.
    pub fn vouch(
        &self,
        names: &[String],
        addresses: &[Ipv4Addr],
        today: NaiveDate,
    ) -> Result<(Vec<CertificateDer<'static>>, PrivateKeyDer<'static>), rcgen::Error> {
        let mut params = CertificateParams::default();
        let mut subject = DistinguishedName::new();
        subject.push(DnType::CommonName, "Notchbook at home");
        params.distinguished_name = subject;
        let names = names.iter().filter(|n| self.may_vouch_for(n));
        for name in names {
            params
                .subject_alt_names
                .push(SanType::DnsName(name.as_str().try_into()?));
        }
        for address in addresses.iter().filter(|a| self.may_vouch_for_address(**a)) {
            params.subject_alt_names.push(SanType::IpAddress(IpAddr::V4(*address)));
        }
        params.is_ca = IsCa::ExplicitNoCa;
        params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        params.use_authority_key_identifier_extension = true;
        valid(&mut params, today, today + Days::new(LEAF_DAYS));
        let key = KeyPair::generate()?;
        let leaf = params.signed_by(&key, &self.issuer)?;
        let key = PrivatePkcs8KeyDer::from(key.serialize_der());
        Ok((vec![leaf.der().clone(), self.certificate.clone()], key.into()))
    }
}

/// Valid from the day before on.
fn valid(params: &mut CertificateParams, today: NaiveDate, until: NaiveDate) {
    let at = |day: NaiveDate| rcgen::date_time_ymd(day.year(), day.month() as u8, day.day() as u8);
    params.not_before = at(today - Days::new(1));
    params.not_after = at(until);
}

/// Certificate and key, as PEM.
fn make(names: &[String], addresses: &[Ipv4Addr], today: NaiveDate) -> Result<String, rcgen::Error> {
    let mut params = CertificateParams::default();
    let mut subject = DistinguishedName::new();
    // Phones list authorities by this; the day tells two of them apart.
    let of = names.first().map_or("home", String::as_str);
    let of: String = of.chars().take(30).collect();
    subject.push(DnType::CommonName, format!("Notchbook {of} {today}"));
    params.distinguished_name = subject;
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign];
    let alone = addresses.iter().map(|a| (a.octets(), 32));
    let networks = NETWORKS
        .iter()
        .copied()
        .chain(alone)
        .map(|(network, bits)| GeneralSubtree::IpAddress(CidrSubnet::from_v4_prefix(network, bits)));
    let names = ENDINGS
        .iter()
        .map(|e| e.to_string())
        .chain(names.iter().filter(|n| !ends_at_home(n)).cloned())
        .map(GeneralSubtree::DnsName);
    params.name_constraints = Some(NameConstraints {
        permitted_subtrees: names.chain(networks).collect(),
        excluded_subtrees: Vec::new(),
    });
    let until = today
        .with_year(today.year() + YEARS)
        .unwrap_or(today + Days::new(365 * 10));
    valid(&mut params, today, until);
    let key = KeyPair::generate()?;
    let certificate = params.self_signed(&key)?;
    Ok(format!("{}{}", certificate.pem(), key.serialize_pem()))
}

fn ends_at_home(name: &str) -> bool {
    ENDINGS.iter().any(|e| name == *e || name.ends_with(&format!(".{e}")))
}

fn permitted(certificate: &X509Certificate<'_>) -> Permitted {
    let constraints = certificate
        .extensions()
        .iter()
        .find_map(|e| match e.parsed_extension() {
            ParsedExtension::NameConstraints(c) => c.permitted_subtrees.as_ref(),
            _ => None,
        });
    let mut permitted = Permitted::default();
    for tree in constraints.into_iter().flatten() {
        match &tree.base {
            GeneralName::DNSName(name) => permitted.names.push(name.to_string()),
            // Address and mask, four bytes each (RFC 5280, 4.2.1.10).
            GeneralName::IPAddress([a, b, c, d, mask @ ..]) => {
                if let Ok(mask) = <[u8; 4]>::try_from(mask) {
                    let network = u32::from_be_bytes([*a, *b, *c, *d]);
                    permitted.networks.push((network, u32::from_be_bytes(mask)));
                }
            }
            _ => {}
        }
    }
    permitted
}

/// Whole or not at all, and readable by its owner alone from the first byte on.
fn write(folder: &Path, file: &Path, pem: &str) -> std::io::Result<()> {
    let mut folders = fs::DirBuilder::new();
    folders.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut folders, 0o700);
    folders.create(folder)?;
    let beside: PathBuf = file.with_extension("new");
    let _ = fs::remove_file(&beside);
    let mut options = fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut out = options.open(&beside)?;
    out.write_all(pem.as_bytes())?;
    out.sync_all()?;
    fs::rename(&beside, file)?;
    // The name of the file is on disk only when its folder is.
    fs::File::open(folder)?.sync_all()
}

/// A copied folder may have lost what keeps others out.
#[cfg(unix)]
fn keep_private(file: &Path) -> Result<(), TlsError> {
    use std::os::unix::fs::PermissionsExt;
    let told = |e: std::io::Error| TlsError::of(file, format!("cannot be kept from others: {e}"));
    let mode = fs::metadata(file).map_err(told)?.permissions().mode();
    if mode & 0o077 != 0 {
        tracing::warn!(file = %file.display(), "others could read the authority's key; now they cannot");
        fs::set_permissions(file, fs::Permissions::from_mode(0o600)).map_err(told)?;
    }
    Ok(())
}

#[cfg(not(unix))]
fn keep_private(_: &Path) -> Result<(), TlsError> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rustls::RootCertStore;
    use rustls::client::WebPkiServerVerifier;
    use rustls::client::danger::ServerCertVerifier;
    use rustls::crypto::ring;
    use rustls::pki_types::{ServerName, UnixTime};
    use std::sync::Arc;
    use std::time::Duration;

    fn day() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
    }

    fn own() -> Vec<String> {
        ["table", "table.local", "table.home.example"]
            .map(String::from)
            .to_vec()
    }

    /// Whether a phone that trusts the authority believes `chain` to be `name`'s, so many days later.
    fn believed(authority: &Authority, chain: &[CertificateDer<'_>], name: &str, days: u64) -> bool {
        let mut roots = RootCertStore::empty();
        roots.add(authority.certificate.clone()).unwrap();
        let verifier = WebPkiServerVerifier::builder_with_provider(Arc::new(roots), Arc::new(ring::default_provider()))
            .build()
            .unwrap();
        let now = (day() + Days::new(days))
            .and_hms_opt(12, 0, 0)
            .unwrap()
            .and_utc()
            .timestamp();
        let now = UnixTime::since_unix_epoch(Duration::from_secs(now as u64));
        let name = ServerName::try_from(name.to_string()).unwrap();
        verifier
            .verify_server_cert(&chain[0], &chain[1..], &name, &[], now)
            .is_ok()
    }

    #[test]
    fn phones_believe_it_for_this_computer_at_home() {
        let folder = tempfile::tempdir().unwrap();
        let authority =
            Authority::open(&folder.path().join("tls"), &own(), &[[198, 51, 100, 7].into()], day()).unwrap();
        let addresses = [[127, 0, 0, 1], [192, 168, 1, 5], [198, 51, 100, 7], [203, 0, 113, 9]].map(Ipv4Addr::from);
        let mut names = own();
        names.extend(["localhost".to_string(), "other.example".to_string()]);
        let (chain, _) = authority.vouch(&names, &addresses, day()).unwrap();
        for name in [
            "table",
            "table.local",
            "table.home.example",
            "localhost",
            "127.0.0.1",
            "192.168.1.5",
            "198.51.100.7",
        ] {
            assert!(believed(&authority, &chain, name, 0), "{name}");
            assert!(believed(&authority, &chain, name, 394), "{name} near its end");
            assert!(!believed(&authority, &chain, name, 396), "{name} after its end");
        }
        // Left out rather than in the way of the others.
        for name in ["other.example", "203.0.113.9", "192.168.1.6", "home.example"] {
            assert!(!believed(&authority, &chain, name, 0), "{name}");
        }
        let (_, leaf) = X509Certificate::from_der(&chain[0]).unwrap();
        let life = leaf.validity().not_after.timestamp() - leaf.validity().not_before.timestamp();
        assert!(life <= 397 * 24 * 3600, "{life}");
    }

    /// Who steals the key passes for no site of the internet.
    #[test]
    fn it_vouches_for_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let authority = Authority::open(folder.path(), &own(), &[], day()).unwrap();
        let forged = |name: &str| {
            let mut params = CertificateParams::new(vec![name.to_string()]).unwrap();
            params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
            valid(&mut params, day(), day() + Days::new(30));
            let key = KeyPair::generate().unwrap();
            let leaf = params.signed_by(&key, &authority.issuer).unwrap();
            believed(&authority, &[leaf.der().clone()], name, 0)
        };
        assert!(forged("sewing.local") && forged("10.1.2.3"), "the check can say yes");
        for name in [
            "bank.example",
            "example.com",
            "local.example",
            "8.8.8.8",
            "172.32.0.1",
            "xtable",
        ] {
            assert!(!forged(name), "{name}");
        }
        // Nor by another authority that it makes, which it may not.
        let (_, own) = X509Certificate::from_der(&authority.certificate).unwrap();
        let limits = own.basic_constraints().unwrap().expect("limits").value;
        assert!(limits.ca && limits.path_len_constraint == Some(0));
        let mut params = CertificateParams::new(Vec::new()).unwrap();
        params.is_ca = IsCa::Ca(BasicConstraints::Unconstrained);
        valid(&mut params, day(), day() + Days::new(30));
        let key = KeyPair::generate().unwrap();
        let below = params.signed_by(&key, &authority.issuer).unwrap();
        let issuer = Issuer::from_ca_cert_der(below.der(), key).unwrap();
        let mut params = CertificateParams::new(vec!["bank.example".to_string()]).unwrap();
        valid(&mut params, day(), day() + Days::new(30));
        let leaf = params.signed_by(&KeyPair::generate().unwrap(), &issuer).unwrap();
        let chain = [leaf.der().clone(), below.der().clone()];
        assert!(!believed(&authority, &chain, "bank.example", 0));
    }

    #[test]
    fn it_is_kept_and_kept_private() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("tls");
        let first = Authority::open(&place, &own(), &[], day()).unwrap();
        assert_eq!(first.name(), "Notchbook table 2026-11-25");
        assert_eq!(first.fingerprint().len(), 32 * 3 - 1);
        // The computer is called otherwise by now.
        let later = Authority::open(
            &place,
            &["bench".into(), "bench.local".into()],
            &[],
            day() + Days::new(400),
        )
        .unwrap();
        assert_eq!(first.fingerprint(), later.fingerprint());
        assert!(later.may_vouch_for("bench.local") && !later.may_vouch_for("bench"));
        assert!(later.may_vouch_for("Table") && !later.may_vouch_for("table.example"));
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode() & 0o777;
            let file = place.join(FILE);
            assert_eq!((mode(&place), mode(&file)), (0o700, 0o600));
            fs::set_permissions(&file, fs::Permissions::from_mode(0o644)).unwrap();
            Authority::open(&place, &own(), &[], day()).unwrap();
            assert_eq!(mode(&file), 0o600);
        }
    }

    #[test]
    fn a_broken_one_is_told_and_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(FILE);
        let whole = make(&own(), &[], day()).unwrap();
        let other = make(&own(), &[], day()).unwrap();
        let cut = |pem: &str, mark: &str| pem[pem.find(mark).unwrap()..].to_string();
        let certificate = whole.replace(&cut(&whole, "-----BEGIN PRIVATE"), "");
        for (bytes, said) in [
            (String::new(), "no certificate"),
            ("not PEM".into(), "no certificate"),
            (certificate.clone(), "no key"),
            (
                certificate.clone() + &cut(&other, "-----BEGIN PRIVATE"),
                "does not belong",
            ),
        ] {
            fs::write(&file, &bytes).unwrap();
            let error = Authority::open(folder.path(), &own(), &[], day())
                .err()
                .expect("refused")
                .to_string();
            assert!(
                error.contains(said) && error.contains("new authority is made"),
                "{error}"
            );
            assert_eq!(fs::read_to_string(&file).unwrap(), bytes);
        }
        fs::write(&file, &whole).unwrap();
        let error = Authority::open(folder.path(), &own(), &[], day() + Days::new(3660))
            .err()
            .expect("refused");
        assert!(error.to_string().contains("reached its end"), "{error}");
    }
}
