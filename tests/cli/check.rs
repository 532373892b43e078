//! `check`: forms for programs, and what fails a run.

use serde_json::Value;

use super::{loopwright, text};
use crate::golden::root;

fn run(arguments: &[&str]) -> (String, Option<i32>) {
    let run = loopwright(root(), &[&["check"], arguments].concat());
    (text(&run.stdout), run.status.code())
}

/// SARIF 2.1.0, 3.14 to 3.31: what a reader relies on. Every finding of the JSON is there, at the same place.
#[test]
fn sarif_holds_every_finding_at_its_place() {
    let (sarif, code) = run(&["specs/garden-flat", "--as", "sarif"]);
    assert_eq!(code, Some(0));
    let sarif: Value = serde_json::from_str(&sarif).unwrap();
    let (json, _) = run(&["specs/garden-flat", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(sarif["version"], "2.1.0");
    let (results, rules) = (&sarif["runs"][0]["results"], &sarif["runs"][0]["tool"]["driver"]["rules"]);
    let rules: Vec<&str> = rules.as_array().unwrap().iter().map(|rule| rule["id"].as_str().unwrap()).collect();
    let findings = json["sites"][0]["diagnostics"].as_array().unwrap();
    assert_eq!(results.as_array().unwrap().len(), findings.len());
    for (result, finding) in results.as_array().unwrap().iter().zip(findings) {
        let region = &result["locations"][0]["physicalLocation"]["region"];
        assert_eq!(region["startLine"], finding["labels"][0]["start"]["line"]);
        assert_eq!(region["endColumn"], finding["labels"][0]["end"]["column"]);
        assert!(rules.contains(&result["ruleId"].as_str().unwrap()) && result["ruleId"] == finding["rule"]);
        assert_eq!(result["level"], finding["severity"]);
        assert_eq!(result.get("suppressions").is_some(), !finding["accepted"].is_null());
        let others = result["relatedLocations"].as_array().unwrap().len();
        assert_eq!(others + 1, finding["labels"].as_array().unwrap().len());
    }
}

#[test]
fn an_annotation_is_one_line_with_its_place() {
    let (lines, code) = run(&["specs/alder-mill", "--as", "annotations"]);
    assert_eq!(code, Some(0));
    assert!(lines.lines().all(|line| {
        let parts: Vec<&str> = line.splitn(3, "::").collect();
        parts[0].is_empty() && parts[1].contains("file=specs/") && parts[1].contains(",line=") && !parts[2].is_empty()
    }));
    // The site accepts some, with a reason.
    let (json, _) = run(&["specs/alder-mill", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    let open = json["sites"][0]["diagnostics"].as_array().unwrap().iter().filter(|found| found["accepted"].is_null());
    assert_eq!(lines.lines().count(), open.count());
}

#[test]
fn denied_findings_fail_a_run_and_quiet_tells_their_number_alone() {
    let (quiet, code) = run(&["specs/garden-flat", "--quiet"]);
    assert_eq!((quiet.lines().count(), code), (1, Some(0)));
    assert!(quiet.starts_with("1 warning, "), "{quiet}");
    assert_eq!(run(&["specs/garden-flat", "--quiet", "--deny", "warning"]).1, Some(1));
    assert_eq!(run(&["specs/garden-flat", "--deny", "note"]).1, Some(1));
}

/// The demo accepts three warnings; whoever reads the output of a hook wants those that are open. All are counted.
#[test]
fn the_least_severity_leaves_out_what_is_less_or_accepted() {
    let (all, _) = run(&["specs/alder-mill", "--format", "short"]);
    let (some, code) = run(&["specs/alder-mill", "--format", "short", "--least", "warning"]);
    let is_open_warning = |line: &&str| line.contains(": warning: ") && !line.contains("(accepted: ");
    let wanted: Vec<&str> = all.lines().filter(is_open_warning).chain(all.lines().last()).collect();
    assert_eq!((some.lines().collect::<Vec<_>>(), code), (wanted, Some(0)));
    assert!(all.lines().any(|line| line.contains(": warning: ")) && all.contains("(accepted: "), "{all}");
}
