//! Sheets of labels that lie over one another.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::labels::sheet;

check!("label-grid-overlaps", Basis::Contradiction, "a sheet of labels that lie over one another");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Some(said) = &context.site.label_sheet else { return };
    let Some(what) = sheet::overlap(&sheet::grid(context.site)) else { return };
    sink.push(
        Diagnostic::new(&RULE, said.span, format!("on the sheet of labels, {what}"))
            .here("cannot be cut from one sheet")
            .why("across= and down= go from a label's edge to the same edge of the next one, the gap between them included, so they are no less than width= and height=. The printed zone of a wrap is a part of its height.")
            .help("Give across= as the width and the gap, and down= as the height and the gap; leave printed= out where there is no clear tail."),
    );
}
