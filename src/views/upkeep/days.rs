//! What comes due, in words: a line of the page and an event of the calendar are made of the same entry.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::base::Id;
use crate::calc::wear::{self, Period, Rests, Wear, Worn};
use crate::compiled::Compiled;
use crate::model::{Device, Site};
use crate::profiles::source::Figure;
use crate::profiles::upkeep as row;
use crate::quantity::Seconds;
use crate::record::{Names, number};
use crate::words::{self, Paper};

/// The key of the test that the household does.
pub(crate) const TEST: &str = "test";

/// Something that comes due.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    /// What it is known by from one revision to the next: a kind, and what a comparison knows the thing by.
    pub(crate) key: String,
    /// What is to be done.
    pub(crate) title: String,
    /// The day it is counted from.
    pub(crate) since: Option<Date>,
    /// The first day on which it is due.
    pub(crate) due: Option<Date>,
    /// From one time to the next; `None` for what comes once, and where it is not known.
    pub(crate) every: Option<Period>,
    /// How long it serves: "5 years"; of what is done again and again, how often: "month".
    pub(crate) life: String,
    /// What that rests on, where it is not the spec: "common practice".
    pub(crate) basis: String,
    /// Days before that day on which it is worth a reminder.
    pub(crate) notice: Option<f64>,
}

/// The day from which that is counted which comes again, and what it is. A new revision is no cleaning: what comes again keeps
/// the days that it has had since the first battery was put in.
pub(crate) fn first(site: &Site) -> (Option<Date>, &'static str) {
    let begins = wear::latest_day(site).map(|day| day.value);
    let worn = wear::of_site(site);
    let first = worn.iter().filter(|wear| !matches!(wear.worn, Worn::Detector(_))).filter_map(|wear| wear.since).min();
    match first.filter(|first| begins.is_some_and(|begins| *first <= begins)) {
        Some(first) => (Some(first), "the first day on which a battery was put in"),
        None => (begins, "the last day that the spec speaks of"),
    }
}

/// Tests, cleaning and permit, then everything that wears out.
pub(crate) fn entries(compiled: &Compiled) -> Vec<Entry> {
    let site = &compiled.site;
    // What was due before the last readings is not what comes next.
    let begins = wear::latest_day(site).map(|day| day.value);
    let worn = wear::of_site(site);
    let (first, _) = first(site);
    let again = |key: &str, title: &str, written: Option<Seconds>, usual: Figure| {
        let (every, rests) = wear::every(written, usual);
        let due = first.zip(begins).and_then(|(first, begins)| every?.next(first, begins));
        let life = life(every);
        Entry {
            key: key.to_owned(),
            title: title.to_owned(),
            since: first,
            due,
            every,
            life: life.strip_prefix("1 ").unwrap_or(&life).to_owned(),
            basis: basis(rests),
            notice: None,
        }
    };
    let upkeep = &site.upkeep;
    let mut entries = vec![
        again(TEST, "Test the alarm", upkeep.test_every, row::TEST),
        again("cleaning", "Clean the detectors, try the batteries", upkeep.clean_every, row::CLEAN),
    ];
    if let Some(ends) = upkeep.permit_ends {
        entries.push(Entry {
            key: "permit".to_owned(),
            title: "The alarm permit ends: renew it before".to_owned(),
            since: None,
            due: Some(ends.value),
            every: None,
            life: String::new(),
            basis: String::new(),
            notice: Some(row::NOTICE.value),
        });
    }
    let names = Names::of(site, &compiled.wiring);
    entries.extend(worn.iter().map(|wear| replaced(compiled, &names, wear)));
    let mut seen = BTreeMap::new();
    for entry in &mut entries {
        number(&mut entry.key, &mut seen);
        entry.key = entry.key.replace(' ', "/");
    }
    entries
}

/// What a device is known by: its name; else by what it is and where, and where that is true of several, its title. Not
/// by its place in the text: a thing more must not exchange the identities of others. What is made up has spaces, which
/// no name has.
fn identity(site: &Site, names: &Names<'_>, id: Id<Device>) -> String {
    let key = |id| names.device(id).subject.key;
    let made_up = |id| key(id).split(" (").next().unwrap_or_default().to_owned();
    let own = made_up(id);
    if site.devices[id].name.is_some() {
        return key(id);
    }
    let alike = |(other, device): (Id<Device>, &Device)| other != id && device.name.is_none() && made_up(other) == own;
    if site.devices.entries().any(alike) { format!("{own} {}", site.devices[id].title) } else { own }
}

fn replaced(compiled: &Compiled, names: &Names<'_>, wear: &Wear) -> Entry {
    let site = &compiled.site;
    let of = |kind: &str, device: Id<Device>| format!("{kind}.{}", identity(site, names, device));
    let (key, title) = match wear.worn {
        Worn::Battery(board, nth) => {
            let battery = site.boards[board].battery.as_ref();
            let further = nth.and_then(|nth| battery?.others.get(nth)).map(|other| other.capacity.value.to_string());
            let size = further.or_else(|| battery.map(words::alike)).unwrap_or_default();
            let nth = nth.map(|nth| format!(".{}", nth + 2)).unwrap_or_default();
            let key = format!("board-battery.{}{nth}", site.boards[board].name.value);
            (key, format!("Replace the battery of {} ({size})", Paper.board(site, board)))
        }
        Worn::OwnBattery(device) | Worn::Transmitter(device) => {
            (of("device-battery", device), format!("Change the battery of {}", words::placed(site, device)))
        }
        Worn::Detector(device) => (of("detector", device), format!("Replace {}", words::placed(site, device))),
    };
    Entry {
        key,
        title,
        since: wear.since,
        due: wear.due(),
        every: wear.life,
        life: life(wear.life),
        basis: basis(wear.rests),
        notice: Some(row::NOTICE.value),
    }
}

/// "5 years".
fn life(life: Option<Period>) -> String {
    let counted = |count: i32, unit: &str| format!("{count} {unit}{}", if count == 1 { "" } else { "s" });
    match life {
        Some(Period::Months(months)) if months % 12 == 0 => counted(months / 12, "year"),
        Some(Period::Months(months)) => counted(months, "month"),
        Some(Period::Days(days)) => counted(days, "day"),
        None => "see its label".to_owned(),
    }
}

fn basis(rests: Rests) -> String {
    match rests {
        Rests::OnSpec => String::new(),
        Rests::OnPractice(figure) => figure.source(),
    }
}
