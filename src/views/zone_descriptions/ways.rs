//! The ways of the report: how long each lives without mains, what stops it, and what the service sees when it fails.
//!
//! What stops a way is told by its kind and by the powered devices on it. Standby of what a carrier has in the street is
//! not known here: it is asked for. Out of scope: which way a board tries first.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::base::Id;
use crate::calc::power::path::{self, Lives};
use crate::compiled::Compiled;
use crate::model::{Communicator, HopRef, Monitoring, Site};
use crate::profiles::{standby, supervision};
use crate::quantity::Seconds;
use crate::terms::{JackKind, Path, Service};
use crate::views::power_sheet::{battery, paths};

/// A way with what becomes of it.
#[derive(Serialize)]
pub(super) struct Way {
    pub(super) title: String,
    pub(super) over: &'static str,
    pub(super) lives: String,
    pub(super) missed: String,
    pub(super) seen: String,
}

/// A cause, and what it does to each way.
#[derive(Serialize)]
pub(super) struct Cause {
    pub(super) cause: String,
    pub(super) ways: Vec<String>,
}

const STOPPED: &str = "stopped";
const GOES_ON: &str = "goes on";
const ASK: &str = "ask the carrier";
const TRY: &str = "not known: try it";

/// Every way, by name.
pub(super) fn of_site(compiled: &Compiled) -> Vec<Way> {
    let site = &compiled.site;
    let of_way = |(id, way): (Id<Communicator>, &Communicator)| {
        let silent = silent(site, way);
        Way {
            title: way.title.clone(),
            over: over(way),
            lives: lives(compiled, id, way),
            seen: seen(site, id, way),
            missed: silent,
        }
    };
    site.communicators.entries().map(of_way).collect()
}

fn over(way: &Communicator) -> &'static str {
    match (way.path.as_ref().map(|path| path.value), way.service) {
        (Some(Path::Telephone), Some(Service::Copper)) => "telephone, copper pair",
        (Some(Path::Telephone), Some(Service::Voip | Service::Broadband)) => "telephone over the internet connection",
        (Some(Path::Telephone), Some(Service::Mobile)) => "telephone over a mobile network",
        (Some(Path::Telephone), None) => "telephone, kind not given",
        (Some(Path::Internet), Some(Service::Mobile)) => "internet over a mobile network",
        (Some(Path::Internet), Some(Service::Copper | Service::Voip | Service::Broadband) | None) => {
            "the house's internet connection"
        }
        (Some(Path::Radio), _) => "a radio of its own",
        (None, _) => "",
    }
}

/// True for a telephone that goes over the router of the house, so that it falls with it.
fn over_router(way: &Communicator) -> bool {
    let telephone = way.is_telephone();
    telephone && matches!(way.service, Some(Service::Voip | Service::Broadband))
}

/// True for a telephone of which it is not said what service comes in: what that hangs on is not known.
fn is_of_unknown_kind(way: &Communicator) -> bool {
    way.is_telephone() && way.service.is_none()
}

/// True where it goes over the router of the house.
fn is_behind_router(way: &Communicator) -> bool {
    way.path.as_ref().is_some_and(|path| path.value == Path::Internet) || over_router(way)
}

/// How long it lives without mains, as far as it is in the house.
fn lives(compiled: &Compiled, id: Id<Communicator>, way: &Communicator) -> String {
    match path::lives(&compiled.site, &compiled.power, id) {
        Lives::Until(links, time) => {
            let (names, one) = (paths::names(&compiled.site, &links), links.len() == 1);
            if time.0 > 0.0 {
                format!("{time}, then {names} {} out", if one { "is" } else { "are" })
            } else {
                format!("ends with the mains: {names} {} no backup", if one { "has" } else { "have" })
            }
        }
        Lives::NotKnown if is_behind_router(way) => {
            "as long as the router and the carrier's box in the house: neither is in the spec".to_owned()
        }
        Lives::NotKnown => "not known: what feeds the line in the house is not in the spec".to_owned(),
        // A change of the panel's battery is no news for the service as long as it lasts as it should.
        Lives::AsThePanel(panel) if panel.is_none_or(|(_, time)| time >= Some(asked(&compiled.site))) => {
            "as long as the panel".to_owned()
        }
        Lives::AsThePanel(_) => paths::lasts(compiled, id),
    }
}

/// How long the panel is to live without mains.
fn asked(site: &Site) -> Seconds {
    standby::of_site(site).standby.time()
}

/// Within what time its silence is noticed.
fn silent(site: &Site, way: &Communicator) -> String {
    let test = site.monitoring.as_ref().and_then(Monitoring::test_interval);
    match (&way.supervised_every, test) {
        (Some(every), _) => every.value.to_string(),
        (None, Some(test)) => format!("not supervised; {test}, by the test report"),
        (None, None) => "not supervised, and no test report is set".to_owned(),
    }
}

/// What the service sees when it fails.
fn seen(site: &Site, id: Id<Communicator>, way: &Communicator) -> String {
    let tells = |(other, one): &(Id<Communicator>, &Communicator)| {
        *other != id && site.panel_of_way(one) == site.panel_of_way(way) && !falls_with(site, id, *other)
    };
    let others: Vec<&str> = site.communicators.entries().filter(tells).map(|(_, one)| one.title.as_str()).collect();
    let test = site.monitoring.as_ref().and_then(Monitoring::test_interval);
    let missed = match (&way.supervised_every, test) {
        (Some(_), _) => "its receiver misses it",
        (None, Some(_)) => "nothing until a test report does not come",
        (None, None) => "nothing: no test report is set",
    };
    if others.is_empty() {
        return format!("{missed}; no other way tells it");
    }
    format!("a trouble by {}; {missed}", others.join(" or "))
}

/// True where two ways have something in common whose loss silences both: the house's router and line, or a powered device.
fn falls_with(site: &Site, one: Id<Communicator>, other: Id<Communicator>) -> bool {
    let (way, beside) = (&site.communicators[one], &site.communicators[other]);
    let by_line = [way, beside].into_iter().all(Communicator::comes_by_line);
    let one_line = by_line && (way.path == beside.path || is_behind_router(way) && is_behind_router(beside));
    let needs = hops_needed(site, one);
    one_line || hops_needed(site, other).iter().any(|hop| needs.contains(hop))
}

/// What a powered device is, and its name where that is needed.
type Identity<'s> = (&'s str, Option<&'s str>);

/// The powered devices that a way needs: those on it, and those that feed them.
fn hops_needed(site: &Site, line: Id<Communicator>) -> BTreeSet<Identity<'_>> {
    let on_way = (0..site.communicators[line].hops.len()).map(|hop| HopRef { line, hop });
    let needed = on_way.flat_map(|hop| std::iter::once(hop).chain(site.hops_before(hop)));
    needed.filter_map(|hop| site.hop_identity(hop)).collect()
}

/// What may happen, and what becomes of each way, in the order of [`of_site`].
pub(super) fn causes(compiled: &Compiled) -> Vec<Cause> {
    let site = &compiled.site;
    if site.communicators.is_empty() {
        return Vec::new();
    }
    let each = |cause: &str, of: &dyn Fn(Id<Communicator>, &Communicator) -> String| Cause {
        cause: cause.to_owned(),
        ways: site.communicators.entries().map(|(id, way)| of(id, way)).collect(),
    };
    let stopped = |stopped: bool| if stopped { STOPPED } else { GOES_ON }.to_owned();
    let mut causes = vec![
        each("line cut at the street or the house wall", &|_, way| {
            if is_of_unknown_kind(way) { TRY.to_owned() } else { stopped(way.comes_by_line()) }
        }),
        each("mains lost in the house", &|id, way| match path::lives(site, &compiled.power, id) {
            Lives::Until(_, time) if time.0 > 0.0 => format!("stopped after {time}"),
            Lives::Until(..) => STOPPED.to_owned(),
            Lives::NotKnown if is_behind_router(way) => "stopped with the router".to_owned(),
            Lives::NotKnown => TRY.to_owned(),
            Lives::AsThePanel(Some((_, None))) => TRY.to_owned(),
            Lives::AsThePanel(panel) => match panel.and_then(|(_, time)| time).filter(|time| *time < asked(site)) {
                None => GOES_ON.to_owned(),
                Some(time) if time.0 > 0.0 => format!("stopped after {}", battery::about(time)),
                Some(_) => STOPPED.to_owned(),
            },
        }),
        each("mains lost at the carrier's box or mast", &|_, way| {
            let copper = way.is_telephone() && way.service == Some(Service::Copper);
            if copper { "goes on, from the exchange's battery".to_owned() } else { ASK.to_owned() }
        }),
    ];
    let hops: BTreeSet<Identity<'_>> = site.hops().filter_map(|(hop, _)| site.hop_identity(hop)).collect();
    for hop in hops {
        let (is, name) = hop;
        let name = name.map(|name| format!(" ({name})")).unwrap_or_default();
        causes.push(each(&format!("{is}{name} off or unplugged"), &|id, way| {
            let on_way = hops_needed(site, id).contains(&hop);
            // Which of the house's devices a telephone over the internet hangs on is not said.
            if (over_router(way) || is_of_unknown_kind(way)) && !on_way { TRY.to_owned() } else { stopped(on_way) }
        }));
    }
    if site.communicators.iter().any(Communicator::is_telephone) {
        causes.push(each("a house phone off the hook", &|_, way| match way.jack {
            Some(JackKind::Bridged) => STOPPED.to_owned(),
            Some(JackKind::LineSeizure) => "goes on: the board takes the line".to_owned(),
            None if way.is_telephone() => "kind of jack not given".to_owned(),
            None => GOES_ON.to_owned(),
        }));
    }
    let is_radio = |way: &Communicator| way.path.as_ref().is_some_and(|path| path.value == Path::Radio);
    if site.communicators.iter().any(is_radio) {
        causes.push(each("antenna or its cable cut off", &|_, way| stopped(is_radio(way))));
    }
    causes
}

/// The figures that the intervals are held against, where the profile has some.
pub(super) fn supervision(site: &Site) -> Vec<String> {
    // Panels with ways of their own may be held against different figures.
    let rows = site.communicators.iter().filter_map(|way| supervision::of_way(site, way));
    let mut all: Vec<String> =
        rows.map(|row| format!("{}: within {} ({})", row.what, row.figure.time(), row.figure.source())).collect();
    all.sort();
    all.dedup();
    all
}
