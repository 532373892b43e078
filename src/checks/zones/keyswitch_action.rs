//! A keyswitch of which nobody says what turning it does, and another zone of which it is said.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::ZoneType;

check!("keyswitch-action", Basis::Contradiction, "a keyswitch without its action, or an action without a keyswitch");

fn run(context: Context<'_>, sink: &mut Sink) {
    for zone in context.site.zones.iter().filter(|zone| zone.whole) {
        let Some(kind) = &zone.kind else { continue };
        let number = zone.number.value;
        let finding = match (kind.value == ZoneType::Keyswitch, &zone.action) {
            (true, None) => Diagnostic::new(&RULE, kind.span, format!("zone {number} does not say what turning its key does"))
                .here("momentary or maintained?")
                .help("Write action=\"momentary\" for a key or button that springs back, action=\"maintained\" for one that stays turned."),
            (false, Some(action)) => Diagnostic::new(&RULE, action.span, format!("zone {number} has an action and is no keyswitch"))
                .here("of a keyswitch only")
                .also(kind.span, "the type of this zone")
                .help("Take action= out, or write type=\"keyswitch\"."),
            (true, Some(_)) | (false, None) => continue,
        };
        let why = "The board is told which of the two it is. Set wrong, a key that springs back disarms the house as soon as it is let go, or one that stays turned never arms it again.";
        sink.push(finding.why(why).about(number));
    }
}
