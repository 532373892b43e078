//! A lock that always has its current, with nothing in the spec that takes it away.

use crate::checks::supply::power_words;
use crate::checks::switching::hung::locks;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Source;
use crate::terms::{Fails, When};
use crate::words::Screen;

check!("lock-never-released", Basis::Works, "a lock that always has current, and nothing switches it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, part, feeding, node) in locks(context) {
        let source = feeding.tree.outlet_of(node);
        let switched = feeding
            .tree
            .way(node)
            .into_iter()
            .any(|at| feeding.tree.circuit_of(site, at).is_some_and(|circuit| circuit.switching.is_some()));
        let goes = match source {
            Source::Output(of) => site.output(of).is_some_and(|output| output.switched || output.when == When::Alarm),
            Source::Port(..) => false,
        };
        if switched || goes {
            continue;
        }
        let device = &site.devices[id];
        let lock = Screen.device(site, id);
        let (title, help) = match part.fails {
            Some(Fails::Secure) => (
                format!("{lock} has current at all times, and is open then"),
                "Give its circuit a switch= with contact=\"make\" and a `drive` for what is to open it. Where something in its line does that which the spec has not, as a button or a reader, accept this.",
            ),
            Some(Fails::Safe) | None => (
                format!("nothing in the spec releases {lock}"),
                "Give its circuit a switch= with contact=\"break\" and a `drive` for what is to release it, as drive \"alarm\" type=\"smoke\". Where something in its line does that which the spec has not, as a button beside the door or a reader, accept this. What a lock on a way out must do is for the local code and whoever is licensed to fit one: ask before it holds a door.",
            ),
        };
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("always has current")
            .also(power_words::source_span(site, source), "always on")
            .why("A lock is worked by its current, and nothing here turns that on or off: the door stays as it is, for whoever should come in and for whoever has to get out.")
            .help(help);
        sink.push(about::device(site, device, finding));
    }
}
