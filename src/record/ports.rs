//! What a board gives and connects to, by its part's data sheet: outputs, bus ports, line ports.

use super::item::record;
use crate::model;
use crate::quantity::{Amperes, Ohms, Ratio, Volts};

record! {
    /// A supply that a board gives.
    SheetOutput by name {
        /// The name that others refer to.
        name: String,
        /// Mark of the positive terminal.
        positive: String => "+ terminal",
        /// Mark of the negative terminal.
        negative: String => "− terminal",
        /// Voltage on mains.
        volts: Volts => "volts",
        /// By how much that may be off, up and down.
        tolerance: Ratio => "tolerance",
        /// Volts lost between the battery and this output, beside those of the charger.
        drop_volts: Volts => "drop",
        /// Least volts on battery, by the sheet.
        least_volts: Option<Volts> => "least volts",
        /// Most current.
        limit_amperes: Amperes => "limit",
        /// Whether the board takes it away to reset detectors.
        switched: bool => "switched",
        /// When it is on: "always" or "alarm".
        when: &'static str => "on",
        /// What it gives while it is on: "steady", "pulsed" or "tone".
        form: &'static str => "gives",
    }

    /// A bus connection.
    BusPort by name {
        /// The name that others refer to.
        name: String,
        /// Mark of the positive supply.
        plus: String => "terminals",
        /// Mark of the negative supply.
        minus: String => "terminals",
        /// Mark of data conductor A.
        a: String => "terminals",
        /// Mark of data conductor B.
        b: String => "terminals",
        /// Mark for the shield of the bus's cable.
        shield: Option<String> => "shield terminal",
        /// Whether the sheet wants that shield landed at both ends of the bus.
        shield_at_both_ends: bool => "shield at both ends",
        /// The terminator that is built in, in ohm.
        terminator_ohms: Option<Ohms> => "terminator",
        /// Bias resistor in each leg, in ohm.
        bias_ohms: Option<Ohms> => "bias",
        /// Voltage behind the bias resistors.
        bias_supply_volts: Option<Volts> => "bias supply",
        /// By how much that may be off, up and down.
        bias_tolerance: Ratio => "tolerance of the bias supply",
        /// Load in unit loads (TIA-485-A).
        unit_load: Ratio => "unit load",
        /// Most current for modules.
        limit_amperes: Option<Amperes> => "limit",
        /// Supply voltage for modules.
        volts: Option<Volts> => "volts",
        /// Addresses that the board knows.
        addresses: Option<Addresses> => "addresses",
    }

    /// The addresses that a board knows, from the first to the last.
    Addresses {
        /// The least.
        first: u32 => "",
        /// The greatest.
        last: u32 => "",
    }

    /// A telephone line connection.
    LinePort by name {
        /// The name that others refer to.
        name: String,
        /// Mark of the line from the street, tip.
        in_tip: String => "in, tip",
        /// Mark of the line from the street, ring.
        in_ring: String => "in, ring",
        /// Mark of the line on to the house phones, tip.
        out_tip: Option<String> => "out, tip",
        /// Mark of the line on to the house phones, ring.
        out_ring: Option<String> => "out, ring",
    }
}

impl SheetOutput {
    /// An output.
    pub(crate) fn of(output: &model::Output) -> Self {
        let model::Output { name, positive, negative, volts, tolerance, drop, least, limit, switched, when, form } =
            output;
        Self {
            name: name.value.clone(),
            positive: positive.clone(),
            negative: negative.clone(),
            volts: *volts,
            tolerance: *tolerance,
            drop_volts: *drop,
            least_volts: *least,
            limit_amperes: *limit,
            switched: *switched,
            when: when.word(),
            form: form.word(),
        }
    }
}

impl BusPort {
    /// A bus port.
    pub(crate) fn of(port: &model::BusPort) -> Self {
        let model::BusPort {
            name,
            plus,
            minus,
            a,
            b,
            shield,
            shield_at_both_ends,
            terminator,
            bias,
            bias_supply,
            bias_tolerance,
            unit_load,
            limit,
            volts,
            addresses,
        } = port;
        Self {
            name: name.value.clone(),
            plus: plus.clone(),
            minus: minus.clone(),
            a: a.clone(),
            b: b.clone(),
            shield: shield.as_ref().map(|mark| mark.value.clone()),
            shield_at_both_ends: *shield_at_both_ends,
            terminator_ohms: *terminator,
            bias_ohms: *bias,
            bias_supply_volts: *bias_supply,
            bias_tolerance: *bias_tolerance,
            unit_load: *unit_load,
            limit_amperes: *limit,
            volts: *volts,
            addresses: addresses.map(|(first, last)| Addresses { first, last }),
        }
    }
}

impl LinePort {
    /// A line port.
    pub(crate) fn of(port: &model::LinePort) -> Self {
        let model::LinePort { name, in_tip, in_ring, out_tip, out_ring } = port;
        Self {
            name: name.value.clone(),
            in_tip: in_tip.clone(),
            in_ring: in_ring.clone(),
            out_tip: out_tip.clone(),
            out_ring: out_ring.clone(),
        }
    }
}
