//! Many sites in a table, held against what the other commands say of each.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;

use super::{complaint, loopwright, text};

fn rows(folder: &Path, arguments: &[&str]) -> Vec<Value> {
    let run = loopwright(folder, &[&["portfolio", "--format", "json"], arguments].concat());
    serde_json::from_slice(&run.stdout).unwrap_or_else(|error| panic!("{error}: {run:?}"))
}

fn specs() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/specs"))
}

#[test]
fn a_line_counts_what_a_check_of_its_site_finds() {
    let rows = rows(specs(), &["."]);
    assert!(rows.len() >= 3, "{rows:?}");
    for row in &rows {
        let folder = row["folder"].as_str().unwrap();
        let check = loopwright(specs(), &["check", "--format", "json", folder]);
        let found: Value = serde_json::from_slice(&check.stdout).unwrap();
        let site = &found["sites"][0];
        assert_eq!(row["site"], site["name"]);
        for (column, severity) in [("errors", "error"), ("warnings", "warning"), ("notes", "note")] {
            let list = site["diagnostics"].as_array().unwrap();
            let counted = list.iter().filter(|finding| finding["severity"] == severity).count();
            assert_eq!(row[column], counted.to_string(), "{folder} {column}");
        }
        let cables = loopwright(specs(), &["list", "cables", folder, "--csv"]);
        assert_eq!(row["cables"], (text(&cables.stdout).lines().count() - 1).to_string(), "{folder}");
    }
}

#[test]
fn rules_count_what_the_checks_of_all_sites_find() {
    // Slug → severity, findings, accepted ones, folders.
    let mut expected: BTreeMap<String, (String, usize, usize, Vec<String>)> = BTreeMap::new();
    let check = loopwright(specs(), &["check", "--format", "json", "."]);
    let found: Value = serde_json::from_slice(&check.stdout).unwrap();
    for site in found["sites"].as_array().unwrap() {
        let folder = site["path"].as_str().unwrap().to_owned();
        for finding in site["diagnostics"].as_array().unwrap() {
            let (rule, severity) = (finding["rule"].as_str().unwrap(), finding["severity"].as_str().unwrap());
            let new = || (severity.to_owned(), 0, 0, Vec::new());
            let (_, findings, accepted, folders) = expected.entry(rule.to_owned()).or_insert_with(new);
            *findings += 1;
            *accepted += usize::from(!finding["accepted"].is_null());
            folders.push(folder.clone());
            folders.dedup();
        }
    }
    let rows = rows(specs(), &[".", "--by-rule"]);
    assert!(expected.values().any(|(_, _, accepted, _)| *accepted > 0));
    assert!(expected.values().any(|(.., folders)| folders.len() > 1));
    let told = rows.iter().map(|row| {
        let text = |column: &str| row[column].as_str().unwrap().to_owned();
        let number = |column: &str| row[column].as_str().unwrap().parse::<usize>().unwrap();
        (text("rule"), text("severity"), number("findings"), number("accepted"), number("sites"), text("first folder"))
    });
    let told: Vec<_> = told.collect();
    let mut expected: Vec<_> = expected
        .into_iter()
        .map(|(rule, (severity, findings, accepted, folders))| {
            (rule, severity, findings, accepted, folders.len(), folders[0].clone())
        })
        .collect();
    let rank = |severity: &str| ["error", "warning", "note"].iter().position(|word| *word == severity);
    expected.sort_by(|one, other| {
        (rank(&one.1), std::cmp::Reverse(one.2), &one.0).cmp(&(rank(&other.1), std::cmp::Reverse(other.2), &other.0))
    });
    assert_eq!(told, expected);

    let slug = &expected[0].0;
    let run = loopwright(
        specs(),
        &["portfolio", ".", "--by-rule", "--csv", "--columns", "rule,sites", "--only", &format!("rule={slug}")],
    );
    assert_eq!(text(&run.stdout), format!("rule,sites\r\n{slug},{}\r\n", expected[0].4));
    assert!(complaint(specs(), &["portfolio", ".", "--by-rule", "--columns", "zones"]).contains("\"first folder\""));
}

#[test]
fn the_shares_of_several_machines_are_the_whole() {
    let whole = rows(specs(), &["."]);
    let mut shares: Vec<Value> = (1..=3).flat_map(|n| rows(specs(), &[".", "--shard", &format!("{n}/3")])).collect();
    shares.sort_by_key(|row| whole.iter().position(|one| one == row));
    assert_eq!(shares, whole);
    let names = rows(specs(), &[".", "--only", "site=alder-mill", "--columns", "site"]);
    assert_eq!(names, [serde_json::json!({"site": "alder-mill"})]);
    assert!(complaint(specs(), &["portfolio", ".", "--shard", "4/3"]).contains("the second of eight"));
}

#[test]
fn a_site_that_cannot_be_read_has_a_line_too() {
    let folder = tempfile::tempdir().unwrap();
    for (name, site) in [("a", "site \"a\" lengths=\"m\"\n"), ("b", "site {{{\n")] {
        std::fs::create_dir(folder.path().join(name)).unwrap();
        std::fs::write(folder.path().join(name).join("site.kdl"), site).unwrap();
    }
    let run = loopwright(folder.path(), &["portfolio", ".", "--csv", "--columns", "folder,site,errors"]);
    assert_eq!(run.status.code(), Some(1));
    let printed = text(&run.stdout);
    let lines: Vec<&str> = printed.lines().collect();
    assert_eq!(lines[..2], ["folder,site,errors", "a,a,0"]);
    assert!(lines[2].starts_with("b,,") && !lines[2].ends_with(",0"), "{printed}");
    let run = loopwright(folder.path(), &["portfolio", "."]);
    assert!(text(&run.stdout).contains("\n2 sites, 1 with errors: "), "{run:?}");
    assert!(complaint(folder.path(), &["portfolio", "gone"]).contains("no such file"));
}
