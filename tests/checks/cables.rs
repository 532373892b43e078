//! One cable has one type, one length and one way, whoever lies in it.

use super::{found, slugs};

const HOST: &str = "cable \"loft-cable\" conductors=6 size=(AWG)22
level \"top\" { room \"loft\" kind=\"attic\"; }
zone 1 \"Loft\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"loft-cable\" name=\"up\" length=(ft)60 room=\"loft\" { contact \"reed\"; resistor \"2k2\"; }
    }
}
";

fn guest(run: &str) -> String {
    format!("{HOST}circuit \"loud\" board=\"board-a\" output=\"siren\" {{ run {run} {{ sounder \"sounder\"; }}; }}\n")
}

#[test]
fn what_a_guest_says_otherwise_is_found_with_both_places() {
    assert_eq!(slugs(&guest("\"loft-cable\" along=\"up\" length=(ft)60 room=\"loft\"")), [""; 0]);
    for (run, title) in [
        ("\"quad\" along=\"up\" length=(ft)60 room=\"loft\"", "one cable is said to be `quad` and `loft-cable`"),
        ("\"loft-cable\" along=\"up\" length=(ft)40 room=\"loft\"", "one cable is said to be 40 ft and 60 ft long"),
        (
            "\"loft-cable\" along=\"up\" length=(ft)60 room=\"loft\" passes=\"outdoors\"",
            "one cable is said to pass \"outdoors\" and not to",
        ),
    ] {
        let found = found(&guest(run));
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!((found[0].rule.slug, found[0].title.as_str()), ("shared-cable-contradicted", title));
        assert_eq!(found[0].labels.len(), 2);
    }
}

#[test]
fn labels_that_print_alike_are_one_label() {
    let two = |one: &str, other: &str| {
        let zone = |number: u32, label: &str| {
            super::button(number, "board=\"board-a\"", &format!("Button {number}")).replacen(
                "room=\"lobby\"",
                &format!("room=\"lobby\" label=\"{label}\""),
                1,
            )
        };
        found(&format!("{}{}", zone(1, one), zone(2, other)))
    };
    for (one, other) in [("X 1", "X\u{A0}1"), ("X", "x"), ("X 1", "X\u{2003}1"), ("É 1", "é\u{3000}1"), ("X 1", "X  1")]
    {
        let found = two(one, other);
        let slugs: Vec<&str> = found.iter().map(|finding| finding.rule.slug).collect();
        assert_eq!(slugs, ["duplicate-label"], "{one:?} {other:?}: {found:#?}");
        assert_eq!(found[0].title, format!("two cables have labels that look alike: `{one}` and `{other}`"));
    }
    assert!(two("X 1", "X 2").is_empty());
    assert!(two("X 1", "X1").is_empty());
}

/// The spec gives `z2` to the cable of zone 1: zone 2 does not get `Z2`.
#[test]
fn no_label_is_proposed_that_looks_like_a_given_one() {
    let given = super::button(1, "board=\"board-a\"", "One").replacen("length", "label=\"z2\" length", 1);
    let spec = format!("{given}{}", super::button(2, "board=\"board-a\"", "Two"));
    let labels: Vec<String> = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER))
        .wiring
        .cables
        .iter()
        .map(|c| c.label.clone())
        .collect();
    assert_eq!(labels.len(), 2);
    assert!(labels.iter().all(|label| label != "Z2"), "{labels:?}");
}

/// The cable goes on from a contact in the loft, so that nothing that starts at the board is in it.
#[test]
fn a_guest_starts_in_the_room_where_its_cable_starts() {
    let text = "level \"top\" { room \"loft\" kind=\"attic\"; room \"shed\" kind=\"attic\"; }
zone 1 \"Loft\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 room=\"loft\" { contact \"reed\"; }
        run \"quad\" name=\"on\" length=(ft)20 room=\"shed\" { contact \"reed\"; resistor \"2k2\"; }
    }
}
zone 2 \"Shed\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"quad\" along=\"on\" length=(ft)20 room=\"shed\" { contact \"reed\"; resistor \"2k2\"; }
    }
}
";
    assert!(slugs(text).contains(&"cable-starts-twice"), "{:?}", slugs(text));
}
