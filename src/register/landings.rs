//! What every conductor meets at its two ends, and what is on every terminal.

use crate::base::Id;
use crate::model::{Board, BoardKind, Device, Mounted, Owner, Run, Site, Zone};
use crate::terms::ContactForm;

use super::conductors::Landed;
use super::recognised::Recognised;
use super::supplies::{self, Supplies};
use super::wiring::{ConductorUse, Fitted, Function, OnTerminal, Point, Wiring};

/// Lands every conductor; one that is landed stays where it is.
pub fn land(site: &Site, known: &Recognised<'_>, landed: &Landed<'_>, wiring: &mut Wiring) {
    let mut landing = Landing { site, supplies: Supplies::new(site, known, landed, wiring) };
    landing.feed_strips(wiring);
    let mut cables = std::mem::take(&mut wiring.cables);
    for (position, cable) in cables.iter_mut().enumerate() {
        for (index, conductor) in cable.conductors.iter_mut().enumerate() {
            conductor.near = landing.near(wiring, (position, index), conductor);
            conductor.far = landing.far(conductor);
            for point in conductor.near.iter().chain(&conductor.far) {
                if let Point::Terminal(board, mark) = point {
                    wiring
                        .terminals
                        .entry((*board, mark.clone()))
                        .or_default()
                        .push(OnTerminal::Conductor(position, index));
                }
            }
        }
    }
    wiring.cables = cables;
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
            Function::SupplyPositive(output) | Function::SupplyNegative(output) => {
                let positive = matches!(conductor.function, Function::SupplyPositive(_));
                let place = self.supplies.give(self.site, at, output, positive)?;
                if place.under > 1 {
                    wiring.under.insert(at, place.under);
                }
                Some(Point::Terminal(place.board, place.mark))
            }
            Function::BusPlus | Function::BusMinus | Function::BusA | Function::BusB => {
                let Owner::Bus(bus) = self.site.runs[conductor.run].owner else { return None };
                let bus = &self.site.buses[bus];
                let board = bus.board.as_ref()?.value;
                let mark = self.bus_mark(board, bus.port?, conductor.function)?;
                Some(Point::Terminal(board, mark))
            }
            Function::LineInTip | Function::LineInRing | Function::LineOutTip | Function::LineOutRing => {
                let Owner::Communicator(line) = self.site.runs[conductor.run].owner else { return None };
                let (board, port) = self.site.communicators[line].port?;
                let port = self.site.part_of(board)?.line_ports.get(port)?;
                let mark = match conductor.function {
                    Function::LineInTip => port.in_tip.clone(),
                    Function::LineInRing => port.in_ring.clone(),
                    Function::LineOutTip => port.out_tip.clone()?,
                    _ => port.out_ring.clone()?,
                };
                Some(Point::Terminal(board, mark))
            }
        }
    }

    fn bus_mark(&self, board: Id<Board>, port: usize, function: Function) -> Option<String> {
        let port = self.site.part_of(board)?.bus_ports.get(port)?;
        match function {
            Function::BusPlus => Some(port.plus.clone()),
            Function::BusMinus => Some(port.minus.clone()),
            Function::BusA => Some(port.a.clone()),
            Function::BusB => Some(port.b.clone()),
            _ => None,
        }
    }

    /// The terminal of a board that hangs on a bus. One with a supply of its own leaves the bus's positive alone: two
    /// supplies are never joined.
    fn hanging_mark(&self, board: Id<Board>, function: Function) -> Option<String> {
        let alone = function == Function::BusPlus && self.site.boards[board].transformer.is_some();
        if alone { None } else { self.bus_mark(board, self.site.hanging_port(board), function) }
    }

    /// Several cables of one loop that all start at the board are joined there: in series for closed contacts,
    /// side by side for open ones.
    fn loop_at_board(&self, wiring: &Wiring, conductor: &ConductorUse, zone: Id<Zone>) -> Option<Point> {
        let wired = self.site.zones[zone].wired.as_ref()?;
        let board = wired.board.as_ref()?.value;
        let homes: Vec<Id<Run>> = wired
            .chain
            .iter()
            .filter_map(|item| if let Mounted::Run(run) = item { Some(*run) } else { None })
            .filter(|run| self.site.runs[*run].upstream.is_none())
            .collect();
        let at = homes.iter().position(|run| *run == conductor.run)?;
        let out = matches!(conductor.function, Function::LoopOut(_));
        if !self.site.lies_across(zone) {
            let neighbour = if out { at.checked_sub(1) } else { Some(at + 1) };
            if let Some(neighbour) = neighbour.and_then(|position| homes.get(position)) {
                return Some(Point::Joint(board, *neighbour));
            }
        }
        let number = *wiring.inputs.of_zone.get(&zone)?;
        let input = self.site.part_of(board)?.inputs.iter().find(|input| input.number.value == number)?;
        let mark = if out { input.signal.clone() } else { input.back.clone() };
        Some(Point::Terminal(board, mark))
    }

    /// What a conductor meets at the far end of `run`: devices, fittings, and the cables that go on from there
    /// (all but `from`, whose own near end is asked for).
    fn at_place(&self, run: Id<Run>, conductor: &ConductorUse, from: Option<Id<Run>>) -> Vec<Point> {
        let mut points = Vec::new();
        let mut boards = Vec::new();
        let straight = self.passes_straight(run, conductor.function);
        for item in &self.site.runs[run].mounted {
            match item {
                Mounted::Device(device) if straight && !self.open_at_rest(*device) => {}
                Mounted::Resistor(_) if straight => {}
                Mounted::Device(device) => points.extend(self.device_point(*device, conductor.function)),
                Mounted::Feed(device) => points.extend(self.device_point(device.value, conductor.function)),
                Mounted::Resistor(value)
                    if matches!(conductor.function, Function::LoopOut(_) | Function::LoopBack(_)) =>
                {
                    points.push(Point::Resistor(value.value));
                }
                Mounted::Terminator(value) if matches!(conductor.function, Function::BusA | Function::BusB) => {
                    points.push(Point::Terminator(value.value));
                }
                Mounted::Board(board) => boards.push(*board),
                _ => {}
            }
        }
        // Boards at one place are linked to each other; a cable comes in at the first and goes on from the last.
        let board = if from.is_some() { boards.last() } else { boards.first() };
        points.extend(board.and_then(|board| {
            let mark = self.hanging_mark(*board, conductor.function)?;
            Some(Point::Terminal(*board, mark))
        }));
        if from.is_some() {
            points.push(Point::Cable(run));
        } else {
            let next = self.site.runs.entries().filter(|(_, next)| next.upstream == Some(run));
            points.extend(
                next.filter(|(next, _)| self.carries(*next, conductor.function)).map(|(id, _)| Point::Cable(id)),
            );
        }
        points
    }

    /// True for the return side of a series loop whose cable goes on from here: what is mounted stands in the sensed
    /// side, and the return only passes. A contact that is open at rest still lies across both.
    fn passes_straight(&self, run: Id<Run>, function: Function) -> bool {
        let Function::LoopBack(zone) = function else { return false };
        let goes_on = |next: &Run| next.upstream == Some(run) && !next.branch && next.owner == Owner::Zone(zone);
        !self.site.lies_across(zone) && self.site.runs.iter().any(goes_on)
    }

    fn open_at_rest(&self, device: Id<Device>) -> bool {
        let part = self.site.devices[device].part.map(|part| &self.site.parts[part]);
        part.and_then(|part| part.contacts.first()).is_some_and(|contact| contact.form == ContactForm::NormallyOpen)
    }

    fn carries(&self, run: Id<Run>, function: Function) -> bool {
        super::demand::of_run(self.site, run).iter().any(|demand| demand.function == function)
    }

    fn device_point(&self, device: Id<Device>, function: Function) -> Option<Point> {
        let item = &self.site.devices[device];
        let part = &self.site.parts[item.part?];
        let mark = match function {
            Function::SupplyPositive(output) if item.supply.as_ref().is_none_or(|s| s.value == output) => {
                part.supply.as_ref()?.positive.clone()
            }
            Function::SupplyNegative(output) if item.supply.as_ref().is_none_or(|s| s.value == output) => {
                part.supply.as_ref()?.negative.clone()
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
            _ => return None,
        };
        Some(Point::Device(device, mark))
    }

    /// Boards that hang at the same place of a bus are linked terminal to terminal.
    fn link_neighbours(&self, wiring: &mut Wiring) {
        for run in &self.site.runs {
            let boards: Vec<Id<Board>> = run
                .mounted
                .iter()
                .filter_map(|item| if let Mounted::Board(board) = item { Some(*board) } else { None })
                .collect();
            for (one, next) in boards.iter().zip(boards.iter().skip(1)) {
                for function in [Function::BusPlus, Function::BusMinus, Function::BusA, Function::BusB] {
                    if let (Some(a), Some(b)) = (self.hanging_mark(*one, function), self.hanging_mark(*next, function))
                    {
                        link(wiring, (*one, a), (*next, b));
                    }
                }
            }
        }
    }

    /// Resistors and terminators that stand at the board itself.
    fn fit_at_boards(&self, wiring: &mut Wiring) {
        for (id, zone) in self.site.zones.entries() {
            let Some(wired) = &zone.wired else { continue };
            let Some(board) = wired.board.as_ref().map(|board| board.value) else { continue };
            let Some(number) = wiring.inputs.of_zone.get(&id) else { continue };
            let input = self
                .site
                .part_of(board)
                .and_then(|part| part.inputs.iter().find(|input| input.number.value == *number));
            let Some(input) = input else { continue };
            let has_cable = wired.chain.iter().any(|item| matches!(item, Mounted::Run(_)));
            let in_series = has_cable && !self.site.lies_across(id);
            for item in &wired.chain {
                if let Mounted::Resistor(value) = item {
                    wiring.fitted.push(Fitted {
                        board,
                        across: (input.signal.clone(), input.back.clone()),
                        resistor: Some(value.value),
                        terminator: None,
                        zone: Some(id),
                        in_series,
                    });
                }
            }
        }
        for bus in &self.site.buses {
            let (Some(board), Some(port)) = (bus.board.as_ref().map(|b| b.value), bus.port) else { continue };
            let marks = (self.bus_mark(board, port, Function::BusA), self.bus_mark(board, port, Function::BusB));
            let (Some(a), Some(b)) = marks else { continue };
            for item in &bus.chain {
                if let Mounted::Terminator(value) = item {
                    wiring.fitted.push(Fitted {
                        board,
                        across: (a.clone(), b.clone()),
                        resistor: None,
                        terminator: Some(value.value),
                        zone: None,
                        in_series: false,
                    });
                }
            }
        }
        for run in &self.site.runs {
            let last = run
                .mounted
                .iter()
                .filter_map(|item| if let Mounted::Board(b) = item { Some(*b) } else { None })
                .next_back();
            let Some(board) = last else { continue };
            for item in &run.mounted {
                if let (Mounted::Terminator(value), Some(a), Some(b)) =
                    (item, self.bus_mark(board, 0, Function::BusA), self.bus_mark(board, 0, Function::BusB))
                {
                    wiring.fitted.push(Fitted {
                        board,
                        across: (a, b),
                        resistor: None,
                        terminator: Some(value.value),
                        zone: None,
                        in_series: false,
                    });
                }
            }
        }
    }
}

fn link(wiring: &mut Wiring, one: (Id<Board>, String), other: (Id<Board>, String)) {
    wiring.terminals.entry(one.clone()).or_default().push(OnTerminal::Link(other.0, other.1.clone()));
    wiring.terminals.entry(other).or_default().push(OnTerminal::Link(one.0, one.1));
}
