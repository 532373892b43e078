//! The ways to the monitoring service.

use super::{found_under, slugs};

/// Findings of ways in a site of a profile.
fn of(profile: &str, ways: &str) -> Vec<(&'static str, Vec<String>)> {
    let header = format!("site \"house\" {{ profile {profile} }}\ninclude \"../parts/example.kdl\"\n");
    found_under(&header, ways).into_iter().map(|finding| (finding.rule.slug, finding.figures)).collect()
}

/// NFPA 72 as summaries have it: one way within 5 min in the edition of 2010 and 60 min from that of 2013 on, ways of two
/// kinds within 6 h.
#[test]
fn the_silence_of_a_way_is_held_against_the_edition_and_the_other_ways() {
    let net = |every: &str| {
        format!("communicator \"net\" type=\"internet\" supervised-every={every} {{ hop \"router\" backup=(h)24; }}\n")
    };
    let late = |figure: &str| vec![("silence-noticed-late", vec![figure.to_owned()])];
    let single = "a single way: within 1 h (NFPA 72 26.6.3.3.1, 2013 edition and later, summary read)";
    let early = "a single way: within 5 min (NFPA 72 26.6.3.3.1, 2010 edition, summary read)";
    let two =
        "each of several ways of different kinds: within 6 h (NFPA 72 26.6.3, 2013 edition and later, summary read)";
    let line = "communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\"\n";
    let household = "\"us-household\"";
    assert_eq!(of(household, &net("(min)60")), []);
    assert_eq!(of(household, &net("(min)61")), late(single));
    assert_eq!(of("\"us-household\" edition=2010", &net("(min)60")), late(early));
    assert_eq!(of("\"us-household\" edition=2010", &net("(min)5")), []);
    assert_eq!(of(household, &(net("(h)6") + line)), []);
    assert_eq!(of(household, &(net("(h)7") + line)), late(two));
    // Two of one kind are cut together.
    assert_eq!(of(household, &(net("(h)6") + &net("(h)1").replace("\"net\"", "\"second\""))), late(single));
    // Other profiles have no figure here.
    assert_eq!(of("\"practice\"", &net("(h)99")), []);
    assert_eq!(of("\"eu-grade-2\"", &net("(h)99")), []);
}

#[test]
fn jacks_and_voice_over_internet_are_looked_at_on_telephones_only() {
    let radio = "communicator \"air\" type=\"radio\" jack=\"bridged\" service=\"voip\"\n";
    assert_eq!(slugs(radio), [""; 0]);
    let line = "communicator \"line\" type=\"telephone\" jack=\"bridged\" service=\"voip\"\n";
    assert_eq!(slugs(line), ["jack-behind-phones", "voice-over-internet"]);
    assert_eq!(slugs(&line.replace("voip", "mobile").replace("bridged", "line-seizure")), [""; 0]);
}

/// A form alone may be that of a service to come; what says that something speaks, and has nothing, is found.
#[test]
fn a_form_without_a_way_is_a_note_where_it_says_what_is_spoken() {
    assert_eq!(slugs("monitoring description-width=20\n"), [""; 0]);
    assert_eq!(slugs("monitoring format=\"voice\"\n"), ["form-without-way"]);
    let radio = "communicator \"air\" type=\"radio\"\n";
    assert_eq!(slugs(&format!("monitoring format=\"voice\"\n{radio}")), [""; 0]);
    // A way that is misspelt is one finding.
    assert_eq!(slugs("monitoring format=\"voice\"\ncommunicator \"air\" type=\"radyo\"\n"), ["word-unknown"]);
}
