//! Sites to print. They are taken past the checks, so that a sheet can be tested with whatever the wall holds.

use loopwright::compiled::Compiled;
use loopwright::diag::{Diagnostic, Severity, Sink};
use loopwright::emit::markdown::Templates;
use loopwright::emit::{self, Bundle};
use loopwright::register::{self, Register, State};
use loopwright::resolve::load::{MemoryFiles, SITE_FILE};
use loopwright::resolve::resolve;
use loopwright::session::{self, Reader};
use loopwright::views::{DOCUMENTS, Head, value};

/// The text of [`full_site`].
pub const FULL: &str = include_str!("full.kdl");

const PARTS: &str = include_str!("../pages/example.kdl");

/// The loop sheet, and what its sketches say in words.
pub fn loop_sheet(site: &Compiled) -> String {
    let files = packet(site).files;
    let read = |path: &String| String::from_utf8(files[path].clone()).unwrap();
    let sketches = files.keys().filter(|path| path.starts_with("loop-") && path.ends_with(".svg"));
    let words = sketches.map(|path| {
        let svg = read(path);
        let parsed = roxmltree::Document::parse(&svg).unwrap();
        let said = parsed.descendants().find(|node| node.tag_name().name() == "desc");
        said.and_then(|said| said.text().map(str::to_owned)).unwrap_or_default()
    });
    let words = words.collect::<Vec<_>>().join("\n");
    format!("{}\n{words}", read(&"loop-sheet.md".to_owned())).replace('\u{a0}', " ")
}

/// The sheets of a site.
pub fn packet(site: &Compiled) -> Bundle {
    emit::packet(site, &[])
}

/// The sheets of a site, and the joined file of every reader.
pub fn packet_for_all(site: &Compiled) -> Bundle {
    emit::packet(site, &Reader::ALL)
}

/// A document's Markdown as the packet has it, but made alone: a whole packet takes half a second.
pub fn markdown(site: &Compiled, name: &str) -> String {
    let document = DOCUMENTS.iter().find(|document| document.name == name).unwrap();
    let templates = Templates::new(&[document]).unwrap();
    let head = templates.render("head", &value(&Head::of(&site.site, document))).unwrap();
    let body = templates.render(name, &document.view(site)).unwrap();
    format!("{}\n\n{}\n", head.trim(), body.trim())
}

/// The terminal schedule's Markdown without the links to drawings and back.
pub fn schedule(site: &Compiled) -> String {
    unlinked(&markdown(site, "terminal-schedule"))
}

/// The same of a text.
pub fn unlinked(text: &str) -> String {
    let cell = |cell: &str| {
        let link = cell
            .strip_prefix('[')
            .and_then(|rest| rest.rsplit_once("]("))
            .filter(|(_, to)| ["#board-", "#room-", "#way-"].iter().any(|mark| to.contains(mark)));
        link.map_or(cell.to_owned(), |(words, to)| words.to_owned() + to.split_once(')').map_or("", |(_, rest)| rest))
    };
    let row = |line: &str| line.split(" | ").map(cell).collect::<Vec<_>>().join(" | ");
    let lines = text.lines().map(|line| match line.strip_prefix("| ") {
        Some(rest) => format!("| {} |", row(rest.trim_end_matches(" |"))),
        None => line.to_owned(),
    });
    lines.map(|line| line + "\n").collect()
}

/// The site of one text, with the example parts beside it.
pub fn site(text: &str) -> Compiled {
    site_after(text, &Register::default()).0
}

/// The site of some files, its labels and landings proposed anew.
pub fn of_files(files: &MemoryFiles) -> Compiled {
    of_files_after(files, &Register::default()).0
}

/// The site of one text after a register, and the register's next state.
pub fn site_after(text: &str, register: &Register) -> (Compiled, Register) {
    let files = [(SITE_FILE, text), ("../parts/example.kdl", PARTS)];
    let files = files.into_iter().map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec()));
    of_files_after(&MemoryFiles(files.collect()), register)
}

fn of_files_after(files: &MemoryFiles, register: &Register) -> (Compiled, Register) {
    let mut sink = Sink::default();
    let resolved = resolve(files, &mut sink);
    let faults: Vec<&Diagnostic> = sink.found().iter().filter(|d| d.severity() == Severity::Error).collect();
    assert!(faults.is_empty(), "{faults:#?}");
    let site = resolved.site.unwrap();
    let kept = register::keep(&site, register);
    (Compiled::new(site, kept.wiring, resolved.sources), kept.register)
}

/// A zone that the full house had once.
fn gone(number: u32, board: &str, room: &str) -> String {
    format!(
        "zone {number} \"Gone {number}\" type=\"perimeter\" area=\"house\" {{
    loop \"end-of-line\" board=\"{board}\" {{
        run \"pair\" length=(ft)20 room=\"{room}\" {{ contact \"reed\" title=\"Old contact\"; resistor \"2k2\" }}
    }}
}}
"
    )
}

/// Some of everything, two dead cables (one still on its terminals), and findings of every kind.
pub fn full_site() -> Compiled {
    let before = format!("{FULL}{}{}", gone(80, "main", "store"), gone(81, "expander", "hall"));
    let (_, before) = site_after(&before, &Register::default());
    let (_, mut dead) = site_after(FULL, &before);
    for entry in dead.cables.iter_mut().filter(|entry| entry.label == "Z81") {
        entry.state = State::Dead { because: "zone 81 is gone".into(), off: true };
    }
    let (mut made, _) = site_after(FULL, &dead);
    let rule = |severity| session::rules().into_iter().find(|rule| rule.severity() == severity).unwrap();
    let finding = |severity, title: &str| {
        Diagnostic::new(rule(severity), loopwright::base::Span::default(), title).why("Why.").help("Do it.")
    };
    let mut accepted = finding(Severity::Warning, "accepted thing");
    accepted.accepted = Some("it is meant".into());
    made.findings = vec![finding(Severity::Warning, "open warning"), finding(Severity::Note, "open note"), accepted];
    made
}

/// A site with nothing in it.
pub fn empty_site() -> Compiled {
    site("site \"bare\" title=\"Bare\"\n")
}

/// Names that try to leave their cell, their attribute and their file.
pub fn hostile_site() -> Compiled {
    let cable: String =
        (0..100).map(|n| if n % 2 == 0 { "conductor \"RD\"\n" } else { "conductor \"RDBU\"\n" }).collect();
    let long = "W".repeat(60);
    site(&format!(
        r##"site "hostile" title="</style><script>alert(1)</script> \" ; }} | `x`" {{
    revision "=1+1" date="2027-01-01" note="a|b `c` [d](javascript:e) *f* <b>g</b>"
}}
include "../parts/example.kdl"
cable "hundred" title="=HYPERLINK(1) | ``` |" conductors=100 size=(AWG)24 {{
{cable}}}
level "l" title="<level>" {{
    room "r" title="{long}" {{ door "d" title="# a | b \\| c"; }}
    room "s" title="- s" {{ window "w" title="![x](y)"; }}
}}
panel "p" title="@panel | <i>" part="control-a" room="r"
area "a" title="=area"
zone 1 "=1+1 | ` <script>" type="perimeter" area="a" {{
    loop "end-of-line" board="p" input=1 {{
        run "hundred" length=(ft)10 room="r" label="=1|`<b>`" route="+route | x" {{
            contact "reed" on="d" title="-contact | <script>"
            resistor "2k2"
        }}
    }}
}}
zone 2 "{long}" type="interior" area="a" {{
    loop "end-of-line" board="p" input=2 {{
        run "quad" length=(ft)10 room="s" {{
            detector "motion" supply="aux" title="&amp; <!-- x --> https://example.org"
            resistor "2k2"
        }}
    }}
}}
"##
    ))
}
