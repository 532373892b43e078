//! The trees of a site: what each output and bus port feeds, found in its circuits, loops and buses.

use std::collections::{BTreeMap, BTreeSet};

use super::case::Supply;
use super::own_supply;
use super::switched;
use super::tree::{Consumer, Load, Node, RAISED, Raised, Tree};
use crate::base::Id;
use crate::calc::pair::Pair;
use crate::calc::spread::Spread;
use crate::model::{
    Board, Circuit, Communicator, Device, DeviceKind, Draw, HopRef, Mounted, OutputRef, Owner, Part, Run, Site, Source,
    SupplyNeed, Take, Zone,
};
use crate::quantity::Volts;

/// Supplies that feed each other in a circle, so that none of them gets any: the boards in it.
pub(crate) type Circle = BTreeSet<Id<Board>>;

/// The boards with a supply of their own: panels, and modules with a transformer.
pub(crate) fn heads(site: &Site) -> impl Iterator<Item = Id<Board>> {
    site.boards.entries().filter(|(_, board)| board.has_own_supply()).map(|(id, _)| id)
}

/// The trees of a site: every output and every bus port in use of the boards with a supply of their own, by board;
/// and the boards that are fed in a circle.
pub(crate) fn of_site(site: &Site) -> (Vec<Tree>, Vec<Circle>) {
    let index = Index::new(site);
    let (mut fed, mut hops) = (BTreeSet::new(), BTreeSet::new());
    let mut trees = Vec::new();
    for board in heads(site) {
        let Some(part) = site.part_of(board) else { continue };
        let mut builder = Builder { site, index: &index, fed: &mut fed, hops: &mut hops, tree: None };
        trees.extend(
            site.outputs(board)
                .map(|(output, _)| Source::Output(output))
                .chain((0..part.bus_ports.len()).map(|port| Source::Port(board, port)))
                .filter_map(|source| builder.tree(source, part)),
        );
    }
    (trees, circles(site, &fed))
}

/// Boards on a bus that no tree reaches although their buses start somewhere: they feed each other.
fn circles(site: &Site, fed: &BTreeSet<Id<Board>>) -> Vec<Circle> {
    let feeder = |board: Id<Board>| -> Option<Id<Board>> {
        let (bus, _) = site.boards[board].bus?;
        site.buses[bus].board.as_ref().map(|feeder| feeder.value)
    };
    let mut circles: Vec<Circle> = Vec::new();
    for (board, _) in site.boards.entries().filter(|(id, board)| board.bus.is_some() && !fed.contains(id)) {
        let mut seen = Vec::new();
        let mut at = board;
        while let Some(next) = feeder(at).filter(|_| !site.boards[at].has_own_supply()) {
            if let Some(start) = seen.iter().position(|other| *other == at) {
                let circle: Circle = seen.iter().skip(start).copied().collect();
                if !circles.contains(&circle) {
                    circles.push(circle);
                }
                break;
            }
            seen.push(at);
            at = next;
        }
    }
    circles
}

/// What would otherwise be looked for again and again.
struct Index {
    /// Zones with a detector that takes its supply from that output through its own cable.
    zones: BTreeMap<OutputRef, BTreeSet<Id<Zone>>>,
    circuits: BTreeMap<OutputRef, Vec<Owner>>,
    /// The hops that a hop feeds.
    hops: BTreeMap<HopRef, Vec<HopRef>>,
    /// The hops that an output feeds by a cable that is not in the spec.
    fed: BTreeMap<OutputRef, Vec<HopRef>>,
    /// Runs that carry a supply through a loop's cable.
    carries: BTreeSet<(OutputRef, Id<Run>)>,
}

impl Index {
    fn new(site: &Site) -> Self {
        let mut index = Self {
            zones: BTreeMap::new(),
            circuits: BTreeMap::new(),
            hops: BTreeMap::new(),
            fed: BTreeMap::new(),
            carries: BTreeSet::new(),
        };
        for device in &site.devices {
            let (Some(zone), Some(supply)) = (device.zone, &device.supply) else { continue };
            index.zones.entry(supply.value).or_default().insert(zone);
            let way = device.run.into_iter().flat_map(|run| std::iter::once(run).chain(site.runs_before(run)));
            let _ = way.take_while(|run| index.carries.insert((supply.value, *run))).count();
        }
        // Many hops name the same few outputs.
        let mut named: BTreeMap<(Option<Id<Board>>, &str), Option<OutputRef>> = BTreeMap::new();
        for (fed, hop) in site.hops() {
            if let Some(from) = &hop.from {
                index.hops.entry(from.value).or_default().push(fed);
            }
            let Some(name) = &hop.output else { continue };
            let line = &site.communicators[fed.line];
            let own = site.panel_of_way(line);
            let output = named.entry((own, name.value.as_str())).or_insert_with(|| hop_output(site, line, &name.value));
            if let Some(output) = *output {
                index.fed.entry(output).or_default().push(fed);
            }
        }
        for (id, circuit) in site.circuits.entries() {
            if let Some(feed) = &circuit.feed {
                index.circuits.entry(feed.value).or_default().push(Owner::Circuit(id));
            }
        }
        index
    }
}

struct Builder<'s> {
    site: &'s Site,
    index: &'s Index,
    fed: &'s mut BTreeSet<Id<Board>>,
    hops: &'s mut BTreeSet<HopRef>,
    tree: Option<Tree>,
}

impl Builder<'_> {
    /// The tree of a supply; `None` for a port without a bus.
    fn tree(&mut self, source: Source, part: &Part) -> Option<Tree> {
        let (volts, limit) = match source {
            Source::Output(output) => {
                let output = self.site.output(output)?;
                (Some(output.volts), Some(output.limit))
            }
            Source::Port(board, port) => {
                self.site.buses_from(board, port).next()?;
                let port = part.bus_ports.get(port)?;
                (port.volts, port.limit)
            }
        };
        self.tree = Some(Tree { source, volts, limit, nodes: Vec::new(), unknown: Vec::new(), whole: true });
        self.outlet(source, part, None);
        self.tree.take()
    }

    fn push(&mut self, before: Option<usize>, run: Option<Id<Run>>, ohms: Spread) -> usize {
        let Some(tree) = &mut self.tree else { return 0 };
        let at = tree.nodes.len();
        tree.nodes.push(Node {
            before: before.unwrap_or(at),
            run,
            ohms,
            outlet: None,
            most: None,
            most_on_battery: None,
            raised: None,
            drop: Volts(0.0),
            limit: None,
            off_in: Vec::new(),
            throw: None,
            loads: Vec::new(),
        });
        at
    }

    /// What an output or port of a module without a supply of its own makes of the tree's volts; `None` where it only passes
    /// them on.
    fn raised(&self, source: Source, part: &Part) -> Option<Raised> {
        let from = self.tree.as_ref()?.volts?;
        let (volts, raised) = match source {
            Source::Output(output) => {
                let output = self.site.output(output)?;
                let holds = |volts: f64| Spread::tolerance(volts, output.tolerance.0);
                let on_battery = output.least.map(|least| Spread::exact(least.0));
                let on_battery = on_battery.unwrap_or_else(|| holds(output.volts.0 - output.drop.0));
                (output.volts, Raised { on_mains: holds(output.volts.0), on_battery })
            }
            Source::Port(_, port) => {
                let volts = part.bus_ports.get(port)?.volts?;
                (volts, Raised { on_mains: Spread::exact(volts.0), on_battery: Spread::exact(volts.0) })
            }
        };
        (volts.0 > from.0 * RAISED).then_some(raised)
    }

    /// Starts an output or port: the root, or a module's own.
    fn outlet(&mut self, source: Source, part: &Part, before: Option<usize>) {
        let at = self.push(before, None, Spread::SHORT);
        let raised = before.and_then(|_| self.raised(source, part));
        if let Some(node) = self.tree.as_mut().and_then(|tree| tree.nodes.get_mut(at)) {
            node.outlet = Some(source);
            node.raised = raised;
            match source {
                Source::Output(output) => {
                    if let Some(output) = self.site.output(output) {
                        node.gives(output);
                        node.most_on_battery = output.least.filter(|_| before.is_some() && raised.is_none());
                    }
                }
                Source::Port(_, port) => {
                    let port = part.bus_ports.get(port);
                    node.most = port.and_then(|port| port.volts).map(|volts| Spread::exact(volts.0));
                    node.limit = port.and_then(|port| port.limit);
                }
            }
        }
        match source {
            Source::Output(output) => self.output(output, at),
            Source::Port(board, port) => {
                for bus in self.site.buses_from(board, port) {
                    self.runs_of(Owner::Bus(bus), at, None);
                }
            }
        }
    }

    fn output(&mut self, output: OutputRef, at: usize) {
        for zone in self.index.zones.get(&output).into_iter().flatten() {
            self.mounted(self.site.mounted(Owner::Zone(*zone), None), at, Some(output));
            self.runs_of(Owner::Zone(*zone), at, Some(output));
        }
        for circuit in self.index.circuits.get(&output).into_iter().flatten() {
            self.runs_of(*circuit, at, None);
        }
        for hop in self.index.fed.get(&output).into_iter().flatten() {
            self.hop(*hop, at);
        }
    }

    fn runs_of(&mut self, owner: Owner, at: usize, through_loop: Option<OutputRef>) {
        for (run, _) in self.site.runs_of(owner).filter(|(_, run)| run.upstream.is_none()) {
            self.run(run, at, through_loop);
        }
    }

    fn run(&mut self, id: Id<Run>, before: usize, through_loop: Option<OutputRef>) {
        if through_loop.is_some_and(|output| !self.index.carries.contains(&(output, id))) {
            return;
        }
        let site = self.site;
        let ohms = of_run(site, &site.runs[id]);
        if ohms.is_none() {
            self.broken();
        }
        let at = self.push(Some(before), Some(id), ohms.unwrap_or(Spread::SHORT));
        // What switches a circuit stands before its first cable.
        if let (Some(circuit), Some(node)) =
            (site.circuit_of(id), self.tree.as_mut().and_then(|tree| tree.nodes.get_mut(at)))
            && site.runs[id].upstream.is_none()
        {
            node.off_in = switched::off_in(site, circuit);
            node.throw = switched::throw(circuit);
        }
        self.mounted(&site.runs[id].mounted, at, through_loop);
        for (next, _) in site.runs_after(id) {
            self.run(next, at, through_loop);
        }
    }

    fn mounted(&mut self, items: &[Mounted], at: usize, through_loop: Option<OutputRef>) {
        for item in items {
            match (item, through_loop) {
                (Mounted::Device(device), Some(output))
                    if self.site.devices[*device].supply.as_ref().is_none_or(|supply| supply.value != output) => {}
                (Mounted::Device(device), _) => self.device(*device, at),
                (Mounted::Feed(device), None) => self.device(device.value, at),
                (Mounted::Hop(hop), None) => self.hop(hop.value, at),
                (Mounted::Board(board), None) => self.board(*board, at),
                // A loop's cable brings a supply to its devices only; a resistor or terminator takes none.
                (Mounted::Feed(_) | Mounted::Hop(_) | Mounted::Board(_), Some(_))
                | (Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_), _) => {}
            }
        }
    }

    fn device(&mut self, id: Id<Device>, at: usize) {
        let Some(part) = self.site.device_part(id) else { return self.broken() };
        match &part.supply {
            Some(need @ SupplyNeed { idle, alarm, .. }) => {
                // A sounder that something lasting turns on takes as much for as long.
                let run = self.tree.as_ref().and_then(|tree| tree.nodes.get(at)?.run);
                let turned_on = run.and_then(|run| self.site.circuit_of(run)).is_some_and(Circuit::turns_on_for_long);
                let idle = if turned_on && self.site.devices[id].kind == DeviceKind::Sounder { alarm } else { idle };
                self.load(at, Consumer::Device(id), Some((*idle, *alarm)), need.volts());
            }
            // A sounder without figures was reported; a detector without any needs none.
            None if part.contacts.is_empty() => self.broken(),
            None => {}
        }
    }

    /// A hop and those that it feeds, which take their current through it.
    fn hop(&mut self, id: HopRef, at: usize) {
        let Some(hop) = self.site.hop(id).filter(|_| self.hops.insert(id)) else { return };
        let min = hop.min.filter(|_| hop.from.is_none());
        self.load(at, Consumer::Hop(id.line, id.hop), hop.draw.map(|take| (take, take)), (min, None));
        for fed in self.index.hops.get(&id).into_iter().flatten() {
            self.hop(*fed, at);
        }
    }

    fn board(&mut self, id: Id<Board>, at: usize) {
        if self.site.boards[id].has_own_supply() || !self.fed.insert(id) {
            return;
        }
        let Some(part) = self.site.part_of(id) else { return self.broken() };
        let (loops, volts) = (own_supply::loops(self.site, id, Supply::Battery), own_supply::end_of_battery(part));
        let takes = part.draw.as_ref();
        let takes = takes.map(|draw| (draw.idle.and(loops.idle, volts), draw.alarm.and(loops.alarm, volts)));
        let edges = part.draw.as_ref().map_or((None, None), Draw::volts);
        if part.draw.is_some() || (part.whole && !part.bus_ports.is_empty()) {
            self.load(at, Consumer::Board(id), takes, edges);
        } else {
            self.broken();
        }
        for (output, _) in self.site.outputs(id) {
            self.outlet(Source::Output(output), part, Some(at));
        }
        for port in (0..part.bus_ports.len()).filter(|port| self.site.buses_from(id, *port).next().is_some()) {
            self.outlet(Source::Port(id, port), part, Some(at));
        }
    }

    fn load(
        &mut self,
        at: usize,
        consumer: Consumer,
        takes: Option<(Take, Take)>,
        (min, max): (Option<Volts>, Option<Volts>),
    ) {
        let Some(tree) = &mut self.tree else { return };
        match (takes, tree.nodes.get_mut(at)) {
            (Some((idle, alarm)), Some(node)) => node.loads.push(Load { consumer, idle, alarm, min, max }),
            _ => tree.unknown.push(consumer),
        }
    }

    fn broken(&mut self) {
        if let Some(tree) = &mut self.tree {
            tree.whole = false;
        }
    }
}

/// The output that a hop means: of the panel that its communicator belongs to, else of the first panel by name that has
/// one of that name.
pub(crate) fn hop_output(site: &Site, line: &Communicator, name: &str) -> Option<OutputRef> {
    let own = site.panel_of_way(line);
    let panels = site.boards.entries().filter(|(_, board)| board.kind.is_panel()).map(|(board, _)| board);
    own.into_iter().chain(panels).find_map(|board| site.output_named(board, name))
}

/// Resistance of both conductors of a run in ohm, its pairs side by side; `None` where cable or length was reported.
pub(crate) fn of_run(site: &Site, run: &Run) -> Option<Spread> {
    Some(joined(Pair::of_run(site, run)?, run.pairs))
}

/// The resistance of so many such pairs side by side.
pub(crate) fn joined(pair: Pair, pairs: u32) -> Spread {
    pair.ohms().map(|ohms| ohms / f64::from(pairs.max(1)))
}
