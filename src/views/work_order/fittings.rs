//! Steps for what is at a board beside its conductors: its battery, its transformer, its earth conductor, its fuses.

use super::Sides;
use std::collections::BTreeSet;

use super::cables::{is_landed_whole, landed_at};
use super::place::{Places, in_room};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::compiled::Compiled;
use crate::diff::{Change, FieldChange, Kind, Subject, is_battery_exchanged};
use crate::model::{Battery, Board, Owner, Site};
use crate::quantity::{AmpereHours, Volts};
use crate::record::fact;
use crate::register::{End, Lead, OnTerminal};
use crate::words::{self, Paper};

/// Whether a board has another battery now, or several that are joined otherwise. How they are joined, or their volts, may only not
/// have been written down before.
pub(super) fn is_other_battery(change: &Change) -> bool {
    let bank = [fact::Battery::ampere_hours, fact::Battery::count];
    let is_further = |field: &FieldChange| field.field.starts_with(fact::Battery::others);
    let known = |field: &FieldChange| field.old.is_some() && field.new.is_some();
    let told = [fact::Battery::wired, fact::Battery::volts];
    is_battery_exchanged(change)
        || bank.iter().any(|field| change.field(field).is_some())
        || change.fields.iter().any(is_further)
        || told.iter().any(|field| change.field(field).is_some_and(known))
}

/// How many of a board's batteries stay in use, how many go and how many come.
struct Bank {
    stay: usize,
    go: usize,
    come: usize,
}

impl Bank {
    fn of(change: &Change, had: &Battery, now: &Battery) -> Self {
        let (mut go, mut come) = (each(had), each(now));
        let whole = come.len();
        if !is_battery_exchanged(change) {
            go.retain(|one| match come.iter().position(|other| is_alike(one, other)) {
                Some(at) => {
                    come.remove(at);
                    false
                }
                None => true,
            });
        }
        Self { stay: whole - come.len(), go: go.len(), come: come.len() }
    }
}

/// Every battery of a bank: its ampere-hours, and its volts where they are known.
fn each(battery: &Battery) -> Vec<(AmpereHours, Option<Volts>)> {
    let alike = (0..battery.count.max(1)).map(|_| battery.capacity.value);
    let all = alike.chain(battery.others.iter().map(|other| other.capacity.value));
    all.map(|capacity| (capacity, battery.volts)).collect()
}

fn is_alike(one: &(AmpereHours, Option<Volts>), other: &(AmpereHours, Option<Volts>)) -> bool {
    one.0 == other.0 && one.1.zip(other.1).is_none_or(|(one, other)| one == other)
}

/// Whether a board has another battery, transformer or fuse now.
pub(super) fn is_other_supply(change: &Change, board: &Board) -> bool {
    let fields = [
        fact::Battery::fuse_amperes,
        fact::Transformer::volts,
        fact::Transformer::volt_amperes,
        fact::Transformer::fuse_amperes,
    ];
    board.battery.is_some() && is_other_battery(change) || fields.iter().any(|field| change.field(field).is_some())
}

/// The step for the battery of a board that stays. A day that was not known before is only written on it.
pub(super) fn battery(
    change: &Change,
    (old, was): (&Site, Id<Board>),
    (new, is): (&Site, Id<Board>),
    places: &mut Places,
) {
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    match (&old.boards[was].battery, &new.boards[is].battery) {
        (None, Some(now)) => {
            let text = format!("{called}: battery {}; write the day on it", words::battery(now));
            places.add(new, room, "mount", text);
        }
        (Some(had), Some(now)) if is_other_battery(change) => {
            places.add(new, room, "mount", format!("{called}: {}", exchange(change, had, now)));
        }
        (Some(_), Some(now)) if change.field(fact::Battery::installed).is_some() => {
            if let Some(day) = now.installed {
                places.add(
                    new,
                    room,
                    "check",
                    format!("{called}: write on its battery the day that it was put in, {day}"),
                );
            }
        }
        (Some(before), None) => {
            places.add(old, old.boards[was].room, "remove", format!("{called}: battery {}", words::battery(before)));
        }
        (None | Some(_), None | Some(_)) => {}
    }
}

/// What is done to the batteries of a board: those that are alike and stay get others beside them, lose some, or are only joined
/// otherwise.
fn exchange(change: &Change, had: &Battery, now: &Battery) -> String {
    let all = words::battery(now);
    let joined = if now.total() > 1 { "; the terminal schedule says how they are joined" } else { "" };
    let number = |more: usize| count(more, "battery", Some("batteries"));
    match Bank::of(change, had, now) {
        Bank { stay: 0, .. } => {
            let old = if had.total() > 1 { "batteries" } else { "battery" };
            let new = if now.total() > 1 { ("ones", "each") } else { ("one", "it") };
            format!("take the old {old} out, put the new {} in: {all}{joined}; write the day on {}", new.0, new.1)
        }
        Bank { go: 0, come: 0, .. } => {
            format!(
                "take the wires between its batteries off, and join them anew: {all} from now on, until now {}{joined}",
                words::battery(had)
            )
        }
        Bank { go: 0, come, .. } => format!(
            "put {} in beside what is there: {all} from now on{joined}; write the day on what is new",
            number(come)
        ),
        Bank { go, come: 0, .. } => format!("take {} out: {all} from now on{joined}", number(go)),
        Bank { go, come, .. } => format!(
            "take {} out and put {} in: {all} from now on{joined}; write the day on what is new",
            number(go),
            number(come)
        ),
    }
}

/// The transformers of boards that stay in their rooms, where they are others, and their leads and cables.
pub(super) fn transformers(sides: &Sides<'_>, places: &mut Places) {
    let moved = sides.changes(Kind::Board).filter(|change| change.field(fact::Board::room).is_some());
    let moved: BTreeSet<&str> = moved.filter_map(|change| Some(change.new.as_ref()?.0.key.as_str())).collect();
    for (is, board) in sides.new.site.boards.entries().filter(|(_, board)| !moved.contains(board.name.value.as_str())) {
        if let Some(was) = sides.board_before(is) {
            transformer(sides, (was, is), board, places);
        }
    }
}

fn transformer(sides: &Sides<'_>, (was, is): (Id<Board>, Id<Board>), board: &Board, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let called = Paper.board(new, is);
    let rated = |board: &Board| board.transformer.as_ref().map(|of| (of.volts.value, of.rating.value));
    let other = rated(&old.boards[was]) != rated(board);
    let before = words::transformer(&old.boards[was], false);
    let (had, has) = (ac_leads(sides.old, was), ac_leads(sides.new, is));
    let exchanged = old.part_of(was).map(|part| &part.name.value) != new.part_of(is).map(|part| &part.name.value);
    let led_otherwise = had != has || other || exchanged;
    if !had.is_empty() && led_otherwise {
        let text = format!("{called}: leads of the {before} off {}", list(&had, "and"));
        places.add(new, board.room, "remove", text);
    }
    match &board.transformer {
        Some(transformer) if other => {
            let down = if before.is_empty() { String::new() } else { format!("take the {before} down, ") };
            let text = format!(
                "{called}: {down}mount the transformer {}, {}; it stays unplugged",
                words::rated(transformer.volts.value),
                transformer.rating.value
            );
            places.add(new, board.room, "mount", text);
            let from = if before.is_empty() { "" } else { "off the old transformer; on the new one: " };
            for cable in new.runs_of(Owner::Transformer(is)).filter_map(|(run, _)| sides.new.wiring.cable_of(run)) {
                if !is_landed_whole(sides, &Subject::new(Kind::Cable, cable.label.as_str())) {
                    let text = format!("{}: {from}{}", cable.label, landed_at(sides.new, cable, End::Far, ""));
                    places.add(new, new.runs[cable.run].room, "land", text);
                }
            }
        }
        None if other => places.add(new, board.room, "remove", format!("{called}: {before}")),
        Some(_) | None => {}
    }
    if !has.is_empty() && led_otherwise {
        leads_of(sides.new, is, &[Lead::AcA, Lead::AcB], places);
    }
}

/// The terminals of a board on which the leads of its transformer are, where these are no cable.
fn ac_leads(compiled: &Compiled, id: Id<Board>) -> Vec<String> {
    let is_ac = |thing: &OnTerminal| matches!(thing, OnTerminal::Lead(Lead::AcA | Lead::AcB));
    let first = (id, String::new());
    let on_board = compiled.wiring.terminals.range(first..).take_while(|((board, _), _)| *board == id);
    on_board.filter(|(_, things)| things.iter().any(is_ac)).map(|((_, mark), _)| mark.clone()).collect()
}

/// What is at a board that stays: its earth conductor, its fuses. A board that is exchanged has its earth conductor off and on again.
pub(super) fn earth_and_fuses(
    change: &Change,
    (old, was): (&Site, Id<Board>),
    (new, is): (&Site, Id<Board>),
    places: &mut Places,
) {
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    let (before, now) = (&old.boards[was], &new.boards[is]);
    let earths = (earth(old, was), earth(new, is));
    let exchanged = change.field(fact::Board::part).is_some();
    if earths.0 != earths.1 || exchanged {
        if let Some(gone) = earths.0 {
            places.add(new, room, "remove", format!("{called}: take off its {gone}"));
        }
        // Where the new board has it, is told with its leads.
        if let Some(come) = earths.1.filter(|_| !exchanged) {
            places.add(new, room, "land", format!("{called}: {come}"));
        }
    }
    let battery = |board: &Board| board.battery.as_ref().map(|battery| battery.fuse.as_ref().map(|fuse| fuse.value));
    let mains = |board: &Board| board.transformer.as_ref().map(|mains| mains.fuse.as_ref().map(|fuse| fuse.value));
    for (of, had, has) in [("battery", battery(before), battery(now)), ("transformer", mains(before), mains(now))] {
        let (Some(had), Some(has)) = (had, has) else { continue };
        match has {
            Some(fuse) if had != has => places.add(new, room, "fit", format!("{called}: fuse {fuse} at its {of}")),
            None if had.is_some() => places.add(new, room, "remove", format!("{called}: the fuse at its {of}")),
            Some(_) | None => {}
        }
    }
}

/// The earth conductor, the battery and the transformer of a board that is taken down: before it, and with a word of where they
/// go on.
pub(super) fn supplies_down(
    sides: &Sides<'_>,
    change: &Change,
    was: Id<Board>,
    is: Option<Id<Board>>,
    places: &mut Places,
) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (board, now) = (&old.boards[was], is.map(|is| &new.boards[is]));
    let called = Paper.board(old, was);
    let to = is.map(|is| in_room(new, new.boards[is].room)).unwrap_or_default();
    if let Some(earth) = earth(old, was) {
        places.add(old, board.room, "remove", format!("{called}: take off its {earth}"));
    }
    let mut add = |what: String, again: &str| {
        let again = if again.is_empty() { String::new() } else { format!(": {again}{to}") };
        places.add(old, board.room, "remove", format!("{what} of {called}{again}"));
    };
    if let Some(had) = &board.battery {
        let bank = now.and_then(|now| now.battery.as_ref()).map(|now| Bank::of(change, had, now));
        let again = match bank {
            None | Some(Bank { stay: 0, .. }) => String::new(),
            Some(Bank { stay: 1, go: 0, .. }) => ONE_AGAIN.to_owned(),
            Some(Bank { go: 0, .. }) => "take them down; they are used again".to_owned(),
            Some(Bank { stay, .. }) => format!("take them down; {stay} of them are used again"),
        };
        add(format!("battery {}", words::battery(had)), &again);
    }
    if let Some(transformer) = &board.transformer {
        let next = now.and_then(|now| now.transformer.as_ref());
        let again = next.is_some_and(|next| next.volts == transformer.volts && next.rating == transformer.rating);
        add(words::transformer(board, false), if again { ONE_AGAIN } else { "" });
    }
}

/// What becomes of one thing of a board that goes up elsewhere.
const ONE_AGAIN: &str = "take it down; it is used again";

/// The earth conductor of a board and where it goes.
fn earth(site: &Site, id: Id<Board>) -> Option<String> {
    site.boards[id].earth.as_ref()?;
    let lead = words::lead(site, id, Lead::Earth);
    Some(format!("{} {}, to {}", lead.what, lead.conductor, lead.goes))
}

/// The earth conductor of a board and the leads of its transformer, where these are no cable. Those of its battery are put on
/// when the board is switched on.
pub(super) fn leads(compiled: &Compiled, id: Id<Board>, places: &mut Places) {
    leads_of(compiled, id, &[Lead::Earth, Lead::AcA, Lead::AcB], places);
}

fn leads_of(compiled: &Compiled, id: Id<Board>, wanted: &[Lead], places: &mut Places) {
    let site = &compiled.site;
    for ((_, mark), things) in compiled.wiring.terminals.iter().filter(|((board, _), _)| *board == id) {
        for thing in things {
            let OnTerminal::Lead(lead) = thing else { continue };
            if !wanted.contains(lead) {
                continue;
            }
            let unplugged = match lead {
                Lead::Earth => "",
                Lead::AcA | Lead::AcB => ", which stays unplugged",
                Lead::BatteryPositive | Lead::BatteryNegative => "",
            };
            let words = words::lead(site, id, *lead);
            let conductor = if words.conductor.is_empty() { String::new() } else { format!(" {}", words.conductor) };
            let (board, what, goes) = (Paper.board(site, id), words.what, words.goes);
            let text = format!("{board}: {what}{conductor} on {mark}, to {goes}{unplugged}");
            places.add(site, site.boards[id].room, "land", text);
        }
    }
}
