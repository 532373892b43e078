//! More than the wire can carry at any voltage.

use std::ops::Range;

use crate::calc::power::remedy;
use crate::calc::power::{Case, Feeding, Supply, Tree};
use crate::checks::supply::power_verdict::{Stage, collapsed, stage};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::model::Take;
use crate::quantity::{Amperes, Ohms, Volts, Watts};
use crate::words::{self, Screen};

check!("supply-without-solution", Basis::Contradiction, "more taken than a cable can carry at all");

fn run(context: Context<'_>, sink: &mut Sink) {
    report(context, &RULE, false, sink);
}

/// Reports the supplies without a solution: those where that follows only from the guess of a cable's size (`guessed`), or the
/// others.
pub(crate) fn report(context: Context<'_>, rule: &'static Rule, guessed: bool, sink: &mut Sink) {
    for feeding in &context.power.feedings {
        if let Stage::Collapsed(..) = stage(context.site, feeding) {
            let (failing, _) = collapsed(context.site, feeding);
            let found = |(case, branch)| finding(context, (rule, guessed), feeding, case, branch);
            sink.extend(failing.into_iter().filter_map(found));
        }
    }
}

/// What is asked for at a place and beyond it, and the resistance on the way there from what holds the volts: the supply
/// itself, or a module's output that raises them.
struct Asked {
    node: usize,
    from: usize,
    volts: Volts,
    ohms: f64,
    watts: f64,
    amperes: f64,
}

fn finding(
    context: Context<'_>,
    (rule, guessed): (&'static Rule, bool),
    feeding: &Feeding,
    case: Case,
    branch: Range<usize>,
) -> Option<Diagnostic> {
    let site = context.site;
    let tree = &feeding.tree;
    let volts = match case.supply {
        Supply::Mains => tree.volts?,
        Supply::Battery => feeding.battery_volts?,
    };
    let unknown = remedy::only_by_guess(site, &tree.only(std::slice::from_ref(&branch)));
    if unknown.is_empty() == guessed {
        return None;
    }
    // The place for which the reason is plainest.
    let worst = asked(tree, case, volts, branch.clone())
        .into_iter()
        .max_by(|one, other| share(one).total_cmp(&share(other)))?;
    let volts = worst.volts;
    let (_, load) = tree
        .loads()
        .filter(|(node, _)| branch.contains(node))
        .find(|(node, _)| tree.way(*node).contains(&worst.node))?;
    let who = Screen.consumer(site, load.consumer);
    let source = tree.outlet_of(worst.from);
    let from = Screen.source(site, source);
    let ohms = Ohms(worst.ohms);
    let finding = Diagnostic::new(
        rule,
        power_words::span(site, load.consumer),
        format!(
            "the cable to {who} {} carry what is taken {}{}",
            if guessed { "may not" } else { "cannot" },
            words::case(case),
            power_words::by_guess(context, &unknown)
        ),
    )
    .here("no voltage is left here that would do")
    .also(power_words::source_span(site, source), format!("{volts} {}", words::supply(case.supply)));
    let way = tree.way(worst.node).into_iter().skip_while(|at| *at != worst.from);
    let runs = way.filter_map(|at| tree.nodes.get(at)?.run);
    let finding = runs.fold(finding, |finding, run| {
        let length = site.runs[run].length.as_ref().map_or(site.runs[run].span(), |length| length.span);
        finding.also(length, Screen.cable(context.wiring, run)).figure(words::sized_cable(site, context.wiring, run))
    });
    let finding = if worst.watts > 0.0 {
        let most = Watts(volts.0 * volts.0 / 4.0 / worst.ohms);
        finding
            .why("A device behind a switching regulator takes the more current the less voltage it gets. Past a quarter of V²/R the wire loses with every ampere more than the device gains: there is no voltage at which the two agree, and the device goes out.")
            .figure(format!("{from}: {volts}; both conductors on the way at their hottest: {ohms}"))
            .figure(format!("most that can arrive: V²/4R = {most}; asked for there and beyond: {}", Watts(worst.watts)))
    } else {
        finding
            .why("The currents of all that hangs there would lose more on the way than the supply has.")
            .figure(format!("{from}: {volts}; both conductors on the way at their hottest: {ohms}"))
            .figure(format!("asked for there and beyond: {}", Amperes(worst.amperes)))
    };
    let finding = if guessed { finding.why(power_words::GUESSED) } else { finding };
    let part = tree.only(&[branch]);
    let measure = power_words::to_measure(context, &unknown).into_iter();
    let remedies: Vec<String> = measure.chain(power_words::remedies(context, feeding, &part)).collect();
    let finding = about::consumer(site, load.consumer, finding);
    Some(power_words::helped(finding, &remedies, "Feed it from a board with a supply of its own that stands nearer."))
}

/// How near the wire's bound is.
fn share(asked: &Asked) -> f64 {
    let volts = asked.volts.0;
    let by_power = asked.watts * 4.0 * asked.ohms / (volts * volts);
    if asked.watts > 0.0 { by_power } else { asked.amperes * asked.ohms / volts }
}

/// What is asked for at each place of a branch. A place stands after the one before it, so one pass outwards adds up the
/// ohms, and one back what is taken. An output that raises its volts begins anew, and takes the power that it gives.
fn asked(tree: &Tree, case: Case, source: Volts, branch: Range<usize>) -> Vec<Asked> {
    let mut asked: Vec<Asked> = Vec::new();
    let position = |before: usize| before.checked_sub(branch.start);
    for (node, place) in tree.nodes.iter().enumerate().skip(branch.start).take(branch.len()) {
        let before = position(place.before).and_then(|before| asked.get(before));
        let before = before.map_or((0, source, 0.0), |before| (before.from, before.volts, before.ohms));
        let raised = place.raised.map(|raised| (node, raised.volts(case.supply, case.wire), 0.0));
        let (from, volts, ohms) = raised.unwrap_or(before);
        let mut here = Asked { node, from, volts, ohms: ohms + case.wire.of(place.ohms), watts: 0.0, amperes: 0.0 };
        for load in &place.loads {
            match load.takes(case.demand) {
                Take::Power(power) => here.watts += power.0,
                Take::Current(current) => here.amperes += current.0,
            }
        }
        asked.push(here);
    }
    for at in (0..asked.len()).rev() {
        let (Some(here), Some(place)) = (asked.get(at), tree.nodes.get(branch.start + at)) else { continue };
        let is_raised = here.from == here.node;
        let (watts, amperes) =
            if is_raised { (here.watts + here.amperes * here.volts.0, 0.0) } else { (here.watts, here.amperes) };
        let before = position(place.before).filter(|before| *before != at);
        if let Some(before) = before.and_then(|before| asked.get_mut(before)) {
            before.watts += watts;
            before.amperes += amperes;
        }
    }
    asked
}
