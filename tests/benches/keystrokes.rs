//! Time from a keystroke to findings in an editor, on a site of about 2,000 lines: alder-mill with the shared parts and its register.
//!
//! A zone is typed at the end of a file, letter by letter, so that the text is broken most of the time, and taken out again the
//! same way. Behind that stand the stages of the pipeline alone, without an editor and with nothing known from before.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing)]

use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};

use loopwright::compiled::Compiled;
use loopwright::diag::Sink;
use loopwright::register::{self, Register};
use loopwright::resolve::load::{FileSource, MemoryFiles};
use loopwright::resolve::resolve;
use loopwright::server::{Disk, Message, Server};
use loopwright::session;
use serde_json::{Value, json};

const TYPED: &str = r#"
zone 47 "Cellar hatch" type="perimeter" area="house" {
    loop "end-of-line" board="expander-b" {
        run "station-2" length=(ft)60 room="workshop" {
            contact "reed-surface" on="workshop-door" shares=#true
            resistor "2k2"
        }
    }
}
"#;

/// The specs in memory, as a disk would have them.
struct Specs(MemoryFiles);

impl Disk for Specs {
    fn has_file(&self, path: &str) -> bool {
        path == "/specs/alder-mill/site.kdl"
    }

    fn site(&self, _: &str) -> Option<Box<dyn FileSource + '_>> {
        Some(Box::new(self.0.clone()))
    }
}

fn specs() -> MemoryFiles {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut files = BTreeMap::new();
    for (folder, prefix) in [("alder-mill", ""), ("parts", "../parts/")] {
        for entry in std::fs::read_dir(specs.join(folder)).unwrap().map(Result::unwrap) {
            let name = entry.file_name().into_string().unwrap();
            if name.ends_with(".kdl") {
                files.insert(format!("{prefix}{name}"), std::fs::read(entry.path()).unwrap());
            }
        }
    }
    MemoryFiles(files)
}

fn message(method: &str, params: Value) -> Message {
    serde_json::from_value(json!({"method": method, "params": params})).unwrap()
}

/// Everything that one message leads to; how long it took, and how many findings files were told of.
fn timed(server: &mut Server, message: Message) -> (Duration, usize) {
    let start = Instant::now();
    server.receive(message);
    server.step();
    let told = server.settle();
    (start.elapsed(), told.len())
}

fn report(what: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    let shown = |time: Duration| format!("{:.2} ms", time.as_secs_f64() * 1e3);
    println!(
        "{what}: median {}, worst {}, of {}",
        shown(times[times.len() / 2]),
        shown(times[times.len() - 1]),
        times.len()
    );
}

fn main() {
    let files = specs();
    let lines: usize = files.0.values().map(|text| String::from_utf8_lossy(text).lines().count()).sum();
    println!("{lines} lines in {} files", files.0.len());
    let mut server = Server::new(Box::new(Specs(files.clone())));
    let begin = json!({"id": 1, "method": "initialize", "params": {"capabilities": {"general": {"positionEncodings": ["utf-8"]}}}});
    server.receive(serde_json::from_value(begin).unwrap());
    server.step().expect("an answer");
    let text = String::from_utf8(files.0["zones-ground.kdl"].clone()).unwrap();
    let uri = "file:///specs/alder-mill/zones-ground.kdl";
    let item = json!({"uri": uri, "languageId": "kdl", "version": 0, "text": text});
    let (first, told) = timed(&mut server, message("textDocument/didOpen", json!({"textDocument": item})));
    assert!(told > 1, "the whole site is read");
    report("opening the first file", vec![first]);
    let (mut line, mut column) = (text.lines().count(), 0);
    let mut typing = Vec::new();
    let mut places = Vec::new();
    for (version, letter) in TYPED.chars().enumerate() {
        let at = json!({"line": line, "character": column});
        (line, column) = if letter == '\n' { (line + 1, 0) } else { (line, column + 1) };
        places.push(json!({"start": at, "end": {"line": line, "character": column}}));
        let change = json!({"range": {"start": at, "end": at}, "text": letter.to_string()});
        let of = json!({"uri": uri, "version": version + 1});
        typing.push(
            timed(
                &mut server,
                message("textDocument/didChange", json!({"textDocument": of, "contentChanges": [change]})),
            )
            .0,
        );
    }
    report("a letter typed", typing);
    let erasing = places.into_iter().rev().enumerate().map(|(version, range)| {
        let of = json!({"uri": uri, "version": 1000 + version});
        let change = json!({"range": range, "text": ""});
        timed(&mut server, message("textDocument/didChange", json!({"textDocument": of, "contentChanges": [change]}))).0
    });
    report("a letter erased", erasing.collect());

    let (mut reading, mut keeping, mut figures, mut all) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for _ in 0..50 {
        let start = Instant::now();
        let resolved = resolve(&files, &mut Sink::default());
        reading.push(start.elapsed());
        let site = resolved.site.unwrap();
        let start = Instant::now();
        let kept = register::keep(&site, &Register::default());
        keeping.push(start.elapsed());
        let start = Instant::now();
        let compiled = Compiled::new(site, kept.wiring, resolved.sources);
        figures.push(start.elapsed());
        drop(compiled);
        let start = Instant::now();
        session::check(&files);
        all.push(start.elapsed());
    }
    report("files to model, all parsed", reading);
    report("labels and landings", keeping);
    report("figures", figures);
    report("all of a check, its parse of the register among it", all);
}
