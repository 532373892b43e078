//! The way to the monitoring service.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Id, Spanned};
use crate::quantity::{Seconds, Volts};
use crate::terms::{EventGroup, Format, JackKind, Path, PinOrder, Service};

use super::board::Board;
use super::part::Take;
use super::run::{Circuit, Mounted, Owner, Run};
use super::site::Site;

/// A way of reaching the monitoring service.
#[derive(Clone, Debug, PartialEq)]
pub struct Communicator {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// What it goes over; `None` where that was reported.
    pub path: Option<Spanned<Path>>,
    /// What kind of service comes in.
    pub service: Option<Service>,
    /// How the board is put in the telephone line.
    pub jack: Option<JackKind>,
    /// The board that reports, where it is not the adapter.
    pub board: Option<Id<Board>>,
    /// The board whose line port it uses, and the port's position in the part; of a telephone line only.
    pub port: Option<(Id<Board>, usize)>,
    /// The bus module that is the adapter.
    pub module: Option<Spanned<Id<Board>>>,
    /// The table by which its network cables are wired, where the spec says so.
    pub pin_order: Option<Spanned<PinOrder>>,
    /// Within what time the service misses it when it has fallen silent.
    pub supervised_every: Option<Spanned<Seconds>>,
    /// The first cable of this way: to the line's jack, to the first powered device, to the antenna.
    pub run: Option<Id<Run>>,
    /// Powered devices on the way, in order.
    pub hops: Vec<Hop>,
}

impl Communicator {
    /// True of a telephone line.
    pub(crate) fn is_telephone(&self) -> bool {
        self.path.as_ref().is_some_and(|path| path.value == Path::Telephone)
    }

    /// The board at which its cable starts: that of the line port, else the adapter, else the board that reports.
    pub fn starts_at(&self) -> Option<Id<Board>> {
        let module = self.module.as_ref().map(|module| module.value);
        self.port.map(|(board, _)| board).or(module).or(self.board)
    }

    /// True where it comes in on a line from the street.
    pub(crate) fn comes_by_line(&self) -> bool {
        let mobile = self.service == Some(Service::Mobile);
        self.path.as_ref().is_some_and(|path| match path.value {
            Path::Telephone | Path::Internet => !mobile,
            Path::Radio => false,
        })
    }
}

/// A powered device on a way: the way, and its position among the devices there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HopRef {
    /// The way to the monitoring service.
    pub line: Id<Communicator>,
    /// Position in [`Communicator::hops`].
    pub hop: usize,
}

/// A powered device on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Hop {
    /// What it is.
    pub name: Spanned<String>,
    /// The name that a circuit's feed and other hops refer to.
    pub reference: Option<Spanned<String>>,
    /// The panel's output that feeds it by a cable that is not in the spec.
    pub output: Option<Spanned<String>>,
    /// Circuits that feed it by name, with the place of the feed.
    pub fed_by: Vec<Spanned<Id<Circuit>>>,
    /// The hop that feeds it.
    pub from: Option<Spanned<HopRef>>,
    /// What it takes.
    pub draw: Option<Take>,
    /// Least volts at which it works.
    pub min: Option<Volts>,
    /// How long its own backup lasts.
    pub backup: Option<Seconds>,
}

/// What the monitoring service's form wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Monitoring {
    /// What the communicator speaks.
    pub format: Option<Spanned<Format>>,
    /// Characters that the form has for a description.
    pub description_width: Spanned<u32>,
    /// How many zones the form has lines for.
    pub zones: Option<Spanned<u32>>,
    /// Interval of the test report.
    pub test_every: Option<Spanned<Seconds>>,
    /// True where a code for use under threat is set up.
    pub duress: bool,
    /// Expected handling by group, as the spec gives it.
    pub handling: Vec<(Spanned<EventGroup>, String)>,
}

impl Monitoring {
    /// Interval of the test report.
    pub(crate) fn test_interval(&self) -> Option<Seconds> {
        self.test_every.as_ref().map(|every| every.value)
    }
}

impl Site {
    /// What the service does on events of a group, where the spec says so. What it says of panic holds for no silent call: nobody
    /// may be called there.
    pub(crate) fn handling_of(&self, group: EventGroup) -> Option<String> {
        let monitoring = self.monitoring.iter();
        let handling = monitoring.flat_map(|monitoring| &monitoring.handling).filter(|(of, _)| of.value == group);
        let actions: Vec<&str> = handling.map(|(_, action)| action.as_str()).collect();
        (!actions.is_empty()).then(|| actions.join("; "))
    }

    /// A powered device on a way; `None` where there is no such position.
    pub(crate) fn hop(&self, of: HopRef) -> Option<&Hop> {
        self.communicators[of.line].hops.get(of.hop)
    }

    /// The powered device that a run is pulled to: what it feeds, else that of its place on an internet way.
    pub(crate) fn hop_at_end(&self, run: Id<Run>) -> Option<HopRef> {
        let item = &self.runs[run];
        let fed =
            item.mounted.iter().find_map(|item| if let Mounted::Hop(hop) = item { Some(hop.value) } else { None });
        let on_way = || {
            let Owner::Communicator(line) = item.owner else { return None };
            let over = self.communicators[line].path.as_ref()?.value;
            let hop = usize::try_from(item.order).ok()?.checked_sub(1).filter(|_| over == Path::Internet)?;
            let hop = HopRef { line, hop };
            self.hop(hop).map(|_| hop)
        };
        fed.or_else(on_way)
    }

    /// Every powered device on a way, in order.
    pub(crate) fn hops(&self) -> impl Iterator<Item = (HopRef, &Hop)> {
        let lines = self.communicators.entries();
        lines.flat_map(|(line, way)| way.hops.iter().enumerate().map(move |(hop, found)| (HopRef { line, hop }, found)))
    }

    /// What tells a powered device from others: what it is, and its own name where several of that have one. Without a
    /// name, two of one kind are one device on two ways, as the house's router.
    pub(crate) fn hop_identity(&self, of: HopRef) -> Option<(&str, Option<&str>)> {
        let hop = self.hop(of)?;
        let named = self.hops().filter(|(_, other)| other.name.value == hop.name.value && other.reference.is_some());
        let own = hop.reference.as_ref().map(|name| name.value.as_str()).filter(|_| named.count() > 1);
        Some((&hop.name.value, own))
    }

    /// A hop and all that it feeds, directly or through others: each once, even where some feed each other.
    pub(crate) fn hops_behind(&self, hop: HopRef) -> BTreeSet<HopRef> {
        let mut fed_by: BTreeMap<HopRef, Vec<HopRef>> = BTreeMap::new();
        for (fed, item) in self.hops() {
            if let Some(from) = &item.from {
                fed_by.entry(from.value).or_default().push(fed);
            }
        }
        let (mut behind, mut next) = (BTreeSet::new(), vec![hop]);
        while let Some(hop) = next.pop() {
            if behind.insert(hop) {
                next.extend(fed_by.get(&hop).into_iter().flatten());
            }
        }
        behind
    }

    /// The devices from which a hop gets its supply, the next first, as far as each is fed by another and none feeds
    /// one before it.
    pub(crate) fn hops_before(&self, hop: HopRef) -> Vec<HopRef> {
        let mut before = vec![hop];
        while let Some(next) = before.last().and_then(|at| self.hop(*at)?.from.as_ref()).map(|from| from.value) {
            if before.contains(&next) {
                break;
            }
            before.push(next);
        }
        before.remove(0);
        before
    }
}
