//! The trail of one loop in words: each element with its formula, numbers put in, source and place in the spec, then
//! how they add up in each state.

use serde::Serialize;

use crate::base::{Id, SourceFile, Span, Spanned};
use crate::calc::ambient::Ambient;
use crate::calc::conductor;
use crate::calc::conductor::LEAKAGE;
use crate::calc::network;
use crate::calc::pair::Pair;
use crate::calc::trail::{self, Formula, Step, Sum};
use crate::calc::{Element, LoopReadings, Spread};
use crate::compiled::Compiled;
use crate::model::{Sensing, Site, Zone};
use crate::profiles::conductors;
use crate::quantity::{Amperes, Ohms, OhmsPerMetre, Ratio, Resistance, Volts, WireSize};
use crate::record::figures::states::Bounds;
use crate::record::number::Number;
use crate::terms::Metal;
use crate::words::{self, Paper};

/// How the figures of a loop are computed.
#[derive(Clone, Debug, Serialize)]
pub struct Why {
    /// The zone's number.
    pub(crate) zone: u32,
    /// Its description.
    pub(crate) description: String,
    /// Board and input.
    pub(crate) input: String,
    /// The elements from the board on.
    pub elements: Vec<ElementTrail>,
    /// The sum in each state.
    pub(crate) states: Vec<StateTrail>,
    /// What holds for all of them.
    pub(crate) remarks: Vec<String>,
}

/// An element of a loop.
#[derive(Clone, Debug, Serialize)]
pub struct ElementTrail {
    /// What it is called in the sums: "e1".
    pub(crate) mark: String,
    /// What it is.
    pub(crate) what: String,
    /// The formula with numbers put in.
    pub(crate) formula: String,
    /// Its ohms.
    pub(crate) ohms: Bounds,
    /// Its ohms in words.
    pub(crate) result: String,
    /// What the figures rest on.
    pub(crate) source: String,
    /// Path and line of the spec that it comes from.
    pub place: String,
}

/// A state of a loop.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct StateTrail {
    /// The state in words.
    pub(crate) state: String,
    /// The sum of the elements.
    pub(crate) ohms_formula: String,
    /// Ohms at the leads.
    pub(crate) ohms: Bounds,
    /// Ohms in words.
    pub(crate) ohms_result: String,
    /// The divider with its numbers; empty where the board's sensing is not known.
    pub(crate) volts_formula: String,
    /// Volts at the terminals.
    pub(crate) volts: Option<Bounds>,
    /// Volts in words.
    pub(crate) volts_result: String,
    /// What the board reads, with the margin.
    pub(crate) reads: String,
    /// The margin as a number, in the unit of the board's bands.
    pub(crate) margin: Option<Number>,
}

/// Which of its paths names a file: the one on screen, or the one on paper.
pub(crate) type PathOf = fn(&SourceFile) -> &str;

/// The trail of a zone's loop, with at most so many of its states; `None` where it has none that can be calculated.
pub(crate) fn of(compiled: &Compiled, zone: Id<Zone>, path: PathOf, most: usize) -> Option<Why> {
    let site = &compiled.site;
    let readings = compiled.loops.get(&zone)?;
    let trail = trail::of(site, readings, most);
    let resistors = network::resistors(site, zone);
    let elements = trail.steps.iter().enumerate();
    let elements = elements.map(|(at, step)| element(compiled, path, &resistors, at, step)).collect();
    let states = states(compiled, readings, &trail.sums);
    let mut remarks = common_remarks();
    remarks.extend(sensing_remark(compiled, zone, path));
    Some(Why {
        zone: site.zones[zone].number.value,
        description: site.zones[zone].description.value.clone(),
        input: Paper.input(site, &compiled.wiring, zone),
        elements,
        states,
        remarks,
    })
}

/// What holds for the figures of every loop.
pub(crate) fn common_remarks() -> Vec<String> {
    vec![
        format!(
            "The least ohms have {} of leakage across the leads: R × {} ÷ (R + {}). Common practice: the least \
             that a test of new cable lets pass.",
            Ohms(LEAKAGE),
            Ohms(LEAKAGE),
            Ohms(LEAKAGE)
        ),
        "Least and greatest are exact corners: every element at the end that makes the reading so.".to_owned(),
    ]
}

/// How the board of a zone senses.
pub fn sensing(site: &Site, zone: Id<Zone>) -> Option<&Sensing> {
    site.sensing_of(zone)
}

/// The board's supply and pull-up, and where the spec says so; `None` where it does not.
pub(crate) fn sensing_remark(compiled: &Compiled, zone: Id<Zone>, path: PathOf) -> Option<String> {
    let sensing = sensing(&compiled.site, zone)?;
    let (supply, pull_up) = (sensing.supply?, sensing.pull_up?);
    Some(format!(
        "The board senses with {supply} ±{} through {pull_up} ±{} ({}).",
        sensing.supply_tolerance,
        sensing.tolerance,
        place(compiled, path, sensing.place.span)
    ))
}

/// Volts at the terminals by the loop's resistance R, or by the current I that flows where the loop feeds its detectors;
/// `None` where the board's sensing is not known.
pub(crate) fn divider(site: &Site, zone: Id<Zone>) -> Option<String> {
    let sensing = sensing(site, zone)?;
    if site.loop_feed(zone).is_some() {
        return Some(format!("{} − {} × I", sensing.supply?, sensing.pull_up?));
    }
    Some(format!("{} × R ÷ (R + {})", sensing.supply?, sensing.pull_up?))
}

/// Path and line: "zones.kdl:12".
pub(super) fn place(compiled: &Compiled, path: PathOf, span: Span) -> String {
    let file = compiled.sources.get(span.file);
    file.map_or_else(String::new, |file| format!("{}:{}", path(file), file.line_column(span.start).0))
}

fn element(
    compiled: &Compiled,
    path: PathOf,
    resistors: &[&Spanned<Resistance>],
    at: usize,
    step: &Step,
) -> ElementTrail {
    let Compiled { site, wiring, .. } = compiled;
    let at_line = |span| place(compiled, path, span);
    let sheet = |device: Id<crate::model::Device>| {
        let part = site.devices[device].part.map(|part| &site.parts[part]);
        let said = part.map(|part| format!("part {} ({})", part.name.value, at_line(part.name.span)));
        format!("{}; half of it nominally: common practice", said.unwrap_or_default())
    };
    let marked = "marked value and tolerance, IEC 60062 and IEC 60063".to_owned();
    let (what, source, spot) = match &step.element {
        Element::Wire(run) => (
            format!("{}, both conductors", words::cable(wiring, *run)),
            wire_source(step.formula),
            at_line(site.runs[*run].span()),
        ),
        Element::Contact(device, which) => {
            let cover = if *which == network::Which::Cover { "cover contact" } else { "contact" };
            let what = format!("{cover} of {}, when closed", words::placed(site, *device));
            (what, sheet(*device), at_line(site.devices[*device].span()))
        }
        Element::Detector(device) => {
            let part = site.device_part(*device);
            let source = part.map(|part| format!("part {} ({})", part.name.value, at_line(part.name.span)));
            let what = format!("two-wire detector {}", words::placed(site, *device));
            (what, source.unwrap_or_default(), at_line(site.devices[*device].span()))
        }
        Element::Resistor(position) => {
            let found = resistors.get(*position).map(|value| at_line(value.span));
            ("resistor".to_owned(), marked, found.unwrap_or_default())
        }
        Element::Shunt(device) => {
            let found = site.devices[*device].shunt.as_ref().map(|value| at_line(value.span));
            (format!("resistor across {}", words::placed(site, *device)), marked, found.unwrap_or_default())
        }
    };
    ElementTrail {
        mark: format!("e{}", at + 1),
        what,
        formula: formula(step.formula),
        ohms: Bounds::of(step.ohms),
        result: result(step.ohms, fine_ohms),
        source,
        place: spot,
    }
}

pub(super) fn formula(formula: Formula) -> String {
    match formula {
        Formula::Wire(Pair { size: None, stranded, metal, sheet, length, ambient }) => {
            let [thick, usual, thin] = conductor::UNKNOWN_SIZE;
            let has = conductor::of_unknown_size(stranded, metal, sheet);
            let sheet =
                sheet.map_or_else(String::new, |most| format!(", none of them with more than its sheet's {most}"));
            format!(
                "2 × {:.2} m × {} ({:.2} to {:.2}){}; at 20 °C, size not known: as {thick} at the least, {usual} usually, {thin} at the most{sheet}",
                length.0,
                OhmsPerMetre(has.nominal),
                has.least * 1000.0,
                has.greatest * 1000.0,
                warmed(ambient)
            )
        }
        Formula::Wire(Pair { size: Some(size), stranded, metal, sheet, length, ambient }) => {
            let lay = if stranded { format!(" × {}", 1.0 + conductor::STRANDING) } else { String::new() };
            let most = conductors::most(size, stranded).map(|(most, _)| most);
            let [_, usual, greatest] = conductors::over_copper(metal, size, stranded);
            let lay = if metal == Metal::Copper { lay } else { format!("{lay} × {usual}") };
            // A sheet's most below what the size has is what is reckoned with.
            let of_size = conductor::per_metre(size, stranded, metal, None).nominal;
            if let Some(most) = sheet.filter(|most| most.0 < of_size) {
                return format!(
                    "2 × {:.2} m × {most}{}; that is its sheet's most at 20 °C, and less than the {} of {size}",
                    length.0,
                    warmed(ambient),
                    OhmsPerMetre(of_size)
                );
            }
            let most = most.map(|most| OhmsPerMetre(most.0 * greatest));
            let most = sheet.or(most).map_or_else(String::new, |most| format!("; at the most {most} at 20 °C"));
            format!(
                "2 × {:.2} m ÷ (58 m/Ωmm² × {:.4} mm²){lay}{}{most}",
                length.0,
                size.square_millimetres(),
                warmed(ambient)
            )
        }
        Formula::Contact { most } => format!("0 to {}", Ohms(most)),
        Formula::Detector { idle, holds: (least, most) } => {
            let (idle, least, most) = (Amperes(idle), Volts(least), Volts(most));
            format!("no path for a meter; takes up to {idle} at rest, holds {least} to {most} in alarm")
        }
        Formula::Resistor { nominal, tolerance } => format!("{} ±{}", Ohms(nominal), Ratio(tolerance)),
    }
}

/// What the temperature makes of ohms at 20 °C.
fn warmed(ambient: Ambient) -> String {
    format!(
        " × (1 + {} × (T − 20 °C)), T = {} ({} to {})",
        conductor::COEFFICIENT,
        ambient.usual,
        ambient.cold,
        ambient.hot
    )
    .replace(" -", " −")
    .replace("(-", "(−")
}

pub(super) fn wire_source(formula: Formula) -> String {
    let Formula::Wire(Pair { size, stranded, metal, sheet, .. }) = formula else { return String::new() };
    let Some(size) = size else {
        let most = if sheet.is_some() { "the cable's sheet for the most, " } else { "" };
        return format!(
            "{most}sizes between which such cable lies: common practice; IEC 60028 for copper; temperatures: common practice"
        );
    };
    let area = match size {
        WireSize::Awg(gauge) => format!("ASTM B258 for the diameter of {gauge} AWG, "),
        WireSize::SquareMillimetres(_) => String::new(),
    };
    let lay = if stranded { "ASTM B8 for the lay, " } else { "" };
    let most = match (sheet, conductors::most(size, stranded)) {
        (Some(_), _) => "the cable's sheet for the most, ".to_owned(),
        (None, Some((_, conductors::Basis::Row))) => {
            format!("for the most {}; ", conductors::SOURCE.cited())
        }
        (None, Some((_, conductors::Basis::LikeOthers))) => {
            format!("for the most the greatest allowance of {}; ", conductors::SOURCE.cited())
        }
        (None, None) => String::new(),
    };
    let metal = conductors::more_than_copper(metal).map_or_else(String::new, |more| format!("{more}, "));
    format!("{area}{lay}{most}{metal}IEC 60028 for copper; temperatures: common practice")
}

fn states(compiled: &Compiled, readings: &LoopReadings, sums: &[(crate::calc::State, Sum)]) -> Vec<StateTrail> {
    let Compiled { site, wiring, .. } = compiled;
    let divider = divider(site, readings.zone);
    let sensed = sensing(site, readings.zone);
    let supply = sensed.and_then(|found| found.supply);
    let fed = site.loop_feed(readings.zone).is_some();
    // What flows into a loop that feeds its detectors follows from the volts that its place in the circuit leaves.
    let flows = |volts: Option<Spread>| {
        let (supply, pull_up) = (supply?, sensed?.pull_up?);
        Some(format!(", I = {}", Amperes((supply.0 - volts?.nominal) / pull_up.0)))
    };
    let lines = readings.states.iter().zip(sums).map(|(reading, (_, sum))| {
        let margin = words::margin(reading.reading);
        let from = if margin.is_empty() { String::new() } else { format!(", {margin} from the nearest edge") };
        let many = matches!(reading.state, crate::calc::State::Alarms(_));
        let choice = if many { " for the smallest resistors; the bounds hold every choice" } else { "" };
        StateTrail {
            state: Paper.state(site, wiring, reading.state),
            ohms_formula: format!("{}{choice}", sum_words(sum, false)),
            ohms: Bounds::of(reading.ohms),
            ohms_result: result(reading.ohms, fine_ohms),
            volts_formula: match (&divider, supply) {
                (Some(divider), _) if fed => format!("{divider}{}", flows(reading.volts).unwrap_or_default()),
                (Some(_), Some(supply)) if reading.ohms.nominal.is_infinite() => format!("{supply}, no current"),
                (Some(divider), _) => divider.clone(),
                (None, _) => String::new(),
            },
            volts: reading.volts.map(Bounds::of),
            volts_result: reading.volts.map(|volts| result(volts, fine_volts)).unwrap_or_default(),
            reads: format!("{}{from}", words::reads(reading.reading)),
            margin: reading.reading.margin.and_then(Number::of),
        }
    });
    lines.collect()
}

/// "e1 + e2 + (e3 ∥ e4)"; five or more that follow each other are "e1 + … + e5".
fn sum_words(sum: &Sum, inside: bool) -> String {
    let joined = |parts: &[Sum], with: &str| {
        let follow = |one: &Sum, next: &Sum| matches!((one, next), (Sum::Step(a), Sum::Step(b)) if a + 1 == *b);
        let words = parts.chunk_by(follow).flat_map(|chunk| match chunk {
            [first, _, _, _, .., last] => vec![sum_words(first, true), "…".into(), sum_words(last, true)],
            few => few.iter().map(|part| sum_words(part, true)).collect(),
        });
        let text = words.collect::<Vec<_>>().join(with);
        if inside { format!("({text})") } else { text }
    };
    match sum {
        Sum::Step(position) => format!("e{}", position + 1),
        Sum::Series(parts) => joined(parts, " + "),
        Sum::Parallel(parts) => joined(parts, " ∥ "),
        Sum::Short => "joined".into(),
        Sum::Open => "no connection".into(),
    }
}

/// Five digits for large values and hundredths for small ones: a sum can be checked by hand.
fn fine_ohms(value: f64) -> String {
    match value {
        1e5.. => Ohms(value).to_string(),
        0.0..100.0 => format!("{value:.2} Ω"),
        _ => format!("{value:.1} Ω"),
    }
}

fn fine_volts(value: f64) -> String {
    format!("{value:.3} V")
}

fn result(spread: Spread, print: fn(f64) -> String) -> String {
    let bounds = words::range(spread.least, spread.greatest, print);
    if bounds == print(spread.nominal) { bounds } else { format!("{} ({bounds})", print(spread.nominal)) }
}
