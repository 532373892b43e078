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
