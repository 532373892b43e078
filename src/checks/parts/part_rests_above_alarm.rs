//! A part that takes more at rest than in alarm.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Part, Take};

check!("part-rests-above-alarm", Basis::Practice, "a part that takes more at rest than in alarm");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let used =
        |id| site.devices.iter().any(|one| one.part == Some(id)) || site.boards.iter().any(|one| one.part == Some(id));
    for (_, part) in site.parts.entries().filter(|(id, part)| takes(part).next().is_some() && used(*id)) {
        for (node, idle, alarm) in takes(part) {
            let title = format!("`{node}` of part `{}` takes {idle} at rest and {alarm} in alarm", part.name.value);
            let finding = Diagnostic::new(&RULE, part.name.span, title)
                .here("more at rest than in alarm")
                .why("Most parts take more in alarm: a lamp, a sounder or a relay comes on. Exchanged figures make the battery that is asked for too large, and the output and the cable too small.")
                .help("Hold both against the sheet, and exchange idle= and alarm= if they are the wrong way round. A detector whose relay is held at rest does take less in alarm: then accept this.")
                .about(&part.name.value);
            sink.push(finding);
        }
    }
}

/// What a part takes itself or as a device, where that is more at rest. Current and power are not held against each other.
fn takes(part: &Part) -> impl Iterator<Item = (&'static str, Take, Take)> {
    let supply = part.supply.as_ref().map(|supply| ("supply", supply.idle, supply.alarm));
    let draw = part.draw.as_ref().map(|draw| ("draw", draw.idle, draw.alarm));
    supply.into_iter().chain(draw).filter(|(_, idle, alarm)| match (idle, alarm) {
        (Take::Current(idle), Take::Current(alarm)) => idle > alarm,
        (Take::Power(idle), Take::Power(alarm)) => idle > alarm,
        (Take::Current(_), Take::Power(_)) | (Take::Power(_), Take::Current(_)) => false,
    })
}
