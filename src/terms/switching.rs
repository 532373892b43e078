//! Words about outputs that switch: the kind of a supply, the side and contact that is switched, and what drives it.

use super::Word;

words!(
    /// What an output gives while it is on, and what a sounder or load needs.
    SupplyForm {
        Steady = "steady": "d.c. without a break: whatever sounds or flashes makes its own pattern",
        Pulsed = "pulsed": "d.c. that the board breaks to make the pattern",
        Tone = "tone": "an alternating tone, for a loudspeaker without electronics of its own",
    }
);

words!(
    /// The side of a load that a transistor switches.
    SwitchedSide {
        Plus = "plus" / "plus": "the load's positive; its negative stays on the supply",
        Minus = "minus" / "minus": "the load's negative; its positive stays on the supply",
    }
);

words!(
    /// A contact of a relay.
    SwitchContact {
        Make = "make" / "make contact": "open at rest, closed while the relay is driven",
        Break = "break" / "break contact": "closed at rest, open while the relay is driven",
    }
);

words!(
    /// What a load is.
    Works {
        Lamp = "lamp": "a lamp on the alarm's low voltage",
        Indicator = "indicator": "a small lamp that shows a state",
        Strobe = "strobe": "a lamp that flashes",
        Lock = "lock": "a lock or magnet that holds a door",
        Operator = "operator": "the input of a door or gate operator",
        Relay = "relay": "the coil of a relay of its own, whose contact may carry mains",
        Other = "other": "anything else",
    }
);

words!(
    /// What a lock does without current.
    Fails {
        Safe = "safe" / "fail-safe": "it opens, as a magnet does",
        Secure = "secure" / "fail-secure": "it stays shut, as most door strikes do",
    }
);

words!(
    /// Kind of current.
    CurrentKind {
        Direct = "dc" / "d.c.": "direct current",
        Alternating = "ac" / "a.c.": "alternating current",
    }
);

words!(
    /// What drives a relay or transistor.
    DrivenBy {
        Alarm = "alarm" / "an alarm": "an alarm, of one type of zone where type= says so",
        Delay = "delay" / "an entry or exit delay": "an entry or exit delay that runs",
        Armed = "armed" / "arming": "an area that is armed",
        Disarmed = "disarmed" / "disarming": "an area that is disarmed",
        Trouble = "trouble" / "a trouble": "a trouble of any kind",
        MainsLost = "mains-lost" / "loss of the mains": "the mains are lost",
        Key = "key" / "a key of a keypad": "a key of a keypad",
        Clock = "clock" / "the clock": "hours set at the panel",
    }
);

impl DrivenBy {
    /// True where it may last: the load then counts at rest as well, and on the battery.
    pub(crate) fn lasts(self) -> bool {
        match self {
            Self::Armed | Self::Disarmed | Self::Trouble | Self::MainsLost | Self::Clock => true,
            Self::Alarm | Self::Delay | Self::Key => false,
        }
    }

    /// True where it passes within a minute or so, as a reset does. An entry or exit delay may last for some minutes.
    pub(crate) fn passes_soon(self) -> bool {
        self == Self::Key
    }
}
