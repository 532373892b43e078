//! The way of a loop at the far end of a cable: from the conductor that goes out, through what stands there, to the
//! conductor that comes back.

use super::ends;
use crate::base::Id;
use crate::model::{Device, Mounted, Run, Site, Zone};
use crate::quantity::Resistance;
use crate::register::{Function, Wiring};
use crate::words;

/// One sentence for the person at the end of the cable: "GN → Motion detector: tamper, alarm → resistor 2.2 kΩ → WH".
pub(crate) fn at_end_of(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> String {
    if let Some(words) = under_terminals(site, wiring, run, run, zone) {
        return words;
    }
    let [out, back] = both(zone).map(|function| mark_of(site, wiring, run, function));
    let Way { across, series } = way(site, wiring, run, zone);
    let words = |stops: Vec<Stop>, between: &str| {
        let words: Vec<String> = stops.iter().filter_map(|stop| stop.words(site, wiring, run, zone)).collect();
        words.join(between)
    };
    let across = (!across.is_empty()).then(|| format!("across {out} and {back}: {}", words(across, "; ")));
    // What follows a contact across the pair is wired from its terminals, not teed off before them.
    let from = if across.is_some() { "from those terminals " } else { "" };
    let series = (!series.is_empty()).then(|| format!("{from}{out} → {} → {back}", words(series, " → ")));
    let said: Vec<String> = across.into_iter().chain(series).collect();
    if said.is_empty() { format!("nothing is mounted here: {out} and {back} end open") } else { said.join("; ") }
}

/// The same for the end at which a cable starts, where the one before it ends: what its two conductors are joined to.
/// "GN from Motion detector: alarm, WH on to Z3: WH white".
pub(crate) fn at_start_of(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> String {
    let [out, back] = both(zone).map(|function| mark_of(site, wiring, run, function));
    let Some(before) = site.runs[run].upstream else { return String::new() };
    if let Some(words) = under_terminals(site, wiring, before, run, zone) {
        return words;
    }
    let of_before = both(zone).map(|function| labelled(site, wiring, before, function));
    let Way { across: _, series } = way(site, wiring, before, zone);
    let [mut from, mut on] = of_before;
    if let Some(at) = series.iter().position(|stop| *stop == Stop::Cable(run)) {
        let [first, second] = both(zone);
        let stop = |at: usize, side| match series.get(at)? {
            Stop::Cable(by) => Some(labelled(site, wiring, *by, side)),
            other @ (Stop::Device(_) | Stop::Fed(_) | Stop::Over(_) | Stop::Resistor(_)) => {
                other.words(site, wiring, before, zone)
            }
        };
        from = at.checked_sub(1).and_then(|at| stop(at, second)).unwrap_or(from);
        on = stop(at + 1, first).unwrap_or(on);
    }
    format!("{out} joined to {from}, {back} joined to {on}")
}

/// The pair of the cable `of` where the one that ends at `place` and the one that goes on meet under the terminals of a
/// contact across them: "BU with Z13: BU blue under Smoke, hall, alarm terminal; WH with Z13: WH white under its other
/// alarm terminal".
fn under_terminals(site: &Site, wiring: &Wiring, place: Id<Run>, of: Id<Run>, zone: Id<Zone>) -> Option<String> {
    let passed = |function| {
        let (_, used) = wiring.conductor_for(place, function)?;
        ends::passed(site, wiring, used, &used.far)
    };
    let [out, back] = both(zone);
    let (device, mark, on) = passed(out)?;
    let (other_device, other_mark, other_on) = passed(back)?;
    if (other_device, other_on) != (device, on) {
        return None;
    }
    let other = if of == place { on } else { place };
    let [out, back] = [out, back].map(|function| {
        format!("{} with {}", mark_of(site, wiring, of, function), labelled(site, wiring, other, function))
    });
    let called = |mark: &str| {
        let is_number = mark.chars().all(|sign| sign.is_ascii_digit());
        if is_number { format!("terminal {mark}") } else { format!("{mark} terminal") }
    };
    let other = if mark == other_mark { "other " } else { "" };
    let (one, other) = (called(mark), format!("its {other}{}", called(other_mark)));
    Some(format!("{out} under {}, {one}; {back} under {other}", words::placed(site, device)))
}

/// What a loop meets at the end of a cable.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Stop {
    /// A device.
    Device(Id<Device>),
    /// A device that the loop feeds.
    Fed(Id<Device>),
    /// A device behind something in series, from here over to the other conductor.
    Over(Id<Device>),
    /// A resistor.
    Resistor(Resistance),
    /// A cable on from here.
    Cable(Id<Run>),
}

impl Stop {
    fn words(&self, site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Option<String> {
        Some(match self {
            Self::Device(id) => through(site, *id),
            Self::Fed(id) => fed(site, wiring, run, zone, *id),
            Self::Over(id) => format!("from here over to the other conductor: {}", through(site, *id)),
            Self::Resistor(value) => format!("resistor {}", words::resistor(value)),
            Self::Cable(next) => return onward(site, wiring, *next, zone),
        })
    }
}

/// What stands at the end of a cable: what lies across its pair, and what is in series between its two conductors.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Way {
    pub(crate) across: Vec<Stop>,
    pub(crate) series: Vec<Stop>,
}

/// What stands at the end of a run of a zone's loop.
pub(crate) fn way(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Way {
    let mut parallel = site.lies_across(zone);
    // Open contacts lie across the pair; everything else is in series between its two conductors.
    let mut way = Way::default();
    let by = |id| onward(site, wiring, id, zone).map(|_| Stop::Cable(id));
    for item in &site.runs[run].mounted {
        match item {
            // What comes behind something in series bridges only what follows.
            Mounted::Device(id) if site.loop_fed(*id).is_some() => way.across.push(Stop::Fed(*id)),
            Mounted::Device(id) if site.is_open_at_rest(*id) && !parallel && !way.series.is_empty() => {
                way.series.push(Stop::Over(*id));
            }
            Mounted::Device(id) if site.is_open_at_rest(*id) => way.across.push(Stop::Device(*id)),
            Mounted::Device(id) => {
                parallel = false;
                way.series.push(Stop::Device(*id));
            }
            Mounted::Resistor(value) => way.series.push(Stop::Resistor(value.value)),
            Mounted::Run(branch) => way.series.extend(by(*branch)),
            Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Feed(_) | Mounted::Hop(_) => {}
        }
    }
    way.series.extend(site.next_run(run).and_then(by));
    if parallel {
        way.across.append(&mut way.series);
    }
    way
}

/// A conductor of a loop at an end: of the cable that comes, or of one that goes on.
pub(crate) type Side = (Id<Run>, Function);

/// The conductors that are joined to each other where a cable ends, two and two. What is joined to a device or a resistor
/// is none of them.
pub(crate) fn joints_at(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Vec<(Side, Side)> {
    let [out, back] = both(zone);
    let Way { across, series } = way(site, wiring, run, zone);
    let mut joints = Vec::new();
    for stop in across {
        if let Stop::Cable(next) = stop {
            joints.extend([out, back].map(|side| ((run, side), (next, side))));
        }
    }
    let mut before = Some((run, out)).filter(|_| !series.is_empty());
    for stop in series {
        match stop {
            Stop::Cable(next) => {
                joints.extend(before.map(|before| (before, (next, out))));
                before = Some((next, back));
            }
            Stop::Device(_) | Stop::Fed(_) | Stop::Resistor(_) => before = None,
            // It leaves the way that the loop goes on.
            Stop::Over(_) => {}
        }
    }
    joints.extend(before.map(|before| (before, (run, back))));
    joints
}

fn both(zone: Id<Zone>) -> [Function; 2] {
    [Function::LoopOut(zone), Function::LoopBack(zone)]
}

pub(super) fn mark_of(site: &Site, wiring: &Wiring, run: Id<Run>, function: Function) -> String {
    let found = wiring.conductor_for(run, function);
    found.map_or_else(|| "?".to_owned(), |(cable, used)| words::conductor_mark(site, cable, used.position))
}

fn labelled(site: &Site, wiring: &Wiring, run: Id<Run>, function: Function) -> String {
    let found = wiring.conductor_for(run, function);
    found.map_or_else(|| "?".to_owned(), |(cable, used)| words::labelled(site, cable, used))
}

/// The contacts of a device in the order in which the loop passes them.
fn through(site: &Site, id: Id<Device>) -> String {
    let device = &site.devices[id];
    let Some(part) = device.part.map(|part| &site.parts[part]) else { return words::placed(site, id) };
    let tamper = part.tamper.iter().filter(|_| device.tamper_in_loop).map(|contact| contact.mark.clone());
    let alarm = site.contact_of(id).into_iter().map(|contact| match &device.shunt {
        Some(shunt) => format!("{} with {} across it", contact.mark, words::resistor(&shunt.value)),
        None => contact.mark.clone(),
    });
    let marks: Vec<String> = tamper.chain(alarm).collect();
    format!("{}: {}", words::placed(site, id), marks.join(", then "))
}

/// A two-wire detector with the conductors on its terminals: "Smoke, hall: RD on +, BK on -".
fn fed(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>, id: Id<Device>) -> String {
    let on = |(function, out)| {
        let mark = site.loop_fed_mark(zone, id, out).unwrap_or_default();
        format!("{} on {mark}", mark_of(site, wiring, run, function))
    };
    let [out, back] = both(zone);
    format!("{}: {}", words::placed(site, id), [(out, true), (back, false)].map(on).join(", "))
}

fn onward(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Option<String> {
    let (cable, out) = wiring.conductor_for(run, Function::LoopOut(zone))?;
    let (_, back) = wiring.conductor_for(run, Function::LoopBack(zone))?;
    let mark = |position| words::conductor_mark(site, cable, position);
    Some(format!("on by {} ({} out, {} back)", cable.label, mark(out.position), mark(back.position)))
}
