//! What the letters of the conductors' colours mean, in a sentence for sheets that print letters alone.

use std::collections::BTreeSet;

use crate::base::wording::list;
use crate::quantity::Colour;
use crate::quantity::colour::Hue;
use crate::register::Wiring;

/// The sentence, with the colours that the site has and one with a tracer as an example; empty where no colour is known.
pub(crate) fn of(wiring: &Wiring) -> String {
    let used = wiring.cables.iter().flat_map(|cable| &cable.conductors).filter_map(|used| used.colour);
    let colours: BTreeSet<Colour> = used.collect();
    let hues: BTreeSet<Hue> = colours.iter().flat_map(|colour| [Some(colour.base), colour.tracer]).flatten().collect();
    if hues.is_empty() {
        return String::new();
    }
    let said: Vec<String> = hues.into_iter().map(|hue| format!("{} {}", hue.code(), hue.name())).collect();
    let two = colours.iter().find(|colour| colour.tracer.is_some());
    let two = two.map(|colour| format!("; {} is {}, the second as a stripe or ring", colour.code(), colour.name()));
    format!("Letters of colours (IEC 60757): {}{}.", list(&said, "and"), two.unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_colours_have_no_key() {
        assert_eq!(of(&Wiring::default()), "");
    }
}
