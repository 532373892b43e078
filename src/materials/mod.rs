//! What a site is made of, as it is bought: counted here once, for the shopping list and for the comparison of two sites.
//!
//! *Goods* are what stays itself when it is taken down: they are bought, and come back. What is used up (connectors,
//! labels) is for the shopping list alone. What was there before (a cable that is `existing`, a contact that is `fixed`)
//! is in neither. Out of scope: what becomes of goods between two sites (`diff`), and prices.

pub(crate) mod cable;
pub(crate) mod cutting;
pub(crate) mod goods;

pub(crate) use goods::Item;
