//! Test help and tests of what several documents share.

mod drawings;
mod labels;
