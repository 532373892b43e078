//! Names for the spec, from words that people write.

use std::collections::BTreeSet;

use crate::base::unseen;

/// How long a name may be, room for a number left.
const LONGEST: usize = 36;

/// A plain name from some words: "Küche, Ost" → `küche-ost`. Empty where there is neither letter nor digit.
pub(crate) fn plain_name(words: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() && !unseen::is_unseen(c);
    let lower = words.to_lowercase();
    let pieces: Vec<&str> = lower.split(|c| !plain(c)).filter(|piece| !piece.is_empty()).collect();
    let name: String = pieces.join("-").chars().take(LONGEST).collect();
    name.trim_end_matches('-').to_owned()
}

/// A name that is not taken yet, which is then taken; `or` where the words give none.
pub(super) fn fresh(words: &str, or: &str, taken: &mut BTreeSet<String>) -> String {
    let name = match plain_name(words) {
        name if name.is_empty() => or.to_owned(),
        name => name,
    };
    let numbered = (2..).map(|number| format!("{name}-{number}"));
    let free = std::iter::once(name.clone()).chain(numbered).find(|name| !taken.contains(name)).unwrap_or(name);
    taken.insert(free.clone());
    free
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_become_names() {
        for (words, name) in [
            ("Front door", "front-door"),
            ("Küche, \"Ost\"", "küche-ost"),
            ("--", ""),
            (&"ab ".repeat(50), "ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-ab"),
        ] {
            assert_eq!(plain_name(words), name);
        }
        let mut taken = BTreeSet::new();
        let names = ["Hall", "hall!", "?", "?"].map(|words| fresh(words, "room", &mut taken));
        assert_eq!(names, ["hall", "hall-2", "room", "room-2"]);
    }
}
