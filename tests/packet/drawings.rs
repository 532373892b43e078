//! The drawings: files of their own, and in their document's page where the Markdown shows them.

use std::collections::BTreeMap;

use loopwright::compiled::Compiled;
use roxmltree::Document;

use super::sites::{FULL, empty_site, full_site, hostile_site, packet, site};

fn texts(made: &Compiled) -> BTreeMap<String, String> {
    packet(made).files.into_iter().map(|(path, bytes)| (path, String::from_utf8(bytes).unwrap())).collect()
}

fn ending<'f>(files: &'f BTreeMap<String, String>, end: &str) -> Vec<(&'f String, &'f String)> {
    files.iter().filter(|(path, _)| path.ends_with(end)).collect()
}

/// Words in the places that the drawing of a bus prints, and in others that stand on the same sheets.
fn hostile_bus(words: &str) -> Compiled {
    let quoted = words.replace('\\', "\\\\").replace('"', "\\\"");
    let title = |of: &str| format!("title=\"{of}\"");
    let mut text = FULL.replace("note=\"Strip added\"", &format!("note=\"{quoted}\""));
    for old in ["Main panel", "Hall keypad", "Expander", "Receiver", "Hall", "Landing", "Plant room"] {
        assert!(text.contains(&title(old)), "{old}");
        text = text.replace(&title(old), &title(&format!("{quoted} {old}")));
    }
    site(&text)
}

/// Names that look like markup of every kind that a sheet is made of.
const HOSTILE: [&str; 7] = [
    "</svg><script>alert(1)</script>",
    "]]> & \"x\" 'y' &lt;",
    "<img src=x onerror=alert(1)>",
    "![x](bus-1.svg)",
    "<svg onload=alert(1)><path d='M0 0'/></svg>",
    "</desc></text><a href='javascript:x'>",
    "<!-- <?x?> <![CDATA[",
];

#[test]
fn every_drawing_is_a_file_and_stands_once_where_it_is_shown() {
    let hostile = HOSTILE.iter().map(|words| hostile_bus(words));
    for made in [full_site(), empty_site(), hostile_site()].into_iter().chain(hostile) {
        let files = texts(&made);
        let drawings = ending(&files, ".svg");
        let has = |start: &str| drawings.iter().any(|(file, _)| file.starts_with(start));
        let bus = ["The site has no data bus.", "Not computed"];
        assert_eq!(has("bus-"), !bus.iter().any(|without| files["bus-sheet.md"].contains(without)));
        assert_eq!(has("loop-"), !files["loop-sheet.md"].contains("No zone has a wired loop."));
        let pages = ending(&files, ".html");
        let inside: usize = pages.iter().map(|(_, page)| page.matches("<svg").count()).sum();
        assert_eq!(inside, drawings.len());
        for (file, drawing) in drawings {
            let showing: Vec<&String> =
                pages.iter().filter(|(_, page)| page.contains(drawing.as_str())).map(|(path, _)| *path).collect();
            assert_eq!(showing.len(), 1, "{file}");
            let markdown = &files[&showing[0].replace(".html", ".md")];
            let shown = markdown.lines().filter(|line| line.starts_with("![") && line.ends_with(&format!("]({file})")));
            assert_eq!(shown.count(), 1, "{file}\n{markdown}");
        }
        for (path, page) in pages {
            assert!(
                !page.contains("<img")
                    && (["index.html", "commissioning-sheet.html"].contains(&path.as_str())
                        || !page.contains("<script")),
                "{path}"
            );
        }
    }
}

#[test]
fn hostile_names_are_words_in_the_drawing() {
    for words in HOSTILE {
        let files = texts(&hostile_bus(words));
        let text = &files["bus-1.svg"];
        let drawing = Document::parse(text).unwrap_or_else(|fault| panic!("{fault}\n{text}"));
        let names = ["svg", "title", "desc", "rect", "path", "circle", "text", "a"];
        let elements = || drawing.descendants().filter(|node| node.is_element());
        assert!(elements().all(|element| names.contains(&element.tag_name().name())), "{text}");
        assert!(elements().all(|element| element.attributes().all(|a| !a.name().starts_with("on"))), "{text}");
        // The longest way round: names are in the description whole, in the boxes in lines.
        let said = elements().find(|element| element.has_tag_name(("http://www.w3.org/2000/svg", "desc")));
        let said = said.and_then(|said| said.text().map(str::to_owned)).unwrap_or_default().replace('\u{a0}', " ");
        assert!(said.contains(&format!("[{words} Main panel]")), "{said}");
    }
}

#[test]
fn the_drawing_says_what_is_on_the_bus() {
    let files = texts(&full_site());
    let drawing = Document::parse(&files["bus-1.svg"]).unwrap();
    let said: Vec<&str> =
        drawing.descendants().filter(|node| node.tag_name().name() == "text").filter_map(|node| node.text()).collect();
    let wanted = [
        "Bus data",
        "not to scale",
        "1",
        "Main panel",
        "Plant room",
        "120 Ω built in;",
        "120 Ω fitted",
        "DATA-1",
        "30 ft",
        "2",
        "addr. 1",
        "Hall keypad",
        "Hall",
        "to 2a",
        "3",
        "addr. 2",
        "Expander",
        "addr. 3",
        "Receiver",
        "from 2",
        "DATA-2",
        "2 ft",
        "2a",
        "addr. 4",
        "Low keypad",
        "short wires at one place",
    ];
    for wanted in wanted {
        assert!(said.contains(&wanted), "{wanted} in {said:?}");
    }
    assert!(!said.contains(&"joint or end of a cable, no module"));
}
