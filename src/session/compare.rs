//! Two revisions of a site compared: what differs, and the work that it takes.

use super::{Made, Outcome, Reader, read, read_after};
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::emit::{self, Bundle};
use crate::resolve::load::FileSource;
use crate::views::work_order::{self, Remarks, Sides, WorkOrder};

/// What came of reading a site.
type Read = Result<Made, Box<Outcome>>;

/// Two revisions compared, with what was found in each of them on the way.
#[derive(Debug)]
pub struct Compared {
    /// What was found in the old one.
    pub(crate) old: Outcome,
    /// What was found in the new one.
    pub(crate) new: Outcome,
    /// The work order; `None` where one of them is so broken that there is no site.
    pub order: Option<WorkOrder>,
}

/// Reads and checks a site, and makes its packet with marks beside what differs from an earlier revision. What was found
/// in that one is no finding of this one; where no site can be read there, the packet is made without marks, and the second
/// value is false.
pub fn compile_since(readers: &[Reader], files: &dyn FileSource, old: (&dyn FileSource, &str)) -> (Outcome, bool) {
    let (was, is) = both(old.0, files);
    let known = was.is_ok();
    let outcome = match is {
        Ok(made) if !made.failed() => made.printed(|compiled| match &was {
            Err(_) => emit::packet(compiled, readers),
            Ok(was) => since(compiled, readers, &was.compiled, old.1),
        }),
        Ok(made) => made.outcome(),
        Err(outcome) => *outcome,
    };
    (outcome, known)
}

/// The packet with marks and work order; `named` is how the user called the old revision.
fn since(is: &Compiled, readers: &[Reader], was: &Compiled, named: &str) -> Bundle {
    let remarks = Remarks {
        old: named.to_owned(),
        new: String::new(),
        doubts: doubts(was, "old", named),
        broken: false,
        sheets: emit::marks::sheets_that_differ(was, is),
    };
    let order = WorkOrder::of(&Sides::of(was, is), &remarks);
    emit::packet_since(is, readers, was, &order.old, &order)
}

/// Reads both. Cables are told apart by their labels, so where one of the revisions has no register, or one that cannot be
/// read whole, its labels follow the other's.
fn both(old: &dyn FileSource, new: &dyn FileSource) -> (Read, Read) {
    let register = |read: &Read| read.as_ref().ok().map(|made| made.register.new.clone());
    let first = read(old);
    let second = read_after(new, register(&first).as_ref());
    let has_own =
        |read: &Read| read.as_ref().is_ok_and(|made| made.register.old.text.is_some() && made.register.old.whole);
    let follows = has_own(&second) && !has_own(&first);
    let first = if follows { read_after(old, register(&second).as_ref()) } else { first };
    (first, second)
}

/// A work order, or its part for whoever does the wiring, as Markdown and as a page of HTML.
pub fn print(order: &WorkOrder, wiring: bool) -> (String, String) {
    if wiring { emit::work_order_of_wiring(order) } else { emit::work_order(order) }
}

/// Compares two revisions of a site. The names are what the user called them, for revisions without a mark.
pub fn compare(old: (&dyn FileSource, &str), new: (&dyn FileSource, &str)) -> Compared {
    let (before, after) = both(old.0, new.0);
    let order = before.as_ref().ok().zip(after.as_ref().ok()).map(|(was, is)| {
        let broken = is.failed();
        let (was, is) = (&was.compiled, &is.compiled);
        let mut doubts = doubts(was, "old", old.1);
        doubts.extend(self::doubts(is, "new", new.1));
        if broken {
            doubts.push("There are no steps: nobody is to build from a revision with errors".to_owned());
        }
        let sheets = if broken { Vec::new() } else { emit::marks::sheets_that_differ(was, is) };
        let remarks = Remarks { old: old.1.to_owned(), new: new.1.to_owned(), doubts, broken, sheets };
        WorkOrder::of(&Sides::of(was, is), &remarks)
    });
    let outcome = |read: Read| read.map_or_else(|outcome| *outcome, Made::outcome);
    Compared { old: outcome(before), new: outcome(after), order }
}

/// What became of a site since an earlier revision, in a few words.
pub(crate) fn changed(old: &dyn FileSource, new: &dyn FileSource) -> String {
    match both(old, new) {
        (Ok(was), Ok(is)) if was.compiled.site.complete && is.compiled.site.complete => {
            work_order::counted(&Sides::of(&was.compiled, &is.compiled))
        }
        _ => "cannot be compared".to_owned(),
    }
}

/// The most errors that are named; the rest is counted.
const MOST: usize = 5;

/// What of a revision could not be compared.
fn doubts(compiled: &Compiled, which: &str, named: &str) -> Vec<String> {
    let errors: Vec<&str> =
        compiled.findings.iter().filter(|found| found.is_error()).map(|found| found.title.as_str()).collect();
    let mut doubts: Vec<String> = Vec::new();
    if !compiled.site.complete {
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
