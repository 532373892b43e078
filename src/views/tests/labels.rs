//! The labels of the demos and of made-up sites: no two are alike, and whoever quotes one quotes what is on it.

use std::collections::BTreeSet;

use super::drawings::{demo, made_up_site};
use crate::compiled::Compiled;
use crate::views::label_sheets;

/// The two lines of every label that is printed for a cable in use.
fn lines(site: &Compiled) -> Vec<(String, String)> {
    let table = label_sheets::DOCUMENT.table.unwrap()(site);
    let both = |row: Vec<String>| (row[0].clone(), row[1].clone());
    table.rows.into_iter().map(both).filter(|(_, end)| end != "DEAD").collect()
}

fn differ(site: &Compiled, name: &str) -> usize {
    let lines = lines(site);
    assert_eq!(lines.len(), 2 * site.wiring.cables.len(), "{name}");
    let different: BTreeSet<&(String, String)> = lines.iter().collect();
    assert_eq!(different.len(), lines.len(), "{name}: two labels are alike: {lines:#?}");
    lines.len()
}

#[test]
fn no_two_labels_of_the_demos_are_alike() {
    for name in ["alder-mill", "garden-flat", "larch-bungalow"] {
        assert!(differ(&demo(name), name) >= 20, "{name}");
    }
}

#[test]
fn no_two_labels_of_made_up_sites_are_alike() {
    let labels: usize = (1..=60).map(|seed| differ(&made_up_site(seed), &format!("made up {seed}"))).sum();
    assert!(labels > 1000, "{labels}");
}
