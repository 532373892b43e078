//! Facts of runs, buses and circuits, and of the conductors of their cables.

use super::field::{Atom, Gather, Value, figure};
use super::site::metres;
use super::{Facts, Kind, Names, Subject, Thing, own_title};
use crate::model::{Bus, Circuit, Mounted, Owner, Run};
use crate::register::{Cable, ConductorUse, Function, Point, Wiring};
use crate::terms::Passage;

pub fn tell(names: &Names<'_>, facts: &mut Facts) {
    let site = names.site;
    for (id, run) in site.runs.entries() {
        let Run {
            owner: belongs,
            upstream,
            branch,
            order: _, // the chains tell it
            name,
            cable,
            pairs,
            length,
            room,
            label: _, // the wiring's label is the key
            along,
            along_written,
            passes,
            route,
            mounted,
            place: _,
        } = run;
        let fields = Gather::default()
            .thing("belongs to", Some(owner(names, *belongs)))
            .thing("goes on from", upstream.map(|upstream| names.run(upstream)))
            .flag("branch", *branch)
            .text("name", name.as_ref().map(|name| name.value.as_str()))
            .thing("type", cable.as_ref().map(|cable| names.cable_type(cable.value)))
            .figure("pairs for each supply", Some(*pairs).filter(|pairs| *pairs > 1))
            .atom("length", metres(names, length.as_ref().map(|length| length.value)))
            .thing("ends in", room.map(|room| names.room(room)))
            .thing("shares", along.as_ref().map(|host| names.run(host.value)))
            .text("passes", passes.as_ref().map(|passage| Passage::word(passage.value)))
            .text("route", route.as_deref())
            .value("at its far end", chain(names, mounted))
            .done();
        let subject = names.run(id);
        let said =
            if *along_written { format!("shared run {}", subject.key) } else { format!("cable {}", subject.key) };
        // A run that shares a cable comes and goes with it.
        let of = along.as_ref().map_or_else(|| owner(names, *belongs), |host| names.run(host.value));
        facts.insert(subject, Thing { fields, said, named: !along_written, of: Some(of) });
    }
    for Bus { name, board, port, rate, chain: items, terminator_off } in &site.buses {
        let at = board.as_ref().map(|board| board.value);
        let port = at.zip(*port).and_then(|(board, port)| site.part_of(board)?.bus_ports.get(port));
        let fields = Gather::default()
            .thing("board", at.map(|board| names.board(board)))
            .text("port", port.map(|port| port.name.value.as_str()))
            .figure("rate", rate.as_ref().map(|rate| rate.value))
            .flag("built-in terminator taken off", *terminator_off)
            .value("from the board on", chain(names, items))
            .done();
        let thing = Thing { fields, said: format!("bus {}", name.value), named: true, of: None };
        facts.insert(Subject { kind: Kind::Bus, key: name.value.clone() }, thing);
    }
    for (id, circuit) in site.circuits.entries() {
        let Circuit { name, title, feed, chain: items } = circuit;
        let fields = Gather::default()
            .text("title", own_title(title, &name.value))
            .value("fed from", feed.as_ref().map(|feed| names.output(feed.value)).unwrap_or_default())
            .value("from the board on", chain(names, items))
            .done();
        facts.insert(names.circuit(id), Thing { fields, said: format!("circuit {title}"), named: true, of: None });
    }
}

/// What a run belongs to.
pub fn owner(names: &Names<'_>, owner: Owner) -> Subject {
    let site = names.site;
    match owner {
        Owner::Zone(zone) => names.zone(zone),
        Owner::Bus(bus) => Subject { kind: Kind::Bus, key: site.buses[bus].name.value.clone() },
        Owner::Circuit(circuit) => names.circuit(circuit),
        Owner::Communicator(line) => {
            Subject { kind: Kind::Communicator, key: site.communicators[line].name.value.clone() }
        }
    }
}

/// What stands in a chain, in order.
pub fn chain(names: &Names<'_>, items: &[Mounted]) -> Value {
    let atom = |item: &Mounted| match item {
        Mounted::Run(run) => Atom::Thing(names.run(*run)),
        Mounted::Device(device) => Atom::Thing(names.device(*device)),
        Mounted::Feed(device) => Atom::Thing(names.device(device.value)),
        Mounted::Board(board) => Atom::Thing(names.board(*board)),
        Mounted::Resistor(value) => figure(value.value),
        Mounted::Terminator(value) => figure(value.value),
    };
    items.iter().map(atom).collect()
}

/// What each conductor in use does, and where it lands.
pub fn tell_conductors(names: &Names<'_>, wiring: &Wiring, facts: &mut Facts) {
    for cable in &wiring.cables {
        let Cable { run, kind: _, label: _, carries: _, conductors, spare: _ } = cable;
        let of = names.run(*run);
        for used in conductors {
            let ConductorUse { position, colour, run: _, function: does, near, far } = used;
            let mark = colour.map_or_else(|| format!("no. {}", position + 1), crate::quantity::Colour::code);
            let fields = Gather::default()
                .thing("cable", Some(of.clone()))
                .text("colour", Some(&mark))
                .value("does", function(names, *does))
                .value("near end", near.iter().flat_map(|point| landed(names, point)).collect())
                .value("far end", far.iter().flat_map(|point| landed(names, point)).collect())
                .done();
            let subject = Subject { kind: Kind::Conductor, key: format!("{} #{position:02}", of.key) };
            let said = format!("conductor {mark} of {}", of.key);
            facts.insert(subject, Thing { fields, said, named: false, of: Some(of.clone()) });
        }
    }
}

fn function(names: &Names<'_>, does: Function) -> Value {
    let text = |words: &str| Atom::Text(words.to_owned());
    let with = |words: &str, rest: Value| std::iter::once(text(words)).chain(rest).collect();
    match does {
        Function::SupplyPositive(output) => with("supply +", names.output(output)),
        Function::SupplyNegative(output) => with("supply −", names.output(output)),
        Function::LoopOut(zone) => with("loop out", vec![Atom::Thing(names.zone(zone))]),
        Function::LoopBack(zone) => with("loop back", vec![Atom::Thing(names.zone(zone))]),
        Function::BusPlus => with("bus supply +", Vec::new()),
        Function::BusMinus => with("bus supply −", Vec::new()),
        Function::BusA => with("bus data A", Vec::new()),
        Function::BusB => with("bus data B", Vec::new()),
        Function::LineInTip => with("line from the street, tip", Vec::new()),
        Function::LineInRing => with("line from the street, ring", Vec::new()),
        Function::LineOutTip => with("on to the house phones, tip", Vec::new()),
        Function::LineOutRing => with("on to the house phones, ring", Vec::new()),
    }
}

fn landed(names: &Names<'_>, point: &Point) -> Value {
    let terminal = |mark: &String| Atom::Text(format!("terminal {mark}"));
    match point {
        Point::Terminal(board, mark) => vec![Atom::Thing(names.board(*board)), terminal(mark)],
        Point::Device(device, mark) => vec![Atom::Thing(names.device(*device)), terminal(mark)],
        Point::Resistor(value) => vec![figure(*value)],
        Point::Terminator(value) => vec![figure(*value)],
        Point::Cable(run) => vec![Atom::Thing(names.run(*run))],
        Point::Joint(board, run) => {
            vec![Atom::Thing(names.board(*board)), Atom::Text("joint".into()), Atom::Thing(names.run(*run))]
        }
    }
}
