//! A value of the record in its two uses: written as JSON by serde, and told to a comparison as atoms.
//!
//! [`record!`] defines the structs. A line of it is a field: its description (which the schema prints), its name (which
//! is that of the JSON, with hyphens), its type, and after `=>` its name in a comparison. A field without the last is no
//! fact: it is derived, or another field says it already. Fields of a struct inside another are told under both names:
//! "contact 1 form". Where a name is empty, only the other counts; several fields of one name are one value.

use std::collections::BTreeMap;
use std::fmt::{Debug, Display};

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

use super::names::Subject;
use super::number::{Bound, Number};
use crate::quantity::print::{self, LengthUnit};
use crate::quantity::{
    AmpereHours, Amperes, BitsPerSecond, Celsius, Decibels, Metres, Ohms, OhmsPerMetre, Ratio, Resistance, Seconds,
    VoltAmperes, Volts, Watts,
};

/// A piece of a fact.
#[derive(Clone, Debug)]
pub enum Atom {
    /// Words.
    Text(String),
    /// A figure: as printed, and exactly. Printing rounds, and feet may become metres; only the exact figure counts.
    Figure {
        /// As printed.
        shown: String,
        /// Exactly, in SI.
        exact: String,
    },
    /// Another thing.
    Thing(Subject),
}

impl PartialEq for Atom {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Text(one), Self::Text(other)) => one == other,
            (Self::Figure { exact: one, .. }, Self::Figure { exact: other, .. }) => one == other,
            (Self::Thing(one), Self::Thing(other)) => one == other,
            (Self::Text(_) | Self::Figure { .. } | Self::Thing(_), _) => false,
        }
    }
}

/// What is true of a field.
pub type Value = Vec<Atom>;

/// The facts of a thing by the name of the field. A field without value is left out.
pub(crate) type Fields = BTreeMap<String, Value>;

/// A figure as an atom.
pub(crate) fn figure<T: Display + Debug>(value: T) -> Atom {
    Atom::Figure { shown: value.to_string(), exact: format!("{value:?}") }
}

/// A value that may stand in the record. Lengths are shown in the unit that the site prints.
pub(crate) trait Item {
    /// True where there is nothing, so that the JSON leaves the field out.
    fn is_absent(&self) -> bool {
        false
    }

    /// What a comparison sees of it; empty where it is no fact.
    fn atoms(&self, _lengths: LengthUnit) -> Value {
        Vec::new()
    }

    /// Adds its facts under the name of a field.
    fn tell(&self, field: &str, lengths: LengthUnit, fields: &mut Fields) {
        let atoms = self.atoms(lengths);
        if !atoms.is_empty() {
            fields.entry(field.to_owned()).or_default().extend(atoms);
        }
    }

    /// Adds its facts as the nth entry of a list, from 1.
    fn tell_entry(&self, field: &str, _nth: usize, lengths: LengthUnit, fields: &mut Fields) {
        self.tell(field, lengths, fields);
    }
}

/// Defines structs of the record; see the module's head. `by` names the field that tells the entries of a list apart;
/// without it they are counted.
macro_rules! record {
    ($(
        $(#[$doc:meta])*
        $name:ident $(by $key:ident)? {
            $($(#[$field_doc:meta])* $field:ident: $type:ty $(=> $words:literal)?,)*
        }
    )*) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, schemars::JsonSchema)]
        #[serde(rename_all = "kebab-case")]
        #[allow(unreachable_pub, reason = "the record as a whole is public, most of what it holds is not")]
        pub struct $name {
            $(
                $(#[$field_doc])*
                #[serde(skip_serializing_if = "crate::record::item::Item::is_absent")]
                pub(crate) $field: $type,
            )*
        }

        /// The names of its facts in a comparison.
        #[allow(non_upper_case_globals, dead_code, reason = "each is named as the field that it tells")]
        impl $name {
            $($(pub(crate) const $field: &'static str = $words;)?)*
        }

        impl crate::record::item::Item for $name {
            fn tell(&self, field: &str, lengths: crate::quantity::LengthUnit, fields: &mut crate::record::item::Fields) {
                let _ = (field, lengths, &mut *fields);
                $($(self.$field.tell(&crate::record::item::joined(field, $words), lengths, fields);)?)*
            }

            fn tell_entry(
                &self,
                field: &str,
                nth: usize,
                lengths: crate::quantity::LengthUnit,
                fields: &mut crate::record::item::Fields,
            ) {
                let _ = nth;
                let key = record!(@key self nth $($key)?);
                self.tell(&crate::record::item::joined(field, &key), lengths, fields);
            }
        }
    )*};
    (@key $self:ident $nth:ident) => { $nth.to_string() };
    (@key $self:ident $nth:ident $key:ident) => { $self.$key.to_string() };
}
pub(crate) use record;

/// Two names as one.
pub(crate) fn joined(field: &str, inner: &str) -> String {
    let gap = if field.is_empty() || inner.is_empty() { "" } else { " " };
    format!("{field}{gap}{inner}")
}

impl<T: Item> Item for Option<T> {
    fn is_absent(&self) -> bool {
        self.is_none()
    }

    fn atoms(&self, lengths: LengthUnit) -> Value {
        self.as_ref().map(|item| item.atoms(lengths)).unwrap_or_default()
    }

    fn tell(&self, field: &str, lengths: LengthUnit, fields: &mut Fields) {
        if let Some(item) = self {
            item.tell(field, lengths, fields);
        }
    }
}

impl<T: Item> Item for Vec<T> {
    fn tell(&self, field: &str, lengths: LengthUnit, fields: &mut Fields) {
        for (nth, item) in (1..).zip(self) {
            item.tell_entry(field, nth, lengths, fields);
        }
    }
}

/// "yes", where it is so.
impl Item for bool {
    fn atoms(&self, _: LengthUnit) -> Value {
        self.then(|| Atom::Text("yes".to_owned())).into_iter().collect()
    }
}

impl Item for String {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![Atom::Text(self.clone())]
    }
}

impl Item for &'static str {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![Atom::Text((*self).to_owned())]
    }
}

macro_rules! figures {
    ($($name:ident)*) => {$(
        impl Item for $name {
            fn atoms(&self, _: LengthUnit) -> Value {
                vec![figure(*self)]
            }
        }
    )*};
}
figures!(u32 i64 usize Seconds Volts Amperes Watts Ohms AmpereHours VoltAmperes BitsPerSecond Ratio Celsius OhmsPerMetre Decibels);

impl Item for Metres {
    fn atoms(&self, lengths: LengthUnit) -> Value {
        vec![Atom::Figure { shown: print::fine_length(*self, lengths), exact: format!("{self:?}") }]
    }
}

/// A figure that no spec holds: derived, and so no fact.
impl Item for Number {}
impl Item for Bound {}

/// Quantities stand in the JSON as numbers in their SI unit, which the name of the field says.
macro_rules! numbers {
    ($($name:ident)*) => {$(
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                Number::of(self.0).serialize(serializer)
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                f64::json_schema(generator)
            }
        }
    )*};
}
numbers!(Seconds Volts Amperes Watts Ohms AmpereHours VoltAmperes BitsPerSecond Ratio Metres Celsius OhmsPerMetre Decibels);

/// Values that the JSON writes as the text that they are printed as.
macro_rules! texts {
    ($($name:ident $(<$of:ident>)?)*) => {$(
        impl$(<$of: Display>)? Serialize for $name$(<$of>)? {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(&self)
            }
        }

        impl$(<$of>)? JsonSchema for $name$(<$of>)? {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                String::json_schema(generator)
            }
        }
    )*};
}
texts!(Printed<T> Title Reference);

/// A figure that has no plain number: a day, a wire size.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Printed<T>(pub(crate) T);

impl<T: Display> Display for Printed<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

impl<T: Display + Debug> Item for Printed<T> {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![figure(&self.0)]
    }
}

/// Yes or no, where saying nothing is something else.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(inline)]
pub(crate) struct Answer(pub(crate) bool);

impl Item for Answer {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![Atom::Text(if self.0 { "yes" } else { "no" }.to_owned())]
    }
}

/// A name for people. One that only repeats the other name, or what the part and its place say, is no fact.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Title {
    usual: bool,
    text: String,
}

impl Title {
    /// A title, and the one that there is without one.
    pub(crate) fn new(text: &str, usual: &str) -> Self {
        Self { usual: text == usual, text: text.to_owned() }
    }
}

impl Display for Title {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

impl Item for Title {
    fn atoms(&self, lengths: LengthUnit) -> Value {
        if self.usual { Vec::new() } else { self.text.atoms(lengths) }
    }
}

/// Another thing: in the JSON by its name, label or id, in a comparison by what it is known by there.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Reference {
    /// What a comparison knows it by.
    pub(crate) subject: Subject,
    /// What the JSON calls it.
    pub(crate) text: String,
}

impl Display for Reference {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

impl Item for Reference {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![Atom::Thing(self.subject.clone())]
    }
}

/// What a thing is known by in a comparison: no fact of its own.
impl Item for Subject {}

/// A resistor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Resistor {
    /// Its nominal value in ohm.
    pub(crate) ohms: Ohms,
    /// Greatest deviation to either side; 0.05 is ±5 %.
    pub(crate) tolerance: Ratio,
}

impl From<Resistance> for Resistor {
    fn from(Resistance { nominal, tolerance }: Resistance) -> Self {
        Self { ohms: nominal, tolerance }
    }
}

impl Item for Resistor {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![figure(Resistance { nominal: self.ohms, tolerance: self.tolerance })]
    }
}
