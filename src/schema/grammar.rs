//! A highlighting grammar of our KDL files, in the JSON form that many editors read (`TextMate`'s): words from the table.
//!
//! It colours and does not judge: a word that is no node, or stands in the wrong place, has the scope of a name.

use serde_json::{Value, json};

use super::reference;
use crate::quantity::{Dimension, unit};

/// A number of KDL, with its unit or without.
const NUMBER: &str = r"[+-]?(?:0x[0-9A-Fa-f_]+|0o[0-7_]+|0b[01_]+|[0-9][0-9_]*(?:\.[0-9_]+)?(?:[eE][+-]?[0-9_]+)?)";

/// What ends a word.
const END: &str = r#"(?=$|[\s={}()\[\]"/;\\])"#;

/// The grammar.
pub(crate) fn json() -> Value {
    let nodes = words(reference::names());
    let properties = words(reference::all().into_iter().flat_map(|spec| spec.properties).map(|row| row.name).collect());
    let units = words(Dimension::ALL.into_iter().flat_map(unit::of).map(|unit| unit.name).collect());
    json!({
        "$comment": "Made by `loopwright reference --grammar` from the table of the language.",
        "name": "loopwright",
        "scopeName": "source.loopwright",
        "fileTypes": ["kdl"],
        "patterns": [
            { "include": "#comments" },
            { "match": format!(r"(?:^|(?<=[{{}};]))\s*({nodes}){END}"), "captures": { "1": { "name": "keyword.other.node.loopwright" } } },
            { "match": format!("(?<=[\\s]|^)({properties})(=)"), "captures": {
                "1": { "name": "variable.parameter.property.loopwright" },
                "2": { "name": "keyword.operator.assignment.loopwright" },
            } },
            { "match": format!(r"(\()({units})(\))\s*({NUMBER}){END}"), "captures": {
                "1": { "name": "punctuation.definition.unit.loopwright" },
                "2": { "name": "keyword.other.unit.loopwright" },
                "3": { "name": "punctuation.definition.unit.loopwright" },
                "4": { "name": "constant.numeric.loopwright" },
            } },
            { "match": "#(?:true|false|null|inf|-inf|nan)\\b", "name": "constant.language.loopwright" },
            { "match": format!("(?<=[\\s=)]){NUMBER}{END}"), "name": "constant.numeric.loopwright" },
            { "include": "#strings" },
            { "match": "[{}]", "name": "punctuation.section.block.loopwright" },
        ],
        "repository": {
            "comments": { "patterns": [
                { "match": "//.*$", "name": "comment.line.double-slash.loopwright" },
                { "include": "#block" },
                { "match": "/-", "name": "comment.block.slashdash.loopwright" },
            ] },
            "block": {
                "begin": "/\\*", "end": "\\*/", "name": "comment.block.loopwright", "patterns": [{ "include": "#block" }],
            },
            "strings": { "patterns": [
                { "begin": "(#+)\"\"\"", "end": "\"\"\"\\1", "name": "string.quoted.other.raw.loopwright" },
                { "begin": "(#+)\"", "end": "\"\\1", "name": "string.quoted.other.raw.loopwright" },
                { "begin": "\"\"\"", "end": "\"\"\"", "name": "string.quoted.triple.loopwright", "patterns": [{ "include": "#escape" }] },
                { "begin": "\"", "end": "\"", "name": "string.quoted.double.loopwright", "patterns": [{ "include": "#escape" }] },
            ] },
            "escape": { "match": "\\\\(?:u\\{[0-9A-Fa-f]{1,6}\\}|.)", "name": "constant.character.escape.loopwright" },
        },
    })
}

/// Words as an alternative of a pattern. Longer ones stand first, or `run` would be found in `run-in`.
fn words(mut words: Vec<&'static str>) -> String {
    words.sort_unstable_by_key(|word| (std::cmp::Reverse(word.len()), *word));
    words.dedup();
    // Letters, digits and hyphens: nothing that a pattern reads otherwise.
    words.join("|")
}
