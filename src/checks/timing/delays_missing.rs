//! An area with doors that have an entry delay, and no word on how long that is.

use crate::base::wording::{list, numbers};
use crate::checks::Context;
use crate::checks::timing::advice;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("delays-missing", Basis::Practice, "an area whose doors have a delay that the spec does not say");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let doors = context.doors;
    // An area that is given twice is one area, or its zones are another's.
    if !site.sound {
        return;
    }
    for (id, area) in site.areas.entries().filter(|(_, area)| area.whole) {
        let delayed = site.zones.iter().filter(|zone| {
            let entry = zone.is_of(ZoneType::EntryExit);
            site.is_in(zone, id) && zone.reserved.is_none() && entry
        });
        let zones: Vec<u32> = delayed.map(|zone| zone.number.value).collect();
        let advice = advice::of(site, doors, id);
        let missing: Vec<String> = [
            (area.entry.is_none()).then(|| format!("entry=(s){}", advice.entry)),
            (area.exit.is_none()).then(|| format!("exit=(s){}", advice.exit)),
        ]
        .into_iter()
        .flatten()
        .collect();
        if zones.is_empty() || missing.is_empty() {
            continue;
        }
        let name = Screen.name(&area.name.value);
        let finding = Diagnostic::new(&RULE, area.name.span, format!("area {name} does not say how long its delays are"))
            .here(if zones.len() == 1 { format!("zone {} has a delay", numbers(&zones)) } else { format!("zones {} have a delay", numbers(&zones)) })
            .why("Then whatever the board came with is what the household gets, and nobody has held it against the way to the keypad.")
            .help(format!("Write {}, and set the board to that.", list(&missing, "and")))
            .about(&area.name.value);
        sink.push(finding);
    }
}
