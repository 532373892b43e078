//! A mark in a part's list of terminals that nothing of the part uses. Of a part with contacts nothing is concluded: a
//! contact's two terminals may have marks of their own.

use crate::base::wording::{did_you_mean, list};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

use super::terminal_unlisted::used;

check!("terminal-without-purpose", Basis::NoEffect, "a terminal in a part's list that nothing uses");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in context.site.parts.iter().filter(|part| part.whole && part.contacts.is_empty() && part.tamper.is_none())
    {
        let used = used(part);
        let supply = part.supply.iter().flat_map(|supply| [&supply.positive, &supply.negative]);
        let loop_fed = part.loop_fed.iter().flat_map(|fed| fed.positive.iter().chain(&fed.negative));
        let own = part.own_supply.iter().map(|own| &own.mark);
        let supply: Vec<&str> = supply.chain(loop_fed).chain(own).map(String::as_str).collect();
        let listed = |mark: &str| part.terminals.iter().any(|terminal| terminal.value == mark);
        // A mark that is used and not listed is the other half of the same slip: `terminal-unlisted` tells that.
        let unlisted = used.keys().copied().filter(|mark| !listed(mark));
        let mut idle = part
            .terminals
            .iter()
            .filter(|mark| !used.contains_key(mark.value.as_str()) && !supply.contains(&mark.value.as_str()))
            .filter(|mark| did_you_mean(&mark.value, unlisted.clone()).is_none());
        let Some(first) = idle.next() else { continue };
        let rest: Vec<_> = idle.collect();
        let marks: Vec<String> =
            std::iter::once(first).chain(rest.iter().copied()).map(|mark| Screen.name(&mark.value)).collect();
        let (noun, verb) = if rest.is_empty() { ("terminal", "has") } else { ("terminals", "have") };
        let title = format!("{noun} {} of part `{}` {verb} no purpose", list(&marks, "and"), part.name.value);
        let finding = Diagnostic::new(&RULE, first.span, title).here("listed, and nothing uses it");
        let finding = rest.iter().fold(finding, |finding, mark| finding.also(mark.span, "and this one"));
        sink.push(
            finding
                .why("The terminal schedule cannot say what this screw is for, and the installer cannot tell a free one from one in use. It may also be a mark that is written wrong.")
                .help(format!("If the board has it, say its purpose as its sheet does: terminal \"{}\" for=\"…\". If not, take it out of the list.", first.value))
                .about(&part.name.value),
        );
    }
}
