//! A loop in one line of text: what stands in the wall, from the board to the end.
//!
//! `Z7 38 ft` a cable; `[Front door]` a contact in series, closed at rest; `⊥ Smoke, hall` something across the pair;
//! `∥` side by side; `⟨ … ⟩` a branch; `┐` the pair joined at the end, `╴` left open. Lines break between the pieces
//! only: inside a piece blanks are blanks that do not break.

use crate::base::Id;
use crate::calc::network::{self, Which};
use crate::calc::{Element, LoopReadings, Network};
use crate::model::{Device, Run, Site};
use crate::quantity::{Resistance, print};
use crate::register::Wiring;
use crate::words::{self, Paper};

/// The loop between the two terminals of its input.
pub(crate) fn line(site: &Site, wiring: &Wiring, readings: &LoopReadings, terminals: Option<(&str, &str)>) -> String {
    let resistors = network::resistors(site, readings.zone).into_iter().map(|value| value.value).collect();
    let drawer = Drawer { site, wiring, resistors, across: readings.across };
    let mut pieces: Vec<String> = terminals.map(|(signal, _)| signal.to_owned()).into_iter().collect();
    drawer.draw(&readings.network, &mut pieces);
    if let (Some((_, back)), Some(last)) = (terminals, pieces.last_mut()) {
        last.push(' ');
        last.push_str(back);
    }
    let whole = |piece: &String| piece.replace(' ', "\u{a0}");
    // The dash stays with the piece before it, so a line that goes on ends with one.
    pieces.iter().map(whole).collect::<Vec<_>>().join("\u{a0}── ").replace("\u{a0}── ┐", "\u{a0}──┐")
}

struct Drawer<'s> {
    site: &'s Site,
    wiring: &'s Wiring,
    resistors: Vec<Resistance>,
    /// True where everything lies across the pair.
    across: bool,
}

impl Drawer<'_> {
    fn draw(&self, network: &Network, pieces: &mut Vec<String>) {
        match network {
            Network::Element(Element::Contact(..), _) => pieces.push(format!("[{}]", self.name(network))),
            Network::Element(..) => pieces.push(self.name(network)),
            Network::Series(parts) => {
                let last = parts.len().saturating_sub(1);
                for (position, part) in parts.iter().enumerate() {
                    match part {
                        Network::Run(..) if position < last => pieces.push(self.branch(part)),
                        Network::Element(..)
                        | Network::Series(_)
                        | Network::Parallel(_)
                        | Network::Run(..)
                        | Network::Joined
                        | Network::Open => self.draw(part, pieces),
                    }
                }
                // Behind the last run its own end follows; anything else is the end of the pair.
                if !ends(network) {
                    pieces.push("┐".into());
                }
            }
            Network::Parallel(parts) => match parts.as_slice() {
                [one, other] if is_contact(one) && is_shunt(other) => {
                    pieces.push(format!("[{} ∥ {}]", self.name(one), self.name(other)));
                }
                [across, behind] => {
                    let across = match across {
                        Network::Run(..) => self.branch(across),
                        Network::Element(..)
                        | Network::Series(_)
                        | Network::Parallel(_)
                        | Network::Joined
                        | Network::Open => self.name(across),
                    };
                    pieces.push(format!("⊥ {across}"));
                    self.end(behind, pieces);
                }
                _ => {}
            },
            Network::Run(run, _, behind) => {
                pieces.push(self.run(*run));
                self.end(behind, pieces);
            }
            Network::Joined => pieces.push("┐".into()),
            Network::Open => pieces.push("╴".into()),
        }
    }

    /// What is behind a place. One thing alone at the end of the pair lies across it and in series at once: it is
    /// drawn in series, but for a contact that leaves the pair open at rest.
    fn end(&self, behind: &Network, pieces: &mut Vec<String>) {
        match behind {
            Network::Element(Element::Contact(..) | Element::Detector(_), _) if self.across => {
                pieces.push(format!("⊥ {}", self.name(behind)));
                pieces.push("╴".into());
            }
            Network::Element(..) => {
                self.draw(behind, pieces);
                pieces.push("┐".into());
            }
            Network::Series(_) | Network::Parallel(_) | Network::Run(..) | Network::Joined | Network::Open => {
                self.draw(behind, pieces);
                if is_shunted(behind) {
                    pieces.push("┐".into());
                }
            }
        }
    }

    fn branch(&self, network: &Network) -> String {
        let mut inside = Vec::new();
        self.draw(network, &mut inside);
        format!("⟨{}⟩", inside.join(" ── ").replace(" ── ┐", " ──┐"))
    }

    fn name(&self, network: &Network) -> String {
        match network {
            Network::Element(Element::Contact(id, which), _) => self.contact(*id, *which),
            Network::Element(Element::Detector(id), _) => Paper.contact(self.site, *id),
            Network::Element(Element::Resistor(position), _) => {
                self.resistors.get(*position).map(|value| value.nominal.to_string()).unwrap_or_default()
            }
            Network::Element(Element::Shunt(id), _) => {
                self.site.devices[*id].shunt.as_ref().map(|value| value.value.nominal.to_string()).unwrap_or_default()
            }
            Network::Element(Element::Wire(run), _) | Network::Run(run, ..) => self.run(*run),
            Network::Parallel(parts) | Network::Series(parts) => {
                parts.iter().map(|part| self.name(part)).collect::<Vec<_>>().join(" ∥ ")
            }
            Network::Joined => "┐".into(),
            Network::Open => "╴".into(),
        }
    }

    fn contact(&self, id: Id<Device>, which: Which) -> String {
        let name = Paper.contact(self.site, id);
        if which == Which::Cover { format!("cover of {name}") } else { name }
    }

    fn run(&self, id: Id<Run>) -> String {
        let length = self.site.runs[id].length.as_ref();
        let length = length.map(|length| print::length(length.value, self.site.lengths)).unwrap_or_default();
        format!("{} {length}", words::cable(self.wiring, id))
    }
}

fn is_contact(network: &Network) -> bool {
    matches!(network, Network::Element(Element::Contact(..), _))
}

fn is_shunt(network: &Network) -> bool {
    matches!(network, Network::Element(Element::Shunt(_), _))
}

fn is_shunted(network: &Network) -> bool {
    matches!(network, Network::Parallel(parts) if matches!(parts.as_slice(), [one, other] if is_contact(one) && is_shunt(other)))
}

/// True where the last thing of a network draws its own end.
fn ends(network: &Network) -> bool {
    match network {
        Network::Series(parts) => parts.last().is_some_and(ends),
        Network::Run(..) | Network::Joined | Network::Open => true,
        Network::Parallel(_) => !is_shunted(network),
        Network::Element(..) => false,
    }
}
