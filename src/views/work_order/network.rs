//! Network cables that stay, and that the spec has by the other table of pins now while the register has them by the old one.

use super::Sides;
use super::cables::ends;
use super::landings::staying;
use super::place::Places;
use crate::base::wording::list;
use crate::model::Site;
use crate::profiles::connectors;
use crate::register::{Cable, ConductorUse};
use crate::terms::PinOrder;
use crate::words;

/// Such a cable.
struct ToBe<'s> {
    cable: &'s Cable,
    /// The table that it is to be wired by.
    order: PinOrder,
    /// The pins that are on other conductors.
    pins: Vec<(u8, &'s ConductorUse)>,
}

/// Those cables.
fn found<'s>(sides: &Sides<'s>) -> Vec<ToBe<'s>> {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let one = |(was, is): (&'s Cable, &'s Cable)| {
        let order = words::wired_to_be(new, is)?;
        let pins = words::not_by(is, order);
        let is_to_be = words::wired_to_be(old, was) != Some(order)
            && !pins.is_empty()
            && words::has_colours(&new.cables[is.kind], order, &pins);
        is_to_be.then_some(ToBe { cable: is, order, pins })
    };
    staying(sides).into_iter().filter_map(one).collect()
}

/// Adds a step for both ends of each.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for ToBe { cable, order, pins } in found(sides) {
        let at = ends(site, &sides.new_labels, cable);
        let (now, before) = (pins_by(order, &pins), pins_on(site, cable, &pins));
        for (room, here) in [(at.near, &at.near_words), (at.far, &at.far_words)] {
            let text =
                format!("{} at {here}: re-make this end by {}: {now}; until now {before}", cable.label, order.word());
            places.add(site, room, "land", text);
        }
    }
}

/// "pin 1 on WHOG and 2 on OG".
fn pins_by(order: PinOrder, pins: &[(u8, &ConductorUse)]) -> String {
    let wanted = pins.iter().filter_map(|(pin, _)| Some(format!("{pin} on {}", connectors::pin(order, *pin)?.1)));
    format!("pin {}", list(&wanted.collect::<Vec<_>>(), "and"))
}

fn pins_on(site: &Site, cable: &Cable, pins: &[(u8, &ConductorUse)]) -> String {
    let on =
        |(pin, used): &(u8, &ConductorUse)| format!("{pin} on {}", words::conductor_mark(site, cable, used.position));
    list(&pins.iter().map(on).collect::<Vec<_>>(), "and")
}

/// What to write into the register by hand once that is done.
pub(super) fn to_register(sides: &Sides<'_>) -> Vec<String> {
    let one = |ToBe { cable, order, .. }: ToBe<'_>| {
        format!(
            "Once {} is re-made by {} at both ends, take its wire lines out of register.kdl: the next compile writes them by that table",
            cable.label,
            order.word()
        )
    };
    found(sides).into_iter().map(one).collect()
}
