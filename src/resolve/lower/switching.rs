//! Relays and transistors of a part, and how circuits are switched.

use crate::base::{Id, Spanned};
use crate::model::{Board, Drive, OutputRef, OwnSupply, Rating, Switch, SwitchKind, SwitchRef, Switching};
use crate::quantity::{Amperes, Seconds, Volts};
use crate::schema::Reading;
use crate::terms::{CurrentKind, DrivenBy, SwitchContact, SwitchedSide, When, ZoneType};

use super::Lower;
use crate::resolve::rules;

/// The relays and transistors of a part, by name.
pub(super) fn switches_of(part: &Reading) -> Vec<Switch> {
    let relays = part.all("relay").filter_map(relay_of);
    let mut switches: Vec<Switch> = relays.chain(part.all("transistor").filter_map(transistor_of)).collect();
    switches.sort_by(|a, b| a.name.value.cmp(&b.name.value));
    switches
}

fn rating_of(reading: &Reading, volts: &str, current: &str) -> Rating {
    Rating {
        volts: reading.quantity::<Volts>(volts).map(|volts| volts.value),
        current: reading.quantity::<Amperes>(current).map(|current| current.value),
    }
}

fn relay_of(reading: &Reading) -> Option<Switch> {
    let mark = |field| reading.text(field).map(|mark| mark.value);
    Some(Switch {
        name: reading.text("name")?,
        kind: SwitchKind::Relay {
            common: mark("common")?,
            make: mark("make"),
            breaks: mark("break"),
            alternating: rating_of(reading, "ac-volts", "ac-current"),
        },
        direct: rating_of(reading, "volts", "current"),
    })
}

fn transistor_of(reading: &Reading) -> Option<Switch> {
    Some(Switch {
        name: reading.text("name")?,
        kind: SwitchKind::Transistor {
            mark: reading.text("terminal")?.value,
            side: reading.word("switches", SwitchedSide::from_word)?.value,
        },
        direct: rating_of(reading, "volts", "current"),
    })
}

/// The supply of its own that a load has.
pub(super) fn own_supply_of(reading: &Reading) -> Option<OwnSupply> {
    Some(OwnSupply {
        place: Spanned::new((), reading.name_span),
        volts: reading.quantity::<Volts>("volts")?.value,
        current: reading.quantity::<Amperes>("current")?.value,
        kind: reading.word("kind", CurrentKind::from_word).map_or(CurrentKind::Direct, |kind| kind.value),
        mark: reading.text("terminals").map_or_else(|| "input".to_owned(), |mark| mark.value),
        coil: reading.flag("coil"),
        diode: reading.flag("diode"),
    })
}

impl Lower<'_> {
    /// What feeds and what switches a circuit; reported where nothing does.
    pub(super) fn circuit_source(
        &mut self,
        reading: &Reading,
        board: Option<Id<Board>>,
    ) -> (Option<Spanned<OutputRef>>, Option<Switching>) {
        let feed = match (board, reading.text("output")) {
            (Some(board), Some(output)) => self.output_of(board, &output),
            _ => None,
        };
        let fed = reading.wrote("output");
        let switch = match (board, reading.text("switch")) {
            (Some(board), Some(switch)) => self.switch_of(board, &switch),
            _ => None,
        };
        let transistor = switch.as_ref().and_then(|of| self.site.switch(of.value));
        let transistor = transistor.filter(|switch| switch.common().is_none());
        // Of a circuit in which something was reported, an output may be what was meant.
        if !fed && reading.whole && (!reading.wrote("switch") || transistor.is_some()) {
            let when = if has_below(reading, "sounder") { When::Alarm } else { When::Always };
            let part = board.and_then(|board| self.site.part_of(board)).into_iter();
            let fit = part.flat_map(|part| &part.outputs).filter(|output| output.when == when);
            let outputs: Vec<&str> = fit.map(|output| output.name.value.as_str()).collect();
            self.sink.push(rules::circuit_without_supply(reading, transistor, &outputs));
        }
        let dry = !fed && transistor.is_none();
        let switching = reading.wrote("switch").then(|| Switching {
            switch,
            contact: reading.word("contact", SwitchContact::from_word).map_or(SwitchContact::Make, |word| word.value),
            dry,
            drives: reading.all("drive").filter_map(|drive| self.drive(drive)).collect(),
        });
        let stray = reading.one("drive").map(|drive| drive.name_span);
        let stray = stray.or_else(|| reading.text("contact").map(|contact| contact.span));
        if let Some(stray) = stray.filter(|_| switching.is_none() && fed) {
            self.sink.push(rules::drive_without_switch(reading, stray));
        }
        (feed, switching)
    }

    /// The relay or transistor of that name on a board; reported where the board's part has none.
    fn switch_of(&mut self, board: Id<Board>, name: &Spanned<String>) -> Option<Spanned<SwitchRef>> {
        let part = self.site.part_of(board)?;
        let found = part.switches.iter().position(|switch| switch.name.value == name.value);
        if found.is_none() && part.whole {
            let candidates = part.switches.iter().map(|switch| switch.name.value.as_str());
            let noun = "relay or transistor";
            let diagnostic = rules::unknown_on_board(noun, name, candidates, &self.site.boards[board], part);
            self.sink.push(diagnostic);
        }
        found.map(|switch| Spanned::new(SwitchRef { board, switch }, name.span))
    }

    fn drive(&mut self, reading: &Reading) -> Option<Drive> {
        Some(Drive {
            by: reading.word("event", DrivenBy::from_word)?,
            kind: reading.word("type", ZoneType::from_word).map(|kind| kind.value),
            area: reading.text("area").and_then(|area| self.names.find(&self.areas, &area)),
            lasts: reading.quantity::<Seconds>("for").map(|time| time.value),
        })
    }
}

/// True where a node of that name stands anywhere in the braces.
fn has_below(reading: &Reading, name: &str) -> bool {
    reading.children.iter().any(|child| child.spec.name == name || has_below(child, name))
}
