//! Two revisions of a site compared: what differs, and the work that it takes.

use super::{Made, Outcome, lasting, read, read_after};
use crate::base::wording::count;
use crate::diag::Severity;
use crate::emit;
use crate::resolve::load::FileSource;
use crate::views::work_order::{Remarks, Sides, WorkOrder};

/// What came of reading a site.
type Read = (Outcome, Option<Made>);

/// Two revisions compared, with what was found in each of them on the way.
#[derive(Debug)]
pub struct Compared {
    /// What was found in the old one.
    pub old: Outcome,
    /// What was found in the new one.
    pub new: Outcome,
    /// The work order; `None` where one of them is so broken that there is no site.
    pub order: Option<WorkOrder>,
}

/// Reads and checks a site, and makes its packet with marks beside what differs from an earlier revision. What was found
/// in that one is no finding of this one; where no site can be read there, the packet is made without marks, and the second
/// value is false.
pub fn compile_since(files: &dyn FileSource, old: (&dyn FileSource, &str)) -> (Outcome, bool) {
    let ((before, was), (mut outcome, made)) = both(old.0, files);
    let Some(made) = made.filter(|_| !outcome.failed()) else { return (outcome, was.is_some()) };
    let lasting = lasting(&outcome);
    let material = made.material(&outcome.sources, &lasting);
    let bundle = match &was {
        None => emit::packet(&material),
        Some(was) => {
            let was = was.material(&before.sources, &before.diagnostics);
            let remarks = Remarks {
                old: old.1.to_owned(),
                new: String::new(),
                doubts: doubts(&before, "old", old.1, was.site.complete),
                broken: false,
                sheets: emit::marks::sheets_that_differ(&was, &material),
            };
            let order = WorkOrder::of(&Sides::of(&was, &material), &remarks);
            emit::packet_since(&material, &was, &order.old, &order)
        }
    };
    outcome.register = made.registers.text();
    outcome.bundle = Some(bundle);
    (outcome, was.is_some())
}

/// Reads both. Cables are told apart by their labels, so where one of the revisions has no register, or one that cannot be
/// read whole, its labels follow the other's.
fn both(old: &dyn FileSource, new: &dyn FileSource) -> (Read, Read) {
    let register = |made: &Option<Made>| made.as_ref().map(|made| made.registers.new.clone());
    let first = read(old);
    let second = read_after(new, register(&first.1).as_ref());
    let has_own = |made: &Option<Made>| {
        made.as_ref().is_some_and(|made| made.registers.old.text.is_some() && made.registers.old.whole)
    };
    let follows = has_own(&second.1) && !has_own(&first.1);
    let first = if follows { read_after(old, register(&second.1).as_ref()) } else { first };
    (first, second)
}

/// A work order as Markdown and as a page of HTML.
pub fn print(order: &WorkOrder) -> (String, String) {
    emit::work_order(order)
}

/// Compares two revisions of a site. The names are what the user called them, for revisions without a mark.
pub fn compare(old: (&dyn FileSource, &str), new: (&dyn FileSource, &str)) -> Compared {
    let ((before, was), (after, is)) = both(old.0, new.0);
    let order = was.zip(is).map(|(was, is)| {
        let was = was.material(&before.sources, &before.diagnostics);
        let is = is.material(&after.sources, &after.diagnostics);
        let sides = Sides::of(&was, &is);
        let mut doubts = doubts(&before, "old", old.1, was.site.complete);
        doubts.extend(self::doubts(&after, "new", new.1, is.site.complete));
        if after.failed() {
            doubts.push("There are no steps: nobody is to build from a revision with errors".to_owned());
        }
        let remarks = Remarks {
            old: old.1.to_owned(),
            new: new.1.to_owned(),
            doubts,
            broken: after.failed(),
            sheets: if after.failed() { Vec::new() } else { emit::marks::sheets_that_differ(&was, &is) },
        };
        WorkOrder::of(&sides, &remarks)
    });
    Compared { old: before, new: after, order }
}

/// The most errors that are named; the rest is counted.
const MOST: usize = 5;

/// What of a revision could not be compared.
fn doubts(outcome: &Outcome, which: &str, named: &str, complete: bool) -> Vec<String> {
    let errors: Vec<&str> = outcome
        .diagnostics
        .iter()
        .filter(|found| found.severity() == Severity::Error)
        .map(|found| found.title.as_str())
        .collect();
    let mut doubts: Vec<String> = Vec::new();
    if !complete {
        let text = "some of its text could not be read, and what stands there seems to be absent";
        doubts.push(format!("The {which} revision ({named}) is not whole: {text}"));
    }
    doubts
        .extend(errors.iter().take(MOST).map(|title| format!("The {which} revision ({named}) has an error: {title}")));
    if errors.len() > MOST {
        let more = count(errors.len() - MOST, "more error", None);
        doubts.push(format!("The {which} revision ({named}) has {more}"));
    }
    doubts
}
