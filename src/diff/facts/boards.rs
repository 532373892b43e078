//! Facts of boards.

use super::field::{Atom, Gather};
use super::site::metres;
use super::{Facts, Kind, Names, Subject, Thing, own_title};
use crate::model::{Battery, Board, BoardKind, Transformer};

pub fn tell(names: &Names<'_>, facts: &mut Facts) {
    for (id, board) in names.site.boards.entries() {
        let Board {
            name,
            title,
            part,
            part_span: _,
            room,
            kind,
            address,
            mount,
            bus,
            battery,
            transformer,
            terminator_off,
        } = board;
        let on_bus = bus.map(|(bus, run)| {
            let bus = Subject { kind: Kind::Bus, key: names.site.buses[bus].name.value.clone() };
            std::iter::once(bus).chain(run.map(|run| names.run(run))).map(Atom::Thing).collect()
        });
        let gather = Gather::default()
            .text("kind", Some(kind.noun()))
            .text("title", own_title(title, &name.value))
            .thing("part", part.map(|part| names.part(part)))
            .thing("room", room.map(|room| names.room(room)))
            .figure("address", address.as_ref().map(|address| address.value))
            .atom("height", metres(names, *mount))
            .value("bus", on_bus.unwrap_or_default())
            .flag("built-in terminator taken off", *terminator_off);
        let fields = supplied(of_kind(names, kind, gather), battery.as_ref(), transformer.as_ref()).done();
        let said = if title.to_lowercase().starts_with(kind.noun()) {
            title.clone()
        } else {
            format!("{} {title}", kind.noun())
        };
        facts.insert(names.board(id), Thing { fields, said, named: true, of: None });
    }
}

fn of_kind(names: &Names<'_>, kind: &BoardKind, gather: Gather) -> Gather {
    match kind {
        BoardKind::Panel | BoardKind::Keypad | BoardKind::Receiver => gather,
        BoardKind::Module { inputs_from } => gather.figure("inputs from", *inputs_from),
        BoardKind::Strip { feed, ways, wires } => gather
            .value("fed from", feed.map(|feed| names.output(feed)).unwrap_or_default())
            .figure("ways", Some(*ways))
            .figure("conductors a terminal", Some(*wires)),
    }
}

fn supplied(mut gather: Gather, battery: Option<&Battery>, transformer: Option<&Transformer>) -> Gather {
    if let Some(Battery { capacity, count, installed }) = battery {
        gather = gather
            .figure("battery", Some(capacity.value))
            .figure("batteries", Some(*count))
            .figure("battery put in", *installed);
    }
    if let Some(Transformer { volts, rating, outlet, switched }) = transformer {
        gather = gather
            .figure("transformer", Some(volts.value))
            .figure("transformer rating", Some(rating.value))
            .text("outlet", outlet.as_deref())
            .flag("outlet can be switched", *switched);
    }
    gather
}
