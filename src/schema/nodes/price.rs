//! What things cost, for the list of materials.

use crate::schema::spec::{Kind, NodeSpec, TEXT, any, argument, property};

/// `prices`
pub(crate) static PRICES: NodeSpec = NodeSpec {
    name: "prices",
    doc: "What things cost, for the list of materials, which prints sums where there are any. Stands at most once, and may stand in a file of its own that is included.",
    arguments: &[],
    properties: &[property("currency", Kind::Text(12), "the currency, as printed beside the amounts")],
    children: &[any(&PRICE)],
    example: "prices currency=\"EUR\" {\n    price \"motion-12\" 23.40\n    price \"station-4\" 61\n    price \"Joint box\" 2.15\n}",
};

/// `price`
pub(crate) static PRICE: NodeSpec = NodeSpec {
    name: "price",
    doc: "What one costs; of a type of cable, a box.",
    arguments: &[
        argument(
            "what",
            TEXT,
            "the name of a part or a type of cable, or of what has no name the words that the list of materials has for it",
        ),
        argument("each", Kind::Money, "the amount, without its currency"),
    ],
    properties: &[],
    children: &[],
    example: "price \"motion-12\" 23.40",
};
