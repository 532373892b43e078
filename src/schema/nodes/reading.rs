//! What was measured on site: the as-built record.

use crate::quantity::Dimension::{Resistance, Voltage};
use crate::schema::spec::{Kind, NodeSpec, TEXT, any, argument, not_negative, property};
use crate::terms::Seen;

/// `measured`
pub(crate) static MEASURED: NodeSpec = NodeSpec {
    name: "measured",
    doc: "Readings taken on one day. `loopwright readings` prints one with a line for everything there is to measure; a line without a value is a reading that was not taken. What it names may be gone by now: then it is history.",
    arguments: &[],
    properties: &[
        property("date", Kind::Date, "the day").required(),
        property("meter", TEXT, "which meter, and what its leads read when they touch"),
    ],
    children: &[any(&LOOP_READING), any(&DEVICE_READING), any(&BATTERY_READING)],
    example: "measured date=\"2027-04-02\" meter=\"bench meter, leads 0.2 ohm\" {\n    loop 1 \"rest\" ohms=(ohm)2203 volts=(V)2.51\n    loop 1 \"alarm\" open=#true volts=(V)5\n    device \"stair-smoke\" volts=(V)13.4\n    battery \"main\" volts=(V)13.6\n}",
};

/// `loop` of a `measured`
pub(crate) static LOOP_READING: NodeSpec = NodeSpec {
    name: "loop",
    doc: "A reading of a zone's loop at the board: ohms with both leads off, volts with everything connected.",
    arguments: &[
        argument("zone", Kind::Integer(1, 999), "the zone's number"),
        argument("state", Kind::Word(Seen::WORDS), "what state it was in"),
    ],
    properties: &[
        property("of", TEXT, "the name of the opening or detector that was in alarm or open; any one if left out"),
        property("ohms", not_negative(&[Resistance]), "what the meter showed with the leads off"),
        property("open", Kind::Flag, "that the meter showed no connection"),
        property("volts", not_negative(&[Voltage]), "what the meter showed with the leads on"),
    ],
    children: &[],
    example: "loop 7 \"alarm\" of=\"hall-window\" open=#true volts=(V)5",
};

/// `device` of a `measured`
pub(crate) static DEVICE_READING: NodeSpec = NodeSpec {
    name: "device",
    doc: "The volts of a supply at a detector, sounder or board, on mains at rest. What is on in alarm only has no volts at rest; read it in alarm instead.",
    arguments: &[argument("name", TEXT, "the name of the device or board")],
    properties: &[property("volts", not_negative(&[Voltage]), "what the meter showed")],
    children: &[],
    example: "device \"stair-smoke\" volts=(V)13.4",
};

/// `battery` of a `measured`
pub(crate) static BATTERY_READING: NodeSpec = NodeSpec {
    name: "battery",
    doc: "The volts of a board's battery, charged and with the mains on.",
    arguments: &[argument("board", TEXT, "the name of the board")],
    properties: &[property("volts", not_negative(&[Voltage]), "what the meter showed")],
    children: &[],
    example: "battery \"main\" volts=(V)13.6",
};
