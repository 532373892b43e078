//! A test report that comes so seldom that a dead way stays unnoticed.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::supervision::TEST_REPORT;

check!("test-report-rare", Basis::Guess, "a test report that comes less often than once a month");

fn run(context: Context<'_>, sink: &mut Sink) {
    let monitoring = context.site.monitoring.as_ref();
    let Some(every) = monitoring.and_then(|monitoring| monitoring.test_every.as_ref()) else { return };
    let most = TEST_REPORT.figure.time();
    if every.value <= most {
        return;
    }
    sink.push(
        Diagnostic::new(&RULE, every.span, format!("the test report comes every {}", every.value))
            .here(every.value.to_string())
            .why("A way that has died is missed when its test report does not come, so for that long nobody may know. So long an interval is mostly a slip of its unit.")
            .figure(format!("{}: within {most} ({})", TEST_REPORT.what, TEST_REPORT.figure.source()))
            .help("Write the interval that is set up at the board and expected by the service: test-every=(day)7, or (month)1 at most.")
            .about("monitoring"),
    );
}
