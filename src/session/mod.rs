//! Facade for front ends: files in, plain data out.

mod compare;
mod events;
mod extent;
mod fix;
mod format;
mod loops;
mod readings;
mod study;
mod textconv;

use crate::base::Sources;
use crate::checks;
use crate::compiled::Compiled;
use crate::diag::{Diagnostic, Rule, Severity, Sink};
use crate::emit::{self, Bundle};
use crate::register::{self, Kept, Register};
use crate::resolve::load::FileSource;
use crate::resolve::{self, FileReadings, resolve_beside};
use crate::views;
use crate::{register_file, schema, syntax};

pub(crate) use crate::checks::free_addresses;
pub use crate::events::line::Unreadable;
pub(crate) use crate::quantity::meter_text;
pub(crate) use crate::start;
pub use crate::views::Table;
pub(crate) use crate::views::diagnosis::Diagnosis;
pub use crate::views::event_line::EventLine;
pub(crate) use crate::views::next_measurement::Step;
pub(crate) use crate::views::portfolio;
pub use crate::views::readers::Reader;
pub(crate) use crate::views::why::Why;
pub(crate) use crate::views::why_supplies::Figures;
pub(crate) use crate::views::work_order::{WorkOrder, text::plain};
pub(crate) use compare::changed;
pub use compare::{Compared, compare, compile_since, print};
pub use events::{event, event_line, event_of};
pub use extent::{Extent, extent};
pub(crate) use fix::is_possible;
pub use fix::{FixedFile, fix};
pub use format::{Formatted, Unformatted, files, format};
pub use loops::{Asked, NoAnswer, diagnose_ohms, diagnose_volts, why, why_battery, why_bus, why_supply};
pub(crate) use readings::readings_from;
pub use readings::{readings, readings_table};
pub(crate) use study::{Study, study, study_alone};
pub use textconv::{textconv, textconv_two};

/// What one compilation of a site gave.
#[derive(Debug, Default)]
pub struct Outcome {
    /// The files read, for rendering the diagnostics.
    pub sources: Sources,
    /// What was found, in the order of the source.
    pub diagnostics: Vec<Diagnostic>,
    /// The site's name, where it could be read.
    pub(crate) site: Option<String>,
    /// The packet; `None` for a check, and where there was an error.
    pub bundle: Option<Bundle>,
    /// The next `register.kdl`, to be written before the packet; `None` where it stays as it is, and where there was an
    /// error.
    pub register: Option<NextRegister>,
}

impl Outcome {
    /// True when an error was found: then there is no packet.
    pub fn failed(&self) -> bool {
        self.diagnostics.iter().any(Diagnostic::is_error)
    }
}

/// Reads and checks the site whose `site.kdl` is in `files`.
pub fn check(files: &dyn FileSource) -> Outcome {
    read(files).map_or_else(|outcome| *outcome, Made::outcome)
}

/// Reads and checks a site, and makes its packet, with a joined file for each of some readers, and the next text of its
/// register where no error was found.
pub fn compile(readers: &[Reader], files: &dyn FileSource) -> Outcome {
    match read(files) {
        Ok(made) if !made.failed() => made.printed(|compiled| emit::packet(compiled, readers)),
        Ok(made) => made.outcome(),
        Err(outcome) => *outcome,
    }
}

/// As [`compile`], but a register that would change is an error.
pub fn compile_frozen(readers: &[Reader], files: &dyn FileSource) -> Outcome {
    match read(files) {
        Ok(made) if !made.failed() && made.register.changed() => {
            let NextRegister { old, new } = &made.register;
            let stale = register_file::findings::not_current(old.file, &old.register, new);
            let mut outcome = Outcome { register: None, ..made.outcome() };
            outcome.diagnostics.push(stale);
            outcome.diagnostics.sort_by(Diagnostic::in_order);
            outcome
        }
        Ok(made) if !made.failed() => made.printed(|compiled| emit::packet(compiled, readers)),
        Ok(made) => made.outcome(),
        Err(outcome) => *outcome,
    }
}

/// The table of a sheet, by the sheet's name; `None` where there is no site, and where the sheet has no table.
pub fn table(files: &dyn FileSource, sheet: &str) -> (Outcome, Option<Table>) {
    match read(files) {
        Ok(made) => {
            let of =
                views::DOCUMENTS.iter().find(|document| document.name == sheet).and_then(|document| document.table);
            let table = of.map(|table| table(&made.compiled));
            (made.outcome(), table)
        }
        Err(outcome) => (*outcome, None),
    }
}

/// What a portfolio keeps of a site.
pub(crate) fn of_portfolio(files: &dyn FileSource) -> portfolio::Kept {
    match read(files) {
        Ok(Made { compiled, .. }) => portfolio::Kept::of(&compiled.findings, Some(&compiled)),
        Err(outcome) => portfolio::Kept::of(&outcome.diagnostics, None),
    }
}

/// A table as a CSV file.
pub fn csv(table: &Table) -> String {
    String::from_utf8(emit::table::csv(table)).unwrap_or_default()
}

/// A site that could be read, and its register.
#[derive(Debug)]
struct Made {
    compiled: Compiled,
    register: NextRegister,
}

/// The register as it was found, and as it is to be.
#[derive(Debug)]
pub struct NextRegister {
    old: register_file::Found,
    new: Register,
}

impl NextRegister {
    fn changed(&self) -> bool {
        self.old.text.is_none() || self.old.register != self.new
    }

    /// Its text: that which was found, rewritten where it changes.
    pub fn text(&self) -> String {
        let Self { old, new } = self;
        register_file::rewrite(old.text.as_deref(), &old.register, new)
    }
}

impl Made {
    /// True when an error was found.
    fn failed(&self) -> bool {
        self.compiled.findings.iter().any(Diagnostic::is_error)
    }

    fn outcome(self) -> Outcome {
        let failed = self.failed();
        let register = Some(self.register).filter(|register| !failed && register.changed());
        let Compiled { site, sources, findings, .. } = self.compiled;
        Outcome { sources, diagnostics: findings, site: Some(site.name.value), bundle: None, register }
    }

    /// The outcome with a packet, which holds what is found every time: what only tells of a change is not printed.
    fn printed(mut self, print: impl FnOnce(&Compiled) -> Bundle) -> Outcome {
        let all = std::mem::take(&mut self.compiled.findings);
        let (transient, lasting): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|found| register_file::rules::is_transient(found.rule));
        self.compiled.findings = lasting;
        let bundle = print(&self.compiled);
        self.compiled.findings.extend(transient);
        self.compiled.findings.sort_by(Diagnostic::in_order);
        Outcome { bundle: Some(bundle), ..self.outcome() }
    }
}

/// Reads and checks a site; where it could not be read, what was found instead.
fn read(files: &dyn FileSource) -> Result<Made, Box<Outcome>> {
    read_after(files, None)
}

/// As [`read`]; where the site has no register of its own, labels and landings follow that of another revision.
fn read_after(files: &dyn FileSource, other: Option<&Register>) -> Result<Made, Box<Outcome>> {
    read_whole(files, other).1
}

/// As [`read_after`], with what could be read of the files.
fn read_whole(files: &dyn FileSource, other: Option<&Register>) -> (Vec<FileReadings>, Result<Made, Box<Outcome>>) {
    let mut sink = Sink::default();
    let register = register_file::fetch(files);
    let mut resolved = resolve_beside(files, register.text(), &mut sink);
    let (beside, shown) = (resolved.beside.take(), files.shown(register_file::FILE));
    let site = resolved.site.as_ref();
    let old = register_file::load(register, beside.as_deref(), shown, site, &mut resolved.sources, &mut sink);
    let readings = std::mem::take(&mut resolved.readings);
    let Some(mut site) = resolved.site else {
        let diagnostics = resolved.secret_lines.tell(sink);
        let outcome = Outcome { sources: resolved.sources, diagnostics, ..Outcome::default() };
        return (readings, Err(Box::new(outcome)));
    };
    site.sound &= old.whole;
    let other = other.filter(|_| old.text.is_none() || !old.whole);
    let Kept { wiring, register: new, notices } = register::keep(&site, other.unwrap_or(&old.register));
    if other.is_none() {
        register_file::findings::report(&site, &notices, &mut sink);
    }
    let mut compiled = Compiled::new(site, wiring, resolved.sources);
    checks::run(&compiled, &mut sink);
    if sink.has_errors() {
        // What nothing uses may be what should stand where the error is.
        sink.forget(&resolve::rules::UNUSED_NAME);
    }
    // What is not listed may be what an accept names.
    compiled.site.sound &= sink.left_out() == 0;
    compiled.findings = checks::accept::apply(&compiled.site, &rules(), resolved.secret_lines.tell(sink));
    if compiled.findings.iter().any(|found| is_open(found) && found.rule != &resolve::rules::UNUSED_NAME) {
        // What nothing uses may be what is missing elsewhere.
        compiled.findings.retain(|found| found.rule != &resolve::rules::UNUSED_NAME || found.accepted.is_some());
    }
    (readings, Ok(Made { compiled, register: NextRegister { old, new } }))
}

/// True for a warning or an error that the site does not accept.
fn is_open(found: &Diagnostic) -> bool {
    found.severity() >= Severity::Warning && found.accepted.is_none()
}

/// Every rule of the compiler, by slug.
pub fn rules() -> Vec<&'static Rule> {
    let mut rules: Vec<&'static Rule> = Vec::new();
    rules.extend(syntax::rules::RULES);
    rules.extend(schema::rules::RULES);
    rules.extend(resolve::rules::RULES);
    rules.extend(register_file::rules::RULES);
    rules.extend(checks::all().map(|check| check.rule));
    rules.extend(checks::accept::RULES);
    rules.sort_by_key(|rule| rule.slug);
    rules
}
