//! The way of a loop at the far end of a cable: from the conductor that goes out, through what stands there, to the
//! conductor that comes back.

use super::words;
use crate::base::Id;
use crate::model::{Device, Mounted, Run, Site, Zone};
use crate::register::landings::side_by_side;
use crate::register::{Function, Wiring};

/// One sentence for the person at the end of the cable: "GN → Motion detector: tamper, alarm → resistor 2.2 kΩ → WH".
pub fn at_end_of(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> String {
    let side = |function| {
        words::conductor_for(wiring, run, function)
            .map_or_else(|| "?".to_owned(), |(cable, used)| words::conductor_mark(site, cable, used.position))
    };
    let (out, back) = (side(Function::LoopOut(zone)), side(Function::LoopBack(zone)));
    let parallel = side_by_side(site, zone);
    let mut steps: Vec<String> = Vec::new();
    for item in &site.runs[run].mounted {
        match item {
            Mounted::Device(id) => steps.push(through(site, *id)),
            Mounted::Resistor(value) => steps.push(format!("resistor {}", words::resistor(&value.value))),
            _ => {}
        }
    }
    let next = site.runs.entries().filter(|(_, next)| next.upstream == Some(run) && next.owner == site.runs[run].owner);
    steps.extend(next.filter_map(|(id, _)| onward(site, wiring, id, zone)));
    match (steps.is_empty(), parallel) {
        (true, _) => format!("nothing is mounted here: {out} and {back} end open"),
        (false, true) => format!("across {out} and {back}, side by side: {}", steps.join("; ")),
        (false, false) => format!("{out} → {} → {back}", steps.join(" → ")),
    }
}

/// The contacts of a device in the order in which the loop passes them.
fn through(site: &Site, id: Id<Device>) -> String {
    let device = &site.devices[id];
    let Some(part) = device.part.map(|part| &site.parts[part]) else { return words::device(site, id) };
    let tamper = part.tamper.iter().filter(|_| device.tamper_in_loop).map(|contact| contact.mark.clone());
    let alarm = part.contacts.iter().take(1).map(|contact| match &device.shunt {
        Some(shunt) => format!("{} with {} across it", contact.mark, words::resistor(&shunt.value)),
        None => contact.mark.clone(),
    });
    let marks: Vec<String> = tamper.chain(alarm).collect();
    format!("{}: {}", words::device(site, id), marks.join(", then "))
}

fn onward(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Option<String> {
    let (cable, out) = words::conductor_for(wiring, run, Function::LoopOut(zone))?;
    let (_, back) = words::conductor_for(wiring, run, Function::LoopBack(zone))?;
    let mark = |position| words::conductor_mark(site, cable, position);
    Some(format!("on by {} ({} out, {} back)", cable.label, mark(out.position), mark(back.position)))
}
