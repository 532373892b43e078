//! Facade for front ends: files in, plain data out.

mod compare;
mod loops;
mod textconv;

use std::collections::BTreeMap;

use crate::base::{Id, Sources};
use crate::calc::power::{self, Power};
use crate::calc::{self, LoopReadings};
use crate::checks::{self, Context, loop_verdict};
use crate::diag::{Diagnostic, Rule, Severity, Sink};
use crate::emit::{self, Bundle};
use crate::model::{Site, Zone};
use crate::register::Wiring;
use crate::resolve::load::FileSource;
use crate::resolve::{self, resolve};
use crate::views::{Material, fresh_readings};
use crate::{register, schema, syntax};

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
}

impl Outcome {
    /// True when an error was found: then there is no packet.
    pub fn failed(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity() == Severity::Error)
    }
}

/// Reads and checks the site whose `site.kdl` is in `files`.
pub fn check(files: &dyn FileSource) -> Outcome {
    run(files, false)
}

/// Reads and checks a site, and makes its packet where no error was found.
pub fn compile(files: &dyn FileSource) -> Outcome {
    run(files, true)
}

fn run(files: &dyn FileSource, packet: bool) -> Outcome {
    let (mut outcome, made) = read(files);
    if let Some(made) = made.filter(|_| packet && !outcome.failed()) {
        outcome.bundle = Some(emit::packet(&made.material(&outcome)));
    }
    outcome
}

/// A fresh record of readings, with a line for everything there is to measure; `None` where there is no site.
pub fn readings(files: &dyn FileSource, date: jiff::civil::Date) -> (Outcome, Option<String>) {
    let (outcome, made) = read(files);
    let text = made.map(|made| fresh_readings::text(&made.material(&outcome), date));
    (outcome, text)
}

/// A site with all that is computed of it.
struct Made {
    site: Site,
    wiring: Wiring,
    loops: BTreeMap<Id<Zone>, LoopReadings>,
    power: Power,
}

impl Made {
    /// What the views look at.
    fn material<'m>(&'m self, outcome: &'m Outcome) -> Material<'m> {
        Material {
            site: &self.site,
            wiring: &self.wiring,
            loops: &self.loops,
            power: &self.power,
            sources: &outcome.sources,
            diagnostics: &outcome.diagnostics,
        }
    }
}

/// Reads and checks a site; with what was made of it, where it could be read.
fn read(files: &dyn FileSource) -> (Outcome, Option<Made>) {
    let mut sink = Sink::default();
    let resolved = resolve(files, &mut sink);
    let Some(site) = resolved.site else {
        let outcome = Outcome { sources: resolved.sources, diagnostics: sink.into_sorted(), ..Outcome::default() };
        return (outcome, None);
    };
    let wiring = register::propose(&site);
    let loops = calc::loops::of_site(&site);
    let power = power::of_site(&site);
    let verdicts = loop_verdict::of_site(&site, &loops);
    checks::run(Context { site: &site, wiring: &wiring, loops: &loops, verdicts: &verdicts, power: &power }, &mut sink);
    let diagnostics = checks::accept::apply(&site, &rules(), sink.into_sorted());
    let name = Some(site.name.value.clone());
    (
        Outcome { sources: resolved.sources, diagnostics, site: name, bundle: None },
        Some(Made { site, wiring, loops, power }),
    )
}

/// Every rule of the compiler, by slug.
pub fn rules() -> Vec<&'static Rule> {
    let mut rules: Vec<&'static Rule> = Vec::new();
    rules.extend(syntax::rules::RULES);
    rules.extend(schema::rules::RULES);
    rules.extend(resolve::rules::RULES);
    rules.extend(checks::CHECKS.iter().map(|check| check.rule));
    rules.extend(checks::accept::RULES);
    rules.sort_by_key(|rule| rule.slug);
    rules
}
