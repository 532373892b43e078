//! What is accepted hides nothing else, and what is reported hides only what it explains.

use super::{found, only, slugs};

/// A bus with boards of the given unit loads, each at a cable of its own length from the board: a star.
fn star(loads: &[(u32, u32)]) -> String {
    let mut text = String::new();
    for (number, (percent, _)) in loads.iter().enumerate() {
        text += &format!(
            "part \"load-{number}\" {{ basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" unit-load=(percent){percent}; draw idle=(mA)5 min=(V)9; }}\n"
        );
    }
    text += "bus \"data\" board=\"board-a\" rate=(baud)19200 {\n";
    for (number, (_, feet)) in loads.iter().enumerate() {
        let end = if number == 0 { "; terminator (ohm)120" } else { "" };
        text += &format!(
            "run \"bus-cable\" length=(ft){feet} room=\"lobby\" from=\"board\" {{ module \"m{number}\" part=\"load-{number}\" address={}{end}; }}\n",
            number + 1
        );
    }
    text + "}\n"
}

fn accept(rule: &str) -> String {
    format!("accept \"{rule}\" name=\"data\" because=\"it has worked for years\"\n")
}

/// The slugs of what is found and not accepted.
fn open(spec: &str) -> Vec<&'static str> {
    found(spec).iter().filter(|finding| finding.accepted.is_none()).map(|finding| finding.rule.slug).collect()
}

/// 48 unit loads and the board's own, on three arms of 30 ft: of the two terminators one is the board's, which stands in the
/// middle of the longest way. What hangs on the board is more than its terminals take, and that is told beside the star.
#[test]
fn a_bus_that_may_branch_is_still_judged() {
    let bus = star(&[(1600, 30), (1600, 30), (1600, 30)]);
    assert_eq!(open(&bus), ["terminal-overfull", "bus-branched", "bus-overloaded"]);
    let branches = bus.clone() + &accept("bus-branched");
    assert_eq!(open(&branches), ["bus-terminator-misplaced", "bus-overloaded"]);
    // Beside the board's 470 Ω even 49 unit loads leave enough; 540 Ω do for 32, and not for 49.
    let weak = (branches + &accept("bus-terminator-misplaced")).replace("board-a\" rate", "weak\" rate") + WEAK;
    assert_eq!(open(&weak), ["bus-overloaded"]);
    assert_eq!(open(&(weak + &accept("bus-overloaded"))), ["bus-bias-low"]);
}

/// By hand with resistors at their worst: 5 V ÷ 1134 Ω ÷ (2 ÷ 114 Ω + 49 ÷ 12 kΩ + 1 ÷ 1134 Ω) = 196 mV; with 32 unit loads
/// 209 mV.
const WEAK: &str = "part \"weak\" { basis \"sheet\"; draw idle=(mA)20; charger current=(mA)400; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120 bias=(ohm)540 bias-supply=(V)5 volts=(V)13.8 limit=(A)1; }
panel \"weak\" part=\"weak\" room=\"lobby\" { battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)40; }
";

#[test]
fn a_terminator_too_many_explains_a_low_bias_until_it_is_accepted() {
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; terminator (ohm)120; terminator (ohm)120; terminator (ohm)120; }; }\n";
    assert_eq!(open(bus), ["bus-terminator-surplus"]);
    assert_eq!(open(&(bus.to_owned() + &accept("bus-terminator-surplus"))), ["bus-bias-low"]);
    // On a bus no longer than a stub as well.
    let short = bus.replace("(ft)30", "(ft)6");
    let finding = only(&short, "bus-terminator-surplus");
    assert_eq!(finding.title, "bus `data` has 4 terminators, and two ends");
    assert_eq!(slugs(&short.replacen("terminator (ohm)120; ", "", 2)), [""; 0]);
}

#[test]
fn a_missing_terminator_does_not_hide_an_overload() {
    let part = "part \"heavy\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" unit-load=(percent)4000; draw idle=(mA)5 min=(V)9; }\n";
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { module \"m\" part=\"heavy\" address=1; }; }\n";
    assert_eq!(open(&(part.to_owned() + bus)), ["bus-overloaded", "bus-terminator-missing"]);
}

/// Every overloaded output is told, and a device that gets too little there as well: 22 AWG at 35 °C has 17.09 Ω/kft, so
/// that 0.6 A lose 8.2 V on 400 ft out and back.
#[test]
fn an_overload_hides_no_device_that_gets_too_little() {
    let hub = "part \"hub\" { basis \"sheet\"; output \"one\" positive=\"A+\" negative=\"A-\" volts=(V)12 limit=(mA)100 when=\"alarm\"; output \"two\" positive=\"S+\" negative=\"S-\" volts=(V)12 limit=(mA)350 when=\"alarm\"; bus-port \"up\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\"; draw idle=(mA)20 min=(V)9; }
bus \"data\" board=\"board-a\" rate=(baud)9600 { run \"bus-cable\" length=(ft)10 room=\"lobby\" { module \"hub\" part=\"hub\" address=1; terminator (ohm)120; }; }
";
    let loud = |output: &str, feet: u32, count: usize| {
        let sounders = "sounder \"sounder\"; ".repeat(count);
        format!(
            "circuit \"{output}\" board=\"hub\" output=\"{output}\" {{ run \"pair\" length=(ft){feet} room=\"lobby\" {{ {sounders} }}; }}\n"
        )
    };
    let wide = hub.to_owned() + &loud("one", 10, 1) + &loud("two", 400, 2);
    let found = found(&wide);
    let titles = |slug: &str| -> Vec<String> {
        found.iter().filter(|one| one.rule.slug == slug).map(|one| one.title.clone()).collect()
    };
    let mut overloads = titles("output-overloaded");
    overloads.sort();
    assert_eq!(
        overloads,
        [
            "bus port `data` of panel `board-a` gives 920 mA in alarm; its limit is 600 mA",
            "output `one` of module `hub` gives 300 mA in alarm; its limit is 100 mA",
            "output `two` of module `hub` gives 600 mA in alarm; its limit is 350 mA",
        ]
    );
    assert_eq!(titles("supply-below-minimum").len(), 1, "{found:#?}");
}

/// With 1.1 kΩ at each of two places a short behind the first leaves 1.1 kΩ: 5 V × 1100/3300 = 1.667 V, in the normal
/// band from 1.6 V on; with both at the worst of their ranges 5 V × 1045/(1045 + 2222) = 1.599 V, below it.
#[test]
fn a_short_that_may_read_normal_is_no_note() {
    let zone = |first: &str, second: &str| {
        format!(
            "zone 1 \"Lobby window\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{
run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"{first}\"; }}
run \"pair\" length=(ft)30 room=\"lobby\" {{ contact \"reed\"; resistor \"{second}\"; }}
}}; }}\n"
        )
    };
    let finding = only(&zone("1k1", "1k1"), "loop-fault-reads-normal");
    assert_eq!(finding.title, "zone 1 may read normal with cable `Z1-2` shorted at its near end");
    let short = "cable `Z1-2` shorted at its near end: 1.60 to 1.73 V, reads normal or between the bands";
    assert!(finding.figures.iter().any(|figure| figure == short), "{:#?}", finding.figures);
    only(&zone("680R", "1k5"), "loop-fault-unclear");
}

/// A loop without a resistor is told of beside an accepted finding of its readings.
#[test]
fn a_small_margin_does_not_hide_a_loop_without_supervision() {
    let part = "part \"near\" { basis \"sheet\"; input 1 signal=\"I\" return=\"R\"; sensing supply=(V)5 pull-up=(ohm)2200 { band \"normal\" max=(V)0.05; band \"open\" min=(V)3.5; }; }
panel \"near\" part=\"near\" room=\"lobby\"
zone 1 \"Lobby window\" type=\"perimeter\" { loop \"normally-closed\" board=\"near\" { run \"pair\" length=(ft)550 room=\"lobby\" { contact \"reed\"; }; }; }
";
    assert_eq!(slugs(part), ["loop-margin-small", "loop-unsupervised"]);
}

/// Two contacts of one loop, both read wrong.
const READ: &str = "zone 2 \"Lobby\" type=\"perimeter\" { loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\" name=\"one\"; contact \"reed\" name=\"other\" title=\"Other\"; resistor \"2k2\"; }; }; }
measured date=\"2027-04-02\" { loop 2 \"alarm\" of=\"one\" ohms=(ohm)100; loop 2 \"alarm\" of=\"other\" ohms=(ohm)120; }
";

#[test]
fn an_accept_is_about_its_zone_and_its_name() {
    let accepted = |subject: &str| {
        let spec = format!("{READ}accept \"reading-outside\" {subject} because=\"being repaired\"\n");
        let found = found(&spec);
        let said = |one: &loopwright::diag::Diagnostic| {
            format!("{}{}", one.rule.slug, if one.accepted.is_some() { ", accepted" } else { "" })
        };
        found.iter().map(said).collect::<Vec<_>>()
    };
    assert_eq!(accepted("zone=2"), ["reading-outside, accepted", "reading-outside, accepted"]);
    assert_eq!(accepted("zone=2 name=\"other\""), ["reading-outside", "reading-outside, accepted"]);
    assert_eq!(accepted("name=\"one\""), ["reading-outside, accepted", "reading-outside"]);
    assert_eq!(accepted("zone=3 name=\"one\""), ["reading-outside", "reading-outside", "accept-unused"]);
}

#[test]
fn a_second_reason_for_one_finding_is_told() {
    let spec = |accepts: &[&str]| {
        let line =
            |(at, about): (usize, &&str)| format!("accept \"reading-outside\" {about} because=\"reason {at}\"\n");
        READ.to_owned() + &accepts.iter().enumerate().map(line).collect::<String>()
    };
    let reasons = |spec: &str| found(spec).into_iter().filter_map(|found| found.accepted).collect::<Vec<_>>();
    // What says more takes its own first, wherever it stands.
    let both = spec(&["zone=2", "zone=2 name=\"other\""]);
    assert_eq!((reasons(&both), open(&both)), (vec!["reason 0".to_owned(), "reason 1".to_owned()], vec![]));
    let twice = spec(&["zone=2", "zone=2"]);
    assert_eq!(open(&twice), ["accept-unused"]);
    assert_eq!(reasons(&twice), ["reason 0", "reason 0"]);
}
