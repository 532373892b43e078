//! The rules of reading a site together, and the words of their diagnostics.

mod includes;
mod rooms;
mod unknown;

use includes::include_line;
pub(crate) use includes::{
    file_left_out, include_cycle, include_of_register, include_outside, include_too_long, include_too_many,
    include_unreadable,
};
pub(crate) use rooms::room_size;
pub(crate) use unknown::{
    board_offers_none, feeder_is_no_hop, part_is_other_board, sender_is_no_module, unknown_hop_output, unknown_name,
    unknown_names, unknown_on_board, without_outputs,
};

use std::ops::Range;

use crate::base::wording::{list, thousands};
use crate::base::{FileId, Span, Spanned};
use crate::diag::{Basis, Certainty, Diagnostic, Rule};
use crate::model::{Opening, Room, Switch};
use crate::quantity::Seconds;
use crate::rule;
use crate::schema::{Names, Reading};
use crate::terms::Path;

use super::load::ReadFault;
use super::secrets::Secret;

static SITE_MISSING: Rule = rule!("site-missing", Basis::Language, "a spec without a site node");
static SITE_UNREADABLE: Rule = rule!("site-unreadable", Basis::Language, "a site.kdl that could not be read");
static TOP_LEVEL_REPEATED: Rule =
    rule!("top-level-repeated", Basis::Language, "a second node of which one may stand in all files");
static DUPLICATE_NAME: Rule = rule!("duplicate-name", Basis::Contradiction, "a name given twice");
static DUPLICATE_ZONE_NUMBER: Rule = rule!("duplicate-zone-number", Basis::Contradiction, "a zone number given twice");
static DUPLICATE_AREA_NUMBER: Rule = rule!("duplicate-area-number", Basis::Contradiction, "an area number given twice");
static AREA_NUMBER_UNWRITTEN: Rule =
    rule!("area-number-unwritten", Basis::Practice, "an area beside others that has no number of its own");
static PROPERTY_WITHOUT_EFFECT: Rule =
    rule!("property-without-effect", Basis::NoEffect, "a property that a communicator of its type does not have");
static INTERVAL_TOO_SHORT: Rule =
    rule!("interval-too-short", Basis::Contradiction, "an interval of reports that no service has");
static UNKNOWN_NAME: Rule = rule!("unknown-name", Basis::Contradiction, "a reference to a name that nothing has");
pub(crate) static UNUSED_NAME: Rule = rule!("unused-name", Basis::NoEffect, "a name that nothing refers to");
static RUN_WITHOUT_PLACE: Rule =
    rule!("run-without-place", Basis::Contradiction, "a run of which nobody says where it ends");
static OPENING_TO_OWN_ROOM: Rule =
    rule!("opening-to-own-room", Basis::Contradiction, "a door, window or hatch that leads to its own room");
static BRANCH_FROM_BOARD: Rule =
    rule!("branch-from-board", Basis::Contradiction, "a run inside a run that is said to start at the board");
static CONTACT_AT_BOARD: Rule =
    rule!("contact-at-board", Basis::Contradiction, "a contact at the board, on an opening of another room");
static RUNS_TOO_MANY: Rule =
    rule!("runs-too-many", Basis::Language, "more runs than one loop, bus or circuit may have");
static THINGS_TOO_MANY: Rule =
    rule!("things-too-many", Basis::Language, "more things than one loop, bus or circuit may hold");
static ALONG_A_GUEST: Rule =
    rule!("along-a-guest", Basis::Contradiction, "a run along one that has no cable of its own");
static CIRCUIT_WITHOUT_SUPPLY: Rule =
    rule!("circuit-without-supply", Basis::Contradiction, "a circuit that nothing feeds");
static DRIVE_WITHOUT_SWITCH: Rule =
    rule!("drive-without-switch", Basis::Contradiction, "a drive of a circuit that no relay or transistor switches");
static FEED_OF_MOUNTED: Rule =
    rule!("feed-of-mounted", Basis::Contradiction, "a feed of what has a circuit of its own");

static LOGO_UNUSABLE: Rule = rule!("logo-unusable", Basis::Contradiction, "a logo that is no picture");
static ACCENT_UNUSABLE: Rule = rule!("accent-unusable", Basis::Contradiction, "a colour that cannot be read on paper");

/// Its value is repeated nowhere: not in the snippet, not in another diagnostic.
pub(crate) static SECRET_IN_SPEC: Rule =
    rule!("secret-in-spec", Basis::Contradiction, "a user code, passphrase or account number in the spec");
/// Nor is this one's, accepted or not.
static SECRET_SUSPECTED: Rule =
    rule!("secret-suspected", Basis::Guess, "what may be a user code, passphrase or account number");

/// The rules of this stage.
pub(crate) static RULES: &[&Rule] = &[
    &SITE_MISSING,
    &LOGO_UNUSABLE,
    &ACCENT_UNUSABLE,
    &SITE_UNREADABLE,
    &TOP_LEVEL_REPEATED,
    &includes::INCLUDE_UNREADABLE,
    &includes::INCLUDE_OUTSIDE,
    &includes::INCLUDE_OF_REGISTER,
    &includes::INCLUDE_CYCLE,
    &includes::FILE_LEFT_OUT,
    &includes::INCLUDE_TOO_MANY,
    &DUPLICATE_NAME,
    &DUPLICATE_ZONE_NUMBER,
    &DUPLICATE_AREA_NUMBER,
    &AREA_NUMBER_UNWRITTEN,
    &PROPERTY_WITHOUT_EFFECT,
    &INTERVAL_TOO_SHORT,
    &UNKNOWN_NAME,
    &UNUSED_NAME,
    &RUN_WITHOUT_PLACE,
    &BRANCH_FROM_BOARD,
    &CONTACT_AT_BOARD,
    &OPENING_TO_OWN_ROOM,
    &rooms::ROOM_TOO_LARGE,
    &rooms::ROOM_TOO_SMALL,
    &ALONG_A_GUEST,
    &CIRCUIT_WITHOUT_SUPPLY,
    &DRIVE_WITHOUT_SWITCH,
    &FEED_OF_MOUNTED,
    &RUNS_TOO_MANY,
    &THINGS_TOO_MANY,
    &SECRET_IN_SPEC,
    &SECRET_SUSPECTED,
];

/// No `site` node in any file.
pub(crate) fn site_missing() -> Diagnostic {
    Diagnostic::new(&SITE_MISSING, Span::default(), "there is no `site` node")
        .here("expected in this file")
        .why("The `site` node names the house and the revision that the paper belongs to. Without it there is nothing to print.")
        .help("Begin site.kdl with: site \"my-house\" title=\"My house\"")
}

/// `site.kdl` itself could not be had.
pub(crate) fn site_file_unreadable(span: Span, fault: &ReadFault) -> Diagnostic {
    Diagnostic::new(&SITE_UNREADABLE, span, format!("site.kdl could not be read: {fault}"))
        .why("A site is a folder with a file site.kdl in it; everything else is included from there.")
        .help("Make it a plain text file that you may read, inside the site's folder.")
}

/// A second node where one may stand at the top of all files.
pub(crate) fn top_level_repeated(name: &str, first: Span, second: Span) -> Diagnostic {
    Diagnostic::new(&TOP_LEVEL_REPEATED, second, format!("a second `{name}`"))
        .here("the second")
        .also(first, "the first")
        .why(format!("One spec describes one house: `{name}` stands once in all its files together."))
        .help("Remove one of the two.")
}

/// A name given twice.
pub(crate) fn duplicate_name(kind: Names, name: &Spanned<String>, earlier: Span) -> Diagnostic {
    Diagnostic::new(&DUPLICATE_NAME, name.span, format!("the {} name `{}` is given twice", kind.noun(), name.value))
        .here("the second")
        .also(earlier, "the first")
        .why(format!("A reference to `{}` could mean either, so cables would be drawn to the wrong one.", name.value))
        .help(if kind == Names::Board {
            "If it is one board, let it hang on one bus only and take the other line away; if there are two, give one of them another name."
        } else {
            "Give one of the two another name."
        })
        .about(&name.value)
}

/// A second price of one thing.
pub(crate) fn priced_twice(what: &Spanned<String>, earlier: Span) -> Diagnostic {
    Diagnostic::new(&DUPLICATE_NAME, what.span, format!("`{}` has two prices", what.value))
        .here("the second")
        .also(earlier, "the first")
        .why("Only one of them can be multiplied by how many are bought.")
        .help("Take away the one that holds no more.")
        .about(&what.value)
}

/// A run that a conduit holds twice.
pub(crate) fn held_twice(name: &Spanned<String>, earlier: Span) -> Diagnostic {
    Diagnostic::new(&DUPLICATE_NAME, name.span, format!("this conduit holds run `{}` twice", name.value))
        .here("the second")
        .also(earlier, "the first")
        .why("A cable lies once in a conduit. If another was meant, it is missing from the list and from what fills the conduit.")
        .help("Name the cable that is meant, or take the second name away.")
        .about(&name.value)
}

/// A zone number given twice.
pub(crate) fn duplicate_zone_number(number: &Spanned<u32>, earlier: Span, free: u32) -> Diagnostic {
    Diagnostic::new(&DUPLICATE_ZONE_NUMBER, number.span, format!("zone number {} is given twice", number.value))
        .here("the second")
        .also(earlier, "the first")
        .why("The monitoring service hears only the number. With two zones behind it, the dispatcher reads the wrong room.")
        .help(format!("Give one of the two a free number, as {free}."))
        .edit(Certainty::Likely, number.span, free.to_string())
        .about(number.value)
}

/// Two areas that report with one number.
pub(crate) fn duplicate_area_number(number: &Spanned<u32>, earlier: Span) -> Diagnostic {
    let (number, place) = (number.value, number.span);
    Diagnostic::new(&DUPLICATE_AREA_NUMBER, place, format!("two areas report with number {number}"))
        .here("the second")
        .also(earlier, "the first")
        .why("The monitoring service hears only the number. With two areas behind it, the dispatcher reads the wrong part of the house.")
        .help("Give each area a number= of its own.")
        .about(number)
}

/// Areas that have only the number that is free, beside others.
pub(crate) fn area_number_unwritten(areas: &[(Spanned<String>, u32)]) -> Option<Diagnostic> {
    let ((first, number), others) = areas.split_first()?;
    let found = Diagnostic::new(&AREA_NUMBER_UNWRITTEN, first.span, format!("area `{}` has no number=", first.value))
        .here(format!("now number {number}"))
        .why("The panel and the monitoring service know an area by its number. Without number= it gets the first that is free, by order of name: with another area it may get another number, and what is programmed and on the service's list fits no longer.")
        .help(format!("Write the number that is programmed, as {}.", list(&areas.iter().map(|(name, number)| format!("number={number} at `{}`", name.value)).collect::<Vec<_>>(), "and")));
    let found =
        others.iter().fold(found, |found, (name, number)| found.also(name.span, format!("now number {number}")));
    Some(areas.iter().fold(found, |found, (name, number)| {
        found.edit(Certainty::Likely, name.span.behind(), format!(" number={number}")).about(&name.value)
    }))
}

/// A property of a communicator that its type does not have; `why` says what the property is about.
pub(crate) fn property_without_effect(property: &str, place: Span, kind: &Spanned<Path>, why: &str) -> Diagnostic {
    let word = kind.value.word();
    Diagnostic::new(&PROPERTY_WITHOUT_EFFECT, place, format!("{property}= says nothing of a way of type {word}"))
        .here("has no effect")
        .also(kind.span, "the type")
        .why(why)
        .help(format!("Leave {property}= out, or correct the type."))
}

/// The least volts of a hop that another one feeds.
pub(crate) fn min_of_a_fed_hop(min: Span, from: Span) -> Diagnostic {
    Diagnostic::new(&PROPERTY_WITHOUT_EFFECT, min, "min= says nothing of a hop that another one feeds")
        .here("has no effect")
        .also(from, "fed through this")
        .why("The hop before it makes the volts on the cable between them, so none of the site's figures say what arrives here.")
        .help("Leave min= out here, and write the least volts of the hop that an output or a circuit feeds.")
}

/// An interval shorter than any service has.
pub(crate) fn interval_too_short(property: &str, written: &Spanned<Seconds>, least: Seconds) -> Diagnostic {
    Diagnostic::new(
        &INTERVAL_TOO_SHORT,
        written.span,
        format!("{property} of {} is shorter than any service has", written.value),
    )
    .here(written.value.to_string())
    .why("It would be printed on the service's form as agreed. Mostly the unit is wrong.")
    .help(format!("Write the interval that the service has agreed to, of {least} or more, or leave {property}= out."))
}

/// A logo that cannot be printed.
pub(crate) fn logo_unusable(written: &Spanned<String>, fault: &str) -> Diagnostic {
    Diagnostic::new(&LOGO_UNUSABLE, written.span, format!("`{}` cannot be printed: {fault}", written.value))
        .here("the logo")
        .why("A picture stands in each page itself, so that a page that is sent alone has it. Only PNG and JPEG files from the site's own folder are taken, because pictures of other forms can hold programs.")
        .help("Put a PNG or JPEG file of at most 128 KiB into the site's folder and name it here, or leave logo= out.")
}

/// An accent that is no colour, or one too pale: its contrast with white, and the least.
pub(crate) fn accent_unusable(written: &Spanned<String>, pale: Option<(f64, f64)>) -> Diagnostic {
    let (title, here) = match pale {
        None => (format!("`{}` is no colour", written.value), "no colour".to_owned()),
        Some((contrast, least)) => (
            format!("`{}` is too pale to be read on paper", written.value),
            format!("its contrast with white is {:.1}, and {least} is the least", (contrast * 10.0).floor() / 10.0),
        ),
    };
    Diagnostic::new(&ACCENT_UNUSABLE, written.span, title)
        .here(here)
        .why("Headings are printed in this colour, also by printers that know only black. The least contrast of text is that of WCAG 2.2 (from memory).")
        .help("Write a dark colour as a hash and six digits, such as accent=\"#1f3d5c\", or leave accent= out.")
}

/// A name that nothing refers to.
pub(crate) fn unused_name(kind: Names, name: &str, span: Span) -> Diagnostic {
    let noun = kind.noun();
    Diagnostic::new(&UNUSED_NAME, span, format!("nothing uses the {noun} `{name}`"))
        .here("never referred to")
        .why("What nothing uses is a leftover, or something that was meant to be used was given another by mistake.")
        .help(format!("Remove it, or move {noun} definitions that several sites use to the shared parts folder."))
        .about(name)
}

/// A joint box in which no cable ends.
pub(crate) fn unused_box(name: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&UNUSED_NAME, span, format!("no cable ends in joint box `{name}`"))
        .here("never referred to")
        .why("It would be bought and mounted, and stay empty. A leftover, or a cable that was meant to end in it is said to end elsewhere.")
        .help(format!("Write into=\"{name}\" on the run that ends in it, or remove the box."))
        .about(name)
}

/// A run of which nobody says where it ends.
pub(crate) fn run_without_place(reading: &Reading) -> Diagnostic {
    Diagnostic::new(&RUN_WITHOUT_PLACE, reading.name_span, "this run ends nowhere")
        .here("no room=, and nothing on it that has a place")
        .why("The person who pulls the cable must know where to. Where a contact on an opening is mounted the opening says it; here nothing does.")
        .help("Add `room=`. Where a contact on a door or window is mounted here, say which with its on=. The run of a `spare-cable` that was there before (existing=#true) needs none: its far end is not found then.")
}

/// `from="board"` of a run that stands in the braces of `outer`.
pub(crate) fn branch_from_board(from: Span, outer: Span) -> Diagnostic {
    Diagnostic::new(&BRANCH_FROM_BOARD, from, "a run inside a run cannot start at the board")
        .here("at the board again")
        .also(outer, "it stands in the braces of this run")
        .why("A run inside a run starts where that run ends. What is printed would join this cable there, and not at the board where it is.")
        .help("Move it out of the braces, to behind the run that it stands in; or leave from= out, where its cable starts at that run's end.")
}

/// A contact or detector directly in the braces of its loop, on an opening that is in another room than the board.
pub(crate) fn contact_at_board(device: &Reading, opening: &Opening, here: &Room, there: &Room) -> Diagnostic {
    let noun = device.spec.name;
    let watched = &opening.name;
    let title = format!("this {noun} is at the board, and `{}` is in another room", watched.value);
    Diagnostic::new(&CONTACT_AT_BOARD, device.name_span, title)
        .here(format!("at the board, in {}", here.title))
        .also(watched.span, format!("in {}", there.title))
        .why("What stands directly in the braces of a loop is mounted at its board. What is mounted at the far end of a cable stands in the braces of that `run`.")
        .help(format!("Move the {noun} into the braces of the `run` whose cable ends at it."))
        .about(&watched.value)
}

/// An opening that leads to the room that it is in.
pub(crate) fn opening_to_own_room(opening: &Spanned<String>, to: &Spanned<String>) -> Diagnostic {
    Diagnostic::new(&OPENING_TO_OWN_ROOM, to.span, format!("`{}` leads to the room that it is in", opening.value))
        .here("its own room")
        .also(opening.span, "this opening")
        .why("An opening with to= leads to another room and is left out of what has to be watched; one without it leads outside.")
        .help("Name the room on its other side, or leave to= out where that is outdoors.")
        .about(&opening.value)
}

/// A loop, bus or circuit that goes on past the limit.
pub(crate) fn runs_too_many(reading: &Reading) -> Diagnostic {
    let most = crate::resolve::lower::MOST_RUNS;
    Diagnostic::new(&RUNS_TOO_MANY, reading.name_span, format!("this is run {} of one cable path", most + 1))
        .here("not read, nor any after it")
        .why(format!("One loop, bus or circuit has at most {most} runs. A path of that many cables could not be tested by anybody; mostly a script has gone wrong."))
        .help("Divide it into several loops or circuits.")
}

/// A loop, bus or circuit that holds more than the limit.
pub(crate) fn things_too_many(reading: &Reading) -> Diagnostic {
    let most = crate::resolve::lower::MOST_THINGS as usize;
    let title = format!("this `{}` is thing {} of one cable path", reading.spec.name, thousands(most + 1));
    Diagnostic::new(&THINGS_TOO_MANY, reading.name_span, title)
        .here("not read, nor any after it")
        .why(format!("At most {} contacts, detectors, resistors, sounders, loads, boards and feeds together hang on one loop, bus or circuit. A path of that many could not be tested by anybody; mostly a script has gone wrong.", thousands(most)))
        .help("Divide it into several loops or circuits.")
}

/// `along=` to a run that shares a cable itself, or to itself.
pub(crate) fn along_a_guest(written: &Spanned<String>, host: Span) -> Diagnostic {
    Diagnostic::new(&ALONG_A_GUEST, written.span, format!("`{}` has no cable of its own to share", written.value))
        .here("shares this run's cable")
        .also(host, "which shares another's")
        .why("Only a run with a cable of its own has conductors to spare for another.")
        .help("Name the run whose cable it is.")
}

/// A circuit without `output=`, and without a relay whose contact could be dry.
pub(crate) fn circuit_without_supply(circuit: &Reading, transistor: Option<&Switch>, outputs: &[&str]) -> Diagnostic {
    let name = circuit.text("name").map(|name| name.value).unwrap_or_default();
    let found = Diagnostic::new(&CIRCUIT_WITHOUT_SUPPLY, circuit.name_span, format!("nothing feeds circuit `{name}`"))
        .here("without output=")
        .about(&name);
    match transistor {
        Some(switch) => found
            .also(switch.name.span, "a transistor")
            .why("A transistor switches one side of a load; the other side stays on an output of the same board. Only the contact of a relay can be dry.")
            .help("Add output= with the output that the load takes its current from."),
        None => found
            .why("A circuit takes its current from an output of its board, or is switched by the dry contact of a relay because its load has a supply of its own.")
            .help(if outputs.is_empty() {
                "Add output=, or switch= with a relay of the board.".to_owned()
            } else {
                let outputs: Vec<String> = outputs.iter().map(|name| format!("output=\"{name}\"")).collect();
                format!("Add {}; or switch= with a relay of the board.", list(&outputs, "or"))
            }),
    }
}

/// A `feed` of a sounder or load.
pub(crate) fn feed_of_mounted(fed: &Spanned<String>, mounted: Span) -> Diagnostic {
    Diagnostic::new(&FEED_OF_MOUNTED, fed.span, format!("`{}` hangs on a circuit and is fed from another", fed.value))
        .here("fed once more")
        .also(mounted, "its own circuit feeds it")
        .why("The circuit that a sounder or load is mounted on is its supply. A second one would tie two outputs together at its terminals: only a detector in a loop, or a `hop`, is fed by name.")
        .help("Take the feed out, with its run and its circuit where they feed nothing else; or move the sounder or load itself to the end of this run, and take the one that it hung on away.")
        .about(&fed.value)
}

/// `drive` or `contact=` where nothing switches.
pub(crate) fn drive_without_switch(circuit: &Reading, stray: Span) -> Diagnostic {
    let name = circuit.text("name").map(|name| name.value).unwrap_or_default();
    Diagnostic::new(&DRIVE_WITHOUT_SWITCH, stray, format!("no relay or transistor switches circuit `{name}`"))
        .here("drives nothing")
        .also(circuit.name_span, "without switch=")
        .why("What hangs on an output without a relay or transistor is on whenever the output is. An event cannot change that.")
        .help("Add switch= with a relay or transistor of the board, or take this out.")
        .about(&name)
}

/// What is or may be a secret; its value is never repeated. `path` is the file's, for `accept` to name.
pub(crate) fn secret(file: FileId, path: &str, secret: &Secret) -> Diagnostic {
    let Secret { what, certain, word, values } = secret;
    let place = |bytes: &Range<usize>| Span::new(file, bytes.start, bytes.end);
    let first = values.first().map_or_else(|| place(word), place);
    let masked = "masked here; still in your file";
    let found = if *certain {
        Diagnostic::new(&SECRET_IN_SPEC, first, format!("this is {what}"))
            .why("The spec is kept in git and its paper is handed to others. A code that was in it once is known for ever. The packet prints blanks to be filled in by hand instead.")
            .help("Take it out of the file, and out of the git history if it was committed; then change it at the panel.")
    } else {
        Diagnostic::new(&SECRET_SUSPECTED, first, format!("this may be {what}"))
            .why("The spec is kept in git and its paper is handed to others, so a code has no place in it. Whatever this is, it is masked wherever it would be printed.")
            .help(format!("If it is one, take it out, and change it at the panel. If not, say what the number is, as \"part 4417\" or \"1200 mm\", or write: accept \"{}\" name=\"{path}\" because=\"…\"", SECRET_SUSPECTED.slug))
            .about(path)
    };
    let found = found.here(masked).also(place(word), "because of this word");
    values.iter().skip(1).fold(found, |found, value| found.also(place(value), "masked as well"))
}
