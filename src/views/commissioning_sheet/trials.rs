//! Trials with everything on: wireless signals, delays, the walk test, what is switched, sounders, resets.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::suits::charges;
use crate::calc::sound::{Pattern, is_sounded_by, pattern};
use crate::calc::{State, Verdict};
use crate::compiled::Compiled;
use crate::model::{Circuit, Device, DeviceKind, OutputRef, Site, Source, Zone};
use crate::quantity::Seconds;
use crate::register::{ConductorUse, Function, Point};
use crate::terms::{DrivenBy, Fails, Senses, SwitchContact, Works};
use crate::words::{self, Paper};

/// What a relay or transistor switches.
#[derive(Debug, Serialize)]
pub(crate) struct SwitchedRow {
    output: String,
    drives: String,
    loads: String,
    happens: String,
}

/// A wireless zone.
#[derive(Debug, Serialize)]
pub(crate) struct Wireless {
    number: String,
    description: String,
    detector: String,
    receiver: String,
}

/// An area with its times.
#[derive(Debug, Serialize)]
pub(crate) struct AreaRow {
    area: String,
    entry: String,
    exit: String,
    abort: String,
    cut_off: String,
}

/// A zone with a tick for each of its contacts and detectors, by name.
#[derive(Debug, Serialize)]
pub(crate) struct Walk {
    number: String,
    description: String,
    ticks: String,
}

/// A sounder, and whether it sounds for fire and for carbon monoxide as well.
#[derive(Debug, Serialize)]
pub(crate) struct SounderRow {
    sounder: String,
    circuit: String,
    /// A box for each alarm that turns it on, else a dash.
    fire: &'static str,
    carbon_monoxide: &'static str,
    steady: &'static str,
}

/// An output, or a loop that feeds its detectors, that the board takes away to reset them.
#[derive(Debug, Serialize)]
pub(crate) struct Reset {
    source: String,
    detectors: String,
}

/// The areas with their times, by name.
pub(crate) fn areas(site: &Site) -> Vec<AreaRow> {
    let time =
        |time: Option<&crate::base::Spanned<Seconds>>| time.map(|time| time.value.to_string()).unwrap_or_default();
    let row = |area: &crate::model::Area| AreaRow {
        area: area.title.clone(),
        entry: time(area.entry.as_ref()),
        exit: time(area.exit.as_ref()),
        abort: time(area.abort.as_ref()),
        cut_off: time(area.sounder_cut_off.as_ref()),
    };
    site.areas.iter().map(row).collect()
}

/// A box to tick before a name, which stays beside it.
fn tick(name: &str) -> String {
    format!("☐\u{a0}{name}")
}

/// The row of a zone that is in use. Relays that watch a supply have a table of their own.
pub(crate) fn walk(site: &Site, id: Id<Zone>, zone: &Zone) -> Option<Walk> {
    let ticks: Vec<String> = site
        .devices_of(id)
        .filter(|(device, _)| site.device_part(*device).is_none_or(|part| part.senses != Some(Senses::Supply)))
        .map(|(device, _)| tick(&Paper.contact(site, device)))
        .collect();
    (!ticks.is_empty()).then(|| Walk {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        ticks: ticks.join("; "),
    })
}

/// The sounders, with the circuit that each is on.
pub(crate) fn sounders(site: &Site) -> Vec<SounderRow> {
    let sounders = site.devices.entries().filter(|(_, device)| device.kind == DeviceKind::Sounder);
    let row = |(id, device): (Id<Device>, &Device)| {
        let owner = device.run.map(|run| site.runs[run].owner);
        let circuit = match owner {
            Some(crate::model::Owner::Circuit(circuit)) => site.circuits[circuit].title.clone(),
            _ => String::new(),
        };
        let tick = |wanted| {
            let is_so = is_sounded_by(site, device, |kind| pattern(kind) == Some(wanted));
            if is_so { "☐" } else { "–" }
        };
        SounderRow {
            sounder: words::placed(site, id),
            circuit,
            fire: tick(Pattern::Fire),
            carbon_monoxide: tick(Pattern::CarbonMonoxide),
            steady: tick(Pattern::Other),
        }
    };
    sounders.map(row).collect()
}

/// The outputs and two-wire loops that reset detectors, each with the detectors that it feeds.
pub(crate) fn resets(compiled: &Compiled) -> Vec<Reset> {
    let Compiled { site, power, .. } = compiled;
    let mut by_output: Vec<(OutputRef, Vec<String>)> = Vec::new();
    for feeding in &power.feedings {
        for (node, load) in feeding.tree.loads() {
            let crate::calc::power::Consumer::Device(device) = load.consumer else { continue };
            if site.device_part(device).is_none_or(|part| part.senses == Some(Senses::Supply)) {
                continue;
            }
            // An output of a module behind the board's own is the one that is taken away.
            let switched = |source: &Source| match source {
                Source::Output(output) => site.output(*output).is_some_and(|found| found.switched).then_some(*output),
                Source::Port(..) => None,
            };
            let Some(output) = feeding.tree.outlets_to(node).find_map(|source| switched(&source)) else { continue };
            let tick = tick(&words::placed(site, device));
            match by_output.iter_mut().find(|(other, _)| *other == output) {
                Some((_, ticks)) => ticks.push(tick),
                None => by_output.push((output, vec![tick])),
            }
        }
    }
    let row = |(output, ticks): (OutputRef, Vec<String>)| Reset {
        source: Paper.source(site, Source::Output(output)),
        detectors: ticks.join("; "),
    };
    let mut resets: Vec<Reset> = by_output.into_iter().map(row).collect();
    for (id, zone) in site.zones.entries().filter(|(id, _)| site.loop_feed(*id).is_some()) {
        let fed = site.devices_of(id).filter(|(device, _)| site.loop_fed(*device).is_some());
        let ticks: Vec<String> = fed.map(|(device, _)| tick(&words::placed(site, device))).collect();
        let source = format!("loop of zone {}", zone.number.value);
        resets.extend((!ticks.is_empty()).then(|| Reset { source, detectors: ticks.join("; ") }));
    }
    resets
}

/// A relay that watches a supply.
#[derive(Debug, Serialize)]
pub(crate) struct RelayRow {
    relay: String,
    /// The conductor by which its supply leaves the board: "Z13: RD red, off F+ of Panel".
    lift: String,
    /// What must show: a trouble; an alarm where the loop reads the same then; which of the two, where that is not known.
    shows: &'static str,
}

/// The relays that watch a supply, each with its zone.
pub(crate) fn relays(compiled: &Compiled) -> Vec<RelayRow> {
    let site = &compiled.site;
    let relays = site.devices.entries().filter_map(|(id, device)| {
        let watches = site.senses(id) == Some(Senses::Supply);
        let zone = device.zone.filter(|_| watches)?;
        let relay = format!("{}: zone {}", words::placed(site, id), site.zones[zone].number.value);
        let readings = compiled.loops.get(&zone).map(|readings| readings.states.as_slice()).unwrap_or_default();
        // How a board reads of which no bands are known is no reading that two states could share.
        let known = |is_meant: &dyn Fn(State) -> bool| -> Vec<Verdict> {
            let meant = readings.iter().filter(|reading| is_meant(reading.state));
            meant.map(|reading| reading.reading.verdict).filter(|verdict| *verdict != Verdict::Unknown).collect()
        };
        let (lost, alarms) = (known(&|state| state == State::SupplyLost(id)), known(&State::is_alarm));
        let shows = if lost.is_empty() {
            "trouble is expected; how the board reads this is not known"
        } else if lost.iter().any(|verdict| alarms.contains(verdict)) {
            "the alarm: both read alike"
        } else {
            "trouble"
        };
        Some(RelayRow { relay, lift: supply_at_board(compiled, id).unwrap_or_default(), shows })
    });
    relays.collect()
}

/// The + conductor of a device's supply where it leaves its board.
fn supply_at_board(compiled: &Compiled, device: Id<Device>) -> Option<String> {
    let Compiled { site, wiring, .. } = compiled;
    let at_device = |used: &&ConductorUse| {
        let ends = |point: &Point| matches!(point, Point::Device(at, _) if *at == device);
        matches!(used.function, Function::SupplyPositive(_)) && used.far.iter().any(ends)
    };
    let last = wiring.cables.iter().flat_map(|cable| &cable.conductors).find(at_device)?;
    let first = site.runs_before(last.run).last().unwrap_or(last.run);
    let (cable, all) = wiring.conductors_for(first, last.function)?;
    let on = all.first()?.near.iter().find_map(Point::terminal);
    let on = on.map(|(board, mark)| format!(", off {mark} of {}", Paper.board(site, board)));
    Some(format!("{}{}", words::labelled_all(site, cable, &all), on.unwrap_or_default()))
}

/// What must happen when a circuit's relay or transistor is driven, and what to beware of.
pub(crate) fn switched(Compiled { site, .. }: &Compiled, id: Id<Circuit>) -> Option<SwitchedRow> {
    let (of, switch, switching) = site.switched_by(&site.circuits[id])?;
    let happens = match (switching.contact, switching.dry) {
        (SwitchContact::Make, false) => "on for as long as it is driven",
        (SwitchContact::Break, false) => "off for as long as it is driven",
        (SwitchContact::Make, true) => "what joining its two terminals does",
        (SwitchContact::Break, true) => "what parting its two terminals does",
    };
    let mut happens = vec![happens.to_owned()];
    // What sounds by its own battery without the supply does the opposite of what the contact does.
    let opens = switching.contact == SwitchContact::Break && !switching.dry;
    let own =
        site.devices_on(id).filter(|(device, _)| opens && charges(site, *device)).map(|(id, _)| Paper.device(site, id));
    let own: Vec<String> = own.collect();
    if !own.is_empty() {
        let sounds = if own.len() == 1 { "sounds" } else { "sound" };
        let others = if own.len() < site.consumers_on(id).count() { "all else off, and " } else { "supply off, so " };
        happens =
            vec![format!("{others}{} {sounds} by the battery in it for as long as it is driven", list(&own, "and"))];
    }
    for (device, _) in site.devices_on(id) {
        let part = site.device_part(device);
        let works = part.and_then(|part| part.works);
        if let Some(caution) = works.and_then(caution).filter(|caution| happens.iter().all(|said| said != caution)) {
            happens.push(caution.to_owned());
        }
        let by_alarm = || switching.drives.iter().any(|drive| drive.by.value == DrivenBy::Alarm);
        let trial = lock_by_alarm(part.and_then(|part| part.fails));
        if works == Some(Works::Lock) && by_alarm() && !happens.contains(&trial) {
            happens.push(trial);
        }
    }
    Some(SwitchedRow {
        output: format!("{}: {}", Paper.board(site, of.board), words::contact(switch, switching)),
        drives: words::drives(site, switching),
        loads: words::hung(site, id),
        happens: happens.join(". "),
    })
}

/// What is tried of a lock that an alarm switches, by what it does without current.
fn lock_by_alarm(fails: Option<Fails>) -> String {
    let lock = match fails {
        Some(fails) => {
            let opens = match fails {
                Fails::Safe => "opens without current",
                Fails::Secure => "opens with current and stays shut without",
            };
            format!("An alarm switches this lock, which {opens} ({})", fails.printed())
        }
        None => "An alarm switches this lock. Its sheet says whether it opens without current (fail-safe) or with it (fail-secure)".to_owned(),
    };
    format!("{lock}: see in this trial that an alarm of fire locks nobody in, and that no other alarm opens the door")
}

fn caution(works: Works) -> Option<&'static str> {
    match works {
        Works::Lock => {
            Some("Stay on the side that opens by hand, with the key; try it as well with the mains and the battery off")
        }
        Works::Operator => Some("Stand where you see the door, with nobody and nothing under it"),
        Works::Relay => Some("Its contact may carry mains: leave its box shut"),
        Works::Lamp | Works::Indicator | Works::Strobe | Works::Other => None,
    }
}

/// The row of a wireless zone.
pub(crate) fn wireless(compiled: &Compiled, zone: &Zone) -> Option<Wireless> {
    let site = &compiled.site;
    let device = &site.devices[zone.wireless?];
    Some(Wireless {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        detector: Paper.device(site, zone.wireless?),
        receiver: device.receiver.as_ref().map(|receiver| Paper.board(site, receiver.value)).unwrap_or_default(),
    })
}
