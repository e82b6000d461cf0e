use super::columns::{At, Json, Key, Units, Word, now};
use super::movements::correct;
use super::projects::found;
use super::{Id, Notebook, NotebookError, PhotoHash, Result, StockCloth, StockOutlined, StockRemnant};
use crate::figures::outline;
use crate::measure::{Length, Money, Percent};
use crate::plan::{Price, ReadyCut, ReadyShape};
use rusqlite::{OptionalExtension, Row, Transaction, params};

impl Notebook {
    /// The shelf by name, without the bin.
    pub fn cloths(&self) -> Result<Vec<StockCloth>> {
        self.read(shelf)
    }

    /// The bin, the one put there last first.
    pub fn binned_cloths(&self) -> Result<Vec<StockCloth>> {
        self.read(|t| {
            list(
                t,
                "SELECT * FROM cloth WHERE binned_at IS NOT NULL ORDER BY binned_at DESC, id",
            )
        })
    }

    pub fn stock_cloth(&self, id: Id) -> Result<StockCloth> {
        self.read(|t| cloth(t, id))
    }

    /// Saves a cloth as begun from version `seen`, 0 for a new one. Earlier
    /// versions are kept.
    pub fn save_cloth(&self, seen: i64, cloth: &StockCloth) -> Result<i64> {
        let new = cloth.clone();
        self.write(move |t| {
            let mut new = new;
            let before = match self::cloth(t, new.id) {
                Ok(before) => before,
                Err(NotebookError::NotFound(_)) if seen == 0 && !is_known(t, new.id)? => {
                    check_cloth(t, &new)?;
                    new.version = 1;
                    insert_cloth(t, &new)?;
                    return Ok(1);
                }
                Err(other) => return Err(other),
            };
            new.version = before.version;
            // The same save sent twice, or nothing changed.
            if new == before {
                return Ok(before.version);
            }
            if before.version != seen {
                return Err(NotebookError::Stale(before.name));
            }
            correct(t, &before, &new)?;
            keep_and_update(t, &before, &new)
        })
    }

    pub fn bin_cloth(&self, id: Id) -> Result<()> {
        self.write(move |t| bin(t, id))
    }

    pub fn restore_cloth(&self, id: Id) -> Result<()> {
        self.write(move |t| unbin(t, id))
    }

    /// Projects whose plan, as it is now, uses this cloth: id and title, the
    /// one changed last first.
    pub fn projects_with_cloth(&self, id: Id) -> Result<Vec<(Id, String)>> {
        self.read(|t| {
            let mut statement = t.prepare_cached(
                "SELECT p.id, p.title FROM project p
                 JOIN revision r ON r.project = p.id
                    AND r.number = (SELECT max(number) FROM revision WHERE project = p.id)
                 WHERE p.binned_at IS NULL AND EXISTS
                    (SELECT 1 FROM json_each(r.plan, '$.cloths') c WHERE c.value ->> '$.stock' = ?1)
                 ORDER BY p.changed_at DESC, p.id DESC",
            )?;
            let rows = statement.query_map([Key(id)], |r| Ok((r.get::<_, Key>(0)?.0, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }
}

pub(super) fn bin(t: &Transaction<'_>, id: Id) -> Result<()> {
    let changed = t.execute(
        "UPDATE cloth SET binned_at = coalesce(binned_at, ?2) WHERE id = ?1",
        params![Key(id), At(now())],
    )?;
    found(changed, "cloth")
}

pub(super) fn unbin(t: &Transaction<'_>, id: Id) -> Result<()> {
    let changed = t.execute("UPDATE cloth SET binned_at = NULL WHERE id = ?1", [Key(id)])?;
    found(changed, "cloth")
}

/// Keeps the cloth as it was and puts the new one in its place, under the
/// version that is handed back.
pub(super) fn keep_and_update(t: &Transaction<'_>, before: &StockCloth, new: &StockCloth) -> Result<i64> {
    check_cloth(t, new)?;
    t.execute(
        "INSERT INTO cloth_version (cloth, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
        params![Key(before.id), before.version, At(now()), Json(before)],
    )?;
    let version = before.version + 1;
    update_cloth(t, &StockCloth { version, ..new.clone() })?;
    Ok(version)
}

/// Puts a cloth on the shelf unless it is there already.
pub(super) fn shelve_new(t: &Transaction<'_>, cloth: &StockCloth) -> Result<()> {
    if is_known(t, cloth.id)? {
        return Ok(());
    }
    check_cloth(t, cloth)?;
    insert_cloth(
        t,
        &StockCloth {
            version: 1,
            ..cloth.clone()
        },
    )
}

/// In the bin or out of it.
pub(super) fn is_known(t: &Transaction<'_>, id: Id) -> Result<bool> {
    Ok(
        t.query_row("SELECT EXISTS (SELECT 1 FROM cloth WHERE id = ?1)", [Key(id)], |r| {
            r.get(0)
        })?,
    )
}

pub(super) fn cloth(t: &Transaction<'_>, id: Id) -> Result<StockCloth> {
    let row = t
        .prepare_cached("SELECT * FROM cloth WHERE id = ?1 AND binned_at IS NULL")?
        .query_row([Key(id)], cloth_of)
        .optional()?;
    let mut cloth = row.ok_or(NotebookError::NotFound("cloth"))?;
    cloth.remnants = remnants_of(t, id)?;
    cloth.outlined = outlined_of(t, id)?;
    cloth.ready_cut = ready_cut_of(t, id)?;
    Ok(cloth)
}

pub(super) fn shelf(t: &Transaction<'_>) -> Result<Vec<StockCloth>> {
    list(
        t,
        "SELECT * FROM cloth WHERE binned_at IS NULL ORDER BY name COLLATE NOCASE, id",
    )
}

fn list(t: &Transaction<'_>, sql: &str) -> Result<Vec<StockCloth>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map([], cloth_of)?;
    let mut cloths: Vec<StockCloth> = rows.collect::<rusqlite::Result<_>>()?;
    for cloth in &mut cloths {
        cloth.remnants = remnants_of(t, cloth.id)?;
        cloth.outlined = outlined_of(t, cloth.id)?;
        cloth.ready_cut = ready_cut_of(t, cloth.id)?;
    }
    Ok(cloths)
}

/// Without its remnants and ready-cut patches.
fn cloth_of(row: &Row<'_>) -> rusqlite::Result<StockCloth> {
    let amount: Option<i64> = row.get("price")?;
    let per = row.get::<_, Option<Word<_>>>("price_per")?;
    Ok(StockCloth {
        id: row.get::<_, Key>("id")?.0,
        name: row.get("name")?,
        kind: row.get::<_, Word<_>>("kind")?.0,
        fibre: row.get("fibre")?,
        usable_width: row.get::<_, Units>("usable_width")?.0,
        owned: row.get::<_, Units>("owned")?.0,
        price: amount.zip(per).map(|(amount, per)| Price {
            amount: Money::hundredths(amount),
            per: per.0,
        }),
        colour: row.get("colour")?,
        link: row.get("link")?,
        one_way: row.get("one_way")?,
        shrinkage: Percent::hundredths(row.get("shrinkage")?),
        care: row.get::<_, Option<Json<_>>>("care")?.map(|care| care.0),
        note: row.get("note")?,
        photo: row.get::<_, Option<String>>("photo")?.map(PhotoHash),
        swatch: row.get::<_, Option<Json<_>>>("swatch")?.map(|swatch| swatch.0),
        remnants: Vec::new(),
        outlined: Vec::new(),
        ready_cut: Vec::new(),
        version: row.get("version")?,
    })
}

fn remnants_of(t: &Transaction<'_>, cloth: Id) -> Result<Vec<StockRemnant>> {
    let mut statement = t.prepare_cached("SELECT * FROM remnant WHERE cloth = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(cloth)], |row| {
        Ok(StockRemnant {
            width: row.get::<_, Units>("width")?.0,
            length: row.get::<_, Units>("length")?.0,
            count: row.get("count")?,
            note: row.get("note")?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn outlined_of(t: &Transaction<'_>, cloth: Id) -> Result<Vec<StockOutlined>> {
    let mut statement = t.prepare_cached("SELECT * FROM outlined_remnant WHERE cloth = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(cloth)], |row| {
        Ok(StockOutlined {
            outline: row.get::<_, Json<_>>("outline")?.0,
            count: row.get("count")?,
            note: row.get("note")?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn ready_cut_of(t: &Transaction<'_>, cloth: Id) -> Result<Vec<ReadyCut>> {
    let mut statement = t.prepare_cached("SELECT * FROM ready_cut WHERE cloth = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(cloth)], |row| {
        Ok(ReadyCut {
            shape: row.get::<_, Word<_>>("shape")?.0,
            width: row.get::<_, Units>("width")?.0,
            height: row.get::<_, Units>("height")?.0,
            count: row.get("count")?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn check_cloth(t: &Transaction<'_>, cloth: &StockCloth) -> Result<()> {
    check_cloth_alone(cloth)?;
    if let Some(photo) = &cloth.photo
        && !super::photo_rows::is_kept(t, photo)?
    {
        return Err(NotebookError::refused(
            "photo",
            "The photo of this cloth has not arrived. Choose it again.",
        ));
    }
    Ok(())
}

/// The most that is read back from a file.
const HIGHEST_PRICE: Money = Money::hundredths(99_999_999);

const PRICE: &str = "A price is at least 0 and less than 1,000,000.";

fn price_is_kept(price: Option<&Price>) -> bool {
    price.is_none_or(|p| (Money::ZERO..=HIGHEST_PRICE).contains(&p.amount))
}

pub(super) fn check_price(price: Option<&Price>) -> Result<()> {
    if price_is_kept(price) {
        Ok(())
    } else {
        Err(NotebookError::refused("price", PRICE))
    }
}

/// As far as the cloth itself can tell.
pub(super) fn check_cloth_alone(cloth: &StockCloth) -> Result<()> {
    let huge = |length: Length| length > Length::MAX;
    let colour = cloth.colour.strip_prefix('#').unwrap_or_default();
    let (field, message) = if cloth.name.trim().is_empty() {
        ("name", "Give the cloth a name.")
    } else if !cloth.usable_width.is_positive() || huge(cloth.usable_width) {
        ("usable_width", "The usable width is more than 0 and at most 200 m.")
    } else if cloth.owned.is_negative() || huge(cloth.owned) {
        ("owned", "The length at hand is 0 or more and at most 200 m.")
    } else if !price_is_kept(cloth.price.as_ref()) {
        ("price", PRICE)
    } else if !(0..10_000).contains(&cloth.shrinkage.as_hundredths()) {
        ("shrinkage", "Cloth shrinks by 0 % or more and less than 100 %.")
    } else if colour.len() != 6 || !colour.bytes().all(|b| b.is_ascii_hexdigit()) {
        ("colour", "Choose a colour; it is written like #c2a878.")
    } else if cloth
        .remnants
        .iter()
        .any(|r| !r.width.is_positive() || !r.length.is_positive() || huge(r.width) || huge(r.length))
    {
        ("remnants", "A remnant is wider and longer than 0 and at most 200 m.")
    } else if !cloth
        .outlined
        .iter()
        .all(|o| o.count >= 1 && outline(&o.outline).is_ok())
    {
        (
            "outlined",
            "A remnant with an outline has three corners or more that close, and there is at least one of it.",
        )
    } else if !super::swatches::is_sound(cloth) {
        (
            "swatch",
            "A swatch is a part of the photo of its cloth, at least 2 % wide and high, with its colours.",
        )
    } else if !cloth.ready_cut.iter().all(is_ready_cut) {
        (
            "ready_cut",
            "Ready-cut patches have a size of more than 0 and at most 200 m, a rectangle two of them, and there is at least one.",
        )
    } else {
        return Ok(());
    };
    Err(NotebookError::refused(field, message))
}

fn is_ready_cut(ready: &ReadyCut) -> bool {
    let side = |length: Length| length.is_positive() && length <= Length::MAX;
    let height = match ready.shape {
        ReadyShape::Rectangle => side(ready.height),
        _ => ready.height == Length::ZERO,
    };
    side(ready.width) && height && ready.count >= 1
}

pub(super) fn insert_cloth(t: &Transaction<'_>, cloth: &StockCloth) -> Result<()> {
    t.execute(
        "INSERT INTO cloth (id, name, kind, fibre, usable_width, owned, colour, link, one_way, shrinkage, note, version,
                changed_at)
         VALUES (?1, ?2, ?3, '', ?4, 0, '', '', 0, 0, '', ?5, ?6)",
        params![
            Key(cloth.id),
            cloth.name,
            Word(cloth.kind),
            Units(cloth.usable_width),
            cloth.version,
            At(now())
        ],
    )?;
    update_cloth(t, cloth)
}

fn update_cloth(t: &Transaction<'_>, cloth: &StockCloth) -> Result<()> {
    t.execute(
        "UPDATE cloth SET name = ?2, kind = ?3, fibre = ?4, usable_width = ?5, owned = ?6, price = ?7, price_per = ?8,
                colour = ?9, link = ?10, one_way = ?11, shrinkage = ?12, note = ?13, photo = ?14, version = ?15,
                changed_at = ?16, care = ?17, swatch = ?18
         WHERE id = ?1",
        params![
            Key(cloth.id),
            cloth.name,
            Word(cloth.kind),
            cloth.fibre,
            Units(cloth.usable_width),
            Units(cloth.owned),
            cloth.price.as_ref().map(|p| p.amount.as_hundredths()),
            cloth.price.as_ref().map(|p| Word(p.per)),
            cloth.colour,
            cloth.link,
            cloth.one_way,
            cloth.shrinkage.as_hundredths(),
            cloth.note,
            cloth.photo.as_ref().map(|p| &p.0),
            cloth.version,
            At(now()),
            cloth.care.as_ref().map(Json),
            cloth.swatch.as_ref().map(Json),
        ],
    )?;
    t.execute("DELETE FROM remnant WHERE cloth = ?1", [Key(cloth.id)])?;
    for (position, remnant) in (0i64..).zip(&cloth.remnants) {
        t.execute(
            "INSERT INTO remnant (cloth, position, width, length, count, note) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                Key(cloth.id),
                position,
                Units(remnant.width),
                Units(remnant.length),
                remnant.count,
                remnant.note
            ],
        )?;
    }
    t.execute("DELETE FROM outlined_remnant WHERE cloth = ?1", [Key(cloth.id)])?;
    for (position, remnant) in (0i64..).zip(&cloth.outlined) {
        t.execute(
            "INSERT INTO outlined_remnant (cloth, position, outline, count, note) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![
                Key(cloth.id),
                position,
                Json(&remnant.outline),
                remnant.count,
                remnant.note
            ],
        )?;
    }
    t.execute("DELETE FROM ready_cut WHERE cloth = ?1", [Key(cloth.id)])?;
    for (position, ready) in (0i64..).zip(&cloth.ready_cut) {
        t.execute(
            "INSERT INTO ready_cut (cloth, position, shape, width, height, count) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                Key(cloth.id),
                position,
                Word(ready.shape),
                Units(ready.width),
                Units(ready.height),
                ready.count
            ],
        )?;
    }
    Ok(())
}
