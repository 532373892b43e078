//! Gets the register's file, and takes in its text.

use crate::base::{FileId, SourceFile, Sources, Span};
use crate::diag::{Diagnostic, Sink};
use crate::model::Site;
use crate::register::Register;
use crate::resolve;
use crate::resolve::load::{FileSource, ReadFault};
use crate::resolve::text::Text;
use crate::syntax;

use super::{FILE, LARGEST, read, rules};

/// What stands beside `site.kdl`.
#[derive(Debug, Default)]
pub(crate) struct Found {
    /// What it says; empty where there is no such file, or where it could not be read whole.
    pub(crate) register: Register,
    /// Its text; `None` where there is no such file.
    pub(crate) text: Option<String>,
    /// The file, for findings about it.
    pub(crate) file: Option<FileId>,
    /// False where something in it was reported: then nothing may be written over it.
    pub(crate) whole: bool,
}

/// What the system gave.
pub(crate) enum Fetched {
    /// There is no such file.
    Missing,
    /// It could not be read; why.
    Unreadable(String),
    /// It is no text; what can be shown of it.
    NotText(syntax::DecodeFault, String),
    /// Its text.
    Text(String),
}

impl Fetched {
    /// Path and text, where there is one, for [`resolve::resolve_beside`].
    pub(crate) fn text(&self) -> Option<(&str, &str)> {
        if let Self::Text(text) = self { Some((FILE, text)) } else { None }
    }
}

/// Gets the file.
pub(crate) fn fetch(files: &dyn FileSource) -> Fetched {
    let bytes = match files.read(FILE) {
        Err(ReadFault::Missing) => return Fetched::Missing,
        Err(ReadFault::TooLarge(size)) => {
            return Fetched::Unreadable(format!("it is {size} bytes long, and a register is at most 8 MiB"));
        }
        Err(fault) => return Fetched::Unreadable(fault.to_string()),
        Ok(bytes) => bytes,
    };
    let lossy = String::from_utf8_lossy(&bytes).into_owned();
    syntax::decode_within(bytes, LARGEST).map_or_else(|fault| Fetched::NotText(fault, lossy), Fetched::Text)
}

/// Reads the register of a site, which is held against the boards of the spec where that could be read. Its text has been masked and parsed with the spec; a file without one is added to the
/// sources here.
pub(crate) fn load(
    fetched: Fetched,
    masked: Option<&Text>,
    shown: String,
    site: Option<&Site>,
    sources: &mut Sources,
    sink: &mut Sink,
) -> Found {
    let mut refused = |text: String, told: &dyn Fn(FileId) -> Diagnostic| {
        let file = sources.add(SourceFile::of_site(FILE, shown.as_str(), text));
        sink.push(told(file));
        Found { file: Some(file), text: Some(String::new()), ..Found::default() }
    };
    let text = match fetched {
        Fetched::Missing => return Found { whole: true, ..Found::default() },
        Fetched::Unreadable(fault) => {
            return refused(String::new(), &|file| rules::unreadable(Span::new(file, 0, 0), &fault));
        }
        Fetched::NotText(fault, lossy) => return refused(lossy, &|file| syntax::decode_diagnostic(&fault, file)),
        Fetched::Text(text) => text,
    };
    // The text itself is kept for rewriting; all that is read and quoted is the masked one.
    let Some(masked) = masked else { return Found { text: Some(text), ..Found::default() } };
    let mut found = Sink::default();
    found.extend(masked.secrets.iter().map(|secret| resolve::rules::secret(masked.id, FILE, secret)));
    // Beside a secret nothing else is worth saying.
    let register = if found.has_errors() {
        Register::default()
    } else {
        read::read((masked.id, &masked.source.text), &masked.document, masked.found.clone(), &mut found)
    };
    // Entries that are wrong by themselves are told first.
    if let Some(site) = site.filter(|_| !found.has_errors()) {
        read::ways_twice(&register, site, &mut found);
    }
    let whole = !found.has_errors();
    sink.extend(found.found().iter().cloned());
    let register = if whole { register } else { Register::default() };
    Found { register, text: Some(text), file: Some(masked.id), whole }
}
