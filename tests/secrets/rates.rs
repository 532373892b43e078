//! How many phrasings of secrets are found, and how much harmless text is refused.
//!
//! `corpus.txt` is what the search was tuned on. Four drafts were held out from it in turn, each written without looking
//! at the tables and measured once: found at first sight were 70 of 84, 61 of 76, 67 of 80 and 67 of 72 secrets, and
//! refused were 0 of 99, 1 of 76, 3 of 87 and 1 of 81 harmless texts. The first three have since joined the corpus;
//! `held_out.txt` is the fourth, and stays out.

use std::ops::Range;

use loopwright::resolve::secrets::{self, Secret};

use crate::golden;

/// A phrasing as text of a spec, with the bytes that must be masked.
struct Phrasing {
    text: String,
    values: Vec<Range<usize>>,
}

impl Phrasing {
    fn of(written: &str) -> Self {
        let (mut text, mut values, mut start) = (String::new(), Vec::new(), 0);
        let mut characters = written.chars();
        while let Some(c) = characters.next() {
            match c {
                '⟦' => start = text.len(),
                '⟧' => values.push(start..text.len()),
                '⏎' => text.push('\n'),
                '‹' => {
                    let code: String = characters.by_ref().take_while(|c| *c != '›').collect();
                    text.push(char::from_u32(u32::from_str_radix(&code, 16).unwrap()).unwrap());
                }
                c => text.push(c),
            }
        }
        Self { text, values }
    }

    /// Text of a spec as it stands, or a comment and, where it can be one, a string.
    fn forms(line: &str) -> Vec<Self> {
        if let Some(spec) = line.strip_prefix("| ") {
            return vec![Self::of(spec)];
        }
        let comment = format!("// {}\n", line.replace('⏎', "⏎// "));
        let string = (!line.contains(['"', '\\', '⏎'])).then(|| format!("room \"r\" title=\"{line}\"\n"));
        std::iter::once(comment).chain(string).map(|text| Self::of(&text)).collect()
    }

    /// True where nothing of its values is left.
    fn is_masked(&self) -> bool {
        let masked = secrets::mask(&self.text, &secrets::find(&self.text));
        assert_eq!(masked.len(), self.text.len());
        let hidden = |value: &Range<usize>| masked[value.clone()].chars().all(|c| c == '*' || c.is_whitespace());
        self.values.iter().all(hidden)
    }
}

/// What is worth knowing about a phrasing that is not plainly told apart.
fn verdict(line: &str) -> Option<&'static str> {
    let forms = Phrasing::forms(line);
    let found: Vec<_> = forms.iter().map(|form| secrets::find(&form.text)).collect();
    let certain = |found: &Vec<Secret>| found.iter().any(|secret| secret.certain);
    if line.contains('⟦') {
        let masked = forms.iter().all(Phrasing::is_masked);
        return if !masked { Some("missed") } else { (!found.iter().all(certain)).then_some("only suspected") };
    }
    if found.iter().any(certain) {
        return Some("harmless and refused");
    }
    found.iter().any(|found| !found.is_empty()).then_some("harmless and suspected")
}

#[derive(Debug, Default)]
struct Rates {
    secrets: usize,
    /// Of the secrets: masked in every form.
    found: usize,
    harmless: usize,
    /// Of the harmless: an error in some form.
    refused: usize,
    /// Of the harmless: a warning in some form.
    warned: usize,
}

impl Rates {
    fn of(corpus: &str) -> Self {
        let mut rates = Self::default();
        for line in corpus.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let forms = Phrasing::forms(line);
            if line.contains('⟦') {
                rates.secrets += 1;
                rates.found += usize::from(forms.iter().all(Phrasing::is_masked));
                continue;
            }
            rates.harmless += 1;
            let found: Vec<_> = forms.iter().flat_map(|form| secrets::find(&form.text)).collect();
            rates.refused += usize::from(found.iter().any(|secret| secret.certain));
            rates.warned += usize::from(!found.is_empty() && found.iter().all(|secret| !secret.certain));
        }
        println!("{rates:?}");
        rates
    }

    fn hold(&self, found: f64, refused: f64, warned: f64) {
        let share = |part: usize, whole: usize| 100.0 * part as f64 / whole as f64;
        assert!(share(self.found, self.secrets) > found, "too few found: {self:?}");
        assert!(share(self.refused, self.harmless) < refused, "too much refused: {self:?}");
        assert!(share(self.warned, self.harmless) < warned, "too much suspected: {self:?}");
    }
}

#[test]
fn the_corpus_is_told_apart() {
    let rates = Rates::of(include_str!("corpus.txt"));
    assert!(rates.secrets >= 500 && rates.harmless >= 500, "{rates:?}");
    rates.hold(97.0, 1.0, 2.0);
}

/// `verdicts.txt` beside the corpus: a word in a table that moves one phrasing shows there.
#[test]
fn what_is_missed_or_only_suspected_is_written_down() {
    let lines = include_str!("corpus.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let told: String = lines.filter_map(|line| verdict(line).map(|verdict| format!("{verdict}: {line}\n"))).collect();
    if let Err(differs) = golden::compare("tests/secrets/verdicts.txt", told.as_bytes()) {
        panic!("{differs}");
    }
}

#[test]
fn phrasings_that_nothing_was_tuned_on_are_told_apart_nearly_as_well() {
    let rates = Rates::of(include_str!("held_out.txt"));
    assert!(rates.secrets + rates.harmless >= 120, "{rates:?}");
    rates.hold(90.0, 3.0, 5.0);
}
