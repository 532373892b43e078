//! Words about zones: their type, how their loop is wired, what senses in it and what a reading says.
//!
//! Zone types take their words from the event names of ANSI/SIA DC-05 and from general trade use.

use super::Word;

words!(
    /// What happens when a zone is tripped.
    ZoneType {
        EntryExit = "entry-exit": "a door that starts the entry delay",
        Perimeter = "perimeter": "an outside opening, alarm at once while armed",
        Interior = "interior": "inside detection, alarm while armed away",
        DayNight = "day-night": "trouble while disarmed, alarm while armed",
        TwentyFourHour = "twenty-four-hour": "alarm at any time",
        Fire = "fire": "fire alarm at any time",
        Smoke = "smoke": "smoke detection at any time",
        Heat = "heat": "heat detection at any time",
        CarbonMonoxide = "carbon-monoxide": "carbon monoxide detection at any time",
        PanicAudible = "panic-audible": "a panic button with sounders",
        PanicSilent = "panic-silent": "a panic button without sounders",
        Medical = "medical": "a call for medical help",
        Water = "water": "water where none belongs",
        LowTemperature = "low-temperature": "danger of frost",
        Gas = "gas": "fuel gas in the air",
        Tamper = "tamper": "a cover or cable interfered with",
        Trouble = "trouble": "a fault that equipment tells of itself, no alarm",
        Keyswitch = "keyswitch": "a key or button that arms and disarms",
    }
);

impl ZoneType {
    /// True where it sleeps while its area is not armed.
    pub(crate) fn sleeps_unarmed(self) -> bool {
        match self {
            Self::EntryExit | Self::Perimeter | Self::Interior | Self::DayNight => true,
            Self::TwentyFourHour
            | Self::Fire
            | Self::Smoke
            | Self::Heat
            | Self::CarbonMonoxide
            | Self::PanicAudible
            | Self::PanicSilent
            | Self::Medical
            | Self::Water
            | Self::LowTemperature
            | Self::Gas
            | Self::Tamper
            | Self::Trouble
            | Self::Keyswitch => false,
        }
    }

    /// True where it is an alarm of fire or carbon monoxide, by which sleepers must wake.
    pub(crate) fn is_fire(self) -> bool {
        matches!(self, Self::Fire | Self::Smoke | Self::Heat | Self::CarbonMonoxide)
    }

    /// True where it alarms at once while armed, and may wait for a delay that another zone has started.
    pub(crate) fn may_wait(self) -> bool {
        self.sleeps_unarmed() && self != Self::EntryExit
    }
}

words!(
    /// What turning a key does.
    KeyAction {
        Momentary = "momentary": "each turn changes between armed and disarmed",
        Maintained = "maintained": "armed for as long as it stays turned",
    }
);

words!(
    /// How a loop is supervised.
    LoopWiring {
        NormallyClosed = "normally-closed": "closed contacts in series, no resistor: a shorted cable is not seen",
        NormallyOpen = "normally-open": "open contacts across the loop, no resistor: a cut cable is not seen",
        EndOfLine = "end-of-line": "one resistor at the far end; closed contacts in series with it or open contacts across it",
        DoubleEndOfLine = "double-end-of-line": "one resistor in series at the far end and one across each alarm contact",
        TwoWire = "two-wire": "two-wire detectors across the pair, which feeds them, and one resistor at the far end",
    }
);

impl LoopWiring {
    /// True where it has a resistor.
    pub(crate) fn is_supervised(self) -> bool {
        match self {
            Self::EndOfLine | Self::DoubleEndOfLine | Self::TwoWire => true,
            Self::NormallyOpen | Self::NormallyClosed => false,
        }
    }
}

words!(
    /// Form of a contact, with the detector at rest.
    ContactForm {
        NormallyClosed = "NC": "closed at rest",
        NormallyOpen = "NO": "open at rest",
    }
);

words!(
    /// What a part senses.
    Senses {
        Opening = "opening": "a door or window that opens",
        Motion = "motion": "a moving person",
        Glass = "glass": "breaking glass",
        Vibration = "vibration": "blows on a door, window or wall",
        Step = "step": "a foot on a mat",
        Smoke = "smoke": "smoke",
        Heat = "heat": "heat",
        CarbonMonoxide = "carbon-monoxide": "carbon monoxide",
        Gas = "gas": "fuel gas",
        Water = "water": "water",
        Temperature = "temperature": "a temperature out of bounds",
        Button = "button": "a hand on a button",
        Tamper = "tamper": "a cover that is opened",
        Supply = "supply": "the supply of the detectors before it: its contact opens the loop when that fails",
    }
);

impl Senses {
    /// True for what kills people in their sleep: fire and gases.
    pub(crate) fn is_deadly(self) -> bool {
        matches!(self, Self::Smoke | Self::Heat | Self::CarbonMonoxide | Self::Gas)
    }
}

words!(
    /// What the board makes of a band of readings.
    BandName {
        Short = "short": "a shorted loop",
        Normal = "normal": "a loop at rest",
        Alarm = "alarm": "a contact in alarm",
        Tamper = "tamper": "a cover opened",
        Open = "open": "an open loop",
    }
);

words!(
    /// The state of a loop when it was measured.
    Seen {
        Rest = "rest": "everything closed and quiet",
        Alarm = "alarm": "a door, window or hatch open, or a detector in alarm",
        Cover = "cover": "a detector's cover off",
    }
);
