//! What can be drafted, and the measures each draft asks for.

pub struct Kind {
    /// As it stands in the plan and in addresses.
    pub word: &'static str,
    pub name: &'static str,
    pub about: &'static str,
    pub fields: &'static [Field],
}

pub struct Field {
    pub key: &'static str,
    pub label: &'static str,
    pub hint: &'static str,
    pub take: Take,
}

pub enum Take {
    /// Usual values to begin with, in inches and in centimetres.
    Length(&'static str, &'static str),
    /// As a length, and nothing typed is nothing.
    LengthOrNone(&'static str, &'static str),
    Count(&'static str),
    Percent(&'static str),
    Flag,
    Choice(&'static [(&'static str, &'static str)]),
    /// An edge of an outline of the plan.
    Edge,
    /// Edges of outlines that give this length, which is otherwise typed.
    SewnTo(&'static str),
}

use Take::{Choice, Count, Edge, Flag, Length, LengthOrNone, SewnTo};

const fn field(key: &'static str, label: &'static str, hint: &'static str, take: Take) -> Field {
    Field { key, label, hint, take }
}

const NECKLINE: Field = field(
    "half_neckline",
    "Half the neckline",
    "Along the garment's neck edge, from the middle of the back to the middle of the front.",
    Length("8 5/8", "22"),
);
const NECK_EDGES: Field = field(
    "sewn_to",
    "Sewn to",
    "The neck edges of front and back, if they have outlines: then half the neckline is taken from them and follows them.",
    SewnTo("half_neckline"),
);
const NECK_SHORTER: Field = field(
    "shorter_by",
    "Shorter on each side",
    "Where the hood begins behind the front edge: at a placket or an overlap.",
    LengthOrNone("0", "0"),
);
const INNER_EDGES: Field = field(
    "sewn_to",
    "Sewn to",
    "The edges it is sewn to, if they have outlines: then the length is taken from them and follows them.",
    SewnTo("edge"),
);
const SHORTER: Field = field(
    "shorter_by",
    "Shorter than those edges by",
    "Counts where edges are chosen.",
    LengthOrNone("0", "0"),
);
const DROP: Field = field(
    "drop",
    "Drop in front",
    "How much lower the hood's neck edge lies in front than at the back: 3/4 to 2 in (2 to 5 cm).",
    LengthOrNone("1 1/8", "3"),
);
const HEIGHT: Field = field(
    "height",
    "Height",
    "With a tape from the neckline over the head to the neckline, halved.",
    Length("13", "33"),
);
const ROOM: Field = field(
    "room",
    "Looseness",
    "3/8 to 4 in (1 to 10 cm); 2 in (5 cm) is average.",
    LengthOrNone("1 1/2", "4"),
);
const FACE_HEM: Field = field(
    "face_hem",
    "Hem at the face",
    "Turned in; 0 where it is bound.",
    LengthOrNone("1", "2.5"),
);
const HEM: Field = field("hem", "Hem", "Turned in.", LengthOrNone("1", "2.5"));
const PIECES: Field = field("count", "How many", "", Count("1"));
const ALONG: Field = field("along", "Along", "The edge it is sewn to.", Edge);

pub const KINDS: [Kind; 12] = [
    Kind {
        word: "three-panel-hood",
        name: "Hood with a centre strip",
        about: "Two sides and a strip over the head. It sits rounder than one of two halves.",
        fields: &[
            NECKLINE,
            NECK_EDGES,
            NECK_SHORTER,
            DROP,
            HEIGHT,
            field(
                "depth",
                "Depth",
                "From the face to the back of the head.",
                Length("9 1/2", "24"),
            ),
            field(
                "strip",
                "Width of the strip",
                "Half of it counts to the neckline on either side.",
                Length("4", "10"),
            ),
            field(
                "face_curve",
                "Hollow of the face edge",
                "How far it runs back in its middle; 0 is straight.",
                LengthOrNone("0", "0"),
            ),
            ROOM,
            FACE_HEM,
        ],
    },
    Kind {
        word: "two-piece-hood",
        name: "Hood of two halves",
        about: "One seam from the face over the head to the nape, with or without a dart at the neck.",
        fields: &[
            NECKLINE,
            NECK_EDGES,
            NECK_SHORTER,
            DROP,
            HEIGHT,
            field(
                "dart",
                "Dart",
                "Taken in at the neckline; 0 is none, 3/4 in (2 cm) is usual.",
                LengthOrNone("0", "0"),
            ),
            field(
                "upper",
                "Wider above",
                "How much wider than at the neck: 0 to 2 in (0 to 5 cm).",
                LengthOrNone("3/4", "2"),
            ),
            ROOM,
            FACE_HEM,
        ],
    },
    Kind {
        word: "patch-pocket",
        name: "Patch pocket",
        about: "Square or with rounded corners, hemmed or faced at the top.",
        fields: &[
            field("width", "Width", "Finished.", Length("5 1/2", "14")),
            field("height", "Height", "Finished.", Length("6", "15")),
            field(
                "corners",
                "Radius of the lower corners",
                "0 is a square pocket.",
                LengthOrNone("1", "2.5"),
            ),
            field(
                "hem",
                "Hem at the top",
                "Turned down, or the depth of the facing.",
                LengthOrNone("1", "2.5"),
            ),
            field("faced", "Faced", "With a facing of its own instead of a hem.", Flag),
        ],
    },
    Kind {
        word: "band",
        name: "Band",
        about: "A waistband, a cuff, a neckband: straight, along the grain.",
        fields: &[
            field("length", "Length", "Finished, without the overlap.", Length("28", "70")),
            field(
                "sewn_to",
                "Sewn to",
                "What the band goes along, if that has an outline: then its length is taken from it and follows it.",
                SewnTo("length"),
            ),
            SHORTER,
            field("width", "Width", "Finished.", Length("1 1/2", "4")),
            field(
                "overlap",
                "Overlap",
                "Added at one end to close on.",
                LengthOrNone("1", "2.5"),
            ),
            field("folded", "Folded lengthwise", "Cut twice as wide.", Flag),
            PIECES,
        ],
    },
    Kind {
        word: "tie",
        name: "Tie",
        about: "A strap or an apron string, folded lengthwise and turned.",
        fields: &[
            field("length", "Length", "Finished.", Length("24", "60")),
            field("width", "Width", "Finished.", Length("1", "2.5")),
            field(
                "point",
                "Slant of the end",
                "0 is a square end.",
                LengthOrNone("1", "2.5"),
            ),
            field("count", "How many", "", Count("2")),
        ],
    },
    Kind {
        word: "shaped-facing",
        name: "Facing along an edge",
        about: "Cut as the edge it faces: a neckline, an armhole, a curved hem.",
        fields: &[
            ALONG,
            field("width", "Width", "From the edge inwards.", Length("2", "5")),
            PIECES,
            field(
                "pair",
                "Mirrored pair",
                "Half of them with the pattern turned over.",
                Flag,
            ),
        ],
    },
    Kind {
        word: "bias-strip",
        name: "Bias strip for an edge",
        about: "As long as an edge, cut at 45 degrees to the grain.",
        fields: &[
            ALONG,
            field("width", "Width of the strip", "As it is cut.", Length("1 1/2", "4")),
            field(
                "extra",
                "Longer by",
                "To join it, or to turn its ends in.",
                LengthOrNone("2", "5"),
            ),
            PIECES,
        ],
    },
    Kind {
        word: "circle-piece",
        name: "Circle or part of one",
        about: "A skirt, a cape or a ruffle cut round.",
        fields: &[
            field(
                "edge",
                "Inner edge",
                "Waist or neck with its ease, of all panels together.",
                Length("26", "66"),
            ),
            INNER_EDGES,
            SHORTER,
            field(
                "part",
                "How much of a circle",
                "",
                Choice(&[
                    ("whole", "a whole circle"),
                    ("half", "half a circle"),
                    ("third", "a third"),
                    ("quarter", "a quarter"),
                ]),
            ),
            field(
                "length",
                "Length",
                "From the inner edge to the hem.",
                Length("20", "50"),
            ),
            field(
                "panels",
                "Panels",
                "Seams down the circle; a whole one takes 2 or more.",
                Count("2"),
            ),
            field(
                "hem",
                "Hem",
                "A narrow one: it lies along a curve.",
                LengthOrNone("3/8", "1"),
            ),
        ],
    },
    Kind {
        word: "gathered-rectangle",
        name: "Rectangle to gather",
        about: "A gathered skirt, a ruffle, a flounce.",
        fields: &[
            field(
                "edge",
                "Gathered to",
                "The finished length, of all panels together.",
                Length("26", "66"),
            ),
            INNER_EDGES,
            SHORTER,
            field(
                "fullness",
                "Fullness",
                "150 to 300 %: 200 % is twice as long before it is gathered.",
                Take::Percent("200"),
            ),
            field(
                "spare",
                "Spare",
                "Added to even the gathers out.",
                LengthOrNone("0", "0"),
            ),
            field(
                "depth",
                "Depth",
                "Finished, from the gathers to the hem.",
                Length("18", "45"),
            ),
            field("panels", "Panels", "", Count("2")),
            HEM,
        ],
    },
    Kind {
        word: "cushion-cover",
        name: "Cushion cover",
        about: "A front, and a back that overlaps or closes with a zip.",
        fields: &[
            field("width", "Width of the cushion", "", Length("16", "40")),
            field("height", "Height of the cushion", "", Length("16", "40")),
            field(
                "smaller",
                "Smaller by",
                "A cover a little smaller sits plump.",
                LengthOrNone("1/2", "1"),
            ),
            field(
                "back",
                "Back",
                "",
                Choice(&[
                    ("overlap", "two parts that overlap"),
                    ("zip", "one part, a zip in the lower seam"),
                ]),
            ),
            field("opening", "Overlap, or length of the zip", "", Length("4", "10")),
            field("hem", "Hem at the overlap", "", LengthOrNone("1", "2.5")),
        ],
    },
    Kind {
        word: "box-cover",
        name: "Box cover",
        about: "A seat cushion or a pouf: top, bottom, walls, a zip in the back wall.",
        fields: &[
            field("width", "Width", "", Length("18", "45")),
            field("depth", "Depth", "", Length("18", "45")),
            field("height", "Height of the walls", "", Length("3", "8")),
            field("zip_seam", "Allowance at the zip", "", LengthOrNone("5/8", "1.5")),
            field(
                "zip_gap",
                "Zip showing",
                "Width between the two parts; 0 where it is hidden.",
                LengthOrNone("0", "0"),
            ),
        ],
    },
    Kind {
        word: "bag-body",
        name: "Bag body",
        about: "Two panels; with a depth, the lower corners are cut out so that it stands.",
        fields: &[
            field("width", "Width", "Finished, at the top.", Length("14", "36")),
            field(
                "height",
                "Height",
                "Finished, from the top to the ground.",
                Length("15", "38"),
            ),
            field(
                "gusset",
                "Depth of the bottom",
                "0 is a flat bag.",
                LengthOrNone("4", "10"),
            ),
            field("hem", "Hem at the top", "", LengthOrNone("1 1/2", "4")),
        ],
    },
];

pub fn of_word(word: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|k| k.word == word)
}
