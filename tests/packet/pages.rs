//! Pages are valid HTML that stands alone, whatever the names say.

use std::collections::{BTreeMap, BTreeSet};

use html5ever::tendril::TendrilSink;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};

use super::sites::{empty_site, full_site, hostile_site, packet};
use loopwright::compiled::Compiled;

fn parse(html: &[u8]) -> RcDom {
    parse_document(RcDom::default(), ParseOpts::default()).from_utf8().one(html)
}

/// Name and attributes of an element.
type Element = (String, Vec<(String, String)>);

/// Every element, in order.
fn elements(node: &Handle, found: &mut Vec<Element>) {
    if let NodeData::Element { name, attrs, .. } = &node.data {
        let attributes = attrs.borrow().iter().map(|a| (a.name.local.to_string(), a.value.to_string())).collect();
        found.push((name.local.to_string(), attributes));
    }
    node.children.borrow().iter().for_each(|child| elements(child, found));
}

fn text(node: &Handle) -> String {
    let mut said = String::new();
    if let NodeData::Text { contents } = &node.data {
        said.push_str(&contents.borrow());
    }
    node.children.borrow().iter().for_each(|child| said.push_str(&text(child)));
    said
}

fn pages(made: &Compiled) -> Vec<(String, Vec<u8>)> {
    packet(made).files.into_iter().filter(|(path, _)| path.ends_with(".html")).collect()
}

#[test]
fn every_page_is_valid_and_stands_alone() {
    let allowed: BTreeSet<&str> = [
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "main",
        "h1",
        "h2",
        "h3",
        "p",
        "ul",
        "ol",
        "li",
        "strong",
        "em",
        "a",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "span",
        "br",
        "hr",
        "code",
        "blockquote",
    ]
    .into();
    for made in [full_site(), empty_site(), hostile_site()] {
        let names: BTreeSet<String> = packet(&made).files.into_keys().collect();
        let mut places: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        let mut links: Vec<(String, String)> = Vec::new();
        for (path, bytes) in pages(&made) {
            let dom = parse(&bytes);
            assert!(dom.errors.borrow().is_empty(), "{path}: {:?}", dom.errors.borrow());
            let mut found = Vec::new();
            elements(&dom.document, &mut found);
            let ids = places.entry(path.clone()).or_default();
            for (name, attributes) in &found {
                assert!(allowed.contains(name.as_str()), "{path}: <{name}>");
                for (key, value) in attributes {
                    match key.as_str() {
                        "id" => assert!(ids.insert(value.clone()), "{path}: id {value} twice"),
                        "href" => links.push((path.clone(), value.clone())),
                        "lang" | "charset" | "name" | "content" | "class" | "style" => {}
                        other => panic!("{path}: attribute {other}"),
                    }
                }
            }
            for wanted in ["title", "style", "main", "h1"] {
                assert!(found.iter().any(|(name, _)| name == wanted), "{path}: no <{wanted}>");
            }
            assert!(found.iter().any(|(name, a)| name == "html" && a.contains(&("lang".into(), "en".into()))));
        }
        for (path, link) in &links {
            let (page, place) = link.split_once('#').unwrap_or((link, ""));
            let page = if page.is_empty() { path } else { page };
            assert!(names.contains(page), "{path}: link to {link}");
            assert!(place.is_empty() || places[page].contains(place), "{path}: link to {link}");
        }
    }
}

/// Pulldown-cmark drops surplus cells without a word, so the rows are counted in the Markdown.
#[test]
fn every_row_has_as_many_cells_as_its_head() {
    let pipes = |line: &str| line.replace("\\\\", "").replace("\\|", "").matches('|').count();
    for made in [full_site(), hostile_site()] {
        for (path, bytes) in packet(&made).files.into_iter().filter(|(path, _)| path.ends_with(".md")) {
            let text = String::from_utf8(bytes).unwrap();
            let mut wanted = None;
            for line in text.lines() {
                wanted = line.starts_with('|').then(|| wanted.unwrap_or_else(|| pipes(line)));
                assert!(wanted.is_none_or(|wanted| pipes(line) == wanted), "{path}: {line}");
            }
        }
    }
}

#[test]
fn hostile_names_are_printed_as_they_are() {
    let made = hostile_site();
    let said = |name: &str| text(&parse(&packet(&made).files[name]).document);
    let schedule = said("terminal-schedule.html");
    for wanted in ["@panel | <i>", "=1|`<b>`", "-contact | <script>", "&amp; <!-- x --> https://example.org"] {
        assert!(schedule.contains(wanted), "{wanted} in {schedule}");
    }
    let labels = said("wire-labels.html");
    for wanted in ["=HYPERLINK(1) | ``` |", "+route | x"] {
        assert!(labels.contains(wanted), "{wanted} in {labels}");
    }
    let cover = said("index.html");
    assert!(cover.contains("a|b `c` [d](javascript:e) *f* <b>g</b>"), "{cover}");
}
