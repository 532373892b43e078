//! Many sites in a table, held against what the other commands say of each.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;

use super::{complaint, loopwright, text};
use crate::git::repository::{COTTAGE, ZONES};

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

/// The cells of a table below a heading of a page.
fn cells(page: &str, heading: &str) -> Vec<Vec<String>> {
    let (_, section) = page.split_once(&format!(">{heading}</h2>")).unwrap();
    let (body, _) = section.split_once("<tbody>").unwrap().1.split_once("</tbody>").unwrap();
    let text = |cell: &str| {
        let pieces = cell.split('<').enumerate();
        let text: String =
            pieces.map(|(at, piece)| if at == 0 { piece } else { piece.split_once('>').unwrap().1 }).collect();
        let text = text.replace('\u{a0}', " ").replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
        text.trim_end().replace("&amp;", "&")
    };
    body.split("<tr>").skip(1).map(|row| row.split("<td>").skip(1).map(text).collect()).collect()
}

#[test]
fn the_page_has_the_rows_of_the_table() {
    let page = loopwright(specs(), &["portfolio", ".", "--html"]);
    let page = text(&page.stdout);
    assert!(!page.contains("<script") && !page.contains("://") && page.contains("prefers-color-scheme: dark"));
    let header = loopwright(specs(), &["portfolio", ".", "--csv"]);
    let header = text(&header.stdout);
    let columns: Vec<&str> = header.lines().next().unwrap().split(',').collect();
    let row = |row: &Value| columns.iter().map(|column| row[column].as_str().unwrap().to_owned()).collect::<Vec<_>>();
    let sites = rows(specs(), &["."]);
    assert_eq!(cells(&page, "All sites"), sites.iter().map(row).collect::<Vec<_>>());
    let by_rule = rows(specs(), &[".", "--by-rule"]);
    let told: Vec<String> = cells(&page, "Findings by rule").into_iter().map(|row| row[0].clone()).collect();
    assert_eq!(told, by_rule.iter().map(|row| row["rule"].as_str().unwrap()).collect::<Vec<_>>());

    let hours = |cell: &str| {
        let figures: Vec<f64> = cell.split(' ').filter_map(|word| word.parse().ok()).collect();
        figures[0] / figures[1]
    };
    let batteries: Vec<f64> = cells(&page, "Batteries with least to spare")
        .iter()
        .map(|row| hours(row[0].split_once(": ").unwrap().1))
        .collect();
    assert!(batteries.len() == sites.len() && batteries.is_sorted(), "{batteries:?}");
    let days: Vec<String> = cells(&page, "What comes due first").into_iter().map(|row| row[0].clone()).collect();
    assert!(days.len() == sites.len() && days.is_sorted(), "{days:?}");
    let two = complaint(specs(), &["--format", "json", "portfolio", ".", "--csv"]);
    assert!(two.contains("two forms of one table"), "{two}");
    let refused = complaint(specs(), &["portfolio", ".", "--html", "--csv"]);
    assert!(refused.contains("cannot be used with"), "{refused}");
}

#[test]
fn names_of_any_kind_stay_in_their_cells() {
    let folder = tempfile::tempdir().unwrap();
    let titles = ["W".repeat(200), "<script>x</script> | `a` *b* [c](d)".to_owned(), "דירת הגן (7)".to_owned()];
    for (at, title) in titles.iter().enumerate() {
        let site = folder.path().join(format!("s{at}"));
        std::fs::create_dir(&site).unwrap();
        std::fs::write(site.join("site.kdl"), format!("site \"s{at}\" title=\"{title}\" lengths=\"m\"\n")).unwrap();
    }
    let page = text(&loopwright(folder.path(), &["portfolio", ".", "--html"]).stdout);
    let told: Vec<String> = cells(&page, "All sites").into_iter().map(|row| row[13].clone()).collect();
    assert_eq!(told, titles);
    assert!(!page.contains("<script"));
}

/// A folder with shared parts and a cottage, which has its register.
fn cottage() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir_all(folder.path().join("specs/cottage")).unwrap();
    std::fs::create_dir_all(folder.path().join("specs/parts")).unwrap();
    for part in std::fs::read_dir(specs().join("parts")).unwrap() {
        let part = part.unwrap();
        std::fs::copy(part.path(), folder.path().join("specs/parts").join(part.file_name())).unwrap();
    }
    std::fs::write(folder.path().join("specs/cottage/site.kdl"), COTTAGE).unwrap();
    std::fs::write(folder.path().join("specs/cottage/zones.kdl"), ZONES).unwrap();
    assert_eq!(loopwright(folder.path(), &["compile", "specs", "--out", "out"]).status.code(), Some(0));
    folder
}

/// What is printed in a form with and without a cache, which must be the same.
fn with_and_without(folder: &Path, form: &str) -> String {
    let without = loopwright(folder, &["portfolio", "specs", form]);
    // The first of the two fills it where a file differs.
    for _ in 0..2 {
        let with = loopwright(folder, &["portfolio", "specs", form, "--cache", "cache"]);
        assert_eq!((text(&with.stdout), with.status), (text(&without.stdout), without.status));
        assert_eq!(text(&with.stderr), "");
    }
    text(&without.stdout)
}

#[test]
fn a_cache_never_tells_a_site_as_it_was() {
    let folder = cottage();
    let lines = || with_and_without(folder.path(), "--csv");
    let (first, rules) = (lines(), with_and_without(folder.path(), "--by-rule"));
    for path in
        ["cottage/site.kdl", "cottage/zones.kdl", "cottage/register.kdl", "parts/generic.kdl", "parts/cables.kdl"]
    {
        let path = folder.path().join("specs").join(path);
        let old = std::fs::read_to_string(&path).unwrap();
        std::fs::write(&path, format!("{old}\nnonsense\n")).unwrap();
        assert_ne!(lines(), first, "{path:?}");
        if !path.ends_with("site.kdl") {
            std::fs::remove_file(&path).unwrap();
            // Without a register labels are given anew, which no line tells.
            let same = lines() == first;
            assert!(!same || path.ends_with("register.kdl"), "{path:?}");
        }
        std::fs::write(&path, old).unwrap();
        assert_eq!(lines(), first, "{path:?}");
    }
    assert_eq!(with_and_without(folder.path(), "--by-rule"), rules);
    assert_eq!(std::fs::read_dir(folder.path().join("cache")).unwrap().count(), 1);

    // What a file has that nothing includes is told in one finding with all names that are missing.
    let zones = ZONES.replace("reed-recessed", "reed-a").replace("reed-surface", "reed-b");
    std::fs::write(folder.path().join("specs/cottage/zones.kdl"), zones).unwrap();
    let missing = lines();
    std::fs::write(folder.path().join("specs/cottage/own.kdl"), "part \"reed-a\" {}\npart \"reed-b\" {}\n").unwrap();
    assert_ne!(lines(), missing);
    std::fs::remove_file(folder.path().join("specs/cottage/own.kdl")).unwrap();
    assert_eq!(lines(), missing);
}

#[test]
fn a_cache_that_cannot_be_used_costs_time_alone() {
    let folder = cottage();
    let csv = with_and_without(folder.path(), "--csv");
    let cache = folder.path().join("cache");
    std::fs::write(cache.join("notes.txt"), "mine").unwrap();
    let mut kept = std::fs::read_dir(&cache).unwrap().map(|file| file.unwrap().path());
    let kept = kept.find(|path| path.extension().is_some_and(|suffix| suffix == "kept-site")).unwrap();
    let whole = std::fs::read_to_string(&kept).unwrap();
    let run = |cache: &str| {
        let run = loopwright(folder.path(), &["portfolio", "specs", "--csv", "--cache", cache]);
        assert_eq!((text(&run.stdout), run.status.code()), (csv.clone(), Some(0)));
        text(&run.stderr)
    };
    let changed = whole.replacen("\"notes\":", "\"notes\":1", 1);
    assert_ne!(changed, whole);
    for damaged in [&whole[..whole.len() / 2], &whole[..30], &whole[..9], &whole[..0], &changed] {
        std::fs::write(&kept, damaged).unwrap();
        assert_eq!(run("cache"), "");
        assert_eq!(std::fs::read_to_string(&kept).unwrap(), whole, "it is made again");
    }
    std::fs::write(&kept, "mine as well").unwrap();
    let said = run("cache");
    assert!(said.starts_with("note: ") && said.ends_with("is none of the cache's files and stays\n"), "{said}");
    assert_eq!(std::fs::read_to_string(&kept).unwrap(), "mine as well");
    std::fs::remove_file(&kept).unwrap();
    #[cfg(unix)]
    {
        let other = folder.path().join("other");
        std::fs::write(&other, &whole).unwrap();
        std::os::unix::fs::symlink(&other, &kept).unwrap();
        assert!(run("cache").contains("stays"));
        std::fs::remove_file(&kept).unwrap();
    }
    std::fs::create_dir(&kept).unwrap();
    assert!(run("cache").contains("stays"));
    let said = run("cache/notes.txt");
    assert!(said.starts_with("note: nothing is kept in cache/notes.txt: "), "{said}");
    let mut left: Vec<_> = std::fs::read_dir(&cache).unwrap().map(|file| file.unwrap().path()).collect();
    left.sort();
    assert_eq!(left, [kept, cache.join("notes.txt")]);
}
