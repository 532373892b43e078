//! Bytes → text: the size limit, the check that it is text, the byte-order mark.

use super::rules;
use crate::base::{FileId, Span};
use crate::diag::Diagnostic;

/// How long a file may be, in bytes.
pub(crate) const LARGEST: usize = 1024 * 1024;

const MARK: &str = "\u{feff}";

/// Why bytes are no text of a spec.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub(crate) enum DecodeFault {
    /// Longer than [`LARGEST`].
    #[error("the file has {length} bytes, more than {LARGEST}")]
    TooLarge {
        /// Its length.
        length: usize,
    },
    /// Bytes that are not UTF-8.
    #[error("byte {offset} (line {line}) is not UTF-8 text")]
    NotUtf8 {
        /// The first bad byte; a byte-order mark is not counted.
        offset: usize,
        /// Its line, from 1.
        line: usize,
    },
    /// A zero byte, as in pictures, programs and UTF-16 text.
    #[error("byte {offset} (line {line}) is zero: this is no text file")]
    Binary {
        /// The first zero byte; a byte-order mark is not counted.
        offset: usize,
        /// Its line, from 1.
        line: usize,
        /// How many bytes from the start are text.
        valid: usize,
    },
}

/// The text of a file, its byte-order mark taken off. An empty file is an empty text.
///
/// # Errors
/// Where the file is too large, not UTF-8, or holds a zero byte.
pub(crate) fn decode(bytes: Vec<u8>) -> Result<String, DecodeFault> {
    decode_within(bytes, LARGEST)
}

/// The same with another limit in bytes.
///
/// # Errors
/// As [`decode`].
pub(crate) fn decode_within(mut bytes: Vec<u8>, largest: usize) -> Result<String, DecodeFault> {
    if bytes.len() > largest {
        return Err(DecodeFault::TooLarge { length: bytes.len() });
    }
    if bytes.starts_with(MARK.as_bytes()) {
        bytes.drain(..MARK.len());
    }
    let valid = std::str::from_utf8(&bytes).map_or_else(|e| e.valid_up_to(), str::len);
    // UTF-16 is bad UTF-8 at its first byte, but its zero bytes tell more.
    if let Some(offset) = bytes.iter().position(|b| *b == 0) {
        return Err(DecodeFault::Binary { offset, line: line_of(&bytes, offset), valid });
    }
    String::from_utf8(bytes).map_err(|e| DecodeFault::NotUtf8 { offset: valid, line: line_of(e.as_bytes(), valid) })
}

fn line_of(bytes: &[u8], offset: usize) -> usize {
    1 + bytes.iter().take(offset).filter(|b| **b == b'\n').count()
}

/// The diagnostic of a fault. Its span is of length 0 and fits the lossily decoded text (mark taken off) up to the
/// first bad byte; a file that is too large stands at its start.
pub(crate) fn decode_diagnostic(fault: &DecodeFault, file: FileId) -> Diagnostic {
    let at = |rule, offset| Diagnostic::new(rule, Span::new(file, offset, offset), fault.to_string());
    match *fault {
        DecodeFault::TooLarge { .. } => at(&rules::FILE_TOO_LARGE, 0)
            .why("A spec of a house is some tens of thousands of bytes; a file of this size was probably put here by mistake.")
            .help("split the spec with `include`, or take the file out of the folder"),
        DecodeFault::NotUtf8 { offset, .. } => at(&rules::FILE_NOT_TEXT, offset)
            .here("the first byte that is no text")
            .why("A spec is UTF-8 text. An editor that saves in an older encoding writes letters such as é or ° as bytes that mean nothing in UTF-8.")
            .help("save the file as UTF-8 in your editor"),
        DecodeFault::Binary { offset, valid, .. } => {
            // Lossy decoding makes three bytes of each bad one, so only a place before all of them is sure to fit.
            at(&rules::FILE_NOT_TEXT, offset.min(valid))
                .why("A spec is UTF-8 text. Zero bytes stand in pictures, programs, word-processor files and UTF-16 text.")
                .help("save the file as plain text in UTF-8, or correct the path that leads here")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_comes_off_and_an_empty_file_is_a_text() {
        assert_eq!(decode(b"\xef\xbb\xbfarea".to_vec()), Ok("area".into()));
        assert_eq!(decode(Vec::new()), Ok(String::new()));
    }

    #[test]
    fn faults_say_where() {
        assert_eq!(decode(b"a\nb\xe9\n".to_vec()), Err(DecodeFault::NotUtf8 { offset: 3, line: 2 }));
        assert_eq!(decode(b"a\n\0".to_vec()), Err(DecodeFault::Binary { offset: 2, line: 2, valid: 3 }));
        assert_eq!(decode(b"\xff\xfea\0".to_vec()), Err(DecodeFault::Binary { offset: 3, line: 1, valid: 0 }));
        assert_eq!(decode(vec![b' '; LARGEST + 1]), Err(DecodeFault::TooLarge { length: LARGEST + 1 }));
        assert!(decode(vec![b' '; LARGEST]).is_ok());
    }

    #[test]
    fn the_span_fits_the_lossy_text() {
        for bytes in [&b"a\nb\xe9\n"[..], b"\xff\xfea\0", b"\xe9\0"] {
            let fault = decode(bytes.to_vec()).unwrap_err();
            let span = decode_diagnostic(&fault, FileId(0)).span();
            assert!(String::from_utf8_lossy(bytes).is_char_boundary(span.start));
        }
    }
}
