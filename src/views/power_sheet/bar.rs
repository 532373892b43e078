//! Bars made of block characters, which print the same on paper, on a screen and in Markdown.

/// Characters in a bar.
const WIDTH: usize = 40;

/// How many of a bar's characters a share is; anything above nothing shows.
fn cells(share: f64) -> usize {
    if share.is_nan() || share <= 0.0 {
        return 0;
    }
    // Within 0 to WIDTH by the clamp.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)]
    let cells = (share.min(1.0) * WIDTH as f64).round() as usize;
    cells.clamp(1, WIDTH)
}

/// Current of a supply against its limit: █ at rest, ▒ more in alarm, ░ free; ▶ at the end where it is exceeded.
pub(crate) fn load(idle: f64, alarm: f64, limit: f64) -> String {
    let (least, most) = (idle.min(alarm) / limit, idle.max(alarm) / limit);
    let (solid, filled) = (cells(least), cells(most));
    let mut bar =
        "█".repeat(solid) + &"▒".repeat(filled.saturating_sub(solid)) + &"░".repeat(WIDTH - filled.min(WIDTH));
    if most > 1.0 + 1e-9 {
        bar.push('▶');
    }
    bar
}

/// A time on a scale, with the time that is asked for marked in it.
pub(crate) fn time(hours: f64, asked: f64, scale: f64) -> String {
    let (filled, mark) = (cells(hours / scale), cells(asked / scale).saturating_sub(1));
    let at = |place: usize| match place {
        _ if place == mark => '┃',
        _ if place < filled => '█',
        _ => '░',
    };
    (0..WIDTH).map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_has_its_width_and_shows_an_excess() {
        assert_eq!(load(0.25, 0.5, 1.0), "█".repeat(10) + &"▒".repeat(10) + &"░".repeat(20));
        assert_eq!(load(0.0, 0.0, 1.0), "░".repeat(40));
        assert_eq!(load(0.001, 0.001, 1.0), "█".to_owned() + &"░".repeat(39));
        assert_eq!(load(0.5, 2.0, 1.0), "█".repeat(20) + &"▒".repeat(20) + "▶");
        assert_eq!(load(0.5, 1.0, 1.0), "█".repeat(20) + &"▒".repeat(20));
        // A load that takes more at rest than in alarm.
        assert_eq!(load(1.0, 0.5, 1.0), "█".repeat(20) + &"▒".repeat(20));
    }

    #[test]
    fn the_time_asked_for_is_marked() {
        let bar = time(40.0, 20.0, 40.0);
        assert_eq!((bar.chars().count(), bar.chars().position(|c| c == '┃')), (40, Some(19)));
        assert_eq!(time(4.0, 40.0, 40.0), "█".repeat(4) + &"░".repeat(35) + "┃");
        assert_eq!(time(f64::INFINITY, 4.0, 40.0).chars().filter(|c| *c == '█').count(), 39);
    }
}
