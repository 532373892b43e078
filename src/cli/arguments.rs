//! The arguments and their help.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use super::examples::{
    CHECK_EXAMPLES, COMPILE_EXAMPLES, DIAGNOSE_EXAMPLES, DIFF_EXAMPLES, EVENT_EXAMPLES, EXAMPLES, EXPLAIN_EXAMPLES,
    FMT_EXAMPLES, LIST_EXAMPLES, LSP_EXAMPLES, NEW_EXAMPLES, PORTFOLIO_EXAMPLES, READINGS_EXAMPLES, REFERENCE_EXAMPLES,
    TEXTCONV_EXAMPLES, WATCH_EXAMPLES, WHY_EXAMPLES,
};
use super::list::Listed;
use super::portfolio;
use super::screen::{ColourChoice, FormatChoice};
use crate::diag::Severity;
use crate::session::{self, Reader};

/// Compiles a plain-text spec of a house's alarm wiring into diagnostics and the printed paper the job needs.
#[derive(Debug, Parser)]
#[command(version, about, after_help = EXAMPLES)]
pub(crate) struct Arguments {
    /// How to print what is found
    #[arg(long, global = true, value_enum, default_value_t, value_name = "FORM")]
    pub(super) format: FormatChoice,

    /// When to colour; `auto` colours a terminal unless `NO_COLOR` is set
    #[arg(long, global = true, value_enum, default_value_t, value_name = "WHEN", alias = "colour")]
    pub(super) color: ColourChoice,

    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum DiffForm {
    /// A short list, for a terminal, a commit message, a pull request
    #[default]
    Text,
    /// The work order as Markdown
    Markdown,
    /// The work order as a page to print
    Html,
    /// Everything, for programs
    Json,
    /// The schema of the JSON
    JsonSchema,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ReaderChoice {
    /// Cables: plans, lengths, labels, cautions; nothing of arming or weaknesses
    Electrician,
    /// Everything
    Installer,
    /// Zones and events; nothing of the wiring
    Monitoring,
    /// What there is and what is open, coverage, upkeep, the household's guide
    Owner,
    /// A file for each of them
    All,
}

/// The readers that were chosen.
pub(super) fn readers(choices: &[ReaderChoice]) -> Vec<Reader> {
    let chosen = |choice| choices.contains(&choice) || choices.contains(&ReaderChoice::All);
    let of = [
        (ReaderChoice::Electrician, Reader::Electrician),
        (ReaderChoice::Installer, Reader::Installer),
        (ReaderChoice::Monitoring, Reader::MonitoringService),
        (ReaderChoice::Owner, Reader::Owner),
    ];
    of.into_iter().filter(|(choice, _)| chosen(*choice)).map(|(_, reader)| reader).collect()
}

/// How findings are told, and which of them fail the run.
#[derive(Clone, Copy, Debug, Default, Args)]
pub(super) struct CheckHow {
    /// A form for programs, in place of --format
    #[arg(long = "as", value_enum, value_name = "FORM", conflicts_with = "format")]
    pub(super) form: Option<CheckForm>,

    /// Fail on findings of this severity too, but for those that the site accepts
    #[arg(long, value_enum, value_name = "SEVERITY")]
    pub(super) deny: Option<Denied>,

    /// Print only findings of this severity or above that the site does not accept; all are counted
    #[arg(long, value_enum, value_name = "SEVERITY", conflicts_with = "form")]
    pub(super) least: Option<Least>,

    /// Print nothing but how many findings there are
    #[arg(long, conflicts_with = "form")]
    pub(super) quiet: bool,

    /// Make the changes that findings propose, in the files; those that a person should confirm only with --fix=likely
    #[arg(long, value_enum, value_name = "WHICH", num_args = 0..=1, require_equals = true, default_missing_value = "certain")]
    pub(super) fix: Option<Fixes>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Fixes {
    /// Those that say what the old text meant
    Certain,
    /// Also guesses, as at a misspelt name
    Likely,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum CheckForm {
    /// SARIF 2.1.0, for code hosts and editors
    Sarif,
    /// Lines that several CI services show beside the code: `::error file=…,line=…::…`
    Annotations,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Denied {
    /// Errors and warnings
    Warning,
    /// Every finding
    Note,
}

/// The least severity that is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Least {
    /// Errors
    Error,
    /// Errors and warnings
    Warning,
    /// Every finding that is not accepted
    Note,
}

impl Least {
    pub(super) fn severity(self) -> Severity {
        match self {
            Self::Error => Severity::Error,
            Self::Warning => Severity::Warning,
            Self::Note => Severity::Note,
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Check sites and print what is found
    #[command(after_help = CHECK_EXAMPLES)]
    Check {
        /// A site's folder, its site.kdl, or a folder that holds sites
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,

        #[command(flatten)]
        how: CheckHow,
    },

    /// Check sites and write the packet of each one that has no error
    #[command(after_help = COMPILE_EXAMPLES)]
    Compile {
        /// A site's folder, its site.kdl, or a folder that holds sites
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,

        /// Where to write; each site gets a folder of its name in it
        #[arg(long, value_name = "DIR", default_value = "out")]
        out: PathBuf,

        /// Print only findings of this severity or above that the site does not accept; all are counted
        #[arg(long, value_enum, value_name = "SEVERITY")]
        least: Option<Least>,

        /// Fail where register.kdl would change, and write nothing for that site; for CI
        #[arg(long, conflicts_with = "since")]
        frozen: bool,

        /// Mark what differs from this git revision or folder, and add the work order that leads here from it
        #[arg(long, value_name = "REV|PATH")]
        since: Option<String>,

        /// Whose sheets to join in one file, to hand over; may be given several times
        #[arg(long = "for", value_enum, value_name = "READER", default_value = "all")]
        readers: Vec<ReaderChoice>,

        /// Print the joined files as PDF as well, by a browser of this machine; `LOOPWRIGHT_BROWSER` names one that is not found
        #[arg(long)]
        pdf: bool,
    },

    /// Compile a site whenever it changes, and show its packet in a browser of this machine
    #[command(after_help = WATCH_EXAMPLES)]
    Watch {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// The port on the loopback address; 0 for one that is free
        #[arg(long, value_name = "PORT", default_value_t)]
        port: u16,
    },

    /// Say what changed between two revisions of a site, as a list or as a work order
    #[command(after_help = DIFF_EXAMPLES)]
    Diff {
        /// Revisions as git names them, a folder or site.kdl, or REV:PATH; see the examples
        #[arg(value_name = "REV|PATH", num_args = 0..=3)]
        sides: Vec<String>,

        /// The form: a short list, or the work order
        #[arg(long = "as", value_enum, default_value_t, value_name = "FORM", conflicts_with = "format")]
        form: DiffForm,

        /// Of a work order, only the part for whoever does the wiring
        #[arg(long)]
        wiring: bool,
    },

    /// Start a site: a folder with a first spec, the shared parts, and what git is to know
    #[command(after_help = NEW_EXAMPLES)]
    New {
        /// The folder to make; its last name is the site's
        #[arg(value_name = "NAME")]
        folder: PathBuf,

        /// Take rooms, openings and zones from a table: CSV with the columns zone, room, opening and kind
        #[arg(long, value_name = "TABLE.csv")]
        from: Option<PathBuf>,
    },

    /// Lay out spec files: indentation, spaces, columns, blank lines; nothing else changes
    #[command(after_help = FMT_EXAMPLES)]
    Fmt {
        /// A .kdl file, a site's folder, a folder that holds sites; `-` reads the input and prints the result
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,

        /// Write nothing; show what would change, and end with 1 where something would
        #[arg(long)]
        check: bool,
    },

    /// Print one spec file as a plain list, for `git diff`
    #[command(after_help = TEXTCONV_EXAMPLES)]
    Textconv {
        /// A .kdl file; a part of a site will do
        #[arg(value_name = "FILE")]
        file: PathBuf,

        /// Another one: then what differs is printed, for `git difftool`
        #[arg(value_name = "OTHER")]
        other: Option<PathBuf>,
    },

    /// Print a table of a site: zones, cables, loads, terminals, what is bought …
    #[command(after_help = LIST_EXAMPLES)]
    List {
        /// Which table
        #[arg(value_enum, value_name = "TABLE")]
        table: Listed,

        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// Only rows with this text, or with it in one column
        #[arg(value_name = "TEXT|COLUMN=TEXT")]
        wanted: Vec<String>,

        /// Only these columns, in this order
        #[arg(long, value_name = "NAMES", value_delimiter = ',')]
        columns: Vec<String>,

        /// Print it as the CSV file of the packet
        #[arg(long)]
        csv: bool,
    },

    /// Print a line for each of many sites: what was found, what comes due, how much is to spare
    #[command(after_help = PORTFOLIO_EXAMPLES)]
    Portfolio(portfolio::Asked),

    /// Print how the figures of a loop, a supply, a battery or a bus are computed
    #[command(after_help = WHY_EXAMPLES)]
    Why {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// What: zone=7, supply=main/aux (board and output or port), battery=main, bus=main/data
        #[arg(value_name = "zone=NUMBER|supply=NAME|battery=BOARD|bus=NAME", value_parser = subject)]
        of: Subject,
    },

    /// Say what a meter's reading of a zone's loop means
    #[command(after_help = DIAGNOSE_EXAMPLES)]
    #[command(group = clap::ArgGroup::new("reading").required(true).args(["ohms", "volts"]))]
    Diagnose {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// The zone, by its number
        #[arg(value_name = "zone=NUMBER", value_parser = zone_number)]
        zone: u32,

        /// Ohms with both leads off the board, as the meter shows them: 1960, 1.96k, 2k2, or OL for no connection
        #[arg(long, value_name = "OHMS", value_parser = ohms, allow_hyphen_values = true)]
        ohms: Option<f64>,

        /// Volts at the board's terminals, with the leads on: 2.31, 250mV
        #[arg(long, value_name = "VOLTS", value_parser = volts, allow_hyphen_values = true)]
        volts: Option<f64>,
    },

    /// Print a record of readings to fill in, with a line for everything there is to measure
    #[command(after_help = READINGS_EXAMPLES)]
    Readings {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// The day on which they are taken, as year-month-day: 2027-04-02
        #[arg(long, value_name = "DATE", required_unless_present = "csv", value_parser = day)]
        date: Option<jiff::civil::Date>,

        /// Print it as a table for a spreadsheet, with columns for ohms and volts to fill in
        #[arg(long, conflicts_with = "from")]
        csv: bool,

        /// Print the record of such a table that has been filled in
        #[arg(long, value_name = "TABLE.csv")]
        from: Option<PathBuf>,
    },

    /// Tell a line of a monitoring log (ANSI/SIA DC-05) in words, or write one
    #[command(after_help = EVENT_EXAMPLES)]
    Event {
        /// The line: 16 digits, or 9 in the short form; spaces count for nothing
        #[arg(value_name = "LINE", required_unless_present = "code", conflicts_with = "code")]
        line: Vec<String>,

        /// The site whose zones and areas are named: its folder or its site.kdl
        #[arg(long, value_name = "PATH")]
        site: Option<PathBuf>,

        /// Write the line of this event code instead
        #[arg(long, value_name = "CODE", value_parser = clap::value_parser!(u32).range(100..=999))]
        code: Option<u32>,

        /// The area of the line to write; 0 for none
        #[arg(long, value_name = "AREA", default_value_t, requires = "code", conflicts_with = "line", value_parser = clap::value_parser!(u32).range(0..=99))]
        area: u32,

        /// The number of the zone or user of the line to write; 0 for none
        #[arg(long = "zone", alias = "user", value_name = "NUMBER", default_value_t, requires = "code", conflicts_with = "line", value_parser = clap::value_parser!(u32).range(0..=999))]
        number: u32,

        /// Write that it is over, or a closing
        #[arg(long, requires = "code", conflicts_with = "line")]
        restored: bool,
    },

    /// Print what a rule looks for, why, and when to accept it; and what it found on a site
    #[command(after_help = EXPLAIN_EXAMPLES)]
    Explain {
        /// The rule's name, as printed in brackets behind a finding
        #[arg(value_name = "RULE", required_unless_present_any = ["list", "schema"], conflicts_with_all = ["list", "schema"])]
        rule: Option<String>,

        /// A site's folder or its site.kdl: then the rule's findings on it are shown, too
        #[arg(value_name = "PATH", conflicts_with_all = ["list", "schema"])]
        path: Option<PathBuf>,

        /// List all rules
        #[arg(long)]
        list: bool,

        /// Print the JSON schema of what `check` and `compile` print with `--format json`
        #[arg(long, conflicts_with = "list")]
        schema: bool,
    },

    /// Serve an editor: findings while a spec is written, and what is known of what stands there
    #[command(after_help = LSP_EXAMPLES)]
    Lsp {
        /// Over the standard streams, which is the only way; editors say so
        #[arg(long)]
        stdio: bool,
    },

    /// Print what a shell needs to complete commands and paths
    Completions {
        /// Which shell
        #[arg(value_enum, value_name = "SHELL")]
        shell: clap_complete::Shell,
    },

    /// Print the manual page, for `man`
    Man,

    /// Print the reference of the spec language as Markdown: a tour, then every node
    #[command(after_help = REFERENCE_EXAMPLES)]
    Reference {
        /// Only the part about this node
        #[arg(value_name = "NODE", conflicts_with_all = ["tour", "html", "grammar"])]
        node: Option<String>,

        /// Only the tour: a small house, piece by piece
        #[arg(long)]
        tour: bool,

        /// Print one page of HTML that stands alone, with its contents in front
        #[arg(long)]
        html: bool,

        /// Print a highlighting grammar for editors (JSON, in the form of `TextMate`)
        #[arg(long, conflicts_with_all = ["tour", "html"])]
        grammar: bool,
    },
}

/// What `why` is asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    Zone(u32),
    Supply(String),
    Battery(String),
    Bus(String),
}

fn subject(text: &str) -> Result<Subject, String> {
    match text.split_once('=') {
        Some(("supply", name)) => Ok(Subject::Supply(name.to_owned())),
        Some(("battery", name)) => Ok(Subject::Battery(name.to_owned())),
        Some(("bus", name)) => Ok(Subject::Bus(name.to_owned())),
        Some(("zone", _)) => zone_number(text).map(Subject::Zone),
        _ => {
            Err("write zone= and the number of the zone, as zone=7, or supply=main/aux, battery=main or bus=main/data"
                .to_owned())
        }
    }
}

/// The number in `zone=7`.
fn zone_number(text: &str) -> Result<u32, String> {
    let number = text.strip_prefix("zone=").ok_or("write zone= and the number of the zone, as zone=7")?;
    number.parse().map_err(|_| format!("\"{number}\" is not the number of a zone; write it as zone=7"))
}

/// Ohms as a meter shows them.
fn ohms(text: &str) -> Result<f64, String> {
    session::meter_text::ohms(text).map_err(|unclear| unclear.to_string())
}

/// Volts as a meter shows them.
fn volts(text: &str) -> Result<f64, String> {
    session::meter_text::volts(text).map_err(|unclear| unclear.to_string())
}

/// A day as it is written everywhere.
fn day(text: &str) -> Result<jiff::civil::Date, String> {
    let is_form = text.len() == 10 && text.split('-').map(str::len).eq([4, 2, 2]);
    let fault = if is_form { "there is no such day" } else { "it is written as year-month-day, such as 2027-04-02" };
    text.parse().map_err(|_| fault.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_arguments_is_sound() {
        use clap::CommandFactory;
        Arguments::command().debug_assert();
    }

    #[test]
    fn a_zone_is_told_by_its_number() {
        assert_eq!(zone_number("zone=7"), Ok(7));
        assert!(zone_number("7").is_err() && zone_number("zone=").is_err() && zone_number("zone=-1").is_err());
    }
}
