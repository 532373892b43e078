//! The site itself, its files, and accepted findings.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{
    DAYS, Kind, Names, NodeSpec, TEXT, argument, at_most_once, not_negative, positive, property,
};
use crate::terms::{Framing, LabelGrid, LengthWord, PaperSize, Profile};

/// `site`
pub(crate) static SITE: NodeSpec = NodeSpec {
    name: "site",
    doc: "The house that this folder describes. Stands once, in site.kdl.",
    arguments: &[argument("name", Kind::Name(Names::Site), "short name; names the output folder")],
    properties: &[
        property("title", TEXT, "name for people, on every sheet"),
        property(
            "label-prefix",
            Kind::Label(6),
            "what stands before a zone's number on the cables of its loop; Z if left out",
        ),
        property("lengths", Kind::Word(LengthWord::WORDS), "the unit that lengths are printed in; ft if left out"),
    ],
    children: &[at_most_once(&REVISION), at_most_once(&PROFILE), at_most_once(&BUILDING)],
    example: "site \"alder-mill\" title=\"Alder Mill\" lengths=\"ft\" {\n    revision \"B\" date=\"2027-03-14\" note=\"Workshop added\"\n}",
};

/// `revision`
pub(crate) static REVISION: NodeSpec = NodeSpec {
    name: "revision",
    doc: "The state of the spec that the paper belongs to.",
    arguments: &[argument("mark", Kind::Text(12), "letter or number of the revision")],
    properties: &[
        property("date", Kind::Date, "day of the revision; printed, never taken from the clock").required(),
        property("note", TEXT, "what changed"),
    ],
    children: &[],
    example: "revision \"B\" date=\"2027-03-14\" note=\"Workshop added\"",
};

/// `profile`
pub(crate) static PROFILE: NodeSpec = NodeSpec {
    name: "profile",
    doc: "The set of published limits that the site is held against.",
    arguments: &[argument("name", Kind::Word(Profile::WORDS), "which set")],
    properties: &[property(
        "edition",
        Kind::Integer(1990, 2100),
        "year of the edition that the authority has adopted, where figures differ by edition; the latest known if left out",
    )],
    children: &[],
    example: "profile \"us-household\" edition=2019",
};

/// `building`
pub(crate) static BUILDING: NodeSpec = NodeSpec {
    name: "building",
    doc: "Facts of the house that decide which safety notes are printed.",
    arguments: &[],
    properties: &[
        property("built", Kind::Integer(1000, 2200), "year of the oldest part"),
        property("framing", Kind::Word(Framing::WORDS), "what walls and floors are made of"),
    ],
    children: &[],
    example: "building built=1868 framing=\"mixed\"",
};

/// `upkeep`
pub(crate) static UPKEEP: NodeSpec = NodeSpec {
    name: "upkeep",
    doc: "What comes due again and again, for the upkeep page and the calendar. Stands at most once. Months and years are counted by the calendar.",
    arguments: &[],
    properties: &[
        property("test-every", DAYS, "how often the owner tests; every month if left out"),
        property("clean-every", DAYS, "how often detectors are cleaned and batteries tried; every year if left out"),
        property("permit-ends", Kind::Date, "the last day of the alarm permit; its number is written on paper only"),
    ],
    children: &[],
    example: "upkeep test-every=(month)1 clean-every=(year)1 permit-ends=\"2028-03-31\"",
};

/// `house-style`
pub(crate) static HOUSE_STYLE: NodeSpec = NodeSpec {
    name: "house-style",
    doc: "What a firm adds to the paper: who is responsible for it, a note, a picture, a colour. It changes no word and no figure of a sheet. Stands at most once.",
    arguments: &[],
    properties: &[
        property(
            "firm",
            Kind::Text(60),
            "who is responsible for the documents: on every sheet, and on the cover as their owner",
        ),
        property("note", Kind::Text(160), "is printed at the head of every sheet"),
        property("logo", Kind::Path, "a picture in the site's folder, PNG or JPEG, at most 128 KiB; on the first page"),
        property("accent", Kind::Text(7), "colour of headings on light paper, as `#rrggbb`; dark enough to be read"),
    ],
    children: &[],
    example: "house-style firm=\"Weir and Daughter\" note=\"Ask us before a wall is closed.\" accent=\"#1f3d5c\"",
};

/// `label-sheet`
pub(crate) static LABEL_SHEET: NodeSpec = NodeSpec {
    name: "label-sheet",
    doc: "The paper with labels on which those of the cables are printed, described by its measures. What is left out is as on the grid. Stands at most once.",
    arguments: &[],
    properties: &[
        property(
            "grid",
            Kind::Word(LabelGrid::WORDS),
            "a common form; if left out, that on Letter where lengths are in feet, else that on A4",
        ),
        property("paper", Kind::Word(PaperSize::WORDS), "the paper, upright"),
        property("columns", Kind::Integer(1, 50), "labels beside one another"),
        property("rows", Kind::Integer(1, 100), "labels below one another"),
        property("width", positive(&[Length]), "of one label"),
        property("height", positive(&[Length]), "of one label; of a wrap with its clear tail"),
        property("left", not_negative(&[Length]), "from the paper's left edge to the first label"),
        property("top", not_negative(&[Length]), "from the paper's upper edge to the first label"),
        property("across", positive(&[Length]), "from a label's left edge to that of the next"),
        property("down", positive(&[Length]), "from a label's upper edge to that of the next"),
        property(
            "printed",
            positive(&[Length]),
            "of a wrap that covers itself: the height of the zone that is printed, from the label's upper edge; the rest is its clear tail",
        ),
        property(
            "used",
            Kind::Integer(0, 5_000),
            "labels that are gone from the first sheet, counted row by row to the last one that is gone",
        ),
        property("code", Kind::Flag, "prints the cable's label as a QR code as well"),
    ],
    children: &[],
    example: "label-sheet grid=\"3x10-letter\" used=6 code=#true",
};

/// `include`
pub(crate) static INCLUDE: NodeSpec = NodeSpec {
    name: "include",
    doc: "Reads another file of the site, or one of the shared parts folder beside it.",
    arguments: &[argument("path", Kind::Path, "relative to the site's folder; shared parts are \"../parts/…\"")],
    properties: &[],
    children: &[],
    example: "include \"wiring/ground.kdl\"\ninclude \"../parts/generic.kdl\"",
};

/// `accept`
pub(crate) static ACCEPT: NodeSpec = NodeSpec {
    name: "accept",
    doc: "Accepts a warning or note, with the reason that is printed. One that no longer fires is reported.",
    arguments: &[argument("rule", Kind::Slug, "the rule's slug")],
    properties: &[
        property("zone", Kind::Integer(1, 999), "only where the finding is about this zone"),
        property("name", Kind::Text(200), "only where the finding is about this name"),
        property("because", TEXT, "the reason, in a few words").required(),
    ],
    children: &[],
    example: "accept \"opening-unwatched\" name=\"wheel-window\" because=\"barred, 12 ft above the water\"",
};
