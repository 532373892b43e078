//! What is fuzzed: how an input is made of a site, how it is changed, what is done with it, and what must then hold.
//!
//! A promise that is broken is a panic of this file.

use loopwright::diag::{Format, Look, render};
use loopwright::resolve::load::MemoryFiles;
use loopwright::session::{self, Outcome, Reader};

use crate::{Files, Said};

/// See the module's head.
pub struct Target {
    pub name: &'static str,
    pub start: fn(&Files) -> Files,
    /// What most of the changes are made to, by the beginning of its path.
    pub focus: Option<&'static str>,
    pub run: fn(&Files) -> Said,
}

pub const TARGETS: [Target; 6] = [
    Target { name: "syntax", start: one_file, focus: None, run: syntax },
    Target { name: "format", start: one_file, focus: None, run: format },
    Target { name: "compile", start: Files::clone, focus: None, run: compile },
    Target { name: "compare", start: twice, focus: Some("new/"), run: compare },
    Target { name: "register", start: with_register, focus: Some(REGISTER), run: register },
    Target { name: "readings", start: with_readings, focus: Some(READINGS), run: readings },
];

const REGISTER: &str = "register.kdl";
const READINGS: &str = "measured.kdl";

fn one_file(site: &Files) -> Files {
    site.get_key_value("site.kdl").map(|(path, bytes)| (path.clone(), bytes.clone())).into_iter().collect()
}

/// The site as old and as new revision; the parts belong to both.
fn twice(site: &Files) -> Files {
    let side =
        |side: &str| site.iter().map(|(path, bytes)| (format!("{side}{path}"), bytes.clone())).collect::<Files>();
    side("old/").into_iter().chain(side("new/")).collect()
}

fn with_register(site: &Files) -> Files {
    let mut files = site.clone();
    if let Some(register) = session::check(&MemoryFiles(site.clone())).register {
        files.insert(REGISTER.into(), register.text().into_bytes());
    }
    files
}

fn with_readings(site: &Files) -> Files {
    let mut files = site.clone();
    if let (_, Some(text)) = session::readings(&MemoryFiles(site.clone()), "2029-03-17".parse().unwrap()) {
        let filled = text.replace(" // ", " ohms=(ohm)2203 // ");
        files.entry("site.kdl".into()).or_default().extend(format!("\ninclude \"{READINGS}\"\n").bytes());
        files.insert(READINGS.into(), filled.into_bytes());
    }
    files
}

fn syntax(files: &Files) -> Said {
    let text = files.values().next().cloned().unwrap_or_default();
    let list = session::textconv(text.clone());
    assert!(session::textconv_two(text.clone(), text).is_empty(), "a file differs from itself");
    let magnitude = |count: usize| count.checked_ilog2().unwrap_or_default();
    let deepest = list.lines().map(|line| line.len() - line.trim_start().len()).max().unwrap_or_default();
    let broken = list.lines().filter(|line| line.starts_with("not understood")).count();
    [("lines", list.lines().count()), ("broken", broken), ("deep", deepest)]
        .map(|(what, count)| format!("{what} {}", magnitude(count)))
        .into()
}

/// One file laid out. That the program notices when more than white space would change is a promise of its own; that kdl
/// reads the same from both is a second opinion.
fn format(files: &Files) -> Said {
    let bytes = files.values().next().cloned().unwrap_or_default();
    let path = std::path::Path::new("site.kdl");
    let formatted = match session::format(path, bytes.clone()) {
        Err(session::Unformatted::NotText(_)) => return Said::new(),
        Err(session::Unformatted::Unsure(why)) => panic!("a file is left alone: {why}"),
        Ok(formatted) => formatted,
    };
    let again = session::format(path, formatted.text.clone().into_bytes()).expect("what was laid out is laid out");
    assert!(again.text == formatted.text, "a second time gives another text");
    // A text that is nested deeper than the program reads overflows the stack of kdl.
    let text = std::str::from_utf8(&bytes).ok().filter(|text| depth(text) < 100);
    if let Some(before) = text.and_then(|text| kdl::KdlDocument::parse_v2(text).ok()) {
        let after = kdl::KdlDocument::parse_v2(&formatted.text).expect("kdl reads what was laid out");
        let [before, after] = [before, after].map(|mut document| {
            document.clear_format_recursive();
            document
        });
        assert!(before == after, "kdl reads something else");
    }
    let magnitude = |count: usize| count.checked_ilog2().unwrap_or_default();
    let differing = formatted.differences().len();
    [("differ", differing), ("kept", formatted.kept.len()), ("lines", formatted.text.lines().count())]
        .map(|(what, count)| format!("{what} {}", magnitude(count)))
        .into()
}

/// How deep braces are nested, at most.
fn depth(text: &str) -> usize {
    let deeper = |open: &mut usize, byte: u8| {
        *open = match byte {
            b'{' => *open + 1,
            b'}' => open.saturating_sub(1),
            _ => *open,
        };
        Some(*open)
    };
    text.bytes().scan(0, deeper).max().unwrap_or_default()
}

/// The rules that spoke, after the findings were drawn in every form.
fn said(outcome: &Outcome) -> Said {
    let look = |colour, width| Format::Human(Look { colour, unicode: colour, width });
    for format in [look(true, Some(40)), look(false, None), Format::Short, Format::Json] {
        let text = render(format, &outcome.sources, &outcome.diagnostics, 100);
        let may_stand = |c: char| !c.is_control() || c == '\n' || (c == '\u{1b}' && format == look(true, Some(40)));
        assert!(text.chars().all(may_stand), "a control character is printed by {format:?}");
        assert!(format != Format::Json || serde_json::from_str::<serde_json::Value>(&text).is_ok(), "no JSON");
    }
    let packet = outcome.bundle.iter().map(|_| "packet".to_owned());
    outcome.diagnostics.iter().map(|found| found.rule.slug.to_owned()).chain(packet).collect()
}

fn whole(outcome: &Outcome) {
    assert!(outcome.bundle.is_some() != outcome.failed(), "a packet although there is an error, or none although none");
    for (path, bytes) in outcome.bundle.iter().flat_map(|bundle| &bundle.files) {
        let text = std::str::from_utf8(bytes).expect("a file of the packet is text");
        assert!(!text.contains("could not be made"), "an apology in {path}");
        let is_json = path.ends_with(".json");
        assert!(!is_json || serde_json::from_str::<serde_json::Value>(text).is_ok(), "no JSON in {path}");
        if path.ends_with(".svg") {
            roxmltree::Document::parse(text).expect("a drawing is XML");
        }
    }
}

fn compile(files: &Files) -> Said {
    let outcome = session::compile(&Reader::ALL, &MemoryFiles(files.clone()));
    whole(&outcome);
    said(&outcome)
}

fn side(files: &Files, side: &str) -> MemoryFiles {
    MemoryFiles(
        files.iter().filter_map(|(path, bytes)| Some((path.strip_prefix(side)?.to_owned(), bytes.clone()))).collect(),
    )
}

fn compare(files: &Files) -> Said {
    let (old, new) = (side(files, "old/"), side(files, "new/"));
    let compared = session::compare((&old, "old"), (&new, "new"));
    let mut said = Said::new();
    if let Some(order) = &compared.order {
        let (_, page) = session::print(order, false);
        let (_, wiring) = session::print(order, true);
        assert!(![page, wiring].iter().any(|page| page.contains("could not be made")), "an apology for a work order");
        said.extend(order.changes.iter().map(|change| format!("{change:?}").chars().take(60).collect()));
        // Enough to tell kinds of changes apart, few enough that not every input is a new kind.
        said = said.into_iter().map(|line: String| line.chars().filter(|c| !c.is_ascii_digit()).collect()).collect();
    }
    let (outcome, _) = session::compile_since(&[], &new, (&old, "old"));
    whole(&outcome);
    said.extend(self::said(&outcome));
    said
}

fn register(files: &Files) -> Said {
    let outcome = session::compile(&Reader::ALL, &MemoryFiles(files.clone()));
    whole(&outcome);
    if outcome.bundle.is_some() {
        let mut kept = files.clone();
        if let Some(next) = &outcome.register {
            kept.insert(REGISTER.into(), next.text().into_bytes());
        }
        let again = session::compile_frozen(&Reader::ALL, &MemoryFiles(kept));
        assert!(!again.failed(), "a register that was written is refused: {:?}", self::said(&again));
        assert!(again.bundle == outcome.bundle, "a second compile gives another packet");
    }
    said(&outcome)
}

/// What a meter may show, and what nobody would believe of it.
const SHOWN: [f64; 8] = [2203.0, 0.0, -1.0, 1e308, 5e-324, f64::INFINITY, f64::NAN, 1960.0];

fn readings(files: &Files) -> Said {
    let site = MemoryFiles(files.clone());
    let outcome = session::compile(&[], &site);
    whole(&outcome);
    let _ = session::readings(&site, "2029-03-17".parse().unwrap());
    let size: usize = files.values().map(Vec::len).sum();
    let (zone, shown) = (size as u32 / 8 % 4 + 1, SHOWN[size % SHOWN.len()]);
    let _ = format!("{:?}", session::diagnose_ohms(&site, zone, shown).answer);
    let _ = format!("{:?}", session::diagnose_volts(&site, zone, shown).answer);
    let _ = format!("{:?}", session::why(&site, zone).answer);
    said(&outcome)
}
