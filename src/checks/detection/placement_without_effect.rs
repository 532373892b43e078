//! A distance or an outlook of a detector to which it means nothing.

use crate::base::Span;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site};
use crate::terms::{Nearby, Senses};
use crate::words::Screen;

check!(
    "placement-without-effect",
    Basis::NoEffect,
    "near or faces= of a detector to which it means nothing, or near twice"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let Some(senses) = site.senses(id) else { continue };
        let name = Screen.device(site, id);
        if let Some(faces) = device.faces.as_ref().filter(|_| senses != Senses::Motion) {
            let title = format!("faces= of {name} has no effect: it senses {}", senses.word());
            sink.push(finding(site, device, faces.span, title, "only a motion detector looks at something"));
        }
        let mut seen: Vec<(Nearby, Span)> = Vec::new();
        for near in &device.near {
            let what = near.what.value;
            if senses != Senses::Smoke {
                let title = format!("near of {name} has no effect: it senses {}", senses.word());
                let label = "only detectors of smoke are held to distances";
                sink.push(finding(site, device, near.what.span, title, label));
                break;
            }
            match seen.iter().find(|(other, _)| *other == what) {
                Some((_, first)) => {
                    let title = format!("{name} is given two distances from {}", what.printed());
                    let finding = finding(site, device, near.what.span, title, "again");
                    sink.push(finding.also(*first, "first here"));
                }
                None => seen.push((what, near.what.span)),
            }
        }
    }
}

fn finding(site: &Site, device: &Device, span: Span, title: String, label: &str) -> Diagnostic {
    let finding = Diagnostic::new(&RULE, span, title)
        .here(label)
        .also(device.span(), "of this detector")
        .why("What has no effect may be meant for another detector, or may be a slip.")
        .help("Take it away, or write it at the detector that it is about.");
    about::device(site, device, finding)
}
