//! The bus as its cable lies, for the drawing: places along the trunk, then along each stub.

use std::collections::BTreeMap;

use super::line::{self, cable_between};
use super::{DOCUMENT, places};
use crate::base::Id;
use crate::calc::bus::{BusFigures, Fitting, Way};
use crate::compiled::Compiled;
use crate::draw::bus_line::{self, Block, Kind, Line, Path, Place};
use crate::model::{Board, Bus};
use crate::views::{Drawing, title_block};
use crate::words::Paper;

/// The drawings of every bus of which all is known.
pub(crate) fn all(compiled: &Compiled) -> Vec<Drawing> {
    compiled.buses.keys().flat_map(|bus| of(compiled, *bus)).collect()
}

/// The drawing of a bus, in one part or more; none where something is not known.
pub(crate) fn of(compiled: &Compiled, id: Id<Bus>) -> Vec<Drawing> {
    let Some(figures) = compiled.buses.get(&id) else { return Vec::new() };
    let name = format!("Bus {}", compiled.site.buses[id].name.value);
    let drawn =
        Line { block: title_block::of(compiled, &DOCUMENT, &name, "not to scale"), paths: paths(compiled, figures) };
    let number = compiled.site.buses.entries().take_while(|(other, _)| *other != id).count() + 1;
    let scenes = bus_line::draw(&drawn, DOCUMENT.orientation.room());
    let of = scenes.len();
    let drawing = |(part, scene)| Drawing {
        name: if part == 1 { format!("bus-{number}") } else { format!("bus-{number}-{part}") },
        title: match of {
            1 => format!("{name} as its cable lies, not to scale"),
            _ => format!("{name} as its cable lies, part {part} of {of}, not to scale"),
        },
        words: line::of(compiled, figures),
        scene,
    };
    (1..).zip(scenes).map(drawing).collect()
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
                cable,
                length,
                room: figures.layout.places.get(at).map(|place| places::room(compiled, place)).unwrap_or_default(),
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
    let fitted = |board: Option<Id<Board>>| -> Vec<String> {
        let here = layout.terminators.iter().filter(|terminator| terminator.place == at);
        here.filter_map(|terminator| match terminator.fitting {
            Fitting::BuiltIn(in_board) => (Some(in_board) == board).then(|| format!("{} built in", terminator.ohms)),
            Fitting::Written(..) => (last.copied() == board).then(|| format!("{} fitted", terminator.ohms)),
        })
        .collect()
    };
    if place.boards.is_empty() {
        let (title, terminators) = (places::title(compiled, figures, at), fitted(None));
        return vec![Block { kind: Kind::Bare, title, address: String::new(), terminators, stubs }];
    }
    let block = |board: &Id<Board>| Block {
        kind: if site.starts_at(layout.bus, *board) { Kind::Board } else { Kind::Module },
        title: Paper.board(site, *board),
        address: site.boards[*board].address.as_ref().map(|address| address.value.to_string()).unwrap_or_default(),
        terminators: fitted(Some(*board)),
        stubs: if last == Some(board) { stubs.clone() } else { Vec::new() },
    };
    let mut blocks: Vec<Block> = place.boards.iter().map(block).collect();
    if is_start || before != Some(place.before) {
        blocks.reverse();
    }
    blocks
}
