//! The way in from the home network: where this computer is found, and what
//! lets a device in.

use super::guard::{host_name, is_loopback_name};
use super::pairing::{Code, Pairing};
use super::tls::{Tls, Trust};
use super::visitor::is_encrypted;
use actix_web::HttpRequest;
use if_addrs::IfAddr;
use std::net::{IpAddr, Ipv4Addr, UdpSocket};

/// There only while the notebook listens to the home network.
pub struct Lan {
    pub port: u16,
    /// Names this computer goes by, besides its addresses.
    pub names: Vec<String>,
    pub pairing: Pairing,
    /// Whether others get here by https.
    encrypted: bool,
    /// Names the maker's own certificate is for: an address would not match it.
    certified: Vec<String>,
}

impl Lan {
    pub fn new(port: u16, tls: Option<&Tls>) -> Lan {
        let certified = match tls.map(|t| &t.trust) {
            Some(Trust::OwnFiles { names, .. }) => names.clone(),
            _ => Vec::new(),
        };
        let mut names = own_names();
        names.extend(certified.iter().cloned());
        Lan {
            port,
            names,
            pairing: Pairing::default(),
            encrypted: tls.is_some(),
            certified,
        }
    }

    /// How a device gets here now, the best way first, such as
    /// `http://192.168.1.5:4517`. Asked anew each time: a laptop changes networks.
    pub fn ways(&self) -> Vec<String> {
        let scheme = scheme(self.encrypted);
        self.hosts()
            .map(|host| format!("{scheme}://{host}:{}", self.port))
            .collect()
    }

    /// Where a phone gets what it is to trust, before it can come in encrypted.
    pub fn way_to_trust(&self) -> Option<String> {
        let host = self.hosts().next()?;
        self.encrypted.then(|| format!("http://{host}:{}/trust", self.port))
    }

    fn hosts(&self) -> impl Iterator<Item = String> {
        let names = self.certified.iter().filter(|n| !is_loopback_name(n)).cloned();
        let addresses = own_addresses().into_iter().map(|ip| ip.to_string());
        names.chain(addresses).collect::<Vec<_>>().into_iter()
    }
}

/// What is scanned. The code stands after the #, which browsers send to
/// nobody: it is in no log and no referrer.
pub fn link(way: &str, code: &Code) -> String {
    format!("{way}/pair#{}", code.plain())
}

pub fn scheme(encrypted: bool) -> &'static str {
    if encrypted { "https" } else { "http" }
}

/// This server as a link for others names it: as the browser reached it, but
/// not by a name that means another computer elsewhere. The guard has checked
/// the host; what a forwarding header says is nobody's word.
pub fn base(request: &HttpRequest, lan: Option<&Lan>) -> String {
    let host = request.headers().get("host").and_then(|h| h.to_str().ok());
    let host = host.unwrap_or("localhost");
    match lan.and_then(|l| l.ways().into_iter().next()) {
        Some(way) if is_loopback_name(host_name(host)) => way,
        _ => {
            format!("{}://{host}", scheme(is_encrypted(request)))
        }
    }
}

/// Names a browser may call this computer by.
pub fn own_names() -> Vec<String> {
    names(&gethostname::gethostname().to_string_lossy())
}

/// Its host name, whole and without
/// the network's part, and as it is announced in the home network.
fn names(host: &str) -> Vec<String> {
    let host = host.trim().trim_end_matches('.').to_ascii_lowercase();
    let short = host.split('.').next().unwrap_or_default();
    if short.is_empty() || is_loopback_name(&host) || host.parse::<IpAddr>().is_ok() {
        return Vec::new();
    }
    let mut names = vec![short.to_string(), format!("{short}.local")];
    if !names.contains(&host) {
        names.push(host);
    }
    names
}

/// IPv4 addresses others may reach, the likeliest first.
pub fn own_addresses() -> Vec<Ipv4Addr> {
    let found = if_addrs::get_if_addrs().unwrap_or_else(|error| {
        tracing::warn!(%error, "this computer's addresses could not be read");
        Vec::new()
    });
    let found = found.into_iter().filter_map(|i| match i.addr {
        IfAddr::V4(v4) => Some((i.name, v4.ip)),
        IfAddr::V6(_) => None,
    });
    in_order(found, outward())
}

/// The address this computer speaks from when it speaks to anywhere else. The
/// address asked about is set aside for documents; nothing is sent to it.
fn outward() -> Option<Ipv4Addr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((Ipv4Addr::new(203, 0, 113, 1), 9)).ok()?;
    match socket.local_addr().ok()?.ip() {
        IpAddr::V4(ip) if !ip.is_unspecified() => Some(ip),
        _ => None,
    }
}

fn in_order(found: impl IntoIterator<Item = (String, Ipv4Addr)>, outward: Option<Ipv4Addr>) -> Vec<Ipv4Addr> {
    let mut ways: Vec<_> = found
        .into_iter()
        .filter(|(_, ip)| !ip.is_loopback() && !ip.is_unspecified())
        .map(|(device, ip)| {
            let less_likely = (
                ip.is_link_local(),
                is_made_up(&device),
                !ip.is_private(),
                Some(ip) != outward,
            );
            (less_likely, ip)
        })
        .collect();
    ways.sort();
    ways.dedup_by_key(|way| way.1);
    ways.into_iter().map(|way| way.1).collect()
}

/// Networks that end inside this computer or in a tunnel, by the names systems
/// give their devices: no phone is there.
fn is_made_up(device: &str) -> bool {
    const BEGINNINGS: [&str; 12] = [
        "docker",
        "br-",
        "virbr",
        "veth",
        "vboxnet",
        "vmnet",
        "vethernet",
        "lxc",
        "tun",
        "tap",
        "utun",
        "wg",
    ];
    let device = device.to_ascii_lowercase();
    BEGINNINGS.iter().any(|b| device.starts_with(b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::test::TestRequest;

    fn device(name: &str, ip: [u8; 4]) -> (String, Ipv4Addr) {
        (name.into(), ip.into())
    }

    #[test]
    fn the_home_network_comes_first() {
        let found = [
            device("lo", [127, 0, 0, 1]),
            device("docker0", [172, 17, 0, 1]),
            device("virbr0", [192, 168, 122, 1]),
            device("eth0", [169, 254, 3, 4]),
            device("wwan0", [203, 0, 113, 9]),
            device("eth1", [10, 0, 0, 7]),
            device("wlan0", [192, 168, 1, 5]),
        ];
        let said = |outward: Option<[u8; 4]>| -> Vec<String> {
            in_order(found.clone(), outward.map(Ipv4Addr::from))
                .iter()
                .map(ToString::to_string)
                .collect()
        };
        assert_eq!(
            said(Some([192, 168, 1, 5])),
            [
                "192.168.1.5",
                "10.0.0.7",
                "203.0.113.9",
                "172.17.0.1",
                "192.168.122.1",
                "169.254.3.4"
            ]
        );
        assert_eq!(said(Some([10, 0, 0, 7]))[0], "10.0.0.7");
        // A phone is in the home network rather than where the internet is reached by.
        assert_eq!(said(Some([203, 0, 113, 9]))[0], "10.0.0.7");
        assert!(in_order([device("lo", [127, 0, 0, 1])], None).is_empty());
    }

    #[test]
    fn names_of_this_computer() {
        assert_eq!(names("Sewing-Room"), ["sewing-room", "sewing-room.local"]);
        assert_eq!(names("table.local"), ["table", "table.local"]);
        assert_eq!(
            names("table.home.example."),
            ["table", "table.local", "table.home.example"]
        );
        for none in ["", ".", "localhost", "127.0.0.1", "192.168.1.5"] {
            assert!(names(none).is_empty(), "{none}");
        }
    }

    #[test]
    fn links_for_others_never_trust_a_forwarding_header() {
        let request = TestRequest::default()
            .insert_header(("host", "laptop.local:4517"))
            .insert_header(("x-forwarded-host", "evil.example"))
            .insert_header(("x-forwarded-proto", "https"))
            .insert_header(("forwarded", "host=evil.example;proto=https"))
            .to_http_request();
        assert_eq!(base(&request, None), "http://laptop.local:4517");
    }
}
