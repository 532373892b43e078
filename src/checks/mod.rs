//! Verdicts on the model and its wiring: one file and one page a rule.
//!
//! A check reads the model, says what it found, and changes nothing. Where the spec could not be read whole
//! ([`Site::complete`](crate::model::Site)), nothing is concluded from what is absent.

pub mod accept;

use crate::diag::{Rule, Sink};
use crate::model::Site;
use crate::register::Wiring;

/// What a check may look at.
#[derive(Clone, Copy, Debug)]
pub struct Context<'s> {
    /// The site.
    pub site: &'s Site,
    /// Its labels and landings.
    pub wiring: &'s Wiring,
}

/// A rule and the function that looks for it.
#[derive(Debug)]
pub struct Check {
    /// The rule.
    pub rule: &'static Rule,
    /// Reports every finding.
    pub run: fn(Context<'_>, &mut Sink),
}

/// Every check, in the order of the reference.
pub static CHECKS: &[Check] = &[];

/// Runs every check.
pub fn run(context: Context<'_>, sink: &mut Sink) {
    for check in CHECKS {
        (check.run)(context, sink);
    }
}
