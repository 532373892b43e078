//! Verdicts on the model and its wiring: a folder a topic, in it one file and one page a rule.
//!
//! A check reads the model, says what it found, and changes nothing. Where the spec could not be read whole
//! ([`Site::complete`](crate::model::Site)), nothing is concluded from what is absent; nor, where an absence may be
//! the consequence of what was reported already, unless it is [`Site::sound`](crate::model::Site).

/// Declares the rule of a check and the check itself: slug, basis, one line of summary. The page is `<slug>.md` beside
/// the file, and the file has `fn run`, which reports every finding.
macro_rules! check {
    ($slug:literal, $basis:expr, $summary:literal) => {
        static RULE: $crate::diag::Rule = $crate::rule!($slug, $basis, $summary);

        /// The check of this file.
        pub(super) static CHECK: $crate::checks::Check = $crate::checks::Check { rule: &RULE, run };
    };
}

/// Declares the checks of a topic: their files, and the list of them.
macro_rules! checks {
    ($($name:ident,)+) => {
        $(pub(crate) mod $name;)+

        /// The checks of this topic.
        pub(super) static CHECKS: &[&$crate::checks::Check] = &[$(&$name::CHECK,)+];
    };
}

mod about;
pub(crate) mod accept;
mod battery;
mod bus;
mod cables;
mod detection;
mod labels;
mod loops;
mod parts;
mod readings;
mod reporting;
mod supply;
mod switching;
mod timing;
mod upkeep;
mod zones;

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::LoopReadings;
use crate::calc::bus::BusFigures;
use crate::calc::power::Power;
use crate::calc::timing::Door;
use crate::compiled::Compiled;
use crate::diag::{Rule, Sink};
use crate::model::{Bus, Site, Zone};
use crate::register::Wiring;
pub(crate) use bus::bus_addresses::free as free_addresses;
use bus::bus_verdict;
use loops::loop_verdict;

/// What a check may look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Context<'s> {
    /// The site.
    pub(crate) site: &'s Site,
    /// Its labels and landings.
    pub(crate) wiring: &'s Wiring,
    /// What every loop reads that can be calculated.
    pub(crate) loops: &'s BTreeMap<Id<Zone>, LoopReadings>,
    /// What is wrong with every loop that is not right.
    pub(crate) verdicts: &'s BTreeMap<Id<Zone>, Vec<loop_verdict::Cause>>,
    /// What every supply feeds, and the volts that arrive.
    pub(crate) power: &'s Power,
    /// The figures of every bus of which all is known.
    pub(crate) buses: &'s BTreeMap<Id<Bus>, BusFigures>,
    /// The doors with an entry delay, each with the way to its keypad.
    pub(crate) doors: &'s [Door],
    /// What is wrong with the data pair of every bus that is not right.
    pub(crate) bus_causes: &'s BTreeMap<Id<Bus>, Vec<bus_verdict::Cause>>,
}

/// A rule and the function that looks for it.
#[derive(Debug)]
pub(crate) struct Check {
    /// The rule.
    pub(crate) rule: &'static Rule,
    /// Reports every finding.
    run: fn(Context<'_>, &mut Sink),
}

/// The checks by topic, in the order of the reference.
static TOPICS: &[&[&Check]] = &[
    parts::CHECKS,
    cables::CHECKS,
    labels::CHECKS,
    zones::CHECKS,
    detection::CHECKS,
    supply::CHECKS,
    switching::CHECKS,
    loops::CHECKS,
    bus::CHECKS,
    battery::CHECKS,
    timing::CHECKS,
    upkeep::CHECKS,
    reporting::CHECKS,
    readings::CHECKS,
];

/// Every check.
pub(crate) fn all() -> impl Iterator<Item = &'static Check> {
    TOPICS.iter().copied().flatten().copied()
}

/// Runs every check.
pub(crate) fn run(compiled: &Compiled, sink: &mut Sink) {
    let Compiled { site, wiring, loops, power, buses, doors, .. } = compiled;
    let verdicts = &loop_verdict::of_site(site, loops);
    let bus_causes = &bus_verdict::of_site(site, buses);
    let context = Context { site, wiring, loops, verdicts, power, buses, doors, bus_causes };
    for check in all() {
        (check.run)(context, sink);
    }
}
