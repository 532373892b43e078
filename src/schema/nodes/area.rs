//! Areas: what arms as one, and its times.

use crate::quantity::Dimension::{Length, Time};
use crate::schema::spec::{
    Kind, Names, NodeSpec, TEXT, argument, at_most_once, not_negative, positive, property, up_to,
};

/// `area`
pub(crate) static AREA: NodeSpec = NodeSpec {
    name: "area",
    doc: "A part of the house that arms as one.",
    arguments: &[argument("name", Kind::Name(Names::Area), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property(
            "number",
            Kind::Integer(1, 99),
            "the number it reports with; the first that is free, by order of name, if left out",
        ),
        property("entry", not_negative(&[Time]), "entry delay: from the door to the keypad"),
        property("exit", not_negative(&[Time]), "exit delay: from the keypad out of the door"),
        property(
            "abort",
            not_negative(&[Time]),
            "abort window: how long an alarm can still be stopped before it is sent",
        ),
        property(
            "swinger-shutdown",
            Kind::Integer(1, 99),
            "how many alarms of one zone are sent until it is shut out, up to the next arming",
        ),
        property("sounder-cut-off", positive(&[Time]), "how long its sounders sound"),
    ],
    children: &[up_to(100, &WALK), up_to(50, &CROSS_ZONES)],
    example: "area \"house\" title=\"House\" entry=(s)30 exit=(s)60 abort=(s)20 swinger-shutdown=2 sounder-cut-off=(min)5 {\n    walk \"front-door\" to=\"hall-keypad\" length=(ft)24\n    cross-zones 2 4 window=(s)60\n}",
};

/// `walk`
pub(crate) static WALK: NodeSpec = NodeSpec {
    name: "walk",
    doc: "How people who come in walk from a door with an entry delay to the keypad, and back when they leave. Where neither time nor length is given, the plan is measured, if both rooms are on it and on one level.",
    arguments: &[argument("from", Kind::Reference(Names::Opening), "the door")],
    properties: &[
        property("to", Kind::Reference(Names::Board), "the keypad").required(),
        property("time", positive(&[Time]), "how long it takes, measured by walking it"),
        property("length", positive(&[Length]), "how long the way is"),
    ],
    children: &[at_most_once(&THROUGH)],
    example: "walk \"front-door\" to=\"hall-keypad\" time=(s)9 { through \"hall\"; }",
};

/// `through` of a `walk`
pub(crate) static THROUGH: NodeSpec = NodeSpec {
    name: "through",
    doc: "The rooms on the way, besides those of the door and the keypad.",
    arguments: &[argument("rooms", Kind::Reference(Names::Room), "one name each").many()],
    properties: &[],
    children: &[],
    example: "through \"hall\" \"landing\"",
};

/// `cross-zones` of an area
pub(crate) static CROSS_ZONES: NodeSpec = NodeSpec {
    name: "cross-zones",
    doc: "Zones that confirm each other: one alone is no alarm, a second one within the window is.",
    arguments: &[argument("zones", Kind::Integer(1, 999), "their numbers, two or more").many()],
    properties: &[property("window", positive(&[Time]), "how long the first one waits for another")],
    children: &[],
    example: "cross-zones 2 4 window=(s)60",
};
