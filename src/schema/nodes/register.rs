//! The register: what is in the wall, as `register.kdl` keeps it.

use crate::schema::spec::{Kind, NodeSpec, argument, property, up_to};
use crate::terms::WireUse;

/// A name that need not be defined any more.
const NAME: Kind = Kind::Text(60);
/// Space for titles that are put together from others.
const TITLE: Kind = Kind::Text(500);
/// A label that was given or proposed.
const TEXT_ON_CABLE: Kind = Kind::Label(24);

/// `register`
pub(crate) static REGISTER: NodeSpec = NodeSpec {
    name: "register",
    doc: "The head of register.kdl. The file is written by `loopwright compile`; comments in it are kept.",
    arguments: &[],
    properties: &[property("version", Kind::Integer(1, 999), "version of the file's form").required()],
    children: &[],
    example: "register version=1",
};

/// `input` of a board, taken by a zone
pub(crate) static INPUT: NodeSpec = NodeSpec {
    name: "input",
    doc: "The input that a zone's loop is landed on.",
    arguments: &[argument("number", Kind::Integer(1, 999), "the board's input")],
    properties: &[
        property("board", NAME, "the board").required(),
        property("zone", Kind::Integer(1, 999), "the zone's number").required(),
    ],
    children: &[],
    example: "input 5 board=\"main\" zone=7",
};

/// `label`
pub(crate) static LABEL: NodeSpec = NodeSpec {
    name: "label",
    doc: "A cable in the wall, by the text on its two ends. One that the spec no longer has is marked `dead` and keeps its label until somebody writes that it is out.",
    arguments: &[argument("text", TEXT_ON_CABLE, "the text on its two ends")],
    properties: &[
        property(
            "of",
            Kind::Text(80),
            "what it belongs to: \"zone 7\", \"bus data\", \"circuit sounders\", \"line phone\", \"transformer main\"",
        )
        .required(),
        property("cable", NAME, "its type").required(),
        property("room", NAME, "where it ends"),
        property("from", NAME, "where it starts, of a cable that is dead"),
        property("run", NAME, "the name of its run"),
        property("dead", Kind::Text(200), "why it is in the wall without use"),
        property("off", Kind::Flag, "written by hand: its conductors are off the terminals"),
        property("out", Kind::Flag, "written by hand: it is out of the wall"),
    ],
    children: &[up_to(1000, &MOUNTED), up_to(1000, &WIRE)],
    example: "label \"Z7\" of=\"zone 7\" cable=\"station-2\" room=\"hall\" {\n    mounted opening=\"hall-window\" part=\"reed-recessed\"\n    wire 1 \"loop-out\" colour=\"BK\" near=\"main I5\"\n    wire 2 \"loop-back\" colour=\"RD\" near=\"main R3\"\n}",
};

/// `mounted` at the far end of a cable
pub(crate) static MOUNTED: NodeSpec = NodeSpec {
    name: "mounted",
    doc: "What is mounted at the far end: by this the cable is recognised again. One of the first four is written.",
    arguments: &[],
    properties: &[
        property("opening", NAME, "the opening it watches"),
        property("device", NAME, "its own name"),
        property("board", NAME, "the name of a board"),
        property("title", TITLE, "its title, where it has neither"),
        property("part", NAME, "the part it is"),
    ],
    children: &[],
    example: "mounted opening=\"hall-window\" part=\"reed-recessed\"",
};

/// `wire` of a cable
pub(crate) static WIRE: NodeSpec = NodeSpec {
    name: "wire",
    doc: "A conductor in use: its position in the cable, what it does, and the board terminals that it is on.",
    arguments: &[
        argument("position", Kind::Integer(1, 999), "position in the cable"),
        argument("use", Kind::Word(WireUse::WORDS), "what it does"),
    ],
    properties: &[
        property("colour", Kind::Colour, "its colour"),
        property("output", NAME, "the output whose supply it carries"),
        property("for", Kind::Text(40), "what a reserved conductor is kept for"),
        property("pin", Kind::Integer(1, 8), "the pin of a network cable"),
        property("of", Kind::Text(80), "what it serves, where that is not what the cable belongs to"),
        property("near", Kind::Text(80), "board and terminal of its near end"),
        property("under", Kind::Integer(2, 99), "its place under that terminal, where it is not the first"),
        property("far", Kind::Text(80), "board and terminal of its far end"),
    ],
    children: &[],
    example: "wire 1 \"supply+\" colour=\"RD\" output=\"aux\" near=\"strip-aux 5+\"",
};

/// `spent`
pub(crate) static SPENT: NodeSpec = NodeSpec {
    name: "spent",
    doc: "A label that was on a cable once and is never given again.",
    arguments: &[argument("text", TEXT_ON_CABLE, "the label")],
    properties: &[],
    children: &[],
    example: "spent \"Z9\"",
};
