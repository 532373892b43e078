//! What every conductor meets at its two ends, and what is on every terminal.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{
    AcPort, Board, BoardKind, Bus, Device, DeviceKind, LinePort, Mounted, OutputRef, Owner, Run, Site, Switch,
    SwitchRef, Switching, Zone,
};

use crate::terms::{SwitchedSide, WireUse};

use super::conductors::Landed;
use super::recognised::Recognised;
use super::supplies::{self, Supplies};
use super::wiring::{ConductorUse, Fitted, FittedKind, Function, OnTerminal, Point, Wiring};

/// Lands every conductor; one that is landed stays where it is.
pub(crate) fn land(site: &Site, known: &Recognised<'_>, landed: &Landed<'_>, wiring: &mut Wiring) {
    let mut landing = Landing { site, supplies: Supplies::new(site, known, landed, wiring) };
    landing.feed_strips(wiring);
    let mut cables = std::mem::take(&mut wiring.cables);
    for (position, cable) in cables.iter_mut().enumerate() {
        for (index, conductor) in cable.conductors.iter_mut().enumerate() {
            conductor.near = landing.near(wiring, (position, index), conductor);
            conductor.far = landing.far(conductor);
            for (board, mark) in conductor.near.iter().chain(&conductor.far).filter_map(Point::terminal) {
                let on = wiring.terminals.entry((board, mark.clone())).or_default();
                on.push(OnTerminal::Conductor(position, index));
            }
        }
    }
    wiring.cables = cables;
    landing.feed_relays(wiring);
    landing.link_neighbours(wiring);
    landing.fit_at_boards(wiring);
}

struct Landing<'s> {
    site: &'s Site,
    supplies: Supplies,
}

impl Landing<'_> {
    fn feed_strips(&self, wiring: &mut Wiring) {
        for (strip, board) in self.site.boards.entries() {
            let BoardKind::Strip { feed: Some(feed), .. } = &board.kind else { continue };
            let Some((positive, negative)) = supplies::output_marks(self.site, *feed) else { continue };
            for (mark, on_strip) in [(positive, "in+"), (negative, "in-")] {
                link(wiring, (feed.board, mark), (strip, on_strip.to_owned()));
            }
        }
    }

    /// A contact that switches an output gets its positive by a short wire: the first relay from the output's own
    /// terminal, each further one from the relay before it, so that the output's terminal carries one.
    fn feed_relays(&self, wiring: &mut Wiring) {
        let mut fed: BTreeMap<OutputRef, BTreeSet<SwitchRef>> = BTreeMap::new();
        for circuit in &self.site.circuits {
            if let (Some((of, ..)), Some(feed)) = (self.site.switched_by(circuit), &circuit.feed) {
                fed.entry(feed.value).or_default().insert(of);
            }
        }
        for (output, switches) in fed {
            let mut from = supplies::output_marks(self.site, output).map(|(positive, _)| (output.board, positive));
            for of in switches {
                let Some(common) = self.site.switch(of).and_then(|switch| switch.common()) else { continue };
                let to = (of.board, common.to_owned());
                if let Some(from) = from.replace(to.clone()) {
                    link(wiring, from, to);
                }
            }
        }
    }

    /// The near end: at the board, or where the run before it ends.
    fn near(&mut self, wiring: &mut Wiring, at: (usize, usize), conductor: &ConductorUse) -> Vec<Point> {
        let run = &self.site.runs[conductor.run];
        match run.upstream {
            Some(upstream) => self.at_place(upstream, conductor, Some(conductor.run)),
            None => self.at_board(wiring, at, conductor).into_iter().collect(),
        }
    }

    fn far(&self, conductor: &ConductorUse) -> Vec<Point> {
        self.at_place(conductor.run, conductor, None)
    }

    fn at_board(&mut self, wiring: &mut Wiring, at: (usize, usize), conductor: &ConductorUse) -> Option<Point> {
        match conductor.function {
            Function::LoopOut(zone) | Function::LoopBack(zone) => self.loop_at_board(wiring, conductor, zone),
            Function::SupplyPositive(output) => self.supply_at_board(wiring, at, conductor, output, true),
            Function::SupplyNegative(output) => self.supply_at_board(wiring, at, conductor, output, false),
            Function::ContactCommon | Function::ContactSwitched => self.contact_at_board(conductor),
            Function::BusPlus | Function::BusMinus | Function::BusA | Function::BusB => {
                let Owner::Bus(bus) = self.site.runs[conductor.run].owner else { return None };
                let board = self.site.buses[bus].board.as_ref()?.value;
                Some(Point::Terminal(board, self.bus_mark(bus, board, conductor.function)?))
            }
            Function::LineInTip => self.line_at_board(conductor, |port| Some(&port.in_tip)),
            Function::LineInRing => self.line_at_board(conductor, |port| Some(&port.in_ring)),
            Function::LineOutTip => self.line_at_board(conductor, |port| port.out_tip.as_ref()),
            Function::LineOutRing => self.line_at_board(conductor, |port| port.out_ring.as_ref()),
            Function::AcA => self.transformer_at_board(conductor, |port| &port.a.value),
            Function::AcB => self.transformer_at_board(conductor, |port| &port.b.value),
            Function::Network(_) | Function::AntennaCore | Function::AntennaScreen => {
                Some(Point::Socket(self.site.start_board(conductor.run)?))
            }
            Function::Reserved(_) => None,
        }
    }

    fn supply_at_board(
        &mut self,
        wiring: &mut Wiring,
        at: (usize, usize),
        conductor: &ConductorUse,
        output: OutputRef,
        positive: bool,
    ) -> Option<Point> {
        if let Some((of, switch, switching)) = self.switch_of(conductor)
            && positive == (switch.side() == SwitchedSide::Plus)
        {
            return Some(Point::Terminal(of.board, switch.mark(switching.contact)?.to_owned()));
        }
        let place = self.supplies.give(self.site, at, output, positive)?;
        if place.under > 1 {
            wiring.under.insert(at, place.under);
        }
        Some(Point::Terminal(place.board, place.mark))
    }

    /// What switches the circuit that a conductor is of.
    fn switch_of(&self, conductor: &ConductorUse) -> Option<(SwitchRef, &Switch, &Switching)> {
        self.site.switched_by(self.site.circuit_of(conductor.run)?)
    }

    fn contact_at_board(&self, conductor: &ConductorUse) -> Option<Point> {
        let (of, switch, switching) = self.switch_of(conductor)?;
        let common = conductor.function == Function::ContactCommon;
        let mark = if common { switch.common() } else { switch.mark(switching.contact) };
        Some(Point::Terminal(of.board, mark?.to_owned()))
    }

    fn line_at_board(&self, conductor: &ConductorUse, mark: fn(&LinePort) -> Option<&String>) -> Option<Point> {
        let Owner::Communicator(line) = self.site.runs[conductor.run].owner else { return None };
        let (board, port) = self.site.communicators[line].port?;
        let port = self.site.part_of(board)?.line_ports.get(port)?;
        Some(Point::Terminal(board, mark(port)?.clone()))
    }

    fn transformer_at_board(&self, conductor: &ConductorUse, mark: fn(&AcPort) -> &String) -> Option<Point> {
        let board = self.site.start_board(conductor.run)?;
        Some(Point::Terminal(board, mark(self.site.part_of(board)?.ac_port.as_ref()?).clone()))
    }

    /// The terminal of a board on a bus; none for the bus's positive where the board leaves that alone.
    fn bus_mark(&self, bus: Id<Bus>, board: Id<Board>, function: Function) -> Option<String> {
        let port = self.site.bus_port(bus, board)?;
        match function {
            Function::BusPlus => (!self.site.leaves_bus_supply(bus, board)).then(|| port.plus.clone()),
            Function::BusMinus => Some(port.minus.clone()),
            Function::BusA => Some(port.a.clone()),
            Function::BusB => Some(port.b.clone()),
            Function::SupplyPositive(_)
            | Function::SupplyNegative(_)
            | Function::LoopOut(_)
            | Function::LoopBack(_)
            | Function::LineInTip
            | Function::LineInRing
            | Function::LineOutTip
            | Function::LineOutRing
            | Function::Network(_)
            | Function::AntennaCore
            | Function::AntennaScreen
            | Function::AcA
            | Function::AcB
            | Function::ContactCommon
            | Function::ContactSwitched
            | Function::Reserved(_) => None,
        }
    }

    /// Several cables of one loop that all start at the board are joined there: in series for closed contacts,
    /// side by side for open ones.
    fn loop_at_board(&self, wiring: &Wiring, conductor: &ConductorUse, zone: Id<Zone>) -> Option<Point> {
        let wired = self.site.zones[zone].wired.as_ref()?;
        let board = wired.board.as_ref()?.value;
        let homes: Vec<Id<Run>> =
            wired.chain.iter().filter_map(Mounted::run).filter(|run| self.site.runs[*run].upstream.is_none()).collect();
        let at = homes.iter().position(|run| *run == conductor.run)?;
        let out = matches!(conductor.function, Function::LoopOut(_));
        if !self.site.lies_across(zone) {
            let neighbour = if out { at.checked_sub(1) } else { Some(at + 1) };
            if let Some(neighbour) = neighbour.and_then(|position| homes.get(position)) {
                return Some(Point::Joint(board, *neighbour));
            }
        }
        let (_, input) = wiring.input_of(self.site, zone)?;
        let mark = if out { input.signal.clone() } else { input.back.clone() };
        Some(Point::Terminal(board, mark))
    }

    /// What a conductor meets at the far end of `run`: devices, fittings, and the cables that go on from there
    /// (all but `from`, whose own near end is asked for).
    fn at_place(&self, run: Id<Run>, conductor: &ConductorUse, from: Option<Id<Run>>) -> Vec<Point> {
        if conductor.function.wire_use() == WireUse::Reserved {
            return Vec::new();
        }
        let straight = self.passes_straight(run, conductor.function);
        let mounted = &self.site.runs[run].mounted;
        let point = |item: &Mounted| match item {
            Mounted::Device(device) if straight && !self.site.is_open_at_rest(*device) => None,
            Mounted::Device(device) if self.site.devices[*device].kind == DeviceKind::Fault => {
                self.fault_point(*device, conductor.function, from.is_some())
            }
            Mounted::Device(device) => self.device_point(*device, conductor.function),
            Mounted::Feed(device) => self.device_point(device.value, conductor.function),
            Mounted::Hop(hop) => conductor.function.output().map(|_| Point::Hop(hop.value)),
            Mounted::Resistor(value) => {
                let looped = matches!(conductor.function, Function::LoopOut(_) | Function::LoopBack(_));
                (looped && !straight).then_some(Point::Resistor(value.value))
            }
            Mounted::Terminator(value) => {
                let data = matches!(conductor.function, Function::BusA | Function::BusB);
                data.then_some(Point::Terminator(value.value))
            }
            Mounted::Board(_) | Mounted::Run(_) => None,
        };
        let mut points: Vec<Point> = mounted.iter().filter_map(point).collect();
        // Boards at one place are linked to each other; a cable comes in at the first and goes on from the last.
        if let Owner::Bus(bus) = self.site.runs[run].owner {
            let mut screws = self.bus_screws(bus, run, conductor.function);
            let screw = if from.is_some() { screws.next_back() } else { screws.next() };
            points.extend(screw.map(|(board, mark)| Point::Terminal(board, mark)));
        }
        let nth = self.site.runs[run].order.saturating_sub(1);
        match self.site.runs[run].owner {
            // A network's cable ends in a plug, and the next one has its own.
            Owner::Communicator(way) if conductor.function.pin().is_some() => {
                points.push(Point::WayOut(way, nth));
                return points;
            }
            Owner::Communicator(_)
            | Owner::Zone(_)
            | Owner::Bus(_)
            | Owner::Circuit(_)
            | Owner::Spare(_)
            | Owner::Transformer(_) => {}
        }
        if from.is_some() {
            points.push(Point::Cable(run));
        } else {
            let next = self.site.runs_after(run).filter(|(next, _)| self.carries(*next, conductor.function));
            points.extend(next.map(|(next, _)| Point::Cable(next)));
            match self.site.runs[run].owner {
                Owner::Communicator(way) => points.push(Point::WayOut(way, nth)),
                Owner::Transformer(board) => points.push(Point::Transformer(board)),
                Owner::Zone(_) | Owner::Bus(_) | Owner::Circuit(_) | Owner::Spare(_) => {}
            }
        }
        points
    }

    /// True for the return side of a series loop whose cable goes on from here: what is mounted stands in the sensed
    /// side, and the return only passes. A contact that is open at rest still lies across both.
    fn passes_straight(&self, run: Id<Run>, function: Function) -> bool {
        let Function::LoopBack(zone) = function else { return false };
        !self.site.lies_across(zone) && self.site.next_run(run).is_some()
    }

    fn carries(&self, run: Id<Run>, function: Function) -> bool {
        super::demand::of_run(self.site, run).iter().any(|demand| demand.function == function)
    }

    fn device_point(&self, device: Id<Device>, function: Function) -> Option<Point> {
        let item = &self.site.devices[device];
        let part = self.site.device_part(device)?;
        let supply = |output| part.supply.as_ref().filter(|_| item.supply.as_ref().is_none_or(|s| s.value == output));
        let mark = match function {
            Function::SupplyPositive(output) => supply(output)?.positive.clone(),
            Function::SupplyNegative(output) => supply(output)?.negative.clone(),
            Function::LoopOut(zone) | Function::LoopBack(zone) if part.loop_fed.is_some() => {
                let out = matches!(function, Function::LoopOut(_));
                self.site.loop_fed_mark(zone, device, out)?
            }
            Function::LoopOut(_) | Function::LoopBack(_) => {
                let alarm = part.contacts.first().map(|contact| contact.mark.clone());
                let tamper = part.tamper.as_ref().filter(|_| item.tamper_in_loop).map(|contact| contact.mark.clone());
                // The cover contact is in series: out to it, through the alarm contact, and back.
                match (function, alarm, tamper) {
                    (Function::LoopOut(_), _, Some(tamper)) => tamper,
                    (_, Some(alarm), _) => alarm,
                    (_, None, tamper) => tamper?,
                }
            }
            Function::ContactCommon | Function::ContactSwitched => part.own_supply.as_ref()?.mark.clone(),
            Function::BusPlus
            | Function::BusMinus
            | Function::BusA
            | Function::BusB
            | Function::LineInTip
            | Function::LineInRing
            | Function::LineOutTip
            | Function::LineOutRing
            | Function::Network(_)
            | Function::AntennaCore
            | Function::AntennaScreen
            | Function::AcA
            | Function::AcB
            | Function::Reserved(_) => return None,
        };
        Some(Point::Device(device, mark))
    }

    /// The screw of a board's fault contact: the loop comes in at the one and leaves by the other, on by a cable or home.
    fn fault_point(&self, device: Id<Device>, function: Function, leaves: bool) -> Option<Point> {
        let board = self.site.devices[device].board.as_ref()?.value;
        let fault = self.site.device_part(device)?.fault.as_ref()?;
        let zone = function.zone()?;
        let back = matches!(function, Function::LoopBack(_)) || (leaves && !self.site.lies_across(zone));
        Some(Point::Terminal(board, if back { &fault.b } else { &fault.a }.value.clone()))
    }

    /// Boards that hang at the same place of a bus are linked terminal to terminal.
    fn link_neighbours(&self, wiring: &mut Wiring) {
        for (id, run) in self.site.runs.entries() {
            let Owner::Bus(bus) = run.owner else { continue };
            for function in [Function::BusPlus, Function::BusMinus, Function::BusA, Function::BusB] {
                let screws: Vec<(Id<Board>, String)> = self.bus_screws(bus, id, function).collect();
                for (one, next) in screws.iter().zip(screws.iter().skip(1)) {
                    link(wiring, one.clone(), next.clone());
                }
            }
        }
    }

    /// The screws for a conductor of a bus at the boards where a run ends, in their order.
    fn bus_screws(
        &self,
        bus: Id<Bus>,
        run: Id<Run>,
        function: Function,
    ) -> impl DoubleEndedIterator<Item = (Id<Board>, String)> {
        let boards = self.site.runs[run].mounted.iter().filter_map(Mounted::board);
        boards.filter_map(move |board| Some((board, self.bus_mark(bus, board, function)?)))
    }

    /// Resistors and terminators that stand at the board itself.
    fn fit_at_boards(&self, wiring: &mut Wiring) {
        for (id, zone) in self.site.zones.entries() {
            let Some(wired) = &zone.wired else { continue };
            let Some((board, input)) = wiring.input_of(self.site, id) else { continue };
            let has_cable = wired.chain.iter().any(|item| item.run().is_some());
            let in_series = has_cable && !self.site.lies_across(id);
            wiring.fitted.extend(wired.chain.iter().filter_map(Mounted::resistor).map(|value| Fitted {
                board,
                across: (input.signal.clone(), input.back.clone()),
                kind: FittedKind::Resistor { value: value.value, zone: id, in_series },
            }));
        }
        for device in &self.site.devices {
            self.fit_at_fault_contact(device, wiring);
        }
        for (id, bus) in self.site.buses.entries() {
            let start = bus.board.as_ref().map(|board| board.value);
            let ends = self.site.runs_of(Owner::Bus(id)).map(|(_, run)| &run.mounted);
            let ends = ends.map(|items| (items.iter().filter_map(Mounted::board).next_back(), items));
            for (board, items) in std::iter::once((start, &bus.chain)).chain(ends) {
                let Some(board) = board else { continue };
                let mark = |function| self.bus_mark(id, board, function);
                let (Some(a), Some(b)) = (mark(Function::BusA), mark(Function::BusB)) else { continue };
                wiring.fitted.extend(items.iter().filter_map(Mounted::terminator).map(|value| Fitted {
                    board,
                    across: (a.clone(), b.clone()),
                    kind: FittedKind::Terminator(value.value),
                }));
            }
        }
    }

    /// The resistors at a board's fault contact: across it, or between one of its terminals and the cable.
    fn fit_at_fault_contact(&self, device: &Device, wiring: &mut Wiring) {
        let (Some(board), Some(run), Some(zone)) = (&device.board, device.run, device.zone) else { return };
        let Some(fault) = self.site.part_of(board.value).and_then(|part| part.fault.as_ref()) else { return };
        let (a, b) = (fault.a.value.clone(), fault.b.value.clone());
        let mut fit = |across, value, in_series| {
            let kind = FittedKind::Resistor { value, zone, in_series };
            wiring.fitted.push(Fitted { board: board.value, across, kind });
        };
        if let Some(shunt) = &device.shunt {
            fit((a.clone(), b.clone()), shunt.value, false);
        }
        let in_series = !self.site.lies_across(zone);
        let mut behind = false;
        for item in &self.site.runs[run].mounted {
            behind |= item.device().is_some();
            if let Some(value) = item.resistor() {
                let across = if behind { (b.clone(), a.clone()) } else { (a.clone(), b.clone()) };
                fit(across, value.value, in_series);
            }
        }
    }
}

fn link(wiring: &mut Wiring, one: (Id<Board>, String), other: (Id<Board>, String)) {
    wiring.terminals.entry(one.clone()).or_default().push(OnTerminal::Link(other.0, other.1.clone()));
    wiring.terminals.entry(other).or_default().push(OnTerminal::Link(one.0, one.1));
}
