//! What the notebook keeps, as plain values. The same shapes are the JSON of
//! an exported folder.

use crate::figures::Change;
use crate::figures::measured::{Measured, MeasuredOn};
use crate::measure::{Length, Lightness, Percent, Rgb, Unit};
use crate::photos::{PhotoHash, Region};
use crate::plan::{self, ClothKind, Plan, Price, ReadyCut, Work};
use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

/// A UUID (version 7, so ids sort by time). The phone may make it: a resend
/// with the same id changes nothing.
pub type Id = uuid::Uuid;

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    pub name: String,
    /// Unit of new projects, and taken by bare numbers outside a project.
    pub unit: Unit,
    /// Shown before prices: "€", "$", "CHF".
    pub currency: String,
    /// Most characters of the text for a video description.
    pub description_limit: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum ProjectState {
    #[default]
    Planning,
    Making,
    Resting,
    Finished,
}

impl ProjectState {
    pub const ALL: [ProjectState; 4] = [
        ProjectState::Planning,
        ProjectState::Making,
        ProjectState::Resting,
        ProjectState::Finished,
    ];
    pub const fn name(self) -> &'static str {
        match self {
            ProjectState::Planning => "planning",
            ProjectState::Making => "making",
            ProjectState::Resting => "resting",
            ProjectState::Finished => "finished",
        }
    }
}

/// The printed pattern a project starts from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SourcePattern {
    pub name: String,
    pub maker: String,
    pub link: String,
    pub size: String,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProjectDetails {
    pub title: String,
    #[serde(default)]
    pub state: ProjectState,
    /// One of the notebook's wearers, or
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wearer: Option<Id>,
    /// in words, where no wearer is chosen.
    #[serde(default)]
    pub for_whom: String,
    #[serde(default)]
    pub pattern: SourcePattern,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
    /// Free text, Markdown.
    #[serde(default)]
    pub about: String,
}

/// A project as the home page lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectCard {
    pub id: Id,
    pub details: ProjectDetails,
    /// Name of the wearer or the words of `for_whom`.
    pub for_whom: String,
    /// The cover chosen by the maker, else the newest photo of the log.
    pub photo: Option<PhotoHash>,
    pub changed_at: DateTime<Utc>,
    /// First line of the newest log entry.
    pub last_entry: Option<String>,
    pub revision: i64,
    /// The plan's cloths, for a strip of swatches; where there is a photo, none.
    pub swatches: Vec<Look>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Project {
    pub id: Id,
    pub details: ProjectDetails,
    /// Counts the saves of `details`; a save names the one it began from.
    pub details_version: i64,
    pub for_whom: String,
    pub photo: Option<PhotoHash>,
    pub created_at: DateTime<Utc>,
    pub changed_at: DateTime<Utc>,
    /// The project this one was started from, and its title.
    pub from: Option<(Id, String)>,
    /// The dated measurements in use.
    pub measurements: Option<MeasurementSet>,
    pub plan: Plan,
    pub revision: i64,
    /// Where this is not the project's own plan but a variant of it: `plan` is
    /// the variant's, `revision` its version.
    pub variant: Option<Letter>,
}

/// The two variants of a plan that are set beside each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Letter {
    A,
    B,
}

impl Letter {
    pub const ALL: [Letter; 2] = [Letter::A, Letter::B];
    pub const fn name(self) -> &'static str {
        match self {
            Letter::A => "A",
            Letter::B => "B",
        }
    }
    /// As it stands in addresses and columns.
    pub const fn word(self) -> &'static str {
        match self {
            Letter::A => "a",
            Letter::B => "b",
        }
    }
}

/// A plan that is being tried: kept, but no revision until it is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variant {
    pub letter: Letter,
    /// The revision both variants began as copies of.
    pub from: Revision,
    /// Counts its saves; a save names the one it began from.
    pub version: i64,
    pub plan: Plan,
    /// What is tried in it, in the maker's words.
    pub note: String,
    pub changed_at: DateTime<Utc>,
}

/// One state of a plan, kept for ever.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    pub number: i64,
    pub made_at: DateTime<Utc>,
    /// What was changed: "Sleeve changed".
    pub what: String,
    pub plan: Plan,
}

/// What a new project takes over from an old one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TakeOver {
    pub measurements: bool,
    /// Pieces with their alterations; edges too. Without `plan`, faces and layers stay behind.
    pub pieces: bool,
    /// The whole plan: pieces, cloths, patchwork, layers, edges, binding, notions, allowances.
    pub plan: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum EntryKind {
    Note,
    Photo,
    Decision,
    Measure,
    /// Minutes of one kind of work.
    Work,
}

impl EntryKind {
    pub const ALL: [EntryKind; 5] = [
        EntryKind::Photo,
        EntryKind::Note,
        EntryKind::Decision,
        EntryKind::Measure,
        EntryKind::Work,
    ];

    pub const fn name(self) -> &'static str {
        match self {
            EntryKind::Note => "note",
            EntryKind::Photo => "photo",
            EntryKind::Decision => "decision",
            EntryKind::Measure => "measure",
            EntryKind::Work => "work",
        }
    }
}

/// A decision saved together with the change of the plan it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewDecision {
    /// Made when the form is shown: a resend adds nothing.
    pub id: Id,
    pub what: String,
    pub why: String,
}

/// What the maker thinks of a decision later.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SecondThought {
    pub would_do_again: bool,
    #[serde(default)]
    pub text: String,
}

/// How long one kind of work took.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkDone {
    pub kind: Work,
    /// 1 to [`WorkDone::MOST`].
    pub minutes: u32,
}

impl WorkDone {
    /// A day and a night.
    pub const MOST: u32 = 24 * 60;
}

/// A line of the log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    pub id: Id,
    pub kind: EntryKind,
    /// When it happened, by the device that wrote it.
    pub happened_at: DateTime<Utc>,
    /// Markdown: the note, the words under a photo, what was decided, what was measured.
    #[serde(default)]
    pub text: String,
    /// Of a decision: why.
    #[serde(default)]
    pub why: String,
    /// Of a measure: the length.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
    /// Of work: its kind and minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work: Option<WorkDone>,
    /// Id of a piece of the plan it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// Id of a cloth of the plan it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cloth: Option<String>,
    /// The step of the project it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<Id>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PhotoHash>,
    /// Of a decision that changed the plan: from which revision to which, and
    /// what that did to the figures, worked out when it was written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revisions: Option<(i64, i64)>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub effect: Vec<Change>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second_thought: Option<SecondThought>,
    /// Counts its edits; 1 when new. Earlier texts are kept.
    #[serde(default = "one")]
    pub version: i64,
}

fn one() -> i64 {
    1
}

/// A step of a project. Steps stand in the order they are to be done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    pub id: Id,
    pub title: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work: Option<Work>,
    /// Minutes the maker expects, 1 to [`Step::MOST`]; nothing where the
    /// figures reckon them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done_at: Option<DateTime<Utc>>,
    /// Where it is shown in the video: seconds from its beginning, at most
    /// [`crate::measure::LATEST_MOMENT`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub video: Option<u32>,
    /// Counts its saves; a save names the one it began from.
    #[serde(default = "one")]
    pub version: i64,
}

impl Step {
    /// A thousand hours.
    pub const MOST: u32 = 60_000;

    pub fn new(id: Id, title: impl Into<String>, work: Option<Work>) -> Step {
        Step {
            id,
            title: title.into(),
            work,
            minutes: None,
            done_at: None,
            video: None,
            version: 1,
        }
    }
}

/// That a step is done, or that it is not, as it was said on some device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepTick {
    pub id: Id,
    pub step: Id,
    pub done: bool,
    pub made_at: DateTime<Utc>,
}

/// A running timer, or one that was stopped and whose minutes are not in the
/// log yet. Its minutes become the entry with its id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timer {
    /// Made by the form: a start sent twice begins one.
    pub id: Id,
    pub project: Id,
    /// The project's title.
    pub title: String,
    /// The step it was started on, and its title.
    pub step: Option<(Id, String)>,
    pub work: Option<Work>,
    pub started_at: DateTime<Utc>,
    pub stopped_at: Option<DateTime<Utc>>,
}

impl Timer {
    /// Whole minutes, begun ones counted, until it was stopped or until `now`;
    /// at least 1.
    pub fn minutes(&self, now: DateTime<Utc>) -> i64 {
        let seconds = (self.stopped_at.unwrap_or(now) - self.started_at).num_seconds();
        (seconds.max(1) + 59) / 60
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photo {
    pub hash: PhotoHash,
    /// Of the picture as it is shown, turned upright.
    pub width: i64,
    pub height: i64,
    pub bytes: i64,
    pub taken_at: Option<DateTime<Utc>>,
    pub added_at: DateTime<Utc>,
}

/// What a cloth is drawn as: its picture where there is one, else its colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    pub colour: String,
    pub picture: Option<Picture>,
}

/// A photo, or the part of it that was marked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub photo: PhotoHash,
    pub part: Option<Region>,
}

/// The part of a cloth's photo it is known by, and the colours seen there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swatch {
    pub part: Region,
    /// `#rrggbb`: all of it mixed, as seen from across the room.
    pub average: String,
    /// Those that can be told apart, the largest share first.
    pub colours: Vec<SwatchColour>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwatchColour {
    /// `#rrggbb`.
    pub colour: String,
    /// Of the part, 1 to 100.
    pub percent: u32,
}

impl Swatch {
    /// How light it is on the whole, and the name of that step.
    pub fn lightness(&self) -> Option<(f64, Lightness)> {
        let l = Rgb::parse(&self.average)?.lab().l;
        Some((l, Lightness::of(l)))
    }
}

/// A cloth of the maker's shelf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockCloth {
    pub id: Id,
    pub name: String,
    #[serde(default)]
    pub kind: ClothKind,
    #[serde(default)]
    pub fibre: String,
    pub usable_width: Length,
    #[serde(default)]
    pub owned: Length,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    pub colour: String,
    #[serde(default)]
    pub link: String,
    #[serde(default)]
    pub one_way: bool,
    #[serde(default)]
    pub shrinkage: Percent,
    /// What its label bears.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub care: Option<plan::Care>,
    #[serde(default)]
    pub note: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<PhotoHash>,
    /// A part of that photo.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swatch: Option<Swatch>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remnants: Vec<StockRemnant>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub outlined: Vec<StockOutlined>,
    /// Patches cut for an earlier project.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ready_cut: Vec<ReadyCut>,
    /// Counts its saves; a save names the one it began from.
    #[serde(default = "one")]
    pub version: i64,
}

/// A leftover rectangle on the shelf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockRemnant {
    pub width: Length,
    pub length: Length,
    pub count: u32,
    #[serde(default)]
    pub note: String,
}

/// Leftovers on the shelf that are no rectangles.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockOutlined {
    pub outline: plan::Outline,
    pub count: u32,
    #[serde(default)]
    pub note: String,
}

impl StockCloth {
    /// Its picture, the part that was marked where one was.
    pub fn picture(&self) -> Option<Picture> {
        let photo = self.photo.clone()?;
        let part = self.swatch.as_ref().map(|s| s.part);
        Some(Picture { photo, part })
    }

    /// As the shelf takes a plan's cloth over, under an id of its own.
    pub fn of_plan(id: Id, c: &plan::Cloth) -> StockCloth {
        StockCloth {
            id,
            name: c.name.clone(),
            kind: c.kind,
            fibre: c.fibre.clone(),
            usable_width: c.usable_width,
            owned: c.owned,
            price: c.price.clone(),
            colour: c.colour.clone(),
            link: c.link.clone(),
            one_way: c.one_way,
            shrinkage: c.shrinkage,
            care: c.care.clone(),
            note: String::new(),
            photo: None,
            swatch: None,
            outlined: c
                .outlined
                .iter()
                .map(|o| StockOutlined {
                    outline: o.outline.clone(),
                    count: o.count,
                    note: String::new(),
                })
                .collect(),
            remnants: c
                .remnants
                .iter()
                .map(|r| StockRemnant {
                    width: r.width,
                    length: r.length,
                    count: r.count,
                    note: String::new(),
                })
                .collect(),
            ready_cut: c.ready_cut.clone(),
            version: 1,
        }
    }

    /// As a plan takes it over, under the plan's own id.
    pub fn for_plan(&self, id: String) -> plan::Cloth {
        plan::Cloth {
            id,
            name: self.name.clone(),
            kind: self.kind,
            fibre: self.fibre.clone(),
            usable_width: self.usable_width,
            owned: self.owned,
            remnants: self
                .remnants
                .iter()
                .map(|r| plan::Remnant {
                    width: r.width,
                    length: r.length,
                    count: r.count,
                })
                .collect(),
            outlined: self
                .outlined
                .iter()
                .map(|o| plan::Outlined {
                    outline: o.outline.clone(),
                    count: o.count,
                })
                .collect(),
            ready_cut: self.ready_cut.clone(),
            price: self.price.clone(),
            colour: self.colour.clone(),
            link: self.link.clone(),
            one_way: self.one_way,
            shrinkage: self.shrinkage,
            care: self.care.clone(),
            stock: Some(self.id.to_string()),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum WearerKind {
    #[default]
    Adult,
    Child,
    Animal,
    Household,
}

impl WearerKind {
    pub const ALL: [WearerKind; 4] = [
        WearerKind::Adult,
        WearerKind::Child,
        WearerKind::Animal,
        WearerKind::Household,
    ];
    pub const fn name(self) -> &'static str {
        match self {
            WearerKind::Adult => "adult",
            WearerKind::Child => "child",
            WearerKind::Animal => "animal",
            WearerKind::Household => "household object",
        }
    }

    /// As a plan says it.
    pub const fn made_for(self) -> plan::MadeFor {
        match self {
            WearerKind::Adult => plan::MadeFor::Adult,
            WearerKind::Child => plan::MadeFor::Child,
            WearerKind::Animal => plan::MadeFor::Animal,
            WearerKind::Household => plan::MadeFor::Household,
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wearer {
    pub id: Id,
    pub name: String,
    #[serde(default)]
    pub kind: WearerKind,
    #[serde(default)]
    pub note: String,
    /// Newest first.
    #[serde(default)]
    pub sets: Vec<MeasurementSet>,
    #[serde(default = "one")]
    pub version: i64,
}

/// What was measured on one day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasurementSet {
    pub id: Id,
    pub taken_on: NaiveDate,
    pub values: Vec<Measurement>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measurement {
    /// An ISO 8559-1 name ("bust girth") or the maker's own.
    pub name: String,
    pub value: Length,
}

impl MeasurementSet {
    /// As the figures take it.
    pub fn measured(&self) -> MeasuredOn {
        let measured = |m: &Measurement| Measured {
            name: m.name.clone(),
            value: m.value,
        };
        MeasuredOn {
            day: self.taken_on,
            values: self.values.iter().map(measured).collect(),
        }
    }
}

/// What something was before a save.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Earlier<T> {
    pub version: i64,
    /// When the save came that took its place.
    pub until: DateTime<Utc>,
    pub value: T,
}

/// Details as they were, with the measurements the project went by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EarlierDetails {
    pub details: ProjectDetails,
    /// For whom it was, in words.
    pub for_whom: String,
    /// Nothing, too, where the set was taken out since.
    pub measurements: Option<MeasurementSet>,
}

/// A line on a photo of a project, with the length it stands for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoMark {
    pub id: Id,
    pub photo: PhotoHash,
    pub from: MarkPoint,
    pub to: MarkPoint,
    pub length: Length,
    /// What was measured.
    #[serde(default)]
    pub what: String,
    /// Counts its saves; a save names the one it began from.
    #[serde(default = "one")]
    pub version: i64,
}

/// A place on a photo, upright as it is shown, in ten-thousandths of its width
/// from the left and of its height from the top: 0 to [`MarkPoint::FULL`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkPoint {
    pub x: i64,
    pub y: i64,
}

impl MarkPoint {
    pub const FULL: i64 = 10_000;
}

/// Two photos of a project side by side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BeforeAfter {
    pub before: PhotoHash,
    pub after: PhotoHash,
    /// Counts its saves; a save names the one it began from.
    #[serde(default = "one")]
    pub version: i64,
}

/// What the maker chose for one line of the materials list. The key names the
/// line: `cloth/c1`, `notion/n2`, `pattern`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineChoice {
    pub key: String,
    pub shown: bool,
    #[serde(default)]
    pub remark: String,
    /// What would do in its place.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub substitute: String,
    /// The maker earns by its link.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub paid: bool,
}

/// A read-only page by a random link.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    pub token: String,
    pub project: Id,
    pub made_at: DateTime<Utc>,
}

/// A phone or another device that was let in from the home network.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    pub id: Id,
    pub name: String,
    pub made_at: DateTime<Utc>,
    pub last_seen_at: DateTime<Utc>,
}
