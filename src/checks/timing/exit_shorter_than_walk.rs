//! An exit delay in which nobody gets from the keypad out of the door.

use super::entry_shorter_than_walk::too_short;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::timing::delays;

check!(
    "exit-shorter-than-walk",
    Basis::Published(
        "Manual on Uniform Traffic Control Devices section 4E.06, edition of 2009, quoted: walking speed; the rest: common practice"
    ),
    "an exit delay that is shorter than the way out takes"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let limits = delays(context.site.edition);
    for short in too_short(context, |area| area.exit, limits.exit) {
        // An exit delay may not grow past its range: then only a shorter way helps.
        let help = if short.advice.exit >= short.way.needed().0 {
            format!(
                "Write exit=(s){}, put a keypad nearer to the door, or accept this with the reason.",
                short.advice.exit
            )
        } else {
            "Put a keypad nearer to the door: a longer exit delay would leave the house unwatched for too long."
                .to_owned()
        };
        let title = short.title(context.site, "to go out");
        let finding = short.finding(context.site, Diagnostic::new(&RULE, short.delay.span, title));
        sink.push(
            finding
                .why("Whoever arms has to be out, with the door shut, when the delay ends. A door that is still open then is an alarm, or is sent as an exit error.")
                .help(help),
        );
    }
}
