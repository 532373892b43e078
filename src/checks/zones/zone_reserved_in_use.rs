//! A zone number that is kept for later and used now.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("zone-reserved-in-use", Basis::Contradiction, "a reserved zone that has a loop or a wireless detector");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for zone in &site.zones {
        let wireless = zone.wireless.map(|device| site.devices[device].span());
        let used = zone.wired.as_ref().map(|wired| wired.place.span).or(wireless);
        let (Some(reserved), Some(used)) = (zone.reserved, used) else { continue };
        let number = zone.number.value;
        let finding = Diagnostic::new(&RULE, reserved, format!("zone {number} is reserved and in use"))
            .here("kept for later")
            .also(used, "wired already")
            .why("A reserved number is left out of the service's form and of the tests. What is wired to it would never be reported.")
            .help("Take `reserved=#true` out, or take out the loop or the wireless detector.")
            .about(number);
        sink.push(finding);
    }
}
