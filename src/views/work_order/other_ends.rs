//! Steps for labels on cables that stay, whose other end is called otherwise now.

use super::Sides;
use super::cables::{ends, is_whole};
use super::place::Places;

/// The second line of the labels on cables that stay, where the other end is called otherwise now.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for is in &sides.new.wiring.cables {
        let was = sides.old_keys.cable(sides.old, &is.label);
        let Some(was) = was.filter(|_| !is_whole(sides, is)) else { continue };
        let before = ends(&sides.old.site, &sides.old_labels, was);
        let now = ends(site, &sides.new_labels, is);
        let label = &is.label;
        if before.near_line != now.near_line {
            let text = format!(
                "change the label of {label} at {}: {}, until now {}",
                now.near_words, now.near_line, before.near_line
            );
            places.add(site, now.near, "label", text);
        }
        let text = match (before.far_line.as_str(), now.far_line.as_str()) {
            (before, now) if before == now => continue,
            // An end that is not found has no label.
            (_, "") => continue,
            ("", line) => format!("{label} on this end, {line}"),
            (before, line) => format!("change the label of {label} on this end: {line}, until now {before}"),
        };
        places.add(site, now.far, "label", text);
    }
}
