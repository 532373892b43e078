//! The terminals of a device in the order in which supply and loop pass them, and what comes to each.
//!
//! What stands at a device's place is read as `calc::network` reads it: a contact that is open at rest lies across the
//! pair, all else is in series; what follows a contact across the pair is wired from its terminals. A resistor belongs to
//! the device before it, the first of a place to the first device.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::compiled::Compiled;
use crate::draw::device_sketch::{Fitted, Rung, Sketch};
use crate::model::{ContactData, Device, DeviceKind, Mounted, Run, Site, Zone};
use crate::quantity::Resistance;
use crate::register::{Cable, ConductorUse, Function, Point};
use crate::terms::{ContactForm, WireUse};
use crate::views::ends;
use crate::words;

/// The conductors that come to each device, of the cables that end there.
pub(super) type Landings<'c> = BTreeMap<Id<Device>, Vec<(&'c Cable, &'c ConductorUse)>>;

/// A place of a loop: the end of a run, as the loop of a zone passes it.
type InLoop = (Id<Run>, Id<Zone>);

/// Gathered once for all devices: a site may have ten thousand of them and as many cables.
pub(super) fn landings(compiled: &Compiled) -> Landings<'_> {
    let Compiled { site, wiring, .. } = compiled;
    let mut in_loops: BTreeMap<InLoop, Vec<Id<Device>>> = BTreeMap::new();
    for (id, device) in site.devices.entries() {
        if let (Some(run), Some(zone)) = (device.run, device.zone) {
            in_loops.entry((run, zone)).or_default().push(id);
        }
    }
    let mut landings = Landings::new();
    for (cable, used) in wiring.cables.iter().flat_map(|cable| cable.conductors.iter().map(move |used| (cable, used))) {
        let of_loop = used.function.zone().and_then(|zone| in_loops.get(&(used.run, zone)));
        let landed =
            used.far.iter().filter_map(|point| if let Point::Device(on, _) = point { Some(*on) } else { None });
        let devices: BTreeSet<Id<Device>> = of_loop.into_iter().flatten().copied().chain(landed).collect();
        for device in devices {
            landings.entry(device).or_default().push((cable, used));
        }
    }
    landings
}

/// The sketch of a device; `None` where nothing comes to it, or its part is not known.
pub(super) fn of(compiled: &Compiled, landings: &Landings<'_>, id: Id<Device>) -> Option<Sketch> {
    let site = &compiled.site;
    let (device, part) = (&site.devices[id], site.device_part(id)?);
    if matches!(device.kind, DeviceKind::Wireless | DeviceKind::Fault) {
        return None;
    }
    let mut rungs = supply(compiled, landings, id);
    if let (Some(zone), Some(run)) = (device.zone, device.run) {
        rungs.extend(in_loop(compiled, id, run, zone));
    }
    (!rungs.is_empty()).then(|| Sketch { title: part.title.clone(), rungs })
}

/// The conductors that go on from a device, as its sketch says without their names, of cables that start at its place.
pub(super) fn onward<'c>(
    compiled: &'c Compiled,
    landings: &Landings<'_>,
    id: Id<Device>,
) -> Vec<(&'c Cable, &'c ConductorUse)> {
    let Compiled { site, wiring, .. } = compiled;
    let device = &site.devices[id];
    let by_loop =
        device.run.filter(|_| device.zone.is_some()).map(|run| loop_goes_on(site, id, run)).unwrap_or_default();
    let mut found = Vec::new();
    for (_, used) in landings.get(&id).into_iter().flatten() {
        let first = used.far.iter().find_map(|point| if let Point::Device(on, _) = point { Some(*on) } else { None });
        let by_supply =
            used.far.iter().filter_map(|point| if let Point::Cable(run) = point { Some(*run) } else { None });
        let runs: Vec<Id<Run>> = match used.function.zone() {
            Some(_) => by_loop.clone(),
            None => by_supply.filter(|_| first == Some(id)).collect(),
        };
        for (cable, all) in runs.into_iter().filter_map(|run| wiring.conductors_for(run, used.function)) {
            found.extend(all.into_iter().map(|next| (cable, next)));
        }
    }
    found
}

/// The runs by which a loop goes on from a device, and comes back to it.
fn loop_goes_on(site: &Site, id: Id<Device>, run: Id<Run>) -> Vec<Id<Run>> {
    let stops = stops(site, run);
    let Some(at) = stops.iter().position(|stop| matches!(stop, Stop::Device(on) if *on == id)) else {
        return Vec::new();
    };
    let (before, rest) = stops.split_at(at);
    let after = rest.get(1..).unwrap_or_default().iter().skip_while(|stop| matches!(stop, Stop::Resistor(_)));
    let cables = |stop: &Stop<'_>| if let Stop::Cable(run) = stop { Some(*run) } else { None };
    before.iter().rev().map_while(cables).chain(after.map_while(cables)).collect()
}

/// The rungs of supply and of a contact that the device is switched by: plus first.
fn supply(compiled: &Compiled, landings: &Landings<'_>, id: Id<Device>) -> Vec<Rung> {
    let Compiled { site, wiring, .. } = compiled;
    let mut rungs: Vec<(WireUse, Rung)> = Vec::new();
    for (_, used) in landings.get(&id).into_iter().flatten().filter(|(_, used)| used.function.zone().is_none()) {
        let devices: Vec<(Id<Device>, &String)> = used
            .far
            .iter()
            .filter_map(|point| if let Point::Device(on, mark) = point { Some((*on, mark)) } else { None })
            .collect();
        let Some(nth) = devices.iter().position(|(on, _)| *on == id) else { continue };
        let mark = devices.get(nth).map(|(_, mark)| (*mark).clone());
        let does = used.function.wire_use();
        let words = does.printed();
        let goes_on = used.far.iter().any(|point| matches!(point, Point::Cable(_)));
        let passes = ends::passed(site, wiring, used, &used.far).is_some();
        let mut comes = vec![if nth == 0 { words.to_owned() } else { format!("{words}, from the device before") }];
        if nth + 1 < devices.len() {
            comes.push(format!("{words}, a short wire on to the next device"));
        }
        if goes_on && nth == 0 {
            let how = if passes { "on by the next cable" } else { "joined to the cables that go on" };
            comes.push(format!("{words}, {how}"));
        }
        // Contacts have two terminals of one mark.
        match rungs.iter_mut().find(|(other, rung)| *other == does && rung.mark == mark) {
            Some((_, rung)) => rung.comes.extend(comes),
            None => rungs.push((does, Rung { comes, mark, ..Rung::default() })),
        }
    }
    rungs.sort_by_key(|(does, _)| *does == WireUse::SupplyNegative);
    if let Some((_, first)) = rungs.first_mut().filter(|_| site.devices[id].diode) {
        first.fitted = Fitted::Parts(vec!["diode, its banded end at +".to_owned()]);
    }
    rungs.into_iter().map(|(_, rung)| rung).collect()
}

/// What stands at a place in a loop, in order.
#[derive(Clone, Copy)]
enum Stop<'s> {
    Device(Id<Device>),
    Resistor(&'s Resistance),
    Cable(Id<Run>),
}

fn stops(site: &Site, run: Id<Run>) -> Vec<Stop<'_>> {
    let stop = |item| match item {
        &Mounted::Device(id) => Some(Stop::Device(id)),
        Mounted::Run(run) => Some(Stop::Cable(*run)),
        Mounted::Resistor(value) => Some(Stop::Resistor(&value.value)),
        Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Feed(_) | Mounted::Hop(_) => None,
    };
    let mounted = site.runs[run].mounted.iter().filter_map(stop);
    mounted.chain(site.next_run(run).map(Stop::Cable)).collect()
}

fn in_loop(compiled: &Compiled, id: Id<Device>, run: Id<Run>, zone: Id<Zone>) -> Vec<Rung> {
    let site = &compiled.site;
    let stops = stops(site, run);
    let Some(at) = stops.iter().position(|stop| matches!(stop, Stop::Device(on) if *on == id)) else {
        return Vec::new();
    };
    let (before, rest) = stops.split_at(at);
    let after = rest.get(1..).unwrap_or_default();
    let resistor = |stop: &Stop<'_>| if let Stop::Resistor(value) = stop { Some(words::resistor(value)) } else { None };
    let [out, back] = [Function::LoopOut(zone), Function::LoopBack(zone)].map(|side| side.wire_use().printed());
    // What comes first at a place and is no device belongs to the first device.
    let first = !before.iter().any(|stop| matches!(stop, Stop::Device(_)));
    let leading: Vec<String> = before.iter().filter(|_| first).filter_map(resistor).collect();
    let trailing: Vec<String> = after.iter().map_while(resistor).collect();
    let next = after.get(trailing.len()).copied();
    let enters = match before.last() {
        _ if first && !before.iter().any(|stop| matches!(stop, Stop::Cable(_))) => out.to_owned(),
        Some(Stop::Cable(_)) => format!("{back}, of the cable that goes on"),
        Some(Stop::Device(_) | Stop::Resistor(_)) | None => format!("{out}, from the device before"),
    };
    if site.loop_fed(id).is_some() {
        let mark = |is_out| site.loop_fed_mark(zone, id, is_out);
        let rungs = [(enters, mark(true)), (back.to_owned(), mark(false))];
        let rungs = rungs.map(|(comes, mark)| Rung { comes: vec![comes], mark, ..Rung::default() });
        return across(rungs.to_vec(), [leading, trailing].concat(), next, [out, back]);
    }
    let lies_across = site.lies_across(zone);
    let mut rungs = Vec::new();
    let mut comes = vec![enters];
    let (in_series, beside) = if lies_across { (Vec::new(), leading) } else { (leading, Vec::new()) };
    for value in in_series {
        rungs.push(Rung { comes: std::mem::take(&mut comes), fitted: Fitted::Parts(vec![value]), ..Rung::default() });
    }
    let contacts = contacts(site, id);
    let is_open = contacts.last().is_some_and(|(contact, _)| contact.form == ContactForm::NormallyOpen);
    for (contact, shunt) in contacts {
        let closed = contact.form == ContactForm::NormallyClosed;
        let shunt = shunt.map(|value| Fitted::Parts(vec![words::resistor(&value)])).unwrap_or_default();
        let mark = Some(contact.mark.clone());
        rungs.push(Rung {
            comes: std::mem::take(&mut comes),
            mark: mark.clone(),
            contact: Some(closed),
            fitted: shunt,
        });
        rungs.push(Rung { mark, fitted: Fitted::Wire, ..Rung::default() });
    }
    if let Some(last) = rungs.last_mut() {
        last.fitted = Fitted::Nothing;
        last.comes.extend(is_open.then(|| back.to_owned()));
    }
    let fitted = [beside, trailing].concat();
    if is_open { across(rungs, fitted, next, [out, back]) } else { series(rungs, fitted, after, [out, back]) }
}

/// The contacts of a device in the order in which the loop passes them, each with the resistor across it.
fn contacts(site: &Site, id: Id<Device>) -> Vec<(&ContactData, Option<Resistance>)> {
    let device = &site.devices[id];
    let part = device.part.map(|part| &site.parts[part]);
    let tamper = part.and_then(|part| part.tamper.as_ref()).filter(|_| device.tamper_in_loop);
    let shunt = device.shunt.as_ref().map(|shunt| shunt.value);
    tamper
        .map(|contact| (contact, None))
        .into_iter()
        .chain(site.contact_of(id).map(|contact| (contact, shunt)))
        .collect()
}

/// Ends rungs whose last two lie across the pair: what follows is wired from them.
fn across(mut rungs: Vec<Rung>, resistors: Vec<String>, next: Option<Stop<'_>>, [out, back]: [&str; 2]) -> Vec<Rung> {
    let on = match next {
        None | Some(Stop::Resistor(_)) => None,
        Some(Stop::Device(_)) => Some("on to the next device"),
        Some(Stop::Cable(_)) => Some("on by the next cable"),
    };
    let [.., one, other] = rungs.as_mut_slice() else { return rungs };
    if let Some(on) = on {
        one.comes.push(format!("{out}, {on}"));
        other.comes.push(format!("{back}, {on}"));
    }
    for value in resistors {
        match &mut one.fitted {
            Fitted::Parts(parts) => parts.push(value),
            fitted @ (Fitted::Nothing | Fitted::Wire) => *fitted = Fitted::Parts(vec![value]),
        }
    }
    rungs
}

/// Ends rungs in series: through resistors to the conductor that comes back, or on.
fn series(mut rungs: Vec<Rung>, resistors: Vec<String>, after: &[Stop<'_>], [out, back]: [&str; 2]) -> Vec<Rung> {
    let rest = after.get(resistors.len()..).unwrap_or_default();
    for value in resistors {
        if let Some(last) = rungs.last_mut() {
            last.fitted = Fitted::Parts(vec![value]);
        }
        rungs.push(Rung::default());
    }
    let Some(last) = rungs.last_mut() else { return rungs };
    match rest {
        [] => last.comes.push(back.to_owned()),
        [Stop::Device(_), ..] => last.comes.push(format!("{out}, on to the next device")),
        [Stop::Resistor(_), ..] => {}
        [Stop::Cable(_), others @ ..] => {
            last.comes.push(format!("{out}, on by the next cable"));
            // The last cable's way back meets the conductor that goes home.
            if others.iter().all(|stop| matches!(stop, Stop::Cable(_))) {
                let comes = vec![format!("{back}, of the last cable that goes on"), back.to_owned()];
                rungs.push(Rung { comes, ..Rung::default() });
            }
        }
    }
    rungs
}
