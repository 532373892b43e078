//! Two-wire detectors, which the loop itself feeds: what their sheet says, and what the board's says of them.

use crate::quantity::Dimension::{Current, Voltage};
use crate::schema::spec::{Kind, NodeSpec, argument, not_negative, positive, property, up_to};
use crate::terms::Side;

/// `loop-fed` of a part
pub(crate) static LOOP_FED: NodeSpec = NodeSpec {
    name: "loop-fed",
    doc: "What the sheet of a two-wire detector says: the loop's own two conductors feed it.",
    arguments: &[],
    properties: &[
        property("min", positive(&[Voltage]), "least voltage at which it works").required(),
        property("max", positive(&[Voltage]), "most voltage that it withstands"),
        property("idle", not_negative(&[Current]), "the most current at rest").required(),
        property("alarm-min", not_negative(&[Voltage]), "least voltage across it in alarm").required(),
        property("alarm-max", positive(&[Voltage]), "most voltage across it in alarm").required(),
        property("alarm", positive(&[Current]), "the most current that it withstands in alarm"),
        property("positive", Kind::Terminal, "mark of its positive terminal"),
        property("negative", Kind::Terminal, "mark of its negative terminal"),
        property("either-way", Kind::Flag, "that its sheet lets the two conductors be exchanged"),
        property("identifier", Kind::Text(40), "the identifier by which boards list it, as its sheet gives it"),
    ],
    children: &[],
    example: "loop-fed min=(V)8.5 max=(V)28 idle=(uA)90 alarm-min=(V)4 alarm-max=(V)6.5 alarm=(mA)60 positive=\"+\" negative=\"-\" identifier=\"TW-1\"",
};

/// `loop-feed` of a `sensing`
pub(crate) static LOOP_FEED: NodeSpec = NodeSpec {
    name: "loop-feed",
    doc: "What the board's sheet says of the two-wire detectors that such an input feeds.",
    arguments: &[],
    properties: &[
        property("limit", positive(&[Current]), "most current at rest of all its detectors together"),
        property("resistor", Kind::Resistance, "the resistor at the far end"),
        property("positive", Kind::Word(Side::WORDS), "which of the input's two terminals is positive"),
        property("contacts", Kind::Flag, "whether contacts that are open at rest may be on the same input"),
    ],
    children: &[up_to(200, &LISTED)],
    example: "loop-feed limit=(mA)2.5 resistor=\"4k7\" positive=\"signal\" {\n    listed \"TW-1\" most=12\n}",
};

/// `listed` of a `loop-feed`
pub(crate) static LISTED: NodeSpec = NodeSpec {
    name: "listed",
    doc: "A two-wire detector that the board's sheet lists as compatible.",
    arguments: &[argument("identifier", Kind::Text(40), "the identifier, as the sheet gives it")],
    properties: &[property("most", Kind::Integer(1, 999), "how many of them an input takes")],
    children: &[],
    example: "listed \"TW-1\" most=12",
};
