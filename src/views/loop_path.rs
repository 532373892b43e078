//! The way of a loop at the far end of a cable: from the conductor that goes out, through what stands there, to the
//! conductor that comes back.

use crate::base::Id;
use crate::model::{Device, Mounted, Run, Site, Zone};
use crate::register::{Function, Wiring};
use crate::words;

/// One sentence for the person at the end of the cable: "GN → Motion detector: tamper, alarm → resistor 2.2 kΩ → WH".
pub(crate) fn at_end_of(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> String {
    let mark_of = |function| {
        wiring
            .conductor_for(run, function)
            .map_or_else(|| "?".to_owned(), |(cable, used)| words::conductor_mark(site, cable, used.position))
    };
    let (out, back) = (mark_of(Function::LoopOut(zone)), mark_of(Function::LoopBack(zone)));
    let mut parallel = site.lies_across(zone);
    // Open contacts lie across the pair; everything else is in series between its two conductors.
    let (mut across, mut series): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for item in &site.runs[run].mounted {
        match item {
            Mounted::Device(id) if site.is_open_at_rest(*id) => across.push(through(site, *id)),
            Mounted::Device(id) => {
                parallel = false;
                series.push(through(site, *id));
            }
            Mounted::Resistor(value) => series.push(format!("resistor {}", words::resistor(&value.value))),
            Mounted::Run(_) | Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Feed(_) => {}
        }
    }
    series.extend(site.runs_after(run).filter_map(|(id, _)| onward(site, wiring, id, zone)));
    if parallel {
        across.append(&mut series);
    }
    let across = (!across.is_empty()).then(|| format!("across {out} and {back}: {}", across.join("; ")));
    let series = (!series.is_empty()).then(|| format!("{out} → {} → {back}", series.join(" → ")));
    let said: Vec<String> = across.into_iter().chain(series).collect();
    if said.is_empty() { format!("nothing is mounted here: {out} and {back} end open") } else { said.join("; ") }
}

/// The contacts of a device in the order in which the loop passes them.
fn through(site: &Site, id: Id<Device>) -> String {
    let device = &site.devices[id];
    let Some(part) = device.part.map(|part| &site.parts[part]) else { return words::placed(site, id) };
    let tamper = part.tamper.iter().filter(|_| device.tamper_in_loop).map(|contact| contact.mark.clone());
    let alarm = part.contacts.iter().take(1).map(|contact| match &device.shunt {
        Some(shunt) => format!("{} with {} across it", contact.mark, words::resistor(&shunt.value)),
        None => contact.mark.clone(),
    });
    let marks: Vec<String> = tamper.chain(alarm).collect();
    format!("{}: {}", words::placed(site, id), marks.join(", then "))
}

fn onward(site: &Site, wiring: &Wiring, run: Id<Run>, zone: Id<Zone>) -> Option<String> {
    let (cable, out) = wiring.conductor_for(run, Function::LoopOut(zone))?;
    let (_, back) = wiring.conductor_for(run, Function::LoopBack(zone))?;
    let mark = |position| words::conductor_mark(site, cable, position);
    Some(format!("on by {} ({} out, {} back)", cable.label, mark(out.position), mark(back.position)))
}
