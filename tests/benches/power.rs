//! Time of supplies with many powered devices: every tree in its eight cases, and `check` of the whole spec.
//!
//! `cargo bench --bench power`. A circuit is a trunk with seven branches of seven cables, a device at the end of each;
//! half of the devices take constant power. `in_trouble` is a site in which every circuit has devices that get too
//! little, so that remedies are looked for in each.

#![allow(clippy::disallowed_methods, clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::fmt::Write as _;

use divan::counter::ItemsCount;
use loopwright::calc::power;
use loopwright::diag::Sink;
use loopwright::model::Site;
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;
use loopwright::session;

const SIZES: [usize; 3] = [100, 1_000, 10_000];
/// Devices of a circuit: one at the trunk's end, and seven branches of seven.
const OF_CIRCUIT: usize = 50;
/// Circuits of one output.
const OF_OUTPUT: usize = 6;

fn main() {
    divan::main();
}

/// A spec with so many devices; `feet` is the length of each cable.
fn spec(devices: usize, feet: f64) -> MemoryFiles {
    let mut text = "site \"bench\"\nlevel \"l\" { room \"r\"; }\n\
        cable \"c\" conductors=2 size=(AWG)18\n\
        part \"current\" { basis \"sheet\"; supply min=(V)9 max=(V)16 idle=(mA)0 alarm=(mA)12; }\n\
        part \"power\" { basis \"sheet\"; supply min=(V)9 max=(V)16 idle=(mA)0 alarm=(W)0.15; }\n\
        part \"board\" { basis \"sheet\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)5 when=\"alarm\"; \
        charger current=(A)2 cut-off=(V)10.5; }\n"
        .to_owned();
    let circuits = devices / OF_CIRCUIT;
    for panel in 0..circuits.div_ceil(OF_OUTPUT) {
        writeln!(text, "panel \"p{panel}\" part=\"board\" room=\"r\" {{ battery capacity=(Ah)18; transformer volts=(V)16.5 rating=(VA)400; }}").unwrap();
    }
    let run = |text: &mut String, device: usize| {
        let part = if device.is_multiple_of(2) { "current" } else { "power" };
        writeln!(text, "run \"c\" length=(ft){feet} room=\"r\" {{ sounder \"{part}\"").unwrap();
    };
    for circuit in 0..circuits {
        writeln!(text, "circuit \"c{circuit}\" board=\"p{}\" output=\"out\" {{", circuit / OF_OUTPUT).unwrap();
        run(&mut text, 0);
        for _ in 0..7 {
            (0..7).for_each(|device| run(&mut text, device));
            text.push_str(&"}\n".repeat(7));
        }
        text.push_str("}\n}\n");
    }
    MemoryFiles(BTreeMap::from([("site.kdl".to_owned(), text.into_bytes())]))
}

fn site(devices: usize) -> Site {
    let site = resolve(&spec(devices, 10.0), &mut Sink::default()).site.unwrap();
    assert_eq!(site.devices.len(), devices);
    site
}

/// Trees and the eight cases.
#[divan::bench(args = SIZES, sample_count = 10, sample_size = 1)]
fn eight_cases(bencher: divan::Bencher<'_, '_>, devices: usize) {
    let site = site(devices);
    bencher.counter(ItemsCount::new(devices)).bench(|| power::of_site(&site).feedings.len());
}

/// Everything from the text on, all checks.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn check(bencher: divan::Bencher<'_, '_>, devices: usize) {
    let files = spec(devices, 10.0);
    let found = session::check(&files).diagnostics;
    assert!(found.is_empty(), "{:?}", found.iter().map(|found| found.title.as_str()).take(3).collect::<Vec<_>>());
    bencher.counter(ItemsCount::new(devices)).bench(|| session::check(&files).diagnostics.len());
}

/// The same with remedies looked for in every circuit.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn in_trouble(bencher: divan::Bencher<'_, '_>, devices: usize) {
    let files = spec(devices, 150.0);
    let wanted = devices / OF_CIRCUIT;
    let found = session::check(&files).diagnostics;
    assert_eq!(found.iter().filter(|found| found.rule.slug == "supply-below-minimum").count(), wanted);
    bencher.counter(ItemsCount::new(devices)).bench(|| session::check(&files).diagnostics.len());
}
