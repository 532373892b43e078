//! What is done to a conductor that meets something else now, in words.

use super::super::ends::{Met, together};
use crate::terms::Joining;

/// What becomes of a conductor that is lifted and lands nowhere.
pub(super) const FREE: &str = "; free now: cap it, park it and mark it";
/// Of one that is lifted and lands elsewhere in the same place.
pub(super) const AGAIN: &str = "; it is landed again";

/// What is done to a conductor that met some things and now meets others: kinds of step and texts. All that is lifted in a
/// place is lifted before anything is landed there, because a screw that is to be taken may have an old conductor yet;
/// `lifted` says what becomes of it then, `joint` how conductors are joined there.
pub(super) fn moved(before: &[Met], now: &[Met], lifted: &str, joint: Option<Joining>) -> Vec<(&'static str, String)> {
    match (joined(before), joined(now)) {
        (Some(out), Some(into)) => vec![("land", format!("{out} out of the joint, {into} into it"))],
        (Some(out), None) if now.is_empty() && lifted != FREE => {
            let how = joint.map(|how| format!(", {}", how.printed())).unwrap_or_default();
            vec![
                ("remove", format!("{out} out of the joint")),
                ("land", format!("join again what stays in the joint{how}")),
            ]
        }
        (None, Some(into)) if before.is_empty() => vec![("land", format!("{into} into the joint"))],
        _ => {
            let off = (!before.is_empty()).then(|| ("remove", format!("{}{lifted}", off(before))));
            let onto = (!now.is_empty()).then(|| ("land", onto(now)));
            off.into_iter().chain(onto).collect()
        }
    }
}

/// "to Panel, terminal I4"; "on by Z17-2 to Bedroom east, shed window".
fn onto(met: &[Met]) -> String {
    match met.first() {
        Some(Met::Onward(_) | Met::SameTerminal(_) | Met::ShortWire(_) | Met::Conductor(_)) => together(met),
        Some(Met::Joint(_)) => format!("into the {}", together(met)),
        Some(Met::Place(_)) | None => format!("to {}", together(met)),
    }
}

/// "off Panel, terminal I4"; "out of the joint with Z17-2 to Bedroom east, shed window".
fn off(met: &[Met]) -> String {
    match met.first() {
        Some(Met::Onward(_)) => {
            let met = together(met);
            format!("out of the joint with {}", met.strip_prefix("on by ").unwrap_or(&met))
        }
        Some(Met::ShortWire(_)) => {
            format!("take off {}", together(met).replace("from there a short wire", "the short wire"))
        }
        Some(Met::SameTerminal(_) | Met::Conductor(_)) => format!("no longer {}", together(met)),
        Some(Met::Joint(_)) => format!("out of the {}", together(met)),
        Some(Met::Place(_)) | None => format!("off {}", together(met)),
    }
}

/// The conductors of other cables that are joined to one, where it meets nothing else.
fn joined(met: &[Met]) -> Option<String> {
    let conductor = |met: &Met| if let Met::Conductor(conductor) = met { Some(conductor.clone()) } else { None };
    let conductors = met.iter().map(conductor).collect::<Option<Vec<_>>>()?;
    (!conductors.is_empty()).then(|| conductors.join(", "))
}
