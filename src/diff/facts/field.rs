//! A fact's value, and how facts are gathered.

use std::collections::BTreeMap;
use std::fmt::{Debug, Display};

use super::Subject;
use crate::quantity::{LengthUnit, Metres, print};

/// A piece of a value.
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
            _ => false,
        }
    }
}

/// What is true of a field.
pub type Value = Vec<Atom>;

/// The facts of a thing by the name of the field. A field without value is left out.
pub type Fields = BTreeMap<String, Value>;

/// A figure as an atom.
pub fn figure<T: Display + Debug>(value: T) -> Atom {
    Atom::Figure { shown: value.to_string(), exact: format!("{value:?}") }
}

/// A length as an atom.
pub fn length(value: Metres, unit: LengthUnit) -> Atom {
    Atom::Figure { shown: print::length(value, unit), exact: format!("{value:?}") }
}

/// Gathers the facts of one thing.
#[derive(Default)]
pub struct Gather(Fields);

impl Gather {
    /// A value, where it is not empty.
    pub fn value(mut self, name: impl Into<String>, value: Value) -> Self {
        if !value.is_empty() {
            self.0.insert(name.into(), value);
        }
        self
    }

    /// A value behind those that the field already has.
    pub fn more(mut self, name: impl Into<String>, value: Value) -> Self {
        self.0.entry(name.into()).or_default().extend(value);
        self
    }

    /// One atom, where there is one.
    pub fn atom(self, name: impl Into<String>, atom: Option<Atom>) -> Self {
        self.value(name, atom.into_iter().collect())
    }

    /// Words, where there are any.
    pub fn text(self, name: impl Into<String>, text: Option<&str>) -> Self {
        self.atom(name, text.map(|text| Atom::Text(text.to_owned())))
    }

    /// A figure, where there is one.
    pub fn figure<T: Display + Debug>(self, name: impl Into<String>, value: Option<T>) -> Self {
        self.atom(name, value.map(figure))
    }

    /// A reference, where there is one.
    pub fn thing(self, name: impl Into<String>, subject: Option<Subject>) -> Self {
        self.atom(name, subject.map(Atom::Thing))
    }

    /// "yes", where it is so.
    pub fn flag(self, name: impl Into<String>, flag: bool) -> Self {
        self.text(name, flag.then_some("yes"))
    }

    /// What was gathered.
    pub fn done(self) -> Fields {
        self.0
    }
}
