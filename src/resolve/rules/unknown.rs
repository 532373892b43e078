//! Names that nothing has, and what was probably meant by them.

use std::collections::BTreeSet;

use crate::base::wording::{a, are_numbered_apart, count, did_you_mean, kdl_text, list, same_letters};
use crate::base::{Span, Spanned};
use crate::diag::{Certainty, Diagnostic};
use crate::model::{Board, BoardKind, Device, Part};
use crate::resolve::unknown::Unknown;
use crate::schema::Names;
use crate::terms::BoardPart;

use super::{UNKNOWN_NAME, include_line};

/// A name that is referred to and that nothing of the wanted kind has. `missing`: the file that has it and is not included, and
/// where its include may stand.
pub(crate) fn unknown_name(kind: Names, name: &str, unknown: &Unknown, missing: Option<(&str, Span)>) -> Diagnostic {
    let noun = kind.noun();
    let (first, others) =
        unknown.places.split_first().map_or((Span::default(), &[][..]), |(first, rest)| (*first, rest));
    let mut diagnostic = Diagnostic::new(&UNKNOWN_NAME, first, format!("there is no {noun} `{name}`"))
        .here(format!("no such {noun}"))
        .why(format!("The name refers to {}, and none of that name is defined in any file of the site.", a(noun)))
        .about(name);
    if let Some((other, span)) = unknown.elsewhere {
        diagnostic = diagnostic.also(span, format!("{} of that name", a(other.noun())));
    }
    diagnostic =
        others.iter().take(LISTED).fold(diagnostic, |diagnostic, place| diagnostic.also(*place, "here as well"));
    if let more @ 1.. = others.len().saturating_sub(LISTED) {
        diagnostic = diagnostic.figure(format!("and at {}", count(more, "more place", None)));
    }
    let known: Vec<String> = unknown.known.iter().map(|name| format!("`{name}`")).collect();
    if let Some((file, place)) = missing {
        return include(diagnostic, file, place)
            .help(format!("Write {} in site.kdl: the {noun} is defined there.", include_line(file)));
    }
    if let Some((misspelt, place)) = &unknown.misspelt {
        let said = format!("Did you mean `{name}` where `{misspelt}` is defined? Nothing refers to `{misspelt}`.");
        return diagnostic.also(*place, format!("defined as `{misspelt}`")).help(said).edit(
            Certainty::Likely,
            *place,
            kdl_text(name),
        );
    }
    if let Some(near) = &unknown.near {
        let certainty = if same_letters(near, name) { Certainty::Certain } else { Certainty::Likely };
        // Something has this name, or is numbered like it: that it stands for another is no more than a guess.
        if certainty == Certainty::Likely && (unknown.elsewhere.is_some() || are_numbered_apart(near, name)) {
            return diagnostic.help(format!("Did you mean `{near}`?"));
        }
        let all = unknown
            .places
            .iter()
            .fold(diagnostic, |diagnostic, place| diagnostic.edit(certainty, *place, kdl_text(near)));
        return all.help(format!("Did you mean `{near}`?{}", own_part(kind)));
    }
    if let (Names::Board, Some((Names::Room, _))) | (Names::Room, Some((Names::Board, _))) = (kind, unknown.elsewhere) {
        let (is, key) = if kind == Names::Board { ("a room", "room") } else { ("a board or joint box", "into") };
        return diagnostic.help(format!("`{name}` is {is}: a run ends there by {key}=\"{name}\"."));
    }
    diagnostic.help(if known.is_empty() {
        format!("Define the {noun}, or include the file that does: there is no {noun} yet.")
    } else {
        format!("Define the {noun}, or name another: {}.{}", list(&known, "or"), own_part(kind))
    })
}

/// That a part need not be one of those that are there.
fn own_part(kind: Names) -> &'static str {
    if kind == Names::Part { " A part of your own can be written: `loopwright reference part`." } else { "" }
}

/// The finding with the line that includes a file, behind the `site` node.
fn include(found: Diagnostic, file: &str, place: Span) -> Diagnostic {
    found.edit(Certainty::Likely, place, format!("\n\n{}", include_line(file)))
}

/// Many names at once that nothing has and that are like no other. `missing`: the file that
/// defines those for which `is_there` is true, and where its include may stand.
pub(crate) fn unknown_names(
    strays: &[(&(Names, String), &Unknown)],
    missing: Option<(&str, Span)>,
    is_there: &dyn Fn(Names, &str) -> bool,
) -> Diagnostic {
    let mut places: Vec<(Span, Names)> =
        strays.iter().flat_map(|((kind, _), one)| one.places.iter().map(|place| (*place, *kind))).collect();
    places.sort_by_key(|(place, _)| (place.file, place.start));
    let (first, noun) = places.first().map_or((Span::default(), ""), |(place, kind)| (*place, kind.noun()));
    let number = strays.len();
    let mut diagnostic =
        Diagnostic::new(&UNKNOWN_NAME, first, format!("{number} names are defined in no file of the site"))
            .here(format!("no such {noun}"))
            .why(format!(
                "They are written at {}. So many at once have mostly one cause: a file that is not included.",
                count(places.len(), "place", None)
            ));
    diagnostic = places
        .iter()
        .skip(1)
        .take(LISTED)
        .fold(diagnostic, |diagnostic, (place, kind)| diagnostic.also(*place, format!("no such {}", kind.noun())));
    let kinds: BTreeSet<Names> = strays.iter().map(|((kind, _), _)| *kind).collect();
    for kind in kinds {
        let names: Vec<String> =
            strays.iter().filter(|((of, _), _)| *of == kind).map(|((_, name), _)| format!("`{name}`")).collect();
        let more = names.len().saturating_sub(2 * LISTED);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        if !names.is_empty() {
            let listed: Vec<String> = names.into_iter().take(2 * LISTED).collect();
            diagnostic = diagnostic.figure(format!("{}: {}{more}", kind.noun(), listed.join(", ")));
        }
    }
    let Some((file, place)) = missing else {
        return diagnostic.help("Include the file that defines them, or define them.");
    };
    let there = strays.iter().filter(|((kind, name), _)| is_there(*kind, name)).count();
    include(diagnostic, file, place).help(if there == number {
        format!("Write {} in site.kdl: all of them are defined there.", include_line(file))
    } else {
        format!("Write {} in site.kdl: {} defined there. Define what is still missing after that, or include the file that does.", include_line(file), count(there, "name is", Some("names are")))
    })
}

/// A finding about a name that was probably meant to be another.
fn meant(found: Diagnostic, written: &Spanned<String>, near: &str) -> Diagnostic {
    let certainty = if same_letters(near, &written.value) { Certainty::Certain } else { Certainty::Likely };
    let found = found.help(format!("Did you mean `{near}`?"));
    // Of two things with numbers, the other one is no misspelling.
    if are_numbered_apart(near, &written.value) {
        return found;
    }
    found.edit(certainty, written.span, kdl_text(near))
}

/// A reference to an output or port that the board's part does not have.
pub(crate) fn unknown_on_board<'a>(
    noun: &str,
    written: &Spanned<String>,
    candidates: impl Iterator<Item = &'a str> + Clone,
    board: &Board,
    part: &Part,
) -> Diagnostic {
    let known: Vec<String> = candidates.clone().map(|c| format!("`{c}`")).collect();
    let diagnostic = Diagnostic::new(
        &UNKNOWN_NAME,
        written.span,
        format!("`{}` has no {noun} `{}`", board.name.value, written.value),
    )
    .here(format!("no such {noun}"))
    .also(part.name.span, format!("the part of `{}`", board.name.value))
    .why(format!("What a board offers is said by its part, `{}`.", part.name.value))
    .about(&written.value);
    match did_you_mean(&written.value, candidates) {
        Some(near) => meant(diagnostic, written, near),
        None if known.is_empty() => {
            diagnostic.help(format!("`{}` has no {noun} at all: take another board.", part.name.value))
        }
        None => diagnostic.help(format!("It has {}.", list(&known, "and"))),
    }
}

/// An unknown output of a board that has none at all; `others` have one of that name. A detector of a loop may be fed from them.
pub(crate) fn without_outputs(found: Diagnostic, part: &Part, others: &[&Board], detector: bool) -> Diagnostic {
    let others: Vec<String> = others.iter().take(LISTED).map(|board| format!("`{}`", board.name.value)).collect();
    let other = if others.is_empty() { String::new() } else { format!(", as {}", list(&others, "or")) };
    let feed =
        if detector { "; a detector can be fed by a `circuit` from there, with its name in a `feed`" } else { "" };
    found.help(format!("`{}` has no output at all: take another board{other}{feed}.", part.name.value))
}

/// A part of another kind named as that of a board; `others` are parts that say that they are for it.
pub(crate) fn part_is_other_board(
    written: &Spanned<String>,
    kind: &BoardKind,
    part: &Part,
    others: &[&Part],
) -> Diagnostic {
    let noun = kind.noun();
    let is = part.board.map(BoardPart::printed);
    let has = match (is, kind) {
        (Some(is), _) => format!("is a {is}"),
        (None, _) if !part.is_a_board() => "has neither inputs nor outputs nor a bus port".to_owned(),
        (None, BoardKind::Panel) => "takes its supply from a bus, and has neither inputs nor outputs".to_owned(),
        (None, _) => "has a supply or a telephone line of its own".to_owned(),
    };
    let others: Vec<String> = others.iter().take(LISTED).map(|other| format!("`{}`", other.name.value)).collect();
    let named = if others.is_empty() {
        format!("Name the part of the {noun}")
    } else {
        format!("Name the part of the {noun}, as {}", list(&others, "or"))
    };
    let on_bus = |board: BoardPart| matches!(board, BoardPart::Keypad | BoardPart::Module | BoardPart::Receiver);
    let help = match part.board {
        Some(is) if on_bus(is) == kind.hangs_on_bus() => format!(
            "{named}; or write `{}` in place of `{}`, where that is what is mounted.",
            is.word(),
            kind.part().map_or(noun, BoardPart::word)
        ),
        Some(_) | None => format!("{named}."),
    };
    Diagnostic::new(&UNKNOWN_NAME, written.span, format!("part `{}` is no {noun}", written.value))
        .here(format!("named as the part of a {noun}"))
        .also(part.name.span, has)
        .why("A board's part says what hangs on it: its inputs, its outputs and its ports. What is bought, landed and programmed follows from that.")
        .help(help)
        .about(&written.value)
}

/// A strip or a joint box named where something starts that only a board with a part has.
pub(crate) fn board_offers_none(noun: &str, written: Span, board: &Board) -> Diagnostic {
    let (name, kind) = (&board.name.value, board.kind.noun());
    let (why, help) = if board.kind.is_strip() {
        (
            "A strip only multiplies an output of the board that feeds it.",
            "Name the board that feeds the strip: what hangs on that output lands on the strip by itself.",
        )
    } else {
        (
            "In a joint box cables are only joined to each other.",
            "Name the board where it starts: a run from there ends in the box (into=), and those in its braces go on from it.",
        )
    };
    Diagnostic::new(&UNKNOWN_NAME, written, format!("{kind} `{name}` has no {noun} of its own"))
        .here(format!("a {kind}"))
        .also(board.name.span, "given here")
        .why(why)
        .help(help)
        .about(name)
}

/// A hop on an output that no panel has.
pub(crate) fn unknown_hop_output(written: &Spanned<String>, near: Option<&str>, names: &BTreeSet<&str>) -> Diagnostic {
    let known: Vec<String> = names.iter().take(2 * LISTED).map(|name| format!("`{name}`")).collect();
    let diagnostic =
        Diagnostic::new(&UNKNOWN_NAME, written.span, format!("no panel has an output `{}`", written.value))
            .here("no such output")
            .why("What feeds a device on the way to the service decides how long the way lasts.")
            .about(&written.value);
    match near {
        Some(near) => meant(diagnostic, written, near),
        None if known.is_empty() => diagnostic.help("Leave output= out: no panel has any."),
        None => diagnostic.help(format!("There are {}.", list(&known, "and"))),
    }
}

/// A hop that is fed by something that is none.
pub(crate) fn feeder_is_no_hop(written: &Spanned<String>, device: &Device) -> Diagnostic {
    let name = &written.value;
    Diagnostic::new(&UNKNOWN_NAME, written.span, format!("`{name}` is a {} and no hop", device.kind.noun()))
        .here("feeds nothing")
        .also(device.span(), "given here")
        .why("A hop gets its supply from another hop, as a switch feeds a radio through their network cable. Nothing else on a cable gives any.")
        .help("Name a hop, by the name= that it has. What an output of a board feeds is fed by a `circuit`.")
        .about(name)
}

/// What sends for a communicator and is no module.
pub(crate) fn sender_is_no_module(written: &Spanned<String>, board: &Board) -> Diagnostic {
    let name = &written.value;
    Diagnostic::new(&UNKNOWN_NAME, written.span, format!("`{name}` is a {} and no module", board.kind.noun()))
        .here("sends nothing")
        .also(board.name.span, "given here")
        .why("What sends for the panel is a module or receiver on its bus, such as the one that its network cable is plugged into. The cable of this way would be drawn to a board that has no socket for it.")
        .help("Name a module or receiver, or leave module= out and write board= with the panel that sends by itself.")
        .about(name)
}

/// How many places or names a finding lists; the others are counted.
const LISTED: usize = 6;
