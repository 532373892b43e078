//! More conductors under a terminal than it takes.
//!
//! Terminals that are overfull through the same cables are one finding: the two of an output, the four of a bus
//! port, an input with its return. Where two loops are given one input, that is the finding, and its terminals are
//! left out here. A bus that is wired as a star is another matter than what its screws take, so both are told; boards
//! that feed each other in a circle have a cable too many, and that is the finding.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::{count, list};
use crate::base::{Id, Span};
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::zones::input_used_twice;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::terminal::{Role, Terminal, capacity, terminals};
use crate::model::{Board, BoardKind, Device, OutputRef, Run, Site};
use crate::register::{FittedKind, Function, OnTerminal, Point, Wiring};
use crate::words::{self, Screen};

check!("terminal-overfull", Basis::Contradiction, "more conductors under a terminal than it takes");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let contested: BTreeSet<(Id<Board>, String)> = input_used_twice::given(site)
        .into_iter()
        .filter(|(_, zones)| zones.len() > 1)
        .filter_map(|((board, number), _)| {
            let input = site.input(board, number)?;
            Some([(board, input.signal.clone()), (board, input.back.clone())])
        })
        .flatten()
        .collect();
    let loads = wiring.loads();
    let load = |board: Id<Board>, mark: &str| loads.get(&(board, mark)).copied().unwrap_or_default();
    // What a strip takes off a screw is not known where its output or its number of ways was reported.
    let unread =
        |kind: &BoardKind| matches!(kind, BoardKind::Strip { feed: None, .. } | BoardKind::Strip { ways: 0, .. });
    let strips = site.boards.iter().any(|board| unread(&board.kind));
    let unsettled = |role: Role| strips && matches!(role, Role::OutputPositive(_) | Role::OutputNegative(_));
    for (id, _) in site.boards.entries() {
        let Some(takes) = capacity(site, id) else { continue };
        let overfull: Vec<Terminal> = terminals(site, id)
            .into_iter()
            .filter(|terminal| load(id, &terminal.mark) > takes as usize)
            .filter(|terminal| !contested.contains(&(id, terminal.mark.clone())))
            .collect();
        let mut groups: BTreeMap<Role, Vec<&Terminal>> = BTreeMap::new();
        for terminal in &overfull {
            groups.entry(group(terminal, &overfull)).or_default().push(terminal);
        }
        // A terminator that is one too many is the finding; without it the screw may hold what is left.
        let surplus = surplus(context, id);
        let circle = context.power.circles.iter().flatten().any(|board| *board == id);
        let groups = groups.into_iter().filter(|(role, _)| !unsettled(*role));
        for (role, group) in groups.filter(|(role, _)| !(circle && matches!(role, Role::BusPlus(_)))) {
            let most = group.iter().map(|terminal| load(id, &terminal.mark)).max().unwrap_or_default();
            if matches!(role, Role::BusPlus(_)) && (most <= takes as usize + surplus || is_on_own_bus(site, id)) {
                continue;
            }
            sink.push(finding(site, wiring, id, (takes, most), role, &group));
        }
    }
    at_devices(context, sink);
}

/// True for a board that hangs on the bus which starts at it: that is the finding.
fn is_on_own_bus(site: &Site, board: Id<Board>) -> bool {
    site.boards[board].bus.is_some_and(|(bus, _)| site.starts_at(bus, board))
}

/// How many terminators at a board its bus has too many, or in the wrong place. Those that are accepted stay.
fn surplus(context: Context<'_>, board: Id<Board>) -> usize {
    let found = found(context, |cause| matches!(cause, Cause::TerminatorSurplus(_) | Cause::TerminatorMisplaced(_)));
    let here = found.map(|(_, figures, cause)| {
        let (Cause::TerminatorSurplus(ends) | Cause::TerminatorMisplaced(ends)) = cause else { return 0 };
        let layout = &figures.layout;
        if cause.is_accepted(context.site, layout.bus) {
            return 0;
        }
        let place = |one: &&usize| layout.terminators.get(**one).and_then(|it| layout.places.get(it.place));
        let at = |one: &&usize| place(one).is_some_and(|place| place.boards.contains(&board));
        ends.surplus.iter().filter(at).count()
    });
    here.sum()
}

const WHY: &str = "A conductor too many is not clamped: it works loose within a season, and the fault comes and goes with the weather. The next person cannot take one cable off without disturbing the others.";

/// Supply terminals of devices: a conductor that comes in, one that goes on from there, a short wire to the next device of
/// that place. Where several cables go on, they are joined beside the device.
fn at_devices(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let mut under: BTreeMap<Id<Device>, BTreeMap<&str, Vec<String>>> = BTreeMap::new();
    // Pairs side by side bring several conductors of one function; what goes on from there is counted with the last.
    let mut told: BTreeMap<(Id<Run>, Function), usize> = BTreeMap::new();
    let mut conductors: BTreeMap<(Id<Run>, Function), usize> = BTreeMap::new();
    for used in wiring.cables.iter().flat_map(|cable| &cable.conductors) {
        *conductors.entry((used.run, used.function)).or_default() += 1;
    }
    for (cable, used) in wiring.cables.iter().flat_map(|cable| cable.conductors.iter().map(move |used| (cable, used))) {
        let seen = told.entry((used.run, used.function)).or_default();
        *seen += 1;
        let is_last = conductors.get(&(used.run, used.function)) == Some(seen);
        let devices = used.far.iter().filter_map(|point| {
            let Point::Device(device, mark) = point else { return None };
            used.function.output().map(|_| (*device, mark.as_str()))
        });
        let devices: Vec<(Id<Device>, &str)> = devices.collect();
        let onward: Vec<Id<Run>> =
            used.far.iter().filter_map(|point| if let Point::Cable(run) = point { Some(*run) } else { None }).collect();
        for (nth, (device, mark)) in devices.iter().enumerate() {
            let things = under.entry(*device).or_default().entry(mark).or_default();
            match (nth, onward.as_slice()) {
                (0, [next]) => {
                    things.push(Screen.name(&cable.label));
                    let on = conductors.get(&(*next, used.function)).copied().unwrap_or(1);
                    let on = std::iter::repeat_n(Screen.name(words::cable(wiring, *next)), on);
                    things.extend(on.filter(|_| is_last));
                }
                (0, []) => things.push(Screen.name(&cable.label)),
                (0, _) if is_last => things.push(Screen.name(&cable.label)),
                (0, _) => {}
                _ if is_last => things.push("a short wire".to_owned()),
                _ => {}
            }
            if is_last && nth + 1 < devices.len() {
                things.push("a short wire".to_owned());
            }
        }
    }
    for (id, marks) in under {
        let device = &site.devices[id];
        let Some((part, takes)) = site.device_part(id).and_then(|part| Some((part, part.wires_per_terminal?))) else {
            continue;
        };
        let overfull: Vec<_> = marks.iter().filter(|(_, things)| things.len() > takes as usize).collect();
        let Some(most) = overfull.iter().map(|(_, things)| things.len()).max() else { continue };
        let (noun, takes_words, gets) =
            if overfull.len() == 1 { ("terminal", "takes", "gets") } else { ("terminals", "take", "get") };
        let names: Vec<String> = overfull.iter().map(|(mark, _)| Screen.name(mark)).collect();
        let conductors = count(takes as usize, "conductor", None);
        let title = format!(
            "{noun} {} of {} {takes_words} {conductors} and {gets} {most}",
            list(&names, "and"),
            Screen.device(site, id)
        );
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("mounted here")
            .also(part.name.span, format!("{conductors} under one terminal"))
            .why(WHY)
            .help("Let the supply end here and bring the next device its own cable, or take a part whose terminals take as many.");
        let finding = overfull.iter().fold(finding, |finding, (mark, things)| {
            finding.figure(format!("{}: {}", Screen.name(mark), things.join(", ")))
        });
        sink.push(about::device(site, device, finding));
    }
}

/// What a terminal belongs to: its output, port, input or way, written as the first role of that.
fn group(terminal: &Terminal, overfull: &[Terminal]) -> Role {
    let sensed = |position: &usize| overfull.iter().any(|other| other.roles.contains(&Role::InputSignal(*position)));
    let shared = terminal.roles.iter().find(|role| matches!(role, Role::InputReturn(position) if sensed(position)));
    match shared.or(terminal.roles.first()).copied().unwrap_or(Role::Other) {
        Role::OutputNegative(position) => Role::OutputPositive(position),
        Role::BusMinus(position) | Role::BusA(position) | Role::BusB(position) | Role::BusShield(position) => {
            Role::BusPlus(position)
        }
        Role::RelayMake(position) | Role::RelayBreak(position) => Role::RelayCommon(position),
        Role::LineInRing(position) | Role::LineOutTip(position) | Role::LineOutRing(position) => {
            Role::LineInTip(position)
        }
        Role::InputReturn(position) if sensed(&position) => Role::InputSignal(position),
        Role::WayNegative(way) => Role::WayPositive(way),
        Role::AcB => Role::AcA,
        Role::BatteryNegative => Role::BatteryPositive,
        Role::FaultB => Role::FaultA,
        role @ (Role::AcA
        | Role::FaultA
        | Role::BatteryPositive
        | Role::Earth
        | Role::Declared(_)
        | Role::OutputPositive(_)
        | Role::RelayCommon(_)
        | Role::Transistor(_)
        | Role::BusPlus(_)
        | Role::LineInTip(_)
        | Role::InputSignal(_)
        | Role::InputReturn(_)
        | Role::WayPositive(_)
        | Role::Other) => role,
    }
}

/// `most`: how many the fullest of the group has.
fn finding(
    site: &Site,
    wiring: &Wiring,
    id: Id<Board>,
    (takes, most): (u32, usize),
    role: Role,
    group: &[&Terminal],
) -> Diagnostic {
    let board = &site.boards[id];
    let marks: Vec<&str> = group.iter().map(|terminal| terminal.mark.as_str()).collect();
    let (noun, takes_words, gets) = match marks.as_slice() {
        [_] => ("terminal", "takes", "gets"),
        _ => ("terminals", "take", "get"),
    };
    let conductors = count(takes as usize, "conductor", None);
    let title = format!(
        "{noun} {} of {} {takes_words} {conductors} and {gets} {most}",
        list(&marks.iter().map(|mark| Screen.name(mark)).collect::<Vec<_>>(), "and"),
        Screen.board(site, id)
    );
    let said = if board.kind.is_strip() { board.name.span } else { board.part_span };
    let mut finding = Diagnostic::new(&RULE, said, title)
        .here(format!("takes {conductors} under a terminal"))
        .why(WHY)
        .help(if let Role::OutputPositive(position) = role {
            help_at_output(site, wiring, OutputRef { board: id, output: position }, takes, group)
        } else {
            help(role, takes)
        })
        .about(&board.name.value);
    let mut runs: BTreeMap<Span, String> = BTreeMap::new();
    for mark in marks {
        finding = finding.figure(format!("{}: {}", Screen.name(mark), contents(site, wiring, id, mark).join(", ")));
        for item in wiring.terminals.get(&(id, mark.to_owned())).into_iter().flatten() {
            if let OnTerminal::Conductor(cable, _) | OnTerminal::Shield(cable) = item
                && let Some(cable) = wiring.cables.get(*cable)
            {
                let run = &site.runs[cable.run];
                runs.insert(run.span(), format!("cable {}", Screen.name(&cable.label)));
            }
        }
    }
    for (span, words) in runs {
        finding = finding.also(span, words);
    }
    finding
}

/// What is on a terminal, in words.
fn contents(site: &Site, wiring: &Wiring, id: Id<Board>, mark: &str) -> Vec<String> {
    let landed = wiring.terminals.get(&(id, mark.to_owned())).into_iter().flatten().map(|item| match item {
        OnTerminal::Link(other, there) => format!("a link to `{there}` of {}", Screen.board(site, *other)),
        OnTerminal::Shield(cable) => {
            let cable = wiring.cables.get(*cable);
            cable.map_or_else(String::new, |cable| {
                format!("{} {}", Screen.name(&cable.label), words::shield(site, cable))
            })
        }
        OnTerminal::Lead(lead) => {
            let lead = words::lead(site, id, *lead);
            format!("{} ({})", lead.what, lead.function)
        }
        OnTerminal::Conductor(cable, conductor) => {
            let cable = wiring.cables.get(*cable);
            let colour =
                cable.and_then(|cable| cable.conductors.get(*conductor)).and_then(|conductor| conductor.colour);
            let label = cable.map_or_else(|| "a cable".to_owned(), |cable| Screen.name(&cable.label));
            colour.map_or_else(|| label.clone(), |colour| format!("{label} {colour}"))
        }
    });
    let leads = wiring.fitted.iter().filter(|fitted| fitted.has_lead_at(id, mark)).map(|fitted| match fitted.kind {
        FittedKind::Resistor { zone, .. } => format!("a lead of zone {}'s resistor", site.zones[zone].number.value),
        FittedKind::Terminator(_) => "a lead of the terminator".to_owned(),
    });
    landed.chain(leads).collect()
}

/// The most ways that a strip may be written with.
const MOST_WAYS: u32 = 60;

/// What to do with too much at an output. A strip, as a relay's common, takes one place there for its link; whatever is
/// there besides may go to the strip's ways.
fn help_at_output(site: &Site, wiring: &Wiring, output: OutputRef, takes: u32, group: &[&Terminal]) -> String {
    let on = |link: bool| {
        let of = |mark: &str| wiring.terminals.get(&(output.board, mark.to_owned())).into_iter().flatten();
        let counts = group
            .iter()
            .map(|terminal| of(&terminal.mark).filter(|item| matches!(item, OnTerminal::Link(..)) == link).count());
        counts.max().unwrap_or_default()
    };
    let (links, cables) = (on(true), on(false));
    let strips: Vec<(Id<Board>, u32, u32)> = site
        .boards
        .entries()
        .filter_map(|(id, board)| {
            let BoardKind::Strip { feed, ways, wires } = board.kind else { return None };
            (feed == Some(output)).then_some((id, ways, wires))
        })
        .collect();
    let takes = takes as usize;
    // The first strip that may have so many more ways, and how many it then has.
    let longer = strips.iter().find_map(|(strip, ways, wires)| {
        let more = u32::try_from(cables).ok()?.div_ceil((*wires).max(1));
        Some((*strip, ways.checked_add(more).filter(|ways| *ways <= MOST_WAYS)?))
    });
    match (longer, strips.as_slice()) {
        (Some((strip, ways)), _) if cables > 0 && links <= takes => format!(
            "Give {} a way for every cable: write ways={ways} on it, or a greater wires= if its terminals take more conductors.",
            Screen.board(site, strip)
        ),
        (_, []) if cables > 0 && links < takes => {
            "Add a `strip` for this output, with a way for every cable: the output then carries one link.".to_owned()
        }
        (_, [_, ..]) if cables > 0 && links < takes => {
            "Add a second `strip` for this output, with a way for every cable that the first has no way for.".to_owned()
        }
        (_, [_, _, ..]) => {
            "Make one strip of those on this output, with a way for every cable: each strip takes a link.".to_owned()
        }
        (_, [] | [_]) => {
            "Its terminals are full with links: put what hangs on a relay, or on the strip, on another output."
                .to_owned()
        }
    }
}

fn help(role: Role, takes: u32) -> String {
    match role {
        Role::BusPlus(_) if takes < 2 => {
            "A terminal of it takes one conductor, so no bus can go on from it: let the bus pass through a `joint-box` beside it with a short run to this board, or take a part whose terminals take two.".into()
        }
        Role::BusPlus(_) => {
            "Let the bus pass from board to board: a run after another starts where that one ended.".into()
        }
        Role::InputReturn(_) => "Move a loop to an input whose return is less used.".into(),
        Role::InputSignal(_) => "Let the loop pass from place to place in one cable, or split the zone.".into(),
        Role::RelayCommon(_) | Role::RelayMake(_) | Role::RelayBreak(_) | Role::Transistor(_) => {
            "Let one circuit pass from load to load, or put a circuit on another relay or transistor.".into()
        }
        Role::WayPositive(_) => {
            "Give the strip more ways, or say with wires= how many conductors a terminal of it takes.".into()
        }
        Role::Earth => format!(
            "At most {takes} end here. A shield is landed at one end only: write shield=\"far\" at a run whose other board has a terminal for it; and let a cable go on from the one before it, whose shield then goes on with it."
        ),
        Role::AcA | Role::AcB | Role::BatteryPositive | Role::BatteryNegative | Role::Declared(_) | Role::OutputPositive(_) | Role::OutputNegative(_) | Role::BusMinus(_) | Role::BusA(_) | Role::BusB(_) | Role::BusShield(_) | Role::LineInTip(_) | Role::LineInRing(_) | Role::LineOutTip(_) | Role::LineOutRing(_) | Role::WayNegative(_) | Role::FaultA | Role::FaultB | Role::Other => format!("Join cables before they reach the board, so that at most {takes} end here."),
    }
}
