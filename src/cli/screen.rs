//! Where the program prints: the two streams, the form of output, and how the terminal wants it drawn.

use std::io::{ErrorKind, IsTerminal, Write};

use clap::ValueEnum;

use super::{Stop, plain};
use crate::diag::neutral::shown;
use crate::diag::{Format, Look, Severity};

/// A terminal is taken to have at least so many columns …
const NARROWEST: usize = 40;
/// … and no more than these.
const WIDEST: usize = 500;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum FormatChoice {
    /// Drawn, with the lines of the spec
    #[default]
    Human,
    /// One line each, for grep and editors
    Short,
    /// One document for programs
    Json,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum ColourChoice {
    #[default]
    Auto,
    Always,
    Never,
}

/// The two streams and the form of what is printed on the first.
pub(super) struct Screen<'a> {
    pub(super) format: Format,
    /// What people are told of findings, if not all.
    pub(super) least: Option<Severity>,
    /// True where people look on while the program works: the second stream is a terminal that can take a line back.
    pub(super) is_watched: bool,
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
}

/// What of the surroundings has a say in how to draw.
#[derive(Clone, Debug, Default)]
struct Surroundings {
    terminal: bool,
    no_color: Option<String>,
    term: Option<String>,
    /// What the user asks for, by the variable `COLUMNS`.
    columns: Option<String>,
    /// What the terminal says of itself.
    width: Option<usize>,
    locale: Option<String>,
}

impl<'a> Screen<'a> {
    pub(super) fn new(format: Format, out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Self { format, least: None, is_watched: false, out, err }
    }

    /// The screen of this process, by its arguments, its standard output and its environment.
    pub(super) fn of_process(
        format: FormatChoice,
        colour: ColourChoice,
        out: &'a mut dyn Write,
        err: &'a mut dyn Write,
    ) -> Self {
        let variable = |name| std::env::var(name).ok().filter(|value| !value.is_empty());
        let surroundings = Surroundings {
            terminal: std::io::stdout().is_terminal(),
            no_color: variable("NO_COLOR"),
            term: variable("TERM"),
            columns: variable("COLUMNS"),
            width: terminal_size::terminal_size_of(std::io::stdout()).map(|(width, _)| usize::from(width.0)),
            locale: variable("LC_ALL").or_else(|| variable("LC_CTYPE")).or_else(|| variable("LANG")),
        };
        let format = match format {
            FormatChoice::Human => Format::Human(look(colour, &surroundings)),
            FormatChoice::Short => Format::Short,
            FormatChoice::Json => Format::Json,
        };
        let is_watched = std::io::stderr().is_terminal() && surroundings.term.as_deref() != Some("dumb");
        Self { is_watched, ..Self::new(format, out, err) }
    }

    /// Prints a result. A reader that has left, as `head` does, is no fault.
    pub(super) fn print(&mut self, text: &str) -> Result<(), Stop> {
        match self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush()) {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                Err(Stop::new(format!("cannot print the result: {}", plain(&error))))
            }
            _ => Ok(()),
        }
    }

    /// Prints why something could not be done.
    pub(super) fn stop(&mut self, stop: &Stop) {
        let help = stop.help.as_ref().map_or_else(String::new, |help| format!("  help: {}\n", shown(help)));
        let text = format!("error: {}\n{help}", shown(&stop.message));
        self.complain(&if let Format::Human(look) = self.format { look.fit(&text) } else { text });
    }

    /// Prints what went wrong; where even that cannot be printed, the exit code has to do.
    pub(super) fn complain(&mut self, text: &str) {
        let _ = self.err.write_all(text.as_bytes());
    }
}

fn look(colour: ColourChoice, surroundings: &Surroundings) -> Look {
    let dumb = surroundings.term.as_deref() == Some("dumb");
    let colour = match colour {
        ColourChoice::Always => true,
        ColourChoice::Never => false,
        ColourChoice::Auto => surroundings.terminal && surroundings.no_color.is_none() && !dumb,
    };
    // A pipe gets the same bytes wherever the program runs; a terminal gets only what it can show.
    let narrow = surroundings.locale.as_deref().is_some_and(|locale| {
        let locale = locale.to_ascii_lowercase();
        !locale.contains("utf-8") && !locale.contains("utf8")
    });
    let unicode = !surroundings.terminal || !(dumb || narrow);
    let columns = surroundings.columns.as_deref().and_then(|columns| columns.parse().ok()).or(surroundings.width);
    let width = columns.filter(|_| surroundings.terminal).map(|columns| columns.clamp(NARROWEST, WIDEST));
    Look { colour, unicode, width }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn terminal() -> Surroundings {
        Surroundings { terminal: true, locale: Some("en_US.UTF-8".into()), ..Surroundings::default() }
    }

    #[test]
    fn auto_colours_a_terminal_unless_told_otherwise() {
        assert!(look(ColourChoice::Auto, &terminal()).colour);
        assert!(!look(ColourChoice::Auto, &Surroundings::default()).colour);
        let no_color = Surroundings { no_color: Some("1".into()), ..terminal() };
        assert!(!look(ColourChoice::Auto, &no_color).colour);
        assert!(look(ColourChoice::Always, &no_color).colour);
        assert!(!look(ColourChoice::Never, &terminal()).colour);
        assert!(!look(ColourChoice::Auto, &Surroundings { term: Some("dumb".into()), ..terminal() }).colour);
    }

    #[test]
    fn a_terminal_without_unicode_gets_ascii_and_a_pipe_is_always_the_same() {
        let narrow = Surroundings { locale: Some("C".into()), columns: Some("60".into()), ..terminal() };
        assert!(!look(ColourChoice::Auto, &narrow).unicode);
        assert_eq!(look(ColourChoice::Auto, &narrow).width, Some(60));
        assert_eq!(look(ColourChoice::Auto, &Surroundings { terminal: false, ..narrow }), Look::PLAIN);
    }

    #[test]
    fn the_terminal_says_how_wide_it_is_unless_the_user_does() {
        let width = |columns: Option<&str>, width| {
            let surroundings = Surroundings { columns: columns.map(str::to_owned), width, ..terminal() };
            look(ColourChoice::Auto, &surroundings).width
        };
        assert_eq!(width(None, Some(72)), Some(72));
        assert_eq!(width(Some("60"), Some(72)), Some(60));
        assert_eq!(width(Some("wide"), Some(72)), Some(72));
        assert_eq!(width(None, None), None);
        assert_eq!(width(None, Some(0)), Some(NARROWEST));
    }

    #[test]
    fn only_a_broken_pipe_is_forgiven() {
        struct Broken(ErrorKind);
        impl Write for Broken {
            fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
                Err(self.0.into())
            }
            fn flush(&mut self) -> std::io::Result<()> {
                Ok(())
            }
        }
        let mut err = Vec::new();
        assert_eq!(Screen::new(Format::Short, &mut Broken(ErrorKind::BrokenPipe), &mut err).print("x"), Ok(()));
        assert!(Screen::new(Format::Short, &mut Broken(ErrorKind::StorageFull), &mut err).print("x").is_err());
    }
}
