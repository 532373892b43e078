//! Names of files and folders: which ones stay in their folder, and which ones every system can store.

/// Name of the list of the program's own files in the output folder.
pub(super) const MANIFEST: &str = ".loopwright-manifest";

/// A name takes at most 255 bytes on most systems, and the workspace's is longer than the packet's.
const LONGEST: usize = 255 - super::workspace::PREFIX.len();

/// True for a path that stays in the folder, names a file there, and fits on a line of the list.
pub(super) fn is_plain(path: &str) -> bool {
    path != MANIFEST
        && path.split('/').all(|part| !matches!(part, "" | "." | ".."))
        && !path.contains(|c: char| c == '\\' || c.is_control())
}

/// Why a site's name cannot name its packet's folder on every system; `None` where it can.
pub(in crate::cli) fn unstorable(name: &str) -> Option<String> {
    let stem = name.split('.').next().unwrap_or_default().trim_end().to_ascii_lowercase();
    let kept = name.chars().find(|c| r#"/\<>:"|?*"#.contains(*c) || c.is_control());
    if name.is_empty() {
        Some("it is empty".to_owned())
    } else if let Some(kept) = kept {
        Some(format!("some systems keep {kept:?} for themselves"))
    } else if name.starts_with('.') {
        Some("a name that begins with a full stop is hidden or leads elsewhere".to_owned())
    } else if name.ends_with(['.', ' ']) {
        Some("some systems drop a full stop or a blank at the end".to_owned())
    } else if is_device(&stem) {
        Some(format!("some systems keep {stem:?} for a device"))
    } else if name.len() > LONGEST {
        Some(format!("it takes {} bytes, and at most {LONGEST} are sure to fit", name.len()))
    } else {
        None
    }
}

fn is_device(stem: &str) -> bool {
    let numbered = ["com", "lpt"].into_iter().find_map(|port| stem.strip_prefix(port));
    matches!(stem, "con" | "prn" | "aux" | "nul" | "conin$" | "conout$")
        || numbered.is_some_and(|number| number.chars().count() == 1 && number.chars().all(char::is_numeric))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_not_every_system_can_store_are_refused_with_the_reason() {
        for (name, why) in [
            ("", "is empty"),
            ("..", "begins with a full stop"),
            (".hidden", "begins with a full stop"),
            ("a/b", "'/'"),
            ("a:b", "':'"),
            ("a\u{7}", "'\\u{7}'"),
            ("mill.", "at the end"),
            ("mill ", "at the end"),
            ("CON", "\"con\" for a device"),
            ("nul.house", "\"nul\" for a device"),
            ("aux .x", "\"aux\" for a device"),
            ("Com1", "\"com1\" for a device"),
            ("lpt\u{b9}", "for a device"),
            (&"x".repeat(300), "300 bytes, and at most 243"),
            (&"é".repeat(130), "260 bytes, and at most 243"),
        ] {
            let reason = unstorable(name).unwrap_or_default();
            assert!(reason.contains(why), "{name}: {reason}");
        }
        for name in ["mill", "Alte Mühle 2", "com", "com12", "console", "a.b", &"x".repeat(243)] {
            assert_eq!(unstorable(name), None, "{name}");
        }
    }
}
