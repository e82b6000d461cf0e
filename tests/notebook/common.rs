use chrono::{DateTime, NaiveDate, Utc};
use notchbook::measure::{CM, INCH, Length, MM, Money, Percent, YARD};
use notchbook::notebook::{
    Entry, EntryKind, Id, Measurement, MeasurementSet, Notebook, NotebookError, ProjectDetails, StockCloth,
    StockOutlined, StockRemnant, Wearer, WearerKind, WorkDone,
};
use notchbook::plan::{
    Along, Alteration, Care, Cloth, ClothKind, Corner, Edge, Edit, Face, Layers, Outline, Per, Piece, Price, ReadyCut,
    ReadyShape, Sides, Washing, Work,
};
use std::fmt::Debug;
use tempfile::TempDir;

pub struct Fresh {
    pub dir: TempDir,
    pub notebook: Notebook,
}

pub fn fresh() -> Fresh {
    let dir = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(dir.path()).unwrap();
    Fresh { dir, notebook }
}

pub fn new_id() -> Id {
    Id::now_v7()
}

pub fn details(title: &str) -> ProjectDetails {
    ProjectDetails {
        title: title.into(),
        ..ProjectDetails::default()
    }
}

impl Fresh {
    pub fn project(&self, title: &str) -> Id {
        self.notebook.start_project(new_id(), &details(title)).unwrap()
    }

    /// How many rows a table has: read beside the notebook, as any program could.
    pub fn rows(&self, table: &str) -> i64 {
        let file = self.dir.path().join("notebook.sqlite");
        let beside = rusqlite::Connection::open_with_flags(file, rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
        beside
            .query_row(&format!("SELECT count(*) FROM {table}"), [], |r| r.get(0))
            .unwrap()
    }

    /// Files below `photos/`.
    pub fn photo_files(&self) -> usize {
        fn count(folder: &std::path::Path) -> usize {
            std::fs::read_dir(folder)
                .unwrap()
                .map(|item| item.unwrap())
                .map(|item| if item.path().is_dir() { count(&item.path()) } else { 1 })
                .sum()
        }
        count(&self.dir.path().join("photos"))
    }
}

pub fn cloth(id: &str) -> Cloth {
    Cloth {
        id: id.into(),
        name: "Cream linen".into(),
        kind: ClothKind::Cloth,
        fibre: "linen".into(),
        usable_width: INCH * 54,
        owned: Length::ZERO,
        remnants: Vec::new(),
        price: None,
        colour: "#eee4cf".into(),
        link: String::new(),
        one_way: false,
        shrinkage: Percent::ZERO,
        stock: None,
        ..Default::default()
    }
}

pub fn edge(id: &str) -> Edge {
    Edge {
        id: id.into(),
        name: format!("Hem {id}"),
        length: INCH * 42,
        count: 1,
        corners: 0,
        closed: true,
        from: None,
    }
}

pub fn piece(id: &str, name: &str) -> Piece {
    Piece {
        id: id.into(),
        name: name.into(),
        cut_count: 2,
        mirrored: true,
        on_fold: false,
        width: INCH * 18,
        height: INCH * 24,
        alterations: vec![Alteration {
            along: Along::Height,
            by: INCH,
            reason: "long arms".into(),
        }],
        face: Some(Face::plain("c1")),
        layers: Some(Layers {
            batting: None,
            backing: Some("c1".into()),
            ..Default::default()
        }),
        margin: INCH,
        take_up: Percent::whole(3),
        ..Default::default()
    }
}

/// Gives the project a cloth, a piece and an edge: revisions 2 to 4.
pub fn fill(notebook: &Notebook, project: Id) {
    notebook.change_plan(project, 1, &Edit::Cloth(cloth("c1"))).unwrap();
    notebook
        .change_plan(project, 2, &Edit::Piece(Box::new(piece("p1", "Sleeve"))))
        .unwrap();
    notebook.change_plan(project, 3, &Edit::Edge(edge("e1"))).unwrap();
}

pub fn moment(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

pub fn note(text: &str, happened_at: &str) -> Entry {
    Entry {
        id: new_id(),
        kind: EntryKind::Note,
        happened_at: moment(happened_at),
        text: text.into(),
        why: String::new(),
        length: None,
        work: None,
        piece: None,
        cloth: None,
        step: None,
        photos: Vec::new(),
        revisions: None,
        effect: Vec::new(),
        second_thought: None,
        version: 1,
    }
}

pub fn work(kind: Work, minutes: u32) -> Entry {
    Entry {
        kind: EntryKind::Work,
        work: Some(WorkDone { kind, minutes }),
        ..note("", "2026-11-25T10:00:00Z")
    }
}

pub fn stock_cloth(name: &str) -> StockCloth {
    StockCloth {
        id: new_id(),
        name: name.into(),
        kind: ClothKind::Cloth,
        fibre: "cotton".into(),
        usable_width: INCH * 42 + Length::from_units(1),
        owned: YARD * 2,
        price: Some(Price {
            amount: Money::hundredths(12_50),
            per: Per::Yard,
        }),
        colour: "#37558c".into(),
        link: "https://example.org/cloth".into(),
        one_way: true,
        shrinkage: Percent::hundredths(2_50),
        care: Some(Care {
            washing: Washing::C40VeryMild,
            in_the_shade: true,
            ..Care::default()
        }),
        note: "washed".into(),
        photo: None,
        swatch: None,
        outlined: vec![
            StockOutlined {
                outline: Outline::Corners(
                    [(0, 0), (12, 1), (9, 20)]
                        .map(|(across, along)| Corner {
                            across: INCH * across,
                            along: MM * along,
                        })
                        .to_vec(),
                ),
                count: 1,
                note: "left of the hood".into(),
            },
            StockOutlined {
                outline: Outline::Sides(Sides {
                    sides: vec![INCH * 6, INCH * 8, INCH * 6, INCH * 8],
                    diagonal: Some(INCH * 10 + Length::from_units(1)),
                }),
                count: 3,
                note: String::new(),
            },
        ],
        remnants: vec![StockRemnant {
            width: INCH * 12,
            length: MM * 333,
            count: 2,
            note: "one has a stain".into(),
        }],
        ready_cut: vec![ReadyCut {
            shape: ReadyShape::HalfSquareTriangle,
            width: INCH * 3 + Length::from_units(1),
            height: Length::ZERO,
            count: 24,
        }],
        version: 1,
    }
}

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub fn set(taken_on: &str, bust: i64) -> MeasurementSet {
    MeasurementSet {
        id: new_id(),
        taken_on: day(taken_on),
        values: vec![
            Measurement {
                name: "bust girth".into(),
                value: CM * bust,
            },
            Measurement {
                name: "back waist length".into(),
                value: MM * 415,
            },
        ],
    }
}

pub fn wearer(name: &str) -> Wearer {
    Wearer {
        id: new_id(),
        name: name.into(),
        kind: WearerKind::Adult,
        note: "likes pockets".into(),
        sets: vec![set("2026-03-01", 97), set("2025-06-30", 95)],
        version: 1,
    }
}

/// The field a value was refused for.
pub fn refused_field<T: Debug>(answer: Result<T, NotebookError>) -> &'static str {
    match answer {
        Err(NotebookError::Refused { field, message }) => {
            assert!(message.ends_with('.'), "{message}");
            field
        }
        other => panic!("not refused: {other:?}"),
    }
}

pub fn is_not_found<T: Debug>(answer: Result<T, NotebookError>) -> bool {
    matches!(answer, Err(NotebookError::NotFound(_)))
}

pub fn is_stale<T: Debug>(answer: Result<T, NotebookError>) -> bool {
    matches!(answer, Err(NotebookError::Stale(_)))
}
