//! Words about parts and cables: what their figures rest on, when an output is on, what a conductor does.

use super::Word;

words!(
    /// What the figures of a part rest on.
    Basis {
        Generic = "generic": "invented figures, to be confirmed against the sheet",
        Sheet = "sheet": "the maker's data sheet",
        Measured = "measured": "measured on the bench",
    }
);

words!(
    /// As which kind of board a part is mounted.
    BoardPart {
        Panel = "panel" / "panel": "a control board: what a `panel` is",
        PowerSupply = "power-supply" / "power supply": "a supply that stands alone",
        Keypad = "keypad" / "keypad": "a keypad on a bus",
        Module = "module" / "module": "an expander or another module on a bus",
        Receiver = "receiver" / "receiver": "what hears wireless detectors, on a bus",
    }
);

words!(
    /// When an output is on.
    When {
        Always = "always": "at any time",
        Alarm = "alarm": "during an alarm",
    }
);

words!(
    /// Part a radio plays.
    Radio {
        Receiver = "receiver": "hears wireless detectors",
        Transmitter = "transmitter": "sends to a receiver",
    }
);

words!(
    /// When a board's battery is connected, by its sheet.
    Connect {
        First = "first": "before the mains",
        Last = "last": "after the mains",
    }
);

words!(
    /// How the batteries of one board are wired to each other.
    Bank {
        Series = "series" / "in series": "one behind the other: their volts add up",
        Parallel = "parallel" / "side by side": "side by side: their ampere-hours add up",
        SeriesPairs = "series-pairs" / "two and two in series": "two and two in series, and these pairs side by side",
    }
);

words!(
    /// What a cable has around its conductors, or bare beside them.
    Shield {
        Drain = "drain" / "drain wire": "a foil with a bare drain wire",
        Braid = "braid" / "braid": "a braid, twisted to one strand at an end",
        Bare = "bare" / "bare conductor": "a bare conductor without a foil",
    }
);

words!(
    /// How conductors are joined to each other.
    Joining {
        Screw = "screw" / "under a screw": "side by side under a screw",
        Crimp = "crimp" / "crimped": "in a crimped sleeve or a connector that is squeezed",
        Solder = "solder" / "soldered": "twisted, soldered and sleeved",
    }
);

words!(
    /// What a cable's conductors are made of.
    Metal {
        Copper = "copper": "plain copper",
        Tinned = "tinned": "copper with a coat of tin",
        CopperClad = "copper-clad": "aluminium with a coat of copper",
    }
);

words!(
    /// At which ends of a cable its shield is landed.
    ShieldEnds {
        Near = "near": "where the cable starts, towards its board",
        Far = "far": "where it ends",
        Both = "both": "at both",
        Neither = "neither": "at neither",
    }
);

words!(
    /// What a conductor is meant for.
    Use {
        SupplyPositive = "supply+": "positive supply",
        SupplyNegative = "supply-": "negative supply",
        Loop = "loop": "a zone's loop, out or back",
        BusA = "bus-a": "data conductor A",
        BusB = "bus-b": "data conductor B",
        LineIn = "line-in": "telephone line from the street",
        LineOut = "line-out": "telephone line on to the house phones",
        Network = "network": "a network cable's pins, in the order 1, 2, 3, 6, 4, 5, 7, 8",
        Antenna = "antenna": "a radio's antenna: core, then screen",
        Ac = "ac": "the transformer's secondary",
        Spare = "spare": "left free",
    }
);

words!(
    /// What a conductor does: the register's word and the printed one.
    WireUse {
        LoopOut = "loop-out" / "loop, out": "a loop, on the sensed side",
        LoopBack = "loop-back" / "loop, back": "a loop, on the return side",
        SupplyPositive = "supply+" / "supply +": "positive supply of an output",
        SupplyNegative = "supply-" / "supply −": "negative supply of an output",
        BusPlus = "bus+" / "bus supply +": "positive supply of a bus",
        BusMinus = "bus-" / "bus supply −": "negative supply of a bus",
        BusA = "bus-a" / "bus data A": "data conductor A",
        BusB = "bus-b" / "bus data B": "data conductor B",
        LineInTip = "line-in-tip" / "line from the street, tip": "line from the street, tip",
        LineInRing = "line-in-ring" / "line from the street, ring": "line from the street, ring",
        LineOutTip = "line-out-tip" / "line to the house phones, tip": "on to the house phones, tip",
        LineOutRing = "line-out-ring" / "line to the house phones, ring": "on to the house phones, ring",
        Network = "network" / "network": "a pin of a network cable",
        AntennaCore = "antenna-core" / "antenna, core": "the core of an antenna cable",
        AntennaScreen = "antenna-screen" / "antenna, screen": "the screen of an antenna cable",
        AcA = "ac-a" / "AC supply A": "one side of the transformer",
        AcB = "ac-b" / "AC supply B": "the other side of the transformer",
        ContactCommon = "contact-common" / "contact, common": "the common of a dry contact",
        ContactSwitched = "contact-switched" / "contact, switched": "the switched side of a dry contact",
        Reserved = "reserved" / "reserved": "kept for later, under a name",
    }
);

words!(
    /// A terminal of an input.
    Side {
        Signal = "signal": "the one that is sensed",
        Return = "return": "the one that the loop comes back to",
    }
);

words!(
    /// The box in the wall or ceiling that a part is mounted on.
    MountingBox {
        OneGang = "one-gang" / "box, one gang": "a box one device wide",
        TwoGang = "two-gang" / "box, two gang": "a box two devices wide",
        ThreeGang = "three-gang" / "box, three gang": "a box three devices wide",
        Round = "round" / "box, round": "a round box in the ceiling or wall",
        Ring = "ring" / "ring": "an open ring or bracket in the wall, for low voltage alone",
        Surface = "surface" / "box on the surface": "a box on the wall, not in it",
        NoBox = "none" / "no box": "no box: it is screwed to the wall, set into a hole, or glued",
    }
);
