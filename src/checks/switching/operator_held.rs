//! An operator whose input is held for as long as an event lasts, because nobody says for how long.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::terms::Works;
use crate::words::Screen;

check!("operator-held", Basis::Works, "an operator whose input stays closed for as long as an event lasts");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site).filter(|_| site.sound) {
        let hung = one.hung(site);
        let operator = hung.iter().find(|hung| hung.part(site).and_then(|part| part.works) == Some(Works::Operator));
        let held = one.switching.drives.iter().find(|drive| drive.lasts.is_none() && !drive.passes_soon());
        let (Some(operator), Some(held)) = (operator, held) else { continue };
        let who = Screen.consumer(site, operator.consumer);
        let title = format!("{who} is held for as long as {} lasts", held.by.value.printed());
        let finding = Diagnostic::new(&RULE, held.by.span, title)
            .here("without for=")
            .also(operator.span, "an operator")
            .why("Without for= a relay stays driven until the event is over, which may be hours. Most inputs of an operator take the touch of a push button: held, they start it again and again, or nobody else can move the door.")
            .help("Say for how long: for=(s)1 where its sheet has a push button there. Where its sheet wants the contact held, as a window that stays open for as long as it has it, accept this.");
        sink.push(about::owner(site, Owner::Circuit(one.id), finding));
    }
}
