//! Order of names as people count: `Z2` before `Z10`.

use std::cmp::Ordering;
use std::iter::Peekable;
use std::str::Chars;

/// Compares two texts, runs of digits by their value. Equal values with other zeros in front differ last, so that
/// only equal texts compare equal.
pub(crate) fn natural(one: &str, other: &str) -> Ordering {
    let (mut a, mut b) = (one.chars().peekable(), other.chars().peekable());
    loop {
        let order = match (a.peek().copied(), b.peek().copied()) {
            (None, None) => return one.cmp(other),
            (None, Some(_)) => Ordering::Less,
            (Some(_), None) => Ordering::Greater,
            (Some(x), Some(y)) if x.is_ascii_digit() && y.is_ascii_digit() => {
                let (x, y) = (digits(&mut a), digits(&mut b));
                // Longer means greater once the zeros in front are gone.
                x.len().cmp(&y.len()).then_with(|| x.cmp(&y))
            }
            (Some(x), Some(y)) => {
                a.next();
                b.next();
                x.cmp(&y)
            }
        };
        if order != Ordering::Equal {
            return order;
        }
    }
}

fn digits(text: &mut Peekable<Chars<'_>>) -> String {
    let mut found = String::new();
    while let Some(digit) = text.next_if(char::is_ascii_digit) {
        found.push(digit);
    }
    found.trim_start_matches('0').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_count() {
        let mut labels = ["Z10", "Z2", "Z2-10", "Z2-2", "DATA-1", "Z02", "", "Z"];
        labels.sort_by(|a, b| natural(a, b));
        assert_eq!(labels, ["", "DATA-1", "Z", "Z02", "Z2", "Z2-2", "Z2-10", "Z10"]);
    }

    proptest! {
        #[test]
        fn it_is_an_order(a in "[Z0-9-]{0,5}", b in "[Z0-9-]{0,5}", c in "[Z0-9-]{0,5}") {
            prop_assert_eq!(natural(&a, &b), natural(&b, &a).reverse());
            prop_assert_eq!(natural(&a, &b) == Ordering::Equal, a == b);
            if natural(&a, &b) == Ordering::Less && natural(&b, &c) == Ordering::Less {
                prop_assert_eq!(natural(&a, &c), Ordering::Less);
            }
        }
    }
}
