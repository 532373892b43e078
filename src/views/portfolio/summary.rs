//! Many sites on one page: sums first, then what is nearest its edge, then all of them. Every table is cut from the rows of
//! the portfolio itself.

use std::cmp::Ordering;

use super::{Placed, rules, table};
use crate::base::wording::{count, list, thousands};
use crate::diag::Counts;
use crate::views::Table;

/// So many sites stand in a table that is sorted by what is nearest.
const MOST: usize = 30;

/// A part of the page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Section {
    /// Its heading.
    pub(crate) title: &'static str,
    /// What stands before its table.
    pub(crate) about: String,
    /// Its table.
    pub(crate) table: Table,
}

/// The parts of the page; `gone` are the folders of an earlier revision that are no sites any more.
pub(crate) fn sections(sites: &[Placed], gone: &[String]) -> Vec<Section> {
    let all = table(sites);
    let due = all.columns.iter().position(|column| *column == "next due");
    let day = |at: usize| due.and_then(|due| all.rows.get(at)?.get(due)).filter(|day| !day.is_empty());
    let edge = |at: usize, which: usize| sites.get(at).and_then(|site| site.kept.edges.get(which)?.as_ref());
    let nearest = |which: usize, title, about, columns: [&str; 3]| {
        let known: Vec<usize> = (0..sites.len()).filter(|at| edge(*at, which).is_some()).collect();
        let nearer = |one: &usize, other: &usize| match (edge(*one, which), edge(*other, which)) {
            (Some(one), Some(other)) => one.nearer(other),
            (one, other) => one.is_none().cmp(&other.is_none()),
        };
        ranked(title, about, &all, known, nearer, &columns)
    };
    let with_day = (0..sites.len()).filter(|at| day(*at).is_some()).collect();
    let by_day = |one: &usize, other: &usize| day(*one).cmp(&day(*other));
    vec![
        Section { title: "Sums", about: told_of(gone), table: sums(sites) },
        Section {
            title: "Findings by rule",
            about: "Accepted findings are among the findings.".to_owned(),
            table: rules::table(sites),
        },
        ranked(
            "What comes due first",
            "What is due first on each site, by its day.",
            &all,
            with_day,
            by_day,
            &["next due", "what is due", "folder", "site"],
        ),
        nearest(
            0,
            "Batteries with least to spare",
            "On each site the battery that has the smallest share of what it is asked for.",
            ["battery", "folder", "site"],
        ),
        nearest(
            1,
            "Supplies with least to spare",
            "On each site the output or port that leaves the smallest share of its limit.",
            ["least spare of a supply", "folder", "site"],
        ),
        nearest(
            2,
            "Tightest loops",
            "On each site the loop that is nearest to another reading: first those that are judged by volts, then by ohms.",
            ["tightest loop", "folder", "site"],
        ),
        Section { title: "All sites", about: String::new(), table: all },
    ]
}

/// The sites `known` in an order, those columns of each.
fn ranked(
    title: &'static str,
    about: &str,
    all: &Table,
    mut known: Vec<usize>,
    order: impl Fn(&usize, &usize) -> Ordering,
    columns: &[&str],
) -> Section {
    // Sites that are alike stay in their order.
    known.sort_by(order);
    let left_out = known.len().saturating_sub(MOST);
    let more = if left_out > 0 {
        format!(" {} more {} left out.", thousands(left_out), if left_out == 1 { "is" } else { "are" })
    } else {
        String::new()
    };
    let at: Vec<usize> = columns.iter().filter_map(|name| all.columns.iter().position(|own| own == name)).collect();
    let row = |row: &Vec<String>| at.iter().map(|at| row.get(*at).cloned().unwrap_or_default()).collect();
    let rows = known.iter().take(MOST).filter_map(|at| all.rows.get(*at)).map(row).collect();
    let columns = at.iter().filter_map(|at| all.columns.get(*at).copied()).collect();
    Section { title, about: format!("{about}{more}"), table: Table { columns, rows } }
}

fn sums(sites: &[Placed]) -> Table {
    let Counts { errors, warnings, notes, accepted } = sites.iter().map(|site| &site.kept.counts).sum();
    let with_errors = sites.iter().filter(|site| site.kept.counts.errors > 0).count();
    let figures = [
        ("sites", sites.len()),
        ("sites with errors", with_errors),
        ("errors", errors),
        ("warnings", warnings),
        ("notes", notes),
        ("accepted among all of these", accepted),
    ];
    let row = |(what, number): (&str, usize)| vec![what.to_owned(), thousands(number)];
    Table { columns: vec!["what", "how many"], rows: figures.into_iter().map(row).collect() }
}

/// The sites that an earlier revision had.
pub(crate) fn told_of(gone: &[String]) -> String {
    match gone {
        [] => String::new(),
        gone => {
            format!("{} since then: {}.", count(gone.len(), "site is gone", Some("sites are gone")), list(gone, "and"))
        }
    }
}
