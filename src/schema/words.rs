//! The closed lists of words, each as an enum with the words it is written with.
//!
//! Zone types take their words from the event names of ANSI/SIA DC-05 and from general trade use.

use super::spec::Word;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal : $meaning:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $(#[doc = $meaning] $variant,)*
        }

        impl $name {
            /// The words with their meanings, in order.
            pub const WORDS: &'static [Word] = &[$(Word { word: $word, doc: $meaning },)*];
            /// All values, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The value of a word.
            pub fn from_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$variant),)*
                    _ => None,
                }
            }

            /// The word as written in the spec.
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                }
            }
        }
    };
}

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
    }
);

words!(
    /// How a loop is supervised.
    LoopWiring {
        NormallyClosed = "normally-closed": "closed contacts in series, no resistor: a shorted cable is not seen",
        NormallyOpen = "normally-open": "open contacts across the loop, no resistor: a cut cable is not seen",
        EndOfLine = "end-of-line": "one resistor at the far end; closed contacts in series with it or open contacts across it",
        DoubleEndOfLine = "double-end-of-line": "one resistor in series at the far end and one across each alarm contact",
    }
);

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

words!(
    /// What a room is used for, as far as wiring cares.
    RoomKind {
        Living = "living": "a room to live in",
        Bedroom = "bedroom": "a room to sleep in",
        Kitchen = "kitchen": "cooking",
        Bathroom = "bathroom": "a bath or shower",
        Hall = "hall": "a hall or corridor",
        Stair = "stair": "a stair",
        Attic = "attic": "under the roof: hot and cold",
        Cellar = "cellar": "below ground",
        Crawlspace = "crawlspace": "too low to stand in",
        Garage = "garage": "vehicles and fuel",
        Utility = "utility": "boiler, laundry, plant",
        Workshop = "workshop": "tools and dust",
        Outdoors = "outdoors": "open air",
    }
);

words!(
    /// What a run passes on its way.
    Passage {
        Attic = "attic": "a space under the roof",
        Plenum = "plenum": "a space that moves air for the house",
        Riser = "riser": "a shaft from floor to floor",
        Outdoors = "outdoors": "open air",
        Underground = "underground": "buried",
        Mains = "mains": "beside mains cable for more than a crossing",
        Stud = "stud": "bored or notched studs",
        Joist = "joist": "bored or notched joists",
        FireWall = "fire-wall": "a wall or floor that holds back fire",
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
        Spare = "spare": "left free",
    }
);

words!(
    /// What the figures of a part rest on.
    Basis {
        Generic = "generic": "invented figures, to be confirmed against the sheet",
        Sheet = "sheet": "the maker's data sheet",
        Measured = "measured": "measured on the bench",
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

words!(
    /// Unit of length that is printed.
    LengthWord {
        Feet = "ft": "feet",
        Metres = "m": "metres",
    }
);

words!(
    /// What the house is built of.
    Framing {
        TimberStud = "timber-stud": "timber studs and joists",
        Masonry = "masonry": "solid or cavity walls",
        Mixed = "mixed": "some of each",
    }
);

words!(
    /// The set of published limits.
    Profile {
        UsHousehold = "us-household": "United States, household",
        EuGrade1 = "eu-grade-1": "Europe, grade 1",
        EuGrade2 = "eu-grade-2": "Europe, grade 2",
        EuGrade3 = "eu-grade-3": "Europe, grade 3",
        Practice = "practice": "common practice only",
    }
);

words!(
    /// A side of a room on the plan.
    Wall {
        North = "north": "the plan's upper side",
        East = "east": "the plan's right side",
        South = "south": "the plan's lower side",
        West = "west": "the plan's left side",
    }
);

words!(
    /// How the monitoring service is reached.
    Path {
        Telephone = "telephone": "a telephone line",
        Internet = "internet": "the house's internet connection",
        Radio = "radio": "a radio of its own",
    }
);

words!(
    /// What kind of telephone service comes in.
    Service {
        Copper = "copper": "a copper pair from the exchange",
        Voip = "voip": "telephone over the internet connection",
        Mobile = "mobile": "a mobile network",
        Broadband = "broadband": "a broadband connection",
    }
);

words!(
    /// How the board is put in the telephone line.
    JackKind {
        LineSeizure = "line-seizure": "ahead of all house phones, so that the board can take the line",
        Bridged = "bridged": "in parallel with the house phones",
    }
);

words!(
    /// What the communicator speaks.
    Format {
        ContactId = "contact-id": "ANSI/SIA DC-05",
        SiaDc03 = "sia-dc-03": "ANSI/SIA DC-03",
        SiaDc09 = "sia-dc-09": "ANSI/SIA DC-09",
        Voice = "voice": "a spoken message",
    }
);

words!(
    /// Groups of events that a monitoring service handles alike.
    EventGroup {
        Intrusion = "intrusion": "burglary and tamper",
        Fire = "fire": "fire, smoke and heat",
        Gas = "gas": "carbon monoxide and fuel gas",
        Panic = "panic": "panic buttons",
        Medical = "medical": "medical help",
        Technical = "technical": "water and frost",
    }
);

words!(
    /// Where a run starts.
    Start {
        Here = "here": "where the previous run of the chain ended",
        Board = "board": "at the board again: joined to the previous run there",
    }
);
