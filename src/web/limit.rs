//! How often an address may ask: a token bucket for each, kept in whole seconds.

use chrono::{DateTime, Utc};
use std::collections::HashMap;
use std::net::IpAddr;

/// So many at once, and then one in so many seconds.
#[derive(Clone, Copy, Debug)]
pub struct Rate {
    pub at_once: i64,
    pub seconds_each: i64,
}

/// Addresses remembered. A home has fewer; more is someone making them up.
const ADDRESSES: usize = 256;

pub struct Limit {
    rate: Rate,
    buckets: HashMap<IpAddr, Bucket>,
}

#[derive(Clone, Copy)]
struct Bucket {
    left: i64,
    at: DateTime<Utc>,
}

impl Limit {
    pub fn new(rate: Rate) -> Limit {
        Limit {
            rate,
            buckets: HashMap::new(),
        }
    }

    fn full(&self) -> i64 {
        self.rate.seconds_each * self.rate.at_once
    }

    fn left(&self, bucket: Bucket, now: DateTime<Utc>) -> i64 {
        self.full().min(bucket.left + (now - bucket.at).num_seconds().max(0))
    }

    /// Whether `from` may ask once more, which is counted.
    pub fn another(&mut self, from: IpAddr, now: DateTime<Utc>) -> bool {
        let full = self.full();
        if self.buckets.len() >= ADDRESSES && !self.buckets.contains_key(&from) {
            let rested: Vec<IpAddr> = self
                .buckets
                .iter()
                .filter(|(_, b)| self.left(**b, now) >= full)
                .map(|(ip, _)| *ip)
                .collect();
            for ip in rested {
                self.buckets.remove(&ip);
            }
            if self.buckets.len() >= ADDRESSES {
                return false;
            }
        }
        let left = self.buckets.get(&from).map_or(full, |b| self.left(*b, now));
        if left < self.rate.seconds_each {
            return false;
        }
        let left = left - self.rate.seconds_each;
        self.buckets.insert(from, Bucket { left, at: now });
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::Ipv4Addr;

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_790_000_000 + seconds, 0).unwrap()
    }

    fn from(n: u32) -> IpAddr {
        IpAddr::V4(Ipv4Addr::from(0x0a00_0000 + n))
    }

    #[test]
    fn made_up_addresses_do_not_fill_the_memory() {
        let mut tries = Limit::new(Rate {
            at_once: 5,
            seconds_each: 30,
        });
        for n in 0..10_000 {
            tries.another(from(n), at(0));
        }
        assert_eq!(tries.buckets.len(), ADDRESSES);
        assert!(!tries.another(from(20_000), at(1)));
        // Those that wait long enough are forgotten.
        assert!(tries.another(from(20_000), at(60)));
        assert_eq!(tries.buckets.len(), 1);
    }

    #[test]
    fn a_quick_rate_refills_while_one_waits() {
        let mut limit = Limit::new(Rate {
            at_once: 100,
            seconds_each: 1,
        });
        let asked = |limit: &mut Limit, n: usize, now| (0..n).filter(|_| limit.another(from(1), now)).count();
        assert_eq!(asked(&mut limit, 150, at(0)), 100);
        assert_eq!(asked(&mut limit, 150, at(10)), 10);
        assert_eq!(asked(&mut limit, 150, at(1000)), 100);
    }
}
