//! The vocabulary of the table: node, argument, property, child, kind of value.

use crate::quantity::Dimension;
use crate::syntax::Node;
use crate::terms::Word;

/// What a name names. References are by kind, so that a did-you-mean looks only at names of the right kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Names {
    /// A storey.
    Level,
    /// A room or another place.
    Room,
    /// A door, window or hatch.
    Opening,
    /// A part, by its data sheet.
    Part,
    /// A type of cable.
    Cable,
    /// Whatever has terminals that conductors land on: panel, module, keypad, receiver, strip; and joint boxes.
    Board,
    /// An area that arms as one.
    Area,
    /// A detector, a sounder or a hop with a name of its own.
    Device,
    /// A bus.
    Bus,
    /// A powered circuit.
    Circuit,
    /// A cable that was pulled for later.
    Spare,
    /// A way of reaching the monitoring service.
    Communicator,
    /// A run with a name of its own.
    Run,
    /// The site.
    Site,
}

impl Names {
    /// The noun in messages.
    pub(crate) fn noun(self) -> &'static str {
        match self {
            Self::Level => "level",
            Self::Room => "room",
            Self::Opening => "opening",
            Self::Part => "part",
            Self::Cable => "cable",
            Self::Board => "board",
            Self::Area => "area",
            Self::Device => "device",
            Self::Bus => "bus",
            Self::Circuit => "circuit",
            Self::Spare => "spare cable",
            Self::Communicator => "communicator",
            Self::Run => "run",
            Self::Site => "site",
        }
    }
}

/// Which numbers a quantity may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    /// More than zero.
    Positive,
    /// Whole days or whole months, at least one.
    WholeDays,
    /// Zero or more.
    NotNegative,
    /// Any.
    Any,
}

/// What a value must look like.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kind {
    /// A new name: letters, digits, `-`, `_`, `.`.
    Name(Names),
    /// The name of something defined elsewhere.
    Reference(Names),
    /// Text for people, at most so many characters.
    Text(usize),
    /// The text on a cable's ends, at most so many characters: neither empty nor with blanks around it, which nobody
    /// sees on a label.
    Label(usize),
    /// One of a closed list.
    Word(&'static [Word]),
    /// A whole number in a range.
    Integer(i64, i64),
    /// A number with a unit of one of these dimensions.
    Quantity(&'static [Dimension], Sign),
    /// A resistor's value: marking code (`"2k2"`) or a quantity in ohm.
    Resistance,
    /// `#true` or `#false`.
    Flag,
    /// An amount of money, without its currency.
    Money,
    /// A date, `"2027-03-14"`.
    Date,
    /// A conductor colour by IEC 60757.
    Colour,
    /// A printed terminal mark, at most 12 characters.
    Terminal,
    /// The slug of a rule.
    Slug,
    /// A file's path, relative to the site's folder.
    Path,
}

/// An argument, by position.
#[derive(Clone, Copy, Debug)]
pub struct ArgumentSpec {
    /// What it is called in messages and in the reference.
    pub name: &'static str,
    /// What it must look like.
    pub(crate) kind: Kind,
    /// Whether it may be left out.
    pub(crate) required: bool,
    /// Whether it takes all further arguments (only the last may), up to [`super::limits::MOST_VALUES`].
    pub many: bool,
    /// One line.
    pub(crate) doc: &'static str,
}

/// A property, by key.
#[derive(Clone, Copy, Debug)]
pub struct PropertySpec {
    /// The key.
    pub name: &'static str,
    /// What it must look like.
    pub(crate) kind: Kind,
    /// Whether it may be left out.
    pub(crate) required: bool,
    /// The nodes that need it none the less not, because it follows from what they have, or nobody can know it.
    pub(crate) unless: Option<fn(&Node) -> bool>,
    /// The property without which it means nothing, and which means nothing without it.
    pub(crate) with: Option<&'static str>,
    /// One line.
    pub(crate) doc: &'static str,
}

/// How often a child may stand in its parent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Times {
    /// Exactly once.
    Once,
    /// At most once.
    AtMostOnce,
    /// At most so many times.
    UpTo(usize),
    /// As often as the site may have it ([`super::limits`]).
    Any,
}

/// A node that may stand in another's braces.
#[derive(Clone, Copy, Debug)]
pub struct ChildSpec {
    /// The node.
    pub node: &'static NodeSpec,
    /// How often.
    pub(crate) times: Times,
}

/// A node of the language.
#[derive(Debug)]
pub struct NodeSpec {
    /// Its name.
    pub name: &'static str,
    /// What it is, in one or two sentences.
    pub doc: &'static str,
    /// Its arguments in order.
    pub arguments: &'static [ArgumentSpec],
    /// Its properties.
    pub properties: &'static [PropertySpec],
    /// What may stand in its braces.
    pub children: &'static [ChildSpec],
    /// A line or two of spec.
    pub example: &'static str,
}

/// A required argument.
pub(crate) const fn argument(name: &'static str, kind: Kind, doc: &'static str) -> ArgumentSpec {
    ArgumentSpec { name, kind, required: true, many: false, doc }
}

/// An optional property.
pub(crate) const fn property(name: &'static str, kind: Kind, doc: &'static str) -> PropertySpec {
    PropertySpec { name, kind, required: false, unless: None, with: None, doc }
}

impl ArgumentSpec {
    /// Takes all further arguments.
    #[must_use]
    pub(crate) const fn many(mut self) -> Self {
        self.many = true;
        self
    }
}

impl PropertySpec {
    /// Must be there.
    #[must_use]
    pub(crate) const fn required(mut self) -> Self {
        self.required = true;
        self
    }

    /// Need not be there in some nodes.
    #[must_use]
    pub(crate) const fn unless(mut self, spared: fn(&Node) -> bool) -> Self {
        self.unless = Some(spared);
        self
    }

    /// Must be there where another is, and not without it.
    #[must_use]
    pub(crate) const fn with(mut self, other: &'static str) -> Self {
        self.with = Some(other);
        self
    }
}

/// A child that stands exactly once.
pub(crate) const fn once(node: &'static NodeSpec) -> ChildSpec {
    ChildSpec { node, times: Times::Once }
}

/// A child that stands at most once.
pub(crate) const fn at_most_once(node: &'static NodeSpec) -> ChildSpec {
    ChildSpec { node, times: Times::AtMostOnce }
}

/// A child that stands at most so many times.
pub(crate) const fn up_to(most: usize, node: &'static NodeSpec) -> ChildSpec {
    ChildSpec { node, times: Times::UpTo(most) }
}

/// A child that stands as often as the site may have it.
pub(crate) const fn any(node: &'static NodeSpec) -> ChildSpec {
    ChildSpec { node, times: Times::Any }
}

/// Text of a title or note.
pub(crate) const TEXT: Kind = Kind::Text(200);

/// A positive quantity of one dimension.
pub(crate) const fn positive(dimensions: &'static [Dimension]) -> Kind {
    Kind::Quantity(dimensions, Sign::Positive)
}

/// A time that the calendar counts.
pub(crate) const DAYS: Kind = Kind::Quantity(&[Dimension::Time], Sign::WholeDays);

/// A quantity of one dimension that may be zero.
pub(crate) const fn not_negative(dimensions: &'static [Dimension]) -> Kind {
    Kind::Quantity(dimensions, Sign::NotNegative)
}
