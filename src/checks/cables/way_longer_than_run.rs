//! A cable that is shorter than the way that it has to go on the plan.

use crate::checks::cables::run_too_short::LEAST;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Run, Site};
use crate::quantity::{Metres, print};

check!("way-longer-than-run", Basis::Contradiction, "a cable that is shorter than its way on the plan");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, run) in site.runs.entries() {
        // One too short to be a cable is told by that.
        let Some(length) = run.length.as_ref().filter(|length| length.value.0 >= LEAST.0) else { continue };
        let drawn: f64 = run.way.iter().zip(run.way.iter().skip(1)).map(|(from, to)| from.to(*to).0).sum();
        // The length of a guest is that of its host.
        let apart = between_rooms(site, run).filter(|_| run.along.is_none()).unwrap_or_default();
        let way = drawn.max(apart.0);
        if way <= length.value.0 * (1.0 + 1e-9) {
            continue;
        }
        let is_drawn = drawn >= apart.0;
        let [way, long] = [Metres(way), length.value].map(|length| print::length(length, site.lengths));
        let label =
            context.wiring.cable_of(id).map_or_else(|| "this run".to_owned(), |cable| format!("`{}`", cable.label));
        let title = if is_drawn {
            format!("{label} is {long} long, and its way on the plan {way}")
        } else {
            format!("{label} is {long} long, and the two rooms at its ends are {way} apart on the plan")
        };
        let finding = Diagnostic::new(&RULE, length.span, title)
            .here("shorter than its way")
            .why("The way on the plan is only what lies level: what goes up and down, and the slack, come on top. A cable that is too short is joined where nobody looks for a joint.")
            .help(if is_drawn {
                format!("Write a length of more than {way}, or correct the points of its way: they are measured from the level's left and lower edge.")
            } else {
                format!("Write a length of more than {way}, or correct the rect of one of the rooms, or the room= of one of its ends.")
            });
        sink.push(about::owner(site, run.owner, finding));
    }
}

/// How far the rooms at the two ends of a run are from each other, by the plan.
fn between_rooms(site: &Site, run: &Run) -> Option<Metres> {
    let rooms = site.room_at_start(run).zip(run.room)?;
    site.rooms[rooms.0].gap_to(&site.rooms[rooms.1])
}
