//! The arguments and their help.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// Compiles a plain-text spec of a house's alarm wiring into diagnostics and the printed paper the job needs.
#[derive(Debug, Parser)]
#[command(version, about, after_help = EXAMPLES)]
pub struct Arguments {
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
    },

    /// Print what a rule looks for, why, and when to accept it
    #[command(after_help = EXPLAIN_EXAMPLES)]
    Explain {
        /// The rule's name, as printed in brackets behind a finding
        #[arg(value_name = "RULE", required_unless_present = "list", conflicts_with = "list")]
        rule: Option<String>,

        /// List all rules
        #[arg(long)]
        list: bool,
    },

    /// Print the reference of the spec language, as Markdown
    #[command(after_help = REFERENCE_EXAMPLES)]
    Reference {
        /// Only the part about this node
        #[arg(value_name = "NODE")]
        node: Option<String>,
    },
}

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

A packet is written whole or not at all. Files that the program did not write, or that
were changed by hand since, are never replaced: it names them and writes nothing.";

const EXPLAIN_EXAMPLES: &str = "\
Examples:
  loopwright explain --list
  loopwright explain --list --format short | grep warning";

const REFERENCE_EXAMPLES: &str = "\
Examples:
  loopwright reference
  loopwright reference run";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_arguments_is_sound() {
        use clap::CommandFactory;
        Arguments::command().debug_assert();
    }
}
