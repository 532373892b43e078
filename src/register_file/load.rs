//! Gets the register's file, and takes in its text.

use crate::base::{FileId, SourceFile, Sources, Span};
use crate::diag::Sink;
use crate::register::Register;
use crate::resolve;
use crate::resolve::load::{FileSource, ReadFault};
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

/// Reads the register of a site, and adds its text to the sources.
pub(crate) fn load(files: &dyn FileSource, sources: &mut Sources, sink: &mut Sink) -> Found {
    let bytes = match files.read(FILE) {
        Err(ReadFault::Missing) => return Found { whole: true, ..Found::default() },
        Err(ReadFault::TooLarge(size)) => {
            let file = sources.add(SourceFile::of_site(FILE, files.shown(FILE), ""));
            let fault = format!("it is {size} bytes long, and a register is at most 8 MiB");
            sink.push(rules::unreadable(Span::new(file, 0, 0), &fault));
            return Found { file: Some(file), text: Some(String::new()), ..Found::default() };
        }
        Err(fault) => {
            let file = sources.add(SourceFile::of_site(FILE, files.shown(FILE), ""));
            sink.push(rules::unreadable(Span::new(file, 0, 0), &fault.to_string()));
            return Found { file: Some(file), text: Some(String::new()), ..Found::default() };
        }
        Ok(bytes) => bytes,
    };
    let lossy = String::from_utf8_lossy(&bytes).into_owned();
    let text = match syntax::decode_within(bytes, LARGEST) {
        Ok(text) => text,
        Err(fault) => {
            let file = sources.add(SourceFile::of_site(FILE, files.shown(FILE), lossy));
            sink.push(syntax::decode_diagnostic(&fault, file));
            return Found { file: Some(file), text: Some(String::new()), ..Found::default() };
        }
    };
    // The text itself is kept for rewriting; all that is read and quoted is the masked one.
    let masked = resolve::text::read(sources, (FILE, &files.shown(FILE)), &text, files.remembered());
    let file = masked.id;
    let mut found = Sink::default();
    found.extend(masked.secrets.iter().map(|secret| resolve::rules::secret(file, FILE, secret)));
    // Beside a secret nothing else is worth saying.
    let register = if found.has_errors() {
        Register::default()
    } else {
        read::read((file, &masked.source.text), &masked.document, masked.found.clone(), &mut found)
    };
    let whole = !found.has_errors();
    sink.extend(found.found().iter().cloned());
    let register = if whole { register } else { Register::default() };
    Found { register, text: Some(text), file: Some(file), whole }
}
