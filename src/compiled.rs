//! A site with all that is computed of it: what the checks, the views and the comparison look at.
//!
//! Made once for each compilation, and never changed after that but for the list of findings. Out of scope: how a
//! site comes about (`resolve`), and how its register is kept (`register`).

use std::collections::BTreeMap;

use crate::base::{Id, Sources};
use crate::calc::bus::{self, BusFigures};
use crate::calc::loops::{self, LoopReadings};
use crate::calc::power::{self, Power};
use crate::calc::timing::{self, Door};
use crate::diag::Diagnostic;
use crate::events::{self, Report};
use crate::model::{Bus, Site, Zone};
use crate::register::Wiring;

/// See the module's head.
#[derive(Debug)]
pub struct Compiled {
    /// The site.
    pub site: Site,
    /// Its labels and landings.
    pub wiring: Wiring,
    /// The readings of its loops, those that can be calculated.
    pub loops: BTreeMap<Id<Zone>, LoopReadings>,
    /// What every supply feeds, and the volts that arrive.
    pub power: Power,
    /// The figures of its buses, those of which all is known.
    pub(crate) buses: BTreeMap<Id<Bus>, BusFigures>,
    /// Its doors with an entry delay, each with the way to its keypad.
    pub(crate) doors: Vec<Door>,
    /// Everything that it can report to the monitoring service.
    pub events: Vec<Report>,
    /// The files, for places in the spec.
    pub(crate) sources: Sources,
    /// What was found, accepted findings included, in the order of the source.
    pub findings: Vec<Diagnostic>,
}

impl Compiled {
    /// Computes all figures of a site; nothing has been found in it yet.
    pub fn new(site: Site, wiring: Wiring, sources: Sources) -> Self {
        let loops = loops::of_site(&site);
        let power = power::of_site(&site);
        let buses = bus::of_site(&site, &power);
        let doors = timing::doors(&site);
        let events = events::of_site(&site, &loops, &power);
        Self { site, wiring, loops, power, buses, doors, events, sources, findings: Vec::new() }
    }
}
