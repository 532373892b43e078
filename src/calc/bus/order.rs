//! The places of a bus in the order along its cable.

use super::Layout;

/// A way along the cable without branches.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Way {
    /// The place that it leaves; `None` for the trunk.
    pub(crate) from: Option<usize>,
    /// Its places, from there on.
    pub(crate) places: Vec<usize>,
}

impl Layout {
    /// The trunk, then all that leaves it or another way, in the order along the cable.
    pub(crate) fn ways(&self) -> Vec<Way> {
        let mut ways = vec![Way { from: None, places: self.trunk.clone() }];
        let mut seen = self.trunk.clone();
        for (at, _) in self.in_order().into_iter().filter(|(at, _)| !self.trunk.contains(at)) {
            let before = self.neighbours(at).map(|(place, _)| place).find(|place| seen.contains(place));
            seen.push(at);
            match ways.last_mut() {
                Some(way) if way.from.is_some() && way.places.last().copied() == before => way.places.push(at),
                _ => ways.push(Way { from: before, places: vec![at] }),
            }
        }
        ways
    }

    /// The places in the order along the cable, those of a stub behind its junction, each with its position on paper:
    /// "1", "2"; of a place on a stub that of its junction with a letter: "2a".
    pub(crate) fn in_order(&self) -> Vec<(usize, String)> {
        let mut places: Vec<(usize, String)> = Vec::new();
        for (number, at) in self.trunk.iter().enumerate() {
            places.push((*at, (number + 1).to_string()));
            let mut open: Vec<usize> =
                self.neighbours(*at).map(|(place, _)| place).filter(|place| !self.trunk.contains(place)).collect();
            let mut letter = 0;
            let mut seen = vec![*at];
            while let Some(place) = open.pop() {
                seen.push(place);
                places.push((place, format!("{}{}", number + 1, letters(letter))));
                letter += 1;
                open.extend(self.neighbours(place).map(|(next, _)| next).filter(|next| !seen.contains(next)));
            }
        }
        places
    }
}

/// "a" to "z", then "aa" and on.
fn letters(number: usize) -> String {
    let last = char::from(b'a' + u8::try_from(number % 26).unwrap_or_default());
    if number < 26 { last.to_string() } else { format!("{}{last}", letters(number / 26 - 1)) }
}
