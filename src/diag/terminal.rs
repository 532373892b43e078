//! Diagnostics drawn for a terminal: heading, snippets, the paragraph, figures, help.
//!
//! miette draws the snippets and nothing else; one of its reports shows labels of a single file, so each file
//! involved gets its own. Everything that comes from a spec passes [`neutral`](super::neutral) first.

use std::fmt::Write;

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, SourceCode};

use super::excerpt::{CONTEXT, Excerpt};
use super::neutral::{shown, words};
use super::wrap::{fit, wrap};
use super::{Diagnostic, Label, Severity};
use crate::base::wording::{count, cut, length};
use crate::base::{FileId, Sources};

/// Labels drawn of one diagnostic; more are counted.
const MOST_LABELS: usize = 16;
/// Prose is not set wider than this, however wide the terminal.
const WIDEST_PROSE: usize = 100;
/// Lines shown of what a fix changes in a file; more are counted.
const MOST_CHANGES: usize = 8;
/// The columns before a changed line.
const CHANGE_MARGIN: usize = 11;

/// How to draw: all of it is the caller's choice, nothing is asked of the surroundings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Colour by escape sequences.
    pub colour: bool,
    /// Lines and arrows by box-drawing characters, otherwise by ASCII. Text of the spec is shown as written.
    pub unicode: bool,
    /// Columns of the terminal; `None` for a pipe or a file, which get prose as wide as a page and source as it is.
    pub width: Option<usize>,
}

impl Look {
    /// No colour, box-drawing characters: what tests compare with.
    pub const PLAIN: Self = Self { colour: false, unicode: true, width: None };

    /// The columns that prose may take.
    pub(crate) fn prose_width(self) -> usize {
        self.width.unwrap_or(WIDEST_PROSE).clamp(20, WIDEST_PROSE)
    }

    /// Lines as the terminal can show them: those that are too wide are broken at blanks.
    pub(crate) fn fit(self, text: &str) -> String {
        self.width.map_or_else(|| text.to_owned(), |width| fit(text, width))
    }

    /// A heading, in bold where there is colour.
    pub(crate) fn heading(self, text: &str) -> String {
        if self.colour { format!("\u{1b}[1m{text}\u{1b}[0m") } else { text.to_owned() }
    }

    /// A severity's word, in its colour where there is colour.
    pub(crate) fn severity(self, severity: Severity) -> String {
        let styles = self.theme().styles;
        let style = match severity {
            Severity::Error => styles.error,
            Severity::Warning => styles.warning,
            Severity::Note => styles.advice,
        };
        self.heading(&style.style(severity.word()).to_string())
    }

    fn theme(self) -> GraphicalTheme {
        match (self.colour, self.unicode) {
            (true, true) => GraphicalTheme::unicode(),
            (false, true) => GraphicalTheme::unicode_nocolor(),
            (true, false) => GraphicalTheme::ascii(),
            (false, false) => GraphicalTheme::none(),
        }
    }
}

/// Draws one diagnostic; the result ends with a line end.
pub(crate) fn draw(look: Look, sources: &Sources, diagnostic: &Diagnostic) -> String {
    let handler = GraphicalReportHandler::new_themed(look.theme())
        .with_width(look.width.unwrap_or(WIDEST_PROSE))
        .with_context_lines(CONTEXT)
        .with_links(false)
        .without_syntax_highlighting();
    let mut drawn = heading(look, diagnostic);
    for (rank, (file, labels)) in by_file(diagnostic).into_iter().enumerate() {
        if let Some(file) = sources.get(file) {
            drawn.push_str(&Snippet(Excerpt::new(file, &labels, rank == 0, look.width)).draw(&handler));
        }
    }
    if let Some(more) = diagnostic.labels.len().checked_sub(MOST_LABELS).filter(|more| *more > 0) {
        let _ = writeln!(drawn, "  and {}", count(more, "more place", None));
    }
    drawn.push_str(&wrap(&words(&diagnostic.paragraph), "  ", look.prose_width()));
    for figure in &diagnostic.figures {
        drawn.push_str(&fit(&format!("    {}\n", words(figure)), look.prose_width()));
    }
    for (word, text) in [("help", Some(&diagnostic.help)), ("accepted", diagnostic.accepted.as_ref())] {
        if let Some(text) = text.filter(|text| !text.is_empty()) {
            let lines = wrap(&format!("{word}: {}", words(text)), "    ", look.prose_width());
            let lines = lines.trim_start();
            let styled = look.theme().styles.help.style(word).to_string();
            let _ = write!(drawn, "  {styled}{}", lines.strip_prefix(word).unwrap_or(lines));
        }
        if word == "help" {
            drawn.push_str(&changes(look, sources, diagnostic));
        }
    }
    let _ = writeln!(drawn, "  more: loopwright explain {}", diagnostic.rule.slug);
    drawn
}

/// The lines that the fix of a finding changes, before and after.
fn changes(look: Look, sources: &Sources, diagnostic: &Diagnostic) -> String {
    let Some(fix) = &diagnostic.fix else { return String::new() };
    let mut drawn = String::new();
    let stands = |file: FileId| file == diagnostic.span().file;
    for (id, file) in fix.files().into_iter().filter_map(|id| Some((id, sources.get(id)?))) {
        if !stands(id) {
            let _ = writeln!(drawn, "    {}", shown(&file.path));
        }
        let lines = fix.changed_lines(id, file);
        for line in lines.iter().take(MOST_CHANGES) {
            let number = if line.new { String::new() } else { line.number.to_string() };
            let sign = if line.new { '+' } else { '-' };
            let room = look.width.map_or(WIDEST_PROSE, |width| width.max(40)) - CHANGE_MARGIN;
            let _ = writeln!(drawn, "  {number:>6} {sign} {}", around(&line.text, line.at, room));
        }
        if let Some(more) = lines.len().checked_sub(MOST_CHANGES).filter(|more| *more > 0) {
            let _ = writeln!(drawn, "         … {}", count(more, "more line", None));
        }
    }
    drawn
}

/// A line without the blanks before it; of one that is too long what stands around a byte of it.
fn around(line: &str, at: usize, room: usize) -> String {
    let line = words(line);
    let text = line.trim();
    let at = at.saturating_sub(line.len() - line.trim_start().len()).min(text.len());
    if length(text) <= room {
        return text.to_owned();
    }
    let before = text.get(..text.floor_char_boundary(at)).unwrap_or_default();
    let lead = length(before);
    let from = if lead > room / 2 { lead - room / 3 } else { 0 };
    let rest: String = text.chars().skip(from).collect();
    let start = if from > 0 { "…" } else { "" };
    let end = if length(&rest) > room - 2 { "…" } else { "" };
    format!("{start}{}{end}", cut(&rest, room - 2))
}

/// `error: input 3 of main is used twice [input-twice]`, wrapped.
fn heading(look: Look, diagnostic: &Diagnostic) -> String {
    let word = diagnostic.severity().word();
    let text = format!("{word}: {} [{}]", words(&diagnostic.title), diagnostic.rule.slug);
    let lines = wrap(&text, "  ", look.prose_width());
    let lines = lines.trim_start();
    format!("{}{}", look.severity(diagnostic.severity()), lines.strip_prefix(word).unwrap_or(lines))
}

/// The labels drawn, by file; files in the order in which they first come up.
fn by_file(diagnostic: &Diagnostic) -> Vec<(FileId, Vec<&Label>)> {
    let mut files: Vec<(FileId, Vec<&Label>)> = Vec::new();
    for label in diagnostic.labels.iter().take(MOST_LABELS) {
        match files.iter_mut().find(|(file, _)| *file == label.span.file) {
            Some((_, labels)) => labels.push(label),
            None => files.push((label.span.file, vec![label])),
        }
    }
    files
}

/// A report without words: miette draws its snippet and an empty line of message, which is taken off.
#[derive(Debug)]
struct Snippet(Excerpt);

impl Snippet {
    fn draw(&self, handler: &GraphicalReportHandler) -> String {
        let mut drawn = String::new();
        // Writing into a string does not fail, and an excerpt holds every place that its labels name.
        let _ = handler.render_report(&mut drawn, self);
        let snippet = drawn.split_once('\n').map_or("", |(_message, snippet)| snippet);
        snippet.lines().fold(String::new(), |all, line| all + line.trim_end() + "\n")
    }
}

impl std::fmt::Display for Snippet {
    fn fmt(&self, _: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        Ok(())
    }
}

impl std::error::Error for Snippet {}

impl miette::Diagnostic for Snippet {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.0)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.0.labels()))
    }
}
