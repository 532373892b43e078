//! The lines of the shopping list: goods, what is used up, and cable by the box.

use std::collections::BTreeMap;

use super::joints;
use crate::base::natural::natural;
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::materials::cable::Lot;
use crate::materials::goods::{self, Goods, Kind};
use crate::model::Earth;
use crate::profiles::stock::{CONNECTORS, FUSES, RESISTORS, spare};
use crate::quantity::{Amperes, print};
use crate::register::Cable;
use crate::terms::Joining;
use crate::views::label_sheets;

/// A line.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) kind: Kind,
    pub(super) what: String,
    /// Its name in the spec, of a part or a type of cable.
    pub(super) name: Option<String>,
    /// How many are in use.
    pub(super) count: usize,
    pub(super) unit: String,
    /// How many more are bought.
    pub(super) spare: usize,
    pub(super) note: String,
}

impl Line {
    fn of(kind: Kind, what: impl Into<String>, count: usize) -> Self {
        Self { kind, what: what.into(), name: None, count, unit: "piece".to_owned(), spare: 0, note: String::new() }
    }
}

/// Every line, by kind, then by title.
pub(super) fn lines(compiled: &Compiled, lots: &[Lot]) -> Vec<Line> {
    let bought = goods::of(&compiled.site);
    let mut lines: Vec<Line> = bought.into_values().map(|item| of_goods(&item.what, item.count)).collect();
    lines.extend(fuses(compiled));
    lines.extend(earths(compiled));
    lines.extend(connectors(compiled));
    lines.extend(labels(compiled));
    lines.extend(lots.iter().flat_map(|lot| of_lot(compiled, lot)));
    name_apart(&mut lines);
    lines.sort_by(|one, other| one.kind.cmp(&other.kind).then_with(|| natural(&one.what, &other.what)));
    lines
}

/// Parts of one title are told apart by their names.
fn name_apart(lines: &mut [Line]) {
    let mut seen: BTreeMap<(Kind, String), usize> = BTreeMap::new();
    for line in lines.iter() {
        *seen.entry((line.kind, line.what.clone())).or_default() += 1;
    }
    for line in lines {
        if let Some(name) = line.name.as_ref().filter(|_| seen.get(&(line.kind, line.what.clone())) > Some(&1)) {
            line.note = format!("part {name}");
        }
    }
}

fn of_goods(what: &Goods, count: usize) -> Line {
    let line = Line::of(what.kind(), what.title(), count);
    match what {
        Goods::Resistor(_) => Line { spare: spare(count, RESISTORS), note: "1/4 W or more".to_owned(), ..line },
        Goods::Hop(_) => Line { note: "if it is not there already".to_owned(), ..line },
        Goods::Antenna => Line { note: "as the sheet of the radio asks".to_owned(), ..line },
        Goods::Diode => Line { note: "twice the coil's volts".to_owned(), ..line },
        Goods::Part { name, .. } => Line { name: Some(name.clone()), ..line },
        Goods::Strip(_)
        | Goods::JointBox
        | Goods::MountingBox(_)
        | Goods::Battery(..)
        | Goods::Transformer(..)
        | Goods::Jack(_) => line,
    }
}

/// The fuses.
pub(super) fn fuses(compiled: &Compiled) -> Vec<Line> {
    let fuses = compiled.site.boards.iter().flat_map(|board| {
        let battery = board.battery.as_ref().filter(|of| !of.existing).and_then(|battery| battery.fuse.as_ref());
        let transformer = board.transformer.as_ref().filter(|of| !of.existing);
        battery.into_iter().chain(transformer.and_then(|transformer| transformer.fuse.as_ref()))
    });
    let fuses = alike(fuses.map(|fuse| fuse.value));
    let line = |(what, count)| Line {
        spare: FUSES,
        note: "form: the board's sheet".to_owned(),
        ..Line::of(Kind::Lead, what, count)
    };
    fuses.into_iter().map(line).collect()
}

/// Fuses by what they are called, each kind once.
pub(super) fn alike(fuses: impl Iterator<Item = Amperes>) -> BTreeMap<String, usize> {
    let mut counted = BTreeMap::new();
    for fuse in fuses {
        *counted.entry(format!("Fuse, {fuse}")).or_default() += 1;
    }
    counted
}

fn earths(compiled: &Compiled) -> Vec<Line> {
    let earths = compiled.site.boards.iter().filter_map(|board| board.earth.as_ref()).filter(|earth| !earth.existing);
    let line = |of: &Earth| Line {
        unit: "length".to_owned(),
        note: format!("to the {}", of.to.value.strip_prefix("the ").unwrap_or(&of.to.value)),
        ..Line::of(Kind::Lead, earth(of), 1)
    };
    earths.map(line).collect()
}

/// What an earth conductor is called.
pub(super) fn earth(earth: &Earth) -> String {
    format!("Earth conductor, {}, {}", earth.size, earth.shown_colour().name())
}

fn connectors(compiled: &Compiled) -> Vec<Line> {
    let joints = joints::count(compiled).into_iter().map(|(joint, joints)| {
        let note = "one a joint".to_owned();
        Line { spare: spare(joints, CONNECTORS), note, ..Line::of(Kind::Connector, connector(joint), joints) }
    });
    let plugs = 2 * network(compiled).count();
    let plug = (plugs > 0).then(|| Line {
        spare: spare(plugs, RESISTORS),
        note: "two a new network cable".to_owned(),
        ..Line::of(Kind::Connector, PLUG, plugs)
    });
    joints.chain(plug).collect()
}

/// What a joint takes.
pub(super) fn connector((how, conductors): joints::Joint) -> String {
    let what = match how {
        Some(Joining::Screw) => "Screw connector",
        Some(Joining::Crimp) => "Crimp connector",
        Some(Joining::Solder) => "Sleeve for a soldered joint",
        None => "Connector",
    };
    format!("{what}, for {}", count(conductors, "conductor", None))
}

/// What the end of a network cable takes.
pub(super) const PLUG: &str = "Network plug or jack, 8 positions";

/// The new cables that take one at each end: one that was there has its own.
pub(super) fn network(compiled: &Compiled) -> impl Iterator<Item = &Cable> {
    let is_network = |cable: &&Cable| cable.conductors.iter().any(|used| used.function.pin().is_some());
    compiled.wiring.cables.iter().filter(|cable| !compiled.site.runs[cable.run].existing).filter(is_network)
}

/// What a wrap label is called.
pub(super) const LABEL: &str = "Wrap label for a cable";

fn labels(compiled: &Compiled) -> Option<Line> {
    let labels = label_sheets::count_of(compiled);
    (labels > 0).then(|| Line {
        spare: spare(labels, CONNECTORS),
        note: "two a cable, dead ones too; one where the far end was not found".to_owned(),
        ..Line::of(Kind::Label, LABEL, labels)
    })
}

/// The boxes of a type of cable, and the reel for what is longer than a box.
fn of_lot(compiled: &Compiled, lot: &Lot) -> Vec<Line> {
    let site = &compiled.site;
    let kind = &site.cables[lot.kind];
    let length = |length| print::length(length, site.lengths);
    let told = |pieces: &[usize]| format!("{}, {}", count(pieces.len(), "cable", None), length(lot.length_of(pieces)));
    let (boxed, longer) = (lot.plan.boxes.concat(), &lot.plan.too_long);
    let assumed = if lot.assumed { "; the box is assumed" } else { "" };
    let boxes = (!boxed.is_empty()).then(|| Line {
        unit: format!("box of {}", length(lot.in_box)),
        note: told(&boxed) + assumed,
        name: Some(kind.name.value.clone()),
        ..Line::of(Kind::Cable, kind.described(), lot.plan.boxes.len())
    });
    let reel = (!longer.is_empty()).then(|| Line {
        unit: format!("reel of {} or more", length(lot.length_of(longer))),
        note: format!("{}; longer than a box of {}{assumed}", told(longer), length(lot.in_box)),
        ..Line::of(Kind::Cable, format!("{}, on a reel", kind.described()), 1)
    });
    boxes.into_iter().chain(reel).collect()
}
