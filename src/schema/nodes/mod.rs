//! The table of the language, one file a topic, in the order of the reference.

pub(crate) mod area;
pub(crate) mod board;
pub(crate) mod bus;
pub(crate) mod cable;
pub(crate) mod circuit;
pub(crate) mod communicator;
pub(crate) mod conduit;
pub(crate) mod part;
pub(crate) mod places;
pub(crate) mod price;
pub(crate) mod reading;
pub(crate) mod register;
pub(crate) mod site;
pub(crate) mod spare;
pub(crate) mod switching;
pub(crate) mod two_wire;
pub(crate) mod wireless;
pub(crate) mod zone;

use super::spec::NodeSpec;

/// The nodes that may stand at the top of a file, in the order of the reference.
pub static TOP: &[&NodeSpec] = &[
    &site::SITE,
    &site::INCLUDE,
    &places::LEVEL,
    &part::PART,
    &cable::CABLE,
    &board::PANEL,
    &board::POWER_SUPPLY,
    &board::STRIP,
    &board::JOINT_BOX,
    &area::AREA,
    &zone::ZONE,
    &bus::BUS,
    &circuit::CIRCUIT,
    &spare::SPARE_CABLE,
    &conduit::CONDUIT,
    &communicator::COMMUNICATOR,
    &communicator::MONITORING,
    &site::UPKEEP,
    &site::LABEL_SHEET,
    &site::HOUSE_STYLE,
    &price::PRICES,
    &reading::MEASURED,
    &site::ACCEPT,
];

/// The nodes that may stand at the top of `register.kdl`, in the order of the reference.
pub(crate) static REGISTER: &[&NodeSpec] = &[&register::REGISTER, &register::INPUT, &register::LABEL, &register::SPENT];

/// The node that stands in others, by their names from the outermost on; `None` where the language has none there.
pub(crate) fn at(top: &'static [&'static NodeSpec], names: &[&str]) -> Option<&'static NodeSpec> {
    let (first, rest) = names.split_first()?;
    let top = top.iter().copied().find(|spec| spec.name == *first)?;
    rest.iter().try_fold(top, |spec, name| spec.children.iter().map(|child| child.node).find(|node| node.name == *name))
}

/// The nodes that may stand at the top of a file.
pub(crate) fn top(is_register: bool) -> &'static [&'static NodeSpec] {
    if is_register { REGISTER } else { TOP }
}
