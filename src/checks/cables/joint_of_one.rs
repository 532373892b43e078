//! A cable that ends in an enclosure to be joined there, and nothing goes on from it.

use crate::base::Spanned;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Run, Site};
use crate::words::Screen;

check!("joint-of-one", Basis::Contradiction, "a cable that ends in a joint box, with nothing to be joined to");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    sink.extend(site.runs.iter().filter_map(|run| in_one_box(site, run)));
    for run in site.runs.iter().filter(|run| is_joined_to_nothing(site, run)) {
        let Some(into) = &run.into else { continue };
        let board = &site.boards[into.value];
        let enclosure = Screen.board(site, into.value);
        let owner = Screen.owner(site, run.owner);
        let finding = Diagnostic::new(&RULE, into.span, format!("in {enclosure} this cable of {owner} is joined to nothing"))
            .here("ends in it")
            .also(run.span(), "nothing goes on from this run")
            .also(board.name.span, "the enclosure")
            .why("A joint has at least two conductors. What is meant to go on from here is not in the spec, so its cable is on no sheet and its length in no figure.")
            .help("Write in the braces of this run the `run` that goes on from the box, or leave into= out where the cable ends at what is mounted on it. A cable that only waits is a `spare-cable`.");
        sink.push(about::owner(site, run.owner, finding));
    }
}

/// A cable with both ends in one enclosure: one of the two is in another.
fn in_one_box(site: &Site, run: &Run) -> Option<Diagnostic> {
    let into = run.into.as_ref()?;
    let (first, begins) = match run.upstream {
        Some(before) => (site.runs[before].into?, "begins in it, where the cable before it ends"),
        None => {
            let home = site.home(run.owner).filter(|_| is_pulled(run.owner))?;
            (Spanned::new(home, site.boards[home].name.span), "begins in it")
        }
    };
    if first.value != into.value || run.along.is_some() {
        return None;
    }
    let enclosure = Screen.board(site, into.value);
    let owner = Screen.owner(site, run.owner);
    let finding = Diagnostic::new(&RULE, into.span, format!("a cable of {owner} begins and ends in {enclosure}"))
        .here("ends in it")
        .also(first.span, begins)
        .also(run.span(), "this run")
        .why("It would be joined to itself. One of its ends is in another place, and whoever pulls it is sent to the wrong one.")
        .help("Name the enclosure in which this run ends; or take the run out, and let what goes on from it begin where it begins.");
    Some(about::owner(site, run.owner, finding))
}

/// True for what is wired from its board on; a transformer and a way to the service come to it from elsewhere.
fn is_pulled(owner: Owner) -> bool {
    match owner {
        Owner::Zone(_) | Owner::Bus(_) | Owner::Circuit(_) | Owner::Spare(_) => true,
        Owner::Communicator(_) | Owner::Transformer(_) => false,
    }
}

/// True for a run that ends in an enclosure with nothing mounted on it and nothing behind it. A cable pulled for later waits
/// there, and one whose owner goes on at a board there has that.
fn is_joined_to_nothing(site: &Site, run: &Run) -> bool {
    let waits = match run.owner {
        Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => true,
        Owner::Zone(_) | Owner::Bus(_) | Owner::Circuit(_) => false,
    };
    // What could not be read may be what goes on.
    site.complete && !waits && run.after.is_empty() && run.mounted.is_empty()
}
