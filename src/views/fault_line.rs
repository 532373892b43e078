//! What would explain a reading, in words: one line a fault.

use serde::Serialize;

use super::next_measurement::resistor;
use crate::calc::LoopReadings;
use crate::calc::diagnose::{Fault, Measured};
use crate::calc::network;
use crate::compiled::Compiled;
use crate::quantity::{Metres, Ohms, print};
use crate::record::number::Number;
use crate::words::{self, Paper};

/// A fault that would explain the value.
#[derive(Clone, Debug, Serialize)]
pub struct FaultLine {
    /// "short", "leads-touch", "leakage", "in-series", "open", "open-with-leakage", "resistor", "left-out", "second-resistor", "contact", "at-board", "left-in", "other-voltage" or "other-unit".
    pub(crate) fault: &'static str,
    /// In words.
    pub(crate) text: String,
    /// Label of the cable, for a short.
    pub(crate) cable: Option<String>,
    /// Metres from the board along the cables, for a short.
    pub(crate) metres: Option<Number>,
    /// Ohms of the leak, between conductors that touch, of what is in series, of the second resistor, or of the one that would give the reading.
    pub(crate) ohms: Option<Number>,
}

pub(super) fn fault_line(compiled: &Compiled, readings: &LoopReadings, fault: &Fault) -> FaultLine {
    let Compiled { site, wiring, .. } = compiled;
    let line = |fault, text, ohms: Option<f64>| FaultLine {
        fault,
        text,
        cable: None,
        metres: None,
        ohms: ohms.and_then(Number::of),
    };
    match *fault {
        Fault::Short { run, along, from_board } => {
            let label = words::cable(wiring, run);
            let printed = |metres| print::length(Metres(metres), site.lengths);
            let whole = site.runs[run].length.as_ref().map(|length| length.value.0).unwrap_or_default();
            let about = |metres| words::distance(Metres(metres), site.lengths);
            let to = words::end(site, run);
            let Some(along) = along else {
                let text = format!(
                    "the conductors of {label} touch somewhere on its {}, on the way to {to}: the resistors on the way may be off by more ohms than the cable has, so no place can be told",
                    printed(whole)
                );
                return FaultLine { cable: Some(label.to_owned()), ..line("short", text, None) };
            };
            let place = if site.runs[run].upstream.is_none() {
                "from the board".to_owned()
            } else {
                format!("from its near end, {} from the board", about(from_board.0))
            };
            let text = format!(
                "the conductors of {label} touch about {} {place} ({} of its {}), on the way to {to}",
                about(along.nominal),
                words::range(along.least, along.greatest, about),
                printed(whole)
            );
            FaultLine { cable: Some(label.to_owned()), metres: Number::of(from_board.0), ..line("short", text, None) }
        }
        Fault::Touch(run, ohms) => {
            let (label, to) = (words::cable(wiring, run), words::end(site, run));
            let text = format!(
                "the conductors of {label} touch with up to {} between them (a staple or a nail), on the way to {to}",
                near(ohms)
            );
            FaultLine { cable: Some(label.to_owned()), ..line("short", text, Some(ohms)) }
        }
        Fault::Actuated(device, more) => {
            let by = near(more.abs());
            let how = if more < 0.0 {
                format!("{by} less than by the figures: its cable is shorter than the spec has it")
            } else {
                format!("{by} more than by the figures: dirt on it, or a longer cable")
            };
            let text = format!("{} in alarm, its contact closed, with {how}", words::placed(site, device));
            line("actuated", text, Some(more))
        }
        Fault::Leakage(ohms) => line(
            "leakage",
            format!("a leak of about {} across the pair: damp, a damaged jacket, or metal through it", near(ohms)),
            Some(ohms),
        ),
        Fault::InSeries(ohms) => {
            line("in-series", format!("a bad joint or contact of about {} in series", near(ohms)), Some(ohms))
        }
        Fault::LeftIn(ohms) => line(
            "left-in",
            format!(
                "a resistor of {} in series, which the spec does not have: one that was left in the loop",
                Ohms(ohms)
            ),
            Some(ohms),
        ),
        Fault::Open => {
            let resistor =
                if network::resistors(site, readings.zone).is_empty() { "" } else { ", or a resistor that broke" };
            line("open", format!("a joint that came apart{resistor}: it reads as a cut cable does"), None)
        }
        Fault::OpenWithLeakage(ohms) => line(
            "open-with-leakage",
            format!(
                "an open loop (a cut, an open contact, a joint that came apart, a resistor that broke) with a leak of about {} across it",
                near(ohms)
            ),
            Some(ohms),
        ),
        Fault::Resistor { position, needed, preferred, .. } => {
            let text = format!(
                "a resistor of about {} where the spec has {}; the nearest preferred value is {}",
                near(needed),
                resistor(site, wiring, readings.zone, position).trim_start_matches("the resistor of "),
                Ohms(preferred)
            );
            line("resistor", text, Some(needed))
        }
        Fault::LeftOut { position, .. } => {
            let text = format!(
                "{} is not in what was measured: the leads were lifted behind it, or it is bridged",
                resistor(site, wiring, readings.zone, position)
            );
            line("left-out", text, None)
        }
        Fault::Second { position, second, parallel, ohms, .. } => {
            let how = if parallel { "in parallel with" } else { "in series with" };
            let text = format!(
                "a second resistor, of {}, {how} {}: together {}",
                Ohms(second),
                resistor(site, wiring, readings.zone, position),
                words::ohms(ohms.nominal)
            );
            line("second-resistor", text, Some(second))
        }
        Fault::Contact { device, cover, closed, ohms } => {
            let text = words::contact_worked((cover, closed), &words::placed(site, device), &near(ohms));
            line("contact", text, Some(ohms))
        }
        Fault::LeadsTouch => {
            let text = "the two leads touch before they reach a cable, as at a joint in the enclosure, or each of its cables is shorted: no single one gives so few ohms";
            line("leads-touch", text.to_owned(), None)
        }
        Fault::AtBoard => {
            let text =
                "the loop reads right with the leads off: the screws of its input, the leads there, or the board";
            line("at-board", text.to_owned(), None)
        }
        Fault::OtherVoltage(most) => {
            let text = format!(
                "a voltage from elsewhere: the board gives at most {}. Touch nothing bare before you know which it is; another supply, the bus, a telephone line or mains may be on this pair",
                words::volts(most)
            );
            line("other-voltage", text, None)
        }
        Fault::Mistaken { meant, state } => {
            let meant = match meant {
                Measured::Ohms(ohms) => format!("{} with the leads off", words::ohms(ohms)),
                Measured::Volts(volts) => format!("{} with the leads on", words::volts(volts)),
            };
            let state = readings.states.get(state).map(|reading| Paper.state(site, wiring, reading.state));
            line("other-unit", format!("{meant}, written otherwise: {}", state.unwrap_or_default()), None)
        }
    }
}

/// Two digits: more would claim what such a guess cannot.
fn near(ohms: f64) -> String {
    Ohms(format!("{ohms:.1e}").parse().unwrap_or(ohms)).to_string()
}
