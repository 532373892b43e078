//! Cables that were pulled for later.

use crate::schema::spec::{Kind, Names, NodeSpec, TEXT, any, argument, at_most_once, once, property, up_to};

use super::places::WAY;
use super::zone::RUN;

/// `spare-cable`
pub(crate) static SPARE_CABLE: NodeSpec = NodeSpec {
    name: "spare-cable",
    doc: "A cable that was pulled for later: it lies coiled at both ends, and every conductor of it is free. To put it to use, move its run to what uses it, with existing=#true and the same type and room, and take the `spare-cable` node out: the cable keeps its label. Where more than one cable or run could be meant, label= at the run says which.",
    arguments: &[argument("name", Kind::Name(Names::Spare), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "what it is kept for"),
        property("board", Kind::Reference(Names::Board), "the board in whose enclosure it starts").required(),
    ],
    children: &[once(&SPARE_RUN)],
    example: "spare-cable \"attic-coil\" title=\"For a smoke detector in the attic\" board=\"main\" {\n    run \"quad\" length=(ft)45 room=\"attic\" route=\"beside the vent pipe; coiled on the first joist\"\n}",
};

/// `run` of a spare cable
pub(crate) static SPARE_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "A cable to the next place, where it lies coiled. One that was there before (existing=#true) may have no room=: then nobody knows where it ends, and the sheets say so.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[at_most_once(&WAY), any(&SPARE_RUN), up_to(100, &RESERVE)],
    example: "run \"quad\" length=(ft)45 room=\"attic\"",
};

/// `reserve`
pub(crate) static RESERVE: NodeSpec = NodeSpec {
    name: "reserve",
    doc: "Conductors of this cable that are kept for later: they are parked and marked at both ends, and nothing else takes them.",
    arguments: &[argument("for", Kind::Text(40), "what they are kept for")],
    properties: &[property("conductors", Kind::Integer(1, 64), "how many; 1 if left out")],
    children: &[],
    example: "reserve \"doorbell button\" conductors=2",
};
