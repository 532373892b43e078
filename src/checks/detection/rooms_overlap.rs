//! Two rooms of a level that lie on each other.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Room;
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("rooms-overlap", Basis::Mismatch, "two rooms of a level that lie on each other");

/// What measures of rooms may be off: the thickness of a wall.
const WALL: f64 = 0.5;
/// Of so many others that a room lies on it is told: mostly one rect is wrong.
const MOST_TOLD: usize = 8;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let indoors: Vec<&Room> = site.rooms.iter().filter(|room| !room.is_outdoors()).collect();
    for (position, room) in indoors.iter().enumerate() {
        let before = indoors.iter().take(position).filter(|earlier| earlier.level == room.level);
        let on = |earlier: &&&Room| shared(earlier, room).filter(|(across, along)| across.min(*along) > WALL);
        for (earlier, (across, along)) in before.filter_map(|other| Some((other, on(&other)?))).take(MOST_TOLD) {
            let length = |metres| print::length(Metres(metres), site.lengths);
            let names = [earlier, room].map(|room| Screen.name(&room.name.value));
            let [one, other] = names;
            let title = format!("rooms {one} and {other} lie on each other by {} by {}", length(across), length(along));
            sink.push(
                Diagnostic::new(&RULE, room.name.span, title)
                    .here("one")
                    .also(earlier.name.span, "the other")
                    .why("Ways, walls and distances are measured on the plan: where two rooms share a floor they are wrong.")
                    .help("Correct the rect of one of them: the corner nearest the plan's origin, then width and depth; or accept this where one is a part of the other.")
                    .about(&earlier.name.value)
                    .about(&room.name.value),
            );
        }
    }
}

/// By how much two rooms lie on each other, in metres; not above zero where they do not.
fn shared(one: &Room, other: &Room) -> Option<(f64, f64)> {
    let ([ax, ay, aw, ad], [bx, by, bw, bd]) = (one.rect?, other.rect?);
    let shared =
        |a: Metres, a_size: Metres, b: Metres, b_size: Metres| (a.0 + a_size.0).min(b.0 + b_size.0) - a.0.max(b.0);
    Some((shared(ax, aw, bx, bw), shared(ay, ad, by, bd)))
}
