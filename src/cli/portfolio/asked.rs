//! The arguments of `portfolio`.

use std::path::PathBuf;

/// What is asked of many sites.
#[derive(Debug, clap::Args)]
pub(in crate::cli) struct Asked {
    /// Sites, or folders that hold sites
    #[arg(required = true, value_name = "PATH")]
    pub(super) paths: Vec<PathBuf>,

    /// Only lines with this text, or with it in one column
    #[arg(long, value_name = "TEXT|COLUMN=TEXT")]
    pub(super) only: Vec<String>,

    /// Only these columns, in this order
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    pub(super) columns: Vec<String>,

    /// Print a CSV file
    #[arg(long)]
    pub(super) csv: bool,

    /// A line for each rule that found something, in place of each site; what is accepted counts as found, as in `check`
    #[arg(long)]
    pub(super) by_rule: bool,

    /// One page of HTML that stands alone: sums, rules, what comes due and what has least to spare, then all sites
    #[arg(long, conflicts_with_all = ["csv", "by_rule", "only", "columns"])]
    pub(super) html: bool,

    /// Add what changed in each site since this git revision
    #[arg(long, value_name = "REVISION", conflicts_with = "by_rule")]
    pub(super) since: Option<String>,

    /// Keep what is found in this folder, and read only those sites again of which a file differs
    #[arg(long, value_name = "FOLDER")]
    pub(super) cache: Option<PathBuf>,

    /// Only a share of the sites, as one of several machines
    #[arg(long, value_name = "NUMBER/OF")]
    pub(super) shard: Option<Shard>,
}

/// A share of the sites: every so-manyth of them in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shard {
    /// From 0.
    pub(super) index: usize,
    pub(super) of: usize,
}

impl std::str::FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let shard = text.split_once('/').and_then(|(number, of)| Some((number.parse().ok()?, of.parse().ok()?)));
        match shard {
            Some((number @ 1.., of)) if number <= of => Ok(Self { index: number - 1, of }),
            _ => Err("write it as 2/8: the second of eight shares".to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_one_of_so_many() {
        assert_eq!("2/8".parse(), Ok(Shard { index: 1, of: 8 }));
        for text in ["0/3", "4/3", "2", "a/b", "1/0", "-1/2", "1/2/3", ""] {
            assert!(text.parse::<Shard>().is_err(), "{text}");
        }
    }
}
