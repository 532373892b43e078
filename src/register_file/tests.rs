//! Register → text → register, with whatever a register may hold.

use proptest::prelude::*;

use super::print;
use super::rewrite::rewrite;
use crate::base::{FileId, Span, Spanned};
use crate::diag::Sink;
use crate::register::{CableEntry, InputEntry, Known, Landing, Mounting, OwnerName, Register, State, Wire};
use crate::terms::WireUse;

fn nowhere() -> Spanned<()> {
    Spanned::new((), Span::default())
}

/// Text as a title may be: quotes, escapes, letters of any script, nothing that a spec refuses.
fn title() -> impl Strategy<Value = String> {
    "[ -~éßж日🚪\u{a0}]{1,24}".prop_filter("can be seen", |text| !text.trim().is_empty())
}

fn name() -> impl Strategy<Value = String> {
    "[a-z][a-z0-9.]{0,6}"
}

fn known() -> impl Strategy<Value = Known> {
    prop_oneof![
        name().prop_map(Known::Opening),
        name().prop_map(Known::Device),
        name().prop_map(Known::Board),
        title().prop_map(Known::Title),
    ]
}

fn landing() -> impl Strategy<Value = Landing> {
    (name(), "[A-Z]{1,2}", 1u32..4).prop_map(|(board, mark, under)| Landing { board, mark, under })
}

fn wire() -> impl Strategy<Value = Wire> {
    let does = prop::sample::select(WireUse::ALL.to_vec());
    let colour = prop::option::of(prop::sample::select(vec!["RD", "BK", "RDBU"]));
    let of = prop::option::of(name().prop_map(OwnerName::Circuit));
    let far = prop::option::of(landing().prop_map(|landing| Landing { under: 1, ..landing }));
    let kept_for = prop::option::of(title());
    let kept_for = (kept_for, prop::option::of(1u8..9));
    (does, colour, prop::option::of(name()), kept_for, of, prop::option::of(landing()), far).prop_map(
        |(does, colour, output, (kept_for, pin), of, near, far)| Wire {
            position: 0,
            does,
            colour: colour.and_then(|code| code.parse().ok()),
            output,
            kept_for,
            pin,
            of,
            near,
            far,
            place: nowhere(),
        },
    )
}

fn state() -> impl Strategy<Value = State> {
    prop_oneof![
        3 => Just(State::InUse),
        1 => (title(), any::<bool>()).prop_map(|(because, off)| State::Dead { because, off }),
    ]
}

fn cable() -> impl Strategy<Value = CableEntry> {
    let of = (1u32..40).prop_map(OwnerName::Zone);
    let mounted = prop::collection::vec(
        (known(), prop::option::of(name())).prop_map(|(known, part)| Mounting { known, part }),
        0..3,
    );
    let run = prop::option::of(name());
    let rooms = (prop::option::of(name()), prop::option::of(name()));
    (of, name(), rooms, run, state(), mounted, prop::collection::vec(wire(), 0..4)).prop_map(
        |(of, kind, (room, from), run, state, mounted, mut wires)| {
            for (at, wire) in wires.iter_mut().enumerate() {
                wire.position = u32::try_from(at).unwrap() * 2 + 1;
            }
            CableEntry { label: String::new(), of, kind, room, from, run, state, mounted, wires, place: nowhere() }
        },
    )
}

/// Labels, inputs and zones are each given once.
fn register() -> impl Strategy<Value = Register> {
    let cables = prop::collection::vec((0u32..12, cable()), 0..6);
    let inputs = prop::collection::btree_set((0usize..2, 1u32..9), 0..5);
    (cables, inputs, prop::collection::btree_set(20u32..30, 0..3)).prop_map(|(cables, inputs, spent)| {
        let mut register = Register::default();
        for (number, mut cable) in cables {
            cable.label = format!("Z{number} \"{number}\\");
            if !register.cables.iter().any(|other| other.label == cable.label) {
                register.cables.push(cable);
            }
        }
        for (zone, (board, number)) in (1..).zip(inputs) {
            let board = ["main", "expander-a"][board].to_owned();
            register.inputs.push(InputEntry { board, number, zone, place: nowhere() });
        }
        register.spent = spent.into_iter().map(|n| Spanned::new(format!("Z{n}"), Span::default())).collect();
        register.sort();
        register
    })
}

fn read(text: &str) -> Register {
    let mut sink = Sink::default();
    let register = super::read::parse(FileId::default(), text, &mut sink);
    assert!(sink.found().is_empty(), "{:#?}\n{text}", sink.found());
    register
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_written_is_read_again(register in register()) {
        let text = rewrite(None, &Register::default(), &register);
        prop_assert_eq!(read(&text), register.clone());
        prop_assert_eq!(rewrite(Some(&text), &register, &register), text);
    }

    /// Blank lines apart, a register that was changed step by step is laid out as one that was written at once.
    #[test]
    fn a_changed_register_is_laid_out_like_a_fresh_one(old in register(), new in register()) {
        let lines = |text: &str| -> Vec<String> {
            text.lines().filter(|line| !line.trim().is_empty()).map(str::to_owned).collect()
        };
        let fresh = |register| rewrite(None, &Register::default(), register);
        let changed = rewrite(Some(&fresh(&old)), &old, &new);
        let (mut changed, mut expected) = (lines(&changed), lines(&fresh(&new)));
        changed.sort();
        expected.sort();
        prop_assert_eq!(changed, expected);
    }

    #[test]
    fn any_register_becomes_any_other_with_its_comments(
        old in register(), new in register(), marks in prop::collection::vec((0usize..80, any::<bool>()), 0..6),
    ) {
        let text = rewrite(None, &Register::default(), &old);
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        for (number, (at, own)) in marks.iter().enumerate() {
            let at = at % lines.len();
            let comment = format!("/* mine {number} */");
            if *own { lines.insert(at, comment) } else { lines[at].extend([" ", &comment]) }
        }
        let text = lines.join("\n") + "\n";
        let next = rewrite(Some(&text), &old, &new);
        prop_assert_eq!(read(&next), new.clone());
        for number in 0..marks.len() {
            let comment = format!("/* mine {number} */");
            let kept = next.matches(&comment).count();
            prop_assert_eq!(kept, 1, "{} in\n{}", comment, next);
        }
        // Nodes that both have are the same bytes, where no comment went into them.
        for block in print::blocks(&new).iter().filter(|block| print::blocks(&old).contains(block)) {
            prop_assert!(!text.contains(&block.text()) || next.contains(&block.text()), "{}\n{}", block.text(), next);
        }
    }
}

/// A register of two labels whose second one goes, and its first one gets another type.
fn changed(text: &str) -> String {
    let old = read(text);
    let mut new = old.clone();
    new.cables.retain(|cable| cable.label != "Z2");
    for cable in &mut new.cables {
        cable.kind = "quad".into();
    }
    rewrite(Some(text), &old, &new)
}

#[test]
fn what_is_struck_out_is_kept_as_a_comment() {
    let text = "register version=1\n\n\
        /-label \"Z9\" of=\"zone 9\" cable=\"pair\" {\n    mounted title=\"x\"\n}\n\
        label \"Z1\" /-note=\"pulled 2019\" of=\"zone 1\" cable=\"pair\" {\n    mounted title=\"a\"\n}\n\n\
        label \"Z2\" of=\"zone 2\" cable=\"pair\" {\n    /-mounted title=\"b\"; mounted title=\"c\" /- { x; }\n}\n";
    let after = changed(text);
    assert!(after.contains("// /-note=\"pulled 2019\"\nlabel \"Z1\" of=\"zone 1\" cable=\"quad\" {"), "{after}");
    assert!(after.contains("/-label \"Z9\" of=\"zone 9\" cable=\"pair\" {\n    mounted title=\"x\"\n}\n"), "{after}");
    assert!(after.ends_with("// /-mounted title=\"b\"\n// /- { x; }\n"), "{after}");
}

#[test]
fn a_blank_line_goes_with_its_node_whatever_ends_the_lines() {
    let text = "register version=1\n\n\
        label \"Z1\" of=\"zone 1\" cable=\"pair\"\n\nlabel \"Z2\" of=\"zone 2\" cable=\"pair\"\n";
    let after = changed(text);
    assert!(after.ends_with("cable=\"quad\"\n"), "{after}");
    assert_eq!(changed(&text.replace('\n', "\r\n")), after.replace('\n', "\r\n"));
}
