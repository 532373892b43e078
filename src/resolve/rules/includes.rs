//! The rules of `include`, and of files that nothing includes.

use crate::base::wording::{are_numbered_apart, did_you_mean, kdl_text, same_letters, thousands};
use crate::base::{Span, Spanned};
use crate::diag::{Basis, Certainty, Diagnostic, Rule};
use crate::resolve::load::ReadFault;
use crate::resolve::path::PathFault;
use crate::rule;

pub(super) static INCLUDE_UNREADABLE: Rule =
    rule!("include-unreadable", Basis::Language, "an included file that could not be read");
pub(super) static INCLUDE_OUTSIDE: Rule =
    rule!("include-outside", Basis::Language, "an include whose path does not go down from the site's folder");
pub(super) static INCLUDE_OF_REGISTER: Rule =
    rule!("include-of-register", Basis::Language, "an include of register.kdl");
pub(super) static INCLUDE_CYCLE: Rule =
    rule!("include-cycle", Basis::Language, "files that include each other in a circle");
pub(super) static INCLUDE_TOO_MANY: Rule =
    rule!("include-too-many", Basis::Language, "more files, or longer ones, than one site may include");
pub(super) static FILE_LEFT_OUT: Rule =
    rule!("file-left-out", Basis::NoEffect, "a file of the site's folder that nothing includes");

/// An included file that could not be read.
pub(crate) fn include_unreadable(written: &Spanned<String>, fault: &ReadFault, known: &[String]) -> Diagnostic {
    let found =
        Diagnostic::new(&INCLUDE_UNREADABLE, written.span, format!("`{}` could not be read: {fault}", written.value))
            .here("included here")
            .why("Whatever stands in that file is missing now, so nothing else is concluded from what is missing.");
    let asked = written.value.trim_matches(['<', '>']);
    let names = || known.iter().map(String::as_str).filter(|path| *path != crate::resolve::load::SITE_FILE);
    let same = |path: &&str| same_letters(path, asked) || same_letters(path, &format!("{asked}.kdl"));
    match names().find(same).or_else(|| did_you_mean(asked, names()).filter(|near| !are_numbered_apart(near, asked))) {
        Some(near) => found.help(format!("Did you mean {}?", include_line(near))).edit(
            Certainty::Likely,
            written.span,
            kdl_text(near),
        ),
        None => found.help("Correct the path; it is relative to the site's folder."),
    }
}

/// An include that leads out.
pub(crate) fn include_outside(written: &Spanned<String>, fault: &PathFault) -> Diagnostic {
    let what = fault.words(&written.value);
    let found =
        Diagnostic::new(&INCLUDE_OUTSIDE, written.span, format!("`{}` {what}", written.value)).here("not allowed");
    if let PathFault::Written(path) = fault {
        return found
            .why("A path goes down from the site's folder, with / between the folders: so it means the same file on every system.")
            .help(format!("Write {}.", include_line(path)))
            .edit(Certainty::Certain, written.span, kdl_text(path));
    }
    found
        .why("A spec reads only its own folder and the shared parts folder beside it. So it can be copied, mailed and compiled by others without reading anything of theirs.")
        .help("Move the file into the site's folder and include it as \"name.kdl\", or into the shared parts folder as \"../parts/name.kdl\".")
}

/// An include of the register; `line` is all of it.
pub(crate) fn include_of_register(written: &Spanned<String>, line: Span) -> Diagnostic {
    Diagnostic::new(&INCLUDE_OF_REGISTER, written.span, "the register is no file of the spec")
        .here("read by itself")
        .why("Every command reads the register beside the spec. What stands in it has no meaning in a spec.")
        .help("Take this line out.")
        .edit(Certainty::Certain, line, "")
}

/// The line that includes a file.
pub(super) fn include_line(path: &str) -> String {
    format!("include {}", kdl_text(path))
}

/// Files that include each other.
pub(crate) fn include_cycle(span: Span, circle: &[&str]) -> Diagnostic {
    Diagnostic::new(&INCLUDE_CYCLE, span, "files include each other in a circle")
        .here("closes the circle")
        .why(format!("The circle is {}. Every file is read once, so this include has no effect.", circle.join(" → ")))
        .help("Remove this include: all files of a site see each other's names anyway.")
}

/// A file of the site's folder that nothing includes. `site` is where the site is named, `behind` where an include may stand.
pub(crate) fn file_left_out(path: &str, site: Span, behind: Span) -> Diagnostic {
    let line = include_line(path);
    Diagnostic::new(&FILE_LEFT_OUT, site, format!("`{path}` is included by nothing"))
        .here("includes no such file")
        .why("A file counts only where site.kdl, or a file that it includes, names it: nothing that stands in this one is checked or printed.")
        .help(format!("Write {line}; or, if it is not to count, give it another ending than .kdl."))
        .edit(Certainty::Likely, behind, format!("\n\n{line}"))
        .about(path)
}

/// More files than one site may include.
pub(crate) fn include_too_many(written: &Spanned<String>) -> Diagnostic {
    Diagnostic::new(&INCLUDE_TOO_MANY, written.span, format!("`{}` is one file too many", written.value))
        .here("not read")
        .why(format!("One site includes at most {} files.", crate::resolve::load::MOST_FILES))
        .help("Join some of the files.")
}

/// More text than one site may include.
pub(crate) fn include_too_long(written: &Spanned<String>) -> Diagnostic {
    Diagnostic::new(&INCLUDE_TOO_MANY, written.span, format!("`{}` is one file too many", written.value))
        .here("not read")
        .why(format!("With it the files of this site are longer than {} bytes together, which is far past any house. Mostly a script has gone wrong.", thousands(crate::resolve::load::MOST_BYTES)))
        .help("Take out what is not needed, or divide it into several sites.")
}
