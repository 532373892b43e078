//! The places of a bus in the order along its cable.

use super::Layout;

impl Layout {
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
