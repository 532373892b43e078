//! Questions about one loop, supply, battery or bus: how its figures are computed, and what a reading of it means.
//!
//! A loop is answered for also where the spec has errors elsewhere: a loop that is wrong is the one people ask about.

use crate::base::Id;
use crate::calc::diagnose::Measured;
use crate::compiled::Compiled;
use crate::model::{Site, Zone};
use crate::resolve::load::FileSource;
use crate::views::diagnosis::{self, Diagnosis};
use crate::views::why::{self, Why};
use crate::views::why_supplies::{self, Figures};

use super::{Outcome, read};

/// What was asked about a loop, with what was found in the spec on the way.
#[derive(Debug)]
pub struct Asked<T> {
    /// The files, the findings, the name of the site.
    pub(crate) outcome: Outcome,
    /// The answer, or why there is none.
    pub answer: Result<T, NoAnswer>,
}

/// Why a question about a loop has no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoAnswer {
    /// The spec is so broken that there is no site.
    NoSite,
    /// No zone has that number; the numbers that there are.
    UnknownZone(Vec<u32>),
    /// Nothing of that kind has that name; the names that there are.
    UnknownName(Vec<String>),
    /// The zone has no wired loop.
    NoLoop,
    /// Something in the loop was reported, so that it cannot be calculated.
    NotWhole,
    /// Its board's part does not say how it senses, so that volts mean nothing.
    NoSensing,
}

/// How the figures of a zone's loop are computed.
pub fn why(files: &dyn FileSource, zone: u32) -> Asked<Why> {
    ask(files, zone, |compiled, zone| why::of(compiled, zone, |file| &file.path, usize::MAX).ok_or(NoAnswer::NotWhole))
}

/// How the figures of a supply are computed: "main/aux".
pub fn why_supply(files: &dyn FileSource, name: &str) -> Asked<Figures> {
    of_site(files, |compiled| {
        let source = named(why_supplies::supplies(compiled), name)?;
        Ok(why_supplies::of_supply(compiled, source, |file| &file.path))
    })
}

/// How the figures of a board's battery are computed: "main".
pub fn why_battery(files: &dyn FileSource, name: &str) -> Asked<Figures> {
    of_site(files, |compiled| {
        let board = named(why_supplies::batteries(compiled), name)?;
        Ok(why_supplies::of_battery(compiled, board, |file| &file.path))
    })
}

/// How the figures of a bus are computed: "main/data", or "data" alone.
pub fn why_bus(files: &dyn FileSource, name: &str) -> Asked<Figures> {
    of_site(files, |compiled| {
        let bus = named(why_supplies::buses(compiled), name)?;
        why_supplies::of_bus(compiled, bus, |file| &file.path).ok_or(NoAnswer::NotWhole)
    })
}

/// What has a name, or where that is clear its last part.
fn named<T: Copy>(all: Vec<(String, T)>, name: &str) -> Result<T, NoAnswer> {
    let whole = all.iter().find(|(own, _)| own == name);
    let last: Vec<_> = all.iter().filter(|(own, _)| own.rsplit('/').next() == Some(name)).collect();
    match (whole, &last[..]) {
        (Some((_, found)), _) | (None, [(_, found)]) => Ok(*found),
        (None, _) => Err(NoAnswer::UnknownName(all.into_iter().map(|(name, _)| name).collect())),
    }
}

/// What a reading of a zone's loop in ohms means: at the leads, disconnected; infinite for no connection.
pub fn diagnose_ohms(files: &dyn FileSource, zone: u32, ohms: f64) -> Asked<Diagnosis> {
    diagnose(files, zone, Measured::Ohms(ohms))
}

/// What a reading of a zone's loop in volts means: at the board's terminals, connected.
pub fn diagnose_volts(files: &dyn FileSource, zone: u32, volts: f64) -> Asked<Diagnosis> {
    diagnose(files, zone, Measured::Volts(volts))
}

fn diagnose(files: &dyn FileSource, zone: u32, measured: Measured) -> Asked<Diagnosis> {
    ask(files, zone, |compiled, zone| {
        diagnosis::of(compiled, zone, measured).ok_or_else(|| {
            let calculated = compiled.loops.contains_key(&zone);
            if calculated { NoAnswer::NoSensing } else { NoAnswer::NotWhole }
        })
    })
}

fn ask<T>(
    files: &dyn FileSource,
    number: u32,
    answer: impl Fn(&Compiled, Id<Zone>) -> Result<T, NoAnswer>,
) -> Asked<T> {
    of_site(files, |compiled| zone(&compiled.site, number).and_then(|zone| answer(compiled, zone)))
}

fn of_site<T>(files: &dyn FileSource, answer: impl Fn(&Compiled) -> Result<T, NoAnswer>) -> Asked<T> {
    let made = match read(files) {
        Ok(made) => made,
        Err(outcome) => return Asked { outcome: *outcome, answer: Err(NoAnswer::NoSite) },
    };
    let answer = answer(&made.compiled);
    Asked { outcome: made.outcome(), answer }
}

fn zone(site: &Site, number: u32) -> Result<Id<Zone>, NoAnswer> {
    match site.zone_numbered(number) {
        None => Err(NoAnswer::UnknownZone(site.zones.iter().map(|zone| zone.number.value).collect())),
        Some((_, zone)) if zone.wired.is_none() => Err(NoAnswer::NoLoop),
        Some((id, _)) => Ok(id),
    }
}
