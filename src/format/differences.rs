//! The lines that differ between two texts, for people: no shortest list, but one that is found quickly.

/// How many lines are looked ahead for one that both texts have.
const LOOK_AHEAD: usize = 100;

/// A line that only one of two texts has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Difference<'a> {
    /// Its number in the old text, from 1; of a new one, that of the old line in whose place it stands.
    pub(crate) line: usize,
    /// True for a line of the new text.
    pub(crate) new: bool,
    pub(crate) text: &'a str,
}

/// The lines that differ, in order. Where an old line and a new one differ in white space only, the new one comes right
/// behind the old one.
pub(crate) fn differences<'a>(old: &'a str, new: &'a str) -> Vec<Difference<'a>> {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.split_inclusive('\n').collect(), new.split_inclusive('\n').collect());
    let mut found = Vec::new();
    let (mut here, mut there) = (0, 0);
    while here < old.len() || there < new.len() {
        let (skip, add) = meeting(old.get(here..).unwrap_or_default(), new.get(there..).unwrap_or_default());
        let gone = old.iter().enumerate().skip(here).take(skip);
        found.extend(gone.map(|(at, text)| Difference { line: at + 1, new: false, text }));
        found.extend(new.iter().skip(there).take(add).map(|text| Difference { line: here + 1, new: true, text }));
        (here, there) = (here + skip, there + add);
        if let (Some(was), Some(is)) = (old.get(here), new.get(there))
            && alike(was, is)
        {
            if was != is {
                let pair = [(false, was), (true, is)];
                found.extend(pair.map(|(new, text)| Difference { line: here + 1, new, text }));
            }
            (here, there) = (here + 1, there + 1);
        }
    }
    found
}

/// True for lines that differ in white space at most.
fn alike(one: &str, other: &str) -> bool {
    one.split_whitespace().eq(other.split_whitespace())
}

/// How many lines of each text come before the next one that both have; all that was looked at where there is none.
fn meeting(old: &[&str], new: &[&str]) -> (usize, usize) {
    for total in 0..2 * LOOK_AHEAD {
        for skip in total.saturating_sub(new.len())..=total.min(old.len()) {
            match (old.get(skip), new.get(total - skip)) {
                (None, None) => return (skip, total - skip),
                // A blank line is everywhere and says nothing.
                (Some(one), Some(other)) if alike(one, other) && (total == 0 || !one.trim().is_empty()) => {
                    return (skip, total - skip);
                }
                _ => {}
            }
        }
    }
    (old.len().min(LOOK_AHEAD), new.len().min(LOOK_AHEAD))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(old: &str, new: &str) -> Vec<String> {
        let sign = |new| if new { '+' } else { '-' };
        let told = |found: Difference| format!("{} {}{}", found.line, sign(found.new), found.text.trim_end());
        differences(old, new).into_iter().map(told).collect()
    }

    #[test]
    fn what_differs_is_told_by_lines() {
        assert_eq!(list("a\nb\nc\n", "a\nb\nc\n"), [""; 0]);
        assert_eq!(list("a\nb\nc\n", "a\nB\nc\n"), ["2 -b", "2 +B"]);
        assert_eq!(list("a\n\n\nc\n", "a\n\nc\n"), ["3 -"]);
        assert_eq!(list("a\nc", "a\nb\nc\n"), ["2 +b", "2 -c", "2 +c"]);
        assert_eq!(list("  a\nx\n b\n", "a\nb\n"), ["1 -  a", "1 +a", "2 -x", "3 - b", "3 +b"]);
        assert_eq!(list("", "a\n"), ["1 +a"]);
        assert_eq!(list("a\n", ""), ["1 -a"]);
    }

    #[test]
    fn texts_without_a_common_line_are_told_whole() {
        let (old, new) = ("old\n".repeat(1000), "new\n".repeat(1200));
        let found = differences(&old, &new);
        assert_eq!(found.iter().filter(|one| one.new).map(|one| one.text).collect::<String>(), new);
        assert_eq!(found.iter().filter(|one| !one.new).map(|one| one.text).collect::<String>(), old);
    }
}
