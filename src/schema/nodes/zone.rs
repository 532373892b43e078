//! Zones, loops, runs and what is mounted on them.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{
    Kind, Names, NodeSpec, PropertySpec, TEXT, any, argument, at_most_once, not_negative, positive, property, up_to,
};
use crate::syntax::Node;
use crate::terms::{Faces, Joining, KeyAction, LoopWiring, Nearby, Passage, ShieldEnds, Start, ZoneType};

use super::places::{SPOT, WAY};
use super::spare::RESERVE;
use super::wireless::WIRELESS;

/// `zone`
pub(crate) static ZONE: NodeSpec = NodeSpec {
    name: "zone",
    doc: "What is reported by one number.",
    arguments: &[
        argument("number", Kind::Integer(1, 999), "the number that is reported: a report has three digits for it"),
        argument("description", Kind::Text(60), "what the dispatcher reads"),
    ],
    properties: &[
        property("type", Kind::Word(ZoneType::WORDS), "what happens when it is tripped").required(),
        property("area", Kind::Reference(Names::Area), "the area it belongs to"),
        property("event", Kind::Integer(100, 999), "event code, where the type's usual one does not fit"),
        property("action", Kind::Word(KeyAction::WORDS), "what turning the key of a keyswitch does"),
        property(
            "follows",
            Kind::Flag,
            "that it waits while the entry or exit delay runs, as a zone must that lies on the way to the keypad; else it alarms at once",
        ),
        property("reserved", Kind::Flag, "that the number is kept for later, and nothing is wired yet"),
        property("note", TEXT, "a remark for the installer"),
    ],
    children: &[at_most_once(&LOOP), at_most_once(&WIRELESS)],
    example: "zone 1 \"Front door\" type=\"entry-exit\" area=\"house\" {\n    loop \"end-of-line\" board=\"main\" input=1 {\n        run \"station-4\" length=(ft)38 room=\"hall\" {\n            contact \"reed-flush\" on=\"front-door\"\n            resistor \"2k2\"\n        }\n    }\n}",
};

/// `loop`
pub(crate) static LOOP: NodeSpec = NodeSpec {
    name: "loop",
    doc: "A zone's wired loop: runs in the order in which the cable passes. What stands directly in its braces is at the board.",
    arguments: &[argument("wiring", Kind::Word(LoopWiring::WORDS), "how it is supervised")],
    properties: &[
        property("board", Kind::Reference(Names::Board), "the board that senses it").required(),
        property("input", Kind::Integer(1, 999), "the board's input; the first free one if left out"),
    ],
    children: &[any(&LOOP_RUN), any(&CONTACT), any(&DETECTOR), any(&RESISTOR)],
    example: "loop \"end-of-line\" board=\"main\" input=1 {\n    run \"station-4\" length=(ft)38 room=\"hall\" {\n        contact \"reed-flush\" on=\"front-door\"\n        resistor \"2k2\"\n    }\n}",
};

/// True of a run that shares the cable of another, and of one that was in the wall before and whose far end nobody has found.
fn has_no_length_of_its_own(run: &Node) -> bool {
    let wrote = |name: &str| run.properties.iter().any(|property| property.name.value == name);
    let holds = run.children.iter().flatten().any(|child| child.name.value != "reserve");
    wrote("along") || wrote("existing") && !wrote("room") && !wrote("into") && !holds
}

/// The properties of every kind of run.
pub(crate) const RUN: &[PropertySpec] = &[
    property(
        "length",
        positive(&[Length]),
        "length of the cable, slack included; of a run that shares a cable (along=) that cable's, and not known of one whose far end was not found",
    )
    .required()
    .unless(has_no_length_of_its_own),
    property(
        "room",
        Kind::Reference(Names::Room),
        "where it ends; if left out, where the enclosure is in which it ends (into=), at the opening that is watched there (on=), or at the detector that is fed there",
    ),
    property(
        "into",
        Kind::Reference(Names::Board),
        "the joint box, or the board in whose enclosure it ends: there its conductors are joined to those of the runs that go on",
    ),
    property(
        "joined-by",
        Kind::Word(Joining::WORDS),
        "how they are joined there; if left out, as it is said of the joint box",
    ),
    property("name", Kind::Name(Names::Run), "a name, for along="),
    property("label", Kind::Label(16), "the text on its two ends; proposed if left out"),
    property("along", Kind::Reference(Names::Run), "a run whose cable this one shares: then it is no cable of its own"),
    property("from", Kind::Word(Start::WORDS), "where it starts; here if left out"),
    property("existing", Kind::Flag, "that it was in the wall before: it is not bought and not pulled"),
    property("pairs", Kind::Integer(1, 6), "how many pairs are joined side by side to carry the supply; 1 if left out"),
    property(
        "shield",
        Kind::Word(ShieldEnds::WORDS),
        "where its shield is landed; if left out, at the board that all starts at, and carried on from cable to cable",
    ),
    property("passes", Kind::Word(Passage::WORDS), "the hardest thing it passes on its way"),
    property(
        "route",
        TEXT,
        "the way it takes, for the person who pulls it; cables that start in one room and whose routes have the same words up to the first comma are pulled through one hole",
    ),
];

/// `run` of a loop
pub(crate) static LOOP_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "A cable to the next place; in its braces what is mounted there. A run inside a run is a branch. Cables of a star, one to each opening, are written side by side: with from=\"board\" where they come home to the board, inside one run where they meet in a box. Their pairs are joined in series there, in the order of the text.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[
        at_most_once(&WAY),
        any(&LOOP_RUN),
        any(&CONTACT),
        any(&DETECTOR),
        any(&FAULT),
        any(&RESISTOR),
        up_to(100, &RESERVE),
    ],
    example: "run \"station-4\" length=(ft)38 room=\"hall\" {\n    contact \"reed-flush\" on=\"front-door\"\n}",
};

/// `contact` on a run
pub(crate) static CONTACT: NodeSpec = NodeSpec {
    name: "contact",
    doc: "A contact mounted here, on an opening or in the room.",
    arguments: &[argument("part", Kind::Reference(Names::Part), "the part it is")],
    properties: &[
        property("name", Kind::Name(Names::Device), "a name, for readings of several contacts in one room"),
        property("on", Kind::Reference(Names::Opening), "the opening it watches"),
        property("title", TEXT, "name for people"),
        property("mount", not_negative(&[Length]), "height above the floor"),
        property("shunt", Kind::Resistance, "the resistor across it, in a double-end-of-line loop"),
        property(
            "fixed",
            Kind::Flag,
            "that it is there and cannot be moved or exchanged: cast in, glued, painted over",
        ),
        EXISTING,
        property("shares", Kind::Flag, "that another zone watches this opening too is meant"),
    ],
    children: &[at_most_once(&SPOT)],
    example: "contact \"reed-flush\" on=\"front-door\"",
};

/// That a thing is older than the spec.
pub(super) const EXISTING: PropertySpec =
    property("existing", Kind::Flag, "that it was there before: it is not bought and not mounted");

/// The day of making of what ages.
pub(super) const MADE: PropertySpec = property(
    "made",
    Kind::Date,
    "day on which it was made, by its label; the first of the month where that is all it says",
);

/// `detector` on a run
pub(crate) static DETECTOR: NodeSpec = NodeSpec {
    name: "detector",
    doc: "A detector mounted here. If it needs supply: from an output of the loop's board through this cable (supply=), or from a circuit that feeds it by name. Each supply= takes a pair of its own; several devices that share one pair are fed by one circuit, whose runs go along= their cables.",
    arguments: &[argument("part", Kind::Reference(Names::Part), "the part it is")],
    properties: &[
        property("name", Kind::Name(Names::Device), "a name, for a circuit's feed"),
        property("title", TEXT, "name for people"),
        property("supply", Kind::Text(20), "the output that feeds it through this cable"),
        property("on", Kind::Reference(Names::Opening), "an opening that it watches"),
        property("mount", not_negative(&[Length]), "height above the floor"),
        property("shunt", Kind::Resistance, "the resistor across its contact, in a double-end-of-line loop"),
        property("tamper", Kind::Flag, "whether its cover contact is in this loop; no if left out"),
        property("faces", Kind::Word(Faces::WORDS), "of a motion detector, what it looks at that may mislead it"),
        property(
            "fixed",
            Kind::Flag,
            "that it is there and cannot be moved or exchanged: cast in, glued, painted over",
        ),
        EXISTING,
        MADE,
        property("shares", Kind::Flag, "that another zone watches this opening too is meant"),
    ],
    children: &[at_most_once(&SPOT), up_to(10, &NEAR)],
    example: "detector \"motion-12\" supply=\"aux\" mount=(ft)7.5",
};

/// `near`
pub(crate) static NEAR: NodeSpec = NodeSpec {
    name: "near",
    doc: "How far a smoke detector is from what disturbs it, or from a door that it must be near to. Only what is measured or planned is written; of what is not written nothing is concluded.",
    arguments: &[
        argument("what", Kind::Word(Nearby::WORDS), "what is near"),
        argument("distance", not_negative(&[Length]), "how far"),
    ],
    properties: &[],
    children: &[],
    example: "near \"cooking\" (ft)12",
};

/// `fault` on a run
pub(crate) static FAULT: NodeSpec = NodeSpec {
    name: "fault",
    doc: "The fault contact of a power supply or another board that hangs here, watched by this loop.",
    arguments: &[argument("board", Kind::Reference(Names::Board), "the board whose contact it is")],
    properties: &[property("shunt", Kind::Resistance, "the resistor across it, in a double-end-of-line loop")],
    children: &[],
    example: "fault \"garage-supply\"",
};

/// `resistor` on a run
pub(crate) static RESISTOR: NodeSpec = NodeSpec {
    name: "resistor",
    doc: "The loop's resistor. Where it stands in the text is where it is in the house.",
    arguments: &[argument("value", Kind::Resistance, "marking code or ohm")],
    properties: &[],
    children: &[],
    example: "resistor \"2k2\"",
};
