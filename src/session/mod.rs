//! Facade for front ends: files in, plain data out.

mod compare;
mod loops;
mod textconv;

use std::collections::BTreeMap;

use crate::base::{Id, Sources};
use crate::calc::bus::{self, BusFigures};
use crate::calc::power::{self, Power};
use crate::calc::{self, LoopReadings};
use crate::checks::{self, Context, bus_verdict, loop_verdict};
use crate::diag::{Diagnostic, Rule, Severity, Sink};
use crate::emit::{self, Bundle};
use crate::model::{Bus, Site, Zone};
use crate::register::{Kept, Register, Wiring};
use crate::resolve::load::FileSource;
use crate::resolve::{self, Resolved, resolve};
use crate::views::{Material, fresh_readings};
use crate::{register, register_file, schema, syntax};

pub use crate::views::diagnosis::Diagnosis;
pub use crate::views::why::Why;
pub use crate::views::work_order::{WorkOrder, text::plain};
pub use compare::{Compared, compare, compile_since, print};
pub use loops::{Asked, NoAnswer, diagnose_ohms, diagnose_volts, why};
pub use textconv::{textconv, textconv_two};

/// What one compilation of a site gave.
#[derive(Debug, Default)]
pub struct Outcome {
    /// The files read, for rendering the diagnostics.
    pub sources: Sources,
    /// What was found, in the order of the source.
    pub diagnostics: Vec<Diagnostic>,
    /// The site's name, where it could be read.
    pub site: Option<String>,
    /// The packet; `None` for a check, and where there was an error.
    pub bundle: Option<Bundle>,
    /// The new text of `register.kdl`, to be written before the packet; `None` where it stays as it is.
    pub register: Option<String>,
}

impl Outcome {
    /// True when an error was found: then there is no packet.
    pub fn failed(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity() == Severity::Error)
    }
}

/// Reads and checks the site whose `site.kdl` is in `files`.
pub fn check(files: &dyn FileSource) -> Outcome {
    read(files).0
}

/// Reads and checks a site, and makes its packet and the next text of its register where no error was found.
pub fn compile(files: &dyn FileSource) -> Outcome {
    let (mut outcome, made) = read(files);
    if let Some(made) = made.filter(|_| !outcome.failed()) {
        outcome.bundle = Some(packet(&made, &outcome));
        outcome.register = made.registers.text();
    }
    outcome
}

/// As [`compile`], but a register that would change is an error.
pub fn compile_frozen(files: &dyn FileSource) -> Outcome {
    let (mut outcome, made) = read(files);
    if let Some(made) = made.filter(|_| !outcome.failed()) {
        let Registers { old, new } = &made.registers;
        if made.registers.changed() {
            outcome.diagnostics.push(register_file::findings::not_current(old.file, &old.register, new));
            outcome.diagnostics.sort_by(Diagnostic::in_order);
        } else {
            outcome.bundle = Some(packet(&made, &outcome));
        }
    }
    outcome
}

fn packet(made: &Made, outcome: &Outcome) -> Bundle {
    emit::packet(&made.material(&outcome.sources, &lasting(outcome)))
}

/// What is found every time: what only tells of a change is not printed in the packet.
fn lasting(outcome: &Outcome) -> Vec<Diagnostic> {
    let lasting = |found: &&Diagnostic| !register_file::rules::is_passing(found.rule);
    outcome.diagnostics.iter().filter(lasting).cloned().collect()
}

/// A fresh record of readings, with a line for everything there is to measure; `None` where there is no site.
pub fn readings(files: &dyn FileSource, date: jiff::civil::Date) -> (Outcome, Option<String>) {
    let (outcome, made) = read(files);
    let text = made.map(|made| fresh_readings::text(&made.material(&outcome.sources, &outcome.diagnostics), date));
    (outcome, text)
}

/// A site with all that is computed of it.
struct Made {
    site: Site,
    wiring: Wiring,
    loops: BTreeMap<Id<Zone>, LoopReadings>,
    power: Power,
    buses: BTreeMap<Id<Bus>, BusFigures>,
    registers: Registers,
}

/// The register as it was found, and as it is to be.
struct Registers {
    old: register_file::Found,
    new: Register,
}

impl Registers {
    fn changed(&self) -> bool {
        self.old.text.is_none() || self.old.register != self.new
    }

    /// The new text; `None` where it stays as it is.
    fn text(&self) -> Option<String> {
        let Self { old, new } = self;
        self.changed().then(|| register_file::rewrite(old.text.as_deref(), &old.register, new))
    }
}

impl Made {
    /// What the views look at.
    fn material<'m>(&'m self, sources: &'m Sources, diagnostics: &'m [Diagnostic]) -> Material<'m> {
        Material {
            site: &self.site,
            wiring: &self.wiring,
            loops: &self.loops,
            power: &self.power,
            buses: &self.buses,
            sources,
            diagnostics,
        }
    }
}

/// Reads and checks a site; with what was made of it, where it could be read.
fn read(files: &dyn FileSource) -> (Outcome, Option<Made>) {
    read_after(files, None)
}

/// As [`read`]; where the site has no register of its own, labels and landings follow that of another revision.
fn read_after(files: &dyn FileSource, other: Option<&Register>) -> (Outcome, Option<Made>) {
    let mut sink = Sink::default();
    let mut resolved = resolve(files, &mut sink);
    let old = register_file::load(files, &mut resolved.sources, &mut sink);
    let Some(mut site) = resolved.site.take() else {
        let diagnostics = findings(&resolved, sink);
        let outcome = Outcome { sources: resolved.sources, diagnostics, ..Outcome::default() };
        return (outcome, None);
    };
    site.sound &= old.whole;
    let other = other.filter(|_| old.text.is_none() || !old.whole);
    let Kept { wiring, register: new, notices } = register::keep(&site, other.unwrap_or(&old.register));
    if other.is_none() {
        register_file::findings::report(&site, &notices, &mut sink);
    }
    let loops = calc::loops::of_site(&site);
    let power = power::of_site(&site);
    let verdicts = loop_verdict::of_site(&site, &loops);
    let buses = bus::of_site(&site, &power);
    let bus_causes = bus_verdict::of_site(&site, &buses);
    let context = Context {
        site: &site,
        wiring: &wiring,
        loops: &loops,
        verdicts: &verdicts,
        power: &power,
        buses: &buses,
        bus_causes: &bus_causes,
    };
    checks::run(context, &mut sink);
    let diagnostics = checks::accept::apply(&site, &rules(), findings(&resolved, sink));
    let name = Some(site.name.value.clone());
    let outcome = Outcome { sources: resolved.sources, diagnostics, site: name, ..Outcome::default() };
    (outcome, Some(Made { site, wiring, loops, power, buses, registers: Registers { old, new } }))
}

/// What was found, without what follows only from a secret's being masked.
fn findings(resolved: &Resolved, sink: Sink) -> Vec<Diagnostic> {
    let mut found = sink.into_sorted();
    found.retain(|diagnostic| !resolved.follows_from_a_secret(diagnostic));
    found
}

/// Every rule of the compiler, by slug.
pub fn rules() -> Vec<&'static Rule> {
    let mut rules: Vec<&'static Rule> = Vec::new();
    rules.extend(syntax::rules::RULES);
    rules.extend(schema::rules::RULES);
    rules.extend(resolve::rules::RULES);
    rules.extend(register_file::rules::RULES);
    rules.extend(checks::CHECKS.iter().map(|check| check.rule));
    rules.extend(checks::accept::RULES);
    rules.sort_by_key(|rule| rule.slug);
    rules
}
