//! A cable that two runs share and that starts in two enclosures, or in two rooms.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Room, Run, Site};
use crate::words::{self, Screen};

check!("cable-starts-twice", Basis::Contradiction, "a shared cable that starts in two enclosures or two rooms");

/// A run that shares a cable, with the enclosures in which it and its host start.
type Guest = (Id<Run>, Id<Board>, Id<Board>);

fn run(context: Context<'_>, sink: &mut Sink) {
    enclosures(context, sink);
    rooms(context, sink);
}

/// Runs that start in two rooms: at a board, or where the run before them ends.
fn rooms(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let said = |run: Id<Run>, room: Id<Room>| {
        let room = words::room(site, Some(room));
        match (site.start_board(run), site.runs[run].upstream) {
            (Some(board), _) => format!("at {} in {room}", Screen.board(site, board)),
            (None, Some(before)) => {
                format!("in {room}, where cable {} ends", Screen.name(words::cable(context.wiring, before)))
            }
            (None, None) => format!("in {room}"),
        }
    };
    for (id, guest) in site.runs.entries() {
        let Some(host) = guest.along.as_ref() else { continue };
        // What starts in an enclosure is told with that.
        let both = [id, host.value];
        let is_told = both.iter().any(|run| site.starts_in(*run).is_some())
            && both.iter().all(|run| starts(site, *run).is_some());
        let (Some(here), Some(there)) = (site.start_room(id), site.start_room(host.value)) else { continue };
        if here == there || is_told {
            continue;
        }
        let label = Screen.name(words::cable(context.wiring, id));
        let (at, of_host) = (said(id, here), said(host.value, there));
        let title = format!("cable {label} starts {of_host} and {at}");
        let finding = Diagnostic::new(&RULE, host.span, title)
            .here(format!("starts {at}"))
            .also(site.runs[host.value].span(), format!("its cable starts {of_host}"))
            .why("Runs that share a cable start where the cable starts, and it starts in one place.")
            .help("Give this run a cable of its own: leave along= out. Or let both start in one room.");
        sink.push(about::owner(site, guest.owner, finding));
    }
}

/// Runs that start in two enclosures.
fn enclosures(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // By the run that ends in the wrong enclosure: it is one cause for all that go on from it.
    let mut causes: BTreeMap<Id<Run>, Vec<Guest>> = BTreeMap::new();
    for (id, guest) in site.runs.entries() {
        let Some(host) = guest.along.as_ref().map(|host| host.value) else { continue };
        let mut joined = [id, host].into_iter().filter(|run| site.starts_in(*run).is_some());
        let Some(before) = joined.find_map(|run| site.runs[run].upstream) else { continue };
        if let (Some(here), Some(there)) = (starts(site, id), starts(site, host))
            && here != there
        {
            causes.entry(before).or_default().push((id, here, there));
        }
    }
    for (before, guests) in causes {
        let Some((first, here, there)) = guests.first().copied() else { continue };
        let mut labels: Vec<String> =
            guests.iter().map(|(guest, ..)| Screen.name(words::cable(context.wiring, *guest))).collect();
        labels.dedup();
        let [own, of_host] = [here, there].map(|board| Screen.board(site, board));
        let (noun, verb) = if labels.len() == 1 { ("cable", "starts") } else { ("cables", "start") };
        let title = format!("{noun} {} {verb} in {of_host} and in {own}", list(&labels, "and"));
        let mut finding = Diagnostic::new(&RULE, site.runs[first].span(), title).here(format!("starts in {own}"));
        for (guest, here, _) in guests.iter().skip(1) {
            finding = finding.also(site.runs[*guest].span(), format!("starts in {}", Screen.board(site, *here)));
        }
        for (guest, _, there) in &guests {
            let host = site.runs[*guest].along.as_ref().map(|host| site.runs[host.value].span());
            finding = host.into_iter().fold(finding, |finding, host| {
                finding.also(host, format!("its cable starts in {}", Screen.board(site, *there)))
            });
        }
        if let Some(into) = &site.runs[before].into {
            finding = finding.also(into.span, "because the run before ends there");
        }
        let right = if site.starts_in(first).is_some() { there } else { here };
        let finding = finding
            .why("Runs that share a cable start where the cable starts, and it starts in one place. Whoever joins it stands before one box.")
            .help(if starts(site, before) == Some(right) {
                "Give what goes on from there a cable of its own: leave along= out. Or take the run before out: then this one starts where its cable does.".to_owned()
            } else {
                format!(
                    "Let the run before end where the cable starts: into=\"{}\". Or give what goes on from there a cable of its own: leave along= out.",
                    site.boards[right].name.value
                )
            });
        sink.push(about::owner(site, site.runs[first].owner, finding));
    }
}

/// The enclosure in which a run starts: that of the run before it, or of its board.
fn starts(site: &Site, run: Id<Run>) -> Option<Id<Board>> {
    let at = site.starts_in(run).or_else(|| site.start_board(run))?;
    // A strip stands beside the board that feeds it.
    Some(site.boards[at].kind.feed().map_or(at, |feed| feed.board))
}
