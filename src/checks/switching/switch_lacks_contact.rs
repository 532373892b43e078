//! A circuit on a contact that its relay does not have.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::terms::SwitchContact;
use crate::words::Screen;

check!("switch-lacks-contact", Basis::Contradiction, "a circuit on a contact that its relay does not have");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site) {
        let transistor = one.switch.common().is_none();
        if one.switch.mark(one.switching.contact).is_some()
            && !(transistor && one.switching.contact == SwitchContact::Break)
        {
            continue;
        }
        let wanted = one.switching.contact.printed();
        let other = match one.switching.contact {
            SwitchContact::Make => SwitchContact::Break,
            SwitchContact::Break => SwitchContact::Make,
        };
        let help = match one.switch.mark(other) {
            _ if transistor => format!(
                "Leave contact= out: a transistor gives the load its supply while it is driven. Or take a relay that has a {wanted}."
            ),
            Some(_) => format!(
                "Write contact=\"{}\" if the load may be switched the other way round, or take a relay that has a {wanted}.",
                other.word()
            ),
            None => {
                format!("Add {}= to the relay in its part, as the board's sheet says.", one.switching.contact.word())
            }
        };
        let title = format!("{} has no {wanted}", Screen.switch(site, one.of));
        let finding = Diagnostic::new(&RULE, one.span(), title)
            .here(format!("on its {wanted}"))
            .also(one.switch.name.span, format!("without a {wanted}"))
            .why("The conductor would end under no screw. Which contacts there are is on the board's sheet.")
            .help(help);
        sink.push(about::owner(site, Owner::Circuit(one.id), finding));
    }
}
