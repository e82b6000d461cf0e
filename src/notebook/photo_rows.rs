use super::columns::{At, now};
use super::{AddPhotoError, Notebook, NotebookError, Photo, PhotoHash, PhotoSize, Result};
use crate::photos::{Examined, PhotoError, PhotoFormat, Store};
use rusqlite::{OptionalExtension, Transaction, params};
use std::path::{Path, PathBuf};

impl Notebook {
    /// Takes a photo in: looked at to its last pixel, the original kept on the
    /// disk, then its row. The same photo twice is one.
    pub fn add_photo(&self, file: &Path) -> std::result::Result<Photo, AddPhotoError> {
        let bytes = Store::read(file)?;
        let examined = self.photos().examine(&bytes)?;
        self.photos().keep(&bytes, &examined)?;
        let hash = examined.hash.clone();
        self.write(move |t| insert_photo(t, &examined))?;
        Ok(self.photo(&hash)?)
    }

    pub fn photo(&self, hash: &PhotoHash) -> Result<Photo> {
        self.read(|t| Ok(photo(t, hash)?.ok_or(NotebookError::NotFound("photo"))?.0))
    }

    pub(super) fn photo_and_format(&self, hash: &PhotoHash) -> Result<(Photo, PhotoFormat)> {
        self.read(|t| photo(t, hash)?.ok_or(NotebookError::NotFound("photo")))
    }

    /// A JPEG to show, made once, with no metadata in it. The original never leaves.
    pub fn photo_file(&self, hash: &PhotoHash, size: PhotoSize) -> Result<PathBuf> {
        let (_, format) = self.photo_and_format(hash)?;
        self.photos().sized(hash, format, size).map_err(|error| match error {
            PhotoError::File(e) => NotebookError::File(e),
            other => NotebookError::Damaged(format!("the original of photo {}: {other}", hash.0)),
        })
    }
}

fn photo(t: &Transaction<'_>, hash: &PhotoHash) -> Result<Option<(Photo, PhotoFormat)>> {
    let row = t
        .prepare_cached("SELECT * FROM photo WHERE hash = ?1")?
        .query_row([&hash.0], |row| {
            let format: String = row.get("format")?;
            let photo = Photo {
                hash: hash.clone(),
                width: row.get("width")?,
                height: row.get("height")?,
                bytes: row.get("bytes")?,
                taken_at: row.get::<_, Option<At>>("taken_at")?.map(|a| a.0),
                added_at: row.get::<_, At>("added_at")?.0,
            };
            Ok((photo, format))
        })
        .optional()?;
    let Some((photo, format)) = row else {
        return Ok(None);
    };
    let format = PhotoFormat::from_name(&format)
        .ok_or_else(|| NotebookError::Damaged(format!("the photo {} is of an unknown format", hash.0)))?;
    Ok(Some((photo, format)))
}

pub(super) fn is_kept(t: &Transaction<'_>, hash: &PhotoHash) -> Result<bool> {
    Ok(t.prepare_cached("SELECT EXISTS (SELECT 1 FROM photo WHERE hash = ?1)")?
        .query_row([&hash.0], |r| r.get(0))?)
}

/// No change where it is there already.
pub(super) fn insert_photo(t: &Transaction<'_>, photo: &Examined) -> Result<()> {
    let bytes = i64::try_from(photo.bytes).unwrap_or(i64::MAX);
    t.execute(
        "INSERT INTO photo (hash, format, width, height, bytes, taken_at, added_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
         ON CONFLICT (hash) DO NOTHING",
        params![
            photo.hash.0,
            photo.format.name(),
            photo.width,
            photo.height,
            bytes,
            photo.taken_at.map(At),
            At(now()),
        ],
    )?;
    Ok(())
}
