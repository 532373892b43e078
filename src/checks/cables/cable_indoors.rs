//! A type of cable in open air or in the ground that is not said to be made for it.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::CableType;
use crate::register::Cable;
use crate::terms::{MadeFor, Passage};

check!("cable-indoors", Basis::Practice, "a cable in open air or in the ground that is not said to be made for it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<Id<CableType>, Vec<(Passage, Span, &Cable)>> = BTreeMap::new();
    for cable in &context.wiring.cables {
        let passes = site.runs[cable.run].passes.as_ref();
        if let Some(passes) = passes.filter(|passes| !site.cables[cable.kind].suits(Some(passes.value))) {
            found.entry(cable.kind).or_default().push((passes.value, passes.span, cable));
        }
    }
    for (kind, cables) in found {
        let kind = &site.cables[kind];
        let buried = cables.iter().any(|(passes, ..)| *passes == Passage::Underground);
        let (place, wanted) =
            if buried { ("in the ground", MadeFor::Underground) } else { ("in open air", MadeFor::Outdoors) };
        let title = format!("`{}` lies {place} and is not said to be made for it", kind.name.value);
        let existing = cables.iter().all(|(.., cable)| site.runs[cable.run].existing);
        let mut finding = Diagnostic::new(&RULE, kind.name.span, title)
            .here(format!("made for {}", kind.made_for.value.word()))
            .why("Sun cracks the jacket of an indoor cable and water creeps along its conductors. The loop reads right on the day of the test and drifts with every rain. A conduit outside or in the ground fills with water as well.")
            .help(if existing {
                format!("It was there before: look at its jacket, and measure it after rain. If it is a cable for this, write made-for=\"{}\" in its type.", wanted.word())
            } else {
                format!("If its sheet says that it may lie there, write made-for=\"{}\" in its type. Else take another cable.", wanted.word())
            })
            .about(&kind.name.value);
        for (passes, span, cable) in cables {
            let place = if passes == Passage::Underground { "through the ground" } else { "through open air" };
            finding = finding.also(span, format!("`{}` goes {place}", cable.label)).about(&cable.label);
        }
        sink.push(finding);
    }
}
