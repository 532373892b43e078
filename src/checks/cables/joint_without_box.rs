//! Cables that are joined in a room, and nobody says in what.

use crate::base::Id;
use crate::base::wording::count;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Mounted, Owner, Room, Run, Site};
use crate::register::{Cable, Wiring};
use crate::words::{self, Screen};

check!("joint-without-box", Basis::Practice, "cables that are joined somewhere in a room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    // What stands there may be what was reported.
    if !site.sound {
        return;
    }
    for cable in &wiring.cables {
        let Some(joined) = joined_nowhere(site, wiring, cable) else { continue };
        let Some(room) = site.runs[cable.run].room else { continue };
        let owner = site.runs[cable.run].owner;
        let place = &site.rooms[room].title;
        let label = Screen.cable(wiring, cable.run);
        let others = count(joined.len(), "other", None);
        let mut finding = Diagnostic::new(&RULE, site.runs[cable.run].span(), format!("{label} is joined to {others} somewhere in {place}"))
            .here("ends where nothing is mounted")
            .why("A joint that has no place on paper is plastered over, and the first that corrodes is looked for in every wall. In a box with a name it is found.")
            .help(help(site, room));
        for run in joined {
            finding = finding.also(site.runs[run].span(), format!("joined to it: {}", Screen.cable(wiring, run)));
        }
        sink.push(about::owner(site, owner, finding.about(&cable.label)));
    }
}

/// The runs that go on in other cables from where a cable ends, if they do and nothing there has a housing for the joint.
fn joined_nowhere(site: &Site, wiring: &Wiring, cable: &Cable) -> Option<Vec<Id<Run>>> {
    let housed = |run: &Id<Run>| site.ends_in(*run).is_some() || site.runs[*run].mounted.iter().any(is_housing);
    let plugged = matches!(site.runs[cable.run].owner, Owner::Communicator(_) | Owner::Spare(_));
    if plugged || cable.carries.iter().any(housed) {
        return None;
    }
    let after = cable.carries.iter().flat_map(|run| site.runs_after(*run)).map(|(next, _)| next);
    let mut joined: Vec<Id<Run>> = Vec::new();
    for next in after {
        let other = |run: &Id<Run>| words::cable(wiring, *run) == words::cable(wiring, next);
        if words::cable(wiring, next) != cable.label && !joined.iter().any(other) {
            joined.push(next);
        }
    }
    (!joined.is_empty()).then_some(joined)
}

/// True for what has a housing with terminals, in which the cables at its place are joined.
fn is_housing(item: &Mounted) -> bool {
    match item {
        Mounted::Device(_) | Mounted::Feed(_) | Mounted::Board(_) | Mounted::Hop(_) => true,
        Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) => false,
    }
}

fn help(site: &Site, room: Id<Room>) -> String {
    let name = &site.rooms[room].name.value;
    let new = format!(
        "Write `joint-box \"{name}-box\" room=\"{name}\" joined-by=\"crimp\"` and, at the run that ends here, into=\"{name}-box\"."
    );
    let here = site.boards.iter().find(|board| board.room == Some(room) && !board.kind.is_strip());
    match here {
        Some(board) => format!(
            "{new} Where they are joined in the enclosure of {} `{}`: into=\"{}\".",
            board.kind.noun(),
            board.name.value,
            board.name.value
        ),
        None => new,
    }
}
