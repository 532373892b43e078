//! The rules of the register, and the words of their diagnostics.

use crate::base::{Span, Spanned};
use crate::diag::{Basis, Diagnostic, Rule};
use crate::register::{InputEntry, Landing};
use crate::rule;

use super::VERSION;

static REGISTER_UNREADABLE: Rule =
    rule!("register-unreadable", Basis::Language, "a register that cannot be read as one");
static REGISTER_CONFLICT: Rule =
    rule!("register-conflict", Basis::Language, "marks of an unfinished merge in the register");
static REGISTER_NEWER: Rule =
    rule!("register-newer", Basis::Language, "a register that a newer version of the program wrote");
static REGISTER_ENTRY_UNCLEAR: Rule =
    rule!("register-entry-unclear", Basis::Language, "an entry of the register that says nothing");
static REGISTER_USED_TWICE: Rule =
    rule!("register-used-twice", Basis::Contradiction, "a label, input or conductor that two entries have");

/// The input that a zone is given is another's.
pub(crate) static REGISTER_INPUT_TAKEN: Rule =
    rule!("register-input-taken", Basis::Contradiction, "an input that another zone is landed on");
/// An input without the cable that is on it.
pub(crate) static REGISTER_CABLE_MISSING: Rule = rule!(
    "register-cable-missing",
    Basis::Contradiction,
    "an input that the register holds for a zone without a cable"
);
/// The label that a run is given is another's, or spent.
pub(crate) static REGISTER_LABEL_TAKEN: Rule =
    rule!("register-label-taken", Basis::Contradiction, "a label that another cable has or had");
/// `--frozen`, and the register would change.
pub(crate) static REGISTER_NOT_CURRENT: Rule =
    rule!("register-not-current", Basis::Contradiction, "a register that has not been written again");
/// A move that the spec asks for.
pub(crate) static LANDING_MOVED: Rule = rule!("landing-moved", Basis::Practice, "something landed that the spec moves");
/// A cable without use.
pub(crate) static CABLE_DEAD: Rule =
    rule!("cable-dead", Basis::Practice, "a cable in the wall that the spec no longer has");
/// A dead cable on a terminal that is wanted.
pub(crate) static CABLE_DEAD_LANDED: Rule =
    rule!("cable-dead-landed", Basis::Mismatch, "a dead cable on an input that a zone is given");
/// A cable that is taken as never pulled.
pub(crate) static CABLE_NEVER_PULLED: Rule =
    rule!("cable-never-pulled", Basis::Practice, "a cable that the register takes as never pulled");
/// Cables that could not be told apart.
pub(crate) static CABLE_GUESSED: Rule =
    rule!("cable-guessed", Basis::Guess, "cables of the register that nothing but order tells apart");

/// The rules of the register.
pub(crate) static RULES: &[&Rule] = &[
    &REGISTER_UNREADABLE,
    &REGISTER_CONFLICT,
    &REGISTER_NEWER,
    &REGISTER_ENTRY_UNCLEAR,
    &REGISTER_USED_TWICE,
    &REGISTER_INPUT_TAKEN,
    &REGISTER_CABLE_MISSING,
    &REGISTER_LABEL_TAKEN,
    &REGISTER_NOT_CURRENT,
    &LANDING_MOVED,
    &CABLE_DEAD,
    &CABLE_DEAD_LANDED,
    &CABLE_GUESSED,
    &CABLE_NEVER_PULLED,
];

/// Rules about the step from one register to the next: once that is written they have nothing to say, and so they are
/// told on the screen and not printed in the packet.
pub(crate) fn is_transient(rule: &Rule) -> bool {
    [&LANDING_MOVED, &CABLE_GUESSED, &CABLE_NEVER_PULLED].contains(&rule)
}

/// The file could not be had.
pub(crate) fn unreadable(span: Span, fault: &str) -> Diagnostic {
    Diagnostic::new(&REGISTER_UNREADABLE, span, format!("register.kdl could not be read: {fault}"))
        .why("It holds the labels and landings of what is in the wall. Without it everything would be given anew, so nothing is written.")
        .help("Make it a plain text file that you may read, inside the site's folder.")
}

/// No `register` node.
pub(crate) fn headless(span: Span) -> Diagnostic {
    Diagnostic::new(&REGISTER_UNREADABLE, span, "register.kdl has no `register` node")
        .here("expected in this file")
        .why("The node says that the file is a register, and in which form. A file that has lost it may have lost more, so nothing is written over it.")
        .help(format!("Take the file back from git, or begin it with: register version={VERSION}"))
}

/// Two `register` nodes.
pub(crate) fn two_heads(first: Span, second: Span) -> Diagnostic {
    Diagnostic::new(&REGISTER_UNREADABLE, second, "a second `register` node")
        .here("the second")
        .also(first, "the first")
        .why("The node stands once. Two of them mean that two registers have been put into one file.")
        .help("Take the file back from git, or remove one node and what is not of this house.")
}

/// Marks of an unfinished merge.
pub(crate) fn conflict((start, end): (Span, Option<Span>)) -> Diagnostic {
    let finding = Diagnostic::new(&REGISTER_CONFLICT, start, "register.kdl holds an unfinished merge")
        .here("the merge could not be finished here")
        .why("Two branches changed the same entries. Which cable has which label is a fact of the wall, so a program must not choose.")
        .help("Keep the entries of cables that are in the wall, from both sides. Delete those of cables that are not pulled yet: `loopwright compile` gives them free labels and terminals again.");
    match end {
        Some(end) => finding.also(end, "to here"),
        None => finding,
    }
}

/// A later form of the file.
pub(crate) fn newer(version: i64, span: Span) -> Diagnostic {
    Diagnostic::new(
        &REGISTER_NEWER,
        span,
        format!("the register is of version {version}, and this program knows {VERSION}"),
    )
    .here("a later form")
    .why("A newer version of loopwright wrote it. What is new in it would be lost if this one wrote it again.")
    .help("Use the version of loopwright that wrote it, or a newer one.")
}

fn unclear(span: Span, title: impl Into<String>) -> Diagnostic {
    Diagnostic::new(&REGISTER_ENTRY_UNCLEAR, span, title).here("not understood").why(
        "By these words a cable is found again. With one that is not understood it would be taken for a new one, and get another label.",
    )
}

/// `of=` that names nothing.
pub(crate) fn owner_unclear(written: &Spanned<String>) -> Diagnostic {
    unclear(written.span, format!("\"{}\" is nothing that a cable belongs to", written.value))
        .help("Write \"zone 7\", or \"bus\", \"circuit\", \"spare\", \"line\" or \"transformer\" with its name, as \"bus data\".")
}

/// `mounted` with none of its names, or several.
pub(crate) fn mounted_unclear(span: Span) -> Diagnostic {
    unclear(span, "what is mounted here needs one name")
        .help("Write one of opening=, device=, board= and title=, as in: mounted opening=\"hall-window\"")
}

/// `near=` or `far=` without board or mark.
pub(crate) fn terminal_unclear(written: &Spanned<String>) -> Diagnostic {
    unclear(written.span, format!("\"{}\" is no terminal", written.value))
        .help("Write the board's name, a blank, and the terminal's mark, as \"main I5\".")
}

fn twice(first: Span, second: Span, title: String) -> Diagnostic {
    Diagnostic::new(&REGISTER_USED_TWICE, second, title)
        .also(first, "the first")
        .here("the second")
        .why("Two branches that both gave it have been merged, or the file was changed by hand. Each paper that was printed is right about one of them only, so neither is chosen here.")
}

/// Two entries of one label.
pub(crate) fn label_twice(label: &str, first: Span, second: Span) -> Diagnostic {
    twice(first, second, format!("the label `{label}` is given twice"))
        .help("Keep the entry of the cable that has this label in the wall. Delete the other if it is not pulled yet: it gets a free label. If both are in the wall, change one label there and here.")
        .about(label)
}

/// Two zones on one input.
pub(crate) fn input_twice(first: &InputEntry, second: &InputEntry) -> Diagnostic {
    let title = format!(
        "input {} of `{}` is given to zone {} and to zone {}",
        second.number, second.board, first.zone, second.zone
    );
    if first.zone == second.zone {
        let title = format!("input {} of `{}` is given to zone {} twice", second.number, second.board, first.zone);
        return twice(first.place.span, second.place.span, title)
            .help("Delete one of the two lines: they say the same.")
            .about(first.zone);
    }
    twice(first.place.span, second.place.span, title)
        .help("Keep the entry of the zone that is landed there. Delete the other, with its cable's entry, if that is not pulled yet: it gets a free input.")
        .about(first.zone)
        .about(second.zone)
}

/// One zone on two inputs.
pub(crate) fn zone_twice(first: &InputEntry, second: &InputEntry) -> Diagnostic {
    let title = format!(
        "zone {} is given input {} of `{}` and input {} of `{}`",
        second.zone, first.number, first.board, second.number, second.board
    );
    twice(first.place.span, second.place.span, title)
        .help("Keep the entry of the input that the loop is landed on, and delete the other.")
        .about(first.zone)
}

/// One conductor with two functions.
pub(crate) fn conductor_twice(label: &str, position: u32, first: Span, second: Span) -> Diagnostic {
    twice(first, second, format!("conductor {position} of cable `{label}` does two things"))
        .help("Keep the line of what it is landed for. Delete the other: it gets a free conductor.")
        .about(label)
}

/// Two conductors at one place of a strip.
pub(crate) fn way_twice(near: &Landing, one: &str, first: Span, other: &str, second: Span) -> Diagnostic {
    let title = format!("terminal {} of `{}` is given to cable `{one}` and to cable `{other}`", near.mark, near.board);
    twice(first, second, title)
        .help("Keep the line of the cable that is landed there. Delete the other line, or write the terminal that its conductor is really on.")
        .about(one)
        .about(other)
}
