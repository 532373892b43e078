//! A loop as a series-parallel network of two terminals, built from its runs.
//!
//! Two ways of wiring, told by the contacts. In a *series* loop (any alarm contact closed at rest) contacts, resistors and
//! branches follow each other and the last place joins the pair; a contact that is open at rest lies across the pair
//! where it stands, so across everything behind it. In an *across* loop (open alarm contacts only) contacts, resistors and
//! branches all lie across the pair, and the last place leaves it open. A contact that is closed at rest and raises no
//! alarm (a cover's, a supply relay's) is in series with what is behind it in both.

use crate::base::{Id, Spanned};
use crate::model::{Device, DeviceKind, Mounted, Run, Site, Zone};
use crate::quantity::Resistance;
use crate::terms::{ContactForm, Senses};

use super::pair::Pair;
use super::spread::{self, Spread};
use super::state::{Damage, State};

/// Which contact of a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Which {
    /// The alarm contact.
    Alarm,
    /// The cover contact.
    Cover,
}

/// An element of a network.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Element {
    /// Both conductors of a run.
    Wire(Id<Run>),
    /// A contact of a device.
    Contact(Id<Device>, Which),
    /// A loop resistor, by its position among the loop's.
    Resistor(usize),
    /// The resistor across a device's contact.
    Shunt(Id<Device>),
    /// A two-wire detector, across the pair: no path for a meter's current.
    Detector(Id<Device>),
}

/// A two-terminal network.
#[derive(Clone, Debug, PartialEq)]
pub enum Network {
    /// One element.
    Element(Element, Spread),
    /// One after the other.
    Series(Vec<Network>),
    /// Side by side.
    Parallel(Vec<Network>),
    /// A run with all that is behind it; the place where cable faults strike.
    Run(Id<Run>, Spread, Box<Network>),
    /// The pair joined.
    Joined,
    /// The pair left open.
    Open,
}

impl Network {
    /// The network with some of its parts replaced.
    #[must_use]
    pub(crate) fn replaced(&self, with: &dyn Fn(&Self) -> Option<Self>) -> Self {
        if let Some(other) = with(self) {
            return other;
        }
        let all = |parts: &[Self]| parts.iter().map(|part| part.replaced(with)).collect();
        match self {
            Self::Series(parts) => Self::Series(all(parts)),
            Self::Parallel(parts) => Self::Parallel(all(parts)),
            Self::Run(run, wire, behind) => Self::Run(*run, *wire, Box::new(behind.replaced(with))),
            other @ (Self::Element(..) | Self::Joined | Self::Open) => other.clone(),
        }
    }

    /// True where it or something that it is made of is so. Asked for every value that is tried, so that nothing is allocated.
    pub(crate) fn has(&self, is: &dyn Fn(&Self) -> bool) -> bool {
        is(self)
            || match self {
                Self::Series(parts) | Self::Parallel(parts) => parts.iter().any(|part| part.has(is)),
                Self::Run(_, _, behind) => behind.has(is),
                Self::Element(..) | Self::Joined | Self::Open => false,
            }
    }

    /// Itself and all that it is made of, from the board outwards.
    pub(crate) fn parts(&self) -> impl Iterator<Item = &Self> {
        let mut open = vec![self];
        std::iter::from_fn(move || {
            let next = open.pop()?;
            match next {
                Self::Series(parts) | Self::Parallel(parts) => open.extend(parts.iter().rev()),
                Self::Run(_, _, behind) => open.push(behind),
                Self::Element(..) | Self::Joined | Self::Open => {}
            }
            Some(next)
        })
    }
}

/// The wired devices of a zone, in the order of its runs.
pub(crate) fn devices(site: &Site, zone: Id<Zone>) -> impl Iterator<Item = Id<Device>> {
    site.devices_of(zone).filter(|(_, device)| device.kind != DeviceKind::Wireless).map(|(id, _)| id)
}

/// Form and greatest resistance of a device's alarm contact.
pub(crate) fn contact(site: &Site, device: Id<Device>) -> Option<(ContactForm, f64)> {
    site.contact_of(device).map(|contact| (contact.form, contact.resistance.0))
}

/// True for a device that its loop can see in alarm: by its contact, or because the loop feeds it.
pub(crate) fn can_alarm(site: &Site, device: Id<Device>) -> bool {
    site.loop_fed(device).is_some() || contact(site, device).is_some()
}

/// True for a relay whose contact says that the detectors' supply is there; it is no alarm contact.
pub(crate) fn watches_supply(site: &Site, device: Id<Device>) -> bool {
    site.senses(device) == Some(Senses::Supply)
}

/// Form and greatest resistance of a device's cover contact, where it is in the loop.
pub(crate) fn cover(site: &Site, device: Id<Device>) -> Option<(ContactForm, f64)> {
    let item = &site.devices[device];
    let part = &site.parts[item.part.filter(|_| item.tamper_in_loop)?];
    part.tamper.as_ref().map(|contact| (contact.form, contact.resistance.0))
}

/// Resistance of a closed contact: anything up to what its sheet allows; half of that is taken as nominal.
pub(crate) fn closed(most: f64) -> Spread {
    Spread { least: 0.0, nominal: most / 2.0, greatest: most }
}

/// The network of a zone's loop; `None` where it has none or a length or cable of it was reported.
pub fn of_zone(site: &Site, zone: Id<Zone>) -> Option<Network> {
    let wired = site.zones[zone].wired.as_ref()?;
    Builder::new(site, zone).place(&wired.chain, None)
}

/// As [`of_zone`], with a device first at its place: at the far end of a run, or at the board.
pub(crate) fn with_first(site: &Site, zone: Id<Zone>, device: Id<Device>, run: Option<Id<Run>>) -> Option<Network> {
    let wired = site.zones[zone].wired.as_ref()?;
    Builder { first: Some((device, run)), ..Builder::new(site, zone) }.place(&wired.chain, None)
}

/// The resistors of a zone's loop, by the positions that [`Element::Resistor`] names.
pub(crate) fn resistors(site: &Site, zone: Id<Zone>) -> Vec<&Spanned<Resistance>> {
    let Some(wired) = &site.zones[zone].wired else { return Vec::new() };
    let mut builder = Builder::new(site, zone);
    // What could not be built has the resistors that were met before.
    let _ = builder.place(&wired.chain, None);
    builder.resistors
}

struct Builder<'s> {
    site: &'s Site,
    across: bool,
    /// A device that is to stand first at its place.
    first: Option<(Id<Device>, Option<Id<Run>>)>,
    resistors: Vec<&'s Spanned<Resistance>>,
}

impl<'s> Builder<'s> {
    fn new(site: &'s Site, zone: Id<Zone>) -> Self {
        Self { site, across: site.lies_across(zone), first: None, resistors: Vec::new() }
    }

    /// What lies across the pair at a place: what is mounted there in order, then the run that goes on.
    fn place(&mut self, items: &'s [Mounted], at: Option<Id<Run>>) -> Option<Network> {
        let mut links: Vec<Link> = Vec::new();
        let first = self.first.filter(|(_, run)| *run == at).map(|(device, _)| device);
        // One in series at the board is fitted at the terminal that the loop leaves from, wherever the text names it.
        let leaves = |item: &Mounted| at.is_none() && !self.across && matches!(item, Mounted::Resistor(_));
        let is_first = |item: &&Mounted| first.is_some() && item.device() == first || leaves(item);
        let (before, behind): (Vec<&Mounted>, Vec<&Mounted>) = items.iter().partition(is_first);
        for item in before.into_iter().chain(behind) {
            match item {
                Mounted::Device(device) => self.device(*device, &mut links),
                Mounted::Resistor(value) => {
                    let spread = Spread::tolerance(value.value.nominal.0, value.value.tolerance.0);
                    let element = Network::Element(Element::Resistor(self.resistors.len()), spread);
                    self.resistors.push(value);
                    links.push(Link { across: self.across, network: element });
                }
                // At the board, a run that goes on from another stands beside it in the text; that one takes it.
                Mounted::Run(run) if at.is_none() && self.site.runs[*run].upstream.is_some() => {}
                Mounted::Run(run) => {
                    let network = self.run(*run)?;
                    links.push(Link { across: self.across, network });
                }
                Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Feed(_) | Mounted::Hop(_) => {}
            }
        }
        let end = match at.and_then(|run| self.site.next_run(run)) {
            Some(next) => self.run(next)?,
            None if self.across => Network::Open,
            None => Network::Joined,
        };
        Some(links.into_iter().rev().fold(end, |behind, link| match (link.across, behind) {
            (true, Network::Open) => link.network,
            (true, behind) => Network::Parallel(vec![link.network, behind]),
            (false, Network::Joined) => link.network,
            (false, Network::Series(mut parts)) => {
                parts.insert(0, link.network);
                Network::Series(parts)
            }
            (false, behind) => Network::Series(vec![link.network, behind]),
        }))
    }

    fn run(&mut self, id: Id<Run>) -> Option<Network> {
        let run = &self.site.runs[id];
        let wire = Pair::of_run(self.site, run)?.ohms();
        let behind = self.place(&run.mounted, Some(id))?;
        Some(Network::Run(id, wire, Box::new(behind)))
    }

    fn device(&mut self, id: Id<Device>, links: &mut Vec<Link>) {
        if let Some((form, most)) = cover(self.site, id) {
            let network = Network::Element(Element::Contact(id, Which::Cover), closed(most));
            links.push(Link { across: form == ContactForm::NormallyOpen, network });
        }
        if self.site.loop_fed(id).is_some() {
            let network = Network::Element(Element::Detector(id), Spread::OPEN);
            return links.push(Link { across: true, network });
        }
        let Some((form, most)) = contact(self.site, id) else { return };
        let mut network = Network::Element(Element::Contact(id, Which::Alarm), closed(most));
        if let Some(shunt) = &self.site.devices[id].shunt {
            let spread = Spread::tolerance(shunt.value.nominal.0, shunt.value.tolerance.0);
            network = Network::Parallel(vec![network, Network::Element(Element::Shunt(id), spread)]);
        }
        links.push(Link { across: form == ContactForm::NormallyOpen, network });
    }
}

struct Link {
    across: bool,
    network: Network,
}

impl Network {
    /// Nominal ohms of the resistors alone, with cables and closed contacts of none.
    pub(crate) fn resistors_alone(&self, closed: &dyn Fn(Id<Device>, Which) -> bool) -> f64 {
        match self {
            Self::Element(Element::Contact(device, which), _) if closed(*device, *which) => 0.0,
            Self::Element(Element::Contact(..) | Element::Detector(_), _) | Self::Open => f64::INFINITY,
            Self::Element(Element::Resistor(_) | Element::Shunt(_), spread) => spread.nominal,
            Self::Element(Element::Wire(_), _) | Self::Joined => 0.0,
            Self::Series(parts) => parts.iter().map(|part| part.resistors_alone(closed)).sum(),
            Self::Parallel(parts) => {
                parts.iter().map(|part| part.resistors_alone(closed)).fold(f64::INFINITY, spread::parallel)
            }
            Self::Run(_, _, behind) => behind.resistors_alone(closed),
        }
    }

    /// Resistance between the two terminals in a state. `closed` says of each contact whether it is closed.
    pub fn resistance(&self, state: &State, closed: &dyn Fn(Id<Device>, Which) -> bool) -> Spread {
        match self {
            Self::Element(Element::Contact(device, which), spread) => {
                if closed(*device, *which) {
                    *spread
                } else {
                    Spread::OPEN
                }
            }
            Self::Element(_, spread) => *spread,
            Self::Series(parts) => {
                parts.iter().map(|part| part.resistance(state, closed)).fold(Spread::SHORT, Spread::series)
            }
            Self::Parallel(parts) => {
                parts.iter().map(|part| part.resistance(state, closed)).fold(Spread::OPEN, Spread::parallel)
            }
            Self::Run(run, wire, behind) => match state.damage_of(*run) {
                Some(Damage::Cut) => Spread::OPEN,
                Some(Damage::ShortNear) => Spread::SHORT,
                Some(Damage::ShortFar) => *wire,
                None => wire.series(behind.resistance(state, closed)),
            },
            Self::Joined => Spread::SHORT,
            Self::Open => Spread::OPEN,
        }
    }
}
