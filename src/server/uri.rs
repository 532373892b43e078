//! Addresses of files ↔ their paths, with `/` on every system.

use std::str::FromStr;

use lsp_types::Uri;

use crate::base::uri;

const SCHEME: &str = "file://";

/// The path of a file's address; `None` for what is no file of this machine.
pub(crate) fn path_of(uri: &str) -> Option<String> {
    let rest =
        uri.get(..SCHEME.len()).filter(|scheme| scheme.eq_ignore_ascii_case(SCHEME)).and(uri.get(SCHEME.len()..))?;
    let (host, path) = rest.split_at(rest.find('/')?);
    if !host.is_empty() && host != "localhost" {
        return None;
    }
    let path = decoded(path)?;
    // A drive stands before the folders: `/c:/site` is `c:/site`.
    let is_drive = matches!(path.as_bytes(), [b'/', letter, b':', ..] if letter.is_ascii_alphabetic());
    Some(if is_drive { path.trim_start_matches('/').to_owned() } else { path })
}

/// The address of a file.
pub(crate) fn of_path(path: &str) -> Option<Uri> {
    let root = if path.starts_with('/') { "" } else { "/" };
    Uri::from_str(&format!("{SCHEME}{root}{}", uri::of_path(path))).ok()
}

/// A folder and a path from there, `..` steps taken.
pub(crate) fn join(folder: &str, path: &str) -> String {
    let mut steps: Vec<&str> = folder.split('/').collect();
    for step in path.split('/') {
        match step {
            "" | "." => {}
            ".." => {
                steps.pop();
            }
            name => steps.push(name),
        }
    }
    steps.join("/")
}

fn decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte != b'%' {
            bytes.push(byte);
            continue;
        }
        let mut digit = || char::from(rest.next()?).to_digit(16);
        let (high, low) = (digit()?, digit()?);
        bytes.push(u8::try_from(high * 16 + low).ok()?);
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_lead_back() {
        for path in ["/srv/mill/site.kdl", "/a b/é🚪#?%.kdl", "c:/site/site.kdl"] {
            let uri = of_path(path).unwrap();
            assert_eq!(path_of(uri.as_str()).as_deref(), Some(path), "{}", uri.as_str());
        }
    }

    #[test]
    fn editors_write_addresses_in_many_ways() {
        assert_eq!(path_of("file:///c%3A/site/a.kdl").as_deref(), Some("c:/site/a.kdl"));
        assert_eq!(path_of("FILE://localhost/a/%c3%a9.kdl").as_deref(), Some("/a/é.kdl"));
        for none in ["untitled:a", "file://elsewhere/a", "file:", "file:///a%", "file:///%ff", "", "é"] {
            assert_eq!(path_of(none), None, "{none}");
        }
    }

    #[test]
    fn steps_back_are_taken() {
        assert_eq!(join("/specs/mill", "../parts/./a.kdl"), "/specs/parts/a.kdl");
        assert_eq!(join("/specs/mill", "wiring//a.kdl"), "/specs/mill/wiring/a.kdl");
    }
}
