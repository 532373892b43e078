//! The sketch of a zone's loop: its network with the names, and the rows of the table that its parts move to.

use super::rows::Row;
use super::{DOCUMENT, schematic};
use crate::base::Id;
use crate::calc::network::{self, Element, Network, Which};
use crate::calc::{LoopReadings, State};
use crate::compiled::Compiled;
use crate::draw::Size;
use crate::draw::loop_sketch::{self, Board, Cable, Contact, Net, Sketch};
use crate::model::{Device, Run, Zone};
use crate::quantity::{Resistance, print};
use crate::terms::{ContactForm, Side};
use crate::views::{Drawing, cable_marks, loop_marks, parts};
use crate::words::{self, Paper};

/// The height of a sketch, at most, in millimetres.
const HIGHEST: f64 = 180.0;

/// The sketch of a loop, in one part or more.
pub(crate) fn of(compiled: &Compiled, readings: &LoopReadings, rows: &[Row]) -> Vec<Drawing> {
    let Compiled { site, wiring, .. } = compiled;
    let zone = &site.zones[readings.zone];
    let number = zone.number.value;
    let input = wiring.input_of(site, readings.zone).map(|(_, input)| (input.signal.as_str(), input.back.as_str()));
    let resistors = network::resistors(site, readings.zone).into_iter().map(|value| value.value).collect();
    let drawer = Drawer { compiled, readings, rows, resistors };
    let sketch = Sketch { board: board(compiled, readings.zone), net: drawer.net(&readings.network) };
    // A sketch and its table lie on one page.
    let room = Size { height: HIGHEST, ..DOCUMENT.orientation.room() };
    let scenes = loop_sketch::draw(&sketch, room);
    let name = loop_marks::zone(number).replace("zone", "loop");
    let title = format!("Loop of zone {number}, {}", zone.description.value);
    parts(&name, &title, &schematic::line(site, wiring, readings, input), scenes)
}

fn board(compiled: &Compiled, zone: Id<Zone>) -> Board {
    let Compiled { site, wiring, .. } = compiled;
    let Some((_, input)) = wiring.input_of(site, zone) else { return Board::default() };
    let sensing = site.sensing_of(zone);
    let pull_up = sensing.and_then(|sensing| Some((sensing.supply?.to_string(), sensing.pull_up?.to_string())));
    let fed_at_return = site.positive_side(zone) == Some(Side::Return);
    Board { terminals: [input.signal.clone(), input.back.clone()], pull_up, fed_at_return }
}

struct Drawer<'c> {
    compiled: &'c Compiled,
    readings: &'c LoopReadings,
    rows: &'c [Row],
    resistors: Vec<Resistance>,
}

impl Drawer<'_> {
    fn net(&self, network: &Network) -> Net {
        match network {
            Network::Element(Element::Contact(id, which), _) => Net::Contact(self.contact(*id, *which)),
            Network::Element(Element::Resistor(position), _) => {
                Net::Resistor(self.resistors.get(*position).map(|value| value.nominal.to_string()).unwrap_or_default())
            }
            Network::Element(Element::Shunt(id), _) => Net::Resistor(self.shunt(*id).unwrap_or_default()),
            Network::Element(Element::Detector(id), _) => {
                let rows = self.in_rows(|state| state == State::Alarm(*id));
                Net::Detector(Paper.contact(&self.compiled.site, *id), row_words(&rows))
            }
            Network::Element(Element::Wire(run), _) => self.cable(*run, &Network::Joined),
            Network::Run(run, _, behind) => self.cable(*run, behind),
            Network::Series(parts) => Net::Series(parts.iter().map(|part| self.net(part)).collect()),
            Network::Parallel(parts) => self.parallel(parts),
            Network::Joined => Net::Joined,
            Network::Open => Net::Open,
        }
    }

    /// A contact with its shunt is one thing; everything else lies across what is behind it.
    fn parallel(&self, parts: &[Network]) -> Net {
        match parts {
            [] => Net::Open,
            [one] => self.net(one),
            [Network::Element(Element::Contact(id, which), _), Network::Element(Element::Shunt(_), _)] => {
                Net::Contact(Contact { shunt: self.shunt(*id), ..self.contact(*id, *which) })
            }
            [one, others @ ..] => Net::Across(Box::new(self.net(one)), Box::new(self.behind(others))),
        }
    }

    /// What is behind something across the pair: one thing alone at the end lies across as well.
    fn behind(&self, others: &[Network]) -> Net {
        match others {
            [Network::Element(Element::Contact(..) | Element::Detector(_), _)] if self.readings.across => {
                Net::Across(Box::new(self.parallel(others)), Box::new(Net::Open))
            }
            _ => self.parallel(others),
        }
    }

    fn cable(&self, run: Id<Run>, behind: &Network) -> Net {
        let Compiled { site, wiring, .. } = self.compiled;
        let length = site.runs[run].length.as_ref();
        let length = length.map(|length| format!(" · {}", print::length(length.value, site.lengths)));
        let room = site.runs[run].room.as_ref().map(|room| site.rooms[*room].title.clone());
        let cut = self.in_rows(|state| state == State::Cut(run));
        let short = self.in_rows(|state| matches!(state, State::ShortNear(at) | State::ShortFar(at) if at == run));
        let faults: Vec<String> = [("cut", cut), ("short", short)]
            .into_iter()
            .filter(|(_, rows)| !rows.is_empty())
            .map(|(what, rows)| format!("{what} {}", rows.join(", ")))
            .collect();
        let cable = Cable {
            name: format!("{}{}", words::cable(wiring, run), length.unwrap_or_default()),
            far: room.unwrap_or_default(),
            faults: faults.join(" · "),
            link: cable_marks::of_run(wiring, run).map(cable_marks::link).unwrap_or_default(),
        };
        Net::Cable(cable, Box::new(self.behind(std::slice::from_ref(behind))))
    }

    fn contact(&self, id: Id<Device>, which: Which) -> Contact {
        let site = &self.compiled.site;
        let name = Paper.contact(site, id);
        let form = match which {
            Which::Alarm => network::contact(site, id),
            Which::Cover => network::cover(site, id),
        };
        let moved = |state| match which {
            Which::Alarm => state == State::Alarm(id) || state == State::SupplyLost(id),
            Which::Cover => state == State::Cover(id),
        };
        Contact {
            title: if which == Which::Cover { format!("cover of {name}") } else { name },
            closed: form.is_none_or(|(form, _)| form == ContactForm::NormallyClosed),
            rows: row_words(&self.in_rows(moved)),
            shunt: None,
        }
    }

    fn shunt(&self, id: Id<Device>) -> Option<String> {
        self.compiled.site.devices[id].shunt.as_ref().map(|value| value.value.nominal.to_string())
    }

    /// The numbers of the rows that hold a state.
    fn in_rows(&self, is_meant: impl Fn(State) -> bool) -> Vec<&str> {
        self.rows
            .iter()
            .filter(|row| row.states.iter().any(|state| is_meant(*state)))
            .map(|row| row.number.as_str())
            .collect()
    }
}

fn row_words(rows: &[&str]) -> String {
    if rows.is_empty() { String::new() } else { format!("row {}", rows.join(", ")) }
}
