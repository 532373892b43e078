//! Quantities as printed: fixed decimals, SI prefixes, feet and inches.
