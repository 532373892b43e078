//! Each way to the monitoring service as a drawing: what is on it in order, what feeds that, and for how long without
//! mains. Times are those of the table of ways, and come from the same place.

use super::{DOCUMENT, battery, paths};
use crate::base::Id;
use crate::calc::power::path::{self, Lives};
use crate::calc::power::{Consumer, standby};
use crate::compiled::Compiled;
use crate::draw::chain::{Block, Chain, Comes, Hanging, Hangs, Kind, Path, Place};
use crate::draw::{Link, way_to_service};
use crate::model::{Board, Communicator, HopRef, Owner, Run};
use crate::quantity::{Seconds, print};
use crate::terms::{JackKind, Path as Over};
use crate::views::{Drawing, parts, title_block};
use crate::words::{self, Paper};

/// The drawing of a way, in one part or more.
pub(crate) fn of(compiled: &Compiled, id: Id<Communicator>) -> Vec<Drawing> {
    let site = &compiled.site;
    let line = &site.communicators[id];
    let Some(over) = line.path.as_ref().map(|path| path.value) else { return Vec::new() };
    let places = Stations { compiled, id, line, places: Vec::new() }.along(over);
    let title = format!("{} when the mains fails, {}", line.title, paths::lasts(compiled, id));
    let said: Vec<String> = places.iter().map(said).collect();
    let block = title_block::of(compiled, &DOCUMENT, &title, "not to scale");
    let chain = Chain { block, paths: vec![Path { from: String::new(), places }] };
    let scenes = way_to_service::draw(&chain, DOCUMENT.orientation.room());
    let number = paths::number(site, id);
    parts(&format!("way-{number}"), &format!("{title}, not to scale"), &said.join("; "), scenes)
}

/// A place in words: "2 network switch, study: fed from …".
fn said(place: &Place) -> String {
    let of = |block: &Block| {
        let hanging = block.hanging.iter().map(|hanging| format!(": {}", hanging.words));
        format!("{}{}", words::in_room(&block.title, &place.room), hanging.collect::<String>())
    };
    format!("{} {}", place.number, place.blocks.iter().map(of).collect::<Vec<_>>().join(", "))
}

/// What feeds a device that the spec says nothing else of.
const MAINS: &str = "mains";

/// The places of a way, from the board that reports to the street.
struct Stations<'c> {
    compiled: &'c Compiled,
    id: Id<Communicator>,
    line: &'c Communicator,
    places: Vec<Place>,
}

impl Stations<'_> {
    fn along(mut self, over: Over) -> Vec<Place> {
        self.boards();
        let site = &self.compiled.site;
        let runs: Vec<(Id<Run>, &Run)> = site.runs_of(Owner::Communicator(self.id)).collect();
        let run = |at: usize| runs.get(at).map(|(run, _)| *run);
        let hops = self.line.hops.len();
        match over {
            Over::Telephone => {
                self.jack(run(0));
                (0..hops).for_each(|hop| self.hop(hop, None));
            }
            Over::Internet => {
                (0..hops).for_each(|hop| self.hop(hop, run(hop)));
                for (run, _) in runs.iter().skip(hops) {
                    self.add(bare("router"), Some(*run), Comes::Unwritten);
                }
                if hops.max(runs.len()) == 0 {
                    self.add(bare("router: not in the spec"), None, Comes::Unwritten);
                }
            }
            Over::Radio => {
                (0..hops).for_each(|hop| self.hop(hop, None));
                if let Some(run) = run(0) {
                    self.add(bare("antenna"), Some(run), Comes::Unwritten);
                }
            }
        }
        self.add(bare(&format!("{}, and on to the service", words::way_out(self.line))), None, Comes::Unwritten);
        self.places
    }

    /// The board that reports, and the adapter on its bus where that goes out.
    fn boards(&mut self) {
        let site = &self.compiled.site;
        let bus = self.line.module.as_ref().and_then(|module| site.boards[module.value].bus).map(|(bus, _)| bus);
        let of_bus = bus.and_then(|bus| site.buses[bus].board.as_ref()).map(|board| board.value);
        let first = of_bus.or_else(|| self.line.starts_at());
        if let Some(board) = first {
            self.add(self.board(board), None, Comes::Nothing);
        }
        if let Some(adapter) = self.line.starts_at().filter(|board| Some(*board) != first) {
            self.add(self.board(adapter), None, Comes::Cable);
            if let (Some(place), Some(bus)) = (self.places.last_mut(), bus) {
                place.cable = format!("bus {}", site.buses[bus].name.value);
            }
        }
    }

    /// Adds a place, joined to the one before it by a cable, or in another way where the spec has none.
    fn add(&mut self, (room, block): (String, Block), run: Option<Id<Run>>, otherwise: Comes) {
        let Compiled { site, wiring, .. } = self.compiled;
        let length = run.and_then(|run| site.runs[run].length.as_ref());
        self.places.push(Place {
            number: (self.places.len() + 1).to_string(),
            comes: if run.is_some() { Comes::Cable } else { otherwise },
            cable: run.map(|run| words::cable(wiring, run).to_owned()).unwrap_or_default(),
            length: length.map(|length| print::length(length.value, site.lengths)).unwrap_or_default(),
            room: run.map_or(room, |run| words::room(site, site.runs[run].room)),
            link: Some(Link {
                to: format!("power-sheet.html#{}", paths::mark(site, self.id)),
                id: if self.places.is_empty() { paths::drawn_mark(site, self.id) } else { String::new() },
            }),
            blocks: vec![block],
        });
    }

    fn board(&self, id: Id<Board>) -> (String, Block) {
        let site = &self.compiled.site;
        let board = &site.boards[id];
        let words = match (self.compiled.power.place_of(Consumer::Board(id)), board.has_own_supply()) {
            (Some((feeding, _)), false) => {
                let source = feeding.tree.source;
                let lasts = format!("without mains as long as {}", Paper.board(site, source.board()));
                vec![Paper.source(site, source), lasts]
            }
            (None, false) => Vec::new(),
            (_, true) => {
                let battery = board.battery.as_ref().map(|battery| {
                    let currents = standby::currents(site, &self.compiled.power, id);
                    let lasts = if standby::is_counted(site, id) {
                        battery::at_best(self.compiled, id, currents)
                    } else {
                        "for how long is not known".to_owned()
                    };
                    format!("without mains by its battery of {}: {lasts}", words::battery(battery))
                });
                vec![MAINS.to_owned(), battery.unwrap_or_else(|| "off with the mains: no battery".to_owned())]
            }
        };
        let kind = if self.places.is_empty() { Kind::Board } else { Kind::Module };
        (words::room(site, board.room), block(kind, &Paper.board(site, id), words))
    }

    /// The line's jack, from which a jack that lets the board take the line goes on to the house phones.
    fn jack(&mut self, run: Option<Id<Run>>) {
        let (room, jack) = bare("the line's jack");
        let stubs = match self.line.jack {
            Some(JackKind::LineSeizure) => vec!["the house phones".to_owned()],
            Some(JackKind::Bridged) | None => Vec::new(),
        };
        self.add((room, Block { stubs, ..jack }), run, Comes::Unwritten);
    }

    fn hop(&mut self, at: usize, run: Option<Id<Run>>) {
        let Compiled { site, wiring, power, .. } = self.compiled;
        let Some(hop) = self.line.hops.get(at) else { return };
        let consumer = Consumer::Hop(self.id, at);
        let fed = match power.place_of(consumer) {
            Some((feeding, node)) => {
                let source = Paper.source(site, feeding.tree.outlet_of(node));
                format!("{source}: {}", words::way(site, wiring, &feeding.tree, node, consumer))
            }
            None => hop
                .from
                .as_ref()
                .and_then(|from| site.hop(from.value))
                .map_or_else(|| MAINS.to_owned(), |from| format!("through {}", from.name.value)),
        };
        let is_first = match path::lives(site, &self.compiled.power, self.id) {
            Lives::Until(first, _) => {
                first.iter().any(|one| matches!(one, path::Link::Hop(one) if one.name.span == hop.name.span))
            }
            Lives::AsThePanel(_) | Lives::NotKnown => false,
        };
        let first = if is_first { ", the first to stop" } else { "" };
        let lasts = match path::lasts(site, &self.compiled.power, HopRef { line: self.id, hop: at }) {
            Some(time) if time <= Seconds(0.0) => "off with the mains".to_owned(),
            Some(time) => format!("without mains {time}"),
            None => "without mains as long as the panel".to_owned(),
        };
        let module = block(Kind::Module, &hop.name.value, vec![fed, lasts + first]);
        self.add((String::new(), module), run, Comes::Unwritten);
    }
}

fn bare(title: &str) -> (String, Block) {
    (String::new(), block(Kind::Bare, title, Vec::new()))
}

fn block(kind: Kind, title: &str, supply: Vec<String>) -> Block {
    let hanging = supply.into_iter().map(|words| Hanging { what: Hangs::Supply, words }).collect();
    Block { kind, title: title.to_owned(), beside: String::new(), hanging, stubs: Vec::new() }
}
