//! A loop that is measured twice in one record, or that is open and has ohms.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::Seen;

check!("reading-contradicted", Basis::Contradiction, "two readings of one thing in one record");

const WHY: &str =
    "The record is what the loop is compared with for years. Only one of the two can be what the meter showed.";

fn run(context: Context<'_>, sink: &mut Sink) {
    for record in &context.site.measured {
        let mut first: BTreeMap<(u32, Seen, Option<&str>), Span> = BTreeMap::new();
        for reading in &record.loops {
            let (number, state) = (reading.zone.value, reading.state.word());
            if let Some((open, ohms)) = reading.contradiction() {
                let title = format!("loop {number}, {state}, is open and has {}", ohms.value);
                let finding = Diagnostic::new(&RULE, ohms.span, title).here("ohms").also(open, "says open=#true too");
                sink.push(finding.why(WHY).help("Remove one of the two.").about(number));
            }
            // Several things without a name may be in alarm, each with its line.
            let is_one = reading.state == Seen::Rest || reading.of.is_some();
            if !is_one || reading.ohms.is_none() && reading.volts.is_none() {
                continue;
            }
            let key = (number, reading.state, reading.of.as_ref().map(|of| of.value.as_str()));
            let Some(earlier) = first.get(&key) else {
                first.insert(key, reading.zone.span);
                continue;
            };
            let title = format!("loop {number}, {state}, is measured twice on {}", record.date.value);
            let finding = Diagnostic::new(&RULE, reading.zone.span, title).here("again").also(*earlier, "the first");
            sink.push(
                finding
                    .why(WHY)
                    .help("Keep the one that is right. A second round of the same day is a `measured` of its own.")
                    .about(number),
            );
        }
    }
}
