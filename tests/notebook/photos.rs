use crate::common::*;
use crate::pictures::{self, file};
use notchbook::notebook::{AddPhotoError, Notebook, PhotoHash, PhotoSize};
use notchbook::photos::{MAX_BYTES, PhotoError};
use std::path::Path;

fn refused(n: &Notebook, path: &Path) -> PhotoError {
    match n.add_photo(path) {
        Err(AddPhotoError::Photo(error)) => error,
        other => panic!("{other:?}"),
    }
}

fn shown(path: &Path) -> image::RgbImage {
    let bytes = std::fs::read(path).unwrap();
    image::load_from_memory_with_format(&bytes, image::ImageFormat::Jpeg)
        .unwrap()
        .into_rgb8()
}

#[test]
fn an_original_is_kept_to_the_byte_and_once() {
    let f = fresh();
    let n = &f.notebook;
    let bytes = pictures::jpeg(300, 200, 1);
    let first = n.add_photo(&file(f.dir.path(), "a.jpg", &bytes)).unwrap();
    assert_eq!(first.hash, PhotoHash::of(&bytes));
    assert_eq!((first.width, first.height), (300, 200));
    assert_eq!(first.bytes, i64::try_from(bytes.len()).unwrap());
    assert_eq!(first.taken_at, None);
    let again = n.add_photo(&file(f.dir.path(), "b.png", &bytes)).unwrap();
    assert_eq!(again, first);
    assert_eq!((f.rows("photo"), f.photo_files()), (1, 1));
    let kept = f
        .dir
        .path()
        .join("photos/originals")
        .join(&first.hash.0[..2])
        .join(format!("{}.jpg", first.hash.0));
    assert_eq!(std::fs::read(kept).unwrap(), bytes);
    assert_eq!(n.photo(&first.hash).unwrap(), first);
}

#[test]
fn photos_added_at_once_are_all_kept() {
    let f = fresh();
    std::thread::scope(|scope| {
        for i in 0..8u32 {
            let (n, folder) = (f.notebook.clone(), f.dir.path());
            scope.spawn(move || {
                // Each picture from two threads.
                let path = file(folder, &format!("{i}.jpg"), &pictures::jpeg(50, 40, i / 2));
                let photo = n.add_photo(&path).unwrap();
                let small = n.photo_file(&photo.hash, PhotoSize::Small).unwrap();
                assert_eq!(shown(&small).dimensions(), (50, 40));
            });
        }
    });
    assert_eq!((f.rows("photo"), f.photo_files()), (4, 12));
}

#[test]
fn a_turned_photo_is_upright_and_its_notes_stay_at_home() {
    let f = fresh();
    let n = &f.notebook;
    let bytes = pictures::turned_jpeg();
    // The notes are there to begin with.
    let notes = exif::Reader::new()
        .read_from_container(&mut std::io::Cursor::new(&bytes))
        .unwrap();
    assert!(notes.get_field(exif::Tag::GPSLatitude, exif::In::PRIMARY).is_some());

    let photo = n.add_photo(&file(f.dir.path(), "turned.jpg", &bytes)).unwrap();
    assert_eq!((photo.width, photo.height), (64, 96));
    assert_eq!(photo.taken_at, Some(moment("2026-07-14T18:30:15Z")));
    for size in PhotoSize::ALL {
        let path = n.photo_file(&photo.hash, size).unwrap();
        let picture = shown(&path);
        assert_eq!(picture.dimensions(), (64, 96), "never larger than it is");
        // Red came to lie on top.
        let (top, bottom) = (picture.get_pixel(32, 12).0, picture.get_pixel(32, 84).0);
        assert!(top[0] > 180 && top[2] < 80, "{top:?}");
        assert!(bottom[0] < 80 && bottom[2] > 180, "{bottom:?}");
        let leaving = std::fs::read(&path).unwrap();
        assert!(
            exif::Reader::new()
                .read_from_container(&mut std::io::Cursor::new(&leaving))
                .is_err()
        );
        for note in [
            b"Exif".as_slice(),
            pictures::MAKE,
            b"http://ns.adobe.com",
            b"2026:07:14",
            b"ICC_PROFILE",
        ] {
            assert!(!leaving.windows(note.len()).any(|w| w == note), "{note:?}");
        }
    }
}

#[test]
fn nothing_a_camera_or_a_program_wrote_into_a_photo_is_in_what_is_shown() {
    let f = fresh();
    for (name, bytes, notes) in [
        ("a.jpg", pictures::telltale_jpeg(), 12),
        ("b.png", pictures::telltale_png(), 9),
        ("c.webp", pictures::telltale_webp(), 8),
    ] {
        let found = |bytes: &[u8]| {
            bytes
                .windows(pictures::TELLTALE.len())
                .filter(|w| *w == pictures::TELLTALE)
                .count()
        };
        assert_eq!(found(&bytes), notes, "{name}: the notes are there to begin with");
        let photo = f.notebook.add_photo(&file(f.dir.path(), name, &bytes)).unwrap();
        for size in PhotoSize::ALL {
            let leaving = std::fs::read(f.notebook.photo_file(&photo.hash, size).unwrap()).unwrap();
            assert_eq!(found(&leaving), 0, "{name} {size:?}");
            // Only what a picture needs: no segment of an application but JFIF's own, no comment.
            let mut at = 2;
            while leaving[at + 1] != 0xda {
                let kind = leaving[at + 1];
                assert!(!matches!(kind, 0xe1..=0xef | 0xfe), "{name} {size:?}: segment {kind:x}");
                at += 2 + usize::from(u16::from_be_bytes([leaving[at + 2], leaving[at + 3]]));
            }
            assert!(leaving.ends_with(&[0xff, 0xd9]), "nothing after the end");
        }
    }
}

#[test]
fn sizes_are_made_once_by_the_longest_side() {
    let f = fresh();
    let n = &f.notebook;
    let photo = n
        .add_photo(&file(f.dir.path(), "large.jpg", &pictures::jpeg(3000, 1001, 3)))
        .unwrap();
    for (size, wide, high) in [
        (PhotoSize::Small, 480, 160),
        (PhotoSize::Page, 1280, 427),
        (PhotoSize::Print, 2400, 801),
    ] {
        let path = n.photo_file(&photo.hash, size).unwrap();
        assert_eq!(shown(&path).dimensions(), (wide, high));
        std::fs::write(&path, "made already").unwrap();
        assert_eq!(n.photo_file(&photo.hash, size).unwrap(), path);
        assert_eq!(std::fs::read(&path).unwrap(), b"made already");
    }
    let nothing = PhotoHash("0".repeat(64));
    assert!(is_not_found(n.photo_file(&nothing, PhotoSize::Small)));
    assert!(is_not_found(
        n.photo_file(&PhotoHash("../../notebook".into()), PhotoSize::Small)
    ));
}

#[test]
fn png_and_webp_are_taken_and_shine_through_is_paper() {
    let f = fresh();
    let n = &f.notebook;
    let png = n
        .add_photo(&file(f.dir.path(), "clear", &pictures::clear_png()))
        .unwrap();
    let picture = shown(&n.photo_file(&png.hash, PhotoSize::Small).unwrap());
    assert!(picture.pixels().all(|p| p.0.iter().all(|c| *c > 250)));
    let webp = n.add_photo(&file(f.dir.path(), "green", &pictures::webp())).unwrap();
    let picture = shown(&n.photo_file(&webp.hash, PhotoSize::Small).unwrap());
    assert_eq!(picture.dimensions(), (33, 21));
    let middle = picture.get_pixel(16, 10).0;
    assert!(middle[1] > middle[0] && middle[0] > middle[2], "{middle:?}");
}

#[test]
fn what_is_no_photo_is_refused_in_words_and_leaves_nothing() {
    let f = fresh();
    let n = &f.notebook;
    let d = f.dir.path();
    let whole = pictures::jpeg(200, 150, 1);
    let png = pictures::clear_png();

    let sixty = d.join("sixty.jpg");
    let large = std::fs::File::create(&sixty).unwrap();
    large.set_len(60 * 1024 * 1024).unwrap();
    let error = refused(n, &sixty);
    assert!(matches!(error, PhotoError::TooLarge(_)));
    let said = error.to_string();
    assert!(
        said.contains("60 MB") && said.contains("at most 40 MB") && said.contains("Nothing else"),
        "{said}"
    );
    large.set_len(MAX_BYTES).unwrap();
    assert!(
        matches!(refused(n, &sixty), PhotoError::NotAPicture),
        "40 MB are not too many"
    );

    let text = file(d, "diary.jpg", b"Dear diary, today I cut the sleeves.");
    assert!(matches!(refused(n, &text), PhotoError::NotAPicture));
    let empty = file(d, "empty.jpg", b"");
    assert!(matches!(refused(n, &empty), PhotoError::Empty));

    let bomb = file(d, "bomb.png", &pictures::png_bomb(60_000, 60_000));
    match refused(n, &bomb) {
        PhotoError::TooManyPixels { width, height } => assert_eq!((width, height), (60_000, 60_000)),
        other => panic!("{other}"),
    }
    // A JPEG's own word for its size, in the frame header.
    let mut grown = whole.clone();
    let frame = grown.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    grown[frame + 5..frame + 9].copy_from_slice(&[0xfd, 0xe8, 0xfd, 0xe8]);
    let grown = file(d, "grown.jpg", &grown);
    assert!(matches!(
        refused(n, &grown),
        PhotoError::TooManyPixels { width: 65_000, .. }
    ));
    // Within the limit by its word, but with nothing to show for it.
    let hollow = file(d, "hollow.png", &pictures::png_bomb(600, 600));
    assert!(matches!(refused(n, &hollow), PhotoError::Damaged));
    let no_size = file(d, "none.png", &pictures::png_bomb(0, 0));
    assert!(matches!(refused(n, &no_size), PhotoError::Damaged));

    for cut in [whole.len() - 1, whole.len() / 2, 200, 3] {
        let torn = file(d, "torn.jpg", &whole[..cut]);
        assert!(matches!(refused(n, &torn), PhotoError::Damaged), "cut at {cut}");
    }
    let torn = file(d, "torn.png", &png[..png.len() / 2]);
    assert!(matches!(refused(n, &torn), PhotoError::Damaged));
    let webp = pictures::webp();
    let torn = file(d, "torn.webp", &webp[..webp.len() / 2]);
    assert!(matches!(refused(n, &torn), PhotoError::Damaged));

    let heic = file(d, "phone.heic", b"\0\0\0\x18ftypheic\0\0\0\0mif1heic");
    let said = refused(n, &heic).to_string();
    assert!(
        said.contains("iPhone") && said.contains("Android") && said.contains("JPEG"),
        "{said}"
    );
    assert!(matches!(refused(n, &d.join("not there")), PhotoError::File(_)));
    assert_eq!((f.rows("photo"), f.photo_files()), (0, 0));
    // The same picture whole is taken.
    n.add_photo(&file(d, "whole.jpg", &whole)).unwrap();
}

#[test]
fn what_an_ended_run_left_half_written_is_swept_away() {
    let Fresh { dir, notebook } = fresh();
    let photo = notebook
        .add_photo(&file(dir.path(), "a.jpg", &pictures::jpeg(40, 30, 1)))
        .unwrap();
    drop(notebook);
    let left = file(&dir.path().join("photos/incoming"), ".tmpLEFT", b"half a pho");
    let notebook = Notebook::open(dir.path()).unwrap();
    assert!(!left.exists());
    assert!(notebook.photo_file(&photo.hash, PhotoSize::Small).is_ok());
}
