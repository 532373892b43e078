//! Wording helpers: lists, plurals, did-you-mean, text cut to a width.

use unicode_width::UnicodeWidthChar;

/// `"a"`, `"a and b"`, `"a, b and c"`; the last two joined by `last`.
pub(crate) fn list(items: &[impl AsRef<str>], last: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [front @ .., end] => {
            let front: Vec<&str> = front.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", front.join(", "), end.as_ref())
        }
    }
}

/// A text as KDL 2 writes it, in quotation marks.
pub(crate) fn kdl_text(text: &str) -> String {
    let mut out = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => out.extend(['\\', character]),
            // What may not stand in a text as itself.
            character if is_control(character) || character == '\u{feff}' => out.extend(character.escape_unicode()),
            _ => out.push(character),
        }
    }
    out.push('"');
    out
}

/// `"1 zone"`, `"3 zones"`; `many` where the plural is not `one` + s.
pub(crate) fn count(number: usize, one: &str, many: Option<&str>) -> String {
    match (number, many) {
        (1, _) => format!("1 {one}"),
        (_, Some(many)) => format!("{number} {many}"),
        _ => format!("{number} {one}s"),
    }
}

/// A text with a capital letter first.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A text with a small letter first.
pub(crate) fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

/// A number with a comma before each group of three digits: "10,000".
pub(crate) fn thousands(number: usize) -> String {
    let digits = number.to_string();
    let groups: Vec<&str> =
        digits.as_bytes().rchunks(3).rev().filter_map(|group| std::str::from_utf8(group).ok()).collect();
    groups.join(",")
}

/// Numbers in order, with runs of them drawn together: "1 to 4, 7 and 9".
pub(crate) fn numbers(numbers: &[u32]) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => spans.push((*number, *number)),
        }
    }
    let words: Vec<String> = spans
        .into_iter()
        .flat_map(|(first, last)| match last - first {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect();
    list(&words, "and")
}

/// The noun with its article: "a room", "an area". Goes by the first letter, which is right for our nouns.
pub(crate) fn a(noun: &str) -> String {
    let article = if noun.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {noun}")
}

/// The candidate that `written` was probably meant to be, if one is near enough.
///
/// Near enough: at most a third of the letters differ (at least one may). Of several that are equally near, none is meant
/// rather than another.
pub(crate) fn did_you_mean<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    match equally_near(written, candidates).as_slice() {
        [only] => Some(only),
        _ => None,
    }
}

/// The candidates that are nearest to `written` and near enough, in their order.
pub(crate) fn equally_near<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let most = (written.chars().count() / 3).max(1);
    let lower = written.to_lowercase();
    let (mut least, mut near) = (most, Vec::new());
    for candidate in candidates.into_iter().filter(|candidate| *candidate != written) {
        let distance = strsim::damerau_levenshtein(&lower, &candidate.to_lowercase());
        if distance < least {
            (least, near) = (distance, vec![candidate]);
        } else if distance == least && !near.contains(&candidate) {
            near.push(candidate);
        }
    }
    near
}

/// The sentence that asks which of several equally near names is meant; `None` where they are not two to four.
pub(crate) fn which_of<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let near: Vec<String> = equally_near(written, candidates).iter().map(|name| format!("`{name}`")).collect();
    (2..=4).contains(&near.len()).then(|| format!("Write the one that is meant: {}.", list(&near, "or")))
}

/// True for two names that differ in capitals and in what stands between their words only.
pub(crate) fn same_letters(one: &str, other: &str) -> bool {
    let letters = |text: &str| -> String {
        text.to_lowercase().chars().filter(|c| !matches!(c, '-' | '_' | ' ' | '.')).collect()
    };
    // A mark at the end is no gap between words: "supply" is neither "supply+" nor "supply-".
    letters(one) == letters(other) && one.ends_with('-') == other.ends_with('-') && !are_numbered_apart(one, other)
}

/// True for two names that number two things: they differ in a number, or in the one letter behind the last hyphen, as
/// "window-1" and "window-2", "board-a" and "board-b".
pub(crate) fn are_numbered_apart(one: &str, other: &str) -> bool {
    fn numbers(text: &str) -> Vec<&str> {
        text.split(|c: char| !c.is_ascii_digit()).filter(|number| !number.is_empty()).collect()
    }
    let [numbers_of_one, numbers_of_other] = [one, other].map(numbers);
    if numbers_of_one != numbers_of_other {
        return !numbers_of_one.is_empty() && !numbers_of_other.is_empty();
    }
    let letter = |text: &str| {
        let (_, last) = text.rsplit_once('-')?;
        let mut letters = last.chars();
        letters.next().filter(|_| letters.next().is_none()).map(|letter| letter.to_ascii_lowercase())
    };
    matches!((letter(one), letter(other)), (Some(one), Some(other)) if one != other)
}

/// All candidates where they are few, else the three that are most like `written`; in the order of the candidates.
pub(crate) fn nearest<'a>(written: &str, candidates: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    const FEW: usize = 6;
    let all: Vec<&str> = candidates.collect();
    if all.len() <= FEW {
        return all;
    }
    let lower = written.to_lowercase();
    // What begins with it before what is spelled like it.
    let distance = |name: &&str| {
        let name = name.to_lowercase();
        (!name.starts_with(&lower), strsim::damerau_levenshtein(&lower, &name))
    };
    let mut like = all.clone();
    like.sort_by_cached_key(distance);
    like.truncate(3);
    all.into_iter().filter(|name| like.contains(name)).collect()
}

/// The first `width` characters of a text, as people count them: a letter with its marks is one.
pub(crate) fn cut(text: &str, width: usize) -> String {
    let mut kept = 0;
    let within = |character: &char| {
        kept += usize::from(!is_mark(*character));
        kept <= width
    };
    text.chars().take_while(within).collect::<String>().trim_end().to_owned()
}

/// How many characters people see in a text.
pub(crate) fn length(text: &str) -> usize {
    text.chars().filter(|character| !is_mark(*character)).count()
}

/// True for a mark that stands on the letter before it.
fn is_mark(character: char) -> bool {
    character.width() == Some(0)
}

/// A text as the eye compares it: without capitals, each row of blanks of whatever kind one blank.
pub(crate) fn as_seen(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Characters that must not reach paper or a terminal: C0 and C1 controls, line ends of other alphabets, and the marks that
/// turn the direction of writing (Unicode bidi controls).
pub(crate) fn is_control(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{200E}' | '\u{200F}' | '\u{061C}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// The letters of a position: "a" to "z", then "aa" and on.
pub(crate) fn letters(position: usize) -> String {
    let last = char::from(b'a' + u8::try_from(position % 26).unwrap_or_default());
    if position < 26 { last.to_string() } else { format!("{}{last}", letters(position / 26 - 1)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_is_not_parted_from_its_marks() {
        assert_eq!(cut("Remise\u{301} nord", 6), "Remise\u{301}");
        assert_eq!(cut("Remise\u{301} nord", 8), "Remise\u{301} n");
        assert_eq!((length("Remise\u{301}"), length("Remis\u{e9}")), (6, 6));
    }

    #[test]
    fn lists_read_as_english() {
        assert_eq!(list(&["a"], "and"), "a");
        assert_eq!(list(&["a", "b"], "or"), "a or b");
        assert_eq!(list(&["a", "b", "c"], "and"), "a, b and c");
    }

    #[test]
    fn did_you_mean_takes_the_nearest_and_nothing_far() {
        assert_eq!(did_you_mean("front-dor", ["back-door", "front-door"]), Some("front-door"));
        assert_eq!(did_you_mean("attic", ["plant", "hall"]), None);
        assert_eq!(did_you_mean("hall", ["hall"]), None);
        assert_eq!(did_you_mean("supply", ["supply+", "supply-"]), None);
        assert_eq!(equally_near("supply", ["supply+", "loop", "supply-"]), ["supply+", "supply-"]);
        assert!(!same_letters("supply", "supply-") && same_letters("End_of_line", "end-of-line"));
    }

    #[test]
    fn quotes_are_escaped() {
        assert_eq!(kdl_text("the \"old\" C:\\ \u{7}"), "\"the \\\"old\\\" C:\\\\ \\u{7}\"");
    }

    #[test]
    fn names_with_two_numbers_are_those_of_two_things() {
        for (one, other, apart) in [
            ("window-1", "window-2", true),
            ("board-a", "board-b", true),
            ("window-1-1", "window-11", true),
            ("front-dor-1", "front-door-1", false),
            ("window", "window-1", false),
            ("board-a", "bord-a", false),
            ("hall", "halls", false),
        ] {
            assert_eq!(are_numbered_apart(one, other), apart, "{one} {other}");
        }
        assert!(!same_letters("window-1-1", "window-11") && same_letters("window_1", "Window-1"));
    }

    #[test]
    fn a_large_number_is_read_in_groups() {
        assert_eq!([0, 999, 1_000, 1_048_576].map(thousands), ["0", "999", "1,000", "1,048,576"]);
    }

    #[test]
    fn numbers_are_drawn_together() {
        assert_eq!(numbers(&[]), "");
        assert_eq!(numbers(&[3]), "3");
        assert_eq!(numbers(&[1, 2]), "1 and 2");
        assert_eq!(numbers(&[1, 2, 3, 4, 7, 9]), "1 to 4, 7 and 9");
    }
}
