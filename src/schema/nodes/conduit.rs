//! Conduits that cables are pulled through.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{Kind, Names, NodeSpec, argument, once, positive, property};

/// `conduit`
pub(crate) static CONDUIT: NodeSpec = NodeSpec {
    name: "conduit",
    doc: "A conduit, duct or raceway with the cables that lie in it. How far they fill it is held against the usual limits; for that each type of cable says its diameter.",
    arguments: &[argument("title", Kind::Text(60), "name for people")],
    properties: &[property(
        "inside",
        positive(&[Length]),
        "its diameter inside, as measured or by its table: not its trade size",
    )
    .required()],
    children: &[once(&HOLDS)],
    example: "conduit \"Duct under the yard\" inside=(in)1.05 {\n    holds \"yard-bus\" \"yard-supply\"\n}",
};

/// `holds` of a conduit
pub(crate) static HOLDS: NodeSpec = NodeSpec {
    name: "holds",
    doc: "The cables in a conduit, by the names of their runs.",
    arguments: &[argument("runs", Kind::Reference(Names::Run), "one name each").many()],
    properties: &[],
    children: &[],
    example: "holds \"yard-bus\" \"yard-supply\"",
};
