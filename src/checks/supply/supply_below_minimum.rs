//! A device at the end of its cable with less than it works with.

use crate::base::Id;
use crate::calc::power::judge::Unfit;
use crate::calc::power::remedy;
use crate::calc::power::{Demand, Feeding, Supply, Wire};
use crate::checks::supply::power_verdict::{self, Stage};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::model::Run;
use crate::quantity::print::apart;
use crate::words::{self, Screen};

check!("supply-below-minimum", Basis::Contradiction, "a device that gets less than its least voltage");

/// What is said of devices that get too little whatever is guessed.
const WHY: &str = "On battery the supply is low, in alarm every device takes its most, and in the heat copper has its greatest resistance: the volts that are then left do not carry this device. It fails in the one hour for which it hangs there.";

/// How many more devices a finding names.
const NAMED: usize = 6;

fn run(context: Context<'_>, sink: &mut Sink) {
    report(context, &RULE, false, sink);
}

/// Reports the branches of which a device gets too little: those where that follows only from the guess of a cable's size
/// (`guessed`), or the others.
pub(crate) fn report(context: Context<'_>, rule: &'static Rule, guessed: bool, sink: &mut Sink) {
    for feeding in power_verdict::solved(context) {
        of_feeding(context, (rule, guessed), feeding, sink);
    }
    // A cable that carries nothing hides nothing on the others of its output.
    for feeding in &context.power.feedings {
        if let Stage::Collapsed(..) = power_verdict::stage(context.site, feeding)
            && let (_, Some(rest)) = power_verdict::collapsed(context.site, feeding)
        {
            of_feeding(context, (rule, guessed), &rest, sink);
        }
    }
}

fn of_feeding(context: Context<'_>, (rule, guessed): (&'static Rule, bool), feeding: &Feeding, sink: &mut Sink) {
    for branch in feeding.tree.branches() {
        let mut starved = feeding.starved(branch.clone());
        starved.retain(|unfit| power_verdict::fed_once(context.site, unfit.load.consumer));
        if let [worst, others @ ..] = starved.as_slice() {
            let part = feeding.tree.only(&[branch]);
            let unknown = remedy::only_by_guess(context.site, &part);
            if unknown.is_empty() == guessed {
                continue;
            }
            let finding = finding(context, (rule, &unknown), feeding, worst, others);
            let measure = power_words::to_measure(context, &unknown).into_iter();
            let remedies: Vec<String> = measure.chain(power_words::remedies(context, feeding, &part)).collect();
            sink.push(power_words::helped(finding, &remedies, &without_remedy(feeding, worst)));
        }
    }
}

/// What helps where no cable does: a nearer supply is of no use where this one has too few volts itself.
fn without_remedy(feeding: &Feeding, worst: &Unfit) -> String {
    let best = feeding.unloaded(worst.node, worst.case);
    match best.filter(|volts| volts.0 <= worst.edge.0) {
        Some(volts) => format!(
            "No cable helps: the supply itself has {volts} then. Take a device that works with less, or feed it from a supply that holds more."
        ),
        None => "No cable helps. Take a device that works with less, or feed it from a board with a supply of its own that stands nearer.".to_owned(),
    }
}

fn finding(
    context: Context<'_>,
    (rule, unknown): (&'static Rule, &[Id<Run>]),
    feeding: &Feeding,
    worst: &Unfit,
    others: &[Unfit],
) -> Diagnostic {
    let site = context.site;
    let consumer = worst.load.consumer;
    let (who, when) = (Screen.consumer(site, consumer), words::case(worst.case));
    let (volts, min) = apart(worst.volts, worst.edge);
    let gets = if unknown.is_empty() { "gets" } else { "may get" };
    let title = format!("{who} {gets} {volts} {when}; it needs {min}{}", power_words::by_guess(context, unknown));
    let why = if unknown.is_empty() { WHY } else { power_words::GUESSED };
    let finding = Diagnostic::new(rule, power_words::span(site, consumer), title)
        .here(format!("needs {min}, {gets} {volts}"))
        .why(why);
    let finding = others.iter().take(NAMED).fold(finding, |finding, other| {
        let (volts, min) = apart(other.volts, other.edge);
        finding.also(power_words::span(site, other.load.consumer), format!("needs {min}, {gets} {volts}"))
    });
    let finding =
        others.iter().chain([worst]).fold(finding, |finding, one| about::consumer(site, one.load.consumer, finding));
    let finding = power_words::way(context, finding, feeding, worst.node, worst.case);
    let milder = [
        (Supply::Mains, Demand::Idle),
        (Supply::Mains, Demand::Alarm),
        (Supply::Battery, Demand::Idle),
        (Supply::Battery, Demand::Alarm),
    ];
    let milder = milder.into_iter().filter(|case| *case != (worst.case.supply, worst.case.demand));
    let said: Vec<String> = milder
        .filter_map(|(supply, demand)| {
            let volts = feeding.flow(supply, demand, Wire::Hot)?.volts.get(worst.node).copied().flatten()?;
            Some(format!("{volts} {} {}", words::demand(demand), words::supply(supply)))
        })
        .collect();
    let finding = finding.figure(format!("least voltage of {who} by its sheet: {min}"));
    let finding = if said.is_empty() { finding } else { finding.figure(format!("else: {}", said.join(", "))) };
    match others.len().saturating_sub(NAMED) {
        0 => finding,
        1 => finding.figure("and one more device of this branch gets too little"),
        more => finding.figure(format!("and {more} more devices of this branch get too little")),
    }
}
