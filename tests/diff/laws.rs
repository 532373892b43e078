//! Laws of the comparison, over random houses and over the demo.

use loopwright::diff::{Apart, Diff, of_facts};
use loopwright::resolve::load::SITE_FILE;
use proptest::prelude::*;

use super::apply::{apply, mirrored};
use super::house::house;
use super::{facts_of, files, nodes, read, read_text};
use crate::demos;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn a_house_does_not_differ_from_itself(house in house()) {
        let (one, other) = (facts_of(&read_text(&house.text())), facts_of(&read_text(&house.text())));
        prop_assert_eq!(of_facts(&one, &other, &Apart::default()), Diff::default());
    }

    /// The old facts with the diff applied are the new facts, for any two houses.
    #[test]
    fn the_diff_applied_to_the_old_gives_the_new(old in house(), new in house()) {
        let (old, new) = (facts_of(&read_text(&old.text())), facts_of(&read_text(&new.text())));
        let diff = of_facts(&old, &new, &Apart::default());
        prop_assert_eq!(&apply(&old, &diff), &new);
        prop_assert_eq!(diff.changes.is_empty() && diff.renamed.is_empty(), old == new);
        for change in &diff.changes {
            prop_assert!(change.fields.iter().all(|field| field.old != field.new));
        }
    }

    #[test]
    fn the_diff_back_is_the_mirror_of_the_diff_there(old in house(), new in house()) {
        let (old, new) = (facts_of(&read_text(&old.text())), facts_of(&read_text(&new.text())));
        let (back, mirror) = (of_facts(&new, &old, &Apart::default()), mirrored(&of_facts(&old, &new, &Apart::default())));
        prop_assert_eq!(back.renamed, mirror.renamed);
        prop_assert_eq!(back.changes.len(), mirror.changes.len());
        for change in &mirror.changes {
            prop_assert!(back.changes.contains(change), "{:?}", change);
        }
    }

    /// Nodes in any order, in one file or two.
    #[test]
    fn order_and_files_are_no_change(house in house(), order in Just((0..40usize).collect::<Vec<_>>()).prop_shuffle(), cut in 0usize..20) {
        let text = house.text();
        let all = nodes(&text);
        let mut shuffled: Vec<&String> = order.iter().filter_map(|at| all.get(*at)).collect();
        prop_assert_eq!(shuffled.len(), all.len());
        let elsewhere = shuffled.split_off(cut.min(shuffled.len()));
        let (mut first, mut second) = (String::new(), String::new());
        for node in shuffled {
            first.push_str(&format!("{node}\n\n// a comment\n"));
        }
        for node in elsewhere {
            // `site` stays in the site's file.
            let file = if node.starts_with("site") { &mut first } else { &mut second };
            file.push_str(&format!("{}\n", node.replace("    ", "\t")));
        }
        first.push_str("include \"second.kdl\"\n");
        let split = read(&files(&[(SITE_FILE, &first), ("second.kdl", &second)]));
        prop_assert_eq!(of_facts(&facts_of(&read_text(&text)), &facts_of(&split), &Apart::default()), Diff::default());
    }
}

#[test]
fn the_demo_turned_round_is_the_demo() {
    let mut files = loopwright::resolve::load::MemoryFiles::default();
    let mut turned = files.clone();
    for (path, text) in demos::texts("alder-mill") {
        if !path.ends_with(".kdl") {
            continue;
        }
        let mut all = nodes(&text);
        files.0.insert(path.clone(), text.into_bytes());
        all.reverse();
        turned.0.insert(path, all.join("\n").into_bytes());
    }
    let (one, other) = (facts_of(&read(&files)), facts_of(&read(&turned)));
    assert!(one.len() > 300, "the demo is read");
    assert_eq!(of_facts(&one, &other, &Apart::default()), Diff::default());
}
