//! The places of a bus in the order along its cable.

use super::Layout;
use crate::base::wording::letters;

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

#[cfg(test)]
mod tests {
    use super::super::layout::Place;
    use super::{Layout, Way};
    use crate::base::Arena;
    use crate::calc::Spread;
    use crate::model::Bus;
    use crate::quantity::Metres;

    /// Each place by the one before it and the length of the cable between them.
    fn layout(places: &[(usize, f64)]) -> Layout {
        let place = |&(before, length): &(usize, f64)| Place {
            before,
            run: None,
            length: Metres(length),
            ohms: Spread::SHORT,
            boards: Vec::new(),
        };
        let mut layout = Layout {
            bus: Arena::<Bus>::default().next_id(),
            places: places.iter().map(place).collect(),
            terminators: Vec::new(),
            ports: Vec::new(),
            trunk: Vec::new(),
        };
        layout.trunk = layout.longest_way();
        layout
    }

    #[test]
    fn the_ways_are_the_trunk_and_what_leaves_it_each_place_once() {
        // A board, a junction with a stub that forks, and the far end.
        let forked = layout(&[(0, 0.0), (0, 30.0), (1, 30.0), (1, 4.0), (3, 2.0), (3, 1.0), (1, 3.0)]);
        let way = |from, places: &[usize]| Way { from, places: places.to_vec() };
        let wanted = [way(None, &[0, 1, 2]), way(Some(1), &[6]), way(Some(1), &[3, 5]), way(Some(3), &[4])];
        assert_eq!(forked.ways(), wanted);
        // The board in the middle: the trunk goes from one end to the other, past it.
        let star = layout(&[(0, 0.0), (0, 10.0), (0, 20.0), (0, 5.0)]);
        assert_eq!(star.ways(), [way(None, &[1, 0, 2]), way(Some(0), &[3])]);
    }
}
