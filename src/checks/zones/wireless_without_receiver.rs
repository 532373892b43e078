//! A wireless detector that nothing hears.

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Board, BoardKind, Device, DeviceKind, Site};
use crate::terms::Radio;
use crate::words::Screen;

check!("wireless-without-receiver", Basis::Contradiction, "a wireless detector that nothing hears");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries().filter(|(_, device)| device.kind == DeviceKind::Wireless) {
        if let Some(finding) = finding(site, id, device) {
            sink.push(about::device(site, device, finding));
        }
    }
}

fn finding(site: &Site, id: Id<Device>, device: &Device) -> Option<Diagnostic> {
    let nothing = Diagnostic::new(&RULE, device.span(), format!("nothing hears {}", Screen.device(site, id))).why(
        "Its signal ends in the air, and a supervised receiver would not even miss it, since it never learned it.",
    );
    if !device.receiver_written {
        // Where something in the zone was reported, a receiver may be what was meant.
        device.zone.filter(|zone| site.zones[*zone].whole)?;
        let finding = nothing.here("no receiver=").help(receivers(site));
        let heard: Vec<&Board> = hearing(site).collect();
        return Some(match (heard.as_slice(), &device.opening) {
            ([only], Some(opening)) => {
                finding.edit(Certainty::Likely, opening.span.behind(), format!(" receiver=\"{}\"", only.name.value))
            }
            _ => finding,
        });
    }
    let part = device.part.map(|part| &site.parts[part]);
    if let Some(part) =
        part.filter(|part| part.whole && part.radio.as_ref().is_none_or(|r| r.role != Radio::Transmitter))
    {
        return Some(
            nothing
                .here("written as wireless")
                .also(part.name.span, "this part has no transmitter")
                .help("Take a part with radio \"transmitter\", or wire it in a loop."),
        );
    }
    let receiver = device.receiver.as_ref()?;
    let board = &site.boards[receiver.value];
    deaf(site, board).then(|| {
        Diagnostic::new(
            &RULE,
            receiver.span,
            format!("{} hears no wireless detectors", Screen.board(site, receiver.value)),
        )
        .here("not a receiver")
        .also(board.name.span, "this board has no receiver by its part")
        .why("Its signal ends in the air: the board that is named has no radio.")
        .help(receivers(site))
        .about(&board.name.value)
    })
}

/// True where it is known that a board has no receiver. One that is written as a receiver is judged by its part.
fn deaf(site: &Site, board: &Board) -> bool {
    let part = board.part.map(|part| &site.parts[part]);
    match board.kind {
        BoardKind::PowerSupply | BoardKind::Strip { .. } | BoardKind::JointBox { .. } => true,
        BoardKind::Receiver => false,
        BoardKind::Panel | BoardKind::Keypad { .. } | BoardKind::Module { .. } => {
            part.is_some_and(|part| part.whole && !part.hears())
        }
    }
}

/// The boards that hear wireless detectors.
fn hearing(site: &Site) -> impl Iterator<Item = &Board> {
    site.boards.iter().filter(|board| board.part.is_some_and(|part| site.parts[part].hears()))
}

fn receivers(site: &Site) -> String {
    let names: Vec<String> = hearing(site).map(|board| format!("receiver=\"{}\"", board.name.value)).collect();
    if names.is_empty() {
        "Add a `receiver` to the bus and name it with receiver=.".to_owned()
    } else {
        format!("Write {}.", list(&names, "or"))
    }
}
