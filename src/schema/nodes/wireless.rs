//! Wireless detectors.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{Kind, Names, NodeSpec, TEXT, argument, at_most_once, not_negative, property, up_to};
use crate::terms::Faces;

use super::places::SPOT;
use super::zone::{EXISTING, MADE, NEAR};

/// `wireless`
pub(crate) static WIRELESS: NodeSpec = NodeSpec {
    name: "wireless",
    doc: "A zone's wireless detector, in place of a loop.",
    arguments: &[argument("part", Kind::Reference(Names::Part), "the part it is")],
    properties: &[
        property("on", Kind::Reference(Names::Opening), "the opening it watches"),
        property("room", Kind::Reference(Names::Room), "where it is; the opening's room if left out"),
        property("title", TEXT, "name for people"),
        property("receiver", Kind::Reference(Names::Board), "the receiver that hears it"),
        property("battery", Kind::Date, "day its battery was put in"),
        EXISTING,
        MADE,
        property("mount", not_negative(&[Length]), "height above the floor"),
        property("faces", Kind::Word(Faces::WORDS), "of a motion detector, what it looks at that may mislead it"),
        property("shares", Kind::Flag, "that another zone watches this opening too is meant"),
    ],
    children: &[at_most_once(&SPOT), up_to(10, &NEAR)],
    example: "wireless \"reed-wireless\" on=\"shed-door\" receiver=\"receiver-a\" battery=\"2027-03-14\"",
};
