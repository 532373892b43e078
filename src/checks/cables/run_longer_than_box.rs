//! A cable that is longer than the box that it is cut from.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::words::Screen;

check!("run-longer-than-box", Basis::Contradiction, "a cable that is longer than the box that it is cut from");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let kind = &site.cables[cable.kind];
        let (Some(length), Some(in_box)) = (&run.length, kind.box_length) else { continue };
        if run.existing || length.value.0 <= in_box.0 * (1.0 + 1e-9) {
            continue;
        }
        let label = Screen.cable(context.wiring, cable.run);
        let [long, whole] = [length.value, in_box].map(|length| print::length(length, site.lengths));
        let finding = Diagnostic::new(&RULE, length.span, format!("{label} is {long} long, and `{}` comes in boxes of {whole}", kind.name.value))
            .here("longer than a box")
            .also(kind.name.span, format!("{whole} in a box"))
            .why("A cable that ends on the way is joined there, and the spec has no joint: the plan would hide a splice in a wall.")
            .help("Write the joint: a `joint-box`, a run that ends in it (into=), and one that goes on from there. Or give box= of a longer reel.")
            .about(&cable.label);
        sink.push(about::owner(site, run.owner, finding));
    }
}
