//! Installation order: what is done in a house that has nothing of the alarm yet, from the first hole to the day on which the
//! power comes on.
//!
//! Its steps are those of the work order that leads from the bare house to this site, so that a first installation and a
//! remodel say the same. What other sheets know is not said again: what is bought, what is drilled, the texts on the cables.
//! Out of scope: power, programming and tests, which are the commissioning sheet's.

use serde::Serialize;
use serde_json::Value;

use super::work_order::{self, Place, Sides, Step};
use super::{Document, Orientation, View, colours, value, wire_labels};
use crate::base::Sources;
use crate::base::wording::{count, list};
use crate::compiled::Compiled;
use crate::model::Device;
use crate::register::Wiring;
use crate::template;

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "installation-order",
    title: "Installation order",
    about: "the steps of a first installation: what is pulled together, then what is mounted and landed, place by place",
    orientation: Orientation::Portrait,
    template: template!("installation-order"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Sheet {
    /// What the letters of colours mean.
    colours: String,
    /// True where something is used that was there before.
    found: bool,
    /// How many cables are pulled; empty for none.
    cables: String,
    pulls: Vec<String>,
    /// What was there before and is in use is switched off first.
    off: Vec<String>,
    places: Vec<Place>,
}

fn view(compiled: &Compiled) -> Value {
    let bare = Compiled::new(compiled.site.bare(), Wiring::default(), Sources::default());
    let sides = Sides::of(&bare, compiled);
    let (pulled, _, places) = work_order::wiring(&sides, true);
    let pulls = wire_labels::stages(compiled, &sides.new_labels).into_iter().map(|stage| {
        let wire_labels::Stage { board, onward, way, cables } = stage;
        let how = match (onward, way.as_str()) {
            (false, "") => "one by one".to_owned(),
            (false, way) => format!("together, {way}"),
            (true, "") => "going on where others end".to_owned(),
            (true, way) => format!("together, going on {way}"),
        };
        let from = if board.is_empty() { how } else { format!("{board}, {how}") };
        let cable = |cable: wire_labels::Pulled| {
            let said: Vec<String> =
                cable.start.map(|start| format!("from {start}")).into_iter().chain(cable.conduits).collect();
            if said.is_empty() { cable.label } else { format!("{} ({})", cable.label, said.join("; ")) }
        };
        format!("{from}: {}", list(&cables.into_iter().map(cable).collect::<Vec<_>>(), "and"))
    });
    let cables = if pulled.is_empty() { String::new() } else { count(pulled.len(), "cable", None) };
    let pulls: Vec<String> = if pulled.is_empty() { Vec::new() } else { pulls.collect() };
    // Labels are put on while cables are pulled.
    let places = places.into_iter().filter_map(|Place { title, mut steps }| {
        steps.retain(|step| step.kind != "label");
        (!steps.is_empty()).then(|| Place { title, steps: mounted_at_once(steps) })
    });
    let site = &compiled.site;
    let found = site.runs.iter().any(|run| run.existing)
        || site.boards.iter().any(|board| board.existing)
        || site.devices.iter().any(Device::was_there);
    let off = work_order::in_use(&sides).into_iter().map(|step| step.text).collect();
    value(&Sheet { colours: colours::of(&compiled.wiring), found, off, cables, pulls, places: places.collect() })
}

/// The steps of a place with one line for all that is mounted there and of which no more is said, each with its box.
fn mounted_at_once(steps: Vec<Step>) -> Vec<Step> {
    let (plain, others): (Vec<Step>, Vec<Step>) = steps.into_iter().partition(|step| step.names_only);
    let things: Vec<String> = plain.into_iter().map(|step| step.text).collect();
    let at_once = (!things.is_empty()).then(|| Step::new("mount", things.join("; ☐ ")));
    // What is mounted stands before what is landed, and behind what is taken down or looked at.
    let place = others.iter().position(|step| ["mount", "land", "fit", "address", "check"].contains(&step.kind));
    let mut steps = others;
    let place = place.unwrap_or(steps.len());
    steps.splice(place..place, at_once);
    steps
}
