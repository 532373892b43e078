//! An alarm permit that was over on the latest day of the spec.

use crate::calc::wear;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("permit-over", Basis::Mismatch, "an alarm permit that is over");

fn run(context: Context<'_>, sink: &mut Sink) {
    let (Some(ends), Some(day)) = (context.site.upkeep.permit_ends, wear::latest_day(context.site)) else { return };
    if ends.value >= day.value {
        return;
    }
    let finding = Diagnostic::new(&RULE, ends.span, format!("the alarm permit was over on {}", ends.value))
        .here("its last day")
        .also(day.span, "the latest day of the spec")
        .why("Where a permit is asked for, an alarm without one may cost a fine, and in some places nobody comes.")
        .help("Renew it, and write its new last day in permit-ends=.");
    sink.push(finding);
}
