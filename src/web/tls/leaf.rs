//! The certificate of now: made when it is asked for, for the names and
//! addresses this computer has at that moment, and made anew when they change
//! or its end is near. It lives in memory alone.

use super::TlsError;
use super::authority::Authority;
use crate::web::lan::own_addresses;
use chrono::{Days, NaiveDate, Utc};
use rustls::crypto::ring;
use rustls::server::{ClientHello, ResolvesServerCert};
use rustls::sign::CertifiedKey;
use std::net::Ipv4Addr;
use std::sync::{Arc, Mutex, PoisonError};

/// Made anew after so many days: more than a month before its end.
const RENEW_AFTER: Days = Days::new(360);

pub struct Renewing {
    authority: Authority,
    names: Vec<String>,
    lan: bool,
    made: Mutex<Option<Made>>,
}

struct Made {
    addresses: Vec<Ipv4Addr>,
    on: NaiveDate,
    certificate: Arc<CertifiedKey>,
}

impl std::fmt::Debug for Renewing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Renewing")
            .field("names", &self.names)
            .finish_non_exhaustive()
    }
}

impl Renewing {
    pub fn new(authority: Authority, mut names: Vec<String>, lan: bool) -> Renewing {
        names.push("localhost".into());
        Renewing {
            authority,
            names,
            lan,
            made: Mutex::new(None),
        }
    }

    pub fn now(&self) -> Result<Arc<CertifiedKey>, TlsError> {
        let mut addresses = vec![Ipv4Addr::LOCALHOST];
        if self.lan {
            addresses.extend(own_addresses());
        }
        self.of(addresses, Utc::now().date_naive())
    }

    fn of(&self, addresses: Vec<Ipv4Addr>, today: NaiveDate) -> Result<Arc<CertifiedKey>, TlsError> {
        let mut made = self.made.lock().unwrap_or_else(PoisonError::into_inner);
        // A clock set back makes the day of making a day to come.
        if let Some(m) = made.as_ref()
            && m.addresses == addresses
            && (m.on..m.on + RENEW_AFTER).contains(&today)
        {
            return Ok(m.certificate.clone());
        }
        let (chain, key) = self.authority.vouch(&self.names, &addresses, today)?;
        let certificate = CertifiedKey::from_der(chain, key, &ring::default_provider())?;
        let certificate = Arc::new(certificate);
        tracing::debug!(?addresses, "a certificate was made");
        for address in addresses.iter().filter(|a| !self.authority.may_vouch_for_address(**a)) {
            tracing::warn!(
                %address,
                "this address is in no network at home: phones will not believe the notebook's certificate there"
            );
        }
        *made = Some(Made {
            addresses,
            on: today,
            certificate: certificate.clone(),
        });
        Ok(certificate)
    }
}

impl ResolvesServerCert for Renewing {
    fn resolve(&self, _: ClientHello<'_>) -> Option<Arc<CertifiedKey>> {
        self.now()
            .inspect_err(|error| tracing::error!(%error, "no certificate"))
            .ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_made_anew_when_it_must_be() {
        let folder = tempfile::tempdir().unwrap();
        let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
        let authority = Authority::open(folder.path(), &[], &[], day).unwrap();
        let renewing = Renewing::new(authority, vec!["table.local".into()], true);
        let home = || vec![Ipv4Addr::LOCALHOST, [192, 168, 1, 5].into()];
        let first = renewing.of(home(), day).unwrap();
        let same = |other: &Arc<CertifiedKey>| first.end_entity_cert().unwrap() == other.end_entity_cert().unwrap();
        assert!(same(&renewing.of(home(), day + Days::new(359)).unwrap()));
        let near_its_end = renewing.of(home(), day + Days::new(360)).unwrap();
        assert!(!same(&near_its_end));
        let clock_set_back = renewing.of(home(), day).unwrap();
        assert!(!Arc::ptr_eq(&near_its_end, &clock_set_back));
        let elsewhere = renewing
            .of(vec![Ipv4Addr::LOCALHOST, [10, 0, 0, 7].into()], day)
            .unwrap();
        assert!(!Arc::ptr_eq(&clock_set_back, &elsewhere));
        assert!(Arc::ptr_eq(
            &elsewhere,
            &renewing
                .of(vec![Ipv4Addr::LOCALHOST, [10, 0, 0, 7].into()], day)
                .unwrap()
        ));
    }
}
