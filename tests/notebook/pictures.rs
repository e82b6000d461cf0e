use exif::experimental::Writer;
use exif::{Field, In, Rational, Tag, Value};
use image::{ImageFormat, Rgb, RgbImage, Rgba, RgbaImage};
use std::io::Cursor;
use std::path::{Path, PathBuf};

/// What stands in the camera's notes and must not leave the notebook.
pub const MAKE: &[u8] = b"Example Camera Works";

/// A picture 96 x 64 as it lies in the file, left half red, right half blue,
/// with a camera's notes: to be turned by a quarter, taken on a summer
/// evening, at a place.
pub fn turned_jpeg() -> Vec<u8> {
    let ascii = |text: &[u8]| Value::Ascii(vec![text.to_vec()]);
    let degrees = |d, m, s| {
        Value::Rational(vec![
            Rational { num: d, denom: 1 },
            Rational { num: m, denom: 1 },
            Rational { num: s, denom: 100 },
        ])
    };
    let fields: Vec<Field> = [
        (Tag::Make, ascii(MAKE)),
        (Tag::Orientation, Value::Short(vec![6])),
        (Tag::DateTimeOriginal, ascii(b"2026:07:14 20:30:15")),
        (Tag::OffsetTimeOriginal, ascii(b"+02:00")),
        (Tag::GPSLatitudeRef, ascii(b"N")),
        (Tag::GPSLatitude, degrees(12, 34, 5678)),
        (Tag::GPSLongitudeRef, ascii(b"E")),
        (Tag::GPSLongitude, degrees(98, 7, 6543)),
    ]
    .into_iter()
    .map(|(tag, value)| Field {
        tag,
        ifd_num: In::PRIMARY,
        value,
    })
    .collect();
    let mut writer = Writer::new();
    for field in &fields {
        writer.push_field(field);
    }
    let mut notes = Cursor::new(Vec::new());
    writer.write(&mut notes, false).unwrap();

    let picture = RgbImage::from_fn(
        96,
        64,
        |x, _| if x < 48 { Rgb([220, 20, 20]) } else { Rgb([20, 20, 220]) },
    );
    let mut jpeg = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut jpeg, 95);
    encoder.add_exif_metadata(&notes.into_inner()).unwrap();
    encoder
        .encode(picture.as_raw(), 96, 64, jpeg_encoder::ColorType::Rgb)
        .unwrap();
    jpeg
}

/// Stands in every note of the pictures below: places, serial numbers, owners.
pub const TELLTALE: &[u8] = b"TELLTALE-4711";

fn xmp() -> Vec<u8> {
    let mut xmp = b"<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF><rdf:Description exif:GPSLatitude=\"12,34N\" aux:SerialNumber=\"".to_vec();
    xmp.extend_from_slice(TELLTALE);
    xmp.extend_from_slice(b"\"/></rdf:RDF></x:xmpmeta>");
    xmp
}

/// A camera's notes with what gives a person away: place, serial numbers of
/// camera and lens, owner, and the maker's own secret part.
fn telltale_exif() -> Vec<u8> {
    let ascii = || Value::Ascii(vec![TELLTALE.to_vec()]);
    let mut writer = Writer::new();
    let place = Value::Rational(vec![Rational { num: 12, denom: 1 }; 3]);
    let fields: Vec<Field> = [
        (Tag::ImageDescription, ascii()),
        (Tag::BodySerialNumber, ascii()),
        (Tag::LensSerialNumber, ascii()),
        (Tag::CameraOwnerName, ascii()),
        (Tag::ImageUniqueID, ascii()),
        (Tag::MakerNote, Value::Undefined(TELLTALE.to_vec(), 0)),
        (Tag::GPSLatitudeRef, Value::Ascii(vec![b"N".to_vec()])),
        (Tag::GPSLatitude, place),
        (Tag::GPSAreaInformation, Value::Undefined(TELLTALE.to_vec(), 0)),
    ]
    .into_iter()
    .map(|(tag, value)| Field {
        tag,
        ifd_num: In::PRIMARY,
        value,
    })
    .collect();
    for field in &fields {
        writer.push_field(field);
    }
    let mut notes = Cursor::new(Vec::new());
    writer.write(&mut notes, false).unwrap();
    notes.into_inner()
}

/// EXIF, XMP, IPTC, a comment, and another maker's segment.
pub fn telltale_jpeg() -> Vec<u8> {
    let plain = jpeg(80, 60, 5);
    let mut out = plain[..2].to_vec();
    let mut segment = |kind: u8, head: &[u8], data: &[u8]| {
        out.extend_from_slice(&[0xff, kind]);
        let length = u16::try_from(head.len() + data.len() + 2).unwrap();
        out.extend_from_slice(&length.to_be_bytes());
        out.extend_from_slice(head);
        out.extend_from_slice(data);
    };
    segment(0xe1, b"Exif\0\0", &telltale_exif());
    segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0", &xmp());
    // IPTC: record 2, data set 90, the city.
    let mut city = b"8BIM\x04\x04\0\0\0\0\0\x12\x1c\x02\x5a\0\x0d".to_vec();
    city.extend_from_slice(TELLTALE);
    segment(0xed, b"Photoshop 3.0\0", &city);
    segment(0xe7, b"MAKER\0", TELLTALE);
    segment(0xfe, b"", TELLTALE);
    out.extend_from_slice(&plain[2..]);
    // A film, or another picture, after the end.
    out.extend_from_slice(TELLTALE);
    out
}

/// Text chunks, XMP and EXIF in a PNG.
pub fn telltale_png() -> Vec<u8> {
    let plain = written(
        RgbaImage::from_pixel(40, 20, Rgba([90, 140, 60, 255])),
        ImageFormat::Png,
    );
    // Behind the head: the signature and IHDR.
    let (head, rest) = plain.split_at(8 + 25);
    let mut out = head.to_vec();
    chunk(&mut out, b"tEXt", &[b"Author\0", TELLTALE].concat());
    chunk(
        &mut out,
        b"iTXt",
        &[b"XML:com.adobe.xmp\0\0\0\0\0".as_slice(), &xmp()].concat(),
    );
    chunk(&mut out, b"eXIf", &telltale_exif());
    out.extend_from_slice(rest);
    out
}

/// EXIF and XMP in an extended WebP.
pub fn telltale_webp() -> Vec<u8> {
    let plain = webp();
    let mut body = b"WEBP".to_vec();
    let mut part = |kind: &[u8; 4], data: &[u8]| {
        body.extend_from_slice(kind);
        body.extend_from_slice(&u32::try_from(data.len()).unwrap().to_le_bytes());
        body.extend_from_slice(data);
        if data.len() % 2 == 1 {
            body.push(0);
        }
    };
    // EXIF and XMP follow; 33 x 21 pixels, each less one.
    part(b"VP8X", &[0x0c, 0, 0, 0, 32, 0, 0, 20, 0, 0]);
    let picture = &plain[12..];
    let length = u32::from_le_bytes(picture[4..8].try_into().unwrap());
    part(
        picture[..4].try_into().unwrap(),
        &picture[8..8 + usize::try_from(length).unwrap()],
    );
    part(b"EXIF", &telltale_exif());
    part(b"XMP ", &xmp());
    let mut out = b"RIFF".to_vec();
    out.extend_from_slice(&u32::try_from(body.len()).unwrap().to_le_bytes());
    out.extend_from_slice(&body);
    out
}

/// A patterned JPEG; another `seed` is another picture.
pub fn jpeg(width: u16, height: u16, seed: u32) -> Vec<u8> {
    let picture = RgbImage::from_fn(width.into(), height.into(), |x, y| {
        Rgb([(x * 7 + seed) as u8, (y * 5) as u8, ((x ^ y) * 3 + seed * 11) as u8])
    });
    let mut jpeg = Vec::new();
    jpeg_encoder::Encoder::new(&mut jpeg, 90)
        .encode(picture.as_raw(), width, height, jpeg_encoder::ColorType::Rgb)
        .unwrap();
    jpeg
}

/// A PNG with nothing in it but shine-through.
pub fn clear_png() -> Vec<u8> {
    written(RgbaImage::from_pixel(40, 20, Rgba([0, 0, 0, 0])), ImageFormat::Png)
}

pub fn webp() -> Vec<u8> {
    written(
        RgbaImage::from_pixel(33, 21, Rgba([90, 140, 60, 255])),
        ImageFormat::WebP,
    )
}

fn written(picture: RgbaImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A few hundred bytes that claim to be a picture of `width` x `height`.
pub fn png_bomb(width: u32, height: u32) -> Vec<u8> {
    let mut head = Vec::new();
    head.extend_from_slice(&width.to_be_bytes());
    head.extend_from_slice(&height.to_be_bytes());
    // 8 bits a channel, colour, nothing special.
    head.extend_from_slice(&[8, 2, 0, 0, 0]);
    let mut png = b"\x89PNG\r\n\x1a\n".to_vec();
    chunk(&mut png, b"IHDR", &head);
    // zlib: the start of a stored block.
    chunk(&mut png, b"IDAT", &[0x78, 0x01, 0x00, 0xff, 0xff, 0x00, 0x00]);
    chunk(&mut png, b"IEND", &[]);
    png
}

fn chunk(png: &mut Vec<u8>, kind: &[u8; 4], data: &[u8]) {
    png.extend_from_slice(&u32::try_from(data.len()).unwrap().to_be_bytes());
    let mut checked = kind.to_vec();
    checked.extend_from_slice(data);
    png.extend_from_slice(&checked);
    png.extend_from_slice(&crc32(&checked).to_be_bytes());
}

/// As the PNG standard prints it, annex D.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| {
            if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 }
        })
    })
}

pub fn file(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}
