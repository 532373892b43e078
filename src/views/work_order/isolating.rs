//! Which boards are dark while the work lasts, how they are switched off before the first conductor is moved, and on again.
//!
//! A board is dark where the work touches it, a cable on it, or what it feeds; and so is whatever feeds it, and whatever is on
//! one bus with a cable that is touched. A supply of which the work touches nothing stays on.

use std::collections::BTreeSet;

use super::super::commissioning_sheet::power_up;
use super::super::procedure;
use super::place::Step;
use super::tried::is_touched;
use super::{Sides, alone, fittings, touched, tried};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::{Change, FieldChange, Kind, Subject, Thing};
use crate::model::{Battery, Board, BoardKind, Bus, Device, Owner, Site, Transformer, Zone};
use crate::record::fact;
use crate::register::{Cable, ConductorUse, End, Place, Point};
use crate::terms::ZoneType;
use crate::words::Paper;

/// The house told, and the boards made dark: before a conductor is moved.
pub(super) fn off(sides: &Sides<'_>) -> Vec<Step> {
    let old = &sides.old.site;
    let step = |text: String| Step::new("isolate", text);
    let mut steps = Vec::new();
    let fire = fire_zones(sides);
    if !fire.is_empty() {
        let text =
            format!("Tell everybody in the house that {} will not answer, and who keeps watch meanwhile", zones(&fire));
        steps.push(step(text));
    }
    let dark = dark(sides);
    let mut told = BTreeSet::new();
    for (id, board) in old.boards.entries().filter(|(_, board)| dark.contains(&now(sides, board))) {
        // What was found at it since is switched off with it.
        let is = sides.new.site.board_named(&now(sides, board)).map(|(is, _)| is);
        let (transformer, battery) = is.map(|is| found_at(sides, is)).unwrap_or_default();
        let supplies = (board.transformer.as_ref().or(transformer), board.battery.as_ref().or(battery));
        steps.extend(supplies_off(old, id, supplies));
        told.extend(is);
    }
    steps.extend(found(sides).into_iter().filter(|(is, _)| !told.contains(is)).map(|(_, step)| step));
    let own = fed_elsewhere(sides).into_iter().map(|(_, title, cables)| {
        format!("{title}: switch its own supply off, and see that nobody switches it on: {cables} may be alive from there while the boards are dark")
    });
    steps.extend(own.map(step));
    steps.push(step("Photograph every enclosure before a conductor is moved".into()));
    steps
}

/// A board made dark: its supplies in the order of common practice.
pub(super) fn supplies_off(
    site: &Site,
    id: Id<Board>,
    supplies: (Option<&Transformer>, Option<&Battery>),
) -> impl Iterator<Item = Step> + use<> {
    supplies_off_at(&Paper.board(site, id), site, id, supplies)
}

/// The same, where what hangs there is called otherwise.
fn supplies_off_at(
    called: &str,
    site: &Site,
    id: Id<Board>,
    (transformer, battery): (Option<&Transformer>, Option<&Battery>),
) -> impl Iterator<Item = Step> + use<> {
    let called = called.to_owned();
    let mains = transformer.map(|transformer| {
        let outlet = transformer.outlet.as_ref().map(|outlet| format!(" ({outlet})")).unwrap_or_default();
        procedure::mains_off(&format!("the transformer{outlet}"))
    });
    let battery = battery.map(|battery| procedure::lead_off(battery).to_owned());
    let dark = |text: String| format!("{text}; the board must be dark");
    let texts = in_order(procedure::Order::of_board(site, id), [battery, mains], dark);
    texts.into_iter().map(move |text| Step::new("isolate", format!("{called}: {text}")))
}

/// What was in use in the house before the spec knew of it: nobody has switched it off. A supply that is new hangs on a board that
/// was there in the place of another one, which is taken away as well; and so is a board that no spec has, where a new one takes
/// over its supply or its cables.
pub(crate) fn found(sides: &Sides<'_>) -> Vec<(Id<Board>, Step)> {
    let new = &sides.new.site;
    let mut steps = Vec::new();
    for (id, board) in new.boards.entries() {
        let supplies = found_at(sides, id);
        let is_fed = supplies.0.is_some() || supplies.1.is_some();
        if takes_over(sides, id, is_fed) {
            steps.extend(in_its_place(new, id, supplies).into_iter().map(|step| (id, step)));
            continue;
        }
        steps.extend(supplies_off(new, id, supplies).map(|step| (id, step)));
        let was_there = board.existing && sides.board_before(id).is_none();
        if was_there && !is_fed && matches!(board.kind, BoardKind::Panel | BoardKind::PowerSupply) {
            let text = format!("{}: take away whatever feeds it; the board must be dark", Paper.board(new, id));
            steps.push((id, Step::new("isolate", text)));
        }
    }
    steps
}

/// True of a new board with a supply of its own where something hangs that no spec has: what feeds it or a cable at it was there
/// before.
fn takes_over(sides: &Sides<'_>, id: Id<Board>, is_fed: bool) -> bool {
    let new = &sides.new.site;
    let board = &new.boards[id];
    let cables = || new.runs.entries().any(|(run, of)| of.existing && new.board_at_start(run) == Some(id));
    sides.old.site.boards.is_empty()
        && !board.existing
        && matches!(board.kind, BoardKind::Panel | BoardKind::PowerSupply)
        && (is_fed || cables())
}

/// How a board that no spec has is made dark and taken down.
fn in_its_place(
    site: &Site,
    id: Id<Board>,
    (transformer, battery): (Option<&Transformer>, Option<&Battery>),
) -> Vec<Step> {
    // Old cables alone may have been pulled and never landed.
    let known = transformer.is_some() || battery.is_some();
    let if_any = if known { "" } else { ", if anything does" };
    let called = format!("What hangs there before {}{if_any}", Paper.board(site, id));
    let step = |text: &str| Step::new("isolate", format!("{called}: {text}"));
    let mut steps: Vec<Step> = supplies_off_at(&called, site, id, (transformer, battery)).collect();
    if transformer.is_none() || battery.is_none() {
        steps.push(step("take away whatever else feeds it, batteries too; the board must be dark"));
    }
    steps.push(step(
        "photograph it, tag each conductor with the terminal that it was on, take them off, and take it down",
    ));
    steps
}

/// The transformer and the battery of a board that were in use before the spec knew of them.
fn found_at<'s>(sides: &Sides<'s>, id: Id<Board>) -> (Option<&'s Transformer>, Option<&'s Battery>) {
    let board = &sides.new.site.boards[id];
    let before = sides.board_before(id).map(|was| &sides.old.site.boards[was]);
    let was_there = board.existing && before.is_none();
    let transformer = board.transformer.as_ref().filter(|of| of.existing || was_there);
    let battery = board.battery.as_ref().filter(|of| of.existing || was_there);
    (
        transformer.filter(|_| before.is_none_or(|before| before.transformer.is_none())),
        battery.filter(|_| before.is_none_or(|before| before.battery.is_none())),
    )
}

/// Putting the supply back.
pub(super) fn on(sides: &Sides<'_>) -> Vec<Step> {
    let new = &sides.new.site;
    let step = |text: String| Step::new("check", text);
    let mut steps = vec![step("Tug every conductor that was landed; no bare copper outside a terminal".into())];
    let (dark, blank) = (dark(sides), tried::blank(sides));
    for (id, board) in new.boards.entries().filter(|(_, board)| dark.contains(&board.name.value)) {
        let called = Paper.board(new, id);
        let is_alone = sides.alone.has(id);
        if blank.contains(&id) && power_up::is_powered(board) && !is_alone {
            let all = power_up::steps(sides.new, id).into_iter();
            steps.extend(all.map(|one| step(format!("{called}: {}", one.words()))));
            continue;
        }
        let left = fittings::left_at(sides, id);
        let mains = board.transformer.as_ref().or(left.0).map(|_| procedure::mains_on());
        let battery = board.battery.as_ref().or(left.1).map(|battery| procedure::lead_on(battery).to_owned());
        let texts = in_order(procedure::Order::of_board(new, id), [mains, battery], |text| text);
        steps.extend(texts.into_iter().map(|text| step(format!("{called}: {text}"))));
        if is_alone {
            steps.push(step(format!("{called}: {}", power_up::landed(new, id))));
        }
        // The walk-test is on the installer's paper alone.
        let sounders = if blank.contains(&id) { alone::sounders(sides, id) } else { Vec::new() };
        if !sounders.is_empty() {
            let text = format!("its sounders stay capped until the installer's walk-test ({})", sounders.join("; "));
            steps.push(step(format!("{called}: {text}")));
        }
    }
    let again = fed_elsewhere(sides).into_iter().map(|(name, title, _)| {
        let name = sides.found.diff.now(name).key;
        let gone = if new.circuit_named(&name).is_none() { ", where it stays in the house" } else { "" };
        step(format!("{title}: switch its own supply on again{gone}"))
    });
    steps.extend(again);
    steps
}

/// The circuits of the old site that are a contact and no more, with title and cables, of which a cable, the load or the board is
/// touched: the load's own supply is on their conductors, which no board makes dark.
fn fed_elsewhere(sides: &Sides<'_>) -> Vec<(Subject, String, String)> {
    let Compiled { site, wiring, .. } = sides.old;
    let of = |change: &Change| change.old.as_ref().and_then(|(_, thing)| Some(thing.of.as_ref()?.key.clone()));
    let was = |change: &Change| change.old.as_ref().map(|(subject, _)| subject.key.clone());
    let cables = sides.changes(Kind::Cable).filter(|change| !touched::is_on_paper(sides, change)).filter_map(was);
    let cables: BTreeSet<String> = cables.chain(sides.changes(Kind::Conductor).filter_map(of)).collect();
    let devices = sides.changes(Kind::Device).filter(|change| !touched::is_on_paper(sides, change)).filter_map(was);
    let devices = devices.filter_map(|key| site.devices[*sides.old_keys.devices.get(&key)?].run);
    let owners: BTreeSet<Owner> = devices.map(|run| site.runs[run].owner).collect();
    let lifted = |change: &&Change| change.new.is_none() || is_touched(change);
    let boards: BTreeSet<String> = sides.changes(Kind::Board).filter(lifted).filter_map(was).collect();
    let mut found = Vec::new();
    for (id, circuit) in site.circuits.entries().filter(|(_, circuit)| circuit.feed.is_none()) {
        let owner = Owner::Circuit(id);
        let labels = site.runs_of(owner).filter_map(|(run, _)| Some(wiring.cable_of(run)?.label.clone()));
        let labels: Vec<String> = labels.collect();
        let home = site.home(owner).is_some_and(|board| boards.contains(&site.boards[board].name.value));
        if home || owners.contains(&owner) || labels.iter().any(|label| cables.contains(label)) {
            let name = Subject::new(Kind::Circuit, circuit.name.value.as_str());
            found.push((name, circuit.title.clone(), list(&labels, "and")));
        }
    }
    found
}

/// The steps for the two supplies of a board, given in the order of common practice; `last` says the last.
fn in_order(
    order: procedure::Order,
    supplies: [Option<String>; 2],
    last: impl FnOnce(String) -> String,
) -> Vec<String> {
    let mut texts: Vec<String> = supplies.into_iter().flatten().collect();
    if order == procedure::Order::BatteryFirst {
        texts.reverse();
    }
    if let Some(end) = texts.pop() {
        let end = if texts.is_empty() { end } else { format!("then {end}") };
        texts.push(last(end));
    }
    texts
}

/// Whether a zone is for fire, carbon monoxide or fuel gas.
pub(super) fn is_life_safety(zone: &Zone) -> bool {
    zone.reserved.is_none()
        && zone.kind.as_ref().is_some_and(|kind| {
            matches!(
                kind.value,
                ZoneType::Fire | ZoneType::Smoke | ZoneType::Heat | ZoneType::CarbonMonoxide | ZoneType::Gas
            )
        })
}

/// Zones of fire and gas detection that are out of service while the boards are dark: those on one of them, and those with a
/// detector that is fed by one.
pub(super) fn fire_zones(sides: &Sides<'_>) -> Vec<u32> {
    let site = &sides.old.site;
    let dark = dark(sides);
    let is_dark = |board: Id<Board>| {
        let mut above = BTreeSet::new();
        add_feeding(site, board, &mut above);
        above.iter().any(|board| dark.contains(&now(sides, &site.boards[*board])))
    };
    let heard = |device: &Device| device.receiver.as_ref().map(|board| board.value);
    let out = |(id, zone): &(Id<Zone>, &Zone)| {
        let devices = || site.devices_of(*id).map(|(_, device)| device);
        let fed = devices().filter_map(|device| Some(device.supply.as_ref()?.value.board));
        let boards = site.home(Owner::Zone(*id)).into_iter().chain(fed).chain(devices().filter_map(heard));
        is_life_safety(zone) && boards.into_iter().any(is_dark)
    };
    site.zones.entries().filter(out).map(|(_, zone)| zone.number.value).collect()
}

fn zones(numbers: &[u32]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    let noun = if numbers.len() == 1 { "zone" } else { "zones" };
    format!("the fire and gas detectors of {noun} {}", list(&numbers, "and"))
}

/// The name that a board of the old site has in the new one.
fn now(sides: &Sides<'_>, board: &Board) -> String {
    sides.found.diff.now(Subject::new(Kind::Board, board.name.value.as_str())).key
}

/// The boards that are dark, by their names in the new site. Where nothing says what the work touches, all are.
fn dark(sides: &Sides<'_>) -> BTreeSet<String> {
    let before = worked_on(sides, sides.old, |change| &change.old);
    let after = worked_on(sides, sides.new, |change| &change.new);
    let before = before.iter().map(|board| now(sides, &sides.old.site.boards[*board]));
    let after = after.iter().map(|board| sides.new.site.boards[*board].name.value.clone());
    let found: BTreeSet<String> = before.chain(after).collect();
    let is_fed = |board: &&Board| board.transformer.is_some() || board.battery.is_some();
    let has = |site: &Site, named: &dyn Fn(&Board) -> String| {
        site.boards.iter().filter(is_fed).any(|board| found.contains(&named(board)))
    };
    if has(&sides.old.site, &|board| now(sides, board)) || has(&sides.new.site, &|board| board.name.value.clone()) {
        return found;
    }
    let old = sides.old.site.boards.iter().map(|board| now(sides, board));
    old.chain(sides.new.site.boards.iter().map(|board| board.name.value.clone())).collect()
}

/// The boards of one revision that the work touches, with all that feed them.
fn worked_on(sides: &Sides<'_>, side: &Compiled, of: fn(&Change) -> &Option<(Subject, Thing)>) -> BTreeSet<Id<Board>> {
    let site = &side.site;
    let keys = if std::ptr::eq(side, sides.old) { &sides.old_keys } else { &sides.new_keys };
    let mut boards = BTreeSet::new();
    for change in &sides.found.diff.changes {
        let Some((subject, thing)) = of(change) else { continue };
        match subject.kind {
            // Only called otherwise.
            Kind::Board if change.new.is_some() && change.old.is_some() && change.fields.iter().all(is_said) => {}
            Kind::Board => {
                let Some(board) = super::boards::board(site, subject) else { continue };
                boards.extend([board]);
                if change.new.is_none() || is_touched(change) || change.field(fact::Board::joined_by).is_some() {
                    add_lifted(side, board, &mut boards);
                }
            }
            Kind::Device | Kind::Cable if touched::is_on_paper(sides, change) => {}
            Kind::Device => {
                let Some(device) = keys.devices.get(&subject.key).map(|id| &site.devices[*id]) else { continue };
                boards.extend(device.zone.and_then(|zone| site.home(Owner::Zone(zone))));
                boards.extend(device.supply.as_ref().map(|supply| supply.value.board));
                let feeds = device.fed_by.iter().filter_map(|circuit| site.circuits[*circuit].feed.as_ref());
                boards.extend(feeds.map(|feed| feed.value.board));
                boards.extend(device.board.as_ref().map(|board| board.value));
                boards.extend(device.run.and_then(|run| site.home(site.runs[run].owner)));
            }
            Kind::Cable => add_cable(side, keys.cable(side, &subject.key), &mut boards),
            Kind::Conductor => {
                let of = thing.of.as_ref().and_then(|of| keys.cable(side, &of.key));
                add_cable(side, of, &mut boards);
            }
            Kind::Zone => {
                let wired = [fact::Loop::board, fact::Loop::input, fact::Loop::wiring, fact::Loop::chain];
                let other = change.old.is_none()
                    || change.new.is_none()
                    || wired.iter().any(|field| change.field(field).is_some());
                let zone = site.zone_printed(&subject.key);
                boards.extend(zone.filter(|_| other).and_then(|(id, _)| site.home(Owner::Zone(id))));
            }
            // Its speed is programmed.
            Kind::Bus
                if change.fields.iter().any(|field| field.field != fact::Bus::bits_per_second)
                    || change.fields.is_empty() =>
            {
                let bus = site.bus_named(&subject.key);
                if let Some((id, _)) = bus {
                    add_bus(site, id, &mut boards);
                }
            }
            Kind::Circuit => {
                let circuit = site.circuit_named(&subject.key);
                let Some((id, circuit)) = circuit else { continue };
                boards.extend(site.home(Owner::Circuit(id)));
                boards.extend(circuit.feed.as_ref().map(|feed| feed.value.board));
            }
            Kind::Communicator => {
                let way = site.communicator_named(&subject.key);
                boards.extend(way.and_then(|(id, _)| site.home(Owner::Communicator(id))));
            }
            Kind::Site
            | Kind::Level
            | Kind::Room
            | Kind::Opening
            | Kind::Bus
            | Kind::Area
            | Kind::Spare
            | Kind::Monitoring
            | Kind::CableType
            | Kind::Part
            | Kind::Accept => {}
        }
    }
    let mut all = BTreeSet::new();
    for board in boards {
        add_feeding(site, board, &mut all);
    }
    all
}

/// Whether a field of a board is a word on paper: no hand is laid on the board for it.
fn is_said(field: &FieldChange) -> bool {
    let was_there = [fact::Board::existing, fact::Battery::existing, fact::Transformer::existing];
    let is = |names: &[&str]| names.contains(&field.field.as_str());
    is(&[fact::Board::title, fact::Board::spot]) || is(&was_there) && field.new.is_some()
}

/// What gives a supply to the conductors at a board, which are lifted with it: each of their cables may be fed from its other end.
fn add_lifted(side: &Compiled, board: Id<Board>, boards: &mut BTreeSet<Id<Board>>) {
    let site = &side.site;
    let is_here = |used: &ConductorUse| used.near.iter().chain(&used.far).any(|point| point.board() == Some(board));
    for cable in &side.wiring.cables {
        let ends_here = [End::Near, End::Far].iter().any(|end| cable.place(site, *end) == Place::Board(board));
        if ends_here || cable.conductors.iter().any(is_here) {
            add_cable(side, Some(cable), boards);
        }
    }
    // The loop of a power supply's fault contact is another board's.
    let faults = site.devices.iter().filter(|device| device.board.as_ref().is_some_and(|at| at.value == board));
    boards.extend(faults.filter_map(|device| site.home(Owner::Zone(device.zone?))));
}

/// The boards at which a cable ends or is joined, and those that feed what is in it.
fn add_cable(side: &Compiled, cable: Option<&Cable>, boards: &mut BTreeSet<Id<Board>>) {
    let (site, Some(cable)) = (&side.site, cable) else { return };
    let at = [End::Near, End::Far].map(|end| cable.place(site, end));
    boards.extend(at.into_iter().filter_map(|at| if let Place::Board(board) = at { Some(board) } else { None }));
    for run in &cable.carries {
        let owner = site.runs[*run].owner;
        boards.extend(site.home(owner));
        match owner {
            Owner::Bus(bus) => add_bus(site, bus, boards),
            Owner::Circuit(circuit) => boards.extend(site.circuits[circuit].feed.as_ref().map(|feed| feed.value.board)),
            Owner::Transformer(board) => boards.extend([board]),
            Owner::Zone(_) | Owner::Spare(_) | Owner::Communicator(_) => {}
        }
    }
    for used in &cable.conductors {
        boards.extend(used.function.output().map(|output| output.board));
        boards.extend(used.near.iter().chain(&used.far).filter_map(Point::board));
    }
}

/// A bus is one conductor from end to end: whatever is on it feeds it, or may.
fn add_bus(site: &Site, bus: Id<Bus>, boards: &mut BTreeSet<Id<Board>>) {
    boards.extend(site.buses[bus].board.as_ref().map(|board| board.value));
    boards.extend(site.boards_on(bus).map(|(board, _)| board));
}

/// A board, and all that feed it.
fn add_feeding(site: &Site, board: Id<Board>, all: &mut BTreeSet<Id<Board>>) {
    if !all.insert(board) {
        return;
    }
    if let BoardKind::Strip { feed: Some(feed), .. } = &site.boards[board].kind {
        add_feeding(site, feed.board, all);
    }
    let bus = site.boards[board].bus.and_then(|(bus, _)| site.buses[bus].board.as_ref());
    if let Some(head) = bus {
        add_feeding(site, head.value, all);
    }
}
