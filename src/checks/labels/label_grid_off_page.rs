//! Sheets of labels whose labels reach beyond the paper.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::labels::sheet;

check!("label-grid-off-page", Basis::Contradiction, "a sheet of labels that is larger than its paper");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Some(said) = &context.site.label_sheet else { return };
    let grid = sheet::grid(context.site);
    let Some((right, below)) = sheet::beyond(&grid) else { return };
    let side = |beyond: f64, where_to: &str| (beyond > 0.0).then(|| format!("{beyond:.1} mm {where_to}"));
    let beyond =
        [side(right, "to the right"), side(below, "below")].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let title = format!("the labels reach beyond the paper: {beyond}");
    let here = format!("{} by {} labels on {} by {} mm", grid.columns, grid.rows, grid.paper.width, grid.paper.height);
    sink.push(
        Diagnostic::new(&RULE, said.span, title)
            .here(here)
            .why("The last label's edge is left= and as many times across= as there are labels before it, and width=; likewise downwards. What is left out is as on the grid, so a width of your own may need the others as well.")
            .help("Measure the sheet with a ruler: left=, top=, width=, height=, across= and down= in (mm), and columns= and rows=."),
    );
}
