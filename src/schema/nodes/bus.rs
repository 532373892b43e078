//! Data buses and the boards on them.

use crate::quantity::Dimension::{Length, Rate, Resistance};
use crate::schema::spec::{
    Kind, Names, NodeSpec, PropertySpec, TEXT, any, argument, at_most_once, positive, property, up_to,
};

use crate::terms::EmergencyKey;

use super::board::POWERED;
use super::places::{SPOT, WAY};
use super::spare::RESERVE;
use super::zone::{EXISTING, RUN};

/// `bus`
pub(crate) static BUS: NodeSpec = NodeSpec {
    name: "bus",
    doc: "A data bus with its supply: runs in the order in which the cable passes. It is taken for a differential one, as by TIA-485-A: two data conductors A and B, and a terminator across them at each end. Where a board's sheet tells of another kind, as one data line or clock and data against minus, say differential=#false.",
    arguments: &[argument("name", Kind::Name(Names::Bus), "the name that others refer to")],
    properties: &[
        property("board", Kind::Reference(Names::Board), "the board it starts at").required(),
        property(
            "port",
            Kind::Text(20),
            "the board's bus port; the one of the bus's name, or the only one, if left out",
        ),
        property("rate", positive(&[Rate]), "signalling rate"),
        property(
            "built-in-terminator",
            Kind::Flag,
            "#false where the terminator that the board's port has built in is taken off",
        ),
        property(
            "differential",
            Kind::Flag,
            "#false where the boards' sheets tell of another kind: then no terminator is asked for, and none of the figures of TIA-485-A",
        ),
    ],
    children: &[any(&BUS_RUN), any(&TERMINATOR)],
    example: "bus \"data\" board=\"main\" rate=(baud)38400 {\n    run \"bus-4\" length=(ft)30 room=\"hall\" { keypad \"hall-keypad\" part=\"keypad\" address=1 }\n}",
};

/// `run` of a bus
pub(crate) static BUS_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "A bus cable to the next place; in its braces what is mounted there. A run inside a run is a branch.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[
        at_most_once(&WAY),
        any(&BUS_RUN),
        any(&KEYPAD),
        any(&MODULE),
        any(&RECEIVER),
        any(&TERMINATOR),
        up_to(100, &RESERVE),
    ],
    example: "run \"bus-4\" length=(ft)45 room=\"attic\" { module \"expander-a\" part=\"expander-16\" address=2 }",
};

const BOARD_WITH_INPUTS: &[PropertySpec] = &[
    property("title", TEXT, "name for people"),
    property("part", Kind::Reference(Names::Part), "the part it is").required(),
    property("address", Kind::Integer(0, 255), "its address on the bus").required(),
    property("mount", positive(&[Length]), "height above the floor"),
    BUILT_IN,
    EXISTING,
    property("inputs-from", Kind::Integer(1, 999), "the number by which the panel knows its first input"),
];

/// The same without the last, for a board that has no inputs.
const BOARD: &[PropertySpec] = match BOARD_WITH_INPUTS {
    [board @ .., _] => board,
    [] => &[],
};

const BUILT_IN: PropertySpec = property(
    "built-in-terminator",
    Kind::Flag,
    "#false where the terminator that its bus port has built in is taken off",
);

/// `keypad`
pub(crate) static KEYPAD: NodeSpec = NodeSpec {
    name: "keypad",
    doc: "A keypad mounted here.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: BOARD_WITH_INPUTS,
    children: &[at_most_once(&SPOT), up_to(4, &EMERGENCY_KEY)],
    example: "keypad \"hall-keypad\" part=\"keypad\" address=1",
};

/// `emergency-key` of a keypad
pub(crate) static EMERGENCY_KEY: NodeSpec = NodeSpec {
    name: "emergency-key",
    doc: "A key of this keypad that calls for help at any time, without a code, and that is switched on at the panel. Its event stands on the form of the monitoring service.",
    arguments: &[argument("key", Kind::Word(EmergencyKey::WORDS), "which one")],
    properties: &[property(
        "number",
        Kind::Integer(1, 999),
        "the number that the report carries, by the panel's sheet; a blank on the form if left out",
    )],
    children: &[],
    example: "emergency-key \"fire\"",
};

/// `module`
pub(crate) static MODULE: NodeSpec = NodeSpec {
    name: "module",
    doc: "An expander or another module mounted here. With a transformer in its braces it has a supply of its own and takes none from the bus.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: BOARD_WITH_INPUTS,
    children: POWERED,
    example: "module \"expander-a\" part=\"expander-16\" address=2 inputs-from=17",
};

/// `receiver`
pub(crate) static RECEIVER: NodeSpec = NodeSpec {
    name: "receiver",
    doc: "A wireless receiver mounted here.",
    arguments: &[argument("name", Kind::Name(Names::Board), "the name that others refer to")],
    properties: BOARD,
    children: &[at_most_once(&SPOT)],
    example: "receiver \"receiver-a\" part=\"receiver\" address=5",
};

/// `terminator`
pub(crate) static TERMINATOR: NodeSpec = NodeSpec {
    name: "terminator",
    doc: "A resistor between the data conductors at an end of the bus.",
    arguments: &[argument("value", positive(&[Resistance]), "its resistance")],
    properties: &[],
    children: &[],
    example: "terminator (ohm)120",
};
