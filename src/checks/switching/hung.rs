//! What hangs on a relay or transistor, with what it must switch.

use crate::base::{Id, Span};
use crate::model::{Circuit, Device, Mounted, Owner, Site, Switch, SwitchRef, Switching};
use crate::quantity::{Amperes, Volts};
use crate::terms::CurrentKind;

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

/// A load, sounder or detector on such a circuit.
pub(crate) struct Hung<'s> {
    /// The device.
    pub(crate) id: Id<Device>,
    /// The same.
    pub(crate) device: &'s Device,
    /// Where it stands in the spec.
    pub(crate) span: Span,
    /// The volts that are switched.
    pub(crate) volts: Volts,
    /// The current that is switched.
    pub(crate) current: Amperes,
    /// Kind of current.
    pub(crate) kind: CurrentKind,
    /// True where it has a coil without a diode across it.
    pub(crate) bare_coil: bool,
}

/// Every circuit that a known relay or transistor switches, by name.
pub(crate) fn switched(site: &Site) -> impl Iterator<Item = Switched<'_>> {
    site.circuits.entries().filter_map(|(id, circuit)| {
        let (of, switch, switching) = site.switched_by(circuit)?;
        Some(Switched { id, circuit, of, switch, switching })
    })
}

impl<'s> Switched<'s> {
    /// Where the circuit names what switches it.
    pub(crate) fn span(&self) -> Span {
        self.switching.switch.as_ref().map_or(self.circuit.name.span, |switch| switch.span)
    }

    /// What hangs on it; nothing of that whose sheet lacks a supply.
    pub(crate) fn hung(&self, site: &'s Site) -> Vec<Hung<'s>> {
        let mounted = site.all_mounted(Owner::Circuit(self.id)).filter_map(|(_, item)| match item {
            Mounted::Device(id) => Some((*id, site.devices[*id].span())),
            Mounted::Feed(fed) => Some((fed.value, fed.span)),
            Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Hop(_) => {
                None
            }
        });
        mounted.filter_map(|(id, span)| self.one(site, id, span)).collect()
    }

    fn one(&self, site: &'s Site, id: Id<Device>, span: Span) -> Option<Hung<'s>> {
        let (part, device) = (site.device_part(id)?, &site.devices[id]);
        if self.switching.dry {
            let own = part.own_supply.as_ref()?;
            let bare_coil = own.kind == CurrentKind::Direct && own.coil && !own.diode && !device.diode;
            return Some(Hung { id, device, span, volts: own.volts, current: own.current, kind: own.kind, bare_coil });
        }
        let need = part.supply.as_ref()?;
        let volts = site.output(self.circuit.feed.as_ref()?.value)?.volts;
        let current = Amperes(need.idle.at(volts).0.max(need.alarm.at(volts).0));
        let bare_coil = need.coil && !need.diode && !device.diode;
        Some(Hung { id, device, span, volts, current, kind: CurrentKind::Direct, bare_coil })
    }
}
