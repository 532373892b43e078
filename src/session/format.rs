//! The layout of one file, for the command line and for editors.

use std::path::{Component, Path};

use crate::diag::neutral;
use crate::format::differences::{Difference, differences};
use crate::format::{self, Unsure};
use crate::register_file;
use crate::resolve::load::{self, FileSource};
use crate::resolve::secrets;
use crate::syntax;

/// A file that has been laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formatted {
    old: String,
    /// The new text.
    pub text: String,
    /// The lines, from 1, on which something starts that is not understood and stays as it is.
    pub kept: Vec<usize>,
}

/// Why a file stays as it is.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unformatted {
    /// It is no text that a spec may be.
    #[error("{0}")]
    NotText(String),
    /// A fault of the program, which it has noticed.
    #[error("{0}")]
    Unsure(#[from] Unsure),
}

/// Lays out one file, whichever part of a site it is; a register may be longer than other files.
///
/// # Errors
/// Where its bytes are no text, or the result is not what was promised.
pub fn format(path: &Path, bytes: Vec<u8>) -> Result<Formatted, Unformatted> {
    let register = path.components().next_back() == Some(Component::Normal(register_file::FILE.as_ref()));
    let largest = if register { register_file::LARGEST } else { syntax::LARGEST };
    let old = syntax::decode_within(bytes, largest).map_err(|fault| Unformatted::NotText(fault.to_string()))?;
    let format::Formatted { text, kept } = format::format(&old)?;
    Ok(Formatted { old, text, kept })
}

/// A text of our own as `fmt` would leave it.
pub(super) fn laid_out(text: String) -> String {
    format::format(&text).map_or(text, |formatted| formatted.text)
}

impl Formatted {
    /// The lines that differ, each with its number and `-` for an old or `+` for a new one. What looks like a secret is
    /// masked, and white space that cannot be seen is shown.
    pub fn differences(&self) -> Vec<String> {
        let (old, new) = (masked(&self.old), masked(&self.text));
        let told = differences(&old, &new).into_iter().map(|Difference { line, new, text }| {
            let text = text.strip_suffix('\n').unwrap_or(text);
            let words = text.trim_end_matches(' ');
            let blanks = "·".repeat(text.len() - words.len());
            format!("{line:>5} {} {}{blanks}", if new { '+' } else { '-' }, neutral::shown(words))
        });
        told.map(|line| line.trim_end().to_owned()).collect()
    }
}

fn masked(text: &str) -> String {
    secrets::mask(text, &secrets::find(text))
}

/// The paths of the files that a site is made of: `site.kdl`, all that it includes, and its register if it is there.
pub fn files(files: &dyn FileSource) -> Vec<String> {
    let mut paths = load::paths(files);
    if files.read(register_file::FILE).is_ok() {
        paths.push(register_file::FILE.to_owned());
    }
    paths
}
