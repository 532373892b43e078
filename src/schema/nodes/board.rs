//! Control panels and terminal strips. Boards on a bus stand in the bus.

use crate::quantity::Dimension::{ApparentPower, Charge, Current, Temperature, Voltage, WireSize};
use crate::schema::spec::{
    ChildSpec, DAYS, Kind, Names, NodeSpec, PropertySpec, Sign, TEXT, argument, at_most_once, positive, property, up_to,
};
use crate::terms::{Bank, Joining};

use super::places::{SPOT, WAY};
use super::zone::{EXISTING, RUN};

/// The properties of a board in an enclosure of its own.
const ENCLOSURE: &[PropertySpec] = &[
    property("title", TEXT, "name for people"),
    property("part", Kind::Reference(Names::Part), "the part it is").required(),
    property("room", Kind::Reference(Names::Room), "where it hangs").required(),
    EXISTING,
];

/// What stands in the braces of a board that may have a supply of its own.
pub(super) const POWERED: &[ChildSpec] =
    &[at_most_once(&SPOT), at_most_once(&BATTERY), at_most_once(&TRANSFORMER), at_most_once(&EARTH)];

/// `panel`
pub(crate) static PANEL: NodeSpec = NodeSpec {
    name: "panel",
    doc: "A control panel: a board in an enclosure with its battery and transformer.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: ENCLOSURE,
    children: POWERED,
    example: "panel \"main\" part=\"board-16\" room=\"plant\" {\n    battery capacity=(Ah)7 installed=\"2027-03-14\"\n    transformer volts=(V)16.5 rating=(VA)40 outlet=\"plant cupboard, unswitched\"\n}",
};

/// `power-supply`
pub(crate) static POWER_SUPPLY: NodeSpec = NodeSpec {
    name: "power-supply",
    doc: "A power supply that stands alone, on no bus: circuits and strips take its outputs, and a loop watches its fault contact with `fault`.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: ENCLOSURE,
    children: POWERED,
    example: "power-supply \"garage-supply\" part=\"supply-12\" room=\"garage\" {\n    battery capacity=(Ah)7\n    transformer volts=(V)16.5 rating=(VA)40\n}",
};

/// `battery`
pub(crate) static BATTERY: NodeSpec = NodeSpec {
    name: "battery",
    doc: "The standby battery of a panel or a power supply, or of a module with a supply of its own.",
    arguments: &[],
    properties: &[
        property("capacity", positive(&[Charge]), "rated capacity").required(),
        property("count", Kind::Integer(1, 4), "how many of these; 1 if left out"),
        property("wired", Kind::Word(Bank::WORDS), "how several are wired to each other"),
        property("volts", positive(&[Voltage]), "rated voltage of one; if left out, 12 V, or less on a board of less"),
        property("fuse", positive(&[Current]), "rating of the fuse in its leads or on the board"),
        property(
            "max-charge",
            positive(&[Current]),
            "the most current that one may be charged with, by its sheet; not judged if left out",
        ),
        property("positive", Kind::Colour, "colour of the lead to its positive"),
        property("negative", Kind::Colour, "colour of the lead to its negative"),
        property(
            "coldest",
            Kind::Quantity(&[Temperature], Sign::Any),
            "the coldest at which its sheet lets it be used; −15 °C if left out",
        ),
        property("installed", Kind::Date, "day it was put in"),
        EXISTING,
        property("replace-after", DAYS, "how long it serves, by its sheet; 5 years if left out, as is common practice"),
    ],
    children: &[up_to(20, &ANOTHER)],
    example: "battery capacity=(Ah)7 installed=\"2027-03-14\"",
};

/// `another` in a `battery`
pub(crate) static ANOTHER: NodeSpec = NodeSpec {
    name: "another",
    doc: "One more battery of this board that is not like those of `count=`.",
    arguments: &[],
    properties: &[
        property("capacity", positive(&[Charge]), "rated capacity").required(),
        property("installed", Kind::Date, "day it was put in"),
        EXISTING,
    ],
    children: &[],
    example: "another capacity=(Ah)7 installed=\"2025-06-01\"",
};

/// `transformer`
pub(crate) static TRANSFORMER: NodeSpec = NodeSpec {
    name: "transformer",
    doc: "The mains transformer of a panel or a power supply, or of a module with a supply of its own.",
    arguments: &[],
    properties: &[
        property("volts", positive(&[Voltage]), "secondary voltage").required(),
        property("rating", positive(&[ApparentPower]), "apparent power").required(),
        property("outlet", TEXT, "which outlet it is on"),
        property("switched", Kind::Flag, "whether that outlet can be switched off"),
        EXISTING,
        property("fuse", positive(&[Current]), "rating of the fuse in its secondary or on the board"),
    ],
    children: &[at_most_once(&TRANSFORMER_RUN)],
    example: "transformer volts=(V)16.5 rating=(VA)40 outlet=\"plant cupboard, unswitched\"",
};

/// `run` of a transformer
pub(crate) static TRANSFORMER_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "The cable from the board's AC port to the transformer, secondary only: its drop counts in what the transformer must give.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[at_most_once(&WAY)],
    example: "run \"heavy-2\" length=(ft)6 room=\"plant\"",
};

/// `earth`
pub(crate) static EARTH: NodeSpec = NodeSpec {
    name: "earth",
    doc: "The earth conductor of a board: work for a licensed electrician where the law says so.",
    arguments: &[],
    properties: &[
        property("size", positive(&[WireSize]), "size of the conductor").required(),
        property("to", TEXT, "where it is to be connected").required(),
        property("colour", Kind::Colour, "its colour; GNYE if left out"),
        property("terminal", Kind::Terminal, "the board's terminal; the earth terminal of its part if left out"),
        EXISTING,
    ],
    children: &[],
    example: "earth size=(AWG)14 to=\"earth bar of the consumer unit\"",
};

/// `strip`
pub(crate) static STRIP: NodeSpec = NodeSpec {
    name: "strip",
    doc: "A terminal strip that multiplies an output: every way has a positive and a negative terminal.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property(
            "room",
            Kind::Reference(Names::Room),
            "where it is: the room of its board, as if left out, for short wires feed it",
        ),
        property("board", Kind::Reference(Names::Board), "the board that feeds it").required(),
        property("output", Kind::Text(20), "the output that feeds it").required(),
        property("ways", Kind::Integer(1, 60), "how many pairs of terminals").required(),
        property("wires", Kind::Integer(1, 12), "conductors that one terminal takes; 1 if left out"),
        EXISTING,
    ],
    children: &[at_most_once(&SPOT)],
    example: "strip \"aux-strip\" board=\"main\" output=\"aux\" ways=12",
};

/// `joint-box`
pub(crate) static JOINT_BOX: NodeSpec = NodeSpec {
    name: "joint-box",
    doc: "A box in which cables are joined. What is joined follows from the runs: each that ends here (into=) is joined to those that go on from it, conductor by conductor.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("room", Kind::Reference(Names::Room), "where it is").required(),
        property("joined-by", Kind::Word(Joining::WORDS), "how conductors are joined in it").required(),
        EXISTING,
    ],
    children: &[at_most_once(&SPOT)],
    example: "joint-box \"stair-box\" title=\"Joint box under the stair\" room=\"hall\" joined-by=\"crimp\"",
};
