//! The demo's bus made to fail one way at a time: one clear finding with figures, and its help remedies it.

use loopwright::calc::{bus, power};
use loopwright::diag::{Diagnostic, Sink};
use loopwright::resolve::resolve;

use crate::alder_mill::AlderMill;

/// The demo with pieces of text replaced, each of which must stand there once.
fn changed(mill: &AlderMill, file: &str, changes: &[(&str, &str)]) -> AlderMill {
    changes.iter().fold(mill.clone(), |mill, (old, new)| mill.edited(file, old, new))
}

fn only(mill: &AlderMill, slug: &str) -> Diagnostic {
    mill.only(slug)
}

/// The finding of that rule, where the screws of the board in question take too few conductors as well: both are true, and
/// a bus may be wired as a star on screws that take it.
fn with_overfull(mill: &AlderMill, slug: &str) -> Diagnostic {
    let mut found = mill.new_findings();
    found.sort_by_key(|finding| finding.rule.slug);
    let mut slugs: Vec<&str> = found.iter().map(|finding| finding.rule.slug).collect();
    slugs.dedup();
    assert_eq!(slugs, [slug, "terminal-overfull"]);
    found.remove(0)
}

fn clean(mill: &AlderMill) {
    let left = mill.new_findings();
    let left: Vec<String> = left.iter().map(|one| format!("{}: {}", one.rule.slug, one.title)).collect();
    assert!(left.is_empty(), "{left:#?}");
}

fn figures_hold(finding: &Diagnostic, wanted: &str) {
    assert!(finding.figures.iter().any(|line| line.contains(wanted)), "{wanted}: {:#?}", finding.figures);
}

const BUS: &str = "bus.kdl";
const HEAD: &str = "port=\"bus\" rate=(baud)19200";
const END: &str = "inputs-from=29\n        terminator (ohm)120";
const BARE_END: &str = "inputs-from=29";
/// The end of the hall keypad's node.
const LAST_KEY: &str = "emergency-key \"panic-audible\"\n            spot (ft)27.5 (ft)20\n        }";
const KEYPAD: &str = "part=\"keypad-1\" address=5 mount=(ft)4.8 inputs-from=50 { spot (ft)6.5 (ft)0.5; }";

#[test]
fn the_demo_is_clean_and_idles_where_a_hand_says() {
    clean(&AlderMill::new());
    let site = resolve(&AlderMill::new().files(), &mut Sink::default()).site.unwrap();
    let figures = bus::of_site(&site, &power::of_site(&site)).into_values().next().unwrap();
    let layout = &figures.layout;
    assert_eq!(layout.trunk, [0, 1, 2, 3, 4, 5, 6]);
    assert!((layout.length().0 - 265.0 * 0.3048).abs() < 1e-9);
    let ends = bus::terminators::of(layout);
    assert!(ends.missing.is_empty() && ends.surplus.is_empty() && ends.right.len() == 2);
    // By hand: 120 Ω twice and 7 × 12 kΩ across is 57.97 Ω; of 5 V behind 2 × 470 Ω that is 290 mV without cable. The
    // cable has 2 × (95 ft × 10.15 + 170 ft × 6.385 Ω/kft) = 4.1 Ω, before a far end of 120 Ω: about 3 % less.
    let far = figures.idle.as_ref().unwrap().volts[6];
    assert!((far.nominal - 0.285).abs() < 0.002, "{far:?}");
    // All resistors 5 % off the wrong way take another tenth, and still leave more than 246 mV.
    assert!(far.least > 0.246 && far.least < 0.27, "{far:?}");
    // At rest and in alarm the workshop's minus stands less than 0.3 V above the panel's.
    let shift = figures.shifts.worst(6).unwrap().0;
    assert!(shift > 0.1 && shift < 0.3, "{shift}");
}

#[test]
fn a_third_terminator() {
    let demo = AlderMill::new();
    let third = changed(&demo, BUS, &[(KEYPAD, &format!("{KEYPAD}\n        terminator (ohm)120"))]);
    let finding = only(&third, "bus-terminator-surplus");
    assert_eq!(finding.title, "bus `data` has 3 terminators, and two ends");
    assert_eq!(finding.help, "Take away the 120 Ω at keypad `workshop-keypad`.");
    figures_hold(&finding, "40 Ω");
    // Accepted, what three terminators leave of the bias is a finding of its own.
    let accept = "accept \"bus-terminator-surplus\" name=\"data\" because=\"a try\"\nbus \"data\"";
    let accepted = changed(&third, BUS, &[("\nbus \"data\"", &format!("\n{accept}"))]);
    let slugs: Vec<&str> = accepted.new_findings().iter().map(|one| one.rule.slug).collect();
    assert_eq!(slugs, ["bus-bias-low", "terminal-overfull", "bus-terminator-surplus"]);
    clean(&changed(&third, BUS, &[(&format!("{KEYPAD}\n        terminator (ohm)120"), KEYPAD)]));
}

#[test]
fn the_terminator_in_the_middle() {
    let demo = AlderMill::new();
    let with = format!("{KEYPAD}\n        terminator (ohm)120");
    let moved = changed(&demo, BUS, &[(END, BARE_END), (KEYPAD, &with)]);
    let finding = only(&moved, "bus-terminator-misplaced");
    assert_eq!(
        finding.help,
        "Take away the 120 Ω at keypad `workshop-keypad` and put `terminator (ohm)120` at module `expander-b`, in the braces of its run."
    );
    figures_hold(&finding, "265 ft: module `expander-b`");
    clean(&changed(&moved, BUS, &[(&with, KEYPAD), (BARE_END, END)]));
}

#[test]
fn no_terminator_at_one_end_or_at_either() {
    let demo = AlderMill::new();
    let none = changed(&demo, BUS, &[(END, BARE_END)]);
    let finding = only(&none, "bus-terminator-missing");
    assert_eq!(finding.title, "bus `data` has no terminator at module `expander-b`");
    clean(&changed(&none, BUS, &[(BARE_END, END)]));
    let off = format!("{HEAD} built-in-terminator=#false");
    let neither = changed(&none, BUS, &[(HEAD, &off)]);
    let finding = only(&neither, "bus-terminator-missing");
    assert_eq!(finding.title, "bus `data` has no terminator at either end");
    assert!(finding.help.contains("leave out `built-in-terminator=#false`"), "{}", finding.help);
    clean(&changed(&neither, BUS, &[(&off, HEAD), (BARE_END, END)]));
}

#[test]
fn the_board_in_the_middle_of_two_home_runs() {
    let receiver = "run \"bus-4\" length=(ft)22 room=\"landing\"";
    let home = "run \"bus-4\" length=(ft)40 from=\"board\" room=\"landing\"";
    let middle = changed(&AlderMill::new(), BUS, &[(receiver, home)]);
    // The shields of both home runs are under the earth's screw.
    let finding = with_overfull(&middle, "bus-terminator-misplaced");
    assert!(finding.help.contains("`built-in-terminator=#false` on bus `data`"), "{}", finding.help);
    assert!(finding.help.contains("put `terminator (ohm)120` at keypad `hall-keypad`"), "{}", finding.help);
    let righted = changed(
        &middle,
        BUS,
        &[
            (HEAD, &format!("{HEAD} built-in-terminator=#false")),
            (LAST_KEY, &format!("{LAST_KEY}; terminator (ohm)120")),
        ],
    );
    assert_eq!(
        righted.only("terminal-overfull").title,
        "terminal `EARTH` of panel `main` takes 2 conductors and gets 3"
    );
}

#[test]
fn two_modules_with_one_address() {
    let twice = changed(&AlderMill::new(), BUS, &[(KEYPAD, "part=\"keypad-1\" address=1 mount=(ft)4.8")]);
    let finding = only(&twice, "bus-address-repeated");
    assert_eq!(finding.title, "keypad `hall-keypad` and keypad `workshop-keypad` have address 1 on bus `data`");
    assert_eq!(finding.labels.len(), 2);
    assert_eq!(finding.help, "Set one of them to a free address and write it: address=5.");
    clean(&changed(&twice, BUS, &[("part=\"keypad-1\" address=1 mount=(ft)4.8", KEYPAD)]));
}

#[test]
fn an_address_that_the_panel_does_not_know() {
    let far = changed(&AlderMill::new(), BUS, &[(KEYPAD, "part=\"keypad-1\" address=50 mount=(ft)4.8")]);
    let finding = only(&far, "bus-address-out-of-range");
    assert_eq!(finding.title, "keypad `workshop-keypad` has address 50, and panel `main` knows 1 to 16");
    assert!(finding.help.ends_with("address=5."), "{}", finding.help);
    clean(&changed(&far, BUS, &[("part=\"keypad-1\" address=50 mount=(ft)4.8", KEYPAD)]));
}

#[test]
fn a_star() {
    let demo = AlderMill::new();
    let star = changed(
        &demo,
        BUS,
        &[
            ("run \"bus-4\" length=(ft)34 room=\"hall\"", "run \"bus-4\" length=(ft)34 from=\"board\" room=\"hall\""),
            (
                "run \"bus-4\" length=(ft)22 room=\"landing\"",
                "run \"bus-4\" length=(ft)40 from=\"board\" room=\"landing\"",
            ),
            (
                "run \"bus-4\" length=(ft)20 room=\"hoist-room\"",
                "run \"bus-4\" length=(ft)50 from=\"board\" room=\"hoist-room\"",
            ),
        ],
    );
    let finding = with_overfull(&star, "bus-branched");
    assert_eq!(finding.title, "bus `data` is a star: 4 cables leave panel `main`");
    // The bus itself and each of the four arms.
    assert_eq!(finding.labels.len(), 5);
    figures_hold(&finding, "branch by cable `DATA-2`: 34 ft");
    figures_hold(&finding, "a stub may be 7.6 ft");
    let way =
        "out to keypad `hall-keypad` and back, out to receiver `receiver` and back and then on to module `expander-a`";
    assert!(finding.help.contains(way), "{}", finding.help);
    // Each run follows, the way back added to its length.
    clean(&changed(
        &star,
        BUS,
        &[
            ("length=(ft)34 from=\"board\" room=\"hall\"", "length=(ft)37 room=\"hall\""),
            ("length=(ft)40 from=\"board\" room=\"landing\"", "length=(ft)74 room=\"landing\""),
            ("length=(ft)50 from=\"board\" room=\"hoist-room\"", "length=(ft)90 room=\"hoist-room\""),
        ],
    ));
}

#[test]
fn a_branch() {
    // One keypad more wants a larger transformer.
    let mill = AlderMill::new().edited("boards.kdl", "rating=(VA)60", "rating=(VA)75");
    let branch = changed(
        &mill,
        BUS,
        &[(
            LAST_KEY,
            &format!(
                "{LAST_KEY}\n run \"bus-4\" length=(ft)25 room=\"parlour\" {{ keypad \"parlour-keypad\" part=\"keypad\" address=9; }}"
            ),
        )],
    );
    let finding = with_overfull(&branch, "bus-branched");
    assert_eq!(finding.title, "bus `data` has a branch of 25 ft at keypad `hall-keypad`");
    let remedied = changed(
        &mill,
        BUS,
        &[(
            "    run \"bus-4\" length=(ft)22 room=\"landing\"",
            "run \"bus-4\" length=(ft)25 room=\"parlour\" { keypad \"parlour-keypad\" part=\"keypad\" address=9; }\n    run \"bus-4\" length=(ft)47 room=\"landing\"",
        )],
    );
    clean(&remedied);
    // A short stub is none; what is left is that the keypad's screws have no room for it.
    only(
        &changed(&branch, BUS, &[("length=(ft)25 room=\"parlour\"", "length=(ft)7 room=\"parlour\"")]),
        "terminal-overfull",
    );
}

#[test]
fn too_long_for_its_rate() {
    let fast = changed(&AlderMill::new(), BUS, &[(HEAD, "port=\"bus\" rate=(kbaud)2000")]);
    let finding = only(&fast, "bus-too-long");
    assert_eq!(finding.title, "bus `data` is 265 ft long, and 164 ft work at 2000 kbit/s");
    let most: u32 = finding.help.split("up to ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    clean(&changed(&fast, BUS, &[("(kbaud)2000", &format!("(kbaud){most}"))]));
    // One step more is too much again: the figure is no more careful than three digits.
    only(&changed(&fast, BUS, &[("(kbaud)2000", &format!("(kbaud){}", most + 10))]), "bus-too-long");
}

#[test]
fn too_little_bias() {
    let boards = "../parts/boards.kdl";
    let weak = changed(&AlderMill::new(), boards, &[("bias=(ohm)470", "bias=(ohm)1000")]);
    let finding = only(&weak, "bus-bias-low");
    figures_hold(&finding, "1 kΩ in each leg from 5.00 V");
    let leg = |text: &str| -> u32 {
        text.split("bias=(ohm)")
            .nth(1)
            .unwrap()
            .chars()
            .take_while(char::is_ascii_digit)
            .collect::<String>()
            .parse()
            .unwrap()
    };
    let works = leg(&finding.help);
    clean(&changed(&weak, boards, &[("bias=(ohm)1000", &format!("bias=(ohm){works}"))]));
    // Not far above it there is too little again.
    let above = changed(&weak, boards, &[("bias=(ohm)1000", &format!("bias=(ohm){}", works + 40))]);
    only(&above, "bus-bias-low");
}

#[test]
fn nothing_is_concluded_from_a_bus_with_an_unknown_length() {
    let slip = changed(&AlderMill::new(), BUS, &[("length=(ft)170", "length=(V)170"), (END, BARE_END)]);
    let slugs: Vec<&str> = slip.new_findings().iter().map(|one| one.rule.slug).collect();
    assert_eq!(slugs, ["quantity-wrong-unit"]);
}
