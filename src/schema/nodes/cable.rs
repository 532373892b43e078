//! Types of cable.

use crate::quantity::Dimension::{Length, LinearResistance, WireSize};
use crate::schema::spec::{Kind, Names, NodeSpec, TEXT, argument, positive, property, up_to};
use crate::terms::{MadeFor, Metal, Shield, Use};

/// `cable`
pub(crate) static CABLE: NodeSpec = NodeSpec {
    name: "cable",
    doc: "A type of cable, with its conductors by colour.",
    arguments: &[argument("name", Kind::Name(Names::Cable), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("conductors", Kind::Integer(1, 100), "how many conductors").required(),
        property(
            "size",
            positive(&[WireSize]),
            "size of one conductor. A gauge fixes the diameter; a metric size is nominal, and its conductor may have up to a sixth more resistance. Leave it out for a cable that was found and whose size nobody knows",
        ),
        property("jacket", Kind::Text(20), "jacket type as printed on it, such as CL2R"),
        property("shield", Kind::Word(Shield::WORDS), "its shield, which is none of its conductors; none if left out"),
        property("made-for", Kind::Word(MadeFor::WORDS), "where its sheet lets it lie; indoors if left out"),
        property("stranded", Kind::Flag, "stranded conductors; solid if left out"),
        property("metal", Kind::Word(Metal::WORDS), "what the conductors are made of; plain copper if left out"),
        property("diameter", positive(&[Length]), "diameter over the jacket"),
        property(
            "resistance",
            positive(&[LinearResistance]),
            "the most that one conductor has at 20 °C, by its sheet, or as measured in a cable that was found; if left out, the standard's for its size and metal",
        ),
        property("box", positive(&[Length]), "how much comes in a box"),
    ],
    children: &[up_to(100, &CONDUCTOR)],
    example: "cable \"station-4\" title=\"22 AWG, 4 conductors\" conductors=4 size=(AWG)22 jacket=\"CL2R\" {\n    conductor \"RD\" for=\"supply+\"\n    conductor \"BK\" for=\"supply-\"\n    conductor \"GN\" for=\"loop\"\n    conductor \"WH\" for=\"loop\"\n}",
};

/// `conductor`
pub(crate) static CONDUCTOR: NodeSpec = NodeSpec {
    name: "conductor",
    doc: "One conductor of a cable type, in the order of the code.",
    arguments: &[argument("colour", Kind::Colour, "colour by IEC 60757, as RD, or RDBU for red with blue")],
    properties: &[property("for", Kind::Word(Use::WORDS), "what it is taken for first")],
    children: &[],
    example: "conductor \"RD\" for=\"supply+\"",
};
