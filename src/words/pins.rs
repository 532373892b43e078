//! By which table a network cable is wired: what is in the wall, and not what the spec says that it is to be.

use crate::model::{CableType, Owner, Site};
use crate::profiles::connectors;
use crate::register::{Cable, ConductorUse};
use crate::terms::PinOrder;

/// The table by which a network cable is wired in the wall, of a way that says one; `None` where its pins follow neither.
pub(crate) fn wired_by(site: &Site, cable: &Cable) -> Option<PinOrder> {
    let said = wired_to_be(site, cable)?;
    [said, PinOrder::T568a, PinOrder::T568b].into_iter().find(|order| not_by(cable, *order).is_empty())
}

/// The table by which the spec says that a cable is wired.
pub(crate) fn wired_to_be(site: &Site, cable: &Cable) -> Option<PinOrder> {
    let Owner::Communicator(way) = site.runs[cable.run].owner else { return None };
    site.communicators[way].pin_order.as_ref().map(|order| order.value)
}

/// The pins of a cable that are not on the conductor of a table.
pub(crate) fn not_by(cable: &Cable, order: PinOrder) -> Vec<(u8, &ConductorUse)> {
    let differs =
        |used: &ConductorUse, wanted| used.colour.is_none_or(|colour| !connectors::is_colour(wanted, &colour.code()));
    let pins = cable.conductors.iter().filter_map(|used| Some((used.function.pin()?, used)));
    pins.filter(|(pin, used)| connectors::pin(order, *pin).is_some_and(|(_, wanted)| differs(used, wanted))).collect()
}

/// Whether a type of cable has the colours that a table gives to these pins.
pub(crate) fn has_colours(kind: &CableType, order: PinOrder, pins: &[(u8, &ConductorUse)]) -> bool {
    let has = |wanted: &str| {
        kind.conductors.iter().any(|conductor| connectors::is_colour(wanted, &conductor.colour.value.code()))
    };
    pins.iter().all(|(pin, _)| connectors::pin(order, *pin).is_some_and(|(_, wanted)| has(wanted)))
}
