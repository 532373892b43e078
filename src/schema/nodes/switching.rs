//! Outputs that switch: relays and transistors of a part, what drives them, and the loads that hang on them.

use crate::quantity::Dimension::{Current, Length, Time, Voltage};
use crate::schema::spec::{Kind, Names, NodeSpec, TEXT, argument, at_most_once, not_negative, positive, property};
use crate::terms::{CurrentKind, DrivenBy, SwitchedSide, ZoneType};

use super::circuit::OWN_BATTERY;
use super::places::SPOT;
use super::zone::EXISTING;

/// `relay` of a part
pub(crate) static RELAY: NodeSpec = NodeSpec {
    name: "relay",
    doc: "A relay of the board: its contact is dry, or stands in the positive of one of the board's outputs. What its coil takes is part of `draw`.",
    arguments: &[argument("name", Kind::Text(20), "the name that circuit switch= refers to")],
    properties: &[
        property("common", Kind::Terminal, "mark of the common").required(),
        property("make", Kind::Terminal, "mark of the contact that closes when the relay is driven"),
        property("break", Kind::Terminal, "mark of the contact that opens when the relay is driven"),
        property("volts", positive(&[Voltage]), "the most that it switches, d.c."),
        property("current", positive(&[Current]), "the most that it switches, d.c."),
        property("ac-volts", positive(&[Voltage]), "the most that it switches, a.c.; none if left out"),
        property("ac-current", positive(&[Current]), "the most that it switches, a.c.; none if left out"),
    ],
    children: &[],
    example: "relay \"relay-1\" common=\"C1\" make=\"M1\" break=\"K1\" volts=(V)30 current=(A)1",
};

/// `transistor` of a part
pub(crate) static TRANSISTOR: NodeSpec = NodeSpec {
    name: "transistor",
    doc: "A transistor output of the board: it switches one side of a load that an output of the same board feeds.",
    arguments: &[argument("name", Kind::Text(20), "the name that circuit switch= refers to")],
    properties: &[
        property("terminal", Kind::Terminal, "its mark").required(),
        property("switches", Kind::Word(SwitchedSide::WORDS), "the side of the load that it switches").required(),
        property("volts", positive(&[Voltage]), "the most that it switches"),
        property("current", positive(&[Current]), "the most that it switches"),
    ],
    children: &[],
    example: "transistor \"light-1\" terminal=\"T1\" switches=\"minus\" volts=(V)15 current=(mA)100",
};

/// `own-supply` of a part
pub(crate) static OWN_SUPPLY: NodeSpec = NodeSpec {
    name: "own-supply",
    doc: "The supply of its own that a load has, and what of it a dry contact switches: a door operator's input, a lamp relay on its own supply.",
    arguments: &[],
    properties: &[
        property("volts", positive(&[Voltage]), "across the open contact").required(),
        property("current", not_negative(&[Current]), "through the closed contact").required(),
        property("kind", Kind::Word(CurrentKind::WORDS), "kind of current; dc if left out"),
        property("terminals", Kind::Terminal, "the mark at its pair of terminals; input if left out"),
        property("coil", Kind::Flag, "whether the contact switches a coil"),
        property("diode", Kind::Flag, "whether a diode across that coil is built in"),
    ],
    children: &[],
    example: "own-supply volts=(V)24 current=(mA)15",
};

/// `drive` of a circuit
pub(crate) static DRIVE: NodeSpec = NodeSpec {
    name: "drive",
    doc: "What drives the relay or transistor of this circuit. A load whose event can last without an alarm is counted in the current at rest.",
    arguments: &[argument("event", Kind::Word(DrivenBy::WORDS), "which one")],
    properties: &[
        property("type", Kind::Word(ZoneType::WORDS), "of an alarm, the only type of zone that counts"),
        property("area", Kind::Reference(Names::Area), "the only area that counts"),
        property("for", positive(&[Time]), "how long it stays driven; as long as the event lasts if left out"),
    ],
    children: &[],
    example: "drive \"alarm\" type=\"fire\"",
};

/// `load`
pub(crate) static LOAD: NodeSpec = NodeSpec {
    name: "load",
    doc: "What a circuit works that neither senses nor sounds, mounted here: a lamp, a strobe, a lock, a relay of its own, the input of a door operator. Of a load, idle= of its part is what it takes while it is on.",
    arguments: &[argument("part", Kind::Reference(Names::Part), "the part it is")],
    properties: &[
        property("name", Kind::Name(Names::Device), "a name of its own"),
        property("title", TEXT, "name for people"),
        property("mount", positive(&[Length]), "height above the floor"),
        OWN_BATTERY,
        property("diode", Kind::Flag, "whether a diode is fitted across its coil"),
        EXISTING,
    ],
    children: &[at_most_once(&SPOT)],
    example: "load \"lamp-relay\" title=\"Relay of the yard lamps\" diode=#true",
};
