//! Encryption: by certificate files of the maker's own, or by a local
//! authority that is made on first use and that phones are told to trust.

mod authority;
mod files;
mod leaf;

use authority::Authority;
use chrono::{DateTime, Utc};
use files::OwnFiles;
use leaf::Renewing;
use rustls::server::ResolvesServerCert;
use rustls::{ServerConfig, crypto::ring};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Why there is no encryption, as a sentence that says what to do.
#[derive(Debug, thiserror::Error)]
pub enum TlsError {
    #[error("{}: {why}", .file.display())]
    File { file: PathBuf, why: String },
    #[error("a certificate could not be made: {0}")]
    Making(#[from] rcgen::Error),
    #[error("encryption could not be set up: {0}")]
    SettingUp(#[from] rustls::Error),
}

impl TlsError {
    fn of(file: &Path, why: impl Into<String>) -> TlsError {
        TlsError::File {
            file: file.to_path_buf(),
            why: why.into(),
        }
    }
}

/// Why a browser believes the certificate.
#[derive(Clone, Debug)]
pub enum Trust {
    /// A phone is told to trust this notebook's own authority.
    Authority {
        /// As the phone's list of authorities shows it.
        name: String,
        /// SHA-256 of the certificate, `AB:CD:...`, as phones show it.
        fingerprint: String,
        /// DER.
        certificate: Vec<u8>,
    },
    /// Certificate files that were handed in; who signed them is not ours to say.
    OwnFiles {
        /// Names the certificate is for, without wildcards.
        names: Vec<String>,
        until: DateTime<Utc>,
    },
}

pub struct Tls {
    pub config: Arc<ServerConfig>,
    pub trust: Trust,
}

impl Tls {
    /// By the authority in the notebook's folder, made if it is not there.
    /// `lan`: the certificate is for this computer's addresses at home too.
    pub fn by_authority(notebook: &Path, lan: bool) -> Result<Tls, TlsError> {
        let names = super::lan::own_names();
        let addresses = if lan { super::lan::own_addresses() } else { Vec::new() };
        let authority = Authority::open(&notebook.join("tls"), &names, &addresses, Utc::now().date_naive())?;
        let trust = Trust::Authority {
            name: authority.name().to_string(),
            fingerprint: authority.fingerprint(),
            certificate: authority.certificate().to_vec(),
        };
        let renewing = Renewing::new(authority, names, lan);
        // What cannot be made is told now rather than to the first phone.
        renewing.now()?;
        Tls::new(Arc::new(renewing), trust)
    }

    pub fn by_files(certificate: &Path, key: &Path) -> Result<Tls, TlsError> {
        let (files, trust) = OwnFiles::open(certificate, key)?;
        Tls::new(Arc::new(files), trust)
    }

    fn new(resolver: Arc<dyn ResolvesServerCert>, trust: Trust) -> Result<Tls, TlsError> {
        // rustls knows TLS 1.2 and 1.3 only: what is older is refused.
        let mut config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
            .with_safe_default_protocol_versions()?
            .with_no_client_auth()
            .with_cert_resolver(resolver);
        config.alpn_protocols = vec![b"http/1.1".to_vec()];
        Ok(Tls {
            config: Arc::new(config),
            trust,
        })
    }
}
