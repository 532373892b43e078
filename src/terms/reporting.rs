//! Words about the way to the monitoring service.

use super::Word;

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
    /// By which table of TIA-568 the pins of a network cable are wired, at both ends.
    PinOrder {
        T568a = "T568A": "pins 1 and 2 on the green pair, 3 and 6 on the orange one",
        T568b = "T568B": "pins 1 and 2 on the orange pair, 3 and 6 on the green one",
    }
);

words!(
    /// What the communicator speaks.
    Format {
        SiaDc05 = "sia-dc-05": "ANSI/SIA DC-05",
        SiaDc03 = "sia-dc-03": "ANSI/SIA DC-03",
        SiaDc09 = "sia-dc-09": "ANSI/SIA DC-09",
        Voice = "voice": "a spoken message",
    }
);

words!(
    /// Keys of a keypad that call for help at any time, without a code.
    EmergencyKey {
        Fire = "fire" / "fire": "calls for the fire service",
        Medical = "medical" / "medical": "calls for medical help",
        PanicAudible = "panic-audible" / "panic, with sounders": "calls for the police, with sounders",
        PanicSilent = "panic-silent" / "panic, silent": "calls for the police, without sounders",
    }
);

words!(
    /// Groups of events that a monitoring service handles alike.
    EventGroup {
        Intrusion = "intrusion": "burglary and tamper",
        Fire = "fire": "fire, smoke and heat",
        Gas = "gas": "carbon monoxide and fuel gas",
        Panic = "panic": "panic buttons",
        PanicSilent = "panic-silent": "silent panic and codes under duress",
        Medical = "medical": "medical help",
        Technical = "technical": "water and frost",
        Arming = "arming": "arming, disarming and bypassing",
        Trouble = "trouble": "faults, lost supplies and supervisory signals",
        Test = "test": "test reports and marks of the log",
    }
);
