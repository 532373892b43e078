//! Steps for what is at a board beside its conductors: its battery, its transformer, its earth conductor, its fuses.

use super::Sides;
use std::collections::BTreeSet;

use super::cables::{is_whole, landed_at};
use super::devices::ASK;
use super::place::{Places, Stage, in_room};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::compiled::Compiled;
use crate::diff::{BatteryChange, Change, Kind, Subject, is_other_transformer};
use crate::model::{Battery, Board, Owner, Room, Site, Transformer};
use crate::quantity::Amperes;
use crate::record::fact;
use crate::register::{End, Lead, OnTerminal};
use crate::terms::Bank;
use crate::words::{self, LeadWords, Paper};

/// Whether a board has another battery now, or several that are joined otherwise. How they are joined, or their volts, may only not
/// have been written down before; their order tells where each one is in pairs alone.
fn is_other_battery(had: &Battery, now: &Battery) -> bool {
    let BatteryChange { go, come, .. } = BatteryChange::of(had, now);
    let wired = |battery: &Battery| battery.wired.as_ref().map(|wired| wired.value);
    let differ = wired(had).zip(wired(now)).is_some_and(|(one, other)| one != other)
        || had.volts.zip(now.volts).is_some_and(|(one, other)| one != other);
    let in_order = |battery: &Battery| {
        let others = battery.others.iter().map(|other| other.capacity.value);
        (0..battery.count.max(1)).map(|_| battery.capacity.value).chain(others).collect::<Vec<_>>()
    };
    let paired = wired(now) == Some(Bank::SeriesPairs) && in_order(had) != in_order(now);
    !go.is_empty() || !come.is_empty() || differ || paired
}

/// Whether a board has another battery, transformer or fuse now.
pub(super) fn is_other_supply(change: &Change, before: Option<&Board>, now: &Board) -> bool {
    let fields = [fact::Battery::fuse_amperes, fact::Transformer::fuse_amperes];
    let other = match (before.and_then(|before| before.battery.as_ref()), &now.battery) {
        (Some(had), Some(now)) => is_other_battery(had, now),
        (None, Some(_)) => true,
        (None | Some(_), None) => false,
    };
    let mains = before.is_some_and(|before| has_other_transformer(before, now));
    other || mains || fields.iter().any(|field| change.field(field).is_some())
}

/// Whether a board has another transformer now, has one or has none any more.
fn has_other_transformer(before: &Board, now: &Board) -> bool {
    match (&before.transformer, &now.transformer) {
        (Some(had), Some(has)) => is_other_transformer(had, has),
        (None, None) => false,
        (None, Some(_)) | (Some(_), None) => true,
    }
}

/// The transformer and the battery that a board had before the spec, which says no more of them: they stay, and feed it, unless it
/// is exchanged.
pub(super) fn left_at<'s>(sides: &Sides<'s>, is: Id<Board>) -> (Option<&'s Transformer>, Option<&'s Battery>) {
    let was = sides.board_before(is).filter(|_| !sides.exchanged.has(is, false));
    let (Some(was), board) = (was.map(|was| &sides.old.site.boards[was]), &sides.new.site.boards[is]) else {
        return (None, None);
    };
    (
        was.transformer.as_ref().filter(|of| of.existing && board.transformer.is_none()),
        was.battery.as_ref().filter(|of| of.existing && board.battery.is_none()),
    )
}

/// The step for the battery of a board that stays. A day that was not known before is only written on it.
pub(super) fn battery(sides: &Sides<'_>, (was, is): (Id<Board>, Id<Board>), places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    match (&old.boards[was].battery, &new.boards[is].battery) {
        (None, Some(now)) if now.existing && !sides.exchanged.has(is, false) => {
            let text =
                format!("{called}: its battery is there, {}; see that it has its day on it", words::battery(now));
            places.add(new, room, "inspect", text);
        }
        (None, Some(now)) => {
            let text = format!("{called}: battery {}; write the day on it", words::battery(now));
            places.add(new, room, "mount", text);
        }
        (Some(had), Some(now)) if is_other_battery(had, now) => {
            let (kind, text) = match found_beside(had, now) {
                Some(more) => ("inspect", more),
                None => ("mount", exchange(had, now)),
            };
            places.add(new, room, kind, format!("{called}: {text}"));
            leads_differ(&called, (had, now), (new, room), places);
        }
        (Some(had), Some(now)) => {
            leads_differ(&called, (had, now), (new, room), places);
            for (before, is) in BatteryChange::of(had, now).stay {
                let Some(day) = is.installed.filter(|_| before.installed.is_none()) else { continue };
                let which = if now.total() > 1 { format!(" of {}", is.capacity) } else { String::new() };
                let text = if before.existing && sides.is_since(day) {
                    format!("{called}: its battery{which}, there before {day}: {ASK}")
                } else {
                    format!("{called}: write on its battery{which} the day that it was put in, {day}")
                };
                places.add(new, room, "check", text);
            }
        }
        (Some(before), None) => {
            let text = format!("{called}: battery {}", words::battery(before));
            let (kind, text) = match left_at(sides, is) {
                (_, Some(_)) => ("inspect", format!("{text} {LEFT}")),
                (_, None) => ("remove", text),
            };
            places.add(old, old.boards[was].room, kind, text);
        }
        (None, None) => {}
    }
}

/// What is said of batteries that were beside the others before the spec knew of them; `None` where others go or come.
fn found_beside(had: &Battery, now: &Battery) -> Option<String> {
    let BatteryChange { go, come, .. } = BatteryChange::of(had, now);
    let is_there = go.is_empty() && !come.is_empty() && come.iter().all(|one| one.existing);
    is_there.then(|| {
        let more = count(come.len(), "battery", Some("batteries"));
        format!(
            "{more} more than the spec had: {}; see that they are joined as the terminal schedule says",
            words::battery(now)
        )
    })
}

/// The leads of a battery that have another colour now. What had none in the spec before is only written down.
fn leads_differ(called: &str, (had, now): (&Battery, &Battery), at: (&Site, Option<Id<Room>>), places: &mut Places) {
    let both = [("+", &had.positive, &now.positive), ("−", &had.negative, &now.negative)];
    for (sign, before, now) in both {
        let (Some(before), Some(now)) = (before, now) else { continue };
        let (before, now) = (before.value, now.value);
        if before != now {
            let text = format!(
                "{called}: the lead to {sign} of the battery is {} {} from now on, until now {} {}: exchange it with both leads off the battery; the one that was taken off before stays off and capped",
                now.code(),
                now.name(),
                before.code(),
                before.name()
            );
            places.add(at.0, at.1, "land", text);
        }
    }
}

/// What is done to the batteries of a board: those that are alike and stay get others beside them, lose some, or are only joined
/// otherwise.
fn exchange(had: &Battery, now: &Battery) -> String {
    let all = words::battery(now);
    let joined = if now.total() > 1 { "; the terminal schedule says how they are joined" } else { "" };
    let number = |more: usize| count(more, "battery", Some("batteries"));
    let BatteryChange { stay, go, come } = BatteryChange::of(had, now);
    match (stay.len(), go.len(), come.len()) {
        (0, ..) => {
            let old = if had.total() > 1 { "batteries" } else { "battery" };
            let new = if now.total() > 1 { ("ones", "each") } else { ("one", "it") };
            format!("take the old {old} out, put the new {} in: {all}{joined}; write the day on {}", new.0, new.1)
        }
        (_, 0, 0) => {
            format!(
                "take the wires between its batteries off, and join them anew: {all} from now on, until now {}{joined}",
                words::battery(had)
            )
        }
        (_, 0, come) => format!(
            "put {} in beside what is there: {all} from now on{joined}; write the day on what is new",
            number(come)
        ),
        (_, go, 0) => format!("take {} out: {all} from now on{joined}", number(go)),
        (_, go, come) => format!(
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
    let other = has_other_transformer(&old.boards[was], board);
    let outlet = |board: &Board| board.transformer.as_ref().and_then(|of| of.outlet.clone());
    let before = words::transformer(&old.boards[was], false);
    let (had, has) = (ac_leads(sides.old, was), ac_leads(sides.new, is));
    let exchanged = sides.exchanged.has(is, false);
    if left_at(sides, is).0.is_some() {
        places.add(old, old.transformer_room(was), "inspect", format!("{called}: {before} {LEFT}"));
        return;
    }
    let found = old.boards[was].transformer.is_none() && !exchanged;
    let led_otherwise = had != has || other || exchanged;
    if !had.is_empty() && led_otherwise {
        let from = if exchanged { Paper.board(old, was) } else { called.clone() };
        let text = format!("{from}: leads of the {before} off {}", list(&had, "and"));
        places.add(new, board.room, "remove", text);
    }
    let room = new.transformer_room(is);
    match &board.transformer {
        Some(transformer) if found && transformer.existing => {
            let text = format!("{called}: its {} is there", words::transformer(board, false));
            places.add(new, room, "inspect", text);
        }
        Some(transformer) if other => {
            let down = if before.is_empty() { String::new() } else { format!("take the {before} down, ") };
            let text = format!(
                "{called}: {down}mount the transformer {}, {}; it stays unplugged",
                words::rated(transformer.volts.value),
                transformer.rating.value
            );
            places.add(new, room, "mount", text);
            let from = if before.is_empty() { "" } else { "off the old transformer; on the new one: " };
            for cable in new.runs_of(Owner::Transformer(is)).filter_map(|(run, _)| sides.new.wiring.cable_of(run)) {
                if !is_whole(sides, cable) {
                    let text = format!("{}: {from}{}", cable.label, landed_at(sides.new, cable, End::Far, ""));
                    places.add(new, new.runs[cable.run].room, "land", text);
                }
            }
        }
        None if other => places.add(old, old.transformer_room(was), "remove", format!("{called}: {before}")),
        Some(_) | None => {
            let outlets = outlet(&old.boards[was]).zip(outlet(board)).filter(|(had, has)| had != has);
            if let Some((had, has)) = outlets {
                let text = format!(
                    "{called}: its transformer goes to another outlet: {has} (before: {had}); it stays unplugged"
                );
                places.add(new, room, "mount", text);
            }
        }
    }
    if !has.is_empty() && led_otherwise {
        leads_of(sides, is, &[Lead::AcA, Lead::AcB], found, places);
    }
}

/// The leads of the battery of a board that is exchanged: one of them is on it yet, since the board was made dark by the other.
pub(super) fn battery_leads_off(sides: &Sides<'_>, was: Id<Board>, is: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    let marks = leads_on(sides.old, was, &[Lead::BatteryPositive, Lead::BatteryNegative]);
    if !marks.is_empty() {
        let text =
            format!("{}: battery leads off {}; cap them", Paper.board(&sides.old.site, was), list(&marks, "and"));
        places.add(site, site.boards[is].room, "remove", text);
    }
}

/// The terminals of a board on which the leads of its transformer are, where these are no cable.
fn ac_leads(compiled: &Compiled, id: Id<Board>) -> Vec<String> {
    leads_on(compiled, id, &[Lead::AcA, Lead::AcB])
}

/// The terminals of a board on which one of these leads is.
fn leads_on(compiled: &Compiled, id: Id<Board>, wanted: &[Lead]) -> Vec<String> {
    let is_wanted = |thing: &OnTerminal| matches!(thing, OnTerminal::Lead(lead) if wanted.contains(lead));
    let first = (id, String::new());
    let on_board = compiled.wiring.terminals.range(first..).take_while(|((board, _), _)| *board == id);
    on_board.filter(|(_, things)| things.iter().any(is_wanted)).map(|((_, mark), _)| mark.clone()).collect()
}

/// The earth conductor of a board that stays. One that is exchanged has it off and on again.
pub(super) fn earth(sides: &Sides<'_>, change: &Change, was: Id<Board>, is: Id<Board>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    let (before, now) = (&old.boards[was].earth, &new.boards[is].earth);
    let (gone, come) = (earth_conductor(sides.old, was), earth_conductor(sides.new, is));
    let exchanged = change.is_another();
    if gone == come && !exchanged {
        return;
    }
    if let Some(gone) = gone {
        // What the house had before the spec is not taken away because the spec says no more of it.
        let stays = now.is_none() && !exchanged && before.as_ref().is_some_and(|earth| earth.existing);
        let (kind, text) = if stays {
            ("inspect", format!("{called}: its earth conductor {LEFT}"))
        } else {
            ("remove", format!("{called}: take off its {gone}"))
        };
        places.add(new, room, kind, text);
    }
    // Where the new board has it, is told with its leads.
    if let Some(come) = come.filter(|_| !exchanged) {
        let found = before.is_none() && now.as_ref().is_some_and(|earth| earth.existing);
        let (kind, is_there) = if found { ("inspect", "it is there: ") } else { ("land", "") };
        places.add(new, room, kind, format!("{called}: {is_there}{come}"));
    }
}

/// What becomes of the fuse at a board's battery or transformer.
enum FuseChange {
    /// It came with what was there, and is only written down now.
    Found(Amperes),
    /// Fitted, in the place of one that was there.
    Fitted(Amperes, Option<Amperes>),
    /// It was there before the spec, which says no more of it.
    Stays,
    Removed(Amperes),
}

/// The fuses at a board's battery and transformer that differ. What goes takes its own with it.
fn fuse_changes(before: Option<&Board>, board: &Board) -> impl Iterator<Item = (&'static str, FuseChange)> {
    let battery =
        |board: &Board| board.battery.as_ref().map(|of| (of.fuse.as_ref().map(|fuse| fuse.value), of.existing));
    let mains =
        |board: &Board| board.transformer.as_ref().map(|of| (of.fuse.as_ref().map(|fuse| fuse.value), of.existing));
    let both =
        [("battery", before.and_then(battery), battery(board)), ("transformer", before.and_then(mains), mains(board))];
    both.into_iter().filter_map(|(of, had, has)| {
        let (had, existed) = had.unwrap_or_default();
        let change = match has? {
            (Some(fuse), true) if had.is_none() => FuseChange::Found(fuse),
            (Some(fuse), _) if had != Some(fuse) => FuseChange::Fitted(fuse, had),
            (None, _) if had.is_some() && existed => FuseChange::Stays,
            (None, _) => FuseChange::Removed(had?),
            (Some(_), _) => return None,
        };
        Some((of, change))
    })
}

/// The steps for them, before its battery is connected.
pub(super) fn fuses(sides: &Sides<'_>, was: Option<Id<Board>>, is: Id<Board>, places: &mut Places) {
    let new = &sides.new.site;
    let board = &new.boards[is];
    let stage = if sides.alone.has(is) { Stage::Alone } else { Stage::InOrder };
    let called = Paper.board(new, is);
    for (of, change) in fuse_changes(was.map(|was| &sides.old.site.boards[was]), board) {
        let (kind, text) = match change {
            FuseChange::Found(fuse) => ("inspect", format!("{called}: the fuse at its {of} is there, {fuse}")),
            FuseChange::Fitted(fuse, had) => {
                let had = had.map(|had| format!(", in the place of the one of {had}")).unwrap_or_default();
                ("fit", format!("{called}: fuse {fuse} at its {of}{had}"))
            }
            FuseChange::Stays => ("inspect", format!("{called}: the fuse at its {of} {LEFT}")),
            FuseChange::Removed(_) => ("remove", format!("{called}: the fuse at its {of}")),
        };
        places.add_at(stage, new, board.room, kind, text);
    }
}

/// The fuses that these steps fit.
pub(super) fn fuses_to_fit(sides: &Sides<'_>) -> Vec<Amperes> {
    let fitted = |change| if let FuseChange::Fitted(fuse, _) = change { Some(fuse) } else { None };
    all_fuse_changes(sides).filter_map(fitted).collect()
}

/// Those that they take out.
pub(super) fn fuses_off(sides: &Sides<'_>) -> Vec<Amperes> {
    let off = |change| match change {
        FuseChange::Fitted(_, had) => had,
        FuseChange::Removed(had) => Some(had),
        FuseChange::Found(_) | FuseChange::Stays => None,
    };
    all_fuse_changes(sides).filter_map(off).collect()
}

fn all_fuse_changes(sides: &Sides<'_>) -> impl Iterator<Item = FuseChange> {
    let before = |is| sides.board_before(is).map(|was| &sides.old.site.boards[was]);
    let boards = sides.new.site.boards.entries();
    boards.flat_map(move |(is, board)| fuse_changes(before(is), board)).map(|(_, change)| change)
}

/// What becomes of what was there before, where the spec has it no more.
const LEFT: &str =
    "was there before, and the spec says no more of it: leave it in place, and write it into the spec again";

/// The earth conductor, the battery and the transformer of a board that is taken down: before it, and with a word of where they
/// go on.
pub(super) fn supplies_down(sides: &Sides<'_>, was: Id<Board>, is: Option<Id<Board>>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (board, now) = (&old.boards[was], is.map(|is| &new.boards[is]));
    let called = Paper.board(old, was);
    let to = is.map(|is| in_room(new, new.boards[is].room)).unwrap_or_default();
    if let Some(earth) = earth_conductor(sides.old, was) {
        places.add(old, board.room, "remove", format!("{called}: take off its {earth}"));
    }
    let mut add = |room: Option<Id<Room>>, what: String, to: &str, again: &str| {
        let again = if again.is_empty() { String::new() } else { format!(": {again}{to}") };
        places.add(old, room, "remove", format!("{what} of {called}{again}"));
    };
    if let Some(had) = &board.battery {
        let stay = now.and_then(|now| now.battery.as_ref()).map(|now| BatteryChange::of(had, now));
        let (stay, go) = stay.map(|those| (those.stay.len(), those.go.len())).unwrap_or_default();
        let again = match (stay, go) {
            (0, _) => String::new(),
            (1, 0) => ONE_AGAIN.to_owned(),
            (_, 0) => "take them down; they are used again".to_owned(),
            (stay, _) => format!("take them down; {stay} of them are used again"),
        };
        add(board.room, format!("battery {}", words::battery(had)), &to, &again);
    }
    if let Some(transformer) =
        board.transformer.as_ref().filter(|_| !is.is_some_and(|is| transformer_stays(sides, was, is)))
    {
        let next = now.and_then(|now| now.transformer.as_ref());
        let again = next.is_some_and(|next| !is_other_transformer(transformer, next));
        let to = is.map(|is| in_room(new, new.transformer_room(is))).unwrap_or_default();
        add(old.transformer_room(was), words::transformer(board, false), &to, if again { ONE_AGAIN } else { "" });
    }
}

/// Whether the transformer of a board stays where it is, at the end of a cable, while the board goes to another room.
pub(super) fn transformer_stays(sides: &Sides<'_>, was: Id<Board>, is: Id<Board>) -> bool {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let both = old.boards[was].transformer.as_ref().zip(new.boards[is].transformer.as_ref());
    let is_it = both.is_some_and(|(had, has)| !is_other_transformer(had, has) && had.outlet == has.outlet);
    let led = |site: &Site, board| site.runs_of(Owner::Transformer(board)).next().is_some();
    let room = |site: &Site, board| {
        let room = site.transformer_room(board)?;
        Some(Subject::new(Kind::Room, site.rooms[room].name.value.as_str()))
    };
    let stays = room(old, was).map(|room| sides.found.diff.now(room)) == room(new, is);
    is_it && led(old, was) && led(new, is) && stays
}

/// What becomes of one thing of a board that goes up elsewhere.
const ONE_AGAIN: &str = "take it down; it is used again";

/// The earth conductor of a board, its terminal and where it goes.
fn earth_conductor(compiled: &Compiled, id: Id<Board>) -> Option<String> {
    let site = &compiled.site;
    site.boards[id].earth.as_ref()?;
    let LeadWords { what, conductor, goes, .. } = words::lead(site, id, Lead::Earth);
    let at = leads_on(compiled, id, &[Lead::Earth]).first().map(|mark| format!(" on {mark}")).unwrap_or_default();
    Some(format!("{what} {conductor}{at}, to {goes}"))
}

/// The earth conductor of a board and the leads of its transformer, where these are no cable. Those of its battery are put on
/// when the board is switched on.
/// Those of a board that was there, and of what was there at it, are on it already (`may_be_there`).
pub(super) fn leads(sides: &Sides<'_>, id: Id<Board>, may_be_there: bool, places: &mut Places) {
    leads_of(sides, id, &[Lead::Earth, Lead::AcA, Lead::AcB], may_be_there, places);
}

fn leads_of(sides: &Sides<'_>, id: Id<Board>, wanted: &[Lead], may_be_there: bool, places: &mut Places) {
    let compiled = sides.new;
    let site = &compiled.site;
    let stage = if sides.alone.has(id) { Stage::Alone } else { Stage::InOrder };
    let board = &site.boards[id];
    let earth = board.earth.as_ref().is_some_and(|earth| earth.existing);
    let mains = board.transformer.as_ref().is_some_and(|mains| mains.existing);
    for ((_, mark), things) in compiled.wiring.terminals.iter().filter(|((board, _), _)| *board == id) {
        for thing in things {
            let OnTerminal::Lead(lead) = thing else { continue };
            if !wanted.contains(lead) {
                continue;
            }
            let (unplugged, existing) = match lead {
                Lead::Earth => ("", earth),
                Lead::AcA | Lead::AcB => (", which stays unplugged", mains),
                Lead::BatteryPositive | Lead::BatteryNegative => ("", false),
            };
            let is_there = may_be_there && existing && (board.existing || sides.board_before(id).is_some());
            let words = words::lead(site, id, *lead);
            let conductor = if words.conductor.is_empty() { String::new() } else { format!(" {}", words.conductor) };
            let (called, what, goes) = (Paper.board(site, id), words.what, words.goes);
            let (kind, is_there, unplugged) =
                if is_there { ("inspect", "it is there: ", "") } else { ("land", "", unplugged) };
            let text = format!("{called}: {is_there}{what}{conductor} on {mark}, to {goes}{unplugged}");
            places.add_at(stage, site, board.room, kind, text);
        }
    }
}
