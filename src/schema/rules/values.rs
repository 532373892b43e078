//! Values that are not what their row of the table asks for, and what was probably meant by them.

use std::fmt;

use crate::base::wording::{list, which_of};
use crate::base::{Span, Spanned};
use crate::diag::{Certainty, Diagnostic};
use crate::quantity::colour::ColourError;
use crate::quantity::resistor::MarkingError;
use crate::quantity::unit::{DAY, MONTH};
use crate::quantity::{Dimension, Quantity, unit};
use crate::schema::meant;
use crate::schema::read::Written;
use crate::schema::spec::{Kind, Sign};
use crate::syntax::{Node, Value};
use crate::terms::Word;

use super::{
    QUANTITY_WITHOUT_UNIT, QUANTITY_WRONG_UNIT, UNIT_WITHOUT_QUANTITY, VALUE_OUT_OF_RANGE, VALUE_WRONG_KIND,
    WORD_UNKNOWN, describe, printed, quoted, sample,
};

/// A value of another kind.
pub(crate) fn value_wrong_kind(node: &Node, field: &str, kind: Kind, written: Written<'_>) -> Diagnostic {
    let given = match (kind, &written.value.value) {
        (Kind::Integer(..), Value::Number { .. }) => "a fraction",
        (_, value) => value.noun(),
    };
    let found = Diagnostic::new(
        &VALUE_WRONG_KIND,
        written.value.span,
        format!("`{field}` of `{}` is {}, not {given}", node.name.value, describe(kind)),
    )
    .here(format!("{given} here"))
    .also(node.name.span, "")
    .why(format!("`{field}` is {}.", describe(kind)));
    let annotation = written.annotation.map(|annotation| annotation.value.as_str());
    match meant::value(kind, &written.value.value, annotation) {
        Some((right, certainty)) => {
            let unit = written.annotation.filter(|_| right.starts_with('('));
            let behind = written.value.span.behind();
            let whole = unit.map_or(written.value.span, |unit| annotation_with_brackets(unit.span, behind));
            found.help(format!("Write it as `{right}`.")).edit(certainty, whole, right)
        }
        None if field == "ohms" && meant::is_open(&written.value.value) => {
            found.help("Write open=#true in the place of ohms=: the meter shows no connection.")
        }
        None => match (kind, &written.value.value) {
            // A number in quotes: the example must not look like the answer.
            (Kind::Quantity(dimensions, _), Value::Text(text))
                if text.trim().parse::<f64>().is_ok_and(f64::is_finite) =>
            {
                found.help(with_unit(dimensions, text.trim()))
            }
            (Kind::Quantity(..), Value::Text(_)) => {
                found.help(format!("Write the number behind its unit and without quotes, as in `{}`.", sample(kind)))
            }
            (Kind::Reference(_), _) => {
                found.help(format!("Write the name that it has where it is defined, in quotes, as `{}`.", sample(kind)))
            }
            (Kind::Money, _) => {
                found.help(format!("Write the amount as a number without a sign, as in `{}`.", sample(kind)))
            }
            (Kind::Integer(..), Value::Number { .. }) => found.help("Write a whole number, without a decimal point."),
            (Kind::Integer(..=-1, _), _) => found.help("Write it as a number, in digits; one below zero as -1."),
            (Kind::Integer(..), _) => found.help("Write it as a number, in digits."),
            _ => found.help(format!("Write it as `{}`.", sample(kind))),
        },
    }
}

/// A value that cannot be.
pub(crate) fn value_out_of_range(node: &Node, field: &str, wanted: String, written: Written<'_>) -> Diagnostic {
    Diagnostic::new(
        &VALUE_OUT_OF_RANGE,
        written.value.span,
        format!("`{field}` of `{}` is out of range", node.name.value),
    )
    .here(format!("not {wanted}"))
    .also(node.name.span, "")
    .why("The value is of the right kind, but outside of what can be built or printed.")
    .help(format!("Write {wanted}."))
}

/// A text that is no day of the calendar.
pub(crate) fn no_day(node: &Node, field: &str, text: &str, written: Written<'_>) -> Diagnostic {
    let found = || {
        let title = format!("`{field}` of `{}` is no day in the order of year, month and day", node.name.value);
        Diagnostic::new(&VALUE_OUT_OF_RANGE, written.value.span, title)
            .here("not a day as \"2027-03-14\"")
            .also(node.name.span, "")
            .why("A day is written as ISO 8601 has it: in any other order 3 and 4 are March to some and April to others.")
    };
    let wanted = || match meant::day(text) {
        Some(day) => {
            let found = found().help(format!("Write it as \"{day}\"."));
            found.edit(Certainty::Likely, written.value.span, format!("\"{day}\""))
        }
        None => found().help("Write a day as \"2027-03-14\"."),
    };
    let [year, month, day] = text.split('-').collect::<Vec<_>>()[..] else { return wanted() };
    let (Ok(year @ 100..), Ok(month)) = (year.parse::<i16>(), month.parse()) else { return wanted() };
    let whole = day.parse().ok().and_then(|day| jiff::civil::Date::new(year, month, day).ok());
    if let Some(day) = whole {
        let right = format!("\"{day}\"");
        let found = found().help(format!("Write it as {right}."));
        return found.edit(Certainty::Certain, written.value.span, right);
    }
    let Ok(first) = jiff::civil::Date::new(year, month, 1) else { return wanted() };
    let days = first.days_in_month();
    let month = first.strftime("%B %Y");
    Diagnostic::new(&VALUE_OUT_OF_RANGE, written.value.span, format!("there is no {text}: {month} has {days} days"))
        .here(format!("no `{field}` of `{}`", node.name.value))
        .also(node.name.span, "")
        .why("What is computed from a day, as when a battery is due, needs one that the calendar has.")
        .help(format!("Write a day that there is; the last of that month is \"{}\".", first.last_of_month()))
}

/// A colour that IEC 60757 does not list.
pub(crate) fn colour_unknown(node: &Node, field: &str, fault: &ColourError, written: Written<'_>) -> Diagnostic {
    let found = Diagnostic::new(&WORD_UNKNOWN, written.value.span, fault.to_string())
        .here(format!("no {field} of `{}`", node.name.value))
        .also(node.name.span, "")
        .why("Conductors are named by the two-letter codes of IEC 60757, so that every sheet prints the same name.")
        .help(fault.help());
    match fault.suggestion {
        Some(colour) => found.edit(Certainty::Certain, written.value.span, format!("\"{}\"", colour.code())),
        None => found,
    }
}

/// A text that is no marking of a resistor.
pub(crate) fn marking_unknown(node: &Node, field: &str, fault: &MarkingError, written: Written<'_>) -> Diagnostic {
    let found = Diagnostic::new(&VALUE_OUT_OF_RANGE, written.value.span, fault.to_string())
        .here(format!("no {field} of `{}`", node.name.value))
        .also(node.name.span, "")
        .why("A resistor is given by the code that is printed on it, or as a quantity of ohms.")
        .help(fault.help());
    // A number alone may be thousands of ohms to whoever wrote it.
    let certainty = if fault.written.contains(char::is_alphabetic) { Certainty::Certain } else { Certainty::Likely };
    match &fault.suggestion {
        Some(marking) if !fault.is_unclear() => found.edit(certainty, written.value.span, format!("\"{marking}\"")),
        Some(_) | None => found,
    }
}

/// A word that is not in its list.
pub(crate) fn word_unknown(node: &Node, field: &str, words: &'static [Word], written: Written<'_>) -> Diagnostic {
    let crate::syntax::Value::Text(text) = &written.value.value else {
        return value_wrong_kind(node, field, Kind::Word(words), written);
    };
    let known = words.iter().map(|w| w.word);
    let near = meant::listed(text, known.clone());
    let diagnostic = Diagnostic::new(
        &WORD_UNKNOWN,
        written.value.span,
        format!("`{field}` of `{}` cannot be `{text}`", node.name.value),
    )
    .here("not in the list")
    .also(node.name.span, "");
    let all = || format!("`{field}` is one of {}.", quoted(known.clone()));
    if let Some((near, certainty)) = near {
        let finding = diagnostic.why(all()).help(format!("Did you mean `{near}`?"));
        return finding.edit(certainty, written.value.span, format!("\"{near}\""));
    }
    if let Some(which) = which_of(text, known.clone()) {
        return diagnostic.why(all()).help(which);
    }
    let meanings: Vec<String> = words.iter().map(|word| format!("`{}` ({})", word.word, word.doc)).collect();
    let none = if meant::is_of_no_list(text) {
        format!("None of the list is a {text}: leave {field}= out. ")
    } else {
        String::new()
    };
    diagnostic
        .why("Only a word of the list is understood here: from it follows what is checked and printed.")
        .help(format!("{none}The list: {}.", list(&meanings, "or")))
}

/// A unit where no quantity belongs.
pub(crate) fn unit_without_quantity(
    node: &Node,
    field: &str,
    annotation: Spanned<&str>,
    written: Written<'_>,
) -> Diagnostic {
    Diagnostic::new(
        &UNIT_WITHOUT_QUANTITY,
        annotation.span,
        format!("`{field}` of `{}` takes no unit", node.name.value),
    )
    .here("a unit")
    .also(node.name.span, "")
    .why("Only a quantity carries a unit. Here a plain value is wanted.")
    .help(match node.properties.iter().find(|property| property.value.span == written.value.span) {
        Some(_) => format!("Remove `({})`: write {field}={}.", annotation.value, printed(&written.value.value)),
        None => format!("Remove `({})`: write `{}`.", annotation.value, printed(&written.value.value)),
    })
    .edit(Certainty::Certain, annotation_with_brackets(annotation.span, written.value.span), "")
}

/// A resistor's marking, which says its own unit, behind another one.
pub(crate) fn marking_with_unit(node: &Node, field: &str, written: Written<'_>) -> Diagnostic {
    let marking = printed(&written.value.value);
    let (unit, span) = written.annotation.map_or(("", written.value.span), |unit| (unit.value.as_str(), unit.span));
    Diagnostic::new(&UNIT_WITHOUT_QUANTITY, span, format!("`{field}` of `{}` has a unit before a marking", node.name.value))
        .here("a unit")
        .also(written.value.span, "a marking says its own")
        .also(node.name.span, "")
        .why("In a marking the letter is the decimal point and the unit at once: R for ohms, k for thousands of them, M for millions. With another unit before it, nobody knows which of the two holds.")
        .help(format!("Remove `({unit})`: write `{marking}`, as it stands on the resistor. Measure it where that cannot be read."))
        .edit(Certainty::Likely, annotation_with_brackets(span, written.value.span), "")
}

/// A unit's place with the brackets around it, which end where its value begins.
fn annotation_with_brackets(unit: Span, value: Span) -> Span {
    Span::new(unit.file, unit.start.saturating_sub(1), value.start)
}

/// A number that should be a quantity of one of `dimensions`.
pub(crate) fn quantity(
    node: &Node,
    field: &'static str,
    dimensions: &'static [Dimension],
    sign: Sign,
    number: f64,
    written: Written<'_>,
) -> Result<Quantity, Box<Diagnostic>> {
    let nouns: Vec<&str> = dimensions.iter().map(|d| d.noun()).collect();
    let noun = list(&nouns, "or");
    let units: Vec<&str> = dimensions.iter().flat_map(|d| unit::of(*d)).map(|u| u.name).collect();
    let first = units.first().copied().unwrap_or_default();
    let Some(annotation) = written.annotation else {
        let found =
            Diagnostic::new(
                &QUANTITY_WITHOUT_UNIT,
                written.value.span,
                format!("`{field}` of `{}` is {noun} and needs its unit", node.name.value),
            )
            .here("a bare number")
            .also(node.name.span, "")
            .why("A number without a unit is a guess: 38 could be feet or metres. A quantity always carries its unit, before the number.")
            .help(with_unit(dimensions, number));
        // Feet or metres, amperes or milliamperes: that is for the author to say.
        let is_usual =
            dimensions.len() == 1 && dimensions.iter().all(|dimension| HAS_ONE_USUAL_UNIT.contains(dimension));
        return Err(Box::new(if is_usual {
            let before = Span::new(written.value.span.file, written.value.span.start, written.value.span.start);
            found.edit(Certainty::Likely, before, format!("({first})"))
        } else {
            found
        }));
    };
    let Some(quantity) = Quantity::new(number, &annotation.value).filter(|q| dimensions.contains(&q.dimension()))
    else {
        let known = unit::find(&annotation.value);
        let diagnostic = Diagnostic::new(
            &QUANTITY_WRONG_UNIT,
            annotation.span,
            format!("`{}` is no unit of {noun}", annotation.value),
        )
        .here(known.map_or("not a unit".to_owned(), |u| format!("a unit of {}", u.dimension.noun())))
        .also(node.name.span, "")
        .why(format!("`{field}` is {noun}."));
        // A unit of something else is a slip of what was meant, not of how it is written.
        let meant = meant::unit(dimensions, number, &annotation.value).map(|(right, certainty)| {
            // What is counted in whole days is in months where it seems to be in minutes.
            let in_months = right.strip_prefix("(min)").filter(|_| matches!(sign, Sign::WholeDays));
            (in_months.map(|number| format!("(month){number}")).unwrap_or(right), certainty)
        });
        return Err(Box::new(match meant {
            Some((right, certainty)) => diagnostic.help(format!("Did you mean `{right}`?")).edit(
                certainty,
                annotation_with_brackets(annotation.span, written.value.span.behind()),
                right,
            ),
            None if units.contains(&"AWG") => diagnostic.help(
                "Write the gauge, as `(AWG)22`, or the area of one conductor, as `(mm2)0.22`: a diameter is neither.",
            ),
            // The number was of that other unit.
            None => diagnostic.help(with_unit(dimensions, "…")),
        }));
    };
    if quantity.unit.name == "AWG" {
        let is_one = number.fract() == 0.0 && (-3.0..=40.0).contains(&number);
        let wanted = "a whole gauge from -3 (4/0) to 40".into();
        return if is_one { Ok(quantity) } else { Err(Box::new(value_out_of_range(node, field, wanted, written))) };
    }
    let base = quantity.base();
    let in_range = match sign {
        Sign::Positive => base > 0.0,
        Sign::WholeDays => base > 0.0 && [DAY, MONTH].iter().any(|unit| base % unit == 0.0),
        Sign::NotNegative => base >= 0.0,
        Sign::Any => true,
    };
    if in_range && (base == 0.0 || REAL.contains(&base.abs())) {
        return Ok(quantity);
    }
    if in_range {
        return Err(Box::new(value_out_of_range(node, field, format!("{noun} that something real can have"), written)));
    }
    let wanted = match sign {
        Sign::WholeDays => "whole days, months or years, at least a day, as (month)6".to_owned(),
        Sign::Positive => format!("{noun} above zero"),
        Sign::NotNegative | Sign::Any => format!("{noun} of zero or more"),
    };
    Err(Box::new(value_out_of_range(node, field, wanted, written)))
}

/// True for a finding about a number without its unit.
pub(crate) fn is_about_a_missing_unit(found: &Diagnostic) -> bool {
    found.rule == &QUANTITY_WITHOUT_UNIT
}

/// What is measured in one unit nearly always.
const HAS_ONE_USUAL_UNIT: [Dimension; 7] = [
    Dimension::Voltage,
    Dimension::Charge,
    Dimension::ApparentPower,
    Dimension::Resistance,
    Dimension::Ratio,
    Dimension::SoundLevel,
    Dimension::Rate,
];

/// Sizes in base units of what can be built or measured, with room on both sides: past them no product is finite.
const REAL: std::ops::RangeInclusive<f64> = 1e-9..=1e9;

/// Each in backticks.
fn quoted_each(words: impl Iterator<Item = String>) -> Vec<String> {
    words.map(|word| format!("`{word}`")).collect()
}

/// How a number is written with a unit. No length is suggested in one of two units alone: a site may think in either, and a
/// copied guess is a wrong length.
fn with_unit(dimensions: &[Dimension], number: impl fmt::Display) -> String {
    let units: Vec<&str> = dimensions.iter().flat_map(|dimension| unit::of(*dimension)).map(|unit| unit.name).collect();
    match units.as_slice() {
        ["ft", "m", others @ ..] => {
            format!("Write it as `(ft){number}` or as `(m){number}`, whichever is meant, or with {}.", quoted(others))
        }
        // A test every month and a delay of seconds are both times: none is nearer than another.
        _ if dimensions.contains(&Dimension::Time) => {
            let units = units.iter().map(|unit| format!("({unit})"));
            format!("Write its unit before it, in brackets: {}.", list(&quoted_each(units), "or"))
        }
        [only] => format!("Write it as `({only}){number}`."),
        [first, others @ ..] => format!("Write it as `({first}){number}`, or with {}.", quoted(others)),
        [] => String::new(),
    }
}
