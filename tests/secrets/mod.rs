//! Secrets: how well they are told from the talk of the trade, and that none of them comes out anywhere.

mod commands;
mod rates;
