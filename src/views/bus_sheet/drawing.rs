//! The bus as its cable lies, for the drawing: places along the trunk, then along each stub.

use std::collections::BTreeMap;

use super::line::{self, cable_between};
use super::{DOCUMENT, measure, places};
use crate::base::Id;
use crate::calc::bus::{BusFigures, Fitting, Way};
use crate::compiled::Compiled;
use crate::draw::bus_line;
use crate::draw::chain::{Block, Chain, Comes, Hanging, Hangs, Kind, Path, Place};
use crate::model::{Board, Bus};
use crate::views::{Drawing, parts, title_block};
use crate::words::Paper;

/// The drawing of a bus, in one part or more; none where something is not known.
pub(crate) fn of(compiled: &Compiled, id: Id<Bus>) -> Vec<Drawing> {
    let Some(figures) = compiled.buses.get(&id) else { return Vec::new() };
    let name = format!("Bus {}", compiled.site.buses[id].name.value);
    let drawn =
        Chain { block: title_block::of(compiled, &DOCUMENT, &name, "not to scale"), paths: paths(compiled, figures) };
    let number = places::number_of(&compiled.site, id);
    let scenes = bus_line::draw(&drawn, DOCUMENT.orientation.room());
    let title = format!("{name} as its cable lies, not to scale");
    parts(&format!("bus-{number}"), &title, &line::of(compiled, figures), scenes)
}

/// The trunk, and every way that leaves it or another, as far as it goes without branches.
fn paths(compiled: &Compiled, figures: &BusFigures) -> Vec<Path> {
    let numbers: BTreeMap<usize, String> = figures.layout.in_order().into_iter().collect();
    let number = |place: usize| numbers.get(&place).cloned().unwrap_or_default();
    let ways = figures.layout.ways();
    let path = |way: &Way| {
        let before = std::iter::once(way.from).chain(way.places.iter().copied().map(Some));
        let places = before.zip(&way.places).map(|(before, &at)| {
            let (cable, length) = before.map(|before| cable_between(compiled, figures, before, at)).unwrap_or_default();
            let leaving = ways.iter().filter(|way| way.from == Some(at)).filter_map(|way| way.places.first());
            Place {
                number: number(at),
                comes: if before.is_some() { Comes::Cable } else { Comes::Nothing },
                cable,
                length,
                room: figures.layout.places.get(at).map(|place| places::room(compiled, place)).unwrap_or_default(),
                link: Some(places::box_link(&compiled.site, figures.layout.bus, at)),
                blocks: blocks(compiled, figures, before, at, leaving.map(|first| number(*first)).collect()),
            }
        });
        Path { from: way.from.map(number).unwrap_or_default(), places: places.collect() }
    };
    ways.iter().map(path).collect()
}

/// What is at a place, in the order of the wires: a cable comes in at the first board and goes on from the last, but all
/// cables of the bus's own board are at that.
fn blocks(
    compiled: &Compiled,
    figures: &BusFigures,
    before: Option<usize>,
    at: usize,
    stubs: Vec<String>,
) -> Vec<Block> {
    let (site, layout) = (&compiled.site, &figures.layout);
    let Some(place) = layout.places.get(at) else { return Vec::new() };
    let is_start = place.run.is_none();
    // Where further cables and a resistor for the terminals are.
    let last = if is_start { place.boards.first() } else { place.boards.last() };
    // A resistor for the terminals is at the last board, a meter at the first: the sheet's rows name that one.
    let hanging = |board: Option<Id<Board>>| {
        let terminators = layout.terminators.iter().filter(|terminator| terminator.place == at);
        let terminators = terminators.filter_map(|terminator| match terminator.fitting {
            Fitting::BuiltIn(in_board) => (Some(in_board) == board).then(|| format!("{} built in", terminator.ohms)),
            Fitting::Written(..) => (last.copied() == board).then(|| format!("{} fitted", terminator.ohms)),
        });
        let ports = layout.ports.iter().filter(|port| port.place == at && Some(port.board) == board);
        let bias = ports.filter_map(|port| port.bias).map(|(ohms, volts)| format!("bias {ohms} in each leg, {volts}"));
        let resistors =
            Hanging { what: Hangs::Resistor, words: terminators.chain(bias).collect::<Vec<_>>().join("; ") };
        let is_first = place.boards.first().copied() == board;
        let shown = if is_first { measure::shown_at(&site.buses[layout.bus], figures, at) } else { String::new() };
        let both = [resistors, Hanging { what: Hangs::Meter, words: shown }];
        both.into_iter().filter(|one| !one.words.is_empty()).collect()
    };
    if place.boards.is_empty() {
        let title = places::title(compiled, figures, at);
        return vec![Block { kind: Kind::Bare, title, beside: String::new(), hanging: hanging(None), stubs }];
    }
    let beside =
        |board: &Id<Board>| site.boards[*board].address.as_ref().map(|address| format!("addr. {}", address.value));
    let block = |board: &Id<Board>| Block {
        kind: if site.starts_at(layout.bus, *board) { Kind::Board } else { Kind::Module },
        title: Paper.board(site, *board),
        beside: beside(board).unwrap_or_default(),
        hanging: hanging(Some(*board)),
        stubs: if last == Some(board) { stubs.clone() } else { Vec::new() },
    };
    let mut blocks: Vec<Block> = place.boards.iter().map(block).collect();
    if is_start || before != Some(place.before) {
        blocks.reverse();
    }
    blocks
}
