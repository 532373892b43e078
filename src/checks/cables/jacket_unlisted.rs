//! A cable whose jacket is not one that its way or its use calls for, where the profile is that of the United States.
//!
//! A riser is left out: the types for it are not asked for in one- and two-family houses.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::sound;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Mounted, Owner, Run, Site};
use crate::profiles::jackets;
use crate::register::Cable;
use crate::terms::{Passage, Profile, Senses, ZoneType};
use crate::words::Screen;

check!(
    "jacket-unlisted",
    Basis::Published("NFPA 70 (NEC), editions of 1996 to 2020, from memory; the local code prevails"),
    "a cable whose jacket is not a type for its way or its use"
);

/// What a cable's way or use calls for.
struct Call {
    what: &'static str,
    fits: Option<bool>,
    types: String,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if site.profile != Some(Profile::UsHousehold) {
        return;
    }
    let warning = fire_devices(site);
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let kind = &site.cables[cable.kind];
        let Some(jacket) = &kind.jacket else { continue };
        for call in calls(site, cable, &jacket.value, &warning) {
            if call.fits != Some(false) {
                continue;
            }
            let span = run.cable.as_ref().map_or(run.span(), |written| written.span);
            let label = Screen.cable(context.wiring, cable.run);
            let title = format!("{label} {}, and its jacket is {}", call.what, jacket.value);
            let finding = Diagnostic::new(&RULE, span, title)
                .here(format!("`{}`", kind.name.value))
                .also(jacket.span, format!("{}: how this jacket burns", jacket.value))
                .why("The type says how fast a flame runs along the cable and how much it smokes. The inspector reads it off the jacket, and a cable of the wrong type comes out again.")
                .help(if run.existing {
                    format!("It was there before: ask the authority whether it may stay, and accept this with the answer. A new cable there is of type {}.", call.types)
                } else {
                    format!("Take a cable of type {}, and ask the authority which edition it goes by.", call.types)
                })
                .about(&cable.label);
            sink.push(about::owner(site, run.owner, finding));
        }
    }
}

fn calls(site: &Site, cable: &Cable, jacket: &str, warning: &BTreeSet<Id<Device>>) -> Vec<Call> {
    let mut found = Vec::new();
    let passes = |run: &Id<Run>| site.runs[*run].passes.as_ref().is_some_and(|passes| passes.value == Passage::Plenum);
    let plenum = cable.carries.iter().any(passes);
    let fire = cable.carries.iter().any(|run| feeds_fire(site, *run, warning));
    // A type that is named suits all that the cable is for.
    let fitting = |types: &[&'static str]| -> String {
        let suits = |one: &&&str| {
            (!plenum || jackets::suits_plenum(one) == Some(true)) && (!fire || jackets::suits_fire(one) == Some(true))
        };
        let all: Vec<&str> = types.iter().filter(suits).copied().collect();
        list(&all, "or")
    };
    if plenum {
        let types = fitting(jackets::PLENUM);
        found.push(Call { what: "passes a plenum", fits: jackets::suits_plenum(jacket), types });
    }
    if fire {
        let types = fitting(jackets::FIRE);
        found.push(Call { what: "is part of the fire alarm", fits: jackets::suits_fire(jacket), types });
    }
    found
}

/// The smoke and heat detectors of a site, and what sounds for a fire indoors.
fn fire_devices(site: &Site) -> BTreeSet<Id<Device>> {
    let detects = |id| matches!(site.senses(id), Some(Senses::Smoke | Senses::Heat));
    // One in open air calls the neighbours, and wakes nobody.
    let indoors = |device: &Device| device.room.is_none_or(|room| !site.rooms[room].is_outdoors());
    let sounds = |device: &Device| {
        device.kind == DeviceKind::Sounder && indoors(device) && sound::is_sounded_by(site, device, ZoneType::is_fire)
    };
    let fire = |(id, device): &(Id<Device>, &Device)| detects(*id) || sounds(device);
    site.devices.entries().filter(fire).map(|(id, _)| id).collect()
}

/// True for a run of a loop with fire detectors, and for one of a circuit that feeds some here or further on, or sounds for a
/// fire there.
fn feeds_fire(site: &Site, run: Id<Run>, fire: &BTreeSet<Id<Device>>) -> bool {
    let owner = site.runs[run].owner;
    let is_fire = |item: &Mounted| item.device_or_fed().is_some_and(|id| fire.contains(&id));
    let is_beyond = |at: Id<Run>| at == run || site.runs_before(at).any(|before| before == run);
    match owner {
        Owner::Zone(zone) => site.devices_of(zone).any(|(id, _)| fire.contains(&id)),
        Owner::Circuit(_) => site.all_mounted(owner).any(|(at, item)| is_fire(item) && at.is_some_and(is_beyond)),
        Owner::Bus(_) | Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => false,
    }
}
