//! Pages are valid HTML that stands alone, whatever the names say.
//!
//! They are read as XML, which forgives nothing: an unescaped mark of a name or an element left open ends the reading.

use std::collections::{BTreeMap, BTreeSet};

use roxmltree::{Document, Node, ParsingOptions};

use super::sites::{empty_site, full_site, hostile_site, packet, packet_for_all, site};
use loopwright::compiled::Compiled;

/// Elements that may stand in certain others only, with those.
const INSIDE: [(&[&str], &[&str]); 8] = [
    (&["article"], &["main"]),
    (&["nav", "main"], &["body"]),
    (&["section"], &["article"]),
    (
        &["h1", "h2", "h3", "p", "ul", "ol", "table", "blockquote", "hr"],
        &["article", "section", "li", "blockquote", "div", "nav"],
    ),
    (&["li"], &["ul", "ol"]),
    (&["thead", "tbody"], &["table"]),
    (&["tr"], &["thead", "tbody"]),
    (&["th", "td"], &["tr"]),
];

/// The page, without the two lines of the head that are HTML's own spelling.
fn well_formed(path: &str, html: &[u8]) -> String {
    let text = std::str::from_utf8(html).unwrap();
    assert!(text.starts_with("<!DOCTYPE html>\n"), "{path}");
    text.lines().filter(|line| !line.starts_with("<meta ")).flat_map(|line| [line, "\n"]).collect()
}

fn parse<'t>(path: &str, text: &'t str) -> Document<'t> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).unwrap_or_else(|fault| panic!("{path}: {fault}\n{text}"))
}

fn pages(made: &Compiled) -> Vec<(String, Vec<u8>)> {
    packet_for_all(made).files.into_iter().filter(|(path, _)| path.ends_with(".html")).collect()
}

/// The pages that do something beside being read.
fn has_tool(path: &str) -> bool {
    ["index.html", "commissioning-sheet.html"].contains(&path)
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
        "article",
        "nav",
        "div",
        "label",
        "input",
        "script",
        "details",
        "summary",
        "textarea",
        "button",
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
        "pre",
        "blockquote",
        "section",
    ]
    .into();
    for made in [full_site(), empty_site(), hostile_site(), site(&super::older::fed("signal"))] {
        let names: BTreeSet<String> = packet_for_all(&made).files.into_keys().collect();
        let mut places: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        let mut links: Vec<(String, String)> = Vec::new();
        for (path, bytes) in pages(&made) {
            let text = well_formed(&path, &bytes);
            let page = parse(&path, &text);
            // What is in a drawing is looked at in `drawings.rs`; its links and places are those of the page.
            let in_drawing = |node: &Node| node.ancestors().any(|node| node.has_tag_name("svg"));
            let elements = || page.descendants().filter(Node::is_element);
            let found: Vec<Node> = elements().filter(|node| !in_drawing(node)).collect();
            let ids = places.entry(path.clone()).or_default();
            for element in elements().filter(in_drawing) {
                if let Some(id) = element.attribute("id") {
                    assert!(ids.insert(id.to_owned()), "{path}: id {id} twice");
                }
                links.extend(element.attribute("href").map(|to| (path.clone(), to.to_owned())));
            }
            for element in &found {
                let name = element.tag_name().name();
                assert!(allowed.contains(name), "{path}: <{name}>");
                let parent = element.parent_element().map_or("", |parent| parent.tag_name().name());
                let inside = INSIDE.iter().find(|(names, _)| names.contains(&name));
                assert!(inside.is_none_or(|(_, parents)| parents.contains(&parent)), "{path}: <{name}> in <{parent}>");
                for attribute in element.attributes() {
                    let value = attribute.value().to_owned();
                    match attribute.name() {
                        "id" => assert!(ids.insert(value.clone()), "{path}: id {value} twice"),
                        "href" => links.push((path.clone(), value)),
                        "lang" | "charset" | "name" | "content" | "class" | "style" => {}
                        "colspan" | "aria-hidden" | "tabindex" | "http-equiv" | "aria-label" | "role" => {}
                        "hidden" | "for" | "type" | "autocomplete" | "rows" | "readonly" if has_tool(&path) => {}
                        other => panic!("{path}: attribute {other}"),
                    }
                }
            }
            for wanted in ["title", "style", "main", "h1"] {
                assert!(found.iter().any(|element| element.has_tag_name(wanted)), "{path}: no <{wanted}>");
            }
            assert_eq!(page.root_element().attribute("lang"), Some("en"), "{path}");
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
    let said = |name: &str| {
        let text = well_formed(name, &packet(&made).files[name]);
        let page = parse(name, &text);
        page.descendants().filter(|node| node.is_text()).filter_map(|node| node.text()).collect::<String>()
    };
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

/// Two pages have a script, and their policies name it by its digest; the digests are held against another program's in
/// `tests/outside/pages.py`. What a script works with is data, in which nothing of a name can end it.
#[test]
fn a_policy_lets_nothing_in_but_our_scripts() {
    for made in [full_site(), hostile_site()] {
        for (path, bytes) in pages(&made) {
            let text = String::from_utf8(bytes).unwrap();
            let policy = text.lines().find(|line| line.contains("Content-Security-Policy")).unwrap();
            assert!(policy.contains("content=\"default-src 'none'; "), "{path}");
            let scripts: Vec<&str> = text.split("<script").skip(1).collect();
            assert_eq!(policy.contains("script-src 'sha256-"), has_tool(&path), "{path}");
            assert_eq!(scripts.len(), if has_tool(&path) { 2 } else { 0 }, "{path}");
            if let [data, own] = &scripts[..] {
                let data = data.strip_prefix(" type=\"application/json\" id=\"").unwrap();
                let data = data.split_once("\">").unwrap().1.split_once("</script>").unwrap().0;
                let data_read: serde_json::Value = serde_json::from_str(data).unwrap();
                assert!(!data_read.is_null() && !data.contains('<'));
                assert!(own.starts_with(">// Find as you type") || own.starts_with(">// Takes readings"));
            }
        }
    }
}
