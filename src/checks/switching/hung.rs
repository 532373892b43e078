//! What hangs on a relay or transistor, with what it must switch.

use crate::base::{Id, Span};
use crate::calc::power::switched::may_feed;
use crate::calc::power::{Consumer, Demand, Feeding, Supply};
use crate::checks::Context;
use crate::model::{Circuit, Device, Fed, HopRef, Part, Site, Switch, SwitchRef, Switching};
use crate::quantity::{Amperes, Volts};
use crate::terms::{CurrentKind, Works};

/// The least voltage that is taken for mains: nothing else in a house is above it (common practice).
pub(crate) const MAINS: Volts = Volts(50.0);

/// A circuit with what switches it.
pub(crate) struct Switched<'s> {
    /// The circuit.
    pub(crate) id: Id<Circuit>,
    /// The same.
    pub(crate) circuit: &'s Circuit,
    /// By reference.
    pub(crate) of: SwitchRef,
    /// The relay or transistor.
    pub(crate) switch: &'s Switch,
    /// How.
    pub(crate) switching: &'s Switching,
}

/// A load, sounder, detector or hop on such a circuit.
pub(crate) struct Hung {
    /// What it is.
    pub(crate) consumer: Consumer,
    /// Where it stands in the spec.
    pub(crate) span: Span,
    /// The most volts that are switched.
    pub(crate) volts: Volts,
    /// The current that is switched.
    pub(crate) current: Amperes,
    /// Kind of current.
    pub(crate) kind: CurrentKind,
    /// True where it has a coil without a diode across it.
    pub(crate) bare_coil: bool,
}

impl Hung {
    /// The part of a device.
    pub(crate) fn part<'s>(&self, site: &'s Site) -> Option<&'s Part> {
        if let Consumer::Device(id) = self.consumer { site.device_part(id) } else { None }
    }
}

/// Every lock that is fed, with its part, its supply and the node of that; none where something of the site was reported, which may
/// be its supply or its battery.
pub(crate) fn locks(context: Context<'_>) -> impl Iterator<Item = (Id<Device>, &Part, &Feeding, usize)> {
    let site = context.site;
    let feedings = context.power.feedings.iter().filter(|_| site.sound);
    let loads = feedings.flat_map(|feeding| feeding.tree.loads().map(move |(node, load)| (feeding, node, load)));
    loads.filter_map(|(feeding, node, load)| {
        let Consumer::Device(id) = load.consumer else { return None };
        let part = site.device_part(id).filter(|part| part.works == Some(Works::Lock))?;
        Some((id, part, feeding, node))
    })
}

/// Every circuit that a known relay or transistor switches, by name.
pub(crate) fn switched(site: &Site) -> impl Iterator<Item = Switched<'_>> {
    site.circuits.entries().filter_map(|(id, circuit)| {
        let (of, switch, switching) = site.switched_by(circuit)?;
        Some(Switched { id, circuit, of, switch, switching })
    })
}

impl Switched<'_> {
    /// Where the circuit names what switches it.
    pub(crate) fn span(&self) -> Span {
        self.switching.switch.as_ref().map_or(self.circuit.name.span, |switch| switch.span)
    }

    /// What hangs on it; nothing of that whose sheet lacks a supply.
    pub(crate) fn hung(&self, site: &Site) -> Vec<Hung> {
        site.consumers_on(self.id)
            .filter_map(|(fed, span)| match fed {
                Fed::Device(id) => self.device(site, id, span),
                Fed::Hop(hop) => self.hop(site, hop, span),
            })
            .collect()
    }

    /// A hop takes the current of those behind it too.
    fn hop(&self, site: &Site, hop: HopRef, span: Span) -> Option<Hung> {
        let output = site.output(self.circuit.feed.as_ref()?.value)?;
        let (volts, most) = (output.volts, output.most());
        let all = site.hops_behind(hop).into_iter().filter_map(|hop| site.hop(hop)?.draw);
        let current = all.map(|draw| draw.at(volts)).sum();
        let consumer = Consumer::Hop(hop.line, hop.hop);
        Some(Hung { consumer, span, volts: most, current, kind: CurrentKind::Direct, bare_coil: false })
    }

    fn device(&self, site: &Site, id: Id<Device>, span: Span) -> Option<Hung> {
        let (part, device, consumer) = (site.device_part(id)?, &site.devices[id], Consumer::Device(id));
        // A relay is switched by its coil, whether its part has the word or not.
        let is_relay = part.works == Some(Works::Relay);
        if self.switching.dry {
            let own = part.own_supply.as_ref()?;
            let bare_coil = own.kind == CurrentKind::Direct && (own.coil || is_relay) && !own.diode && !device.diode;
            return Some(Hung { consumer, span, volts: own.volts, current: own.current, kind: own.kind, bare_coil });
        }
        let need = part.supply.as_ref()?;
        let output = site.output(self.circuit.feed.as_ref()?.value)?;
        let (volts, most) = (output.volts, output.most());
        // Only what flows while the contact is closed.
        let takes = [(Demand::Idle, need.idle), (Demand::Alarm, need.alarm)].into_iter().filter(|(demand, _)| {
            let mut supplies = [Supply::Mains, Supply::Battery].into_iter();
            supplies.any(|supply| may_feed(site, self.circuit, supply, *demand))
        });
        let current = Amperes(takes.map(|(_, take)| take.at(volts).0).fold(0.0, f64::max));
        let bare_coil = (need.coil || is_relay) && !need.diode && !device.diode;
        Some(Hung { consumer, span, volts: most, current, kind: CurrentKind::Direct, bare_coil })
    }
}
