//! Buses, circuits, spare cables, and ways to the monitoring service.

use super::chain::{Mounted, Output, chain};
use super::devices::{Device, devices};
use super::figures::buses::BusFigures;
use super::item::{Reference, Title, record};
use super::names::Names;
use super::parts::Taken;
use super::switching::Switching;
use crate::base::{Id, Spanned};
use crate::model::{self, Owner};
use crate::quantity::{BitsPerSecond, Ohms, Seconds, Volts};
use crate::terms::{JackKind, Path, PinOrder, Service};

record! {
    /// A data bus.
    Bus {
        /// The name that others refer to.
        name: String,
        /// Name of the board it starts at.
        board: Option<Reference> => "board",
        /// Name of that board's bus port.
        port: Option<String> => "port",
        /// Signalling rate in bit per second.
        bits_per_second: Option<BitsPerSecond> => "rate",
        /// True where the terminator that the board's port has built in is taken off.
        built_in_terminator_off: bool => "built-in terminator taken off",
        /// False where it is no bus as by TIA-485-A.
        differential: bool => "differential",
        /// What stands in it, from the board on; what is not a cable is at the board.
        chain: Vec<Mounted> => "from the board on",
        /// Labels of its cables, in the order of the text.
        cables: Vec<String>,
        /// Names of the boards on it, in the order of the text.
        boards: Vec<String>,
        /// Terminators added in the spec, in ohm; those built into boards stand with their parts.
        terminators: Vec<Ohms>,
        /// What is computed of it; absent where a length or a board is not known, or where nothing hangs on it.
        figures: Option<BusFigures>,
    }

    /// A powered circuit.
    Circuit {
        /// Identifier for what connects next; it stays while the name does.
        id: String,
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// What feeds it.
        feed: Option<Output> => "fed from",
        /// How a relay or transistor switches it.
        switching: Option<Switching> => "",
        /// What stands in it, from the board on; what is not a cable is at the board.
        chain: Vec<Mounted> => "from the board on",
        /// Labels of its cables, in the order of the text.
        cables: Vec<String>,
        /// Sounders and loads on it, in the order of the text.
        devices: Vec<Device>,
        /// Ids of the detectors that it feeds; they stand with their zones.
        feeds: Vec<String>,
    }

    /// A cable pulled for later.
    Spare {
        /// The name that others refer to.
        name: String,
        /// What it is kept for.
        title: Title => "kept for",
        /// Name of the board in whose enclosure it starts.
        board: Option<Reference> => "board",
        /// What stands in it, from the board on.
        chain: Vec<Mounted> => "from the board on",
        /// Labels of its cables, in the order of the text.
        cables: Vec<String>,
    }

    /// A way to the monitoring service.
    Communicator {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// What it goes over: "telephone", "internet" or "radio".
        path: Option<&'static str> => "goes over",
        /// What kind of service comes in.
        service: Option<&'static str> => "service",
        /// How the board is put in the telephone line.
        jack: Option<&'static str> => "jack",
        /// Name of the board that reports; of a telephone line, the one whose line port it uses.
        board: Option<Reference> => "board",
        /// Name of that port.
        port: Option<String> => "board",
        /// Name of the module that is the adapter.
        module: Option<Reference> => "adapter",
        /// The table by which its network cables are wired.
        wired: Option<&'static str> => "wired by",
        /// Within how many seconds the service misses it when it has fallen silent.
        supervised_every_seconds: Option<Seconds> => "supervised every",
        /// Label of its first cable: to the line's jack, to the first powered device, to the antenna.
        cable: Option<Reference> => "cable",
        /// Labels of all its cables, in the order of the text.
        cables: Vec<String>,
        /// Powered devices on the way, in order.
        hops: Vec<Hop> => "hop",
    }

    /// A powered device on the way.
    Hop {
        /// What it is.
        name: String => "",
        /// The name that others refer to.
        reference: Option<String> => "name",
        /// The panel's output that feeds it by a cable that is not in the spec.
        output: Option<String> => "output",
        /// Names of the circuits that feed it.
        circuits: Vec<String>,
        /// What the hop is that feeds it.
        from: Option<String> => "fed by",
        /// What it takes.
        draw: Option<Taken> => "draw",
        /// Least volts at which it works.
        min_volts: Option<Volts> => "least volts",
        /// How long its own backup lasts, in seconds.
        backup_seconds: Option<Seconds> => "backup",
    }
}

/// The buses, by name; without their figures.
pub(crate) fn buses(names: &Names<'_>) -> Vec<Bus> {
    let site = names.site;
    let of_bus = |(id, bus): (Id<model::Bus>, &model::Bus)| {
        let model::Bus { name, board, port, rate, terminator_off, differential, chain: items } = bus;
        let board = board.as_ref().map(|board| board.value);
        let port = board.zip(*port).and_then(|(board, port)| site.part_of(board)?.bus_ports.get(port));
        let owner = Owner::Bus(id);
        let all = || site.all_mounted(owner).map(|(_, item)| item);
        Bus {
            name: name.value.clone(),
            board: board.map(|board| names.board(board)),
            port: port.map(|port| port.name.value.clone()),
            bits_per_second: rate.as_ref().map(|rate| rate.value),
            built_in_terminator_off: *terminator_off,
            differential: *differential,
            chain: chain(names, items),
            cables: labels(names, owner),
            boards: all().filter_map(model::Mounted::board).map(|board| names.board(board).text).collect(),
            terminators: all().filter_map(model::Mounted::terminator).map(|ohms| ohms.value).collect(),
            figures: None,
        }
    };
    site.buses.entries().map(of_bus).collect()
}

/// The circuits, by name.
pub(crate) fn circuits(names: &Names<'_>) -> Vec<Circuit> {
    let of_circuit = |(id, circuit): (Id<model::Circuit>, &model::Circuit)| {
        let model::Circuit { name, title, feed, switching, chain: items } = circuit;
        let owner = Owner::Circuit(id);
        let feeds = names.site.all_mounted(owner).filter_map(|(_, item)| item.feed());
        Circuit {
            id: circuit.identifier(),
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            feed: feed.as_ref().map(|feed| names.output(feed.value)),
            switching: switching.as_ref().map(|switching| Switching::of(names, switching)),
            chain: chain(names, items),
            cables: labels(names, owner),
            devices: devices(names, owner),
            feeds: feeds.map(|device| names.device(device.value).text).collect(),
        }
    };
    names.site.circuits.entries().map(of_circuit).collect()
}

/// The cables pulled for later, by name.
pub(crate) fn spares(names: &Names<'_>) -> Vec<Spare> {
    let of_spare = |(id, spare): (Id<model::Spare>, &model::Spare)| {
        let model::Spare { name, title, board, chain: items } = spare;
        Spare {
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            board: board.as_ref().map(|board| names.board(board.value)),
            chain: chain(names, items),
            cables: labels(names, Owner::Spare(id)),
        }
    };
    names.site.spares.entries().map(of_spare).collect()
}

/// The ways to the monitoring service, by name.
pub(crate) fn communicators(names: &Names<'_>) -> Vec<Communicator> {
    let of_line = |(id, line): (Id<model::Communicator>, &model::Communicator)| {
        let model::Communicator {
            name,
            title,
            path,
            service,
            jack,
            board,
            port,
            module,
            pin_order,
            supervised_every,
            run,
            hops,
        } = line;
        let line_port = port.and_then(|(board, port)| names.site.part_of(board)?.line_ports.get(port));
        Communicator {
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            path: path.as_ref().map(|path| Path::word(path.value)),
            service: service.map(Service::word),
            jack: jack.map(JackKind::word),
            board: board.map(|board| names.board(board)),
            port: line_port.map(|port| port.name.value.clone()),
            module: module.as_ref().map(|module| names.board(module.value)),
            wired: pin_order.as_ref().map(|order| PinOrder::word(order.value)),
            supervised_every_seconds: supervised_every.as_ref().map(|time| time.value),
            cable: run.map(|run| names.run(run)),
            cables: labels(names, Owner::Communicator(id)),
            hops: hops.iter().map(|hop| of_hop(names, hop)).collect(),
        }
    };
    names.site.communicators.entries().map(of_line).collect()
}

fn of_hop(names: &Names<'_>, hop: &model::Hop) -> Hop {
    let model::Hop { name, reference, output, fed_by, from, draw, min, backup } = hop;
    let text = |of: &Option<Spanned<String>>| of.as_ref().map(|of| of.value.clone());
    let feeder = from.as_ref().and_then(|from| names.site.hop(from.value));
    Hop {
        name: name.value.clone(),
        reference: text(reference),
        output: text(output),
        circuits: fed_by.iter().map(|circuit| names.circuit(circuit.value).text).collect(),
        from: feeder.map(|feeder| feeder.name.value.clone()),
        draw: draw.map(Taken::from),
        min_volts: *min,
        backup_seconds: *backup,
    }
}

/// The labels of the cables of an owner's runs, in the order of the text.
pub(crate) fn labels(names: &Names<'_>, owner: Owner) -> Vec<String> {
    names.site.runs_of(owner).filter_map(|(id, _)| names.label(id)).collect()
}
