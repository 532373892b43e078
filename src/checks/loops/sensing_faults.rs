//! What is wrong with the bands of a board: no loop can be judged by such.

use crate::base::Span;
use crate::calc::band::edges;
use crate::model::{Band, Sensing};
use crate::words;

/// What is wrong with the bands of a board: where, in words, and what the other band involved is.
pub(crate) fn faults(sensing: &Sensing) -> Vec<(Span, String, Option<Span>)> {
    let mut found = Vec::new();
    let in_ohms = |band: &Band| edges(band).2;
    let Some(first) = sensing.bands.first() else { return found };
    // A band in two units stands as two.
    for pair in sensing.bands.windows(2) {
        if let [one, other] = pair
            && one.reads.span == other.reads.span
        {
            let title = format!("band {} is partly in volts and partly in ohms", one.reads.value.word());
            found.push((one.reads.span, title, None));
        }
    }
    if !found.is_empty() {
        return found;
    }
    for band in &sensing.bands {
        let (low, high, _) = edges(band);
        let name = band.reads.value.word();
        if in_ohms(band) != in_ohms(first) {
            found.push((
                band.reads.span,
                format!("band {name} is in another unit than the first band"),
                Some(first.reads.span),
            ));
        } else if low >= high {
            found.push((
                band.reads.span,
                format!("band {name} begins above its end: {}", words::edges(band.edges)),
                None,
            ));
        } else if let Some(supply) = sensing.supply.filter(|supply| !in_ohms(band) && low >= supply.0) {
            let title = format!(
                "band {name} begins at {}, and nothing reads above the supply of {supply}",
                words::edges(band.edges).trim_start_matches("from ")
            );
            found.push((band.reads.span, title, None));
        }
    }
    if !found.is_empty() {
        return found;
    }
    let mut sorted: Vec<&Band> = sensing.bands.iter().collect();
    sorted.sort_by(|one, other| edges(one).0.total_cmp(&edges(other).0));
    for pair in sorted.windows(2) {
        let [lower, upper] = pair else { continue };
        if edges(upper).0 < edges(lower).1 && lower.reads.value != upper.reads.value {
            let title = format!("bands {} and {} overlap", lower.reads.value.word(), upper.reads.value.word());
            found.push((upper.reads.span, title, Some(lower.reads.span)));
        }
    }
    found
}
