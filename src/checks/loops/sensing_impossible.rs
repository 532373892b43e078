//! Bands of a board that cannot be as written.

use crate::base::Span;
use crate::calc::band::edges;
use crate::checks::Context;
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Band, Sensing};

check!("sensing-impossible", Basis::Contradiction, "bands of a board that cannot be as written");

/// What is wrong with the bands of a board: where, in words, and what the other band involved is.
pub(crate) fn faults(sensing: &Sensing) -> Vec<(Span, String, Option<Span>)> {
    let mut found = Vec::new();
    let in_ohms = |band: &Band| edges(band).2;
    let Some(first) = sensing.bands.first() else { return found };
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
                format!("band {name} begins above its end: {}", loop_words::edges(band.edges)),
                None,
            ));
        } else if let Some(supply) = sensing.supply.filter(|supply| !in_ohms(band) && low >= supply.0) {
            let title = format!(
                "band {name} begins at {}, and nothing reads above the supply of {supply}",
                loop_words::edges(band.edges).trim_start_matches("from ")
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

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in context.site.parts.iter().filter(|part| part.whole) {
        let all = part.sensings().flat_map(|sensing| faults(sensing).into_iter().map(move |fault| (sensing, fault)));
        for (sensing, (span, title, other)) in all {
            let mut finding = Diagnostic::new(&RULE, span, format!("{title} (part `{}`)", part.name.value))
                .here("this band")
                .why("A reading lies in one band or in none, and between nothing and the board's own supply. A slip here gives every loop of the board a wrong verdict.")
                .help("Copy the edges again from the sheet, from the lowest reading to the highest, all in volts or all in ohms.")
                .about(&part.name.value);
            if let Some(other) = other {
                finding = finding.also(other, "the other band");
            }
            sink.push(loop_words::bands(finding, Some(sensing), &[]));
        }
    }
}
