//! A fuse of a battery or a transformer that lets more through than the leads of either may carry.

use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::guards;
use crate::quantity::print::apart;
use crate::words::Screen;

check!("fuse-too-large", Basis::Practice, "a fuse that lets more through than leads may carry");

fn run(context: Context<'_>, sink: &mut Sink) {
    let guard = guards::LEADS;
    for head in standby::heads(context) {
        let battery = head.board.battery.as_ref().and_then(|battery| battery.fuse.as_ref());
        let transformer = head.board.transformer.as_ref().and_then(|transformer| transformer.fuse.as_ref());
        let fuses = [("battery", battery), ("transformer", transformer)];
        let fuses = fuses.into_iter().filter_map(|(thing, fuse)| Some((thing, fuse?)));
        for (thing, fuse) in fuses.filter(|(_, fuse)| fuse.value > guard.most()) {
            let board = Screen.board(context.site, head.id);
            let (rated, most) = apart(fuse.value, guard.most());
            let title = format!("the fuse of the {thing} of {board} is rated for {rated}");
            let finding = Diagnostic::new(&RULE, fuse.span, title)
                .here(format!("leads of {} AWG may carry {most}", guard.gauge))
                .why("The leads are seldom heavier than that. In a short they glow before the fuse opens, in a closed box between plastics.")
                .help("Write the fuse that the board's sheet asks for. Where the leads are heavier and the sheet asks for this one, accept it.")
                .figure(format!("{} AWG carries {most} at most: {}", guard.gauge, guard.origin()));
            sink.push(standby::about(&head, finding));
        }
    }
}
