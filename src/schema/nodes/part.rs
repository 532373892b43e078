//! Parts: what a data sheet says.

use crate::quantity::Dimension::{Current, Length, Power, Ratio, Resistance, SoundLevel, Temperature, Voltage};
use crate::schema::spec::{
    DAYS, Kind, Names, NodeSpec, Sign, TEXT, argument, at_most_once, not_negative, once, positive, property, up_to,
};
use crate::terms::{
    BandName, Basis, BoardPart, Connect, ContactForm, Fails, LoopWiring, MountingBox, Radio, Senses, SupplyForm,
    SwitchedSide, When, Works,
};

use super::switching::{OWN_SUPPLY, RELAY, TRANSISTOR};
use super::two_wire::{LOOP_FED, LOOP_FEED};

/// `part`
pub(crate) static PART: NodeSpec = NodeSpec {
    name: "part",
    doc: "A thing that is bought, with the figures of its data sheet. The parts that ship are generic and invented: confirm them. A part of the site's own takes the place of a shared one of the same name.",
    arguments: &[argument("name", Kind::Name(Names::Part), "the name that others refer to")],
    properties: &[
        property("title", TEXT, "name for people"),
        property("senses", Kind::Word(Senses::WORDS), "what it detects"),
        property(
            "board",
            Kind::Word(BoardPart::WORDS),
            "what it is, of a board: then it may be mounted as nothing else; told from what it has if left out",
        ),
        property("works", Kind::Word(Works::WORDS), "what it is, of a load"),
        property("fails", Kind::Word(Fails::WORDS), "what a lock does without current, by its sheet"),
        property("rating", Kind::Quantity(&[Temperature], Sign::Any), "temperature at which a heat detector trips"),
        property(
            "replace-after",
            DAYS,
            "age at which its listing or its sheet has it replaced, from the day on which it was made",
        ),
        property("box", Kind::Word(MountingBox::WORDS), "the box that it is mounted on, which is bought with it"),
        property("hole", positive(&[Length]), "diameter of the hole that it is set into, in a frame or a wall"),
    ],
    children: &[
        once(&BASIS),
        at_most_once(&CONTACT),
        at_most_once(&TAMPER),
        at_most_once(&FAULT_CONTACT),
        at_most_once(&SUPPLY),
        at_most_once(&SOUND),
        at_most_once(&COVERAGE),
        at_most_once(&OWN_SUPPLY),
        at_most_once(&LOOP_FED),
        at_most_once(&TERMINALS),
        at_most_once(&AC_PORT),
        at_most_once(&BATTERY_PORT),
        at_most_once(&EARTH_TERMINAL),
        up_to(1000, &TERMINAL),
        up_to(999, &INPUT),
        up_to(6, &SENSING),
        up_to(60, &OUTPUT),
        up_to(60, &RELAY),
        up_to(60, &TRANSISTOR),
        up_to(20, &BUS_PORT),
        up_to(20, &LINE_PORT),
        at_most_once(&DRAW),
        at_most_once(&CHARGER),
        at_most_once(&SCREW),
        at_most_once(&RADIO),
    ],
    example: "part \"reed-flush\" title=\"Recessed reed contact\" senses=\"opening\" {\n    basis \"generic\"\n    contact form=\"NC\" resistance=(ohm)0.15\n}",
};

/// `basis`
pub(crate) static BASIS: NodeSpec = NodeSpec {
    name: "basis",
    doc: "What the part's figures rest on.",
    arguments: &[argument("kind", Kind::Word(Basis::WORDS), "generic figures raise a note until confirmed")],
    properties: &[property("ref", TEXT, "which sheet, which page")],
    children: &[],
    example: "basis \"sheet\" ref=\"sheet 12, page 2\"",
};

/// `contact` of a part
pub(crate) static CONTACT: NodeSpec = NodeSpec {
    name: "contact",
    doc: "The alarm contact. A device is in one loop, by this one contact: of a detector with two, the second is a part of its own, mounted beside it with existing=#true.",
    arguments: &[],
    properties: &[
        property("form", Kind::Word(ContactForm::WORDS), "state at rest").required(),
        property("resistance", not_negative(&[Resistance]), "the most it has when closed"),
        property("terminals", Kind::Terminal, "the mark at its pair of terminals; alarm if left out"),
    ],
    children: &[],
    example: "contact form=\"NC\" resistance=(ohm)0.15",
};

/// `tamper` of a part
pub(crate) static TAMPER: NodeSpec = NodeSpec {
    name: "tamper",
    doc: "The cover contact.",
    arguments: &[],
    properties: &[
        property("form", Kind::Word(ContactForm::WORDS), "state with the cover on").required(),
        property("resistance", not_negative(&[Resistance]), "the most it has when closed"),
        property("terminals", Kind::Terminal, "the mark at its pair of terminals; tamper if left out"),
    ],
    children: &[],
    example: "tamper form=\"NC\"",
};

/// `fault-contact` of a part
pub(crate) static FAULT_CONTACT: NodeSpec = NodeSpec {
    name: "fault-contact",
    doc: "The contact by which a board tells a fault of its own, as of its mains or battery: a loop watches it with `fault`.",
    arguments: &[],
    properties: &[
        property("form", Kind::Word(ContactForm::WORDS), "state without a fault").required(),
        property("a", Kind::Terminal, "mark of the one terminal").required(),
        property("b", Kind::Terminal, "mark of the other").required(),
        property("resistance", not_negative(&[Resistance]), "the most it has when closed"),
    ],
    children: &[],
    example: "fault-contact form=\"NC\" a=\"F1\" b=\"F2\"",
};

/// `supply` of a part
pub(crate) static SUPPLY: NodeSpec = NodeSpec {
    name: "supply",
    doc: "The supply it needs.",
    arguments: &[],
    properties: &[
        property("min", positive(&[Voltage]), "least voltage at which it works").required(),
        property("max", positive(&[Voltage]), "most voltage that it withstands"),
        property("idle", not_negative(&[Current, Power]), "current or power at rest").required(),
        property("alarm", not_negative(&[Current, Power]), "current or power in alarm; as idle if left out"),
        property("form", Kind::Word(SupplyForm::WORDS), "what it must be while it is on; steady if left out"),
        property(
            "common",
            Kind::Word(SwitchedSide::WORDS),
            "the side that is joined to others or to the housing, so that only the other may be switched",
        ),
        property("coil", Kind::Flag, "whether it has a coil, as a relay or a lock"),
        property("diode", Kind::Flag, "whether a diode across that coil is built in"),
        property("positive", Kind::Terminal, "mark of the positive terminal; + if left out"),
        property("negative", Kind::Terminal, "mark of the negative terminal; - if left out"),
    ],
    children: &[],
    example: "supply min=(V)9 max=(V)16 idle=(mA)12 alarm=(mA)18",
};

/// `sound` of a part
pub(crate) static SOUND: NodeSpec = NodeSpec {
    name: "sound",
    doc: "How loud a sounder is.",
    arguments: &[],
    properties: &[
        property("level", positive(&[SoundLevel]), "its level").required(),
        property("at", positive(&[Length]), "the distance at which the sheet gives it").required(),
    ],
    children: &[],
    example: "sound level=(dBA)105 at=(ft)10",
};

/// `coverage` of a part
pub(crate) static COVERAGE: NodeSpec = NodeSpec {
    name: "coverage",
    doc: "What a motion or glass-break detector covers.",
    arguments: &[],
    properties: &[
        property("range", positive(&[Length]), "how far").required(),
        property("angle", Kind::Integer(1, 360), "how wide, in degrees; all around (360) if left out"),
    ],
    children: &[],
    example: "coverage range=(ft)40 angle=90",
};

/// `terminals` of a part
pub(crate) static TERMINALS: NodeSpec = NodeSpec {
    name: "terminals",
    doc: "The marks of the terminals in the order in which they stand. If left out: transformer, battery, earth, outputs, relays and transistors, bus ports, line ports, inputs, then those of any other purpose.",
    arguments: &[argument("marks", Kind::Terminal, "one mark each").many()],
    properties: &[],
    children: &[],
    example: "terminals \"A+\" \"A-\" \"I1\" \"R1\" \"I2\"",
};

/// `ac-port` of a part
pub(crate) static AC_PORT: NodeSpec = NodeSpec {
    name: "ac-port",
    doc: "The two terminals that the transformer's cable comes to.",
    arguments: &[],
    properties: &[
        property("a", Kind::Terminal, "mark of the one").required(),
        property("b", Kind::Terminal, "mark of the other").required(),
        property("min", positive(&[Voltage]), "least alternating voltage there at which the board works and charges"),
        property("max", positive(&[Voltage]), "most alternating voltage there that the board withstands"),
    ],
    children: &[],
    example: "ac-port a=\"AC1\" b=\"AC2\" min=(V)15 max=(V)20",
};

/// `battery-port` of a part
pub(crate) static BATTERY_PORT: NodeSpec = NodeSpec {
    name: "battery-port",
    doc: "The two terminals, or leads, for the standby battery.",
    arguments: &[],
    properties: &[
        property("positive", Kind::Terminal, "mark of the positive").required(),
        property("negative", Kind::Terminal, "mark of the negative").required(),
        property(
            "connect",
            Kind::Word(Connect::WORDS),
            "when it is connected at power-up, by the sheet; if left out, last, as is common practice",
        ),
    ],
    children: &[],
    example: "battery-port positive=\"BT+\" negative=\"BT-\" connect=\"last\"",
};

/// `earth-terminal` of a part
pub(crate) static EARTH_TERMINAL: NodeSpec = NodeSpec {
    name: "earth-terminal",
    doc: "The terminal for the earth conductor.",
    arguments: &[argument("mark", Kind::Terminal, "its mark")],
    properties: &[],
    children: &[],
    example: "earth-terminal \"EARTH\"",
};

/// `terminal` of a part
pub(crate) static TERMINAL: NodeSpec = NodeSpec {
    name: "terminal",
    doc: "A terminal that is for anything else, so that nobody takes it for a free one.",
    arguments: &[argument("mark", Kind::Terminal, "its mark")],
    properties: &[property("for", TEXT, "its purpose, by the sheet").required()],
    children: &[],
    example: "terminal \"LID\" for=\"cover switch of the enclosure\"",
};

/// `input` of a part
pub(crate) static INPUT: NodeSpec = NodeSpec {
    name: "input",
    doc: "An input for a loop. A return may be shared with other inputs.",
    arguments: &[argument("number", Kind::Integer(1, 999), "the number printed on the board")],
    properties: &[
        property("signal", Kind::Terminal, "mark of the terminal that is sensed").required(),
        property("return", Kind::Terminal, "mark of the terminal that the loop comes back to").required(),
        property("two-wire", Kind::Flag, "whether it can be set to feed two-wire detectors"),
    ],
    children: &[],
    example: "input 1 signal=\"I1\" return=\"R1\"",
};

/// `sensing` of a part
pub(crate) static SENSING: NodeSpec = NodeSpec {
    name: "sensing",
    doc: "How the board reads a loop: its supply through its pull-up, and the bands of readings. A board whose inputs can be set for a wiring has one for each setting.",
    arguments: &[],
    properties: &[
        property(
            "wiring",
            Kind::Word(LoopWiring::WORDS),
            "the wiring that an input is set for; every other if left out",
        ),
        property("supply", positive(&[Voltage]), "the voltage behind the pull-up"),
        property("pull-up", positive(&[Resistance]), "the resistor between that voltage and the terminal"),
        property("tolerance", Kind::Quantity(&[Ratio], Sign::NotNegative), "of the pull-up; 1 % if left out"),
        property(
            "supply-tolerance",
            Kind::Quantity(&[Ratio], Sign::NotNegative),
            "by how much the voltage may be off, where the bands do not move with it; 0 if left out",
        ),
    ],
    children: &[up_to(20, &BAND), at_most_once(&LOOP_FEED)],
    example: "sensing supply=(V)5 pull-up=(ohm)680 tolerance=(percent)1 {\n    band \"short\" max=(V)0.75\n    band \"normal\" min=(V)1.1 max=(V)4.1\n    band \"open\" min=(V)4.6\n}",
};

/// `band` of a `sensing`
pub(crate) static BAND: NodeSpec = NodeSpec {
    name: "band",
    doc: "A range of readings with one meaning, in volts at the terminals or in ohms of the loop.",
    arguments: &[argument("reads", Kind::Word(BandName::WORDS), "what the board makes of it")],
    properties: &[
        property("min", not_negative(&[Voltage, Resistance]), "lower edge; none if left out"),
        property("max", not_negative(&[Voltage, Resistance]), "upper edge; none if left out"),
    ],
    children: &[],
    example: "band \"normal\" min=(V)1.1 max=(V)4.1",
};

/// `output` of a part
pub(crate) static OUTPUT: NodeSpec = NodeSpec {
    name: "output",
    doc: "A supply that the board gives.",
    arguments: &[argument("name", Kind::Text(20), "the name that supply= and output= refer to")],
    properties: &[
        property("positive", Kind::Terminal, "mark of the positive terminal").required(),
        property("negative", Kind::Terminal, "mark of the negative terminal").required(),
        property(
            "volts",
            positive(&[Voltage]),
            "on mains. A module that gives more than 1.2 times the volts of its bus makes them from the bus, and takes that much more current there; less it only passes on",
        )
        .required(),
        property(
            "tolerance",
            Kind::Quantity(&[Ratio], Sign::NotNegative),
            "by how much the volts on mains may be off, and those on battery of an output that makes them of fewer; nothing if left out",
        ),
        property(
            "drop",
            not_negative(&[Voltage]),
            "volts lost in its fuse or switch on battery, beside the charger's drop=; none if left out",
        ),
        property(
            "least",
            positive(&[Voltage]),
            "least volts on battery, by the sheet; at a module no more than what its bus brings, unless the output raises it; computed from the charger's cut-off, or from what the bus brings, if left out",
        ),
        property("limit", positive(&[Current]), "most current").required(),
        property("switched", Kind::Flag, "whether the board takes it away to reset detectors"),
        property("when", Kind::Word(When::WORDS), "when it is on; always if left out"),
        property("form", Kind::Word(SupplyForm::WORDS), "what it gives while it is on; steady if left out"),
    ],
    children: &[],
    example: "output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(mA)1000",
};

/// `bus-port` of a part
pub(crate) static BUS_PORT: NodeSpec = NodeSpec {
    name: "bus-port",
    doc: "The connection of a data bus with its supply.",
    arguments: &[argument("name", Kind::Text(20), "the name that bus port= refers to")],
    properties: &[
        property("plus", Kind::Terminal, "mark of the positive supply").required(),
        property("minus", Kind::Terminal, "mark of the negative supply").required(),
        property("a", Kind::Terminal, "mark of data conductor A").required(),
        property("b", Kind::Terminal, "mark of data conductor B").required(),
        property(
            "shield",
            Kind::Terminal,
            "mark for the shield of the bus's cable; the part's earth terminal if left out",
        ),
        property("shield-at-both-ends", Kind::Flag, "whether the sheet wants it landed at both ends of the bus"),
        property("terminator", positive(&[Resistance]), "the terminator that is built in"),
        property("bias", positive(&[Resistance]), "the bias resistor in each leg"),
        property("bias-supply", positive(&[Voltage]), "the voltage behind the bias resistors"),
        property(
            "bias-tolerance",
            Kind::Quantity(&[Ratio], Sign::NotNegative),
            "by how much the bias supply may be off; nothing if left out",
        ),
        property("unit-load", positive(&[Ratio]), "load on the bus in percent of a unit load (TIA-485-A)"),
        property("limit", positive(&[Current]), "most current that the port gives to modules"),
        property("volts", positive(&[Voltage]), "supply voltage that the port gives to modules"),
        property("first-address", Kind::Integer(0, 255), "the first address that the board knows; 0 if left out"),
        property("last-address", Kind::Integer(0, 255), "the last address that the board knows; 255 if left out"),
    ],
    children: &[],
    example: "bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)720",
};

/// `line-port` of a part
pub(crate) static LINE_PORT: NodeSpec = NodeSpec {
    name: "line-port",
    doc: "The connection of a telephone line: in from the street, on to the house phones.",
    arguments: &[argument("name", Kind::Text(20), "the name that communicator port= refers to")],
    properties: &[
        property("in-tip", Kind::Terminal, "line from the street, tip").required(),
        property("in-ring", Kind::Terminal, "line from the street, ring").required(),
        property("out-tip", Kind::Terminal, "on to the house phones, tip").with("out-ring"),
        property("out-ring", Kind::Terminal, "on to the house phones, ring").with("out-tip"),
    ],
    children: &[],
    example: "line-port \"line\" in-tip=\"LT\" in-ring=\"LR\" out-tip=\"PT\" out-ring=\"PR\"",
};

/// `draw` of a part
pub(crate) static DRAW: NodeSpec = NodeSpec {
    name: "draw",
    doc: "What the board itself takes from its battery or from the bus.",
    arguments: &[],
    properties: &[
        property("idle", not_negative(&[Current, Power]), "current or power at rest").required(),
        property("alarm", not_negative(&[Current, Power]), "current or power in alarm; as idle if left out"),
        property("min", positive(&[Voltage]), "least voltage at which it works"),
        property("max", positive(&[Voltage]), "most voltage that it withstands"),
    ],
    children: &[],
    example: "draw idle=(mA)150 alarm=(mA)220",
};

/// `charger` of a part
pub(crate) static CHARGER: NodeSpec = NodeSpec {
    name: "charger",
    doc: "The board's battery charger.",
    arguments: &[],
    properties: &[
        property("current", positive(&[Current]), "charging current").required(),
        property("cut-off", positive(&[Voltage]), "battery voltage at which the board lets go"),
        property(
            "drop",
            not_negative(&[Voltage]),
            "volts lost in the board between battery and outputs; none if left out",
        ),
    ],
    children: &[],
    example: "charger current=(mA)400 cut-off=(V)10.5",
};

/// `screw` of a part
pub(crate) static SCREW: NodeSpec = NodeSpec {
    name: "screw",
    doc: "The terminals of a board, or of a detector or sounder.",
    arguments: &[],
    properties: &[property("wires", Kind::Integer(1, 12), "conductors that one terminal takes").required()],
    children: &[],
    example: "screw wires=2",
};

/// `radio` of a part
pub(crate) static RADIO: NodeSpec = NodeSpec {
    name: "radio",
    doc: "Its wireless side.",
    arguments: &[argument("role", Kind::Word(Radio::WORDS), "whether it hears or sends")],
    properties: &[
        property("capacity", Kind::Integer(1, 999), "transmitters that a receiver can learn"),
        property("battery-life", DAYS, "how long a transmitter's battery lasts"),
    ],
    children: &[],
    example: "radio \"receiver\" capacity=32",
};
