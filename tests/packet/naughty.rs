//! Strings that are seldom thought of, as names, titles, descriptions, notes and routes: each is refused by a rule that says
//! so, or reads back as itself from every file of the packet and from what the terminal shows.
//!
//! A mark before or behind a string says where it is to be found. Whatever file there is is read, by a reader of its kind;
//! a file of a new kind wants one in [`read`].

use std::collections::{BTreeMap, BTreeSet};

use loopwright::diag::{Format, render};
use loopwright::emit::escape::csv_cell;
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;
use pulldown_cmark::{Event, Options, Parser};
use serde_json::Value;

use super::sites::{FULL, packet, site};

const LISTS: [&str; 2] = [include_str!("../fuzz/naughty.txt"), include_str!("../recorded/commonmark.txt")];

/// The rules that may refuse a text; out of range is one that has nothing to see in it, or too much.
const REFUSALS: [&str; 4] =
    ["secret-in-spec", "text-with-control-characters", "text-with-unseen-characters", "value-out-of-range"];

fn strings() -> Vec<String> {
    let lines = LISTS.iter().flat_map(|list| list.lines()).filter(|line| line.starts_with('"'));
    lines.map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// A string in the spelling of a spec.
fn spelled(text: &str) -> String {
    let letter = |c: char| match c {
        '"' | '\\' => format!("\\{c}"),
        c if c.is_ascii_alphanumeric() || c == ' ' => c.to_string(),
        c => format!("\\u{{{:x}}}", u32::from(c)),
    };
    format!("\"{}\"", text.chars().map(letter).collect::<String>())
}

fn one_file(text: String) -> MemoryFiles {
    MemoryFiles([("site.kdl".to_owned(), text.into_bytes())].into())
}

/// The strings that no rule refuses; each of the others is refused by one of those.
fn accepted() -> Vec<String> {
    let refusal = |text: &String| {
        let outcome = session::check(&one_file(format!("site \"s\" title={}\n", spelled(text))));
        let slugs: Vec<&str> = outcome.diagnostics.iter().map(|found| found.rule.slug).collect();
        assert!(slugs.iter().all(|slug| REFUSALS.contains(slug)), "{text:?} is refused by {slugs:?}");
        !slugs.is_empty()
    };
    strings().into_iter().filter(|text| !refusal(text)).collect()
}

/// Sheets with texts made shorter for a label or a form: what is whole there is found, what is not is found in others.
const SHORTENED: [&str; 5] = ["wire-labels", "label-sheet", "bundles", "zone-descriptions", "index.html"];

/// Stand around the number of a string; letters, so that they are never markup.
const MARKS: (char, char) = ('Ɋ', 'ɋ');

/// The full house with a string in every place where people write what they like; with the strings by number.
fn house(strings: &[String], mark_first: bool) -> (String, Vec<String>) {
    let mut used = Vec::new();
    let mut text = String::new();
    let full = FULL.replace(" description-width=24", "");
    let mut rest = full.as_str();
    let places = ["title=\"", "note=\"", "route=\"", "zone 1 \"", "zone 2 \"", "zone 3 \"", "zone 4 \"", "zone 5 \""];
    while let Some((at, place)) = places.iter().filter_map(|place| Some((rest.find(place)?, place))).min() {
        let (before, after) = rest.split_at(at + place.len() - 1);
        let number = used.len();
        let string = &strings[number % strings.len()];
        let mark = format!("{}{number}{}", MARKS.0, MARKS.1);
        text.push_str(before);
        text.push_str(&spelled(&if mark_first { format!("{mark}{string}") } else { format!("{string}{mark}") }));
        used.push(string.clone());
        rest = after[1..].split_once('"').unwrap().1;
    }
    text.push_str(rest);
    (text, used)
}

/// What the data of a page's own script say. The script itself says nothing.
fn found_in_data(text: &str) -> String {
    json_strings(&serde_json::from_str(text).unwrap_or_default()).join(" ")
}

/// The texts that a reader of such a file finds in it.
fn read(path: &str, text: &str) -> Vec<String> {
    match path.rsplit('.').next().unwrap() {
        "md" => {
            let events = Parser::new_ext(text, Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS);
            vec![
                events
                    .map(
                        |event| {
                            if let Event::Text(text) | Event::Code(text) = event {
                                text.to_string()
                            } else {
                                " ".into()
                            }
                        },
                    )
                    .collect(),
            ]
        }
        "html" | "svg" => {
            let lines = text.lines().filter(|line| !line.starts_with("<meta "));
            let text: String = lines.flat_map(|line| [line, "\n"]).collect();
            let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
            let page = roxmltree::Document::parse_with_options(&text, options).unwrap();
            let styled = |node: &roxmltree::Node| node.parent().is_some_and(|parent| parent.has_tag_name("style"));
            let said = |node: roxmltree::Node| match node.text().filter(|_| node.is_text()) {
                Some(text) if styled(&node) => style_strings(text),
                Some(text) if node.parent().is_some_and(|parent| parent.has_tag_name("script")) => found_in_data(text),
                Some(text) => text.to_owned(),
                None => " ".to_owned(),
            };
            vec![page.descendants().map(said).collect()]
        }
        "csv" => {
            let reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
            reader.into_records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>()).collect()
        }
        "json" => json_strings(&serde_json::from_str(text).unwrap()),
        "ics" => vec![unescaped(&text.replace("\r\n ", ""))],
        "loopwright-manifest" => Vec::new(),
        other => panic!("{path}: no reader for .{other}"),
    }
}

/// Text of a calendar: a stroke, and what it stands before.
fn unescaped(text: &str) -> String {
    let mut characters = text.chars();
    let mut read = String::new();
    while let Some(character) = characters.next() {
        read.extend(if character == '\\' { characters.next() } else { Some(character) });
    }
    read
}

/// A style with its escapes (a stroke, six digits and a blank) read.
fn style_strings(style: &str) -> String {
    let mut pieces = style.split('\\');
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.fold(first, |said, piece| match piece.get(..6).map(|digits| u32::from_str_radix(digits, 16)) {
        Some(Ok(code)) => {
            let rest = piece[6..].strip_prefix(' ').expect("a blank ends the number");
            format!("{said}{}{rest}", char::from_u32(code).unwrap())
        }
        _ => said + piece,
    })
}

fn json_strings(value: &Value) -> Vec<String> {
    match value {
        Value::String(text) => vec![text.clone()],
        Value::Array(items) => items.iter().flat_map(json_strings).collect(),
        Value::Object(map) => {
            map.iter().flat_map(|(key, item)| [vec![key.clone()], json_strings(item)].concat()).collect()
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => Vec::new(),
    }
}

/// Lines may be broken, and blanks in a row are one: so blanks do not count where people read.
fn without_blanks(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && !c.is_control()).collect()
}

/// The numbers of the strings that stand in a text as themselves, and of those that stand there otherwise.
fn found(path: &str, text: &str, used: &[String], mark_first: bool) -> (BTreeSet<usize>, BTreeSet<usize>) {
    let exact = path.ends_with("json") || path.ends_with("csv");
    let is_short = SHORTENED.iter().any(|sheet| path.starts_with(sheet));
    let text = if exact { text.to_owned() } else { without_blanks(text) };
    let (mut whole, mut other) = (BTreeSet::new(), BTreeSet::new());
    for (at, _) in text.match_indices(MARKS.0) {
        let Some((number, behind)) = text[at + MARKS.0.len_utf8()..].split_once(MARKS.1) else { continue };
        let Ok(number) = number.parse::<usize>() else { continue };
        let wanted = if exact { used[number].clone() } else { without_blanks(&used[number]) };
        // A drawing says by its dots that a text goes on; its words in full stand in its description.
        let cut = mark_first && behind.split_once('…').is_some_and(|(part, _)| wanted.starts_with(part));
        if if mark_first { behind.starts_with(&wanted) } else { text[..at].ends_with(&wanted) } {
            whole.insert(number);
        } else if !(cut || is_short) {
            other.insert(number);
        }
    }
    (whole, other)
}

#[test]
fn every_string_reads_back_from_every_file_or_is_refused() {
    // The longest that a text may be, less the mark.
    let strings: Vec<String> = accepted().into_iter().filter(|text| text.chars().count() < 192).collect();
    let mut seen: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let places = house(&strings, true).1.len();
    for (batch, mark_first) in (0..strings.len().div_ceil(places)).flat_map(|batch| [(batch, true), (batch, false)]) {
        let mut turned = strings.clone();
        turned.rotate_left(batch * places % strings.len());
        let (text, used) = house(&turned, mark_first);
        for (path, bytes) in packet(&site(&text)).files {
            let texts = read(&path, std::str::from_utf8(&bytes).unwrap());
            let (whole, other): (Vec<_>, Vec<_>) =
                texts.iter().map(|text| found(&path, text, &used, mark_first)).unzip();
            let whole: BTreeSet<usize> = whole.into_iter().flatten().collect();
            let wrong = other.into_iter().flatten().next();
            assert!(wrong.is_none(), "{path}: {:?} is not there as itself: {texts:?}", used[wrong.unwrap()]);
            let ending = path.rsplit('.').next().unwrap().to_owned();
            seen.entry(ending).or_default().extend(whole.into_iter().map(|number| used[number].clone()));
            if path.ends_with("csv") {
                assert!(texts.iter().all(|cell| csv_cell(cell) == *cell), "{path}: a cell that a spreadsheet runs");
            }
        }
    }
    for ending in ["html", "md", "json"] {
        let missing: Vec<&String> = strings.iter().filter(|text| !seen[ending].contains(*text)).collect();
        assert!(missing.is_empty(), "in no file of {ending}: {missing:?}");
    }
    // Not every place is in a table or in a drawing.
    let enough = [("csv", 200), ("svg", 20)].iter().all(|(ending, least)| seen[*ending].len() > *least);
    assert!(strings.len() > 300 && enough, "{seen:?}");
}

/// A name that nothing has, in what `check` and `textconv` print.
#[test]
fn every_string_reads_back_from_the_terminal_or_is_refused() {
    for text in accepted() {
        let spec = format!("site \"s\"\nzone 1 \"Door\" type=\"perimeter\" area={}\n", spelled(&text));
        let outcome = session::check(&one_file(spec.clone()));
        let shown = without_blanks(&text);
        for format in [Format::Short, Format::Json] {
            let printed = render(format, &outcome.sources, &outcome.diagnostics, 100);
            let texts = if format == Format::Json {
                json_strings(&serde_json::from_str(&printed).unwrap())
            } else {
                vec![printed]
            };
            assert!(texts.iter().any(|said| without_blanks(said).contains(&shown)), "{text:?} in {texts:?}");
        }
        let list = session::textconv(spec.into_bytes());
        assert!(without_blanks(&list).contains(&shown), "{text:?} in {list}");
    }
}
