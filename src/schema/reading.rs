//! What could be read of a node: typed fields by the names of its row in the table.

use crate::base::{Span, Spanned};
use crate::quantity::{Colour, Money, OfQuantity, Quantity, Resistance};

use super::spec::NodeSpec;

/// A value that has the form its table row asks for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Datum {
    /// A name, a reference, text, a slug, a path, a terminal's mark.
    Text(String),
    /// A word of a closed list.
    Word(&'static str),
    /// A whole number.
    Integer(i64),
    /// A number with its unit.
    Quantity(Quantity),
    /// A resistor's value.
    Resistance(Resistance),
    /// A flag.
    Flag(bool),
    /// An amount of money.
    Money(Money),
    /// A date.
    Date(jiff::civil::Date),
    /// A colour.
    Colour(Colour),
}

/// A node as far as it could be read.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    /// Its row in the table.
    pub(crate) spec: &'static NodeSpec,
    /// The node's span.
    pub(crate) span: Span,
    /// The span of the node's name.
    pub(crate) name_span: Span,
    /// False when something in the node itself (not in its children) was reported.
    pub(crate) whole: bool,
    /// What could be read of the nodes in its braces.
    pub(crate) children: Vec<Reading>,
    pub(super) fields: Vec<(&'static str, Spanned<Datum>)>,
    pub(super) properties: Vec<(&'static str, Span)>,
}

impl Reading {
    fn field(&self, name: &str) -> Option<&Spanned<Datum>> {
        debug_assert!(
            self.spec.arguments.iter().any(|a| a.name == name) || self.spec.properties.iter().any(|p| p.name == name),
            "{} has no field {name}",
            self.spec.name
        );
        self.fields.iter().find(|(n, _)| *n == name).map(|(_, datum)| datum)
    }

    /// Everything that could be read in the node itself, in the order of the text.
    pub(crate) fn fields(&self) -> &[(&'static str, Spanned<Datum>)] {
        &self.fields
    }

    /// Where a property is written, with its name.
    pub(crate) fn property_span(&self, name: &str) -> Option<Span> {
        self.properties.iter().find(|(own, _)| *own == name).map(|(_, span)| *span)
    }

    fn pick<T>(&self, name: &str, take: impl Fn(&Datum) -> Option<T>) -> Option<Spanned<T>> {
        self.field(name).and_then(|d| take(&d.value).map(|v| Spanned::new(v, d.span)))
    }

    /// A name, reference, text, slug, path or mark.
    pub(crate) fn text(&self, name: &str) -> Option<Spanned<String>> {
        self.pick(name, |d| if let Datum::Text(text) = d { Some(text.clone()) } else { None })
    }

    /// All values of an argument that takes many.
    pub(crate) fn texts(&self, name: &str) -> Vec<Spanned<String>> {
        self.fields
            .iter()
            .filter(|(n, _)| *n == name)
            .filter_map(
                |(_, d)| if let Datum::Text(text) = &d.value { Some(Spanned::new(text.clone(), d.span)) } else { None },
            )
            .collect()
    }

    /// The whole numbers of an argument that takes many, which its table row keeps at zero or above.
    pub(crate) fn counts(&self, name: &str) -> Vec<Spanned<u32>> {
        let count = |datum: &Datum| if let Datum::Integer(number) = datum { u32::try_from(*number).ok() } else { None };
        let many = self.fields.iter().filter(|(n, _)| *n == name);
        many.filter_map(|(_, datum)| Some(Spanned::new(count(&datum.value)?, datum.span))).collect()
    }

    /// A word, as the enum that lists it: `word("type", ZoneType::from_word)`.
    pub(crate) fn word<T>(&self, name: &str, from: impl Fn(&str) -> Option<T>) -> Option<Spanned<T>> {
        self.pick(name, |d| if let Datum::Word(word) = d { from(word) } else { None })
    }

    /// A whole number.
    pub(crate) fn integer(&self, name: &str) -> Option<Spanned<i64>> {
        self.pick(name, |d| if let Datum::Integer(number) = d { Some(*number) } else { None })
    }

    /// A whole number that its table row keeps at zero or above.
    pub(crate) fn count(&self, name: &str) -> Option<Spanned<u32>> {
        self.pick(name, |d| if let Datum::Integer(number) = d { u32::try_from(*number).ok() } else { None })
    }

    /// A quantity in its newtype.
    pub(crate) fn quantity<T: OfQuantity>(&self, name: &str) -> Option<Spanned<T>> {
        self.pick(name, |d| if let Datum::Quantity(quantity) = d { T::of(quantity) } else { None })
    }

    /// A resistor's value.
    pub(crate) fn resistance(&self, name: &str) -> Option<Spanned<Resistance>> {
        self.pick(name, |d| if let Datum::Resistance(value) = d { Some(*value) } else { None })
    }

    /// A flag; false where it is left out.
    pub(crate) fn flag(&self, name: &str) -> bool {
        self.optional_flag(name).unwrap_or(false)
    }

    /// A flag, or `None` where it is left out.
    pub(crate) fn optional_flag(&self, name: &str) -> Option<bool> {
        self.pick(name, |d| if let Datum::Flag(flag) = d { Some(*flag) } else { None }).map(|f| f.value)
    }

    /// Where a flag is set to true.
    pub(crate) fn set(&self, name: &str) -> Option<Span> {
        let set = self.pick(name, |d| if let Datum::Flag(flag) = d { Some(*flag) } else { None });
        set.filter(|flag| flag.value).map(|flag| flag.span)
    }

    /// An amount of money.
    pub(crate) fn money(&self, name: &str) -> Option<Spanned<Money>> {
        self.pick(name, |d| if let Datum::Money(amount) = d { Some(*amount) } else { None })
    }

    /// A date.
    pub(crate) fn date(&self, name: &str) -> Option<Spanned<jiff::civil::Date>> {
        self.pick(name, |d| if let Datum::Date(date) = d { Some(*date) } else { None })
    }

    /// A colour.
    pub(crate) fn colour(&self, name: &str) -> Option<Spanned<Colour>> {
        self.pick(name, |d| if let Datum::Colour(colour) = d { Some(*colour) } else { None })
    }

    /// The children of one name, in order.
    pub(crate) fn all<'r>(&'r self, name: &'r str) -> impl Iterator<Item = &'r Reading> {
        self.children.iter().filter(move |c| c.spec.name == name)
    }

    /// The first child of one name.
    pub(crate) fn one<'r>(&'r self, name: &'r str) -> Option<&'r Reading> {
        self.children.iter().find(|c| c.spec.name == name)
    }

    /// True where nothing was reported in the node or in any below it.
    pub(crate) fn all_whole(&self) -> bool {
        self.whole && self.children.iter().all(Self::all_whole)
    }

    /// True where the property was written, even if its value could not be read.
    pub(crate) fn wrote(&self, property: &str) -> bool {
        self.properties.iter().any(|(name, _)| *name == property)
            || self.fields.iter().any(|(name, _)| *name == property)
    }
}
