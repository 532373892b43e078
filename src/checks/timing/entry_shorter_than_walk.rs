//! An entry delay in which nobody gets from the door to the keypad.

use super::advice::{self, Advice};
use crate::base::{Id, Spanned};
use crate::calc::timing::{Door, Way, needed};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Site, Walk};
use crate::profiles::timing::{AT_DOOR_AND_KEYPAD, DETOUR, Range, WALKING_SPEED, delays};
use crate::quantity::{Seconds, print};
use crate::words::Screen;

check!(
    "entry-shorter-than-walk",
    Basis::Published(
        "Manual on Uniform Traffic Control Devices section 4E.06, edition of 2009, quoted: walking speed; the rest: common practice"
    ),
    "an entry delay that is shorter than the way to the keypad takes"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let limits = delays(context.site.edition);
    for short in too_short(context, |area| area.entry, limits.entry) {
        let area = &context.site.areas[short.area];
        let help = if short.advice.fits {
            format!(
                "Write {}, put a keypad nearer to the door, or accept this with the reason.",
                short.advice.entry_words(area)
            )
        } else {
            "Put a keypad nearer to the door: a longer entry delay would keep an alarm back for too long.".to_owned()
        };
        let title = short.title(context.site, "to come in");
        let finding = short.finding(context.site, Diagnostic::new(&RULE, short.delay.span, title));
        sink.push(
            finding
                .why("Whoever comes home with full hands and without hurry must reach the keypad and key in a code. If the delay ends before that, the house alarms at its own people.")
                .help(help),
        );
    }
}

/// A delay that is too short for the longest way of its area.
pub(super) struct Short {
    pub(super) area: Id<Area>,
    pub(super) delay: Spanned<Seconds>,
    pub(super) door: Door,
    pub(super) way: Way,
    pub(super) advice: Advice,
}

/// The areas whose delay lies in its range, and is shorter than the longest way of their doors needs.
pub(super) fn too_short(
    context: Context<'_>,
    delay: fn(&Area) -> Option<Spanned<Seconds>>,
    range: Range,
) -> Vec<Short> {
    let (site, doors) = (context.site, context.doors);
    let short = |(id, area): (Id<Area>, &Area)| {
        let delay = delay(area).filter(|delay| range.holds(delay.value.0))?;
        let (door, needed) = needed(doors, id)?;
        let way = door.way.filter(|_| delay.value.0 < needed.0)?;
        Some(Short { area: id, delay, door: door.clone(), way, advice: advice::of(site, doors, id) })
    };
    site.areas.entries().filter_map(short).collect()
}

impl Short {
    pub(super) fn title(&self, site: &Site, what: &str) -> String {
        format!(
            "area {} gives {} {what}, and {} needs {:.0} s",
            Screen.name(&site.areas[self.area].name.value),
            self.delay.value,
            Screen.opening(site, self.door.opening),
            self.way.needed().0.ceil()
        )
    }

    /// A finding with the places and figures of the way.
    pub(super) fn finding(&self, site: &Site, finding: Diagnostic) -> Diagnostic {
        let area = &site.areas[self.area];
        let opening = &site.openings[self.door.opening];
        let its = |walk: &&Walk| walk.from.value == self.door.opening && Some(walk.to.value) == self.door.keypad;
        let written = area.walks.iter().find(its);
        let finding = finding.here("shorter than the way").also(opening.name.span, "from here");
        let finding = match self.door.keypad {
            Some(keypad) => finding.also(site.boards[keypad].name.span, "to here"),
            None => finding,
        };
        let finding = match written.and_then(|walk| {
            walk.time.as_ref().map(|time| time.span).or(walk.length.as_ref().map(|length| length.span))
        }) {
            Some(span) => finding.also(span, "the way"),
            None => finding,
        };
        let walking = Seconds(self.way.walking().0.ceil());
        let how = match self.way {
            Way::Timed(_) => format!("the way: {walking}, as the spec says"),
            Way::Measured(length) => format!(
                "the way: {} at 3 ft/s (0.91 m/s) are {walking} ({})",
                print::length(length, site.lengths),
                WALKING_SPEED.source()
            ),
            Way::Plan(length) => format!(
                "the way: {} (the straight line on the plan × {}, {}) at 3 ft/s (0.91 m/s) are {walking} ({})",
                print::length(length, site.lengths),
                DETOUR.value,
                DETOUR.source(),
                WALKING_SPEED.source()
            ),
        };
        let door = format!(
            "the door, the lights and the keys: {} ({})",
            AT_DOOR_AND_KEYPAD.time(),
            AT_DOOR_AND_KEYPAD.source()
        );
        finding.figure(how).figure(door).about(&area.name.value)
    }
}
