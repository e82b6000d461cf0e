use super::columns::Json;
use super::{Id, Notebook, NotebookError, PhotoHash, Picture, Region, Result, StockCloth, Swatch, SwatchColour};
use crate::measure::Rgb;
use crate::photos::{GreyPhoto, PhotoError};
use crate::plan;
use rusqlite::Transaction;
use std::collections::HashMap;
use std::path::PathBuf;

/// The pictures of the shelf's cloths, which plans' cloths are drawn with too.
#[derive(Clone, Debug, Default)]
pub struct Pictures(HashMap<String, (Picture, Option<String>)>);

impl Pictures {
    /// Of the cloth of the shelf it was taken from.
    pub fn of(&self, cloth: &plan::Cloth) -> Option<&Picture> {
        self.of_stock(cloth.stock.as_deref()?)
    }

    /// Of a cloth of the shelf, by its id.
    pub fn of_stock(&self, stock: &str) -> Option<&Picture> {
        Some(&self.0.get(stock)?.0)
    }

    /// The colour the shelf draws it in, where that was taken from a marked swatch.
    pub fn colour_of(&self, cloth: &plan::Cloth) -> Option<&str> {
        self.0.get(cloth.stock.as_deref()?)?.1.as_deref()
    }
}

impl Notebook {
    pub fn pictures(&self) -> Result<Pictures> {
        self.read(pictures)
    }

    /// What colours a part of a cloth's photo has. Nothing is saved.
    pub fn look_at(&self, photo: &PhotoHash, part: Region) -> Result<Swatch> {
        if !part.is_sound() {
            return Err(NotebookError::refused(
                "part",
                "The part must lie inside the photo and be at least 2 % of it wide and high.",
            ));
        }
        let (_, format) = self.photo_and_format(photo)?;
        let seen = self
            .photos()
            .colours(photo, format, part)
            .map_err(|error| damaged(photo, error))?;
        Ok(Swatch {
            part,
            average: seen.average.to_string(),
            colours: seen
                .main
                .into_iter()
                .map(|(colour, percent)| SwatchColour {
                    colour: colour.to_string(),
                    percent,
                })
                .collect(),
        })
    }

    /// A photo as light and dark, upright, for finding printed marks on it.
    pub fn grey_photo(&self, photo: &PhotoHash) -> Result<GreyPhoto> {
        let (_, format) = self.photo_and_format(photo)?;
        self.photos().grey(photo, format).map_err(|error| damaged(photo, error))
    }

    /// Marks the part of its photo a cloth is known by, as begun from version
    /// `seen`. From then on the cloth is drawn in the average colour of the part.
    pub fn mark_swatch(&self, cloth: Id, seen: i64, part: Region) -> Result<i64> {
        let mut marked = self.stock_cloth(cloth)?;
        let Some(photo) = &marked.photo else {
            return Err(NotebookError::refused(
                "photo",
                "This cloth has no photo yet. Add one on its page, then mark the swatch.",
            ));
        };
        let swatch = self.look_at(photo, part)?;
        marked.colour.clone_from(&swatch.average);
        marked.swatch = Some(swatch);
        self.save_cloth(seen, &marked)
    }

    /// The whole photo is the swatch again; the colour stays as it is.
    pub fn unmark_swatch(&self, cloth: Id, seen: i64) -> Result<i64> {
        let mut whole = self.stock_cloth(cloth)?;
        whole.swatch = None;
        self.save_cloth(seen, &whole)
    }

    /// The file of a marked part. Parts nobody marked are not drawn: else
    /// anyone who may look could fill the disk.
    pub fn swatch_file(&self, photo: &PhotoHash, part: Region) -> Result<PathBuf> {
        let marked = self.read(|t| {
            let mut statement = t.prepare_cached("SELECT swatch FROM cloth WHERE photo = ?1 AND swatch IS NOT NULL")?;
            let rows = statement.query_map([&photo.0], |r| Ok(r.get::<_, Json<Swatch>>(0)?.0))?;
            let all: Vec<Swatch> = rows.collect::<rusqlite::Result<_>>()?;
            Ok(all.iter().any(|s| s.part == part))
        })?;
        if !marked {
            return Err(NotebookError::NotFound("swatch"));
        }
        let (_, format) = self.photo_and_format(photo)?;
        self.photos()
            .swatch(photo, format, part)
            .map_err(|error| damaged(photo, error))
    }
}

fn damaged(photo: &PhotoHash, error: PhotoError) -> NotebookError {
    match error {
        PhotoError::File(e) => NotebookError::File(e),
        other => NotebookError::Damaged(format!("the original of photo {}: {other}", photo.0)),
    }
}

/// Those in the bin too: a plan keeps its cloth, and so how it looks.
pub(super) fn pictures(t: &Transaction<'_>) -> Result<Pictures> {
    let mut statement =
        t.prepare_cached("SELECT id, photo, swatch, colour, binned_at IS NULL FROM cloth WHERE photo IS NOT NULL")?;
    let rows = statement.query_map([], |row| {
        let swatch = row.get::<_, Option<Json<Swatch>>>(2)?;
        let part = swatch.map(|s| s.0.part);
        let colour: String = row.get(3)?;
        let there: bool = row.get(4)?;
        let colour = (there && part.is_some()).then_some(colour);
        let photo = PhotoHash(row.get(1)?);
        Ok((row.get::<_, String>(0)?, (Picture { photo, part }, colour)))
    })?;
    Ok(Pictures(rows.collect::<rusqlite::Result<_>>()?))
}

/// As far as the cloth itself can tell.
pub(super) fn is_sound(cloth: &StockCloth) -> bool {
    let Some(swatch) = &cloth.swatch else { return true };
    let colour = |text: &str| Rgb::parse(text).is_some();
    cloth.photo.is_some()
        && swatch.part.is_sound()
        && colour(&swatch.average)
        && (1..=12).contains(&swatch.colours.len())
        && swatch
            .colours
            .iter()
            .all(|c| colour(&c.colour) && (1..=100).contains(&c.percent))
}
