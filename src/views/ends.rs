//! Where a conductor goes on at an end of its cable, in words.

use std::fmt;

use crate::base::Id;
use crate::labels;
use crate::model::{Board, Communicator, Device, Run, Site};
use crate::profiles::connectors;
use crate::register::{ConductorUse, End, Function, Point, Wiring};
use crate::terms::Path;
use crate::words::{self, Paper};

/// Something that a conductor meets at an end, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Met {
    /// A conductor of another cable, joined to it.
    Conductor(String),
    /// A conductor of the cable that goes on, under the same terminal of the device: in and out, no tee.
    SameTerminal(String),
    /// A joint in a board's enclosure.
    Joint(String),
    /// A cable by which a loop goes on from here: "on by Z17-2 to Bedroom east, shed window".
    Onward(String),
    /// A terminal, a device, or whatever else it lands on.
    Place(String),
    /// The terminal of the next device at the same place: a conductor is under one screw only.
    ShortWire(String),
}

impl fmt::Display for Met {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Conductor(conductor) => write!(f, "joined to {conductor}"),
            Self::SameTerminal(conductor) => write!(f, "with {conductor} under the same terminal"),
            Self::Joint(words) | Self::Onward(words) | Self::Place(words) => f.write_str(words),
            Self::ShortWire(terminal) => write!(f, "from there a short wire to {terminal}"),
        }
    }
}

/// Where a conductor goes on: boards' terminals, devices, and, where no terminal holds them together, the cables
/// that go on from there. A loop's resistor is no place to go to: it stands in the loop's path.
pub(crate) fn met(site: &Site, wiring: &Wiring, used: &ConductorUse, points: &[Point]) -> Vec<Met> {
    met_at(site, wiring, used, points).into_iter().map(|(_, met)| met).collect()
}

/// The same with the points: of two things that are called alike, which one it is.
pub(crate) fn met_at<'p>(
    site: &Site,
    wiring: &Wiring,
    used: &ConductorUse,
    points: &'p [Point],
) -> Vec<(&'p Point, Met)> {
    let landed = points.iter().any(|point| matches!(point, Point::Terminal(..)));
    let passes = passed(site, wiring, used, points).is_some();
    let mut met = Vec::new();
    for point in points {
        match words_of(site, wiring, used, point, landed, passes) {
            Some(Met::Place(terminal))
                if matches!(point, Point::Device(..)) && used.function.zone().is_none() && !met.is_empty() =>
            {
                met.push((point, Met::ShortWire(terminal)));
            }
            words => met.extend(words.map(|words| (point, words))),
        }
    }
    // A pair beside its own is in the same joint; under a terminal it has a row of its own.
    if let Some(at) = met.iter().position(|(_, met)| matches!(met, Met::Conductor(_))).filter(|_| !landed && !passes)
        && let Some(beside) = beside(site, wiring, used)
        && let Some((point, _)) = met.get(at)
    {
        met.insert(at, (*point, Met::Conductor(beside)));
    }
    let under = |met| if passes { under_the_same(met) } else { met };
    met.into_iter().map(|(point, met)| (point, under(met))).collect()
}

/// The other conductors of its cable that do the same between the same two ends.
fn beside(site: &Site, wiring: &Wiring, used: &ConductorUse) -> Option<String> {
    let (cable, all) = wiring.conductors_for(used.run, used.function)?;
    let others: Vec<&ConductorUse> = all.into_iter().filter(|other| *other != used && other.is_beside(used)).collect();
    (!others.is_empty()).then(|| words::labelled_all(site, cable, &others))
}

/// The device under whose own terminal a conductor comes in and goes on by one cable, the mark there, and that cable: of
/// a supply, and of a loop where the device's contact lies across the pair, because a tail teed to either is not watched.
pub(crate) fn passed<'p>(
    site: &Site,
    wiring: &Wiring,
    used: &ConductorUse,
    points: &'p [Point],
) -> Option<(Id<Device>, &'p str, Id<Run>)> {
    let [Point::Device(device, mark), Point::Cable(on)] = points else { return None };
    // At a cable's start its points name the cable before it only; others may start there as well.
    let alone = site.runs[used.run].upstream != Some(*on)
        || wiring
            .conductor_for(*on, used.function)
            .is_some_and(|(_, before)| before.far.iter().filter(|point| matches!(point, Point::Cable(_))).count() == 1);
    let passes = used.function.output().is_some() || used.function.zone().is_some() && is_only_across(site, *device);
    (alone && passes).then_some((*device, mark, *on))
}

/// True for a device whose one contact in the loop lies across the pair, with nothing in series and no resistor.
fn is_only_across(site: &Site, id: Id<Device>) -> bool {
    let device = &site.devices[id];
    site.is_open_at_rest(id) && !device.tamper_in_loop && device.shunt.is_none()
}

fn under_the_same(met: Met) -> Met {
    match met {
        Met::Conductor(conductor) => Met::SameTerminal(conductor),
        other @ (Met::SameTerminal(_) | Met::Joint(_) | Met::Onward(_) | Met::Place(_) | Met::ShortWire(_)) => other,
    }
}

/// The same as one text: "Motion, hall, terminal +; joined to RD of Z3".
pub(crate) fn meets(site: &Site, wiring: &Wiring, used: &ConductorUse, points: &[Point]) -> String {
    together(&met(site, wiring, used, points))
}

/// The same of one of its ends, for whoever stands at the other: with the enclosure in which it is joined there.
pub(crate) fn there(site: &Site, wiring: &Wiring, used: &ConductorUse, end: End) -> String {
    if let Some(board) = used.unused_at(site, end) {
        return format!("parked in {}", Paper.board(site, board));
    }
    let met = meets(site, wiring, used, used.points(end));
    match used.joined_in(site, end) {
        Some((board, _)) if !met.is_empty() => format!("in {}: {met}", Paper.board(site, board)),
        Some(_) | None => met,
    }
}

/// The same of the end at which a conductor's cable starts: everything that it is joined to in the place where the cable
/// before it ends, that cable's conductor first.
pub(crate) fn at_start(site: &Site, wiring: &Wiring, used: &ConductorUse) -> String {
    let before = site.runs[used.run].upstream.and_then(|run| wiring.conductor_for(run, used.function));
    let own = wiring.conductors_for(used.run, used.function);
    let own = own.map(|(cable, all)| Met::Conductor(words::labelled_all(site, cable, &all)));
    let Some((cable, from)) = before.filter(|_| used.function.pin().is_none()) else {
        return meets(site, wiring, used, &used.near);
    };
    let all = wiring.conductors_for(from.run, from.function).map(|(_, all)| all).unwrap_or_default();
    let comes = Met::Conductor(words::labelled_all(site, cable, &all));
    if passed(site, wiring, from, &from.far).is_some() {
        let device = met(site, wiring, from, &from.far).into_iter().take(1);
        return together(&device.chain([under_the_same(comes)]).collect::<Vec<_>>());
    }
    // What is beside the one before has come with it.
    let with = [own, beside(site, wiring, from).map(Met::Conductor)];
    let there = met(site, wiring, from, &from.far).into_iter().filter(|met| !with.contains(&Some(met.clone())));
    let own_beside = beside(site, wiring, used)
        .filter(|_| from.far.iter().all(|point| !matches!(point, Point::Terminal(..) | Point::Device(..))));
    together(&std::iter::once(comes).chain(own_beside.map(Met::Conductor)).chain(there).collect::<Vec<_>>())
}

/// Several as one text; of conductors in one joint it is said once that they are joined.
pub(crate) fn together(met: &[Met]) -> String {
    let mut text = String::new();
    let mut before: Option<&Met> = None;
    for one in met {
        match (before, one) {
            (None, one) => text.push_str(&one.to_string()),
            (Some(Met::Conductor(_)), Met::Conductor(conductor)) => text.extend([", ", conductor.as_str()]),
            (Some(_), one) => text.extend(["; ", one.to_string().as_str()]),
        }
        before = Some(one);
    }
    text
}

/// The thing and its screw or pin, where a conductor lands on one that has a name: "Motion, hall" and "terminal +".
pub(crate) fn screw(site: &Site, used: &ConductorUse, point: &Point, passes: bool) -> Option<(String, String)> {
    let in_loop = used.function.zone().is_some();
    match point {
        Point::Terminal(board, mark) => Some((Paper.board(site, *board), format!("terminal {mark}"))),
        Point::Device(device, mark) if in_loop && passes => {
            Some((words::placed(site, *device), format!("{mark} terminal")))
        }
        Point::Device(device, mark) if !in_loop => Some((words::placed(site, *device), format!("terminal {mark}"))),
        Point::Socket(board) => match used.function.pin() {
            Some(pin) => Some((format!("{}, network socket", Paper.board(site, *board)), format!("pin {pin}"))),
            None => Some((Paper.board(site, *board), socket(used.function))),
        },
        Point::Hop(hop) => Some((site.hop(*hop)?.name.value.clone(), used.function.wire_use().printed().to_owned())),
        Point::WayOut(way, nth) => way_out_screw(&site.communicators[*way], *nth, used.function),
        Point::Device(..)
        | Point::Resistor(_)
        | Point::Terminator(_)
        | Point::Cable(_)
        | Point::Joint(..)
        | Point::Transformer(_) => None,
    }
}

fn words_of(
    site: &Site,
    wiring: &Wiring,
    used: &ConductorUse,
    point: &Point,
    landed: bool,
    passes: bool,
) -> Option<Met> {
    let place = |words: String| Some(Met::Place(words));
    let in_loop = used.function.zone().is_some();
    if let Some((thing, screw)) = screw(site, used, point, passes) {
        return place(format!("{thing}, {screw}"));
    }
    match point {
        // Which of the device's terminals a loop's conductor meets depends on the order in the loop.
        Point::Device(device, _) => place(words::placed(site, *device)),
        Point::Resistor(_) => None,
        // A terminator at a board is listed among what is fitted there; and a terminal on which two cables meet says
        // it all: which ones they are stands in that board's own table.
        Point::Terminator(_) | Point::Cable(_) if landed => None,
        Point::Terminator(value) => {
            place(format!("terminator {} across the data conductors", words::terminator(*value)))
        }
        Point::Cable(run) if in_loop && !passes => {
            let cable = wiring.cable_of(*run)?;
            Some(Met::Onward(format!("on by {} to {}", cable.label, labels::end_in_room(site, *run))))
        }
        Point::Cable(run) => {
            let (cable, next) = wiring.conductors_for(*run, used.function)?;
            Some(Met::Conductor(words::labelled_all(site, cable, &next)))
        }
        Point::Transformer(board) => place(words::transformer(&site.boards[*board], used.function == Function::AcA)),
        Point::WayOut(way, _) => place(way_out(&site.communicators[*way]).to_owned()),
        // A screw of something, which has been told.
        Point::Terminal(..) | Point::Socket(_) | Point::Hop(_) => None,
        Point::Joint(board, run) => joint(site, wiring, *board, *run, used.function),
    }
}

/// A socket of a board or a powered device: "network socket, pin 3".
pub(crate) fn socket(function: Function) -> String {
    function.pin().map_or_else(|| "antenna socket".to_owned(), |pin| format!("network socket, pin {pin}"))
}

/// What a cable of a way to the monitoring service ends at, by its position among these, and where on it. It has no node with
/// terminals in the spec.
fn way_out_screw(way: &Communicator, nth: u32, function: Function) -> Option<(String, String)> {
    match way.path.as_ref().map(|path| path.value) {
        Some(Path::Internet) => {
            let hop = way.hops.get(nth as usize).map_or("router", |hop| hop.name.value.as_str());
            Some((format!("{hop}, network socket"), format!("pin {}", function.pin()?)))
        }
        Some(Path::Radio) => None,
        Some(Path::Telephone) | None => {
            let position = connectors::position(way.jack?, function.wire_use())?;
            Some(("the line's jack".to_owned(), format!("position {position}")))
        }
    }
}

/// The same where it has no screw or pin with a name.
fn way_out(way: &Communicator) -> &'static str {
    match way.path.as_ref().map(|path| path.value) {
        Some(Path::Radio) => "the antenna",
        Some(Path::Internet) => "router",
        Some(Path::Telephone) | None if way.jack.is_some() => "no position of the line's jack: cap it",
        Some(Path::Telephone) | None => "the line's jack",
    }
}

/// In a series loop one cable's back meets the next one's out.
fn joint(site: &Site, wiring: &Wiring, board: Id<Board>, run: Id<Run>, function: Function) -> Option<Met> {
    let (cable, used) = wiring.conductor_for(run, function.other_side())?;
    let other = words::labelled(site, cable, used);
    Some(Met::Joint(format!("joint in the enclosure of {} with {other}", Paper.board(site, board))))
}
