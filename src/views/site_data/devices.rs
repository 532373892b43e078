//! Contacts, detectors and sounders in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Number;
use super::places::room_name;
use crate::base::Id;
use crate::model::{self, DeviceKind, OutputRef, Owner};
use crate::register::Wiring;

/// A device where it is mounted.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Device {
    /// By what cables refer to it: its own name, or that of its zone or circuit and a number ("zone-7.1").
    pub id: String,
    /// "contact", "detector", "sounder" or "wireless".
    pub kind: &'static str,
    /// Name for people.
    pub title: String,
    /// Name of the part it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// Name of the opening that it watches.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening: Option<String>,
    /// Name of the room it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// Height above the floor in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mount: Option<Number>,
    /// Label of the cable at whose end it is; none at the board and for wireless.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cable: Option<String>,
    /// The output that feeds it through its own cable.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<Output>,
    /// Names of the circuits that feed it.
    pub circuits: Vec<String>,
    /// The resistor across its contact in ohm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shunt_ohms: Option<Number>,
    /// Whether its cover contact is in the loop.
    pub tamper_in_loop: bool,
    /// Name of the receiver that hears it, for wireless.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub receiver: Option<String>,
    /// Day its own battery was put in, as year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub battery_installed: Option<String>,
}

/// An output of a board.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Output {
    /// Name of the board.
    pub board: String,
    /// Name of the output.
    pub output: String,
}

/// The devices of a zone or circuit, in the order of the text.
pub fn devices(site: &model::Site, wiring: &Wiring, owner: Owner) -> Vec<Device> {
    site.devices
        .entries()
        .filter(|(_, device)| owner_of(site, device) == Some(owner))
        .map(|(id, device)| Device {
            id: device_id(site, id),
            kind: kind_word(device.kind),
            title: device.title.clone(),
            part: device.part.map(|part| site.parts[part].name.value.clone()),
            opening: device.opening.as_ref().map(|opening| site.openings[opening.value].name.value.clone()),
            room: room_name(site, device.room),
            mount: device.mount.and_then(|height| Number::of(height.0)),
            cable: device.run.and_then(|run| wiring.cable_of(run)).map(|cable| cable.label.clone()),
            supply: device.supply.as_ref().and_then(|supply| output(site, supply.value)),
            circuits: device.fed_by.iter().map(|circuit| site.circuits[*circuit].name.value.clone()).collect(),
            shunt_ohms: device.shunt.as_ref().and_then(|shunt| Number::of(shunt.value.nominal.0)),
            tamper_in_loop: device.tamper_in_loop,
            receiver: device.receiver.as_ref().map(|receiver| site.boards[receiver.value].name.value.clone()),
            battery_installed: device.battery.map(|day| day.to_string()),
        })
        .collect()
}

/// By what cables refer to a device.
pub fn device_id(site: &model::Site, id: Id<model::Device>) -> String {
    let device = &site.devices[id];
    if let Some(name) = &device.name {
        return name.value.clone();
    }
    let owner = owner_of(site, device);
    let earlier = site
        .devices
        .entries()
        .filter(|(other, device)| *other <= id && device.name.is_none() && owner_of(site, device) == owner)
        .count();
    match owner {
        Some(Owner::Zone(zone)) => format!("zone-{}.{earlier}", site.zones[zone].number.value),
        Some(Owner::Circuit(circuit)) => format!("circuit-{}.{earlier}", site.circuits[circuit].name.value),
        _ => format!("device.{earlier}"),
    }
}

/// The output of a reference; none where it could not be resolved.
pub fn output(site: &model::Site, of: OutputRef) -> Option<Output> {
    let output = site.part_of(of.board)?.outputs.get(of.output)?;
    Some(Output { board: site.boards[of.board].name.value.clone(), output: output.name.value.clone() })
}

fn owner_of(site: &model::Site, device: &model::Device) -> Option<Owner> {
    device.zone.map(Owner::Zone).or_else(|| device.run.map(|run| site.runs[run].owner))
}

fn kind_word(kind: DeviceKind) -> &'static str {
    match kind {
        DeviceKind::Contact => "contact",
        DeviceKind::Detector => "detector",
        DeviceKind::Sounder => "sounder",
        DeviceKind::Wireless => "wireless",
    }
}
