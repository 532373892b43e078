//! A reading that does not fit what is in the spec.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::calc::as_built::{self, Beside, JudgedLoop, JudgedSupply, Verdict};
use crate::calc::diagnose::{Fault, Measured};
use crate::calc::spread::Spread;
use crate::calc::state::State;
use crate::checks::Context;
use crate::checks::loops::loop_known::known;
use crate::checks::loops::loop_verdict::{Cause, SEVERAL};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{MeasuredLoop, Site};
use crate::quantity::{Metres, Ohms, Volts};
use crate::words::{self, Screen};

check!("reading-outside", Basis::Measured, "a reading that does not fit the calculation from the spec");

fn run(context: Context<'_>, sink: &mut Sink) {
    let judged = as_built::loops(context.site, context.loops);
    let of_boards = by_board(context.site, &judged);
    sink.extend(of_boards.values().filter_map(|of| of_board(context, of)));
    let mut outside = judged.iter().filter(|it| it.verdict == Verdict::Outside && it.written.contradiction().is_none());
    let mut next = outside.next();
    while let Some(first) = next {
        next = outside.next();
        if of_boards.values().flatten().any(|of| std::ptr::eq(*of, first)) {
            continue;
        }
        // Ohms and volts of one line are one finding.
        let volts = next.filter(|second| std::ptr::eq(second.written, first.written));
        if volts.is_some() {
            next = outside.next();
        }
        sink.extend(of_loop(context, first, volts));
    }
    for judged in as_built::supplies(context.site, context.power) {
        if judged.verdict == Verdict::Outside {
            sink.extend(of_supply(context, &judged));
        }
    }
}

/// The volts that were read with the leads on, by the figures of the board that they are held against: where none of several
/// fits, and the ohms of each line do.
fn by_board<'j, 's>(site: &Site, judged: &'j [JudgedLoop<'s>]) -> BTreeMap<Span, Vec<&'j JudgedLoop<'s>>> {
    let mut found: BTreeMap<Span, Vec<&JudgedLoop<'_>>> = BTreeMap::new();
    for one in judged.iter().filter(|one| as_built::ohms(one.value).is_none()) {
        let sensing = one.zone.and_then(|zone| known(site, zone)?.sensing);
        if let Some(sensing) = sensing {
            found.entry(sensing.place.span).or_default().push(one);
        }
    }
    let is_wrong = |one: &&JudgedLoop<'_>| {
        one.verdict == Verdict::Outside && one.written.contradiction().is_none() && one.beside == Beside::RightOff
    };
    found.retain(|_, all| all.len() >= SEVERAL && all.iter().all(is_wrong));
    found
}

/// The finding on them.
fn of_board(context: Context<'_>, judged: &[&JudgedLoop<'_>]) -> Option<Diagnostic> {
    let (first, others) = judged.split_first()?;
    let known = known(context.site, first.zone?)?;
    let (part, sensing) = (&known.part.name, known.sensing?);
    let expected =
        |one: &JudgedLoop<'_>| format!("{} expected", ranges(&one.expected, |value| Volts(value).to_string()));
    let title =
        format!("all {} readings with the leads on of part `{}` are not as calculated", judged.len(), part.value);
    let finding = Diagnostic::new(&RULE, first.span, title)
        .here(expected(first))
        .also(sensing.place.span, "calculated by these figures")
        .why("With the leads off these loops read right, in the same lines: their cables are whole. What all of them have in common is the board: the voltage and the pull-up that it reads them through.")
        .help("Hold supply= and pull-up= of that part against the board's sheet. If they are as it has them, measure the volts of an input with nothing on it: they are those of supply=, or the board is another or has a fault.")
        .about(&part.value);
    let numbers = judged.iter().filter_map(|one| Some(context.site.zones[one.zone?].number.value));
    let finding = numbers.fold(finding, Diagnostic::about);
    Some(others.iter().fold(finding, |finding, one| finding.also(one.span, expected(one))))
}

/// What to do where more volts are there than the board gives.
const FOREIGN: &str = "The board cannot give so many volts: another supply, the bus, a telephone line or mains may be on this pair. Touch nothing bare. Take both leads off with the board off, and measure from each to earth and between them, on a range for mains, before anything else is done there.";

/// Where a range begins below these, that a value lies in it after a shift of three digits says nothing.
const LEAST_OHMS: f64 = 20.0;
const LEAST_VOLTS: f64 = 0.1;

/// A value as it was measured: "2.203 kΩ with the leads off".
pub(crate) fn value(judged: &JudgedLoop<'_>) -> String {
    match judged.value {
        Measured::Ohms(ohms) => format!("{} with the leads off", Ohms(ohms)),
        Measured::Volts(volts) => format!("{} with the leads on", Volts(volts)),
    }
}

/// A finding about a line: about its zone, and about what was worked.
pub(crate) fn about(finding: Diagnostic, line: &MeasuredLoop) -> Diagnostic {
    line.of.iter().fold(finding.about(line.zone.value), |finding, of| finding.about(&of.value))
}

/// The finding on a reading, and on the volts of the same line where they do not fit either.
fn of_loop(context: Context<'_>, judged: &JudgedLoop<'_>, volts: Option<&JudgedLoop<'_>>) -> Option<Diagnostic> {
    let site = context.site;
    let zone = judged.zone?;
    // Of a loop in which something was reported, nothing is expected.
    known(site, zone)?;
    // What a loop with an error reads says nothing of the wall.
    if context.verdicts.get(&zone).is_some_and(|causes| causes.iter().any(Cause::is_error)) {
        return None;
    }
    let readings = context.loops.get(&zone)?;
    let wired = site.zones[zone].wired.as_ref()?;
    let number = site.zones[zone].number.value;
    let in_ohms = as_built::ohms(judged.value).is_some();
    let said = |value: f64| if in_ohms { Ohms(value).to_string() } else { Volts(value).to_string() };
    let found = as_built::explained(site, readings, judged);
    let mut fits = found.iter().flat_map(|found| &found.fits).filter_map(|fit| readings.states.get(fit.state));
    let is_foreign = |fault: &Fault| matches!(fault, Fault::OtherVoltage(_));
    let is_slip = |fault: &Fault| matches!(fault, Fault::Mistaken { .. });
    let foreign =
        found.as_ref().is_some_and(|found| found.faults.iter().any(is_foreign) && !found.faults.iter().any(is_slip));
    let unseen = fits.any(|fit| fit.state == State::Normal);
    let state = Screen.seen(site, judged.zone, judged.written);
    let title = format!("zone {number}, {state}, read {} on {}", value(judged), judged.date);
    let mut finding = Diagnostic::new(&RULE, judged.span, title)
        .here(format!("{} expected", ranges(&judged.expected, said)))
        .also(wired.place.span, format!("the loop of zone {number} as the spec has it"))
        .why("Either something in the wall is not as in the spec, or something in it has a fault. Until that is found, the paper does not tell what is there.")
        .help(if foreign { FOREIGN.to_owned() } else { help(judged, number, unseen) });
    finding = about(finding, judged.written);
    if let Some(volts) = volts {
        let said = ranges(&volts.expected, |value| Volts(value).to_string());
        finding = finding.also(volts.span, format!("{said} expected"));
    }
    if let Some((date, before)) = judged.before {
        finding = finding.figure(format!("on {date}: {}", said(before)));
    }
    if let Some(found) = found {
        // That it is what the loop reads at rest is said in the help.
        let fits = found.fits.iter().filter_map(|fit| readings.states.get(fit.state));
        for fit in fits.filter(|fit| fit.state != State::Normal).take(3) {
            finding = finding.figure(format!("as with {}", Screen.state(context.site, context.wiring, fit.state)));
        }
        for fault in found.faults.iter().take(3) {
            finding = finding.figure(explanation(context, fault));
        }
    }
    Some(finding)
}

/// Ranges in words, each of which is right: "0.00 V to 0.03 V or 4.92 V to 5.07 V".
fn ranges(expected: &[Spread], said: impl Fn(f64) -> String) -> String {
    let one = |range: &Spread| format!("{} to {}", said(range.least), said(range.greatest));
    expected.iter().map(one).collect::<Vec<_>>().join(" or ")
}

/// What to do. An alarm that reads as at rest was not seen: no slip of a unit may hide that.
fn help(judged: &JudgedLoop<'_>, number: u32, unseen: bool) -> String {
    if unseen {
        return "This is what the loop reads at rest: the board does not see what was worked. Its contact is bridged, its magnet or its part is stuck, or it is not in this loop. Work it again with the meter on, and find out why. Write \"rest\" only if that is what was measured.".to_owned();
    }
    if let Some(other) = judged.expected.iter().find_map(|expected| other_unit(judged, expected)) {
        return other;
    }
    match judged.beside {
        Beside::RightOff => {
            return format!(
                "With the leads off this loop reads right, in the same line: its cables are whole. Look at the screws of its input and at both leads there, and measure again with them on. If it stays, have that input of the board looked at; `loopwright diagnose` with zone={number} and these volts says how."
            );
        }
        Beside::Agrees => {
            return format!(
                "Ohms and volts of this line confirm each other, so it is what the loop reads. Find the fault, or put into the spec what is in the wall; until then do not count on it. `loopwright diagnose` with zone={number} and this value lists what gives it at rest."
            );
        }
        Beside::Nothing => {}
    }
    let again = match judged.value {
        Measured::Ohms(_) => "Measure again, and subtract what the meter shows when its probes touch.",
        Measured::Volts(_) => "Measure again at the screws of the input, with both leads on.",
    };
    format!(
        "{again} If it stays, find the fault or put into the spec what is in the wall. `loopwright diagnose` with zone={number} and this value lists all that would explain it."
    )
}

/// What to write where the value is right in the next unit; of an open loop nearly every large number is, of a closed contact
/// nearly every small one, and no slip is both in ohms and in volts.
fn other_unit(judged: &JudgedLoop<'_>, expected: &Spread) -> Option<String> {
    let least = match judged.value {
        Measured::Ohms(_) => LEAST_OHMS,
        Measured::Volts(_) => LEAST_VOLTS,
    };
    if expected.greatest.is_infinite() || expected.least < least || judged.beside == Beside::Agrees {
        return None;
    }
    let is_near = |value: f64| expected.least <= value && value <= expected.greatest;
    let (value, [thousandth, thousandfold]) = match judged.value {
        Measured::Ohms(ohms) => (ohms, [("ohm", ohms / 1e3), ("kohm", ohms)]),
        Measured::Volts(volts) => (volts, [("mV", volts), ("V", volts * 1e3)]),
    };
    let meant = (is_near(value / 1e3).then_some(thousandth)).or_else(|| is_near(value * 1e3).then_some(thousandfold));
    let (unit, number) = meant?;
    let number = (number * 1e6).round() / 1e6;
    Some(format!("If the unit is a slip, write ({unit}){number}; else measure again."))
}

/// What would explain it, in few words.
fn explanation(context: Context<'_>, fault: &Fault) -> String {
    let site = context.site;
    match *fault {
        Fault::Short { run, along, .. } => {
            let place =
                along.map(|along| format!(" about {} along it", words::distance(Metres(along.nominal), site.lengths)));
            format!(
                "as with the conductors of {} touching{}",
                Screen.cable(context.wiring, run),
                place.unwrap_or_default()
            )
        }
        Fault::Touch(run, ohms) => format!(
            "as with the conductors of {} touching with up to {:.1} Ω between them",
            Screen.cable(context.wiring, run),
            ohms
        ),
        Fault::Actuated(device, _) => format!("as with {} in alarm, its contact closed", Screen.device(site, device)),
        Fault::Leakage(ohms) => format!("as with a leak of about {} across the pair", Ohms(ohms)),
        Fault::InSeries(ohms) => format!("as with a bad joint or contact of about {}", Ohms(ohms)),
        Fault::LeftIn(ohms) => format!("as with a resistor of {} that was left in the loop", Ohms(ohms)),
        Fault::Open => "as where a joint came apart or a resistor broke".to_owned(),
        Fault::OpenWithLeakage(ohms) => format!("as with an open loop and a leak of about {}", Ohms(ohms)),
        Fault::Resistor { fitted, preferred, .. } => {
            format!("as with a resistor of {} where the spec has {}", Ohms(preferred), Ohms(fitted))
        }
        Fault::LeftOut { fitted, .. } => format!("as without the resistor of {}", Ohms(fitted)),
        Fault::Second { fitted, second, parallel, .. } => {
            let how = if parallel { "in parallel" } else { "in series" };
            format!("as with a second resistor of {} {how} with that of {}", Ohms(second), Ohms(fitted))
        }
        Fault::Contact { device, cover, closed, ohms } => {
            let told = words::contact_worked((cover, closed), &Screen.device(site, device), &Ohms(ohms).to_string());
            format!("as where {told}")
        }
        Fault::LeadsTouch => {
            "as where the two leads touch before they reach a cable, or all its cables are shorted".to_owned()
        }
        Fault::AtBoard => "as with a loose screw or lead at its input, or a fault of the board".to_owned(),
        Fault::OtherVoltage(most) => {
            format!("as with a voltage from elsewhere: the board gives at most {}", Volts(most))
        }
        Fault::Mistaken { meant: Measured::Ohms(ohms), .. } => format!("as if {} was meant", Ohms(ohms)),
        Fault::Mistaken { meant: Measured::Volts(volts), .. } => format!("as if {} was meant", Volts(volts)),
    }
}

fn of_supply(context: Context<'_>, judged: &JudgedSupply<'_>) -> Option<Diagnostic> {
    let (least, greatest) = judged.expected?;
    let what =
        if judged.battery { format!("the battery of {}", Screen.name(judged.name)) } else { Screen.name(judged.name) };
    let low = judged.volts < least;
    let (why, help) = match (judged.battery, low) {
        (true, true) => (
            "A charged lead-acid battery on its charger lies at 2.25 to 2.30 V a cell. One that stays below is not charged, or has a dead cell.",
            "See that the mains is on and the charger's fuse whole, wait a day, and measure again. If it stays, replace the battery.",
        ),
        (true, false) => (
            "A lead-acid battery that is held above 2.35 V a cell gases, dries out and swells.",
            "Have the board's charger looked at; until then watch the battery's case.",
        ),
        (false, true) if as_built::is_off_at_rest(context.site, context.power, judged.name) => (
            "It is on in alarm only, so on mains it has nothing at rest and these volts in alarm.",
            "Take the reading out where it was on battery: the trial under mains loss on the commissioning sheet holds those against the battery's. On mains in alarm, measure at the board's terminals, and from there to the joint where the volts go.",
        ),
        (false, true) => (
            "More is lost on the way than the cables in the spec lose: a bad joint, a thinner or longer cable, or something on it that is not in the spec.",
            "Measure along the way from the board to find the joint where the volts go, or put into the spec what is in the wall.",
        ),
        (false, false) => (
            "By the board's sheet there are not so many volts even while nothing is taken.",
            "Measure at the board's output. If that is high as well, correct volts= of the output or have the board looked at; else find the other supply that is on this cable.",
        ),
    };
    let finding = Diagnostic::new(&RULE, judged.span, format!("{what} had {} on {}", judged.volts, judged.date))
        .here(format!("{least} to {greatest} expected"))
        .why(why)
        .help(help)
        .about(judged.name);
    let board = context.site.board_named(judged.name);
    Some(match board {
        Some((id, board)) => finding.also(board.name.span, Screen.board(context.site, id)),
        None => finding,
    })
}
