//! The arguments and their help.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::session::Reader;

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

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Check sites and print what is found
    #[command(after_help = CHECK_EXAMPLES)]
    Check {
        /// A site's folder, its site.kdl, or a folder that holds sites
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,
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

        /// Fail where register.kdl would change, and write nothing for that site; for CI
        #[arg(long, conflicts_with = "since")]
        frozen: bool,

        /// Mark what differs from this git revision or folder, and add the work order that leads here from it
        #[arg(long, value_name = "REV|PATH")]
        since: Option<String>,

        /// Whose sheets to join in one file, to hand over; may be given several times
        #[arg(long = "for", value_enum, value_name = "READER", default_value = "all")]
        readers: Vec<ReaderChoice>,

        /// Print the joined files as PDF as well, by a browser of this machine
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
        #[arg(long = "as", value_enum, default_value_t, value_name = "FORM")]
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

    /// Print how the figures of a zone's loop are computed
    #[command(after_help = WHY_EXAMPLES)]
    Why {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// The zone, by its number
        #[arg(value_name = "zone=NUMBER", value_parser = zone_number)]
        zone: u32,
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

        /// Ohms with both leads off the board: 1960, 1.96k, or `open` where the meter shows no connection
        #[arg(long, value_name = "OHMS", value_parser = ohms, allow_hyphen_values = true)]
        ohms: Option<f64>,

        /// Volts at the board's terminals, with the leads on: 2.31
        #[arg(long, value_name = "VOLTS", value_parser = volts, allow_hyphen_values = true)]
        volts: Option<f64>,
    },

    /// Print a record of readings to fill in, with a line for everything there is to measure
    #[command(after_help = READINGS_EXAMPLES)]
    Readings {
        /// A site's folder or its site.kdl
        #[arg(value_name = "PATH")]
        path: PathBuf,

        /// The day on which they are taken: 2027-04-02
        #[arg(long, value_name = "DATE")]
        date: jiff::civil::Date,
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

    /// Print what a rule looks for, why, and when to accept it
    #[command(after_help = EXPLAIN_EXAMPLES)]
    Explain {
        /// The rule's name, as printed in brackets behind a finding
        #[arg(value_name = "RULE", required_unless_present_any = ["list", "schema"], conflicts_with_all = ["list", "schema"])]
        rule: Option<String>,

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

    /// Print the reference of the spec language, as Markdown
    #[command(after_help = REFERENCE_EXAMPLES)]
    Reference {
        /// Only the part about this node
        #[arg(value_name = "NODE")]
        node: Option<String>,
    },
}

const LSP_EXAMPLES: &str = "\
Examples:
  loopwright lsp             is started by an editor, and speaks the Language Server Protocol with it

How to set an editor up is said in specs/EDITORS.md.";

const READINGS_EXAMPLES: &str = "\
Examples:
  loopwright readings specs/alder-mill --date 2027-04-02 >> specs/alder-mill/readings.kdl";

const EXAMPLES: &str = "\
Examples:
  loopwright check specs/alder-mill       check one site
  loopwright compile specs --out paper    write the packets of all sites below specs
  loopwright explain --list               what is checked

Exit codes:
  0  no error found
  1  a spec has errors
  2  could not run: bad arguments, no such path, output not writable";

const CHECK_EXAMPLES: &str = "\
Examples:
  loopwright check specs/alder-mill
  loopwright check specs --format short | grep error
  loopwright check specs --format json > findings.json";

const COMPILE_EXAMPLES: &str = "\
Examples:
  loopwright compile specs/alder-mill     writes out/alder-mill/
  loopwright compile specs --out paper    writes paper/<site>/ for every site below specs
  loopwright compile specs --frozen       in CI: fails where a register is not up to date
  loopwright compile specs/alder-mill --since HEAD~1
  loopwright compile specs/alder-mill --for electrician    joins his sheets in for-electrician.html

Labels and landings are kept in register.kdl beside site.kdl: commit it. With --since, a bar stands beside every row
that differs, and the packet holds the work order. A packet is written whole or not at all. Files that the program did not write, or that
were changed by hand since, are never replaced: it names them and writes nothing.";

const WATCH_EXAMPLES: &str = "\
Examples:
  loopwright watch specs/alder-mill                 prints the address to open
  loopwright watch specs/alder-mill --port 4100

The page loads again by itself, with what was found at its top. While the spec has errors the last packet stays.
Nothing is written: register and packet come with `loopwright compile`.";

const WHY_EXAMPLES: &str = "\
Examples:
  loopwright why specs/alder-mill zone=7
  loopwright why specs/alder-mill zone=7 --format json

Every element of the loop is printed with its formula, its source and its place in the spec,
then the sum in each state. It is answered also where the spec has errors elsewhere.";

const DIAGNOSE_EXAMPLES: &str = "\
Examples:
  loopwright diagnose specs/alder-mill zone=7 --ohms 1960    both leads off the board
  loopwright diagnose specs/alder-mill zone=7 --ohms 1.96k
  loopwright diagnose specs/alder-mill zone=7 --ohms open    the meter shows no connection
  loopwright diagnose specs/alder-mill zone=7 --volts 2.31   at the terminals, leads on

It lists the states and cable faults that read so, nearest first, and what else would explain
the reading: a short at a distance, a leak, a bad joint, another resistor.";

const EVENT_EXAMPLES: &str = "\
Examples:
  loopwright event 0000 18 1131 01 015 8
  loopwright event 1131 01 015 --site specs/alder-mill    names the zone and the area
  loopwright event --code 131 --area 1 --zone 15          writes the line
  loopwright event --code 131 --area 1 --zone 15 --restored

The check digit is verified where there is one. The account is neither repeated nor stored; a line
that is written has 0000 in its place.";

const DIFF_EXAMPLES: &str = "\
Examples:
  loopwright diff                                     the last commit against the site in this folder
  loopwright diff specs/alder-mill                    the last commit against the files on disk
  loopwright diff HEAD~3 specs/alder-mill             three commits back against the files on disk
  loopwright diff v1 v2 specs/alder-mill              two tags; so does v1..v2
  loopwright diff HEAD~3:specs/mill HEAD:specs/alder-mill
  loopwright diff old-folder new-folder
  loopwright diff main..remodel specs/alder-mill --as html > work-order.html

What exists on disk is a path; everything else is a revision. Order, spacing, comments and files are no change.
The working tree is read only where a path is compared; revisions are read without touching it.

Exit codes: 0 compared, 1 compared, but one of the two has errors, 2 could not compare.";

const NEW_EXAMPLES: &str = "\
Examples:
  loopwright new cottage                  a folder with a site, parts and more
  loopwright new cottage --from openings.csv
  loopwright new specs/barn               one more site beside specs/parts

A table looks like this; its columns may stand in any order, others beside them:
  zone,room,opening,kind
  1,Hall,Front door,door
  2,Kitchen,Kitchen window,window
  2,Kitchen,Skylight,hatch
  3,Hall,Motion by the stair,motion
What it does not say, such as the length of each cable, is left out:
`loopwright check` asks for it. Kinds: door, window, hatch, roller door, motion,
glass break, smoke, heat, carbon monoxide, water, panic button. A zone is a
number, a few words, or both; without one an opening is not watched.";

const FMT_EXAMPLES: &str = "\
Examples:
  loopwright fmt specs/alder-mill         the site with its includes and register
  loopwright fmt specs/parts/*.kdl        these files
  loopwright fmt --check specs            in CI: shows what would change
  loopwright fmt - < zones.kdl            for an editor

Comments stay in their place, and texts byte for byte. Line breaks stay as well.
Comments at line ends and tables of like nodes stay in columns. What is not
understood stays as it is, with its lines. Each result is read again before it
is written: were anything but white space to differ, the file is left alone.

Exit codes:
  0  laid out
  1  with --check something would change, or a file had to be left alone
  2  could not run";

const TEXTCONV_EXAMPLES: &str = "\
Examples:
  loopwright textconv specs/alder-mill/zones-ground.kdl

To have `git diff` show zones instead of lines, write in .gitattributes
  *.kdl diff=loopwright
and tell git once, in the repository
  git config diff.loopwright.textconv 'loopwright textconv'
  git config difftool.loopwright.cmd 'loopwright textconv \"$LOCAL\" \"$REMOTE\"'";

const EXPLAIN_EXAMPLES: &str = "\
Examples:
  loopwright explain --list
  loopwright explain --list --format short | grep warning";

const REFERENCE_EXAMPLES: &str = "\
Examples:
  loopwright reference
  loopwright reference run";

/// The number in `zone=7`.
fn zone_number(text: &str) -> Result<u32, String> {
    let number = text.strip_prefix("zone=").ok_or("write zone= and the number of the zone, as zone=7")?;
    number.parse().map_err(|_| format!("\"{number}\" is not the number of a zone; write it as zone=7"))
}

/// Ohms as a meter shows them: plain, or with k or M.
fn ohms(text: &str) -> Result<f64, String> {
    if text.eq_ignore_ascii_case("open") {
        return Ok(f64::INFINITY);
    }
    let (number, factor) = match text.strip_suffix(['k', 'K']) {
        Some(number) => (number, 1e3),
        None => text.strip_suffix('M').map_or((text, 1.0), |number| (number, 1e6)),
    };
    let help = "write the ohms that the meter shows, as 1960 or 1.96k, or open where it shows no connection";
    reading(number).map(|number| number * factor).ok_or_else(|| help.to_owned())
}

fn volts(text: &str) -> Result<f64, String> {
    reading(text).ok_or_else(|| "write the volts that the meter shows, as 2.31".to_owned())
}

/// Digits with at most one point: a meter shows nothing else here, and `inf` or `1e9` would be a slip.
fn reading(text: &str) -> Option<f64> {
    let digits = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse().ok().filter(|number: &f64| digits && number.is_finite())
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
    fn a_reading_is_what_a_meter_shows() {
        assert_eq!(ohms("1960"), Ok(1960.0));
        assert_eq!(ohms("1.96k"), Ok(1960.0));
        assert_eq!(ohms("1.5M"), Ok(1.5e6));
        assert_eq!(ohms("open"), Ok(f64::INFINITY));
        for nonsense in ["", "-3", "inf", "NaN", "1e3", "k", "2k2", "1..2", "two"] {
            assert!(ohms(nonsense).is_err(), "{nonsense}");
        }
        assert_eq!(volts("2.31"), Ok(2.31));
        assert!(volts("2.31k").is_err() && volts("open").is_err());
        assert_eq!(zone_number("zone=7"), Ok(7));
        assert!(zone_number("7").is_err() && zone_number("zone=").is_err() && zone_number("zone=-1").is_err());
    }
}
