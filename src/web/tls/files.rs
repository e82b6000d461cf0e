//! Certificate files of the maker's own, read again when they were renewed.

use super::{TlsError, Trust};
use chrono::{DateTime, Utc};
use rustls::crypto::ring;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use rustls::server::{ClientHello, ResolvesServerCert};
use rustls::sign::CertifiedKey;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant, SystemTime};
use x509_parser::extensions::GeneralName;
use x509_parser::prelude::{FromDer, X509Certificate};

/// How long until the files are looked at again.
const LOOK_AGAIN: Duration = Duration::from_secs(60);

pub struct OwnFiles {
    certificate: PathBuf,
    key: PathBuf,
    held: Mutex<Held>,
}

struct Held {
    certificate: Arc<CertifiedKey>,
    written: Written,
    looked: Instant,
}

/// When each file was written.
type Written = [Option<SystemTime>; 2];

impl std::fmt::Debug for OwnFiles {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("OwnFiles")
            .field("certificate", &self.certificate)
            .finish_non_exhaustive()
    }
}

impl OwnFiles {
    pub fn open(certificate: &Path, key: &Path) -> Result<(OwnFiles, Trust), TlsError> {
        let written = written(certificate, key);
        let (held, trust) = read(certificate, key)?;
        let files = OwnFiles {
            certificate: certificate.to_path_buf(),
            key: key.to_path_buf(),
            held: Mutex::new(Held {
                certificate: Arc::new(held),
                written,
                looked: Instant::now(),
            }),
        };
        Ok((files, trust))
    }

    fn current(&self, now: Instant) -> Arc<CertifiedKey> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if now.saturating_duration_since(held.looked) >= LOOK_AGAIN {
            held.looked = now;
            let written = written(&self.certificate, &self.key);
            if written != held.written {
                // Half renewed files are looked at again later.
                match read(&self.certificate, &self.key) {
                    Ok((certificate, _)) => {
                        tracing::info!("the renewed certificate is used");
                        held.certificate = Arc::new(certificate);
                        held.written = written;
                    }
                    Err(error) => tracing::warn!(%error, "the certificate of before stays in use"),
                }
            }
        }
        held.certificate.clone()
    }
}

impl ResolvesServerCert for OwnFiles {
    fn resolve(&self, _: ClientHello<'_>) -> Option<Arc<CertifiedKey>> {
        Some(self.current(Instant::now()))
    }
}

fn written(certificate: &Path, key: &Path) -> Written {
    [certificate, key].map(|file| fs::metadata(file).and_then(|m| m.modified()).ok())
}

fn read(certificate: &Path, key: &Path) -> Result<(CertifiedKey, Trust), TlsError> {
    let bytes = |file: &Path| fs::read(file).map_err(|e| TlsError::of(file, format!("could not be read: {e}")));
    let (chain_bytes, key_bytes) = (bytes(certificate)?, bytes(key)?);
    let chain: Vec<CertificateDer<'static>> = CertificateDer::pem_slice_iter(&chain_bytes)
        .collect::<Result<_, _>>()
        .map_err(|_| TlsError::of(certificate, "is not whole. It must be a PEM file of certificates."))?;
    let Some(first) = chain.first() else {
        return Err(TlsError::of(
            certificate,
            "holds no certificate. It must be a PEM file that begins with the server's certificate.",
        ));
    };
    let trust = describe(first, certificate)?;
    let private = PrivateKeyDer::from_pem_slice(&key_bytes)
        .map_err(|_| TlsError::of(key, "holds no private key. It must be a PEM file, without a password."))?;
    let held = CertifiedKey::from_der(chain, private, &ring::default_provider()).map_err(|error| match error {
        rustls::Error::InconsistentKeys(_) => TlsError::of(
            key,
            format!("is not the key of the certificate in {}.", certificate.display()),
        ),
        other => TlsError::of(key, format!("cannot be used: {other}")),
    })?;
    Ok((held, trust))
}

fn describe(certificate: &CertificateDer<'_>, file: &Path) -> Result<Trust, TlsError> {
    let unreadable = || TlsError::of(file, "its certificate cannot be read");
    let (_, parsed) = X509Certificate::from_der(certificate).map_err(|_| unreadable())?;
    let until = DateTime::from_timestamp(parsed.validity().not_after.timestamp(), 0).ok_or_else(unreadable)?;
    if until <= Utc::now() {
        return Err(TlsError::of(
            file,
            format!(
                "its certificate ended on {}. Renew it first.",
                until.format("%-d %B %Y")
            ),
        ));
    }
    let names = parsed.subject_alternative_name().map_err(|_| unreadable())?;
    let names = names.map_or(Vec::new(), |names| {
        let names = names.value.general_names.iter().filter_map(|name| match name {
            GeneralName::DNSName(name) if !name.starts_with('*') => Some(name.to_ascii_lowercase()),
            _ => None,
        });
        names.collect()
    });
    Ok(Trust::OwnFiles { names, until })
}

#[cfg(test)]
mod tests {
    use super::*;
    use rcgen::{CertificateParams, KeyPair};

    /// A certificate for a name, and its key, as PEM.
    fn pair(name: &str, year: i32) -> (String, String) {
        let mut params = CertificateParams::new(vec![name.to_string(), "*.wild.example".into()]).unwrap();
        params.not_after = rcgen::date_time_ymd(year, 1, 1);
        let key = KeyPair::generate().unwrap();
        (params.self_signed(&key).unwrap().pem(), key.serialize_pem())
    }

    #[test]
    fn files_are_read_and_slips_are_told() {
        let folder = tempfile::tempdir().unwrap();
        let [c, k] = ["c.pem", "k.pem"].map(|n| folder.path().join(n));
        let (certificate, key) = pair("Table.example", 2200);
        fs::write(&c, &certificate).unwrap();
        fs::write(&k, &key).unwrap();
        let (_, trust) = read(&c, &k).unwrap();
        let Trust::OwnFiles { names, .. } = trust else {
            panic!("own files")
        };
        assert_eq!(names, ["table.example"]);
        let old = pair("table.example", 2020);
        for (certificate, key, said) in [
            ("", key.as_str(), "c.pem: holds no certificate"),
            (key.as_str(), key.as_str(), "c.pem: holds no certificate"),
            (&certificate[..200], key.as_str(), "c.pem: is not whole"),
            (certificate.as_str(), "", "k.pem: holds no private key"),
            (
                certificate.as_str(),
                certificate.as_str(),
                "k.pem: holds no private key",
            ),
            (
                certificate.as_str(),
                pair("x.example", 2200).1.as_str(),
                "k.pem: is not the key of",
            ),
            (
                old.0.as_str(),
                old.1.as_str(),
                "c.pem: its certificate ended on 1 January 2020",
            ),
        ] {
            fs::write(&c, certificate).unwrap();
            fs::write(&k, key).unwrap();
            let error = read(&c, &k).expect_err("refused").to_string();
            assert!(error.contains(said), "{said}: {error}");
        }
        fs::remove_file(&k).unwrap();
        fs::write(&c, &certificate).unwrap();
        assert!(
            read(&c, &k)
                .expect_err("refused")
                .to_string()
                .contains("k.pem: could not be read")
        );
    }

    #[test]
    fn renewed_files_are_taken_and_half_renewed_ones_are_not() {
        let folder = tempfile::tempdir().unwrap();
        let [c, k] = ["c.pem", "k.pem"].map(|n| folder.path().join(n));
        let put = |pair: &(String, String), at: u64| {
            for (file, text) in [(&c, &pair.0), (&k, &pair.1)] {
                fs::write(file, text).unwrap();
                let at = SystemTime::UNIX_EPOCH + Duration::from_secs(1_790_000_000 + at);
                fs::File::options()
                    .write(true)
                    .open(file)
                    .unwrap()
                    .set_modified(at)
                    .unwrap();
            }
        };
        put(&pair("a.example", 2200), 0);
        let (files, _) = OwnFiles::open(&c, &k).unwrap();
        let begun = Instant::now();
        let first = files.current(begun);
        let renewed = pair("b.example", 2200);
        put(&(renewed.0.clone(), pair("c.example", 2200).1), 1);
        assert!(Arc::ptr_eq(&first, &files.current(begun + LOOK_AGAIN)));
        put(&renewed, 2);
        assert!(
            Arc::ptr_eq(&first, &files.current(begun + LOOK_AGAIN)),
            "not looked at yet"
        );
        assert!(!Arc::ptr_eq(&first, &files.current(begun + LOOK_AGAIN * 3)));
    }
}
