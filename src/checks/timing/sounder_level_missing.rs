//! Sounders whose part does not say how loud they are, in a house where sleepers must hear them.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::sound;
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Part, Site};
use crate::words::Screen;

check!("sounder-level-missing", Basis::Practice, "sounders of which nobody says how loud they are");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A level that could not be read was reported as that.
    if !site.complete || !sound::has_fire(site) {
        return;
    }
    // One cause, however many bedrooms: the sheets were not read for it.
    let mut parts: BTreeMap<Id<Part>, Id<Device>> = BTreeMap::new();
    for sounder in sound::bedrooms(site).into_iter().flat_map(|bedroom| bedroom.unknown) {
        if let Some(part) =
            site.devices[sounder].part.filter(|part| site.parts[*part].sound.is_none() && site.parts[*part].whole)
        {
            parts.entry(part).or_insert(sounder);
        }
    }
    // What is accepted of one part is not accepted of another.
    let is_accepted =
        |(part, _): &(Id<Part>, Id<Device>)| accept::is_accepted(site, RULE.slug, &site.parts[*part].name.value);
    let (yes, no): (Vec<_>, Vec<_>) = parts.into_iter().partition(is_accepted);
    sink.extend([no, yes].iter().filter_map(|parts| finding(site, parts)));
}

fn finding(site: &Site, parts: &[(Id<Part>, Id<Device>)]) -> Option<Diagnostic> {
    let ((first, sounder), others) = parts.split_first()?;
    let names: Vec<String> = parts.iter().map(|(part, _)| Screen.name(&site.parts[*part].name.value)).collect();
    let finding = Diagnostic::new(&RULE, site.parts[*first].name.span, if names.len() == 1 { format!("nobody says how loud sounder {} is", list(&names, "and")) } else { format!("nobody says how loud sounders {} are", list(&names, "and")) })
        .here("no sound in its braces")
        .also(site.devices[*sounder].span(), "to be heard in bedrooms")
        .why("Whether an alarm of fire wakes those who sleep behind a closed door follows from the level on the sounder's sheet and from the plan.")
        .help("Write sound level=(dBA)… at=(ft)… into the part, as its sheet gives it.")
        .about(&site.parts[*first].name.value);
    Some(others.iter().fold(finding, |finding, (part, _)| {
        let part = &site.parts[*part];
        finding.also(part.name.span, "nor here").about(&part.name.value)
    }))
}
