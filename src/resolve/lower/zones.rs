//! Zones with their loops, and the devices mounted on them.

use std::collections::BTreeSet;

use crate::base::{Id, Spanned};
use crate::model::{Device, DeviceKind, Loop, Near, Opening, Owner, Part, Run, Zone};
use crate::quantity::Metres;
use crate::schema::Reading;
use crate::terms::{Faces, KeyAction, LoopWiring, Nearby, ZoneType};

use super::chains::Chain;
use super::places::hung;
use super::{Lower, Top};
use crate::resolve::rules;

impl Lower<'_> {
    pub(super) fn zone_list(&mut self, tops: &[Top<'_>]) {
        let mut found: Vec<&Reading> =
            tops.iter().filter(|(reading, _)| reading.spec.name == "zone").map(|(reading, _)| *reading).collect();
        found.sort_by_key(|reading| (reading.integer("number").map(|number| number.value), reading.span));
        let numbers: BTreeSet<u32> = found.iter().filter_map(|zone| zone.count("number")).map(|n| n.value).collect();
        let mut free = (1..).filter(|number| !numbers.contains(number));
        let mut earlier: Option<Spanned<u32>> = None;
        for reading in found {
            let number = reading.count("number");
            if let (Some(number), Some(before)) = (&number, earlier.as_ref().filter(|e| Some(*e) == number.as_ref())) {
                self.sink.push(rules::duplicate_zone_number(number, before.span, free.next().unwrap_or_default()));
            } else {
                earlier.clone_from(&number);
            }
            self.zone(reading, number);
        }
    }

    fn zone(&mut self, reading: &Reading, number: Option<Spanned<u32>>) {
        let area = reading.text("area").and_then(|area| self.names.find(&self.areas, &area));
        let zone = self.site.zones.push(Zone {
            // A zone whose number could not be read is still there, for what it watches; 0 is no zone's number.
            number: number.unwrap_or_else(|| Spanned::new(0, reading.name_span)),
            description: reading.text("description").unwrap_or_else(|| Spanned::new(String::new(), reading.name_span)),
            kind: reading.word("type", ZoneType::from_word),
            area,
            event: reading.count("event"),
            action: reading.word("action", KeyAction::from_word),
            follows: reading.flag("follows"),
            reserved: reading.set("reserved"),
            note: reading.text("note").map(|note| note.value),
            wired: None,
            wireless: None,
            whole: reading.all_whole(),
        });
        if let Some(wired) = reading.one("loop") {
            let lowered = self.wired(zone, wired);
            self.site.zones[zone].wired = Some(lowered);
        }
        if let Some(wireless) = reading.one("wireless") {
            let chain = Chain { owner: Owner::Zone(zone), board: None };
            let device = self.device(DeviceKind::Wireless, chain, wireless, None);
            self.site.zones[zone].wireless = Some(device);
        }
    }

    fn wired(&mut self, zone: Id<Zone>, reading: &Reading) -> Loop {
        let board = self.names.refer(&self.boards, reading.text("board"));
        let chain =
            self.chain(Chain { owner: Owner::Zone(zone), board: board.as_ref().map(|board| board.value) }, reading);
        Loop {
            wiring: reading.word("wiring", LoopWiring::from_word),
            board,
            input: reading.count("input"),
            input_written: reading.wrote("input"),
            chain,
            place: Spanned::new((), reading.name_span),
        }
    }

    /// Lowers a contact, detector, sounder, load or wireless detector.
    pub(super) fn device(
        &mut self,
        kind: DeviceKind,
        chain: Chain,
        reading: &Reading,
        at: Option<Id<Run>>,
    ) -> Id<Device> {
        let has = |field: &str| reading.spec.properties.iter().any(|row| row.name == field);
        let text = |field: &str| if has(field) { reading.text(field) } else { None };
        let part_name = if kind == DeviceKind::Fault { None } else { reading.text("part") };
        let part = part_name.and_then(|part| {
            // A keypad's part has no contact, and is meant by no detector; with a radio, all may be.
            let wireless = reading.spec.name == "wireless";
            self.names.find_among(&self.parts, &part, |id| wireless || !self.site.parts[id].is_a_board())
        });
        let opening = self.names.refer(&self.openings, text("on"));
        let room_written = text("room");
        let room = match (room_written, &opening, at) {
            (Some(room), ..) => self.names.find(&self.rooms, &room),
            (None, Some(opening), _) => Some(self.site.openings[opening.value].room),
            (None, None, Some(run)) => self.site.runs[run].room,
            (None, None, None) => chain.board.and_then(|board| self.site.boards[board].room),
        };
        let supply = match (text("supply"), chain.board) {
            (Some(output), Some(board)) => self.output_for(board, &output, true),
            _ => None,
        };
        let receiver = self.names.refer(&self.boards, text("receiver"));
        let zone = if let Owner::Zone(zone) = chain.owner { Some(zone) } else { None };
        let name = text("name");
        let title = text("title").map_or_else(|| self.device_title(part, opening.as_ref()), |title| title.value);
        let device = self.site.devices.push(Device {
            kind,
            name: name.clone(),
            title,
            part,
            board: None,
            opening,
            room,
            mount: if has("mount") { reading.quantity::<Metres>("mount").map(|height| height.value) } else { None },
            hung: hung(reading),
            zone,
            run: at,
            supply,
            supply_written: reading.wrote("supply"),
            fed_by: Vec::new(),
            shunt: if has("shunt") { reading.resistance("shunt") } else { None },
            diode: has("diode") && reading.flag("diode"),
            tamper_in_loop: has("tamper") && reading.flag("tamper"),
            fixed: has("fixed") && reading.flag("fixed"),
            existing: has("existing") && reading.flag("existing"),
            shares: has("shares") && reading.flag("shares"),
            receiver,
            receiver_written: reading.wrote("receiver"),
            battery: if has("battery") { reading.date("battery").map(|date| date.value) } else { None },
            made: if has("made") { reading.date("made").map(|date| date.value) } else { None },
            faces: if has("faces") { reading.word("faces", Faces::from_word) } else { None },
            near: reading.all("near").filter_map(near).collect(),
            place: Spanned::new((), reading.span),
        });
        if let Some(name) = name {
            self.devices.enter(&name.value, device);
        }
        device
    }

    /// Lowers the fault contact of a board: a device whose part is the board's.
    pub(super) fn fault(&mut self, chain: Chain, reading: &Reading, at: Option<Id<Run>>) -> Id<Device> {
        let device = self.device(DeviceKind::Fault, chain, reading, at);
        // Where the board is not known, that was reported: something is mounted here all the same.
        let Some(written) = reading.text("board") else { return device };
        let Some(board) = self.source_board("fault contact", &written) else { return device };
        let (part, room) = (self.site.boards[board].part, self.site.boards[board].room);
        let item = &mut self.site.devices[device];
        item.title = format!("Fault contact of {}", self.site.boards[board].title);
        item.part = part;
        item.board = Some(Spanned::new(board, written.span));
        item.room = room;
        device
    }

    /// The part's title, with the opening's where it watches one.
    fn device_title(&self, part: Option<Id<Part>>, opening: Option<&Spanned<Id<Opening>>>) -> String {
        let part = part.map(|part| self.site.parts[part].title.clone()).unwrap_or_default();
        match opening {
            Some(opening) => format!("{part}, {}", self.site.openings[opening.value].title),
            None => part,
        }
    }
}

fn near(reading: &Reading) -> Option<Near> {
    let what = reading.word("what", Nearby::from_word)?;
    Some(Near { what, distance: reading.quantity::<Metres>("distance")?.value })
}
