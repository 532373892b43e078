//! A type of cable in open air or in the ground that is not said to be made for it.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::CableType;
use crate::register::Cable;
use crate::terms::{MadeFor, Passage};

check!("cable-indoors", Basis::Practice, "a cable in open air or in the ground that is not said to be made for it");

/// How a cable comes into open air or into the ground.
#[derive(Clone, Copy)]
enum Way {
    /// It passes there.
    Passes(Passage),
    /// It ends in a room of open air, and nobody says what it passes.
    Ends,
    /// It starts there.
    Starts,
}

impl Way {
    fn passage(self) -> Passage {
        match self {
            Self::Passes(passage) => passage,
            Self::Ends | Self::Starts => Passage::Outdoors,
        }
    }
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<Id<CableType>, Vec<(Way, Span, &Cable)>> = BTreeMap::new();
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let (way, span) = match (&run.passes, run.room) {
            (Some(passes), _) => (Way::Passes(passes.value), passes.span),
            (None, Some(room)) if site.rooms[room].is_outdoors() => (Way::Ends, run.span()),
            (None, _) if site.meets_open_air(run) => (Way::Starts, run.span()),
            (None, _) => continue,
        };
        if !site.cables[cable.kind].suits(Some(way.passage())) {
            found.entry(cable.kind).or_default().push((way, span, cable));
        }
    }
    for (kind, cables) in found {
        let kind = &site.cables[kind];
        let buried = cables.iter().any(|(way, ..)| way.passage() == Passage::Underground);
        let ends = cables.iter().all(|(way, ..)| matches!(way, Way::Ends | Way::Starts));
        let (place, wanted) =
            if buried { ("in the ground", MadeFor::Underground) } else { ("in open air", MadeFor::Outdoors) };
        let lies = match cables.first() {
            Some((Way::Starts, ..)) if ends => "starts",
            _ if ends => "ends",
            _ => "lies",
        };
        let title = format!("`{}` {lies} {place} and is not said to be made for it", kind.name.value);
        let existing = cables.iter().all(|(.., cable)| site.runs[cable.run].existing);
        let Some((first, others)) = cables.split_first() else { continue };
        let mut finding = Diagnostic::new(&RULE, first.1, title)
            .here(at_place(first))
            .also(kind.name.span, format!("made for {}", kind.made_for.value.word()))
            .why("Sun cracks the jacket of an indoor cable and water creeps along its conductors. The loop reads right on the day of the test and drifts with every rain. A conduit outside or in the ground fills with water as well.")
            .help(if ends && !existing {
                format!("Where it comes straight out of the wall behind what is mounted there, write passes=\"stud\" on the run. Else take a cable for open air; if its sheet says that this is one, write made-for=\"{}\" in its type.", wanted.word())
            } else if existing {
                format!("It was there before: look at its jacket, and measure it after rain. If it is a cable for this, write made-for=\"{}\" in its type.", wanted.word())
            } else {
                format!("If its sheet says that it may lie there, write made-for=\"{}\" in its type. Else take another cable.", wanted.word())
            })
            .about(&kind.name.value)
            .about(&first.2.label);
        for other in others {
            finding = finding.also(other.1, at_place(other)).about(&other.2.label);
        }
        sink.push(finding);
    }
}

/// "`Z1` goes through the ground".
fn at_place((way, _, cable): &(Way, Span, &Cable)) -> String {
    let place = match way {
        Way::Passes(Passage::Underground) => "goes through the ground",
        Way::Passes(_) => "goes through open air",
        Way::Ends => "ends in open air",
        Way::Starts => "starts in open air",
    };
    format!("`{}` {place}", cable.label)
}
