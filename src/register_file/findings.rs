//! What the spec and its register have to say to each other, in words.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::{count, list};
use crate::base::{FileId, Id, Span, Spanned};
use crate::diag::{Diagnostic, Severity, Sink};
use crate::model::{Owner, Run, Site, Zone};
use crate::register::dead::replaced;
use crate::register::{Landing, Notice, OwnerName, Register};
use crate::words::Screen;

use super::print;
use super::rules;

/// Reports the notices of a site. Where the spec could not be read whole, what seems to be gone may be written wrong:
/// then only contradictions are reported.
pub(crate) fn report(site: &Site, notices: &[Notice], sink: &mut Sink) {
    // A dead cable that another finding is about, as long as there is that one: it is to be corrected first. A guess is
    // told once, and the cable stays dead.
    let mut told: BTreeSet<&str> = BTreeSet::new();
    for notice in notices {
        if let Notice::InputOfDead { label, .. } = notice {
            told.insert(label);
        }
    }
    let follows = |notice: &Notice| matches!(notice, Notice::Dead { label, .. } if told.contains(label.as_str()));
    let unsettled = unsettled(site);
    let waits = |notice: &Notice| match notice {
        Notice::Dead { of, .. } => unsettled.contains(of),
        Notice::InputOfDead { zone, .. } => unsettled.contains(&OwnerName::of(site, Owner::Zone(*zone))),
        // Where every one of them has its label, two have the same.
        Notice::Guessed { runs, .. } => runs.iter().all(|run| site.runs[*run].label.is_some()),
        // A zone that is written twice is the finding, not that it is on its own input.
        Notice::InputTaken { zone, holder, .. } => site.zones[*zone].number.value == site.zones[*holder].number.value,
        // Where the spec was not read whole a cable is hard to know again: only a label that it gives can be one too many.
        Notice::LabelTaken { run, holder, .. } => {
            let (run, holder) = (&site.runs[*run], &site.runs[*holder]);
            !site.sound && (run.label.is_none() || run.owner == holder.owner)
        }
        Notice::InputMoved { .. } | Notice::LabelChanged { .. } => false,
        Notice::LabelSpent { .. } | Notice::WiresMoved { .. } | Notice::CableMissing { .. } => false,
        Notice::NeverPulled { .. } | Notice::TypeRenamed { .. } => false,
        Notice::Revived { .. } | Notice::Recoloured { .. } => false,
    };
    let stays = |notice: &&Notice| !follows(notice) && !waits(notice) && !is_moved_wrongly(site, notice);
    let found = notices.iter().filter(stays).map(|notice| finding(site, notice));
    sink.extend(found.filter(|finding| site.sound || (site.complete && finding.severity() == Severity::Error)));
}

/// Loops, buses, circuits and ways of which a cable has a label that another has as well, or is said to be of two types: which
/// cable of the register it is, is not known, and that is the finding.
fn unsettled(site: &Site) -> BTreeSet<OwnerName> {
    let mut labels: BTreeMap<&str, Owner> = BTreeMap::new();
    let mut found = BTreeSet::new();
    for run in &site.runs {
        if let Some(label) = run.label.as_ref().filter(|_| !run.along_written)
            && let Some(other) = labels.insert(&label.value, run.owner)
        {
            found.extend([other, run.owner]);
        }
        let host = run.along.as_ref().map(|host| &site.runs[host.value]);
        if let Some(host) = host.filter(|host| host.cable != run.cable && host.cable.is_some() && run.cable.is_some()) {
            found.extend([host.owner, run.owner]);
        }
    }
    found.into_iter().map(|owner| OwnerName::of(site, owner)).collect()
}

/// True where the spec moves a loop to an input that the board does not have, or that another loop is given: that is the
/// finding.
fn is_moved_wrongly(site: &Site, notice: &Notice) -> bool {
    let Notice::InputMoved { zone, to, .. } = notice else { return false };
    let Some(board) = site.zones[*zone].wired.as_ref().and_then(|wired| wired.board.as_ref()) else { return false };
    let given = site.zones.entries().filter(|(id, _)| id != zone).filter_map(|(_, other)| {
        let wired = other.wired.as_ref()?;
        Some((wired.board.as_ref()?.value, wired.input.as_ref()?.value))
    });
    site.input(board.value, *to).is_none() || given.into_iter().any(|other| other == (board.value, *to))
}

fn finding(site: &Site, notice: &Notice) -> Diagnostic {
    match notice {
        Notice::InputMoved { zone, from: (board, number), to, entry } => {
            let zone = Zoned::new(site, *zone);
            let there = if board == zone.board { String::new() } else { format!(" of `{}`", zone.board) };
            Diagnostic::new(
                &rules::LANDING_MOVED,
                zone.place,
                format!("zone {} moves from input {number} of `{board}` to input {to}{there}", zone.number),
            )
            .here("moves")
            .also(entry.span, "landed here until now")
            .why("The register has the loop on another input. The spec is followed: the two conductors, and a resistor at the board, have to be moved by hand.")
            .help("Nothing to do if it is meant: compile, and the paper and the register show the new input.")
            .about(zone.number)
        }
        Notice::InputTaken { zone, holder, number, entry } => {
            let (zone, holder) = (Zoned::new(site, *zone), Zoned::new(site, *holder));
            Diagnostic::new(
                &rules::REGISTER_INPUT_TAKEN,
                zone.place,
                format!(
                    "input {number} of `{}` is given to zone {}, but zone {} is landed there",
                    zone.board, zone.number, holder.number
                ),
            )
            .here(format!("zone {}", zone.number))
            .also(entry.span, format!("zone {} is landed on it", holder.number))
            .also(holder.place, format!("zone {}", holder.number))
            .why(
                "What is landed never moves by itself. Two loops under the same screws would be one loop to the board.",
            )
            .help(format!(
                "Give zone {} another input, or move zone {} by giving it an input= of its own.",
                zone.number, holder.number
            ))
            .about(zone.number)
            .about(holder.number)
        }
        Notice::InputOfDead { zone, number, label, entry } => {
            let zone = Zoned::new(site, *zone);
            Diagnostic::new(
                &rules::CABLE_DEAD_LANDED,
                zone.place,
                format!(
                    "input {number} of `{}` is given to zone {}, but dead cable `{label}` is still on it",
                    zone.board, zone.number
                ),
            )
            .here(format!("zone {}", zone.number))
            .also(entry.span, "the dead cable")
            .why("With two cables under the screws the board reads both, and the dead one decides what it sees.")
            .help(format!("Take `{label}` off its terminals first, and write off=#true (or out=#true) in its entry."))
            .about(zone.number)
            .about(label)
        }
        Notice::LabelChanged { run, from, entry } => {
            let (place, label) = label_of(site, *run);
            Diagnostic::new(&rules::LANDING_MOVED, place, format!("cable `{from}` is labelled `{label}` now"))
                .here("the new label")
                .also(entry.span, "its label until now")
                .why("The spec gives a cable in the wall another label. It is followed: the text on both ends has to be changed by hand. The old label is not given again.")
                .help("Nothing to do if it is meant; otherwise remove label=.")
                .about(from)
                .about(label)
        }
        Notice::LabelTaken { run, holder, entry } => {
            let (place, label) = label_of(site, *run);
            let (one, other) = (of(site, *run), of(site, *holder));
            Diagnostic::new(
                &rules::REGISTER_LABEL_TAKEN,
                place,
                format!("the label `{label}` is given to a cable of {one}, but is on a cable of {other}"),
            )
            .here(format!("a cable of {one}"))
            .also(entry.span, "the cable that has it")
            .also(site.runs[*holder].span(), format!("its run, in {other}"))
            .why("A label that moves from one cable to another is worse than none: whoever reads it believes it.")
            .help(format!("Give this cable another label, or leave label= out: a free one is proposed. If it is the cable that has the label, used for {one} now, write a label= of its own at the cable of {other}: that one is new then."))
            .about(label)
        }
        Notice::LabelSpent { run, entry } => {
            let (place, label) = label_of(site, *run);
            Diagnostic::new(
                &rules::REGISTER_LABEL_TAKEN,
                place,
                format!("the label `{label}` is that of a cable that is dead or out of the wall"),
            )
            .here("given again")
            .also(entry.span, "given here")
            .why("Old paper, photographs and notes speak of that cable by this label. A label is given once.")
            .help("Give this cable another label, or leave label= out: a free one is proposed.")
            .about(label)
        }
        Notice::WiresMoved { run, label, wires, entry } => {
            let first = wires.first().map(|(position, ..)| position.to_string()).unwrap_or_default();
            let which = if wires.len() == 1 { format!("conductor {first} of ") } else { "conductors of ".into() };
            let finding = Diagnostic::new(
                &rules::LANDING_MOVED,
                site.runs[*run].span(),
                format!("{which}cable `{label}` {} to other terminals", if wires.len() == 1 { "goes" } else { "go" }),
            )
            .here("moves")
            .also(entry.span, "landed here until now")
            .why("The spec gives the board another part, output or strip, so the register's terminals are not theirs any more. They have to be moved by hand.")
            .help("Nothing to do if it is meant: compile, and the paper and the register show the new terminals.")
            .about(label);
            wires.iter().fold(finding, |finding, (position, from, to)| {
                finding.figure(format!("conductor {position}: from {from} to {to}"))
            })
        }
        Notice::Guessed { runs, entries } => guessed(site, runs, entries),
        Notice::Revived { run, label, because, entry } => {
            let title = format!("cable `{label}` is in use by the spec, and its entry says that it is dead: {because}");
            Diagnostic::new(&rules::CABLE_DEAD, site.runs[*run].span(), title)
                .here("a run of the spec")
                .also(entry.span, "said to be dead")
                .why("A cable of which the spec has a run is in use: the next compile takes dead= and off= out of its entry, and every sheet shows it on its terminals.")
                .help("Where it is dead, take its run out of the spec: the entry then stays as it is. Nothing to do where it is back in use.")
                .about(label)
        }
        Notice::Recoloured { run, label, wires, entry } => {
            let finding = Diagnostic::new(
                &rules::LANDING_MOVED,
                site.runs[*run].span(),
                format!("conductors of cable `{label}` have other colours than in the register"),
            )
            .here("the colours of its type")
            .also(entry.span, "the colours until now")
            .why("Colours follow from the type of the cable: they are printed as the type has them, and the register is written so. Whoever looks for the old colour on a terminal finds another one.")
            .help("Look at the cable. Where its conductors have the old colours, give it a type of its own in the spec, with a `conductor` for each in their order; where two are exchanged at their terminals, exchange them back, or exchange function and terminals on their two lines of the register and leave the colours.")
            .about(label);
            wires.iter().fold(finding, |finding, (position, from, to)| {
                finding.figure(format!("conductor {position}: {from} in the register, {to} by its type"))
            })
        }
        Notice::TypeRenamed { was, is, runs, entries } => {
            let place = runs.first().map(|run| site.runs[*run].span()).unwrap_or_default();
            let cables = match entries.as_slice() {
                [(label, _)] => format!("cable `{label}` of type `{was}` is"),
                [..] => format!("{} of type `{was}` are", count(entries.len(), "cable", None)),
            };
            let title = format!("{cables} taken as of type `{is}`");
            let (why, help) = if runs.iter().all(|run| site.runs[*run].existing) {
                ("By the spec it was in the wall before: its type was taken wrong, or has another name now, and it keeps its label.".to_owned(),
                "Nothing to do if that is so. Where another cable was pulled, take existing=#true out: then the old one stays on the paper.".to_owned())
            } else {
                (format!("The spec has no type `{was}` any more, so `{is}` is taken as its new name, and the cable in the wall keeps its label. Were another cable pulled beside it, nothing would remember the old one."),
                format!("Nothing to do where only the name has changed. Where another cable was pulled, define `{was}` again before you compile: then the old one stays on the paper."))
            };
            let finding = Diagnostic::new(&rules::CABLE_GUESSED, place, title).here(format!("a `{is}`")).why(why).help(help);
            entries.iter().fold(finding, |finding, (label, entry)| finding.also(entry.span, format!("a `{was}`")).about(label))
        }
        Notice::CableMissing { zone, number, entry } => {
            let zone = Zoned::new(site, *zone);
            Diagnostic::new(
                &rules::REGISTER_CABLE_MISSING,
                entry.span,
                format!("input {number} of `{}` is held for zone {}, and no cable of zone {} is in the register", zone.board, zone.number, zone.number),
            )
            .here("the input")
            .also(zone.place, format!("zone {}", zone.number))
            .why("The entry of the cable that is on it was lost. The cable in the wall would get another label, and its conductors perhaps other terminals.")
            .help("Take its entry back from the last commit. Where the cable is out of the wall, write out=#true in its entry instead; where nothing was ever pulled, remove this line too.")
            .about(zone.number)
        }
        Notice::NeverPulled { label, other, entry, back } => {
            Diagnostic::new(
                &rules::CABLE_NEVER_PULLED,
                entry.span,
                format!("cable `{label}` is taken as never pulled"),
            )
            .here("took the place of the other one")
            .also(back.span, "not said to be off its terminals")
            .why(format!("The spec no longer has this cable, and nobody has written that `{other}`, which it took the place of, is off: so it is taken as a change on paper that was undone. Its entry goes, and `{other}` is `{label}` again. Were it in the wall, nothing would remember it."))
            .help(format!("Nothing to do where it was never pulled. Where it was, write off=#true in the entry of `{other}` before you compile."))
            .about(label)
        }
        Notice::Dead { label, of, because, off, on, entry } => {
            // An entry that is only proposed stands in no file yet; the run that takes its label does.
            let takes = |run: &&Run| run.label.as_ref().is_some_and(|label| replaced(&label.value) == *because);
            let run = site.runs.iter().filter(|_| entry.span == Span::default()).find(takes);
            let place = run.map_or(Ok(entry.span), |run| Err(run.span()));
            dead(label, of, because, *off, on, place)
        }
    }
}

fn guessed(site: &Site, runs: &[Id<Run>], entries: &[(String, Spanned<()>)]) -> Diagnostic {
    let labels: Vec<String> = entries.iter().map(|(label, _)| format!("`{label}`")).collect();
    let place = runs.first().map(|run| site.runs[*run].span()).unwrap_or_default();
    let (cables, runs_are) = (
        if labels.len() == 1 { "cable" } else { "cables" },
        if runs.len() == 1 { "one run".to_owned() } else { format!("{} runs", runs.len()) },
    );
    let mut finding = Diagnostic::new(
        &rules::CABLE_GUESSED,
        place,
        format!("{runs_are} might be {cables} {}", list(&labels, "or")),
    )
    .here("paired by its order")
    .why("They end in the same room with the same things on them, so that only the order of the text tells which is which. A wrong guess puts a label on the paper that is on another cable in the wall.")
    .help("Give each run its label=, as it is in the wall.");
    for run in runs.iter().skip(1) {
        finding = finding.also(site.runs[*run].span(), "fits as well");
    }
    for (label, entry) in entries {
        finding = finding.also(entry.span, "may be it").about(label);
    }
    finding
}

/// `place`: its entry, or where it has none yet the run that has its label now.
fn dead(
    label: &str,
    of: &OwnerName,
    because: &str,
    off: bool,
    on: &[Landing],
    place: Result<Span, Span>,
) -> Diagnostic {
    let landed: Vec<String> = on.iter().map(ToString::to_string).collect();
    let (place, here, first) = match place {
        Ok(entry) => (entry, format!("was a cable of {of}"), ""),
        Err(run) => (run, format!("has the label that a cable of {of} had"), "Compile first, which writes its entry. "),
    };
    let finding =
        Diagnostic::new(&rules::CABLE_DEAD, place, format!("cable `{label}` is in the wall without use: {because}"))
            .here(here)
            .why("A cable that nobody has on paper is found in ten years and believed to be in use. Until somebody says that it is out it stays on the paper, and its label is not given again.")
            .about(label);
    if landed.is_empty() && !off {
        // Two labels that change places are no way to say that two cables change theirs.
        let labels = if because.starts_with("replaced by another cable") {
            " If you only want other labels on two cables that stay, take register.kdl back from git, and give each a label= that no cable has had."
        } else {
            ""
        };
        finding.help(format!("{first}Write off=#true in its entry when both its ends are off and capped, and out=#true when it is out of the wall. If a run of the spec is this cable now, give that run the label by label=. If it was never pulled, remove the entry.{labels}"))
    } else if landed.is_empty() {
        finding.help("Nothing is to be done: both its ends are capped. Write out=#true in its entry if it comes out of the wall.")
    } else {
        finding
            .help(format!("{first}Write off=#true in its entry when its conductors are off the terminals, and out=#true when it is out of the wall."))
            .figure(format!("still on {}", list(&landed, "and")))
    }
}

/// The register would change, and `--frozen` forbids it.
pub(crate) fn not_current(file: Option<FileId>, old: &Register, new: &Register) -> Diagnostic {
    let title = match file {
        Some(_) => "register.kdl would change",
        None => "there is no register.kdl yet",
    };
    let place = Span::new(file.unwrap_or_default(), 0, 0);
    let finding = Diagnostic::new(&rules::REGISTER_NOT_CURRENT, place, title)
        .why("The spec has been changed without its register. Labels and landings would then be given on each machine anew, and two branches would give the same ones.")
        .help("Run `loopwright compile` without --frozen, read what it changed in register.kdl, and commit it with the spec.");
    changes(old, new).into_iter().fold(finding, Diagnostic::figure)
}

/// What would change, a line each.
fn changes(old: &Register, new: &Register) -> Vec<String> {
    let (old, new) = (print::blocks(old), print::blocks(new));
    let (before, after) = (print::by_id(&old), print::by_id(&new));
    let mut changes = Vec::new();
    for block in &new {
        match before.get(block.id.as_str()).copied() {
            None => changes.push(format!("new: {}", block.head)),
            Some(other) if other.head != block.head => changes.push(format!("changed: {}", block.head)),
            Some(other) if other != block => {
                let lines = block.lines.iter().filter(|line| !other.lines.contains(line));
                let gone = other.lines.iter().filter(|(id, _)| !block.lines.iter().any(|(other, _)| other == id));
                changes.extend(lines.map(|(_, line)| format!("changed: {}: {line}", block.id)));
                changes.extend(gone.map(|(_, line)| format!("removed: {}: {line}", block.id)));
            }
            Some(_) => {}
        }
    }
    let gone = old.iter().filter(|other| !after.contains_key(other.id.as_str()));
    changes.extend(gone.map(|block| format!("removed: {}", block.head)));
    // The text is there as well as the register: more than a screen of it is of no use here.
    let more = changes.len().saturating_sub(20);
    changes.truncate(20);
    if more > 0 {
        changes.push(format!("and {more} more"));
    }
    changes
}

/// A zone as it is named in a finding.
struct Zoned<'s> {
    number: u32,
    board: &'s str,
    /// Its `input=`, or the board's name where that decides.
    place: Span,
}

impl<'s> Zoned<'s> {
    fn new(site: &'s Site, id: Id<Zone>) -> Self {
        let zone = &site.zones[id];
        let wired = zone.wired.as_ref();
        let board = wired.and_then(|wired| wired.board.as_ref());
        let input = wired.and_then(|wired| wired.input.as_ref()).map(|input| input.span);
        Self {
            number: zone.number.value,
            board: board.map_or("", |board| site.boards[board.value].name.value.as_str()),
            place: input.or(board.map(|board| board.span)).unwrap_or(zone.number.span),
        }
    }
}

fn of(site: &Site, run: Id<Run>) -> String {
    Screen.owner(site, site.runs[run].owner)
}

/// Where a run is given its label, and the label.
fn label_of(site: &Site, run: Id<Run>) -> (Span, &str) {
    let run = &site.runs[run];
    run.label.as_ref().map_or((run.span(), ""), |label| (label.span, label.value.as_str()))
}
