//! A text laid out as `loopwright fmt` lays it out, as the change that leads there.

use std::path::Path;

use lsp_types::TextEdit;

use super::text::{Encoding, Lines};
use crate::register_file;
use crate::session;

/// What changes: one piece, from the first line that differs to the last. `None` where the text is left alone.
pub(crate) fn edits(text: &str, encoding: Encoding) -> Option<Vec<TextEdit>> {
    // The register is the longest file that may be laid out.
    let new = session::format(Path::new(register_file::FILE), text.as_bytes().to_vec()).ok()?.text;
    if new == text {
        return Some(Vec::new());
    }
    Some(vec![edit(text, &new, encoding)?])
}

/// The change from one text to another.
pub(crate) fn edit(text: &str, new: &str, encoding: Encoding) -> Option<TextEdit> {
    let same = |(one, other): &(&str, &str)| one == other;
    let lines = |text| str::split_inclusive(text, '\n');
    let before: usize = lines(text).zip(lines(new)).take_while(same).map(|(line, _)| line.len()).sum();
    let (old_rest, new_rest) = (text.get(before..)?, new.get(before..)?);
    let behind: usize =
        lines(old_rest).rev().zip(lines(new_rest).rev()).take_while(same).map(|(line, _)| line.len()).sum();
    let range = Lines::new(text, encoding).range(before, text.len() - behind);
    Some(TextEdit { range, new_text: new_rest.get(..new_rest.len() - behind)?.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::server::text::change;
    use lsp_types::TextDocumentContentChangeEvent;

    #[test]
    fn the_change_leads_to_what_fmt_writes() {
        for text in [
            "zone 1 \"é🚪\"   type=\"perimeter\"\n\n\n\narea \"a\"\n",
            "area \"a\"",
            "area \"a\" {\r\n  walk \"b\"\r\n}\r\n",
            "",
        ] {
            for encoding in [Encoding::Utf8, Encoding::Utf16] {
                let mut changed = text.to_owned();
                for TextEdit { range, new_text } in edits(text, encoding).unwrap() {
                    change(
                        &mut changed,
                        TextDocumentContentChangeEvent { range: Some(range), range_length: None, text: new_text },
                        encoding,
                    );
                }
                let expected = session::format(Path::new("a.kdl"), text.as_bytes().to_vec()).unwrap().text;
                assert_eq!(changed, expected);
                assert_eq!(edits(&changed, encoding).unwrap(), []);
            }
        }
    }
}
