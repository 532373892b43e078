//! A fuzzer: sites that are nearly right, by the thousand, until one of them breaks the compiler.
//!
//! `cargo run --example fuzz` gives each target some seconds; `--help` says what else can be asked for. An input is a
//! site of the corpus after a few changes. One that makes the compiler say something that none has made it say before joins
//! the corpus. A find is a panic, a broken promise (see `targets`), an input that takes too long or too much memory. Its
//! files are kept in `target/fuzz/`, made small. Nothing depends on the time but where a run ends: the same seed gives the
//! same inputs.

#![allow(clippy::pedantic)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::disallowed_methods)]
#![allow(clippy::disallowed_types)]

mod corpus;
mod finds;
mod mutate;
#[path = "../pages/fences.rs"]
mod pages;
mod random;
mod targets;

use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};

use clap::Parser;

use finds::Limits;
use random::Random;
use targets::{TARGETS, Target};

/// The files of an input by their paths in the site.
pub type Files = BTreeMap<String, Vec<u8>>;

/// What an input made the compiler say: the rules that spoke, and whether there was a packet.
pub type Said = BTreeSet<String>;

/// Changes sites until the compiler breaks.
#[derive(Parser)]
struct Arguments {
    /// Only these targets.
    #[arg(value_parser = TARGETS.map(|target| target.name))]
    targets: Vec<String>,
    /// Seconds for each target.
    #[arg(long, default_value_t = 4)]
    seconds: u64,
    /// Another seed gives other inputs.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// An input that takes longer is a find: seconds, for an optimised build.
    #[arg(long, default_value_t = 30.0)]
    slow: f64,
    /// An input that needs more memory is a find: MiB (Linux only).
    #[arg(long, default_value_t = 1024)]
    memory: u64,
    /// Puts the files of a folder of `target/fuzz/` to its target once more, with the panic in full.
    #[arg(long)]
    again: Option<std::path::PathBuf>,
}

fn main() -> std::process::ExitCode {
    let asked = Arguments::parse();
    if let Some(folder) = asked.again {
        let target = TARGETS.iter().find(|target| asked.targets.contains(&target.name.to_owned()));
        let said = (target.expect("one target, by its name").run)(&finds::read(&folder));
        println!("{said:?}");
        return std::process::ExitCode::SUCCESS;
    }
    let limits = Limits { slow: Duration::from_secs_f64(asked.slow), memory: asked.memory };
    finds::watch();
    println!("target | inputs | kept | seconds | slowest | most memory | finds");
    let wanted = |target: &&Target| asked.targets.is_empty() || asked.targets.iter().any(|name| name == target.name);
    let found: usize =
        TARGETS.iter().filter(wanted).map(|target| fuzz(target, asked.seed, asked.seconds, &limits)).sum();
    if found == 0 { std::process::ExitCode::SUCCESS } else { std::process::ExitCode::FAILURE }
}

/// Inputs that are kept at most; then one of them makes room for the next.
const MOST_KEPT: usize = 4_000;

/// Puts inputs to a target for some seconds; how many different finds there were.
fn fuzz(target: &'static Target, seed: u64, seconds: u64, limits: &Limits) -> usize {
    let mut random = Random::new(seed);
    let mut pool: Vec<Files> = corpus::sites().iter().map(target.start).collect();
    pool.dedup();
    let scraps = mutate::Scraps::of(&pool);
    let (sown, mut kept, mut count) = (pool.len(), 0, 0_u64);
    let mut known: BTreeSet<Said> = BTreeSet::new();
    let mut finds: BTreeMap<String, u64> = BTreeMap::new();
    let (mut slowest, mut memory) = (Duration::ZERO, 0);
    let start = Instant::now();
    while start.elapsed() < Duration::from_secs(seconds) {
        let mut files = random.pick(&pool).cloned().unwrap_or_default();
        for _ in 0..=random.below(4) {
            let focus = target.focus.filter(|_| !random.one_in(5));
            mutate::change(&mut random, &mut files, focus, &scraps);
        }
        count += 1;
        let seen = finds::run(target, &files, limits);
        slowest = slowest.max(seen.took);
        memory = memory.max(seen.memory);
        match seen.said {
            Ok(said) => {
                let size: usize = files.values().map(Vec::len).sum();
                if size < 300_000 && known.insert(said) {
                    kept += 1;
                    if pool.len() < MOST_KEPT {
                        pool.push(files);
                    } else {
                        let place = sown + random.below(pool.len() - sown);
                        pool[place] = files;
                    }
                }
            }
            Err(what) => {
                let times = finds.entry(what.clone()).or_default();
                *times += 1;
                if *times == 1 {
                    let folder = finds::keep(target, seed, count, &files, &what, limits);
                    println!("FOUND in {}, {}: {what}", target.name, folder.display());
                }
            }
        }
    }
    println!(
        "{} | {count} | {kept} | {} | {:.2} s | {memory} MiB | {}",
        target.name,
        start.elapsed().as_secs(),
        slowest.as_secs_f64(),
        finds.len()
    );
    for (what, times) in &finds {
        println!("    {times} times: {what}");
    }
    finds.len()
}
