//! Faults put into a loop, found again: the reading is worked out here by adding up the chain, the explanation must be among
//! those told, and who follows the steps, with what each then reads, must end where the fault is.

use loopwright::base::Id;
use loopwright::calc::diagnose::{self, Fault, Measured};
use loopwright::calc::halving::{self, Next, Spot, Test};
use loopwright::calc::{LoopReadings, loops};
use loopwright::model::{Device, Run, Site};

use super::{site, zones};

const METRES: [u32; 4] = [11, 12, 13, 14];
const RESISTOR: f64 = 2200.0;
/// Half of what the sheet allows a closed contact.
const CONTACT: f64 = 0.1;

fn spec() -> String {
    let runs: String = METRES
        .iter()
        .enumerate()
        .map(|(at, metres)| {
            let resistor = if at + 1 == METRES.len() { " resistor \"2k2\";" } else { "" };
            format!("run \"thin\" length=(m){metres} room=\"hall\" {{ detector \"reed\";{resistor} }}\n")
        })
        .collect();
    format!(
        "site \"chain\" {{\n revision \"A\" date=\"2027-01-01\"\n}}\nlevel \"base\" {{ room \"hall\" kind=\"hall\"; }}\n\
         cable \"thin\" conductors=4 size=(mm2)0.22 stranded=#false\n\
         part \"reed\" senses=\"opening\" {{\n basis \"generic\"\n contact form=\"NC\" resistance=(ohm)0.2\n}}\n\
         part \"board\" {{\n basis \"generic\"\n sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1\n}}\n\
         panel \"main\" part=\"board\" room=\"hall\"\n\
         zone 1 \"Chain\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"main\" {{\n{runs}}}; }}\n\
         zone 2 \"Other\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"main\" {{\n\
         run \"thin\" length=(m)30 room=\"hall\" {{ detector \"reed\"; resistor \"4k7\"; }}\n}}; }}\n"
    )
}

/// What is wrong, and where along the chain.
#[derive(Clone, Copy, Debug)]
enum Wrong {
    Leak(usize, f64),
    Cut(usize),
    Joint(usize, f64),
    Contact(usize, f64),
    StuckOpen(usize),
    Short(usize),
    Second { ohms: f64, parallel: bool },
}

fn beside(one: f64, other: f64) -> f64 {
    if one.is_infinite() { other } else { one * other / (one + other) }
}

/// Both conductors of a run at 20 °C: 58 m/Ωmm².
fn wire(at: usize) -> f64 {
    2.0 * f64::from(METRES[at]) / (58.0 * 0.22)
}

/// Measured into a run.
fn into(at: usize, wrong: Wrong) -> f64 {
    let behind = behind(at, wrong);
    match wrong {
        Wrong::Leak(here, ohms) if here == at => wire(at) / 2.0 + beside(wire(at) / 2.0 + behind, ohms),
        Wrong::Cut(here) if here == at => f64::INFINITY,
        Wrong::Joint(here, ohms) if here == at => wire(at) + ohms + behind,
        Wrong::Short(here) if here == at => wire(at) / 2.0,
        _ => wire(at) + behind,
    }
}

/// Measured at the end of a run, behind its conductors.
fn behind(at: usize, wrong: Wrong) -> f64 {
    contact(at, wrong) + if at + 1 == METRES.len() { resistor(wrong) } else { into(at + 1, wrong) }
}

fn contact(at: usize, wrong: Wrong) -> f64 {
    match wrong {
        Wrong::Contact(here, ohms) if here == at => CONTACT + ohms,
        Wrong::StuckOpen(here) if here == at => f64::INFINITY,
        _ => CONTACT,
    }
}

fn resistor(wrong: Wrong) -> f64 {
    match wrong {
        Wrong::Second { ohms, parallel: true } => beside(RESISTOR, ohms),
        Wrong::Second { ohms, parallel: false } => RESISTOR + ohms,
        _ => RESISTOR,
    }
}

struct Chain {
    site: Site,
    readings: LoopReadings,
    runs: Vec<Id<Run>>,
    devices: Vec<Id<Device>>,
}

impl Chain {
    fn new() -> Self {
        let site = site(&spec());
        let zone = zones(&site)[0];
        let readings = loops::of_zone(&site, zone).unwrap();
        let run = |metres: &u32| {
            let is_it = |run: &Run| run.length.as_ref().is_some_and(|length| length.value.0 == f64::from(*metres));
            site.runs.entries().find(|(_, run)| is_it(run)).unwrap().0
        };
        let runs = METRES.iter().map(run).collect();
        let devices = site.devices.entries().filter(|(_, d)| d.zone == Some(zone)).map(|(id, _)| id).collect();
        Self { readings, runs, devices, site }
    }

    fn spot(&self, wrong: Wrong) -> Spot {
        match wrong {
            Wrong::Leak(at, _) | Wrong::Cut(at) | Wrong::Short(at) => Spot::Cable(self.runs[at]),
            Wrong::Joint(at, _) => Spot::Joint(self.runs[at]),
            Wrong::Contact(at, _) | Wrong::StuckOpen(at) => Spot::Device(self.devices[at]),
            Wrong::Second { .. } => Spot::Resistor(0),
        }
    }

    /// Follows the steps, and says what is left and how many there were.
    fn follow(&self, mut next: &Next, wrong: Wrong) -> (Vec<Spot>, usize) {
        let run = |id: Id<Run>| self.runs.iter().position(|run| *run == id).unwrap();
        let mut steps = 0;
        loop {
            let step = match next {
                Next::Left(spots) => return (spots.clone(), steps),
                Next::Measure(step) => step,
            };
            steps += 1;
            let shown = match step.test {
                Test::Into(id) => into(run(id), wrong),
                Test::Behind(id) => behind(run(id), wrong),
                Test::Resistor(..) => resistor(wrong),
                Test::Device(id) => contact(self.devices.iter().position(|device| *device == id).unwrap(), wrong),
            };
            let (least, greatest) = (step.right.least * 0.99 - 0.5, step.right.greatest * 1.01 + 0.5);
            next = if (least..=greatest).contains(&shown) { &step.elsewhere } else { &step.inside };
        }
    }

    fn diagnosis(&self, measured: Measured) -> diagnose::Diagnosis {
        let sensing = loopwright::views::why::sensing(&self.site, zones(&self.site)[0]);
        diagnose::diagnose(&self.site, &self.readings, sensing, measured).unwrap()
    }
}

#[test]
fn who_follows_the_steps_comes_to_the_fault() {
    let chain = Chain::new();
    let places = 0..METRES.len();
    let mut all: Vec<Wrong> = Vec::new();
    for at in places {
        all.extend([3e3, 1e4, 1.5e4].map(|ohms| Wrong::Leak(at, ohms)));
        all.extend([300.0, 900.0, 3e3].map(|ohms| Wrong::Joint(at, ohms)));
        all.extend([300.0, 900.0, 3e3].map(|ohms| Wrong::Contact(at, ohms)));
        all.extend([Wrong::Cut(at), Wrong::StuckOpen(at), Wrong::Short(at)]);
    }
    for ohms in [RESISTOR, 4700.0] {
        all.extend([true, false].map(|parallel| Wrong::Second { ohms, parallel }));
    }
    for wrong in all {
        let found = chain.diagnosis(Measured::Ohms(into(0, wrong)));
        let next =
            halving::next(&chain.site, &chain.readings, &found).unwrap_or_else(|| panic!("{wrong:?}: {found:?}"));
        let (left, steps) = chain.follow(&next, wrong);
        assert!(left.contains(&chain.spot(wrong)), "{wrong:?} ends at {left:?}");
        // A cut cable and a joint at its end that came apart are parted by looking at the joint alone.
        let one = |spot: &&Spot| !matches!(spot, Spot::Joint(run) if left.contains(&Spot::Cable(*run)));
        assert!(left.iter().filter(one).count() == 1 && steps <= 4, "{wrong:?}: {left:?} after {steps}");
    }
}

/// Good cable may leak 1 MΩ, so from there on the loop is open: by a joint or a resistor as well as by a cut or a contact.
#[test]
fn a_loop_that_hardly_conducts_is_open() {
    let chain = Chain::new();
    let open = |ohms| chain.diagnosis(Measured::Ohms(ohms)).faults.contains(&Fault::Open);
    assert_eq!([9e5, 1e6, 5e6, f64::INFINITY].map(open), [false, true, true, true]);
}

/// 2200 ∥ 2200 = 1100, 2200 ∥ 4700 = 1498.6, 2200 + 2200 = 4400, 2200 + 4700 = 6900; contacts and cables add 8 Ω.
#[test]
fn a_second_resistor_is_thought_of() {
    let chain = Chain::new();
    let rest = into(0, Wrong::Contact(0, 0.0)) - RESISTOR;
    for (shown, wanted) in
        [(1100.0, (2200.0, true)), (1498.6, (4700.0, true)), (4400.0, (2200.0, false)), (6900.0, (4700.0, false))]
    {
        // The board's divider of 5 V through 2.2 kΩ.
        let ohms = shown + rest;
        for measured in [Measured::Ohms(ohms), Measured::Volts(5.0 * ohms / (ohms + 2200.0))] {
            let found = chain.diagnosis(measured);
            let seconds: Vec<(f64, bool)> = found
                .faults
                .iter()
                .filter_map(|fault| match fault {
                    Fault::Second { second, parallel, .. } => Some((*second, *parallel)),
                    _ => None,
                })
                .collect();
            assert!(seconds.contains(&wanted), "{measured:?}: {seconds:?}");
        }
    }
    assert!(chain.diagnosis(Measured::Ohms(1300.0)).faults.iter().all(|fault| !matches!(fault, Fault::Second { .. })));
}

/// Measured behind a resistor at the board: the cable of 30 m and a closed contact, 4.8 Ω.
#[test]
fn a_resistor_at_the_board_that_was_not_measured_is_thought_of() {
    let far = "run \"thin\" length=(m)30 room=\"hall\" { detector \"reed\"; resistor \"4k7\"; }";
    let near = "resistor \"4k7\"; run \"thin\" length=(m)30 room=\"hall\" { detector \"reed\"; }";
    for (spec, wanted) in [(spec(), 0), (spec().replace(far, near), 1)] {
        let site = site(&spec);
        let readings = loops::of_zone(&site, zones(&site)[1]).unwrap();
        let found = diagnose::diagnose(&site, &readings, None, Measured::Ohms(4.8)).unwrap();
        let is_it = |fault: &&Fault| matches!(fault, Fault::LeftOut { position: 0, fitted: 4700.0 });
        assert_eq!(found.faults.iter().filter(is_it).count(), wanted, "{found:?}");
        // No leak of a cable behind a resistor gives less than that has.
        let leaks = found.faults.iter().any(|fault| matches!(fault, Fault::Leakage(_)));
        assert!(!(leaks && wanted == 1), "{found:?}");
    }
}

/// A worn contact and a resistor that was left: one fault explains either where the spec has no resistor.
#[test]
fn a_loop_without_resistor_has_a_worn_contact_or_a_resistor_that_was_left() {
    let plain = spec().replace(
        "loop \"end-of-line\" board=\"main\" {\nrun \"thin\" length=(m)30",
        "loop \"normally-closed\" board=\"main\" {\nrun \"thin\" length=(m)30",
    );
    let site = site(&plain.replace(" resistor \"4k7\";", ""));
    let readings = loops::of_zone(&site, zones(&site)[1]).unwrap();
    let told = |ohms| diagnose::diagnose(&site, &readings, None, Measured::Ohms(ohms)).unwrap().faults;
    assert!(matches!(told(52.0).as_slice(), [Fault::InSeries(_), Fault::OpenWithLeakage(_)]), "{:?}", told(52.0));
    assert!(told(2205.0).contains(&Fault::LeftIn(2200.0)), "{:?}", told(2205.0));
    assert!(matches!(told(3e4).as_slice(), [Fault::OpenWithLeakage(_)]), "{:?}", told(3e4));
}

#[test]
fn a_reading_in_another_unit_is_thought_of() {
    let chain = Chain::new();
    let meant = |measured| -> Vec<Measured> {
        let found = chain.diagnosis(measured);
        found
            .faults
            .iter()
            .filter_map(|fault| if let Fault::Mistaken { meant, .. } = fault { Some(*meant) } else { None })
            .collect()
    };
    let is = |found: Vec<Measured>, wanted: Measured| {
        let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
        found.iter().any(|one| match (*one, wanted) {
            (Measured::Ohms(a), Measured::Ohms(b)) | (Measured::Volts(a), Measured::Volts(b)) => near(a, b),
            _ => false,
        })
    };
    for (measured, wanted) in [
        (Measured::Ohms(2.2), Measured::Ohms(2200.0)),
        (Measured::Ohms(2.2e6), Measured::Ohms(2200.0)),
        (Measured::Ohms(220.0), Measured::Ohms(2200.0)),
        (Measured::Ohms(22e3), Measured::Ohms(2200.0)),
        (Measured::Ohms(2.5), Measured::Volts(2.5)),
        (Measured::Volts(2500.0), Measured::Volts(2.5)),
        (Measured::Volts(0.0025), Measured::Volts(2.5)),
        (Measured::Volts(2200.0), Measured::Ohms(2200.0)),
        (Measured::Volts(2.2), Measured::Ohms(2200.0)),
    ] {
        assert!(is(meant(measured), wanted), "{measured:?}: {:?}", meant(measured));
    }
    for measured in [Measured::Ohms(2200.0), Measured::Ohms(1300.0), Measured::Ohms(f64::INFINITY), Measured::Ohms(0.0)]
    {
        assert!(meant(measured).is_empty(), "{measured:?}: {:?}", meant(measured));
    }
}

#[test]
fn volts_that_the_board_cannot_give_come_from_elsewhere() {
    let chain = Chain::new();
    let foreign = |volts| {
        let found = chain.diagnosis(Measured::Volts(volts));
        found.faults.iter().any(|fault| matches!(fault, Fault::OtherVoltage(_)))
    };
    // The board senses with 5 V; a meter may show a little more.
    for (volts, is) in [(5.0, false), (5.05, false), (5.5, true), (12.0, true), (230.0, true)] {
        assert_eq!(foreign(volts), is, "{volts} V");
    }
}
