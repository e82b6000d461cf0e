//! Unit sizes side by side: looked at without being saved, taken in one step.

use crate::face_bench::{Bench, SIZE};
use crate::plan_forms::{plan, save};

#[test]
fn sizes_are_compared_side_by_side_and_one_is_taken() {
    let bench = Bench::new();
    bench.saved(&[
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "all-alike"),
    ]);
    let address = format!("{}/unit-sizes", bench.project);
    for page in [bench.project.clone(), bench.address()] {
        assert!(
            bench.server.get(&page).body.contains("unit-sizes"),
            "{page} leads there"
        );
    }
    let asked = format!("{address}?piece={}&size_1=3&size_2=2+1%2F2&size_3=90", bench.piece);
    let page = bench.server.get(&asked);
    assert_eq!(page.status, 200);
    let text = page.text();
    // 22 x 26 in: 6 x 7, 8 x 9, 9 x 11.
    for part in [
        "6 × 7",
        "8 × 9",
        "9 × 11",
        "24 1/2 × 28 1/2 in",
        "+30",
        "bigger than Front",
        "Take 2 1/2 in",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert_eq!(bench.now()["face"]["finished"], "4 in", "looking saves nothing");

    let field = |n: usize| format!("take_{n}_{}", bench.piece);
    let seen = bench.server.hidden(&asked, "seen");
    let (three, half, huge) = (field(1), field(2), field(3));
    let sizes = [
        ("seen", seen.as_str()),
        (three.as_str(), "3 in"),
        (half.as_str(), "2 1/2 in"),
        (huge.as_str(), "90 in"),
        ("piece", bench.piece.as_str()),
        ("size_1", "3"),
    ];
    let take = |n: &str, more: &[(&str, &str)]| {
        let mut fields = sizes.to_vec();
        fields.push(("take", n));
        fields.extend_from_slice(more);
        bench.server.post(&address, &fields)
    };
    let refused = take("3", &[]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("bigger than Front"), "{}", refused.text());
    let taken = take("2", &[("decided", "Smaller squares"), ("why", "The print is small.")]);
    assert_eq!(taken.status, 303, "{}", taken.text());
    assert_eq!(bench.now()["face"]["finished"], "2 1/2 in");
    let log = bench.server.get(&format!("{}/log", bench.project)).text();
    assert!(
        log.contains("Smaller squares") && log.contains("57 more patches"),
        "{log}"
    );
    // From the same old revision again, to another size: the piece was changed meanwhile.
    let clash = take("1", &[]);
    assert_eq!(clash.status, 409);
    assert!(clash.text().contains("Front was changed"), "{}", clash.text());
    assert_eq!(bench.now()["face"]["finished"], "2 1/2 in");
}

#[test]
fn each_piece_can_have_its_own_size_in_one_step() {
    let bench = Bench::new();
    let face = [
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "all-alike"),
    ];
    bench.saved(&face);
    let mut second: Vec<(&str, &str)> = SIZE.to_vec();
    second[0] = ("name", "Back");
    let cloth = bench.cloths[1].clone();
    second.extend(
        face.iter()
            .map(|(n, v)| (*n, if *v == "A" { cloth.as_str() } else { *v })),
    );
    assert_eq!(
        save(&bench.server, &format!("{}/pieces/new", bench.project), &second).status,
        303
    );
    let pieces = plan(&bench.server, &bench.project)["pieces"].clone();
    let back = pieces[1]["id"].as_str().expect("an id");
    let address = format!("{}/unit-sizes", bench.project);
    let asked = format!("{address}?piece={}&piece={back}&size_1=3&own_1_{back}=5", bench.piece);
    let text = bench.server.get(&asked).text();
    assert!(text.contains("Front 3 in, Back 5 in"), "{text}");
    let (seen, front) = (bench.server.hidden(&asked, "seen"), bench.piece.clone());
    let before = bench.server.get(&format!("{}/revisions", bench.project)).text();
    let taken = bench.server.post(
        &address,
        &[
            ("seen", seen.as_str()),
            ("take", "1"),
            (&format!("take_1_{front}"), "3 in"),
            (&format!("take_1_{back}"), "5 in"),
        ],
    );
    assert_eq!(taken.status, 303, "{}", taken.text());
    let pieces = plan(&bench.server, &bench.project)["pieces"].clone();
    assert_eq!(pieces[0]["face"]["finished"], "3 in");
    assert_eq!(pieces[1]["face"]["finished"], "5 in");
    let after = bench.server.get(&format!("{}/revisions", bench.project)).text();
    assert!(
        !before.contains("1 more changed") && after.contains("and 1 more changed"),
        "{after}"
    );
    // A size that cannot be read stands beside its field, the others are compared.
    let page = bench
        .server
        .get(&format!("{address}?piece={front}&size_1=1%2F0&size_2=6"));
    assert!(page.body.contains("id=\"size_1-error\""), "{}", page.text());
    assert!(page.text().contains("Take 6 in"), "{}", page.text());
}
