//! Every rule's page: its bad example gives exactly that rule once, its good one nothing.

use super::*;

/// The body of the fence whose info begins with `info`, decoded as the rest of the info asks.
fn example(page: &str, info: &str) -> Vec<u8> {
    let start = page.find(&format!("```{info}")).unwrap() + 3;
    let (info, rest) = page[start..].split_once('\n').unwrap();
    let body = &rest[..=rest.find("\n```").unwrap()];
    if info.ends_with(" bytes") {
        let mut parts = body.split("\\x");
        let mut bytes = parts.next().unwrap().as_bytes().to_vec();
        for part in parts {
            bytes.push(u8::from_str_radix(&part[..2], 16).unwrap());
            bytes.extend(part[2..].bytes());
        }
        return bytes;
    }
    let times = info.split_once("repeat=").map_or(1, |(_, n)| n.parse().unwrap());
    body.repeat(times).into_bytes()
}

fn slugs_of(bytes: Vec<u8>) -> Vec<&'static str> {
    match decode(bytes) {
        Ok(text) => parsed(&text).1.iter().map(|d| d.rule.slug).collect(),
        Err(fault) => vec![decode_diagnostic(&fault, FileId(0)).rule.slug],
    }
}

#[test]
fn the_bad_example_gives_the_rule_and_the_good_one_nothing() {
    for rule in rules::RULES {
        assert_eq!(slugs_of(example(rule.page, "kdl bad")), [rule.slug]);
        assert_eq!(slugs_of(example(rule.page, "kdl good")), [""; 0], "{}", rule.slug);
    }
}

#[test]
fn pages_have_one_layout() {
    for rule in rules::RULES {
        let headings: Vec<&str> =
            rule.page.lines().filter(|l| l.starts_with('#') && !l.starts_with("# measured")).collect();
        let title = format!("# {}", rule.slug);
        assert_eq!(headings, [&title, "## Why it matters", "## Bad", "## Good", "## Basis"]);
    }
}
