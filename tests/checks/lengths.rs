//! Lengths that cannot be: a unit that was forgotten is told once, and nothing is concluded from what it made of the plan.

use super::{found, slugs};

fn house(hall: &str, length: &str, ceiling: &str) -> String {
    format!(
        "level \"top\" storey=1 ceiling={ceiling} {{ room \"hall\" {{ rect {hall}; }}; room \"far\" kind=\"bathroom\" {{ rect (m)9 (m)0 (m)4 (m)4; }}; }}
panel \"p\" part=\"control-a\" room=\"hall\" {{ battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"hall, no switch\"; spot (m)1 (m)1; }}
zone 1 \"Button\" type=\"panic-audible\" {{ loop \"end-of-line\" board=\"p\" {{ run \"pair\" length={length} room=\"far\" {{ contact \"button\" mount=(m)1.4; resistor \"2k2\"; }}; }}; }}\n"
    )
}

#[test]
fn a_wrong_unit_is_one_finding() {
    let cases = [
        ("(m)0 (m)0 (m)4.5 (m)3", "(m)9", "(m)2.5", &[][..]),
        ("(m)0 (m)0 (m)4.5 (m)3", "(mm)9", "(m)2.5", &["run-too-short"]),
        ("(mm)0 (mm)0 (mm)4.5 (mm)3", "(m)9", "(m)2.5", &["room-too-small"]),
        ("(m)0 (m)0 (m)4500 (m)3000", "(m)9", "(m)2.5", &["room-too-large"]),
        ("(m)0 (m)0 (m)4.5 (m)3", "(m)9", "(mm)2.5", &["ceiling-unlikely"]),
    ];
    for (hall, length, ceiling, told) in cases {
        assert_eq!(slugs(&house(hall, length, ceiling)), told, "{hall} {length} {ceiling}");
    }
    let help = |spec: &str| found(spec).remove(0).help;
    assert!(help(&house("(m)0 (m)0 (m)4.5 (m)3", "(mm)9", "(m)2.5")).contains("length=(m)9"));
    assert!(help(&house("(mm)0 (mm)0 (mm)4.5 (mm)3", "(m)9", "(m)2.5")).contains("(m)4.5 (m)3"));
}
