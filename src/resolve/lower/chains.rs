//! Chains of runs: what loops, buses and circuits have in common.
//!
//! Runs that stand side by side at the top of a chain follow each other: the second starts where the first ended
//! (or at the board again, with `from="board"`). A run inside a run is a branch from that run's far end.

use crate::base::{Id, Spanned};
use crate::diag::Diagnostic;
use crate::model::{Board, Bus, Circuit, Conduit, Device, DeviceKind, Mounted, Owner, Reserve, Run, Spare};
use crate::quantity::{Metres, Ohms};
use crate::schema::{Names as NameKind, Reading};
use crate::terms::{Joining, Passage, ShieldEnds, Start};

use super::Lower;
use super::boards::is_board;
use super::places::way;
use crate::resolve::rules;

/// The most runs that one loop, bus or circuit may have: far past anything wired, and before recursion gets deep.
pub(crate) const MOST_RUNS: u32 = 600;

/// The most contacts, detectors, resistors, sounders, loads, boards and feeds that one loop, bus or circuit may have.
pub(crate) const MOST_THINGS: u32 = 1_000;

/// How many runs and things a chain has so far.
#[derive(Default)]
struct Held {
    runs: u32,
    things: u32,
    /// Runs of which nobody says where they end.
    unplaced: Vec<Diagnostic>,
    /// Contacts at the board that belong elsewhere, mostly to one of those runs.
    at_board: Vec<Diagnostic>,
    /// Runs inside a run that are said to start at the board: told, and read as if they stood at the top.
    moved_out: Vec<Mounted>,
}

/// What the mounted things of a chain need to know of it.
#[derive(Clone, Copy)]
pub(super) struct Chain {
    /// What the runs belong to.
    pub(crate) owner: Owner,
    /// The board that the chain starts at.
    pub(crate) board: Option<Id<Board>>,
}

impl Lower<'_> {
    /// Lowers what stands in the braces of a loop, bus or circuit.
    pub(super) fn chain(&mut self, chain: Chain, reading: &Reading) -> Vec<Mounted> {
        let mut held = Held::default();
        let mut mounted = self.level_of_chain(chain, reading, None, &mut held);
        mounted.append(&mut held.moved_out);
        let found = if held.at_board.is_empty() {
            held.unplaced
        } else {
            if let Owner::Zone(zone) = chain.owner {
                self.site.zones[zone].whole = false;
            }
            held.at_board
        };
        self.sink.extend(found);
        mounted
    }

    fn level_of_chain(
        &mut self,
        chain: Chain,
        reading: &Reading,
        at: Option<Id<Run>>,
        held: &mut Held,
    ) -> Vec<Mounted> {
        let mut previous = at;
        let mut mounted = Vec::new();
        for child in &reading.children {
            let item = match child.spec.name {
                // Reported where the first too many stands; the rest is left alone.
                "run" if held.runs >= MOST_RUNS => {
                    if held.runs == MOST_RUNS {
                        held.runs += 1;
                        self.cut_off(chain, rules::runs_too_many(child));
                    }
                    None
                }
                name if name != "run" && held.things >= MOST_THINGS => {
                    if held.things == MOST_THINGS {
                        held.things += 1;
                        self.cut_off(chain, rules::things_too_many(child));
                    }
                    None
                }
                "run" => {
                    let again = child.word("from", Start::from_word).filter(|start| start.value == Start::Board);
                    let upstream = if again.is_some() { None } else { at.or(previous) };
                    let run = self.run(chain, child, upstream, at.and(upstream).is_some(), held);
                    previous = Some(run);
                    match at.zip(again) {
                        Some((outer, again)) => {
                            self.cut_off(chain, rules::branch_from_board(again.span, self.site.runs[outer].span()));
                            held.moved_out.push(Mounted::Run(run));
                            None
                        }
                        None => Some(Mounted::Run(run)),
                    }
                }
                "contact" => Some(Mounted::Device(self.device(DeviceKind::Contact, chain, child, at))),
                "detector" => Some(Mounted::Device(self.device(DeviceKind::Detector, chain, child, at))),
                "sounder" => Some(Mounted::Device(self.device(DeviceKind::Sounder, chain, child, at))),
                "load" => Some(Mounted::Device(self.device(DeviceKind::Load, chain, child, at))),
                "fault" => Some(Mounted::Device(self.fault(chain, child, at))),
                "resistor" => child.resistance("value").map(Mounted::Resistor),
                "terminator" => child.quantity::<Ohms>("value").map(Mounted::Terminator),
                "feed" => self.feed(chain, child),
                _ if is_board(child.spec) => {
                    at.and_then(|run| self.board_on_bus(chain, child, run)).map(Mounted::Board)
                }
                _ => None,
            };
            held.things += u32::from(child.spec.name != "run" && item.is_some());
            if at.is_none() {
                held.at_board.extend(item.as_ref().and_then(|item| self.belongs_elsewhere(chain, item, child)));
            }
            mounted.extend(item);
        }
        mounted
    }

    fn run(
        &mut self,
        chain: Chain,
        reading: &Reading,
        upstream: Option<Id<Run>>,
        branch: bool,
        held: &mut Held,
    ) -> Id<Run> {
        held.runs += 1;
        let cable = self.names.refer(&self.cables, reading.text("cable"));
        let into = self.names.refer(&self.boards, reading.text("into"));
        let room = match reading.text("room") {
            Some(room) => self.names.find(&self.rooms, &room),
            None => into.as_ref().and_then(|board| self.site.boards[board.value].room),
        };
        let name = reading.text("name");
        let run = self.site.runs.push(Run {
            owner: chain.owner,
            upstream,
            after: Vec::new(),
            branch,
            order: held.runs,
            name: name.clone(),
            cable,
            length: reading.quantity::<Metres>("length"),
            room,
            into,
            joined: reading.word("joined-by", Joining::from_word).map(|by| by.value),
            label: reading.text("label"),
            existing: reading.flag("existing"),
            along: None,
            along_written: reading.wrote("along"),
            pairs: reading.count("pairs").map_or(1, |pairs| pairs.value),
            shield: reading.word("shield", ShieldEnds::from_word),
            passes: reading.word("passes", Passage::from_word),
            route: reading.text("route").map(|route| route.value),
            way: way(reading),
            reserved: reading.all("reserve").filter_map(reserve).collect(),
            mounted: Vec::new(),
            place: Spanned::new((), reading.name_span),
        });
        if let Some(upstream) = upstream {
            self.site.runs[upstream].after.push(run);
        }
        if let Some(name) = name {
            self.runs.enter(&name.value, run);
        }
        if let Some(along) = reading.text("along") {
            self.shared_cables.push((run, along));
        }
        let mounted = self.level_of_chain(chain, reading, Some(run), held);
        self.site.runs[run].mounted = mounted;
        // One that shares a cable ends where that does.
        if room.is_none() && !["room", "into", "along"].iter().any(|place| reading.wrote(place)) {
            self.place_by_contents(run, reading, held);
        }
        run
    }

    /// Reports a loop, bus or circuit that goes on past the limit, or otherwise than can be read. Its last run loses its
    /// length, so that nothing is concluded from such a chain.
    fn cut_off(&mut self, chain: Chain, found: Diagnostic) {
        self.sink.push(found);
        if let Some((last, _)) = self.site.runs_of(chain.owner).last() {
            self.site.runs[last].length = None;
        }
        if let Owner::Zone(zone) = chain.owner {
            self.site.zones[zone].whole = false;
        }
    }

    /// Reports a contact or detector that is mounted at the board and watches an opening of another room.
    fn belongs_elsewhere(&self, chain: Chain, item: &Mounted, reading: &Reading) -> Option<Diagnostic> {
        let site = &self.site;
        let opening = &site.openings[site.devices[item.device()?].opening.as_ref()?.value];
        let room = site.boards[chain.board?].room.filter(|room| *room != opening.room)?;
        Some(rules::contact_at_board(reading, opening, &site.rooms[room], &site.rooms[opening.room]))
    }

    /// A run without `room=` ends where the first thing mounted on it is.
    fn place_by_contents(&mut self, run: Id<Run>, reading: &Reading, held: &mut Held) {
        let site = &self.site;
        let room = site.runs[run].mounted.iter().find_map(|item| match item {
            Mounted::Device(device) => {
                let (opening, board) = (&site.devices[*device].opening, &site.devices[*device].board);
                let of_board = board.as_ref().and_then(|board| site.boards[board.value].room);
                opening.as_ref().map(|o| site.openings[o.value].room).or(of_board)
            }
            Mounted::Feed(device) => site.devices[device.value].room,
            Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Hop(_) => {
                None
            }
        });
        if room.is_none() {
            // An opening, a device or a board that is named and not known was reported, and would have said the place.
            let named = |child: &Reading| child.wrote("on") || child.spec.name == "fault";
            let fed = self.site.runs[run]
                .mounted
                .iter()
                .filter(|item| matches!(item, Mounted::Feed(_) | Mounted::Hop(_)))
                .count();
            let lost = matches!(self.site.runs[run].owner, Owner::Spare(_)) && self.site.runs[run].existing;
            let unknown = lost || reading.children.iter().any(named) || reading.all("feed").count() > fed;
            if reading.all_whole() && !unknown {
                held.unplaced.push(rules::run_without_place(reading));
            }
            return;
        }
        self.site.runs[run].room = room;
        let devices: Vec<Id<Device>> = self.site.runs[run].mounted.iter().filter_map(Mounted::device).collect();
        for device in devices {
            if self.site.devices[device].room.is_none() {
                self.site.devices[device].room = room;
            }
        }
    }

    fn board_on_bus(&mut self, chain: Chain, reading: &Reading, run: Id<Run>) -> Option<Id<Board>> {
        let name = reading.text("name")?;
        // Two boards of one name were reported; each of them stands where it stands.
        let board = *self.board_at.get(&name.span)?;
        if let Owner::Bus(bus) = chain.owner {
            self.site.boards[board].bus = Some((bus, run));
        }
        self.site.boards[board].room = self.site.runs[run].room;
        Some(board)
    }

    fn feed(&mut self, chain: Chain, reading: &Reading) -> Option<Mounted> {
        let written = reading.text("device")?;
        if let Some(hop) = self.hops.get(&written.value).copied() {
            if let (Owner::Circuit(circuit), Some(item)) =
                (chain.owner, self.site.communicators[hop.line].hops.get_mut(hop.hop))
            {
                item.fed_by.push(Spanned::new(circuit, written.span));
            }
            return Some(Mounted::Hop(Spanned::new(hop, written.span)));
        }
        // Loops are read before circuits: what has no id yet stands in a circuit further on.
        let is_read = self.devices.get(&written.value).is_some();
        let place = self.names.defined(NameKind::Device, &written.value).filter(|_| !is_read);
        if let Some(place) = place {
            self.sink.push(rules::feed_of_mounted(&written, place));
            return None;
        }
        let hops = self.hops.keys().map(String::as_str);
        let device = self.names.find_or(&self.devices, hops, &written)?;
        if matches!(self.site.devices[device].kind, DeviceKind::Sounder | DeviceKind::Load) {
            self.sink.push(rules::feed_of_mounted(&written, self.site.devices[device].span()));
            return None;
        }
        if let Owner::Circuit(circuit) = chain.owner {
            self.site.devices[device].fed_by.push(circuit);
        }
        Some(Mounted::Feed(Spanned::new(device, written.span)))
    }

    pub(super) fn bus_list(&mut self, tops: &[super::Top<'_>]) {
        for (reading, _) in super::sorted(tops, "bus", "name") {
            let Some(name) = reading.text("name") else { continue };
            let board = reading.text("board").and_then(|board| {
                let id = self.source_board("bus port", &board)?;
                Some(Spanned::new(id, board.span))
            });
            let port = board.as_ref().and_then(|board| self.bus_port(board, reading.text("port"), &name));
            let owner = Owner::Bus(self.site.buses.next_id());
            let bus = self.site.buses.push(Bus {
                name,
                board,
                port,
                rate: reading.quantity("rate"),
                terminator_off: reading.optional_flag("built-in-terminator") == Some(false),
                differential: reading.optional_flag("differential") != Some(false),
                chain: Vec::new(),
            });
            let chain = self.chain(Chain { owner, board: board.map(|board| board.value) }, reading);
            self.site.buses[bus].chain = chain;
        }
    }

    /// The port that a bus uses: the one named, else the one of the bus's name, else the only one.
    fn bus_port(
        &mut self,
        board: &Spanned<Id<Board>>,
        port: Option<Spanned<String>>,
        bus: &Spanned<String>,
    ) -> Option<usize> {
        let part = self.site.part_of(board.value)?;
        let named = port.as_ref().unwrap_or(bus);
        let position = part.bus_ports.iter().position(|p| p.name.value == named.value);
        let found = position.or_else(|| (port.is_none() && part.bus_ports.len() == 1).then_some(0));
        if found.is_none() && part.whole {
            let candidates = part.bus_ports.iter().map(|p| p.name.value.as_str());
            let written = port.unwrap_or_else(|| Spanned::new(bus.value.clone(), board.span));
            let diagnostic =
                rules::unknown_on_board("bus port", &written, candidates, &self.site.boards[board.value], part);
            self.sink.push(diagnostic);
        }
        found
    }

    pub(super) fn circuit_list(&mut self, tops: &[super::Top<'_>]) {
        for (reading, _) in super::sorted(tops, "circuit", "name") {
            let Some(name) = reading.text("name") else { continue };
            let board = reading.text("board").and_then(|board| self.source_board("output", &board));
            let (feed, switching) = self.circuit_source(reading, board);
            let owner = Owner::Circuit(self.site.circuits.next_id());
            let circuit = self.site.circuits.push(Circuit {
                title: super::title_of(reading, &name.value),
                name,
                feed,
                switching,
                chain: Vec::new(),
            });
            let chain = self.chain(Chain { owner, board }, reading);
            self.site.circuits[circuit].chain = chain;
        }
    }

    pub(super) fn spare_list(&mut self, tops: &[super::Top<'_>]) {
        for (reading, _) in super::sorted(tops, "spare-cable", "name") {
            let Some(name) = reading.text("name") else { continue };
            let board = self.names.refer(&self.boards, reading.text("board"));
            let owner = Owner::Spare(self.site.spares.next_id());
            let spare = self.site.spares.push(Spare {
                title: super::title_of(reading, &name.value),
                name,
                board,
                chain: Vec::new(),
            });
            let chain = self.chain(Chain { owner, board: board.map(|board| board.value) }, reading);
            self.site.spares[spare].chain = chain;
        }
    }

    pub(super) fn conduit_list(&mut self, tops: &[super::Top<'_>]) {
        for (reading, _) in super::sorted(tops, "conduit", "title") {
            let names = reading.one("holds").map(|holds| holds.texts("runs")).unwrap_or_default();
            let mut runs = Vec::new();
            for (at, name) in names.iter().enumerate() {
                if let Some(first) = names.iter().take(at).find(|first| first.value == name.value) {
                    self.sink.push(rules::held_twice(name, first.span));
                    continue;
                }
                runs.extend(self.names.find(&self.runs, name).map(|run| Spanned::new(run, name.span)));
            }
            let (Some(title), Some(inside)) = (reading.text("title"), reading.quantity::<Metres>("inside")) else {
                continue;
            };
            let whole = reading.all_whole() && runs.len() == names.len();
            self.site.conduits.push(Conduit { title, inside, runs, whole });
        }
    }

    /// A run has the length and the room of the cable that it shares, where it does not say them itself.
    fn end_with(&mut self, run: Id<Run>, host: Id<Run>) {
        let (length, room) = (self.site.runs[host].length, self.site.runs[host].room);
        let guest = &mut self.site.runs[run];
        guest.length = guest.length.or(length);
        guest.room = guest.room.or(room);
        let room = guest.room;
        for item in guest.mounted.clone() {
            match item {
                Mounted::Device(device) => {
                    let of = &mut self.site.devices[device].room;
                    *of = of.or(room);
                }
                Mounted::Board(board) => {
                    let of = &mut self.site.boards[board].room;
                    *of = of.or(room);
                }
                Mounted::Run(_)
                | Mounted::Resistor(_)
                | Mounted::Terminator(_)
                | Mounted::Feed(_)
                | Mounted::Hop(_) => {}
            }
        }
    }

    /// Joins each run with `along=` to the run that it names, once all runs are known.
    pub(super) fn join_shared_cables(&mut self) {
        for (run, along) in std::mem::take(&mut self.shared_cables) {
            if self.names.is_repeated(crate::schema::Names::Run, &along.value) {
                continue;
            }
            if let Some(host) = self.names.find(&self.runs, &along) {
                if host == run || self.site.runs[host].along_written {
                    self.sink.push(rules::along_a_guest(&along, self.site.runs[host].span()));
                } else {
                    self.site.runs[run].along = Some(Spanned::new(host, along.span));
                    self.end_with(run, host);
                }
            }
        }
    }
}

fn reserve(reading: &Reading) -> Option<Reserve> {
    let conductors = reading.count("conductors").map_or(1, |conductors| conductors.value);
    Some(Reserve { name: reading.text("for")?, conductors })
}
