//! Parts mounted as another kind of board than they are: told once, whatever hangs on them.

use super::{button, found, only};

const STATED: &str = "part \"dial\" title=\"Dial\" board=\"keypad\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" unit-load=(percent)100; draw idle=(mA)10 min=(V)9; screw wires=2; }
part \"ears\" title=\"Ears\" board=\"receiver\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" unit-load=(percent)100; radio \"receiver\"; draw idle=(mA)10 min=(V)9; screw wires=2; }
";

fn bus(node: &str) -> String {
    format!(
        "bus \"data\" board=\"board-a\" rate=(baud)19200 {{ run \"bus-cable\" length=(ft)30 room=\"lobby\" {{ {node} address=1; terminator (ohm)120; }}; }}\n"
    )
}

fn errors(spec: &str) -> Vec<(String, String)> {
    let found = found(spec).into_iter().filter(|finding| finding.severity() == loopwright::diag::Severity::Error);
    found.map(|finding| (finding.title, finding.help)).collect()
}

#[test]
fn a_part_is_mounted_as_what_it_says_it_is() {
    for (node, told, help) in [
        (
            "keypad \"k\" part=\"ears\"",
            "part `ears` is no keypad",
            "as `dial`; or write `receiver` in place of `keypad`",
        ),
        ("module \"k\" part=\"dial\"", "part `dial` is no module", "or write `keypad` in place of `module`"),
        ("receiver \"k\" part=\"dial\"", "part `dial` is no receiver", "as `ears`; or write `keypad`"),
    ] {
        let errors = errors(&(STATED.to_owned() + &bus(node)));
        assert_eq!(errors.len(), 1, "{errors:#?}");
        let (title, said) = &errors[0];
        assert_eq!(title, told);
        assert!(said.contains(help), "{said:?}");
    }
    let right = STATED.to_owned() + &bus("keypad \"k\" part=\"dial\"");
    assert!(errors(&right).is_empty(), "{:#?}", errors(&right));
}

/// A part that says nothing of it is judged by what it has.
#[test]
fn what_hangs_on_a_wrong_part_is_not_told_as_missing() {
    for part in ["keypad-a", "receiver-a"] {
        let spec = format!("panel \"odd\" part=\"{part}\" room=\"lobby\"\n") + &button(1, "board=\"odd\"", "Button");
        assert_eq!(only(&spec, "unknown-name").title, format!("part `{part}` is no panel"));
    }
    let spec = bus("keypad \"k\" part=\"control-a\"");
    let finding = only(&spec, "unknown-name");
    assert_eq!(finding.title, "part `control-a` is no keypad");
    assert_eq!(finding.labels[1].text, "has a supply or a telephone line of its own");
}

#[test]
fn a_part_that_is_missing_is_asked_for_among_those_that_fit() {
    let spec = STATED.to_owned() + &bus("receiver \"k\"");
    let help = only(&spec, "property-missing").help;
    assert_eq!(help, "Write the one that is meant: `part=\"ears\"` or `part=\"receiver-a\"`.");
}
