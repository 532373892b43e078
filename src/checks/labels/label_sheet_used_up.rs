//! A part-used sheet with no label left.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::labels::sheet;

check!("label-sheet-used-up", Basis::Mismatch, "a sheet of labels with none left");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Some(said) = &context.site.label_sheet else { return };
    let (has, used) = (sheet::grid(context.site).count(), sheet::used(context.site));
    if used < has {
        return;
    }
    sink.push(
        Diagnostic::new(&RULE, said.span, format!("{used} labels are used of a sheet of {has}"))
            .here("none is left")
            .why("used= says how many labels are gone from the first sheet, counted row by row, so that print begins behind them. A sheet with none left is no sheet.")
            .help("Leave used= out for a new sheet."),
    );
}
