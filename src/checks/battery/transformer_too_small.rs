//! A transformer that cannot give what alarm and charger take together.

use crate::calc::power::standby::{RECTIFIER, transformer_power};
use crate::calc::power::transformer::{Asked, asked};
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::checks::battery::transformer_volts_high::most;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::battery as profile;
use crate::quantity::print::apart;
use crate::words::{self, Screen, rated};

check!(
    "transformer-too-small",
    Basis::Published(
        "rectifier design guides of transformer makers, from memory: direct current is 0.62 of the rated alternating current"
    ),
    "a transformer that cannot give what alarm and charger take together"
);

/// Apparent power past which no transformer of a house's alarm goes: common practice.
const LARGEST: f64 = 500.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let Some(transformer) = &head.board.transformer else { continue };
        let Some(asked) = asked(context.site, context.power, head.id) else { continue };
        // Where nothing comes through the cable, that is told, and what the cable would lose is no figure.
        let nothing = asked.at_board.0 <= 0.0 && head.part.ac_port.as_ref().is_some_and(|port| port.min.is_some());
        if nothing {
            continue;
        }
        let Asked { alarm, direct: current, power: needed, .. } = asked;
        let (volts, rating) = (transformer.volts.value, transformer.rating.value);
        if rating >= needed {
            continue;
        }
        let (has, needs) = apart(rating, words::needed_power(needed));
        let title =
            format!("the transformer of {} has {has} and {needs} are needed", Screen.board(context.site, head.id));
        let mut finding = Diagnostic::new(&RULE, transformer.rating.span, title)
            .here(format!("gives {} of direct current", crate::quantity::Amperes(rating.0 / volts.0 * RECTIFIER)))
            .why("An alarm on the day after a power cut takes everything at once. Then the transformer runs hot, the battery stays empty, and the volts at the far detectors sink.")
            .help(if needed.0 > LARGEST {
                format!("{} is out of range for a house. Hold {current} of direct current against the sheets of what takes it, or feed the greatest part of it from a supply of its own.", words::needed_power(needed))
            } else {
                // Volts that the port refuses are no advice.
                let port = head.part.ac_port.as_ref().filter(|port| !port.is_reversed());
                let [least, most] = [port.and_then(|port| port.min), port.and_then(most)];
                let is_held = least.is_none_or(|least| least <= volts) && most.is_none_or(|most| volts <= most);
                let at = |volts| format!("at least {} at {}", words::needed_power(transformer_power(volts, current)), rated(volts));
                match (least, port.and_then(|port| port.max)) {
                    _ if is_held => format!("Take one of {volts} and at least {} that the board's sheet allows.", words::needed_power(needed)),
                    (Some(least), Some(max)) => format!("Take one of {} to {}, which the board's AC port takes, and of {}.", rated(least), rated(max), at(max)),
                    (Some(least), None) => format!("Take one of the volts that the board's sheet asks for, {} or more, and of {}.", rated(least), at(least)),
                    (None, max) => {
                        let max = max.unwrap_or(volts);
                        format!("Take one of {} at most, as the board's sheet asks for it, and of {}.", rated(max), at(max))
                    }
                }
            })
            .figure(format!("in alarm {alarm}"));
        if let Some(charger) = &head.part.charger {
            finding = finding.figure(format!("charger {}", charger.current));
        }
        let finding = finding.figure(format!("{volts} × {current} ÷ {RECTIFIER} = {:.1} VA: a linear transformer before a bridge with a capacitor ({}); a switch-mode supply's sheet says its own input", needed.0, profile::RECTIFIER.source()));
        sink.push(standby::about(&head, finding));
    }
}
