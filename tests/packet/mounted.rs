//! Everything that stays itself and is bought for a house has its step in the order of the first installation.

use crate::demos;

/// A kind of the shopping list that is no thing with a place of its own: boxes are roughed in, the rest is used up.
const WITHOUT_STEP: [&str; 5] = ["resistors", "fuses and earth", "connectors", "labels", "cable"];

/// What the step that mounts a thing says of it, by what the shopping list calls it.
fn said(kind: &str, what: &str) -> String {
    let what = what.to_lowercase();
    match kind {
        "boxes and strips" if what.starts_with("terminal strip, ") => {
            format!("(strip of {})", what.trim_start_matches("terminal strip, "))
        }
        "transformers" => what.replace("transformer, ", "transformer ").replace(" ac,", ","),
        // "battery, 12 v 18 ah": the step says its ampere-hours.
        "batteries" => what.split_once(" v ").unwrap().1.to_owned(),
        _ => what,
    }
}

/// "battery 2 × 12 Ah …": two.
fn how_many(step: &str) -> usize {
    step.strip_prefix("battery ").and_then(|of| of.split_once(" × ")?.0.parse().ok()).unwrap_or(1)
}

#[test]
fn whatever_is_bought_is_mounted() {
    for site in ["alder-mill", "garden-flat", "larch-bungalow"] {
        let sheets = demos::sheets(site);
        let steps: Vec<String> = sheets["installation-order.md"]
            .lines()
            .filter_map(|line| line.strip_prefix("- [ ] *mount* "))
            .flat_map(|line| line.split("; ☐ "))
            .map(str::to_lowercase)
            .collect();
        let mut looked_at = 0;
        for row in csv::Reader::from_reader(sheets["materials.csv"].as_bytes()).records() {
            let row = row.unwrap();
            let (kind, what, count) = (&row[0], &row[1], row[2].parse::<usize>().unwrap());
            if WITHOUT_STEP.contains(&kind) || what.starts_with("Mounting ") {
                continue;
            }
            let said = said(kind, what);
            let mounted: usize = steps.iter().filter(|step| step.contains(&said)).map(|step| how_many(step)).sum();
            assert!(mounted >= count, "{site}: {count} × {what} is bought, {mounted} mounted ({said:?})");
            looked_at += 1;
        }
        assert!(looked_at > 5, "{site}: {looked_at}");
    }
}
