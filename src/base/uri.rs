//! Paths in addresses (RFC 3986): what is no part of a path there is written in per cent.

use std::fmt::Write;

/// A path, its folders separated by `/`, as a part of an address.
pub(crate) fn of_path(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    for byte in path.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(char::from(byte)),
            // Writing to a string cannot fail.
            _ => drop(write!(uri, "%{byte:02X}")),
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_a_relative_reference() {
        assert_eq!(of_path("specs/alder-mill/site.kdl"), "specs/alder-mill/site.kdl");
        assert_eq!(of_path("a b/é:#?%.kdl"), "a%20b/%C3%A9%3A%23%3F%25.kdl");
    }
}
