//! The main job, steps 1 to 7.

use crate::driver::{Browser, LAPTOP, PHONE, Screen};
use crate::support::Server;

#[tokio::test(flavor = "multi_thread")]
async fn the_main_job_on_a_phone() {
    whole_job(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_main_job_on_a_laptop() {
    whole_job(LAPTOP).await;
}

async fn whole_job(screen: Screen) {
    let server = Server::empty();
    let b = Browser::open(screen, &server.address).await;
    start_a_project(&b).await;
    enter_a_piece(&b).await;
    choose_cloths(&b).await;
    choose_the_patchwork(&b).await;
    bind_the_edges(&b).await;
    read_the_figures(&b).await;
    write_the_log(&b).await;
    share_the_materials(&b).await;
    start_the_next_one(&b).await;
    b.close().await;
}

/// 1. Title, for whom, pattern with maker, link and size, due date.
async fn start_a_project(b: &Browser) {
    b.go("/").await;
    b.check("1 empty notebook").await;
    b.press("Start the first project").await;
    b.press("Start").await;
    b.until(".errors", "Give the project a title").await;
    b.check("1 a title is missing").await;
    b.type_in("title", "Heather vest").await;
    b.type_in("for_whom", "Marit").await;
    b.type_in("pattern_name", "Fellside vest").await;
    b.type_in("pattern_maker", "Brindle and Tuck").await;
    b.type_in("pattern_size", "14").await;
    b.type_in("pattern_link", "https://example.com/fellside").await;
    b.script(
        "const d=document.querySelector('[name=due]'); d.value='2027-03-14'; d.dispatchEvent(new Event('input',{bubbles:true}))",
        vec![],
    )
    .await;
    b.check("1 start form").await;
    b.press("Start").await;
    b.until("h1", "Heather vest").await;
    let facts = b.text(".project-facts").await;
    for part in ["Marit", "Fellside vest", "Brindle and Tuck", "size 14", "14 March 2027"] {
        assert!(facts.contains(part), "{part}: {facts}");
    }
    b.check("1 project begun").await;
    assert!(
        !b.page_text().await.contains("Next:"),
        "the first piece has its own button"
    );
}

/// 2. A piece with its count, mirrored pair, size, an alteration with a reason.
async fn enter_a_piece(b: &Browser) {
    b.press("Add the first piece").await;
    b.type_in("name", "Front").await;
    b.type_in("cut_count", "2").await;
    b.tick("mirrored").await;
    b.type_in("width", "12 1/0").await;
    b.type_in("height", "20").await;
    b.press("Save").await;
    b.until("#width-error", "fraction over nothing").await;
    assert_eq!(value(b, "width").await, "12 1/0", "what was typed is kept");
    assert_eq!(value(b, "name").await, "Front");
    b.check("2 a length refused").await;
    // The fraction keys: 12, then a half.
    b.type_in("width", "12").await;
    b.click("#width").await;
    b.press("Insert 1/2").await;
    assert_eq!(value(b, "width").await, "12 1/2");
    b.until(".field:has(#width) .reads", "31.8 cm").await;
    b.type_in("width", "12").await;
    // The sign, which a phone's number pad lacks.
    b.type_in("alt_by_0", "1").await;
    b.click("#alt_by_0").await;
    b.press("Change the sign").await;
    assert_eq!(value(b, "alt_by_0").await, "-1");
    b.press("Change the sign").await;
    assert_eq!(value(b, "alt_by_0").await, "+1");
    b.type_in("alt_reason_0", "longer in the body").await;
    b.check("2 piece form").await;
    b.press("Save").await;
    b.until("#pieces", "Front").await;
    let row = b.text("#pieces").await;
    for part in ["cut 2", "mirrored pair", "12 × 21 in", "longer in the body"] {
        assert!(row.contains(part), "{part}: {row}");
    }
}

/// 3a. Cloths: two for the patchwork, one backing, one batting.
async fn choose_cloths(b: &Browser) {
    b.until(".next", "Next: Choose the cloths").await;
    b.click(".next").await;
    // With an empty shelf there is nothing to choose from.
    b.until("main", "on your shelf as well").await;
    for (name, kind, width, owned, colour) in [
        ("Oat linen", "cloth", "42", "1/4 yd", "#d8cdb4"),
        ("Heather check", "cloth", "42", "", "#7d5f86"),
        ("Grey lawn", "cloth", "54", "3 yd", "#9aa3ad"),
        ("Wool batting", "batting", "90", "", "#f1ece0"),
    ] {
        b.type_in("name", name).await;
        b.choose("kind", kind).await;
        b.type_in("fibre", if kind == "cloth" { "linen" } else { "wool" }).await;
        b.type_in("usable_width", width).await;
        b.type_in("owned", owned).await;
        b.type_in("price", "14.50").await;
        b.script(
            "const c=document.querySelector('[name=colour]'); c.value=arguments[0]; c.dispatchEvent(new Event('input',{bubbles:true}))",
            vec![serde_json::json!(colour)],
        )
        .await;
        if name == "Oat linen" {
            b.check("3 cloth form").await;
        }
        b.press("Save").await;
        b.until("#cloths", name).await;
        if name != "Wool batting" {
            b.press("Add a cloth").await;
            b.press("Describe a new cloth").await;
        }
    }
    b.check("3 cloths chosen").await;
}

/// 3b and 4. The patchwork; the figures follow while it is chosen.
async fn choose_the_patchwork(b: &Browser) {
    b.until(".next", "Next: Decide the face of Front").await;
    b.click(".next").await;
    b.click(".face-pick:has([value=half-square-triangle])").await;
    b.type_in("finished", "40 in").await;
    b.choose_words("cloth0_0", "Oat linen").await;
    b.choose_words("cloth1_0", "Heather check").await;
    b.press("Save").await;
    b.until("#finished-error", "bigger than Front").await;
    b.check("3 a unit larger than the piece").await;
    b.type_in("finished", "4 in").await;
    b.type_in("margin", "1").await;
    b.tick("quilted").await;
    b.type_in("take_up", "100").await;
    b.press("Save").await;
    b.until("#take_up-error", "%").await;
    b.type_in("take_up", "4").await;
    b.choose_words("batting", "Wool batting").await;
    b.choose_words("backing", "Grey lawn").await;
    // 12 x 21 in and 1 in all round is 14 x 23; 4 % take-up asks for 14.6 x 24: 4 x 6 units of 4 in.
    b.until("[data-live]", "4 × 6").await;
    let live = b.text("[data-live]").await;
    assert!(live.contains("16 1/2 × 24 1/2 in"), "raw edge to raw edge: {live}");
    assert!(live.contains("4 7/8"), "{live}");
    b.check("4 live figures").await;
    b.choose("arrangement", "alternating").await;
    b.choose("kind_1", "square").await;
    b.choose_words("cloth0_1", "Grey lawn").await;
    b.until("[data-live]", "squares of C").await;
    b.check("4 alternating").await;
    b.choose("arrangement", "all-alike").await;
    b.press("Save").await;
    b.until("#pieces", "4 × 6 units").await;
    b.check("4 plan with figures").await;
}

async fn bind_the_edges(b: &Browser) {
    b.press("Add the first edge").await;
    b.type_in("name", "Armhole").await;
    b.type_in("length", "21").await;
    b.type_in("count", "2").await;
    b.tick("closed").await;
    b.check("4 edge form").await;
    b.press("Save").await;
    b.until("#edges", "Armhole").await;
    b.until(".next", "Next: Choose the binding").await;
    b.click(".next").await;
    b.choose_words("cloth", "Heather check").await;
    b.choose("cut", "bias-strips").await;
    b.check("4 binding form").await;
    b.press("Save").await;
    b.until("#edges", "double-fold, bias strips").await;
}

/// 4. The figures: panels, cut lists, layouts, batting, backing, binding, in both units.
async fn read_the_figures(b: &Browser) {
    b.click(".project-nav a[href$=\"/figures\"]").await;
    if b.screen.phone {
        find_figures_by_thumb(b).await;
    }
    let page = b.page_text().await;
    for part in [
        "4 × 6",
        "16 1/2 × 24 1/2 in",
        "41.9 × 62.2 cm",
        // 48 units, two triangles from each square: 24 squares of each cloth.
        "4 7/8 × 4 7/8 in",
        "48 triangles",
        "To buy",
        "Cutting layout",
        "Order of cuts",
        // 3 in of batting and 4 in of backing on every side.
        "22 1/2 × 30 1/2 in",
        "24 1/2 × 32 1/2 in",
        // 42 in of edge and 6 in for each of two closed runs: 54 in.
        "1 1/2 yd",
        "Working and allowances",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    let drawn = b
        .script("return document.querySelectorAll('svg.sheet path.cut').length", vec![])
        .await;
    assert!(drawn.as_i64() >= Some(4), "layouts are drawn: {drawn}");
    b.press("Working and allowances").await;
    b.check("4 figures").await;
}

/// On a phone the page is short: what is looked up most stands on top, the rest
/// is folded, every part two taps away, and as it was left after a reload.
async fn find_figures_by_thumb(b: &Browser) {
    b.script("sessionStorage.clear(); location.reload()", vec![]).await;
    b.until(".overview", "Binding").await;
    let screens = b
        .script(
            "return document.documentElement.scrollHeight / window.innerHeight",
            vec![],
        )
        .await;
    assert!(screens.as_f64() < Some(4.0), "{screens} screens");
    b.check("4 figures, folded").await;
    let open =
        "return [...document.querySelectorAll('.foldable > details[open]')].map(d => d.parentElement.id).join(' ')";
    assert_eq!(b.script(open, vec![]).await, "");
    b.click(".to-sections").await;
    b.check("4 the parts of the figures").await;
    b.click("#on-this-page a[href='#binding']").await;
    b.until("#binding", "Strip width").await;
    let top = b
        .script(
            "return document.querySelector('#binding').getBoundingClientRect().top",
            vec![],
        )
        .await;
    assert!(
        (0.0..300.0).contains(&top.as_f64().unwrap_or(-1.0)),
        "it is in sight: {top}"
    );
    assert_eq!(b.script(open, vec![]).await, "binding");
    b.script("location.replace(location.pathname)", vec![]).await;
    b.until("#binding", "Strip width").await;
    // Printed, everything is there.
    b.script("dispatchEvent(new Event('beforeprint'))", vec![]).await;
    let folded = "return document.querySelectorAll('details.fold:not([open])').length";
    assert_eq!(b.script(folded, vec![]).await, 0);
    b.script("dispatchEvent(new Event('afterprint'))", vec![]).await;
    assert_eq!(b.script(open, vec![]).await, "binding");
    let all = "for (const fold of document.querySelectorAll('details.fold')) if (!fold.open) fold.querySelector('summary').click()";
    b.script(all, vec![]).await;
}

/// 5. A note, a photo, a decision that carries what it changed.
async fn write_the_log(b: &Browser) {
    b.click(".quick a[href*=\"kind=note\"]").await;
    b.check("5 add to the log").await;
    let photo = photo_file();
    sending_is_said(b, photo.path()).await;
    b.find("#camera")
        .await
        .send_keys(&photo.path().display().to_string())
        .await
        .expect("a photo chosen");
    b.until("main", "photo").await;
    b.find("main img").await;
    b.click(".quick a[href*=\"kind=note\"]").await;
    b.type_in("text", "The **check** frays; overcast it at once.").await;
    b.press("Save").await;
    b.until("main", "overcast it at once").await;

    // A decision made with the change itself.
    b.click(".project-nav a[href$=\"/projects\"], .project-nav a:first-child")
        .await;
    b.click("#pieces a.row").await;
    b.type_in("finished", "3 in").await;
    b.until("[data-live]", "What this changes").await;
    b.press("Keep this change as a decision").await;
    b.type_in("decided", "Patches 4 in to 3 in").await;
    b.type_in("why", "The big ones swallow the check.").await;
    b.check("5 deciding").await;
    b.press("Save").await;
    b.click(".project-nav a[href$=\"/log\"]").await;
    b.click(".effect details.more > summary").await;
    let log = b.page_text().await;
    // 14.6 x 24 in of 3 in units: 5 x 8 on two panels, 80 triangles of each cloth in place of 48.
    for part in [
        "Patches 4 in to 3 in",
        "swallow the check",
        "48 → 80",
        "32 more patches",
        "overcast it at once",
    ] {
        assert!(log.contains(part), "{part}: {log}");
    }
    b.check("5 log").await;
}

/// While a photo is on its way the page says so. It is held back here, to see it.
async fn sending_is_said(b: &Browser, photo: &std::path::Path) {
    b.script("document.addEventListener('submit', e => e.preventDefault())", vec![])
        .await;
    b.find("#camera")
        .await
        .send_keys(&photo.display().to_string())
        .await
        .expect("a photo chosen");
    b.until(".add-camera .kind", "Sending").await;
    b.until(".add-camera [role=status]", "Sending the photo.").await;
    b.client.refresh().await.expect("the page again");
}

/// 6. Tick, copy, open by the link.
async fn share_the_materials(b: &Browser) {
    b.click(".project-nav a[href$=\"/materials\"]").await;
    b.until("main", "Fellside vest").await;
    b.check("6 materials").await;
    b.click("label:has([value=\"pattern\"])").await;
    b.press("Save and make a link").await;
    b.until("#share", "/s/").await;
    let text = value_of(b, "#as-text").await;
    assert!(text.contains("- Oat linen:") && text.contains("yd ("), "{text}");
    assert!(
        !text.contains("Fellside"),
        "what is not ticked is not in the text: {text}"
    );
    b.press("Copy the text").await;
    b.until("#text [data-copied]", "Copied").await;
    b.check("6 link made").await;
    let link = b.text("#share-link").await;
    b.client.goto(&link).await.expect("the link opens");
    let shared = b.page_text().await;
    assert!(
        shared.contains("Oat linen") && shared.contains("Heather vest"),
        "{shared}"
    );
    for private in ["Fellside", "14.50", "Marit", "swallow"] {
        assert!(!shared.contains(private), "{private}: {shared}");
    }
    b.check("6 shared page").await;
    b.client.back().await.expect("back");
}

/// 7. The next project from this one, with the whole plan.
async fn start_the_next_one(b: &Browser) {
    b.click(".project-nav a:first-child").await;
    b.press("New project from this").await;
    b.type_in("title", "Heather vest, second").await;
    b.check("7 again").await;
    b.press("Start").await;
    b.until("h1", "Heather vest, second").await;
    let page = b.page_text().await;
    for part in ["Started from", "Front", "Oat linen", "Armhole", "5 × 8 units"] {
        assert!(page.contains(part), "{part}: {page}");
    }
    b.go("/").await;
    b.until("main", "Heather vest, second").await;
    b.check("7 home").await;
}

async fn value(b: &Browser, name: &str) -> String {
    value_of(b, &format!("[name=\"{name}\"]")).await
}

async fn value_of(b: &Browser, css: &str) -> String {
    let value = b
        .script(
            "return document.querySelector(arguments[0]).value",
            vec![serde_json::json!(css)],
        )
        .await;
    value.as_str().unwrap_or("").to_string()
}

/// A photograph of a size phones take, drawn here.
fn photo_file() -> tempfile::NamedTempFile {
    let picture = image::RgbImage::from_fn(1600, 1200, |x, y| {
        let weave = ((x / 6 + y / 6) % 2 * 24) as u8;
        image::Rgb([120 + weave, 90 + weave, 130 + weave])
    });
    let file = tempfile::Builder::new()
        .suffix(".jpg")
        .tempfile()
        .expect("a temporary file");
    picture.save(file.path()).expect("a picture");
    file
}
