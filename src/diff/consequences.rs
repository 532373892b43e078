//! What follows from a diff: readings, volts, hours of battery, landings. The figures are those of the calculations of
//! both sides.

use std::collections::{BTreeMap, BTreeSet};

use super::{Change, Diff, Kind, Subject, What};
use crate::base::Id;
use crate::calc::power::{Consumer, Demand, Supply, standby};
use crate::calc::{LoopReadings, State, StateReading};
use crate::compiled::Compiled;
use crate::model::{Board, Owner, Zone};
use crate::quantity::{Seconds, Volts};
use crate::record::{Names, fact};

/// One thing that follows.
#[derive(Clone, Debug, PartialEq)]
pub enum Consequence {
    /// The reading at rest of a loop that is in both sites changed.
    Reads {
        /// The zone's number in the new site.
        zone: u32,
        /// Before.
        old: Nominal,
        /// Now.
        new: Nominal,
    },
    /// The reading of a loop with one contact in alarm changed: of a loop and a contact that are in both sites.
    Alarm {
        /// The zone's number in the new site.
        zone: u32,
        /// The contact in the new site.
        device: Subject,
        /// Before.
        old: Nominal,
        /// Now.
        new: Nominal,
    },
    /// Other volts arrive at a detector, sounder or board that is in both sites: in alarm, hot wire, at the end of the
    /// battery; on mains where one of the two has no battery.
    Volts {
        /// What it is in the new site.
        subject: Subject,
        /// Before.
        old: Volts,
        /// Now.
        new: Volts,
    },
    /// A board's battery lasts longer or shorter at rest, new and warm.
    Battery {
        /// The board in the new site.
        board: Subject,
        /// Before.
        old: Seconds,
        /// Now.
        new: Seconds,
    },
    /// A conductor of a cable that stays lands elsewhere, or does something else.
    Lands {
        /// The cable's label.
        cable: String,
        /// Position of the change in [`Diff::changes`].
        change: usize,
    },
}

/// A loop's nominal readings in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nominal {
    /// Ohms at the leads; infinite for no connection.
    pub(crate) ohms: f64,
    /// Volts at the terminals, where the board's sensing is known.
    pub(crate) volts: Option<f64>,
}

/// Ohms that differ by less than this cannot be told apart with a meter.
const TELLING_OHMS: f64 = 0.05;
/// The same in volts.
const TELLING_VOLTS: f64 = 0.005;
/// Volts at a device, or of a loop in alarm, that are worth a line; less comes and goes with the weather.
const WORTH_VOLTS: f64 = 0.05;
/// Share of a battery's time, or of a loop's ohms in alarm, that is worth a line.
const TELLING_SHARE: f64 = 0.01;

/// Everything that follows from a diff.
pub(crate) fn of(diff: &Diff, old: &Compiled, new: &Compiled) -> Vec<Consequence> {
    let mut found = Vec::new();
    let gone: BTreeSet<&Subject> =
        diff.changes.iter().filter(|change| change.what() == What::Removed).filter_map(Change::subject).collect();
    let kept = |subject: Subject| (!gone.contains(&subject)).then(|| diff.now(subject));
    let before = at_rest_of_all(old, &kept);
    let after = at_rest_of_all(new, &Some);
    let renumbered: BTreeMap<&str, &str> = diff
        .renamed
        .iter()
        .filter(|(subject, _)| subject.kind == Kind::Zone)
        .map(|(old, new)| (old.key.as_str(), new.key.as_str()))
        .collect();
    let now = |number: u32| {
        let key = number.to_string();
        renumbered.get(key.as_str()).and_then(|key| key.parse().ok()).unwrap_or(number)
    };
    for (number, (was, had)) in before {
        let number = now(number);
        // A number that stands at another loop now has no reading of before.
        let is_same = |has: &BTreeSet<Subject>| *has == had || !has.is_disjoint(&had);
        let Some((is, _)) = after.get(&number).filter(|(_, has)| is_same(has)) else { continue };
        if differs(was, *is) {
            found.push(Consequence::Reads { zone: number, old: was, new: *is });
        }
    }
    let after = alarms(new);
    for ((number, device), was) in alarms(old) {
        let (number, Some(device)) = (now(number), kept(device)) else { continue };
        let Some(is) = after.get(&(number, device.clone())) else { continue };
        if differs(was, *is) && is_worth_measuring(was, *is) {
            found.push(Consequence::Alarm { zone: number, device, old: was, new: *is });
        }
    }
    found.extend(supplies(diff, old, new));
    for (position, change) in diff.changes.iter().enumerate() {
        let Some(subject) = change.subject().filter(|subject| subject.kind == Kind::Conductor) else { continue };
        let landing = [fact::Conductor::near, fact::Conductor::far, fact::Conductor::does]
            .iter()
            .any(|field| change.field(field).is_some());
        if landing && matches!(change.what(), What::Changed | What::Moved) {
            let cable = change.thing().and_then(|thing| thing.of.as_ref()).map_or(&subject.key, |cable| &cable.key);
            found.push(Consequence::Lands { cable: cable.clone(), change: position });
        }
    }
    found
}

/// Volts that arrive, and hours of batteries.
fn supplies(diff: &Diff, old: &Compiled, new: &Compiled) -> Vec<Consequence> {
    let mut found = Vec::new();
    let after = volts(new);
    for (subject, was) in volts(old) {
        let subject = diff.now(subject);
        if let Some(is) = after.get(&subject)
            && let Some((was, is)) = was.battery.zip(is.battery).or(was.mains.zip(is.mains))
            && (was.0 - is.0).abs() >= WORTH_VOLTS
        {
            found.push(Consequence::Volts { subject, old: was, new: is });
        }
    }
    let after = hours(new);
    for (board, was) in hours(old) {
        let board = diff.now(board);
        if let Some(is) = after.get(&board)
            && (was.0 - is.0).abs() > was.0 * TELLING_SHARE
        {
            found.push(Consequence::Battery { board, old: was, new: *is });
        }
    }
    found
}

/// The least volts at a consumer in alarm, by what gives them: the two are no change of one another.
#[derive(Clone, Copy, Default)]
struct Arriving {
    battery: Option<Volts>,
    mains: Option<Volts>,
}

/// What arrives at every consumer that is told by its sheet to need some.
fn volts(side: &Compiled) -> BTreeMap<Subject, Arriving> {
    let names = Names::of(&side.site, &side.wiring);
    let mut found: BTreeMap<Subject, Arriving> = BTreeMap::new();
    for feeding in &side.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let subject = match load.consumer {
                Consumer::Device(id) => names.device(id).subject,
                Consumer::Board(id) => names.board(id).subject,
                Consumer::Hop(..) => continue,
            };
            let arriving = found.entry(subject).or_default();
            for (least, supply) in [(&mut arriving.battery, Supply::Battery), (&mut arriving.mains, Supply::Mains)] {
                if let Some((hot, _)) = feeding.volts(node, supply, Demand::Alarm) {
                    *least = Some(least.map_or(hot, |other| Volts(other.0.min(hot.0))));
                }
            }
        }
    }
    found
}

/// How long every board's battery lasts at rest.
fn hours(side: &Compiled) -> BTreeMap<Subject, Seconds> {
    let of_board = |(id, board): (Id<Board>, &Board)| {
        let capacity = standby::Bank::of(&side.site, id)?.capacity;
        let hours = standby::lasts(capacity, standby::currents(&side.site, &side.power, id).idle, standby::PEUKERT);
        hours
            .is_finite()
            .then(|| (Subject { kind: Kind::Board, key: board.name.value.clone() }, Seconds(hours * 3600.0)))
    };
    side.site.boards.entries().filter_map(of_board).collect()
}

/// The nominal readings of every loop at rest, by zone, each with what is in it, as `called`.
fn at_rest_of_all(
    side: &Compiled,
    called: &dyn Fn(Subject) -> Option<Subject>,
) -> BTreeMap<u32, (Nominal, BTreeSet<Subject>)> {
    let (site, names) = (&side.site, Names::of(&side.site, &side.wiring));
    let of_loop = |(id, readings): (&Id<Zone>, &LoopReadings)| {
        let devices = site.devices_of(*id).map(|(device, _)| names.device(device).subject);
        let runs = site.runs_of(Owner::Zone(*id)).map(|(run, _)| names.run(run).subject);
        let held = devices.chain(runs).filter_map(called).collect();
        Some((site.zones[*id].number.value, (at_rest(readings)?, held)))
    };
    side.loops.iter().filter_map(of_loop).collect()
}

/// The nominal readings of every loop with one contact in alarm, by zone and contact.
fn alarms(side: &Compiled) -> BTreeMap<(u32, Subject), Nominal> {
    let names = Names::of(&side.site, &side.wiring);
    let of_loop = |(id, readings): (&Id<Zone>, &LoopReadings)| -> Vec<((u32, Subject), Nominal)> {
        let one = |reading: &StateReading| {
            let State::Alarm(device) = reading.state else { return None };
            Some(((side.site.zones[*id].number.value, names.device(device).subject), Nominal::of(reading)))
        };
        readings.states.iter().filter_map(one).collect()
    };
    side.loops.iter().flat_map(of_loop).collect()
}

/// The nominal readings of a loop at rest.
pub(crate) fn at_rest(readings: &LoopReadings) -> Option<Nominal> {
    readings.states.iter().find(|reading| reading.state == State::Normal).map(Nominal::of)
}

impl Nominal {
    fn of(reading: &StateReading) -> Self {
        Self { ohms: reading.ohms.nominal, volts: reading.volts.map(|volts| volts.nominal) }
    }
}

/// Whether a reading in alarm differs by more than a longer cable makes.
fn is_worth_measuring(old: Nominal, new: Nominal) -> bool {
    let volts = |read: Nominal| read.volts.unwrap_or_default();
    old.ohms.is_infinite() != new.ohms.is_infinite()
        || (old.ohms - new.ohms).abs() >= old.ohms * TELLING_SHARE
        || (volts(old) - volts(new)).abs() >= WORTH_VOLTS
}

fn differs(old: Nominal, new: Nominal) -> bool {
    let apart = |a: f64, b: f64, least: f64| a.is_infinite() != b.is_infinite() || (a - b).abs() >= least;
    let volts = match (old.volts, new.volts) {
        (Some(a), Some(b)) => apart(a, b, TELLING_VOLTS),
        (a, b) => a.is_some() != b.is_some(),
    };
    volts || apart(old.ohms, new.ohms, TELLING_OHMS)
}
