//! The way to the monitoring service. No telephone number, account or code has a place here.

use crate::quantity::Dimension::{Current, Power, Time, Voltage};
use crate::schema::spec::{
    Kind, Names, NodeSpec, TEXT, argument, at_most_once, not_negative, positive, property, up_to,
};
use crate::terms::{EventGroup, Format, JackKind, Path, PinOrder, Service};

use super::places::WAY;
use super::zone::RUN;

/// `communicator`
pub(crate) static COMMUNICATOR: NodeSpec = NodeSpec {
    name: "communicator",
    doc: "A way of reaching the monitoring service.",
    arguments: &[argument("name", Kind::Name(Names::Communicator), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("type", Kind::Word(Path::WORDS), "what it goes over").required(),
        property("service", Kind::Word(Service::WORDS), "what kind of service comes in"),
        property("jack", Kind::Word(JackKind::WORDS), "how the board is put in the telephone line"),
        property(
            "board",
            Kind::Reference(Names::Board),
            "the board that reports; of a telephone line, the one whose line port it uses; the only panel if left out",
        ),
        property("port", Kind::Text(20), "the line port; the only one if left out"),
        property("module", Kind::Reference(Names::Board), "the bus module that is the adapter"),
        property(
            "wired",
            Kind::Word(PinOrder::WORDS),
            "the table by which its network cables are wired at both ends; if left out, the pins follow the conductors of the cable type",
        ),
        property(
            "supervised-every",
            positive(&[Time]),
            "within what time the service misses this way when it has fallen silent; if left out, only the test report tells",
        ),
    ],
    children: &[up_to(20, &LINE_RUN), up_to(20, &HOP)],
    example: "communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\"",
};

/// `run` of a communicator
pub(crate) static LINE_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "The cable of this way. Of a telephone line it goes from the board's line port to the jack. Of an internet connection it is a network cable from the adapter (`module=`, else `board=`) to the first hop, and a second one goes on from there to the second hop: pins 1 to 8, or 1, 2, 3 and 6 where the cable has fewer than eight conductors. Of a radio it is the antenna's cable, core and screen.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[at_most_once(&WAY)],
    example: "run \"line-4\" length=(ft)18 room=\"porch\"",
};

/// `hop`
pub(crate) static HOP: NodeSpec = NodeSpec {
    name: "hop",
    doc: "A powered device on the way: the path lasts as long as the hop with the shortest backup. It gets its supply from a circuit that feeds it by name, from an output of the panel by a cable that is not in the spec (output=), from another hop (from=), or from the mains.",
    arguments: &[argument("what", Kind::Text(40), "what it is")],
    properties: &[
        property("name", Kind::Name(Names::Device), "a name, for a circuit's feed and for from="),
        property("output", Kind::Text(20), "the panel's output that feeds it by a cable that is not in the spec"),
        property(
            "from",
            Kind::Reference(Names::Device),
            "the hop that feeds it, through their network cable or a lead",
        ),
        property("draw", not_negative(&[Current, Power]), "what it takes"),
        property("min", positive(&[Voltage]), "least volts at which it works"),
        property("backup", positive(&[Time]), "how long its own backup lasts"),
    ],
    children: &[],
    example: "hop \"router\" name=\"router\" draw=(mA)450 min=(V)10.8",
};

/// `monitoring`
pub(crate) static MONITORING: NodeSpec = NodeSpec {
    name: "monitoring",
    doc: "What the monitoring service's form wants.",
    arguments: &[],
    properties: &[
        property("format", Kind::Word(Format::WORDS), "what the communicator speaks"),
        property(
            "description-width",
            Kind::Integer(8, 60),
            "characters that the form has for a description; 24 if left out",
        ),
        property("zones", Kind::Integer(1, 2000), "how many zones the form has lines for; no limit if left out"),
        property("test-every", positive(&[Time]), "interval of the test report"),
        property("duress", Kind::Flag, "that a code for use under threat is set up, so that it may be reported"),
    ],
    children: &[up_to(20, &HANDLING)],
    example: "monitoring format=\"sia-dc-05\" description-width=24 test-every=(day)7",
};

/// `handling`
pub(crate) static HANDLING: NodeSpec = NodeSpec {
    name: "handling",
    doc: "What the service is expected to do, for a group of events. Calls in silence and under duress are `panic-silent`: what is said of `panic` does not hold for them.",
    arguments: &[
        argument("group", Kind::Word(EventGroup::WORDS), "which events"),
        argument("action", TEXT, "in a few words"),
    ],
    properties: &[],
    children: &[],
    example: "handling \"intrusion\" \"call the house first, then the keyholder\"",
};
