//! Steps for boards and what is fitted at them; isolating and putting back; parts to buy and to return; cautions.

use super::super::materials::used_up;
use super::super::procedure;
use super::super::safety_notes::{self, Facts, Touched};
use super::cables::{missing, values};
use super::place::{Places, in_room};
use super::{Item, Keys, Sides, isolating};
use crate::base::wording::{count, list};
use crate::base::{Id, Spanned};
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject, Thing, is_battery_exchanged};
use crate::materials;
use crate::model::{Board, BoardKind, Bus, Mounted, Room, Site};
use crate::quantity::{Metres, Resistance, print};
use crate::record::fact;
use crate::register::{Fitted, FittedKind, Lead, OnTerminal};
use crate::terms::Path;
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
            (Some(_), None) => {}
            (None, Some(is)) => {
                mount(new, is, "", places);
                link(sides, is, places);
                leads(sides.new, is, places);
            }
            (Some(was), Some(is)) if change.field(fact::Board::room).is_some() => {
                let rooms = ((old, old.boards[was].room), (new, new.boards[is].room));
                let is_another = change.field(fact::Board::part).is_some();
                let when = if is_another { String::new() } else { after_it_is_down(rooms.0, rooms.1) };
                mount(new, is, &when, places);
                leads(sides.new, is, places);
            }
            (Some(was), Some(is)) => {
                let room = new.boards[is].room;
                let called = Paper.board(new, is);
                if change.field(fact::Board::part).is_some() {
                    let title = |site: &Site, id| site.part_of(id).map(|part| part.title.clone()).unwrap_or_default();
                    let text = format!(
                        "{called}: photograph and take down the {}, mount the {} in its place, every conductor back by the terminal schedule",
                        title(old, was),
                        title(new, is)
                    );
                    places.add(new, room, "mount", text);
                    address(new, is, places);
                } else if change.field(fact::Board::address).is_some() {
                    address(new, is, places);
                }
                if change.field(fact::Board::mount).is_some() && new.boards[is].mount.is_some() {
                    let height = at_height(new, new.boards[is].mount);
                    places.add(new, room, "mount", format!("{called}: move it{height}"));
                }
                battery(change, (old, was), (new, is), places);
                fittings((old, was), (new, is), places);
                if let Some(transformer) = &new.boards[is].transformer
                    && change
                        .field(fact::Transformer::volts)
                        .or(change.field(fact::Transformer::volt_amperes))
                        .is_some()
                {
                    let before = words::transformer(&old.boards[was], false);
                    let down = if before.is_empty() { before } else { format!("take the {before} down, ") };
                    let text = format!(
                        "{called}: {down}mount the transformer {}, {}; it stays unplugged",
                        words::rated(transformer.volts.value),
                        transformer.rating.value
                    );
                    places.add(new, room, "mount", text);
                }
            }
            (None, None) => {}
        }
    }
    linked_otherwise(sides, places);
    at_boards(sides, places);
}

/// Whether a board has another battery now.
pub(super) fn is_other_battery(change: &Change) -> bool {
    let size = [fact::Battery::ampere_hours, fact::Battery::count];
    is_battery_exchanged(change) || size.iter().any(|field| change.field(field).is_some())
}

/// The step for the battery of a board that stays. A day that was not known before is only written on it.
fn battery(change: &Change, (old, was): (&Site, Id<Board>), (new, is): (&Site, Id<Board>), places: &mut Places) {
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    match (&old.boards[was].battery, &new.boards[is].battery) {
        (None, Some(now)) => {
            let text = format!("{called}: battery {}; write the day on it", words::battery(now));
            places.add(new, room, "mount", text);
        }
        (Some(_), Some(now)) if is_other_battery(change) => {
            let text = format!(
                "{called}: take the old battery out, put the new one in: {}; write the day on it",
                words::battery(now)
            );
            places.add(new, room, "mount", text);
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

/// What is at a board that stays: its earth conductor, its fuses.
fn fittings((old, was): (&Site, Id<Board>), (new, is): (&Site, Id<Board>), places: &mut Places) {
    let (called, room) = (Paper.board(new, is), new.boards[is].room);
    let (before, now) = (&old.boards[was], &new.boards[is]);
    let earth = |site: &Site, id: Id<Board>| {
        site.boards[id].earth.as_ref()?;
        let lead = words::lead(site, id, Lead::Earth);
        Some(format!("{} {}, to {}", lead.what, lead.conductor, lead.goes))
    };
    let earths = (earth(old, was), earth(new, is));
    if earths.0 != earths.1 {
        if let Some(gone) = earths.0 {
            places.add(new, room, "remove", format!("{called}: take off its {gone}"));
        }
        if let Some(come) = earths.1 {
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

/// Adds the steps that take boards down. They come after all others that take something off in that place, for the board's
/// conductors are among these.
pub(crate) fn take_down(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Board) {
        let Some(was) = change.old.as_ref().and_then(|(subject, _)| board(old, subject)) else { continue };
        let is = change.new.as_ref().and_then(|(subject, _)| board(new, subject));
        let called = Paper.board(old, was);
        if is.is_none() || change.field(fact::Board::room).is_some() {
            supplies_down(sides, change, was, is, places);
        }
        let text = match is {
            None => called,
            Some(is) if change.field(fact::Board::room).is_some() => match change.field(fact::Board::part) {
                Some(_) => called,
                None => format!("{called}: take it down; it goes up again{}", in_room(new, new.boards[is].room)),
            },
            Some(_) => continue,
        };
        places.add(old, old.boards[was].room, "remove", text);
    }
}

/// The battery and the transformer of a board that is taken down: before it, and with a word of where they go on.
fn supplies_down(sides: &Sides<'_>, change: &Change, was: Id<Board>, is: Option<Id<Board>>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (board, now) = (&old.boards[was], is.map(|is| &new.boards[is]));
    let called = Paper.board(old, was);
    let to = is.map(|is| in_room(new, new.boards[is].room)).unwrap_or_default();
    let mut add = |what: String, again: bool| {
        let again = if again { format!(": take it down; it is used again{to}") } else { String::new() };
        places.add(old, board.room, "remove", format!("{what} of {called}{again}"));
    };
    if let Some(battery) = &board.battery {
        let again = now.is_some_and(|now| now.battery.is_some()) && !is_other_battery(change);
        add(format!("battery {}", words::battery(battery)), again);
    }
    if let Some(transformer) = &board.transformer {
        let next = now.and_then(|now| now.transformer.as_ref());
        let again = next.is_some_and(|next| next.volts == transformer.volts && next.rating == transformer.rating);
        add(words::transformer(board, false), again);
    }
}

/// "; after it is down in Workshop", where a thing comes from another room: whoever goes from place to place may be there first.
pub(crate) fn after_it_is_down(from: (&Site, Option<Id<Room>>), to: (&Site, Option<Id<Room>>)) -> String {
    let (from, to) = (in_room(from.0, from.1), in_room(to.0, to.1));
    if from.is_empty() || from == to { String::new() } else { format!("; after it is down{from}") }
}

/// ", 7.5 ft above the floor"; empty where the spec gives no height.
pub(crate) fn at_height(site: &Site, mount: Option<Metres>) -> String {
    let height = words::height(site, mount);
    if height.is_empty() { height } else { format!(", {height}") }
}

fn mount(site: &Site, id: Id<Board>, when: &str, places: &mut Places) {
    let board = &site.boards[id];
    let part = match &board.kind {
        BoardKind::Strip { ways, .. } => format!(" (strip of {ways} ways)"),
        BoardKind::JointBox { .. } => " (joint box)".to_owned(),
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Keypad
        | BoardKind::Module { .. }
        | BoardKind::Receiver => site.part_of(id).map(|part| format!(" ({})", part.title)).unwrap_or_default(),
    };
    let called = Paper.board(site, id);
    if matches!(board.kind, BoardKind::JointBox { existing: true, .. }) {
        return places.add(site, board.room, "check", format!("{called}: it is there; see that it can be opened"));
    }
    places.add(site, board.room, "mount", format!("{called}{part}{}{when}", at_height(site, board.mount)));
    if board.transformer.is_some() {
        let transformer = words::transformer(board, false);
        places.add(site, board.room, "mount", format!("{transformer} of {called}; it stays unplugged"));
    }
    if let Some(battery) = &board.battery {
        let battery = words::battery(battery);
        places.add(site, board.room, "mount", format!("battery {battery} of {called}; its leads stay capped"));
    }
    address(site, id, places);
}

/// A short wire that feeds a strip: the board that it comes from, the terminal there and that of the strip.
type Link = (Id<Board>, String, String);

fn links(compiled: &Compiled, strip: Id<Board>) -> Vec<Link> {
    if !compiled.site.boards[strip].kind.is_strip() {
        return Vec::new();
    }
    let first = (strip, String::new());
    let on_strip = compiled.wiring.terminals.range(first..).take_while(|((board, _), _)| *board == strip);
    let linked = on_strip.flat_map(|((_, mark), things)| {
        things.iter().filter_map(move |thing| match thing {
            OnTerminal::Link(to, there) => Some((*to, there.clone(), mark.clone())),
            OnTerminal::Conductor(..) | OnTerminal::Shield(_) | OnTerminal::Lead(_) => None,
        })
    });
    linked.collect()
}

/// "late: short wires from main, terminal A+ to terminal in+".
fn links_in_words(site: &Site, strip: Id<Board>, what: &str, links: &[Link]) -> String {
    let words = links
        .iter()
        .map(|(to, there, mark)| format!("from {}, terminal {there} to terminal {mark}", Paper.board(site, *to)));
    format!("{}: {what} {}", Paper.board(site, strip), list(&words.collect::<Vec<_>>(), "and"))
}

fn link(sides: &Sides<'_>, strip: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    let links = links(sides.new, strip);
    if !links.is_empty() {
        places.add(site, site.boards[strip].room, "land", links_in_words(site, strip, "short wires", &links));
    }
}

/// The short wires of strips that stay, where they come from elsewhere now: the board that feeds the strip may be another part,
/// whose output is marked otherwise, while nothing of the strip differs.
fn linked_otherwise(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for (is, _) in new.boards.entries() {
        let Some(was) = sides.board_before(is) else { continue };
        let before = &old.boards[was];
        let by_name = |side: &Compiled, strip: Id<Board>| {
            let name = |board: Id<Board>| Subject::new(Kind::Board, side.site.boards[board].name.value.as_str());
            links(side, strip).into_iter().map(|(to, there, mark)| (name(to), there, mark)).collect::<Vec<_>>()
        };
        let mut had = by_name(sides.old, was);
        for (board, ..) in &mut had {
            *board = sides.found.diff.renamed.get(board).unwrap_or(board).clone();
        }
        if had == by_name(sides.new, is) {
            continue;
        }
        let gone = links(sides.old, was);
        if !gone.is_empty() {
            places.add(old, before.room, "remove", links_in_words(old, was, "take off the short wires", &gone));
        }
        link(sides, is, places);
    }
}

/// The earth conductor of a board and the leads of its transformer, where these are no cable. Those of its battery are put on
/// when the board is switched on.
fn leads(compiled: &Compiled, id: Id<Board>, places: &mut Places) {
    let site = &compiled.site;
    for ((_, mark), things) in compiled.wiring.terminals.iter().filter(|((board, _), _)| *board == id) {
        for thing in things {
            let OnTerminal::Lead(lead) = thing else { continue };
            let unplugged = match lead {
                Lead::Earth => "",
                Lead::AcA | Lead::AcB => ", which stays unplugged",
                Lead::BatteryPositive | Lead::BatteryNegative => continue,
            };
            let words = words::lead(site, id, *lead);
            let conductor = if words.conductor.is_empty() { String::new() } else { format!(" {}", words.conductor) };
            let (board, what, goes) = (Paper.board(site, id), words.what, words.goes);
            let text = format!("{board}: {what}{conductor} on {mark}, to {goes}{unplugged}");
            places.add(site, site.boards[id].room, "land", text);
        }
    }
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
        for value in gone {
            let text = text(sides.old, &change.old, from, &value);
            places.add(old, from.and_then(|board| old.boards[board].room), "remove", text);
        }
        for value in come {
            let text = text(sides.new, &change.new, to, &value);
            places.add(new, to.and_then(|board| new.boards[board].room), "fit", text);
        }
    }
}

/// Where a resistor of a loop or a bus is at its board: ", across BA and BB", or ", in series: one lead under I2".
fn lies(compiled: &Compiled, subject: &Subject, board: Id<Board>) -> Option<String> {
    let Compiled { site, wiring, .. } = compiled;
    let fitted = if subject.kind == Kind::Bus {
        let (bus, _) = site.bus_named(&subject.key)?;
        terminator(compiled, bus, board)?
    } else {
        let is_of = |fitted: &&Fitted| match &fitted.kind {
            FittedKind::Resistor { zone, .. } => site.zones[*zone].number.value.to_string() == subject.key,
            FittedKind::Terminator(_) => false,
        };
        wiring.fitted.iter().filter(|fitted| fitted.board == board).find(is_of)?
    };
    let (one, other) = &fitted.across;
    Some(if fitted.in_series() {
        format!(", in series: one lead under {one}, the cable's conductor on the other")
    } else {
        format!(", across {one} and {other}")
    })
}

/// The terminator of a bus that is fitted at a board: across the port by which the board is on it.
pub(super) fn terminator(compiled: &Compiled, bus: Id<Bus>, board: Id<Board>) -> Option<&Fitted> {
    let Compiled { site, wiring, .. } = compiled;
    let port = site.part_of(board)?.bus_ports.get(site.port_position(bus, board)?)?;
    wiring.fitted.iter().find(|fitted| {
        matches!(fitted.kind, FittedKind::Terminator(_)) && fitted.board == board && fitted.across.0 == port.a
    })
}

/// Cautions that this work calls for. The safety notes of the packet say more.
pub(crate) fn cautions(sides: &Sides<'_>) -> Vec<String> {
    let new = &sides.new.site;
    let mut cautions = vec![
        "Local code, the authority having jurisdiction and the trades that law reserves work to prevail over this sheet. Where you are not sure, stop and ask.".to_owned(),
        procedure::told(new, procedure::BOARD_OFF),
    ];
    if !isolating::fire_zones(sides).is_empty() {
        cautions.push("Fire and gas detectors are out of service while the board is dark. Somebody keeps watch; nobody sleeps in the house before they are tested again. Work on them may be reserved to licensed trades.".to_owned());
    }
    let mut lines = sides.old.site.communicators.iter().chain(new.communicators.iter());
    if lines.any(|line| line.path.as_ref().is_some_and(|path| path.value == Path::Telephone)) {
        cautions.push("A telephone line stays live with the board dark, and hurts when it rings. Keep off its terminals; the safety notes say more.".to_owned());
    }
    cautions.extend(safety_notes::on_the_way(Facts::of_work(new, &sides.new.wiring, &touched(sides))));
    cautions
}

/// What is pulled, mounted or moved.
fn touched(sides: &Sides<'_>) -> Touched {
    let placed =
        [fact::Device::room, fact::Device::opening, fact::Device::mount, fact::Board::room, fact::Board::mount];
    let keys = |kind: Kind| {
        let moved = |change: &&Change| change.old.is_none() || placed.iter().any(|field| change.field(field).is_some());
        sides.changes(kind).filter(moved).filter_map(|change| Some(change.new.as_ref()?.0.key.as_str()))
    };
    let Keys { runs, devices, .. } = &sides.new_keys;
    Touched {
        runs: sides.found.pulled.iter().filter_map(|cable| runs.get(&cable.key)).copied().collect(),
        boards: keys(Kind::Board).filter_map(|key| sides.new.site.board_named(key)).map(|(id, _)| id).collect(),
        devices: keys(Kind::Device).filter_map(|key| devices.get(key)).copied().collect(),
    }
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
    let used_up = used_up(sides.old, sides.new, labels).into_iter();
    let used_up = used_up.map(|(count, what)| Item { count: count.to_string(), what });
    materials.buy.iter().map(item).chain(again).chain(cable).chain(used_up).collect()
}

/// Parts that come back.
pub(crate) fn to_return(sides: &Sides<'_>) -> Vec<Item> {
    sides.found.materials.back.iter().map(item).collect()
}

fn item(item: &materials::Item) -> Item {
    Item { count: item.count.to_string(), what: item.what.title() }
}
