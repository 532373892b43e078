//! Names made short enough for a line of a label, so that whoever never saw the house can read them.
//!
//! In order, until a name fits: small words are left out; words get their usual short forms, the last one first; the longest
//! word is cut, at a consonant and never below three letters, again and again; words in the middle are left out. A name that
//! would then look like another, or fits in no way, ends with the label of the first cable that comes there. A name has one
//! short form in all of a site.

use std::collections::{BTreeMap, BTreeSet};

/// The fewest letters of a word that is cut.
const FEWEST: usize = 3;
/// A word that is cut keeps fewer letters than this: more is not short.
const MOST: usize = 25;

/// Word → its usual short form (common practice).
const USUAL: [(&str, &str); 26] = [
    ("apartment", "apt."),
    ("basement", "bsmt."),
    ("bathroom", "bath"),
    ("bedroom", "bed."),
    ("building", "bldg."),
    ("corridor", "corr."),
    ("cupboard", "cupb."),
    ("detector", "det."),
    ("dining", "din."),
    ("entrance", "entr."),
    ("expander", "exp."),
    ("floor", "flr."),
    ("garage", "gar."),
    ("ground", "grd."),
    ("kitchen", "kit."),
    ("landing", "land."),
    ("living", "liv."),
    ("module", "mod."),
    ("receiver", "recv."),
    ("staircase", "stair"),
    ("storage", "stor."),
    ("transformer", "transf."),
    ("upstairs", "upst."),
    ("utility", "util."),
    ("window", "win."),
    ("workshop", "wkshp."),
];

/// Words that a short form does without: English small words, and articles of neighbours that are no word of a house in English.
const SMALL: [&str; 17] =
    ["the", "a", "an", "in", "of", "on", "at", "der", "die", "das", "dem", "des", "le", "la", "les", "el", "het"];

/// Every name with its short form, which `fits`; different names have different ones. With each name comes the label of a
/// cable there, which no other name has.
pub(super) fn forms(names: &BTreeMap<String, String>, fits: impl Fn(&str) -> bool) -> BTreeMap<String, String> {
    let mut given: BTreeMap<String, String> = BTreeMap::new();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    // Names that fit keep their place; the others yield to them.
    let (whole, long): (Vec<_>, Vec<_>) = names.iter().partition(|(name, _)| fits(name));
    for (name, label) in whole.into_iter().chain(long) {
        let words = shortened(name, &fits);
        let short = Some(words.join(" ")).filter(|short| fits(short) && !taken.contains(short));
        let short = short.unwrap_or_else(|| by_label(&words, label, &fits, &taken));
        taken.insert(short.clone());
        given.insert(name.clone(), short);
    }
    given
}

fn shortened(name: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    let fit = |words: &[Word]| fits(&said(words));
    let mut words: Vec<Word> = name.split_whitespace().map(Word::new).collect();
    if !fit(&words) && words.len() > 1 {
        words.retain(|word| !SMALL.contains(&word.core.to_lowercase().as_str()));
    }
    for at in (0..words.len()).rev() {
        if fit(&words) {
            break;
        }
        words.get_mut(at).into_iter().for_each(Word::usual);
    }
    while !fit(&words) {
        let open = words.iter_mut().filter(|word| !word.stems.is_empty());
        let Some(longest) = open.max_by_key(|word| word.shown.chars().count()) else { break };
        longest.cut();
    }
    while !fit(&words) && words.len() > 2 {
        words.remove(words.len() / 2);
    }
    words.iter().map(Word::said).collect()
}

fn said(words: &[Word]) -> String {
    words.iter().map(Word::said).collect::<Vec<_>>().join(" ")
}

/// As many words of a name as there is room for, and the label of a cable there.
fn by_label(words: &[String], label: &str, fits: &impl Fn(&str) -> bool, taken: &BTreeSet<String>) -> String {
    let ended = |end: &str| {
        let some = (0..=words.len()).rev().filter_map(|many| words.get(..many));
        let mut forms = some.map(|some| some.iter().map(String::as_str).chain([end]).collect::<Vec<_>>().join(" "));
        forms.find(|form| fits(form) && !taken.contains(form))
    };
    // A name may look like another's label; as many ends as are taken, and one more: one of them is free.
    let numbered = (2..taken.len() + 3).map(|number| format!("{label}/{number}"));
    let alone = || numbered.clone().find(|end| !taken.contains(end)).unwrap_or_default();
    ended(label).or_else(|| numbered.clone().find_map(|end| ended(&end))).unwrap_or_else(alone)
}

/// A word on its way to a short form.
struct Word {
    /// What stands before its letters: a bracket.
    before: String,
    /// The word itself.
    core: String,
    /// What stands behind them.
    behind: String,
    /// The core as it is shown.
    shown: String,
    /// The shorter stems of the core, the shortest first.
    stems: Vec<String>,
}

impl Word {
    fn new(word: &str) -> Self {
        let is_mark = |sign: char| !sign.is_alphanumeric();
        let rest = word.trim_start_matches(is_mark);
        let core = rest.trim_end_matches(is_mark);
        Self {
            before: word.strip_suffix(rest).unwrap_or_default().to_owned(),
            core: core.to_owned(),
            behind: rest.strip_prefix(core).unwrap_or_default().to_owned(),
            shown: core.to_owned(),
            stems: stems(core),
        }
    }

    fn said(&self) -> String {
        format!("{}{}{}", self.before, self.shown, self.behind)
    }

    /// Takes the usual short form, where there is one.
    fn usual(&mut self) {
        let lower = self.core.to_lowercase();
        let Some((_, short)) = USUAL.iter().find(|(long, _)| *long == lower) else { return };
        let capital = self.core.chars().next().is_some_and(char::is_uppercase);
        let mut letters = short.chars();
        self.shown = match letters.next() {
            Some(first) if capital => first.to_uppercase().chain(letters).collect(),
            _ => (*short).to_owned(),
        };
        self.stems.clear();
    }

    /// Takes its next shorter stem.
    fn cut(&mut self) {
        self.shown = self.stems.pop().map_or_else(|| self.shown.clone(), |stem| format!("{stem}."));
    }
}

/// The shorter stems of a word, the shortest first: they end at a consonant and, where it can be, before a vowel, as
/// syllables do. Letters without capitals are those of other scripts, which are cut anywhere. A word with a digit is a
/// number or a mark, and is not cut.
fn stems(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    if letters.iter().any(|letter| !letter.is_alphabetic()) {
        return Vec::new();
    }
    let is = |at: usize, what: fn(char) -> bool| letters.get(at).is_some_and(|letter| what(*letter));
    let vowel = |letter: char| letter.to_lowercase().any(|letter| "aeiouyäöüáéíóúàèâêîôû".contains(letter));
    let cuts = FEWEST..letters.len().saturating_sub(1).min(MOST);
    let good: Vec<usize> = cuts.filter(|cut| !is(cut - 1, vowel)).collect();
    let syllables: Vec<usize> = good.iter().copied().filter(|cut| is(*cut, vowel)).collect();
    let best = if syllables.is_empty() { good } else { syllables };
    best.into_iter().map(|cut| letters.iter().take(cut).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(names: &[&str], width: usize) -> Vec<String> {
        let tagged = (1..).zip(names).map(|(number, name)| ((*name).to_owned(), format!("Z{number}"))).collect();
        let given = forms(&tagged, |text| text.chars().count() <= width);
        names.iter().map(|name| given[*name].clone()).collect()
    }

    #[test]
    fn short_forms_can_be_read() {
        let names = [
            "Front hall",
            "Bedroom window left",
            "Scullery window",
            "Expander in the workshop",
            "Window (Bedroom east)",
        ];
        let short = ["Front hall", "Bed. win. left", "Scullery window", "Expander wkshp.", "Win. (Bed. east)"];
        assert_eq!(of(&names, 16), short);
        assert_eq!(of(&["Joint box over the bedroom door"], 22), ["Joint box bed. door"]);
        assert_eq!(of(&["Scullery window"], 12), ["Scull. win."]);
    }

    #[test]
    fn names_that_would_look_alike_end_with_a_cable() {
        assert_eq!(of(&["Storeroomxxxxxxa", "Storeroomxxxxxxb"], 11), ["Storer.", "Storer. Z2"]);
    }

    /// The word is a whole word of the name, its usual short form, or the start of it with a point.
    fn comes_from(word: &str, name: &str) -> bool {
        let core = |word: &str| word.trim_matches(|sign: char| !sign.is_alphanumeric()).to_lowercase();
        let (short, points) = (core(word), word.contains('.'));
        name.split_whitespace().map(core).any(|long| {
            let usual = USUAL.iter().any(|(of, form)| *of == long && core(form) == short);
            usual || long == short || points && long.starts_with(&short) && short.chars().count() >= FEWEST
        })
    }

    proptest! {
        #[test]
        fn different_names_stay_different_fit_and_can_be_followed(
            names in prop::collection::btree_set("([A-Ca-ceé]{1,9}|window|Bedroom|[(]hall[)]|北側の窓|the|7b)( ([a-dlo]{1,12}|floor|in)){0,5}", 1..40),
            width in 10usize..30,
        ) {
            let tagged: BTreeMap<String, String> =
                names.iter().enumerate().map(|(at, name)| (name.clone(), format!("Z{at}"))).collect();
            let given = forms(&tagged, |text| text.chars().count() <= width);
            prop_assert_eq!(given.len(), names.len());
            let short: BTreeSet<&String> = given.values().collect();
            prop_assert_eq!(short.len(), names.len());
            for (name, short) in &given {
                prop_assert!(short.chars().count() <= width, "{} is too long for {}", short, width);
                let label = tagged[name].as_str();
                for word in short.split_whitespace().filter(|word| !word.starts_with(label)) {
                    prop_assert!(comes_from(word, name), "{} in {} of {}", word, short, name);
                }
            }
            prop_assert_eq!(&given, &forms(&tagged, |text| text.chars().count() <= width));
        }
    }
}
