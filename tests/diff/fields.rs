//! Every field of the model is a fact: whatever is altered in a site, the JSON says it, the comparison sees it, and can
//! redo it.

use jiff::civil::date;
use loopwright::base::{Id, Span, Spanned};
use loopwright::diag::Sink;
use loopwright::diff::{Apart, facts, of_facts};
use loopwright::model::{
    AcPort, Accept, BandEdges, Battery, BatteryPort, BoardKind, Charger, ContactData, Coverage, Earth, FaultContact,
    Hop, HopRef, Hung, LinePort, Logo, Mounted, OtherBattery, OtherTerminal, OwnSupply, Point, Price, Rating, Revision,
    Site, SwitchKind, Switching, Take, Transformer,
};
use loopwright::quantity::colour::Hue;
use loopwright::quantity::{
    AmpereHours, Amperes, BitsPerSecond, Celsius, Colour, Decibels, LengthUnit, Metres, Ohms, OhmsPerMetre, Ratio,
    Resistance, Seconds, VoltAmperes, Volts, Watts, WireSize,
};
use loopwright::record::{Names, Record};
use loopwright::register::{self, Register, Wiring};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;
use loopwright::terms::{
    BandName, Bank, Basis, Bearing, BoardPart, ContactForm, CurrentKind, DrivenBy, EmergencyKey, EventGroup, Fails,
    Format, Framing, JackKind, Joining, KeyAction, LabelGrid, LoopWiring, Metal, MountingBox, PaperSize, Passage, Path,
    PinOrder, Profile, Radio, RoomKind, Senses, Service, Shield, ShieldEnds, SupplyForm, SwitchContact, SwitchedSide,
    Use, Wall, When, Works, ZoneType,
};

use super::apply::apply;
use super::read_text;
use crate::packet::sites::FULL;

fn spanned<T>(value: T) -> Spanned<T> {
    Spanned::new(value, Span::default())
}

/// An entry of an arena by what it is called.
macro_rules! at {
    ($site:ident . $arena:ident, $name:literal) => {{
        let id = $site.$arena.entries().find(|(_, item)| item.name.value == $name).unwrap().0;
        &mut $site.$arena[id]
    }};
}

fn zone(site: &mut Site, number: u32) -> &mut loopwright::model::Zone {
    let id = site.zones.entries().find(|(_, zone)| zone.number.value == number).unwrap().0;
    &mut site.zones[id]
}

fn device<'s>(site: &'s mut Site, title: &str) -> &'s mut loopwright::model::Device {
    let id = site.devices.entries().find(|(_, device)| device.title == title).unwrap().0;
    &mut site.devices[id]
}

fn run(site: &mut Site, feet: f64) -> &mut loopwright::model::Run {
    let long = |run: &loopwright::model::Run| {
        run.length.as_ref().is_some_and(|length| (length.value.0 - feet * 0.3048).abs() < 1e-9)
    };
    let id = site.runs.entries().find(|(_, run)| long(run)).unwrap().0;
    &mut site.runs[id]
}

fn id<T>(arena: &loopwright::base::Arena<T>, nth: usize) -> Id<T> {
    arena.entries().nth(nth).unwrap().0
}

fn feed(site: &mut Site) -> &mut loopwright::model::LoopFeed {
    at!(site.parts, "feeds-a").settings[0].sensing.feed.as_mut().unwrap()
}

type Alter = (&'static str, fn(&mut Site));

const ALTERATIONS: &[Alter] = &[
    ("site name", |s| s.name.value = "other".into()),
    ("site title", |s| s.title = "Other".into()),
    ("label prefix", |s| s.label_prefix = Some("W".into())),
    ("lengths", |s| s.lengths = LengthUnit::Metres),
    ("revision mark", |s| s.revision.as_mut().unwrap().mark = "Z".into()),
    ("revision date", |s| s.revision.as_mut().unwrap().date = None),
    ("revision note", |s| s.revision.as_mut().unwrap().note = None),
    ("no revision", |s| s.revision = None::<Revision>),
    ("edition", |s| s.edition = Some(1999)),
    ("profile", |s| s.profile = if s.profile.is_some() { None } else { Profile::ALL.first().copied() }),
    ("built", |s| s.building.built = Some(1951)),
    ("framing", |s| s.building.framing = Some(Framing::Mixed)),
    ("level title", |s| at!(s.levels, "upper").title = "Attic".into()),
    ("storey", |s| at!(s.levels, "upper").storey = 2),
    ("ceiling", |s| at!(s.levels, "upper").ceiling = Some(Metres(2.4))),
    ("room title", |s| at!(s.rooms, "hall").title = "Lobby".into()),
    ("room kind", |s| at!(s.rooms, "hall").kind = Some(RoomKind::Bedroom)),
    ("room level", |s| {
        let level = id(&s.levels, 1);
        at!(s.rooms, "hall").level = level;
    }),
    ("room rect", |s| at!(s.rooms, "hall").rect = Some([Metres(1.0), Metres(2.0), Metres(3.0), Metres(4.0)])),
    ("opening title", |s| at!(s.openings, "front").title = "Gate".into()),
    ("opening kind", |s| at!(s.openings, "front").kind = loopwright::model::OpeningKind::Hatch),
    ("opening room", |s| {
        let room = id(&s.rooms, 3);
        at!(s.openings, "front").room = room;
    }),
    ("opening inside", |s| at!(s.openings, "front").inside = true),
    ("reachable", |s| at!(s.openings, "front").reachable = Some(false)),
    ("wall", |s| at!(s.openings, "front").wall = Some(Wall::ALL[0])),
    ("at", |s| at!(s.openings, "front").at = Some(Metres(0.5))),
    ("board title", |s| at!(s.boards, "keys").title = "Keys".into()),
    ("board part", |s| {
        let part = id(&s.parts, 0);
        at!(s.boards, "keys").part = Some(part);
    }),
    ("board room", |s| {
        let room = id(&s.rooms, 3);
        at!(s.boards, "keys").room = Some(room);
    }),
    ("board kind", |s| at!(s.boards, "keys").kind = BoardKind::Receiver),
    ("address", |s| at!(s.boards, "keys").address = Some(spanned(9))),
    ("board spot", |s| at!(s.boards, "keys").hung = Some(Hung { at: spanned(Point { x: 1.0, y: 2.0 }), looks: None })),
    ("board mount", |s| at!(s.boards, "keys").mount = Some(Metres(1.5))),
    ("emergency key", |s| at!(s.boards, "low-keys").emergency_keys[0].key.value = EmergencyKey::Medical),
    ("emergency key's number", |s| at!(s.boards, "low-keys").emergency_keys[0].number = None),
    ("no emergency keys", |s| at!(s.boards, "low-keys").emergency_keys.clear()),
    ("board bus", |s| at!(s.boards, "keys").bus = None),
    ("inputs from", |s| at!(s.boards, "expander").kind = BoardKind::Module { inputs_from: Some(6) }),
    ("strip ways", |s| {
        if let BoardKind::Strip { ways, .. } = &mut at!(s.boards, "aux-strip").kind {
            *ways = 6;
        }
    }),
    ("strip wires", |s| {
        if let BoardKind::Strip { wires, .. } = &mut at!(s.boards, "aux-strip").kind {
            *wires += 1;
        }
    }),
    ("strip feed", |s| {
        if let BoardKind::Strip { feed, .. } = &mut at!(s.boards, "aux-strip").kind {
            *feed = None;
        }
    }),
    ("battery capacity", |s| panel(s).0.as_mut().unwrap().capacity.value = AmpereHours(7.2)),
    ("battery count", |s| panel(s).0.as_mut().unwrap().count = 2),
    ("battery most charge", |s| panel(s).0.as_mut().unwrap().max_charge = Some(spanned(Amperes(2.1)))),
    ("battery coldest", |s| panel(s).0.as_mut().unwrap().coldest = Some(Celsius(-20.0))),
    ("battery day", |s| panel(s).0.as_mut().unwrap().installed = Some(date(2027, 1, 1))),
    ("no battery", |s| *panel(s).0 = None),
    ("battery life", |s| panel(s).0.as_mut().unwrap().replace_after = None),
    ("battery wired", |s| panel(s).0.as_mut().unwrap().wired = Some(spanned(Bank::Series))),
    ("battery volts", |s| panel(s).0.as_mut().unwrap().volts = Some(Volts(6.0))),
    ("battery fuse", |s| panel(s).0.as_mut().unwrap().fuse = Some(spanned(Amperes(3.0)))),
    ("battery lead +", |s| panel(s).0.as_mut().unwrap().positive = Some(spanned(Colour::new(Hue::Red, None)))),
    ("battery lead −", |s| panel(s).0.as_mut().unwrap().negative = Some(spanned(Colour::new(Hue::Black, None)))),
    ("another battery", |s| {
        let other = OtherBattery { capacity: spanned(AmpereHours(7.0)), installed: None, existing: false };
        panel(s).0.as_mut().unwrap().others.push(other);
    }),
    ("earth", |s| {
        let (size, to) = (WireSize::Awg(14), spanned("bar".into()));
        at!(s.boards, "main").earth = Some(Earth { size, to, colour: None, terminal: None, existing: false });
    }),
    ("board was there", |s| at!(s.boards, "main").existing = true),
    ("battery was there", |s| panel(s).0.as_mut().unwrap().existing = true),
    ("transformer was there", |s| panel(s).1.as_mut().unwrap().existing = true),
    ("transformer fuse", |s| panel(s).1.as_mut().unwrap().fuse = Some(spanned(Amperes(2.0)))),
    ("transformer volts", |s| panel(s).1.as_mut().unwrap().volts.value = Volts(18.0)),
    ("transformer rating", |s| panel(s).1.as_mut().unwrap().rating.value = VoltAmperes(60.0)),
    ("transformer outlet", |s| panel(s).1.as_mut().unwrap().outlet = Some("here".into())),
    ("transformer switched", |s| panel(s).1.as_mut().unwrap().switched = true),
    ("area title", |s| at!(s.areas, "house").title = "Home".into()),
    ("area number", |s| at!(s.areas, "house").number = 8),
    ("entry", |s| at!(s.areas, "house").entry = Some(spanned(Seconds(31.0)))),
    ("exit", |s| at!(s.areas, "house").exit = None),
    ("abort", |s| at!(s.areas, "house").abort = Some(spanned(Seconds(20.001)))),
    ("swinger shutdown", |s| at!(s.areas, "house").swinger_shutdown = Some(spanned(1))),
    ("sounder cut-off", |s| at!(s.areas, "house").sounder_cut_off = None),
    ("walk from", |s| {
        let opening = s.openings.entries().find(|(_, opening)| opening.name.value == "side").unwrap().0;
        at!(s.areas, "house").walks[0].from.value = opening;
    }),
    ("walk to", |s| {
        let board = s.boards.entries().find(|(_, board)| board.name.value == "low-keys").unwrap().0;
        at!(s.areas, "house").walks[0].to.value = board;
    }),
    ("walk time", |s| at!(s.areas, "house").walks[0].time = None),
    ("walk length", |s| at!(s.areas, "house").walks[0].length = Some(spanned(Metres(4.0)))),
    ("walk through", |s| at!(s.areas, "house").walks[0].through.clear()),
    ("cross zones", |s| at!(s.areas, "house").cross_zones[0].zones[0].value = 1),
    ("cross zones window", |s| at!(s.areas, "house").cross_zones[0].window = None),
    ("follows", |s| zone(s, 2).follows = false),
    ("description", |s| zone(s, 1).description.value = "Gate".into()),
    ("zone type", |s| zone(s, 1).kind = Some(spanned(ZoneType::Interior))),
    ("zone area", |s| zone(s, 1).area = None),
    ("event", |s| zone(s, 1).event = Some(spanned(136))),
    ("note", |s| zone(s, 1).note = Some("remark".into())),
    ("key action", |s| zone(s, 1).action = Some(spanned(KeyAction::Maintained))),
    ("zone reserved", |s| zone(s, 1).reserved = Some(Span::default())),
    ("spare title", |s| at!(s.spares, "coil").title = "Bell".into()),
    ("spare board", |s| at!(s.spares, "coil").board = None),
    ("reserve name", |s| run(s, 37.0).reserved[0].name.value = "bell".into()),
    ("reserve conductors", |s| run(s, 37.0).reserved[0].conductors = 1),
    ("no wireless", |s| zone(s, 5).wireless = None),
    ("loop wiring", |s| zone(s, 1).wired.as_mut().unwrap().wiring = Some(spanned(LoopWiring::NormallyOpen))),
    ("loop board", |s| {
        let board = s.boards.entries().find(|(_, board)| board.name.value == "expander").unwrap().0;
        zone(s, 1).wired.as_mut().unwrap().board = Some(spanned(board));
    }),
    ("loop input", |s| zone(s, 1).wired.as_mut().unwrap().input = Some(spanned(7))),
    ("loop chain", |s| zone(s, 3).wired.as_mut().unwrap().chain.truncate(2)),
    ("resistor at the board", |s| {
        *zone(s, 3).wired.as_mut().unwrap().chain.last_mut().unwrap() =
            Mounted::Resistor(spanned(Resistance::new(Ohms(4700.0))));
    }),
    ("no loop", |s| zone(s, 3).wired = None),
    ("device title", |s| device(s, "Motion, hall").title = "Motion".into()),
    ("device part", |s| {
        let part = id(&s.parts, 0);
        device(s, "Motion, hall").part = Some(part);
    }),
    ("device name", |s| device(s, "Motion, hall").name = Some(spanned("eye".into()))),
    ("device opening", |s| {
        let opening = id(&s.openings, 0);
        device(s, "Motion, hall").opening = Some(spanned(opening));
    }),
    ("device room", |s| {
        let room = id(&s.rooms, 3);
        device(s, "Motion, hall").room = Some(room);
    }),
    ("device spot", |s| {
        let at = spanned(Point { x: 1.0, y: 2.0 });
        device(s, "Motion, hall").hung = Some(Hung { at, looks: Some(Bearing::North) });
    }),
    ("device mount", |s| device(s, "Motion, hall").mount = Some(Metres(2.2))),
    ("device supply", |s| device(s, "Motion, hall").supply = None),
    ("shunt", |s| device(s, "Motion, hall").shunt = Some(spanned(Resistance::new(Ohms(4700.0))))),
    ("shunt tolerance", |s| {
        device(s, "Motion, hall").shunt = Some(spanned(Resistance::new(Ohms(4700.0)).with_tolerance(Ratio(0.01))));
    }),
    ("tamper", |s| device(s, "Motion, hall").tamper_in_loop = false),
    ("fixed", |s| device(s, "Motion, hall").fixed = true),
    ("existing", |s| device(s, "Motion, hall").existing = true),
    ("shares", |s| device(s, "Motion, hall").shares = true),
    ("receiver", |s| device(s, "Wireless reed contact").receiver = None),
    ("device battery", |s| device(s, "Wireless reed contact").battery = Some(date(2027, 5, 1))),
    ("device made", |s| device(s, "Smoke, landing").made = Some(date(2027, 5, 1))),
    ("tests", |s| s.upkeep.test_every = None),
    ("cleaning", |s| s.upkeep.clean_every = None),
    ("firm", |s| s.house_style.firm = None),
    ("note on every sheet", |s| s.house_style.note = Some("Keep this dry.".into())),
    ("accent", |s| s.house_style.accent = None),
    ("logo", |s| {
        s.house_style.logo = Some(Logo { path: "logo.png".into(), media: "image/png", bytes: vec![1, 2, 3] });
    }),
    ("grid of labels", |s| s.label_sheet.as_mut().unwrap().value.grid = Some(LabelGrid::A43By7)),
    ("paper of labels", |s| s.label_sheet.as_mut().unwrap().value.paper = Some(PaperSize::A4)),
    ("labels across", |s| s.label_sheet.as_mut().unwrap().value.columns = Some(2)),
    ("labels down", |s| s.label_sheet.as_mut().unwrap().value.rows = Some(9)),
    ("width of a label", |s| s.label_sheet.as_mut().unwrap().value.width = Some(Metres(0.06))),
    ("height of a label", |s| s.label_sheet.as_mut().unwrap().value.height = Some(Metres(0.02))),
    ("labels from the left", |s| s.label_sheet.as_mut().unwrap().value.left = Some(Metres(0.004))),
    ("labels from the top", |s| s.label_sheet.as_mut().unwrap().value.top = None),
    ("from label to label", |s| s.label_sheet.as_mut().unwrap().value.across = Some(Metres(0.069))),
    ("from label to label down", |s| s.label_sheet.as_mut().unwrap().value.down = Some(Metres(0.025))),
    ("printed zone", |s| s.label_sheet.as_mut().unwrap().value.printed = Some(Metres(0.012))),
    ("labels used", |s| s.label_sheet.as_mut().unwrap().value.used = 7),
    ("code on labels", |s| s.label_sheet.as_mut().unwrap().value.code = false),
    ("no label sheet", |s| s.label_sheet = None),
    ("permit", |s| s.upkeep.permit_ends = Some(spanned(date(2029, 5, 1)))),
    ("run cable", |s| {
        let cable = id(&s.cables, 0);
        run(s, 38.0).cable = Some(spanned(cable));
    }),
    ("run length", |s| run(s, 38.0).length = Some(spanned(Metres(38.0 * 0.3048 + 1e-3)))),
    ("run pairs", |s| run(s, 38.0).pairs = 2),
    ("run room", |s| {
        let room = id(&s.rooms, 3);
        run(s, 38.0).room = Some(room);
    }),
    ("run name", |s| run(s, 38.0).name = Some(spanned("first".into()))),
    ("run label", |s| run(s, 38.0).label = Some(spanned("X".into()))),
    ("passes", |s| run(s, 38.0).passes = Some(spanned(Passage::Attic))),
    ("route", |s| run(s, 38.0).route = None),
    ("way", |s| run(s, 38.0).way = vec![Point { x: 1.0, y: 2.0 }, Point { x: 3.0, y: 2.0 }]),
    ("loop-fed", |s| {
        at!(s.parts, "reed").loop_fed = s.parts.iter().find_map(|part| part.loop_fed.clone());
    }),
    ("loop-fed idle", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().idle = Amperes(1e-3)),
    ("loop-fed volts", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().min = Volts(9.0)),
    ("loop-fed most volts", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().max = None),
    ("loop-fed alarm volts", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().alarm_volts.1 = Volts(7.0)),
    ("loop-fed alarm", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().alarm = None),
    ("loop-fed positive", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().positive = None),
    ("loop-fed negative", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().negative = None),
    ("loop-fed either way", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().either_way = true),
    ("loop-fed identifier", |s| at!(s.parts, "smoke-2").loop_fed.as_mut().unwrap().identifier = None),
    ("two-wire input", |s| at!(s.parts, "feeds-a").inputs[0].two_wire = false),
    ("setting", |s| at!(s.parts, "feeds-a").settings.clear()),
    ("setting wiring", |s| at!(s.parts, "feeds-a").settings[0].wiring = spanned(LoopWiring::NormallyClosed)),
    ("setting pull-up", |s| at!(s.parts, "feeds-a").settings[0].sensing.pull_up = Some(Ohms(1.0))),
    ("feed", |s| at!(s.parts, "feeds-a").settings[0].sensing.feed = None),
    ("feed limit", |s| feed(s).limit = None),
    ("feed resistor", |s| feed(s).resistor = None),
    ("feed positive", |s| feed(s).positive = None),
    ("feed contacts", |s| feed(s).contacts = true),
    ("feed list", |s| feed(s).listed.clear()),
    ("feed list most", |s| feed(s).listed[0].most = None),
    ("feed list identifier", |s| feed(s).listed[0].identifier = spanned("TW-7".into())),
    ("existing", |s| run(s, 38.0).existing = true),
    ("branch", |s| run(s, 12.0).branch = true),
    ("upstream", |s| run(s, 12.0).upstream = None),
    ("mounted resistor", |s| {
        *run(s, 12.0).mounted.last_mut().unwrap() = Mounted::Resistor(spanned(Resistance::new(Ohms(2201.0))));
    }),
    ("mounted terminator", |s| {
        for id in s.runs.entries().map(|(id, _)| id).collect::<Vec<_>>() {
            for item in &mut s.runs[id].mounted {
                if let Mounted::Terminator(value) = item {
                    value.value = Ohms(121.0);
                }
            }
        }
    }),
    ("feed", |s| run(s, 33.0).mounted.clear()),
    ("bus board", |s| at!(s.buses, "data").board = None),
    ("bus port", |s| at!(s.buses, "data").port = None),
    ("bus terminator", |s| at!(s.buses, "data").terminator_off = true),
    ("bus kind", |s| at!(s.buses, "data").differential = false),
    ("board terminator", |s| at!(s.boards, "keys").terminator_off = true),
    ("bus rate", |s| at!(s.buses, "data").rate = Some(spanned(BitsPerSecond(9600.0)))),
    ("bus chain", |s| at!(s.buses, "data").chain.truncate(1)),
    ("circuit title", |s| at!(s.circuits, "smoke-feed").title = "Feed".into()),
    ("circuit feed", |s| at!(s.circuits, "smoke-feed").feed = None),
    ("circuit chain", |s| at!(s.circuits, "smoke-feed").chain.clear()),
    ("circuit's relay", |s| switching(s).switch = None),
    ("circuit's contact", |s| switching(s).contact = SwitchContact::Break),
    ("dry", |s| switching(s).dry = true),
    ("drive", |s| switching(s).drives[0].by.value = DrivenBy::Trouble),
    ("drive type", |s| switching(s).drives[0].kind = None),
    ("drive area", |s| switching(s).drives[0].area = None),
    ("drive time", |s| switching(s).drives[0].lasts = Some(Seconds(5.0))),
    ("another drive", |s| {
        let drive = switching(s).drives[0].clone();
        switching(s).drives.push(drive);
    }),
    ("diode", |s| device(s, "Relay of 12 V").diode = false),
    ("communicator title", |s| at!(s.communicators, "line").title = "Phone".into()),
    ("path", |s| at!(s.communicators, "line").path = Some(spanned(Path::Internet))),
    ("service", |s| at!(s.communicators, "line").service = Some(Service::Voip)),
    ("jack", |s| at!(s.communicators, "line").jack = Some(JackKind::Bridged)),
    ("line port", |s| at!(s.communicators, "line").port = None),
    ("adapter", |s| {
        let board = id(&s.boards, 0);
        at!(s.communicators, "line").module = Some(spanned(board));
    }),
    ("into", |s| {
        let board = id(&s.boards, 0);
        run(s, 50.0).into = Some(spanned(board));
    }),
    ("joined", |s| run(s, 50.0).joined = Some(Joining::Solder)),
    ("joint box", |s| at!(s.boards, "low-keys").kind = BoardKind::JointBox { joined: Some(Joining::Crimp) }),
    ("wired", |s| at!(s.communicators, "net").pin_order = Some(spanned(PinOrder::T568a))),
    ("hop name", |s| at!(s.communicators, "net").hops[0].reference = Some(spanned("box".into()))),
    ("hop feeder", |s| {
        let line = id(&s.communicators, 1);
        at!(s.communicators, "net").hops[1].from = Some(spanned(HopRef { line, hop: 0 }));
    }),
    ("hop volts", |s| at!(s.communicators, "net").hops[0].min = Some(Volts(9.0))),
    ("supervised every", |s| {
        at!(s.communicators, "line").supervised_every = Some(spanned(Seconds(60.0)));
    }),
    ("line run", |s| at!(s.communicators, "line").run = None),
    ("hop", |s| {
        at!(s.communicators, "line").hops.push(Hop {
            name: spanned("router".into()),
            reference: None,
            output: None,
            fed_by: Vec::new(),
            from: None,
            draw: None,
            min: None,
            backup: None,
        })
    }),
    ("format", |s| s.monitoring.as_mut().unwrap().format.as_mut().unwrap().value = Format::Voice),
    ("description width", |s| s.monitoring.as_mut().unwrap().description_width.value = 25),
    ("zones on the form", |s| s.monitoring.as_mut().unwrap().zones = Some(spanned(99))),
    ("test every", |s| s.monitoring.as_mut().unwrap().test_every = None),
    ("duress", |s| s.monitoring.as_mut().unwrap().duress = false),
    ("handling", |s| s.monitoring.as_mut().unwrap().handling.push((spanned(EventGroup::Fire), "call".into()))),
    ("price", |s| s.prices.of.push(Price { what: spanned("reed".into()), each: "3.15".parse().unwrap() })),
    ("conduit", |s| {
        let of = MemoryFiles(
            [("site.kdl".to_owned(), b"site \"s\"\nconduit \"Tube\" inside=(in)1 { holds \"x\" }\n".to_vec())].into(),
        );
        s.conduits = resolve(&of, &mut Sink::default()).site.unwrap().conduits;
    }),
    ("no monitoring", |s| s.monitoring = None),
    ("accept", |s| {
        s.accepts.push(Accept { rule: spanned("x".into()), zone: None, name: None, because: "so".into() });
    }),
    ("cable title", |s| at!(s.cables, "six").title = "Six".into()),
    ("cable count", |s| at!(s.cables, "six").count.value = 7),
    ("cable size", |s| at!(s.cables, "six").size = Some(WireSize::Awg(20))),
    ("jacket", |s| at!(s.cables, "six").jacket = Some(spanned("CL3".into()))),
    ("cable shield", |s| at!(s.cables, "six").shield = Some(Shield::Braid)),
    ("run shield", |s| run(s, 38.0).shield = Some(spanned(ShieldEnds::Both))),
    ("stranded", |s| at!(s.cables, "six").stranded = true),
    ("resistance", |s| at!(s.cables, "six").resistance = Some(spanned(OhmsPerMetre(0.06)))),
    ("box", |s| at!(s.cables, "six").box_length = Some(Metres(150.0))),
    ("conductor colour", |s| at!(s.cables, "six").conductors[4].colour.value = Colour::new(Hue::Grey, None)),
    ("cable metal", |s| at!(s.cables, "six").metal.value = Metal::Tinned),
    ("cable diameter", |s| at!(s.cables, "six").diameter = Some(Metres(0.006))),
    ("conductor use", |s| at!(s.cables, "six").conductors[4].purpose = Some(Use::Spare)),
    ("part title", |s| at!(s.parts, "motion").title = "Eye".into()),
    ("senses", |s| at!(s.parts, "motion").senses = Some(Senses::Glass)),
    ("coverage", |s| {
        at!(s.parts, "sounder").coverage = Some(Coverage { range: Metres(12.0), angle: 90 });
    }),
    ("sound level", |s| at!(s.parts, "sounder").sound.as_mut().unwrap().level = Decibels(104.0)),
    ("sound at", |s| at!(s.parts, "sounder").sound.as_mut().unwrap().at = Metres(1.0)),
    ("no sound", |s| at!(s.parts, "sounder").sound = None),
    ("rating", |s| at!(s.parts, "motion").rating = Some(spanned(Celsius(57.0)))),
    ("basis", |s| at!(s.parts, "motion").basis = Some(Basis::Measured)),
    ("reference", |s| at!(s.parts, "motion").reference = Some("page 9".into())),
    ("contact form", |s| at!(s.parts, "motion").contacts[0].form = ContactForm::NormallyOpen),
    ("contact resistance", |s| at!(s.parts, "motion").contacts[0].resistance = Ohms(1.01)),
    ("contact mark", |s| at!(s.parts, "motion").contacts[0].mark = "X".into()),
    ("part tamper", |s| at!(s.parts, "motion").tamper = None),
    ("supply min", |s| at!(s.parts, "motion").supply.as_mut().unwrap().min = Volts(8.0)),
    ("supply max", |s| at!(s.parts, "motion").supply.as_mut().unwrap().max = None),
    ("supply idle", |s| at!(s.parts, "motion").supply.as_mut().unwrap().idle = Take::Current(Amperes(0.0051))),
    ("supply alarm", |s| at!(s.parts, "motion").supply.as_mut().unwrap().alarm = Take::Power(Watts(0.5))),
    ("supply +", |s| at!(s.parts, "motion").supply.as_mut().unwrap().positive = "P".into()),
    ("supply −", |s| at!(s.parts, "motion").supply.as_mut().unwrap().negative = "N".into()),
    ("board", |s| at!(s.parts, "motion").board = Some(BoardPart::Module)),
    ("works", |s| at!(s.parts, "strobe").works = Some(Works::Lock)),
    ("without current", |s| at!(s.parts, "strobe").fails = Some(Fails::Safe)),
    ("supply form", |s| at!(s.parts, "strobe").supply.as_mut().unwrap().form = SupplyForm::Tone),
    ("common side", |s| at!(s.parts, "strobe").supply.as_mut().unwrap().common = Some(SwitchedSide::Minus)),
    ("coil", |s| at!(s.parts, "strobe").supply.as_mut().unwrap().coil = true),
    ("built-in diode", |s| at!(s.parts, "strobe").supply.as_mut().unwrap().diode = true),
    ("own volts", |s| own_supply(s).volts = Volts(12.0)),
    ("own current", |s| own_supply(s).current = Amperes(0.02)),
    ("own kind", |s| own_supply(s).kind = CurrentKind::Alternating),
    ("own mark", |s| own_supply(s).mark = "IN".into()),
    ("own coil", |s| own_supply(s).coil = true),
    ("own diode", |s| own_supply(s).diode = true),
    ("no own supply", |s| at!(s.parts, "gate-input").own_supply = None),
    ("terminals", |s| at!(s.parts, "motion").terminals.push(spanned("X".into()))),
    ("AC port", |s| {
        let port = AcPort {
            a: spanned("AC1".into()),
            b: spanned("AC2".into()),
            min: Some(Volts(15.0)),
            max: Some(Volts(20.0)),
        };
        at!(s.parts, "control-a").ac_port = Some(port);
    }),
    ("battery port", |s| {
        let port = BatteryPort { positive: spanned("T+".into()), negative: spanned("T-".into()), connect: None };
        at!(s.parts, "control-a").battery_port = Some(port);
    }),
    ("fault contact", |s| {
        let contact =
            ContactData { form: ContactForm::NormallyClosed, resistance: Ohms(0.1), mark: "FA and FB".into() };
        let fault = FaultContact { contact, a: spanned("FA".into()), b: spanned("FB".into()) };
        at!(s.parts, "control-a").fault = Some(fault);
    }),
    ("earth terminal", |s| at!(s.parts, "control-a").earth = Some(spanned("E".into()))),
    ("other terminal", |s| {
        let other = OtherTerminal { mark: spanned("LID".into()), purpose: "cover switch".into() };
        at!(s.parts, "control-a").others.push(other);
    }),
    ("input number", |s| at!(s.parts, "control-a").inputs[3].number.value = 99),
    ("input signal", |s| at!(s.parts, "control-a").inputs[3].signal = "X".into()),
    ("input return", |s| at!(s.parts, "control-a").inputs[3].back = "X".into()),
    ("sensing supply", |s| at!(s.parts, "control-a").sensing.as_mut().unwrap().supply = Some(Volts(5.1))),
    ("pull-up", |s| at!(s.parts, "control-a").sensing.as_mut().unwrap().pull_up = Some(Ohms(681.0))),
    ("tolerance", |s| at!(s.parts, "control-a").sensing.as_mut().unwrap().tolerance = Ratio(0.02)),
    ("supply tolerance", |s| at!(s.parts, "control-a").sensing.as_mut().unwrap().supply_tolerance = Ratio(0.03)),
    ("band name", |s| at!(s.parts, "control-a").sensing.as_mut().unwrap().bands[0].reads.value = BandName::Tamper),
    ("band edges", |s| {
        at!(s.parts, "control-a").sensing.as_mut().unwrap().bands[0].edges = BandEdges::Ohms(None, Some(Ohms(1.0)));
    }),
    ("no sensing", |s| at!(s.parts, "control-a").sensing = None),
    ("output name", |s| at!(s.parts, "control-a").outputs[0].name.value = "x".into()),
    ("output +", |s| at!(s.parts, "control-a").outputs[0].positive = "X".into()),
    ("output −", |s| at!(s.parts, "control-a").outputs[0].negative = "X".into()),
    ("output volts", |s| at!(s.parts, "control-a").outputs[0].volts = Volts(13.7)),
    ("output tolerance", |s| at!(s.parts, "control-a").outputs[0].tolerance = Ratio(0.03)),
    ("output drop", |s| at!(s.parts, "control-a").outputs[0].drop = Volts(0.2)),
    ("output least", |s| at!(s.parts, "control-a").outputs[0].least = Some(Volts(10.1))),
    ("output limit", |s| at!(s.parts, "control-a").outputs[0].limit = Amperes(0.9)),
    ("output switched", |s| {
        let switched = at!(s.parts, "control-a").outputs[0].switched;
        at!(s.parts, "control-a").outputs[0].switched = !switched;
    }),
    ("output when", |s| {
        let output = &mut at!(s.parts, "control-a").outputs[0];
        output.when = *When::ALL.iter().find(|when| **when != output.when).unwrap();
    }),
    ("output form", |s| at!(s.parts, "control-a").outputs[0].form = SupplyForm::Pulsed),
    ("transistor side", |s| {
        at!(s.parts, "control-a").switches[0].kind =
            SwitchKind::Transistor { mark: "T1".into(), side: SwitchedSide::Plus };
    }),
    ("transistor mark", |s| {
        at!(s.parts, "control-a").switches[0].kind =
            SwitchKind::Transistor { mark: "T9".into(), side: SwitchedSide::Minus };
    }),
    ("relay name", |s| at!(s.parts, "control-a").switches[1].name.value = "x".into()),
    ("relay volts", |s| at!(s.parts, "control-a").switches[1].direct.volts = None),
    ("relay current", |s| at!(s.parts, "control-a").switches[1].direct.current = Some(Amperes(2.0))),
    ("relay common", |s| relay(s, |common, _, _, _| *common = "X".into())),
    ("relay make", |s| relay(s, |_, make, _, _| *make = None)),
    ("relay break", |s| relay(s, |_, _, breaks, _| *breaks = None)),
    ("relay a.c. volts", |s| relay(s, |_, _, _, alternating| alternating.volts = Some(Volts(24.0)))),
    ("relay a.c. current", |s| relay(s, |_, _, _, alternating| alternating.current = Some(Amperes(1.0)))),
    ("no relay", |s| at!(s.parts, "control-a").switches.truncate(1)),
    ("port plus", |s| at!(s.parts, "control-a").bus_ports[0].plus = "X".into()),
    ("port minus", |s| at!(s.parts, "control-a").bus_ports[0].minus = "X".into()),
    ("port a", |s| at!(s.parts, "control-a").bus_ports[0].a = "X".into()),
    ("port b", |s| at!(s.parts, "control-a").bus_ports[0].b = "X".into()),
    ("port shield", |s| at!(s.parts, "control-a").bus_ports[0].shield = Some(spanned("SH".into()))),
    ("port shield at both ends", |s| at!(s.parts, "control-a").bus_ports[0].shield_at_both_ends = true),
    ("port terminator", |s| at!(s.parts, "control-a").bus_ports[0].terminator = Some(Ohms(121.0))),
    ("port bias", |s| at!(s.parts, "control-a").bus_ports[0].bias = Some(Ohms(721.0))),
    ("port bias supply", |s| at!(s.parts, "control-a").bus_ports[0].bias_supply = Some(Volts(4.9))),
    ("port bias tolerance", |s| at!(s.parts, "control-a").bus_ports[0].bias_tolerance = Ratio(0.02)),
    ("port unit load", |s| at!(s.parts, "control-a").bus_ports[0].unit_load = Ratio(0.125)),
    ("port addresses", |s| at!(s.parts, "control-a").bus_ports[0].addresses = Some((1, 9))),
    ("port limit", |s| at!(s.parts, "control-a").bus_ports[0].limit = Some(Amperes(0.7))),
    ("port volts", |s| at!(s.parts, "control-a").bus_ports[0].volts = Some(Volts(12.5))),
    ("line port marks", |s| {
        let LinePort { in_tip, in_ring, .. } = &mut at!(s.parts, "control-a").line_ports[0];
        std::mem::swap(in_tip, in_ring);
    }),
    ("line port out", |s| at!(s.parts, "control-a").line_ports[0].out_tip = Some("X".into())),
    ("draw", |s| at!(s.parts, "control-a").draw.as_mut().unwrap().idle = Take::Current(Amperes(0.1501))),
    ("draw alarm", |s| at!(s.parts, "control-a").draw.as_mut().unwrap().alarm = Take::Current(Amperes(0.99))),
    ("draw max", |s| at!(s.parts, "control-a").draw.as_mut().unwrap().max = Some(Volts(19.9))),
    ("draw min", |s| at!(s.parts, "control-a").draw.as_mut().unwrap().min = Some(Volts(9.9))),
    ("board's drop", |s| at!(s.parts, "control-a").charger.as_mut().unwrap().drop = Some(Volts(0.4))),
    ("charger", |s| {
        at!(s.parts, "control-a").charger = Some(Charger { current: Amperes(0.77), cut_off: None, drop: None })
    }),
    ("screw", |s| at!(s.parts, "control-a").wires_per_terminal = Some(9)),
    ("age", |s| at!(s.parts, "smoke-generic").replace_after = None),
    ("mounting box", |s| at!(s.parts, "smoke-generic").mounting_box = Some(MountingBox::Surface)),
    ("hole", |s| at!(s.parts, "smoke-generic").hole = Some(Metres(0.03))),
    ("radio role", |s| {
        let radio = at!(s.parts, "reed-wireless").radio.as_mut().unwrap();
        radio.role = *Radio::ALL.iter().find(|role| **role != radio.role).unwrap();
    }),
    ("radio capacity", |s| at!(s.parts, "reed-wireless").radio.as_mut().unwrap().capacity = Some(3)),
    ("radio battery", |s| at!(s.parts, "reed-wireless").radio.as_mut().unwrap().battery_life = Some(Seconds(1.0))),
];

fn panel(site: &mut Site) -> (&mut Option<Battery>, &mut Option<Transformer>) {
    let board = at!(site.boards, "main");
    (&mut board.battery, &mut board.transformer)
}

fn switching(site: &mut Site) -> &mut Switching {
    at!(site.circuits, "flash").switching.as_mut().unwrap()
}

fn own_supply(site: &mut Site) -> &mut OwnSupply {
    at!(site.parts, "gate-input").own_supply.as_mut().unwrap()
}

fn relay(site: &mut Site, alter: fn(&mut String, &mut Option<String>, &mut Option<String>, &mut Rating)) {
    if let SwitchKind::Relay { common, make, breaks, alternating } = &mut at!(site.parts, "control-a").switches[1].kind
    {
        alter(common, make, breaks, alternating);
    }
}

#[test]
fn whatever_is_altered_is_seen_and_can_be_redone() {
    let (site, wiring) = read_text(FULL);
    let before = facts::of(&site, &wiring);
    let record = |site: &Site, wiring: &Wiring| serde_json::to_string(&Record::of(&Names::of(site, wiring))).unwrap();
    let written = record(&site, &wiring);
    for (what, alter) in ALTERATIONS {
        let mut other = site.clone();
        alter(&mut other);
        assert_ne!(other, site, "{what} alters nothing");
        let proposed = register::keep(&other, &Register::default()).wiring;
        let after = facts::of(&other, &proposed);
        assert_ne!(after, before, "{what} is no fact");
        assert_ne!(record(&other, &proposed), written, "{what} is not in the site's JSON");
        let diff = of_facts(&before, &after, &Apart::default());
        assert!(!diff.changes.is_empty(), "{what} is not seen");
        assert_eq!(apply(&before, &diff), after, "{what} cannot be redone");
    }
}

/// What is printed alike is still compared exactly.
#[test]
fn a_micrometre_is_seen() {
    let (site, wiring) = read_text(FULL);
    let mut longer = site.clone();
    run(&mut longer, 38.0).length = Some(spanned(Metres(38.0 * 0.3048 + 1e-6)));
    let (before, after) = (facts::of(&site, &wiring), facts::of(&longer, &wiring));
    assert_eq!(of_facts(&before, &after, &Apart::default()).changes.len(), 1);
}

/// An input that the spec leaves open and the register gives is the same wall as one that the spec gives.
#[test]
fn who_chose_an_input_is_no_fact_of_the_wall() {
    let (old, new) = (FULL.to_owned(), FULL.replace("board=\"main\" input=1", "board=\"main\""));
    assert_ne!(old, new);
    assert_eq!(super::said(&super::diff(&old, &new)), Vec::<String>::new());
}
