//! Questions about one loop: how its figures are computed, and what a reading of it means.
//!
//! A loop is answered for also where the spec has errors elsewhere: a loop that is wrong is the one people ask about.

use crate::base::Id;
use crate::calc::diagnose::Measured;
use crate::compiled::Compiled;
use crate::model::{Site, Zone};
use crate::resolve::load::FileSource;
use crate::views::diagnosis::{self, Diagnosis};
use crate::views::why::{self, Why};

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
    let made = match read(files) {
        Ok(made) => made,
        Err(outcome) => return Asked { outcome: *outcome, answer: Err(NoAnswer::NoSite) },
    };
    let answer = zone(&made.compiled.site, number).and_then(|zone| answer(&made.compiled, zone));
    Asked { outcome: made.outcome(), answer }
}

fn zone(site: &Site, number: u32) -> Result<Id<Zone>, NoAnswer> {
    match site.zone_numbered(number) {
        None => Err(NoAnswer::UnknownZone(site.zones.iter().map(|zone| zone.number.value).collect())),
        Some((_, zone)) if zone.wired.is_none() => Err(NoAnswer::NoLoop),
        Some((id, _)) => Ok(id),
    }
}
