//! Powered circuits.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{
    Kind, Names, NodeSpec, PropertySpec, TEXT, any, argument, at_most_once, positive, property, up_to,
};
use crate::terms::SwitchContact;

use super::places::{SPOT, WAY};
use super::spare::RESERVE;
use super::switching::{DRIVE, LOAD};
use super::zone::{EXISTING, RUN};

/// `circuit`
pub(crate) static CIRCUIT: NodeSpec = NodeSpec {
    name: "circuit",
    doc: "A pair from an output to sounders, loads and detectors, or from a dry contact to a load with a supply of its own: runs in the order in which the cable passes.",
    arguments: &[argument("name", Kind::Name(Names::Circuit), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("board", Kind::Reference(Names::Board), "the board that feeds or switches it").required(),
        property("output", Kind::Text(20), "the board's output; left out where the load has a supply of its own"),
        property("switch", Kind::Text(20), "the board's relay or transistor that switches it"),
        property("contact", Kind::Word(SwitchContact::WORDS), "which contact of the relay; make if left out"),
    ],
    children: &[up_to(10, &DRIVE), any(&CIRCUIT_RUN)],
    example: "circuit \"sounders\" board=\"main\" output=\"siren\" {\n    run \"heavy-2\" length=(ft)50 room=\"hall\" { sounder \"siren-12\" }\n}",
};

/// `run` of a circuit
pub(crate) static CIRCUIT_RUN: NodeSpec = NodeSpec {
    name: "run",
    doc: "A supply cable to the next place; in its braces what is fed there. A run inside a run is a branch.",
    arguments: &[argument("cable", Kind::Reference(Names::Cable), "the type of cable")],
    properties: RUN,
    children: &[at_most_once(&WAY), any(&CIRCUIT_RUN), any(&SOUNDER), any(&LOAD), any(&FEED), up_to(100, &RESERVE)],
    example: "run \"heavy-2\" length=(ft)50 room=\"hall\" { sounder \"siren-12\" }",
};

/// The battery of a siren or lock that has one of its own.
pub(super) const OWN_BATTERY: PropertySpec =
    property("battery", Kind::Date, "day its own battery was put in, where it has one");

/// `sounder`
pub(crate) static SOUNDER: NodeSpec = NodeSpec {
    name: "sounder",
    doc: "A sounder mounted here.",
    arguments: &[argument("part", Kind::Reference(Names::Part), "the part it is")],
    properties: &[
        property("name", Kind::Name(Names::Device), "a name of its own"),
        property("title", TEXT, "name for people"),
        property("mount", positive(&[Length]), "height above the floor"),
        OWN_BATTERY,
        EXISTING,
    ],
    children: &[at_most_once(&SPOT)],
    example: "sounder \"siren-12\" title=\"Siren under the eaves\" mount=(ft)14",
};

/// `feed`
pub(crate) static FEED: NodeSpec = NodeSpec {
    name: "feed",
    doc: "Feeds a detector that a zone's loop mounts here, or a hop of a communicator that stands here.",
    arguments: &[argument("device", Kind::Reference(Names::Device), "the name of the detector or the hop")],
    properties: &[],
    children: &[],
    example: "feed \"stair-smoke\"",
};
