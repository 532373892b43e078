//! The safety notes as rows: what calls for each, what to do, on which figures and on what it rests.
//!
//! A note is read before going up the ladder, so its cautions are few and short. Where no document is named the
//! basis is common practice, and says so. The order is that of the work: what can kill first.

use crate::profiles::cited::{self, PRACTICE};
use crate::profiles::limits::{self, Limit};
use crate::profiles::source::Source;
use crate::profiles::{detectors, framing};

use super::facts;
use super::scope::Facts;
use crate::views::procedure;

/// A safety note.
#[derive(Clone, Copy, Debug)]
pub struct Note {
    /// Stable name, words joined by `-`.
    pub slug: &'static str,
    /// What it is about, which decides who reads it.
    pub concerns: Concerns,
    /// When a work order tells it as well, by its first caution.
    pub(crate) work_order: Told,
    /// Its heading.
    pub(crate) title: &'static str,
    /// The facts that call for it, as words; none: it is not printed.
    pub(crate) trigger: fn(Facts<'_>) -> Vec<String>,
    /// What to do, one sentence or two a line.
    pub(crate) cautions: &'static [&'static str],
    /// Figures.
    pub figures: &'static [Limit],
    /// What the cautions rest on, beside the figures: what part of them, empty for all, and its source.
    pub basis: &'static [(&'static str, Source)],
}

/// What a note is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Concerns {
    /// Work in the house: whoever drills, pulls and lands reads it.
    Work,
    /// What the alarm can and cannot do; it names weak places, so it is not for everybody who works in the house.
    Alarm,
}

/// When a work order tells a note.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Told {
    /// It stands on the sheet alone.
    Never,
    /// Where something that it is about is put in: what is taken out needs no hole.
    Fitting,
    /// Where something that it is about is put in or taken out.
    Working,
}

/// Every note, in the order of printing.
pub static NOTES: &[Note] = &[
    Note {
        slug: "licence",
        concerns: Concerns::Work,
        work_order: Told::Never,
        title: "Permission to do this work",
        trigger: facts::alarm,
        cautions: &[
            "In many places alarm work takes a licence, a certificate or a permit, also in one's own house, and fire detection another one. Ask the authority having jurisdiction before the first hole.",
        ],
        figures: &[],
        basis: &[("local law prevails; else", PRACTICE)],
    },
    Note {
        slug: "mains-transformer",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Mains transformer",
        trigger: facts::transformers,
        cautions: &[
            "The primary side is mains. Opening it, or wiring an outlet for it, is work for a licensed electrician.",
            procedure::BOARD_OFF,
            "Where a screw of the outlet holds the plug or transformer: before that screw is turned, switch the outlet's breaker off and prove the outlet dead.",
            "Use an outlet that no wall switch turns off, and secure the transformer to it. Some local codes ask for a surge protector between the two.",
            "Never join two transformers, and never run the secondary wires in one box or cable with mains.",
        ],
        figures: &[],
        basis: &[("", PRACTICE), ("separation from power conductors", cited::POWER_CONDUCTORS)],
    },
    Note {
        slug: "load-relays",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Relays for what is on the mains",
        trigger: facts::load_relays,
        cautions: &[
            "Only the coil is the alarm's. Such a relay stands in a box of its own, with a barrier between its two sides; its contact may carry mains.",
            "Wiring that contact, and opening that box, is work for a licensed electrician.",
        ],
        figures: &[],
        basis: &[("separation from power conductors", cited::POWER_CONDUCTORS), ("the rest", PRACTICE)],
    },
    Note {
        slug: "standby-battery",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Standby battery",
        trigger: facts::batteries,
        cautions: &[
            "A short circuit burns: take off rings and watch, use insulated tools, and put the caps on the leads while you work.",
            "These lines are for a sealed lead-acid battery. For another chemistry its own label prevails.",
            "Connect + to + and − to −, by the marks on battery and board and not by the colour of a lead alone: a reversed battery can destroy the board.",
            procedure::BOARD_ON,
            "Leave air around it; charging gives off hydrogen. Never seal it in, never charge a swollen or leaking one.",
            "The acid of a cracked case burns: wear gloves and eye protection, rinse skin and eyes with much water for a long time, then see a doctor.",
            "Write the date of fitting on it. Return the old one for recycling: it is hazardous waste, not rubbish.",
        ],
        figures: &[],
        basis: &[("the label on the battery prevails; else", PRACTICE)],
    },
    Note {
        slug: "hidden-services",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Drilling and hidden services",
        trigger: facts::indoor_cables,
        cautions: &[
            "Before each hole find what is behind it: use a detector for live cable, pipes and metal, and look from the other side.",
            "Expect cables straight up, down and across from every switch, outlet, light and tap.",
            "Switch off the circuits of that wall, prove them dead, and drill no deeper than you must. Wear eye protection.",
            "Old wire that nobody marked, bell wire too: find both its ends and measure it for voltage before you touch it.",
            "Stop when the bit meets metal or turns up anything but dust of wood, plaster, brick or stone.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "masonry",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Dust of masonry",
        trigger: facts::masonry,
        cautions: &[
            "Dust of brick, stone, mortar and concrete holds silica, which scars the lungs for good: drill with suction at the bit or wet, and wear a fitted respirator, not a paper mask.",
            "Shut the door of the room, and take the dust up with a fine filter or wet. Never sweep it dry.",
        ],
        figures: &[],
        basis: &[("silica", cited::SILICA), ("the rest", PRACTICE)],
    },
    Note {
        slug: "old-house",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Lead paint and asbestos",
        trigger: facts::old_house,
        cautions: &[
            "Do not drill, sand or break plaster, ceiling texture, pipe lagging, floor tile, boarding or paint of that age before it is tested.",
            "Do not sweep or vacuum suspect dust with a household cleaner. Leave suspected asbestos alone and call a licensed firm.",
            "Old wiring in the same walls may have brittle insulation: do not pull or bend it.",
        ],
        figures: limits::OLD_HOUSE,
        basis: &[("local law on lead and asbestos prevails; else", PRACTICE)],
    },
    Note {
        slug: "ladders",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Work on ladders",
        trigger: facts::high_mounts,
        cautions: &[
            "Stand the ladder on firm ground, tie or hold it, and keep three points of contact. A second person stays at its foot.",
            "One unit out for every four up; stand no higher than its label allows. Do not reach past the side rails.",
            "Keep away from overhead power lines, with the ladder and with the cable.",
            "Hoist tools and sounders on a line; do not climb with full hands.",
        ],
        figures: &[limits::LADDER_FROM],
        basis: &[("the label on the ladder prevails; else", PRACTICE)],
    },
    Note {
        slug: "attics",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Attics and crawlspaces",
        trigger: facts::attics,
        cautions: &[
            "Step on joists or boards only: the ceiling between them does not carry a person. Look out for nails overhead.",
            "Heat builds up under a roof: go up early in the day, take water, come down when you feel unwell. Somebody knows that you are there.",
            "Wear a dust mask, gloves and eye protection; old loose insulation may hold asbestos: do not stir it.",
            "Touch no wiring found there. Keep cable off hot flues and recessed lights.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "studs",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Boring and notching studs",
        trigger: facts::studs,
        cautions: &[
            "Bore through the middle of the width; do not notch where a hole will do.",
            "A wall that carries a floor or roof is weakened by what you take out of it. In doubt treat it as bearing.",
        ],
        figures: framing::STUDS,
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "joists",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Boring and notching joists",
        trigger: facts::joists,
        cautions: &[
            "Bore at the middle of the depth; never notch the middle third of the span, and never the lower edge there.",
            "I-joists, laminated beams and trusses: cut or bore nothing except as their maker or an engineer says.",
        ],
        figures: framing::JOISTS,
        basis: &[("engineered wood", cited::ENGINEERED_WOOD), ("the rest", PRACTICE)],
    },
    Note {
        slug: "pits-and-water",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Work alone, in narrow places and near water",
        trigger: facts::lonely_places,
        cautions: &[
            "Do not go in alone: somebody stays outside who sees or hears you and can call for help. Take a lamp that is not fed from the mains.",
            "In a pit, shaft or crawlspace the air can be bad: leave it open for a while first, and come out when you feel dizzy. Run no engine there.",
            "Use no mains tool in the wet, also none with a cord that lies in water.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "electronics",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Boards and static electricity",
        trigger: facts::landed,
        cautions: &[
            "A spark that you do not feel can damage a board: touch the earthed enclosure first, hold a board by its edges, and leave it in its bag until it is mounted.",
            "Drill and file before the board is in the box: chips of metal short it.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "separation",
        concerns: Concerns::Work,
        work_order: Told::Fitting,
        title: "Alarm cable and mains cable",
        trigger: facts::indoor_cables,
        cautions: &[
            "Never in one box, raceway or cable with mains; cross mains at a right angle.",
            "Never use mains cable for alarm wiring, or alarm cable for mains: the next person trusts the jacket.",
            "Label both ends, so that nobody takes an alarm cable for another one.",
        ],
        figures: &[limits::SEPARATION_REQUIRED, limits::SEPARATION_ALONGSIDE, limits::LABEL],
        basis: &[("boxes, raceways and cables", cited::POWER_CONDUCTORS), ("crossing", PRACTICE)],
    },
    Note {
        slug: "beside-mains",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Cables noted to run beside mains",
        trigger: facts::beside_mains,
        cautions: &[
            "Look for another way first. Where there is none, keep the distance for the whole length and fix both cables so that they stay apart.",
            "Find out which circuits run there and switch them off before you pull.",
            "Mains alongside can also disturb long loops and buses: measure them with the house's loads switched on.",
        ],
        figures: &[limits::SEPARATION_REQUIRED, limits::SEPARATION_ALONGSIDE],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "plenums-and-risers",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Jackets in plenums and risers",
        trigger: facts::plenums_and_risers,
        cautions: &[
            "A space that moves air for the house takes cable of a plenum type (CL2P, CL3P, CMP, FPLP), unless it is in raceway.",
            "A shaft from floor to floor takes a riser or plenum type. One- and two-family dwellings are often exempt: ask.",
            "Read the type on the jacket of the cable in your hand before you pull it.",
        ],
        figures: &[],
        basis: &[("", cited::PLENUMS_AND_RISERS)],
    },
    Note {
        slug: "fire-walls",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Walls and floors that hold back fire",
        trigger: facts::fire_walls,
        cautions: &[
            "Make one small hole, and close it the same day around the cable with a listed firestop system for that wall or floor.",
            "Foam from the hardware shop is not a firestop. The wall between house and attached garage counts too.",
            "Photograph the closed hole for the record.",
        ],
        figures: &[],
        basis: &[("closing the hole", cited::SPREAD_OF_FIRE), ("the rest", PRACTICE)],
    },
    Note {
        slug: "underground",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Buried cable",
        trigger: facts::underground,
        cautions: &[
            "Before you dig have the buried services located and marked; in the United States the call is 811 and is free.",
            "Use cable made for wet ground, in conduit where it can be cut; indoor cable fails there.",
            "Depth, conduit and entry into the house follow local code.",
        ],
        figures: &[],
        basis: &[("the number 811", cited::CALL_BEFORE_DIGGING), ("the rest", PRACTICE)],
    },
    Note {
        slug: "outdoors",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Outdoor cable and lightning",
        trigger: facts::outdoors,
        cautions: &[
            "Do no work on outside, buried or overhead lines while a thunderstorm is near.",
            "Use cable and housings for sunlight and water, with a drip loop or an entry that slopes up into the house and a bushing.",
            "A line that enters the house from outside needs a protector, earthed to the house's own earth: licensed work.",
        ],
        figures: limits::LIGHTNING,
        basis: &[("outside entry", cited::OUTSIDE_ENTRY), ("the rest", PRACTICE)],
    },
    Note {
        slug: "telephone-line",
        concerns: Concerns::Work,
        work_order: Told::Never,
        title: "Telephone line",
        trigger: facts::telephone_lines,
        cautions: &[
            "Ringing can give a shock: open the line at the network interface before you touch its conductors.",
            "Do no work on the line while a thunderstorm is near.",
            "Everything before the network interface belongs to the telephone company.",
        ],
        figures: limits::RINGING,
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "line-seizure",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "The alarm's hold on the telephone line",
        trigger: facts::jacks,
        cautions: &[
            "Behind a line-seizure jack the board sees the line before every house phone does, so that it can take the line in an alarm; bridged with them it cannot, and one phone off the hook blocks the report. Test it with a phone off the hook.",
        ],
        figures: &[],
        basis: &[("line-seizure jack", cited::LINE_SEIZURE), ("the rest", PRACTICE)],
    },
    Note {
        slug: "telephone-over-internet",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Telephone that is not a copper pair",
        trigger: facts::telephone_over_internet,
        cautions: &[
            "Such a line may garble or drop reports and dies with its adapter, router and mains. Have the service confirm test reports, also with the mains off.",
            "Never feed the adapter's line into house wiring that is still joined to the street.",
            "An emergency call may not work in a power cut: tell everybody in the house.",
        ],
        figures: &[],
        basis: &[("networks that count as copper lines", cited::MANAGED_NETWORKS), ("the rest", PRACTICE)],
    },
    Note {
        slug: "fire-detection",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Fire detection",
        trigger: facts::fire_zones,
        cautions: &[
            "This saves lives. Detectors wired to a board may stand in for single smoke alarms where the code in force allows it: ask the authority having jurisdiction before an alarm is taken down. In many places only a licensed person may install them.",
            "Detectors get a supply that battery backs and that the board can take away to reset them; never one that is switched otherwise.",
            "Use cable of a fire type (FPL, FPLR, FPLP) where the code asks for it: a CL2 type does not replace it, nor the other way round.",
            "Test each as its sheet says, smoke detectors with listed test smoke.{tell service}",
        ],
        figures: detectors::FIRE,
        basis: &[
            ("detectors in place of alarms", cited::DETECTORS_FOR_ALARMS),
            ("cable types", cited::FIRE_CABLE),
            ("the rest", PRACTICE),
        ],
    },
    Note {
        slug: "locks",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Locks on ways out",
        trigger: facts::locks,
        cautions: &[
            "A door on a way out opens from inside by hand, in one movement, without key, code or current, whatever the relay does. Local code says which doors, and may ask for more or forbid the lock.",
            "A lock that needs current to hold lets go when its supply fails; one that needs current to open stays shut. Try it with the mains and the battery off.",
            "Where local code asks that a fire alarm frees the door, the lock's own supply is broken by it: on a break contact that a fire alarm drives. Try that with a fire detector.",
        ],
        figures: &[],
        basis: &[("local code on ways out prevails; else", PRACTICE)],
    },
    Note {
        slug: "moving-doors",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Doors and gates that move by themselves",
        trigger: facts::operators,
        cautions: &[
            "A door or gate can crush. Whoever gives the command sees it, or the operator has sensors of its own for what stands in its way. Its instructions prevail.",
            "The contact is one more push button. Never bridge the operator's own safety inputs with it.",
            "Unplug the operator before its cover comes off: there is mains behind it.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "fire-detector-supply",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Fire and gas detectors with a supply of their own",
        trigger: facts::powered_fire_detectors,
        cautions: &[
            "A four-wire detector without supply is blind, and its loop looks normal unless a relay opens it. After the last detector fit a supervision relay: coil across the supply, its contact in series with the loop's end, so that a lost supply shows as trouble.",
            procedure::IN_AND_OUT,
            procedure::RELAY,
            "A detector whose supply nothing watches shows no trouble in that test: look at its lamp often, and test it as its sheet says.",
        ],
        figures: &[],
        basis: &[("", cited::SUPPLY_RELAY)],
    },
    Note {
        slug: "carbon-monoxide",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Carbon monoxide detection",
        trigger: facts::carbon_monoxide_zones,
        cautions: &[
            "Outside each sleeping area; also in a bedroom with a fuel appliance. One on every level that is lived in is common practice, and some codes ask for it. An attached garage counts as a source.",
            "An alarm means: everybody out, then call the fire service from outside. Symptoms are headache, dizziness and nausea.",
            "Replace the detector at the end of life that its sheet names (commonly 5 to 10 years).",
        ],
        figures: &[],
        basis: &[("places, but for the levels", cited::CARBON_MONOXIDE), ("the rest", PRACTICE)],
    },
    Note {
        slug: "fuel-gas",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Fuel gas detection",
        trigger: facts::gas_zones,
        cautions: &[
            "An alarm means: everybody out, touch no switch, light no flame, leave the doors open behind you; call the fire service and the gas supplier from outside.",
            "Natural gas rises and bottled gas sinks: which gas a detector is for, and whether it hangs under the ceiling or close to the floor, its sheet says.",
            "It does not see carbon monoxide, and a carbon monoxide detector does not see fuel gas.",
            "Test it as its sheet says, never with a lighter. Vapours of paint, solvents and silicone make it deaf; replace it at the end of life that its sheet names.",
        ],
        figures: &[],
        basis: &[("the detector's sheet prevails; else", PRACTICE)],
    },
    Note {
        slug: "wireless",
        concerns: Concerns::Alarm,
        work_order: Told::Never,
        title: "Limits of wireless detectors",
        trigger: facts::wireless,
        cautions: &[
            "A wireless detector can be jammed, out of reach or flat, and the board learns of a loss only after hours.",
            "Do not rest life safety on it unless detector and receiver are listed together for that use.",
            "Metal doors, foil insulation and remodelling change the reach: test from its place, with the door shut.",
            "Change its battery on a fixed day, not when it fails.",
        ],
        figures: &[],
        basis: &[("", PRACTICE)],
    },
    Note {
        slug: "sounders",
        concerns: Concerns::Work,
        work_order: Told::Working,
        title: "Sounders and hearing",
        trigger: facts::sounders,
        cautions: &[
            "A sounder hurts whoever is beside it: wear ear protection, and disconnect it while you wire near it.",
            "Fire sounds in threes of long tones, carbon monoxide in fours of short ones: teach everybody.",
            "Warn the household and the neighbours before a test, and keep it short.{tell service}",
            "On a ladder an unexpected sounder throws you off: have it switched off while you are up there. Many places limit how long it may sound outdoors.",
        ],
        figures: &[],
        basis: &[("the tones", cited::SIGNALS), ("the rest", PRACTICE)],
    },
];
