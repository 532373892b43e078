//! A level that is above or below the ground by what it is called, and does not say its storey.

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Level;
use crate::terms::RoomKind;
use crate::words::Screen;

check!("storey-unsaid", Basis::Guess, "a level that is hardly at the ground, and does not say its storey");

/// Words for what is above the ground, and below it. "First floor" is at the ground in some countries and above it in others.
const ABOVE: &[&str] = &["upper", "upstairs", "attic", "loft", "roof"];
const BELOW: &[&str] = &["basement", "cellar", "crawlspace"];

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let unsaid = || site.levels.entries().filter(|(_, level)| !level.storey_written);
    for (_, level) in unsaid() {
        let Some(storey) = storey(level) else { continue };
        let place = if storey > 0 { "above" } else { "below" };
        sink.push(
            finding(
                level,
                format!("level {} is probably {place} the ground, and says no storey", Screen.name(&level.name.value)),
            )
            .help(format!("Write storey={storey}, or what is right; storey=0 where it is at the ground."))
            .edit(Certainty::Likely, level.name.span.behind(), format!(" storey={storey}")),
        );
    }
    let stairs = |id: Id<Level>| site.rooms.iter().any(|room| room.level == id && room.kind == Some(RoomKind::Stair));
    let mut with_stairs = unsaid().filter(|(id, level)| stairs(*id) && storey(level).is_none());
    if let (Some((_, first)), Some((_, second))) = (with_stairs.next(), with_stairs.next()) {
        let [one, other] = [first, second].map(|level| Screen.name(&level.name.value));
        sink.push(
            finding(second, format!("levels {one} and {other} have stairs, and neither says its storey"))
                .also(first.name.span, "the other")
                .help("Write storey=1 on the upper one; storey=0 on each where they stand side by side."),
        );
    }
}

fn finding(level: &Level, title: String) -> Diagnostic {
    Diagnostic::new(&RULE, level.name.span, title)
        .here("taken to be at the ground")
        .why("By its storey the program knows which windows can be reached from outside, where a smoke detector belongs, which floors a cable goes through, and what stands above what on the riser drawing.")
        .about(&level.name.value)
}

/// The storey that a level has by its words.
fn storey(level: &Level) -> Option<i64> {
    let text = format!("{} {}", level.name.value, level.title).to_lowercase();
    let has = |words: &[&str]| text.split(|c: char| !c.is_alphanumeric()).any(|word| words.contains(&word));
    match (has(ABOVE), has(BELOW)) {
        (true, false) if !has(&["ground"]) => Some(1),
        (false, true) => Some(-1),
        (true, true | false) | (false, false) => None,
    }
}
