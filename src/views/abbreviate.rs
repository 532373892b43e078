//! Names shortened to fit a wrap label, so that no two different names look alike.
//!
//! The steps, in order, until a name fits: usual short forms of words (common practice), vowels inside words left
//! out from the last word on, words cut to the same length. Names that then look alike get a number at the end.

use std::collections::{BTreeMap, BTreeSet};

/// Word → short form.
const SHORT: [(&str, &str); 16] = [
    ("basement", "bsmt"),
    ("bathroom", "bath"),
    ("bedroom", "bed"),
    ("cupboard", "cupb"),
    ("detector", "det"),
    ("expander", "exp"),
    ("floor", "fl"),
    ("garage", "gar"),
    ("ground", "grd"),
    ("kitchen", "kit"),
    ("living", "liv"),
    ("module", "mod"),
    ("receiver", "rcvr"),
    ("upstairs", "up"),
    ("window", "win"),
    ("workshop", "wshop"),
];

/// Words that a short form does without.
const SMALL: [&str; 6] = ["the", "a", "an", "in", "of", "on"];

/// Every name with its short form of at most `width` characters; different names have different short forms.
/// `width` is at least 6.
pub(crate) fn abbreviate(names: &BTreeSet<String>, width: usize) -> BTreeMap<String, String> {
    let mut given: BTreeMap<String, String> = BTreeMap::new();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    // Names that fit keep their place; the others yield to them.
    let (fit, long): (Vec<&String>, Vec<&String>) = names.iter().partition(|name| name.chars().count() <= width);
    for name in fit.into_iter().chain(long) {
        let short = free(shorten(name, width), width, &taken);
        taken.insert(short.clone());
        given.insert(name.clone(), short);
    }
    given
}

fn shorten(name: &str, width: usize) -> String {
    let fits = |words: &[String]| words.join(" ").chars().count() <= width;
    let mut words: Vec<String> = name.split_whitespace().map(str::to_owned).collect();
    if fits(&words) {
        return words.join(" ");
    }
    if words.len() > 1 {
        words.retain(|word| !SMALL.contains(&word.to_lowercase().as_str()));
    }
    for word in &mut words {
        *word = short_form(word);
    }
    for at in (0..words.len()).rev() {
        if fits(&words) {
            break;
        }
        if let Some(word) = words.get_mut(at) {
            *word = without_vowels(word);
        }
    }
    // Every word keeps as many letters as all can have.
    let longest = words.iter().map(|word| word.chars().count()).max().unwrap_or(0);
    let cut = |most: usize| words.iter().map(|word| word.chars().take(most).collect()).collect::<Vec<String>>();
    let words = (1..=longest).rev().map(cut).find(|words| fits(words)).unwrap_or_else(|| cut(1));
    words.join(" ").chars().take(width).collect::<String>().trim_end().to_owned()
}

fn short_form(word: &str) -> String {
    let lower = word.to_lowercase();
    let Some((_, short)) = SHORT.iter().find(|(long, _)| *long == lower) else { return word.to_owned() };
    let capital = word.chars().next().is_some_and(char::is_uppercase);
    let mut letters = short.chars();
    match letters.next() {
        Some(first) if capital => first.to_uppercase().chain(letters).collect(),
        _ => (*short).to_owned(),
    }
}

fn without_vowels(word: &str) -> String {
    let vowel = |c: char| "aeiouAEIOU".contains(c);
    word.chars().enumerate().filter(|(at, c)| *at == 0 || !vowel(*c)).map(|(_, c)| c).collect()
}

/// The short form itself, or with the first number that makes it the only one.
fn free(short: String, width: usize, taken: &BTreeSet<String>) -> String {
    if !taken.contains(&short) {
        return short;
    }
    // As many candidates as are taken, and one more: one of them is free.
    (2..taken.len() + 3)
        .map(|number| {
            let tail = format!("~{number}");
            let head: String = short.chars().take(width.saturating_sub(tail.len())).collect();
            format!("{}{tail}", head.trim_end())
        })
        .find(|candidate| !taken.contains(candidate))
        .unwrap_or(short)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(names: &[&str], width: usize) -> Vec<String> {
        let set = names.iter().map(|name| (*name).to_owned()).collect();
        let given = abbreviate(&set, width);
        names.iter().map(|name| given[*name].clone()).collect()
    }

    #[test]
    fn short_forms_can_be_read() {
        let names = ["Front hall", "Bedroom window left", "Bedroom window right", "Expander in the workshop"];
        assert_eq!(of(&names, 13), ["Front hall", "Bed win left", "Bed win right", "Exp wshop"]);
    }

    #[test]
    fn names_that_would_look_alike_are_numbered() {
        assert_eq!(of(&["Storeroomxxxxxxa", "Storeroomxxxxxxb"], 8), ["Strrmxxx", "Strrmx~2"]);
    }

    proptest! {
        #[test]
        fn different_names_stay_different(names in prop::collection::btree_set("[A-Ca-ceé ]{1,24}", 1..60), width in 6usize..20) {
            let given = abbreviate(&names, width);
            prop_assert_eq!(given.len(), names.len());
            let short: BTreeSet<&String> = given.values().collect();
            prop_assert_eq!(short.len(), names.len());
            prop_assert!(short.iter().all(|s| s.chars().count() <= width));
        }
    }
}
