//! The reference chapter, generated from the table.
