//! Steps for boards and what is fitted at them; isolating and putting back; parts to buy and to return; cautions.

use std::collections::BTreeMap;

use super::super::materials::{Others, fuses, used_up};
use super::super::procedure;
use super::cables::is_landed_whole;
use super::place::{Places, Stage, When, in_room};
use super::resistors::{alike, is_there, missing, values};
use super::{Item, Sides, alone, aside, cut, devices, exchanged, fittings, strips, switching};
use crate::base::wording::count;
use crate::base::{Id, Spanned};
use crate::compiled::Compiled;
use crate::diff::{Change, Handed, Kind, Subject, Thing};
use crate::materials;
use crate::model::{Board, BoardKind, Bus, Earth, Mounted, Owner, Room, Site};
use crate::quantity::{Metres, Resistance, print};
use crate::record::fact;
use crate::register::{End, Fitted, FittedKind};
use crate::words::{self, Paper};

pub(super) fn board(site: &Site, subject: &Subject) -> Option<Id<Board>> {
    site.board_named(&subject.key).map(|(id, _)| id)
}

/// Adds the steps of every board that is new, gone or different, and of resistors at boards.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Board) {
        let was = change.old.as_ref().and_then(|(subject, _)| board(old, subject));
        let is = change.new.as_ref().and_then(|(subject, _)| board(new, subject));
        match (was, is) {
            (Some(was), None) => strips::take_off(sides, was, places),
            (None, Some(is)) => {
                let when = after_one_is_down(sides, change, new.boards[is].room, places);
                mount(new, is, (true, false), and_alone(sides, is, when), places);
                fittings::fuses(sides, None, is, places);
                strips::link(sides, is, places);
                fittings::leads(sides, is, true, places);
                alone::steps(sides, is, places);
            }
            (Some(was), Some(is)) if change.field(fact::Board::room).is_some() => {
                let rooms = ((old, old.boards[was].room), (new, new.boards[is].room));
                let is_another = change.is_another();
                let when = if is_another {
                    let when = after_one_is_down(sides, change, new.boards[is].room, places);
                    and_alone(sides, is, when)
                } else {
                    after_it_is_down(rooms.0, rooms.1, places).into()
                };
                mount(new, is, (false, fittings::transformer_stays(sides, was, is)), when, places);
                fittings::fuses(sides, Some(was), is, places);
                strips::take_off(sides, was, places);
                strips::link(sides, is, places);
                switching::fitted_again(sides, is, places);
                fittings::leads(sides, is, false, places);
                fitted_again(sides, is, false, places);
                alone::steps(sides, is, places);
            }
            (Some(was), Some(is)) => {
                let room = new.boards[is].room;
                let called = Paper.board(new, is);
                if change.is_another() {
                    let title = |site: &Site, id| site.part_of(id).map(|part| part.title.clone()).unwrap_or_default();
                    let (down, up) = match (title(old, was), title(new, is)) {
                        (had, has) if had == has => (format!("old {had}"), format!("new {has}")),
                        titles => titles,
                    };
                    let When { words, stage } = and_alone(sides, is, after_one_is_down(sides, change, room, places));
                    let before = Paper.board(old, was);
                    let now = if before == called { String::new() } else { format!(": {called}") };
                    let text = format!(
                        "{before}: photograph and take down the {down} with the short wires and resistors at its terminals, mount the {up} in its place{now}{words}"
                    );
                    places.add_at(stage, new, room, "mount", text);
                    address(new, is, places);
                    exchanged::landed_again(sides, (was, is), places);
                    exchanged::sounders_off(sides, is, places);
                    strips::links_of(sides, is, places);
                    switching::fitted_again(sides, is, places);
                    fitted_again(sides, is, true, places);
                    fittings::battery_leads_off(sides, was, is, places);
                    fittings::leads(sides, is, false, places);
                    fittings::fuses(sides, Some(was), is, places);
                    alone::steps(sides, is, places);
                } else {
                    fittings::fuses(sides, Some(was), is, places);
                    if change.field(fact::Board::address).is_some() {
                        address(new, is, places);
                    }
                }
                if change.field(fact::Board::mount).is_some() && new.boards[is].mount.is_some() {
                    let height = at_height(new, new.boards[is].mount);
                    places.add(new, room, "mount", format!("{called}: move it{height}"));
                }
                strips::exchange(sides, change, (was, is), places);
                fittings::battery(sides, (was, is), places);
                fittings::earth(sides, change, was, is, places);
            }
            (None, None) => {}
        }
    }
    strips::linked_otherwise(sides, places);
    fittings::transformers(sides, places);
    at_boards(sides, places);
    exchanged::off_resistors(sides, places);
}

/// Adds the steps that take boards down. They come after all others that take something off in that place, for the board's
/// conductors are among these.
pub(crate) fn take_down(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Board) {
        let Some(was) = change.old.as_ref().and_then(|(subject, _)| board(old, subject)) else { continue };
        let is = change.new.as_ref().and_then(|(subject, _)| board(new, subject));
        let called = Paper.board(old, was);
        if is.is_none() || change.field(fact::Board::room).is_some() {
            fittings::supplies_down(sides, was, is, places);
        }
        let text = match is {
            None => called,
            Some(_) if change.field(fact::Board::room).is_some() && change.is_another() => called,
            Some(is) if change.field(fact::Board::room).is_some() => {
                format!("{called}: take it down; it goes up again{}", in_room(new, new.boards[is].room))
            }
            Some(_) => continue,
        };
        places.add(old, old.boards[was].room, "remove", text);
    }
}

/// "; after it is down in Workshop", where a thing comes from another room: whoever goes from place to place may be there first.
/// The place from which it comes stands before the other, then.
pub(crate) fn after_it_is_down(
    from: (&Site, Option<Id<Room>>),
    to: (&Site, Option<Id<Room>>),
    places: &mut Places,
) -> String {
    after_down("it", from, to, places)
}

fn after_down(
    what: &str,
    from: (&Site, Option<Id<Room>>),
    to: (&Site, Option<Id<Room>>),
    places: &mut Places,
) -> String {
    let (before, after) = (in_room(from.0, from.1), in_room(to.0, to.1));
    if before.is_empty() || before == after {
        return String::new();
    }
    places.follows(from, to);
    format!("; after {what} is down{before}")
}

/// "; after one is down in Workshop", where a thing of the same part comes down elsewhere and this one may be that.
pub(crate) fn after_one_is_down(sides: &Sides<'_>, change: &Change, to: Option<Id<Room>>, places: &mut Places) -> When {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let Some(handed) = handed_to(sides, change) else { return String::new().into() };
    let from = room_before(sides, &handed.was);
    if handed.aside {
        return aside::steps(sides, handed, (from, to), places);
    }
    // Where it is exchanged for another in the same place, it comes down when things are mounted already.
    if in_room(old, from) == in_room(new, to)
        && let Some(exchange) = exchanged(sides, &handed.was)
    {
        return When {
            words: "; after one is down here".to_owned(),
            stage: Stage::Freed(steps_before(sides, exchange)),
        };
    }
    after_down("one", (old, from), (new, to), places).into()
}

/// What comes down and may be what a change mounts.
fn handed_to<'s>(sides: &'s Sides<'_>, change: &Change) -> Option<&'s Handed> {
    let (is, _) = change.new.as_ref()?;
    sides.found.materials.handed.iter().find(|handed| handed.is == *is)
}

/// The change by which something of the old site is exchanged for another in its place.
fn exchanged<'s>(sides: &'s Sides<'_>, was: &Subject) -> Option<&'s Change> {
    let is_it = |change: &&Change| change.new.is_some() && change.old.as_ref().is_some_and(|(old, _)| old == was);
    sides.changes(was.kind).find(is_it)
}

/// How many exchanges, with this one, wait for each other until it is done.
fn steps_before<'s>(sides: &'s Sides<'_>, mut exchange: &'s Change) -> usize {
    // What is set aside waits for nobody.
    let most = sides.found.materials.handed.len();
    let mut steps = 1;
    while steps <= most
        && let Some(handed) = handed_to(sides, exchange).filter(|handed| !handed.aside)
        && let Some(before) = exchanged(sides, &handed.was)
    {
        steps += 1;
        exchange = before;
    }
    steps
}

/// The room of a board or a device of the old site.
fn room_before(sides: &Sides<'_>, was: &Subject) -> Option<Id<Room>> {
    let old = &sides.old.site;
    if was.kind == Kind::Board {
        board(old, was).and_then(|board| old.boards[board].room)
    } else {
        sides.old_keys.devices.get(&was.key).and_then(|device| old.devices[*device].room)
    }
}

/// ", 7.5 ft above the floor"; empty where the spec gives no height.
pub(crate) fn at_height(site: &Site, mount: Option<Metres>) -> String {
    let height = words::height(site, mount);
    if height.is_empty() { height } else { format!(", {height}") }
}

/// The steps for a board that goes up and for its supply. What was in the house before and `may_be_there`, because no place is known
/// where it hung until now, is looked at where it is: it is in use, so its supply is taken away first. Its transformer may be one
/// that `stays` where it is.
fn mount(site: &Site, id: Id<Board>, (may_be_there, stays): (bool, bool), when: When, places: &mut Places) {
    let board = &site.boards[id];
    let part = match &board.kind {
        BoardKind::Strip { ways, .. } => format!(" (strip of {ways} ways)"),
        BoardKind::JointBox { .. } => " (joint box)".to_owned(),
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Keypad { .. }
        | BoardKind::Module { .. }
        | BoardKind::Receiver => site.part_of(id).map(|part| format!(" ({})", part.title)).unwrap_or_default(),
    };
    let called = Paper.board(site, id);
    let is_there = |existing: bool| existing && may_be_there;
    let transformer = board.transformer.as_ref().filter(|_| !stays).map(|transformer| {
        let what = words::transformer(board, false);
        (site.transformer_room(id), transformer.existing, what, procedure::mains_off("it"), "it stays unplugged")
    });
    let battery = board.battery.as_ref().map(|battery| {
        let what = format!("battery {}", words::battery(battery));
        (board.room, battery.existing, what, procedure::lead_off(battery).to_owned(), "its leads stay capped")
    });
    let supplies = transformer.into_iter().chain(battery).map(|(room, existing, what, off, stays)| {
        if is_there(existing) {
            (room, "inspect", format!("{what} of {called} is there: {off}, where that is not done yet"))
        } else {
            (room, "mount", format!("{what} of {called}; {stays}"))
        }
    });
    // What is there is dark before it is opened.
    if !is_there(board.existing) {
        places.mount(site, board.room, format!("{called}{part}{}", places.at_height(site, board.mount)), when);
    }
    for (room, kind, text) in supplies {
        places.add(site, room, kind, text);
    }
    if is_there(board.existing) {
        let seen = if board.kind.is_strip() { "its screws hold" } else { "it opens" };
        let terminals =
            if site.part_of(id).is_some() { " and that its terminals are those of the terminal schedule" } else { "" };
        let text = format!("{called}{part}: it is there; see that {seen}{terminals}");
        places.add(site, board.room, "inspect", text);
    }
    address(site, id, places);
}

/// The same with what is said of a board that is switched on alone first.
fn and_alone(sides: &Sides<'_>, id: Id<Board>, mut when: When) -> When {
    if sides.alone.has(id) {
        when.words += alone::WHEN;
    }
    when
}

fn address(site: &Site, id: Id<Board>, places: &mut Places) {
    let board = &site.boards[id];
    if let Some(Spanned { value, .. }) = &board.address {
        places.add(site, board.room, "address", format!("{}: bus address {value}", Paper.board(site, id)));
    }
}

/// A board, and the resistors that are fitted there.
type Found = Option<(Option<Id<Board>>, Vec<Resistance>)>;

/// Resistors in loops and terminators of buses that are fitted at the board.
fn at_boards(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let chain = |site: &Site, subject: &Subject| -> Found {
        let (board, chain): (_, &[Mounted]) = if subject.kind == Kind::Zone {
            let zone = site.zone_printed(&subject.key)?.1;
            let wired = zone.wired.as_ref()?;
            (wired.board.as_ref().map(|board| board.value), &wired.chain)
        } else {
            let bus = site.bus_named(&subject.key)?.1;
            (bus.board.as_ref().map(|board| board.value), &bus.chain)
        };
        Some((board, values(chain)))
    };
    for change in sides.changes(Kind::Zone).chain(sides.changes(Kind::Bus)) {
        let (from, had) = change.old.as_ref().and_then(|(s, _)| chain(old, s)).unwrap_or_default();
        let (to, has) = change.new.as_ref().and_then(|(s, _)| chain(new, s)).unwrap_or_default();
        let Some(thing) = change.thing() else { continue };
        let what =
            if change.subject().is_some_and(|subject| subject.kind == Kind::Bus) { "Terminator" } else { "Resistor" };
        let text =
            |compiled: &Compiled, side: &Option<(Subject, Thing)>, board: Option<Id<Board>>, value: &Resistance| {
                let at = board.map(|board| Paper.board(&compiled.site, board)).unwrap_or_default();
                let lies = side.as_ref().and_then(|(subject, _)| lies(compiled, subject, board?)).unwrap_or_default();
                format!("{what} {} of {} at {at}{lies}", words::resistor(value), thing.said)
            };
        // Under other terminals it is taken off and fitted again.
        let place = |compiled: &Compiled, side: &Option<(Subject, Thing)>, board: Option<Id<Board>>| {
            side.as_ref().and_then(|(subject, _)| lies(compiled, subject, board?))
        };
        let (before, now) = (place(sides.old, &change.old, from), place(sides.new, &change.new, to));
        let moves = before.is_some() && now.is_some() && before != now;
        let (gone, come) = if moves { (had, has) } else { (missing(&had, &has), missing(&has, &had)) };
        for (several, value) in alike(gone) {
            let text = text(sides.old, &change.old, from, &value);
            places.add(old, from.and_then(|board| old.boards[board].room), "remove", format!("{several}{text}"));
        }
        let is = change.new.as_ref().zip(to).and_then(|((subject, _), board)| fitted(sides.new, subject, board));
        let stage = stage_of_fitting(is.is_some_and(Fitted::in_series));
        let there = change.new.as_ref().and_then(|(s, _)| owner(new, s)).is_some_and(|of| is_there(sides, of, None));
        for (several, value) in alike(come) {
            let text = text(sides.new, &change.new, to, &value);
            let room = to.and_then(|board| new.boards[board].room);
            if there {
                places.add(new, room, "inspect", format!("{several}{text}: it is there"));
                continue;
            }
            places.add_at(stage, new, room, "fit", format!("{several}{text}"));
        }
    }
}

fn owner(site: &Site, subject: &Subject) -> Option<Owner> {
    let zone = || site.zone_printed(&subject.key).map(|(id, _)| Owner::Zone(id));
    let bus = || site.bus_named(&subject.key).map(|(id, _)| Owner::Bus(id));
    if subject.kind == Kind::Bus { bus() } else { zone() }
}

/// The resistors and terminators at a board that goes up elsewhere or is exchanged: they are fitted there with the conductors that
/// were over them. Those at the far end of a cable are told with it, unless that stays (`far_ends`).
fn fitted_again(sides: &Sides<'_>, board: Id<Board>, far_ends: bool, places: &mut Places) {
    let site = &sides.new.site;
    let is_here = |at: Option<&Spanned<Id<Board>>>| at.is_some_and(|at| at.value == board);
    let mut all: BTreeMap<(String, bool), usize> = BTreeMap::new();
    for fitted in sides.new.wiring.fitted.iter().filter(|fitted| fitted.board == board) {
        let (what, of, is_own) = match &fitted.kind {
            FittedKind::Resistor { value, zone, .. } => {
                let zone = &site.zones[*zone];
                let is_own = is_here(zone.wired.as_ref().and_then(|wired| wired.board.as_ref()));
                let subject = Subject::new(Kind::Zone, zone.number.value.to_string());
                (format!("Resistor {}", words::resistor(value)), subject, is_own)
            }
            FittedKind::Terminator(ohms) => {
                let is_its =
                    |(id, _): &(Id<Bus>, &Bus)| terminator(sides.new, *id, board).is_some_and(|of| of == fitted);
                let Some((_, bus)) = site.buses.entries().find(is_its) else { continue };
                let subject = Subject::new(Kind::Bus, bus.name.value.as_str());
                (format!("Terminator {}", words::terminator(*ohms)), subject, is_here(bus.board.as_ref()))
            }
        };
        if is_own || far_ends {
            let said = sides.found.new.get(&of).map(|thing| thing.said.as_str()).unwrap_or_default();
            let text = format!("{what} of {said} at {}{}", Paper.board(site, board), across(sides.new, fitted));
            *all.entry((text, fitted.in_series())).or_insert(0) += 1;
        }
    }
    for ((text, in_series), number) in all {
        let several = if number > 1 { format!("{number} × ") } else { String::new() };
        let (stage, room) = (stage_of_fitting(in_series), site.boards[board].room);
        places.add_at(stage, site, room, "fit", format!("{several}{text}"));
    }
}

/// A resistor in series takes a conductor on its free lead: it is there before anything is landed.
fn stage_of_fitting(in_series: bool) -> Stage {
    if in_series { Stage::BeforeLanding } else { Stage::InOrder }
}

/// Where a resistor of a loop or a bus is at its board: ", across BA and BB", or ", in series: one lead under I2".
fn lies(compiled: &Compiled, subject: &Subject, board: Id<Board>) -> Option<String> {
    fitted(compiled, subject, board).map(|fitted| across(compiled, fitted))
}

/// The resistor of a loop, or the terminator of a bus, at a board.
fn fitted<'c>(compiled: &'c Compiled, subject: &Subject, board: Id<Board>) -> Option<&'c Fitted> {
    let Compiled { site, wiring, .. } = compiled;
    if subject.kind == Kind::Bus {
        let (bus, _) = site.bus_named(&subject.key)?;
        terminator(compiled, bus, board)
    } else {
        let is_of = |fitted: &&Fitted| match &fitted.kind {
            FittedKind::Resistor { zone, .. } => site.zones[*zone].number.value.to_string() == subject.key,
            FittedKind::Terminator(_) => false,
        };
        wiring.fitted.iter().filter(|fitted| fitted.board == board).find(is_of)
    }
}

fn across(compiled: &Compiled, fitted: &Fitted) -> String {
    let (one, other) = &fitted.across;
    match compiled.wiring.in_series_at(fitted.board, one).count() {
        _ if !fitted.in_series() => format!(", across {one} and {other}"),
        1 => format!(", in series: one lead under {one}, the cable's conductor on the other"),
        several => {
            format!(", one of {several} in series, one behind the other between {one} and the cable's conductor")
        }
    }
}

/// The terminator of a bus that is fitted at a board: across the port by which the board is on it.
pub(super) fn terminator(compiled: &Compiled, bus: Id<Bus>, board: Id<Board>) -> Option<&Fitted> {
    let Compiled { site, wiring, .. } = compiled;
    let port = site.part_of(board)?.bus_ports.get(site.port_position(bus, board)?)?;
    wiring.fitted.iter().find(|fitted| {
        matches!(fitted.kind, FittedKind::Terminator(_)) && fitted.board == board && fitted.across.0 == port.a
    })
}

/// Parts and cable to buy.
/// `labels` are the ends that get one.
pub(crate) fn to_buy(sides: &Sides<'_>, labels: usize) -> Vec<Item> {
    let materials = &sides.found.materials;
    let unit = sides.new.site.lengths;
    let cable = materials.cable.iter().map(|(kind, cables, length)| Item {
        count: print::length(*length, unit),
        what: format!("{kind}, for {}", count(*cables, "cable", None)),
    });
    let again = materials
        .again
        .iter()
        .map(item)
        .map(|Item { count, what }| Item { count, what: format!("{what}: of those that are taken down, if sound") });
    let called = |label: &str, end: End| {
        let piece = sides.found.cuts.iter().find(|cut| cut.was == label);
        let piece = piece.map(|cut| if end == End::Near { &cut.near } else { &cut.far });
        piece.cloned().unwrap_or_else(|| sides.found.diff.now(Subject::new(Kind::Cable, label)).key)
    };
    let is_kept = |label: &str, end: End| {
        sides.new_keys.cable(sides.new, label).is_some_and(|cable| cut::is_kept(sides, cable, end))
    };
    let is_anew = |label: &str| is_landed_whole(sides, &Subject::new(Kind::Cable, label));
    let fuses = fittings::fuses_to_fit(sides);
    let is_earthed_anew = |is| is_earthed_anew(sides, is);
    let others =
        Others { cable: &called, is_anew: &is_anew, is_kept: &is_kept, fuses, is_earthed_anew: &is_earthed_anew };
    let used_up = used_up(sides.old, sides.new, labels, &others).into_iter();
    let used_up = used_up.map(|(count, what)| Item { count: count.to_string(), what });
    materials.buy.iter().map(item).chain(again).chain(cable).chain(devices::batteries(sides)).chain(used_up).collect()
}

/// Whether a board wants another earth conductor than it has: it is new, or in another room, or the conductor is another.
fn is_earthed_anew(sides: &Sides<'_>, is: Id<Board>) -> bool {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let moved = sides.changes(Kind::Board).any(|change| {
        let here = change.new.as_ref().is_some_and(|(subject, _)| subject.key == new.boards[is].name.value);
        here && change.field(fact::Board::room).is_some()
    });
    let before = sides.board_before(is).and_then(|was| old.boards[was].earth.as_ref()).filter(|_| !moved);
    let now = new.boards[is].earth.as_ref();
    let same = |(before, now): (&Earth, &Earth)| {
        before.size == now.size && before.shown_colour() == now.shown_colour() && before.to == now.to
    };
    // One that the house had before the spec knew of it is there.
    let is_there = now.is_some_and(|now| now.existing) && before.is_none() && !moved;
    now.is_some() && !is_there && !before.zip(now).is_some_and(same)
}

/// Parts that come back.
pub(crate) fn to_return(sides: &Sides<'_>) -> Vec<Item> {
    let fuses = fuses(fittings::fuses_off(sides).into_iter());
    let fuses = fuses.map(|(count, what)| Item { count: count.to_string(), what });
    sides.found.materials.back.iter().map(item).chain(fuses).collect()
}

fn item(item: &materials::Item) -> Item {
    Item { count: item.count.to_string(), what: item.what.title() }
}
