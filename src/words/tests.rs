//! Each vocabulary has no two things with one word.

use std::collections::BTreeSet;
use std::fmt::Debug;

use super::conductor::pair_of;
use super::{Paper, Screen, demand, reads, supply};
use crate::calc::band::Outcomes;
use crate::calc::power::{Demand, Supply};
use crate::calc::{Reading, Verdict};
use crate::terms::{BandName, WireUse};

fn told_apart(words: &[impl AsRef<str> + Debug]) {
    let set: BTreeSet<&str> = words.iter().map(AsRef::as_ref).collect();
    assert!(set.len() == words.len() && !set.contains(""), "two things have one word, or one has none: {words:?}");
}

#[test]
fn functions_have_words_of_their_own() {
    told_apart(&WireUse::ALL.iter().map(|does| does.word()).collect::<Vec<_>>());
    told_apart(&WireUse::ALL.iter().map(|does| does.printed()).collect::<Vec<_>>());
}

#[test]
fn two_conductors_of_a_pair_have_one_word_for_both() {
    // A network's conductors are told apart by their pins; reserved ones are not told apart.
    let in_pairs = WireUse::ALL.iter().filter(|does| !matches!(does, WireUse::Network | WireUse::Reserved));
    let pairs: Vec<&str> = in_pairs.map(|does| pair_of(does.printed())).collect();
    let halves = |pair: &&str| pairs.iter().filter(|other| other == &pair).count();
    assert!(pairs.iter().all(|pair| halves(pair) == 2), "{pairs:?}");
    assert_eq!(pair_of(WireUse::LineInTip.printed()), "line from the street");
    assert_eq!(pair_of(WireUse::BusA.printed()), "bus data");
}

#[test]
fn readings_have_words_of_their_own() {
    let unclear = |nominal, touched: &[BandName], between| Verdict::Unclear(Outcomes::new(nominal, touched, between));
    let mut verdicts = vec![Verdict::Unknown, unclear(None, &[], true)];
    for one in BandName::ALL {
        verdicts.extend([Verdict::Reads(*one), unclear(Some(*one), &[*one], true), unclear(None, &[*one], true)]);
        let others = BandName::ALL.iter().filter(|other| *other != one);
        verdicts.extend(others.map(|other| unclear(Some(*one), &[*one, *other], false)));
    }
    let read = |verdict| reads(Reading { verdict, margin: None, in_ohms: false });
    told_apart(&verdicts.into_iter().map(read).collect::<Vec<_>>());
}

#[test]
fn cases_have_words_of_their_own() {
    told_apart(&[demand(Demand::Idle), demand(Demand::Alarm), supply(Supply::Mains), supply(Supply::Battery)]);
}

#[test]
fn names_are_quoted_on_the_screen_only() {
    assert_eq!((Screen.name("main"), Paper.name("main")), ("`main`".to_owned(), "main".to_owned()));
}

#[test]
fn a_room_is_left_out_only_where_the_title_says_it_as_words() {
    for (title, room, said) in [
        ("Smoke, hall", "Hall", "Smoke, hall"),
        ("Challenge button", "Hall", "Challenge button (Hall)"),
        ("Halls of residence", "Hall", "Halls of residence (Hall)"),
        ("Bath 12", "Bath 1", "Bath 12 (Bath 1)"),
        ("Siren", "", "Siren"),
    ] {
        assert_eq!(super::in_room(title, room), said);
    }
}
