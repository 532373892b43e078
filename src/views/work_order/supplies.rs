//! Volts to measure where something with a supply is new, exchanged or somewhere else now.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Sides, buses, devices, opened, touched, tried};
use crate::calc::as_built::at_rest;
use crate::calc::meter::volts_shown_by_a_meter;
use crate::calc::power::{Consumer, Load};
use crate::diff::{Kind, What};
use crate::record::fact;
use crate::words::{self, Paper};

/// A supply to measure at the terminals of what it feeds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SupplyMeasurement {
    /// The board or device.
    pub at: String,
    /// What feeds it.
    pub supply: String,
    /// Volts on mains, at rest, as a meter shows them.
    pub volts: String,
}

/// One for each board and device of which the part, the place, the existence or a cable that brings its supply is new, and for all
/// that a new board feeds; none for what is off at rest.
pub(crate) fn of(sides: &Sides<'_>) -> Vec<SupplyMeasurement> {
    let site = &sides.new.site;
    let touched = |kind: Kind, key: &str, fields: &[&str]| {
        sides.changes(kind).any(|change| {
            let is = change.new.as_ref().is_some_and(|(subject, _)| subject.key == key);
            // A device whose room only has another name now is where it was.
            let stays = kind == Kind::Device && touched::is_on_paper(sides, change);
            is && !stays
                && (change.what() == What::Added
                    || change.is_another()
                    || fields.iter().any(|field| change.field(field).is_some()))
        })
    };
    let (renewed, reached) = (tried::renewed(sides), buses::reached_otherwise(sides));
    let exchanged = devices::exchanged(sides, false);
    let is_touched = |consumer: Consumer| match consumer {
        Consumer::Board(id) => {
            reached.contains(&id) || touched(Kind::Board, &site.boards[id].name.value, &[fact::Board::room])
        }
        Consumer::Device(id) => {
            let key = sides.new_keys.devices.iter().find(|(_, device)| **device == id);
            exchanged.contains(&id)
                || key.is_some_and(|(key, _)| touched(Kind::Device, key, &[fact::Device::room, fact::Device::supply]))
        }
        Consumer::Hop(..) => false,
    };
    let mut landed = touched::runs(sides);
    landed.extend(opened::beside(sides));
    let mut found = Vec::new();
    for feeding in &sides.new.power.feedings {
        let fed_anew = renewed.contains(&feeding.tree.source.board());
        let by_other_cable = |node: usize| feeding.tree.path(node).iter().any(|run| landed.contains(run));
        let other = |node: usize, load: &Load| is_touched(load.consumer) || by_other_cable(node);
        for (node, load) in feeding.tree.loads().filter(|(node, load)| fed_anew || other(*node, load)) {
            let Some((least, most)) = at_rest(feeding, node).map(volts_shown_by_a_meter) else { continue };
            found.push(SupplyMeasurement {
                at: Paper.consumer(site, load.consumer),
                supply: Paper.source(site, feeding.tree.source),
                volts: words::range(least.0, most.0, words::volts),
            });
        }
    }
    found
}
