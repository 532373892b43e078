//! Boards: panels and strips, and the boards that stand in a bus.

use crate::base::{Id, Spanned};
use crate::model::terminal::terminals;
use crate::model::{
    Battery, BatteryWritten, Board, BoardKind, Earth, KeyInUse, Mounted, OtherBattery, OutputRef, Owner, Part, Room,
    Transformer,
};
use crate::quantity::{AmpereHours, Amperes, Celsius, Metres, Seconds, VoltAmperes, Volts, WireSize};
use crate::schema::Reading;
use crate::schema::spec::{Kind, Names, NodeSpec};
use crate::terms::{Bank, EmergencyKey, Joining};

use super::chains::Chain;
use super::places::hung;
use super::{Lower, Top, name_of, title_of};
use crate::resolve::rules;

/// The most buses that follow one another, each at a board of the one before, of which the rooms are found; ours.
const MOST_BUSES_BETWEEN: u32 = 16;

impl Lower<'_> {
    /// Enters every board, so that loops, buses and strips can refer to any of them.
    pub(super) fn board_list(&mut self, tops: &[Top<'_>]) {
        let mut found: Vec<&Reading> = Vec::new();
        for (reading, _) in tops {
            boards_in(reading, &mut found);
        }
        found.sort_by_cached_key(|reading| (name_of(reading, "name"), reading.span));
        let mut strips = Vec::new();
        for reading in found {
            let (Some(name), Some(kind)) = (reading.text("name"), kind_of(reading)) else { continue };
            let part_name =
                reading.spec.properties.iter().any(|p| p.name == "part").then(|| reading.text("part")).flatten();
            let part = part_name.as_ref().and_then(|part| self.board_part(&kind, part));
            let has_room = reading.spec.properties.iter().any(|p| p.name == "room");
            let room =
                has_room.then(|| reading.text("room")).flatten().and_then(|room| self.names.find(&self.rooms, &room));
            let on_bus = kind.hangs_on_bus();
            let is_strip = kind.is_strip();
            let board = self.site.boards.push(Board {
                title: title_of(reading, &name.value),
                name: name.clone(),
                part,
                part_span: part_name.map_or(reading.name_span, |part| part.span),
                room,
                existing: reading.flag("existing"),
                kind,
                address: if on_bus { reading.count("address") } else { None },
                mount: if on_bus { reading.quantity::<Metres>("mount").map(|height| height.value) } else { None },
                hung: hung(reading),
                battery: reading.one("battery").and_then(battery_of),
                transformer: reading.one("transformer").and_then(transformer_of),
                earth: reading.one("earth").and_then(earth_of),
                terminator_off: on_bus && reading.optional_flag("built-in-terminator") == Some(false),
                emergency_keys: reading.all("emergency-key").filter_map(key_in_use).collect(),
                bus: None,
            });
            self.boards.enter(&name.value, board);
            self.board_at.insert(name.span, board);
            self.check_earth_terminal(board);
            if is_strip {
                strips.push((board, reading));
            }
        }
        self.rooms_on_buses(tops);
        for (strip, reading) in strips {
            self.feed_strip(strip, reading);
        }
    }

    /// The part of that name, where it may be mounted as that kind of board; else that is reported, and the board has none:
    /// what hangs on a board of such a part would all be told as missing.
    fn board_part(&mut self, kind: &BoardKind, written: &Spanned<String>) -> Option<Id<Part>> {
        let wanted = kind.part()?;
        let parts = &self.site.parts;
        let id = self.names.find_among(&self.parts, written, |id| parts[id].may_be(wanted))?;
        let part = &parts[id];
        if !part.whole || part.may_be(wanted) {
            return Some(id);
        }
        let mut others: Vec<&Part> = parts.iter().filter(|part| part.board == Some(wanted)).collect();
        others.sort_by_key(|part| (part.shared, &part.name.value));
        self.sink.push(rules::part_is_other_board(written, kind, part, &others));
        None
    }

    /// The rooms of what hangs on buses, so that loops and strips, which are read first, know where they start. A run
    /// into a board of another bus, or a bus that starts at one, may need that other bus first.
    fn rooms_on_buses(&mut self, tops: &[Top<'_>]) {
        let buses: Vec<&Reading> =
            tops.iter().map(|(reading, _)| *reading).filter(|reading| reading.spec.name == "bus").collect();
        for _ in 0..MOST_BUSES_BETWEEN {
            let mut changed = false;
            for bus in &buses {
                let room = bus.text("board").and_then(|board| self.room_of_board(&board.value));
                changed |= self.hang_in(bus, room);
            }
            if !changed {
                break;
            }
        }
    }

    /// Puts the boards at the end of a run of a bus into a room; true where one was not there.
    fn hang_in(&mut self, reading: &Reading, room: Option<Id<Room>>) -> bool {
        let mut changed = false;
        for child in &reading.children {
            if child.spec.name == "run" {
                let room = match child.text("room") {
                    Some(room) => self.rooms.get(&room.value),
                    None => child.text("into").and_then(|board| self.room_of_board(&board.value)),
                };
                changed |= self.hang_in(child, room);
            } else if is_board(child.spec)
                && let Some(board) = child.text("name").and_then(|name| self.board_at.get(&name.span))
            {
                let is = &mut self.site.boards[*board].room;
                changed |= *is != room;
                *is = room;
            }
        }
        changed
    }

    fn room_of_board(&self, name: &str) -> Option<Id<Room>> {
        self.boards.get(name).and_then(|board| self.site.boards[board].room)
    }

    /// Reports an earth conductor under a terminal that the board's part does not have.
    fn check_earth_terminal(&mut self, id: Id<Board>) {
        let board = &self.site.boards[id];
        let Some(mark) = board.earth.as_ref().and_then(|earth| earth.terminal.as_ref()) else { return };
        let Some(part) = self.site.part_of(id).filter(|part| part.whole) else { return };
        let has = terminals(&self.site, id);
        if has.iter().all(|terminal| terminal.mark != mark.value) {
            let marks = has.iter().map(|terminal| terminal.mark.as_str());
            self.sink.push(rules::unknown_on_board("terminal", mark, marks, board, part));
        }
    }

    /// The cables to the boards' transformers, by board.
    pub(super) fn transformer_list(&mut self, tops: &[Top<'_>]) {
        let mut found: Vec<&Reading> = Vec::new();
        for (reading, _) in tops {
            boards_in(reading, &mut found);
        }
        let fed = |reading: &'_ Reading| Some(*self.board_at.get(&reading.text("name")?.span)?);
        let mut found: Vec<(Id<Board>, &Reading)> =
            found.into_iter().filter_map(|reading| Some((fed(reading)?, reading.one("transformer")?))).collect();
        found.sort_by_key(|(board, _)| *board);
        for (board, reading) in found {
            let chain = Chain { owner: Owner::Transformer(board), board: Some(board) };
            let run = self.chain(chain, reading).iter().find_map(Mounted::run);
            if let Some(transformer) = &mut self.site.boards[board].transformer {
                transformer.run = run;
            }
        }
    }

    fn feed_strip(&mut self, strip: Id<Board>, reading: &Reading) {
        let Some(board) = reading.text("board").and_then(|board| self.source_board("output", &board)) else { return };
        if !reading.wrote("room") {
            self.site.boards[strip].room = self.site.boards[board].room;
        }
        let output = reading.text("output").and_then(|output| self.output_of(board, &output));
        if let BoardKind::Strip { feed, .. } = &mut self.site.boards[strip].kind {
            *feed = output.map(|output| output.value);
        }
    }

    /// The board of that name that something starts at; reported where it is a strip or a joint box,
    /// which have nothing of their own.
    pub(super) fn source_board(&mut self, noun: &str, board: &Spanned<String>) -> Option<Id<Board>> {
        let id = self.names.find(&self.boards, board)?;
        if self.site.boards[id].kind.offers_nothing() {
            self.sink.push(rules::board_offers_none(noun, board.span, &self.site.boards[id]));
            return None;
        }
        Some(id)
    }

    /// The output of that name on a board; reported where the board's part has none.
    pub(super) fn output_of(&mut self, board: Id<Board>, name: &Spanned<String>) -> Option<Spanned<OutputRef>> {
        self.output_for(board, name, false)
    }

    /// The same, for a detector of a loop or for something else.
    pub(super) fn output_for(
        &mut self,
        board: Id<Board>,
        name: &Spanned<String>,
        detector: bool,
    ) -> Option<Spanned<OutputRef>> {
        let part = self.site.part_of(board)?;
        let found = self.site.output_named(board, &name.value);
        let is_told = found.is_none() && part.outputs.is_empty() && !self.told_without_outputs.insert(board);
        if found.is_none() && part.whole && !is_told {
            let candidates = part.outputs.iter().map(|output| output.name.value.as_str());
            let diagnostic = rules::unknown_on_board("output", name, candidates, &self.site.boards[board], part);
            self.sink.push(if part.outputs.is_empty() {
                let has = |(id, _): &(Id<Board>, &Board)| self.site.output_named(*id, &name.value).is_some();
                let others: Vec<&Board> = self.site.boards.entries().filter(has).map(|(_, board)| board).collect();
                rules::without_outputs(diagnostic, part, &others, detector)
            } else {
                diagnostic
            });
        }
        found.map(|output| Spanned::new(output, name.span))
    }
}

/// A board itself, or those that hang in the runs of a bus.
fn boards_in<'r>(reading: &'r Reading, found: &mut Vec<&'r Reading>) {
    if is_board(reading.spec) {
        found.push(reading);
    } else if matches!(reading.spec.name, "bus" | "run") {
        for child in &reading.children {
            boards_in(child, found);
        }
    }
}

/// True for a node of the language that stands for a board: its name is one that boards are referred to by.
pub(super) fn is_board(spec: &NodeSpec) -> bool {
    spec.arguments.iter().any(|argument| matches!(argument.kind, Kind::Name(Names::Board)))
}

/// The kind of board that a node stands for; `None` for no board.
fn kind_of(reading: &Reading) -> Option<BoardKind> {
    let inputs_from = || reading.count("inputs-from").map(|number| number.value);
    Some(match reading.spec.name {
        "panel" => BoardKind::Panel,
        "power-supply" => BoardKind::PowerSupply,
        "keypad" => BoardKind::Keypad { inputs_from: inputs_from() },
        "receiver" => BoardKind::Receiver,
        "module" => BoardKind::Module { inputs_from: inputs_from() },
        "joint-box" => BoardKind::JointBox { joined: reading.word("joined-by", Joining::from_word).map(|by| by.value) },
        "strip" => BoardKind::Strip {
            feed: None,
            ways: reading.count("ways").map_or(0, |ways| ways.value),
            wires: reading.count("wires").map_or(1, |wires| wires.value),
        },
        _ => return None,
    })
}

fn battery_of(battery: &Reading) -> Option<Battery> {
    Some(Battery {
        capacity: battery.quantity::<AmpereHours>("capacity")?,
        count: battery.count("count").map_or(1, |count| count.value),
        others: battery.all("another").filter_map(other_battery_of).collect(),
        wired: battery.word("wired", Bank::from_word),
        volts: battery.quantity::<Volts>("volts").map(|volts| volts.value),
        fuse: battery.quantity::<Amperes>("fuse"),
        max_charge: battery.quantity::<Amperes>("max-charge"),
        positive: battery.colour("positive"),
        negative: battery.colour("negative"),
        written: BatteryWritten {
            installed: battery.date("installed").map(|date| date.map(|_| ())),
            count: battery.count("count").map(|count| count.map(|_| ())),
            volts: battery.quantity::<Volts>("volts").map(|volts| volts.map(|_| ())),
        },
        coldest: battery.quantity::<Celsius>("coldest").map(|coldest| coldest.value),
        installed: battery.date("installed").map(|date| date.value),
        existing: battery.flag("existing"),
        replace_after: battery.quantity::<Seconds>("replace-after").map(|life| life.value),
    })
}

fn key_in_use(key: &Reading) -> Option<KeyInUse> {
    Some(KeyInUse { key: key.word("key", EmergencyKey::from_word)?, number: key.count("number") })
}

fn other_battery_of(battery: &Reading) -> Option<OtherBattery> {
    Some(OtherBattery {
        capacity: battery.quantity::<AmpereHours>("capacity")?,
        installed: battery.date("installed").map(|date| date.value),
        existing: battery.flag("existing"),
    })
}

fn earth_of(earth: &Reading) -> Option<Earth> {
    Some(Earth {
        size: earth.quantity::<WireSize>("size")?.value,
        to: earth.text("to")?,
        colour: earth.colour("colour").map(|colour| colour.value),
        terminal: earth.text("terminal"),
        existing: earth.flag("existing"),
    })
}

fn transformer_of(transformer: &Reading) -> Option<Transformer> {
    Some(Transformer {
        volts: transformer.quantity::<Volts>("volts")?,
        rating: transformer.quantity::<VoltAmperes>("rating")?,
        outlet: transformer.text("outlet").map(|outlet| outlet.value),
        switched: transformer.flag("switched"),
        switched_written: transformer.property_span("switched").map(|span| Spanned::new((), span)),
        existing: transformer.flag("existing"),
        run: None,
        fuse: transformer.quantity::<Amperes>("fuse"),
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::is_board;
    use crate::diag::Sink;
    use crate::resolve::load::{MemoryFiles, SITE_FILE};
    use crate::resolve::resolve;
    use crate::schema::nodes::{TOP, bus::BUS_RUN};

    /// Every node of the language that gives a board its name makes a board, of the kind that the node is named for.
    #[test]
    fn every_node_that_names_a_board_makes_one() {
        let hanging = BUS_RUN.children.iter().map(|child| child.node).filter(|spec| is_board(spec));
        let hanging = hanging.map(|spec| (spec, format!("bus \"b\" {{ run \"c\" {{ {} }}; }}", spec.example)));
        let standing = TOP.iter().copied().filter(|spec| is_board(spec)).map(|spec| (spec, spec.example.to_owned()));
        let mut seen = 0;
        for (spec, text) in standing.chain(hanging) {
            let files = BTreeMap::from([(SITE_FILE.to_owned(), format!("site \"s\"\n{text}\n").into_bytes())]);
            let site = resolve(&MemoryFiles(files), &mut Sink::default()).site.unwrap();
            let kinds: Vec<&str> = site.boards.iter().map(|board| board.kind.noun()).collect();
            assert_eq!(kinds, [spec.name.replace('-', " ")], "{text}");
            seen += 1;
        }
        assert_eq!(seen, 7);
    }
}
