//! A power supply on no bus that is to do what only a board does that the panel reaches.

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, BoardKind, Circuit, Site, Switching};
use crate::terms::{DrivenBy, When};
use crate::words::{self, Screen};

check!(
    "supply-out-of-reach",
    Basis::Works,
    "a power supply on no bus that is to read loops, start a bus, or know of an alarm"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, board) in site.boards.entries().filter(|(_, board)| board.kind == BoardKind::PowerSupply) {
        let mut uses = uses(site, id).into_iter();
        let Some((first, what)) = uses.next() else { continue };
        let title = format!("{} is on no bus, and {what}", Screen.board(site, id));
        let finding = uses.fold(Diagnostic::new(&RULE, first, title), |finding, (span, what)| finding.also(span, what));
        sink.push(
            finding
                .here("the panel does not reach it")
                .also(board.name.span, "stands alone")
                .why("A power supply that stands alone gives volts and, by its fault contact, says when it does not. Nobody tells it of an alarm or of arming, and what it reads reaches nobody: the zone is never heard, the sounder never on.")
                .help("Use a panel, or a module on its bus, for this. Where the supply itself hangs on the bus with an address, write it there as a `module` with a `transformer`.")
                .about(&board.name.value),
        );
    }
}

/// What a power supply would have to hear from a panel, or tell it, with the place where the spec says so.
fn uses(site: &Site, id: Id<Board>) -> Vec<(Span, String)> {
    // One without any inputs has a finding for that.
    let reads = site.part_of(id).is_some_and(|part| !part.inputs.is_empty());
    let loops = site.zones.iter().filter(|_| reads).filter_map(|zone| {
        let board = zone.wired.as_ref()?.board.as_ref().filter(|board| board.value == id)?;
        Some((board.span, format!("reads the loop of zone {}", zone.number.value)))
    });
    let buses = site.buses.iter().filter_map(|bus| {
        let board = bus.board.as_ref().filter(|board| board.value == id)?;
        Some((board.span, format!("starts bus {}", Screen.name(&bus.name.value))))
    });
    let circuits = site.circuits.iter().filter(|circuit| circuit.board() == Some(id));
    let circuits = circuits.filter_map(|circuit| knows(site, circuit));
    loops.chain(buses).chain(circuits).collect()
}

/// What an output or relay of its own must know for a circuit; `None` where that is what a supply knows by itself.
fn knows(site: &Site, circuit: &Circuit) -> Option<(Span, String)> {
    let feed = circuit.feed.as_ref();
    let name = Screen.name(&circuit.name.value);
    if let Some(feed) = feed.filter(|feed| site.output(feed.value).is_some_and(|output| output.when == When::Alarm)) {
        return Some((feed.span, format!("is to feed circuit {name} in an alarm")));
    }
    let own = |by: DrivenBy| matches!(by, DrivenBy::Trouble | DrivenBy::MainsLost);
    let switching = circuit.switching.as_ref()?;
    // What it knows by itself is no fault, and is not named.
    let drives: Vec<_> = switching.drives.iter().filter(|drive| !own(drive.by.value)).cloned().collect();
    let span = drives.first()?.by.span;
    let unknown = Switching { drives, ..switching.clone() };
    Some((span, format!("is to switch circuit {name} by {}", words::drives(site, &unknown))))
}
