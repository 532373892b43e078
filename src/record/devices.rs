//! Contacts, detectors, sounders and wireless detectors.

use super::chain::Output;
use super::item::{Printed, Reference, Resistor, Title, record};
use super::names::{Names, Subject, owner_of};
use super::places::Spot;
use crate::base::Id;
use crate::model::{self, DeviceKind, Owner};
use crate::quantity::Metres;
use crate::terms::Faces;

record! {
    /// A device where it is mounted.
    Device {
        /// What a comparison knows it by.
        #[serde(skip)]
        known_as: Subject,
        /// By what others refer to it: its own name, or that of its zone or circuit and a number ("zone-7.1").
        id: String,
        /// A name of its own.
        name: Option<String> => "name",
        /// "contact", "detector", "sounder", "load", "wireless" or "fault".
        kind: &'static str => "kind",
        /// Name for people.
        title: Title => "title",
        /// Name of the part it is; none of a fault contact, which is a part of its board.
        part: Option<Reference> => "part",
        /// Name of the board whose fault contact it is.
        board: Option<Reference> => "fault contact of",
        /// Name of the opening that it watches.
        opening: Option<Reference> => "on",
        /// True where another zone watches that opening as well, and is meant to.
        shares_opening: bool => "shares its opening",
        /// Name of the room it is in.
        room: Option<Reference> => "room",
        /// Height above the floor in metres.
        mount: Option<Metres> => "height",
        /// Where it hangs on its level's plan.
        spot: Option<Spot> => "spot on the plan",
        /// Label of the cable at whose end it is; none at the board and for wireless.
        cable: Option<Reference> => "at the end of",
        /// The output that feeds it through its own cable.
        supply: Option<Output> => "supply",
        /// Names of the circuits that feed it.
        circuits: Vec<String>,
        /// The resistor across its contact.
        shunt: Option<Resistor> => "resistor across its contact",
        /// Whether a diode is fitted across its coil.
        diode: bool => "diode across its coil",
        /// Whether its cover contact is in the loop.
        tamper_in_loop: bool => "cover contact in the loop",
        /// True where it is there and cannot be moved or exchanged.
        fixed: bool => "fixed",
        /// True where it was there before.
        existing: bool => "was there before",
        /// Name of the receiver that hears it, for wireless.
        receiver: Option<Reference> => "receiver",
        /// Day its own battery was put in, as year-month-day: of what is wireless, and of a siren or lock that has one.
        battery_installed: Option<Printed<jiff::civil::Date>> => "battery put in",
        /// Day on which a detector was made, as year-month-day.
        made: Option<Printed<jiff::civil::Date>> => "made",
        /// What it looks at that may mislead it, of a motion detector.
        faces: Option<&'static str> => "looks at",
        /// How far it is from what the spec names, in the order of the text.
        near: Vec<Near> => "from",
    }

    /// How far a detector is from something.
    Near by what {
        /// From what.
        what: &'static str,
        /// How far in metres.
        distance: Metres => "",
    }
}

/// The devices of a zone or circuit, in the order of the text.
pub(crate) fn devices(names: &Names<'_>, owner: Owner) -> Vec<Device> {
    let own = names.site.devices.entries().filter(|(_, device)| owner_of(names.site, device) == Some(owner));
    own.map(|(id, _)| of_device(names, id)).collect()
}

fn of_device(names: &Names<'_>, id: Id<model::Device>) -> Device {
    let site = names.site;
    let model::Device {
        kind,
        name,
        title,
        part,
        board,
        opening,
        room,
        mount,
        hung,
        zone: _, // stands in its zone
        run,
        supply,
        supply_written: _, // what cannot be resolved was reported
        fed_by,
        shunt,
        diode,
        tamper_in_loop,
        fixed,
        existing,
        shares,
        receiver,
        receiver_written: _,
        battery,
        made,
        faces,
        near,
        place: _,
    } = &site.devices[id];
    let Reference { subject: known_as, text } = names.device(id);
    let part_title = part.map(|part| site.parts[part].title.as_str()).unwrap_or_default();
    let usual = match opening {
        Some(opening) => format!("{part_title}, {}", site.openings[opening.value].title),
        None => part_title.to_owned(),
    };
    Device {
        known_as,
        id: text,
        name: name.as_ref().map(|name| name.value.clone()),
        kind: kind_word(*kind),
        title: Title::new(title, &usual),
        part: part.filter(|_| board.is_none()).map(|part| names.part(part)),
        board: board.as_ref().map(|board| names.board(board.value)),
        opening: opening.as_ref().map(|opening| names.opening(opening.value)),
        shares_opening: *shares,
        room: room.map(|room| names.room(room)),
        mount: *mount,
        spot: hung.as_ref().map(Spot::of),
        cable: run.map(|run| names.run(run)),
        supply: supply.as_ref().map(|supply| names.output(supply.value)),
        circuits: fed_by.iter().map(|circuit| names.circuit(*circuit).text).collect(),
        shunt: shunt.as_ref().map(|shunt| shunt.value.into()),
        diode: *diode,
        tamper_in_loop: *tamper_in_loop,
        fixed: *fixed,
        existing: *existing,
        receiver: receiver.as_ref().map(|receiver| names.board(receiver.value)),
        battery_installed: battery.map(Printed),
        made: made.map(Printed),
        faces: faces.as_ref().map(|faces| Faces::word(faces.value)),
        near: near.iter().map(|near| Near { what: near.what.value.word(), distance: near.distance }).collect(),
    }
}

fn kind_word(kind: DeviceKind) -> &'static str {
    match kind {
        DeviceKind::Contact => "contact",
        DeviceKind::Detector => "detector",
        DeviceKind::Sounder => "sounder",
        DeviceKind::Load => "load",
        DeviceKind::Wireless => "wireless",
        DeviceKind::Fault => "fault",
    }
}
