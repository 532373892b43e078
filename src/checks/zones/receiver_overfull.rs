//! More wireless detectors than a receiver can learn.

use crate::base::wording::count;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Device;
use crate::words::Screen;

check!("receiver-overfull", Basis::Contradiction, "more wireless detectors than a receiver can learn");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, board) in site.boards.entries() {
        let part = site.part_of(id);
        let Some(capacity) = part.and_then(|part| part.radio.as_ref()?.capacity) else { continue };
        let heard: Vec<&Device> =
            site.devices.iter().filter(|device| device.receiver.as_ref().is_some_and(|r| r.value == id)).collect();
        let surplus: Vec<&Device> = heard.iter().skip(capacity as usize).copied().collect();
        if surplus.is_empty() {
            continue;
        }
        let detectors = count(capacity as usize, "wireless detector", None);
        let title = format!("{} learns {detectors} and is given {}", Screen.board(site, id), heard.len());
        let mut finding = Diagnostic::new(&RULE, board.name.span, title)
            .here(format!("{detectors} at most"))
            .why("The last ones cannot be learned, which shows only when the installer stands before the panel with a detector left in hand.")
            .help("Add a second receiver and name it with receiver= on the surplus.")
            .about(&board.name.value);
        for device in surplus {
            finding = finding.also(device.span(), "one too many");
            finding = about::device(site, device, finding);
        }
        sink.push(finding);
    }
}
