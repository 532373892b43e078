//! Markdown read back: every value of every template comes out as the text it was, from every place it stands in.
//!
//! A page is made twice: with words in place of the values, and with the values. What pulldown-cmark finds in the two
//! must be the same, but for the words.

use loopwright::emit::markdown::Templates;
use loopwright::views::work_order::DOCUMENT as WORK_ORDER;
use loopwright::views::{DOCUMENTS, Document, Head, value};
use proptest::prelude::*;
use pulldown_cmark::{Event, Options, Parser, Tag, TextMergeStream};
use serde_json::Value;

use super::sites::{self, full_site};
use crate::alder_mill::AlderMill;
use crate::git::remodel;

/// Stands around the number of a value; a letter, so that it is never markup.
const WORD: char = 'Ɋ';

/// A view with every text that is printed replaced, except what stands in code, where nothing can be escaped.
fn filled(view: &Value, count: &mut usize, put: &mut dyn FnMut(usize, &str) -> String) -> Value {
    match view {
        Value::String(text) if !text.is_empty() => {
            *count += 1;
            Value::String(put(*count, text))
        }
        Value::Array(items) => items.iter().map(|item| filled(item, count, put)).collect(),
        Value::Object(map) => {
            let entry = |(key, item): (&String, &Value)| {
                let item = if key == "bar" { item.clone() } else { filled(item, count, put) };
                (key.clone(), item)
            };
            Value::Object(map.iter().map(entry).collect())
        }
        other => other.clone(),
    }
}

fn events(markdown: &str) -> Vec<Event<'_>> {
    let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
    TextMergeStream::new(Parser::new_ext(markdown, options)).collect()
}

/// A text with the values in place of their words.
fn with_values(text: &str, values: &[String]) -> String {
    let piece = |(at, piece): (usize, &str)| {
        if at % 2 == 0 { piece.to_owned() } else { values[piece.parse::<usize>().unwrap() - 1].clone() }
    };
    text.split(WORD).enumerate().map(piece).collect()
}

/// How a value is to read: on one line, without blanks at its ends.
fn as_read(value: &str) -> String {
    value.replace(|c: char| c.is_control() || "\u{2028}\u{2029}".contains(c), " ").trim().to_owned()
}

/// Renders a template over a view, with `replace` for its values, and reads it back; the Markdown.
fn read_back(templates: &Templates, name: &str, view: &Value, replace: &dyn Fn(usize, &str) -> String) -> String {
    let words = filled(view, &mut 0, &mut |number, _| format!("{WORD}{number}{WORD}"));
    let mut values = Vec::new();
    let real = filled(view, &mut 0, &mut |number, text| {
        let value = replace(number, text);
        values.push(as_read(&value));
        value
    });
    let (words, markdown) = (templates.render(name, &words).unwrap(), templates.render(name, &real).unwrap());
    let links: Vec<String> = values.iter().map(|value| value.replace(' ', "%20")).collect();
    let found = events(&markdown);
    let wanted = events(&words);
    assert_eq!(found.len(), wanted.len(), "{name}:\n{markdown}");
    for (found, wanted) in found.iter().zip(wanted) {
        let wanted = match wanted {
            Event::Text(text) => Event::Text(with_values(&text, &values).into()),
            Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
                Event::Start(Tag::Link { link_type, dest_url: with_values(&dest_url, &links).into(), title, id })
            }
            Event::Start(Tag::Image { link_type, dest_url, title, id }) => {
                Event::Start(Tag::Image { link_type, dest_url: with_values(&dest_url, &links).into(), title, id })
            }
            other => other,
        };
        assert_eq!(*found, wanted, "{name}:\n{markdown}");
    }
    markdown
}

fn all() -> Vec<&'static Document> {
    DOCUMENTS.iter().copied().chain([&WORK_ORDER]).collect()
}

fn as_it_is(_: usize, text: &str) -> String {
    text.to_owned()
}

#[test]
fn every_page_of_the_demo_reads_back() {
    let made = sites::of_files(&AlderMill::new().files());
    let templates = Templates::new(DOCUMENTS).unwrap();
    let packet = sites::packet(&made).files;
    for document in DOCUMENTS {
        let head = Head::of(&made.site, document);
        let head = read_back(&templates, "head", &value(&head), &as_it_is);
        let body = read_back(&templates, document.name, &document.view(&made), &as_it_is);
        let printed = std::str::from_utf8(&packet[&format!("{}.md", document.name)]).unwrap();
        // The pages of rules stand behind the list of findings.
        assert!(printed.starts_with(&format!("{}\n\n{}\n", head.trim(), body.trim())), "{}", document.name);
        assert!(printed.starts_with(&sites::markdown(&made, document.name)), "{}", document.name);
    }
}

#[test]
fn every_work_order_of_the_remodelled_demo_reads_back() {
    let repository = remodel::remodelled();
    let templates = Templates::new(&[&WORK_ORDER]).unwrap();
    let steps = (0..5).map(|nth| (format!("HEAD~{}", nth + 1), format!("HEAD~{nth}")));
    for (old, new) in steps.chain([("HEAD~5".to_owned(), "HEAD".to_owned())]) {
        let order = repository.diff(&[&old, &new, "specs/alder-mill", "--as", "json"]);
        let order = serde_json::from_str(&order).unwrap();
        assert!(read_back(&templates, WORK_ORDER.name, &order, &as_it_is).contains("- [ ] "));
    }
}

fn awkward() -> impl Strategy<Value = String> {
    let pieces = prop_oneof![
        "[!-/:-@\\[-`{-~]{1,4}",
        "[ a-c0-9.)]{1,4}",
        "(\\PC|\n){1,3}",
        "<script>|<!--|&amp;|\\]\\(x\\)|\\[x\\]: y|!\\[x\\]\\(y\\)|\\[ \\] |---|1\\. |# | #|\\| --- \\||\u{2}|\u{3}",
    ];
    prop::collection::vec(pieces, 1..5)
        .prop_map(|pieces| pieces.concat())
        .prop_filter("a value says something", |text| !as_read(text).is_empty())
}

#[test]
fn awkward_values_read_back_from_every_template() {
    let made = full_site();
    let templates = Templates::new(&all()).unwrap();
    let head = ("head", value(&Head::of(&made.site, DOCUMENTS[0]).since("A")));
    let views = all().into_iter().map(|document| (document.name, document.view(&made)));
    let views: Vec<(&str, Value)> = views.chain([head]).collect();
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig::with_cases(48));
    let run = runner.run(&prop::collection::vec(awkward(), 7), |pool| {
        for (name, view) in &views {
            read_back(&templates, name, view, &|number, _| pool[number * number % pool.len()].clone());
        }
        Ok(())
    });
    run.unwrap();
}
