//! Parts and cable to buy, and those that come back: what the new site has against what the old one had.
//!
//! What a site is made of is counted by `materials`. Cable in the wall is cut to its
//! length, so a removed or longer cable gives nothing back: each cable that is new, or longer, or of another type is bought whole.
//! What was there before (a cable that is `existing`, a contact that is `fixed`) is not bought, and comes back where it is taken
//! down. What stays costs nothing, whenever it is written down that it was there; what is exchanged is bought and comes back
//! whatever is.

use std::collections::{BTreeMap, BTreeSet};

use super::{Atom, BatteryChange, Change, Diff, Kind, OneBattery, Subject, Thing, is_other_transformer, is_renewed};
use crate::base::{Id, Spanned};
use crate::compiled::Compiled;
use crate::materials::goods::{self, Goods, Item, SharedTitles, Stays};
use crate::model::{Board, Device, Part, Room, Site};
use crate::quantity::{Metres, Resistance};
use crate::record::{Names, fact};
use crate::register::{Cable, Wiring};

/// What is to be bought and what comes back.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Materials {
    /// Things to buy.
    pub buy: Vec<Item>,
    /// Things that come back.
    pub back: Vec<Item>,
    /// Parts and resistors that are taken down in one place and mounted in another.
    pub(crate) again: Vec<Item>,
    /// Devices and boards of which one comes down and another of the same part goes up.
    pub(crate) handed: Vec<Handed>,
    /// The rooms from which and to which resistors go that are used again.
    pub(crate) resistors: Vec<Way>,
    /// Cable to buy: title of the type, number of cables, metres with their slack.
    pub cable: Vec<(String, usize, Metres)>,
}

/// What changes hands between two sites; `pulled` are the cables to pull.
pub(crate) fn of(diff: &Diff, pulled: &BTreeSet<Subject>, old: &Compiled, new: &Compiled) -> Materials {
    let both = both(diff, old, new);
    let shared = SharedTitles::of(&[&old.site, &new.site]);
    let goods = |site, stays| goods::beside(site, stays, &shared);
    let (mut before, mut after) = (goods(&old.site, &both.before), goods(&new.site, &both.after));
    let exchanged = batteries(&both, (&old.site, &mut before), (&new.site, &mut after));
    let (handed, bought) = handed(diff);
    let mut materials =
        Materials { again: again(&handed, &new.site, (&after, &shared)), handed, ..Materials::default() };
    let (resistors, crossing) = resistors_again(diff, old, new);
    materials.again.extend(counted(resistors.iter().map(|(value, _)| *value)));
    materials.resistors = resistors.into_iter().map(|(_, way)| way).collect();
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    for name in names {
        let entry = before.get(name).or(after.get(name));
        let Some(Item { what, .. }) = entry else { continue };
        let count = |goods: &BTreeMap<String, Item>| goods.get(name).map_or(0, |item| item.count);
        // What is exchanged is no longer used, even where as many are bought as go.
        let exchanged = exchanged.get(name).copied().unwrap_or_default();
        let (had, has) = (count(&before), count(&after));
        let (buy, back) = (exchanged + has.saturating_sub(had), exchanged + had.saturating_sub(has));
        for (list, count) in [(&mut materials.buy, buy), (&mut materials.back, back)] {
            if count > 0 {
                list.push(Item { count, what: what.clone() });
            }
        }
    }
    let bought = bought.iter().filter_map(|part| new.site.parts.iter().find(|other| other.name.value == *part));
    let bought = bought.filter_map(|part| after.get(&shared.key_of(part)).map(|item| item.what.clone()));
    let renewed = renewed_parts(diff, new, (&after, &shared)).into_iter().chain(bought);
    let renewed = renewed.chain(both.transformers).map(|what| Item { count: 1, what });
    for Item { count, what } in renewed.chain(counted(crossing.into_iter())) {
        for list in [&mut materials.buy, &mut materials.back] {
            match list.iter_mut().find(|item| item.what == what) {
                Some(item) => item.count += count,
                None => list.push(Item { count, what: what.clone() }),
            }
        }
    }
    let mut by_type: BTreeMap<String, (usize, Metres)> = BTreeMap::new();
    let lengths = lengths(&new.site, &new.wiring);
    for Subject { key, .. } in pulled {
        if let Some((kind, length)) = lengths.get(key) {
            let entry = by_type.entry(kind.clone()).or_insert((0, Metres(0.0)));
            entry.0 += 1;
            entry.1 = entry.1 + *length;
        }
    }
    materials.cable = by_type.into_iter().map(|(kind, (count, length))| (kind, count, length)).collect();
    materials
}

/// The things that are in both sites, as they were and as they are: what was in the house before stays, whenever that is
/// written down, and where it is another one now, that is bought.
struct Both {
    /// What is counted of the old site.
    before: Stays,
    /// What is counted of the new one.
    after: Stays,
    /// The boards that have a battery in both.
    batteries: Vec<(Id<Board>, Id<Board>)>,
    /// The transformers that are exchanged for others like them.
    transformers: Vec<Goods>,
}

fn both(diff: &Diff, old: &Compiled, new: &Compiled) -> Both {
    let sides = |of: fn(&Change) -> (&Side, &Side)| -> BTreeSet<&Subject> {
        let alone = diff.changes.iter().map(of).filter(|(_, other)| other.is_none());
        alone.filter_map(|(is, _)| Some(&is.as_ref()?.0)).collect()
    };
    let (gone, come) = (sides(|change| (&change.old, &change.new)), sides(|change| (&change.new, &change.old)));
    let now = |was: &Subject| {
        let is = diff.now(was.clone());
        (!gone.contains(was) && !come.contains(&is)).then_some(is)
    };
    let mut both =
        Both { before: Stays::default(), after: Stays::default(), batteries: Vec::new(), transformers: Vec::new() };
    for (was, board) in old.site.boards.entries() {
        let is = now(&Subject::new(Kind::Board, board.name.value.as_str()));
        let Some((is, other)) = is.as_ref().and_then(|is| new.site.board_named(&is.key)) else {
            both.before.boards_down.insert(was);
            continue;
        };
        let mut stay = |of: fn(&mut Stays) -> &mut BTreeSet<Id<Board>>| {
            of(&mut both.before).insert(was);
            of(&mut both.after).insert(is);
        };
        stay(|stays| &mut stays.boards);
        if let (Some(had), Some(has)) = (&board.transformer, &other.transformer) {
            stay(|stays| &mut stays.transformers);
            let (before, after) = (goods::transformer(had), goods::transformer(has));
            both.transformers.extend(Some(after).filter(|after| is_other_transformer(had, has) && before == *after));
        }
        if board.battery.is_some() && other.battery.is_some() {
            stay(|stays| &mut stays.batteries);
            both.batteries.push((was, is));
        }
    }
    let labels = new.wiring.cables.iter().map(|cable| (cable.label.as_str(), cable));
    let labels: BTreeMap<&str, &Cable> = labels.collect();
    for was in &old.wiring.cables {
        let is = now(&Subject::new(Kind::Cable, was.label.as_str()));
        // What is at the end of a cable that goes is taken off.
        both.before.runs.extend(&was.carries);
        if let Some(is) = is.and_then(|is| labels.get(is.key.as_str()).copied()) {
            both.after.runs.extend(&is.carries);
        }
    }
    let (names, keys) = (Names::of(&old.site, &old.wiring), Names::of(&new.site, &new.wiring).device_keys());
    for (was, device) in old.site.devices.entries() {
        let Some(is) = now(&names.device(was).subject).and_then(|is| keys.get(&is.key).copied()) else {
            both.before.devices_down.extend(Some(was).filter(|_| !device.fixed));
            continue;
        };
        let part = |site: &Site, of: &Device| of.part.map(|part| site.parts[part].name.value.clone());
        let other = &new.site.devices[is];
        // What cannot be moved is written down otherwise, and not exchanged.
        if !(device.fixed || other.fixed) || part(&old.site, device) == part(&new.site, other) {
            both.before.devices.insert(was);
            both.after.devices.insert(is);
        }
    }
    both
}

/// One side of a change.
type Side = Option<(Subject, Thing)>;

/// The batteries of boards that stay, added to the goods: those that go and those that come. What is exchanged for its like is told
/// by key, with its number.
fn batteries(
    both: &Both,
    (old, before): (&Site, &mut BTreeMap<String, Item>),
    (new, after): (&Site, &mut BTreeMap<String, Item>),
) -> BTreeMap<String, usize> {
    let mut exchanged = BTreeMap::new();
    for (was, is) in &both.batteries {
        let (Some(had), Some(now)) = (&old.boards[*was].battery, &new.boards[*is].battery) else { continue };
        let BatteryChange { go, mut come, .. } = BatteryChange::of(had, now);
        // One more that was in the house before is not bought.
        let mut more = come.len().saturating_sub(go.len());
        come.retain(|one| {
            let is_there = one.existing && more > 0;
            more -= usize::from(is_there);
            !is_there
        });
        let keys = |site: &Site, id: Id<Board>, goods: &mut BTreeMap<String, Item>, those: Vec<OneBattery>| {
            let those = those.into_iter().filter_map(|one| goods::battery(site, id, one.capacity));
            let add = |(key, what): (String, Goods)| {
                goods.entry(key.clone()).or_insert(Item { count: 0, what }).count += 1;
                key
            };
            those.map(add).collect::<Vec<_>>()
        };
        let gone = keys(old, *was, before, go);
        let mut come = keys(new, *is, after, come);
        for key in gone {
            if let Some(at) = come.iter().position(|other| *other == key) {
                come.swap_remove(at);
                *exchanged.entry(key).or_insert(0) += 1;
            }
        }
    }
    exchanged
}

/// The parts of the devices that are exchanged for others of the same part.
fn renewed_parts(diff: &Diff, new: &Compiled, (goods, shared): (&BTreeMap<String, Item>, &SharedTitles)) -> Vec<Goods> {
    let part = |change: &Change| {
        let (_, thing) = change.new.as_ref()?;
        let [Atom::Thing(part)] = thing.fields.get(fact::Device::part)?.as_slice() else { return None };
        let part = new.site.parts.iter().find(|other| other.name.value == part.key)?;
        goods.get(&shared.key_of(part)).map(|item| item.what.clone())
    };
    diff.changes.iter().filter(|change| is_renewed(change)).filter_map(part).collect()
}

/// Parts of which some go and some come, of the goods of the new site.
fn again(handed: &[Handed], site: &Site, (goods, shared): (&BTreeMap<String, Item>, &SharedTitles)) -> Vec<Item> {
    let item = |part: &Part| {
        let count = handed.iter().filter(|handed| handed.part == part.name.value).count();
        let what = goods.get(&shared.key_of(part))?.what.clone();
        (count > 0).then_some(Item { count, what })
    };
    site.parts.iter().filter_map(item).collect()
}

/// A device or board that comes down, and one of the same part that goes up: it may be that one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Handed {
    /// The part.
    part: String,
    /// What comes down, in the old site.
    pub(crate) was: Subject,
    /// What goes up, in the new one.
    pub(crate) is: Subject,
    /// True where it is taken down first and set aside: else all of a circle would wait for each other.
    pub(crate) aside: bool,
}

/// Something that comes down, or goes up.
struct Hand {
    part: String,
    room: Option<Subject>,
    subject: Subject,
    /// What stands in its place afterwards, where it comes down for that; itself, where it goes up in the place of another.
    exchanged: Option<Subject>,
}

/// What waits for what: the first is done before the other. Rooms wait for rooms, and in one room exchanges for exchanges.
type Waits = Vec<(Subject, Subject)>;

/// What a room or an exchange would wait for, where one thing is handed to the place of another.
fn wait(was: &Hand, is: &Hand) -> Option<(Subject, Subject)> {
    match (&was.room, &is.room) {
        (Some(from), Some(to)) if from != to => Some((from.clone(), to.clone())),
        _ => Some((was.exchanged.clone()?, is.exchanged.clone()?)),
    }
}

/// Whether one thing waits for another, by way of any others.
fn is_after(waits: &[(Subject, Subject)], later: &Subject, earlier: &Subject) -> bool {
    let (mut reached, mut at) = (vec![earlier], 0);
    while let Some(from) = reached.get(at).copied() {
        at += 1;
        for (_, to) in waits.iter().filter(|(first, _)| first == from) {
            if !reached.contains(&to) {
                reached.push(to);
            }
        }
    }
    reached.contains(&later)
}

/// Those that come down and go up; what is exchanged is both. Each goes up in its own room rather than in another, and from where
/// nobody has to wait in a circle rather than from elsewhere. Then the parts of boards that would change places, which are bought:
/// a board is not set aside with all that is on it.
fn handed(diff: &Diff) -> (Vec<Handed>, Vec<String>) {
    let now = |subject: &Subject| diff.now(subject.clone());
    let of = |change: &Change, gone: bool| {
        let (side, other) = if gone { (&change.old, &change.new) } else { (&change.new, &change.old) };
        let (subject, thing) = side.as_ref()?;
        let moves = other.is_none() && (gone || !was_there(thing));
        let exchanged = other.is_some() && change.field(fact::Device::part).is_some();
        let fixed =
            [side, other].into_iter().flatten().any(|(_, thing)| thing.fields.contains_key(fact::Device::fixed));
        let is_thing = matches!(subject.kind, Kind::Device | Kind::Board);
        let [Atom::Thing(part)] = thing.fields.get(fact::Device::part)?.as_slice() else { return None };
        let room = thing.fields.get(fact::Device::room).and_then(|room| match room.as_slice() {
            [Atom::Thing(room)] => Some(if gone { now(room) } else { room.clone() }),
            _ => None,
        });
        let after = change.new.as_ref().map(|(subject, _)| subject.clone()).filter(|_| exchanged);
        let hand = Hand { part: part.key.clone(), room, subject: subject.clone(), exchanged: after };
        (is_thing && !fixed && (moves || exchanged)).then_some(hand)
    };
    let side = |gone: bool| diff.changes.iter().filter_map(|change| of(change, gone)).collect::<Vec<_>>();
    let (mut gone, mut come) = (side(true), side(false));
    // What comes down for good keeps nobody waiting, so who would wait in a circle has it first.
    gone.sort_by_key(|was| was.exchanged.is_some());
    come.sort_by_key(|is| is.exchanged.is_none());
    let (mut found, mut bought, mut waits) = (Vec::new(), Vec::new(), Waits::new());
    for in_one_room in [true, false] {
        come.retain(|is| {
            let fits = |was: &&Hand| was.part == is.part && (!in_one_room || was.room == is.room);
            let waited = |was: &Hand| wait(was, is).filter(|(from, to)| is_after(&waits, from, to));
            let at = gone.iter().position(|was| fits(&was) && waited(was).is_none());
            let Some(at) = at.or_else(|| gone.iter().position(|was| fits(&was))) else { return true };
            let was = gone.remove(at);
            let aside = waited(&was).is_some();
            if aside && is.subject.kind == Kind::Board {
                bought.push(was.part);
                return false;
            }
            waits.extend(wait(&was, is).filter(|_| !aside));
            found.push(Handed { part: was.part, was: was.subject, is: is.subject.clone(), aside });
            false
        });
    }
    (found, bought)
}

/// True of a device or a board that was there before.
fn was_there(thing: &Thing) -> bool {
    [fact::Device::existing, fact::Board::existing].iter().any(|field| thing.fields.contains_key(*field))
}

/// The room of the old site from which something goes, and that of the new one to which it goes.
pub(crate) type Way = (Option<Id<Room>>, Option<Id<Room>>);

/// Resistors that come out in one place, where one of the same value goes in at another, rather in the same room; and those that
/// are bought because others go the other way, or round in a circle: whichever room is first would have none yet.
fn resistors_again(diff: &Diff, old: &Compiled, new: &Compiled) -> (Vec<(Resistance, Way)>, Vec<Resistance>) {
    let name = |site: &Site, room: Option<Id<Room>>| {
        room.map(|room| Subject::new(Kind::Room, site.rooms[room].name.value.as_str()))
    };
    let before = resistors(old).into_iter().map(|((at, of), room, value)| ((diff.now(at), diff.now(of)), room, value));
    let mut before: Vec<Fitted> = before.collect();
    let mut come = resistors(new);
    let exchanged = at_exchanged(diff, &new.site);
    let mut found: Vec<(Resistance, Way)> = Vec::new();
    come.retain(|(at, to, value)| {
        let stays = before.iter().position(|(other, _, had)| other == at && had == value);
        let Some((_, from, _)) = stays.map(|stays| before.swap_remove(stays)) else { return true };
        // It comes off the old board and goes on the new one.
        if exchanged.contains(&at.0) {
            found.push((*value, (from, *to)));
        }
        false
    });
    // Under the number of another zone it stays at the end of its cable, unless several loops share that.
    let shared = shared(old, |at| diff.now(at)).into_iter().chain(shared(new, |at| at)).collect::<BTreeSet<_>>();
    come.retain(|(at, _, value)| {
        let is_one = |(other, _, had): &Fitted| other.0 == at.0 && had == value && !shared.contains(&at.0);
        let stays = before.iter().position(is_one);
        stays.map(|stays| before.swap_remove(stays)).is_none()
    });
    for in_one_room in [true, false] {
        come.retain(|(_, to, value)| {
            let is_one = |(_, from, had): &Fitted| {
                had == value
                    && (!in_one_room || name(&old.site, *from).map(|room| diff.now(room)) == name(&new.site, *to))
            };
            let Some(gone) = before.iter().position(is_one) else { return true };
            let (_, from, _) = before.swap_remove(gone);
            found.push((*value, (from, *to)));
            false
        });
    }
    let rooms = |(from, to): &Way| {
        Some((name(&old.site, *from).map(|room| diff.now(room))?, name(&new.site, *to)?)).filter(|(a, b)| a != b)
    };
    let ways: Waits = found.iter().filter_map(|(_, way)| rooms(way)).collect();
    let crosses = |(_, way): &(Resistance, Way)| rooms(way).is_some_and(|(from, to)| is_after(&ways, &from, &to));
    let (crossing, again): (Vec<_>, Vec<_>) = found.into_iter().partition(crosses);
    (again, crossing.into_iter().map(|(value, _)| value).collect())
}

/// The cables that several loops share, by their names in the new site.
fn shared(side: &Compiled, name: impl Fn(Subject) -> Subject) -> Vec<Subject> {
    let several = side.wiring.cables.iter().filter(|cable| cable.carries.len() > 1);
    several.map(|cable| name(Subject::new(Kind::Cable, cable.label.as_str()))).collect()
}

/// The zones and buses whose board is exchanged: what is fitted at it goes from the one to the other.
fn at_exchanged(diff: &Diff, site: &Site) -> BTreeSet<Subject> {
    let boards = diff.changes.iter().filter(|change| change.old.is_some() && change.is_another());
    let boards = boards.filter_map(|change| change.new.as_ref()).map(|(subject, _)| subject);
    let boards: BTreeSet<&str> = boards.filter(|is| is.kind == Kind::Board).map(|is| is.key.as_str()).collect();
    let is_on = |board: Option<&Spanned<Id<Board>>>| {
        board.is_some_and(|board| boards.contains(site.boards[board.value].name.value.as_str()))
    };
    let zones = site.zones.iter().filter(|zone| is_on(zone.wired.as_ref().and_then(|wired| wired.board.as_ref())));
    let zones = zones.map(|zone| Subject::new(Kind::Zone, zone.number.value.to_string()));
    let buses = site.buses.iter().filter(|bus| is_on(bus.board.as_ref()));
    zones.chain(buses.map(|bus| Subject::new(Kind::Bus, bus.name.value.as_str()))).collect()
}

/// Each value once, with how many there are.
fn counted(values: impl Iterator<Item = Resistance>) -> Vec<Item> {
    let mut all: Vec<Item> = Vec::new();
    for value in values {
        match all.iter_mut().find(|item| item.what == Goods::Resistor(value)) {
            Some(item) => item.count += 1,
            None => all.push(Item { count: 1, what: Goods::Resistor(value) }),
        }
    }
    all
}

/// A resistor or terminator: the thing at which it stands and what it is of, its room, its value.
type Fitted = ((Subject, Subject), Option<Id<Room>>, Resistance);

/// Every resistor and terminator: at a cable's far end, at a zone's or a bus's board, at a device. Two loops in one cable have each
/// their own.
fn resistors(side: &Compiled) -> Vec<Fitted> {
    let names = Names::of(&side.site, &side.wiring);
    let site = &side.site;
    let of_board = |board: Option<&Spanned<Id<Board>>>| board.and_then(|board| site.boards[board.value].room);
    let alone = |at: Subject| (at.clone(), at);
    let mut found = Vec::new();
    for (id, run) in site.runs.entries() {
        let label = names.label(id).map(|label| Subject::new(Kind::Cable, label));
        let at = (label.unwrap_or_else(|| names.run(id).subject), names.owner(run.owner).subject());
        found.extend(run.mounted.iter().filter_map(goods::resistance).map(|value| (at.clone(), run.room, value)));
    }
    for (id, zone) in site.zones.entries() {
        let at = alone(Subject::new(Kind::Zone, names.zone(id).to_string()));
        let room = of_board(zone.wired.as_ref().and_then(|wired| wired.board.as_ref()));
        let chain = zone.wired.iter().flat_map(|wired| &wired.chain);
        found.extend(chain.filter_map(goods::resistance).map(|value| (at.clone(), room, value)));
    }
    for (id, bus) in site.buses.entries() {
        let (at, room) = (alone(names.bus(id).subject), of_board(bus.board.as_ref()));
        found.extend(bus.chain.iter().filter_map(goods::resistance).map(|value| (at.clone(), room, value)));
    }
    for (id, device) in site.devices.entries() {
        let at = alone(names.device(id).subject);
        found.extend(device.shunt.iter().map(|shunt| (at.clone(), device.room, shunt.value)));
    }
    found
}

/// Label → title of the type and length.
fn lengths(site: &Site, wiring: &Wiring) -> BTreeMap<String, (String, Metres)> {
    let one = |cable: &crate::register::Cable| {
        let length = site.runs[cable.run].length.as_ref()?.value;
        Some((cable.label.clone(), (site.cables[cable.kind].described(), length)))
    };
    wiring.cables.iter().filter_map(one).collect()
}
