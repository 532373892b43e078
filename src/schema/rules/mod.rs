//! The rules of reading against the table, and the words of their diagnostics.

mod nodes;
mod values;

pub(crate) use nodes::{
    argument_missing, argument_surplus, arguments_exchanged, node_missing, node_unknown, property_missing,
    property_unknown,
};

pub(crate) use values::{
    colour_unknown, is_about_a_missing_unit, marking_unknown, marking_with_unit, no_day, quantity,
    unit_without_quantity, value_out_of_range, value_wrong_kind, word_unknown,
};

use crate::base::wording::{a, kdl_text, list, thousands};
use crate::base::{Span, Spanned};
use crate::diag::{Basis, Certainty, Diagnostic, Rule};
use crate::quantity::unit;
use crate::rule;
use crate::syntax::{Node, Value};

use super::meant;
use super::read::Written;
use super::spec::{Kind, NodeSpec};

static NODE_UNKNOWN: Rule = rule!("node-unknown", Basis::Language, "a node that has no meaning where it stands");
static NODE_REPEATED: Rule = rule!("node-repeated", Basis::Language, "a node twice where one may stand");
static NODE_TOO_MANY: Rule = rule!("node-too-many", Basis::Language, "more of one thing than a site may hold");
static NODE_MISSING: Rule = rule!("node-missing", Basis::Language, "a node without one that it needs in its braces");
static PROPERTY_UNKNOWN: Rule = rule!("property-unknown", Basis::Language, "a property that the node does not have");
static PROPERTY_MISSING: Rule = rule!("property-missing", Basis::Language, "a node without a property that it needs");
static ARGUMENT_MISSING: Rule = rule!("argument-missing", Basis::Language, "a node without an argument that it needs");
static ARGUMENT_SURPLUS: Rule = rule!("argument-surplus", Basis::Language, "more arguments than the node takes");
static VALUE_WRONG_KIND: Rule = rule!("value-wrong-kind", Basis::Language, "a value of another kind than wanted");
static VALUE_OUT_OF_RANGE: Rule = rule!("value-out-of-range", Basis::Language, "a value outside what is possible");
static WORD_UNKNOWN: Rule = rule!("word-unknown", Basis::Language, "a word that is not in the list");
static QUANTITY_WITHOUT_UNIT: Rule =
    rule!("quantity-without-unit", Basis::Language, "a bare number where a quantity belongs");
static QUANTITY_WRONG_UNIT: Rule =
    rule!("quantity-wrong-unit", Basis::Language, "a unit that is unknown or measures something else");
static UNIT_WITHOUT_QUANTITY: Rule =
    rule!("unit-without-quantity", Basis::Language, "a unit where no quantity belongs");
static NAME_NOT_PLAIN: Rule =
    rule!("name-not-plain", Basis::Language, "a name with other characters than letters, digits, - _ .");
static TEXT_WITH_CONTROL: Rule =
    rule!("text-with-control-characters", Basis::Language, "text with characters that cannot be printed");
static TEXT_WITH_UNSEEN: Rule =
    rule!("text-with-unseen-characters", Basis::Language, "text with characters that nobody sees");

/// The rules of this stage.
pub(crate) static RULES: &[&Rule] = &[
    &NODE_UNKNOWN,
    &NODE_REPEATED,
    &NODE_TOO_MANY,
    &NODE_MISSING,
    &PROPERTY_UNKNOWN,
    &PROPERTY_MISSING,
    &ARGUMENT_MISSING,
    &ARGUMENT_SURPLUS,
    &VALUE_WRONG_KIND,
    &VALUE_OUT_OF_RANGE,
    &WORD_UNKNOWN,
    &QUANTITY_WITHOUT_UNIT,
    &QUANTITY_WRONG_UNIT,
    &UNIT_WITHOUT_QUANTITY,
    &NAME_NOT_PLAIN,
    &TEXT_WITH_CONTROL,
    &TEXT_WITH_UNSEEN,
];

fn quoted(items: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let quoted: Vec<String> = items.into_iter().map(|i| format!("`{}`", i.as_ref())).collect();
    list(&quoted, "or")
}

/// A child twice where one may stand.
pub(crate) fn node_repeated(node: &Node, parent: &NodeSpec, earlier: Span) -> Diagnostic {
    let name = &node.name.value;
    let finding = Diagnostic::new(&NODE_REPEATED, node.name.span, format!("a second `{name}` in `{}`", parent.name))
        .here("the second")
        .also(earlier, "the first");
    // A sheet may well tell of two contacts, so here it is no slip of the pen.
    if (parent.name, name.as_str()) == ("part", "contact") {
        return finding
            .why("A device is in one loop, by one alarm contact. A second contact would be in no loop, whatever zone or board its cable leads to.")
            .help("Keep the one that is wired. Where both are, write the second in a part of its own, without a supply, and mount that in the other loop as a `contact` with existing=#true: it comes in the housing of the first.");
    }
    finding
        .why("Only one may stand here, and nothing says which of the two is meant.")
        .help(format!("Remove one of the two `{name}` nodes."))
}

/// A node past the limit of the site or of the node that it stands in.
pub(crate) fn node_too_many(node: &Node, most: usize, of: &str, help: &str) -> Diagnostic {
    let name = &node.name.value;
    Diagnostic::new(&NODE_TOO_MANY, node.name.span, format!("this is `{name}` number {} of {of}", thousands(most + 1)))
        .here("not read, nor any after it")
        .why(format!(
            "At most {} may stand in {of}, which is far past anything that is wired. Mostly a script has gone wrong.",
            thousands(most)
        ))
        .help(help)
}

/// A value past the limit of an argument that takes many.
pub(crate) fn value_too_many(node: &Node, most: usize, span: Span) -> Diagnostic {
    let name = &node.name.value;
    Diagnostic::new(&NODE_TOO_MANY, span, format!("this is value number {} of one `{name}`", thousands(most + 1)))
        .here("not read, nor any after it")
        .why(format!("One `{name}` takes at most {} values, which is far past anything that is made. Mostly a script has gone wrong.", thousands(most)))
        .help("Take out those that are too many.")
}

/// A type annotation before a node's name.
pub(crate) fn annotation_on_node(node: &Node, span: Span) -> Diagnostic {
    Diagnostic::new(&UNIT_WITHOUT_QUANTITY, span, format!("`{}` itself takes no unit", node.name.value))
        .here("a unit before a node")
        .why("A unit stands directly before the number that it belongs to.")
        .help("Move it to its number, as in `length=(ft)38`.")
}

/// A name with characters that a name may not have.
pub(crate) fn name_not_plain(node: &Node, field: &str, written: Written<'_>) -> Diagnostic {
    let found = Diagnostic::new(&NAME_NOT_PLAIN, written.value.span, format!("the {field} of `{}` is no plain name", node.name.value))
        .here("letters, digits, - _ . only")
        .also(node.name.span, "")
        .why("Names are typed again wherever they are referred to, and become file names and labels. They start with a letter, digit or _ and have at most 40 letters, digits, `-`, `_` and `.`.");
    let right = match &written.value.value {
        Value::Text(text) => meant::plain_name(text),
        Value::Number { .. } | Value::Flag(_) | Value::Null => None,
    };
    match right {
        Some(right) => found
            .help(format!("Keep the name plain, as \"{right}\", and put the words for people into `title=`."))
            .edit(Certainty::Likely, written.value.span, format!("\"{right}\"")),
        None => found.help("Keep the name plain and put the words for people into `title=`."),
    }
}

/// Text with characters that cannot be printed.
pub(crate) fn text_with_control_characters(node: &Node, field: &str, written: Written<'_>) -> Diagnostic {
    Diagnostic::new(
        &TEXT_WITH_CONTROL,
        written.value.span,
        format!("`{field}` of `{}` has characters that cannot be printed", node.name.value),
    )
    .here("a line end, control character or direction mark in here")
    .also(node.name.span, "")
    .why("The text is printed on paper, in tables and on labels. Control characters and marks that turn the direction of writing would make it say something other than what stands here.")
    .help("Take them out; a line end becomes a space.")
}

/// Text with a character that is not seen, where no script or picture needs it.
pub(crate) fn text_with_unseen_characters(node: &Node, field: &str, unseen: char, written: Written<'_>) -> Diagnostic {
    Diagnostic::new(
        &TEXT_WITH_UNSEEN,
        written.value.span,
        format!("`{field}` of `{}` has a character that nobody sees", node.name.value),
    )
    .here(format!("the character U+{:04X} in here", u32::from(unseen)))
    .also(node.name.span, "")
    .why("On paper the text looks like one without it, and is another: two labels that look alike are two labels, and a search does not find what everybody reads. It mostly comes along when a text is copied.")
    .help("Take it out: delete the whole text and type it again.")
}

/// A value as it is written in a spec.
fn printed(value: &Value) -> String {
    match value {
        Value::Text(text) => kdl_text(text),
        Value::Number { written, .. } => written.clone(),
        Value::Flag(flag) => format!("#{flag}"),
        Value::Null => "#null".to_owned(),
    }
}

/// The same with its unit.
fn written(unit: Option<&Spanned<String>>, value: &Value) -> String {
    let unit = unit.map_or_else(String::new, |unit| format!("({})", unit.value));
    format!("{unit}{}", printed(value))
}

/// What a value of a kind is, for messages and the reference.
pub(crate) fn describe(kind: Kind) -> String {
    match kind {
        Kind::Name(names) => format!("a new {} name", names.noun()),
        Kind::Reference(names) => format!("the name of {}", a(names.noun())),
        Kind::Text(_) | Kind::Label(_) => "text in quotes".into(),
        Kind::Word(_) => "a word of a list".into(),
        Kind::Integer(min, max) => format!("a whole number from {min} to {max}"),
        Kind::Quantity(dimensions, _) => {
            let nouns: Vec<&str> = dimensions.iter().map(|d| d.noun()).collect();
            format!("{} with its unit", list(&nouns, "or"))
        }
        Kind::Resistance => "a resistor's value".into(),
        Kind::Flag => "#true or #false".into(),
        Kind::Money => "an amount of money".into(),
        Kind::Date => "a date".into(),
        Kind::Colour => "a colour code of IEC 60757".into(),
        Kind::Terminal => "a terminal's mark, 1 to 12 characters".into(),
        Kind::Slug => "the slug of a rule".into(),
        Kind::Path => "the path of a file".into(),
    }
}

/// A value of a kind as it may be written, for helps and the reference.
pub(crate) fn sample(kind: Kind) -> String {
    match kind {
        Kind::Name(names) | Kind::Reference(names) => format!("\"{}-name\"", names.noun()),
        Kind::Text(_) | Kind::Label(_) => "\"…\"".into(),
        Kind::Word(words) => format!("\"{}\"", words.first().map_or("", |w| w.word)),
        Kind::Integer(min, _) => min.max(1).to_string(),
        Kind::Quantity(dimensions, _) => {
            let first = dimensions.first().and_then(|d| unit::of(*d).next());
            format!(
                "({}){}",
                first.map_or("", |u| u.name),
                if first.is_some_and(|u| u.name == "AWG") { "22" } else { "12" }
            )
        }
        Kind::Resistance => "\"2k2\"".into(),
        Kind::Flag => "#true".into(),
        Kind::Money => "23.40".into(),
        Kind::Date => "\"2027-03-14\"".into(),
        Kind::Colour => "\"RD\"".into(),
        Kind::Terminal => "\"A+\"".into(),
        Kind::Slug => "\"opening-unwatched\"".into(),
        Kind::Path => "\"wiring/ground.kdl\"".into(),
    }
}
