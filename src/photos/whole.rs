/// Whether a JPEG runs to its end mark. Readers fill what is missing with
/// grey and say nothing, so a photo cut short on the way would be kept as if
/// it were whole. What follows the end mark (a film, a second picture) is no
/// concern here.
pub fn is_whole_jpeg(bytes: &[u8]) -> bool {
    const START: u8 = 0xd8;
    const END: u8 = 0xd9;
    const SCAN: u8 = 0xda;
    if !bytes.starts_with(&[0xff, START]) {
        return false;
    }
    let mut at = 2;
    loop {
        // A mark: any number of 0xff, then its kind. Some cameras leave stray
        // bytes before it, which every reader skips.
        match bytes[at..].iter().position(|b| *b == 0xff) {
            Some(stray) => at += stray,
            None => return false,
        }
        while bytes.get(at) == Some(&0xff) {
            at += 1;
        }
        let Some(&kind) = bytes.get(at) else { return false };
        at += 1;
        match kind {
            END => return true,
            // Stray, and marks that stand alone.
            0x00 | 0x01 | 0xd0..=0xd7 => continue,
            _ => {}
        }
        let Some(&[high, low]) = bytes.get(at..at + 2).and_then(|b| <&[u8; 2]>::try_from(b).ok()) else {
            return false;
        };
        let length = usize::from(u16::from_be_bytes([high, low]));
        if length < 2 || at + length > bytes.len() {
            return false;
        }
        at += length;
        if kind == SCAN {
            // Picture data: up to the next mark that is neither a stuffed
            // 0xff nor a restart.
            loop {
                match (bytes.get(at), bytes.get(at + 1)) {
                    (Some(0xff), Some(0x00 | 0xd0..=0xd7)) => at += 2,
                    (Some(0xff), Some(_)) => break,
                    (Some(_), _) => at += 1,
                    (None, _) => return false,
                }
                if at >= bytes.len() {
                    return false;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::is_whole_jpeg;

    #[test]
    fn every_cut_of_a_jpeg_is_noticed() {
        let pixels: Vec<u8> = (0..48 * 40 * 3).map(|i| (i * 37 % 251) as u8).collect();
        for progressive in [false, true] {
            let mut jpeg = Vec::new();
            let mut encoder = jpeg_encoder::Encoder::new(&mut jpeg, 90);
            encoder.set_progressive(progressive);
            encoder.set_restart_interval(if progressive { 0 } else { 3 });
            encoder.encode(&pixels, 48, 40, jpeg_encoder::ColorType::Rgb).unwrap();
            assert!(is_whole_jpeg(&jpeg));
            for cut in 0..jpeg.len() {
                assert!(!is_whole_jpeg(&jpeg[..cut]), "cut at {cut} of {}", jpeg.len());
            }
            jpeg.extend_from_slice(b"a film follows");
            assert!(is_whole_jpeg(&jpeg));
        }
    }
}
