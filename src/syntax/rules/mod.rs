//! The rules of the text itself, each with its page beside this file.

use crate::diag::{Basis, Rule};
use crate::rule;

/// The file is not UTF-8 text.
pub(crate) static FILE_NOT_TEXT: Rule = rule!("file-not-text", Basis::Language, "the file is not UTF-8 text");
/// The file is longer than 1 MiB.
pub(crate) static FILE_TOO_LARGE: Rule = rule!("file-too-large", Basis::Language, "the file is longer than 1 MiB");
/// Braces are nested more than 32 deep.
pub(crate) static NESTING_TOO_DEEP: Rule =
    rule!("nesting-too-deep", Basis::Language, "braces are nested more than 32 deep");
/// Marks of an unfinished merge.
pub(crate) static MERGE_UNFINISHED: Rule =
    rule!("merge-unfinished", Basis::Language, "marks of an unfinished merge in a spec");
/// An opening brace has no closing one.
pub(crate) static BRACE_UNCLOSED: Rule =
    rule!("brace-unclosed", Basis::Language, "an opening brace has no closing one");
/// A closing brace closes nothing.
pub(crate) static BRACE_STRAY: Rule = rule!("brace-stray", Basis::Language, "a closing brace closes nothing");
/// A string has no end on its line.
pub(crate) static STRING_UNCLOSED: Rule = rule!("string-unclosed", Basis::Language, "a string has no end on its line");
/// A comment has no end.
pub(crate) static COMMENT_UNCLOSED: Rule = rule!("comment-unclosed", Basis::Language, "a comment has no end");
/// A unit is glued to its number.
pub(crate) static NUMBER_WITH_GLUED_UNIT: Rule =
    rule!("number-with-glued-unit", Basis::Language, "a unit is glued to its number");
/// A word begins like a number but is none.
pub(crate) static NUMBER_MALFORMED: Rule =
    rule!("number-malformed", Basis::Language, "a word begins like a number but is none");
/// A number is too large or too small to be kept.
pub(crate) static NUMBER_OUT_OF_RANGE: Rule =
    rule!("number-out-of-range", Basis::Language, "a number is too large or too small to be kept");
/// true, false or null without its #.
pub(crate) static BARE_KEYWORD: Rule = rule!("bare-keyword", Basis::Language, "true, false or null without its #");
/// A property or unit has no value.
pub(crate) static VALUE_MISSING: Rule = rule!("value-missing", Basis::Language, "a property or unit has no value");
/// A property is given twice on one node.
pub(crate) static DUPLICATE_PROPERTY: Rule =
    rule!("duplicate-property", Basis::Language, "a property is given twice on one node");
/// A raw string in the form of KDL 1.
pub(crate) static RAW_STRING_OLD: Rule = rule!("raw-string-old", Basis::Language, "a raw string in the form of KDL 1");
/// A backslash in a string stands before a character that it does not escape.
pub(crate) static STRING_ESCAPE: Rule = rule!(
    "string-escape",
    Basis::Language,
    "a backslash in a string stands before a character that it does not escape"
);
/// A text over several lines is not laid out as its marks say.
pub(crate) static STRING_LAYOUT: Rule =
    rule!("string-layout", Basis::Language, "a text over several lines is not laid out as its marks say");
/// Quotation marks of print in place of plain ones.
pub(crate) static QUOTATION_MARK: Rule =
    rule!("quotation-mark", Basis::Language, "quotation marks of print, or single ones, in place of double ones");
/// A comment begins with # or --.
pub(crate) static COMMENT_MARK: Rule = rule!("comment-mark", Basis::Language, "a comment begins with # or --");
/// A comma between values.
pub(crate) static COMMA: Rule = rule!("comma", Basis::Language, "a comma between values");
/// A colon after a name.
pub(crate) static COLON: Rule = rule!("colon", Basis::Language, "a colon after a name");
/// A character that cannot be seen stands in the text.
pub(crate) static CHARACTER_NOT_ALLOWED: Rule =
    rule!("character-not-allowed", Basis::Language, "a character that cannot be seen stands in the text");
/// The text is no node.
pub(crate) static TEXT_NOT_UNDERSTOOD: Rule = rule!("text-not-understood", Basis::Language, "the text is no node");

/// Every rule of this stage.
pub(crate) static RULES: &[&Rule] = &[
    &FILE_NOT_TEXT,
    &FILE_TOO_LARGE,
    &NESTING_TOO_DEEP,
    &MERGE_UNFINISHED,
    &BRACE_UNCLOSED,
    &BRACE_STRAY,
    &STRING_UNCLOSED,
    &COMMENT_UNCLOSED,
    &NUMBER_WITH_GLUED_UNIT,
    &NUMBER_MALFORMED,
    &NUMBER_OUT_OF_RANGE,
    &BARE_KEYWORD,
    &VALUE_MISSING,
    &DUPLICATE_PROPERTY,
    &RAW_STRING_OLD,
    &STRING_ESCAPE,
    &STRING_LAYOUT,
    &QUOTATION_MARK,
    &COMMENT_MARK,
    &COMMA,
    &COLON,
    &CHARACTER_NOT_ALLOWED,
    &TEXT_NOT_UNDERSTOOD,
];
