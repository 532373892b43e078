//! A supply for a part that needs none.

use crate::checks::supply::detector_supplied_twice::feeds;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("supply-not-needed", Basis::NoEffect, "a supply for a part that needs none");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let Some(part) = site.device_part(id) else { continue };
        if !part.whole || part.supply.is_some() {
            continue;
        }
        let own = device.supply.as_ref().map(|supply| (supply.span, "through its own cable".to_owned()));
        let supplies: Vec<_> =
            own.into_iter().chain(feeds(site, id).into_iter().map(|(s, c)| (s, format!("from {c}")))).collect();
        let Some(((span, words), others)) = supplies.split_first() else { continue };
        let title = format!("{} is fed and needs no supply", Screen.device(site, id));
        let mut finding = Diagnostic::new(&RULE, *span, title)
            .here(words)
            .also(part.name.span, "this part needs none")
            .why("The part has no terminals for a supply, so the pair would end loose. Either the part is not the one that is meant, or its sheet was copied without its supply.")
            .help(if part.loop_fed.is_some() {
                "Take the supply out: the loop feeds it."
            } else {
                "Take the supply out, or add `supply` to the part."
            });
        for (span, words) in others {
            finding = finding.also(*span, words);
        }
        sink.push(about::device(site, device, finding));
    }
}
