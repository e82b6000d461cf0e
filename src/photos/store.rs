use super::sized::sized_jpegs;
use super::{
    Colours, Examined, GreyPhoto, MAX_BYTES, PhotoError, PhotoFormat, PhotoHash, PhotoSize, Region, grey, swatch,
};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// The folder `photos/`: `originals/HH/HASH.EXT` as they came,
/// `sized/HASH-PIXELS.jpg` and `sized/HASH-swatch-PART.jpg` drawn from them when first asked for, and
/// `incoming/` for what is being written.
#[derive(Debug)]
pub struct Store {
    root: PathBuf,
    /// One picture is decoded at a time: a large one takes hundreds of
    /// megabytes for a moment.
    decoding: Mutex<()>,
}

impl Store {
    pub fn open(root: &Path) -> io::Result<Store> {
        for folder in ["originals", "sized", "incoming"] {
            std::fs::create_dir_all(root.join(folder))?;
        }
        // Left from a run that ended in the middle of a write.
        for left in std::fs::read_dir(root.join("incoming"))? {
            let left = left?.path();
            if left.is_file() {
                std::fs::remove_file(left)?;
            }
        }
        Ok(Store {
            root: root.to_path_buf(),
            decoding: Mutex::new(()),
        })
    }

    /// Reads a file that may be anything, no further than a photo may go.
    pub fn read(file: &Path) -> Result<Vec<u8>, PhotoError> {
        let from = std::fs::File::open(file)?;
        let size = from.metadata()?.len();
        if size > MAX_BYTES {
            return Err(PhotoError::TooLarge(size));
        }
        let mut bytes = Vec::new();
        from.take(MAX_BYTES + 1).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// As [`super::examine`], one picture at a time.
    pub fn examine(&self, bytes: &[u8]) -> Result<Examined, PhotoError> {
        let _one = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        super::examine(bytes)
    }

    /// Keeps an original. Kept twice, it is there once.
    pub fn keep(&self, bytes: &[u8], photo: &Examined) -> Result<(), PhotoError> {
        let path = self.original(&photo.hash, photo.format)?;
        // A file of another length is what a failing disk left; it is written again.
        if std::fs::metadata(&path).is_ok_and(|m| m.len() == photo.bytes) {
            return Ok(());
        }
        self.write(&path, bytes)?;
        Ok(())
    }

    pub fn original(&self, hash: &PhotoHash, format: PhotoFormat) -> io::Result<PathBuf> {
        Store::original_in(&self.root, hash, format)
    }

    /// Where an original stands below `root`, whether or not anything is open there.
    pub fn original_in(root: &Path, hash: &PhotoHash, format: PhotoFormat) -> io::Result<PathBuf> {
        let name = sound(hash)?;
        let folder = root.join("originals").join(&name[..2]);
        Ok(folder.join(format!("{name}.{}", format.name())))
    }

    /// Puts an original below `root`, where nothing is open yet.
    pub fn put(root: &Path, bytes: &[u8], hash: &PhotoHash, format: PhotoFormat) -> io::Result<()> {
        let path = Store::original_in(root, hash, format)?;
        let folder = path.parent().unwrap_or(root);
        std::fs::create_dir_all(folder)?;
        let mut file = std::fs::File::create_new(&path)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        sync_folder(folder)
    }

    /// A JPEG to show, made when it is first asked for.
    pub fn sized(&self, hash: &PhotoHash, format: PhotoFormat, size: PhotoSize) -> Result<PathBuf, PhotoError> {
        let name = sound(hash)?;
        let place = |size: PhotoSize| self.root.join("sized").join(format!("{name}-{}.jpg", size.longest()));
        let path = place(size);
        if path.is_file() {
            return Ok(path);
        }
        let _one = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        // Another request may have made it while this one waited.
        if !path.is_file() {
            let original = Store::read(&self.original(hash, format)?)?;
            let sizes = size.made_together();
            for (made, jpeg) in sizes.iter().zip(sized_jpegs(&original, format, sizes)?) {
                if !place(*made).is_file() {
                    self.write(&place(*made), &jpeg)?;
                }
            }
        }
        Ok(path)
    }

    /// A part of a photo as a JPEG, made when it is first asked for.
    pub fn swatch(&self, hash: &PhotoHash, format: PhotoFormat, part: Region) -> Result<PathBuf, PhotoError> {
        let Region {
            left,
            top,
            width,
            height,
        } = part;
        let name = format!("{}-swatch-{left}-{top}-{width}-{height}.jpg", sound(hash)?);
        self.drawn(&name, hash, format, |bytes| swatch::picture(bytes, format, part))
    }

    /// What colours a part of a photo has.
    pub fn colours(&self, hash: &PhotoHash, format: PhotoFormat, part: Region) -> Result<Colours, PhotoError> {
        let _one = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        swatch::colours(&Store::read(&self.original(hash, format)?)?, format, part)
    }

    /// The whole photo as light and dark.
    pub fn grey(&self, hash: &PhotoHash, format: PhotoFormat) -> Result<GreyPhoto, PhotoError> {
        let _one = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        grey::grey(&Store::read(&self.original(hash, format)?)?, format)
    }

    fn drawn(
        &self,
        name: &str,
        hash: &PhotoHash,
        format: PhotoFormat,
        draw: impl FnOnce(&[u8]) -> Result<Vec<u8>, PhotoError>,
    ) -> Result<PathBuf, PhotoError> {
        let path = self.root.join("sized").join(name);
        if path.is_file() {
            return Ok(path);
        }
        let _one = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        // Another request may have made it while this one waited.
        if !path.is_file() {
            let original = Store::read(&self.original(hash, format)?)?;
            self.write(&path, &draw(&original)?)?;
        }
        Ok(path)
    }

    /// Whole or not at all: written aside, on the disk, then renamed.
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let folder = path.parent().unwrap_or(&self.root);
        std::fs::create_dir_all(folder)?;
        let mut file = tempfile::NamedTempFile::new_in(self.root.join("incoming"))?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        file.persist(path).map_err(|e| e.error)?;
        sync_folder(folder)?;
        // The folder itself may be new.
        sync_folder(folder.parent().unwrap_or(&self.root))
    }
}

fn sound(hash: &PhotoHash) -> io::Result<&str> {
    if hash.is_sound() {
        Ok(&hash.0)
    } else {
        Err(io::Error::new(io::ErrorKind::NotFound, "there is no such photo"))
    }
}

/// A new name is on the disk only when its folder is.
#[cfg(unix)]
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    std::fs::File::open(folder)?.sync_all()
}

/// Other systems do not open folders as files; they keep names by themselves.
#[cfg(not(unix))]
pub(crate) fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
