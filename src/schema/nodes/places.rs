//! Levels, rooms and openings.

use crate::quantity::Dimension::Length;
use crate::schema::spec::{
    ArgumentSpec, Kind, Names, NodeSpec, PropertySpec, TEXT, any, argument, at_most_once, not_negative, positive,
    property, up_to,
};
use crate::terms::{Bearing, RoomKind, Wall};

/// `level`
pub(crate) static LEVEL: NodeSpec = NodeSpec {
    name: "level",
    doc: "A storey, or an outbuilding's floor.",
    arguments: &[argument("name", Kind::Name(Names::Level), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("storey", Kind::Integer(-3, 9), "0 at the ground (the default), 1 above it, -1 below"),
        property("ceiling", positive(&[Length]), "height of the ceiling"),
    ],
    children: &[any(&ROOM)],
    example: "level \"ground\" title=\"Ground floor\" ceiling=(ft)9 {\n    room \"hall\" title=\"Front hall\"\n}",
};

/// `room`
pub(crate) static ROOM: NodeSpec = NodeSpec {
    name: "room",
    doc: "A room, or another place where something is mounted. When two rooms become one, give the room that stays the doors and windows of both: by them a work order sees that what hung in the other room now hangs here.",
    arguments: &[argument("name", Kind::Name(Names::Room), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("kind", Kind::Word(RoomKind::WORDS), "what it is used for"),
    ],
    children: &[at_most_once(&RECT), any(&DOOR), any(&WINDOW), any(&HATCH)],
    example: "room \"hall\" title=\"Front hall\" kind=\"hall\" {\n    door \"front-door\" title=\"Front door\" wall=\"south\"\n}",
};

/// `rect`
pub(crate) static RECT: NodeSpec = NodeSpec {
    name: "rect",
    doc: "The room on the plan: the corner nearest the plan's origin, then width and depth.",
    arguments: &[
        argument("x", not_negative(&[Length]), "from the plan's left edge"),
        argument("y", not_negative(&[Length]), "from the plan's lower edge"),
        argument("width", positive(&[Length]), "left to right"),
        argument("depth", positive(&[Length]), "bottom to top"),
    ],
    properties: &[],
    children: &[],
    example: "rect (ft)0 (ft)0 (ft)12 (ft)8",
};

/// `spot` of whatever hangs in a room
pub(crate) static SPOT: NodeSpec = NodeSpec {
    name: "spot",
    doc: "Where it hangs on the plan of its level, from the same left and lower edge as rect. What watches an opening needs none.",
    arguments: PLACE,
    properties: &[property(
        "looks",
        Kind::Word(Bearing::WORDS),
        "where a detector looks: the middle of what it covers",
    )],
    children: &[],
    example: "spot (ft)18.5 (ft)6.5 looks=\"north-east\"",
};

/// `way` of a run
pub(crate) static WAY: NodeSpec = NodeSpec {
    name: "way",
    doc: "The way of the cable on the plan of the level on which it ends, from point to point. The floor plan draws it as a line; a cable without it has a tag there.",
    arguments: &[],
    properties: &[],
    children: &[up_to(100, &POINT)],
    example: "way {\n    point (ft)31 (ft)22\n    point (ft)31 (ft)6\n}",
};

/// `point` of a way
pub(crate) static POINT: NodeSpec = NodeSpec {
    name: "point",
    doc: "A place on the plan of a level.",
    arguments: PLACE,
    properties: &[],
    children: &[],
    example: "point (ft)31 (ft)22",
};

const PLACE: &[ArgumentSpec] = &[
    argument("x", not_negative(&[Length]), "from the plan's left edge"),
    argument("y", not_negative(&[Length]), "from the plan's lower edge"),
];

const OPENING: &[PropertySpec] = &[
    property("title", TEXT, "name for people"),
    property("wall", Kind::Word(Wall::WORDS), "the wall it is in"),
    property(
        "at",
        not_negative(&[Length]),
        "from the wall's left end, seen on the plan; at an east or west wall from its lower end",
    ),
    property(
        "reachable",
        Kind::Flag,
        "whether a person can reach it from outside; if left out, a door is reached on every storey, all else at or below the ground",
    ),
    property("to", Kind::Reference(Names::Room), "the room behind it: then it is an inside opening"),
];

/// `door`
pub(crate) static DOOR: NodeSpec = NodeSpec {
    name: "door",
    doc: "A door. With to= it leads to another room and is no outside opening.",
    arguments: &[argument("name", Kind::Name(Names::Opening), "the name that others refer to")],
    properties: OPENING,
    children: &[],
    example: "door \"front-door\" title=\"Front door\" wall=\"south\" at=(ft)5",
};

/// `window`
pub(crate) static WINDOW: NodeSpec = NodeSpec {
    name: "window",
    doc: "A window.",
    arguments: &[argument("name", Kind::Name(Names::Opening), "the name that others refer to")],
    properties: OPENING,
    children: &[],
    example: "window \"hall-window\" wall=\"west\" at=(ft)3",
};

/// `hatch`
pub(crate) static HATCH: NodeSpec = NodeSpec {
    name: "hatch",
    doc: "A hatch, roof light or gate: any other opening that a person fits through.",
    arguments: &[argument("name", Kind::Name(Names::Opening), "the name that others refer to")],
    properties: OPENING,
    children: &[],
    example: "hatch \"grain-hatch\" title=\"Grain hatch\" reachable=#true",
};
