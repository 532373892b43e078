//! Which values would remedy a loop, and how that is said.
//!
//! A value is named only where every state is right with it: at rest normal, every alarm certain and not normal, every
//! cable fault certain, and with shunts no alarm like a cut cable. Where none is, one is named with which a cable fault
//! reads normal, for that is a matter of where the resistor stands and has a rule of its own.

use crate::base::Id;
use crate::base::wording::count;
use crate::calc::remedy::{self, Change, Fits, Lists, Search};
use crate::calc::{LoopReadings, StateReading, Verdict, network};
use crate::diag::{Certainty, Diagnostic};
use crate::model::{Sensing, Site, Zone};
use crate::quantity::Resistance;
use crate::terms::LoopWiring;

use crate::checks::Context;
use crate::checks::loops::loop_known::{
    Known, fits, is_fault, judged_by, lacks_alarm_band, margin_is_small, resistors,
};
use crate::checks::loops::loop_order;
use crate::words::Screen;

/// The change with which a loop is right in every state: one resistor of several left alone; values that other loops of
/// the site have, where these keep the usual margin; other preferred values.
pub(crate) fn change(site: &Site, readings: &LoopReadings, wiring: LoopWiring, sensing: &Sensing) -> Option<Change> {
    let own = own(site, readings.zone);
    let preferred = remedy::preferred();
    let lists: Lists = own.iter().chain(preferred).cloned().collect();
    let search = Search::new(site, sensing, readings);
    search
        .alone(&lists, &|one, cut| fits(wiring, true, one, cut))
        .or_else(|| of_lists(wiring, sensing, (&own, preferred), &|lists, fits| search.best(lists, fits)))
}

/// The resistor, put where a loop without one ends, with which it is right in every state as `wiring`.
pub(crate) fn resistor(site: &Site, readings: &LoopReadings, wiring: LoopWiring, sensing: &Sensing) -> Option<Change> {
    let own = own(site, readings.zone);
    let search = Search::new(site, sensing, readings);
    let lists = (&own, remedy::preferred());
    of_lists(wiring, sensing, lists, &|lists, fits| search.with_resistor(lists, fits))
}

/// What a search finds: among the site's own values where they keep the usual margin, else among the preferred ones, and
/// of these one with which a cable fault reads normal only where no other is.
fn of_lists(
    wiring: LoopWiring,
    sensing: &Sensing,
    (own, preferred): (&Lists, &Lists),
    find: &dyn Fn(&Lists, Fits<'_>) -> Option<Change>,
) -> Option<Change> {
    find(own, &comfortable(wiring, sensing)).or_else(|| {
        [true, false].into_iter().find_map(|strict| find(preferred, &|one, cut| fits(wiring, strict, one, cut)))
    })
}

/// The values that the site's other loops are built with, each in a list of its own, the one that most of them have first.
fn own(site: &Site, zone: Id<Zone>) -> Lists {
    site.resistors_beside(zone).into_iter().map(|value| vec![value]).collect()
}

/// Right, and at rest and in alarm with the usual distance from the edges.
fn comfortable(wiring: LoopWiring, sensing: &Sensing) -> impl Fn(&StateReading, Option<Verdict>) -> bool {
    move |one, cut| fits(wiring, true, one, cut) && (is_fault(one) || !margin_is_small(sensing, one))
}

/// What to swap at a place where the order is wrong, else what to take for the resistors and shunts of a loop that lacks
/// neither; `otherwise` where no value is right in every state.
pub(crate) fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>, otherwise: &str) -> String {
    if let Some(swap) = loop_order::help(context, readings, known) {
        return swap;
    }
    if let Some(without) = without_alarm_band(known) {
        return without;
    }
    judged_by(known)
        .and_then(|sensing| change(context.site, readings, known.wiring, sensing))
        .map_or_else(|| otherwise.to_owned(), |change| take(context, readings, change))
}

/// What to do with shunts on a board that has no band for them: no value of theirs helps.
pub(crate) fn without_alarm_band(known: &Known<'_>) -> Option<String> {
    let double = known.wiring == LoopWiring::DoubleEndOfLine;
    judged_by(known).filter(|sensing| double && lacks_alarm_band(sensing)).map(|_| {
        "By its bands this board does not tell an alarm from a cut, whatever the shunts are: wire the loop \"end-of-line\" and leave shunt= out, or sense it by a board with a band for each. If the board's sheet has both bands, write them in the part's `sensing`.".to_owned()
    })
}

/// A change in words: "Take 2.2 kΩ ±5 % ("2k2") for the resistor and for each of the 2 shunts, …".
pub(crate) fn take(context: Context<'_>, readings: &LoopReadings, change: Change) -> String {
    let fitted = resistors(context.site, readings.zone);
    let value = change.resistors.or(change.shunts);
    let taken = value.map(|value| format!("{}{}", named(value), reason(context, readings, value)));
    if let Some(keep) = change.keep {
        let span = network::resistors(context.site, readings.zone).get(keep).map(|kept| kept.span);
        let run = fitted.iter().find(|(_, value)| Some(value.span) == span).and_then(|(run, _)| *run);
        let place = run.map_or_else(
            || "at the board".to_owned(),
            |run| format!("at the far end of {}", Screen.cable(context.wiring, run)),
        );
        let others = if fitted.len() == 2 { "the other" } else { "the others" };
        let taken = taken.map_or_else(String::new, |taken| format!(" Make it {taken}."));
        return format!("Leave the resistor {place}, and take out {others}: a loop has one.{taken}");
    }
    let mut places = Vec::new();
    if let (Some(resistors), Some(shunts)) = (change.resistors, change.shunts)
        && resistors != shunts
    {
        let at_end = if fitted.len() == 1 { "for the resistor".to_owned() } else { each(fitted.len(), "resistor") };
        return format!(
            "Take {} {at_end} and {} {}: of the pairs of preferred values that were tried they have most margin over all states. The board's sheet may ask for others.",
            named(resistors),
            named(shunts),
            for_shunts(context, readings)
        );
    }
    if change.resistors.is_some() {
        places.push(if fitted.len() == 1 { "for the resistor".to_owned() } else { each(fitted.len(), "resistor") });
    }
    if change.shunts.is_some() {
        places.push(for_shunts(context, readings));
    }
    let reason = value.map(|value| reason(context, readings, value)).unwrap_or_default();
    format!(
        "Take {} {}{reason}. The board's sheet may ask for another.",
        value.map(named).unwrap_or_default(),
        places.join(" and ")
    )
}

/// A change as edits of the values that stand in the spec, where that is all there is to do.
pub(crate) fn edits(site: &Site, zone: Id<Zone>, change: &Change, finding: Diagnostic) -> Diagnostic {
    let marking = |value: Option<Resistance>| value.and_then(Resistance::marking);
    if change.keep.is_some() {
        return finding;
    }
    let fitted = resistors(site, zone);
    let loop_values = fitted.iter().map(|(_, value)| (value.span, marking(change.resistors)));
    let shunts = network::devices(site, zone).filter_map(|device| site.devices[device].shunt.as_ref());
    let shunt_values = shunts.map(|value| (value.span, marking(change.shunts)));
    loop_values.chain(shunt_values).fold(finding, |finding, (span, value)| match value {
        Some(value) => finding.edit(Certainty::House, span, format!("\"{value}\"")),
        None => finding,
    })
}

/// Why this value: the site has it already, or it is the best.
fn reason(context: Context<'_>, readings: &LoopReadings, value: Resistance) -> &'static str {
    if context.site.resistors_beside(readings.zone).contains(&value) {
        ", which other loops of this site have too"
    } else {
        ": of the preferred values it has most margin over all states"
    }
}

/// "for the shunt", "for each of the 3 shunts".
pub(crate) fn for_shunts(context: Context<'_>, readings: &LoopReadings) -> String {
    let devices = crate::calc::network::devices(context.site, readings.zone);
    match devices.filter(|device| context.site.devices[*device].shunt.is_some()).count() {
        1 => "for the shunt".to_owned(),
        many => each(many, "shunt"),
    }
}

fn each(number: usize, what: &str) -> String {
    format!("for each of the {}", count(number, what, None))
}

fn named(value: Resistance) -> String {
    value.marking().map_or_else(|| value.to_string(), |marking| format!("{value} (\"{marking}\")"))
}
