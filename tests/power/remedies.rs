//! What a help names is done to the text of the spec, and the finding is gone.

use std::collections::BTreeMap;

use loopwright::diag::Diagnostic;
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

use crate::pages::PARTS;

/// A house with a panel of the examples on battery; `board` is its part.
fn house(board: &str, rest: &str) -> String {
    format!(
        "site \"remedies\" lengths=\"ft\"
include \"../parts/example.kdl\"
level \"l\" {{ room \"hall\"; }}
cable \"pair-18\" conductors=2 size=(AWG)18
cable \"pair-20\" conductors=2 size=(AWG)20
cable \"pair-16\" conductors=2 size=(AWG)16
cable \"thin-4\" conductors=4 size=(AWG)22
cable \"found-2\" conductors=2
cable \"metric-2\" conductors=2 size=(mm2)0.22
cable \"metric-2-075\" conductors=2 size=(mm2)0.75
cable \"metric-2-05\" conductors=2 size=(mm2)0.5
{board}
panel \"main\" part=\"board\" room=\"hall\" {{ battery capacity=(Ah)18; transformer volts=(V)16.5 rating=(VA)80; }}
{rest}
"
    )
}

/// A control board with two outputs for detectors, two for alarms, and a bus.
const BOARD: &str = "part \"board\" {
    basis \"sheet\"
    input 1 signal=\"I1\" return=\"R1\"
    input 2 signal=\"I2\" return=\"R1\"
    input 3 signal=\"I3\" return=\"R2\"
    sensing supply=(V)5 pull-up=(ohm)2200 { band \"short\" max=(V)0.8; band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4.0; }
    output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(mA)100
    output \"aux-2\" positive=\"E+\" negative=\"E-\" volts=(V)13.8 limit=(mA)500
    output \"low\" positive=\"L+\" negative=\"L-\" volts=(V)12 limit=(mA)500
    output \"siren\" positive=\"S+\" negative=\"S-\" volts=(V)13.8 limit=(mA)1500 when=\"alarm\"
    output \"siren-2\" positive=\"T+\" negative=\"T-\" volts=(V)13.8 limit=(mA)1500 when=\"alarm\"
    bus-port \"bus\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)720 bias-supply=(V)5 volts=(V)13.8 limit=(mA)200
    draw idle=(mA)100 alarm=(mA)200
    charger current=(mA)600 cut-off=(V)10.5
    screw wires=6
}";

fn found(text: &str) -> Vec<Diagnostic> {
    let files = [("site.kdl", text), ("../parts/example.kdl", PARTS)];
    let files: BTreeMap<String, Vec<u8>> = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
    session::check(&MemoryFiles(files)).diagnostics
}

/// The finding of a rule, which must be the only one of it.
fn one(text: &str, rule: &str) -> Diagnostic {
    let all = found(text);
    let shown: Vec<String> = all.iter().map(|f| format!("{}: {}", f.rule.slug, f.title)).collect();
    let mut found: Vec<Diagnostic> = all.into_iter().filter(|finding| finding.rule.slug == rule).collect();
    assert_eq!(found.len(), 1, "{shown:#?}");
    found.remove(0)
}

/// Nothing is found about supplies any more.
fn remedied(text: &str) {
    let about = [
        "supply-below-minimum",
        "supply-without-solution",
        "output-overloaded",
        "supply-above-maximum",
        "unknown-name",
    ];
    let left: Vec<String> = found(text)
        .into_iter()
        .filter(|finding| about.contains(&finding.rule.slug))
        .map(|finding| format!("{}: {}", finding.rule.slug, finding.title))
        .collect();
    assert_eq!(left, [""; 0], "{text}");
}

/// The help and the figures that name another way.
fn ways(finding: &Diagnostic) -> Vec<String> {
    let others = finding.figures.iter().filter_map(|figure| figure.strip_prefix("or "));
    std::iter::once(finding.help.as_str()).chain(others).map(str::to_owned).collect()
}

/// The one way that says so.
fn way(finding: &Diagnostic, wanted: &str) -> String {
    let ways = ways(finding);
    ways.iter().find(|way| way.contains(wanted)).unwrap_or_else(|| panic!("{wanted:?} is not in {ways:#?}")).clone()
}

fn number_after(text: &str, words: &str) -> u32 {
    let rest = text.split(words).nth(1).unwrap_or_else(|| panic!("{words:?} is not in {text:?}"));
    rest.trim_start().split(|c: char| !c.is_ascii_digit()).next().unwrap().parse().unwrap()
}

/// The text between the first two backquotes after some words.
fn quoted_after<'t>(text: &'t str, words: &str) -> &'t str {
    text.split(words).nth(1).unwrap().split('`').nth(1).unwrap()
}

fn sounder(cable: &str, feet: u32, pairs: u32) -> String {
    let circuit = format!(
        "circuit \"loud\" board=\"main\" output=\"siren\" {{
    run \"{cable}\" length=(ft){feet} pairs={pairs} room=\"hall\" {{ sounder \"sounder\" }}
}}"
    );
    house(BOARD, &circuit)
}

/// By hand: 22 AWG has 16.14 Ω/kft at 20 °C, at 35 °C × 1.059 = 17.09 Ω/kft; 200 ft out and back are 6.837 Ω, at
/// 300 mA 2.051 V: of 10.5 V there are 8.449 V, and the sounder needs 9 V. It has them up to 1.5 V ÷ 0.3 A = 5 Ω, which
/// is 146.3 ft. 20 AWG (10.15 Ω/kft) has 4.300 Ω: 1.290 V, 9.210 V. Two pairs of 22 AWG: 3.418 Ω, 1.026 V, 9.474 V.
#[test]
fn a_sounder_on_a_thin_cable_is_remedied_in_every_way_that_is_named() {
    let finding = one(&sounder("pair", 200, 1), "supply-below-minimum");
    assert_eq!(finding.title, "Sounder gets 8.45 V in alarm on battery; it needs 9.00 V", "{finding:#?}");
    assert!(
        finding
            .figures
            .iter()
            .any(|figure| figure == "cable `LOUD-1`, 200 ft of 22 AWG: 300 mA drop 2.05 V, leaving 8.45 V"),
        "{finding:#?}"
    );
    assert_eq!(finding.help, "Take copper conductors of 20 AWG for cable `LOUD-1`.");
    remedied(&sounder("pair-20", 200, 1));
    let longest = number_after(&way(&finding, "no longer than"), "no longer than");
    assert_eq!(longest, 146);
    remedied(&sounder("pair", longest, 1));
    one(&sounder("pair", longest + 1, 1), "supply-below-minimum");
    // A cable with two conductors to spare.
    let finding = one(&sounder("thin-4", 200, 1), "supply-below-minimum");
    assert_eq!(finding.help, "Join a free pair of cable `LOUD-1` to its supply: write pairs=2.");
    remedied(&sounder("thin-4", 200, 2));
}

#[test]
fn metric_cable_is_remedied_by_metric_sizes() {
    let finding = one(&sounder("metric-2", 200, 1), "supply-below-minimum");
    assert_eq!(finding.help, "Take copper conductors of 0.5 mm² for cable `LOUD-1`.");
    remedied(&sounder("metric-2-05", 200, 1));
}

/// A cable whose size nobody knows is measured first, and a known size is the better one. By hand: as 26 AWG it has 43.2 Ω/kft
/// at 35 °C, 17.3 Ω, and 10.5 V fall to 5.3 V.
#[test]
fn a_cable_of_unknown_size_is_measured_or_one_of_a_known_size() {
    let finding = one(&sounder("found-2", 200, 1), "supply-at-guessed-size");
    assert!(finding.title.starts_with("Sounder may get 5.31 V"), "{}", finding.title);
    assert!(finding.help.starts_with("Measure the cable"), "{}", finding.help);
    remedied(&sounder("pair-20", 200, 1));
}

/// Copper-clad conductors of the size that is named would not do.
#[test]
fn the_size_that_is_named_is_of_copper() {
    let clad = |gauge: u32| {
        sounder("clad-2", 200, 1) + &format!("cable \"clad-2\" conductors=2 size=(AWG){gauge} metal=\"copper-clad\"\n")
    };
    let finding = one(&clad(24), "supply-below-minimum");
    assert_eq!(finding.help, "Take copper conductors of 20 AWG for cable `LOUD-1`.");
    one(&clad(20), "supply-below-minimum");
}

/// An output holds its volts, so a cable that carries nothing changes none of the others.
#[test]
fn a_cable_without_solution_hides_no_other() {
    let far = "circuit \"far\" board=\"main\" output=\"siren\" { run \"pair\" length=(ft)2000 room=\"hall\" { sounder \"sounder\" } }\n";
    let text = sounder("pair", 200, 1) + far;
    one(&text, "supply-without-solution");
    let finding = one(&text, "supply-below-minimum");
    assert_eq!(finding.title, "Sounder gets 8.45 V in alarm on battery; it needs 9.00 V", "{finding:#?}");
}

#[test]
fn only_the_cable_that_matters_is_exchanged() {
    let chain = |trunk: &str| {
        let circuit = format!(
            "circuit \"loud\" board=\"main\" output=\"siren\" {{
    run \"{trunk}\" length=(ft)150 room=\"hall\" {{ sounder \"sounder\" }}
    run \"pair\" length=(ft)10 room=\"hall\" {{ sounder \"sounder\" }}
}}"
        );
        house(BOARD, &circuit)
    };
    let finding = one(&chain("pair"), "supply-below-minimum");
    assert_eq!(finding.help, "Take copper conductors of 18 AWG for cable `LOUD-1`.");
    remedied(&chain("pair-18"));
    assert_eq!(finding.labels.len(), 4, "both sounders and both cables: {finding:#?}");
}

#[test]
fn what_no_cable_remedies_says_so() {
    let part = "part \"hungry\" { basis \"sheet\"; supply min=(V)11 idle=(mA)0 alarm=(mA)10; }\n";
    let text = sounder("pair", 20, 1).replace("sounder \"sounder\"", "sounder \"hungry\"") + part;
    let finding = one(&text, "supply-below-minimum");
    // The battery ends at 10.5 V: the supply itself has too few.
    assert!(finding.help.starts_with("No cable helps: the supply itself has 10.50 V then."), "{}", finding.help);
    remedied(&text.replace("min=(V)11", "min=(V)10"));
}

fn motions(outputs: [&str; 3], takes: &str) -> String {
    let part = format!(
        "part \"beam\" senses=\"motion\" {{ basis \"sheet\"; supply min=(V)9 max=(V)16 idle={takes}; contact form=\"NC\"; }}\n"
    );
    let zones: String = outputs
        .iter()
        .enumerate()
        .map(|(at, output)| {
            format!(
                "zone {number} \"Beam {number}\" type=\"interior\" {{
    loop \"end-of-line\" board=\"main\" input={number} {{
        run \"quad\" length=(ft)30 room=\"hall\" {{ detector \"beam\" name=\"beam-{number}\" supply=\"{output}\"; resistor \"2k2\" }}
    }}
}}\n",
                number = at + 1
            )
        })
        .collect();
    house(BOARD, &(part + &zones))
}

#[test]
fn an_overloaded_output_is_relieved_by_the_move_that_is_named() {
    let finding = one(&motions(["aux"; 3], "(mA)45"), "output-overloaded");
    assert_eq!(finding.title, "output `aux` of panel `main` gives 135 mA in alarm; its limit is 100 mA");
    assert!(finding.figures.contains(&"3 of part `beam`: 135 mA".to_owned()), "{finding:#?}");
    let (what, to) = (quoted_after(&finding.help, "Feed"), quoted_after(&finding.help, "from output"));
    assert!(finding.help.contains("gives 45 mA of its 500 mA"), "{}", finding.help);
    let mut outputs = ["aux"; 3];
    let which: usize = what.strip_prefix("beam-").unwrap().parse().unwrap();
    outputs[which - 1] = to;
    remedied(&motions(outputs, "(mA)45"));
}

#[test]
fn more_than_a_wire_carries_is_a_reason_and_no_number() {
    let text = |feet: u32, cable: &str| {
        motions(["aux-2"; 3], "(W)1.2")
            .replace("run \"quad\" length=(ft)30", &format!("run \"{cable}\" length=(ft){feet}"))
    };
    let all = found(&text(700, "quad"));
    let finding = all.iter().find(|finding| finding.rule.slug == "supply-without-solution").unwrap();
    // 700 ft of 22 AWG out and back at 35 °C: 23.93 Ω; 10.5² ÷ 4 ÷ 23.93 = 1.152 W.
    assert!(
        finding.figures.iter().any(|figure| figure.contains("V²/4R = 1.152 W; asked for there and beyond: 1.2 W")),
        "{finding:#?}"
    );
    // On an output of 100 mA that is an overload as well: by the sheets 3 × 1.2 W are more than 0.3 A at any volts here.
    let both = motions(["aux"; 3], "(W)1.2").replace("run \"quad\" length=(ft)30", "run \"quad\" length=(ft)700");
    let both = found(&both);
    let overload = both.iter().find(|finding| finding.rule.slug == "output-overloaded").unwrap();
    assert!(overload.figures.iter().any(|figure| figure.contains("counted by the sheets")), "{overload:#?}");
    assert!(both.iter().any(|finding| finding.rule.slug == "supply-without-solution"));
    let longest = number_after(&way(finding, "no longer than"), "no longer than");
    // The first of the three cables that lack a solution is told; all are alike.
    remedied(&text(longest, "quad"));
    assert!(found(&text(longest + 1, "quad")).iter().any(|finding| finding.rule.slug == "supply-below-minimum"));
}

#[test]
fn a_bus_that_takes_too_much_gives_a_module_its_own_supply() {
    let text = |own: &str| {
        house(
            BOARD,
            &format!(
                "part \"big\" {{ basis \"sheet\"; draw idle=(mA)150 min=(V)9; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; charger current=(mA)300; }}
bus \"data\" board=\"main\" rate=(baud)9600 {{
    run \"bus-cable\" length=(ft)30 room=\"hall\" {{ keypad \"keys\" part=\"keypad-a\" address=1 }}
    run \"bus-cable\" length=(ft)30 room=\"hall\" {{ module \"far\" part=\"big\" address=2 {own}; terminator (ohm)120 }}
}}"
            ),
        )
    };
    let finding = one(&text(""), "output-overloaded");
    assert_eq!(finding.title, "bus port `bus` of panel `main` gives 240 mA in alarm; its limit is 200 mA");
    assert!(finding.help.starts_with("Give module `far` a transformer and a battery of its own"), "{}", finding.help);
    remedied(&text("{ transformer volts=(V)16.5 rating=(VA)40; battery capacity=(Ah)7; }"));
}

#[test]
fn too_many_volts_are_remedied_by_a_lower_output() {
    let text = |output: &str| {
        motions(["aux-2", "aux-2", output], "(mA)10").replace("name=\"beam-3\"", "name=\"beam-3\" ")
            + "part \"soft\" senses=\"motion\" { basis \"sheet\"; supply min=(V)9 max=(V)12.6 idle=(mA)10; contact form=\"NC\"; }\n"
    };
    let text = |output: &str| {
        text(output).replacen("detector \"beam\" name=\"beam-3\"", "detector \"soft\" name=\"beam-3\"", 1)
    };
    let finding = one(&text("aux-2"), "supply-above-maximum");
    assert!(
        finding.title.starts_with("`beam-3` gets 13.7")
            && finding.title.ends_with("at rest on mains; it withstands 12.60 V"),
        "{}",
        finding.title
    );
    assert_eq!((quoted_after(&finding.help, "Feed"), quoted_after(&finding.help, "from output")), ("beam-3", "low"));
    remedied(&text("low"));
}

#[test]
fn what_hangs_at_the_wrong_time_hides_what_follows_from_it() {
    let text = sounder("pair", 200, 1).replace("output=\"siren\"", "output=\"aux\"");
    let slugs: Vec<&str> = found(&text)
        .iter()
        .map(|finding| finding.rule.slug)
        .filter(|slug| slug.starts_with("s") || slug.starts_with("o"))
        .collect();
    assert_eq!(slugs, ["sounder-always-on"], "its 300 mA of 100 mA and its volts are not told");
    assert!(one(&text, "sounder-always-on").help.contains("output=\"siren\""));
}
